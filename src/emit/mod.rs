//! Back ends: finished values in, bytes out. Each is thin and knows one format.

pub mod csv;
pub mod dxf;
mod escape;
pub mod html;
pub mod pdf;
pub mod svg;
