//! The scale and its frets. Its own file has the fret table's own check, FRET-14; and what only a fan has, FRET-05 to
//! -07, -09 and -18.

use super::bench::Bench;
use super::input::{Input, trimmed};
use super::place::Place;
use super::remedy::Remedy;
use super::tally::{Measure, Tally, at_least, wants_at_least};
use crate::design::board::layout::Layout;
use crate::design::tolerances::tolerance;
use crate::diag::Severity;
use crate::diag::codes::Bounds;
use crate::geom::Point;
use crate::model::{Known, Missing, PartialFret, ScaleLength, Sourced};
use crate::spec::words::{Method, NutAt, Side};
use crate::units::Length;

/// Wood behind a zero fret: it breaks out sooner than it splits. Common practice, no source.
const BEHIND_ZERO_FRET: f64 = 3.0;

/// Steps to the octave on nearly every instrument.
const USUAL_DIVISIONS: u32 = 12;

/// FRET-01: the scale is one that an instrument on this bench can have.
pub(super) fn scale_length<'a>(bench: &Bench<'a>, tally: &mut Tally<'a>) {
    let mut judge = |place: Place, length: &'a Sourced<Length>, other: Option<&'a Sourced<Length>>| {
        tally
            .measure("the scale is {}")
            .reading(place, length.mm())
            .input(length)
            .input_if(other)
            .remedy(Remedy::slope(length, 1.0, "{} is the nearest scale that passes"))
            .advise("look for a digit lost or written twice, a point, the unit: nut to saddle line, uncompensated");
    };
    match &bench.model.scale.length {
        ScaleLength::One(length) => judge(Place::Whole, length, None),
        ScaleLength::Fan { bass, treble, .. } => {
            judge(Place::Side(Side::Bass), bass, Some(treble));
            judge(Place::Side(Side::Treble), treble, Some(bass));
        }
    }
}

/// FRET-02: the number of frets is one that a board can have.
pub(super) fn count<'a>(bench: &Bench<'a>, tally: &mut Tally<'a>) {
    let count = &bench.model.frets.count;
    counted(tally.measure("{} frets"), count, ["fret", "frets"]);
}

/// A count against its least and its most, with the nearest one that passes.
fn counted<'t, 'a>(
    measure: &'t mut Measure<'a>,
    count: &'a Sourced<u32>,
    [one, many]: [&str; 2],
) -> &'t mut Measure<'a> {
    measure.reading(Place::Whole, count.get().map(f64::from)).input(count);
    let Bounds { least, most } = measure.limit.error;
    let named = |number: f64| format!("{} {}", trimmed(number), if number > 1.0 { many } else { one });
    match (count.get().map(f64::from), least, most) {
        (Ok(count), Some(least), _) if count < least => measure.advise(format!("{} or more", named(least))),
        (Ok(count), _, Some(most)) if count > most => measure.advise(format!("{} or fewer", named(most))),
        _ => measure,
    }
}

/// FRET-03: between the last two crowns there is room for a finger and a file.
pub(super) fn last_gap<'a>(bench: &Bench<'a>, tally: &mut Tally<'a>) {
    let wire = &bench.model.wire;
    let Some(layout) = tally.known(bench.design.layout.as_ref().map_err(|missing| *missing)) else { return };
    let room = |fret: usize| Ok::<f64, Missing>(gap_before(bench, layout, fret)? - wire.crown_width.mm()?);
    let measure = tally.measure("{} of room between the last two crowns");
    measure
        .below_nothing("the last two crowns overlap by {}")
        .reading(Place::Fret(layout.last()), room(layout.last()))
        .input(&bench.model.frets.count)
        .input(Input::from(&wire.crown_width).or_by(wire.pattern.as_ref()));
    let enough = measure.limit.warning.least.or(measure.limit.error.least).unwrap_or(0.0);
    if let Some(fret) = (1..layout.last()).rev().find(|fret| room(*fret).is_ok_and(|room| room >= enough)) {
        measure.advise(format!("{fret} or fewer frets, or wire with a narrower crown"));
    }
}

