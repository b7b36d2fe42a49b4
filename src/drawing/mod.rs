//! Drawings: made in the thing's own millimetres, placed on paper with dimensions and labels.
//!
//! In: shapes, and what is to be written beside them. [`Drawing::place`] finds the scale, the rows of dimensions
//! and a place for every text, and gives a [`Picture`] of finished marks that back ends write out.
//! Manners of dimensions follow ISO 129-1, lines ISO 128, scales ISO 5455 (all from memory).
//! No word of the trade here.

use kurbo::{BezPath, Point, Rect};

pub mod annotation;
pub mod clip;
pub mod contour;
mod hatch;
pub mod item;
mod obstacles;
pub mod outline;
mod picture;
mod place;
pub mod plan;
mod scale;
mod style;
mod textbox;

pub use annotation::{
    Align, AngleBetween, Label, LineName, Linear, Measure, NameRow, Note, Ordinates, Round, Row, Station, Tip,
};
pub use contour::Contour;
pub use item::{Anchor, Fill, Item, LineKind, Stroke, Text};
pub use picture::{Conflict, KeyEntry, LayerItems, Picture};
pub use plan::Plan;
pub use scale::{Scale, Scaling};
pub use style::{Importance, Layer, Lettering, Pen, Side};
pub use textbox::TextBox;

use annotation::Annotation;

/// The paper a drawing may take, in millimetres.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Room {
    /// Its width.
    pub width: f64,
    /// Its height.
    pub height: f64,
}

/// One shape of a drawing.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum Shape {
    /// A path.
    Path { outline: BezPath, pen: Option<Pen>, fill: Option<Fill> },
    /// A straight line that overshoots its ends by this much on paper.
    Overshooting { from: Point, to: Point, pen: Pen, by: f64 },
    /// A hatched area: angle in radians, pitch on paper.
    Hatched { area: BezPath, angle: f64, pitch: f64 },
    /// A filled dot or an open ring of this radius on paper.
    Dot { at: Point, radius: f64, filled: bool },
    /// A plus with arms of this length on paper, this far on paper from a place.
    Plus { at: Point, off: kurbo::Vec2, arm: f64 },
    /// A line with a filled arrowhead at its end.
    Arrow { from: Point, to: Point, pen: Pen },
}

/// A shape and what it means.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Mark {
    pub(crate) layer: Layer,
    pub(crate) shape: Shape,
}

/// A drawing in the thing's own frame: millimetres, x to the right, y up.
#[derive(Debug, Clone, PartialEq)]
pub struct Drawing {
    /// What it shows, printed over it; nothing is printed if empty.
    pub title: String,
    /// What stands after the scale in the heading: from where it is seen, for instance.
    pub remark: String,
    /// What it shows, in words, for those who cannot see it.
    pub description: String,
    /// How its scale is found.
    pub scaling: Scaling,
    pub(crate) marks: Vec<Mark>,
    pub(crate) annotations: Vec<Annotation>,
}

impl Drawing {
    /// An empty drawing.
    pub fn new(title: impl Into<String>, description: impl Into<String>) -> Self {
        Self {
            title: title.into(),
            remark: String::new(),
            description: description.into(),
            scaling: Scaling::Standard,
            marks: Vec::new(),
            annotations: Vec::new(),
        }
    }

    /// Draws a path with a pen.
    pub fn path(&mut self, layer: Layer, outline: BezPath, pen: Pen) {
        self.mark(layer, Shape::Path { outline, pen: Some(pen), fill: None });
    }

    /// Draws a straight line.
    pub fn line(&mut self, layer: Layer, from: Point, to: Point, pen: Pen) {
        self.path(layer, outline::polyline(&[from, to]), pen);
    }

    /// Draws a closed polygon.
    pub fn polygon(&mut self, layer: Layer, corners: &[Point], pen: Pen) {
        self.path(layer, outline::polygon(corners), pen);
    }

    /// Draws a circle.
    pub fn circle(&mut self, layer: Layer, centre: Point, radius: f64, pen: Pen) {
        self.path(layer, outline::circle(centre, radius), pen);
    }

