//! The command line: the only floor that touches files, the environment and the terminal.
//!
//! One file for each command. Results go to the standard output, problems to the standard error. The exit
//! status is 0 for all well, 1 for a spec with errors, 2 for a wrong command line, 3 for the machine's fault.

#![allow(clippy::disallowed_methods, reason = "files, environment and terminal belong here and nowhere else")]

mod batch;
mod build;
mod catalog;
mod check;
mod compare;
mod explain;
mod files;
mod folder_name;
mod issue;
mod one;
mod own_templates;
mod revision;
mod sheet;
mod shelf;
mod stamp;
mod tabular;
mod templates;
mod terminal;
mod today;
mod watch;

use std::ffi::OsString;
use std::process::ExitCode;

use clap::{Parser, Subcommand};

pub use terminal::Terminal;

/// Compiles one commission file of a fretted instrument into a build packet for the bench.
#[derive(Debug, Parser)]
#[command(name = "kerfbook", version, after_help = EXAMPLES)]
struct Arguments {
    #[command(subcommand)]
    command: Command,
}

const EXAMPLES: &str = "\
Examples:
  kerfbook check specs                  every problem of every commission below specs
  kerfbook build specs                  one packet per commission, into packets/
  kerfbook build specs/K-7.toml --paper letter
  kerfbook sheet specs/K-7.toml fret-table
  kerfbook explain CHAN-01              what a finding means and what to do

Exit status: 0 all well, 1 a spec has errors, 2 the command line is wrong, 3 a file cannot be read or written, or a template is
broken.";

#[derive(Debug, Subcommand)]
enum Command {
    Check(check::Check),
    Build(build::Build),
    Sheet(sheet::Sheet),
    Issue(issue::IssueCommand),
    Compare(compare::Compare),
    Stamp(stamp::StampCommand),
    Watch(watch::Watch),
    Explain(explain::Explain),
    Catalog(catalog::Catalog),
    Templates(templates::TemplatesCommand),
}

/// How a run ended; a graver one covers a lighter one.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Default)]
pub enum Status {
    /// All well; warnings allowed.
    #[default]
    Well,
    /// A spec has errors.
    SpecErrors,
    /// The command line is wrong.
    Usage,
    /// The machine's fault: a file cannot be read or written.
    Machine,
}

impl Status {
    /// The exit status of the process.
    pub const fn code(self) -> u8 {
        match self {
            Self::Well => 0,
            Self::SpecErrors => 1,
            Self::Usage => 2,
            Self::Machine => 3,
        }
    }
}

impl From<Status> for ExitCode {
    fn from(status: Status) -> Self {
        Self::from(status.code())
    }
}

/// Runs one command line, the program's name first.
pub fn run(arguments: impl IntoIterator<Item = OsString>, terminal: &mut Terminal) -> Status {
    let arguments = match Arguments::try_parse_from(arguments) {
        Ok(arguments) => arguments,
        Err(message) => return terminal.clap(&message),
    };
    match arguments.command {
        Command::Check(command) => command.run(terminal),
        Command::Build(command) => command.run(terminal),
        Command::Sheet(command) => command.run(terminal),
        Command::Issue(command) => command.run(terminal),
        Command::Compare(command) => command.run(terminal),
        Command::Stamp(command) => command.run(terminal),
        Command::Watch(command) => command.run(terminal),
        Command::Explain(command) => command.run(terminal),
        Command::Catalog(command) => command.run(terminal),
        Command::Templates(command) => command.run(terminal),
    }
}

#[cfg(test)]
mod tests {
    use clap::CommandFactory;

    use super::*;

    #[test]
    fn the_command_line_is_sound() {
        Arguments::command().debug_assert();
    }
}
