//! Where the strings lie across: at the nut, at the saddle, and over any fret.

use super::layout::Spreads;
use crate::design::formulas::string_gap;
use crate::model::{InstrumentString, Known, Model};
use crate::spec::words::Spacing;

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
