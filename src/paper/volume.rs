//! Sheets bound into one document: their pages in order, one structure, and where each begins.

use super::compose::{Composition, HeadingPlace};
use super::frame::Frame;
use super::page::{Element, ElementId, Page};

/// Pages of several sheets in order.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Volume {
    /// All pages.
    pub pages: Vec<Page>,
    /// The structure that all pages' marks refer to.
    pub elements: Vec<Element>,
    /// The sheets, in order.
    pub sheets: Vec<BoundSheet>,
}

/// A sheet's place in a volume.
#[derive(Debug, Clone, PartialEq)]
pub struct BoundSheet {
    /// Its name, which links lead to.
    pub name: String,
    /// Its first page, from 0.
    pub first: usize,
    /// How many pages it has.
    pub count: usize,
    /// Its headings; pages are counted within the sheet.
    pub headings: Vec<HeadingPlace>,
}

/// An entry of a document's table of bookmarks.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Bookmark {
    /// Its words.
    pub title: String,
    /// The page it leads to, from 0.
    pub page: usize,
    /// The place on the page, millimetres above its lower edge; none: its top.
    pub top: Option<f64>,
    /// Entries under it.
    pub below: Vec<Bookmark>,
}

impl Volume {
    /// Draws a set sheet within its frame and binds it in after the others.
    pub fn append(&mut self, composition: &Composition, frame: &Frame) {
        self.append_set(composition, composition.pages(frame));
    }

    /// The same for a sheet of a whole that this volume may hold only a part of: its pages tell their place in the
    /// whole, the first one's page from 1 and how many there are.
    pub fn append_of(&mut self, composition: &Composition, frame: &Frame, first: usize, pages: usize) {
        self.append_set(composition, composition.pages_in(frame, Some((first, pages))));
    }

    fn append_set(&mut self, composition: &Composition, pages: Vec<Page>) {
        self.append_pages(composition.name(), pages, composition.elements());
        if let Some(bound) = self.sheets.last_mut() {
            bound.headings = composition.headings();
        }
    }

    /// Binds in finished pages after the others, as one sheet; their marks refer to the elements given.
    pub fn append_pages(&mut self, name: &str, pages: Vec<Page>, elements: &[Element]) {
        let offset = self.elements.len();
        let moved = |id: ElementId| ElementId(id.0 + offset);
        let first = self.pages.len();
        for mut page in pages {
            for mark in &mut page.marks {
                mark.element = mark.element.map(moved);
            }
            self.pages.push(page);
        }
        self.elements.extend(elements.iter().map(|one| Element { parent: one.parent.map(moved), ..one.clone() }));
        let count = self.pages.len() - first;
        self.sheets.push(BoundSheet { name: name.to_owned(), first, count, headings: Vec::new() });
    }

    /// The place of a sheet.
    pub fn sheet(&self, name: &str) -> Option<&BoundSheet> {
        self.sheets.iter().find(|sheet| sheet.name == name)
    }
}

impl BoundSheet {
    /// A bookmark to the sheet with its headings of level 2 under it.
    pub fn bookmark(&self, title: impl Into<String>) -> Bookmark {
        let second = self.headings.iter().filter(|heading| heading.level == 2);
        let below = second.map(|heading| Bookmark {
            title: heading.text.clone(),
            page: self.first + heading.page,
            top: Some(heading.top),
            below: Vec::new(),
        });
        Bookmark { title: title.into(), page: self.first, top: None, below: below.collect() }
    }
}
