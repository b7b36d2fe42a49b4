//! Slots: SLOT-01, -03, -06, -08 and -09.

use super::bench::Bench;
use super::message;
use super::place::Place;
use super::remedy::Remedy;
use super::tally::{Tally, at_least, at_most};
use crate::design::formulas::following_slot_depth;
use crate::spec::words::Cut;

/// The least that a nipped tang stops short of a binding. Common practice, no source.
const LEAST_TANG_GAP: f64 = 0.1;

/// SLOT-01: swarf and glue find room under the tang, or the fret never seats.
pub(super) fn room_under_tang<'a>(bench: &Bench<'a>, tally: &mut Tally<'a>) {
    let room = &bench.model.slots.under_tang;
    tally.measure("{} of room under the tang").reading(Place::Whole, room.mm()).input(room).remedy(Remedy::slope(
        room,
        1.0,
        "{} or more of room",
    ));
}

/// SLOT-03: the wood under the slots carries the board when it is handled.
pub(super) fn wood_under<'a>(bench: &Bench<'a>, tally: &mut Tally<'a>) {
    let model = bench.model;
    let Some(depths) = tally.known(bench.depths_deepest_first()) else { return };
    tally
        .measure("{} of wood under the slot")
        .below_nothing("the slot goes {} through the back")
        .readings(depths.map(|row| (Place::Fret(row.fret), row.wood_under)))
        .input(&model.board.thickness)
        .input(&model.wire.tang_depth)
        .input(&model.slots.under_tang)
        .input(&model.slots.cut)
        .remedy(Remedy::slope(&model.board.thickness, 1.0, "a board of {} or thicker"));
}

/// SLOT-06: the saw reaches as deep as the deepest slot.
pub(super) fn saw_depth<'a>(bench: &Bench<'a>, tally: &mut Tally<'a>) {
    let model = bench.model;
    let Some(reach) = model.shop.tools.saw_depth.map(crate::units::Length::to_mm) else { return };
    let Some(depths) = tally.known(bench.depths_deepest_first()) else { return };
    let measure = tally.compare(at_most(reach, "mm"), "the saw is to cut {} deep, more than it reaches");
    measure
        .readings(depths.map(|row| (Place::Fret(row.fret), row.setting)))
        .input(&model.slots.cut)
        .input(&model.wire.tang_depth);
    let following = (|| {
        let (wire, slots) = (&model.wire, &model.slots);
        Ok(following_slot_depth(wire.tang_depth.mm()?, slots.under_tang.mm()?, slots.skim.mm()?))
    })();
    match (model.slots.cut.get(), following) {
        (Ok(Cut::BeforeRadiusing | Cut::AfterRadiusing), Ok::<f64, crate::model::Missing>(depth)) if depth <= reach => {
            let depth = message::millimetres(depth);
            measure.advise(format!("slots that follow the radius are {depth} deep"));
        }
        _ => {
            measure.advise("a saw that reaches deeper");
        }
    }
}

/// SLOT-08: what is still to come off the face is a skim.
pub(super) fn skim<'a>(bench: &Bench<'a>, tally: &mut Tally<'a>) {
    let skim = &bench.model.slots.skim;
    tally.measure("{} still to come off the face").reading(Place::Whole, skim.mm()).input(skim);
}

/// SLOT-09: the binding is thick enough to hold and thin enough to bend, and a nipped tang stays off it.
pub(super) fn binding<'a>(bench: &Bench<'a>, tally: &mut Tally<'a>) {
    let board = &bench.model.board;
    let Some(binding) = tally.known(board.binding.mm()) else { return };
    if binding <= 0.0 {
        return;
    }
    tally.measure("a binding of {}").reading(Place::Whole, Ok(binding)).input(&board.binding);
    tally
        .compare(at_least(LEAST_TANG_GAP, "mm"), "the tang stops {} short of the binding")
        .reading(Place::Whole, board.tang_gap.mm())
        .input(&board.tang_gap)
        .input(&board.binding)
        .remedy(Remedy::slope(&board.tang_gap, 1.0, "a gap of {} or more"));
}
