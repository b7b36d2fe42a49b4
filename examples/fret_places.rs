//! The library without files: a commission's text in, the places of its frets out.
//!
//! `cargo run --example fret_places`

use kerfbook::design::Design;
use kerfbook::diag::Report;
use kerfbook::model::resolve;
use kerfbook::rounding::fixed;
use kerfbook::source::{SourceFile, Sources};
use kerfbook::spec;

#[expect(clippy::print_stdout, reason = "an example talks to a terminal")]
fn main() {
    let mut sources = Sources::default();
    let file = sources.add(SourceFile::new("smallest.toml", include_str!("smallest.toml")));
    let mut report = Report::default();
    let written = spec::read(&sources, file, &mut report);
    let model = resolve::resolve(&written, None, &mut report);
    for finding in report.findings() {
        println!("{}: {}", finding.code, finding.message);
    }
    let Some(model) = model else { return };
    match Design::of(&model).layout {
        Ok(layout) => {
            for (fret, line) in layout.frets() {
                println!("fret {fret:2}: {:>7} mm from the zero line", fixed(line.x, 2));
            }
        }
        Err(missing) => println!("the frets wait for {}", missing.key),
    }
}
