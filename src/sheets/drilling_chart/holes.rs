//! The holes of a commission: where each lies, how wide and deep it is, and what it leaves.

use crate::design::board::markers::{Marker, SideDot};
use crate::diag::codes;
use crate::geom::Point;
use crate::model::{Known, Missing, SideDots};
use crate::sheets::Job;
use crate::spec::words::BodyFace;

/// One hole.
pub(super) struct Hole {
    pub(super) number: usize,
    pub(super) name: String,
    pub(super) part: &'static str,
    pub(super) face: &'static str,
    pub(super) fret: Option<usize>,
    pub(super) place: Known<Point>,
    /// Middle over the back, for holes in an edge.
    pub(super) height: Option<Known<f64>>,
    pub(super) diameter: Known<f64>,
    /// None: through.
    pub(super) depth: Option<Known<f64>>,
    /// From the rim to the nearest slot's wall; none where no slot can be met.
    pub(super) clear_slot: Option<Known<f64>>,
    /// From the rim to the nearest edge; none for holes that are not in a face.
    pub(super) clear_edge: Option<Known<f64>>,
}

/// All holes of a commission, numbered.
pub(super) fn all(job: &Job<'_>) -> Vec<Hole> {
    let others = side_dots(job).into_iter().chain(exit(job)).chain(screws(job)).chain(body_holes(job));
    let mut holes: Vec<Hole> = marker_holes(job).into_iter().chain(others).collect();
    for (number, hole) in (1..).zip(&mut holes) {
        hole.number = number;
    }
    holes
}

/// The markers' holes.
pub(super) fn marker_holes(job: &Job<'_>) -> Vec<Hole> {
    let lit = job.model.lamp.is_some();
    let depth = job.model.markers.as_ref().and_then(|markers| markers.dot_depth.as_ref()).map(|depth| depth.mm());
    let markers: &[Marker] = job.design.markers.as_deref().unwrap_or_default();
    markers
        .iter()
        .map(|marker| {
            let clear = job.design.clearance(job.model, marker);
            Hole {
                number: marker.number,
                name: if lit { "lamp" } else { "dot" }.to_owned(),
                part: "board",
                face: "front",
                fret: Some(marker.fret),
                place: marker.middle,
                height: None,
                diameter: crate::design::hole_diameter(job.model),
                depth: if lit { None } else { Some(depth.unwrap_or(Err(Missing::faulty("markers.dot_depth")))) },
                clear_slot: Some(clear.map(|clear| clear.slot)),
                clear_edge: Some(clear.map(|clear| clear.edge)),
            }
        })
        .collect()
}

fn side_dots(job: &Job<'_>) -> Vec<Hole> {
    let Some(side) = job.model.markers.as_ref().and_then(|markers| markers.side.as_ref()) else { return Vec::new() };
    let Ok(dots) = &job.design.side_dots else { return Vec::new() };
    dots.iter()
        .map(|dot| Hole {
            number: 0,
            name: "side dot".to_owned(),
            part: "board",
            face: "side",
            fret: Some(dot.fret),
            place: Ok(dot.middle),
            height: Some((|| {
                let drop = job.design.face?.drop(dot.middle.x, dot.middle.y);
                Ok((job.model.board.thickness.mm()? - drop) / 2.0)
            })()),
            diameter: side.dot.mm(),
            depth: Some(side.depth.mm()),
            clear_slot: clear_of_slots(job, side, dot),
            clear_edge: None,
        })
        .collect()
}

/// From a side dot's rim to the wall of the nearer slot; none where it lies over a slot's end seen from the side and,
/// as MARK-13 has found, meets no slot: it stays below their bottoms or within the binding.
fn clear_of_slots(job: &Job<'_>, side: &SideDots, dot: &SideDot) -> Option<Known<f64>> {
    let wood = || Ok::<f64, Missing>(dot.to_slot_line - job.model.slots.kerf.mm()? / 2.0 - side.dot.mm()? / 2.0);
    match wood() {
        Ok(wood) if wood < 0.0 => {
            let waits = job.left_out.iter().find(|(code, _)| *code == codes::MARK_13);
            waits.and_then(|(_, keys)| keys.first()).map(|key| Err(Missing::open(key)))
        }
        known => Some(known),
    }
}

fn exit(job: &Job<'_>) -> Option<Hole> {
    let map = job.design.lamps.as_ref()?.map.as_ref().ok()?;
    Some(Hole {
        number: 0,
        name: "exit of the lamps' wires".to_owned(),
        part: "neck",
        face: "front",
        fret: None,
        place: Ok(map.exit.centre),
        height: None,
        diameter: Ok(map.exit.radius * 2.0),
        depth: None,
        clear_slot: None,
        clear_edge: None,
    })
}

fn screws(job: &Job<'_>) -> Vec<Hole> {
    let screws = job.model.neck.as_ref().and_then(|neck| neck.screws.get().ok()).unwrap_or_default();
    screws
        .iter()
        .map(|screw| Hole {
            number: 0,
            name: "heel screw".to_owned(),
            part: "neck",
            face: "back",
            fret: None,
            place: Ok(Point::new(screw.x.to_mm(), screw.y.toward_treble())),
            height: None,
            diameter: Ok(screw.diameter.to_mm()),
            depth: Some(Ok(screw.depth.to_mm())),
            clear_slot: None,
            clear_edge: None,
        })
        .collect()
}

fn body_holes(job: &Job<'_>) -> Vec<Hole> {
    let under_board = job.design.under_board();
    let holes = job.model.body.as_ref().map_or(&[] as &[_], |body| &body.holes);
    holes
        .iter()
        .map(|hole| Hole {
            number: 0,
            name: hole.name.clone(),
            part: "body",
            face: match hole.face {
                BodyFace::Front => "front",
                BodyFace::Back => "back",
            },
            fret: None,
            place: under_board.hole(hole),
            height: None,
            diameter: hole.diameter.mm(),
            depth: hole.depth.as_ref().map(crate::model::Sourced::mm),
            clear_slot: None,
            clear_edge: None,
        })
        .collect()
}
