//! Places for the name of a line: along it, else across it or beyond its ends.

use kurbo::Vec2;

use super::{Choice, End, GAP, LEVEL, sized};
use crate::drawing::annotation::LineName;
use crate::drawing::place::layout::{Layout, NOTE_GAP, to_paper};
use crate::drawing::place::marks::unit;
use crate::drawing::place::ordinates::reach;
use crate::drawing::textbox::across;

/// Along a line, on its side.
pub(in crate::drawing::place) fn along_line(name: &LineName, size: Vec2, layout: &Layout<'_>) -> Vec<Choice> {
    let (from, to) = (to_paper(name.from, layout.factors), to_paper(name.to, layout.factors));
    let mut line = unit(to - from);
    if line.x < -1e-6 || (line.x.abs() <= 1e-6 && line.y < 0.0) {
        line = -line;
    }
    // A taper of a few degrees does not tilt its name.
    let along = if line.y.abs() < 0.2 {
        LEVEL
    } else if line.x.abs() < 0.2 {
        Vec2::new(0.0, 1.0)
    } else {
        line
    };
    let tilt = line.cross(along).abs() * size.x / 2.0;
    let outward = {
        let square = across(along);
        if square.dot(name.side.outward()) >= 0.0 { square } else { -square }
    };
    let mut choices = Vec::new();
    for (share, price) in [(0.5, 0.0), (0.4, 0.7), (0.6, 0.7), (0.25, 1.4), (0.75, 1.4), (0.12, 2.0), (0.88, 2.0)] {
        for more in [0.0, 1.0, 2.5, 4.5, 7.0, 10.0, 14.0, 20.0] {
            let centre = from.lerp(to, share) + outward * (size.y / 2.0 + 1.1 + tilt + more);
            choices.push(Choice::bare(sized(size, centre, along), price + more));
        }
    }
    if layout.is_deep(name.side) {
        // The figures take the line's own side: beyond them, with an arrow between them.
        let highest = reach(layout.extents, name.side) + NOTE_GAP;
        let away = name.side.outward();
        let half = size.x / 2.0 * away.x.abs() + size.y / 2.0 * away.y.abs();
        for lower in 0..8_u32 {
            for step in 1..20 {
                let tip = from.lerp(to, f64::from(step) * 0.05);
                let rise = highest - f64::from(lower) * 4.0 - tip.to_vec2().dot(away);
                if rise < 6.0 {
                    continue;
                }
                choices.push(Choice {
                    place: sized(size, tip + away * (rise + half), LEVEL),
                    leader: vec![tip, tip + away * (rise - GAP)],
                    end: End::Arrow(tip, -away),
                    price: 6.0 - f64::from(lower) * 0.5 + f64::from((step - 10_i32).abs()) * 0.1,
                });
            }
        }
    }
    // On the other side of the line, or beyond its ends, where its own side is taken.
    for (share, price) in [(0.5, 7.0), (0.35, 7.5), (0.65, 7.5), (0.2, 8.0), (0.8, 8.0)] {
        for more in [0.0, 1.5, 4.0] {
            let centre = from.lerp(to, share) - outward * (size.y / 2.0 + 1.1 + tilt + more);
            choices.push(Choice::bare(sized(size, centre, along), price + more));
        }
    }
    let forward = if (to - from).dot(along) >= 0.0 { along } else { -along };
    for (end, way, price) in [(to, forward, 6.0), (from, -forward, 6.5)] {
        for (more, aside) in [(0.0, 0.0), (0.0, 2.0), (0.0, -2.0), (3.0, 0.0), (3.0, 2.0), (3.0, -2.0)] {
            let centre = end + way * (size.x / 2.0 + 2.5 + more) + outward * aside;
            choices.push(Choice::bare(sized(size, centre, along), price + more));
        }
    }
    choices
}
