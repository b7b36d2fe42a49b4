//! The shapes of a drawing on paper: items to draw, and lines that texts stay clear of.

use kurbo::{Line, Point, Vec2};

use super::layout::to_paper;
use crate::drawing::item::{Fill, Item, Stroke};
use crate::drawing::outline::{circle, polygon, polyline, straight_pieces, stretched};
use crate::drawing::scale::Scale;
use crate::drawing::style::{Layer, Pen};
use crate::drawing::textbox::across;
use crate::drawing::{Drawing, Shape, hatch};

/// Length of a filled arrowhead.
pub(super) const ARROW_LENGTH: f64 = 2.6;
/// Half its width at the back.
const ARROW_HALF: f64 = 0.42;

/// A drawing's shapes on paper.
pub(super) struct PlacedMarks {
    pub(super) items: Vec<(Layer, Item)>,
    /// What no text may lie on.
    pub(super) lines: Vec<Line>,
    /// Edges of areas filled black.
    pub(super) solids: Vec<Vec<Line>>,
    /// Hatch lines, still whole.
    pub(super) hatching: Vec<Line>,
}

pub(super) fn on_paper(drawing: &Drawing, factors: Scale) -> PlacedMarks {
    let mut placed = PlacedMarks { items: Vec::new(), lines: Vec::new(), solids: Vec::new(), hatching: Vec::new() };
    for mark in &drawing.marks {
        match &mark.shape {
            Shape::Path { outline, pen, fill } => {
                let outline = stretched(outline, factors.factors());
                let pieces = straight_pieces(&outline, 0.05);
                if pen.is_some() || *fill == Some(Fill::Black) {
                    placed.lines.extend(&pieces);
                }
                if *fill == Some(Fill::Black) {
                    placed.solids.push(pieces);
                }
                let item = Item::Path { outline, stroke: pen.map(Pen::stroke), fill: *fill };
                placed.items.push((mark.layer, item));
            }
            Shape::Overshooting { from, to, pen, by } => {
                let (from, to) = (to_paper(*from, factors), to_paper(*to, factors));
                let reach = unit(to - from) * *by;
                placed.line(mark.layer, from - reach, to + reach, *pen);
            }
            Shape::Hatched { area, angle, pitch } => {
                placed.hatching.extend(hatch::hatch_lines(&stretched(area, factors.factors()), *angle, *pitch));
            }
            Shape::Dot { at, radius, filled } => {
                let outline = circle(to_paper(*at, factors), *radius);
                placed.lines.extend(straight_pieces(&outline, 0.05));
                let stroke = (!filled).then(|| Pen::Thin.stroke());
                let fill = Some(if *filled { Fill::Black } else { Fill::White });
                placed.items.push((mark.layer, Item::Path { outline, stroke, fill }));
            }
            Shape::Plus { at, off, arm } => {
                let middle = to_paper(*at, factors) + *off;
                for reach in [Vec2::new(*arm, 0.0), Vec2::new(0.0, *arm)] {
                    placed.line(mark.layer, middle - reach, middle + reach, Pen::Visible);
                }
            }
            Shape::Arrow { from, to, pen } => {
                let (from, to) = (to_paper(*from, factors), to_paper(*to, factors));
                // The shaft ends inside the head, so that its square end does not blunt the tip.
                placed.line(mark.layer, from, to - unit(to - from) * ARROW_LENGTH * 0.6, *pen);
                placed.lines.push(Line::new(from, to));
                placed.items.push((mark.layer, arrowhead(to, to - from)));
            }
        }
    }
    placed
}

impl PlacedMarks {
    fn line(&mut self, layer: Layer, from: Point, to: Point, pen: Pen) {
        self.lines.push(Line::new(from, to));
        self.items.push((layer, stroked(&[from, to], pen.stroke())));
    }
}

/// An open line through points.
pub(super) fn stroked(points: &[Point], stroke: Stroke) -> Item {
    Item::Path { outline: polyline(points), stroke: Some(stroke), fill: None }
}

/// A filled arrowhead with its tip at a point.
pub(super) fn arrowhead(tip: Point, toward: Vec2) -> Item {
    let along = unit(toward);
    let back = tip - along * ARROW_LENGTH;
    let half = across(along) * ARROW_HALF;
    Item::Path { outline: polygon(&[tip, back + half, back - half]), stroke: None, fill: Some(Fill::Black) }
}

/// The unit vector of a vector; along x if it has no length.
pub(super) fn unit(vector: Vec2) -> Vec2 {
    let length = vector.hypot();
    if length > 1e-9 { vector / length } else { Vec2::new(1.0, 0.0) }
}
