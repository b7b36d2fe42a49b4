//! The end channel and the exit: CHAN-09 to -11 and -16 to -18.

use super::bench::Bench;
use super::chan::map;
use super::input::Input;
use super::message::millimetres;
use super::place::Place;
use super::remedy::Remedy;
use super::tally::Tally;
use crate::design::lamps::channels::ChannelMap;
use crate::diag::codes;
use crate::geom::{Convex, Point, Segment};
use crate::rounding;
use crate::spec::words::Side;

/// CHAN-09: the exit hole stays clear of the rod's slot, where the rod lies.
pub(super) fn exit_to_rod<'a>(bench: &Bench<'a>, tally: &mut Tally<'a>) {
    let Some((lit, map)) = map(bench, tally) else { return };
    let Some(Some(rod)) = tally.known(bench.design.rod.as_ref().map_err(|missing| *missing)) else { return };
    let wood = rod.distance_to(map.exit.centre) - map.exit.radius;
    let measure = tally
        .measure("{} of wood between exit hole and rod")
        .below_nothing("the exit hole reaches {} into the rod's slot");
    measure.reading(Place::Whole, Ok(wood)).input(&lit.channels.exit_y).input(&lit.channels.exit_hole);
    if let Some(neck) = &bench.model.neck {
        measure.input_if(neck.rod_width.as_ref());
    }
    let least = bench.limits.of_code(codes::CHAN_09).and_then(|limit| limit.error.least).unwrap_or(0.0);
    let half = rod.corners().iter().map(|corner| corner.y).fold(0.0, f64::max);
    let off = millimetres(rounding::up(half + map.exit.radius + least, 0.01));
    measure.advise(format!("an exit {off} or more to the bass or the treble, or past the rod's end"));
}

/// CHAN-10: the heel's screws stay clear of the exit hole and the channels.
pub(super) fn screws<'a>(bench: &Bench<'a>, tally: &mut Tally<'a>) {
    let Some((lit, map)) = map(bench, tally) else { return };
    let Some(neck) = &bench.model.neck else { return };
    let Some(screws) = tally.known(neck.screws.get()) else { return };
    let channels: Vec<Convex> = map
        .sides
        .iter()
        .chain(map.crosses.iter().map(|cross| &cross.strip))
        .chain([&map.end])
        .map(|s| s.outline())
        .collect();
    let measure = tally
        .measure("{} of wood between the screw and the nearest channel or exit hole")
        .below_nothing("the screw reaches {} into a channel or the exit hole");
    for (index, screw) in screws.iter().enumerate() {
        let centre = Point::new(screw.x.to_mm(), screw.y.toward_treble());
        let to_exit = Segment::new(centre, map.exit.centre).length() - map.exit.radius;
        let nearest = channels.iter().map(|channel| channel.distance_to(centre)).fold(to_exit, f64::min);
        let wood = Ok(nearest - screw.diameter.to_mm() / 2.0);
        measure.reading_of(Input::row_of(&neck.screws, screw.span), Place::Screw(index + 1), wood);
    }
    measure
        .input(&neck.screws)
        .input(&lit.channels.exit_y)
        .input(&lit.channels.exit_past)
        .advise("another place for the screw, or for the exit");
}

/// CHAN-11: wood is left past the end channel, at both edges.
pub(super) fn past_end_channel<'a>(bench: &Bench<'a>, tally: &mut Tally<'a>) {
    let Some((lit, map)) = map(bench, tally) else { return };
    let Some(outline) = tally.known(bench.design.outline.as_ref().map_err(|missing| *missing)) else { return };
    let end = outline.end.line();
    let (ahead, slant) = (map.end.outline(), libm::cos(map.end_line.angle()));
    let measure = tally
        .measure("{} of wood past the end channel")
        .below_nothing("the end channel reaches {} past the board's end");
    for side in Side::BOTH {
        let own = map.side(side).outline();
        let on_side = |point: &&Point| side.toward_treble() * point.y > 0.0;
        let corners = own.corners().iter().chain(ahead.corners().iter().filter(on_side));
        let wood = corners.map(|corner| end.signed_distance(*corner)).fold(f64::INFINITY, f64::min);
        measure.reading(Place::Side(side), Ok(wood));
    }
    let taper = &bench.model.taper;
    measure
        .input(&lit.channels.exit_past)
        .input(&taper.past_last)
        .input(&lit.channels.width)
        .remedy(Remedy::slope(&lit.channels.exit_past, -slant, "an end channel {} or less past the slot"))
        .remedy(Remedy::slope(
            &taper.past_last,
            libm::cos(outline.end.angle()),
            "{} or more of board past the last slot",
        ));
    if (map.end_line.slant - outline.end.slant).abs() > 0.0 {
        measure.advise("or cut the end along the last fret");
    }
}

