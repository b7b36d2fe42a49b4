//! What stands on every page around the text: frame, head, title block, the mark of a draft.
//!
//! Margins after ISO 5457 (A4: 20 mm at the filing edge, 10 mm elsewhere, frame line 0.7 mm), on US Letter likewise.
//! The title block is a grid of named fields; which ones ISO 7200 asks for, the caller knows.

use kurbo::Rect;

use super::draft;
use super::page::{ElementId, Role};
use super::set::fitting;
use super::sketch::Sketch;
use super::symbol::Symbol;
use super::text::{Inlines, Line, Style, harmless, measure, wrap};
use crate::drawing::Anchor;
use crate::lettering::Face;

/// A size of paper, upright.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Paper {
    /// 210 mm by 297 mm (ISO 216).
    A4,
    /// 8.5 in by 11 in (ASME Y14.1, size A).
    Letter,
}

impl Paper {
    /// Width and height in millimetres.
    pub const fn size(self) -> (f64, f64) {
        match self {
            Self::A4 => (210.0, 297.0),
            Self::Letter => (215.9, 279.4),
        }
    }

    /// The drawing space within the frame, millimetres from the lower left corner.
    pub const fn frame(self) -> Rect {
        let (width, height) = self.size();
        Rect::new(20.0, 10.0, width - 10.0, height - 10.0)
    }
}

/// What stands around the text of a sheet.
#[derive(Debug, Clone, PartialEq)]
pub struct Frame {
    /// The paper.
    pub paper: Paper,
    /// What opens each page.
    pub head: Head,
    /// What closes it.
    pub title_block: TitleBlock,
    /// Printed across the sheet, "DRAFT after B"; none for a sheet that is issued.
    pub draft: Option<String>,
}

/// What opens each page.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Head {
    /// The sheet's title.
    pub title: String,
    /// The number of what it belongs to.
    pub number: String,
    /// The boxed word beside it, which must never be missed; may be empty.
    pub badge: String,
    /// What is read first, bold; may be empty.
    pub read_first: Inlines,
    /// From where is measured; may be empty.
    pub datum: Inlines,
    /// What is done before and after, a line each; may be empty.
    pub order: Inlines,
    /// In what is measured; may be empty.
    pub units: Inlines,
    /// What it is bound into, for the number of the page in that: `packet`.
    pub bound_in: &'static str,
    /// Whether the foot alone tells the page: the sheet is all of what it is bound into.
    pub is_whole: bool,
}

/// The block at the foot of each page.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct TitleBlock {
    /// Rows of fields, top to bottom.
    pub rows: Vec<Vec<Field>>,
    /// A symbol at its right, as tall as the last two rows.
    pub symbol: Option<Symbol>,
}

/// One field of a title block.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Field {
    /// Its name, small.
    pub label: String,
    /// What it says; empty to be filled in by hand.
    pub value: String,
    /// Its share of the row's width.
    pub share: f64,
    /// Whether its value is bold.
    pub strong: bool,
}

impl Field {
    /// A field with its share of the row's width.
    pub fn new(label: impl Into<String>, value: impl Into<String>, share: f64) -> Self {
        Self { label: label.into(), value: value.into(), share, strong: false }
    }

    /// Bold and larger.
    #[must_use]
    pub fn strong(mut self) -> Self {
        self.strong = true;
        self
    }
}

/// Which page of a sheet is drawn.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Turn<'a> {
    /// From 0.
    pub(crate) index: usize,
    pub(crate) count: usize,
    /// Over pages that are not for the bench: who they are for.
    pub(crate) back: Option<&'a str>,
    /// Its page in what it is bound into, from 1, and how many that has; none by itself.
    pub(crate) bound: Option<(usize, usize)>,
}

/// White between the frame and the text, millimetres.
const MARGIN: f64 = 5.0;
/// Height of a row of the title block, millimetres.
const ROW: f64 = 8.8;
/// From the frame's top to the rule under the title, millimetres.
const TITLE: f64 = 15.5;
/// Height of the band that marks a draft, millimetres.
const BAND: f64 = 5.5;

const READ_FIRST: Style = Style::new(Face::Bold, 12.0);
const DATUM: Style = Style::new(Face::Regular, 9.0);

impl Frame {
    /// The text area of a page, millimetres from the paper's lower left corner.
    pub(crate) fn body(&self, back: Option<&str>) -> Rect {
        self.body_in(self.paper.frame(), back)
    }

    /// The text area within a frame of another size.
    pub(crate) fn body_in(&self, frame: Rect, back: Option<&str>) -> Rect {
        let foot = self.title_block.rows.len() as f64 * ROW;
        let head = TITLE + self.band() + self.opening_height(back, frame.width() - 2.0 * MARGIN) + 4.0;
        Rect::new(frame.x0 + MARGIN, frame.y0 + foot + 3.0, frame.x1 - MARGIN, frame.y1 - head)
    }

    /// Where the title block stands, millimetres.
    pub fn title_block_area(&self) -> Rect {
        self.title_block_in(self.paper.frame())
    }

