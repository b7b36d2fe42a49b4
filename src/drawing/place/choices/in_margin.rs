//! Places for a note in a margin, and the parts of a note: text and arrow.

use kurbo::{Point, Rect, Vec2};

use super::{Choice, LEVEL, sized, text_size};
use crate::drawing::annotation::{Align, Note};
use crate::drawing::place::layout::{Layout, NOTE_GAP};
use crate::drawing::style::Side;
use crate::drawing::textbox::TextBox;

/// Length of the arrow beside a note, and its gap.
const ARROW_ROOM: f64 = 13.0;

/// Length and height of a note with its arrow.
pub(in crate::drawing::place) fn note_size(note: &Note) -> Vec2 {
    let text = TextBox::centred(&note.text, note.lettering, Point::ZERO, Vec2::new(1.0, 0.0));
    let level = match note.arrow {
        Some(Side::Left | Side::Right) => ARROW_ROOM,
        Some(Side::Top | Side::Bottom) => 4.0,
        None => 0.0,
    };
    let height = if matches!(note.arrow, Some(Side::Top | Side::Bottom)) { 8.0 } else { 0.0 };
    Vec2::new(text.half_length * 2.0 + level, (text.half_height * 2.0).max(height))
}

/// In a margin, outside all dimensions; the box includes the arrow.
pub(in crate::drawing::place) fn in_margin(note: &Note, layout: &Layout<'_>) -> Vec<Choice> {
    let size = note_size(note);
    let mut choices = Vec::new();
    for (base, dear) in [(layout.outline, 0.0), (layout.extents, 3.0)] {
        for row in 0..8_u32 {
            let off = NOTE_GAP + f64::from(row) * 2.5;
            for (align, misplaced) in [(note.align, 0.0), (Align::Start, 8.0), (Align::Middle, 8.0), (Align::End, 8.0)]
            {
                let centre = margin_place(base, note.side, align, size, off);
                choices.push(Choice::bare(sized(size, centre, LEVEL), off + dear + misplaced));
            }
        }
    }
    choices
}

fn margin_place(base: Rect, side: Side, align: Align, size: Vec2, off: f64) -> Point {
    let at = |low: f64, high: f64, half: f64| match align {
        Align::Start => low + half,
        Align::Middle => (low + high) / 2.0,
        Align::End => high - half,
    };
    let half = size / 2.0;
    match side {
        Side::Top => Point::new(at(base.x0, base.x1, half.x), base.y1 + off + half.y),
        Side::Bottom => Point::new(at(base.x0, base.x1, half.x), base.y0 - off - half.y),
        Side::Left => Point::new(base.x0 - off - half.x, at(base.y0, base.y1, half.y)),
        Side::Right => Point::new(base.x1 + off + half.x, at(base.y0, base.y1, half.y)),
    }
}

/// The box of a note's text within the note's own box, and its arrow: from, to.
pub(in crate::drawing::place) fn note_parts(note: &Note, place: &TextBox) -> (TextBox, Option<(Point, Point)>) {
    let size = text_size(&note.text, note.lettering);
    let bounds = place.bounds();
    let (left, middle) = (Point::new(bounds.x0, place.centre.y), place.centre);
    let room = ARROW_ROOM;
    let text = |x: f64| TextBox {
        centre: Point::new(x + size.x / 2.0, middle.y),
        along: place.along,
        half_length: size.x / 2.0,
        half_height: size.y / 2.0,
    };
    match note.arrow {
        None => (text(bounds.x0), None),
        Some(Side::Left) => (text(bounds.x0 + room), Some((left + Vec2::new(room - 2.0, 0.0), left))),
        Some(Side::Right) => {
            let from = left + Vec2::new(size.x + 2.0, 0.0);
            (text(bounds.x0), Some((from, left + Vec2::new(size.x + room, 0.0))))
        }
        Some(side) => {
            let (low, high) = (Point::new(bounds.x0 + 1.0, bounds.y0), Point::new(bounds.x0 + 1.0, bounds.y1));
            let (from, to) = if side == Side::Top { (low, high) } else { (high, low) };
            (text(bounds.x0 + 4.0), Some((from, to)))
        }
    }
}
