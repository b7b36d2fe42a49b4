//! The scales of a fan: FRET-05 to -09 and -18.

use super::bench::Bench;
use super::message;
use super::place::Place;
use super::remedy::Remedy;
use super::tally::Tally;
use crate::design::board::misses::misses;
use crate::design::board::strings::StringPlaces;
use crate::diag::Severity;
use crate::geom::{Point, Segment};
use crate::model::ScaleLength;
use crate::rounding::fixed;
use crate::spec::words::{NutAt, Spacing};

/// FRET-05: the bass scale is the longer one.
pub(super) fn bass_is_longer<'a>(bench: &Bench<'a>, tally: &mut Tally<'a>) {
    let ScaleLength::Fan { bass, treble, .. } = &bench.model.scale.length else { return };
    let Some((long, short)) = tally.known(bass.mm().and_then(|bass| Ok((bass, treble.mm()?)))) else { return };
    if long < short {
        let (written, other) = (spoken(&bass.written, long), spoken(&treble.written, short));
        tally
            .fault(Place::Whole, format!("the bass scale, {written}, is shorter than the treble scale, {other}"))
            .input(bass)
            .input(treble)
            .advise("swap them if they stand the wrong way round");
    }
}

fn spoken(written: &str, millimetres: f64) -> String {
    if written.is_empty() { format!("{} mm", super::input::trimmed(millimetres)) } else { written.to_owned() }
}

/// FRET-06: the square fret is one of the board's.
pub(super) fn square_fret<'a>(bench: &Bench<'a>, tally: &mut Tally<'a>) {
    let ScaleLength::Fan { square_fret, .. } = &bench.model.scale.length else { return };
    let count = &bench.model.frets.count;
    let Some((square, last)) = tally.known(square_fret.get().and_then(|fret| Ok((fret, count.get()?)))) else {
        return;
    };
    if square > last {
        tally
            .fault(Place::Whole, format!("fret {square} is to stand square, but the last fret is {last}"))
            .input(square_fret)
            .input(count)
            .advise(format!("a fret from 0, the nut, to {last}"));
    }
}

/// FRET-07: no line of a fan slants more than a hand can follow.
pub(super) fn slant<'a>(bench: &Bench<'a>, tally: &mut Tally<'a>) {
    let ScaleLength::Fan { bass, treble, square_fret } = &bench.model.scale.length else { return };
    let Some(layout) = tally.known(bench.design.layout.as_ref().map_err(|missing| *missing)) else { return };
    let frets = layout.frets().map(|(fret, line)| (Place::Fret(fret), line));
    let lines = [(Place::Nut, layout.zero_line()), (Place::Saddle, layout.saddle())];
    tally
        .measure("the line slants {}")
        .readings(lines.into_iter().chain(frets).map(|(place, line)| (place, Ok(line.angle().abs().to_degrees()))))
        .input(square_fret)
        .input(bass)
        .input(treble)
        .advise("scales nearer to each other, or another square fret");
}

/// FRET-08: two slots of a fan do not run into each other inside the blank.
pub(super) fn slots_apart<'a>(bench: &Bench<'a>, tally: &mut Tally<'a>) {
    let ScaleLength::Fan { bass, treble, square_fret } = &bench.model.scale.length else { return };
    let known = (|| {
        let layout = bench.design.layout.as_ref().map_err(|missing| *missing)?;
        let half = bench.design.blank_width? / 2.0;
        Ok((layout, half, bench.model.slots.kerf.mm()?, bench.model.frets.nut_at.get()?))
    })();
    let Some((layout, half, kerf, nut_at)) = tally.known(known) else { return };
    let inside = |fret: usize| {
        let line = layout.fret(fret)?;
        Some(Segment::new(Point::new(line.at(-half), -half), Point::new(line.at(half), half)))
    };
    let first = if nut_at == NutAt::BoardEnd { 2 } else { 1 };
    let apart = (first..=layout.last()).filter_map(|fret| {
        let room = inside(fret - 1)?.distance_between(&inside(fret)?) - kerf;
        Some((Place::Fret(fret), Ok(room)))
    });
    tally
        .measure("{} to the slot before it, inside the blank")
        .readings(apart)
        .input(square_fret)
        .input(bass)
        .input(treble)
        .input_if(bench.model.board.blank_width.as_ref())
        .advise("a narrower blank, or scales nearer to each other");
}

/// FRET-09: the two scales are near enough for one hand.
pub(super) fn scales_apart<'a>(bench: &Bench<'a>, tally: &mut Tally<'a>) {
    let ScaleLength::Fan { bass, treble, .. } = &bench.model.scale.length else { return };
    tally
        .measure("the bass scale is {} longer than the treble scale")
        .reading(Place::Whole, bass.mm().and_then(|bass| Ok(bass - treble.mm()?)))
        .input(bass)
        .input(treble)
        .remedy(Remedy::slope(bass, 1.0, "a bass scale of {} or shorter"))
        .remedy(Remedy::slope(treble, -1.0, "a treble scale of {} or longer"));
}

/// FRET-18: the inner strings meet the slanted frets where they should.
pub(super) fn inner_strings<'a>(bench: &Bench<'a>, tally: &mut Tally<'a>) {
    let ScaleLength::Fan { bass, treble, .. } = &bench.model.scale.length else { return };
    let strings = &bench.model.strings;
    let rules = strings.spacing.get().and_then(|nut| Ok((nut, strings.spacing_saddle.get()?)));
    let Some((at_nut, at_saddle)) = tally.known(rules) else { return };
    if (at_nut, at_saddle) == (Spacing::EqualCentres, Spacing::EqualCentres) {
        // A straight fret divides such strings exactly.
        return;
    }
    let known = (|| {
        let layout = bench.design.layout.as_ref().map_err(|missing| *missing)?;
        Ok(misses(layout, &StringPlaces::of(bench.model)?))
    })();
    let Some(Some(misses)) = tally.known(known) else { return };
    let same_rule = at_nut == at_saddle;
    let limit = bench.limits.of_code(tally.code).filter(|_| same_rule).and_then(|limit| limit.note.most);
    if misses.millimetres <= limit.unwrap_or(super::limits::NEAR_ENOUGH) {
        return;
    }
    let allowed = limit.map_or_else(String::new, |limit| format!("; at most {}", message::millimetres(limit)));
    let message = format!(
        "the inner strings miss the slanted frets by up to {} mm (string {} at fret {}) and {} cents{allowed}",
        fixed(misses.millimetres, 2),
        misses.string,
        misses.fret,
        fixed(misses.cents, 1),
    );
    tally
        .fault_of(Severity::Note, Place::Whole, message)
        .input(&strings.spacing_saddle)
        .input(&strings.spacing)
        .input(&strings.set)
        .input(bass)
        .input(treble)
        .advise("\"equal centres\" at both ends removes it");
}