    /// Draws a rectangle whose corners have this radius.
    pub fn rounded_rectangle(&mut self, layer: Layer, rectangle: Rect, radius: f64, pen: Pen) {
        self.path(layer, outline::rounded_rectangle(rectangle, radius), pen);
    }

    /// Fills an area without an edge. Black takes no text; tint may lie under a text.
    pub fn fill(&mut self, layer: Layer, area: BezPath, fill: Fill) {
        self.mark(layer, Shape::Path { outline: area, pen: None, fill: Some(fill) });
    }

    /// Hatches a closed area, holes left free; angle in radians to the x axis, pitch in millimetres on paper.
    pub fn hatch(&mut self, area: BezPath, angle: f64, pitch: f64) {
        self.mark(Layer::Hatching, Shape::Hatched { area, angle, pitch });
    }

    /// Draws an axis that overshoots its ends by 3 mm on paper.
    pub fn centre_line(&mut self, from: Point, to: Point) {
        self.mark(Layer::Centre, Shape::Overshooting { from, to, pen: Pen::Centre, by: 3.0 });
    }

    /// Draws a thin cross at a middle, reaching past the radius by 1.2 mm on paper.
    pub fn centre_mark(&mut self, centre: Point, radius: f64) {
        for (x, y) in [(radius, 0.0), (0.0, radius)] {
            let reach = kurbo::Vec2::new(x, y);
            self.mark(
                Layer::Centre,
                Shape::Overshooting { from: centre - reach, to: centre + reach, pen: Pen::Thin, by: 1.2 },
            );
        }
    }

    /// Draws a filled dot of this radius on paper.
    pub fn dot(&mut self, layer: Layer, at: Point, radius: f64) {
        self.mark(layer, Shape::Dot { at, radius, filled: true });
    }

    /// Draws an open ring, white inside, of this radius on paper.
    pub fn ring(&mut self, layer: Layer, at: Point, radius: f64) {
        self.mark(layer, Shape::Dot { at, radius, filled: false });
    }

    /// Draws a plus with arms of this length, `off` from a place, both on paper: a sign that stays where it belongs.
    pub fn plus(&mut self, layer: Layer, at: Point, off: kurbo::Vec2, arm: f64) {
        self.mark(layer, Shape::Plus { at, off, arm });
    }

    /// Draws a line with an arrowhead at its end.
    pub fn arrow(&mut self, layer: Layer, from: Point, to: Point, pen: Pen) {
        self.mark(layer, Shape::Arrow { from, to, pen });
    }

    /// Writes a label near a point.
    pub fn label(&mut self, label: Label) {
        self.annotations.push(Annotation::Label(label));
    }

    /// Writes a line's name along it.
    pub fn name_line(&mut self, name: LineName) {
        self.annotations.push(Annotation::LineName(name));
    }

    /// Writes a note beside the view.
    pub fn note(&mut self, note: Note) {
        self.annotations.push(Annotation::Note(note));
    }

    /// Writes a dimension between two points.
    pub fn dimension(&mut self, linear: Linear) {
        self.annotations.push(Annotation::Linear(linear));
    }

    /// Writes the distances of stations from one datum.
    pub fn ordinates(&mut self, ordinates: Ordinates) {
        self.annotations.push(Annotation::Ordinates(ordinates));
    }

    /// Writes the names of stations in a row along a side.
    pub fn name_row(&mut self, row: NameRow) {
        self.annotations.push(Annotation::NameRow(row));
    }

    /// Writes a radius or a diameter.
    pub fn round(&mut self, round: Round) {
        self.annotations.push(Annotation::Round(round));
    }

    /// Writes an angle.
    pub fn angle(&mut self, angle: AngleBetween) {
        self.annotations.push(Annotation::Angle(angle));
    }

    /// Sets the drawing on paper, as large as the room allows (or as [`Drawing::scaling`] says).
    ///
    /// No text overlaps another or a line, and nothing leaves the picture; what finds no room becomes a number
    /// in a key under it. The picture is only as large as it needs to be. The same drawing and room always
    /// give the same picture.
    pub fn place(&self, room: Room) -> Picture {
        place::place(self, room)
    }

    fn mark(&mut self, layer: Layer, shape: Shape) {
        self.marks.push(Mark { layer, shape });
    }
}
