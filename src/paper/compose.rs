//! From blocks to pages: the roomiest setting that costs no further page, then frame, head and title block around it.

use std::ops::Range;
use std::sync::Arc;

use kurbo::Rect;

use super::atom::{Placed, paginate};
use super::block::{Block, Figure};
use super::frame::{Frame, OPENING_ROLES, Turn};
use super::page::{Element, ElementId, Page, Role};
use super::set::{Column, Comfort, FIGURES, Gallery, Rows, Setter};
use crate::drawing::Picture;

/// A sheet to be set.
#[derive(Debug, Clone, PartialEq)]
pub struct Sheet {
    /// Its name, which links lead to.
    pub name: String,
    /// What stands around the text.
    pub frame: Frame,
    /// The text.
    pub blocks: Vec<Block>,
}

/// A sheet set in pages, but without what stands around the text: that may tell the number of sheets and pages of
/// the whole, which are known only once every sheet is set.
#[derive(Debug, Clone)]
pub struct Composition {
    name: String,
    body: Vec<Body>,
    elements: Vec<Element>,
    gallery: Gallery,
}

/// The text of one page.
#[derive(Debug, Clone)]
struct Body {
    area: Rect,
    placed: Vec<Placed>,
    back: Option<String>,
}

/// Where a heading stands.
#[derive(Debug, Clone, PartialEq)]
pub struct HeadingPlace {
    /// 2 or 3.
    pub level: u8,
    /// Its words.
    pub text: String,
    /// The page within the sheet, from 0.
    pub page: usize,
    /// Its top, in millimetres above the lower edge of the paper.
    pub top: f64,
}

/// Size of running text at the bench, points.
const BENCH_TEXT: f64 = 10.0;
/// Size of running text on pages that are not for the bench, points.
const DESK_TEXT: f64 = 9.0;

/// Sets a sheet in pages.
pub fn compose(sheet: &Sheet) -> Composition {
    let section = Element { role: Role::Section, parent: None, alternative: None };
    let opening = OPENING_ROLES.map(|role| Element { role, parent: Some(ElementId(0)), alternative: None });
    let mut elements = vec![section];
    elements.extend(opening);
    let mut gallery = Gallery::default();
    let mut body = Vec::new();
    for part in parts(&sheet.blocks) {
        let area = sheet.frame.body(part.back);
        let (pages, grown) = roomiest(&part, area, &elements, &mut gallery);
        elements = grown;
        let back = part.back.map(str::to_owned);
        body.extend(pages.into_iter().map(|placed| Body { area, placed, back: back.clone() }));
    }
    if body.is_empty() {
        body.push(Body { area: sheet.frame.body(None), placed: Vec::new(), back: None });
    }
    Composition { name: sheet.name.clone(), body, elements, gallery }
}

/// A stretch of blocks that begins on a page of its own.
struct Part<'a> {
    blocks: &'a [Block],
    back: Option<&'a str>,
}

fn parts(blocks: &[Block]) -> Vec<Part<'_>> {
    let is_break = |block: &Block| matches!(block, Block::PageBreak | Block::Back(_));
    let mut parts = Vec::new();
    let mut back = None;
    let mut rest = blocks;
    while !rest.is_empty() {
        let end = rest.iter().position(is_break).unwrap_or(rest.len());
        if end > 0 {
            parts.push(Part { blocks: &rest[..end], back });
        }
        if let Some(Block::Back(heading)) = rest.get(end) {
            back = Some(heading.as_str());
        }
        rest = rest.get(end + 1..).unwrap_or_default();
    }
    parts
}

/// The pages of a part, and all elements.
type Set = (Vec<Vec<Placed>>, Vec<Element>);

/// What a way to set a part costs: its pages, and then the tables that are broken over two of them.
fn cost(pages: &[Vec<Placed>]) -> (usize, usize) {
    let goes_on = |page: &&Vec<Placed>| match page.as_slice() {
        [header, row, ..] => row.atom.header.as_ref().is_some_and(|own| Arc::ptr_eq(own, &header.atom)),
        _ => false,
    };
    (pages.len(), pages.iter().skip(1).filter(goes_on).count())
}

