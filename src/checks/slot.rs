//! Slots: SLOT-01, -03, -04 and -06 to -10.

use super::bench::Bench;
use super::limits;
use super::message;
use super::place::Place;
use super::radius::radius_inputs;
use super::remedy::Remedy;
use super::tally::{Tally, at_least, at_most};
use crate::design::formulas::{
    following_slot_depth, open_under_tang as room_in_the_middle, share_cut_through as share,
};
use crate::model::Missing;
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

/// SLOT-04: the slots leave the board stiff.
pub(super) fn share_cut_through<'a>(bench: &Bench<'a>, tally: &mut Tally<'a>) {
    let model = bench.model;
    let (thickness, slots) = (&model.board.thickness, &model.slots);
    let known = (|| {
        let depths = bench.design.depths.as_ref().map_err(|missing| *missing)?;
        let skim = slots.skim.mm()?;
        Ok((share(depths.deepest?, thickness.mm()?, skim), skim))
    })();
    let Some((cut_through, skim)) = tally.known(known) else { return };
    tally
        .measure("the deepest slot cuts through {} of the board")
        .reading(Place::Whole, Ok(cut_through))
        .input(thickness)
        .input(&model.wire.tang_depth)
        .input(&slots.under_tang)
        .input(&slots.cut)
        .remedy(Remedy::inverse(thickness, skim, "a board of {} or thicker"));
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
        (Ok(Cut::BeforeRadiusing | Cut::AfterRadiusing), Ok::<f64, Missing>(depth)) if depth <= reach => {
            let depth = message::millimetres(depth);
            measure.advise(format!("slots that follow the radius are {depth} deep"));
        }
        _ => {
            measure.advise("a saw that reaches deeper");
        }
    }
}

/// SLOT-07: a straight bottom leaves the slot open under the tang where the face is highest.
pub(super) fn open_under_tang<'a>(bench: &Bench<'a>, tally: &mut Tally<'a>) {
    let slots = &bench.model.slots;
    let Some(Cut::BeforeRadiusing | Cut::AfterRadiusing) = tally.known(slots.cut.get()) else { return };
    let known = (|| {
        let depths = bench.design.depths.as_ref().map_err(|missing| *missing)?;
        let fret = depths.deepest_fret?;
        let deepest = depths.fret(fret).ok_or(Missing::faulty("frets.count"))?;
        let [bass, treble] = deepest.drops?;
        Ok((fret, room_in_the_middle(slots.under_tang.mm()?, bass.max(treble))))
    })();
    let Some((fret, room)) = tally.known(known) else { return };
    let measure = tally.measure("in the middle of the board the slot stays open by {} under the tang");
    let too_much = limits::fails(measure.limit.warning, room);
    measure.reading(Place::Fret(fret), Ok(room)).input(&slots.cut);
    for input in radius_inputs(bench) {
        measure.input(input);
    }
    measure.input(&slots.under_tang).advise(if too_much {
        "slots that follow the radius"
    } else if bench.model.board.is_bound() {
        "wick thin glue in when the frets are in; slots that follow the radius have no such room"
    } else {
        "wick thin glue in, and fill the slot's ends at the edge; slots that follow the radius have no such room"
    });
}

/// SLOT-08: what is still to come off the face is a skim.
pub(super) fn skim<'a>(bench: &Bench<'a>, tally: &mut Tally<'a>) {
    let skim = &bench.model.slots.skim;
    tally
        .measure("{} still to come off the face")
        .below_nothing("a skim of {} below nothing would put wood on the face")
        .reading(Place::Whole, skim.mm())
        .input(skim)
        .remedy(Remedy::slope(skim, 1.0, "a skim of {}"))
        .advise("0 mm where the face is finished; a face that has more to lose is planed before it is slotted");
}

/// SLOT-10: who slots a face that is radiused already has finished it first.
pub(super) fn skim_after_radiusing<'a>(bench: &Bench<'a>, tally: &mut Tally<'a>) {
    let slots = &bench.model.slots;
    if tally.known(slots.cut.get()) != Some(Cut::AfterRadiusing) {
        return;
    }
    tally
        .measure("{} still to come off the radiused face")
        .reading(Place::Whole, slots.skim.mm())
        .input(&slots.skim)
        .input(&slots.cut)
        .remedy(Remedy::slope(&slots.skim, 1.0, "a skim of {} or less"))
        .advise("finish the face before it is slotted");
}

/// SLOT-09: the binding is thick enough to hold and thin enough to bend, and a nipped tang stays off it.
pub(super) fn binding<'a>(bench: &Bench<'a>, tally: &mut Tally<'a>) {
    let board = &bench.model.board;
    let Some(binding) = tally.known(board.binding.mm()) else { return };
    if binding <= 0.0 {
        return;
    }
    tally.measure("a binding of {}").reading(Place::Whole, Ok(binding)).input(&board.binding).remedy(Remedy::slope(
        &board.binding,
        1.0,
        "a binding of {}",
    ));
    tally
        .compare(at_least(LEAST_TANG_GAP, "mm"), "the tang stops {} short of the binding")
        .reading(Place::Whole, board.tang_gap.mm())
        .input(&board.tang_gap)
        .input(&board.binding)
        .remedy(Remedy::slope(&board.tang_gap, 1.0, "a gap of {} or more"));
}
