//! `kerfbook sheet`: one sheet's table on the terminal.

use std::path::PathBuf;

use clap::Args;
use serde_json::Value;

use super::build::unknown_sheet;
use super::tabular::{Form, Grid, json_text};
use super::{Status, Terminal, batch};
use crate::diag::render;
use crate::packet::{self, Options, Packet};

/// Shows one sheet's table
#[derive(Debug, Args)]
#[command(after_help = EXAMPLES)]
pub(super) struct Sheet {
    /// The commission file
    spec: PathBuf,
    /// The sheet, as the packet names it
    sheet: String,
    /// How to show the table
    #[arg(long, value_enum, default_value_t = Form::Table)]
    format: Form,
}

const EXAMPLES: &str = "\
Examples:
  kerfbook sheet specs/K-7.toml fret-table
  kerfbook sheet specs/K-7.toml wiring --format json";

/// Decimals that the table for people shows at most; the other forms keep them all.
const DECIMALS: usize = 3;

impl Sheet {
    pub(super) fn run(&self, terminal: &mut Terminal) -> Status {
        if let Some(complaint) = unknown_sheet(&self.sheet) {
            terminal.complain(&complaint);
            return terminal.end(Status::Usage);
        }
        let options = Options::default();
        let batch = batch::run(std::slice::from_ref(&self.spec), terminal, |inputs| packet::compile(inputs, &options));
        let [commission] = batch.commissions.as_slice() else {
            if batch.commissions.len() > 1 {
                terminal.complain(&format!("{}: more than one commission; name one file", self.spec.display()));
            }
            return terminal.end(batch.status.max(Status::Usage));
        };
        let status = match (&commission.compiled.packet, batch.status) {
            (Some(packet), Status::Well) => self.show(packet, terminal),
            (_, status) => {
                let text = render::human(commission.findings(), commission.context(), terminal.colour_problems());
                terminal.problem(&text);
                status.max(Status::SpecErrors)
            }
        };
        terminal.end(status)
    }

    fn show(&self, packet: &Packet, terminal: &mut Terminal) -> Status {
        let Some(grid) = packet.file(&format!("tables/{}.csv", self.sheet)).and_then(grid) else {
            let message = format!("this commission's packet has no table `{}`; it has {}", self.sheet, tables(packet));
            terminal.complain(&message);
            return Status::SpecErrors;
        };
        let text = match self.form_json(packet) {
            Some(rows) => json_text(&rows),
            None => grid.render(self.format),
        };
        terminal.result(&text);
        Status::Well
    }

    /// The rows as `packet.json` has them, if JSON is wanted.
    fn form_json(&self, packet: &Packet) -> Option<Value> {
        if self.format != Form::Json {
            return None;
        }
        let whole: Value = serde_json::from_slice(packet.file("packet.json")?).ok()?;
        whole.get("tables")?.get(&self.sheet).cloned()
    }
}

/// The rows and columns of a table's file.
fn grid(csv: &[u8]) -> Option<Grid> {
    let mut reader = csv::Reader::from_reader(csv);
    let cells = |record: &csv::StringRecord| record.iter().map(str::to_owned).collect();
    let columns = cells(reader.headers().ok()?);
    let rows = reader.records().map(|record| record.map(|record| cells(&record))).collect::<Result<_, _>>().ok()?;
    Some(Grid { columns, rows, decimals: Some(DECIMALS) })
}

/// The tables that a packet has, in words.
fn tables(packet: &Packet) -> String {
    let paths = packet.files.iter().map(|file| file.path.as_str());
    let names: Vec<_> = paths.filter_map(|path| path.strip_prefix("tables/")?.strip_suffix(".csv")).collect();
    names.join(", ")
}
