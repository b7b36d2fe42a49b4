//! Rows and columns on the standard output: for people as an aligned table or Markdown, for scripts as CSV or JSON.

use clap::ValueEnum;
use serde_json::{Map, Number, Value};

use crate::diag::render::visible;
use crate::rounding::fixed;

/// The forms of a table.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(super) enum Form {
    /// Aligned columns
    Table,
    /// Comma-separated values, every decimal
    Csv,
    /// An array of objects, every decimal
    Json,
    /// A Markdown table
    Md,
}

/// Rows and columns, each cell as text; figures with a dot as decimal mark.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Grid {
    /// Column names.
    pub(super) columns: Vec<String>,
    /// Rows, each as long as `columns`.
    pub(super) rows: Vec<Vec<String>>,
    /// The most decimals that people are shown; none: all of them.
    pub(super) decimals: Option<usize>,
}

impl Grid {
    /// The table in a form, with a line break at its end.
    pub(super) fn render(&self, form: Form) -> String {
        match form {
            Form::Table => self.aligned(),
            Form::Md => self.markdown(),
            Form::Csv => self.csv(),
            Form::Json => self.json(),
        }
    }

    /// Columns aligned by spaces, figures to the right.
    fn aligned(&self) -> String {
        let cells = self.for_people();
        let widths: Vec<usize> = (0..self.columns.len())
            .map(|column| cells.iter().map(|row| row[column].chars().count()).max().unwrap_or(0))
            .collect();
        let mut out = String::new();
        for row in &cells {
            let mut line = String::new();
            for (column, cell) in row.iter().enumerate() {
                let padding = " ".repeat(widths[column] - cell.chars().count());
                let (before, after) =
                    if self.is_figures(column) { (padding, String::new()) } else { (String::new(), padding) };
                line.push_str(if column == 0 { "" } else { "  " });
                line.extend([before.as_str(), cell, &after]);
            }
            out.push_str(line.trim_end());
            out.push('\n');
        }
        out
    }

    fn markdown(&self) -> String {
        let line = |cells: Vec<String>| format!("| {} |\n", cells.join(" | "));
        let mut rows =
            self.for_people().into_iter().map(|row| row.iter().map(|cell| cell.replace('|', "\\|")).collect());
        let mut out = line(rows.next().unwrap_or_default());
        let rule = |column| if self.is_figures(column) { "---:" } else { "---" }.to_owned();
        out.push_str(&line((0..self.columns.len()).map(rule).collect()));
        rows.for_each(|row| out.push_str(&line(row)));
        out
    }

    fn csv(&self) -> String {
        let mut writer = csv::WriterBuilder::new().terminator(csv::Terminator::CRLF).from_writer(Vec::new());
        for row in std::iter::once(&self.columns).chain(&self.rows) {
            let cells = row.iter().map(|cell| visible(cell));
            writer.write_record(cells).expect("rows are as long as the head, and memory takes them");
        }
        let bytes = writer.into_inner().expect("memory takes every row");
        String::from_utf8(bytes).expect("cells are text")
    }

    fn json(&self) -> String {
        let object = |row: &Vec<String>| -> Value {
            let pairs =
                row.iter().enumerate().map(|(column, cell)| (self.columns[column].clone(), self.value(column, cell)));
            Value::Object(pairs.collect::<Map<_, _>>())
        };
        json_text(&Value::Array(self.rows.iter().map(object).collect()))
    }

    fn value(&self, column: usize, cell: &str) -> Value {
        match (self.is_figures(column), cell.parse::<Number>()) {
            (true, _) if cell.is_empty() => Value::Null,
            (true, Ok(number)) => Value::Number(number),
            _ => Value::String(cell.to_owned()),
        }
    }

    /// Whether a column holds figures, and nothing else but empty cells.
    fn is_figures(&self, column: usize) -> bool {
        let mut cells = self.rows.iter().map(|row| row[column].as_str()).filter(|cell| !cell.is_empty()).peekable();
        cells.peek().is_some() && cells.all(|cell| cell.parse::<Number>().is_ok())
    }

    /// Head and rows as people read them: figures with a few decimals, foreign text made harmless.
    fn for_people(&self) -> Vec<Vec<String>> {
        let head = self.columns.iter().map(|column| visible(column)).collect();
        let cell = |(column, cell): (usize, &String)| {
            let written = cell.split_once('.').map_or(0, |(_, decimals)| decimals.len());
            match (cell.parse::<f64>(), self.decimals) {
                (Ok(figure), Some(most)) if written > most && self.is_figures(column) => fixed(figure, most),
                _ => visible(cell),
            }
        };
        let rows = self.rows.iter().map(|row| row.iter().enumerate().map(cell).collect());
        std::iter::once(head).chain(rows).collect()
    }
}

/// JSON for the standard output, with a line break at its end.
///
/// # Panics
/// Never: a JSON value is always text.
pub(super) fn json_text(value: &Value) -> String {
    let text = serde_json::to_string_pretty(value).expect("a JSON value is always text");
    crate::diag::render::harmless_json(&text) + "\n"
}

#[cfg(test)]
mod tests {
    use super::*;

    fn grid() -> Grid {
        let row = |cells: [&str; 3]| cells.map(str::to_owned).to_vec();
        Grid {
            columns: row(["what", "length_mm", "note"]),
            decimals: Some(3),
            rows: vec![
                row(["nut", "-0.2500000", "a|b"]),
                row(["fret 1", "37.421812", "\u{1b}[2J"]),
                row(["end", "", ""]),
            ],
        }
    }

    #[test]
    fn people_get_aligned_columns_and_few_decimals() {
        assert_eq!(
            grid().render(Form::Table),
            "what    length_mm  note\nnut        −0.250  a|b\nfret 1     37.422  \\u{1b}[2J\nend\n"
        );
        assert_eq!(
            grid().render(Form::Md),
            "| what | length_mm | note |\n| --- | ---: | --- |\n| nut | −0.250 | a\\|b |\n\
             | fret 1 | 37.422 | \\u{1b}[2J |\n| end |  |  |\n"
        );
    }

    #[test]
    fn scripts_get_every_decimal() {
        assert!(grid().render(Form::Csv).starts_with("what,length_mm,note\r\nnut,-0.2500000,a|b\r\n"));
        let value: Value = serde_json::from_str(&grid().render(Form::Json)).unwrap();
        assert_eq!(value[1]["length_mm"].as_f64(), Some(37.421812));
        assert_eq!(value[1]["note"], "\u{1b}[2J");
        assert_eq!(value[2]["length_mm"], Value::Null);
    }
}
