//! kerfbook compiles one commission file of a fretted instrument into a build packet for the bench.
//!
//! The library is pure: text and options go in, bytes and findings come out. Only [`cli`] touches
//! files, the environment and the terminal. The modules stand on floors; each uses only what stands
//! above it in this list (a test holds them to it).

pub mod units;

pub mod rounding;

mod shared;

pub mod source;

pub mod diag;

pub mod stamp;

pub mod lettering;

pub mod geom;

pub mod drawing;

pub mod paper;

pub mod catalog;

pub mod spec;

pub mod model;

pub mod design;

pub mod checks;

pub mod sheets;

pub mod emit;

pub mod template;

pub mod packet;

pub mod cli;
