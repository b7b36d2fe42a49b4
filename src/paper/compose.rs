//! From blocks to pages: the roomiest setting that costs no further page, then frame, head and title block around it.

use kurbo::Rect;

use super::atom::{Placed, paginate};
use super::block::Block;
use super::frame::{Frame, OPENING_ROLES, Turn};
use super::page::{Element, ElementId, Page, Role};
use super::set::{Column, Comfort, Gallery, Setter};

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
    Composition { name: sheet.name.clone(), body, elements }
}

/// A stretch of blocks that begins on a page of its own.
struct Part<'a> {
    blocks: Vec<&'a Block>,
    back: Option<&'a str>,
}

fn parts(blocks: &[Block]) -> Vec<Part<'_>> {
    let mut parts = vec![Part { blocks: Vec::new(), back: None }];
    for block in blocks {
        let last = parts.last_mut().expect("there is always a part");
        match block {
            Block::PageBreak => {
                let back = last.back;
                parts.push(Part { blocks: Vec::new(), back });
            }
            Block::Back(heading) => parts.push(Part { blocks: Vec::new(), back: Some(heading) }),
            other => last.blocks.push(other),
        }
    }
    parts.retain(|part| !part.blocks.is_empty());
    parts
}

/// The pages of a part in the roomiest setting that needs no more of them than the tightest, and all elements.
fn roomiest(
    part: &Part<'_>,
    area: Rect,
    elements: &[Element],
    gallery: &mut Gallery,
) -> (Vec<Vec<Placed>>, Vec<Element>) {
    let mut set = |comfort: Comfort| {
        let mut grown = elements.to_vec();
        let size = if part.back.is_some() { DESK_TEXT } else { BENCH_TEXT };
        let mut setter = Setter { comfort, size, room: area.height(), elements: &mut grown, gallery };
        let column = Column { x: 0.0, width: area.width(), parent: ElementId(0) };
        let atoms = part.blocks.iter().flat_map(|block| setter.blocks(std::slice::from_ref(*block), column)).collect();
        (paginate(atoms, area.height()), grown)
    };
    let [roomy, between @ .., tight] = Comfort::LEVELS;
    let first = set(roomy);
    if first.0.len() <= 1 {
        return first;
    }
    let mut best = set(tight);
    let least = best.0.len();
    if first.0.len() == least {
        return first;
    }
    // What is tighter never takes more pages, so the roomiest that is tight enough is found by halving.
    let mut levels = &between[..];
    while !levels.is_empty() {
        let middle = levels.len() / 2;
        let tried = set(levels[middle]);
        if tried.0.len() == least {
            best = tried;
            levels = &levels[..middle];
        } else {
            levels = &levels[middle + 1..];
        }
    }
    best
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

    /// The finished pages. The frame may say other words than the one the sheet was set for, but must leave the
    /// same room for the text; words in the title block never change it.
    pub fn pages(&self, frame: &Frame) -> Vec<Page> {
        let (width, height) = frame.paper.size();
        let count = self.body.len();
        let draw = |(index, body): (usize, &Body)| {
            let turn = Turn { index, count, back: body.back.as_deref() };
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
