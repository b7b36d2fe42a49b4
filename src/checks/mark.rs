//! Markers on the face: MARK-01 to -05, -08, -09, -11 and -14. Which frets are marked and
//! the dots in the edge have their own files.

use super::bench::Bench;
use super::input::{Input, trimmed};
use super::place::Place;
use super::remedy::Remedy;
use super::tally::Tally;
use crate::design::board::markers::{Marker, clearance};
use crate::design::formulas::wood_under_straight;
use crate::design::hole_diameter;
use crate::geom::Segment;
use crate::model::{Inset, Known, Markers, Missing, Sourced};
use crate::rounding;
use crate::spec::words::{Cut, MarkerKind, Side};
use crate::units::Length;

/// The markers' table, unless there are to be none on the face.
pub(super) fn marked<'a>(bench: &Bench<'a>) -> Option<&'a Markers> {
    bench.model.markers.as_ref().filter(|markers| markers.kind.get() != Ok(MarkerKind::None))
}

/// MARK-01: every fret that is marked is there.
pub(super) fn fret_is_there<'a>(bench: &Bench<'a>, tally: &mut Tally<'a>) {
    let Some(markers) = marked(bench) else { return };
    let count = &bench.model.frets.count;
    let Some(last) = tally.known(count.get()) else { return };
    for list in [&markers.single, &markers.double] {
        let Some(frets) = tally.known(list.get()) else { continue };
        let absent: Vec<u32> = frets.into_iter().filter(|fret| !(1..=last).contains(fret)).collect();
        if let Some(frets) = named(&absent) {
            tally
                .fault(Place::Whole, format!("{frets} cannot be marked: the board has frets 1 to {last}"))
                .input(list)
                .input(count)
                .advise(format!("take {} out of `{}`, or count the frets again", it_or_them(&absent), list.key));
        }
    }
}

/// MARK-02: no fret is marked twice.
pub(super) fn marked_once<'a>(bench: &Bench<'a>, tally: &mut Tally<'a>) {
    let Some(markers) = marked(bench) else { return };
    let single = tally.known(markers.single.get()).unwrap_or_default();
    let double = tally.known(markers.double.get()).unwrap_or_default();
    let twice_in = |list: &[u32]| -> Vec<u32> {
        list.iter().enumerate().filter(|(index, fret)| list[..*index].contains(fret)).map(|(_, fret)| *fret).collect()
    };
    for (list, frets) in [(&markers.single, &single), (&markers.double, &double)] {
        if let Some(frets) = named(&twice_in(frets)) {
            tally
                .fault(Place::Whole, format!("{frets} stands twice in `{}`", list.key))
                .input(list)
                .advise("keep one; was another fret meant?");
        }
    }
    let both: Vec<u32> = double.iter().copied().filter(|fret| single.contains(fret)).collect();
    if let Some(frets) = named(&both) {
        tally
            .fault(Place::Whole, format!("{frets} is marked both single and double"))
            .input(&markers.double)
            .input(&markers.single)
            .advise("take it out of one of the two");
    }
}

/// Frets for a sentence, each once: "fret 12", "frets 12, 24".
fn named(frets: &[u32]) -> Option<String> {
    let mut each: Vec<u32> = frets.to_vec();
    each.sort_unstable();
    each.dedup();
    let numbers: Vec<String> = each.iter().map(u32::to_string).collect();
    match numbers.as_slice() {
        [] => None,
        [one] => Some(format!("fret {one}")),
        many => Some(format!("frets {}", many.join(", "))),
    }
}

fn it_or_them(frets: &[u32]) -> &'static str {
    if frets.len() == 1 { "it" } else { "them" }
}

/// The hole of a marker: the lamp's or the dot's.
fn hole<'a>(bench: &Bench<'a>) -> Option<&'a Sourced<Length>> {
    let dot = || bench.model.markers.as_ref().and_then(|markers| markers.dot.as_ref());
    bench.model.lamp.as_ref().map(|lamp| &lamp.hole).or_else(dot)
}

/// The list that a marker stands in.
pub(super) fn list_of<'a>(bench: &Bench<'a>, marker: &Marker) -> Input<'a> {
    let list = bench.model.markers.as_ref().map(|markers| match marker.side {
        None => &markers.single,
        Some(_) => &markers.double,
    });
    list.map_or(Input::unwritten("markers.single"), Input::from)
}

/// Wood from a round of `diameter` about a marker to the nearest slot.
pub(super) fn to_slot(bench: &Bench<'_>, marker: &Marker, diameter: Known<f64>) -> Known<f64> {
    let layout = bench.design.layout.as_ref().map_err(|missing| *missing)?;
    let slots = bench.design.slots.as_deref().map_err(|missing| *missing)?;
    let kerf = bench.model.slots.kerf.mm()?;
    Ok(clearance(marker, layout, slots, &bench.design.edges?, kerf, diameter?)?.slot)
}

