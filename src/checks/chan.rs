//! Channels against slots, edges and rod: CHAN-01 to -04, -07, -12, -14 and -15. The exit and the wires have their own
//! files.

use super::bench::{Bench, Lit};
use super::place::Place;
use super::remedy::Remedy;
use super::tally::Tally;
use crate::design::board::layout::StationLine;
use crate::design::board::slots::Slot;
use crate::design::formulas::face_height;
use crate::design::lamps::channels::ChannelMap;
use crate::geom::{Convex, Line, Point, Segment};
use crate::spec::words::Side;

/// The lit board and its map of channels.
pub(super) fn map<'a>(bench: &Bench<'a>, tally: &mut Tally<'a>) -> Option<(Lit<'a>, &'a ChannelMap)> {
    let lit = bench.lit()?;
    Some((lit, tally.known(lit.design.map.as_ref().map_err(|missing| *missing))?))
}

/// The slots that are known, with those that wait noted.
fn slots<'a>(bench: &Bench<'a>, tally: &mut Tally<'a>) -> Vec<Slot> {
    let Some(slots) = tally.known(bench.design.slots.as_ref().map_err(|missing| *missing)) else { return Vec::new() };
    slots.iter().filter_map(|(_, slot)| tally.known(*slot)).collect()
}

/// The slots on either side of a fret's gap.
fn beside(slots: &[Slot], fret: usize) -> impl Iterator<Item = &Slot> {
    slots.iter().filter(move |slot| slot.fret == fret || slot.fret + 1 == fret)
}

/// CHAN-01: the wood between a slot and the channel under it holds.
pub(super) fn slot_to_channel<'a>(bench: &Bench<'a>, tally: &mut Tally<'a>) {
    let Some((lit, map)) = map(bench, tally) else { return };
    let slots = slots(bench, tally);
    let Some(depths) = tally.known(bench.depths_deepest_first()) else { return };
    let model = bench.model;
    let measure =
        tally.measure("the channel leaves {} under the slot").below_nothing("the channel cuts {} into the slot");
    for row in depths {
        let Some(slot) = slots.iter().find(|slot| slot.fret == row.fret) else { continue };
        match map.wood_to_slot(model, lit.channels, slot, row.wood_under, &bench.design.face) {
            Ok(None) => {}
            Ok(Some(wood)) => {
                measure.reading(Place::Fret(row.fret), Ok(wood));
            }
            Err(missing) => {
                measure.reading(Place::Fret(row.fret), Err(missing));
            }
        }
    }
    let thickness = &model.board.thickness;
    measure
        .input(&lit.channels.depth)
        .input(thickness)
        .input(&model.wire.tang_depth)
        .input(&model.slots.cut)
        .remedy(Remedy::slope(thickness, 1.0, "a board of {} or thicker"))
        .remedy(Remedy::slope(&lit.channels.depth, -1.0, "a channel of {} or shallower"));
}

/// CHAN-02: the wall of a cross channel, and of the end channel, stays clear of the slots.
pub(super) fn wall_to_slot<'a>(bench: &Bench<'a>, tally: &mut Tally<'a>) {
    let Some((lit, map)) = map(bench, tally) else { return };
    let slots = slots(bench, tally);
    let Some(kerf) = tally.known(bench.model.slots.kerf.mm()) else { return };
    let channels = lit.channels;
    let clear = |centre: &Segment, slot: &Slot| centre.distance_between(&slot.cut) - (map.end.width + kerf) / 2.0;
    let cross = tally
        .measure("{} of wood between the channel's wall and the slot")
        .below_nothing("the channel's wall reaches {} into the slot");
    for channel in &map.crosses {
        let nearest = beside(&slots, channel.fret).map(|slot| clear(&channel.strip.centre, slot)).reduce(f64::min);
        cross.readings(nearest.map(|wood| (Place::CrossChannel(channel.fret), Ok(wood))));
    }
    cross
        .input(&channels.width)
        .input(&bench.model.slots.kerf)
        .remedy(Remedy::slope(&channels.width, -0.5, "a channel of {} or narrower"))
        .advise("or mark a fret nearer to the nut");
    let nearest = slots.iter().map(|slot| clear(&map.end.centre, slot)).reduce(f64::min);
    let square = libm::cos(map.end_line.angle());
    tally
        .measure("{} of wood between the channel's wall and the slot")
        .below_nothing("the channel's wall reaches {} into the slot")
        .readings(nearest.map(|wood| (Place::EndChannel, Ok(wood))))
        .input(&channels.exit_past)
        .input(&channels.width)
        .input(&channels.exit_from)
        .remedy(Remedy::slope(&channels.exit_past, square, "an end channel {} or more past the slot"));
}

