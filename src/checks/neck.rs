//! The neck: NECK-01 to -04 and -06 to -09.

use super::bench::Bench;
use super::input::{Input, trimmed};
use super::place::Place;
use super::remedy::Remedy;
use super::tally::Tally;
use crate::design::neck::{NeckDesign, NeckPlace, NeckStation};
use crate::diag::Severity;
use crate::diag::codes::{Bounds, Limit};
use crate::model::{Body, Known, Neck, Pocket, PocketShape, Sourced};
use crate::rounding;
use crate::spec::words::Side;
use crate::units::Length;

/// The neck and what is computed of it; none where none is written.
fn neck<'a>(bench: &Bench<'a>) -> Option<(&'a Neck, &'a NeckDesign)> {
    Some((bench.model.neck.as_ref()?, bench.design.neck.as_ref()?))
}

/// The body's pocket for the neck.
fn neck_pocket<'a>(bench: &Bench<'a>) -> Option<&'a Pocket> {
    bench.model.body.as_ref().and_then(Body::neck_pocket)
}

/// NECK-01: the rod's slot with its gap lies under the board.
pub(super) fn rod_room<'a>(bench: &Bench<'a>, tally: &mut Tally<'a>) {
    let Some((neck, design)) = neck(bench) else { return };
    let (Some(length), Some(room)) = (&neck.rod_length, design.rod_room) else { return };
    let measure = tally.measure("the rod's slot with its gap is {} longer than the board");
    measure
        .reading(Place::Whole, room.map(|room| -room))
        .input(length)
        .input_if(neck.rod_end_gap.as_ref())
        .input(&bench.model.taper.past_last)
        .remedy(Remedy::slope(length, 1.0, "a slot of {} or shorter"));
    if let Some(gap) = &neck.rod_end_gap {
        measure.remedy(Remedy::slope(gap, 1.0, "a gap of {} or less at the board's end"));
    }
}

/// The key that sets a station's thickness.
fn thickness<'a>(neck: &'a Neck, station: &NeckStation) -> Option<&'a Sourced<Length>> {
    match station.place {
        NeckPlace::Fret(1) => neck.thickness_1.as_ref(),
        NeckPlace::Fret(_) => neck.thickness_12.as_ref(),
        NeckPlace::Heel => neck.heel_thickness.as_ref(),
    }
}

/// NECK-02: wood is left between the rod's slot and the back of the neck, at the slot's corner.
pub(super) fn under_rod<'a>(bench: &Bench<'a>, tally: &mut Tally<'a>) {
    let Some((neck, design)) = neck(bench) else { return };
    let Some(depth) = &neck.rod_depth else { return };
    let measure = tally.measure("{} of wood under the rod, at the corner of its slot");
    measure.below_nothing("the rod's slot comes {} out of the back of the neck");
    let mut thinnest: Option<(f64, f64, &Sourced<Length>)> = None;
    for station in &design.stations {
        let (Some(wood), Some(key)) = (station.under_rod, thickness(neck, station)) else { continue };
        let place = match station.place {
            NeckPlace::Fret(fret) => Place::Fret(usize::try_from(fret).unwrap_or(usize::MAX)),
            NeckPlace::Heel => Place::Heel,
        };
        measure.reading_of(key, place, wood.map(|wood| wood.corner));
        if let Ok(wood) = wood
            && thinnest.is_none_or(|(least, ..)| wood.corner < least)
        {
            thinnest = Some((wood.corner, wood.share, key));
        }
    }
    measure.input(depth).input_if(neck.rod_width.as_ref());
    let Some((_, share, key)) = thinnest else { return };
    measure.remedy(Remedy::slope(key, share, "a neck of {} or thicker there")).remedy(Remedy::slope(
        depth,
        -1.0,
        "a slot of {} or shallower",
    ));
    if key.key != "neck.heel_thickness" {
        let board = &bench.model.board.thickness;
        measure.input(board).remedy(Remedy::slope(board, -share, "a board of {} or thinner"));
    }
}

