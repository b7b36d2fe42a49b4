//! (Until the drawing floor delivers its own.)
use crate::drawing::Item;

/// A finished drawing; millimetres on paper from its bottom left corner.
#[derive(Debug, Clone, PartialEq)]
pub struct Picture {
    /// Width on paper.
    pub width: f64,
    /// Height on paper.
    pub height: f64,
    /// The marks.
    pub items: Vec<Item>,
    /// What it shows, in words.
    pub alt: String,
}

impl Picture {
    /// All marks from the bottom up.
    pub fn items(&self) -> impl Iterator<Item = &Item> {
        self.items.iter()
    }
}
