//! Sets blocks as atoms: what each looks like, how much white lies between, what holds together.

mod boxes;
mod figure;
mod fit;
mod table;

use kurbo::Rect;

use super::atom::{Atom, Hold};
use super::block::{Block, Heading, List, Task, WriteIn};
use super::page::{Element, ElementId, Role};
use super::sketch::Sketch;
use super::text::{Inlines, Manner, Style, measure, wrap};
use crate::drawing::{Anchor, Fill};
use crate::lettering::Face;

pub(crate) use figure::Gallery;

/// How generously a sheet is set. The roomiest that costs no further page is taken.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Comfort {
    pub(crate) rows: Rows,
    /// Share of the text area's height that a drawing may take.
    pub(crate) figure: f64,
}

/// How generously rows and blocks are spaced.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Rows {
    /// Distance of a bench table's rows, millimetres.
    pub(crate) bench: f64,
    /// Distance of a desk table's rows, millimetres.
    pub(crate) desk: f64,
    /// Factor on the white between blocks.
    pub(crate) white: f64,
}

impl Rows {
    /// From the roomiest to the tightest.
    pub(crate) const LEVELS: [Self; 7] = [
        Self { bench: 7.4, desk: 4.8, white: 1.25 },
        Self { bench: 7.0, desk: 4.5, white: 1.15 },
        Self { bench: 6.7, desk: 4.2, white: 1.0 },
        Self { bench: 6.2, desk: 3.9, white: 1.0 },
        Self { bench: 5.7, desk: 3.6, white: 0.85 },
        Self { bench: 5.2, desk: 3.3, white: 0.7 },
        Self { bench: 4.9, desk: 3.2, white: 0.55 },
    ];
    /// The first of them that is not given up for a larger drawing.
    pub(crate) const EASY: usize = 3;
}

/// Shares of the text area's height that a drawing may take, from the largest.
pub(crate) const FIGURES: [f64; 5] = [0.72, 0.6, 0.5, 0.42, 0.35];

/// Where blocks are set: left edge and width, in millimetres, and the element they belong to.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Column {
    pub(crate) x: f64,
    pub(crate) width: f64,
    pub(crate) parent: ElementId,
}

/// Sets blocks at one degree of comfort and keeps the structure that comes of it.
pub(crate) struct Setter<'a> {
    pub(crate) comfort: Comfort,
    /// Size of running text in points.
    pub(crate) size: f64,
    /// Height of the text area in millimetres.
    pub(crate) room: f64,
    pub(crate) elements: &'a mut Vec<Element>,
    pub(crate) gallery: &'a mut Gallery,
}

/// White between a heading and what it heads, millimetres.
const HEADED: f64 = 1.4;
/// Side of a box to tick, millimetres.
const TICK: f64 = 4.2;

