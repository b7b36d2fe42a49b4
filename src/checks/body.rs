//! The body: BODY-01 to -08, FRET-15 and CHAN-19, where board, neck and body meet.

use super::bench::Bench;
use super::input::{Input, trimmed};
use super::place::Place;
use super::remedy::Remedy;
use super::tally::{Tally, at_least};
use crate::catalog;
use crate::design::body::PocketPlan;
use crate::diag::Severity;
use crate::diag::codes::{Bounds, Limit};
use crate::geom::{Point, Segment};
use crate::model::{Body, BodyHole, Known, Missing, Pocket, PocketShape, Sourced};
use crate::spec::words::{BodyFace, Holds, PlaceAlong};
use crate::units::Length;

/// More pockets than this are a slip of the pen: they are not all compared with each other.
const MOST_POCKETS: usize = 200;

/// What a battery needs in its pocket beyond its own size: to lift it out lengthwise and across, and its pad below.
/// Common practice, no source.
const ROUND_A_BATTERY: [f64; 3] = [3.0, 3.0, 1.5];

/// The pockets of the body; none where no body is written.
fn pockets<'a>(bench: &Bench<'a>) -> &'a [Pocket] {
    bench.model.body.as_ref().map_or(&[], |body| &body.pockets)
}

/// A text for a message that is made of figures: braces would be taken for one.
fn quoted(name: &str) -> String {
    format!("\"{}\"", name.replace(['{', '}'], ""))
}

/// A body's thickness; one that nobody wrote is waited for, because it bears on every depth.
fn thickness(body: &Body) -> Known<f64> {
    body.thickness.as_ref().map_or(Err(Missing::open("body.thickness")), Sourced::mm)
}

/// Wood left under a pocket or a hole.
fn left_under(body: &Body, depth: &Sourced<Length>) -> Known<f64> {
    Ok(thickness(body)? - depth.mm()?)
}

/// BODY-08: no pocket and no blind hole goes through the body.
pub(super) fn through<'a>(bench: &Bench<'a>, tally: &mut Tally<'a>) {
    let Some(body) = &bench.model.body else { return };
    let pockets = body.pockets.iter().map(|pocket| (Place::Pocket(pocket.number), &pocket.name, &pocket.depth));
    let holes =
        body.holes.iter().filter_map(|hole| Some((Place::BodyHole(hole.number), &hole.name, hole.depth.as_ref()?)));
    for (place, name, depth) in pockets.chain(holes) {
        let Some(left) = tally.known(left_under(body, depth)) else { continue };
        if left > 0.0 {
            continue;
        }
        let (Ok(deep), Ok(thick)) = (depth.mm(), thickness(body)) else { continue };
        let message =
            format!("{} is {} mm deep, through the body of {} mm", quoted(name), trimmed(deep), trimmed(thick));
        let fault = tally.fault(place, message);
        fault.input(depth);
        if let Some(thickness) = &body.thickness {
            fault.input(thickness);
        }
        if matches!(place, Place::BodyHole(_)) {
            fault.advise("a hole that is meant to go through has depth = \"through\"");
        }
    }
}

/// BODY-01: a floor is left under each pocket.
pub(super) fn floors<'a>(bench: &Bench<'a>, tally: &mut Tally<'a>) {
    let Some(body) = &bench.model.body else { return };
    for pocket in &body.pockets {
        let says = format!("{} leaves a floor of {{}}", quoted(&pocket.name));
        let measure = match &pocket.floor_min {
            None => tally.measure(says),
            Some(least) => {
                let Some(least) = tally.known(least.mm()) else { continue };
                tally.compare(at_least(least, "mm"), says)
            }
        };
        measure
            .reading(Place::Pocket(pocket.number), left_under(body, &pocket.depth))
            .input(&pocket.depth)
            .input_if(body.thickness.as_ref())
            .input_if(pocket.floor_min.as_ref())
            .remedy(Remedy::slope(&pocket.depth, -1.0, "a pocket of {} or shallower"));
        if let Some(thickness) = &body.thickness {
            measure.remedy(Remedy::slope(thickness, 1.0, "a body of {} or thicker"));
        }
    }
}

