//! `kerfbook catalog`: the built-in tables with their sources.

use clap::Args;

use super::tabular::{Form, Grid};
use super::{Status, Terminal};
use crate::catalog::{LISTING_PROMPT, Table, tables};
use crate::spec::nearest;

/// Shows the built-in tables with their sources
#[derive(Debug, Args)]
#[command(after_help = EXAMPLES)]
pub(super) struct Catalog {
    /// The table; without it, the tables that there are
    table: Option<String>,
    /// How to show the table
    #[arg(long, value_enum, default_value_t = Form::Table)]
    format: Form,
}

const EXAMPLES: &str = "\
Examples:
  kerfbook catalog
  kerfbook catalog woods
  kerfbook catalog drills --format csv";

impl Catalog {
    pub(super) fn run(&self, terminal: &mut Terminal) -> Status {
        let tables = tables();
        let Some(wanted) = &self.table else {
            terminal.result(&contents(&tables).render(self.format));
            return terminal.end(Status::Well);
        };
        let Some(table) = tables.iter().find(|table| table.name == wanted) else {
            let names: Vec<_> = tables.iter().map(|table| table.name).collect();
            let help = match nearest(wanted, names.iter().copied()) {
                Some(near) => format!("did you mean `{near}`?"),
                None => format!("there are {}", names.join(", ")),
            };
            terminal.complain(&format!("there is no table `{wanted}`; {help}"));
            return terminal.end(Status::Usage);
        };
        let grid = Grid { columns: table.columns.clone(), rows: table.rows.clone(), decimals: None };
        let text = grid.render(self.format);
        match self.format {
            Form::Table => terminal.result(&format!("{}\n{text}\n{}", head(table), sources(table))),
            Form::Md => terminal.result(&format!("## {}\n\n{}\n{text}\n{}", table.name, head(table), sources(table))),
            Form::Csv | Form::Json => terminal.result(&text),
        }
        terminal.end(Status::Well)
    }
}

/// The list of tables.
fn contents(tables: &[Table]) -> Grid {
    let first_sentence = |about: &str| about.split(". ").next().unwrap_or(about).to_owned();
    let row = |table: &Table| vec![table.name.to_owned(), table.rows.len().to_string(), first_sentence(&table.about)];
    Grid {
        columns: ["table", "rows", "what"].map(str::to_owned).to_vec(),
        rows: tables.iter().map(row).collect(),
        decimals: None,
    }
}

fn head(table: &Table) -> String {
    format!("{}\n", table.about)
}

fn sources(table: &Table) -> String {
    let prompt = if table.name == "listings" { format!("{LISTING_PROMPT}\n") } else { String::new() };
    let sources: String = table.sources.iter().map(|source| format!("source: {source}\n")).collect();
    sources + &prompt
}
