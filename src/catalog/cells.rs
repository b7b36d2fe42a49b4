//! Batteries: voltage, capacity and size of the usual kinds.

use std::sync::LazyLock;

use serde::Deserialize;

use super::table::{DataFile, cell as read};
use crate::units::{Charge, Length, Voltage};

pub(super) const DATA: DataFile = DataFile { name: "cells", text: include_str!("data/cells.csv") };

static CELLS: LazyLock<Vec<Cell>> = LazyLock::new(|| DATA.rows());

/// One kind of battery.
#[derive(Debug, Clone, PartialEq, Deserialize)]
pub struct Cell {
    /// The id.
    pub id: String,
    /// What it is, with its designation.
    pub what: String,
    /// The chemistry.
    pub chemistry: String,
    /// Nominal voltage.
    #[serde(rename = "nominal_v", deserialize_with = "read::volts")]
    pub nominal: Voltage,
    /// The least capacity that tables give.
    #[serde(rename = "capacity_least_mah", deserialize_with = "read::milliampere_hours")]
    pub capacity_least: Charge,
    /// The most capacity that tables give.
    #[serde(rename = "capacity_most_mah", deserialize_with = "read::milliampere_hours")]
    pub capacity_most: Charge,
    /// Longest side, terminals included.
    #[serde(rename = "length_mm", deserialize_with = "read::millimetres")]
    pub length: Length,
    /// Second side, or the diameter.
    #[serde(rename = "width_mm", deserialize_with = "read::millimetres")]
    pub width: Length,
    /// Third side, or the diameter (a coin: its thickness).
    #[serde(rename = "height_mm", deserialize_with = "read::millimetres")]
    pub height: Length,
    /// How well this row is known.
    pub standing: String,
}

/// All batteries, in the table's order.
pub fn cells() -> &'static [Cell] {
    &CELLS
}

/// The battery of an id, written exactly.
pub fn cell(id: &str) -> Option<&'static Cell> {
    CELLS.iter().find(|cell| cell.id == id)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn batteries_hold_what_batteries_can_hold() {
        for cell in cells() {
            assert!((1.0..=10.0).contains(&cell.nominal.to_volts()), "{}", cell.id);
            assert!(cell.capacity_least.to_ampere_hours() > 0.1, "{}", cell.id);
            assert!(cell.capacity_least <= cell.capacity_most, "{}", cell.id);
            assert!(cell.capacity_most.to_ampere_hours() < 4.0, "{}", cell.id);
            assert!(
                cell.length.to_mm() >= cell.width.to_mm() && cell.width.to_mm() >= cell.height.to_mm(),
                "{}",
                cell.id
            );
            assert!(["published", "from memory"].contains(&cell.standing.as_str()), "{}", cell.id);
        }
    }
}
