//! A page's marks as a content stream (ISO 32000-1, 8 and 9).

use kurbo::{Affine, PathEl, Point};

use super::Stretches;
use super::fonts::Fonts;
use crate::drawing::{Anchor, Fill, Item, LineKind, Stroke, Text};
use crate::lettering::MM_PER_POINT;
use crate::paper::{Element, ElementId, Page};

/// A page's content stream, and which element each marked stretch of it belongs to.
pub(super) struct Content {
    pub(super) stream: Vec<u8>,
    /// By the number that marks the stretch.
    pub(super) stretches: Stretches,
}

/// Grey of a tint, in thousandths: so light that a coarse screen's dots do not reach the figures.
const TINT: i64 = 950;

/// Writes a page.
pub(super) fn of(page: &Page, elements: &[Element], fonts: &Fonts) -> Content {
    // A pen's ends and corners stay as a stream starts with them: butt and mitre.
    let stream = Vec::with_capacity(64 * page.marks.len());
    let mut writer = Writer { fonts, stream, pen: None, grey: None, dash: LineKind::Continuous, font: None };
    let mut stretches = Stretches::new();
    for marks in page.marks.chunk_by(|one, other| one.element == other.element) {
        match marks[0].element {
            Some(element) => {
                writer.words(&format!("/{} <</MCID {}>> BDC\n", tag(elements, element), stretches.len()));
                stretches.push(element);
            }
            None => writer.words("/Artifact BMC\n"),
        }
        marks.iter().for_each(|mark| writer.item(&mark.item));
        writer.words("EMC\n");
    }
    Content { stream: writer.stream, stretches }
}

fn tag(elements: &[Element], element: ElementId) -> &'static str {
    elements.get(element.0).map_or("Span", |element| super::structure::name(element.role))
}

/// Writes marks, and leaves out what is set already.
struct Writer<'a> {
    fonts: &'a Fonts,
    stream: Vec<u8>,
    pen: Option<f64>,
    grey: Option<i64>,
    dash: LineKind,
    font: Option<(crate::lettering::Face, f64)>,
}

