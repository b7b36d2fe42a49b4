//! Twist drills: number, letter, fractional and metric sizes.

use std::sync::LazyLock;

use serde::Deserialize;

use super::table::{DataFile, cell};
use crate::units::Length;

pub(super) const DATA: DataFile = DataFile { name: "drills", text: include_str!("data/drills.csv") };

static DRILLS: LazyLock<Vec<Drill>> = LazyLock::new(|| DATA.rows());

/// One size of drill.
#[derive(Debug, Clone, PartialEq, Deserialize)]
pub struct Drill {
    /// The series: number, letter, fractional, metric.
    pub series: String,
    /// The size as it is called: `No. 30`, `letter F`, `1/8 in`, `3.1 mm`.
    pub size: String,
    /// Its diameter.
    #[serde(rename = "diameter_mm", deserialize_with = "cell::millimetres")]
    pub diameter: Length,
}

/// All drills, series by series.
pub fn drills() -> &'static [Drill] {
    &DRILLS
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn drills_of_one_series_grow_from_row_to_row() {
        for pair in drills().windows(2).filter(|pair| pair[0].series == pair[1].series) {
            assert!(pair[0].diameter < pair[1].diameter, "{} and {}", pair[0].size, pair[1].size);
        }
        for (series, count) in [("number", 80), ("letter", 26), ("fractional", 64)] {
            assert_eq!(drills().iter().filter(|drill| drill.series == series).count(), count, "{series}");
        }
    }
}
