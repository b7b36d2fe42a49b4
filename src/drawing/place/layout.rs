//! How much paper a drawing takes at a scale, and where its dimension lines run.

use kurbo::{Line, Point, Rect, Shape as _, Vec2};

use super::choices;
use super::linear::{self, RowedLinear};
use super::ordinates::{self, PlacedOrdinates};
use crate::drawing::annotation::{Annotation, Label, LineName, Linear};
use crate::drawing::hatch::broken_around;
use crate::drawing::outline;
use crate::drawing::scale::Scale;
use crate::drawing::style::Side;
use crate::drawing::textbox::TextBox;
use crate::drawing::{Drawing, Shape};

/// Room kept on a side for the name of a line or a label.
const NAME_ROOM: f64 = 6.0;
/// Names farther than this from their line need an arrow.
const DEEP: f64 = 9.0;
/// Gap between a margin note and what it stands beside.
pub(super) const NOTE_GAP: f64 = 2.5;

/// The sizes of the shapes, once for all scales: a box in the drawing's millimetres and what is added on paper.
pub(super) struct Measures {
    boxes: Vec<(Rect, f64)>,
}

impl Measures {
    pub(super) fn of(drawing: &Drawing) -> Self {
        let boxes = drawing
            .marks
            .iter()
            .map(|mark| match &mark.shape {
                Shape::Path { outline, .. } => (outline.bounding_box(), 0.25),
                Shape::Overshooting { from, to, by, .. } => (Rect::from_points(*from, *to), *by + 0.25),
                Shape::Hatched { area, .. } => (area.bounding_box(), 0.0),
                Shape::Dot { at, radius, .. } => (Rect::from_points(*at, *at), *radius),
                Shape::Plus { at, off, arm } => (Rect::from_points(*at, *at), off.hypot() + *arm),
                Shape::Arrow { from, to, .. } => (Rect::from_points(*from, *to), 0.5),
            })
            .collect();
        Self { boxes }
    }

    /// The box of all shapes on paper.
    fn outline(&self, factors: Scale) -> Rect {
        let corners = self.boxes.iter().flat_map(|(shape, more)| {
            let low = to_paper(Point::new(shape.x0, shape.y0), factors) - Vec2::new(*more, *more);
            let high = to_paper(Point::new(shape.x1, shape.y1), factors) + Vec2::new(*more, *more);
            [low, high]
        });
        outline::bounds(corners).unwrap_or(Rect::ZERO)
    }
}

/// A point of the drawing on paper, about the drawing's own zero point.
pub(super) fn to_paper(point: Point, factors: Scale) -> Point {
    Point::new(point.x * factors.along, point.y * factors.across)
}

/// Where everything runs that has one place only.
pub(super) struct Layout<'a> {
    pub(super) factors: Scale,
    /// The box of the shapes.
    pub(super) outline: Rect,
    /// The box of shapes, dimensions and ordinates.
    pub(super) extents: Rect,
    /// The extents and the room kept for names and notes.
    pub(super) reserved: Rect,
    pub(super) linears: Vec<RowedLinear<'a>>,
    pub(super) ordinates: Vec<PlacedOrdinates>,
}

impl<'a> Layout<'a> {
    pub(super) fn at(drawing: &'a Drawing, measures: &Measures, factors: Scale) -> Self {
        let outline = measures.outline(factors);
        let mut extents = outline;
        let mut placed_ordinates = Vec::new();
        let mut taken = Vec::new();
        for annotation in &drawing.annotations {
            let placed = match annotation {
                Annotation::NameRow(asked) => ordinates::names(asked, extents, outline, factors),
                Annotation::Ordinates(asked) => {
                    taken.push(asked.side);
                    ordinates::spread(asked, extents, factors)
                }
                _ => continue,
            };
            extents = extents.union(placed.bounds);
            placed_ordinates.push(placed.clear_of(&placed_ordinates));
        }
        let asked: Vec<&Linear> = drawing
            .annotations
            .iter()
            .filter_map(|annotation| match annotation {
                Annotation::Linear(linear) => Some(linear),
                _ => None,
            })
            .collect();
        let linears = linear::in_rows(&asked, extents, &taken, factors);
        for rowed in &linears {
            extents = extents.union(rowed.bounds());
        }
        let names = names_room(drawing, outline, extents, factors);
        let reserved = extents.union(names).union(notes_room(drawing, extents));
        Self { factors, outline, extents, reserved, linears, ordinates: placed_ordinates }
    }
}