    fn title_block_in(&self, frame: Rect) -> Rect {
        Rect { y1: frame.y0 + self.title_block.rows.len() as f64 * ROW, ..frame }
    }

    fn band(&self) -> f64 {
        if self.draft.is_some() { BAND } else { 0.0 }
    }

    /// Height of what stands between the title's rule and the text.
    fn opening_height(&self, back: Option<&str>, width: f64) -> f64 {
        let first = wrap(&self.opening(back), READ_FIRST, width).len() as f64 * READ_FIRST.pitch();
        let datum = if back.is_some() { 0 } else { self.datum_lines(width) + self.order(width).len() };
        2.2 + first + datum as f64 * DATUM.pitch()
    }

    fn opening(&self, back: Option<&str>) -> Inlines {
        back.map_or_else(|| self.head.read_first.clone(), Inlines::from)
    }

    /// The lines that say from where and in what is measured, and their style: beside each other if the narrow face
    /// allows it, else one under the other.
    fn datum(&self, width: f64) -> (Style, Vec<Line>, Vec<Line>) {
        let narrow = Style { face: Face::Condensed, ..DATUM };
        let fits = |style: &Style| {
            let (datum, _) = measure(&self.head.datum, *style);
            let (units, _) = measure(&self.head.units, *style);
            datum + 4.0 + units <= width
        };
        let style = [DATUM, narrow].into_iter().find(fits).unwrap_or(DATUM);
        (style, wrap(&self.head.datum, style, width), wrap(&self.head.units, style, width))
    }

    /// The lines that say what comes before and after.
    fn order(&self, width: f64) -> Vec<Line> {
        if self.head.order == Inlines::default() { Vec::new() } else { wrap(&self.head.order, DATUM, width) }
    }

    fn datum_lines(&self, width: f64) -> usize {
        let (_, datum, units) = self.datum(width);
        if beside(&datum, &units, width) { 1 } else { datum.len() + units.len() }
    }

    /// Draws all that stands around the text. The sheet's title and what is read first get the given elements on
    /// its first page; further pages repeat them without.
    pub(crate) fn draw(&self, turn: Turn<'_>, title: Option<ElementId>, read_first: Option<ElementId>) -> Sketch {
        self.draw_in(self.paper.frame(), turn, title, read_first)
    }

    /// The same in a frame of another size.
    pub(crate) fn draw_in(
        &self,
        frame: Rect,
        turn: Turn<'_>,
        title: Option<ElementId>,
        read_first: Option<ElementId>,
    ) -> Sketch {
        let mut sketch = Sketch::default();
        sketch.frame(frame, 0.7);
        let mut top = frame.y1;
        if let Some(text) = &self.draft {
            draft::draw(&mut sketch, text, frame, BAND);
            top -= BAND;
        }
        let area = Rect::new(frame.x0 + MARGIN, frame.y0, frame.x1 - MARGIN, top);
        self.draw_title(&mut sketch, area, turn, title);
        self.draw_opening(&mut sketch, area, turn, read_first);
        self.draw_title_block(&mut sketch, self.title_block_in(frame), read_first);
        if let Some((page, pages)) = turn.bound {
            let words = format!("{} · {} page {page} of {pages}", harmless(&self.head.number), self.head.bound_in);
            sketch.text((frame.x1, frame.y0 - 4.6), Anchor::End, &words, (Face::Regular, 9.0), None);
        }
        sketch
    }

    fn draw_title(&self, sketch: &mut Sketch, area: Rect, turn: Turn<'_>, title: Option<ElementId>) {
        let baseline = area.y1 - 11.2;
        let mut right = area.x1;
        let badge = harmless(&self.head.badge);
        if !badge.is_empty() {
            let width = Face::Bold.width(&badge, 12.0) + 5.0;
            sketch.frame(Rect::new(right - width, baseline - 2.1, right, baseline + 5.2), 0.5);
            sketch.text((right - width / 2.0, baseline), Anchor::Middle, &badge, (Face::Bold, 12.0), title);
            right -= width + 4.0;
        }
        let number = harmless(&self.head.number);
        let size = fitting(&number, Face::Bold, 21.0, area.width() * 0.35);
        sketch.text((right, baseline), Anchor::End, &number, (Face::Bold, size), title);
        right -= Face::Bold.width(&number, size) + 6.0;
        let text = harmless(&self.head.title);
        let size = fitting(&text, Face::Bold, 21.0, right - area.x0);
        sketch.text((area.x0, baseline), Anchor::Start, &text, (Face::Bold, size), title);
        if turn.count > 1 && !self.head.is_whole {
            let pages = format!("page {} of {}", turn.index + 1, turn.count);
            let end = area.x0 + Face::Bold.width(&text, size) + 4.0;
            if end + Face::Regular.width(&pages, 10.0) <= right {
                sketch.text((end, baseline), Anchor::Start, &pages, (Face::Regular, 10.0), None);
            }
        }
        let rule = area.y1 - TITLE;
        sketch.rule((area.x0, rule), (area.x1, rule), 0.5);
    }

