//! The face's radius: RADIUS-01 and -03.

use super::bench::Bench;
use super::input::Input;
use super::place::Place;
use super::remedy::Remedy;
use super::tally::Tally;
use crate::design::board::face::Face;
use crate::design::board::outline::widest_half;
use crate::design::formulas::face_height;
use crate::geom::Point;
use crate::model::{BoardRadius, Known, Radius, Sourced};
use crate::rounding::fixed;
use crate::spec::words::Side;

/// The key that sets the radius, the cone's other values after it.
pub(super) fn radius_inputs<'a>(bench: &Bench<'a>) -> Vec<Input<'a>> {
    match &bench.model.radius {
        Radius::One(radius) => vec![radius.into()],
        Radius::Cone { nut, end, end_at } => vec![nut.into(), end.into(), end_at.into()],
    }
}

/// RADIUS-01: the circle is wide enough for the wood that is to be radiused.
pub(super) fn wide_enough<'a>(bench: &Bench<'a>, tally: &mut Tally<'a>) {
    let Some(face) = tally.known(bench.design.face) else {
        half_flat(bench, tally);
        return;
    };
    if face.is_flat() {
        return;
    }
    let half_blank = tally.known(bench.design.blank_width).map(|width| width / 2.0);
    let Some((end, half_board)) = tally.known(places_along(bench)) else {
        // Without the board's end a single radius can still be held against a blank that is written.
        if let (Face::One(radius), Some(half)) = (face, half_blank) {
            report(bench, tally, ("", radius), (half, "blank"));
        }
        return;
    };
    let (half, of_what) = match half_blank {
        Some(half) if half >= half_board => (half, "blank"),
        _ => (half_board, "board"),
    };
    for (place, at) in [("nut: ", bench.design.squared_end.unwrap_or(0.0)), ("board's end: ", end)] {
        let place = if matches!(face, Face::One(_)) { "" } else { place };
        if report(bench, tally, (place, face.radius(at)), (half, of_what)) {
            return;
        }
    }
}

/// A cone that is flat at one of its two places: each is well written, and nothing lies between them.
fn half_flat<'a>(bench: &Bench<'a>, tally: &mut Tally<'a>) {
    let Radius::Cone { nut, end, .. } = &bench.model.radius else { return };
    let flat = |radius: &Sourced<BoardRadius>| radius.get().map(|radius| radius == BoardRadius::Flat);
    if let (Ok(nut_is_flat), Ok(end_is_flat)) = (flat(nut), flat(end))
        && nut_is_flat != end_is_flat
    {
        tally
            .fault(Place::Whole, "a cone that is flat at one place and round at the other: no circle lies between them")
            .input(end)
            .input(nut)
            .advise("two radii, or \"flat\" for the whole board; a very large radius is nearly flat");
    }
}

/// The board's end, and half the width of the board where it is widest.
fn places_along(bench: &Bench<'_>) -> Known<(f64, f64)> {
    let layout = bench.design.layout.as_ref().map_err(|missing| *missing)?;
    let outline = bench.design.outline.as_ref().map_err(|missing| *missing)?;
    Ok((outline.far_corner(), widest_half(bench.model, layout, &bench.design.edges?)?))
}

fn report<'a>(
    bench: &Bench<'a>,
    tally: &mut Tally<'a>,
    (place, radius): (&str, f64),
    (half, of_what): (f64, &str),
) -> bool {
    if radius > half {
        return false;
    }
    let message = if radius > 0.0 {
        let (radius, half) = (fixed(radius, 2), fixed(half, 2));
        format!("{place}there is no circle of {radius} mm over the {of_what}: half its width is {half} mm")
    } else {
        format!("{place}there is no circle: the cone has come to a point before it gets there")
    };
    let fault = tally.fault(Place::Whole, message);
    for input in radius_inputs(bench) {
        fault.input(input);
    }
    if let Some(width) = &bench.model.board.blank_width {
        fault.input(width);
    }
    fault.advise("a flatter radius, or \"flat\"");
    true
}

/// RADIUS-03: enough of the edge is left for its rounding and its side dots.
pub(super) fn edge_height<'a>(bench: &Bench<'a>, tally: &mut Tally<'a>) {
    let thickness = &bench.model.board.thickness;
    let Some(heights) = tally.known(edge_heights(bench)) else { return };
    let measure = tally.measure("{} of wood at the edge").below_nothing("the edge would lie {} below the back");
    measure
        .readings(heights.into_iter().map(|(place, height)| (place, Ok(height))))
        .input(thickness)
        .remedy(Remedy::slope(thickness, 1.0, "a board of {} or thicker"));
    for input in radius_inputs(bench) {
        measure.input(input);
    }
    measure.advise("or a flatter radius");
}

/// Height of the finished edge over the back: at the squared end, at each fret, at the board's end; of two sides the lower.
///
/// # Errors
/// With the key that is open or cannot be used.
pub(super) fn edge_heights(bench: &Bench<'_>) -> Known<Vec<(Place, f64)>> {
    let thickness = bench.model.board.thickness.mm()?;
    let (face, edges) = (bench.design.face?, bench.design.edges?);
    let layout = bench.design.layout.as_ref().map_err(|missing| *missing)?;
    let outline = bench.design.outline.as_ref().map_err(|missing| *missing)?;
    let lower = |points: [Point; 2]| {
        let heights = points.map(|point| face_height(thickness, face.radius(point.x), point.y));
        // A NaN must not be lost to the other side's number.
        if heights[0] >= heights[1] { heights[1] } else { heights[0] }
    };
    let square = [Side::Bass, Side::Treble]
        .map(|side| Point::new(outline.squared_end, side.toward_treble() * edges.on(side).half(outline.squared_end)));
    let frets = layout
        .frets()
        .map(|(fret, line)| (Place::Fret(fret), lower(Side::BOTH.map(|side| edges.on(side).meets(&line, 0.0)))));
    let ends = [(Place::BoardEnd, lower(outline.end_corners)), (Place::Nut, lower(square))];
    Ok(ends.into_iter().chain(frets).collect())
}
