//! Drawings: finished marks on paper, and the means to draw with dimensions and labels.
//!
//! No word of the trade here: paths, text, dimensions, hatches, line kinds.

pub mod item;

pub use item::{Anchor, Fill, Item, LineKind, Stroke, Text};
