//! Writes a picture as SVG 1.1 in the thing's own millimetres: 1 unit = 1 mm of the real thing.
//!
//! In: a placed picture. Out: the text of the file. Coordinates are the drawing's own, y turned down as SVG has it,
//! so that a point can be checked against the tables. Pens and letters are sized to look as they do on the sheet.
//! A scheme, or a drawing with two scales, has no true millimetres: it is written in millimetres on paper and says so.

use kurbo::{BezPath, PathEl, Point};

use super::escape::escaped;
use crate::drawing::{Anchor, Fill, Item, Picture, Stroke, Text};
use crate::lettering::{Face, MM_PER_POINT};

/// Decimals of a coordinate: a ten-thousandth of a millimetre.
const DECIMALS: usize = 4;

/// The file of one picture. `title` names it for those who hear or search it.
pub fn svg(picture: &Picture, title: &str) -> String {
    let mut out = String::with_capacity(16_384);
    out.push_str("<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n");
    element(&mut out, picture, title, None);
    out
}

/// How a picture stands among others in another document.
#[derive(Debug, Clone, Copy)]
pub(super) struct Among<'a> {
    /// What each of its identifiers begins with, so that none is there twice.
    pub(super) prefix: &'a str,
    /// The width that the document's column stands for, in millimetres on paper: letters come out alike in all pictures.
    pub(super) column: f64,
}

/// The picture as an element, by itself or among others.
///
/// Among others its colours are left to the document's style, and a text keeps its width in whatever typeface is there.
pub(super) fn element(out: &mut String, picture: &Picture, title: &str, among: Option<Among<'_>>) {
    let frame = Frame::of(picture);
    let prefix = among.map_or("", |among| among.prefix);
    let low = frame.at(Point::new(0.0, picture.height));
    let (width, height) = (picture.width / frame.factor, picture.height / frame.factor);
    let size = match among {
        None => format!("width=\"{}mm\" height=\"{}mm\"", number(width), number(height)),
        Some(among) => format!("width=\"{}%\"", number((picture.width / among.column * 100.0).min(100.0))),
    };
    out.push_str(&format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" version=\"1.1\" {size} viewBox=\"{} {} {} {}\" role=\"img\" \
         aria-labelledby=\"{prefix}title {prefix}desc\">\n",
        number(low.x),
        number(low.y),
        number(width),
        number(height),
    ));
    out.push_str(&format!("<title id=\"{prefix}title\">{}</title>\n", escaped(title)));
    out.push_str(&format!("<desc id=\"{prefix}desc\">{} {}</desc>\n", escaped(&picture.alt), frame.unit_note));
    for layer in &picture.layers {
        out.push_str(&format!(
            "<g id=\"{prefix}{}\" fill=\"none\" stroke=\"none\" stroke-linejoin=\"round\">\n",
            layer.layer.name()
        ));
        for item in &layer.items {
            match item {
                Item::Path { outline, stroke, fill } => path(out, &frame, outline, *stroke, *fill),
                Item::Text(line) => text(out, &frame, line, among.is_some()),
            }
        }
        out.push_str("</g>\n");
    }
    out.push_str("</svg>\n");
}

/// From paper to the file's own coordinates.
struct Frame {
    origin: Point,
    /// Millimetres on paper for one unit of the file.
    factor: f64,
    unit_note: &'static str,
}

impl Frame {
    fn of(picture: &Picture) -> Self {
        match picture.scale {
            Some(scale) if scale.is_uniform() => {
                Self { origin: picture.origin, factor: scale.along, unit_note: "1 unit is 1 mm of the real thing." }
            }
            Some(_) => Self {
                origin: Point::new(0.0, picture.height),
                factor: 1.0,
                unit_note: "1 unit is 1 mm on paper: the drawing has two scales.",
            },
            None => Self {
                origin: Point::new(0.0, picture.height),
                factor: 1.0,
                unit_note: "1 unit is 1 mm on paper: the drawing is a scheme without a scale.",
            },
        }
    }

    fn at(&self, point: Point) -> Point {
        Point::new((point.x - self.origin.x) / self.factor, (self.origin.y - point.y) / self.factor)
    }
}

