//! `kerfbook explain`: what a finding means and what to do.

use clap::Args;

use super::tabular::{Form, Grid};
use super::{Status, Terminal};
use crate::diag::Code;
use crate::diag::codes::{Bounds, CODES, Limit, Row};
use crate::spec::nearest;

/// Explains a code: what is looked at, why, and what to do
#[derive(Debug, Args)]
#[command(after_help = EXAMPLES)]
pub(super) struct Explain {
    /// The code, as the finding prints it
    #[arg(required_unless_present = "all")]
    code: Option<String>,
    /// List every code
    #[arg(long, conflicts_with = "code")]
    all: bool,
}

const EXAMPLES: &str = "\
Examples:
  kerfbook explain CHAN-01
  kerfbook explain --all";

impl Explain {
    pub(super) fn run(&self, terminal: &mut Terminal) -> Status {
        let Some(wanted) = &self.code else {
            terminal.result(&every_code().render(Form::Table));
            return terminal.end(Status::Well);
        };
        if let Some(code) = Code::find(wanted) {
            terminal.result(code.row().page);
            return terminal.end(Status::Well);
        }
        let help = nearest(wanted, CODES.iter().map(|row| row.code.as_str()))
            .map_or_else(|| "`kerfbook explain --all` lists them".to_owned(), |near| format!("did you mean {near}?"));
        terminal.complain(&format!("there is no code `{wanted}`; {help}"));
        terminal.end(Status::Usage)
    }
}

fn every_code() -> Grid {
    let row = |row: &Row| {
        let limit =
            |bounds: fn(&Limit) -> Bounds| row.limit.map_or(String::new(), |limit| words(bounds(&limit), limit.unit));
        let (error, warning) = (limit(|limit| limit.error), limit(|limit| limit.warning));
        let note = limit(|limit| limit.note);
        vec![row.code.to_string(), row.severity.word().to_owned(), row.title.to_owned(), error, warning, note]
    };
    let columns = ["code", "gravest", "what is looked at", "error unless", "warning unless", "note unless"]
        .map(str::to_owned)
        .to_vec();
    Grid { columns, rows: CODES.iter().map(row).collect(), decimals: None }
}

/// Bounds in words: `at least 1 mm`.
fn words(bounds: Bounds, unit: &str) -> String {
    let text = match (bounds.least, bounds.most) {
        (Some(least), Some(most)) => format!("{least} to {most} {unit}"),
        (Some(least), None) => format!("at least {least} {unit}"),
        (None, Some(most)) => format!("at most {most} {unit}"),
        (None, None) => String::new(),
    };
    text.trim_end().to_owned()
}
