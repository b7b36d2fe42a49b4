//! Radii: what blocks for fretboards are commonly made in.

use std::sync::LazyLock;

use serde::Deserialize;

use super::table::DataFile;

pub(super) const DATA: DataFile = DataFile { name: "radii", text: include_str!("data/radii.csv") };

static RADII: LazyLock<Vec<BlockRadius>> = LazyLock::new(|| DATA.rows());

/// A radius that blocks are made in.
#[derive(Debug, Clone, PartialEq, Eq, Deserialize)]
pub struct BlockRadius {
    /// The radius as the commission file writes it: `12 in`.
    pub radius: String,
    /// How well this row is known.
    pub standing: String,
}

/// All radii, the roundest first.
pub fn radii() -> &'static [BlockRadius] {
    &RADII
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn radii_grow_from_row_to_row() {
        let inches = |row: &BlockRadius| {
            let figures = row.radius.strip_suffix(" in").expect("radii are in inches").split(' ');
            figures.fold(0.0, |sum, part| match part.split_once('/') {
                Some((top, bottom)) => sum + top.parse::<f64>().unwrap() / bottom.parse::<f64>().unwrap(),
                None => sum + part.parse::<f64>().unwrap(),
            })
        };
        assert!(radii().iter().map(inches).is_sorted_by(|one, next| one < next));
    }
}
