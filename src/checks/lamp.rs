//! Lamps and their seats: LAMP-01 to -08 and -11 to -14. The bits have their own file.

use super::bench::Bench;
use super::input::{InWords, Input};
use super::mark::{list_of, to_slot};
use super::message::millimetres;
use super::place::Place;
use super::remedy::Remedy;
use super::tally::{Tally, at_least, at_most};
use crate::design::lamps::seats::Seat;
use crate::diag::codes::{self, Bounds, Limit};
use crate::model::{Known, Sourced};
use crate::spec::words::Seats;
use crate::units::Length;

/// The most that may ever be ground off a lens, whatever `lamp.sand_limit` says. Common practice, no source: a lens
/// has about a millimetre before the die.
const MOST_OFF_A_LENS: f64 = 1.0;

/// A size of the lamp; where no line sets it, the line that names the pattern.
pub(super) fn size<'a>(bench: &Bench<'a>, size: &'a Sourced<Length>) -> Input<'a> {
    Input::from(size).or_by(bench.model.lamp.as_ref().and_then(|lamp| lamp.pattern.as_ref()))
}

fn seats<'a>(bench: &Bench<'a>, tally: &mut Tally<'a>) -> Option<&'a [Seat]> {
    tally.known(bench.lit()?.design.seats.as_deref().map_err(|missing| *missing))
}

fn each<'s>(seats: &'s [Seat], figure: fn(&Seat) -> Known<f64>) -> impl Iterator<Item = (Place, Known<f64>)> + 's {
    seats.iter().map(move |seat| (Place::Lamp(seat.lamp, seat.fret), figure(seat)))
}

/// LAMP-05: one setting suits all seats.
pub(super) fn one_setting<'a>(bench: &Bench<'a>, tally: &mut Tally<'a>) {
    let (Some(lit), Some(seats)) = (bench.lit(), seats(bench, tally)) else { return };
    let lamp = lit.lamp;
    if tally.known(lamp.seats.get()) != Some(Seats::OneSetting) {
        return;
    }
    tally
        .measure("the one setting bores its seat {} deeper than it needs")
        .readings(each(seats, |seat| Ok(seat.seat? - seat.own?)))
        .input(&lamp.seats)
        .advise("a setting for each seat: `seats = \"each\"`");
}

/// LAMP-06: a seat lies inside the board.
pub(super) fn seat_inside<'a>(bench: &Bench<'a>, tally: &mut Tally<'a>) {
    let (Some(lit), Some(seats)) = (bench.lit(), seats(bench, tally)) else { return };
    let thickness = &bench.model.board.thickness;
    let height = size(bench, &lit.lamp.lens_height);
    tally
        .compare(at_least(0.0, "mm"), "the lens is too tall for the board: its seat comes to {} over the back")
        .below_nothing("the lens is too tall for the board: its seat would lie {} behind the back")
        .readings(each(seats, |seat| seat.seat))
        .input(height)
        .input(thickness)
        .remedy(Remedy::slope(&lit.lamp.lens_height, -1.0, "a lamp whose lens is {} or lower"))
        .remedy(Remedy::slope(thickness, 1.0, "a board of {} or thicker"));
    let over = |seat: &Seat| seat.seat.and_then(|depth| Ok(thickness.mm()? - depth));
    tally
        .measure("the seat leaves {} of the board's thickness")
        .below_nothing("the seat would lie {} above the face")
        .readings(seats.iter().map(|seat| (Place::Lamp(seat.lamp, seat.fret), over(seat))))
        .input(height)
        .input(thickness)
        .remedy(Remedy::slope(&lit.lamp.lens_height, 1.0, "a lamp whose lens is {} or taller"));
}

/// LAMP-01: the leads find room behind the flange, or they stand out of the back.
pub(super) fn lead_room<'a>(bench: &Bench<'a>, tally: &mut Tally<'a>) {
    let (Some(lit), Some(seats)) = (bench.lit(), seats(bench, tally)) else { return };
    let lamp = lit.lamp;
    let thickness = &bench.model.board.thickness;
    tally
        .measure("{} of room for the leads behind the flange")
        .below_nothing("the leads stand {} out of the back")
        .readings(each(seats, |seat| seat.lead_room))
        .input(size(bench, &lamp.lead_bend))
        .input(thickness)
        .input(size(bench, &lamp.lens_height))
        .input(size(bench, &lamp.flange_height))
        .remedy(Remedy::slope(thickness, 1.0, "a board of {} or thicker"))
        .remedy(Remedy::slope(&lamp.lens_height, -1.0, "a lamp whose lens is {} or lower"))
        .remedy(Remedy::slope(&lamp.lead_bend, -1.0, "leads bent within {}"));
}

