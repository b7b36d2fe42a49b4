//! The places a text may take, each with its price before anything else is looked at.
//!
//! Prices are in millimetres of distance from the best place, more or less.

mod beside_dimension;
mod beside_line;
mod in_margin;
mod round_curve;
mod round_point;

use kurbo::{Line, Point, Vec2};

use crate::drawing::style::Lettering;
use crate::drawing::textbox::TextBox;

pub(super) use beside_dimension::{beside_dimension, likeliest_place};
pub(super) use beside_line::along_line;
pub(super) use in_margin::{in_margin, note_parts, note_size};
pub(super) use round_curve::{round_angle, round_circle};
pub(super) use round_point::{anywhere, round_point};

/// Gap between a text and what it belongs to.
const GAP: f64 = 0.9;

/// Radius of the dot at a leader's end.
pub(in crate::drawing::place) const DOT: f64 = 0.55;

/// How the first point of a choice's lines is marked.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(in crate::drawing::place) enum End {
    Nothing,
    Dot(Point),
    Arrow(Point, Vec2),
}

/// A place for a text.
#[derive(Debug, Clone)]
pub(in crate::drawing::place) struct Choice {
    pub(in crate::drawing::place) place: TextBox,
    /// Leader or lengthened dimension line, joined.
    pub(in crate::drawing::place) leader: Vec<Point>,
    pub(in crate::drawing::place) end: End,
    /// What it costs before anything else is looked at.
    pub(in crate::drawing::place) price: f64,
}

impl Choice {
    fn bare(place: TextBox, price: f64) -> Self {
        Self { place, leader: Vec::new(), end: End::Nothing, price }
    }

    /// The straight pieces of its leader, and a cross for the dot at its end.
    pub(in crate::drawing::place) fn pieces(&self) -> impl Iterator<Item = Line> {
        let dot = match self.end {
            End::Dot(at) => Some(at),
            End::Nothing | End::Arrow(..) => None,
        };
        let cross = dot
            .into_iter()
            .flat_map(|at| [Vec2::new(DOT, 0.0), Vec2::new(0.0, DOT)].map(|reach| Line::new(at - reach, at + reach)));
        self.leader.windows(2).map(|pair| Line::new(pair[0], pair[1])).chain(cross)
    }
}

/// Length and height of a text.
pub(in crate::drawing::place) fn text_size(text: &str, lettering: Lettering) -> Vec2 {
    let place = TextBox::centred(text, lettering, Point::ZERO, Vec2::new(1.0, 0.0));
    Vec2::new(place.half_length, place.half_height) * 2.0
}

fn sized(size: Vec2, centre: Point, along: Vec2) -> TextBox {
    TextBox { centre, along, half_length: size.x / 2.0, half_height: size.y / 2.0 }
}

const LEVEL: Vec2 = Vec2::new(1.0, 0.0);
