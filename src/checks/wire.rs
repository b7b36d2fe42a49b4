//! Fret wire: WIRE-01 to -08.

use super::bench::Bench;
use super::input::Input;
use super::place::Place;
use super::radius::radius_inputs;
use super::remedy::Remedy;
use super::tally::Tally;
use crate::design::board::slots::Slot;
use crate::design::formulas::flatter_along_slant;
use crate::diag::codes;
use crate::model::{Known, ScaleLength, Sourced};
use crate::units::Length;

/// What levelling and crowning take off. Common practice, no source.
const LEVELLING: f64 = 0.1;

/// How much wider one length is than another.
fn wider(length: &Sourced<Length>, than: &Sourced<Length>) -> Known<f64> {
    Ok(length.mm()? - than.mm()?)
}

/// A size of the fret wire; where no line sets it, the line that names the pattern.
fn size<'a>(bench: &Bench<'a>, size: &'a Sourced<Length>) -> Input<'a> {
    Input::from(size).or_by(bench.model.wire.pattern.as_ref())
}

/// The kerf; where no line sets it, the line that names the blade.
fn kerf<'a>(bench: &Bench<'a>) -> Input<'a> {
    let slots = &bench.model.slots;
    Input::from(&slots.kerf).or_by(slots.blade.as_ref())
}

/// Whether a kerf could please barb and tang alike: then another kerf is worth offering.
fn kerf_could_fit(bench: &Bench<'_>) -> bool {
    let wire = &bench.model.wire;
    let grip = bench.limits.of_code(codes::WIRE_01).and_then(|limit| limit.warning.least).unwrap_or(0.0);
    wider(&wire.barb_width, &wire.tang_width).is_ok_and(|room| room >= grip)
}

/// WIRE-01: the barb is wider than the kerf, or the frets lift.
pub(super) fn grip<'a>(bench: &Bench<'a>, tally: &mut Tally<'a>) {
    let (wire, slots) = (&bench.model.wire, &bench.model.slots);
    let narrower = Remedy::slope(&slots.kerf, -1.0, "a kerf of {} or narrower");
    tally
        .measure("the barb is {} wider than the kerf")
        .below_nothing("the barb is {} narrower than the kerf")
        .reading(Place::Whole, wider(&wire.barb_width, &slots.kerf))
        .input(kerf(bench))
        .input(size(bench, &wire.barb_width))
        .remedy(narrower.filter(|_| kerf_could_fit(bench)))
        .remedy(Remedy::slope(&wire.barb_width, 1.0, "wire with a barb of {} or wider"));
}

/// WIRE-02: the tang is no wider than the kerf, or the frets bend the neck back.
pub(super) fn wedge<'a>(bench: &Bench<'a>, tally: &mut Tally<'a>) {
    let (wire, slots) = (&bench.model.wire, &bench.model.slots);
    let wider_kerf = Remedy::slope(&slots.kerf, -1.0, "a kerf of {} or wider");
    tally
        .measure("the tang is {} wider than the kerf")
        .reading(Place::Whole, wider(&wire.tang_width, &slots.kerf))
        .input(kerf(bench))
        .input(size(bench, &wire.tang_width))
        .remedy(wider_kerf.filter(|_| kerf_could_fit(bench)))
        .remedy(Remedy::slope(&wire.tang_width, 1.0, "wire with a tang of {} or thinner"));
}

/// WIRE-03: the tang is not loose in the kerf.
pub(super) fn loose<'a>(bench: &Bench<'a>, tally: &mut Tally<'a>) {
    let (wire, slots) = (&bench.model.wire, &bench.model.slots);
    tally
        .measure("the kerf is {} wider than the tang")
        .reading(Place::Whole, wider(&slots.kerf, &wire.tang_width))
        .input(kerf(bench))
        .input(size(bench, &wire.tang_width))
        .remedy(Remedy::slope(&slots.kerf, 1.0, "a kerf of {} or narrower"))
        .remedy(Remedy::slope(&wire.tang_width, -1.0, "wire with a tang of {} or thicker"))
        .advise("or glue the frets in");
}

/// WIRE-04: there is enough over each edge to nip and file.
pub(super) fn overhang<'a>(bench: &Bench<'a>, tally: &mut Tally<'a>) {
    let overhang = &bench.model.wire.overhang;
    tally
        .measure("{} of fret wire over each edge")
        .reading(Place::Whole, overhang.mm())
        .input(overhang)
        .remedy(Remedy::slope(overhang, 1.0, "an overhang of {} or more"));
}

/// WIRE-05: the stick is longer than the longest piece, with what the cut takes.
pub(super) fn stick<'a>(bench: &Bench<'a>, tally: &mut Tally<'a>) {
    let wire = &bench.model.wire;
    let Some(pieces) = tally.known(bench.design.wire.as_deref().map_err(|missing| *missing)) else { return };
    let left = |cut: Known<f64>| Ok(wire.stick.mm()? - cut?);
    tally
        .measure("a stick is {} longer than the piece")
        .below_nothing("a stick is {} shorter than the piece")
        .readings(pieces.iter().map(|piece| (Place::Fret(piece.fret), left(piece.cut))))
        .input(size(bench, &wire.stick))
        .input(&wire.overhang)
        .remedy(Remedy::slope(&wire.stick, 1.0, "sticks of {} or longer"));
}

/// WIRE-06: what levelling leaves of the crown can still be crowned, and levelled once more.
pub(super) fn crown<'a>(bench: &Bench<'a>, tally: &mut Tally<'a>) {
    let height = &bench.model.wire.crown_height;
    tally
        .measure("levelling leaves a crown of {}")
        .below_nothing("levelling takes {} more than the crown's height")
        .reading(Place::Whole, height.mm().map(|height| height - LEVELLING))
        .input(size(bench, height))
        .remedy(Remedy::slope(height, 1.0, "wire with a crown of {} or higher"));
}

/// WIRE-07: a slanted fret is bent flatter than the board's radius.
pub(super) fn ellipse<'a>(bench: &Bench<'a>, tally: &mut Tally<'a>) {
    let ScaleLength::Fan { bass, treble, square_fret } = &bench.model.scale.length else { return };
    let Some(face) = tally.known(bench.design.face) else { return };
    if face.is_flat() {
        return;
    }
    let Some(slots) = tally.known(bench.design.slots.as_deref().map_err(|missing| *missing)) else { return };
    let flatter = |slot: &Known<Slot>| slot.map(|slot| flatter_along_slant(slot.line.angle()));
    let measure = tally.measure("along its slant the fret is {} flatter than the board's radius");
    measure
        .readings(slots.iter().map(|(fret, slot)| (Place::Fret(*fret), flatter(slot))))
        .input(square_fret)
        .input(bass)
        .input(treble);
    for input in radius_inputs(bench) {
        measure.input(input);
    }
    measure.advise("bend each piece to its own radius, as the sheet of the fret wire lists it");
}

/// WIRE-08: the barb is wider than the tang that it sits on.
pub(super) fn barb<'a>(bench: &Bench<'a>, tally: &mut Tally<'a>) {
    let wire = &bench.model.wire;
    tally
        .measure("the barb is {} wider than the tang")
        .below_nothing("the barb is {} narrower than the tang")
        .reading(Place::Whole, wider(&wire.barb_width, &wire.tang_width))
        .input(size(bench, &wire.barb_width))
        .input(size(bench, &wire.tang_width))
        .advise("`barb_width` is taken over the barbs, `tang_width` between them: are they swapped?");
}
