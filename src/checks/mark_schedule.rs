//! Which frets are marked: MARK-06 and -07. Both ask, neither stops.

use super::bench::Bench;
use super::mark::marked;
use super::place::Place;
use super::tally::Tally;
use crate::diag::Severity;

/// MARK-06: the one of frets 9 and 10 that players of this instrument count by. Common practice, no source.
pub(super) fn nine_or_ten<'a>(bench: &Bench<'a>, tally: &mut Tally<'a>) {
    let (Some(markers), model) = (marked(bench), bench.model) else { return };
    let known = (|| {
        let frets = (markers.single.get()?, markers.double.get()?);
        Ok((frets, model.frets.count.get()?, model.scale.divisions.get()?, model.scale.is_small(&model.strings)?))
    })();
    let Some(((single, double), last, divisions, small)) = tally.known(known) else { return };
    // Other divisions are counted in steps, and a board that ends before fret 10 has no choice.
    if divisions != 12 || last < 10 {
        return;
    }
    let is_marked = |fret: u32| single.contains(&fret) || double.contains(&fret);
    let (usual, other, who) =
        if small { (10, 9, "small four-strings mark") } else { (9, 10, "all but small four-strings mark") };
    if !is_marked(other) || is_marked(usual) {
        return;
    }
    let list = if single.contains(&other) { &markers.single } else { &markers.double };
    let message = format!("fret {other} is marked and fret {usual} is not: {who} {usual}");
    let fault = tally.fault_of(Severity::Warning, Place::Whole, message);
    fault.input(list).input(&model.strings.set);
    fault.input(model.scale.longest()).advise(format!("{usual} for {other}, or initial it on the cover"));
}

/// MARK-07: an octave is marked.
pub(super) fn octave<'a>(bench: &Bench<'a>, tally: &mut Tally<'a>) {
    let Some(markers) = marked(bench) else { return };
    let known = (|| {
        let frets = [markers.double.get()?, markers.single.get()?].concat();
        Ok((frets, bench.model.frets.count.get()?, bench.model.scale.divisions.get()?))
    })();
    let Some((frets, last, divisions)) = tally.known(known) else { return };
    let octave = |fret: u32| fret > 0 && divisions > 0 && fret.is_multiple_of(divisions);
    if last < divisions || frets.iter().any(|fret| octave(*fret)) {
        return;
    }
    tally
        .fault_of(Severity::Note, Place::Whole, format!("no octave is marked: the first is fret {divisions}"))
        .input(&markers.double)
        .input(&markers.single)
        // Without lists of its own, only other divisions leave a board unmarked.
        .input(&bench.model.scale.divisions)
        .advise(format!("`double = [{divisions}]` marks it; nothing is to be done where that is a choice"));
}
