//! The back of the board, turned over about its long axis: seats, channels with their numbers, exit, rod, screws.

use core::f64::consts::FRAC_PI_4;

use super::Job;
use super::view::{View, outside_of};
use super::words::{note_above, outline_with_edges, to_the_nut};
use crate::checks::limits::Limits;
use crate::design::board::layout::StationLine;
use crate::design::lamps::channels::ChannelMap;
use crate::diag::{Code, codes};
use crate::drawing::{
    Align, Drawing, Importance, Label, Layer, Lettering, Ordinates, Pen, Scaling, Side as DrawingSide, Station, Tip,
};
use crate::geom::{Convex, Point, Segment, Strip};
use crate::model::Known;
use crate::spec::words::Side;

/// The numbers of the channels' pieces, as the routing table has them.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PieceNames {
    /// The bass and the treble side channel.
    pub sides: [String; 2],
    /// The cross channels in the order of the map.
    pub crosses: Vec<String>,
    /// The end channel.
    pub end: String,
    /// The exit hole.
    pub exit: String,
}

/// The back, the nut at the left; `pieces` are the numbers of the routing table, where the board is lit.
///
/// # Errors
/// With the key that the outline waits for.
pub fn board_back(job: &Job<'_>, pieces: Option<&PieceNames>) -> Known<Drawing> {
    let design = job.design;
    let outline = design.outline.as_ref().map_err(|missing| *missing)?;
    let view = View::back(job.hand());
    let mut drawing = Drawing::new("BACK of the board", description(&view));
    drawing.remark = "turned over about the long axis".to_owned();
    if job.design.layout.as_ref().is_ok_and(|layout| layout.fan) {
        drawing.remark.push_str("; END on the edges of the board");
    }
    drawing.scaling = Scaling::Width;

    note_above(&mut drawing, Align::Start, "BACK", Lettering::LARGE);
    note_above(&mut drawing, Align::End, &where_the_bass_edge_is(&view), Lettering::STRONG);
    outline_with_edges(&mut drawing, &view, outline);
    rod(job, &mut drawing, &view);
    screws(job, &mut drawing, &view);
    if let Some(lamps) = &design.lamps {
        seats(job, &mut drawing, &view);
        if let Ok(map) = &lamps.map {
            channels(map, &mut drawing, &view);
            exit(job, map, pieces, &mut drawing, &view);
            if let Some(pieces) = pieces {
                name_sides(map, pieces, &mut drawing, &view);
            }
            let fan = design.layout.as_ref().is_ok_and(|layout| layout.fan);
            drawing.ordinates(ordinates(job, map, pieces, &view, view.top())?);
            if fan {
                let lower = Side::BOTH.into_iter().filter(|side| *side != view.top());
                for side in lower {
                    drawing.ordinates(ordinates(job, map, pieces, &view, side)?);
                }
            }
        }
    }
    to_the_nut(&mut drawing);
    Ok(drawing)
}

/// The line that keeps a map from being routed mirrored.
fn where_the_bass_edge_is(view: &View) -> String {
    format!("the bass edge is at the {} of this page", view.bass_edge_at())
}

fn description(view: &View) -> String {
    format!(
        "The back of the board, turned over about its long axis, nut at the left; {}. Seats, channels, exit, rod.",
        where_the_bass_edge_is(view)
    )
}

/// The counterbores and the through holes.
fn seats(job: &Job<'_>, drawing: &mut Drawing, view: &View) {
    let (Some(lamp), Ok(markers)) = (&job.model.lamp, &job.design.markers) else { return };
    for marker in markers {
        let Ok(middle) = marker.middle else { continue };
        if let Ok(counterbore) = lamp.counterbore.mm() {
            drawing.circle(Layer::Holes, view.at(middle), counterbore / 2.0, Pen::Thin);
        }
        if let Ok(hole) = lamp.hole.mm() {
            drawing.circle(Layer::Holes, view.at(middle), hole / 2.0, Pen::Thin);
        }
    }
}

/// The walls of all channels, without the lines where one runs into another.
pub(super) fn channels(map: &ChannelMap, drawing: &mut Drawing, view: &View) {
    let strips: Vec<Convex> = strips(map).iter().map(Strip::outline).collect();
    for (index, strip) in strips.iter().enumerate() {
        let others: Vec<Convex> =
            strips.iter().enumerate().filter(|(other, _)| *other != index).map(|(_, other)| other.clone()).collect();
        for edge in strip.edges() {
            for part in outside_of(&edge, &others) {
                let [start, end] = view.stretch(&part);
                drawing.line(Layer::Pockets, start, end, Pen::Thin);
            }
        }
    }
}

/// All pieces: sides, crosses, end; crosses and end from inner wall to inner wall and a little into the sides.
fn strips(map: &ChannelMap) -> Vec<Strip> {
    map.sides.iter().copied().chain(map.crosses.iter().map(|cross| cross.strip)).chain([map.end]).collect()
}