/// BODY-02: no pocket of the front lies under the board's end.
pub(super) fn under_the_board<'a>(bench: &Bench<'a>, tally: &mut Tally<'a>) {
    for pocket in pockets(bench).iter().filter(|pocket| pocket.face == BodyFace::Front && pocket.holds != Holds::Neck) {
        let room = bench.design.under_board().pocket(pocket).and_then(|plan| room_past_end(bench, &plan));
        let Some(Some(room)) = tally.known(room) else { continue };
        let says = format!("{} begins {{}} past the far corner of the board's end", quoted(&pocket.name));
        let measure = tally.measure(says);
        measure
            .below_nothing("the board's end reaches {} over the pocket")
            .reading(Place::Pocket(pocket.number), Ok(room))
            .input(&pocket.x)
            .input(&bench.model.frets.count)
            .input(&bench.model.taper.past_last);
        if let Ok(PlaceAlong::At(x)) = pocket.x.get() {
            measure.remedy(Some(Remedy::of_length(
                pocket.x.key,
                x,
                1.0,
                "a pocket whose middle lies at {} or farther",
            )));
        }
        measure.remedy(Remedy::slope(&bench.model.taper.past_last, -1.0, "{} or less of board past the last slot"));
    }
}

/// From the board's end to a pocket's near wall, over the breadth that both have; none where they have none in common.
fn room_past_end(bench: &Bench<'_>, plan: &PocketPlan) -> Known<Option<f64>> {
    let outline = bench.design.outline.as_ref().map_err(|missing| *missing)?;
    let [bass, treble] = outline.end_corners;
    let (low, high) = (plan.bass.max(bass.y), plan.treble.min(treble.y));
    if low >= high {
        return Ok(None);
    }
    Ok(Some(plan.near - outline.end.at(low).max(outline.end.at(high))))
}

/// A pocket with its outline.
type Planned<'a> = (&'a Pocket, PocketPlan);

/// The pockets that are compared with each other, as far as they are known.
fn planned<'a>(bench: &Bench<'a>, tally: &mut Tally<'a>) -> Vec<Planned<'a>> {
    let under_board = bench.design.under_board();
    let mut all = Vec::new();
    for pocket in pockets(bench).iter().take(MOST_POCKETS) {
        all.extend(tally.known(under_board.pocket(pocket)).map(|plan| (pocket, plan)));
    }
    all
}

/// All pairs of pockets.
fn pairs<'p, 'a>(all: &'p [Planned<'a>]) -> impl Iterator<Item = (&'p Planned<'a>, &'p Planned<'a>)> {
    all.iter().enumerate().flat_map(|(index, one)| all.iter().skip(index + 1).map(move |other| (one, other)))
}

/// BODY-03: a wall is left between two pockets of one face.
pub(super) fn walls<'a>(bench: &Bench<'a>, tally: &mut Tally<'a>) {
    let written = pockets(bench).len();
    if written > MOST_POCKETS {
        let message = format!("{written} pockets: no body has so many, and only the first {MOST_POCKETS} are compared");
        tally.fault(Place::Whole, message).input(Input::unwritten("body.pocket")).advise("look for rows written twice");
    }
    let all = planned(bench, tally);
    for ((one, first), (other, second)) in pairs(&all).filter(|(one, other)| one.0.face == other.0.face) {
        // A step within a pocket, such as a recess for its cover, has no wall.
        if first.outline.holds(&second.outline) || second.outline.holds(&first.outline) {
            continue;
        }
        let place = Place::Pockets(one.number, other.number);
        let beside_neck = one.holds == Holds::Neck || other.holds == Holds::Neck;
        let wall = first.outline.distance_between(&second.outline);
        if wall <= 0.0 {
            // How far they overlap is no figure of a wall.
            let severity = if beside_neck { Severity::Warning } else { Severity::Error };
            let message =
                format!("{} and {} run into each other: no wall is left", quoted(&one.name), quoted(&other.name));
            let fault = tally.fault_of(severity, place, message);
            fault.input(&other.x).input(&one.x).advise("pockets farther apart, or smaller");
            continue;
        }
        let measure =
            tally.measure(format!("a wall of {{}} between {} and {}", quoted(&one.name), quoted(&other.name)));
        if beside_neck {
            measure.limit = Limit { error: Bounds::default(), warning: measure.limit.error, ..measure.limit };
        }
        measure.reading(place, Ok(wall)).input(&other.x).input(&one.x).advise("pockets farther apart, or smaller");
    }
}

/// BODY-04: where a pocket of the front lies over one of the back, wood is left between their floors.
pub(super) fn between_floors<'a>(bench: &Bench<'a>, tally: &mut Tally<'a>) {
    let Some(body) = &bench.model.body else { return };
    let all = planned(bench, tally);
    for ((one, first), (other, second)) in pairs(&all).filter(|(one, other)| one.0.face != other.0.face) {
        if first.outline.distance_between(&second.outline) >= -super::limits::NEAR_ENOUGH {
            continue;
        }
        let says =
            format!("{} and {} overlap and leave {{}} between their floors", quoted(&one.name), quoted(&other.name));
        let left = left_under(body, &one.depth).and_then(|left| Ok(left - other.depth.mm()?));
        let measure = tally.measure(says);
        measure
            .below_nothing("two pockets that overlap meet: their depths are {} more than the body's thickness")
            .reading(Place::Pockets(one.number, other.number), left)
            .input(&other.depth)
            .input(&one.depth)
            .input_if(body.thickness.as_ref())
            .remedy(Remedy::slope(&other.depth, -1.0, "the second pocket {} deep or less"))
            .advise("or pockets that do not overlap");
    }
}

