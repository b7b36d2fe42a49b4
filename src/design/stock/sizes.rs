//! Sizes as they stand on the list: in the working unit where they are looked for with a ruler, in millimetres where
//! they are a tool's or a part's own.

use crate::model::Model;
use crate::rounding;
use crate::spec::words::PrintIn;
use crate::units::MM_PER_INCH;

/// A figure with no needless zeros.
pub(super) fn plain(figure: f64, decimals: usize) -> String {
    let text = rounding::fixed(figure, decimals);
    if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.').to_owned() } else { text }
}

/// The size of a part, in millimetres whatever the working unit.
pub(super) fn part(millimetres: f64) -> String {
    format!("{}\u{a0}mm", plain(millimetres, 2))
}

/// Sizes for the ruler: `520 × 66 × 7.8 mm`, `20.472 × 2.598 × 0.307 in`.
pub(super) fn ruled(model: &Model, millimetres: &[f64]) -> String {
    let inches = model.commission.print_in.get() == Ok(PrintIn::Inch);
    let (unit, decimals, sign) = if inches { (MM_PER_INCH, 3, "in") } else { (1.0, 2, "mm") };
    let figures: Vec<String> = millimetres.iter().map(|size| plain(size / unit, decimals)).collect();
    format!("{}\u{a0}{sign}", figures.join(" × "))
}

/// What is computed and not written is looked for a little larger: up to the next whole millimetre, or 1/20 in.
pub(super) fn looked_for(model: &Model, millimetres: f64) -> f64 {
    let inches = model.commission.print_in.get() == Ok(PrintIn::Inch);
    rounding::up(millimetres, if inches { MM_PER_INCH / 20.0 } else { 1.0 })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn needless_zeros_go_and_others_stay() {
        assert_eq!(plain(520.0, 2), "520");
        assert_eq!(plain(7.8, 2), "7.8");
        assert_eq!(plain(0.0, 2), "0");
        assert_eq!(plain(100.0, 0), "100");
        assert_eq!(part(0.7), "0.7\u{a0}mm");
    }
}
