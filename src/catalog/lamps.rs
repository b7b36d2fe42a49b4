//! Lamps by the size of their lens, and forward voltages by colour.

use std::sync::LazyLock;

use serde::Deserialize;

use super::table::{DataFile, cell};
use crate::units::{Current, Length, Voltage};

pub(super) const DATA: DataFile = DataFile { name: "lamps", text: include_str!("data/lamps.csv") };
pub(super) const COLOURS: DataFile = DataFile { name: "lamp-colours", text: include_str!("data/lamp-colours.csv") };

static LAMPS: LazyLock<Vec<Lamp>> = LazyLock::new(|| DATA.rows());
static LAMP_COLOURS: LazyLock<Vec<LampColour>> = LazyLock::new(|| COLOURS.rows());

/// One pattern of lamp: sizes only. Forward voltage and current belong to the batch and are measured.
#[derive(Debug, Clone, PartialEq, Deserialize)]
pub struct Lamp {
    /// The id that a commission writes (`lamp.pattern`).
    pub id: String,
    /// What it is, to print.
    pub what: String,
    /// Diameter of the lens.
    #[serde(rename = "lens_mm", deserialize_with = "cell::millimetres")]
    pub lens: Length,
    /// From the flange's seat to the lens's top.
    #[serde(rename = "lens_height_mm", deserialize_with = "cell::millimetres")]
    pub lens_height: Length,
    /// The lens's top.
    pub lens_shape: LensShape,
    /// Diameter of the flange.
    #[serde(rename = "flange_mm", deserialize_with = "cell::millimetres")]
    pub flange: Length,
    /// Thickness of the flange.
    #[serde(rename = "flange_height_mm", deserialize_with = "cell::millimetres")]
    pub flange_height: Length,
    /// Room that the bent leads take behind the flange.
    #[serde(rename = "lead_bend_mm", deserialize_with = "cell::millimetres")]
    pub lead_bend: Length,
    /// Diameter of the hole for the lens.
    #[serde(rename = "hole_mm", deserialize_with = "cell::millimetres")]
    pub hole: Length,
    /// Diameter of the counterbore for the flange.
    #[serde(rename = "counterbore_mm", deserialize_with = "cell::millimetres")]
    pub counterbore: Length,
    /// The most current that it may carry.
    #[serde(rename = "max_current_ma", deserialize_with = "cell::milliamperes")]
    pub max_current: Current,
}

/// The top of a lens.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum LensShape {
    /// Its whole top is one height.
    Flat,
    /// Only its crest is at the full height.
    Domed,
}

/// The forward voltage that lamps of one colour have.
#[derive(Debug, Clone, PartialEq, Deserialize)]
pub struct LampColour {
    /// The colour.
    pub colour: String,
    /// The least that is usual.
    #[serde(rename = "forward_least_v", deserialize_with = "cell::volts")]
    pub forward_least: Voltage,
    /// The most that is usual.
    #[serde(rename = "forward_most_v", deserialize_with = "cell::volts")]
    pub forward_most: Voltage,
}

/// All lamps, in the table's order.
pub fn lamps() -> &'static [Lamp] {
    &LAMPS
}

/// The lamp of an id, written exactly.
pub fn lamp(id: &str) -> Option<&'static Lamp> {
    LAMPS.iter().find(|lamp| lamp.id == id)
}

/// Forward voltages by colour.
pub fn lamp_colours() -> &'static [LampColour] {
    &LAMP_COLOURS
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_lamp_goes_into_its_own_hole_and_counterbore() {
        for lamp in lamps() {
            // The plays that LAMP-08 and LAMP-03 ask for.
            let play = lamp.hole.to_mm() - lamp.lens.to_mm();
            assert!((0.03..=0.20).contains(&play), "{}: {play}", lamp.id);
            assert!(lamp.counterbore.to_mm() - lamp.flange.to_mm() >= 0.2, "{}", lamp.id);
            assert!(lamp.flange.to_mm() > lamp.hole.to_mm(), "{}", lamp.id);
            assert!((2.0..=9.0).contains(&lamp.lens_height.to_mm()), "{}", lamp.id);
            assert!((0.005..=0.05).contains(&lamp.max_current.to_amperes()), "{}", lamp.id);
        }
    }

    #[test]
    fn forward_voltages_are_those_of_lamps() {
        for colour in lamp_colours() {
            let (least, most) = (colour.forward_least.to_volts(), colour.forward_most.to_volts());
            assert!(1.5 < least && least < most && most < 5.0, "{}", colour.colour);
        }
    }
}
