//! Marks in a place of their own, before they get a place on a page: the pen of this floor.
//!
//! Millimetres; x from the left edge of the text, y up, zero at the top: what is drawn has negative y.

use std::f64::consts::FRAC_PI_2;

use kurbo::{Affine, BezPath, Rect, Shape, Vec2};

use super::page::{ElementId, Link, Mark};
use super::text::{Line, Style};
use crate::drawing::{Anchor, Fill, Item, LineKind, Stroke, Text};
use crate::lettering::Face;

/// Marks and links drawn together.
#[derive(Debug, Clone, Default, PartialEq)]
pub(crate) struct Sketch {
    pub(crate) marks: Vec<Mark>,
    pub(crate) links: Vec<Link>,
}

impl Sketch {
    pub(crate) fn item(&mut self, item: Item, element: Option<ElementId>) {
        self.marks.push(Mark { item, element });
    }

    /// One line of text in one face.
    pub(crate) fn text(
        &mut self,
        at: (f64, f64),
        anchor: Anchor,
        text: &str,
        (face, size): (Face, f64),
        element: Option<ElementId>,
    ) {
        if text.is_empty() {
            return;
        }
        let text = Text { at: at.into(), text: text.to_owned(), face, size, anchor, angle: 0.0, white: false };
        self.item(Item::Text(text), element);
    }

    /// A broken line with its left end and baseline at `at`.
    pub(crate) fn line(&mut self, line: &Line, at: (f64, f64), style: Style, element: Option<ElementId>) {
        for piece in &line.pieces {
            let x = at.0 + piece.x;
            self.text((x, at.1), Anchor::Start, &piece.text, (piece.face, style.size), element);
            if let Some(sheet) = &piece.link {
                let area = Rect::new(x, at.1 - 0.25 * style.pitch(), x + piece.width, at.1 + 0.75 * style.pitch());
                self.links.push(Link { area, sheet: sheet.clone() });
            }
        }
    }

    /// Lines one under the other, the first one's top at `top`; gives the bottom of the last.
    pub(crate) fn lines(
        &mut self,
        lines: &[Line],
        (x, top): (f64, f64),
        style: Style,
        element: Option<ElementId>,
    ) -> f64 {
        let mut y = top;
        for line in lines {
            self.line(line, (x, y - style.ascent()), style, element);
            y -= style.pitch();
        }
        y
    }

    /// The outline of a rectangle.
    pub(crate) fn frame(&mut self, rect: Rect, width: f64) {
        let stroke = Some(Stroke { width, kind: LineKind::Continuous });
        self.item(Item::Path { outline: rect.to_path(0.1), stroke, fill: None }, None);
    }

    /// A filled rectangle.
    pub(crate) fn fill(&mut self, rect: Rect, fill: Fill) {
        self.item(Item::Path { outline: rect.to_path(0.1), stroke: None, fill: Some(fill) }, None);
    }

    /// A straight line.
    pub(crate) fn rule(&mut self, from: (f64, f64), to: (f64, f64), width: f64) {
        let mut outline = BezPath::new();
        outline.move_to(from);
        outline.line_to(to);
        let stroke = Some(Stroke { width, kind: LineKind::Continuous });
        self.item(Item::Path { outline, stroke, fill: None }, None);
    }

    /// A box to tick, by its centre and side.
    pub(crate) fn tick_box(&mut self, centre: (f64, f64), side: f64, ticked: bool) {
        let square = Rect::from_center_size(centre, (side, side));
        self.frame(square, 0.35);
        if ticked {
            let mut outline = BezPath::new();
            outline.move_to((square.x0 + 0.2 * side, centre.1));
            outline.line_to((centre.0 - 0.08 * side, square.y0 + 0.22 * side));
            outline.line_to((square.x1 - 0.16 * side, square.y1 - 0.18 * side));
            let stroke = Some(Stroke { width: 0.5, kind: LineKind::Continuous });
            self.item(Item::Path { outline, stroke, fill: None }, None);
        }
    }

    /// Takes over another sketch, moved.
    pub(crate) fn place(&mut self, other: &Self, dx: f64, dy: f64) {
        let shift = Affine::translate((dx, dy));
        self.marks.extend(other.marks.iter().map(|mark| Mark { item: mapped(&mark.item, shift, 1.0), ..mark.clone() }));
        self.links.extend(other.links.iter().map(|link| Link { area: link.area + Vec2::new(dx, dy), ..link.clone() }));
    }

    /// The same turned anticlockwise by a quarter about the origin, then moved to the right.
    pub(crate) fn turned(&self, right: f64) -> Self {
        let map = Affine::new([0.0, 1.0, -1.0, 0.0, right, 0.0]);
        let turn = |item: &Item| match mapped(item, map, 1.0) {
            Item::Text(text) => Item::Text(Text { angle: text.angle + FRAC_PI_2, ..text }),
            path @ Item::Path { .. } => path,
        };
        let marks = self.marks.iter().map(|mark| Mark { item: turn(&mark.item), ..mark.clone() }).collect();
        let area = |area: Rect| Rect::new(right - area.y1, area.x0, right - area.y0, area.x1);
        let links = self.links.iter().map(|link| Link { area: area(link.area), ..link.clone() }).collect();
        Self { marks, links }
    }

    /// The same, smaller or larger about the top left corner.
    pub(crate) fn scaled(&self, factor: f64) -> Self {
        let map = Affine::scale(factor);
        let marks = self.marks.iter().map(|mark| Mark { item: mapped(&mark.item, map, factor), ..mark.clone() });
        let links = self.links.iter().map(|link| Link { area: link.area.scale_from_origin(factor), ..link.clone() });
        Self { marks: marks.collect(), links: links.collect() }
    }
}

/// An item moved and scaled by `map`, whose scale is `factor`. Pens keep their width.
fn mapped(item: &Item, map: Affine, factor: f64) -> Item {
    match item {
        Item::Path { outline, stroke, fill } => Item::Path { outline: map * outline, stroke: *stroke, fill: *fill },
        Item::Text(text) => Item::Text(Text { at: map * text.at, size: text.size * factor, ..text.clone() }),
    }
}
