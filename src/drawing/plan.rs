//! Plans: drawings at full size, without scale, dimensions or placing. What a cutter follows and a pattern shows.
//!
//! Millimetres of the thing itself, y up. Outlines are exact contours and circles; a plan becomes a [`Picture`] at
//! 1 : 1, and a placed picture with a scale becomes a plan in the thing's own millimetres.

use kurbo::{BezPath, Line, Point, Rect};

use super::contour::Contour;
use super::hatch::{broken_around, hatch_lines};
use super::item::{Anchor, Item, Stroke, Text};
use super::outline::{self, bounds};
use super::picture::{LayerItems, Picture};
use super::scale::Scale;
use super::style::{Layer, Lettering, Pen};
use super::textbox::TextBox;
use crate::lettering::MM_PER_POINT;
use crate::rounding;

/// Where a mark belongs: what it means and, for what is cut from above, how deep.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Level {
    /// What it means.
    pub layer: Layer,
    /// How deep it is cut, millimetres; none where it goes through, or is no cut.
    pub depth: Option<f64>,
}

impl Level {
    /// What is cut this deep.
    pub const fn deep(layer: Layer, depth: f64) -> Self {
        Self { layer, depth: Some(depth) }
    }

    /// Its name in files: `outline`, `pockets-3.00`.
    pub fn name(self) -> String {
        let layer = self.layer.name();
        self.depth.map_or_else(|| layer.to_owned(), |depth| format!("{layer}-{}", rounding::fixed(depth, 2)))
    }
}

impl From<Layer> for Level {
    fn from(layer: Layer) -> Self {
        Self { layer, depth: None }
    }
}

/// What a mark of a plan is.
#[derive(Debug, Clone, PartialEq)]
pub enum Figure {
    /// Straight pieces and arcs.
    Contour(Contour),
    /// A whole circle.
    Circle {
        /// Its middle.
        centre: Point,
        /// Its radius.
        radius: f64,
    },
    /// A line of text; its size in points is at full size.
    Text(Text),
}

/// One mark of a plan.
#[derive(Debug, Clone, PartialEq)]
pub struct PlanMark {
    /// Where it belongs.
    pub level: Level,
    /// What it is.
    pub figure: Figure,
    /// How it is drawn; texts have no pen.
    pub stroke: Option<Stroke>,
}

/// A drawing at full size.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Plan {
    /// What it shows.
    pub title: String,
    /// What it shows, in words, for those who cannot see it.
    pub description: String,
    /// The marks, in the order drawn.
    pub marks: Vec<PlanMark>,
    /// How long the dashes of its lines are for those of the line kinds; 1 at full size.
    pub dashes: f64,
}

/// How near to a curve that is no arc its straight pieces come, in millimetres.
const FLAT: f64 = 0.001;

impl Plan {
    /// An empty plan.
    pub fn new(title: impl Into<String>, description: impl Into<String>) -> Self {
        Self { title: title.into(), description: description.into(), marks: Vec::new(), dashes: 1.0 }
    }

    /// Draws a contour.
    pub fn contour(&mut self, level: impl Into<Level>, contour: Contour, pen: Pen) {
        self.mark(level.into(), Figure::Contour(contour), Some(pen.stroke()));
    }

    /// Draws a straight line.
    pub fn line(&mut self, level: impl Into<Level>, from: Point, to: Point, pen: Pen) {
        self.contour(level, Contour::open(&[from, to]), pen);
    }

    /// Draws a straight line, broken where it would run through one of some texts.
    pub fn line_round(&mut self, level: impl Into<Level>, line: Line, pen: Pen, texts: &[TextBox]) {
        let level = level.into();
        for part in broken_around(&[line], texts) {
            self.line(level, part.p0, part.p1, pen);
        }
    }

    /// Draws a closed polygon.
    pub fn polygon(&mut self, level: impl Into<Level>, corners: &[Point], pen: Pen) {
        self.contour(level, Contour::closed(corners), pen);
    }

