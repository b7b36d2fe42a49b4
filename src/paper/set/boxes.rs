//! Boxed things: settings, facts, rows of boxes to write in.

use kurbo::Rect;

use super::{Column, Setter, fitting};
use crate::drawing::Anchor;
use crate::lettering::{Face, MM_PER_POINT};
use crate::paper::atom::Atom;
use crate::paper::block::{Fact, Setting, WriteIn};
use crate::paper::page::{ElementId, Role};
use crate::paper::sketch::Sketch;
use crate::paper::text::{Style, wrap};

/// White between boxes side by side, millimetres.
const GAP: f64 = 3.0;
/// White inside a setting's box, millimetres.
const PAD: f64 = 4.0;
/// No setting's number is set smaller, in points, unless its box is too narrow even then.
const LEAST_NUMBER: f64 = 18.0;

impl Setter<'_> {
    /// Settings side by side, as many in a row as let every number keep its size.
    pub(super) fn settings(&mut self, settings: &[Setting], column: Column) -> Vec<Atom> {
        let across = (1..=settings.len().min(4)).rev().find(|count| {
            let inner = box_width(column.width, *count) - 2.0 * PAD;
            settings.iter().all(|setting| number_width(setting, LEAST_NUMBER) <= inner)
        });
        let rows = balanced(settings.len(), across.unwrap_or(1));
        let mut rest = settings;
        let mut atoms = Vec::new();
        for count in rows {
            let (row, others) = rest.split_at(count);
            atoms.push(self.setting_row(row, column));
            rest = others;
        }
        atoms
    }

    fn setting_row(&mut self, row: &[Setting], column: Column) -> Atom {
        let width = box_width(column.width, row.len());
        let size = match row.len() {
            1 => 46.0,
            2 => 34.0,
            3 => 26.0,
            _ => 22.0,
        };
        let beside = row.len() == 1;
        let drawn: Vec<(Sketch, f64)> =
            row.iter().map(|setting| self.setting(setting, width, size, beside, column.parent)).collect();
        let height = drawn.iter().map(|(_, height)| *height).fold(0.0, f64::max);
        let mut sketch = Sketch::default();
        for (index, (one, _)) in drawn.iter().enumerate() {
            let x = column.x + index as f64 * (width + GAP);
            sketch.frame(Rect::new(x, -height, x + width, 0.0), 0.7);
            sketch.place(one, x, 0.0);
        }
        Atom { sketch, height, before: self.white(4.0), ..Atom::default() }
    }

    /// One setting within a box `width` wide; gives the height it needs.
    fn setting(&mut self, setting: &Setting, width: f64, size: f64, beside: bool, parent: ElementId) -> (Sketch, f64) {
        let element = Some(self.element(Role::Paragraph, parent));
        let mut sketch = Sketch::default();
        let aside = if beside && !setting.write_in.is_empty() { (width * 0.3).min(52.0) } else { 0.0 };
        let inner = width - 2.0 * PAD - if aside > 0.0 { aside + PAD } else { 0.0 };
        let label = Style::new(Face::Regular, if beside { 12.0 } else { 10.0 });
        let mark = Style::new(Face::Bold, 9.5);
        let mut y = sketch.lines(&wrap(&setting.mark.as_str().into(), mark, inner), (PAD, -PAD + 0.6), mark, element);
        y = sketch.lines(&wrap(&setting.label.as_str().into(), label, inner), (PAD, y), label, element);

        let natural = number_width(setting, size);
        let size = if natural > inner { (size * inner / natural).max(6.0) } else { size };
        let capital = Face::Bold.font().capital_height() * size * MM_PER_POINT;
        y -= capital + size * 0.055;
        let mut x = PAD;
        sketch.text((x, y), Anchor::Start, &setting.value, (Face::Bold, size), element);
        x += Face::Bold.width(&setting.value, size);
        if !setting.unit.is_empty() {
            // A space that is copied with the number, though the unit is smaller.
            let unit = format!(" {}", setting.unit);
            sketch.text((x, y), Anchor::Start, &unit, (Face::Bold, size * UNIT), element);
            x += Face::Bold.width(&unit, size * UNIT);
        }
        let asides = [&setting.tolerance, &setting.other].map(|text| aside_text(text));
        let long = asides.concat();
        let room = PAD + inner - x;
        let sizes: &[f64] = if beside { &[14.0, 13.0, 12.0, 11.0] } else { &[10.5, 9.5] };
        let fits = |size: &&f64| Face::Regular.width(&long, **size) <= room;
        let small = Style::new(Face::Regular, *sizes.iter().find(fits).unwrap_or(&sizes[0]));
        let mut below = Vec::new();
        for run in asides.iter().filter(|run| !run.is_empty()) {
            let run_width = small.face.width(run, small.size);
            if x + run_width <= PAD + inner {
                sketch.text((x, y), Anchor::Start, run, (small.face, small.size), element);
                x += run_width;
            } else {
                below.push(run.trim());
            }
        }
        y -= size * 0.045;
        for text in below {
            y = sketch.lines(&wrap(&text.into(), small, inner), (PAD, y - 0.8), small, element);
        }
        let note = Style::new(Face::Regular, if beside { 9.5 } else { 9.0 });
        if !setting.note.is_empty() {
            y = sketch.lines(&wrap(&setting.note, note, inner), (PAD, y - 1.2), note, element);
        }
        if !setting.foot.is_empty() {
            let foot = Style::new(Face::Condensed, 9.0);
            y = sketch.lines(&wrap(&setting.foot.as_str().into(), foot, inner), (PAD, y - 1.5), foot, element);
        }
        if beside {
            let boxes = self.stack_of_boxes(&setting.write_in, aside, element);
            let height = (PAD - y).max(boxes.1 + 2.0 * PAD);
            sketch.place(&boxes.0, width - PAD - aside, -PAD);
            (sketch, height)
        } else {
            let boxes = self.stack_of_boxes(&setting.write_in, inner, element);
            let top = y - if setting.write_in.is_empty() { 0.0 } else { 2.5 };
            sketch.place(&boxes.0, PAD, top);
            (sketch, PAD - top + boxes.1)
        }
    }

    /// Boxes to write in, one under the other: the first for a figure, tall; the others for a name or a date.
    fn stack_of_boxes(&mut self, boxes: &[WriteIn], width: f64, element: Option<ElementId>) -> (Sketch, f64) {
        let mut sketch = Sketch::default();
        let mut y: f64 = 0.0;
        for (index, write_in) in boxes.iter().enumerate() {
            let height = if index == 0 { 15.0 } else { 10.0 };
            y -= if index == 0 { 0.0 } else { 2.0 };
            if let Some(element) = element {
                self.write_in_box(&mut sketch, write_in, Rect::new(0.0, y - height, width, y), element);
            }
            y -= height;
        }
        (sketch, -y)
    }

    /// Facts side by side, in as many rows as keep each legible.
    pub(super) fn facts(&mut self, facts: &[Fact], column: Column) -> Vec<Atom> {
        let mut rest = facts;
        let mut atoms = Vec::new();
        for (row_index, count) in balanced(facts.len(), 4).into_iter().enumerate() {
            let (row, others) = rest.split_at(count);
            let mut atom = self.fact_row(row, column);
            atom.before = if row_index == 0 { self.white(4.0) } else { GAP };
            atoms.push(atom);
            rest = others;
        }
        atoms
    }

    fn fact_row(&mut self, row: &[Fact], column: Column) -> Atom {
        const INSET: f64 = 2.2;
        let width = box_width(column.width, row.len());
        let inner = width - 2.0 * INSET;
        let label = Style::new(Face::Regular, 8.5);
        let note = Style::new(Face::Regular, 9.5);
        let value_size = 15.0;
        let mut height: f64 = 0.0;
        let mut drawn = Vec::new();
        for fact in row {
            let element = Some(self.element(Role::Paragraph, column.parent));
            let mut sketch = Sketch::default();
            let labels = wrap(&fact.label.as_str().into(), label, inner);
            let mut y = sketch.lines(&labels, (INSET, -1.2), label, element);
            // A long value breaks at a size between; only a long word makes it smaller still.
            let one_line = fitting(&fact.value, Face::Bold, value_size, inner);
            let value = Style { leading: 1.22, ..Style::new(Face::Bold, one_line.max(11.0)) };
            let lines = wrap(&fact.value.as_str().into(), value, inner);
            y = sketch.lines(&lines, (INSET, y), value, element);
            let last = lines.last().map_or(0.0, |line| line.width);
            let notes = format!(" {}", fact.note);
            if !fact.note.is_empty() && last + 0.8 + note.face.width(&notes, note.size) <= inner {
                let at = (INSET + last + 0.8, y + value.pitch() - value.ascent());
                sketch.text(at, Anchor::Start, &notes, (note.face, note.size), element);
            } else {
                y = sketch.lines(&wrap(&fact.note.as_str().into(), note, inner), (INSET, y), note, element);
            }
            height = height.max(1.4 - y);
            drawn.push(sketch);
        }
        let mut sketch = Sketch::default();
        for (index, one) in drawn.iter().enumerate() {
            let x = column.x + index as f64 * (width + GAP);
            sketch.frame(Rect::new(x, -height, x + width, 0.0), 0.25);
            sketch.place(one, x, 0.0);
        }
        Atom { sketch, height, ..Atom::default() }
    }

    /// Boxes to write in, side by side.
    pub(super) fn write_in_row(&mut self, boxes: &[WriteIn], column: Column) -> Vec<Atom> {
        const HEIGHT: f64 = 11.0;
        let mut rest = boxes;
        let mut atoms = Vec::new();
        for (row_index, count) in balanced(boxes.len(), 4).into_iter().enumerate() {
            let (row, others) = rest.split_at(count);
            let width = box_width(column.width, count);
            let mut sketch = Sketch::default();
            for (index, write_in) in row.iter().enumerate() {
                let element = self.element(Role::Paragraph, column.parent);
                let x = column.x + index as f64 * (width + GAP);
                self.write_in_box(&mut sketch, write_in, Rect::new(x, -HEIGHT, x + width, 0.0), element);
            }
            let before = if row_index == 0 { self.white(4.0) } else { GAP };
            atoms.push(Atom { sketch, height: HEIGHT, before, ..Atom::default() });
            rest = others;
        }
        atoms
    }
}

