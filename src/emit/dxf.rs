//! DXF of the year 2000 (AC1015), plain text: the exchange format that CAD readers, lasers and routers take.
//!
//! In: a plan, in the thing's own millimetres. Out: the text of the file, ASCII only. One unit is one millimetre and
//! the header says so. Layers carry the meaning; outlines are polylines whose arcs stay arcs, and close where they are
//! closed. Handles are counted within the file, so the same plan gives the same bytes.
//! Group codes and what each object must hold are from memory, checked by two readers (see the tests).

mod sections;

use std::collections::BTreeMap;
use std::fmt::Write;

use kurbo::{Point, Rect};

use crate::drawing::contour::Corner;
use crate::drawing::plan::{Figure, PlanMark, capital_height};
use crate::drawing::{Anchor, Contour, LineKind, Plan, Stroke, Text};

/// Decimals of a coordinate: a nanometre, so that what is read back is what was computed.
const DECIMALS: usize = 6;
/// Handle of the record of model space, which owns all that is drawn.
const MODEL_SPACE: u32 = 0x1F;
/// The first handle of an entity; those of tables, blocks and objects lie below.
const FIRST_ENTITY: u32 = 0x100;

/// The file of one plan.
pub fn dxf(plan: &Plan) -> String {
    let mut entities = Writer::default();
    let mut handle = FIRST_ENTITY;
    for mark in &plan.marks {
        entities.mark(handle, mark);
        handle += 1;
    }
    let levels: BTreeMap<String, ()> = plan.marks.iter().map(|mark| (mark.level.name(), ())).collect();
    let mut file = Writer::default();
    let extent = plan.bounds().unwrap_or(Rect::ZERO);
    sections::header(&mut file, extent, handle, plan.dashes);
    sections::tables(&mut file, extent, levels.keys());
    sections::blocks(&mut file);
    file.pair(0, "SECTION");
    file.pair(2, "ENTITIES");
    file.out.push_str(&entities.out);
    file.pair(0, "ENDSEC");
    sections::objects(&mut file);
    file.pair(0, "EOF");
    file.out
}

/// Writes pairs of a group code and a value, each on its own line.
#[derive(Default)]
struct Writer {
    out: String,
}

impl Writer {
    fn pair(&mut self, code: u16, value: impl std::fmt::Display) {
        writeln!(self.out, "{code:>3}\n{value}").expect("a string takes every character");
    }

    fn handle(&mut self, code: u16, handle: u32) {
        self.pair(code, format_args!("{handle:X}"));
    }

    fn number(&mut self, code: u16, value: f64) {
        self.pair(code, number(value));
    }

    fn point(&mut self, code: u16, at: Point) {
        self.number(code, at.x);
        self.number(code + 10, at.y);
    }

    fn space_point(&mut self, code: u16, at: Point) {
        self.point(code, at);
        self.number(code + 20, 0.0);
    }

    /// What every entity begins with.
    fn entity(&mut self, kind: &str, handle: u32, mark: &PlanMark, class: &str) {
        self.pair(0, kind);
        self.handle(5, handle);
        self.handle(330, MODEL_SPACE);
        self.pair(100, "AcDbEntity");
        self.pair(8, mark.level.name());
        if let Some(stroke) = mark.stroke {
            self.pair(6, line_type(stroke.kind));
            self.pair(370, line_weight(stroke));
        }
        self.pair(100, class);
    }

    fn mark(&mut self, handle: u32, mark: &PlanMark) {
        match &mark.figure {
            Figure::Circle { centre, radius } => {
                self.entity("CIRCLE", handle, mark, "AcDbCircle");
                self.space_point(10, *centre);
                self.number(40, *radius);
            }
            Figure::Contour(contour) => match contour.corners.as_slice() {
                [from, to] if !contour.closed && from.bulge == 0.0 => {
                    self.entity("LINE", handle, mark, "AcDbLine");
                    self.space_point(10, from.at);
                    self.space_point(11, to.at);
                }
                corners => self.polyline(handle, mark, contour, corners),
            },
            Figure::Text(text) => self.text(handle, mark, text),
        }
    }

