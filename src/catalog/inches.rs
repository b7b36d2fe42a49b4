//! Fractions of an inch in 64ths, in lowest terms, as millimetres: by the inch of exactly 25.4 mm.

use super::Table;
use crate::units::Length;

/// A fraction of an inch.
#[derive(Debug, Clone, PartialEq)]
pub struct Fraction {
    /// In lowest terms: `3/32`.
    pub text: String,
    /// The length.
    pub length: Length,
}

/// All 64ths from 1/64 in to 1 in.
pub fn fractions() -> Vec<Fraction> {
    (1..=64_u32)
        .map(|count| {
            let halvings = count.trailing_zeros();
            let (top, bottom) = (count >> halvings, 64 >> halvings);
            let text = if bottom == 1 { top.to_string() } else { format!("{top}/{bottom}") };
            Fraction { text, length: Length::inches(f64::from(count) / 64.0) }
        })
        .collect()
}

pub(super) fn table() -> Table {
    Table {
        name: "inches",
        about: "fractions of an inch in 64ths".to_owned(),
        sources: vec!["1 in = 25.4 mm exactly (international inch of 1959; NIST SP 811, appendix B)".to_owned()],
        columns: ["fraction_in", "decimal_in", "length_mm"].map(str::to_owned).to_vec(),
        rows: fractions()
            .into_iter()
            .map(|fraction| {
                let decimal = format!("{:.6}", fraction.length.to_inches());
                vec![fraction.text, decimal, format!("{:.6}", fraction.length.to_mm())]
            })
            .collect(),
    }
}
