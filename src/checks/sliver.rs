//! The sliver between a pair's seat and the side channel: CHAN-20.

use super::bench::Bench;
use super::chan::map;
use super::input::trimmed;
use super::limits::NEAR_ENOUGH;
use super::message::millimetres;
use super::remedy::Remedy;
use super::tally::Tally;
use crate::design::board::edges::Edge;
use crate::design::board::markers::Marker;
use crate::diag::codes;
use crate::geom::Point;
use crate::model::{Inset, Known};
use crate::rounding;
use crate::spec::words::Side;

/// A pair's marker with its place and the edge it is measured from.
struct OfPair<'m> {
    marker: &'m Marker,
    middle: Known<Point>,
    side: Side,
    edge: Edge,
}

/// CHAN-20: a pair's seat opens into the side channel or stays well clear of it.
pub(super) fn beside_channel<'a>(bench: &Bench<'a>, tally: &mut Tally<'a>) {
    let Some((lit, _)) = map(bench, tally) else { return };
    let Some(table) = &bench.model.markers else { return };
    let Some(markers) = tally.known(bench.design.markers.as_deref().map_err(|missing| *missing)) else { return };
    let (channels, bore) = (lit.channels, &lit.lamp.counterbore);
    let known = (|| Ok((bench.design.edges?, channels.margin.mm()? + channels.width.mm()?, bore.mm()? / 2.0)))();
    let Some((edges, inner, reach)) = tally.known(known) else { return };
    let of_pair = |marker: &'a Marker| {
        let side = marker.side?;
        Some(OfPair { marker, middle: marker.middle, side, edge: edges.on(side) })
    };
    let pairs: Vec<OfPair<'_>> = markers.iter().filter_map(of_pair).collect();
    let measure = tally.measure("a sliver of {} between its seat and the side channel");
    for of_pair in &pairs {
        let wall = of_pair.edge.inset_line(inner);
        let clear = of_pair.middle.map(|at| -of_pair.side.toward_treble() * wall.signed_distance(at) - reach);
        // A seat that opens into the channel leaves no sliver.
        if clear.is_ok_and(|clear| clear <= NEAR_ENOUGH) {
            continue;
        }
        measure.reading(bench.marker_place(of_pair.marker), clear);
    }
    measure
        .input(&table.inset)
        .input(&channels.margin)
        .input(&channels.width)
        .input(super::lamp::size(bench, bore))
        .remedy(Remedy::slope(&channels.margin, -1.0, "a margin of {} or less"));
    let least = bench.limits.of_code(codes::CHAN_20).and_then(|limit| limit.warning.least).unwrap_or(0.0);
    let Ok(inset) = table.inset.get() else { return };
    if let Some((clear, open)) = insets(&pairs, inset, inner + reach, least) {
        measure.advise(format!("an inset of {clear} or more"));
        measure.advise(format!("or of {open} or less, so that the seats open into the channel"));
    }
}

/// The inset at which all seats stay clear by `least`, and the one at which all open into the channel, in the words of
/// the inset as it is written.
fn insets(pairs: &[OfPair<'_>], inset: Inset, touches: f64, least: f64) -> Option<(String, String)> {
    // From a distance square to the edge to the inset, which is measured square to the centreline.
    let inset_at = |of_pair: &OfPair<'_>, from_edge: f64| {
        let across = from_edge / libm::cos(of_pair.edge.taper());
        match inset {
            Inset::Length(_) => Some(across),
            Inset::HalfWidth(_) => Some(across / of_pair.edge.half(of_pair.middle.ok()?.x)),
        }
    };
    let all = |from_edge: f64| pairs.iter().map(|of_pair| inset_at(of_pair, from_edge)).collect::<Option<Vec<f64>>>();
    let clear = rounding::up(all(touches + least)?.into_iter().fold(0.0, f64::max), 0.01);
    let open = rounding::down(all(touches)?.into_iter().fold(f64::INFINITY, f64::min), 0.01);
    let words = |figure: f64| match inset {
        Inset::Length(_) => millimetres(figure),
        Inset::HalfWidth(_) => format!("{} half-width", trimmed(figure)),
    };
    (open > 0.0).then(|| (words(clear), words(open)))
}