/// BODY-05: the shop's smallest cutter makes the corner.
pub(super) fn corners<'a>(bench: &Bench<'a>, tally: &mut Tally<'a>) {
    let cutters = bench.model.shop.tools.cutters.iter();
    let Some(cutter) = cutters.reduce(|least, next| if next.size.to_mm() < least.size.to_mm() { next } else { least })
    else {
        return;
    };
    let smallest = cutter.size.to_mm();
    for pocket in pockets(bench) {
        let Some(corner) = &pocket.corner else { continue };
        let says = format!("{} has corners of {{}}, tighter than half the smallest cutter", quoted(&pocket.name));
        tally
            .compare(at_least(smallest / 2.0, "mm"), says)
            .reading(Place::Pocket(pocket.number), corner.mm())
            .input(corner)
            .input(Input::line("tools.cutters", cutter.span))
            .remedy(Remedy::slope(corner, 1.0, "corners of {} or more"))
            .advise(format!("the smallest cutter in the drawer is one of {} mm", trimmed(smallest)));
    }
}

/// BODY-06: the pickup that a pocket holds is one of the commission's.
pub(super) fn pickup_is_there<'a>(bench: &Bench<'a>, tally: &mut Tally<'a>) {
    let Some(pickups) = tally.known(bench.model.pickups.get()) else { return };
    for pocket in pockets(bench) {
        let Some(pickup) = &pocket.pickup else { continue };
        let Some(name) = tally.known(pickup.get()) else { continue };
        if pickups.contains(&name) {
            continue;
        }
        let known: Vec<String> = pickups.iter().map(|known| quoted(known)).collect();
        let advice = match known.as_slice() {
            [] => "no pickup is written: add [[electronics.pickup]] with this name".to_owned(),
            known => format!("there are {}", known.join(", ")),
        };
        let message = format!("{} holds the pickup {}, which is not there", quoted(&pocket.name), quoted(&name));
        tally.fault(Place::Pocket(pocket.number), message).input(pickup).advise(advice);
    }
}

/// BODY-07: a battery's pocket has room for a block of 9 V.
pub(super) fn battery<'a>(bench: &Bench<'a>, tally: &mut Tally<'a>) {
    const NOMINAL: f64 = 9.0;
    let (Some(circuit), Some(block)) = (&bench.model.circuit, catalog::cell("9 V alkaline")) else { return };
    let batteries: Vec<&Pocket> = pockets(bench).iter().filter(|pocket| pocket.holds == Holds::Battery).collect();
    if batteries.is_empty() {
        return;
    }
    let Some(supply) = tally.known(circuit.supply.get()) else { return };
    if (supply.to_volts() - NOMINAL).abs() > super::limits::NEAR_ENOUGH {
        return;
    }
    let sides = [block.length, block.width, block.height].map(Length::to_mm);
    let needed = [0, 1, 2].map(|side| sides[side] + ROUND_A_BATTERY[side]);
    for pocket in batteries {
        let key = match &pocket.shape {
            PocketShape::Straight { length, .. } => length,
            PocketShape::Round(diameter) => diameter,
        };
        let Some((room, size)) = tally.known(room_for(pocket, needed)) else { continue };
        let says = format!(
            "{}, {size}, is {{}} too small for the {} × {} × {} mm that a block of 9 V takes",
            quoted(&pocket.name),
            trimmed(needed[0]),
            trimmed(needed[1]),
            trimmed(needed[2])
        );
        tally
            .measure(says)
            .reading(Place::Pocket(pocket.number), Ok(-room))
            .input(key)
            .input(&pocket.depth)
            .input(&circuit.supply)
            .advise("the block's own size, 3 mm lengthwise and across, 1.5 mm for its pad");
    }
}

/// How much the tightest side of a pocket is larger than a box, whichever way it lies in; with the pocket's size in
/// words.
fn room_for(pocket: &Pocket, [longest, middle, shortest]: [f64; 3]) -> Known<(f64, String)> {
    let depth = pocket.depth.mm()?;
    match &pocket.shape {
        PocketShape::Round(diameter) => {
            let across = diameter.mm()?;
            let room = (across - libm::hypot(longest, middle)).min(depth - shortest);
            Ok((room, format!("{} mm round and {} mm deep", trimmed(across), trimmed(depth))))
        }
        PocketShape::Straight { length, width, .. } => {
            let mut sides = [length.mm()?, width.mm()?, depth];
            let size = sides.map(trimmed).join(" × ") + " mm";
            sides.sort_by(|a, b| b.total_cmp(a));
            let room = (sides[0] - longest).min(sides[1] - middle).min(sides[2] - shortest);
            Ok((room, size))
        }
    }
}

