//! Data files of the catalogue: comma-separated text with its own head, compiled in.
//!
//! The head is lines that begin with `#`: one `# about:` and at least one `# source:`. Column names end in
//! their unit. In: the text. Out: typed rows for the program, and the same table as text for people.

use serde::de::DeserializeOwned;

/// One built-in table as text: what `kerfbook catalog` prints.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Table {
    /// The table's name on the command line.
    pub name: &'static str,
    /// What it holds and how far it may be trusted, in a sentence or two.
    pub about: String,
    /// Where its figures come from.
    pub sources: Vec<String>,
    /// Column names, with the unit at the end.
    pub columns: Vec<String>,
    /// The rows, each as long as `columns`.
    pub rows: Vec<Vec<String>>,
}

/// A data file compiled into the program.
#[derive(Debug)]
pub(super) struct DataFile {
    /// The table's name.
    pub(super) name: &'static str,
    /// The whole text.
    pub(super) text: &'static str,
}

impl DataFile {
    /// The rows, each read into the table's own type.
    ///
    /// # Panics
    /// Never in a tested build: each table's tests read it whole.
    pub(super) fn rows<T: DeserializeOwned>(&self) -> Vec<T> {
        let rows: Result<Vec<T>, _> = self.reader().deserialize().collect();
        rows.unwrap_or_else(|error| panic!("the built-in table {} is broken: {error}", self.name))
    }

    /// The table as text.
    ///
    /// # Panics
    /// Never in a tested build, as [`DataFile::rows`].
    pub(super) fn table(&self) -> Table {
        let mut reader = self.reader();
        let columns = reader.headers().expect("a built-in table has a head row").iter().map(str::to_owned).collect();
        let rows = reader
            .records()
            .map(|record| record.expect("a built-in table is whole").iter().map(str::to_owned).collect())
            .collect();
        let head = |word: &str| -> Vec<String> {
            self.text.lines().filter_map(|line| line.strip_prefix(word)).map(|text| text.trim().to_owned()).collect()
        };
        Table { name: self.name, about: head("# about:").join(" "), sources: head("# source:"), columns, rows }
    }

    fn reader(&self) -> csv::Reader<&'static [u8]> {
        csv::ReaderBuilder::new().comment(Some(b'#')).from_reader(self.text.as_bytes())
    }
}

/// Readers of single cells, for `#[serde(deserialize_with = "…")]`.
pub(super) mod cell {
    use serde::{Deserialize, Deserializer, de::Error};

    use crate::units::{Charge, Current, Density, Length, Quantity, Voltage};

    pub(in super::super) fn millimetres<'de, D: Deserializer<'de>>(cell: D) -> Result<Length, D::Error> {
        f64::deserialize(cell).map(Length::mm)
    }

    pub(in super::super) fn volts<'de, D: Deserializer<'de>>(cell: D) -> Result<Voltage, D::Error> {
        f64::deserialize(cell).map(Voltage::volts)
    }

    pub(in super::super) fn milliamperes<'de, D: Deserializer<'de>>(cell: D) -> Result<Current, D::Error> {
        f64::deserialize(cell).map(|value| Current::from_base(value / 1000.0))
    }

    pub(in super::super) fn milliampere_hours<'de, D: Deserializer<'de>>(cell: D) -> Result<Charge, D::Error> {
        f64::deserialize(cell).map(|value| Charge::from_base(value / 1000.0))
    }

    pub(in super::super) fn density<'de, D: Deserializer<'de>>(cell: D) -> Result<Density, D::Error> {
        f64::deserialize(cell).map(Density::kilograms_per_cubic_metre)
    }

    pub(in super::super) fn yes_or_no<'de, D: Deserializer<'de>>(cell: D) -> Result<bool, D::Error> {
        match String::deserialize(cell)?.as_str() {
            "yes" => Ok(true),
            "no" => Ok(false),
            other => Err(D::Error::custom(format!("`{other}` is neither yes nor no"))),
        }
    }

    /// A list in one cell, its words parted by semicolons; an empty cell is an empty list.
    pub(in super::super) fn words<'de, D, T>(cell: D) -> Result<Vec<T>, D::Error>
    where
        D: Deserializer<'de>,
        T: std::str::FromStr<Err = String>,
    {
        let text = String::deserialize(cell)?;
        text.split(';').filter(|word| !word.is_empty()).map(|word| word.parse().map_err(D::Error::custom)).collect()
    }
}
