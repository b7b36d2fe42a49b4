//! The one integration binary.

#![allow(clippy::unwrap_used, reason = "a test that unwraps nothing says where")]
#![allow(clippy::disallowed_methods, reason = "tests write files and take second opinions from the standard library")]

mod at_the_bench;
mod boards;
mod browser;
mod building;
mod checks;
mod cli;
mod compiled;
mod doubts;
mod drawing;
mod dxf;
mod figures;
mod full_size;
mod hostile;
mod hostile_text;
mod html;
mod issues;
mod known;
mod lit_sheets;
mod mirror;
mod mutants;
mod neck_and_body;
mod needs;
mod notes;
mod odd_boards;
mod pages;
mod paper;
mod patch;
mod patterns;
mod pdf;
mod ranges;
mod readme_pages;
mod salvage;
mod sample;
mod single_faults;
mod sound;
mod spoiling;
mod stamps;
mod story;
mod support;
mod template_names;
mod templates;
mod tidy;
mod tiles;
mod watch;
mod worked;
