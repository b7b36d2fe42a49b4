//! FRET-14: the fret table checks itself by the two laws that any table of equal steps obeys.
//!
//! Each gap is 2^(−1/D) of the one before it, and the octave lies at half the scale: on a fan along either outer
//! string. It looks at the lines as they will be cut, not at the formula that made them.

use super::bench::Bench;
use super::place::Place;
use super::tally::Tally;
use crate::design::board::layout::{Layout, Spreads};
use crate::geom::{Line, Point};
use crate::model::{Known, Missing, Why};
use crate::spec::words::Side;

/// What a table may be off by, as a share of the scale: arithmetic's own error is a thousand times smaller.
const SHARE_OF_SCALE: f64 = 1e-9;

/// FRET-14: the table obeys its own laws.
pub(super) fn obeys_its_laws<'a>(bench: &Bench<'a>, tally: &mut Tally<'a>) {
    let layout = match &bench.design.layout {
        Ok(layout) => layout,
        Err(missing) => {
            cannot_be_laid_out(bench, *missing, tally);
            return;
        }
    };
    let sides: &[Side] = if layout.fan { &Side::BOTH } else { &[Side::Treble] };
    for side in sides {
        let Some(places) = tally.known(places_on_string(bench, layout, *side)) else { return };
        let run = layout.run(*side);
        if let Some(law) = broken_law(&places, run.start, run.run, layout.divisions) {
            tally.fault(Place::Whole, format!("the fret table failed its own check: {law}")).advise(
                "do not use this packet: the fault is the program's, not yours; send the commission file with it",
            );
            return;
        }
    }
}

/// Values each well written of which no fan can be laid out.
fn cannot_be_laid_out<'a>(bench: &Bench<'a>, missing: Missing, tally: &mut Tally<'a>) {
    tally.known::<()>(Err(missing));
    let spread = &bench.model.strings.spread_saddle;
    if missing.why == Why::Faulty && missing.key == spread.key && spread.value.is_ok() {
        tally
            .fault(Place::Whole, "the strings open wider than they are long: no fret can be laid out")
            .input(spread)
            .input(&bench.model.strings.spread_nut);
    }
}

/// Where each line from zero to the last crosses an outer string, along the centreline; straight ones, the centreline.
fn places_on_string(bench: &Bench<'_>, layout: &Layout, side: Side) -> Known<Vec<f64>> {
    let lines = (0..=layout.last()).filter_map(|fret| layout.fret(fret));
    if !layout.fan {
        return Ok(lines.map(|line| line.x).collect());
    }
    let Spreads { nut, saddle } = bench.design.spreads?;
    let (run, sign) = (layout.run(side), side.toward_treble());
    let string =
        Line::through(Point::new(run.start, sign * nut / 2.0), Point::new(run.start + run.run, sign * saddle / 2.0));
    Ok(lines.map(|line| line.line().crossing(&string).map_or(f64::NAN, |point| point.x)).collect())
}

/// The law that a row of fret places breaks, if any. `places` start at the zero line.
fn broken_law(places: &[f64], start: f64, run: f64, divisions: u32) -> Option<String> {
    let near = SHARE_OF_SCALE * run;
    let within = |a: f64, b: f64| (a - b).abs() <= near;
    let gaps: Vec<f64> = places.windows(2).map(|pair| pair[1] - pair[0]).collect();
    let shrink = libm::exp2(-1.0 / f64::from(divisions));
    if let Some(at) = gaps.windows(2).position(|pair| !within(pair[1], pair[0] * shrink)) {
        return Some(format!("the gap before fret {} does not shrink as it must", at + 2));
    }
    let octave = usize::try_from(divisions).ok().and_then(|steps| Some((steps, *places.get(steps)?)));
    octave
        .filter(|(_, place)| !within(*place, start + run / 2.0))
        .map(|(fret, _)| format!("fret {fret}, the octave, does not lie at half the scale"))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn equal_steps(run: f64, frets: u32, divisions: u32) -> Vec<f64> {
        (0..=frets).map(|fret| run * (1.0 - libm::exp2(-f64::from(fret) / f64::from(divisions)))).collect()
    }

    #[test]
    fn a_table_of_equal_steps_obeys() {
        for divisions in [5, 12, 19, 31] {
            assert_eq!(broken_law(&equal_steps(647.7, 24, divisions), 0.0, 647.7, divisions), None);
        }
    }

    #[test]
    fn one_fret_moved_by_a_thousandth_of_a_millimetre_is_found() {
        let mut places = equal_steps(647.7, 24, 12);
        places[7] += 0.001;
        assert!(broken_law(&places, 0.0, 647.7, 12).unwrap().contains("fret 7"));
    }

    #[test]
    fn the_rule_of_eighteen_is_not_equal_temperament() {
        // The old rule: each gap an eighteenth of what is left. Its gaps shrink evenly, but not to the octave.
        let places: Vec<f64> = (0..=12).map(|fret| 650.0 * (1.0 - (17.0_f64 / 18.0).powi(fret))).collect();
        assert!(broken_law(&places, 0.0, 650.0, 12).is_some());
    }

    #[test]
    fn a_table_of_another_scale_misses_the_octave() {
        assert!(broken_law(&equal_steps(640.0, 24, 12), 0.0, 650.0, 12).unwrap().contains("octave"));
    }
}