    /// Hatches a closed area, holes and some texts left free; angle in radians to the x axis, pitch in millimetres at
    /// full size.
    pub fn hatch(&mut self, area: &BezPath, angle: f64, pitch: f64, texts: &[TextBox]) {
        for line in broken_around(&hatch_lines(area, angle, pitch), texts) {
            self.line(Layer::Hatching, line.p0, line.p1, Pen::Hatching);
        }
    }

    /// Draws a circle.
    pub fn circle(&mut self, level: impl Into<Level>, centre: Point, radius: f64, pen: Pen) {
        self.mark(level.into(), Figure::Circle { centre, radius }, Some(pen.stroke()));
    }

    /// Writes a line of text, its baseline's anchor at a place; the angle in radians anticlockwise.
    pub fn text(&mut self, at: Point, text: impl Into<String>, lettering: Lettering, anchor: Anchor, angle: f64) {
        let (face, size) = (lettering.face, lettering.size);
        let text = Text { at, text: text.into(), face, size, anchor, angle, white: false };
        self.mark(Layer::Text.into(), Figure::Text(text), None);
    }

    fn mark(&mut self, level: Level, figure: Figure, stroke: Option<Stroke>) {
        self.marks.push(PlanMark { level, figure, stroke });
    }

    /// The box round all marks, pens not counted; none of an empty plan.
    pub fn bounds(&self) -> Option<Rect> {
        self.bounds_where(|_| true)
    }

    /// The box round what is made and written: neither neighbours nor axes nor hatching; none where there is no such
    /// mark.
    pub fn bounds_of_work(&self) -> Option<Rect> {
        self.bounds_where(|layer| !matches!(layer, Layer::Neighbours | Layer::Centre | Layer::Hatching))
    }

    fn bounds_where(&self, counts: impl Fn(Layer) -> bool) -> Option<Rect> {
        let of = |mark: &PlanMark| counts(mark.level.layer).then(|| mark.figure.bounds()).flatten();
        self.marks.iter().filter_map(of).reduce(|one, other| one.union(other))
    }

    /// The plan at 1 : 1, with `margin` millimetres of white around it.
    pub fn picture(&self, margin: f64) -> Picture {
        let extent = self.bounds().unwrap_or(Rect::ZERO).inflate(margin, margin);
        let shift = -extent.origin().to_vec2();
        let mut layers: Vec<LayerItems> = Vec::new();
        for layer in Layer::ALL {
            let items: Vec<Item> = self
                .marks
                .iter()
                .filter(|mark| mark.level.layer == layer)
                .map(|mark| mark.item().shifted(shift))
                .collect();
            if !items.is_empty() {
                layers.push(LayerItems { layer, items });
            }
        }
        let scale = Scale::uniform(1.0);
        Picture {
            width: extent.width(),
            height: extent.height(),
            layers,
            title: self.title.clone(),
            alt: self.description.clone(),
            scale: Some(scale),
            factors: scale,
            origin: Point::ZERO + shift,
            key: Vec::new(),
        }
    }

    /// A placed picture in the thing's own millimetres; none of a scheme, or of a drawing with two scales.
    ///
    /// Fills become outlines, what only covers is left out, and white letters are written like the others.
    pub fn of_picture(picture: &Picture) -> Option<Self> {
        let factor = picture.scale.filter(|scale| scale.is_uniform())?.along;
        let own = |at: Point| ((at - picture.origin) / factor).to_point();
        let mut plan = Self::new(picture.title.clone(), picture.alt.clone());
        plan.dashes = 1.0 / factor;
        for layer in &picture.layers {
            for item in &layer.items {
                match item {
                    Item::Text(text) => {
                        let text = Text { at: own(text.at), size: text.size / factor, white: false, ..text.clone() };
                        plan.mark(layer.layer.into(), Figure::Text(text), None);
                    }
                    Item::Path { outline, stroke, fill } => {
                        let stroke = match (stroke, fill) {
                            (Some(stroke), _) => *stroke,
                            (None, Some(super::Fill::Black)) => Pen::Thin.stroke(),
                            _ => continue,
                        };
                        let outline = outline::mapped(outline, own);
                        for contour in Contour::of_path(&outline, FLAT) {
                            let figure = match contour.circle() {
                                Some((centre, radius)) => Figure::Circle { centre, radius },
                                None => Figure::Contour(contour),
                            };
                            plan.mark(layer.layer.into(), figure, Some(stroke));
                        }
                    }
                }
            }
        }
        Some(plan)
    }
}

