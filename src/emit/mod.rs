//! Back ends: finished values in, bytes out.

pub mod pdf;
