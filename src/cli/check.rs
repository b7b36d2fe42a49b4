//! `kerfbook check`: every problem at once.

use std::path::PathBuf;

use clap::{Args, ValueEnum};

use super::{Status, Terminal, batch};
use crate::diag::Severity;
use crate::diag::render;
use crate::packet;
use crate::packet::salvage::{self, Change};

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
    /// Look at it with another value, and say which other single changes would still pass; may stand several times
    #[arg(long = "if", value_name = "KEY=VALUE")]
    what_if: Vec<Change>,
    /// With --format short: also say what to do
    #[arg(long, short)]
    verbose: bool,
}

const EXAMPLES: &str = "\
Examples:
  kerfbook check specs/K-7.toml
  kerfbook check specs --format short --verbose
  kerfbook check specs --format json --deny-warnings
  kerfbook check specs/K-7.toml --if \"channels.depth=2.9 mm\"    cut too deep: what still passes?";

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
        let batch =
            batch::run_changed(&self.specs, terminal, |inputs| salvage::changed(&inputs, &self.what_if), packet::check);
        let mut records = Vec::new();
        for commission in &batch.commissions {
            let (findings, context) = (commission.findings(), commission.context());
            match self.format {
                Format::Human => {
                    terminal.result(&render::human(findings, context, terminal.colour_results()));
                    let counts = commission.counts();
                    let counts = if counts.is_empty() { "nothing to say against it" } else { &counts };
                    let with =
                        self.what_if.iter().map(|change| format!(", with {}", render::visible(&change.to_string())));
                    let with: String = with.collect();
                    terminal.result(&format!("{}{with}: {counts}\n", render::visible(&commission.name)));
                    self.tell_ways_out(commission, terminal);
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

    /// After a slip at the bench: what else could be changed.
    fn tell_ways_out(&self, commission: &batch::Commission, terminal: &mut Terminal) {
        let report = &commission.compiled.report;
        if self.what_if.is_empty() || report.count(Severity::Error) + report.count(Severity::Warning) == 0 {
            return;
        }
        let found = salvage::ways_out(&commission.inputs, &self.what_if);
        if found.tried == 0 {
            return;
        }
        let better = if report.has_errors() { "it passes" } else { "fewer warnings are left" };
        let mut text = if found.ways.is_empty() {
            format!("\nNo other single change helps; {} were tried. Two together may.\n", found.tried)
        } else {
            format!("\nOne other change and {better}, the best first; {} were tried:\n", found.tried)
        };
        let longest = found.ways.iter().map(|way| way.change.to_string().chars().count()).max().unwrap_or(0);
        for way in &found.ways {
            let codes: Vec<&str> = way.warnings.iter().map(|code| code.as_str()).collect();
            let left = if codes.is_empty() { "no warning".to_owned() } else { format!("warns {}", codes.join(" ")) };
            let change = render::visible(&way.change.to_string()).to_string();
            text.push_str(&format!("  {change:<longest$}  {left}\n"));
        }
        for change in self.what_if.iter().filter(|change| salvage::can_be_filled(change)) {
            let key = render::visible(&change.key).to_string();
            text.push_str(&format!("Or fill what was cut, let it cure, and cut {key} again as the file has it.\n"));
        }
        terminal.result(&text);
    }
}
