//! Sets a table: its head, its rows, the rules around them. Each row is an atom, so that no page cuts it; the head
//! is set again over the first row of every further page.

use std::sync::Arc;

use kurbo::Rect;

use super::fit::{Fit, FittedColumn, PAD, TICK, fit, parted};
use super::{Column as Area, Setter, strong};
use crate::drawing::Fill;
use crate::lettering::MM_PER_POINT;
use crate::paper::atom::{Atom, Hold};
use crate::paper::page::{ElementId, Role};
use crate::paper::sketch::Sketch;
use crate::paper::table::{Align, Cell, Place, Row, Table};
use crate::paper::text::{Inlines, Line, Style, wrap};

/// Pen of the rules, millimetres.
const RULE: f64 = 0.35;
/// Pen of the line under every third row, millimetres.
const GUIDE: f64 = 0.13;
/// Side of a decimal point, millimetres: what a tired copier still shows, a dot of 60 to the inch.
const POINT: f64 = 0.42;
/// How far it stands over the baseline, millimetres: a screen fills every pixel that a square touches, and one below the
/// digits makes a comma of it.
const OVER_BASELINE: f64 = 0.1;

impl Setter<'_> {
    pub(super) fn table(&mut self, table: &Table, area: Area) -> Vec<Atom> {
        if table.columns.is_empty() {
            return Vec::new();
        }
        let element = self.element(Role::Table, area.parent);
        let pitch = match table.use_at {
            Place::Bench => self.comfort.rows.bench,
            Place::Desk => self.comfort.rows.desk,
        };
        let fit = fit(table, area, pitch);
        let pitch = pitch.max(fit.size * MM_PER_POINT * 1.25);
        let mut atoms = Vec::new();
        if !table.caption.is_empty() {
            atoms.push(self.table_caption(&table.caption, area, element));
        }
        let head = self.head(table, &fit, area, Some(element));
        let again = Arc::new(self.head(table, &fit, area, None));
        let closing = Arc::new(bottom_rule(&fit, area));
        atoms.push(head);
        let rows = self.rows(table, &fit, area, pitch, element);
        let count = rows.len();
        for (index, mut row) in rows.into_iter().enumerate() {
            row.header = Some(Arc::clone(&again));
            // Never one row alone on either page.
            let holds = count > 1 && (index == 0 || index + 2 == count);
            row.hold = if holds { row.hold.max(Hold::Firm) } else { row.hold };
            if index + 1 == count {
                row.hold = Hold::Loose;
                let bottom = -row.height;
                row.sketch.place(&closing, 0.0, bottom);
            } else {
                row.closing = Some(Arc::clone(&closing));
            }
            atoms.push(row);
        }
        if count == 0
            && let Some(head) = atoms.last_mut()
        {
            head.hold = Hold::Loose;
        }
        if let Some(first) = atoms.first_mut() {
            first.before = self.white(4.5);
        }
        atoms
    }

    fn table_caption(&mut self, caption: &Inlines, area: Area, table: ElementId) -> Atom {
        let style = Style::new(crate::lettering::Face::Bold, 10.5);
        let element = self.element(Role::Caption, table);
        let mut sketch = Sketch::default();
        let bottom = sketch.lines(&wrap(caption, style, area.width), (area.x, 0.0), style, Some(element));
        Atom { sketch, height: 1.2 - bottom, hold: Hold::Firm, ..Atom::default() }
    }

    /// The head; without an element where it is only repeated.
    fn head(&mut self, table: &Table, fit: &Fit, area: Area, element: Option<ElementId>) -> Atom {
        let row = element.map(|table| self.element(Role::TableRow, table));
        let mut sketch = Sketch::default();
        let columns = table.columns.iter().zip(&fit.columns);
        let headed: Vec<Vec<(Line, Style)>> = columns
            .map(|(column, fitted)| {
                let (_, width) = fitted.inner();
                let heading = wrap(&column.heading.as_str().into(), fitted.heading, width);
                let unit = wrap(&column.unit.as_str().into(), fitted.unit, width);
                let headings = heading.into_iter().map(|line| (line, fitted.heading));
                headings.chain(unit.into_iter().map(|line| (line, fitted.unit))).collect()
            })
            .collect();
        let tall = |lines: &Vec<(Line, Style)>| lines.iter().map(|(_, style)| style.pitch()).sum::<f64>();
        let text_height = headed.iter().map(tall).fold(0.0, f64::max);
        let height = text_height + 2.0;
        for (lines, fitted) in headed.iter().zip(&fit.columns) {
            let cell = row.map(|row| self.element(Role::TableHeading, row));
            let mut y = -1.0;
            for (line, style) in lines {
                let x = area.x + placed(fitted, line.width);
                sketch.line(line, (x, y - style.ascent()), *style, cell);
                y -= style.pitch();
            }
        }
        sketch.rule((area.x, 0.0), (area.x + fit.width, 0.0), RULE);
        sketch.rule((area.x, -height), (area.x + fit.width, -height), RULE);
        Atom { sketch, height, hold: Hold::Firm, ..Atom::default() }
    }

    fn rows(&mut self, table: &Table, fit: &Fit, area: Area, pitch: f64, element: ElementId) -> Vec<Atom> {
        let mut atoms = Vec::new();
        let mut since_group = 0;
        for (index, row) in table.rows.iter().enumerate() {
            match row {
                Row::Group(text) => {
                    since_group = 0;
                    atoms.push(self.group_row(text, fit, area, pitch, element));
                }
                Row::Cells(cells) | Row::Total(cells) => {
                    let total = matches!(row, Row::Total(_));
                    let third = !total && since_group % 3 == 2;
                    since_group += 1;
                    let mut set = self.cells(cells, fit, area, pitch, element, total);
                    // A line leads the eye along the row; a tint would eat figures on a copy.
                    if let Some(last) = set.last_mut().filter(|_| third) {
                        let y = -last.height;
                        last.sketch.rule((area.x, y), (area.x + fit.width, y), GUIDE);
                    }
                    if let Some(last) = set.last_mut().filter(|_| table.holds_to_next(index)) {
                        last.hold = last.hold.max(Hold::Group);
                    }
                    atoms.extend(set);
                }
            }
        }
        atoms
    }

    fn group_row(&mut self, text: &Inlines, fit: &Fit, area: Area, pitch: f64, table: ElementId) -> Atom {
        let row = self.element(Role::TableRow, table);
        let cell = self.element(Role::RowHeading, row);
        // Each row has a cell for each column.
        for _ in fit.columns.iter().skip(1) {
            self.element(Role::TableCell, row);
        }
        let face = fit.columns.first().map_or(crate::lettering::Face::Bold, |column| column.heading.face);
        let style = Style::new(face, fit.size);
        let mut sketch = Sketch::default();
        let lines = wrap(&strong(&text.text()), style, fit.width - 2.0 * PAD);
        let height = pitch.max(lines.len() as f64 * style.pitch() + 1.2);
        let top = -(height - lines.len() as f64 * style.pitch()) + 0.4;
        sketch.lines(&lines, (area.x + PAD, top), style, Some(cell));
        Atom { sketch, height, hold: Hold::Firm, ..Atom::default() }
    }

    /// A row of cells: one atom, or several where its text is longer than a page.
    fn cells(&mut self, cells: &[Cell], fit: &Fit, area: Area, pitch: f64, table: ElementId, total: bool) -> Vec<Atom> {
        let row = self.element(Role::TableRow, table);
        let texts: Vec<(ElementId, Vec<Line>)> = fit
            .columns
            .iter()
            .enumerate()
            .map(|(index, fitted)| {
                let role = if fitted.names_row { Role::RowHeading } else { Role::TableCell };
                let element = self.element(role, row);
                let style = cell_style(fitted, total);
                let lines = match cells.get(index) {
                    Some(Cell::Text(text)) => wrap(text, style, fitted.inner().1),
                    _ => Vec::new(),
                };
                (element, lines)
            })
            .collect();
        let most = texts.iter().map(|(_, lines)| lines.len()).max().unwrap_or(0).max(1);
        let tallest = fit.columns.iter().map(|fitted| fitted.cell.pitch()).fold(1.0, f64::max);
        let lines_to_a_page =
            (1..=most).take_while(|lines| *lines as f64 * tallest + pitch <= self.room * 0.8).count().max(1);
        let mut atoms = Vec::new();
        for first in (0..most).step_by(lines_to_a_page) {
            let mut sketch = Sketch::default();
            let mut height: f64 = pitch;
            let baseline = -pitch / 2.0 - capital(fit) / 2.0;
            for (index, (fitted, (element, lines))) in fit.columns.iter().zip(&texts).enumerate() {
                let style = cell_style(fitted, total);
                let shown = lines.iter().skip(first).take(lines_to_a_page);
                let count = shown.len();
                for (number, line) in shown.enumerate() {
                    let x = match cells.get(index) {
                        Some(Cell::Text(text)) if fitted.align == Align::Decimal && lines.len() == 1 => {
                            let (_, fraction) = parted(text, style);
                            placed(fitted, line.width) - (fitted.fraction - fraction)
                        }
                        _ => placed(fitted, line.width),
                    };
                    let y = baseline - number as f64 * style.pitch();
                    sketch.line(line, (area.x + x, y), style, Some(*element));
                    heavier_points(&mut sketch, line, (area.x + x, y), style.size);
                }
                height = height.max(pitch + count.saturating_sub(1) as f64 * style.pitch());
                if first == 0 {
                    self.box_or_line(&mut sketch, cells.get(index), fitted, area.x, (baseline, pitch));
                }
            }
            if total {
                sketch.rule((area.x, 0.0), (area.x + fit.width, 0.0), RULE);
            }
            atoms.push(Atom { sketch, height, ..Atom::default() });
        }
        atoms
    }

    fn box_or_line(
        &self,
        sketch: &mut Sketch,
        cell: Option<&Cell>,
        fitted: &FittedColumn,
        left: f64,
        (baseline, pitch): (f64, f64),
    ) {
        match cell {
            Some(Cell::Tick) => {
                let side = TICK.min(pitch * 0.62);
                let centre = left + placed(fitted, side) + side / 2.0;
                sketch.tick_box((centre, -pitch / 2.0), side, false);
            }
            Some(Cell::WriteIn) => {
                let (x, width) = fitted.inner();
                let length = width.min(34.0);
                let start = left
                    + match fitted.align {
                        Align::Left => x,
                        Align::Right | Align::Decimal => x + width - length,
                        Align::Centre => x + (width - length) / 2.0,
                    };
                let y = (baseline - 0.9).max(0.4 - pitch);
                sketch.rule((start, y), (start + length, y), 0.25);
            }
            _ => {}
        }
    }
}

