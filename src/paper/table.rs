//! Tables as the sheets state them: columns, rows, cells; how they are set is decided later.

use super::text::Inlines;

/// A table.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Table {
    /// What stands over it; may be empty.
    pub caption: Inlines,
    /// The columns, left to right.
    pub columns: Vec<Column>,
    /// The rows, top to bottom. A row may have fewer cells than there are columns; the rest is empty.
    pub rows: Vec<Row>,
    /// Whether a helper works from it or the builder reads it.
    pub use_at: Place,
    /// The column whose like neighbours stay on one page, where they fit one; none: any row may begin a page.
    pub together: Option<usize>,
}

impl Table {
    /// Whether a row stays with the next one.
    pub(crate) fn holds_to_next(&self, row: usize) -> bool {
        let value = |row: usize| match self.rows.get(row) {
            Some(Row::Cells(cells)) => self.together.and_then(|column| cells.get(column)),
            _ => None,
        };
        value(row).is_some_and(|own| value(row + 1) == Some(own))
    }
}

/// Who reads a table, and so how large it is set.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Place {
    /// At arm's length: 9 pt at least, larger and with taller rows where there is room.
    #[default]
    Bench,
    /// At the desk: 8 pt, 7 pt if it must be, tight rows.
    Desk,
}

/// A column.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Column {
    /// What its cells say.
    pub heading: String,
    /// The unit of its numbers; may be empty.
    pub unit: String,
    /// How its cells stand under the heading.
    pub align: Align,
    /// How much its cells weigh.
    pub weight: Weight,
}

/// How cells stand in their column.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Align {
    /// At the left; long text runs over several lines.
    #[default]
    Left,
    /// At the right.
    Right,
    /// Numbers, one decimal point under the other.
    Decimal,
    /// In the middle.
    Centre,
}

/// How much a column's cells weigh.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Weight {
    /// As running text.
    #[default]
    Plain,
    /// Narrow and small: the other unit, a cross-check.
    Quiet,
    /// Bold.
    Strong,
    /// Bold and as large as the rows allow: the number to work by.
    Main,
}

impl Column {
    /// A column of text.
    pub fn text(heading: impl Into<String>) -> Self {
        Self { heading: heading.into(), ..Self::default() }
    }

    /// A column of numbers in a unit.
    pub fn number(heading: impl Into<String>, unit: impl Into<String>) -> Self {
        Self { heading: heading.into(), unit: unit.into(), align: Align::Decimal, weight: Weight::Plain }
    }

    /// A column of ticks, signs, or short words.
    pub fn centred(heading: impl Into<String>) -> Self {
        Self { heading: heading.into(), align: Align::Centre, ..Self::default() }
    }

    /// Another alignment.
    #[must_use]
    pub fn align(mut self, align: Align) -> Self {
        self.align = align;
        self
    }

    /// Another weight.
    #[must_use]
    pub fn weight(mut self, weight: Weight) -> Self {
        self.weight = weight;
        self
    }

    /// The number to work by.
    #[must_use]
    pub fn main(self) -> Self {
        self.weight(Weight::Main)
    }

    /// Small and narrow.
    #[must_use]
    pub fn quiet(self) -> Self {
        self.weight(Weight::Quiet)
    }

    /// Bold.
    #[must_use]
    pub fn strong(self) -> Self {
        self.weight(Weight::Strong)
    }
}

/// A row.
#[derive(Debug, Clone, PartialEq)]
pub enum Row {
    /// Cells.
    Cells(Vec<Cell>),
    /// A heading over the rows that follow.
    Group(Inlines),
    /// Cells under a rule: a sum.
    Total(Vec<Cell>),
}

impl From<Vec<Cell>> for Row {
    fn from(cells: Vec<Cell>) -> Self {
        Self::Cells(cells)
    }
}

/// A cell.
#[derive(Debug, Clone, PartialEq, Default)]
pub enum Cell {
    /// Nothing.
    #[default]
    Empty,
    /// Text.
    Text(Inlines),
    /// A box to tick.
    Tick,
    /// A line to write on.
    WriteIn,
}

impl From<&str> for Cell {
    fn from(text: &str) -> Self {
        Self::Text(text.into())
    }
}

impl From<String> for Cell {
    fn from(text: String) -> Self {
        Self::Text(text.into())
    }
}

impl From<Inlines> for Cell {
    fn from(text: Inlines) -> Self {
        Self::Text(text)
    }
}
