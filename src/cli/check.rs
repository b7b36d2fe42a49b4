//! `kerfbook check`: every problem at once.

use std::path::PathBuf;

use clap::{Args, ValueEnum};

use super::{Status, Terminal, batch};
use crate::diag::Severity;
use crate::diag::render;
use crate::packet;

/// Finds every problem of every commission, and writes nothing
#[derive(Debug, Args)]
#[command(after_help = EXAMPLES)]
pub(super) struct Check {
    /// Commission files, or folders that stand for all commissions below them
    #[arg(required = true, value_name = "SPEC")]
    specs: Vec<PathBuf>,
    /// How to tell the findings
    #[arg(long, value_enum, default_value_t = Format::Human)]
    format: Format,
    /// Exit with status 1 on warnings too
    #[arg(long)]
    deny_warnings: bool,
    /// With --format short: also say what to do
    #[arg(long, short)]
    verbose: bool,
}

const EXAMPLES: &str = "\
Examples:
  kerfbook check specs/K-7.toml
  kerfbook check specs --format short --verbose
  kerfbook check specs --format json --deny-warnings";

/// The forms of a report.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
enum Format {
    /// The lines concerned, with what to do
    Human,
    /// One line a finding: PATH:LINE:COLUMN: error CODE: message
    Short,
    /// One array for scripts
    Json,
}

impl Check {
    /// Findings are what this command is for: they go to the standard output.
    pub(super) fn run(&self, terminal: &mut Terminal) -> Status {
        let batch = batch::run(&self.specs, terminal, packet::check);
        let mut records = Vec::new();
        for commission in &batch.commissions {
            let (findings, context) = (commission.findings(), commission.context());
            match self.format {
                Format::Human => {
                    terminal.result(&render::human(findings, context, terminal.colour_results()));
                    let counts = commission.counts();
                    let counts = if counts.is_empty() { "nothing to say against it" } else { &counts };
                    terminal.result(&format!("{}: {counts}\n", render::visible(&commission.name)));
                }
                Format::Short => terminal.result(&render::short(findings, context, self.verbose)),
                Format::Json => records.extend(render::findings(findings, context)),
            }
        }
        if self.format == Format::Json {
            terminal.result(&render::to_json(&records));
        }
        let warned = |commission: &batch::Commission| commission.compiled.report.count(Severity::Warning) > 0;
        let denied = self.deny_warnings && batch.commissions.iter().any(warned);
        let status = if denied { batch.status.max(Status::SpecErrors) } else { batch.status };
        terminal.end(status)
    }
}