impl Layout<'_> {
    /// Whether so much stands on a side that a name beyond it would not be seen to belong to its line.
    pub(super) fn is_deep(&self, side: Side) -> bool {
        is_deep(self.extents, self.outline, side)
    }

    /// The extension lines of a dimension, broken where they would run through the figures of ordinates.
    pub(super) fn extensions(&self, rowed: &RowedLinear<'_>) -> Vec<Line> {
        let texts: Vec<TextBox> =
            self.ordinates.iter().flat_map(|ordinates| ordinates.texts.iter().map(|(.., place)| *place)).collect();
        broken_around(&rowed.extensions(), &texts)
    }
}

fn is_deep(extents: Rect, outline: Rect, side: Side) -> bool {
    ordinates::reach(extents, side) - ordinates::reach(outline, side) > DEEP
}

/// Width and height of all that must fit.
pub(super) fn size(drawing: &Drawing, measures: &Measures, factors: Scale) -> Vec2 {
    let reserved = Layout::at(drawing, measures, factors).reserved;
    Vec2::new(reserved.width(), reserved.height())
}

/// The outline with room on the sides that carry a line's name or where a label may have to go.
fn names_room(drawing: &Drawing, outline: Rect, extents: Rect, factors: Scale) -> Rect {
    drawing.annotations.iter().fold(outline, |room, annotation| match annotation {
        Annotation::LineName(LineName { from, to, side, text, lettering, .. }) => {
            let middle = to_paper(from.midpoint(*to), factors);
            let height = TextBox::centred(text, *lettering, middle, side.along()).half_height * 2.0;
            if is_deep(extents, outline, *side) {
                let level = ordinates::reach(extents, *side) + NOTE_GAP + height;
                let outward = side.outward();
                return room.union_pt(middle + outward * (level - middle.to_vec2().dot(outward)));
            }
            room.union_pt(middle + side.outward() * (height + 2.0))
        }
        Annotation::Label(Label { .. }) | Annotation::Round(_) => {
            room.union(Rect::new(outline.x0, outline.y0 - NAME_ROOM, outline.x1, outline.y1 + NAME_ROOM))
        }
        _ => room,
    })
}

/// The extents with one row of notes on each side that has any.
fn notes_room(drawing: &Drawing, extents: Rect) -> Rect {
    let mut room = extents;
    for side in Side::ALL {
        let sizes: Vec<Vec2> = drawing
            .annotations
            .iter()
            .filter_map(|annotation| match annotation {
                Annotation::Note(note) if note.side == side => Some(choices::note_size(note)),
                _ => None,
            })
            .collect();
        if sizes.is_empty() {
            continue;
        }
        let widest = sizes.iter().map(|size| size.x).fold(0.0, f64::max);
        let highest = sizes.iter().map(|size| size.y).fold(0.0, f64::max);
        match side {
            Side::Top => room.y1 = room.y1.max(extents.y1 + NOTE_GAP + highest),
            Side::Bottom => room.y0 = room.y0.min(extents.y0 - NOTE_GAP - highest),
            Side::Left => room.x0 = room.x0.min(extents.x0 - NOTE_GAP - widest),
            Side::Right => room.x1 = room.x1.max(extents.x1 + NOTE_GAP + widest),
        }
    }
    room
}
