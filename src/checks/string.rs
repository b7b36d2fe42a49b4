//! The strings: STRING-02 to -08, -10 and -11.

use super::bench::Bench;
use super::input::{Input, trimmed};
use super::place::Place;
use super::remedy::Remedy;
use super::tally::Tally;
use crate::design::board::strings::{TunedString, is_bass, least_gap_at_nut, share_of_solid, tuned};
use crate::diag::codes::{Bounds, Limit};
use crate::diag::{Severity, codes};
use crate::model::{Action, InstrumentString, Known};
use crate::rounding;
use crate::spec::words::{Side, StringKind};

/// Tension at which a string neither flaps nor cuts: newtons, steel. Common practice, no source.
const STEEL: (f64, f64) = (38.0, 165.0);

/// The same of strings with a core of nylon, fluorocarbon or gut. Common practice, no source.
const NYLON: (f64, f64) = (22.0, 85.0);

/// The same of a bass. Common practice, no source.
const BASS: (f64, f64) = (100.0, 260.0);

/// So many times beyond what a string stands it is none that anybody strings. Common practice, no source.
const BEYOND: f64 = 2.0;

/// The least clear gap at the nut of a bass, whose strings swing wider. Common practice, no source.
const BASS_GAP: f64 = 6.5;

/// How far back the saddle of a bass goes. Common practice, no source.
const BASS_TRAVEL: f64 = 8.0;

/// A string as it is written and as it is tuned.
type Pair = (InstrumentString, TunedString);

/// The strings; none while they are open.
fn strings<'a>(bench: &Bench<'a>, tally: &mut Tally<'a>) -> Option<Vec<Pair>> {
    let known = (|| {
        let (set, tuned) = (bench.model.strings.set.get()?, tuned(bench.model, &bench.design.layout)?);
        Ok(set.into_iter().zip(tuned).collect())
    })();
    tally.known(known)
}

/// Whether a weight may be that of a string of its gauge: one that may not has its finding, and its tension is none.
fn weighs_like_a_string(bench: &Bench<'_>, (string, tuned): &Pair) -> bool {
    let Some(limit) = bench.limits.of_code(codes::STRING_10) else { return true };
    let share = share_of_solid(string.kind, tuned.gauge, tuned.weight);
    tuned.weight_is_stand_in || !super::limits::fails(limit.warning, share)
}

/// The tensions that a string of a kind stands on this instrument.
fn ranges(bench: &Bench<'_>) -> impl Fn(StringKind) -> (f64, f64) + use<> {
    let bass = is_bass(&bench.model.strings.set.get().unwrap_or_default());
    move |kind| match kind {
        StringKind::Nylon | StringKind::WoundNylon | StringKind::Fluorocarbon | StringKind::Gut => NYLON,
        StringKind::Plain | StringKind::Wound if bass => BASS,
        StringKind::Plain | StringKind::Wound => STEEL,
    }
}

/// The one string that pulls as none does that is strung: its note or its gauge is a slip that STRING-02 tells, and what
/// compares the strings says nothing of it. None where several do: then it is the scale, or the set.
fn odd_one(bench: &Bench<'_>, strings: &[Pair]) -> Option<usize> {
    let range = ranges(bench);
    let is_odd = |(string, tuned): &&Pair| {
        let (least, most) = range(string.kind);
        tuned.tension.is_ok_and(|pull| pull < least / BEYOND || pull > most * BEYOND)
    };
    let mut odd = strings.iter().filter(is_odd);
    let (one, others) = (odd.next()?, odd.count());
    (others == 0).then_some(one.1.number)
}

/// All tensions, where each string has a weight that can be one and none pulls as no other.
fn tensions<'a>(bench: &Bench<'a>, tally: &mut Tally<'a>) -> Option<Vec<f64>> {
    let strings = strings(bench, tally)?;
    let tensions: Known<Vec<f64>> = strings.iter().map(|(_, tuned)| tuned.tension).collect();
    let tensions = tally.known(tensions)?;
    let comparable = odd_one(bench, &strings).is_none() && strings.iter().all(|pair| weighs_like_a_string(bench, pair));
    comparable.then_some(tensions)
}

/// A limit that only warns.
fn warns(least: Option<f64>, most: Option<f64>, unit: &'static str) -> Limit {
    Limit { error: Bounds::default(), warning: Bounds { least, most }, note: Bounds::default(), unit }
}

/// The line of a string.
fn line<'a>(bench: &Bench<'a>, string: &InstrumentString) -> Input<'a> {
    Input::row_of(&bench.model.strings.set, string.span)
}

