//! A sheet's table: rows of figures in base units, from which files are written and paper views are set.
//!
//! Files carry every column unrounded; a view shows a few of them, rounded once, in the working unit.

use crate::model::Known;
use crate::paper;
use crate::rounding;
use crate::units::{MM_PER_INCH, WorkingUnit};

/// A table of one sheet.
#[derive(Debug, Clone, PartialEq)]
pub struct Table {
    /// Its name: the sheet's identifier, as in `tables/NAME.csv`.
    pub name: &'static str,
    /// The columns of the files, in order.
    pub columns: Vec<Column>,
    /// The rows; each has a cell for each column.
    pub rows: Vec<Vec<Cell>>,
}

/// A column: its key in files and what its cells are.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Column {
    /// The key in files: `from_nut_mm`.
    pub key: &'static str,
    /// What its cells are.
    pub kind: Kind,
}

/// What the cells of a column are, and so how they are printed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Kind {
    /// Millimetres; printed in the working unit, 2 decimals in mm, 3 in inches.
    Length,
    /// A signed place across in files; on paper its distance from the centreline, the side being named beside it.
    Across,
    /// Millimetres of a tool's size; printed in mm with at most 2 decimals.
    Size,
    /// Newtons; printed with 1 decimal, in pounds of force where inches are worked in.
    Force,
    /// A figure in a unit of its own with this many decimals.
    Figure(&'static str, usize),
    /// An amount in the unit beside it, with at most 2 decimals.
    Amount,
    /// A count.
    Count,
    /// Words.
    Words,
}

/// One cell.
#[derive(Debug, Clone, PartialEq)]
pub enum Cell {
    /// Nothing there by its nature.
    Empty,
    /// It waits for an open value.
    Waits,
    /// A figure in the column's base unit.
    Figure(f64),
    /// A count.
    Count(i64),
    /// Words of our own.
    Words(String),
    /// Text from a commission or shop file.
    Quoted(String),
}

impl From<f64> for Cell {
    fn from(figure: f64) -> Self {
        if figure.is_finite() { Self::Figure(figure) } else { Self::Empty }
    }
}

impl From<usize> for Cell {
    fn from(count: usize) -> Self {
        Self::Count(i64::try_from(count).unwrap_or(i64::MAX))
    }
}

impl From<&str> for Cell {
    fn from(words: &str) -> Self {
        Self::Words(words.to_owned())
    }
}

impl From<String> for Cell {
    fn from(words: String) -> Self {
        Self::Words(words)
    }
}

impl<T: Into<Self>> From<Option<T>> for Cell {
    fn from(cell: Option<T>) -> Self {
        cell.map_or(Self::Empty, Into::into)
    }
}

impl<T: Into<Self>> From<Known<T>> for Cell {
    fn from(cell: Known<T>) -> Self {
        cell.map_or(Self::Waits, Into::into)
    }
}

/// A column of a paper view.
#[derive(Debug, Clone, PartialEq)]
pub enum View {
    /// A column of the table.
    Column {
        /// Its key.
        key: &'static str,
        /// Its heading on paper.
        heading: String,
        /// How much it weighs.
        weight: paper::Weight,
        /// Shown in the other unit than the working one.
        other_unit: bool,
    },
    /// A length in inches as a fraction with its remainder.
    Fraction {
        /// The column's key.
        key: &'static str,
        /// Its heading on paper.
        heading: String,
    },
    /// A box to tick.
    Tick(String),
    /// A line to write on.
    WriteIn(String),
}

impl View {
    /// A column as it is.
    pub fn column(key: &'static str, heading: impl Into<String>) -> Self {
        Self::Column { key, heading: heading.into(), weight: paper::Weight::Plain, other_unit: false }
    }

    /// The same, in the other unit, small.
    pub fn other(key: &'static str, heading: impl Into<String>) -> Self {
        Self::Column { key, heading: heading.into(), weight: paper::Weight::Quiet, other_unit: true }
    }

    /// The number to work by.
    #[must_use]
    pub fn main(self) -> Self {
        self.weighing(paper::Weight::Main)
    }

    /// Bold.
    #[must_use]
    pub fn strong(self) -> Self {
        self.weighing(paper::Weight::Strong)
    }

    /// Small.
    #[must_use]
    pub fn quiet(self) -> Self {
        self.weighing(paper::Weight::Quiet)
    }

    fn weighing(self, weight: paper::Weight) -> Self {
        match self {
            Self::Column { key, heading, other_unit, .. } => Self::Column { key, heading, weight, other_unit },
            other => other,
        }
    }
}

/// A paper view with the name that a template calls it by.
#[derive(Debug, Clone, PartialEq)]
pub struct Named {
    /// The name.
    pub name: &'static str,
    /// The view, set in the working unit.
    pub table: paper::Table,
    /// The columns, from 0, that only explain: no stamp covers them.
    pub prose: &'static [usize],
}