/// CHAN-03: a side channel stays clear of the edge and its rounding.
pub(super) fn margin<'a>(bench: &Bench<'a>, tally: &mut Tally<'a>) {
    let Some(lit) = bench.lit() else { return };
    let margin = &lit.channels.margin;
    tally
        .measure("{} of wood between side channel and edge")
        .reading(Place::Whole, margin.mm())
        .input(margin)
        .remedy(Remedy::slope(margin, 1.0, "a margin of {} or more"));
}

/// CHAN-04: on a bound board a side channel stays clear of the binding's joint.
pub(super) fn to_binding<'a>(bench: &Bench<'a>, tally: &mut Tally<'a>) {
    let Some(lit) = bench.lit() else { return };
    let (margin, binding) = (&lit.channels.margin, &bench.model.board.binding);
    let Some(thick) = tally.known(binding.mm()) else { return };
    if thick <= 0.0 {
        return;
    }
    tally
        .measure("{} of wood between side channel and binding")
        .below_nothing("the side channel reaches {} into the binding")
        .reading(Place::Whole, margin.mm().map(|margin| margin - thick))
        .input(margin)
        .input(binding)
        .remedy(Remedy::slope(margin, 1.0, "a margin of {} or more"));
}

/// CHAN-07: a side channel's inner wall stays clear of the rod's slot, where the rod lies.
pub(super) fn to_rod<'a>(bench: &Bench<'a>, tally: &mut Tally<'a>) {
    let Some((lit, map)) = map(bench, tally) else { return };
    let Some(Some(rod)) = tally.known(bench.design.rod.as_ref().map_err(|missing| *missing)) else { return };
    let known = (|| Ok((bench.design.edges?, lit.channels.margin.mm()? + lit.channels.width.mm()?)))();
    let Some((edges, inner)) = tally.known(known) else { return };
    let apart = |side: Side| {
        let channel = map.side(side).outline();
        let apart = rod.distance_between(&channel);
        // Where they run into each other, by how much they do.
        if apart > 0.0 { apart } else { -depth_into(rod, &edges.on(side).inset_line(inner), side) }
    };
    let measure = tally
        .measure("{} of wood between the channel's inner wall and the rod")
        .below_nothing("the channel reaches {} into the rod's slot");
    for side in Side::BOTH {
        measure.reading(Place::SideChannel(side), Ok(apart(side)));
    }
    measure.input(&lit.channels.margin).input(&lit.channels.width);
    if let Some(neck) = &bench.model.neck {
        measure.input_if(neck.rod_width.as_ref());
    }
    measure
        .remedy(Remedy::slope(&lit.channels.margin, -1.0, "a margin of {} or less"))
        .advise("or a narrower rod, or narrower channels");
}

/// How far a shape reaches past a line toward the edge of a side.
fn depth_into(shape: &Convex, line: &Line, side: Side) -> f64 {
    let outward = |point: &Point| side.toward_treble() * line.signed_distance(*point);
    shape.corners().iter().map(outward).fold(f64::NEG_INFINITY, f64::max)
}

