//! The box a line of text fills on paper, and what touches it.

use kurbo::{Line, Point, Rect, Vec2};

use super::item::{Anchor, Text};
use super::style::Lettering;
use crate::lettering::MM_PER_POINT;

/// Height of capitals, figures and ascenders over the baseline, in ems.
pub(super) const ASCENT: f64 = 0.77;

/// A rectangle on paper that may stand aslant.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TextBox {
    /// Its middle.
    pub centre: Point,
    /// Unit vector along the text.
    pub along: Vec2,
    /// Half its length along the text.
    pub half_length: f64,
    /// Half its height across the text.
    pub half_height: f64,
}

/// How far a text reaches below its baseline, in ems: only what has a tail does.
pub(super) fn descent(text: &str) -> f64 {
    let tailless = |c: char| {
        c.is_ascii_uppercase() && c != 'Q' && c != 'J'
            || c.is_ascii_digit()
            || "abcdefhiklmnorstuvwxz .:−–+=°ΩØ×←→↑↓".contains(c)
    };
    if text.chars().all(tailless) { 0.04 } else { 0.24 }
}

impl TextBox {
    /// An upright box.
    pub fn upright(rectangle: Rect) -> Self {
        Self {
            centre: rectangle.center(),
            along: Vec2::new(1.0, 0.0),
            half_length: rectangle.width() / 2.0,
            half_height: rectangle.height() / 2.0,
        }
    }

    /// The box of a text that is centred on a point (the middle of its height, not its baseline).
    pub fn centred(text: &str, lettering: Lettering, centre: Point, along: Vec2) -> Self {
        let em = lettering.size * MM_PER_POINT;
        Self {
            centre,
            along,
            half_length: lettering.width(text) / 2.0,
            half_height: (ASCENT + descent(text)) * em / 2.0,
        }
    }

    /// The box of a finished text.
    pub fn of(text: &Text) -> Self {
        let along = Vec2::new(libm::cos(text.angle), libm::sin(text.angle));
        let em = text.size * MM_PER_POINT;
        let length = text.face.width(&text.text, text.size);
        let low = -descent(&text.text) * em;
        let middle = match text.anchor {
            Anchor::Start => length / 2.0,
            Anchor::Middle => 0.0,
            Anchor::End => -length / 2.0,
        };
        let half_height = (ASCENT * em - low) / 2.0;
        Self {
            centre: text.at + along * middle + across(along) * (low + half_height),
            along,
            half_length: length / 2.0,
            half_height,
        }
    }

    /// The middle of the baseline of `text` set to fill this box.
    pub fn baseline(&self, text: &str, lettering: Lettering) -> Point {
        let low = descent(text) * lettering.size * MM_PER_POINT;
        self.centre + across(self.along) * (low - self.half_height)
    }

    /// The box with room added on all sides; less if negative.
    pub fn grown(&self, by: f64) -> Self {
        Self { half_length: (self.half_length + by).max(0.0), half_height: (self.half_height + by).max(0.0), ..*self }
    }

    /// The box moved.
    pub fn shifted(&self, by: Vec2) -> Self {
        Self { centre: self.centre + by, ..*self }
    }

    /// The four corners, anticlockwise.
    pub fn corners(&self) -> [Point; 4] {
        let along = self.along * self.half_length;
        let up = across(self.along) * self.half_height;
        [self.centre - along - up, self.centre + along - up, self.centre + along + up, self.centre - along + up]
    }

    /// The upright box round it.
    pub fn bounds(&self) -> Rect {
        let along = self.along * self.half_length;
        let up = across(self.along) * self.half_height;
        let reach = Vec2::new(along.x.abs() + up.x.abs(), along.y.abs() + up.y.abs());
        Rect::from_points(self.centre - reach, self.centre + reach)
    }

    /// Whether two boxes share any area.
    pub fn overlaps(&self, other: &Self) -> bool {
        let apart = other.centre - self.centre;
        [self.along, across(self.along), other.along, across(other.along)]
            .into_iter()
            .all(|axis| apart.dot(axis).abs() < self.reach_along(axis) + other.reach_along(axis))
    }

    /// Whether a straight line passes through the box.
    pub fn is_crossed_by(&self, line: Line) -> bool {
        self.covered_part(line).is_some()
    }

    /// The part of a line inside the box, as shares of its length from its start.
    pub fn covered_part(&self, line: Line) -> Option<(f64, f64)> {
        let start = line.p0 - self.centre;
        let run = line.p1 - line.p0;
        let (mut from, mut to) = (0.0_f64, 1.0_f64);
        for (axis, half) in [(self.along, self.half_length), (across(self.along), self.half_height)] {
            let (at, step) = (start.dot(axis), run.dot(axis));
            if step.abs() < 1e-12 {
                if at.abs() >= half {
                    return None;
                }
            } else {
                let (one, two) = ((-half - at) / step, (half - at) / step);
                from = from.max(one.min(two));
                to = to.min(one.max(two));
            }
        }
        (from < to).then_some((from, to))
    }

    /// Whether a point lies in the box.
    pub fn contains(&self, point: Point) -> bool {
        let apart = point - self.centre;
        apart.dot(self.along).abs() < self.half_length && apart.dot(across(self.along)).abs() < self.half_height
    }

    fn reach_along(&self, axis: Vec2) -> f64 {
        self.half_length * self.along.dot(axis).abs() + self.half_height * across(self.along).dot(axis).abs()
    }
}

/// A vector turned a quarter anticlockwise: up, seen along a text.
pub(super) fn across(along: Vec2) -> Vec2 {
    Vec2::new(-along.y, along.x)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::lettering::Face;

    #[test]
    fn every_glyph_we_use_lies_within_its_box() {
        let signs = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789 .,:;()/−–+=°ΩØ×←→½±µ·";
        for face in Face::ALL {
            let font = face.font();
            for sign in signs.chars() {
                let Some(glyph) = font.tables().glyph_index(sign) else { panic!("no glyph for {sign}") };
                let Some(ink) = font.tables().glyph_bounding_box(glyph) else { continue };
                let em = f64::from(font.tables().units_per_em());
                let (low, high) = (f64::from(ink.y_min) / em, f64::from(ink.y_max) / em);
                assert!(high <= ASCENT, "{sign} in {face:?} rises to {high}");
                assert!(low >= -descent(&sign.to_string()), "{sign} in {face:?} hangs to {low}");
            }
        }
    }

    #[test]
    fn a_line_is_cut_where_the_box_is() {
        let part =
            TextBox::upright(Rect::new(2.0, -1.0, 4.0, 1.0)).covered_part(Line::new((0.0, 0.0), (10.0, 0.0))).unwrap();
        assert!((part.0 - 0.2).abs() < 1e-12 && (part.1 - 0.4).abs() < 1e-12);
    }

    #[test]
    fn a_text_turned_a_quarter_stands_beside_its_baseline() {
        let text = Text {
            at: Point::new(10.0, 0.0),
            text: "335.42".to_owned(),
            face: Face::Regular,
            size: 9.0,
            anchor: Anchor::Start,
            angle: std::f64::consts::FRAC_PI_2,
            white: false,
        };
        let bounds = TextBox::of(&text).bounds();
        assert!(bounds.x1 < 10.2 && bounds.x0 < 8.0 && bounds.y0 > -0.01, "{bounds:?}");
    }
}