/// FRET-15: the board does not stand far out past the neck's pocket.
pub(super) fn overhang<'a>(bench: &Bench<'a>, tally: &mut Tally<'a>) {
    let Some(pocket) = bench.model.body.as_ref().and_then(Body::neck_pocket) else { return };
    let past = (|| {
        let outline = bench.design.outline.as_ref().map_err(|missing| *missing)?;
        Ok(outline.far_corner() - bench.design.under_board().pocket(pocket)?.far)
    })();
    let measure = tally.measure("the board stands out {} past the far wall of the neck's pocket");
    measure.reading(Place::BoardEnd, past).input(&pocket.x);
    if let PocketShape::Straight { length, .. } = &pocket.shape {
        measure.input(length);
    }
    measure.input(&bench.model.taper.past_last);
    if let Ok(PlaceAlong::At(x)) = pocket.x.get() {
        measure.remedy(Some(Remedy::of_length(pocket.x.key, x, -1.0, "a pocket whose middle lies at {} or farther")));
    }
}

/// CHAN-19: the exit hole of the neck and the wire hole of the body lie one within the other.
pub(super) fn wire_hole<'a>(bench: &Bench<'a>, tally: &mut Tally<'a>) {
    let (Some(lit), Some(body)) = (bench.lit(), &bench.model.body) else { return };
    let Some(map) = tally.known(lit.design.map.as_ref().map_err(|missing| *missing)) else { return };
    let exit = map.exit;
    let under_board = bench.design.under_board();
    let mut nearest: Option<(f64, f64, &BodyHole)> = None;
    for hole in wire_holes(bench, body) {
        let known = (|| Ok((under_board.hole(hole)?, hole.diameter.mm()? / 2.0)))();
        let Some((centre, radius)) = tally.known(known) else { return };
        let off = Segment::new(centre, exit.centre).length();
        let over = off - (radius - exit.radius).abs();
        if nearest.is_none_or(|(least, ..)| over < least) {
            nearest = Some((over, off, hole));
        }
    }
    let Some((over, off, hole)) = nearest.filter(|(over, ..)| *over > super::limits::NEAR_ENOUGH) else { return };
    let message = format!(
        "{} lies {} mm off the exit of {} mm: {} mm of the smaller hole is covered",
        quoted(&hole.name),
        trimmed(off),
        trimmed(exit.radius * 2.0),
        trimmed(over)
    );
    let fault = tally.fault_of(Severity::Warning, Place::BodyHole(hole.number), message);
    if hole.x.get() == Ok(PlaceAlong::Exit) {
        fault.input(&hole.y);
    } else {
        fault.input(&hole.x).input(&hole.y);
    }
    fault
        .input(&hole.diameter)
        .input(&lit.channels.exit_y)
        .input(&lit.channels.exit_hole)
        .advise("x = \"exit\" and the same y as channels.exit_y, with one hole wider than the other");
}

/// The holes that lead the lamps' wires into the body: at the exit by name, else those of the front within the
/// neck's pocket that no screw goes through.
fn wire_holes<'a>(bench: &Bench<'a>, body: &'a Body) -> Vec<&'a BodyHole> {
    let at_exit: Vec<&BodyHole> = body.holes.iter().filter(|hole| hole.x.get() == Ok(PlaceAlong::Exit)).collect();
    if !at_exit.is_empty() {
        return at_exit;
    }
    let under_board = bench.design.under_board();
    let Some(Ok(pocket)) = body.neck_pocket().map(|pocket| under_board.pocket(pocket)) else { return Vec::new() };
    let screws = bench.model.neck.as_ref().and_then(|neck| neck.screws.get().ok()).unwrap_or_default();
    let is_a_screws = |centre: Point| {
        screws.iter().any(|screw| {
            let own = Point::new(screw.x.to_mm(), screw.y.toward_treble());
            Segment::new(own, centre).length() < screw.diameter.to_mm()
        })
    };
    let leads = |hole: &&BodyHole| {
        let Ok(centre) = under_board.hole(hole) else { return false };
        let inside = pocket.outline.distance_to(centre) <= 0.0;
        hole.face == BodyFace::Front && inside && !is_a_screws(centre)
    };
    body.holes.iter().filter(leads).collect()
}
