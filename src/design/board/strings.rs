//! Where the strings lie across: at the nut, at the saddle, and over any fret.

use super::layout::{Layout, Spreads};
use crate::design::formulas::{note_frequency, solid_weight, string_gap, string_tension};
use crate::geom::{Point, Segment};
use crate::model::{InstrumentString, Known, Model};
use crate::spec::words::{Spacing, StringKind};

/// The strings' places across, string 1 (highest) first, plus toward the treble side.
#[derive(Debug, Clone, PartialEq)]
pub struct StringPlaces {
    /// At the nut.
    pub nut: Vec<f64>,
    /// At the saddle.
    pub saddle: Vec<f64>,
}

impl StringPlaces {
    /// The places by the rules of both ends.
    ///
    /// # Errors
    /// With the key that is open or cannot be used.
    pub fn of(model: &Model) -> Known<Self> {
        let spreads = Spreads::of(model)?;
        let set = model.strings.set.get()?;
        Ok(Self {
            nut: places(spreads.nut, model.strings.spacing.get()?, &set),
            saddle: places(spreads.saddle, model.strings.spacing_saddle.get()?, &set),
        })
    }

    /// How many strings.
    pub fn count(&self) -> usize {
        self.nut.len()
    }

    /// Place across of a string (1 = highest) at a share of its run.
    pub fn across(&self, string: usize, share: f64) -> Option<f64> {
        let index = string.checked_sub(1)?;
        let (nut, saddle) = (self.nut.get(index)?, self.saddle.get(index)?);
        Some(nut + share * (saddle - nut))
    }
}

/// One string as it is tuned.
#[derive(Debug, Clone, PartialEq)]
pub struct TunedString {
    /// 1 = highest.
    pub number: usize,
    /// The note as written.
    pub note: String,
    /// Frequency, hertz.
    pub frequency: f64,
    /// Diameter, millimetres.
    pub gauge: f64,
    /// Weight per length, grams per metre.
    pub weight: f64,
    /// Whether the weight is a stand-in by kind and gauge, not weighed.
    pub weight_is_stand_in: bool,
    /// Sounding length, open, millimetres.
    pub length: Known<f64>,
    /// Tension, newtons.
    pub tension: Known<f64>,
}

/// The strings as they are tuned.
///
/// # Errors
/// With the set's key when it is open or cannot be used.
pub fn tuned(model: &Model, layout: &Known<Layout>) -> Known<Vec<TunedString>> {
    let set = model.strings.set.get()?;
    let places = StringPlaces::of(model);
    Ok(set
        .iter()
        .enumerate()
        .map(|(index, string)| {
            let number = index + 1;
            let frequency = note_frequency(f64::from(string.semitone));
            let gauge = string.gauge.to_mm();
            let weighed = string.weight.map(crate::units::LinearDensity::to_grams_per_metre);
            let weight = weighed.unwrap_or_else(|| solid_weight(stand_in_density(string.kind, gauge), gauge));
            let length = string_length(layout, &places, number);
            TunedString {
                number,
                note: string.note.clone(),
                frequency,
                gauge,
                weight,
                weight_is_stand_in: weighed.is_none(),
                length,
                tension: length.map(|length| string_tension(weight, length, frequency)),
            }
        })
        .collect())
}

/// Open length of a string: the scale, or on a fan from its place on the nut to its place on the saddle.
fn string_length(layout: &Known<Layout>, places: &Known<StringPlaces>, number: usize) -> Known<f64> {
    let layout = layout.as_ref().map_err(|missing| *missing)?;
    if !layout.fan {
        return Ok(layout.scale);
    }
    let places = places.as_ref().map_err(|missing| *missing)?;
    let faulty = crate::model::Missing::faulty("strings.set");
    let (nut, saddle) = places.across(number, 0.0).zip(places.across(number, 1.0)).ok_or(faulty)?;
    let start = Point::new(layout.zero_line().at(nut), nut);
    let end = Point::new(layout.saddle().at(saddle), saddle);
    Ok(Segment::new(start, end).length())
}

/// Density of steel, grams per cubic centimetre: from memory, 7.80 to 7.85.
const STEEL: f64 = 7.85;

