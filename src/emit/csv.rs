//! A table as CSV: RFC 4180, UTF-8, a header row, a dot as decimal mark, figures unrounded to nine decimals.

use crate::sheets::{Cell, Table};

/// The bytes of `tables/NAME.csv`.
///
/// Text from a commission file that a spreadsheet could take for a formula gets an apostrophe before it.
pub fn csv(table: &Table) -> Vec<u8> {
    let mut writer = csv::WriterBuilder::new().terminator(csv::Terminator::CRLF).from_writer(Vec::new());
    let header = table.columns.iter().map(|column| column.key);
    writer.write_record(header).expect("a vector takes every byte");
    for row in &table.rows {
        writer.write_record(row.iter().map(field)).expect("every row has a cell for each column");
    }
    writer.into_inner().expect("a vector takes every byte")
}

/// One field as text.
pub(super) fn field(cell: &Cell) -> String {
    match cell {
        Cell::Empty | Cell::Waits => String::new(),
        Cell::Figure(figure) => figure_text(*figure),
        Cell::Count(count) => count.to_string(),
        Cell::Words(words) => words.clone(),
        Cell::Quoted(text) if text.starts_with(['=', '+', '-', '@', '\t', '\r']) => format!("'{text}"),
        Cell::Quoted(text) => text.clone(),
    }
}

/// A figure with nine decimals, never minus zero.
pub(super) fn figure_text(figure: f64) -> String {
    let text = format!("{figure:.9}");
    match text.strip_prefix('-') {
        Some(rest) if rest.bytes().all(|byte| matches!(byte, b'0' | b'.')) => rest.to_owned(),
        _ => text,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sheets::Kind;

    #[test]
    fn fields_are_quoted_as_rfc_4180_says_and_formulas_are_inert() {
        let mut table = Table::new("t", &[("what", Kind::Words), ("x_mm", Kind::Length)]);
        table.row(vec![Cell::Quoted("a \"b\", c".to_owned()), (-0.0_f64).into()]);
        table.row(vec![Cell::Quoted("=SUM(A1)".to_owned()), 37.421_8_f64.into()]);
        table.row(vec![Cell::Empty, Cell::Waits]);
        let text = String::from_utf8(csv(&table)).unwrap();
        assert_eq!(text, "what,x_mm\r\n\"a \"\"b\"\", c\",0.000000000\r\n'=SUM(A1),37.421800000\r\n,\r\n");
    }
}
