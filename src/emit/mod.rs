//! (Being written.)

pub mod svg;