fn path(out: &mut String, frame: &Frame, outline: &BezPath, stroke: Option<Stroke>, fill: Option<Fill>) {
    out.push_str("<path d=\"");
    for (index, element) in outline.iter().enumerate() {
        if index > 0 {
            out.push(' ');
        }
        let mut command = |letter: char, points: &[Point]| {
            out.push(letter);
            for (place, point) in points.iter().enumerate() {
                let point = frame.at(*point);
                if place > 0 {
                    out.push(' ');
                }
                push_number(out, point.x);
                out.push(' ');
                push_number(out, point.y);
            }
        };
        match element {
            PathEl::MoveTo(p) => command('M', &[p]),
            PathEl::LineTo(p) => command('L', &[p]),
            PathEl::QuadTo(p, q) => command('Q', &[p, q]),
            PathEl::CurveTo(p, q, r) => command('C', &[p, q, r]),
            PathEl::ClosePath => command('Z', &[]),
        }
    }
    out.push('"');
    if let Some(stroke) = stroke {
        out.push_str(&format!(" stroke=\"#000\" stroke-width=\"{}\"", number(stroke.width / frame.factor)));
        let dashes = stroke.kind.dashes(stroke.width);
        if !dashes.is_empty() {
            let dashes: Vec<String> = dashes.iter().map(|dash| number(dash / frame.factor)).collect();
            out.push_str(&format!(" stroke-dasharray=\"{}\"", dashes.join(" ")));
        }
    }
    if let Some(fill) = fill {
        let colour = match fill {
            Fill::Black => "#000",
            Fill::White => "#fff",
            Fill::Tint => "#eee",
        };
        out.push_str(&format!(" fill=\"{colour}\" fill-rule=\"evenodd\""));
    }
    out.push_str("/>\n");
}

fn text(out: &mut String, frame: &Frame, text: &Text, keeps_width: bool) {
    let at = frame.at(text.at);
    let anchor = match text.anchor {
        Anchor::Start => "start",
        Anchor::Middle => "middle",
        Anchor::End => "end",
    };
    let bold = matches!(text.face, Face::Bold | Face::CondensedBold);
    let narrow = matches!(text.face, Face::Condensed | Face::CondensedBold);
    out.push_str(&format!("<text x=\"{}\" y=\"{}\"", number(at.x), number(at.y)));
    if text.angle != 0.0 {
        let degrees = -text.angle.to_degrees();
        out.push_str(&format!(" transform=\"rotate({} {} {})\"", number(degrees), number(at.x), number(at.y)));
    }
    out.push_str(&format!(
        " font-family=\"DejaVu Sans, sans-serif\" font-size=\"{}\" text-anchor=\"{anchor}\" fill=\"{}\"",
        number(text.size * MM_PER_POINT / frame.factor),
        if text.white { "#fff" } else { "#000" },
    ));
    if keeps_width {
        let width = text.face.width(&text.text, text.size) / frame.factor;
        out.push_str(&format!(" textLength=\"{}\" lengthAdjust=\"spacingAndGlyphs\"", number(width)));
    }
    if bold {
        out.push_str(" font-weight=\"bold\"");
    }
    if narrow {
        out.push_str(" font-stretch=\"condensed\"");
    }
    out.push_str(&format!(">{}</text>\n", escaped(&text.text)));
}

/// A number with a dot, no exponent, no needless zeros and no minus zero.
fn number(value: f64) -> String {
    let mut text = String::with_capacity(12);
    push_number(&mut text, value);
    text
}

/// The same at the end of a text: coordinates are most of a file.
fn push_number(out: &mut String, value: f64) {
    use std::fmt::Write;
    let start = out.len();
    // A string takes every character.
    let _ = write!(out, "{value:.DECIMALS$}");
    let end = out.trim_end_matches('0').trim_end_matches('.').len();
    out.truncate(end);
    if out.get(start..) == Some("-0") {
        out.truncate(start);
        out.push('0');
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_number_has_no_needless_zeros_and_no_minus_zero() {
        let pairs = [(100.0, "100"), (-0.00004, "0"), (-0.0001, "-0.0001"), (1.5, "1.5"), (0.0, "0"), (-20.0, "-20")];
        for (value, text) in pairs {
            assert_eq!(number(value), text);
            let mut out = "1000 ".to_owned();
            push_number(&mut out, value);
            assert_eq!(out, format!("1000 {text}"));
        }
    }
}
