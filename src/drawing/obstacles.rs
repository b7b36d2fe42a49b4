//! What stands on the paper already, found quickly: texts and straight pieces of lines in square bins.
//!
//! Each entry has an owner, so that one owner's entries can be taken away again.

use kurbo::{Line, Rect};

use super::textbox::TextBox;

/// Side of a bin in millimetres on paper.
const BIN: f64 = 6.0;

/// Who put an entry there.
pub(crate) type Owner = usize;
/// The owner of the shapes drawn.
pub(crate) const SHAPES: Owner = usize::MAX;
/// The owner of what is never moved: dimension lines, extension lines, figures that have one place only.
pub(crate) const FIXED: Owner = usize::MAX - 1;

/// Bins over a frame; what lies outside is kept in the outermost bins.
#[derive(Debug, Clone)]
pub(crate) struct Obstacles {
    frame: Rect,
    columns: usize,
    rows: usize,
    lines: Vec<(Line, Owner)>,
    texts: Vec<(TextBox, Owner)>,
    line_bins: Vec<Vec<usize>>,
    text_bins: Vec<Vec<usize>>,
}

impl Obstacles {
    pub(crate) fn new(frame: Rect) -> Self {
        let columns = whole(frame.width() / BIN, 400) + 1;
        let rows = whole(frame.height() / BIN, 400) + 1;
        Self {
            frame,
            columns,
            rows,
            lines: Vec::new(),
            texts: Vec::new(),
            line_bins: vec![Vec::new(); columns * rows],
            text_bins: vec![Vec::new(); columns * rows],
        }
    }

    pub(crate) fn add_line(&mut self, line: Line, owner: Owner) {
        let index = self.lines.len();
        self.lines.push((line, owner));
        let (columns, rows) = self.range(Rect::from_points(line.p0, line.p1));
        let slanted = columns.len() > 1 && rows.len() > 1;
        for row in rows {
            for column in columns.clone() {
                // A long slanted line would else fill every bin of its box.
                if !slanted || TextBox::upright(self.bin(column, row)).grown(0.01).is_crossed_by(line) {
                    self.line_bins[row * self.columns + column].push(index);
                }
            }
        }
    }

    pub(crate) fn add_text(&mut self, text: TextBox, owner: Owner) {
        let index = self.texts.len();
        self.texts.push((text, owner));
        let (columns, rows) = self.range(text.bounds());
        for row in rows {
            for column in columns.clone() {
                self.text_bins[row * self.columns + column].push(index);
            }
        }
    }

    /// Takes away all that an owner put there.
    pub(crate) fn remove(&mut self, owner: Owner) {
        let (lines, texts) = (&self.lines, &self.texts);
        for bin in &mut self.line_bins {
            bin.retain(|index| lines[*index].1 != owner);
        }
        for bin in &mut self.text_bins {
            bin.retain(|index| texts[*index].1 != owner);
        }
    }

    /// The owners of the lines that pass through a box, each line once.
    pub(crate) fn lines_through(&self, text: &TextBox) -> Vec<Owner> {
        self.collect(&self.line_bins, text.bounds(), |index| {
            let (line, owner) = self.lines[index];
            text.is_crossed_by(line).then_some(owner)
        })
    }

    /// The owners of the texts that share area with a box, each text once.
    pub(crate) fn texts_over(&self, text: &TextBox) -> Vec<Owner> {
        self.collect(&self.text_bins, text.bounds(), |index| {
            let (other, owner) = self.texts[index];
            text.overlaps(&other).then_some(owner)
        })
    }

    /// The owners of the texts that a line would pass through.
    pub(crate) fn texts_through(&self, line: Line, clear: f64) -> Vec<Owner> {
        self.collect(&self.text_bins, Rect::from_points(line.p0, line.p1).inflate(clear, clear), |index| {
            let (other, owner) = self.texts[index];
            other.grown(clear).is_crossed_by(line).then_some(owner)
        })
    }

    /// The owners of the lines that a line crosses.
    pub(crate) fn lines_across(&self, line: Line) -> Vec<Owner> {
        self.collect(&self.line_bins, Rect::from_points(line.p0, line.p1), |index| {
            let (other, owner) = self.lines[index];
            cross(line, other).then_some(owner)
        })
    }

