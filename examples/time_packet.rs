//! Where the time of a packet goes: `cargo run --release --example time_packet -- specs/T-204-lantern-street.toml`.
//!
//! Compiles one commission many times in one process and prints the quickest and the middle run. What is measured
//! is the library alone: no file is written.

use std::path::Path;
use std::process::ExitCode;
use std::time::Instant;

use kerfbook::packet::{InputFile, Inputs, Options, Templates, check, compile};
use kerfbook::source::{SourceFile, Sources};

const RUNS: usize = 50;

#[expect(clippy::print_stdout, clippy::disallowed_methods, reason = "an example reads files and talks to a terminal")]
fn main() -> ExitCode {
    let Some(path) = std::env::args().nth(1) else {
        println!("usage: time_packet COMMISSION.toml");
        return ExitCode::FAILURE;
    };
    let path = Path::new(&path);
    let shop = path.with_file_name("shop.toml");
    let Ok(text) = std::fs::read_to_string(path) else {
        println!("{} cannot be read", path.display());
        return ExitCode::FAILURE;
    };
    let mut sources = Sources::default();
    let mut input = |name: &Path, text: String| InputFile {
        id: sources.add(SourceFile::new(name.display().to_string(), text)),
        path: name.display().to_string(),
    };
    let commission = input(path, text);
    let shop = std::fs::read_to_string(&shop).ok().map(|text| input(&shop, text));
    let inputs = Inputs { sources, commission, shop, issues: None, templates: Templates::default() };
    let times = |what: &dyn Fn()| {
        let mut times: Vec<_> = (0..RUNS)
            .map(|_| {
                let start = Instant::now();
                what();
                start.elapsed()
            })
            .collect();
        times.sort_unstable();
        (times[0], times[RUNS / 2])
    };
    let (quickest, middle) = times(&|| drop(check(&inputs)));
    println!("read, resolve, compute, check: quickest {quickest:.2?}, middle {middle:.2?}");
    let (quickest, middle) = times(&|| drop(compile(&inputs, &Options::default())));
    println!("the same and the whole packet: quickest {quickest:.2?}, middle {middle:.2?}");
    ExitCode::SUCCESS
}