impl Writer<'_> {
    fn words(&mut self, words: &str) {
        self.stream.extend_from_slice(words.as_bytes());
    }

    /// A number of thousandths, and a space.
    fn number(&mut self, thousandths: i64) {
        let size = thousandths.unsigned_abs();
        if thousandths < 0 {
            self.stream.push(b'-');
        }
        let mut digits = [b'0'; 20];
        let mut at = digits.len();
        let mut rest = size / 1000;
        while rest > 0 || at == digits.len() {
            at -= 1;
            digits[at] = b'0' + digit(rest % 10);
            rest /= 10;
        }
        self.stream.extend_from_slice(&digits[at..]);
        let fraction = size % 1000;
        if fraction > 0 {
            let all =
                [b'.', b'0' + digit(fraction / 100), b'0' + digit(fraction / 10 % 10), b'0' + digit(fraction % 10)];
            let kept = all.iter().rposition(|c| *c != b'0').map_or(0, |last| last + 1);
            self.stream.extend_from_slice(&all[..kept]);
        }
        self.stream.push(b' ');
    }

    /// A length in millimetres as points, to a thousandth: 0.4 micrometres, finer than any printer.
    fn length(&mut self, millimetres: f64) {
        self.number(in_thousandths(millimetres));
    }

    fn point(&mut self, point: Point) {
        self.length(point.x);
        self.length(point.y);
    }

    fn item(&mut self, item: &Item) {
        match item {
            Item::Text(text) => self.text(text),
            Item::Path { outline, stroke, fill } => {
                let paint = match (stroke, fill) {
                    (Some(_), Some(_)) => "B\n",
                    (Some(_), None) => "S\n",
                    (None, Some(_)) => "f\n",
                    (None, None) => return,
                };
                if let Some(stroke) = stroke {
                    self.pen(*stroke);
                }
                if let Some(fill) = fill {
                    self.fill(match fill {
                        Fill::Black => 0,
                        Fill::White => 1000,
                        Fill::Tint => TINT,
                    });
                }
                self.outline(outline.elements());
                self.words(paint);
            }
        }
    }

    #[allow(clippy::float_cmp, reason = "the very same setting is not written twice")]
    fn text(&mut self, text: &Text) {
        if text.text.is_empty() {
            return;
        }
        self.fill(if text.white { 1000 } else { 0 });
        if self.font != Some((text.face, text.size)) {
            self.words(&format!("/{} ", Fonts::name(text.face)));
            self.number(thousandths(text.size));
            self.words("Tf ");
            self.font = Some((text.face, text.size));
        }
        let width = match text.anchor {
            Anchor::Start => 0.0,
            Anchor::Middle => text.face.width(&text.text, text.size) / 2.0,
            Anchor::End => text.face.width(&text.text, text.size),
        };
        self.words("BT ");
        if text.angle.abs() < 1e-12 {
            self.point(Point::new(text.at.x - width, text.at.y));
            self.words("Td <");
        } else {
            let (sin, cos) = (libm::sin(text.angle), libm::cos(text.angle));
            for part in [cos, sin, -sin, cos] {
                // Turned letters take six decimals: a long line must not drift.
                self.words(&format!("{part:.6} "));
            }
            self.point(Affine::translate(text.at.to_vec2()) * Point::new(-width * cos, -width * sin));
            self.words("Tm <");
        }
        self.fonts.write(text.face, &text.text, &mut self.stream);
        self.words("> Tj ET\n");
    }

    #[allow(clippy::float_cmp, reason = "the very same setting is not written twice")]
    fn pen(&mut self, stroke: Stroke) {
        let width_changes = self.pen != Some(stroke.width);
        if width_changes {
            self.length(stroke.width);
            self.words("w ");
            self.pen = Some(stroke.width);
        }
        if self.dash != stroke.kind || (width_changes && stroke.kind != LineKind::Continuous) {
            self.words("[");
            stroke.kind.dashes(stroke.width).into_iter().for_each(|dash| self.length(dash));
            self.words("] 0 d ");
            self.dash = stroke.kind;
        }
    }

    fn fill(&mut self, grey: i64) {
        if self.grey != Some(grey) {
            self.number(grey);
            self.words("g ");
            self.grey = Some(grey);
        }
    }

    fn outline(&mut self, mut elements: &[PathEl]) {
        let mut at = Point::ZERO;
        while let [element, rest @ ..] = elements {
            elements = rest;
            match *element {
                PathEl::MoveTo(corner) => {
                    at = corner;
                    match rest {
                        [PathEl::LineTo(b), PathEl::LineTo(c), PathEl::LineTo(d), PathEl::ClosePath, after @ ..]
                            if is_upright(corner, *b, *c, *d) =>
                        {
                            self.rectangle(corner, *c);
                            elements = after;
                        }
                        _ => {
                            self.point(corner);
                            self.words("m ");
                        }
                    }
                }
                PathEl::LineTo(to) => {
                    self.point(to);
                    self.words("l ");
                    at = to;
                }
                PathEl::QuadTo(control, to) => {
                    // The same curve as a cubic: its controls at two thirds of the way to the one.
                    self.curve(at.lerp(control, 2.0 / 3.0), to.lerp(control, 2.0 / 3.0), to);
                    at = to;
                }
                PathEl::CurveTo(one, two, to) => {
                    self.curve(one, two, to);
                    at = to;
                }
                PathEl::ClosePath => self.words("h "),
            }
        }
    }

    /// A rectangle by opposite corners, each rounded by itself: neighbours that share an edge still share it.
    fn rectangle(&mut self, one: Point, other: Point) {
        let corner = [one.x, one.y].map(in_thousandths);
        let opposite = [other.x, other.y].map(in_thousandths);
        corner.into_iter().for_each(|part| self.number(part));
        self.number(opposite[0] - corner[0]);
        self.number(opposite[1] - corner[1]);
        self.words("re ");
    }

    fn curve(&mut self, one: Point, two: Point, to: Point) {
        [one, two, to].into_iter().for_each(|point| self.point(point));
        self.words("c ");
    }
}

/// A length in millimetres as thousandths of a point.
fn in_thousandths(millimetres: f64) -> i64 {
    thousandths(millimetres / MM_PER_POINT)
}

/// Whether four corners in turn are those of a rectangle with level and upright sides.
#[allow(clippy::float_cmp, reason = "sides that are not exactly level or upright are written as lines")]
fn is_upright(a: Point, b: Point, c: Point, d: Point) -> bool {
    (a.y == b.y && b.x == c.x && c.y == d.y && d.x == a.x) || (a.x == b.x && b.y == c.y && c.x == d.x && d.y == a.y)
}

#[allow(clippy::cast_possible_truncation, reason = "the remainder of a division by ten fits a byte")]
fn digit(value: u64) -> u8 {
    value as u8
}

#[allow(clippy::cast_possible_truncation, reason = "a page's places are some millions of thousandths at most")]
fn thousandths(value: f64) -> i64 {
    (value * 1000.0).round() as i64
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_are_short_and_exact_to_a_thousandth() {
        let fonts = Fonts::of(&[]);
        let mut writer =
            Writer { fonts: &fonts, stream: Vec::new(), pen: None, grey: None, dash: LineKind::Continuous, font: None };
        for value in [0.0, 1.0, -0.25, 595.2756, 0.0004, -0.0006, 12.05, 1_234_567.125] {
            writer.number(thousandths(value));
        }
        assert_eq!(String::from_utf8(writer.stream).unwrap(), "0 1 -0.25 595.276 0 -0.001 12.05 1234567.125 ");
    }
}