    fn draw_opening(&self, sketch: &mut Sketch, area: Rect, turn: Turn<'_>, element: Option<ElementId>) {
        let top = area.y1 - TITLE - 2.2;
        let lines = wrap(&self.opening(turn.back), READ_FIRST, area.width());
        let y = sketch.lines(&lines, (area.x0, top), READ_FIRST, element);
        if turn.back.is_some() {
            return;
        }
        let (style, datum, units) = self.datum(area.width());
        let mut below = sketch.lines(&datum, (area.x0, y), style, element);
        if beside(&datum, &units, area.width()) {
            let beside = sketch.lines(&units, (area.x1 - units[0].width, y), style, element);
            below = if datum.is_empty() { beside } else { below };
        } else {
            below = sketch.lines(&units, (area.x0, below), style, element);
        }
        sketch.lines(&self.order(area.width()), (area.x0, below), DATUM, element);
    }

    /// What is set off in it is read with the opening: what it is part of, its issue, its stamp.
    fn draw_title_block(&self, sketch: &mut Sketch, block: Rect, element: Option<ElementId>) {
        let rows = &self.title_block.rows;
        let side = ROW * rows.len().min(2) as f64;
        for (index, row) in rows.iter().enumerate() {
            let top = block.y1 - index as f64 * ROW;
            let beside_symbol = self.title_block.symbol.is_some() && index + 2 >= rows.len();
            let right = if beside_symbol { block.x1 - side } else { block.x1 };
            sketch.rule((block.x0, top), (right, top), 0.35);
            let shares: f64 = row.iter().map(|field| field.share.max(0.0)).sum();
            let mut x = block.x0;
            for field in row {
                let width = (right - block.x0) * field.share.max(0.0) / shares.max(1e-9);
                if x > block.x0 {
                    sketch.rule((x, top), (x, top - ROW), 0.25);
                }
                let element = element.filter(|_| field.strong);
                draw_field(sketch, field, Rect::new(x, top - ROW, x + width, top), element);
                x += width;
            }
        }
        if let Some(symbol) = &self.title_block.symbol {
            let square = Rect::new(block.x1 - side, block.y0, block.x1, block.y0 + side);
            sketch.rule((square.x0, square.y0), (square.x0, square.y1), 0.35);
            sketch.rule((square.x0, square.y1), (square.x1, square.y1), 0.35);
            symbol.draw(sketch, square.inset(-0.6));
        }
    }
}

/// Whether two texts stand on one line, one at each end.
fn beside(left: &[Line], right: &[Line], width: f64) -> bool {
    matches!((left, right), ([] | [_], [unit]) if left.iter().map(|line| line.width).sum::<f64>() + 4.0 + unit.width <= width)
}

fn draw_field(sketch: &mut Sketch, field: &Field, area: Rect, element: Option<ElementId>) {
    const INSET: f64 = 1.3;
    let width = area.width() - 2.0 * INSET;
    let label = harmless(&field.label);
    let size = fitting(&label, Face::Condensed, 8.0, width);
    sketch.text((area.x0 + INSET, area.y1 - 3.0), Anchor::Start, &label, (Face::Condensed, size), element);
    let value = harmless(&field.value).replace('\n', " ");
    let (faces, size) =
        if field.strong { ([Face::Bold, Face::CondensedBold], 12.0) } else { ([Face::Regular, Face::Condensed], 9.5) };
    let fits = |face: Face, size: f64| face.width(&value, size) <= width;
    let choices = [(faces[0], size), (faces[1], size), (faces[1], 8.5), (faces[1], 7.5), (faces[1], 7.0)];
    if let Some(choice) = choices.into_iter().find(|(face, size)| fits(*face, *size)) {
        sketch.text((area.x0 + INSET, area.y0 + 1.7), Anchor::Start, &value, choice, element);
    } else {
        // Two lines at most; what is longer is cut with a sign, its full words stand in the sheet.
        let style = Style { leading: 1.05, ..Style::new(faces[1], 6.5) };
        let mut lines = wrap(&value.as_str().into(), style, width);
        if lines.len() > 2 {
            let first = text_of(&lines[0]);
            let cut = shortened(&text_of_all(&lines[1..]), style, width);
            lines = wrap(&format!("{first}\n{cut}").into(), style, width);
        }
        sketch.lines(&lines, (area.x0 + INSET, area.y1 - 3.3), style, element);
    }
}

fn text_of(line: &Line) -> String {
    line.pieces.iter().map(|piece| piece.text.as_str()).collect()
}

fn text_of_all(lines: &[Line]) -> String {
    lines.iter().map(text_of).collect::<Vec<_>>().join(" ")
}

/// As many characters as fit, and an ellipsis.
fn shortened(text: &str, style: Style, width: f64) -> String {
    let mut kept = String::new();
    for c in text.chars() {
        kept.push(c);
        if style.face.width(&kept, style.size) + style.face.width("…", style.size) > width {
            kept.pop();
            break;
        }
    }
    kept.push('…');
    kept
}

/// The role of what opens a sheet, for its structure.
pub(crate) const OPENING_ROLES: [Role; 2] = [Role::Heading(1), Role::Paragraph];
