//! American wire gauge: diameter by its definition, resistance by that of annealed copper.
//!
//! Diameter: 0.005 in · 92^((36 − n)/39) (ASTM B258). Copper: 0.017241 Ω·mm²/m at 20 °C, the International
//! Annealed Copper Standard (IEC 60028; from memory).

use std::f64::consts::PI;

use super::Table;
use crate::units::MM_PER_INCH;

/// Resistance of a metre of annealed copper of one square millimetre, in ohms, at 20 °C.
pub const COPPER: f64 = 0.017_241;

/// The gauges that are made by number alone, thickest first (ASTM B258; the finest from memory).
pub const GAUGES: std::ops::RangeInclusive<u32> = 0..=56;

/// The gauges that the table lists; the formulas hold beyond.
const LISTED: std::ops::RangeInclusive<u32> = 18..=36;

/// Diameter of the bare wire in millimetres.
pub fn bare_diameter_mm(gauge: u32) -> f64 {
    0.005 * MM_PER_INCH * libm::pow(92.0, (36.0 - f64::from(gauge)) / 39.0)
}

/// Resistance of solid copper wire in ohms for each metre, at 20 °C.
pub fn ohm_per_metre(gauge: u32) -> f64 {
    COPPER / area_mm2(gauge)
}

fn area_mm2(gauge: u32) -> f64 {
    let diameter = bare_diameter_mm(gauge);
    PI * diameter * diameter / 4.0
}

pub(super) fn table() -> Table {
    Table {
        name: "awg",
        about: "American wire gauge: bare copper wire at 20 °C".to_owned(),
        sources: vec![
            "diameter: 0.005 in · 92^((36 − n)/39) (ASTM B258)".to_owned(),
            "resistance: 0.017241 Ω·mm²/m, International Annealed Copper Standard (IEC 60028; from memory)".to_owned(),
        ],
        columns: ["gauge", "diameter_mm", "area_mm2", "resistance_ohm_per_m"].map(str::to_owned).to_vec(),
        rows: LISTED
            .map(|gauge| {
                vec![
                    gauge.to_string(),
                    format!("{:.4}", bare_diameter_mm(gauge)),
                    format!("{:.5}", area_mm2(gauge)),
                    format!("{:.5}", ohm_per_metre(gauge)),
                ]
            })
            .collect(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn gauge_36_is_five_thousandths_by_definition() {
        assert!((bare_diameter_mm(36) - 0.127).abs() < 1e-15);
    }

    #[test]
    fn a_higher_gauge_is_thinner() {
        assert!(LISTED.map(bare_diameter_mm).is_sorted_by(|a, b| a > b));
        assert!(LISTED.map(ohm_per_metre).is_sorted_by(|a, b| a < b));
    }
}
