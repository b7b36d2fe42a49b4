//! Rounding for print: once, where a figure is printed, toward the side that can be put right.
//!
//! Positions are rounded to the nearest, depths of slots up, depths of seats down. A figure within
//! [`ON_STEP`] of a step counts as on it, so that 3.40 stays 3.40. Half rounds away from zero and
//! minus zero is never printed.

use crate::units::{MM_PER_INCH, WorkingUnit};

/// A figure this near to a rounding step, in millimetres, counts as on it.
pub const ON_STEP: f64 = 0.000_001;

/// The step of a machine's setting in millimetres: 0.05 mm, or 0.002 in where the shop works in inches.
pub const fn setting_step(unit: WorkingUnit) -> f64 {
    match unit {
        WorkingUnit::Millimetre => 0.05,
        WorkingUnit::Inch => 0.002 * MM_PER_INCH,
    }
}

/// Rounds up to a whole number of steps: for what can only be made larger without harm.
pub fn up(value: f64, step: f64) -> f64 {
    ((value - ON_STEP) / step).ceil() * step
}

/// Rounds down to a whole number of steps: for wood that can still come off.
pub fn down(value: f64, step: f64) -> f64 {
    ((value + ON_STEP) / step).floor() * step
}

/// A figure with a fixed number of decimals, half away from zero, never "-0.00".
///
/// Halves are judged in decimal with the tolerance of [`ON_STEP`] scaled to the place, because 0.125 and
/// 2.675 are not alike in binary. Not finite: an en dash.
pub fn fixed(value: f64, decimals: usize) -> String {
    if !value.is_finite() {
        return "–".to_owned();
    }
    let scale = 10_f64.powi(i32::try_from(decimals).unwrap_or(0));
    let nudge = ON_STEP.min(1e-3 / scale);
    let steps = ((value.abs() + nudge) * scale + 0.5).floor();
    let text = format!("{:.*}", decimals, steps / scale);
    if value < 0.0 && steps > 0.0 { format!("−{text}") } else { text }
}

/// A figure with so many places that count and no needless zeros; for records, not for print: a hyphen is its minus.
pub fn significant(value: f64, places: usize) -> String {
    let shortened = format!("{value:.*e}", places.saturating_sub(1)).parse::<f64>().unwrap_or(value);
    // Zero has no sign.
    format!("{}", shortened + 0.0)
}

/// A length in inches as a fraction in 64ths and the remainder in ten-thousandths: `1 15/32 + 0.0045`.
///
/// The fraction is the one at or under the length, so that the remainder is never negative.
pub fn fraction_and_remainder(millimetres: f64) -> String {
    let inches = millimetres / MM_PER_INCH;
    if !inches.is_finite() || inches < 0.0 {
        return "–".to_owned();
    }
    let mut sixty_fourths = (inches * 64.0 + 1e-9).floor();
    let mut remainder = fixed(inches - sixty_fourths / 64.0, 4);
    if remainder == fixed(1.0 / 64.0, 4) {
        sixty_fourths += 1.0;
        remainder = fixed(0.0, 4);
    }
    let fraction = inch_fraction(sixty_fourths);
    if remainder == "0.0000" { fraction } else { format!("{fraction} + {remainder}") }
}

/// A length that is a whole number of 64ths of an inch, as a mixed number: `1/4` of 6.35 mm.
pub fn whole_sixty_fourths(millimetres: f64) -> Option<String> {
    let sixty_fourths = millimetres / MM_PER_INCH * 64.0;
    let nearest = sixty_fourths.round();
    (nearest > 0.0 && (sixty_fourths - nearest).abs() < ON_STEP).then(|| inch_fraction(nearest))
}

/// A whole number of 64ths as a mixed number in lowest terms: `1 15/32`, `3/4`, `0`.
pub(crate) fn inch_fraction(sixty_fourths: f64) -> String {
    let whole = (sixty_fourths / 64.0).floor();
    let mut top = sixty_fourths - whole * 64.0;
    let mut bottom = 64.0;
    while top > 0.0 && top % 2.0 == 0.0 {
        top /= 2.0;
        bottom /= 2.0;
    }
    match (whole > 0.0, top > 0.0) {
        (true, true) => format!("{whole} {top}/{bottom}"),
        (false, true) => format!("{top}/{bottom}"),
        _ => format!("{whole}"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_figure_on_a_step_stays_there() {
        assert_eq!(fixed(up(3.40, 0.05), 2), "3.40");
        assert_eq!(fixed(down(3.4000000000000004, 0.05), 2), "3.40");
        assert_eq!(fixed(up(3.3383, 0.05), 2), "3.35");
        assert_eq!(fixed(down(3.4712, 0.05), 2), "3.45");
    }

    #[test]
    fn half_goes_away_from_zero_and_minus_zero_is_not_printed() {
        assert_eq!(fixed(0.125, 2), "0.13");
        assert_eq!(fixed(2.675, 2), "2.68");
        assert_eq!(fixed(-2.675, 2), "−2.68");
        assert_eq!(fixed(-0.001, 2), "0.00");
        assert_eq!(fixed(f64::NAN, 2), "–");
    }

    #[test]
    fn fractions_keep_their_remainder() {
        // The first fret of a 26 1/4 in scale.
        assert_eq!(fraction_and_remainder(37.4218), "1 15/32 + 0.0045");
        assert_eq!(fraction_and_remainder(25.4), "1");
        assert_eq!(fraction_and_remainder(9.525), "3/8");
    }
}
