//! Places for the figure of a linear dimension: over its line, else beside or beyond its ends.

use kurbo::{Point, Vec2};

use super::{Choice, End, LEVEL, sized};
use crate::drawing::place::linear::{RowedLinear, TAIL};
use crate::drawing::textbox::{TextBox, across};

/// Where the figure of a dimension will most likely stand: the first of its choices.
pub(in crate::drawing::place) fn likeliest_place(rowed: &RowedLinear<'_>, size: Vec2) -> TextBox {
    if size.x + 1.0 <= rowed.length() {
        over_line(rowed, size, 0.0)
    } else if is_upright(rowed) {
        beside_upright(rowed, size, rowed.outward, 0.0)
    } else {
        beyond_end(rowed, size, rowed.ends[1], rowed.along(), 0.0).0
    }
}

/// Along a dimension line: over it, else beside or beyond its ends.
pub(in crate::drawing::place) fn beside_dimension(rowed: &RowedLinear<'_>, size: Vec2) -> Vec<Choice> {
    let along = rowed.along();
    let [from, to] = rowed.ends;
    let mut choices = Vec::new();
    if size.x + 1.0 <= rowed.length() {
        let under = across(along) * -(size.y + 1.6);
        for (share, price) in [(0.0, 0.0), (0.4, 1.0), (-0.4, 1.0), (0.8, 2.0), (-0.8, 2.0)] {
            let place = over_line(rowed, size, share);
            choices.push(Choice::bare(place, price));
            choices.push(Choice::bare(place.shifted(under), price + 4.0));
        }
    }
    if !is_upright(rowed) {
        for (end, way, price) in [(to, along, 6.0), (from, -along, 6.5)] {
            for more in [0.0, 3.0, 7.0] {
                let (place, leader) = beyond_end(rowed, size, end, way, more);
                choices.push(Choice { place, leader, end: End::Nothing, price: price + more });
            }
        }
        return choices;
    }
    for (way, price) in [(rowed.outward, 5.0), (-rowed.outward, 6.0)] {
        for more in [0.0, 1.5, 4.0] {
            choices.push(Choice::bare(beside_upright(rowed, size, way, more), price + more));
        }
    }
    let tail = tail(rowed);
    for (end, way) in [(to, along), (from, -along)] {
        for rise in [2.0, 5.0, 9.0] {
            for (square, price) in [(rowed.outward, 7.0), (-rowed.outward, 8.0)] {
                let square = level(square);
                let corner = end + way * (tail + rise);
                let over = Vec2::new(0.0, size.y / 2.0 + OVER_LINE);
                choices.push(Choice {
                    place: sized(size, corner + square * (size.x / 2.0 + 1.0) + over, LEVEL),
                    leader: vec![end + way * tail, corner, corner + square * (size.x + 1.0)],
                    end: End::Nothing,
                    price: price + rise,
                });
            }
        }
    }
    choices
}

/// Gap between a dimension line and the figure over it.
const OVER_LINE: f64 = 0.8;

fn is_upright(rowed: &RowedLinear<'_>) -> bool {
    rowed.along().x.abs() < 0.7
}

/// To the right or to the left, whichever a direction points to.
fn level(way: Vec2) -> Vec2 {
    if way.x >= 0.0 { LEVEL } else { -LEVEL }
}

fn tail(rowed: &RowedLinear<'_>) -> f64 {
    if rowed.arrows_outside() { TAIL } else { 0.0 }
}

/// Over the line, moved from its middle by a share of the room to either side.
fn over_line(rowed: &RowedLinear<'_>, size: Vec2, share: f64) -> TextBox {
    let along = rowed.along();
    let play = ((rowed.length() - size.x) / 2.0 - 0.3).max(0.0);
    let middle = rowed.ends[0].midpoint(rowed.ends[1]) + along * (play * share);
    sized(size, middle + across(along) * (size.y / 2.0 + OVER_LINE), along)
}

/// Beside an upright line that is too short for its figure: level, so that it can be read.
fn beside_upright(rowed: &RowedLinear<'_>, size: Vec2, way: Vec2, more: f64) -> TextBox {
    let middle = rowed.ends[0].midpoint(rowed.ends[1]);
    sized(size, middle + level(way) * (1.3 + more + size.x / 2.0), LEVEL)
}

/// Beyond an end of the line, over its lengthening.
fn beyond_end(rowed: &RowedLinear<'_>, size: Vec2, end: Point, way: Vec2, more: f64) -> (TextBox, Vec<Point>) {
    let along = rowed.along();
    let near = end + way * (tail(rowed).max(1.0) + more);
    let far = near + way * size.x;
    let place = sized(size, near.midpoint(far) + across(along) * (size.y / 2.0 + OVER_LINE), along);
    (place, vec![end + way * tail(rowed), far])
}