impl Table {
    /// An empty table.
    pub fn new(name: &'static str, columns: &[(&'static str, Kind)]) -> Self {
        Self {
            name,
            columns: columns.iter().map(|(key, kind)| Column { key, kind: *kind }).collect(),
            rows: Vec::new(),
        }
    }

    /// Adds a row.
    ///
    /// # Panics
    /// When the row has not a cell for each column: a slip of ours.
    pub fn row(&mut self, cells: Vec<Cell>) {
        assert_eq!(cells.len(), self.columns.len(), "a cell for each column of {}", self.name);
        self.rows.push(cells);
    }

    /// Whether a column is known in any row.
    pub fn knows(&self, key: &str) -> bool {
        let index = self.index(key);
        self.rows.iter().any(|row| !matches!(row[index], Cell::Waits | Cell::Empty))
    }

    /// The place of a column.
    ///
    /// # Panics
    /// For a key that is not in the table: a slip of ours.
    pub fn index(&self, key: &str) -> usize {
        self.columns.iter().position(|column| column.key == key).expect("a view shows columns that its table has")
    }

    /// A view for the bench: columns that wait in every row are left out.
    pub fn bench(&self, name: &'static str, unit: WorkingUnit, views: &[View]) -> Named {
        self.view(name, unit, paper::Place::Bench, views, |_| true)
    }

    /// A view for the builder's desk.
    pub fn desk(&self, name: &'static str, unit: WorkingUnit, views: &[View]) -> Named {
        self.view(name, unit, paper::Place::Desk, views, |_| true)
    }

    /// A view of some rows.
    pub fn view(
        &self,
        name: &'static str,
        unit: WorkingUnit,
        place: paper::Place,
        views: &[View],
        keep: impl Fn(&[Cell]) -> bool,
    ) -> Named {
        let rows: Vec<&Vec<Cell>> = self.rows.iter().filter(|row| keep(row)).collect();
        let waits_everywhere = |key: &str| {
            let index = self.index(key);
            !rows.is_empty() && rows.iter().all(|row| row[index] == Cell::Waits)
        };
        let shown: Vec<&View> = views
            .iter()
            .filter(|view| match view {
                View::Column { key, .. } | View::Fraction { key, .. } => !waits_everywhere(key),
                View::Tick(_) | View::WriteIn(_) => true,
            })
            .collect();
        let columns = shown.iter().map(|view| self.paper_column(view, unit)).collect();
        let rows = rows
            .iter()
            .map(|row| shown.iter().map(|view| self.paper_cell(view, row, unit)).collect::<Vec<_>>().into())
            .collect();
        Named { name, table: paper::Table { columns, rows, use_at: place, ..paper::Table::default() }, prose: &[] }
    }

    fn paper_column(&self, view: &View, unit: WorkingUnit) -> paper::Column {
        match view {
            View::Column { key, heading, weight, other_unit } => {
                let unit = if *other_unit { other(unit) } else { unit };
                let kind = self.columns[self.index(key)].kind;
                let column = match kind {
                    Kind::Length | Kind::Across => paper::Column::number(heading.clone(), unit_word(unit)),
                    Kind::Size => paper::Column::number(heading.clone(), "mm"),
                    Kind::Force => paper::Column::number(heading.clone(), force_word(unit)),
                    Kind::Figure(own, _) => paper::Column::number(heading.clone(), own),
                    Kind::Count | Kind::Amount => paper::Column::number(heading.clone(), ""),
                    Kind::Words => paper::Column::text(heading.clone()),
                };
                column.weight(*weight)
            }
            View::Fraction { heading, .. } => {
                paper::Column::number(heading.clone(), "in").align(paper::Align::Left).quiet()
            }
            View::Tick(heading) => paper::Column::centred(heading.clone()),
            View::WriteIn(heading) => paper::Column::text(heading.clone()),
        }
    }

    fn paper_cell(&self, view: &View, row: &[Cell], unit: WorkingUnit) -> paper::Cell {
        match view {
            View::Column { key, other_unit, .. } => {
                let index = self.index(key);
                let unit = if *other_unit { other(unit) } else { unit };
                let text = printed(&row[index], self.columns[index].kind, unit);
                if text.is_empty() { paper::Cell::Empty } else { text.into() }
            }
            View::Fraction { key, .. } => match row[self.index(key)] {
                Cell::Figure(figure) => rounding::fraction_and_remainder(figure).replace(' ', "\u{a0}").into(),
                _ => paper::Cell::Empty,
            },
            View::Tick(_) => paper::Cell::Tick,
            View::WriteIn(_) => paper::Cell::WriteIn,
        }
    }
}

/// A cell as it is printed; "open" where it waits, nothing where there is nothing.
pub(crate) fn printed(cell: &Cell, kind: Kind, unit: WorkingUnit) -> String {
    match (cell, kind) {
        (Cell::Empty, _) => String::new(),
        (Cell::Waits, _) => "open".to_owned(),
        (Cell::Figure(figure), Kind::Length) => length(*figure, unit),
        (Cell::Figure(figure), Kind::Across) => length(figure.abs(), unit),
        (Cell::Figure(figure), Kind::Size | Kind::Amount) => size(*figure),
        (Cell::Figure(figure), Kind::Force) => force(*figure, unit, 1),
        (Cell::Figure(figure), Kind::Figure(_, decimals)) => rounding::fixed(*figure, decimals),
        (Cell::Figure(figure), Kind::Count | Kind::Words) => rounding::fixed(*figure, 0),
        (Cell::Count(count), _) => count.to_string(),
        (Cell::Words(words) | Cell::Quoted(words), _) => words.clone(),
    }
}

