//! Tables as HTML: every cell belongs to a column and to a row that has a name.

use super::blocks::Writer;
use super::escaped;
use crate::paper::{Align, Cell, Row, Table, Weight};

impl Writer<'_> {
    /// Opens a box that scrolls by itself where a table is wider than the screen; it has the name of the element with
    /// this identifier. The script takes the stop of the keyboard away where there is nothing to scroll.
    pub(super) fn open_scroll(&mut self, name: &str) {
        self.put(&format!(
            "<div class=\"scroll\" tabindex=\"0\" role=\"group\" aria-labelledby=\"{name}\">\n<table>\n"
        ));
    }

    pub(super) fn close_scroll(&mut self) {
        self.put("</table>\n</div>\n");
    }

    pub(super) fn table(&mut self, table: &Table) {
        if table.caption.is_empty() {
            let heading = self.heading.clone();
            self.open_scroll(&heading);
        } else {
            let name = self.name();
            self.open_scroll(&name);
            self.wrapped(&format!("<caption id=\"{name}\">"), &table.caption, "</caption>\n");
        }
        self.put("<thead><tr>");
        for (index, column) in table.columns.iter().enumerate() {
            let class = classes(table, index);
            // A column without a heading has nothing to be a header of.
            if column.heading.is_empty() && column.unit.is_empty() {
                self.put(&format!("<td class=\"{class}\"></td>"));
                continue;
            }
            self.put(&format!("<th scope=\"col\" class=\"{class}\">{}", escaped(&column.heading)));
            if !column.unit.is_empty() {
                self.put(&format!(" <span class=\"note\">{}</span>", escaped(&column.unit)));
            }
            self.put("</th>");
        }
        self.put("</tr></thead>\n<tbody>\n");
        for (index, row) in table.rows.iter().enumerate() {
            match row {
                Row::Group(text) => {
                    // A heading is that of its own body of rows.
                    if index > 0 {
                        self.put("</tbody>\n<tbody>\n");
                    }
                    let open = format!("<tr><th scope=\"rowgroup\" colspan=\"{}\">", table.columns.len().max(1));
                    self.wrapped(&open, text, "</th></tr>\n");
                }
                Row::Cells(cells) => self.row(table, "<tr>", cells),
                Row::Total(cells) => self.row(table, "<tr class=\"total\">", cells),
            }
        }
        self.put("</tbody>\n");
        self.close_scroll();
    }

    /// The first cell with words names the row; the boxes in it have its name.
    fn row(&mut self, table: &Table, open: &str, cells: &[Cell]) {
        self.put(open);
        let (name, words) = row_name(table, cells);
        for (index, column) in table.columns.iter().enumerate() {
            let class = classes(table, index);
            let (tag, close) = if name == Some(index) { ("th scope=\"row\"", "</th>") } else { ("td", "</td>") };
            self.put(&format!("<{tag} class=\"{class}\">"));
            match cells.get(index) {
                Some(Cell::Text(text)) => self.inlines(text),
                Some(Cell::Tick) => {
                    let label = escaped(&format!("{}: {words}", column.heading));
                    self.put(&format!("<input type=\"checkbox\" aria-label=\"{label}\">"));
                }
                Some(Cell::WriteIn) => {
                    let label = escaped(&format!("{}: {words}", column.heading));
                    self.put(&format!("<input type=\"text\" autocomplete=\"off\" aria-label=\"{label}\">"));
                }
                Some(Cell::Empty) | None => {}
            }
            self.put(close);
        }
        self.put("</tr>\n");
    }
}

/// Which cell names a row, and the name in full: `fret 12`; with what stands beside it in words, `step 7, Fret table`.
fn row_name(table: &Table, cells: &[Cell]) -> (Option<usize>, String) {
    let mut texts = cells.iter().enumerate().filter_map(|(index, cell)| match cell {
        Cell::Text(text) if !text.is_empty() => Some((index, text.text())),
        _ => None,
    });
    let Some((index, text)) = texts.next() else { return (None, String::new()) };
    let heading = table.columns.get(index).map_or("", |column| &column.heading);
    let mut name = format!("{heading} {text}");
    if let Some((next, text)) = texts.next()
        && table.columns.get(next).is_some_and(|column| column.align == Align::Left)
        && text.chars().any(char::is_alphabetic)
    {
        name.push_str(", ");
        name.push_str(&text);
    }
    (Some(index), name.trim().to_owned())
}

fn classes(table: &Table, column: usize) -> &'static str {
    let Some(column) = table.columns.get(column) else { return "l" };
    match (column.align, column.weight) {
        (Align::Left, Weight::Main) => "main",
        (Align::Left, Weight::Strong) => "strong",
        (Align::Left, Weight::Quiet) => "quiet",
        (Align::Left, Weight::Plain) => "l",
        (Align::Right | Align::Decimal, Weight::Main) => "r main",
        (Align::Right | Align::Decimal, Weight::Strong) => "r strong",
        (Align::Right | Align::Decimal, Weight::Quiet) => "r quiet",
        (Align::Right | Align::Decimal, Weight::Plain) => "r",
        (Align::Centre, Weight::Main) => "c main",
        (Align::Centre, Weight::Strong) => "c strong",
        (Align::Centre, Weight::Quiet) => "c quiet",
        (Align::Centre, Weight::Plain) => "c",
    }
}