/// NECK-03: no screw comes through the heel into the glue line.
pub(super) fn screw_tips<'a>(bench: &Bench<'a>, tally: &mut Tally<'a>) {
    let Some((neck, design)) = neck(bench) else { return };
    let (Some(heel), Some(tips)) = (&neck.heel_thickness, &design.screw_tips) else { return };
    let Some(tips) = tally.known(tips.clone()) else { return };
    let Some(screws) = tally.known(neck.screws.get()) else { return };
    if screws.is_empty() {
        return;
    }
    let measure = tally.measure("{} of wood between the screw's tip and the glue face");
    measure.below_nothing("the screw comes {} through the glue face");
    for (index, (screw, tip)) in screws.iter().zip(&tips).enumerate() {
        measure.reading_of(Input::row_of(&neck.screws, screw.span), Place::Screw(index + 1), Ok(*tip));
    }
    let least = measure.limit.error.least.or(measure.limit.warning.least).unwrap_or(0.0);
    measure.input(heel).remedy(Remedy::slope(heel, 1.0, "a heel of {} or thicker"));
    if let Ok(heel) = heel.mm()
        && heel > least
    {
        measure.advise(format!(
            "or screws that go {} mm or less into the heel",
            trimmed(rounding::down(heel - least, 0.01))
        ));
    }
}

/// NECK-04: the pocket is as wide as the board at its end.
pub(super) fn pocket_width<'a>(bench: &Bench<'a>, tally: &mut Tally<'a>) {
    let by_body = neck_pocket(bench).and_then(|pocket| match &pocket.shape {
        PocketShape::Straight { width, .. } => Some(width),
        PocketShape::Round(_) => None,
    });
    let by_neck = bench.model.neck.as_ref().and_then(|neck| neck.pocket_width.as_ref());
    let Some(width) = by_body.or(by_neck) else { return };
    let known: Known<(f64, f64)> = (|| Ok((width.mm()?, bench.design.edges?.width(bench.design.end?))))();
    let Some((pocket, board)) = tally.known(known) else { return };
    let figures = |decimals: usize| (rounding::fixed(pocket, decimals), rounding::fixed(board, decimals));
    let (own, other) = figures(2);
    let wider = pocket > board;
    let says = format!("the neck's pocket is {own} mm wide and the board's end {other} mm: {{}} apart");
    let remedy = if wider {
        Remedy::slope(width, 1.0, "a pocket of {} or narrower")
    } else {
        Remedy::slope(width, -1.0, "a pocket of {} or wider")
    };
    tally
        .measure(says)
        .reading(Place::Whole, Ok((pocket - board).abs()))
        .input(width)
        .input(&bench.model.taper.past_last)
        .input(&bench.model.frets.count)
        .remedy(remedy)
        .advise(format!("the board's end is {} mm wide", figures(4).1));
}

/// NECK-06: the neck leans back a little, or not at all.
pub(super) fn angle<'a>(bench: &Bench<'a>, tally: &mut Tally<'a>) {
    let Some((neck, _)) = neck(bench) else { return };
    tally
        .measure("the neck leans back by {}")
        .reading(Place::Whole, neck.angle.get().map(crate::units::Angle::to_degrees))
        .input(&neck.angle)
        .advise("the angle between neck and body, plus when the head lies back");
}