/// CHAN-12: enough of the back is left to glue the neck to.
pub(super) fn glue_face<'a>(bench: &Bench<'a>, tally: &mut Tally<'a>) {
    let Some(lit) = bench.lit() else { return };
    let measure = tally.measure("{} of the back is left to glue");
    measure
        .reading(Place::Whole, lit.design.glue_face)
        .input(&lit.channels.width)
        .input(&lit.lamp.counterbore)
        .advise("narrower channels, fewer lamps or a narrower rod");
    if let Some(neck) = &bench.model.neck {
        measure.input_if(neck.rod_width.as_ref());
    }
}

/// CHAN-14: wood over a side channel, at its outer wall where the face has dropped most.
pub(super) fn over_side_channel<'a>(bench: &Bench<'a>, tally: &mut Tally<'a>) {
    let Some((lit, map)) = map(bench, tally) else { return };
    let (thickness, depth) = (&bench.model.board.thickness, &lit.channels.depth);
    let known = (|| {
        let layout = bench.design.layout.as_ref().map_err(|missing| *missing)?;
        Ok((layout, bench.design.face?, thickness.mm()?, depth.mm()?))
    })();
    let Some((layout, face, thick, deep)) = tally.known(known) else { return };
    // A cone may be thinnest anywhere along it: at every fret between the channel's ends, and at both ends.
    let lines: Vec<StationLine> = map.crosses.iter().map(|cross| cross.line).chain([map.end_line]).collect();
    let reach = |side: Side| map.stations(side);
    let measure = tally
        .measure("{} of wood over the channel's outer wall")
        .below_nothing("the channel breaks {} through the face");
    for side in Side::BOTH {
        let (first, last) = match reach(side).as_slice() {
            [first, .., last] => (first.x, last.x),
            _ => continue,
        };
        let frets = layout.frets().map(|(_, line)| line).filter(|line| (first..=last).contains(&line.x));
        let over = frets.chain(lines.iter().copied()).filter_map(|line| {
            let wall = map.outer_wall(side).crossing(&line.line())?;
            Some(face_height(thick, face.radius(wall.x), wall.y) - deep)
        });
        let least = over.reduce(|least, wood| if wood >= least { least } else { wood });
        measure.readings(least.map(|wood| (Place::SideChannel(side), Ok(wood))));
    }
    measure
        .input(depth)
        .input(thickness)
        .input(&lit.channels.margin)
        .remedy(Remedy::slope(thickness, 1.0, "a board of {} or thicker"))
        .remedy(Remedy::slope(depth, -1.0, "a channel of {} or shallower"));
}

/// CHAN-15: wood between neighbouring channels across.
pub(super) fn between_crosses<'a>(bench: &Bench<'a>, tally: &mut Tally<'a>) {
    let Some((lit, map)) = map(bench, tally) else { return };
    let width = map.end.width;
    let apart = |a: &Segment, b: &Segment| a.distance_between(b) - width;
    let crosses = tally
        .measure("{} of wood to the cross channel before it")
        .below_nothing("it runs {} into the cross channel before it");
    for pair in map.crosses.windows(2) {
        let wood = apart(&pair[0].strip.centre, &pair[1].strip.centre);
        crosses.reading(Place::CrossChannel(pair[1].fret), Ok(wood));
    }
    crosses
        .input(&lit.channels.width)
        .remedy(Remedy::slope(&lit.channels.width, -1.0, "a channel of {} or narrower"))
        .advise("or mark frets farther apart");
    let nearest = map.crosses.iter().map(|cross| apart(&cross.strip.centre, &map.end.centre)).reduce(f64::min);
    let end = tally.measure("{} of wood to the nearest cross channel").below_nothing("it runs {} into a cross channel");
    end.readings(nearest.map(|wood| (Place::EndChannel, Ok(wood))))
        .input(&lit.channels.exit_past)
        .input(&lit.channels.exit_from)
        .input(&lit.channels.width);
    // Only from beyond all cross channels does a farther end channel move away from them.
    if map.crosses.iter().all(|cross| cross.line.x < map.end_line.x) {
        let slope = libm::cos(map.end_line.angle());
        end.remedy(Remedy::slope(&lit.channels.exit_past, slope, "an end channel {} or more past the slot"));
    } else {
        end.advise("count the end channel from the last slot");
    }
}