/// A length as it is printed in a unit, without it: 2 decimals in mm, 3 in inches.
pub(crate) fn length(millimetres: f64, unit: WorkingUnit) -> String {
    match unit {
        WorkingUnit::Millimetre => rounding::fixed(millimetres, 2),
        WorkingUnit::Inch => rounding::fixed(millimetres / MM_PER_INCH, 3),
    }
}

/// Newtons in a pound of force: 0.45359237 kg by 9.80665 m/s², both exact (international pound, standard gravity;
/// NIST SP 811, appendix B).
const NEWTONS_IN_A_POUND: f64 = 0.453_592_37 * 9.806_65;

/// A force as it is printed beside lengths in a unit, without its own.
pub(crate) fn force(newtons: f64, unit: WorkingUnit, decimals: usize) -> String {
    match unit {
        WorkingUnit::Millimetre => rounding::fixed(newtons, decimals),
        WorkingUnit::Inch => rounding::fixed(newtons / NEWTONS_IN_A_POUND, decimals),
    }
}

/// The sign of the unit that a force is printed in.
pub(crate) const fn force_word(unit: WorkingUnit) -> &'static str {
    match unit {
        WorkingUnit::Millimetre => "N",
        WorkingUnit::Inch => "lbf",
    }
}

/// A figure, as a tool's size in mm, with no needless zeros: `3.1`, `5`, `6.35`.
pub(crate) fn size(millimetres: f64) -> String {
    let text = rounding::fixed(millimetres, 2);
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}

/// The size of a bit or cutter as it is asked for at the rack.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct ToolSize {
    /// The figure, a fraction where it is one of inches.
    pub(crate) value: String,
    /// Its unit.
    pub(crate) unit: &'static str,
    /// The same in the other unit, with it.
    pub(crate) other: String,
}

impl std::fmt::Display for ToolSize {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{}\u{a0}{}", self.value, self.unit)
    }
}

/// A tool's size in the unit it is sold in: a whole number of 64ths of an inch is one where inches are worked in, and
/// where it is no tenth of a millimetre. What is neither is told in the working unit.
pub(crate) fn tool(millimetres: f64, unit: WorkingUnit) -> ToolSize {
    let tenths = millimetres * 10.0;
    let metric = (tenths - tenths.round()).abs() < rounding::ON_STEP;
    match rounding::whole_sixty_fourths(millimetres).filter(|_| unit == WorkingUnit::Inch || !metric) {
        Some(value) => ToolSize { value, unit: "in", other: format!("{}\u{a0}mm", size(millimetres)) },
        None if unit == WorkingUnit::Inch && !metric => ToolSize {
            value: length(millimetres, WorkingUnit::Inch),
            unit: "in",
            other: format!("{}\u{a0}mm", size(millimetres)),
        },
        None => ToolSize {
            value: size(millimetres),
            unit: "mm",
            other: format!("{}\u{a0}in", length(millimetres, WorkingUnit::Inch)),
        },
    }
}

/// The other unit.
pub(crate) const fn other(unit: WorkingUnit) -> WorkingUnit {
    match unit {
        WorkingUnit::Millimetre => WorkingUnit::Inch,
        WorkingUnit::Inch => WorkingUnit::Millimetre,
    }
}

/// The unit's sign.
pub(crate) const fn unit_word(unit: WorkingUnit) -> &'static str {
    match unit {
        WorkingUnit::Millimetre => "mm",
        WorkingUnit::Inch => "in",
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_tool_is_asked_for_in_the_unit_it_is_sold_in() {
        let asked = |size, unit| tool(size, unit).to_string();
        // Inch drills by 64ths and metric ones by tenths: ISO 235 and ASME B94.11M list both, from memory.
        for unit in [WorkingUnit::Millimetre, WorkingUnit::Inch] {
            assert_eq!(asked(6.35, unit), "1/4\u{a0}in");
            assert_eq!(asked(3.175, unit), "1/8\u{a0}in");
            assert_eq!(asked(3.1, unit), "3.1\u{a0}mm");
        }
        // What is neither, such as a dot of 0.08 in, is told in the working unit.
        assert_eq!(asked(2.032, WorkingUnit::Inch), "0.080\u{a0}in");
        assert_eq!(asked(2.032, WorkingUnit::Millimetre), "2.03\u{a0}mm");
        // Half an inch is a metric size too.
        assert_eq!(asked(12.7, WorkingUnit::Millimetre), "12.7\u{a0}mm");
        assert_eq!(asked(12.7, WorkingUnit::Inch), "1/2\u{a0}in");
    }
}