/// STRING-02: no string is slack, and none pulls more than its kind can stand.
pub(super) fn tension<'a>(bench: &Bench<'a>, tally: &mut Tally<'a>) {
    let Some(strings) = strings(bench, tally) else { return };
    let range = ranges(bench);
    for (least, most) in [STEEL, NYLON, BASS] {
        let of_range: Vec<&Pair> = strings
            .iter()
            .filter(|(string, _)| range(string.kind) == (least, most))
            .filter(|pair| weighs_like_a_string(bench, pair))
            .collect();
        if of_range.is_empty() {
            continue;
        }
        let measure = tally.measure_against(warns(Some(least), Some(most), "N"), "it pulls {}");
        for (string, tuned) in &of_range {
            measure.reading_of(line(bench, string), Place::String(tuned.number), tuned.tension);
        }
        let bounds = measure.limit.warning;
        let slack =
            |tuned: &TunedString| tuned.tension.map_or(f64::INFINITY, |pull| super::limits::slack(bounds, pull));
        let worst = of_range.iter().copied().reduce(|a, b| if slack(&b.1) < slack(&a.1) { b } else { a });
        if let Some(advice) = worst.and_then(|pair| another_string(pair, bounds)) {
            measure.advise(advice);
        }
    }
}

/// The string of the same note and length that would pull as much as it may.
fn another_string((string, tuned): &Pair, bounds: Bounds) -> Option<String> {
    let pull = tuned.tension.ok()?;
    let bound = super::limits::nearest(bounds, pull)?;
    let round = if bound > pull { rounding::up } else { rounding::down };
    Some(if string.weight.is_none() {
        let gauge = trimmed(round(tuned.gauge * libm::sqrt(bound / pull), 0.001));
        format!("a gauge of {gauge} mm or {} at this note", if bound > pull { "thicker" } else { "thinner" })
    } else {
        let weight = trimmed(round(tuned.weight * bound / pull, 0.01));
        format!("a string of {weight} g/m or {} at this note", if bound > pull { "heavier" } else { "lighter" })
    })
}

/// STRING-03: the strings pull alike, so that the hand finds no odd one out.
pub(super) fn tension_ratio<'a>(bench: &Bench<'a>, tally: &mut Tally<'a>) {
    let Some(tensions) = tensions(bench, tally) else { return };
    let by_pull = |a: &(usize, &f64), b: &(usize, &f64)| a.1.total_cmp(b.1);
    let numbered = || tensions.iter().enumerate();
    let (Some((hardest, most)), Some((slackest, least))) = (numbered().max_by(by_pull), numbered().min_by(by_pull))
    else {
        return;
    };
    let newtons = |pull: f64| rounding::fixed(pull, 1);
    let says = format!(
        "string {} at {} N pulls {{}} times as hard as string {} at {} N",
        hardest + 1,
        newtons(*most),
        slackest + 1,
        newtons(*least)
    );
    tally
        .measure(says)
        .reading(Place::Whole, Ok(most / least))
        .input(&bench.model.strings.set)
        .advise("gauges that pull more alike");
}

/// STRING-04: rod and neck hold against all strings together.
pub(super) fn tension_of_all<'a>(bench: &Bench<'a>, tally: &mut Tally<'a>) {
    let Some(tensions) = tensions(bench, tally) else { return };
    tally
        .measure("all strings together pull {}")
        .reading(Place::Whole, Ok(tensions.iter().sum()))
        .input(&bench.model.strings.set)
        .advise("a lighter set, or a rod and a neck that are made for it");
}

/// STRING-05: a finger finds room between two strings at the nut.
pub(super) fn gap_at_nut<'a>(bench: &Bench<'a>, tally: &mut Tally<'a>) {
    let strings = &bench.model.strings;
    let Some(Some((upper, gap))) = tally.known(least_gap_at_nut(bench.model)) else { return };
    let Some(set) = tally.known(strings.set.get()) else { return };
    let says = format!("{{}} between strings {upper} and {} at the nut", upper + 1);
    let measure = if is_bass(&set) {
        let error = Bounds { least: Some(0.0), most: None };
        tally.measure_against(Limit { error, ..warns(Some(BASS_GAP), None, "mm") }, says)
    } else {
        tally.measure(says)
    };
    let gaps = f64::from(u32::try_from(set.len().saturating_sub(1).max(1)).unwrap_or(u32::MAX));
    measure
        .reading(Place::Whole, Ok(gap))
        .below_nothing(format!("strings {upper} and {} overlap by {{}} at the nut", upper + 1))
        .input(&strings.spread_nut)
        .input(&strings.set)
        .remedy(Remedy::slope(&strings.spread_nut, 1.0 / gaps, "a spread of {} or more at the nut"));
}

