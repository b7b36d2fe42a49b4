//! What is written on a drawing: labels, names of lines, notes in the margin, dimensions.
//!
//! Points are in the drawing's own millimetres; distances that say so are millimetres on paper. Where a text
//! ends up is not said here: the placement finds that.

use kurbo::{Point, Vec2};

use super::style::{Importance, Lettering, Side};

/// How the leader of a label ends at its point.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Tip {
    /// In a dot: the point lies inside an area.
    Dot,
    /// In an arrow: the point lies on an edge.
    Arrow,
    /// In nothing: the point lies on a line.
    Plain,
}

/// A text that belongs to a point, and is set near it, with a leader if it must stand off.
#[derive(Debug, Clone, PartialEq)]
pub struct Label {
    /// The point.
    pub at: Point,
    /// The text.
    pub text: String,
    /// Who gets the room.
    pub importance: Importance,
    /// Face and size.
    pub lettering: Lettering,
    /// How a leader ends.
    pub tip: Tip,
    /// Radius of the feature round the point that the text stays clear of, in the drawing's millimetres.
    pub clear: f64,
    /// Where the text stands if it can.
    pub toward: Option<Side>,
}

impl Label {
    /// An ordinary label.
    pub fn new(at: Point, text: impl Into<String>) -> Self {
        Self {
            at,
            text: text.into(),
            importance: Importance::Normal,
            lettering: Lettering::NORMAL,
            tip: Tip::Dot,
            clear: 0.0,
            toward: None,
        }
    }

    /// Sets who gets the room.
    pub fn importance(self, importance: Importance) -> Self {
        Self { importance, ..self }
    }

    /// Sets face and size.
    pub fn lettering(self, lettering: Lettering) -> Self {
        Self { lettering, ..self }
    }

    /// Sets how a leader ends.
    pub fn tip(self, tip: Tip) -> Self {
        Self { tip, ..self }
    }

    /// Sets the radius of the feature round the point.
    pub fn clear_of(self, radius: f64) -> Self {
        Self { clear: radius, ..self }
    }

    /// Sets where the text stands if it can.
    pub fn toward(self, side: Side) -> Self {
        Self { toward: Some(side), ..self }
    }
}

/// The name of a line, set along it.
#[derive(Debug, Clone, PartialEq)]
pub struct LineName {
    /// One end of the line.
    pub from: Point,
    /// Its other end.
    pub to: Point,
    /// The side of the line the name stands on.
    pub side: Side,
    /// The name.
    pub text: String,
    /// Face and size.
    pub lettering: Lettering,
    /// Who gets the room.
    pub importance: Importance,
}

/// Where along a margin a note stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Align {
    /// At its left (or lower) end.
    Start,
    /// In its middle.
    Middle,
    /// At its right (or upper) end.
    End,
}

/// A note beside the view, perhaps with an arrow.
#[derive(Debug, Clone, PartialEq)]
pub struct Note {
    /// The margin it stands in.
    pub side: Side,
    /// Where along it.
    pub align: Align,
    /// The text.
    pub text: String,
    /// Face and size.
    pub lettering: Lettering,
    /// Where an arrow beside the text points.
    pub arrow: Option<Side>,
    /// Who gets the room.
    pub importance: Importance,
}

/// Which way a linear dimension measures.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Measure {
    /// Along x.
    Horizontal,
    /// Along y.
    Vertical,
    /// From point to point.
    Aligned,
}

/// Where a dimension line runs.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Row {
    /// Outside the view, in the first row with room.
    Outside,
    /// This far from the outer of the two points, in millimetres on paper; may be negative.
    At(f64),
}

/// A dimension between two points.
#[derive(Debug, Clone, PartialEq)]
pub struct Linear {
    /// One point.
    pub from: Point,
    /// The other.
    pub to: Point,
    /// Which way it measures.
    pub measure: Measure,
    /// The side its line is moved to: top or bottom when level, left or right when upright.
    pub side: Side,
    /// Where the line runs.
    pub row: Row,
    /// The figure as printed.
    pub text: String,
    /// Face and size.
    pub lettering: Lettering,
}

impl Linear {
    /// A dimension outside the view; level on top and bottom, upright at the sides.
    pub fn outside(from: Point, to: Point, side: Side, text: impl Into<String>) -> Self {
        let measure = match side {
            Side::Top | Side::Bottom => Measure::Horizontal,
            Side::Left | Side::Right => Measure::Vertical,
        };
        Self { from, to, measure, side, row: Row::Outside, text: text.into(), lettering: Lettering::NORMAL }
    }

    /// The same this far from its points, in millimetres on paper.
    pub fn near(from: Point, to: Point, side: Side, distance: f64, text: impl Into<String>) -> Self {
        Self { row: Row::At(distance), ..Self::outside(from, to, side, text) }
    }

    /// Measures from point to point.
    pub fn aligned(self) -> Self {
        Self { measure: Measure::Aligned, ..self }
    }

    /// Sets face and size of the figure.
    pub fn lettering(self, lettering: Lettering) -> Self {
        Self { lettering, ..self }
    }
}

/// A place whose distance from the datum is written at the end of its line.
#[derive(Debug, Clone, PartialEq)]
pub struct Station {
    /// The point the line starts from.
    pub at: Point,
    /// The figure.
    pub text: String,
    /// The station's name, in bold after the figure.
    pub name: String,
}

/// Distances of many stations from one datum, each at the end of its own line; never chained.
#[derive(Debug, Clone, PartialEq)]
pub struct Ordinates {
    /// The point of the datum on the side's edge.
    pub datum: Point,
    /// What the datum is, in bold after the 0.
    pub datum_name: String,
    /// The side the figures stand on.
    pub side: Side,
    /// The stations, in any order.
    pub stations: Vec<Station>,
    /// Face and size of the figures.
    pub lettering: Lettering,
}

/// Names of many stations in one row along a side, moved apart where they would overlap.
#[derive(Debug, Clone, PartialEq)]
pub struct NameRow {
    /// The side the names stand on.
    pub side: Side,
    /// Each station's point on that side's edge, and its name.
    pub names: Vec<(Point, String)>,
    /// Face and size.
    pub lettering: Lettering,
}

/// A radius or diameter, written at a leader that points to the middle.
#[derive(Debug, Clone, PartialEq)]
pub struct Round {
    /// The middle of the circle or arc.
    pub centre: Point,
    /// Its radius.
    pub radius: f64,
    /// Unit vectors from the middle to where the arrow may stand; any of eight if empty.
    pub toward: Vec<Vec2>,
    /// The figure as printed, with its `R` or `Ø`.
    pub text: String,
    /// Face and size.
    pub lettering: Lettering,
    /// Who gets the room.
    pub importance: Importance,
}

/// An angle between two rays.
#[derive(Debug, Clone, PartialEq)]
pub struct AngleBetween {
    /// Where the rays meet.
    pub vertex: Point,
    /// A point on the first ray.
    pub from: Point,
    /// A point on the second ray, anticlockwise of the first by less than half a turn.
    pub to: Point,
    /// Radius of the arc in millimetres on paper.
    pub radius: f64,
    /// The figure as printed.
    pub text: String,
}

/// All that can be written.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum Annotation {
    Label(Label),
    LineName(LineName),
    Note(Note),
    Linear(Linear),
    Ordinates(Ordinates),
    NameRow(NameRow),
    Round(Round),
    Angle(AngleBetween),
}