    fn polyline(&mut self, handle: u32, mark: &PlanMark, contour: &Contour, corners: &[Corner]) {
        self.entity("LWPOLYLINE", handle, mark, "AcDbPolyline");
        self.pair(90, corners.len());
        self.pair(70, u8::from(contour.closed));
        for corner in corners {
            self.point(10, corner.at);
            if corner.bulge != 0.0 {
                self.pair(42, format_args!("{:.12}", corner.bulge));
            }
        }
    }

    fn text(&mut self, handle: u32, mark: &PlanMark, text: &Text) {
        self.entity("TEXT", handle, mark, "AcDbText");
        self.space_point(10, text.at);
        self.number(40, capital_height(text));
        self.pair(1, inert(&text.text));
        if text.angle != 0.0 {
            self.number(50, text.angle.to_degrees());
        }
        self.pair(7, sections::TEXT_STYLE);
        let anchor = match text.anchor {
            Anchor::Start => 0,
            Anchor::Middle => 1,
            Anchor::End => 2,
        };
        if anchor != 0 {
            self.pair(72, anchor);
            self.space_point(11, text.at);
        }
        self.pair(100, "AcDbText");
    }
}

/// The line type that a line kind is drawn in.
const fn line_type(kind: LineKind) -> &'static str {
    match kind {
        LineKind::Continuous => "Continuous",
        LineKind::Dashed => "Dashed",
        LineKind::LongDashDot => "Long-dash-dot",
        LineKind::LongDashDoubleDot => "Long-dash-double-dot",
    }
}

/// A pen's width in hundredths of a millimetre; the series of ISO 128-2 lies within the format's own.
fn line_weight(stroke: Stroke) -> String {
    format!("{:.0}", stroke.width * 100.0)
}

/// A number with a dot and at least one decimal, no exponent and no minus zero.
fn number(value: f64) -> String {
    let text = format!("{value:.DECIMALS$}");
    let text = text.trim_end_matches('0');
    let text = if text.ends_with('.') { format!("{text}0") } else { text.to_owned() };
    if text == "-0.0" { "0.0".to_owned() } else { text }
}

/// Text that can be nothing but text: no line break, no code of the format (`%%`, `\U+`, `^J`), ASCII only.
///
/// A character beyond ASCII is written by its number as the format asks, a caret as the pair that stands for one.
/// Two per cent signs get a space between them, and a backslash becomes a slash: the format knows no way to write either.
fn inert(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for sign in text.chars() {
        match sign {
            '%' if out.ends_with('%') => out.push_str(" %"),
            '\\' => out.push('/'),
            '^' => out.push_str("^ "),
            ' '..='~' => out.push(sign),
            '\t' | '\n' | '\r' | '\u{a0}' | '\u{2007}' | '\u{202f}' => out.push(' '),
            _ if sign.is_control() || u32::from(sign) > 0xffff => out.push('?'),
            _ => write!(out, "\\U+{:04X}", u32::from(sign)).expect("a string takes every character"),
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn text_is_inert() {
        assert_eq!(inert("a\r\n  0\r\nEOF"), "a    0  EOF");
        assert_eq!(inert("%%d 100 % %%%c"), "% %d 100 % % % %c");
        assert_eq!(inert("\\U+0041 \\P ^J {Ø}"), "/U+0041 /P ^ J {\\U+00D8}");
        assert_eq!(inert("\u{0}\u{85}𝄞"), "???");
    }

    #[test]
    fn numbers_are_plain() {
        assert_eq!(
            [0.0, -0.0, 1.0, -1e-9, 664.7375, 1e15].map(number),
            ["0.0", "0.0", "1.0", "0.0", "664.7375", "1000000000000000.0"]
        );
    }
}
