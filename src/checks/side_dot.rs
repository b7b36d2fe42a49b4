//! The dots in the bass edge: MARK-10, -12 and -13.

use super::bench::Bench;
use super::message::millimetres;
use super::place::Place;
use super::radius::edge_heights;
use super::remedy::Remedy;
use super::tally::Tally;
use crate::design::board::markers::SideDot;
use crate::design::board::slots::Slot;
use crate::design::formulas::{face_height, wood_under_following};
use crate::model::{Known, SideDots};
use crate::spec::words::Cut;

/// The side dots' table.
fn side<'a>(bench: &Bench<'a>) -> Option<&'a SideDots> {
    bench.model.markers.as_ref()?.side.as_ref()
}

/// MARK-10: a side dot does not reach the side channel of a lit board.
pub(super) fn to_channel<'a>(bench: &Bench<'a>, tally: &mut Tally<'a>) {
    let (Some(side), Some(lit)) = (side(bench), bench.lit()) else { return };
    let margin = &lit.channels.margin;
    let wood = margin.mm().and_then(|margin| Ok(margin - side.depth.mm()?));
    tally
        .measure("{} of wood between the side dots and the side channel")
        .below_nothing("the side dots reach {} into the side channel")
        .reading(Place::Whole, wood)
        .input(&side.depth)
        .input(margin)
        .remedy(Remedy::slope(&side.depth, -1.0, "side dots {} deep or less"))
        .remedy(Remedy::slope(margin, 1.0, "a margin of {} or more"));
}

/// MARK-12: a side dot leaves wood above and below it in the edge.
pub(super) fn against_edge<'a>(bench: &Bench<'a>, tally: &mut Tally<'a>) {
    let Some(side) = side(bench) else { return };
    let Some(heights) = tally.known(edge_heights(bench)) else { return };
    let Some(lowest) = heights.into_iter().map(|(_, height)| height).reduce(|a, b| if b >= a { a } else { b }) else {
        return;
    };
    let says = format!("the side dots take {{}} of the edge, which is {} at its lowest", millimetres(lowest));
    tally
        .measure(says)
        .reading(Place::Whole, side.dot.mm().map(|dot| dot / lowest))
        .input(&side.dot)
        .input(&bench.model.board.thickness)
        .remedy(Remedy::power(&side.dot, 1.0, "side dots of {} or smaller"));
}

/// MARK-13: a side dot does not run into the open end of a slot, unless it lies below the slot's bottom.
pub(super) fn to_slot<'a>(bench: &Bench<'a>, tally: &mut Tally<'a>) {
    let Some(side) = side(bench) else { return };
    let Some(dots) = tally.known(bench.design.side_dots.as_deref().map_err(|missing| *missing)) else { return };
    let known = (|| {
        let binding = bench.model.board.binding.mm()?;
        // On a bound board the slots end at the binding's inner face: a dot in the binding alone meets none.
        Ok((bench.design.slots.as_deref().map_err(|missing| *missing)?, binding, side.depth.mm()?))
    })();
    let Some((slots, binding, depth)) = tally.known(known) else { return };
    if binding > 0.0 && depth <= binding {
        return;
    }
    let measure = tally
        .measure("{} of wood between the dot and a slot's open end")
        .below_nothing("the dot reaches {} into a slot's open end");
    for dot in dots {
        for (fret, slot) in slots.iter().filter(|(fret, _)| *fret == dot.fret || *fret + 1 == dot.fret) {
            let wood = slot.and_then(|slot| Ok((slot, below_slot(bench, side, dot, *fret, &slot)?)));
            let wood = match wood {
                Ok((slot, below)) if below || !slot.reaches[0] => continue,
                Ok((slot, _)) => rim_to_wall(bench, side, dot, &slot),
                Err(missing) => Err(missing),
            };
            measure.reading(Place::SideDot(dot.fret), wood);
        }
    }
    measure.input(&side.dot).input(&bench.model.slots.kerf).remedy(Remedy::slope(
        &side.dot,
        -0.5,
        "side dots of {} or smaller",
    ));
}

/// From the dot's rim to the wall of a slot, along the edge's face.
fn rim_to_wall(bench: &Bench<'_>, side: &SideDots, dot: &SideDot, slot: &Slot) -> Known<f64> {
    let to_line = slot.line.line().signed_distance(dot.middle).abs();
    Ok(to_line - bench.model.slots.kerf.mm()? / 2.0 - side.dot.mm()? / 2.0)
}

/// Whether the dot, at half the edge's height, stays below a slot's bottom at the bass edge.
fn below_slot(bench: &Bench<'_>, side: &SideDots, dot: &SideDot, fret: usize, slot: &Slot) -> Known<bool> {
    let (model, face) = (bench.model, bench.design.face?);
    let thickness = model.board.thickness.mm()?;
    let height = face_height(thickness, face.radius(dot.middle.x), dot.middle.y);
    let top = height / 2.0 + side.dot.mm()? / 2.0;
    let depths = bench.design.depths.as_ref().map_err(|missing| *missing)?;
    let bottom = match model.slots.cut.get()? {
        Cut::FollowingRadius => {
            let end = slot.cut.start;
            let (tang, room) = (model.wire.tang_depth.mm()?, model.slots.under_tang.mm()?);
            wood_under_following(thickness, face.drop(end.x, end.y), tang, room)
        }
        Cut::BeforeRadiusing | Cut::AfterRadiusing => match depths.fret(fret) {
            Some(row) => row.wood_under?,
            None => return Ok(false),
        },
    };
    Ok(top <= bottom)
}
