//! The one integration binary.

#![allow(clippy::unwrap_used, reason = "a test that unwraps nothing says where")]
#![allow(clippy::disallowed_methods, reason = "tests write files and take second opinions from the standard library")]

mod building;
mod cli;
mod drawing;
mod known;
mod paper;
mod pdf;
mod sample;
mod support;
mod tidy;
