//! What may be off, by name: the built-in tolerances, and what shop and commission make of them.

use crate::model::Model;
use crate::spec::words::Method;

/// How far a figure may be off its nominal.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Tolerance {
    /// How much under, zero or more.
    pub under: f64,
    /// How much over, zero or more.
    pub over: f64,
}

/// One built-in tolerance.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Row {
    /// Its name in `[tolerances]`.
    pub name: &'static str,
    /// The figure, millimetres.
    pub value: Tolerance,
    /// Why it is so. All are common practice, no source.
    pub why: &'static str,
}

const fn either_side(value: f64) -> Tolerance {
    Tolerance { under: value, over: value }
}

const fn over(value: f64) -> Tolerance {
    Tolerance { under: 0.0, over: value }
}

/// Where a slot may lie when it is cut to a scribed line.
const SCRIBED_SLOT: Tolerance = either_side(0.25);

/// The built-in tolerances, in millimetres. Common practice, no source.
pub const TOLERANCES: &[Row] = &[
    Row { name: "slot position", value: either_side(0.10), why: "about one cent at the 24th fret" },
    Row { name: "slot squareness", value: either_side(0.10), why: "over the width; seen at the nut" },
    Row { name: "slot depth", value: over(0.10), why: "shallower stops the fret" },
    Row { name: "kerf", value: Tolerance { under: 0.02, over: 0.03 }, why: "the barb's grip" },
    Row { name: "thickness", value: either_side(0.10), why: "slots, seats and channels are all cut from it" },
    Row { name: "width", value: either_side(0.15), why: "the neck and the outer strings" },
    Row { name: "radius", value: either_side(0.05), why: "light under the radius gauge" },
    Row { name: "marker place", value: either_side(0.20), why: "the eye sees 0.3" },
    Row { name: "seat depth", value: over(0.10), why: "deeper stands proud and is sanded; shallower is a hollow" },
    Row { name: "channel depth", value: over(0.10), why: "wires lie below the back" },
    Row { name: "channel place", value: either_side(0.30), why: "the margin and the side dots" },
    Row { name: "back flat after potting", value: over(0.05), why: "the glue line" },
    Row { name: "board end to saddle line", value: either_side(0.20), why: "it fixes the scale to the body" },
];

/// Whether a name is one of the table's.
pub fn is_name(name: &str) -> bool {
    TOLERANCES.iter().any(|row| row.name == name)
}

/// A tolerance by its name: the commission's, else the shop's, else the built-in one.
///
/// What a shop or commission writes is one figure: it replaces the figure on the sides that have one.
///
/// # Panics
/// Never for a name of the table.
pub fn tolerance(model: &Model, name: &'static str) -> Tolerance {
    let built_in =
        TOLERANCES.iter().find(|row| row.name == name).expect("the table has every name the sheets use").value;
    let scribed = name == "slot position" && model.slots.method.get() == Ok(Method::Scribed);
    let base = if scribed { SCRIBED_SLOT } else { built_in };
    // A shop's figure for slots is its sled's; it says nothing of a scribed line.
    let written = model.tolerances.iter().rev().find(|written| written.name == name && !scribed);
    written.map_or(base, |written| {
        let value = written.value.to_mm();
        Tolerance { under: if base.under > 0.0 { value } else { 0.0 }, over: if base.over > 0.0 { value } else { 0.0 } }
    })
}
