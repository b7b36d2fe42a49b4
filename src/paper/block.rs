//! What a sheet is made of before it is set: blocks, in reading order, without places.

use std::sync::Arc;

use super::table::Table;
use super::text::Inlines;
use crate::drawing::Drawing;

/// One block of a sheet.
#[derive(Debug, Clone, PartialEq)]
pub enum Block {
    /// A heading over what follows; never left alone at the foot of a page.
    Heading(Heading),
    /// Running text.
    Paragraph(Inlines),
    /// A list with bullets or numbers.
    List(List),
    /// A box to tick, and what is to be done or proved.
    Task(Task),
    /// A table.
    Table(Table),
    /// A drawing.
    Figure(Figure),
    /// What a machine is set to or what is read first: one, very large, or a few side by side.
    Settings(Vec<Setting>),
    /// A row of small boxed facts.
    Facts(Vec<Fact>),
    /// A row of boxes to write in.
    WriteIn(Vec<WriteIn>),
    /// A caution, with a black bar at its left.
    Caution(Inlines),
    /// Blocks that stand on one page if a page can hold them.
    Group(Vec<Block>),
    /// What follows begins a new page.
    PageBreak,
    /// What follows begins a new page headed with this: not needed at the bench.
    Back(String),
}

/// A heading below the sheet's own title.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Heading {
    /// 2 or 3; the sheet's title is 1.
    pub level: u8,
    /// The words.
    pub text: Inlines,
    /// Smaller, on the same line: a view, a scale.
    pub note: Inlines,
}

/// A list.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct List {
    /// The number of the first entry; none for bullets.
    pub start: Option<u64>,
    /// The entries.
    pub items: Vec<Vec<Block>>,
}

/// A line with a box to tick.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Task {
    /// What is to be done or proved.
    pub text: Inlines,
    /// Whether the box is ticked already.
    pub done: bool,
    /// The box at the right, for what was measured.
    pub write_in: Option<WriteIn>,
}

/// A box to write in.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct WriteIn {
    /// What is to be written, small in its upper corner; may be empty.
    pub label: String,
    /// The unit, at its right end; may be empty.
    pub unit: String,
}

impl WriteIn {
    /// A box with a label.
    pub fn labelled(label: impl Into<String>) -> Self {
        Self { label: label.into(), unit: String::new() }
    }
}

/// One large number and all that belongs to it.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Setting {
    /// What it belongs to, bold at its top, where it may be cut off its sheet; may be empty.
    pub mark: String,
    /// What it sets, before the number: "Set the blade above the sled to".
    pub label: String,
    /// The number as printed.
    pub value: String,
    /// Its unit.
    pub unit: String,
    /// How far it may be off, as printed; may be empty.
    pub tolerance: String,
    /// The same in the other unit, as printed; may be empty.
    pub other: String,
    /// What holds while it is so set; may be empty.
    pub note: Inlines,
    /// Small at the foot, apart: a stamp, a source; may be empty.
    pub foot: String,
    /// Boxes at the right; the first is the tallest.
    pub write_in: Vec<WriteIn>,
}

/// A small boxed fact.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Fact {
    /// What it is.
    pub label: String,
    /// The figure or word.
    pub value: String,
    /// Smaller, beside it; may be empty.
    pub note: String,
}

/// A drawing that is placed for the room it gets.
#[derive(Debug, Clone)]
pub struct Figure {
    /// What stands over it, beside the drawing's own title; may be empty.
    pub caption: Inlines,
    /// The most height it should take, in millimetres; none: what the page can spare.
    pub height: Option<f64>,
    /// The drawing, shared with whatever else writes it out.
    pub drawing: Arc<Drawing>,
}

impl Figure {
    /// A drawing under its own title.
    pub fn new(drawing: impl Into<Arc<Drawing>>) -> Self {
        Self { caption: Inlines::default(), height: None, drawing: drawing.into() }
    }

    /// No taller than this, in millimetres.
    #[must_use]
    pub fn within(mut self, height: f64) -> Self {
        self.height = Some(height);
        self
    }
}

/// Figures are alike if they show one and the same drawing in the same way.
impl PartialEq for Figure {
    fn eq(&self, other: &Self) -> bool {
        self.caption == other.caption && self.height == other.height && Arc::ptr_eq(&self.drawing, &other.drawing)
    }
}

impl From<Figure> for Block {
    fn from(figure: Figure) -> Self {
        Self::Figure(figure)
    }
}

impl From<Table> for Block {
    fn from(table: Table) -> Self {
        Self::Table(table)
    }
}

impl From<Setting> for Block {
    fn from(setting: Setting) -> Self {
        Self::Settings(vec![setting])
    }
}

impl From<Task> for Block {
    fn from(task: Task) -> Self {
        Self::Task(task)
    }
}

impl Block {
    /// A heading of a level below the title.
    pub fn heading(level: u8, text: impl Into<Inlines>) -> Self {
        Self::Heading(Heading { level, text: text.into(), note: Inlines::default() })
    }

    /// A paragraph.
    pub fn paragraph(text: impl Into<Inlines>) -> Self {
        Self::Paragraph(text.into())
    }

    /// A caution.
    pub fn caution(text: impl Into<Inlines>) -> Self {
        Self::Caution(text.into())
    }

    /// A box to tick with nothing to write in.
    pub fn task(text: impl Into<Inlines>) -> Self {
        Self::Task(Task { text: text.into(), ..Task::default() })
    }

    /// A box to tick, and a box for what was measured.
    pub fn measured_task(text: impl Into<Inlines>, write_in: WriteIn) -> Self {
        Self::Task(Task { text: text.into(), done: false, write_in: Some(write_in) })
    }
}