/// MARK-03: wood between a marker's hole and the slots beside it.
pub(super) fn hole_to_slot<'a>(bench: &Bench<'a>, tally: &mut Tally<'a>) {
    let Some(markers) = tally.known(bench.design.markers.as_deref().map_err(|missing| *missing)) else { return };
    let measure = tally.measure("{} of wood between hole and slot").below_nothing("the hole cuts {} into the slot");
    for marker in markers {
        let wood = to_slot(bench, marker, hole_diameter(bench.model));
        measure.reading_of(list_of(bench, marker), bench.marker_place(marker), wood);
    }
    if let Some(hole) = hole(bench) {
        measure.input(hole).remedy(Remedy::slope(hole, -0.5, "a hole of {} or smaller"));
    }
    measure.advise("or mark a fret nearer to the nut");
}

/// MARK-04: wood between a marker's hole and the edge.
pub(super) fn hole_to_edge<'a>(bench: &Bench<'a>, tally: &mut Tally<'a>) {
    let words = ("{} of wood between hole and edge", "the hole reaches {} past the edge");
    to_the_side(bench, tally, words, None);
}

/// MARK-14: on a bound board, wood between a marker's hole and the binding's joint.
pub(super) fn hole_to_binding<'a>(bench: &Bench<'a>, tally: &mut Tally<'a>) {
    let binding = &bench.model.board.binding;
    let Some(thick) = tally.known(binding.mm()) else { return };
    if thick > 0.0 {
        let words = ("{} of wood between hole and binding", "the hole cuts {} into the binding");
        to_the_side(bench, tally, words, Some((binding, thick)));
    }
}

/// Wood between the markers' holes and the edge, or the inner face of a binding, pairs and singles apart.
fn to_the_side<'a>(
    bench: &Bench<'a>,
    tally: &mut Tally<'a>,
    (says, below): (&'static str, &'static str),
    binding: Option<(&'a Sourced<Length>, f64)>,
) {
    let Some(table) = marked(bench) else { return };
    let Some(markers) = tally.known(bench.design.markers.as_deref().map_err(|missing| *missing)) else { return };
    let bound = binding.map_or(0.0, |(_, thick)| thick);
    for pair in [true, false] {
        let measure = tally.measure(says).below_nothing(below);
        for marker in markers.iter().filter(|marker| marker.side.is_some() == pair) {
            let wood = bench.design.clearance(bench.model, marker).map(|clear| clear.edge - bound);
            measure.reading(bench.marker_place(marker), wood);
        }
        if pair {
            measure.input(&table.inset).remedy(inset_slope(&table.inset, 1.0, "an inset of {} or more"));
            let needed = |half: f64, diameter: f64, wood: f64| (wood + bound + diameter / 2.0) / half;
            if let Some(share) = share_for(bench, table, markers, measure.mildest_least(), needed, f64::max) {
                measure.advise(format!("an inset of {} half-width or more", trimmed(rounding::up(share, SHARE_STEP))));
            }
        }
        if let Some(hole) = hole(bench) {
            measure.input(hole).remedy(Remedy::slope(hole, -0.5, "a hole of {} or smaller"));
        }
        measure.input_if(binding.map(|(binding, _)| binding));
    }
}

/// How a figure follows an inset that is a length; a share of the half width is no length to offer.
fn inset_slope(inset: &Sourced<Inset>, slope: f64, words: &'static str) -> Option<Remedy> {
    match inset.get() {
        Ok(Inset::Length(length)) => Some(Remedy::of_length(inset.key, length, slope, words)),
        _ => None,
    }
}

/// The step to which a share of the half width is offered.
const SHARE_STEP: f64 = 0.01;

/// The share of the half width at which every pair has so much wood, where the inset is written as a share; `needed`
/// gives it for one marker, from the half width there, the hole's diameter and the wood.
///
/// None on a fan, where a marker that is moved in moves along too; none where no share would do.
fn share_for(
    bench: &Bench<'_>,
    table: &Markers,
    markers: &[Marker],
    wood: Option<f64>,
    needed: impl Fn(f64, f64, f64) -> f64,
    tightest: fn(f64, f64) -> f64,
) -> Option<f64> {
    let layout = bench.design.layout.as_ref().ok().filter(|layout| !layout.fan);
    let (Ok(Inset::HalfWidth(_)), Some(_), Ok(edges), Ok(diameter)) =
        (table.inset.get(), layout, bench.design.edges, hole_diameter(bench.model))
    else {
        return None;
    };
    let shares = markers.iter().filter_map(|marker| {
        let half = edges.on(marker.side?).half(marker.middle.ok()?.x);
        Some(needed(half, diameter, wood?))
    });
    shares.reduce(tightest).filter(|share| *share > SHARE_STEP && *share < 1.0)
}

/// The pairs of markers, by fret, bass and treble.
fn pairs(markers: &[Marker]) -> impl Iterator<Item = (&Marker, &Marker)> {
    markers.windows(2).filter_map(|two| match two {
        [bass, treble] if bass.side == Some(Side::Bass) && treble.fret == bass.fret => Some((bass, treble)),
        _ => None,
    })
}

