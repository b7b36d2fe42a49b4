//! A page's marks as operations of a content stream.

use kurbo::PathEl;
use printpdf::{DictItem, Op, PdfFontHandle, Point, Pt, TextItem, TextMatrix};

use super::fonts::Fonts;
use super::{Stretches, points, single};
use crate::drawing::{Anchor, Fill, Item, LineKind, Stroke, Text};
use crate::paper::{Element, ElementId, Page};

/// A page's operations, and which element each marked stretch of them belongs to.
pub(super) struct Content {
    pub(super) operations: Vec<Op>,
    /// By the number that marks the stretch.
    pub(super) stretches: Stretches,
}

/// Grey of a tint: prints as a light screen, copies as nothing.
const TINT: f32 = 0.915;

/// Writes a page.
pub(super) fn of(page: &Page, elements: &[Element], fonts: &Fonts) -> Content {
    let mut writer = Writer { fonts, operations: Vec::new(), stroke: None, grey: None, dash: LineKind::Continuous };
    let mut stretches = Stretches::new();
    // One pen's ends and corners for all: butt and mitre, as the file starts with.
    for marks in page.marks.chunk_by(|one, other| one.element == other.element) {
        match marks[0].element {
            Some(element) => {
                let mut properties = std::collections::BTreeMap::new();
                properties.insert("MCID".to_owned(), DictItem::Int(super::count(stretches.len())));
                writer.operations.push(Op::BeginMarkedContentWithProperties {
                    tag: tag(elements, element),
                    properties: DictItem::Dict { map: properties },
                });
                stretches.push(element);
            }
            None => writer.operations.push(Op::BeginMarkedContent { tag: "Artifact".to_owned() }),
        }
        marks.iter().for_each(|mark| writer.item(&mark.item));
        writer.operations.push(Op::EndMarkedContent);
    }
    Content { operations: writer.operations, stretches }
}

fn tag(elements: &[Element], element: ElementId) -> String {
    elements.get(element.0).map_or("Span", |element| super::structure::name(element.role)).to_owned()
}

/// Writes marks, and leaves out what is set already.
struct Writer<'a> {
    fonts: &'a Fonts,
    operations: Vec<Op>,
    stroke: Option<f64>,
    grey: Option<f32>,
    dash: LineKind,
}

impl Writer<'_> {
    fn item(&mut self, item: &Item) {
        match item {
            Item::Text(text) => self.text(text),
            Item::Path { outline, stroke, fill } => {
                let paint = match (stroke, fill) {
                    (Some(_), Some(_)) => "B",
                    (Some(_), None) => "S",
                    (None, Some(_)) => "f",
                    (None, None) => return,
                };
                if let Some(stroke) = stroke {
                    self.pen(*stroke);
                }
                if let Some(fill) = fill {
                    self.fill(match fill {
                        Fill::Black => 0.0,
                        Fill::White => 1.0,
                        Fill::Tint => TINT,
                    });
                }
                self.outline(outline.elements());
                self.write(paint, &[]);
            }
        }
    }

    fn text(&mut self, text: &Text) {
        let shown = self.fonts.shown(text.face, &text.text);
        if shown.is_empty() {
            return;
        }
        self.fill(if text.white { 1.0 } else { 0.0 });
        let width = match text.anchor {
            Anchor::Start => 0.0,
            Anchor::Middle => text.face.width(&text.text, text.size) / 2.0,
            Anchor::End => text.face.width(&text.text, text.size),
        };
        let (sin, cos) = (libm::sin(text.angle), libm::cos(text.angle));
        let (x, y) = (points(text.at.x - width * cos), points(text.at.y - width * sin));
        self.operations.push(Op::StartTextSection);
        self.operations.push(Op::SetFont {
            font: PdfFontHandle::External(Fonts::id(text.face)),
            size: Pt(single((text.size * 1000.0).round() / 1000.0)),
        });
        if text.angle.abs() < 1e-12 {
            self.operations.push(Op::SetTextCursor { pos: Point { x: Pt(x), y: Pt(y) } });
        } else {
            let (sin, cos) = (single(sin), single(cos));
            self.operations.push(Op::SetTextMatrix { matrix: TextMatrix::Raw([cos, sin, -sin, cos, x, y]) });
        }
        self.operations.push(Op::ShowText { items: vec![TextItem::Text(shown)] });
        self.operations.push(Op::EndTextSection);
    }

    #[allow(clippy::float_cmp, reason = "the very same setting is not written twice")]
    fn pen(&mut self, stroke: Stroke) {
        let width_changes = self.stroke != Some(stroke.width);
        if width_changes {
            self.write("w", &[points(stroke.width)]);
            self.stroke = Some(stroke.width);
        }
        if self.dash != stroke.kind || (width_changes && stroke.kind != LineKind::Continuous) {
            let dashes = stroke.kind.dashes(stroke.width).into_iter();
            let dashes = DictItem::Array(dashes.map(|dash| DictItem::Real(points(dash))).collect());
            self.operations.push(Op::Unknown { key: "d".to_owned(), value: vec![dashes, DictItem::Int(0)] });
            self.dash = stroke.kind;
        }
    }

    #[allow(clippy::float_cmp, reason = "the very same setting is not written twice")]
    fn fill(&mut self, grey: f32) {
        if self.grey != Some(grey) {
            self.write("g", &[grey]);
            self.grey = Some(grey);
        }
    }

    fn outline(&mut self, elements: &[PathEl]) {
        let mut at = kurbo::Point::ZERO;
        for element in elements {
            match *element {
                PathEl::MoveTo(to) => {
                    self.write("m", &[points(to.x), points(to.y)]);
                    at = to;
                }
                PathEl::LineTo(to) => {
                    self.write("l", &[points(to.x), points(to.y)]);
                    at = to;
                }
                PathEl::QuadTo(control, to) => {
                    // The same curve as a cubic: its controls at two thirds of the way to the one.
                    let (one, two) = (at.lerp(control, 2.0 / 3.0), to.lerp(control, 2.0 / 3.0));
                    self.curve(one, two, to);
                    at = to;
                }
                PathEl::CurveTo(one, two, to) => {
                    self.curve(one, two, to);
                    at = to;
                }
                PathEl::ClosePath => self.write("h", &[]),
            }
        }
    }

    fn curve(&mut self, one: kurbo::Point, two: kurbo::Point, to: kurbo::Point) {
        let numbers = [one.x, one.y, two.x, two.y, to.x, to.y].map(points);
        self.write("c", &numbers);
    }

    fn write(&mut self, operator: &str, numbers: &[f32]) {
        let value = numbers.iter().map(|number| DictItem::Real(*number)).collect();
        self.operations.push(Op::Unknown { key: operator.to_owned(), value });
    }
}