/// LAMP-02: wood above the flange, where it is thinnest.
pub(super) fn wood_above<'a>(bench: &Bench<'a>, tally: &mut Tally<'a>) {
    let (Some(lit), Some(seats)) = (bench.lit(), seats(bench, tally)) else { return };
    let lamp = lit.lamp;
    tally
        .measure("{} of wood above the flange")
        .below_nothing("the counterbore breaks {} through the face")
        .readings(each(seats, |seat| seat.wood_above))
        .input(size(bench, &lamp.lens_height))
        .input(&lamp.proud)
        .input(size(bench, &lamp.counterbore))
        .remedy(Remedy::slope(&lamp.lens_height, 1.0, "a lamp whose lens is {} or taller"));
}

/// LAMP-03: the flange goes into its counterbore.
pub(super) fn counterbore<'a>(bench: &Bench<'a>, tally: &mut Tally<'a>) {
    let Some(lit) = bench.lit() else { return };
    let (bore, flange) = (&lit.lamp.counterbore, &lit.lamp.flange);
    tally
        .measure("the counterbore is {} wider than the flange")
        .below_nothing("the counterbore is {} narrower than the flange")
        .reading(Place::Whole, bore.mm().and_then(|bore| Ok(bore - flange.mm()?)))
        .input(size(bench, bore))
        .input(size(bench, flange))
        .remedy(Remedy::slope(bore, 1.0, "a counterbore of {} or wider"));
}

/// LAMP-04: no lens is ground down to what shines in it.
pub(super) fn sanded_off<'a>(bench: &Bench<'a>, tally: &mut Tally<'a>) {
    let (Some(lit), Some(seats)) = (bench.lit(), seats(bench, tally)) else { return };
    let lamp = lit.lamp;
    let Some(sand_limit) = tally.known(lamp.sand_limit.mm()) else { return };
    let most = |most: f64| Bounds { least: None, most: Some(most) };
    let limit = Limit { error: most(MOST_OFF_A_LENS), warning: most(sand_limit), note: Bounds::default(), unit: "mm" };
    let measure = tally.measure_against(limit, "{} is to be sanded off the lens");
    measure
        .readings(each(seats, |seat| seat.most_sanded))
        .input(&lamp.proud)
        .input(&lamp.seats)
        .input(&lamp.sand_limit)
        .remedy(Remedy::slope(&lamp.proud, 1.0, "lamps left {} proud or less"));
    if lamp.seats.get() == Ok(Seats::OneSetting) {
        measure.advise("or a setting for each seat: `seats = \"each\"`");
    }
}

/// LAMP-07: wood between a lamp's counterbore and the slots beside it.
pub(super) fn counterbore_to_slot<'a>(bench: &Bench<'a>, tally: &mut Tally<'a>) {
    let Some(lit) = bench.lit() else { return };
    let bore = &lit.lamp.counterbore;
    let Some(markers) = tally.known(bench.design.markers.as_deref().map_err(|missing| *missing)) else { return };
    let measure =
        tally.measure("{} of wood between counterbore and slot").below_nothing("the counterbore cuts {} into the slot");
    for marker in markers {
        let wood = to_slot(bench, marker, bore.mm());
        measure.reading_of(list_of(bench, marker), bench.marker_place(marker), wood);
    }
    measure.input(size(bench, bore)).remedy(Remedy::slope(bore, -0.5, "a counterbore of {} or smaller"));
}

/// LAMP-08: the lens goes into its hole, and the epoxy does not come out of it.
pub(super) fn play<'a>(bench: &Bench<'a>, tally: &mut Tally<'a>) {
    let Some(lit) = bench.lit() else { return };
    let (hole, lens) = (&lit.lamp.hole, &lit.lamp.lens);
    let measure =
        tally.measure("the hole is {} wider than the lens").below_nothing("the hole is {} narrower than the lens");
    measure
        .reading(Place::Whole, hole.mm().and_then(|hole| Ok(hole - lens.mm()?)))
        .input(size(bench, hole))
        .input(size(bench, lens));
    // A hole is as wide as some bit: one that lies in the drawer goes before the nearest size that would do.
    match super::drawer::bit_for_the_lens(bench, lit.lamp) {
        Some(bit) => measure.advise(format!("a hole of {}: that bit lies in the drawer", bit.written)),
        None => measure.remedy(Remedy::slope(hole, 1.0, "a hole of {}")),
    };
}

