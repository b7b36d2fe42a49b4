//! Places round a point, near ones first, with a leader where they stand off.

use kurbo::{Point, Rect, Vec2};

use super::{Choice, End, GAP, LEVEL, sized};
use crate::drawing::annotation::{Label, Tip};
use crate::drawing::place::layout::to_paper;
use crate::drawing::place::marks::unit;
use crate::drawing::scale::Scale;
use crate::drawing::style::Side;
use crate::drawing::textbox::TextBox;

/// Farther off than this a label needs a leader.
const ADJACENT: f64 = 1.6;
/// Price of a leader.
const LEADER: f64 = 2.0;

/// Round a point, near first, with a leader where it stands off.
pub(in crate::drawing::place) fn round_point(label: &Label, size: Vec2, factors: Scale) -> Vec<Choice> {
    let at = to_paper(label.at, factors);
    let clear = label.clear * factors.along.max(factors.across);
    let ways: [(f64, f64, f64); 16] = [
        (1.0, 0.0, 0.0),
        (1.0, 1.0, 0.2),
        (0.0, 1.0, 0.4),
        (-1.0, 0.0, 0.5),
        (-1.0, 1.0, 0.6),
        (1.0, -1.0, 0.7),
        (0.0, -1.0, 0.8),
        (-1.0, -1.0, 0.9),
        (0.5, 1.0, 0.6),
        (-0.5, 1.0, 0.7),
        (0.5, -1.0, 0.8),
        (-0.5, -1.0, 0.9),
        (1.0, 0.5, 0.7),
        (1.0, -0.5, 0.8),
        (-1.0, 0.5, 0.9),
        (-1.0, -0.5, 1.0),
    ];
    let mut choices = Vec::new();
    for off in [0.0, 0.7, 1.5, 3.0, 5.0, 8.0, 12.0, 17.0, 23.0, 30.0, 40.0, 55.0] {
        for (index, (x, y, own)) in ways.iter().enumerate() {
            if index >= 8 && off < 3.0 {
                continue;
            }
            let slant = if x.abs() + y.abs() > 1.2 { 0.72 } else { 1.0 };
            let reach = clear * slant + GAP * slant + off;
            let centre = at + Vec2::new(x * (reach + size.x / 2.0), y * (reach + size.y / 2.0));
            let place = sized(size, centre, LEVEL);
            let price = off + own + label.toward.map_or(0.0, |side| stray(side, *x, *y));
            if off <= ADJACENT {
                choices.push(Choice::bare(place, price));
            } else {
                choices.push(with_leader(at, clear, label.tip, place, price + LEADER));
            }
        }
    }
    choices
}

/// The price of standing elsewhere than on the wanted side.
fn stray(side: Side, x: f64, y: f64) -> f64 {
    let agreement = side.outward().dot(unit(Vec2::new(x, y)));
    (1.0 - agreement) * 8.0
}

/// A choice at a place, joined to its point by a leader.
fn with_leader(at: Point, clear: f64, tip: Tip, place: TextBox, price: f64) -> Choice {
    let middle = place.centre;
    let half = Vec2::new(place.half_length, place.half_height);
    // A leader hardly off upright looks like a mistake.
    let askew = (at.x - middle.x).abs() - half.x;
    let price = price + if askew > 0.0 && askew < 2.5 { 3.0 } else { 0.0 };
    let level = (at.y - middle.y).abs() <= half.y + GAP;
    let mut points = if askew > 1.0 || level {
        let side = if at.x > middle.x { 1.0 } else { -1.0 };
        let joint = middle + Vec2::new(side * (half.x + GAP), 0.0);
        let landing = (at.x - joint.x).abs().min(4.0) / 2.0;
        vec![at, joint + Vec2::new(side * landing, 0.0), joint]
    } else {
        let side = if at.y > middle.y { 1.0 } else { -1.0 };
        let x = at.x.clamp(middle.x - half.x, middle.x + half.x);
        vec![at, Point::new(x, middle.y + side * (half.y + GAP))]
    };
    let way = unit(points[1] - at);
    points[0] = at + way * clear.min((points[1] - at).hypot() * 0.9);
    let end = match tip {
        Tip::Plain => End::Nothing,
        Tip::Dot if clear <= 0.0 => End::Dot(points[0]),
        // A leader that ends on a feature's own edge needs no dot.
        Tip::Dot => End::Nothing,
        Tip::Arrow => End::Arrow(points[0], -way),
    };
    Choice { place, leader: points, end, price }
}

/// Anywhere in a frame, with a leader: the last resort before the key.
pub(in crate::drawing::place) fn anywhere(at: Point, clear: f64, tip: Tip, size: Vec2, frame: Rect) -> Vec<Choice> {
    let mut choices = Vec::new();
    let step = 4.0;
    let mut y = frame.y0 + size.y / 2.0 + 0.5;
    while y + size.y / 2.0 < frame.y1 {
        let mut x = frame.x0 + size.x / 2.0 + 0.5;
        while x + size.x / 2.0 < frame.x1 {
            let place = sized(size, Point::new(x, y), LEVEL);
            if !place.grown(1.5).contains(at) {
                let price = 10.0 + (place.centre - at).hypot();
                choices.push(with_leader(at, clear, tip, place, price));
            }
            x += step;
        }
        y += step;
    }
    choices
}
