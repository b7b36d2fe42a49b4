//! Linear dimensions: which row each line runs in, its arrows and extension lines.
//!
//! Manners of ISO 129-1 (from memory): short dimensions nearest the view, so that extension lines do not cross
//! dimension lines; a gap at the feature and an overshoot past the line; arrows from outside where inside is short.

use kurbo::{Line, Point, Rect, Vec2};

use super::layout::to_paper;
use super::marks::{ARROW_LENGTH, unit};
use super::ordinates::reach;
use crate::drawing::annotation::{Linear, Measure, Row};
use crate::drawing::outline::bounds;
use crate::drawing::scale::Scale;
use crate::drawing::style::Side;

/// From the view to the first row.
const FIRST_ROW: f64 = 6.5;
/// From row to row, where no text needs more.
const NEXT_ROW: f64 = 6.0;
/// Gap between feature and extension line.
const GAP: f64 = 1.0;
/// How far an extension line passes its dimension line.
const OVERSHOOT: f64 = 1.5;
/// Dimensions that overlap by no more than this meet end to end and share a row.
const TOUCH: f64 = 1.0;
/// Shorter lines have their arrows outside.
const SHORT: f64 = 2.0 * ARROW_LENGTH + 2.5;
/// Length of the line behind an arrow that stands outside.
pub(super) const TAIL: f64 = ARROW_LENGTH + 2.2;

/// A dimension whose line has its place.
#[derive(Debug, Clone)]
pub(super) struct RowedLinear<'a> {
    pub(super) asked: &'a Linear,
    /// The measured points on paper.
    pub(super) points: [Point; 2],
    /// The ends of the dimension line, in reading direction.
    pub(super) ends: [Point; 2],
    /// Away from the measured points.
    pub(super) outward: Vec2,
    /// Whether the figure may stand beside the line: no other row is in the way.
    pub(super) outermost: bool,
}

impl RowedLinear<'_> {
    pub(super) fn length(&self) -> f64 {
        self.ends[0].distance(self.ends[1])
    }

    /// Unit vector along the line in reading direction.
    pub(super) fn along(&self) -> Vec2 {
        let drawn = self.ends[1] - self.ends[0];
        if drawn.hypot() > 1e-9 { unit(drawn) } else { reading(self.outward) }
    }

    pub(super) fn arrows_outside(&self) -> bool {
        self.length() < SHORT
    }

    /// Extension lines, left out where the line runs through the point itself.
    pub(super) fn extensions(&self) -> Vec<Line> {
        let mut lines = Vec::new();
        for (point, end) in self.points.iter().zip(self.ends) {
            let distance = (end - *point).hypot();
            if distance > GAP {
                let way = (end - *point) / distance;
                lines.push(Line::new(*point + way * GAP, end + way * OVERSHOOT));
            }
        }
        lines
    }

    /// The dimension line with its tails.
    pub(super) fn line(&self) -> Line {
        let tail = if self.arrows_outside() { self.along() * TAIL } else { Vec2::ZERO };
        Line::new(self.ends[0] - tail, self.ends[1] + tail)
    }

    /// The box of lines and of the figure where it will most likely stand.
    pub(super) fn bounds(&self) -> Rect {
        let size = super::choices::text_size(&self.asked.text, self.asked.lettering);
        let figure = self.outermost.then(|| super::choices::likeliest_place(self, size));
        let line = self.line();
        let points = self
            .extensions()
            .into_iter()
            .chain([line])
            .flat_map(|line| [line.p0, line.p1])
            .chain(figure.into_iter().flat_map(|place| place.corners()));
        bounds(points).unwrap_or(Rect::ZERO).inflate(0.3, 0.3)
    }

    /// How far along the row it needs the paper for itself.
    fn occupied(&self, along: Vec2) -> (f64, f64) {
        let bounds = self.bounds();
        let (low, high) = (Vec2::new(bounds.x0, bounds.y0).dot(along), Vec2::new(bounds.x1, bounds.y1).dot(along));
        let line = self.line();
        let (from, to) = (line.p0.to_vec2().dot(along), line.p1.to_vec2().dot(along));
        // The points' own extent along the row counts; their distance from it does not.
        (low.min(from.min(to)), high.max(from.max(to)))
    }

    fn moved_to(&mut self, level: f64) {
        for end in &mut self.ends {
            *end += self.outward * (level - end.to_vec2().dot(self.outward));
        }
    }
}