impl PlanMark {
    /// The mark as one that back ends of pages write.
    pub fn item(&self) -> Item {
        let path = |outline: BezPath| Item::Path { outline, stroke: self.stroke, fill: None };
        match &self.figure {
            Figure::Contour(contour) => path(contour.path()),
            Figure::Circle { centre, radius } => path(outline::circle(*centre, *radius)),
            Figure::Text(text) => Item::Text(text.clone()),
        }
    }
}

impl Figure {
    /// The box round it, if it has a size.
    pub fn bounds(&self) -> Option<Rect> {
        match self {
            Self::Contour(contour) => contour.bounds(),
            Self::Circle { centre, radius } => {
                bounds([(-*radius), *radius].map(|reach| *centre + kurbo::Vec2::new(reach, reach)))
            }
            Self::Text(text) => Some(TextBox::of(text).bounds()),
        }
    }
}

/// Height of a text's capitals, in millimetres.
pub fn capital_height(text: &Text) -> f64 {
    text.face.font().capital_height() * text.size * MM_PER_POINT
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::drawing::{Drawing, Room, Scaling};

    #[test]
    fn a_plan_keeps_its_millimetres_in_its_picture_and_back() {
        let mut plan = Plan::new("", "");
        plan.polygon(Layer::Outline, &[(-4.0, -20.0), (480.0, -28.0), (480.0, 28.0)].map(Point::from), Pen::Visible);
        plan.circle(Level::deep(Layer::Pockets, 3.0), Point::new(123.0, -4.0), 2.1, Pen::Thin);
        let picture = plan.picture(3.0);
        assert!((picture.width - 490.0).abs() < 1e-9 && (picture.height - 62.0).abs() < 1e-9);
        let again = Plan::of_picture(&picture).unwrap();
        assert_eq!(again.marks.len(), 2);
        let Figure::Circle { centre, radius } = again.marks[1].figure else { panic!("{:?}", again.marks[1]) };
        assert!((centre - Point::new(123.0, -4.0)).hypot() < 1e-9 && (radius - 2.1).abs() < 1e-9);
        assert_eq!(again.marks[0].figure.bounds(), plan.marks[0].figure.bounds());
    }

    #[test]
    fn a_drawing_to_scale_comes_back_at_full_size_and_a_scheme_does_not() {
        let mut drawing = Drawing::new("", "");
        drawing.line(Layer::Slots, Point::new(100.0, -10.0), Point::new(100.0, 10.0), Pen::Thin);
        let room = Room { width: 50.0, height: 50.0 };
        drawing.scaling = Scaling::Given(Scale::uniform(0.5));
        let plan = Plan::of_picture(&drawing.place(room)).unwrap();
        let line = plan.marks.iter().find(|mark| mark.level.layer == Layer::Slots).unwrap();
        let bounds = line.figure.bounds().unwrap();
        assert!((bounds.x0 - 100.0).abs() < 1e-9 && (bounds.height() - 20.0).abs() < 1e-9);
        drawing.scaling = Scaling::Scheme;
        assert!(Plan::of_picture(&drawing.place(room)).is_none());
    }

    #[test]
    fn pockets_are_told_apart_by_their_depth() {
        assert_eq!(Level::deep(Layer::Pockets, 3.0).name(), "pockets-3.00");
        assert_eq!(Level::from(Layer::Outline).name(), "outline");
    }
}
