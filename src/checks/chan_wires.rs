//! Wires in their channels: CHAN-05, -06 and -08.

use super::bench::{Bench, Lit};
use super::chan::map;
use super::message::millimetres;
use super::place::Place;
use super::remedy::Remedy;
use super::tally::{Tally, at_least};
use crate::design::formulas::{fill_of_channel, fill_of_exit, round_area};
use crate::design::lamps::channels::ChannelMap;
use crate::design::lamps::wires::Wires;
use crate::spec::words::Side;

/// Depth left over a single wire: it need not lie under another, but it springs. Common practice, no source.
const OVER_ONE_WIRE: f64 = 0.5;

/// A count as a figure.
fn figure(count: usize) -> f64 {
    f64::from(u32::try_from(count).unwrap_or(u32::MAX))
}

/// The most wires side by side in each piece of the channels.
fn pieces(map: &ChannelMap, wires: &Wires) -> Vec<(Place, usize)> {
    let sides = Side::BOTH.into_iter().zip(wires.in_sides).map(|(side, count)| (Place::SideChannel(side), count));
    let crosses =
        map.crosses.iter().zip(&wires.in_crosses).map(|(cross, count)| (Place::CrossChannel(cross.fret), *count));
    let all = sides.chain([(Place::EndChannel, wires.in_end)]).chain(crosses);
    all.filter(|(_, count)| *count > 0).collect()
}

fn wired<'a>(bench: &Bench<'a>, tally: &mut Tally<'a>) -> Option<(Lit<'a>, &'a ChannelMap, &'a Wires)> {
    let (lit, map) = map(bench, tally)?;
    let wires = tally.known(lit.design.wires.as_ref().map_err(|missing| *missing))?;
    Some((lit, map, wires))
}

/// CHAN-05: the wires lie below the back, in layers with one layer's room to spare.
pub(super) fn layers<'a>(bench: &Bench<'a>, tally: &mut Tally<'a>) {
    let Some((lit, map, wires)) = wired(bench, tally) else { return };
    let (depth, width, hookup) = (&lit.channels.depth, &lit.channels.width, &lit.circuit.hookup);
    let Some((wide, od)) = tally.known(width.mm().and_then(|width| Ok((width, hookup.mm()?)))) else { return };
    let a_layer = (wide / od).floor();
    if a_layer < 1.0 || a_layer.is_nan() {
        let (wide, od) = (millimetres(wide), millimetres(od));
        tally
            .fault(Place::Whole, format!("a wire of {od} does not go into a channel {wide} wide"))
            .input(depth)
            .input(width)
            .input(hookup);
        return;
    }
    let need = |count: usize| match count {
        1 => od + OVER_ONE_WIRE,
        _ => ((figure(count) / a_layer).ceil() + 1.0) * od,
    };
    let pieces = pieces(map, wires);
    let fullest = pieces.iter().map(|(place, count)| (*place, *count, need(*count)));
    let Some((place, count, need)) = fullest.reduce(|a, b| if b.2 > a.2 { b } else { a }) else { return };
    let wires = if count == 1 { "1 wire".to_owned() } else { format!("{count} wires") };
    tally
        .compare(at_least(need, "mm"), format!("a channel {{}} deep for {wires}"))
        .reading(place, depth.mm())
        .input(depth)
        .input(width)
        .input(hookup)
        .remedy(Remedy::slope(depth, 1.0, "a channel of {} or deeper"))
        .advise("or thinner wire, or more lamps to a group");
}

/// CHAN-06: the fullest piece of channel still takes epoxy.
pub(super) fn fill<'a>(bench: &Bench<'a>, tally: &mut Tally<'a>) {
    let Some((lit, map, wires)) = wired(bench, tally) else { return };
    let (channels, hookup) = (lit.channels, &lit.circuit.hookup);
    let fill = |count: usize| {
        let area = round_area(hookup.mm()?);
        Ok(fill_of_channel(figure(count), area, channels.width.mm()?, channels.depth.mm()?))
    };
    tally
        .measure("its wires fill {} of it")
        .readings(pieces(map, wires).into_iter().map(|(place, count)| (place, fill(count))))
        .input(hookup)
        .input(&channels.width)
        .input(&channels.depth)
        .remedy(Remedy::power(hookup, 2.0, "wire of {} or thinner"))
        .remedy(Remedy::power(&channels.width, -1.0, "a channel of {} or wider"))
        .remedy(Remedy::power(&channels.depth, -1.0, "a channel of {} or deeper"));
}

/// CHAN-08: the wires go through the exit hole.
pub(super) fn exit_fill<'a>(bench: &Bench<'a>, tally: &mut Tally<'a>) {
    let Some((lit, _, wires)) = wired(bench, tally) else { return };
    let (hole, hookup) = (&lit.channels.exit_hole, &lit.circuit.hookup);
    let through = wires.through_exit();
    let fill = hookup.mm().and_then(|wire| Ok(fill_of_exit(figure(through), wire, hole.mm()?)));
    tally
        .measure(format!("{through} wires fill {{}} of the exit hole"))
        .reading(Place::Whole, fill)
        .input(hole)
        .input(hookup)
        .remedy(Remedy::power(hole, -2.0, "an exit hole of {} or wider"))
        .remedy(Remedy::power(hookup, 2.0, "wire of {} or thinner"));
}