    fn collect(&self, bins: &[Vec<usize>], place: Rect, look: impl Fn(usize) -> Option<Owner>) -> Vec<Owner> {
        let (columns, rows) = self.range(place);
        let mut seen: Vec<usize> = Vec::new();
        for row in rows {
            for column in columns.clone() {
                seen.extend(&bins[row * self.columns + column]);
            }
        }
        seen.sort_unstable();
        seen.dedup();
        seen.into_iter().filter_map(look).collect()
    }

    fn range(&self, place: Rect) -> (std::ops::Range<usize>, std::ops::Range<usize>) {
        let bin = |value: f64, count: usize| whole(value / BIN, count - 1);
        let columns = bin(place.x0 - self.frame.x0, self.columns)..bin(place.x1 - self.frame.x0, self.columns) + 1;
        let rows = bin(place.y0 - self.frame.y0, self.rows)..bin(place.y1 - self.frame.y0, self.rows) + 1;
        (columns, rows)
    }

    fn bin(&self, column: usize, row: usize) -> Rect {
        // The outermost bins reach without end, since they hold what lies outside.
        let far = 1e6;
        let edge = |index: usize, count: usize, zero: f64| {
            let at = |index: usize| zero + f64::from(u32::try_from(index).unwrap_or(u32::MAX)) * BIN;
            let low = if index == 0 { zero - far } else { at(index) };
            let high = if index + 1 == count { zero + far } else { at(index + 1) };
            (low, high)
        };
        let (x0, x1) = edge(column, self.columns, self.frame.x0);
        let (y0, y1) = edge(row, self.rows, self.frame.y0);
        Rect::new(x0, y0, x1, y1)
    }
}

/// The whole part of a number, held to `0..=most`.
fn whole(value: f64, most: usize) -> usize {
    let mut low = 0;
    let mut high = most;
    while low < high {
        let middle = (low + high).div_ceil(2);
        if value >= f64::from(u32::try_from(middle).unwrap_or(u32::MAX)) {
            low = middle;
        } else {
            high = middle - 1;
        }
    }
    low
}

/// Whether two straight pieces cross, touching ends left out.
fn cross(one: Line, two: Line) -> bool {
    let side = |line: Line, point: kurbo::Point| (line.p1 - line.p0).cross(point - line.p0);
    side(one, two.p0) * side(one, two.p1) < 0.0 && side(two, one.p0) * side(two, one.p1) < 0.0
}

#[cfg(test)]
mod tests {
    use kurbo::Point;

    use super::*;

    #[test]
    fn what_the_bins_find_is_what_a_search_of_all_finds() {
        let mut obstacles = Obstacles::new(Rect::new(0.0, 0.0, 100.0, 60.0));
        let mut lines = Vec::new();
        for index in 0..60_u32 {
            let at = f64::from(index);
            let line = Line::new(
                Point::new(at * 7.3 % 130.0 - 15.0, at * 11.9 % 80.0 - 10.0),
                Point::new(at * 17.1 % 140.0 - 20.0, at * 5.7 % 90.0 - 15.0),
            );
            obstacles.add_line(line, SHAPES);
            lines.push(line);
        }
        for index in 0..200_u32 {
            let at = f64::from(index);
            let text = TextBox {
                centre: Point::new(at * 3.7 % 120.0 - 10.0, at * 2.9 % 70.0 - 5.0),
                along: kurbo::Vec2::new(0.6, 0.8),
                half_length: 4.0,
                half_height: 1.5,
            };
            let expected = lines.iter().filter(|line| text.is_crossed_by(**line)).count();
            assert_eq!(obstacles.lines_through(&text).len(), expected);
        }
    }

    #[test]
    fn an_owner_can_take_his_entries_away() {
        let mut obstacles = Obstacles::new(Rect::new(0.0, 0.0, 100.0, 60.0));
        let text = TextBox::upright(Rect::new(10.0, 10.0, 30.0, 14.0));
        obstacles.add_text(text, 3);
        assert_eq!(obstacles.texts_over(&text), vec![3]);
        obstacles.remove(3);
        assert!(obstacles.texts_over(&text).is_empty());
    }
}