/// Numbers the side channels inside the board, between two cross channels.
fn name_sides(map: &ChannelMap, pieces: &PieceNames, drawing: &mut Drawing, view: &View) {
    for (strip, name) in map.sides.iter().zip(&pieces.sides) {
        let at = view.at(strip.centre.start.lerp(strip.centre.end, 0.08));
        let inward = if at.y > 0.0 { DrawingSide::Bottom } else { DrawingSide::Top };
        let label = Label::new(at, format!("piece {name}")).tip(Tip::Dot).toward(inward);
        drawing.label(label.importance(Importance::High).lettering(Lettering::STRONG));
    }
}

fn exit(job: &Job<'_>, map: &ChannelMap, pieces: Option<&PieceNames>, drawing: &mut Drawing, view: &View) {
    let at = view.at(map.exit.centre);
    // It is the neck's: hidden from here, and without a cross that invites a bit.
    drawing.circle(Layer::Hidden, at, map.exit.radius, Pen::Hidden);
    let place = job.across(map.exit.centre.y);
    let number = pieces.map_or_else(String::new, |pieces| format!("piece {}, ", pieces.exit));
    let text = format!("{number}NECK ONLY: exit Ø {}, {place}", job.length(2.0 * map.exit.radius));
    let label = Label::new(at, text).clear_of(map.exit.radius).toward(DrawingSide::Bottom);
    drawing.label(label.importance(Importance::High));
}

/// The rod's slot hatched over its own length, and the zone to keep out of round it.
fn rod(job: &Job<'_>, drawing: &mut Drawing, view: &View) {
    let Ok(Some(rod)) = &job.design.rod else { return };
    drawing.hatch(view.area(rod), FRAC_PI_4, 2.5);
    drawing.polygon(Layer::Hidden, &view.polygon(rod), Pen::Hidden);
    let Some(bounds) = crate::drawing::outline::bounds(view.polygon(rod)) else { return };
    if let Some(clear) = kept_clear(job, codes::CHAN_07) {
        drawing.rounded_rectangle(Layer::Neighbours, bounds.inflate(clear, clear), clear, Pen::Neighbour);
    }
    let at = Point::new(bounds.x0 + 4.0, bounds.center().y);
    drawing.label(Label::new(at, "rod below").importance(Importance::High));
}

/// The wood a check wants between two cuts, in millimetres.
fn kept_clear(job: &Job<'_>, code: Code) -> Option<f64> {
    Limits::of(job.model).of_code(code)?.error.least
}

/// The screws of the heel, which come from the other side, with the zone to keep out of.
fn screws(job: &Job<'_>, drawing: &mut Drawing, view: &View) {
    let Some(Ok(screws)) = job.model.neck.as_ref().map(|neck| neck.screws.get()) else { return };
    let clear = kept_clear(job, codes::CHAN_10).unwrap_or(0.0);
    for (index, screw) in screws.iter().enumerate() {
        let at = view.at(Point::new(screw.x.to_mm(), screw.y.toward_treble()));
        let radius = screw.diameter.to_mm() / 2.0;
        drawing.circle(Layer::Hidden, at, radius, Pen::Hidden);
        let zone = radius + clear;
        drawing.circle(Layer::Neighbours, at, zone, Pen::Neighbour);
        if index == 0 {
            drawing.label(Label::new(at, "screw: keep clear").clear_of(zone));
        }
    }
}

/// Where the channels' centrelines start on a side, from the squared end.
fn ordinates(
    job: &Job<'_>,
    map: &ChannelMap,
    pieces: Option<&PieceNames>,
    view: &View,
    side: Side,
) -> Known<Ordinates> {
    let outline = job.design.outline.as_ref().map_err(|missing| *missing)?;
    let edges = job.design.edges?;
    let end_of = |stretch: &Segment| if side == Side::Bass { stretch.start } else { stretch.end };
    let edge_at = |place: Point| Point::new(place.x, side.toward_treble() * edges.on(side).half(place.x));
    let station = |place: Point, name: String| Station {
        at: view.at(edge_at(place)),
        text: job.length(place.x - outline.squared_end),
        name,
    };
    let mut stations: Vec<Station> = map
        .crosses
        .iter()
        .enumerate()
        .map(|(index, cross)| {
            let number = pieces.and_then(|pieces| pieces.crosses.get(index));
            let name = number.map_or_else(|| format!("fret {}", cross.fret), |number| format!("piece {number}"));
            station(end_of(&cross.strip.centre), name)
        })
        .collect();
    let end = pieces.map_or_else(|| "end channel".to_owned(), |pieces| format!("piece {}", pieces.end));
    stations.push(station(end_of(&map.end.centre), end));
    let corner = outline.end_corners[usize::from(side == Side::Treble)];
    stations.push(Station {
        at: view.at(corner),
        text: job.length(corner.x - outline.squared_end),
        name: "END".to_owned(),
    });
    let square = StationLine { x: outline.squared_end, slant: 0.0 };
    Ok(Ordinates {
        datum: view.at(edges.on(side).meets(&square, 0.0)),
        datum_name: if side == view.top() { "SQUARED END".to_owned() } else { String::new() },
        side: view.side(side),
        stations,
        lettering: Lettering::NORMAL,
    })
}