/// The gap before a fret, at its narrowest: on a fan over one of the edges.
fn gap_before(bench: &Bench<'_>, layout: &Layout, fret: usize) -> Known<f64> {
    let no_such = Missing::faulty("frets.count");
    let (before, line) = layout.fret(fret - 1).zip(layout.fret(fret)).ok_or(no_such)?;
    if !layout.fan {
        return Ok(line.x - before.x);
    }
    let edges = bench.design.edges?;
    let ends = |side: Side| {
        let (a, b) = (edges.on(side).meets(&before, 0.0), edges.on(side).meets(&line, 0.0));
        line.line().signed_distance(a).abs().min(before.line().signed_distance(b).abs())
    };
    Ok(ends(Side::Bass).min(ends(Side::Treble)))
}

/// FRET-04: wood beyond the last slot, square to it, at either edge.
pub(super) fn wood_past_last<'a>(bench: &Bench<'a>, tally: &mut Tally<'a>) {
    let taper = &bench.model.taper;
    let known = (|| {
        let outline = bench.design.outline.as_ref().map_err(|missing| *missing)?;
        let slots = bench.design.slots.as_ref().map_err(|missing| *missing)?;
        let (fret, slot) = slots.last().ok_or(Missing::faulty("frets.count"))?;
        Ok((outline, *fret, (*slot)?))
    })();
    let Some((outline, fret, slot)) = tally.known(known) else { return };
    let square = libm::cos(slot.line.angle());
    let beyond = |end: Point| Ok((outline.end.at(end.y) - end.x) * square);
    let measure =
        tally.measure("{} of wood beyond the last slot").below_nothing("the last slot runs {} past the board's end");
    if slot.line.slant.abs() > 0.0 {
        measure.reading(Place::SideAtFret(Side::Bass, fret), beyond(slot.crown.start));
        measure.reading(Place::SideAtFret(Side::Treble, fret), beyond(slot.crown.end));
    } else {
        measure.reading(Place::Fret(fret), beyond(slot.crown.start));
    }
    measure.input(&taper.past_last).input(&taper.end_cut).input(&bench.model.frets.count).remedy(Remedy::slope(
        &taper.past_last,
        square,
        "{} or more past the last slot",
    ));
}

/// FRET-10: wood behind the zero line, where the nut sits in a slot or a zero fret takes its place.
pub(super) fn behind_nut<'a>(bench: &Bench<'a>, tally: &mut Tally<'a>) {
    let frets = &bench.model.frets;
    let Some(behind) = &frets.behind_nut else { return };
    let Some(nut_at) = tally.known(frets.nut_at.get()) else { return };
    let measure = match nut_at {
        NutAt::BoardEnd => return,
        NutAt::Slot => tally.measure("{} of wood behind the nut's line"),
        NutAt::ZeroFret => tally.measure_against(at_least(BEHIND_ZERO_FRET, "mm"), "{} of wood behind the zero fret"),
    };
    let left = behind.mm().and_then(|behind| {
        let layout = bench.design.layout.as_ref().map_err(|missing| *missing)?;
        let slant = layout.zero_line().slant.abs();
        let corner = if slant > 0.0 { slant * bench.design.blank_width? / 2.0 } else { 0.0 };
        Ok(behind - corner)
    });
    measure.below_nothing("the zero line runs {} past the squared end at its corner");
    measure.reading(Place::Whole, left).input(behind).input(&frets.nut_at).remedy(Remedy::slope(
        behind,
        1.0,
        "{} or more behind the zero line",
    ));
}

/// FRET-11: a partial fret is one of the board's, under some neighbouring strings.
pub(super) fn partial<'a>(bench: &Bench<'a>, tally: &mut Tally<'a>) {
    let frets = &bench.model.frets;
    let Some(partial) = tally.known(frets.partial.get()) else { return };
    if partial.is_empty() {
        return;
    }
    let count = tally.known(frets.count.get());
    let strings = tally.known(bench.model.strings.set.get()).map(|set| set.len());
    for (index, one) in partial.iter().enumerate() {
        let twice = partial[..index].iter().any(|other| other.fret == one.fret);
        if let Some(wrong) = wrong_partial(one, count, strings, twice) {
            let fret = usize::try_from(one.fret).unwrap_or(usize::MAX);
            tally.fault(Place::Fret(fret), wrong).input(Input::line("frets.partial", one.span));
        }
    }
}