/// The direction text is read in along a line square to `outward`: to the right, or upward.
fn reading(outward: Vec2) -> Vec2 {
    let along = Vec2::new(-outward.y, outward.x);
    if along.x > 1e-6 || (along.x.abs() <= 1e-6 && along.y > 0.0) { along } else { -along }
}

/// Gives every dimension its row. Where a side carries ordinates, its dimensions go to the side across.
pub(super) fn in_rows<'a>(
    asked: &[&'a Linear],
    outline: Rect,
    ordinate_sides: &[Side],
    factors: Scale,
) -> Vec<RowedLinear<'a>> {
    let mut placed = Vec::new();
    let mut outside: Vec<(Side, RowedLinear<'a>)> = Vec::new();
    for linear in asked {
        let crowded = |side: Side| ordinate_sides.contains(&side);
        let side = if linear.row == Row::Outside && crowded(linear.side) && !crowded(linear.side.opposite()) {
            linear.side.opposite()
        } else {
            linear.side
        };
        let rowed = start(linear, side, factors);
        match linear.row {
            Row::Outside if linear.measure != Measure::Aligned => outside.push((side, rowed)),
            Row::Outside | Row::At(_) => placed.push(rowed),
        }
    }
    for side in Side::ALL {
        let rows = outside.iter().filter(|(at, _)| *at == side).map(|(_, rowed)| rowed.clone()).collect();
        placed.extend(stack(rows, side, outline));
    }
    placed
}

/// The dimension with its line as near its points as asked.
fn start<'a>(linear: &'a Linear, side: Side, factors: Scale) -> RowedLinear<'a> {
    let points = [to_paper(linear.from, factors), to_paper(linear.to, factors)];
    let outward = match linear.measure {
        Measure::Aligned => {
            let along = unit(points[1] - points[0]);
            let square = Vec2::new(-along.y, along.x);
            if square.dot(side.outward()) >= 0.0 { square } else { -square }
        }
        Measure::Horizontal | Measure::Vertical => side.outward(),
    };
    let distance = match linear.row {
        Row::At(distance) => distance,
        Row::Outside => FIRST_ROW,
    };
    let level = points.iter().map(|point| point.to_vec2().dot(outward)).fold(f64::NEG_INFINITY, f64::max) + distance;
    let mut points = points;
    let along = reading(outward);
    if points[0].to_vec2().dot(along) > points[1].to_vec2().dot(along) {
        points.swap(0, 1);
    }
    let mut rowed = RowedLinear { asked: linear, points, ends: points, outward, outermost: true };
    rowed.moved_to(level);
    rowed
}

/// Stacks dimensions outward from the outline, short ones first.
fn stack<'a>(mut rows: Vec<RowedLinear<'a>>, side: Side, outline: Rect) -> Vec<RowedLinear<'a>> {
    let along = side.along();
    rows.sort_by(|one, two| {
        one.length()
            .total_cmp(&two.length())
            .then_with(|| one.ends[0].to_vec2().dot(along).total_cmp(&two.ends[0].to_vec2().dot(along)))
    });
    let mut row_of: Vec<usize> = Vec::new();
    let spans: Vec<(f64, f64)> = rows.iter().map(|rowed| rowed.occupied(along)).collect();
    for (index, span) in spans.iter().enumerate() {
        let over = (0..index)
            .filter(|other| spans[*other].0 < span.1 - TOUCH && span.0 < spans[*other].1 - TOUCH)
            .map(|other| row_of[other] + 1)
            .max();
        row_of.push(over.unwrap_or(0));
    }
    let last = row_of.iter().copied().max().unwrap_or(0);
    let mut level = reach(outline, side) + FIRST_ROW;
    for row in 0..rows.len() {
        let mut depth = NEXT_ROW;
        for (rowed, _) in rows.iter_mut().zip(&row_of).filter(|(_, at)| **at == row) {
            rowed.moved_to(level);
            rowed.outermost = row == last;
            depth = depth.max(reach(rowed.bounds(), side) - level + 2.0);
        }
        level += depth;
    }
    rows
}