/// The pages of a part in the roomiest setting that costs no more than the tightest, and all elements.
///
/// Rows are kept easy to read first, then drawings grow, then rows take what is left.
fn roomiest(part: &Part<'_>, area: Rect, elements: &[Element], gallery: &mut Gallery) -> Set {
    let mut set = |rows: usize, figure: usize| {
        let comfort = Comfort { rows: Rows::LEVELS[rows], figure: FIGURES[figure] };
        let mut grown = elements.to_vec();
        let size = if part.back.is_some() { DESK_TEXT } else { BENCH_TEXT };
        let mut setter = Setter { comfort, size, room: area.height(), elements: &mut grown, gallery };
        let column = Column { x: 0.0, width: area.width(), parent: ElementId(0) };
        (paginate(setter.blocks(part.blocks, column), area.height()), grown)
    };
    let first = set(0, 0);
    if first.0.len() <= 1 {
        return first;
    }
    let (tightest, smallest) = (Rows::LEVELS.len() - 1, FIGURES.len() - 1);
    let mut best = set(tightest, smallest);
    let least = cost(&best.0);
    if cost(&first.0) == least {
        return first;
    }
    let mut improve = |range: Range<usize>, place: &dyn Fn(usize) -> (usize, usize)| {
        let (found, pages) = first_of(range, |level| {
            let (rows, figure) = place(level);
            Some(set(rows, figure)).filter(|set| cost(&set.0) <= least)
        });
        if let Some(pages) = pages {
            best = pages;
        }
        found
    };
    let easy = improve(Rows::EASY..tightest, &|rows| (rows, smallest));
    let figure = improve(0..smallest, &|figure| (easy, figure));
    improve(0..easy, &|rows| (rows, figure));
    best
}

/// The first number of a range for which something is found, and what was found; the range's end if nothing is.
/// What is found for a number is found for all that follow, so it is sought by halving.
fn first_of<T>(range: Range<usize>, mut find: impl FnMut(usize) -> Option<T>) -> (usize, Option<T>) {
    let (mut low, mut high) = (range.start, range.end);
    let mut best = None;
    while low < high {
        let middle = low + (high - low) / 2;
        match find(middle) {
            Some(found) => {
                best = Some(found);
                high = middle;
            }
            None => low = middle + 1,
        }
    }
    (low, best)
}

impl Composition {
    /// The sheet's name.
    pub fn name(&self) -> &str {
        &self.name
    }

    /// How many pages the sheet has: one at least.
    pub fn page_count(&self) -> usize {
        self.body.len()
    }

    /// The headings below the title, in reading order.
    pub fn headings(&self) -> Vec<HeadingPlace> {
        let on = |(page, body): (usize, &Body)| {
            let of = |placed: &Placed| {
                let (level, text) = placed.atom.heading.clone()?;
                Some(HeadingPlace { level, text, page, top: body.area.y1 - placed.top })
            };
            body.placed.iter().filter_map(of).collect::<Vec<_>>()
        };
        self.body.iter().enumerate().flat_map(on).collect()
    }

    /// The structure that the pages' marks refer to.
    pub fn elements(&self) -> &[Element] {
        &self.elements
    }

    /// A figure's picture for the most room that a page has for it, so that nobody has to draw it again; none for a
    /// figure that does not stand on the sheet.
    pub fn picture(&self, figure: &Figure) -> Option<&Picture> {
        self.gallery.largest(figure)
    }

    /// The finished pages. The frame may say other words than the one the sheet was set for, but must leave the
    /// same room for the text; words in the title block never change it.
    pub fn pages(&self, frame: &Frame) -> Vec<Page> {
        self.pages_in(frame, None)
    }

    /// The same, each telling its page in what it is bound into: the first one's page, from 1, and how many there are.
    pub(crate) fn pages_in(&self, frame: &Frame, bound: Option<(usize, usize)>) -> Vec<Page> {
        let (width, height) = frame.paper.size();
        let count = self.body.len();
        let draw = |(index, body): (usize, &Body)| {
            let bound = bound.map(|(first, pages)| (first + index, pages));
            let turn = Turn { index, count, back: body.back.as_deref(), bound };
            let element = |number| (index == 0).then_some(ElementId(number));
            let mut sketch = frame.draw(turn, element(1), element(2));
            for placed in &body.placed {
                let top = body.area.y1 - placed.top;
                sketch.place(&placed.atom.sketch, body.area.x0, top);
                if let Some(closing) = placed.atom.closing.as_ref().filter(|_| placed.closes) {
                    sketch.place(closing, body.area.x0, top - placed.atom.height);
                }
            }
            Page { width, height, marks: sketch.marks, links: sketch.links }
        };
        self.body.iter().enumerate().map(draw).collect()
    }
}