/// What is wrong with a partial fret, if anything is.
fn wrong_partial(one: &PartialFret, count: Option<u32>, strings: Option<usize>, twice: bool) -> Option<String> {
    if let Some(count) = count.filter(|count| !(1..=*count).contains(&one.fret)) {
        return Some(format!("no such fret: the board has 1 to {count}"));
    }
    if twice {
        return Some("written twice as a partial fret".to_owned());
    }
    let mut served: Vec<u32> = one.strings.clone();
    served.sort_unstable();
    let (Some(first), Some(last)) = (served.first(), served.last()) else {
        return Some("a partial fret under no string".to_owned());
    };
    if served.windows(2).any(|pair| pair[1] != pair[0] + 1) {
        return Some("a partial fret lies under neighbouring strings, each named once".to_owned());
    }
    let strings = strings.and_then(|strings| u32::try_from(strings).ok())?;
    if *first < 1 || *last > strings {
        return Some(format!("no such string: the instrument has 1 to {strings}, 1 the highest"));
    }
    (served.len() == usize::try_from(strings).unwrap_or(usize::MAX))
        .then(|| "under every string it is no partial fret".to_owned())
}

/// FRET-17: the octave is divided into a number of steps that a board can have.
pub(super) fn divisions<'a>(bench: &Bench<'a>, tally: &mut Tally<'a>) {
    let divisions = &bench.model.scale.divisions;
    counted(tally.measure("{} steps to the octave"), divisions, ["step", "steps"])
        .advise("nearly every instrument has 12: then the key is left out");
}

/// FRET-12: a partial fret is cut by hand, apart from the others.
pub(super) fn partial_by_hand<'a>(bench: &Bench<'a>, tally: &mut Tally<'a>) {
    let partial = &bench.model.frets.partial;
    let Some(frets) = tally.known(partial.get()) else { return };
    let numbers: Vec<String> = frets.iter().map(|one| one.fret.to_string()).collect();
    let message = match numbers.as_slice() {
        [] => return,
        [one] => format!("fret {one} is partial: it is not in the sled's sequence"),
        [others @ .., last] => {
            format!("frets {} and {last} are partial: they are not in the sled's sequence", others.join(", "))
        }
    };
    tally
        .fault_of(Severity::Note, Place::Whole, message)
        .input(partial)
        .advise("cut by hand against a stop, at the marks of the fret table");
}

/// FRET-13: at the last fret the stop still keeps a slot in tune.
pub(super) fn accuracy<'a>(bench: &Bench<'a>, tally: &mut Tally<'a>) {
    let model = bench.model;
    // A scribed line is kept by eye: its tolerance is wider than any high fret's band.
    if tally.known(model.slots.method.get()) != Some(Method::Stop) {
        return;
    }
    let Some(layout) = tally.known(bench.design.layout.as_ref().map_err(|missing| *missing)) else { return };
    let allowed = tolerance(model, "slot position");
    let to_both_sides = allowed.under + allowed.over;
    let last = layout.last();
    let says =
        format!("at fret {last} the band within 1.5 cents of true is {{}} wide, narrower than what the stop keeps");
    let measure = tally.compare(wants_at_least(to_both_sides, "mm"), says);
    measure.reading(Place::Whole, Ok(layout.band(last))).input(&model.frets.count);
    match &model.scale.length {
        ScaleLength::One(length) => measure.input(length),
        ScaleLength::Fan { bass, treble, .. } => measure.input(bass).input(treble),
    };
    for written in model.tolerances.iter().filter(|written| written.name == "slot position") {
        measure.input(Input::line("tolerances.slot position", written.span));
    }
    if let Some(fret) = (1..last).rev().find(|fret| layout.band(*fret) >= to_both_sides) {
        measure.advise(format!("{fret} or fewer frets, or a stop that keeps the slots nearer than this"));
    }
}

/// FRET-16: with other divisions than twelve, markers count steps.
pub(super) fn steps<'a>(bench: &Bench<'a>, tally: &mut Tally<'a>) {
    let divisions = &bench.model.scale.divisions;
    let Some(steps) = tally.known(divisions.get()).filter(|steps| *steps != USUAL_DIVISIONS) else { return };
    tally
        .fault_of(
            Severity::Note,
            Place::Whole,
            format!("{steps} steps to the octave, not {USUAL_DIVISIONS}: markers and stations are counted in steps"),
        )
        .input(divisions)
        .advise(format!("the octave is at fret {steps}: write the markers' frets yourself"));
}