/// STRING-06: the saddles go back far enough to bring every string in tune.
pub(super) fn saddle_travel<'a>(bench: &Bench<'a>, tally: &mut Tally<'a>) {
    let Some(travel) = bench.model.setup.as_ref().and_then(|setup| setup.saddle_travel.as_ref()) else { return };
    let strings = &bench.model.strings;
    let Some(set) = tally.known(strings.set.get()) else { return };
    let says = "a saddle goes {} behind the scale line";
    let measure = if is_bass(&set) {
        tally.measure_against(warns(Some(BASS_TRAVEL), None, "mm"), says)
    } else {
        tally.measure(says)
    };
    measure.reading(Place::Whole, travel.mm()).input(travel).remedy(Remedy::slope(
        travel,
        1.0,
        "saddles that go back {} or more",
    ));
}

/// STRING-07: where the notes fall the strings grow heavier; where they rise again, they are free.
pub(super) fn heavier_downward<'a>(bench: &Bench<'a>, tally: &mut Tally<'a>) {
    let Some(strings) = strings(bench, tally) else { return };
    let odd = odd_one(bench, &strings);
    for pair in strings.windows(2) {
        let [higher, lower] = pair else { continue };
        let falls = lower.0.semitone < higher.0.semitone;
        let heavier = lower.1.weight > higher.1.weight;
        let like_strings = |pair: &Pair| weighs_like_a_string(bench, pair) && Some(pair.1.number) != odd;
        if !falls || heavier || !pair.iter().all(like_strings) {
            continue;
        }
        let weight = |tuned: &TunedString| format!("{} g/m", trimmed(tuned.weight));
        let message = format!(
            "{} is lower than {}, but the string is not heavier: {} after {}",
            lower.0.note,
            higher.0.note,
            weight(&lower.1),
            weight(&higher.1)
        );
        tally
            .fault_of(Severity::Warning, Place::String(lower.1.number), message)
            .input(line(bench, &lower.0))
            .input(line(bench, &higher.0))
            .advise("look at note, gauge, kind and weight of both: string 1 is the highest");
    }
}

/// STRING-08: the strings spread from the nut to the saddle.
pub(super) fn spreads<'a>(bench: &Bench<'a>, tally: &mut Tally<'a>) {
    let strings = &bench.model.strings;
    let known = (|| Ok((strings.spread_nut.mm()?, strings.spread_saddle.mm()?)))();
    let Some((nut, saddle)) = tally.known(known) else { return };
    if saddle < nut {
        let message = format!(
            "the strings spread {} mm at the saddle, less than the {} mm at the nut",
            trimmed(saddle),
            trimmed(nut)
        );
        tally
            .fault(Place::Whole, message)
            .input(&strings.spread_saddle)
            .input(&strings.spread_nut)
            .advise("swap them if they stand the wrong way round");
    }
}

/// STRING-10: a string weighs what one of its gauge can weigh.
pub(super) fn weight<'a>(bench: &Bench<'a>, tally: &mut Tally<'a>) {
    let Some(strings) = strings(bench, tally) else { return };
    for with_metal in [true, false] {
        let made_of = |kind: StringKind| {
            matches!(kind, StringKind::Plain | StringKind::Wound | StringKind::WoundNylon) == with_metal
        };
        let weighed = strings.iter().filter(|(string, tuned)| !tuned.weight_is_stand_in && made_of(string.kind));
        let says = if with_metal {
            "it weighs {} times what solid steel of its gauge does"
        } else {
            "it weighs {} times what a solid string of its kind and gauge does"
        };
        let measure = tally.measure(says);
        for (string, tuned) in weighed {
            let share = share_of_solid(string.kind, tuned.gauge, tuned.weight);
            measure.reading_of(line(bench, string), Place::String(tuned.number), Ok(share));
        }
        measure.advise("weigh one metre of it; the gauge is its diameter, wound");
    }
}

/// STRING-11: the strings rise from the first fret to the twelfth.
pub(super) fn action_rises<'a>(bench: &Bench<'a>, tally: &mut Tally<'a>) {
    let Some(setup) = &bench.model.setup else { return };
    let (Some(first), Some(twelfth)) = (&setup.action_1, &setup.action_12) else { return };
    let side = |action: &'a Action, side: Side| if side == Side::Bass { &action.bass } else { &action.treble };
    for at in Side::BOTH {
        let (near, far) = (side(first, at), side(twelfth, at));
        let known: Known<(f64, f64)> = (|| Ok((near.mm()?, far.mm()?)))();
        let Some((low, high)) = tally.known(known) else { continue };
        if high < low {
            let message =
                format!("the action at fret 12, {} mm, is lower than at fret 1, {} mm", trimmed(high), trimmed(low));
            tally
                .fault_of(Severity::Warning, Place::Side(at), message)
                .input(far)
                .input(near)
                .advise("swap them if they stand the wrong way round");
        }
    }
}