/// Makes the decimal points of figures at least as large as a copier needs, over the typeface's own.
fn heavier_points(sketch: &mut Sketch, line: &Line, (x, y): (f64, f64), size: f64) {
    // The points of our typefaces are squares on the baseline, an eighth of an em wide.
    if size * MM_PER_POINT / 8.0 >= POINT {
        return;
    }
    let is_digit = |c: Option<char>| c.is_some_and(|c| c.is_ascii_digit());
    for piece in &line.pieces {
        for (at, point) in piece.text.match_indices('.') {
            let (before, after) = (&piece.text[..at], &piece.text[at + point.len()..]);
            if is_digit(before.chars().next_back()) && is_digit(after.chars().next()) {
                let own = piece.face.width(point, size);
                let middle = x + piece.x + piece.face.width(before, size) + own / 2.0;
                let (left, low) = (middle - POINT / 2.0, y + OVER_BASELINE);
                sketch.fill(Rect::new(left, low, left + POINT, low + POINT), Fill::Black);
            }
        }
    }
}

/// Where something so wide stands in its column, from the table's left edge.
fn placed(fitted: &FittedColumn, width: f64) -> f64 {
    let (x, inner) = fitted.inner();
    match fitted.align {
        Align::Left => x,
        Align::Right | Align::Decimal => x + inner - width,
        Align::Centre => x + (inner - width) / 2.0,
    }
}

fn cell_style(fitted: &FittedColumn, total: bool) -> Style {
    let face = if total { fitted.heading.face } else { fitted.cell.face };
    Style { face, ..fitted.cell }
}

/// Height of the capitals of the largest cells, millimetres: all cells of a row stand on one baseline.
fn capital(fit: &Fit) -> f64 {
    let of = |column: &FittedColumn| column.cell.face.font().capital_height() * column.cell.size * MM_PER_POINT;
    fit.columns.iter().map(of).fold(0.0, f64::max)
}

fn bottom_rule(fit: &Fit, area: Area) -> Sketch {
    let mut sketch = Sketch::default();
    sketch.rule((area.x, 0.0), (area.x + fit.width, 0.0), RULE);
    sketch
}
