//! Limits for dust and noise at work, by whose rule. A sheet that prints them says: your own law first.

use std::sync::LazyLock;

use serde::Deserialize;

use super::table::DataFile;

pub(super) const DUST: DataFile = DataFile { name: "dust-limits", text: include_str!("data/dust-limits.csv") };
pub(super) const NOISE: DataFile = DataFile { name: "noise-limits", text: include_str!("data/noise-limits.csv") };

static DUST_LIMITS: LazyLock<Vec<DustLimit>> = LazyLock::new(|| DUST.rows());
static NOISE_LIMITS: LazyLock<Vec<NoiseLimit>> = LazyLock::new(|| NOISE.rows());

/// How much wood dust the air may hold.
#[derive(Debug, Clone, PartialEq, Deserialize)]
pub struct DustLimit {
    /// The id.
    pub id: String,
    /// Whose rule.
    pub rule: String,
    /// For which woods.
    pub woods: String,
    /// Milligrams of dust in a cubic metre of air.
    #[serde(rename = "mg_per_m3")]
    pub milligrams_per_cubic_metre: f64,
    /// How it is measured, and what the rule adds.
    pub means: String,
    /// Where it is published.
    pub source: String,
}

/// How long an unprotected ear may stand a level.
#[derive(Debug, Clone, PartialEq, Deserialize)]
pub struct NoiseLimit {
    /// Whose rule.
    pub rule: String,
    /// Level at the ear, dB(A).
    #[serde(rename = "level_dba")]
    pub level: f64,
    /// Hours in a day.
    pub hours: f64,
}

/// All dust limits, in the table's order.
pub fn dust_limits() -> &'static [DustLimit] {
    &DUST_LIMITS
}

/// All noise limits, rule by rule, from quiet to loud.
pub fn noise_limits() -> &'static [NoiseLimit] {
    &NOISE_LIMITS
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn dust_limits_are_milligrams_and_name_their_source() {
        for limit in dust_limits() {
            assert!((0.1..=20.0).contains(&limit.milligrams_per_cubic_metre), "{}", limit.id);
            assert!(!limit.source.is_empty(), "{}", limit.id);
        }
    }

    #[test]
    fn louder_means_shorter() {
        for pair in noise_limits().windows(2).filter(|pair| pair[0].rule == pair[1].rule) {
            assert!(pair[0].level < pair[1].level && pair[0].hours > pair[1].hours, "{:?}", pair[1]);
        }
    }
}