/// CHAN-16: the wires leave between the side channels.
pub(super) fn exit_between<'a>(bench: &Bench<'a>, tally: &mut Tally<'a>) {
    let Some((lit, map)) = map(bench, tally) else { return };
    let (bass, treble) = (map.end.centre.start, map.end.centre.end);
    let across = map.exit.centre.y;
    if across < bass.y || across > treble.y {
        let (reach, side) = if across < bass.y { (-bass.y, Side::Bass) } else { (treble.y, Side::Treble) };
        let reach = millimetres(rounding::down(reach, 0.01));
        tally
            .fault(Place::Whole, "the exit lies outside the side channels: no channel leads to it")
            .input(&lit.channels.exit_y)
            .input(&lit.channels.margin)
            .advise(format!("a place up to {reach} {}", side.word()));
    }
}

/// CHAN-17: from every lamp a channel leads to the exit.
pub(super) fn lamp_is_reached<'a>(bench: &Bench<'a>, tally: &mut Tally<'a>) {
    let Some((lit, map)) = map(bench, tally) else { return };
    let Some(markers) = tally.known(bench.design.markers.as_deref().map_err(|missing| *missing)) else { return };
    let Some(bore) = tally.known(lit.lamp.counterbore.mm()) else { return };
    let mut dead = Vec::new();
    for marker in markers {
        let Some(middle) = tally.known(marker.middle) else { continue };
        if !is_reached(map, marker.fret, middle, bore / 2.0) {
            dead.push(marker);
        }
    }
    let Some(first) = dead.first() else { return };
    let place = Place::Lamp(first.number, first.fret);
    let more = match dead.len() - 1 {
        0 => String::new(),
        more => format!(" (and {more} more {})", place.noun(more)),
    };
    let list = super::mark::list_of(bench, first);
    let outside = first.middle.is_ok_and(|middle| is_outside(map, first.fret, middle));
    let markers = bench.model.markers.as_ref();
    match markers.filter(|_| outside) {
        Some(markers) => tally
            .fault(place, format!("it lies between a side channel and the edge: no channel leads to it{more}"))
            .input(&lit.channels.margin)
            .input(&markers.inset)
            .input(list)
            .advise("side channels nearer to the edge, or a larger inset of the pairs"),
        None => tally
            .fault(place, format!("no channel leads from it to the exit{more}"))
            .input(&lit.channels.exit_from)
            .input(list)
            .input(&lit.channels.exit_past)
            .advise("an end channel past the last lit fret, and lamps between the side channels"),
    };
}

/// Whether a lamp lies beyond the ends of its cross channel, toward an edge.
fn is_outside(map: &ChannelMap, fret: usize, middle: Point) -> bool {
    map.cross(fret).is_some_and(|cross| {
        let (bass, treble) = (cross.strip.centre.start.y, cross.strip.centre.end.y);
        middle.y < bass || middle.y > treble
    })
}

/// Whether a seat opens into a cross channel that opens into side channels that open into the end channel.
fn is_reached(map: &ChannelMap, fret: usize, middle: Point, reach: f64) -> bool {
    let Some(cross) = map.cross(fret) else { return false };
    let touches = |centre: Point, shape: &Convex, within: f64| shape.distance_to(centre) < within;
    let joined = |point: Point, side: Side| map.side(side).distance_to(point) <= super::limits::NEAR_ENOUGH;
    touches(middle, &cross.strip.outline(), reach)
        && joined(cross.strip.centre.start, Side::Bass)
        && joined(cross.strip.centre.end, Side::Treble)
        && joined(map.end.centre.start, Side::Bass)
        && joined(map.end.centre.end, Side::Treble)
}

/// CHAN-18: the exit hole does not open at the board's end.
pub(super) fn exit_to_end<'a>(bench: &Bench<'a>, tally: &mut Tally<'a>) {
    let Some((lit, map)) = map(bench, tally) else { return };
    let Some(outline) = tally.known(bench.design.outline.as_ref().map_err(|missing| *missing)) else { return };
    let wood = outline.end.line().signed_distance(map.exit.centre) - map.exit.radius;
    let (past, taper) = (&lit.channels.exit_past, &bench.model.taper);
    let slope = libm::cos(outline.end.angle());
    tally
        .measure("{} of wood between the exit hole and the board's end")
        .below_nothing("the exit hole reaches {} past the board's end")
        .reading(Place::Whole, Ok(wood))
        .input(past)
        .input(&taper.past_last)
        .input(&lit.channels.exit_hole)
        .remedy(Remedy::slope(past, -slope, "an end channel {} or less past the slot"))
        .remedy(Remedy::slope(&taper.past_last, slope, "{} or more of board past the last slot"));
}
