//! The marks that every page and drawing is made of in the end, and that every back end writes.
//!
//! Millimetres, y up, angles in radians anticlockwise. Black only: a fill is black, white or a light grey
//! that means nothing.

use kurbo::{BezPath, Point, Vec2};

use super::outline;
use crate::lettering::Face;

/// One finished mark.
#[derive(Debug, Clone, PartialEq)]
pub enum Item {
    /// A path, filled first and then stroked.
    Path {
        /// The outline.
        outline: BezPath,
        /// The pen, if it is stroked.
        stroke: Option<Stroke>,
        /// The fill, if it is filled.
        fill: Option<Fill>,
    },
    /// A line of text.
    Text(Text),
}

impl Item {
    /// The same mark elsewhere.
    #[must_use]
    pub fn shifted(self, shift: Vec2) -> Self {
        match self {
            Self::Path { outline, stroke, fill } => {
                Self::Path { outline: outline::shifted(&outline, shift), stroke, fill }
            }
            Self::Text(text) => Self::Text(Text { at: text.at + shift, ..text }),
        }
    }
}

/// A line of text in one face and size.
#[derive(Debug, Clone, PartialEq)]
pub struct Text {
    /// Where the anchor of the baseline stands.
    pub at: Point,
    /// The characters; never a line break.
    pub text: String,
    /// The face.
    pub face: Face,
    /// The size in points.
    pub size: f64,
    /// Which point of the baseline stands at `at`.
    pub anchor: Anchor,
    /// Turn about `at`, radians anticlockwise.
    pub angle: f64,
    /// White on black instead of black.
    pub white: bool,
}

/// Which point of a text's baseline is placed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Anchor {
    /// Its left end.
    Start,
    /// Its middle.
    Middle,
    /// Its right end.
    End,
}

/// A pen: width in millimetres on paper, and the kind of line.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Stroke {
    /// Width on paper, from the series of ISO 128-2: 0.13, 0.18, 0.25, 0.35, 0.5, 0.7, 1.
    pub width: f64,
    /// The kind of line.
    pub kind: LineKind,
}

/// Line kinds by their use in ISO 128-2 (from memory).
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum LineKind {
    /// Visible edges, dimension and extension lines.
    Continuous,
    /// Hidden edges.
    Dashed,
    /// Centre lines.
    LongDashDot,
    /// Outlines of another state or of a neighbour.
    LongDashDoubleDot,
}

impl LineKind {
    /// Dash lengths and gaps for a pen of `width`, in millimetres; empty for a continuous line.
    pub fn dashes(self, width: f64) -> Vec<f64> {
        let w = width.max(0.25);
        match self {
            Self::Continuous => Vec::new(),
            Self::Dashed => vec![12.0 * w, 3.0 * w],
            Self::LongDashDot => vec![24.0 * w, 3.0 * w, 0.5 * w, 3.0 * w],
            Self::LongDashDoubleDot => vec![24.0 * w, 3.0 * w, 0.5 * w, 3.0 * w, 0.5 * w, 3.0 * w],
        }
    }
}

/// What fills a path.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Fill {
    /// Black.
    Black,
    /// The paper's white, to cover what lies beneath.
    White,
    /// A light grey without meaning: every third row of a table.
    Tint,
}
