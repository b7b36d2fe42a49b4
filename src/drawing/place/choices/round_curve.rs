//! Places for radii, diameters and angles.

use kurbo::Vec2;

use super::{Choice, End, GAP, LEVEL, sized};
use crate::drawing::annotation::{AngleBetween, Round};
use crate::drawing::place::layout::to_paper;
use crate::drawing::place::marks::unit;
use crate::drawing::scale::Scale;
use crate::drawing::textbox::across;

/// Outside a circle, at a leader that points to its middle.
pub(in crate::drawing::place) fn round_circle(round: &Round, size: Vec2, factors: Scale) -> Vec<Choice> {
    const EIGHT: [(f64, f64); 8] =
        [(0.8, 0.6), (-0.8, 0.6), (0.8, -0.6), (-0.8, -0.6), (0.6, 0.8), (-0.6, 0.8), (0.6, -0.8), (-0.6, -0.8)];
    let any: Vec<Vec2> = EIGHT.iter().map(|way| Vec2::from(*way)).collect();
    let ways = if round.toward.is_empty() { &any } else { &round.toward };
    let mut choices = Vec::new();
    for (index, toward) in ways.iter().enumerate() {
        let own = f64::from(u32::try_from(index).unwrap_or(u32::MAX)) * 0.4;
        let tip = to_paper(round.centre + unit(*toward) * round.radius, factors);
        let way = unit(tip - to_paper(round.centre, factors));
        let side = if way.x >= 0.0 { 1.0 } else { -1.0 };
        for off in [4.0, 6.0, 9.0, 13.0, 18.0, 25.0] {
            let bend = tip + way * off;
            let joint = bend + Vec2::new(side * 1.5, 0.0);
            let centre = joint + Vec2::new(side * (GAP + size.x / 2.0), 0.0);
            choices.push(Choice {
                place: sized(size, centre, LEVEL),
                leader: vec![tip, bend, joint],
                end: End::Arrow(tip, -way),
                price: off + own,
            });
        }
    }
    choices
}

/// Outside the arc of an angle.
pub(in crate::drawing::place) fn round_angle(angle: &AngleBetween, size: Vec2, factors: Scale) -> Vec<Choice> {
    let vertex = to_paper(angle.vertex, factors);
    let one = unit(to_paper(angle.from, factors) - vertex);
    let two = unit(to_paper(angle.to, factors) - vertex);
    let middle = unit(one + two);
    let mut choices = Vec::new();
    for (way, price) in [(middle, 0.0), (unit(middle + two * 0.5), 1.0), (unit(middle + one * 0.5), 1.0)] {
        for off in [1.2, 2.5, 5.0, 9.0] {
            let half = size / 2.0;
            let reach = angle.radius + off + half.x * way.x.abs() + half.y * way.y.abs();
            choices.push(Choice::bare(sized(size, vertex + way * reach, LEVEL), price + off));
        }
    }
    // A slim angle holds no text between its arrows: beside the rays.
    for (way, ray) in [(across(two), two), (-across(one), one)] {
        for off in [1.5, 4.0, 8.0] {
            let half = size / 2.0;
            let centre = vertex + ray * angle.radius + way * (off + half.x * way.x.abs() + half.y * way.y.abs());
            choices.push(Choice::bare(sized(size, centre, LEVEL), 6.0 + off));
        }
    }
    choices
}