/// The lowest note that the highest string of an instrument above a bass has: C3.
const C3: i32 = 48;

/// Whether a set is a bass's: its highest string is tuned below C3.
pub fn is_bass(set: &[InstrumentString]) -> bool {
    set.first().is_some_and(|highest| highest.semitone < C3)
}

/// Share of a string's weight in that of a solid round of its gauge: of steel, or for a string with no metal in it
/// of what it is made of.
pub fn share_of_solid(kind: StringKind, gauge: f64, weight: f64) -> f64 {
    let solid = match kind {
        StringKind::Plain | StringKind::Wound | StringKind::WoundNylon => STEEL,
        StringKind::Nylon | StringKind::Fluorocarbon | StringKind::Gut => stand_in_density(kind, gauge),
    };
    weight / solid_weight(solid, gauge)
}

/// The least clear gap between two neighbours at the nut, with the number of the upper one; none with fewer than
/// two strings.
///
/// # Errors
/// With the key that is open or cannot be used.
pub fn least_gap_at_nut(model: &Model) -> Known<Option<(usize, f64)>> {
    let spread = model.strings.spread_nut.mm()?;
    let set = model.strings.set.get()?;
    let places = places(spread, model.strings.spacing.get()?, &set);
    let gap = |index: usize| {
        let ([high, low], [here, next]) = (set.get(index..index + 2)?, places.get(index..index + 2)?) else {
            return None;
        };
        Some((index + 1, here - next - f64::midpoint(high.gauge.to_mm(), low.gauge.to_mm())))
    };
    Ok((0..set.len()).filter_map(gap).reduce(|least, next| if next.1 < least.1 { next } else { least }))
}

/// Density of a solid round of the gauge that weighs what such a string weighs, grams per cubic centimetre.
///
/// A wound string weighs 0.82 of solid steel of its gauge, above 1.6 mm
/// 0.75; nylon 1.14, fluorocarbon 1.78, gut 1.3; wound on nylon as wound on steel, less a fifth: all from memory,
/// stand-ins until a metre of the string has been weighed.
fn stand_in_density(kind: StringKind, gauge: f64) -> f64 {
    let wound = if gauge > 1.6 { 0.75 } else { 0.82 };
    match kind {
        StringKind::Plain => STEEL,
        StringKind::Wound => wound * STEEL,
        StringKind::WoundNylon => 0.8 * wound * STEEL,
        StringKind::Nylon => 1.14,
        StringKind::Fluorocarbon => 1.78,
        StringKind::Gut => 1.3,
    }
}

/// Places across of all strings for one spread and rule.
fn places(spread: f64, spacing: Spacing, set: &[InstrumentString]) -> Vec<f64> {
    let from_first = match spacing {
        Spacing::EqualCentres => equal_centres(spread, set.len()),
        Spacing::EqualGaps => equal_gaps(spread, set),
    };
    from_first.into_iter().map(|from_treble| spread / 2.0 - from_treble).collect()
}

/// Distances from string 1 with equal distances between centres.
fn equal_centres(spread: f64, count: usize) -> Vec<f64> {
    let gaps = f64::from(u32::try_from(count.saturating_sub(1).max(1)).unwrap_or(1));
    (0..count).map(|index| spread * f64::from(u32::try_from(index).unwrap_or(0)) / gaps).collect()
}

/// Distances from string 1 with equal clear gaps between neighbours.
fn equal_gaps(spread: f64, set: &[InstrumentString]) -> Vec<f64> {
    let gauges: Vec<f64> = set.iter().map(|string| string.gauge.to_mm()).collect();
    let ([first, .., last], true) = (gauges.as_slice(), gauges.len() > 1) else {
        return vec![0.0; gauges.len()];
    };
    let inner: f64 = gauges[1..gauges.len() - 1].iter().sum();
    let gaps = f64::from(u32::try_from(gauges.len() - 1).unwrap_or(1));
    let gap = string_gap(spread, inner, f64::midpoint(*first, *last), gaps);
    let mut place = 0.0;
    let mut from_first = vec![0.0];
    for pair in gauges.windows(2) {
        place += f64::midpoint(pair[0], pair[1]) + gap;
        from_first.push(place);
    }
    from_first
}
