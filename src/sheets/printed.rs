//! What a sheet prints, as its stamp covers it: its figures as rounded for print, and the words that go with them.
//!
//! Neither headings and prose nor paper, page, issue and date come in; boxes to tick and lines to write on are no data.

use super::data::{Data, Value};
use super::{Job, Sheet};
use crate::paper;
use crate::spec::issues::{Identity, PrintedTable};
use crate::spec::words::Word;

/// The name of the single figures of a sheet.
pub(crate) const SINGLE: &str = "figures";

/// The name of the values that are measured.
pub(crate) const HOLDS: &str = "holds";

/// What every stamp of a commission covers: number, hand, part numbers.
pub fn identity(job: &Job<'_>) -> Identity {
    let (commission, parts) = (&job.model.commission, &job.model.parts);
    let numbers = [&parts.board, &parts.neck, &parts.body]
        .map(|part| part.get().map_or_else(|_| "open".to_owned(), |number| number.to_string()));
    let mut words = vec![commission.number.get().unwrap_or_default(), job.hand().as_word().to_owned()];
    words.extend(numbers);
    Identity(words)
}

/// The figures of a sheet.
pub fn printed(job: &Job<'_>, sheet: &Sheet) -> Vec<PrintedTable> {
    let mut tables = Vec::new();
    let mut single = Vec::new();
    single_figures("", &sheet.data, &mut single);
    push(&mut tables, SINGLE, ["what", "figure"].map(str::to_owned).to_vec(), single);
    for view in &sheet.views {
        let (headings, rows) = table(&view.table, view.prose);
        push(&mut tables, view.name, headings, rows);
    }
    let holds = sheet.holds.iter().map(|hold| {
        vec![hold.step.to_owned(), hold.what.clone(), hold.nominal_text(job), plain(&hold.range_text(job))]
    });
    let headings = ["step", "what", "nominal", "from … to"].map(str::to_owned).to_vec();
    push(&mut tables, HOLDS, headings, holds.collect());
    tables
}

fn push(tables: &mut Vec<PrintedTable>, name: &str, headings: Vec<String>, rows: Vec<Vec<String>>) {
    if !rows.is_empty() {
        tables.push(PrintedTable { name: name.to_owned(), headings, rows });
    }
}

/// The figures that stand by themselves; those of a list with their place in it, from 1.
fn single_figures(above: &str, data: &Data, rows: &mut Vec<Vec<String>>) {
    for (name, value) in data {
        let name = format!("{above}{}", name.replace('_', " "));
        match value {
            Value::Words(words) | Value::Quoted(words) => rows.push(vec![name, plain(words)]),
            Value::Flag(flag) => rows.push(vec![name, (if *flag { "yes" } else { "no" }).to_owned()]),
            Value::Prose(_) => {}
            Value::List(list) => {
                for (index, data) in list.iter().enumerate() {
                    single_figures(&format!("{name} {}, ", index + 1), data, rows);
                }
            }
        }
    }
}

/// A table's headings and rows, without columns that only explain and those that are filled in by hand.
fn table(table: &paper::Table, prose: &[usize]) -> (Vec<String>, Vec<Vec<String>>) {
    let by_hand = |cells: &[paper::Cell], column: usize| {
        matches!(cells.get(column), Some(paper::Cell::Tick | paper::Cell::WriteIn))
    };
    let cells = |row: &'_ paper::Row| match row {
        paper::Row::Cells(cells) | paper::Row::Total(cells) => cells.clone(),
        paper::Row::Group(text) => vec![text.clone().into()],
    };
    let rows: Vec<Vec<paper::Cell>> = table.rows.iter().map(cells).collect();
    let data: Vec<usize> = (0..table.columns.len())
        .filter(|column| !prose.contains(column) && !rows.iter().any(|row| by_hand(row, *column)))
        .collect();
    let heading = |column: &usize| {
        let column = &table.columns[*column];
        let (heading, unit) = (column.heading.clone(), &column.unit);
        if unit.is_empty() { heading } else { format!("{heading} ({unit})") }
    };
    let headings = data.iter().map(heading).collect();
    let words = |cell: Option<&paper::Cell>| match cell {
        Some(paper::Cell::Text(text)) => plain(&text.text()),
        _ => String::new(),
    };
    let rows = rows.iter().map(|row| data.iter().map(|column| words(row.get(*column))).collect());
    (headings, rows.collect())
}

/// A text without spaces that only keep it on its line.
fn plain(text: &str) -> String {
    text.replace('\u{a0}', " ")
}
