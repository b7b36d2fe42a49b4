//! The face's radius: RADIUS-01 to -07.

use super::bench::Bench;
use super::input::Input;
use super::message::millimetres;
use super::place::Place;
use super::remedy::Remedy;
use super::tally::Tally;
use crate::design::board::face::Face;
use crate::design::board::hump;
use crate::design::board::outline::widest_half;
use crate::design::formulas::{face_height, taken_off_edge};
use crate::diag::Severity;
use crate::geom::Point;
use crate::model::{BoardRadius, Known, Radius, Sourced};
use crate::rounding::{self, fixed};
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
    let mut inputs = radius_inputs(bench);
    if let Radius::Cone { nut, end, .. } = &bench.model.radius
        && tighter(end, nut)
    {
        // The tighter of the two is the one that makes no circle.
        inputs.swap(0, 1);
    }
    for input in inputs {
        fault.input(input);
    }
    let on_the_board = places_along(bench).is_ok_and(|(_, half)| radius > half);
    if let Some(width) = &bench.model.board.blank_width {
        fault.input(width);
        if of_what == "blank" && on_the_board {
            let width = millimetres(rounding::down(2.0 * radius, 0.01));
            fault.advise(format!("a blank narrower than {width}: the board itself has room under the circle"));
        }
    }
    fault.advise("a flatter radius, or \"flat\"");
    true
}

/// Whether one radius is tighter than another; a flat one is the widest of all.
fn tighter(one: &Sourced<BoardRadius>, other: &Sourced<BoardRadius>) -> bool {
    let length = |radius: &Sourced<BoardRadius>| match radius.get() {
        Ok(BoardRadius::Of(length)) => length.to_mm(),
        Ok(BoardRadius::Flat) | Err(_) => f64::INFINITY,
    };
    length(one) < length(other)
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
    let face = bench.design.face?;
    let height = |point: Point| face_height(thickness, face.radius(point.x), point.y);
    // A NaN must not be lost to the other side's number.
    let lower = |[a, b]: [f64; 2]| if a >= b { b } else { a };
    Ok(edge_points(bench)?.into_iter().map(|(place, points)| (place, lower(points.map(height)))).collect())
}

/// How far the face drops to the finished edge, at the same places; of two sides the farther.
fn edge_drops(bench: &Bench<'_>) -> Known<Vec<(Place, f64)>> {
    let face = bench.design.face?;
    let farther = |[a, b]: [f64; 2]| if a <= b { b } else { a };
    let drops = |points: [Point; 2]| farther(points.map(|point| face.drop(point.x, point.y)));
    Ok(edge_points(bench)?.into_iter().map(|(place, points)| (place, drops(points))).collect())
}

/// Where lines across meet the finished edges, bass and treble: the board's end, the squared end, each fret.
fn edge_points(bench: &Bench<'_>) -> Known<Vec<(Place, [Point; 2])>> {
    let edges = bench.design.edges?;
    let layout = bench.design.layout.as_ref().map_err(|missing| *missing)?;
    let outline = bench.design.outline.as_ref().map_err(|missing| *missing)?;
    let square = [Side::Bass, Side::Treble]
        .map(|side| Point::new(outline.squared_end, side.toward_treble() * edges.on(side).half(outline.squared_end)));
    let frets =
        layout.frets().map(|(fret, line)| (Place::Fret(fret), Side::BOTH.map(|side| edges.on(side).meets(&line, 0.0))));
    let ends = [(Place::BoardEnd, outline.end_corners), (Place::Nut, square)];
    Ok(ends.into_iter().chain(frets).collect())
}

/// A radius that is one, with what set it.
fn written_radii<'a>(bench: &Bench<'a>) -> Vec<&'a Sourced<BoardRadius>> {
    match &bench.model.radius {
        Radius::One(radius) => vec![radius],
        Radius::Cone { nut, end, .. } => vec![nut, end],
    }
}

/// RADIUS-02: the radius is one that hands know.
pub(super) fn usual<'a>(bench: &Bench<'a>, tally: &mut Tally<'a>) {
    for radius in written_radii(bench) {
        if let Some(BoardRadius::Of(length)) = tally.known(radius.get()) {
            tally
                .measure("a radius of {}")
                .reading(Place::Whole, Ok(length.to_mm()))
                .input(radius)
                .advise("look at the figure and at its unit; a board without a radius is \"flat\"");
        }
    }
}

