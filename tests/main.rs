//! The one integration binary.

#![allow(clippy::disallowed_methods, reason = "tests write files and take second opinions from the standard library")]

mod cli;
mod drawing;
mod known;
mod support;
mod tidy;
