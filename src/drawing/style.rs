//! How things are drawn: pens, layers, lettering, and the four sides of a view.
//!
//! Pen widths and line kinds follow ISO 128-2 (from memory): wide 0.5 mm, narrow 0.25 mm, on paper at any scale.

use kurbo::Vec2;

use super::item::{LineKind, Stroke};
use crate::lettering::Face;

/// A pen, named by what it draws.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Pen {
    /// A visible edge: 0.5 mm, continuous.
    Visible,
    /// A thin continuous line, for edges of lesser weight: 0.25 mm.
    Thin,
    /// A hidden edge: 0.25 mm, dashed.
    Hidden,
    /// An axis or line of symmetry: 0.25 mm, long dash, dot.
    Centre,
    /// A neighbour's edge, or another state of the thing drawn: 0.25 mm, long dash, two dots.
    Neighbour,
    /// Hatching: 0.18 mm, continuous.
    Hatching,
}

impl Pen {
    /// Width on paper in millimetres, and the kind of line.
    pub fn stroke(self) -> Stroke {
        let (width, kind) = match self {
            Self::Visible => (0.5, LineKind::Continuous),
            Self::Thin => (0.25, LineKind::Continuous),
            Self::Hidden => (0.25, LineKind::Dashed),
            Self::Centre => (0.25, LineKind::LongDashDot),
            Self::Neighbour => (0.25, LineKind::LongDashDoubleDot),
            Self::Hatching => (0.18, LineKind::Continuous),
        };
        Stroke { width, kind }
    }
}

/// What a mark means; written as groups in files, in this order from the bottom up.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Layer {
    /// Cut faces.
    Hatching,
    /// The outline of the thing drawn.
    Outline,
    /// Saw cuts and other narrow cuts.
    Slots,
    /// Round holes.
    Holes,
    /// Pockets and channels.
    Pockets,
    /// Hidden edges and other states.
    Hidden,
    /// Neighbours and zones to keep out of.
    Neighbours,
    /// Axes.
    Centre,
    /// Dimension and extension lines, leaders, arrows, and their figures.
    Dimensions,
    /// Names and notes.
    Text,
}

impl Layer {
    /// All layers, from the bottom up.
    pub const ALL: [Self; 10] = [
        Self::Hatching,
        Self::Outline,
        Self::Slots,
        Self::Holes,
        Self::Pockets,
        Self::Hidden,
        Self::Neighbours,
        Self::Centre,
        Self::Dimensions,
        Self::Text,
    ];

    /// The layer's name in files.
    pub fn name(self) -> &'static str {
        match self {
            Self::Hatching => "hatching",
            Self::Outline => "outline",
            Self::Slots => "slots",
            Self::Holes => "holes",
            Self::Pockets => "pockets",
            Self::Hidden => "hidden",
            Self::Neighbours => "neighbours",
            Self::Centre => "centre",
            Self::Dimensions => "dimensions",
            Self::Text => "text",
        }
    }
}

/// A face and its size in points.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Lettering {
    /// The face.
    pub face: Face,
    /// Size in points.
    pub size: f64,
}

impl Lettering {
    /// Dimensions and ordinary labels.
    pub const NORMAL: Self = Self { face: Face::Regular, size: 9.0 };
    /// Marks by the dozen, such as the numbers of holes.
    pub const SMALL: Self = Self { face: Face::Regular, size: 7.5 };
    /// The one figure to set, the names of edges and ends.
    pub const STRONG: Self = Self { face: Face::Bold, size: 9.5 };
    /// What no one may miss: which face is up.
    pub const LARGE: Self = Self { face: Face::Bold, size: 16.0 };

    /// How wide a text runs, in millimetres.
    pub fn width(self, text: &str) -> f64 {
        self.face.width(text, self.size)
    }
}

/// A side of the view.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Side {
    /// Toward +y.
    Top,
    /// Toward −y.
    Bottom,
    /// Toward −x.
    Left,
    /// Toward +x.
    Right,
}

impl Side {
    /// All sides.
    pub const ALL: [Self; 4] = [Self::Top, Self::Bottom, Self::Left, Self::Right];

    /// The unit vector away from the view.
    pub fn outward(self) -> Vec2 {
        match self {
            Self::Top => Vec2::new(0.0, 1.0),
            Self::Bottom => Vec2::new(0.0, -1.0),
            Self::Left => Vec2::new(-1.0, 0.0),
            Self::Right => Vec2::new(1.0, 0.0),
        }
    }

    /// The unit vector along the side, toward +x or +y.
    pub fn along(self) -> Vec2 {
        match self {
            Self::Top | Self::Bottom => Vec2::new(1.0, 0.0),
            Self::Left | Self::Right => Vec2::new(0.0, 1.0),
        }
    }

    /// The next side clockwise.
    pub fn clockwise(self) -> Self {
        match self {
            Self::Top => Self::Right,
            Self::Right => Self::Bottom,
            Self::Bottom => Self::Left,
            Self::Left => Self::Top,
        }
    }

    /// The side across.
    pub fn opposite(self) -> Self {
        match self {
            Self::Top => Self::Bottom,
            Self::Bottom => Self::Top,
            Self::Left => Self::Right,
            Self::Right => Self::Left,
        }
    }
}

/// Who gets the room when not all texts find it near their place.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Importance {
    /// Good to have at its place.
    Low,
    /// The ordinary label.
    Normal,
    /// Names of edges, what is set by it.
    High,
    /// Which face, which end: first of all.
    Utmost,
}