/// RADIUS-05: a cone opens toward the saddle, as the strings do.
pub(super) fn backward<'a>(bench: &Bench<'a>, tally: &mut Tally<'a>) {
    let Radius::Cone { nut, end, .. } = &bench.model.radius else { return };
    let Some((at_nut, at_end)) = tally.known(cone(nut, end)) else { return };
    if at_end < at_nut {
        let message = format!(
            "the radius is {} mm at the end and {} mm at the nut: the cone closes toward the saddle",
            fixed(at_end, 2),
            fixed(at_nut, 2)
        );
        tally
            .fault_of(Severity::Warning, Place::Whole, message)
            .input(end)
            .input(nut)
            .advise("swap them if they stand the wrong way round");
    }
}

/// The radii of a cone at the nut and at its end; infinite where they are flat.
fn cone(nut: &Sourced<BoardRadius>, end: &Sourced<BoardRadius>) -> Known<(f64, f64)> {
    let radius = |radius: &Sourced<BoardRadius>| {
        Ok(match radius.get()? {
            BoardRadius::Flat => f64::INFINITY,
            BoardRadius::Of(length) => length.to_mm(),
        })
    };
    Ok((radius(nut)?, radius(end)?))
}

/// RADIUS-04: the face is straight under the outer strings, as near as levelling the frets puts right.
pub(super) fn hump<'a>(bench: &Bench<'a>, tally: &mut Tally<'a>) {
    if let Radius::Cone { nut, end, .. } = &bench.model.radius
        && cone(nut, end).is_ok_and(|(nut, end)| end < nut)
    {
        // RADIUS-05 says so; the hump is what comes of it.
        return;
    }
    let known = (|| {
        let layout = bench.design.layout.as_ref().map_err(|missing| *missing)?;
        Ok((layout, bench.design.spreads?, bench.design.face?))
    })();
    let Some((layout, spreads, face)) = tally.known(known) else { return };
    let strings = &bench.model.strings;
    let measure = tally.measure("under the outer string the face humps by {} from the nut to the last fret");
    measure.readings(Side::BOTH.map(|side| (Place::Side(side), Ok(hump::hump(layout, spreads, &face, side)))));
    match &bench.model.radius {
        Radius::One(radius) => measure.input(radius),
        Radius::Cone { nut, end, end_at } => measure.input(end).input(nut).input(end_at),
    };
    measure.input(&strings.spread_nut).input(&strings.spread_saddle);
    let place = match face {
        Face::Flat => return,
        Face::One(_) => layout.saddle().x,
        Face::Cone { end_place, .. } => end_place,
    };
    let straight = hump::radius_without_hump(layout, spreads, face.radius(0.0), place);
    measure.advise(format!(
        "a cone from {} mm at the nut to {} mm at {} mm from the nut is straight under the strings; or level the frets",
        fixed(face.radius(0.0), 1),
        fixed(straight, 1),
        fixed(place, 1)
    ));
}

/// RADIUS-06: a block of the board's radius lies on the shelf.
pub(super) fn block<'a>(bench: &Bench<'a>, tally: &mut Tally<'a>) {
    // A cone is made along two straight lines and not with a block.
    let Radius::One(radius) = &bench.model.radius else { return };
    let Some(BoardRadius::Of(wanted)) = tally.known(radius.get()) else { return };
    let Some(nearest) = bench.model.shop.tools.nearest_block(wanted.to_mm()) else { return };
    if nearest.is_block_of(wanted.to_mm()) {
        return;
    }
    let message = format!(
        "no block of {} mm lies on the shelf; the nearest is {} ({} mm)",
        fixed(wanted.to_mm(), 1),
        nearest.written,
        fixed(nearest.size.to_mm(), 1)
    );
    tally
        .fault_of(Severity::Note, Place::Whole, message)
        .input(radius)
        .input(Input::line("tools.radius_blocks", nearest.span))
        .advise("make or buy the block before the board is slotted, or take the radius of one that is there");
}

/// RADIUS-07: what comes off the edge is a sander's work and not a plane's.
pub(super) fn taken_off<'a>(bench: &Bench<'a>, tally: &mut Tally<'a>) {
    let skim = &bench.model.slots.skim;
    let known = (|| {
        if bench.design.face?.is_flat() {
            return Ok(None);
        }
        Ok(Some((edge_drops(bench)?, skim.mm()?)))
    })();
    let Some(Some((drops, skim_left))) = tally.known(known) else { return };
    let measure = tally.measure("{} of wood to come off the edge");
    measure.readings(drops.into_iter().map(|(place, drop)| (place, Ok(taken_off_edge(drop, skim_left)))));
    for input in radius_inputs(bench) {
        measure.input(input);
    }
    measure.input(skim).advise("plane or rout most of it off before the block goes on, or a flatter radius");
}
