//! The program: hands the command line to the library and ends with its exit status.

#![allow(clippy::disallowed_methods, reason = "the program's own arguments")]

use std::process::ExitCode;

use kerfbook::cli::{Terminal, run};

fn main() -> ExitCode {
    run(std::env::args_os(), &mut Terminal::of_process()).into()
}
