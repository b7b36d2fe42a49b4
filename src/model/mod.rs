//! The resolved instrument: every value of the commission with where it came from.
//!
//! A value is known, or it is missing for a reason: undecided (`"open"`) or unreadable (already reported).
//! Nothing is guessed in its place; what depends on it is left out and says what it waits for.

mod instrument;
mod lights;
mod neck_and_body;
mod reach;
pub mod resolve;
mod shop;
mod value;

pub use instrument::*;
pub use lights::*;
pub use neck_and_body::*;
pub use shop::*;
pub use value::{Key, Known, Missing, Origin, Resolved, ResolvedValue, Sourced, Why};
