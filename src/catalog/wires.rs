//! Fret wire patterns: generic sizes to draw and check with until the stock in the drawer has been measured.

use std::sync::LazyLock;

use serde::Deserialize;

use super::table::{DataFile, cell};
use crate::units::Length;

pub(super) const DATA: DataFile = DataFile { name: "wires", text: include_str!("data/wires.csv") };

static WIRES: LazyLock<Vec<Wire>> = LazyLock::new(|| DATA.rows());

/// One pattern of fret wire.
#[derive(Debug, Clone, PartialEq, Deserialize)]
pub struct Wire {
    /// The id that a commission writes (`wire.pattern`).
    pub id: String,
    /// What it is, to print.
    pub what: String,
    /// Width of the crown.
    #[serde(rename = "crown_width_mm", deserialize_with = "cell::millimetres")]
    pub crown_width: Length,
    /// Height of the crown above the face.
    #[serde(rename = "crown_height_mm", deserialize_with = "cell::millimetres")]
    pub crown_height: Length,
    /// Depth of the tang below the face.
    #[serde(rename = "tang_depth_mm", deserialize_with = "cell::millimetres")]
    pub tang_depth: Length,
    /// Thickness of the tang between its barbs.
    #[serde(rename = "tang_width_mm", deserialize_with = "cell::millimetres")]
    pub tang_width: Length,
    /// Thickness of the tang over its barbs.
    #[serde(rename = "barb_width_mm", deserialize_with = "cell::millimetres")]
    pub barb_width: Length,
    /// Length of a stick as sold.
    #[serde(rename = "stick_mm", deserialize_with = "cell::millimetres")]
    pub stick: Length,
}

/// All patterns, in the table's order.
pub fn wires() -> &'static [Wire] {
    &WIRES
}

/// The pattern of an id, written exactly.
pub fn wire(id: &str) -> Option<&'static Wire> {
    WIRES.iter().find(|wire| wire.id == id)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn barbs_stand_out_from_the_tang_and_the_tang_from_nothing() {
        for wire in wires() {
            let mm = |length: Length| length.to_mm();
            assert!((1.5..=3.2).contains(&mm(wire.crown_width)), "{}", wire.id);
            assert!((0.8..=1.6).contains(&mm(wire.crown_height)), "{}", wire.id);
            assert!((1.2..=2.6).contains(&mm(wire.tang_depth)), "{}", wire.id);
            assert!((0.4..=0.7).contains(&mm(wire.tang_width)), "{}", wire.id);
            assert!(mm(wire.barb_width) >= mm(wire.tang_width) + 0.1, "{}", wire.id);
            assert!(mm(wire.crown_width) > mm(wire.barb_width), "{}", wire.id);
            assert!((250.0..=2000.0).contains(&mm(wire.stick)), "{}", wire.id);
        }
    }
}
