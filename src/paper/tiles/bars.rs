//! The bars that prove a print: 100 mm and 4 in along either side of the paper, and boxes for what they measure.

use kurbo::Rect;

use super::Stretch;
use crate::drawing::{Anchor, Item, Text};
use crate::lettering::Face;
use crate::paper::sketch::Sketch;
use crate::rounding;

/// What the bars take along the page's foot and its left side, millimetres.
pub(super) const FOOT: f64 = 15.0;
pub(super) const SIDE: f64 = 14.0;

/// Length on paper of each bar, millimetres, and its name.
const BARS: [(f64, &str); 2] = [(100.0, "100 mm"), (101.6, "4 in")];
/// From a bar to the next, millimetres.
const PITCH: f64 = 6.0;
/// The width of a box, millimetres.
const BOX: f64 = 21.0;
/// Half an end mark, millimetres.
const END: f64 = 1.6;

/// Draws the bars along the foot and the left side of an area.
pub(super) fn draw(sketch: &mut Sketch, area: Rect, stretch: Stretch) {
    let (left, foot) = (area.x0 + SIDE, area.y0 + FOOT);
    for (index, (length, name)) in BARS.into_iter().enumerate() {
        let below = foot - 4.0 - index as f64 * PITCH;
        let right = left + length * stretch.x;
        bar(sketch, (left, below), (right, below));
        label(sketch, (right + 2.5, below - 1.0), &format!("{name} x"), 0.0);
        let beside = left - 4.0 - index as f64 * PITCH;
        let top = foot + length * stretch.y;
        bar(sketch, (beside, foot), (beside, top));
        label(sketch, (beside + 1.0, top + 2.5), &format!("{name} y"), std::f64::consts::FRAC_PI_2);
    }
    let boxes = area.x1 - BOX;
    for (index, name) in ["x =", "y ="].into_iter().enumerate() {
        let bottom = foot - 7.0 - index as f64 * 7.0;
        sketch.text((boxes - 1.5, bottom + 1.8), Anchor::End, name, (Face::Bold, 8.0), None);
        sketch.frame(Rect::new(boxes, bottom, boxes + BOX, bottom + 6.0), 0.35);
        sketch.text((boxes + BOX - 1.2, bottom + 1.8), Anchor::End, "mm", (Face::Condensed, 7.5), None);
    }
    if stretch != Stretch::NONE {
        let [x, y] = [stretch.x, stretch.y].map(|factor| rounding::fixed(factor, 5));
        let text = format!("stretched for this printer: x × {x}, y × {y}");
        sketch.text((area.x1, foot + 1.2), Anchor::End, &text, (Face::Condensed, 7.5), None);
    }
}

fn bar(sketch: &mut Sketch, from: (f64, f64), to: (f64, f64)) {
    let across = if (from.1 - to.1).abs() < (from.0 - to.0).abs() { (0.0, END) } else { (END, 0.0) };
    sketch.rule(from, to, 0.35);
    for end in [from, to] {
        sketch.rule((end.0 - across.0, end.1 - across.1), (end.0 + across.0, end.1 + across.1), 0.25);
    }
}

fn label(sketch: &mut Sketch, at: (f64, f64), text: &str, angle: f64) {
    let text = Text {
        at: at.into(),
        text: text.to_owned(),
        face: Face::Bold,
        size: 8.0,
        anchor: Anchor::Start,
        angle,
        white: false,
    };
    sketch.item(Item::Text(text), None);
}
