//! The computed instrument.

pub mod formula;
pub mod formulas;
