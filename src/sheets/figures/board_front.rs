//! The face of the board: outline, slots, markers, and the distances of frets from the squared end.

use super::Job;
use super::view::{View, on_line};
use super::words::{dimensioned_frets, outline_with_edges, squared_end_name, to_the_nut, zero_line_name};
use crate::design::board::edges::Edges;
use crate::design::board::layout::{Layout, StationLine};
use crate::design::hole_diameter;
use crate::drawing::{Drawing, Layer, Lettering, NameRow, Ordinates, Pen, Scaling, Side as DrawingSide, Station};
use crate::geom::Point;
use crate::model::Known;
use crate::spec::words::{Hand, Side};

/// The face, seen from above, the nut at the left.
///
/// Straight frets are dimensioned once; the frets of a fan on both edges of the blank, where they are marked.
///
/// # Errors
/// With the key that the scale, the squared end or the edges wait for.
pub fn board_front(job: &Job<'_>) -> Known<Drawing> {
    let design = job.design;
    let layout = design.layout.as_ref().map_err(|missing| *missing)?;
    let outline = design.outline.as_ref().map_err(|missing| *missing)?;
    let edges = design.edges?;
    let view = View::front(job.hand());
    let mut drawing = Drawing::new("Face of the board", description(job, layout));
    drawing.remark = "seen from above".to_owned();
    drawing.scaling = Scaling::Width;

    outline_with_edges(&mut drawing, &view, outline);
    slots(job, &mut drawing, &view)?;
    markers(job, &mut drawing, &view);
    if layout.fan {
        drawing.remark.push_str("; the figures are places on the edges of the blank");
        let half = design.blank_width? / 2.0;
        for side in Side::BOTH {
            let across = side.toward_treble() * half;
            let ends = [outline.squared_end, outline.far_corner()].map(|x| view.at(Point::new(x, across)));
            drawing.line(Layer::Neighbours, ends[0], ends[1], Pen::Neighbour);
            drawing.ordinates(ordinates(job, &view, side, |line| on_line(line, across))?);
        }
    } else {
        let top = view.top();
        drawing.ordinates(ordinates(job, &view, top, |line| edges.on(top).meets(line, 0.0))?);
        drawing.name_row(fret_numbers(&view, layout, &edges));
    }
    to_the_nut(&mut drawing);
    Ok(drawing)
}

/// The face without figures, for the cover: what is being made, which way round, both edges named.
///
/// # Errors
/// With the key that the scale, the squared end or the edges wait for.
pub fn board_outline(job: &Job<'_>) -> Known<Drawing> {
    let design = job.design;
    let layout = design.layout.as_ref().map_err(|missing| *missing)?;
    let outline = design.outline.as_ref().map_err(|missing| *missing)?;
    let view = View::front(job.hand());
    let mut drawing = Drawing::new("The board", description(job, layout));
    drawing.remark = "seen from above".to_owned();
    drawing.scaling = Scaling::Width;
    outline_with_edges(&mut drawing, &view, outline);
    slots(job, &mut drawing, &view)?;
    markers(job, &mut drawing, &view);
    to_the_nut(&mut drawing);
    Ok(drawing)
}

fn description(job: &Job<'_>, layout: &Layout) -> String {
    let hand = match job.hand() {
        Hand::Right => "right-handed",
        Hand::Left => "left-handed",
    };
    format!(
        "The face of a {hand} board with {} frets, nut at the left, with the distances of frets from the squared end.",
        layout.last()
    )
}

/// The slots at their true length, and the zero line.
pub(super) fn slots(job: &Job<'_>, drawing: &mut Drawing, view: &View) -> Known<()> {
    let design = job.design;
    let layout = design.layout.as_ref().map_err(|missing| *missing)?;
    let edges = design.edges?;
    let slots = design.slots.as_ref().map_err(|missing| *missing)?;
    let zero = layout.zero_line();
    if !slots.iter().any(|(fret, _)| *fret == 0) {
        let [bass, treble] = Side::BOTH.map(|side| view.at(edges.on(side).meets(&zero, 0.0)));
        drawing.line(Layer::Outline, bass, treble, Pen::Thin);
    }
    for (_, slot) in slots {
        if let Ok(slot) = slot {
            let [bass, treble] = view.stretch(&slot.cut);
            drawing.line(Layer::Slots, bass, treble, Pen::Thin);
        }
    }
    let binding = job.model.board.binding.mm()?;
    if binding > 0.0 {
        let outline = design.outline.as_ref().map_err(|missing| *missing)?;
        let square = StationLine { x: outline.squared_end, slant: 0.0 };
        for side in Side::BOTH {
            let ends = [&square, &outline.end].map(|line| view.at(edges.on(side).meets(line, binding)));
            drawing.line(Layer::Outline, ends[0], ends[1], Pen::Thin);
        }
    }
    Ok(())
}

/// The holes of the markers; what waits for a value is left out. Their numbers stand on the drilling chart's own figure:
/// here they would read as frets.
fn markers(job: &Job<'_>, drawing: &mut Drawing, view: &View) {
    let (Ok(markers), Ok(diameter)) = (&job.design.markers, hole_diameter(job.model)) else { return };
    for middle in markers.iter().filter_map(|marker| marker.middle.ok()) {
        drawing.circle(Layer::Holes, view.at(middle), diameter / 2.0, Pen::Thin);
    }
}

/// Distances from the squared end at a side, each station where `place` finds it on its line.
fn ordinates(job: &Job<'_>, view: &View, side: Side, place: impl Fn(&StationLine) -> Point) -> Known<Ordinates> {
    let design = job.design;
    let layout = design.layout.as_ref().map_err(|missing| *missing)?;
    let outline = design.outline.as_ref().map_err(|missing| *missing)?;
    let station = |line: &StationLine, name: String| {
        let at = place(line);
        Station { at: view.at(at), text: job.length(at.x - outline.squared_end), name }
    };
    let mut stations: Vec<Station> = dimensioned_frets(layout.last())
        .into_iter()
        .filter_map(|fret| Some(station(&layout.fret(fret)?, fret.to_string())))
        .collect();
    let zero = layout.zero_line();
    if place(&zero).x - outline.squared_end > 1e-6 {
        stations.push(station(&zero, zero_line_name(job).to_owned()));
    }
    stations.push(station(&outline.end, "END".to_owned()));
    let square = StationLine { x: outline.squared_end, slant: 0.0 };
    // Named once; on a fan the second row of figures counts from the same end.
    let fans_lower = layout.fan && side != view.top();
    Ok(Ordinates {
        datum: view.at(place(&square)),
        datum_name: if fans_lower { String::new() } else { squared_end_name(job, layout, outline) },
        side: view.side(side),
        stations,
        lettering: Lettering::NORMAL,
    })
}

/// The number of every fret along the lower edge.
fn fret_numbers(view: &View, layout: &Layout, edges: &Edges) -> NameRow {
    let lower = match view.top() {
        Side::Treble => Side::Bass,
        Side::Bass => Side::Treble,
    };
    let names =
        layout.frets().map(|(fret, line)| (view.at(edges.on(lower).meets(&line, 0.0)), fret.to_string())).collect();
    NameRow { side: DrawingSide::Bottom, names, lettering: Lettering::SMALL }
}