/// NECK-07: the bridge can be set to the height at which the strings arrive.
pub(super) fn height_at_bridge<'a>(bench: &Bench<'a>, tally: &mut Tally<'a>) {
    let Some((neck, design)) = neck(bench) else { return };
    let Some(bridge) = bench.model.setup.as_ref().and_then(|setup| setup.bridge_height.as_ref()) else { return };
    let (Some(height), Some(heel), Some(pocket)) = (design.height_at_bridge, &neck.heel_thickness, neck_pocket(bench))
    else {
        return;
    };
    let Some(range) = tally.known(bridge.get()) else { return };
    let Some(height) = tally.known(height) else { return };
    let (lowest, highest) = (range.lowest.to_mm(), range.highest.to_mm());
    let warning = Bounds { least: Some(lowest), most: Some(highest) };
    let limit = Limit { error: Bounds::default(), warning, note: Bounds::default(), unit: "mm" };
    let too_low = height < lowest;
    let measure = tally.compare(limit, "the strings lie {} over the body at the saddle line");
    measure
        .below_nothing("the strings run {} under the body's face at the saddle line")
        .reading(Place::Whole, Ok(height))
        .input(bridge)
        .input(heel)
        .input(&pocket.depth)
        .input(&neck.angle)
        .input(&bench.model.board.thickness);
    let (heel_words, pocket_words) = if too_low {
        ("a heel of {} or thicker", "a neck pocket of {} or shallower")
    } else {
        ("a heel of {} or thinner", "a neck pocket of {} or deeper")
    };
    measure.remedy(Remedy::slope(heel, 1.0, heel_words)).remedy(Remedy::slope(&pocket.depth, -1.0, pocket_words));
    if let Some(angle) = other_angle(bench, neck, if too_low { lowest } else { highest } - height) {
        measure.advise(format!("or a neck angle of {} deg", rounding::fixed(angle, 2)));
    }
}

/// The angle, in degrees, at which the strings arrive so much higher at the bridge; none that no neck has.
fn other_angle(bench: &Bench<'_>, neck: &Neck, higher: f64) -> Option<f64> {
    let layout = bench.design.layout.as_ref().ok()?;
    let run = layout.saddle().x - bench.design.end.ok()?;
    let now = libm::tan(neck.angle.get().ok()?.to_radians());
    let angle = libm::atan(now + higher / run).to_degrees();
    let limit = bench.limits.of_code(crate::diag::codes::NECK_06)?.warning;
    let round = if higher > 0.0 { rounding::up } else { rounding::down };
    let angle = round(angle, 0.01);
    (run > 0.0 && !super::limits::fails(limit, angle)).then_some(angle)
}

/// NECK-08: the neck grows thicker toward the body.
pub(super) fn grows_thicker<'a>(bench: &Bench<'a>, tally: &mut Tally<'a>) {
    let Some((neck, _)) = neck(bench) else { return };
    let (Some(first), Some(twelfth)) = (&neck.thickness_1, &neck.thickness_12) else { return };
    let known: Known<(f64, f64)> = (|| Ok((first.mm()?, twelfth.mm()?)))();
    let Some((at_first, at_twelfth)) = tally.known(known) else { return };
    if at_twelfth < at_first {
        let message = format!(
            "the neck is {} mm thick at fret 12, thinner than the {} mm at fret 1",
            trimmed(at_twelfth),
            trimmed(at_first)
        );
        tally
            .fault_of(Severity::Warning, Place::Whole, message)
            .input(twelfth)
            .input(first)
            .advise("swap them if they stand the wrong way round");
    }
}

/// NECK-09: a pocket with straight sides does not gape beside the tapered neck at its mouth.
pub(super) fn mouth<'a>(bench: &Bench<'a>, tally: &mut Tally<'a>) {
    let Some(pocket) = neck_pocket(bench) else { return };
    let PocketShape::Straight { width, .. } = &pocket.shape else { return };
    let Some(Some(gaps)) = tally.known(bench.design.under_board().mouth_gaps(pocket)) else { return };
    let measure = tally.measure("the neck's pocket gapes by {} beside the neck at its mouth");
    for (side, gap) in Side::BOTH.into_iter().zip(gaps) {
        measure.reading(Place::Side(side), Ok(gap));
    }
    measure.input(width).advise("taper = \"neck\": sides that follow the board's edges");
}
