//! The tapered edges and the blank's width: TAPER-01 to -04.

use super::bench::Bench;
use super::input::Input;
use super::place::Place;
use super::remedy::Remedy;
use super::tally::Tally;
use crate::design::board::edges::end_place;
use crate::design::board::outline::widest_half;
use crate::diag::Severity;
use crate::model::{Known, TaperEdges};
use crate::rounding::fixed;
use crate::spec::words::Side;

/// Width of the board at the nut and at its far end, where the edges are known.
fn widths(bench: &Bench<'_>) -> Known<(f64, f64)> {
    let edges = bench.design.edges?;
    let layout = bench.design.layout.as_ref().map_err(|missing| *missing)?;
    Ok((edges.width(0.0), edges.width(end_place(bench.model, layout)?)))
}

/// TAPER-01: the board widens toward the body, as the strings do.
pub(super) fn widens<'a>(bench: &Bench<'a>, tally: &mut Tally<'a>) {
    let Some((at_nut, at_end)) = tally.known(widths(bench)) else { return };
    if at_end > at_nut {
        return;
    }
    let message = format!(
        "the board is {} mm wide at its end and {} mm at the nut: it does not widen",
        fixed(at_end, 2),
        fixed(at_nut, 2)
    );
    let fault = tally.fault_of(Severity::Warning, Place::Whole, message);
    // The side that narrows is the one to look at; where both do, the bass side.
    let narrows = |side: Side| {
        let edge = bench.design.edges.map(|edges| edges.on(side));
        edge.is_ok_and(|edge| edge.growth <= 0.0)
    };
    let side = if narrows(Side::Treble) && !narrows(Side::Bass) { Side::Treble } else { Side::Bass };
    for far in [true, false] {
        fault.input(edge_key(bench, side, far));
    }
    fault.advise("swap the two if they stand the wrong way round");
}

/// TAPER-02: the outer strings stay on the board.
pub(super) fn string_to_edge<'a>(bench: &Bench<'a>, tally: &mut Tally<'a>) {
    let strings = &bench.model.strings;
    let last = match tally.known(bench.design.layout.as_ref().map_err(|missing| *missing)) {
        Some(layout) => layout.last(),
        None => return,
    };
    for far in [false, true] {
        let measure = tally
            .measure("the outer string is {} from the edge")
            .below_nothing("the outer string lies {} off the board");
        let (fret, spread) = if far { (last, &strings.spread_saddle) } else { (0, &strings.spread_nut) };
        for side in Side::BOTH {
            let place = if far { Place::SideAtFret(side, last) } else { Place::SideAtNut(side) };
            measure.reading_of(edge_key(bench, side, far), place, to_edge(bench, side, fret));
        }
        measure.input(spread).remedy(wider_board(bench, far, fret)).advise("a wider board, or a narrower spread");
    }
}

/// The width that makes room for the outer strings, where the edges are given by their widths.
fn wider_board(bench: &Bench<'_>, far: bool, fret: usize) -> Option<Remedy> {
    let TaperEdges::Widths { nut, end, .. } = &bench.model.taper.edges else { return None };
    // On a fan the two strings cross a fret's line at places of their own: no one width answers for both.
    let layout = bench.design.layout.as_ref().ok().filter(|layout| !layout.fan)?;
    let edge = bench.design.edges.ok()?.bass;
    let place = layout.run(Side::Bass).at(layout.share(fret));
    // The half width lies between those of the two widths: what part of it follows the far one?
    let follows_end = edge.growth * place / (end.mm().ok()? - nut.mm().ok()?);
    let (key, slope) = if far { (end, follows_end) } else { (nut, 0.5 - follows_end) };
    (slope.is_finite() && slope > 0.0).then(|| Remedy::slope(key, slope, "a width of {} or more")).flatten()
}

/// From an outer string's centre to its edge, square to the centreline, where the string crosses a fret's line.
fn to_edge(bench: &Bench<'_>, side: Side, fret: usize) -> Known<f64> {
    let layout = bench.design.layout.as_ref().map_err(|missing| *missing)?;
    let (edges, spreads) = (bench.design.edges?, bench.design.spreads?);
    let share = layout.share(fret);
    Ok(edges.on(side).half(layout.run(side).at(share)) - spreads.at(share) / 2.0)
}

/// The key that sets an edge at the nut, or toward the far end.
fn edge_key<'a>(bench: &Bench<'a>, side: Side, far: bool) -> Input<'a> {
    let key = match (&bench.model.taper.edges, side, far) {
        (TaperEdges::Widths { nut, .. }, _, false) => nut,
        (TaperEdges::Widths { end, .. }, _, true) => end,
        (TaperEdges::FromStrings { nut_bass, .. }, Side::Bass, false) => nut_bass,
        (TaperEdges::FromStrings { end_bass, .. }, Side::Bass, true) => end_bass,
        (TaperEdges::FromStrings { nut_treble, .. }, Side::Treble, false) => nut_treble,
        (TaperEdges::FromStrings { end_treble, .. }, Side::Treble, true) => end_treble,
    };
    key.into()
}

/// TAPER-03: the blank is wider than the board, so that there is something to plane.
pub(super) fn blank_width<'a>(bench: &Bench<'a>, tally: &mut Tally<'a>) {
    let Some(width) = &bench.model.board.blank_width else { return };
    let spare = (|| {
        let layout = bench.design.layout.as_ref().map_err(|missing| *missing)?;
        Ok(width.mm()? - 2.0 * widest_half(bench.model, layout, &bench.design.edges?)?)
    })();
    tally
        .measure("the blank is {} wider than the board")
        .below_nothing("the blank is {} narrower than the board")
        .reading(Place::Whole, spare)
        .input(width)
        .input(edge_key(bench, Side::Bass, true))
        .remedy(Remedy::slope(width, 1.0, "a blank of {} or wider"));
}

/// TAPER-04: the edges open by as much as on other instruments.
pub(super) fn half_angle<'a>(bench: &Bench<'a>, tally: &mut Tally<'a>) {
    let Some((edges, (at_nut, at_end))) = tally.known(bench.design.edges.and_then(|edges| Ok((edges, widths(bench)?))))
    else {
        return;
    };
    if at_end <= at_nut {
        // TAPER-01 says so.
        return;
    }
    let measure = tally.measure("the edge leaves the centreline by {}");
    for side in Side::BOTH {
        let angle = Ok(edges.on(side).taper().to_degrees());
        measure.reading_of(edge_key(bench, side, true), Place::Side(side), angle);
    }
    measure
        .input(edge_key(bench, Side::Bass, false))
        .advise("look at both widths and at the place where the second one holds");
}