/// What stands beside the number, with the spaces that part it from what is before it.
fn aside_text(text: &str) -> String {
    if text.is_empty() { String::new() } else { format!("   {text}") }
}

/// The unit's size, as a part of the number's.
const UNIT: f64 = 0.45;

/// How wide number and unit run, in millimetres.
fn number_width(setting: &Setting, size: f64) -> f64 {
    let unit = if setting.unit.is_empty() { 0.0 } else { Face::Bold.width(&format!(" {}", setting.unit), size * UNIT) };
    Face::Bold.width(&setting.value, size) + unit
}

/// Width of each of `count` boxes side by side.
fn box_width(width: f64, count: usize) -> f64 {
    let count = count.max(1) as f64;
    (width - (count - 1.0) * GAP) / count
}

/// `count` things in as few rows as `most` to a row allow, the rows as alike as can be, longer ones first.
fn balanced(count: usize, most: usize) -> Vec<usize> {
    let rows = count.div_ceil(most.max(1));
    (0..rows).map(|row| count / rows + usize::from(row < count % rows)).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn rows_of_boxes_are_balanced() {
        assert_eq!(balanced(5, 4), [3, 2]);
        assert_eq!(balanced(4, 4), [4]);
        assert_eq!(balanced(9, 4), [3, 3, 3]);
        assert_eq!(balanced(0, 4), [0; 0]);
    }
}
