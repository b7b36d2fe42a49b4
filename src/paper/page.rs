//! Finished pages: marks in their places, links, and what each mark is in the document's structure.
//!
//! Millimetres, y up, zero at the lower left corner of the sheet of paper.

use kurbo::Rect;

use crate::drawing::Item;

/// A page ready for a back end.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Page {
    /// Width of the paper in millimetres.
    pub width: f64,
    /// Height of the paper in millimetres.
    pub height: f64,
    /// The marks, in reading order; later ones lie over earlier ones.
    pub marks: Vec<Mark>,
    /// Where a click leads to another sheet.
    pub links: Vec<Link>,
}

/// A mark and what it belongs to.
#[derive(Debug, Clone, PartialEq)]
pub struct Mark {
    /// The mark.
    pub item: Item,
    /// The element it is content of; none for frames, rules, and what repeats on each page.
    pub element: Option<ElementId>,
}

/// A stretch of a page that leads to a sheet.
#[derive(Debug, Clone, PartialEq)]
pub struct Link {
    /// Where.
    pub area: Rect,
    /// The sheet's name. A name that the document does not hold is no link.
    pub sheet: String,
}

/// Which element of a sheet's structure; an index into its list.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct ElementId(pub usize);

/// A node of the logical structure (ISO 32000-1, 14.8.4).
#[derive(Debug, Clone, PartialEq)]
pub struct Element {
    /// What it is.
    pub role: Role,
    /// The element that holds it, an earlier one of the list; none: the document itself.
    pub parent: Option<ElementId>,
    /// What a figure shows, in words.
    pub alternative: Option<String>,
}

/// What an element is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Role {
    /// A sheet.
    Section,
    /// A heading; 1 is the sheet's own title.
    Heading(u8),
    /// A paragraph.
    Paragraph,
    /// A list.
    List,
    /// One entry of a list.
    ListItem,
    /// The number or sign of an entry.
    Label,
    /// The text of an entry.
    ListBody,
    /// A table.
    Table,
    /// A row.
    TableRow,
    /// A cell that names its column.
    TableHeading,
    /// A cell that names its row.
    RowHeading,
    /// A cell.
    TableCell,
    /// A drawing.
    Figure,
    /// What stands over a table or under a drawing.
    Caption,
    /// Parts that belong together.
    Division,
}
