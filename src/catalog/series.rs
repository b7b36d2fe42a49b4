//! Preferred values of resistors, IEC 60063: the steps that a drawer holds.

use std::sync::LazyLock;

use serde::Deserialize;

use super::table::DataFile;

pub(super) const DATA: DataFile = DataFile { name: "resistor-series", text: include_str!("data/resistor-series.csv") };

/// A value this near to a step, as a part of it, counts as on the step.
pub const ON_STEP: f64 = 1e-9;

/// A series of preferred values; the commission file writes it by its name.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Deserialize)]
pub enum Series {
    /// Twelve steps to the decade.
    E12,
    /// Twenty-four steps to the decade.
    E24,
    /// Ninety-six steps to the decade.
    E96,
}

#[derive(Debug, Deserialize)]
struct Row {
    series: Series,
    step: f64,
}

static ROWS: LazyLock<Vec<Row>> = LazyLock::new(|| DATA.rows());

impl Series {
    /// How far a resistor of the series may lie from its value, as a share of it.
    ///
    /// Source: IEC 60063, which ties each series to a tolerance: E12 10 %, E24 5 %, E96 1 % (from memory).
    pub(crate) const fn tolerance(self) -> f64 {
        match self {
            Self::E12 => 0.10,
            Self::E24 => 0.05,
            Self::E96 => 0.01,
        }
    }

    /// The steps of one decade, as whole numbers: from 10 (E12, E24) or 100 (E96).
    pub fn steps(self) -> impl Iterator<Item = f64> {
        ROWS.iter().filter(move |row| row.series == self).map(|row| row.step)
    }
}

/// The next value of a series at or above a resistance, both in ohms; a resistance within [`ON_STEP`] of a step
/// counts as on it. None unless the resistance is finite and more than zero.
///
/// A value is a whole step times or over a whole power of ten, rounded once: 0.47 is 47/100, never 4.7 · 0.1.
pub fn next_up(ohms: f64, series: Series) -> Option<f64> {
    if !ohms.is_finite() || ohms <= 0.0 {
        return None;
    }
    let first = series.steps().next().expect("every series has its steps");
    let decade = libm::floor(libm::log10(ohms / first));
    // The logarithm of a value just under a decade may round into it: so one decade below is looked at too.
    let shifts = [decade - 1.0, decade, decade + 1.0];
    shifts
        .into_iter()
        .flat_map(|shift| series.steps().map(move |step| shifted(step, shift)))
        .find(|value| *value * (1.0 + ON_STEP) >= ohms)
}

/// A step moved by a whole number of decades.
fn shifted(step: f64, decades: f64) -> f64 {
    let power = libm::pow(10.0, decades.abs());
    if decades < 0.0 { step / power } else { step * power }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn each_series_has_its_count_of_growing_steps_within_one_decade() {
        for (series, count, first) in [(Series::E12, 12, 10.0), (Series::E24, 24, 10.0), (Series::E96, 96, 100.0)] {
            let steps: Vec<f64> = series.steps().collect();
            assert_eq!(steps.len(), count);
            assert!(steps.windows(2).all(|pair| pair[0] < pair[1]));
            assert!((steps[0] - first).abs() < 1e-12 && steps[count - 1] < 10.0 * first);
        }
    }

    #[test]
    fn every_step_of_every_decade_is_its_own_next_value() {
        for series in [Series::E12, Series::E24, Series::E96] {
            for step in series.steps() {
                for decades in -3..6 {
                    let value = shifted(step, f64::from(decades));
                    assert_eq!(next_up(value, series), Some(value));
                    assert_eq!(next_up(value * (1.0 + 0.5e-9), series), Some(value), "just above counts as on it");
                    assert!(next_up(value * (1.0 + 1e-8), series).unwrap() > value);
                }
            }
        }
    }

    #[test]
    fn there_is_no_resistor_of_nothing() {
        for ohms in [0.0, -1.0, f64::NAN, f64::INFINITY] {
            assert_eq!(next_up(ohms, Series::E24), None);
        }
    }
}