impl Setter<'_> {
    /// Sets blocks one under the other.
    pub(crate) fn blocks(&mut self, blocks: &[Block], column: Column) -> Vec<Atom> {
        let mut atoms: Vec<Atom> = Vec::new();
        for block in blocks {
            let mut set = self.block(block, column);
            // What a heading heads stands close under it.
            let is_headed = atoms.last().is_some_and(|last| last.heading.is_some());
            if let Some(first) = set.first_mut().filter(|_| is_headed) {
                first.before = first.before.min(HEADED);
            }
            atoms.extend(set);
        }
        atoms
    }

    fn block(&mut self, block: &Block, column: Column) -> Vec<Atom> {
        match block {
            Block::Heading(heading) => vec![self.heading(heading, column)],
            Block::Paragraph(text) => self.paragraph(text, column),
            Block::List(list) => self.list(list, column),
            Block::Task(task) => vec![self.task(task, column)],
            Block::Table(table) => self.table(table, column),
            Block::Figure(figure) => self.figure(figure, column),
            Block::Settings(settings) => self.settings(settings, column),
            Block::Facts(facts) => self.facts(facts, column),
            Block::WriteIn(boxes) => self.write_in_row(boxes, column),
            Block::Caution(text) => self.caution(text, column),
            Block::Group(blocks) => {
                let mut atoms = self.blocks(blocks, column);
                if let Some((_, others)) = atoms.split_last_mut() {
                    others.iter_mut().for_each(|atom| atom.hold = atom.hold.max(Hold::Group));
                }
                atoms
            }
            // Breaks part a sheet before anything is set; inside a group or a list they mean nothing.
            Block::PageBreak | Block::Back(_) => Vec::new(),
        }
    }

    pub(crate) fn element(&mut self, role: Role, parent: ElementId) -> ElementId {
        self.elements.push(Element { role, parent: Some(parent), alternative: None });
        ElementId(self.elements.len() - 1)
    }

    pub(crate) fn white(&self, millimetres: f64) -> f64 {
        millimetres * self.comfort.rows.white
    }

    fn heading(&mut self, heading: &Heading, column: Column) -> Atom {
        let (size, before) = if heading.level <= 2 { (12.5, 6.0) } else { (10.5, 4.0) };
        let style = Style { leading: 1.2, ..Style::new(Face::Bold, size) };
        let note_style = Style { leading: 1.32, ..Style::new(Face::Regular, 9.5) };
        let element = self.element(Role::Heading(heading.level), column.parent);
        let mut sketch = Sketch::default();
        let lines = wrap(&heading.text, style, column.width);
        let mut bottom = sketch.lines(&lines, (column.x, 0.0), style, Some(element));
        let last = lines.last().map_or(0.0, |line| line.width + 3.5);
        let (note_width, _) = measure(&heading.note, note_style);
        if last + note_width <= column.width {
            let baseline = bottom + style.pitch() - style.ascent();
            for line in wrap(&heading.note, note_style, column.width) {
                sketch.line(&line, (column.x + last, baseline), note_style, Some(element));
            }
        } else {
            let note = wrap(&heading.note, note_style, column.width);
            bottom = sketch.lines(&note, (column.x, bottom), note_style, Some(element));
        }
        Atom {
            sketch,
            height: 1.2 - bottom,
            before: self.white(before),
            hold: Hold::Firm,
            heading: Some((heading.level, heading.text.text())),
            ..Atom::default()
        }
    }

    fn paragraph(&mut self, text: &Inlines, column: Column) -> Vec<Atom> {
        let style = Style::new(Face::Regular, self.size);
        let element = self.element(Role::Paragraph, column.parent);
        self.text_atoms(text, style, column, element)
    }

    /// A text as one atom a line; the first two and the last two lines hold together.
    fn text_atoms(&mut self, text: &Inlines, style: Style, column: Column, element: ElementId) -> Vec<Atom> {
        let lines = wrap(text, style, column.width);
        let count = lines.len();
        let atom = |(index, line): (usize, &_)| {
            let mut sketch = Sketch::default();
            sketch.line(line, (column.x, -style.ascent()), style, Some(element));
            let holds = index + 1 < count && (index == 0 || index + 2 == count);
            let hold = if holds { Hold::Firm } else { Hold::Loose };
            Atom { sketch, height: style.pitch(), hold, ..Atom::default() }
        };
        let mut atoms: Vec<Atom> = lines.iter().enumerate().map(atom).collect();
        if let Some(first) = atoms.first_mut() {
            first.before = self.white(2.6);
        }
        atoms
    }

    fn list(&mut self, list: &List, column: Column) -> Vec<Atom> {
        let style = Style::new(Face::Regular, self.size);
        let parent = self.element(Role::List, column.parent);
        let labels: Vec<String> = (0..list.items.len() as u64)
            .map(|index| list.start.map_or_else(|| "•".to_owned(), |start| format!("{}.", start.saturating_add(index))))
            .collect();
        let widest = labels.iter().map(|label| Face::Regular.width(label, style.size)).fold(2.5, f64::max);
        let indent = widest + 2.0;
        let mut atoms = Vec::new();
        for (index, (item, label)) in list.items.iter().zip(&labels).enumerate() {
            let entry = self.element(Role::ListItem, parent);
            let number = self.element(Role::Label, entry);
            let body = self.element(Role::ListBody, entry);
            let inner =
                Column { x: column.x + indent, width: (column.width - indent).max(column.width / 4.0), parent: body };
            let mut item_atoms = self.blocks(item, inner);
            if item_atoms.is_empty() {
                item_atoms.push(Atom { height: style.pitch(), ..Atom::default() });
            }
            let first = &mut item_atoms[0];
            let right = (column.x + widest, -style.ascent());
            first.sketch.text(right, Anchor::End, label, (style.face, style.size), Some(number));
            first.sketch.marks.rotate_right(1);
            if index > 0 {
                first.before = self.white(1.1);
            }
            atoms.extend(item_atoms);
        }
        atoms
    }

    fn task(&mut self, task: &Task, column: Column) -> Atom {
        const BOX_WIDTH: f64 = 42.0;
        let style = Style::new(Face::Regular, self.size.max(10.0));
        let element = self.element(Role::Paragraph, column.parent);
        let write_width = if task.write_in.is_some() { BOX_WIDTH.min(column.width / 3.0) } else { 0.0 };
        let indent = TICK + 2.8;
        let gap = if write_width > 0.0 { 4.0 } else { 0.0 };
        let lines = wrap(&task.text, style, column.width - indent - gap - write_width);
        let text_height = style.pitch() * lines.len().max(1) as f64;
        let write_height =
            task.write_in.as_ref().map_or(0.0, |write_in| if write_in.label.is_empty() { 6.6 } else { 8.6 });
        let height = text_height.max(write_height).max(TICK);
        let mut sketch = Sketch::default();
        // One line stands in the middle of its box to write in; more start at the top.
        let top = -((height - text_height) / 2.0).max(0.0);
        let middle = top - style.pitch() / 2.0;
        sketch.tick_box((column.x + TICK / 2.0, middle), TICK, task.done);
        sketch.lines(&lines, (column.x + indent, top), style, Some(element));
        if let Some(write_in) = &task.write_in {
            let right = column.x + column.width;
            let middle = -height / 2.0;
            let area = Rect::new(right - write_width, middle - write_height / 2.0, right, middle + write_height / 2.0);
            self.write_in_box(&mut sketch, write_in, area, element);
        }
        Atom { sketch, height, before: self.white(2.6), ..Atom::default() }
    }

    /// A box to write in, with its label in the upper corner and its unit at the right.
    fn write_in_box(&mut self, sketch: &mut Sketch, write_in: &WriteIn, area: Rect, element: ElementId) {
        sketch.frame(area, 0.35);
        let label = (Face::Regular, fitting(&write_in.label, Face::Regular, 8.0, area.width() - 2.4));
        sketch.text((area.x0 + 1.2, area.y1 - 3.2), Anchor::Start, &write_in.label, label, Some(element));
        let unit = (area.x1 - 1.4, area.y0 + 1.5);
        sketch.text(unit, Anchor::End, &write_in.unit, (Face::Regular, 8.5), Some(element));
    }

    fn caution(&mut self, text: &Inlines, column: Column) -> Vec<Atom> {
        const BAR: f64 = 1.4;
        let style = Style::new(Face::Regular, self.size);
        let element = self.element(Role::Paragraph, column.parent);
        let inner = Column { x: column.x + BAR + 2.2, width: column.width - BAR - 2.2, parent: element };
        let mut atoms = self.text_atoms(text, style, inner, element);
        let count = atoms.len();
        for (index, atom) in atoms.iter_mut().enumerate() {
            atom.sketch.fill(Rect::new(column.x, -atom.height, column.x + BAR, 0.0), Fill::Black);
            atom.hold = if index + 1 < count { Hold::Group } else { Hold::Loose };
        }
        if let Some(first) = atoms.first_mut() {
            first.before = self.white(4.0);
        }
        atoms
    }
}

/// The largest size up to `size` at which a text is no wider than `width` millimetres.
pub(crate) fn fitting(text: &str, face: Face, size: f64, width: f64) -> f64 {
    let natural = face.width(text, size);
    if natural <= width { size } else { size * width / natural }
}

/// A text that is bold as a whole.
pub(crate) fn strong(text: &str) -> Inlines {
    Inlines::default().with(Manner::Strong, text)
}