/// MARK-11: a pair is not set in so far that its two have changed sides.
pub(super) fn past_centre<'a>(bench: &Bench<'a>, tally: &mut Tally<'a>) {
    let Some(table) = marked(bench) else { return };
    let Some(markers) = tally.known(bench.design.markers.as_deref().map_err(|missing| *missing)) else { return };
    let past: Vec<u32> = pairs(markers)
        .filter(|(bass, _)| bass.middle.is_ok_and(|middle| middle.y > 0.0))
        .filter_map(|(bass, _)| u32::try_from(bass.fret).ok())
        .collect();
    if let Some(frets) = named(&past) {
        tally
            .fault(Place::Whole, format!("{frets}: the inset carries the pair past the centreline"))
            .input(&table.inset)
            .advise("an inset of less than half the width: a pair has one marker on each side");
    }
}

/// MARK-05: wood between the two holes of a pair.
pub(super) fn between_pair<'a>(bench: &Bench<'a>, tally: &mut Tally<'a>) {
    let Some(table) = marked(bench) else { return };
    let Some(markers) = tally.known(bench.design.markers.as_deref().map_err(|missing| *missing)) else { return };
    let diameter = hole_diameter(bench.model);
    let between = |bass: &Marker, treble: &Marker| {
        Ok::<f64, Missing>(Segment::new(bass.middle?, treble.middle?).length() - diameter?)
    };
    let measure = tally.measure("{} of wood between the two holes").below_nothing("the two holes overlap by {}");
    measure
        .readings(pairs(markers).map(|(bass, treble)| (Place::Pair(bass.fret), between(bass, treble))))
        .input(&table.inset);
    measure.input_if(hole(bench));
    // Straight frets only: on a fan the two holes of a pair do not move straight toward each other.
    if bench.design.layout.as_ref().is_ok_and(|layout| !layout.fan) {
        measure.remedy(inset_slope(&table.inset, -2.0, "an inset of {} or less"));
        let needed = |half: f64, diameter: f64, wood: f64| 1.0 - (wood + diameter) / (2.0 * half);
        if let Some(share) = share_for(bench, table, markers, measure.mildest_least(), needed, f64::min) {
            measure.advise(format!("an inset of {} half-width or less", trimmed(rounding::down(share, SHARE_STEP))));
        }
    }
}

/// Whether dots are bored from the flat face, before it is radiused.
fn bored_flat(bench: &Bench<'_>) -> Known<bool> {
    Ok(bench.model.slots.cut.get()? == Cut::BeforeRadiusing)
}

/// The depth of plain dots; none where the markers are lit or have no dots.
fn dot_depth<'a>(bench: &Bench<'a>) -> Option<&'a Sourced<Length>> {
    let markers = marked(bench)?;
    (markers.kind.get() == Ok(MarkerKind::Plain)).then_some(markers.dot_depth.as_ref())?
}

/// MARK-08: what is left of a dot at its rim once the face is radiused.
pub(super) fn dot_left<'a>(bench: &Bench<'a>, tally: &mut Tally<'a>) {
    let Some(depth) = dot_depth(bench) else { return };
    let Some(markers) = tally.known(bench.design.markers.as_deref().map_err(|missing| *missing)) else { return };
    let left = |marker: &Marker| {
        if !bored_flat(bench)? {
            return depth.mm();
        }
        let place = marker.middle?;
        let rim = place.y.abs() + hole_diameter(bench.model)? / 2.0;
        Ok(depth.mm()? - bench.model.slots.skim.mm()? - bench.design.face?.drop(place.x, rim))
    };
    let measure = tally
        .measure("{} of the dot is left at its rim")
        .below_nothing("the dot is {} too shallow to be left at its rim");
    measure
        .readings(markers.iter().map(|marker| (bench.marker_place(marker), left(marker))))
        .input(depth)
        .input(&bench.model.slots.skim)
        .remedy(Remedy::slope(depth, 1.0, "dots bored {} deep or deeper"));
    for input in super::radius::radius_inputs(bench) {
        measure.input(input);
    }
}

/// MARK-09: wood under a dot.
pub(super) fn under_dot<'a>(bench: &Bench<'a>, tally: &mut Tally<'a>) {
    let Some(depth) = dot_depth(bench) else { return };
    let Some(markers) = tally.known(bench.design.markers.as_deref().map_err(|missing| *missing)) else { return };
    let thickness = &bench.model.board.thickness;
    let floor = |marker: &Marker| {
        if bored_flat(bench)? {
            return Ok(wood_under_straight(thickness.mm()?, bench.model.slots.skim.mm()?, depth.mm()?));
        }
        let place = marker.middle?;
        Ok(thickness.mm()? - bench.design.face?.drop(place.x, place.y) - depth.mm()?)
    };
    tally
        .measure("{} of wood under the dot")
        .below_nothing("the dot goes {} through the back")
        .readings(markers.iter().map(|marker| (bench.marker_place(marker), floor(marker))))
        .input(depth)
        .input(thickness)
        .remedy(Remedy::slope(depth, -1.0, "dots bored {} deep or less"))
        .remedy(Remedy::slope(thickness, 1.0, "a board of {} or thicker"));
}