/// LAMP-11: the lens stands proud by more than the rounding of its seat takes away.
pub(super) fn proud<'a>(bench: &Bench<'a>, tally: &mut Tally<'a>) {
    let Some(lit) = bench.lit() else { return };
    let proud = &lit.lamp.proud;
    tally
        .measure("the lens is left {} proud of the face")
        .reading(Place::Whole, proud.mm())
        .input(proud)
        .remedy(Remedy::slope(proud, 1.0, "lamps left {} proud or more"));
}

/// LAMP-14: a wire that crosses under a lamp has room beside its leads.
pub(super) fn wire_under_leads<'a>(bench: &Bench<'a>, tally: &mut Tally<'a>) {
    let (Some(lit), Some(seats)) = (bench.lit(), seats(bench, tally)) else { return };
    let Some(map) = tally.known(lit.design.map.as_ref().map_err(|missing| *missing)) else { return };
    let Some(wires) = tally.known(lit.design.wires.as_ref().map_err(|missing| *missing)) else { return };
    let (lamp, hookup) = (lit.lamp, &lit.circuit.hookup);
    let crossed =
        |fret: usize| map.crosses.iter().zip(&wires.in_crosses).any(|(cross, count)| cross.fret == fret && *count > 1);
    let thickness = &bench.model.board.thickness;
    tally
        .measure("another wire crosses under it, with {} between wire and leads")
        .below_nothing("another wire crosses under it and lies {} into its leads")
        .readings(
            seats.iter().filter(|seat| crossed(seat.fret)).map(|seat| {
                (Place::Lamp(seat.lamp, seat.fret), seat.lead_room.and_then(|room| Ok(room - hookup.mm()?)))
            }),
        )
        .input(size(bench, &lamp.lead_bend))
        .input(hookup)
        .input(thickness)
        .input(size(bench, &lamp.lens_height))
        .input(&lit.circuit.in_series)
        .remedy(Remedy::slope(&lamp.lead_bend, -1.0, "leads bent within {}"))
        .remedy(Remedy::slope(hookup, -1.0, "wire of {} or thinner"))
        .remedy(Remedy::slope(thickness, 1.0, "a board of {} or thicker"));
}

/// LAMP-12: the wanted current is no more than the lamp bears.
pub(super) fn current<'a>(bench: &Bench<'a>, tally: &mut Tally<'a>) {
    let Some(lit) = bench.lit() else { return };
    let Some(most) = &lit.lamp.max_current else { return };
    let Some(bears) = tally.known(most.get()) else { return };
    let milliamperes = |current: crate::units::Current| current.to_amperes() * 1000.0;
    let by = lit.lamp.pattern.as_ref();
    tally
        .compare(at_most(milliamperes(bears), "mA"), "a current of {} is more than the lamp bears")
        .reading(Place::Whole, lit.lamp.current.get().map(milliamperes))
        .input(Input::from(&lit.lamp.current).or_by(by))
        .input(Input::from(most).or_by(by))
        .advise(format!("a current of {} or less", bears.in_words()));
}

/// LAMP-13: the counterbore leaves a seat round the hole.
pub(super) fn seat_round_hole<'a>(bench: &Bench<'a>, tally: &mut Tally<'a>) {
    let Some(lit) = bench.lit() else { return };
    let (bore, hole) = (&lit.lamp.counterbore, &lit.lamp.hole);
    let Some((wide, narrow)) = tally.known(bore.mm().and_then(|bore| Ok((bore, hole.mm()?)))) else { return };
    if wide <= narrow {
        let (wide, narrow) = (millimetres(wide), millimetres(narrow));
        let room = bench.limits.of_code(codes::LAMP_03).and_then(|limit| limit.error.least).unwrap_or(0.0);
        let fault = tally
            .fault(
                Place::Whole,
                format!(
                    "the counterbore, {wide}, is not wider than the hole, {narrow}: the flange has nothing to sit on"
                ),
            )
            .input(size(bench, bore))
            .input(size(bench, hole));
        if let Ok(flange) = lit.lamp.flange.mm() {
            fault.advise(format!("a counterbore of {} or wider, for the flange", millimetres(flange + room)));
        }
    }
}
