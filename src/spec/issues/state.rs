//! What a commission is at one time: what is decided, and what each sheet prints.

use crate::stamp::Stamp;

/// What every stamp covers beside a sheet's data: the commission's number, hand and part numbers, in this order.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Identity(pub Vec<String>);

/// A decided value in its canonical form: `647.7 mm`, `24`, `amber lamp`, `open`, or a list of such.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Recorded {
    /// A single value.
    One(String),
    /// A list.
    List(Vec<String>),
}

/// Figures of one sheet that stand together on paper: a table, the values to be measured, or single figures.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PrintedTable {
    /// Its name within the sheet.
    pub name: String,
    /// Its headings, for people; no stamp covers them.
    pub headings: Vec<String>,
    /// Its rows, as rounded for print.
    pub rows: Vec<Vec<String>>,
}

/// What one sheet prints.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SheetState {
    /// The sheet's identifier.
    pub sheet: String,
    /// Its stamp.
    pub stamp: String,
    /// The figures that the stamp covers.
    pub printed: Vec<PrintedTable>,
}

/// A commission at one time.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct State {
    /// Number, hand, parts.
    pub identity: Identity,
    /// What is decided, by key, in the order of the commission file.
    pub values: Vec<(String, Recorded)>,
    /// The sheets in packet order, without those that only tell of the others.
    pub sheets: Vec<SheetState>,
}

impl State {
    /// The commission's number.
    pub fn number(&self) -> &str {
        self.identity.0.first().map_or("", String::as_str)
    }

    /// A value by its key.
    pub fn value(&self, key: &str) -> Option<&Recorded> {
        self.values.iter().find(|(own, _)| own == key).map(|(_, value)| value)
    }

    /// A sheet by its identifier.
    pub fn sheet(&self, sheet: &str) -> Option<&SheetState> {
        self.sheets.iter().find(|own| own.sheet == sheet)
    }
}

impl Recorded {
    /// The value in words.
    pub fn text(&self) -> String {
        match self {
            Self::One(text) => text.clone(),
            Self::List(list) => format!("[{}]", list.join(", ")),
        }
    }
}

impl Identity {
    /// The stamp of a sheet that prints these figures.
    ///
    /// The canonical text gives each word with its length before it, so that no two sheets share one.
    pub fn stamp_of(&self, sheet: &str, printed: &[PrintedTable]) -> Stamp {
        let mut canonical = String::new();
        line(&mut canonical, &self.0);
        line(&mut canonical, &[sheet]);
        for table in printed {
            line(&mut canonical, &[table.name.as_str(), &table.rows.len().to_string()]);
            for row in &table.rows {
                line(&mut canonical, row);
            }
        }
        Stamp::over(&canonical)
    }

    /// The stamp of a packet: over the stamps of its sheets.
    pub fn stamp_of_packet<'s>(&self, sheets: impl Iterator<Item = (&'s str, &'s str)>) -> Stamp {
        let mut canonical = String::new();
        line(&mut canonical, &self.0);
        line(&mut canonical, &["packet"]);
        for (sheet, stamp) in sheets {
            line(&mut canonical, &[sheet, stamp]);
        }
        Stamp::over(&canonical)
    }
}

fn line(canonical: &mut String, words: &[impl AsRef<str>]) {
    for word in words {
        let word = word.as_ref();
        canonical.push_str(&word.len().to_string());
        canonical.push(':');
        canonical.push_str(word);
    }
    canonical.push('\n');
}
