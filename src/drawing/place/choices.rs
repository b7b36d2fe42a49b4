//! The places a text may take, each with its price before anything else is looked at.
//!
//! Prices are in millimetres of distance from the best place, more or less.

use kurbo::{Line, Point, Vec2};

use super::super::annotation::{Align, AngleBetween, Label, LineName, Note, Round, Tip};
use super::super::scale::Scale;
use super::super::style::{Lettering, Side};
use super::super::textbox::{TextBox, across};
use super::layout::{Layout, NOTE_GAP, note_size, to_paper};
use super::linear::{RowedLinear, TAIL};
use super::marks::unit;
use super::ordinates::reach;
use kurbo::Rect;

/// Length of the arrow beside a note, and its gap.
pub(super) const ARROW_ROOM: f64 = 13.0;
/// Gap between a text and what it belongs to.
const GAP: f64 = 0.9;
/// Farther off than this a label needs a leader.
const ADJACENT: f64 = 1.6;
/// Price of a leader.
const LEADER: f64 = 2.0;

/// Radius of the dot at a leader's end.
pub(super) const DOT: f64 = 0.55;

/// How the first point of a choice's lines is marked.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum End {
    Nothing,
    Dot(Point),
    Arrow(Point, Vec2),
}

/// A place for a text.
#[derive(Debug, Clone)]
pub(super) struct Choice {
    pub(super) place: TextBox,
    /// Leader or lengthened dimension line, joined.
    pub(super) leader: Vec<Point>,
    pub(super) end: End,
    /// What it costs before anything else is looked at.
    pub(super) price: f64,
}

impl Choice {
    fn bare(place: TextBox, price: f64) -> Self {
        Self { place, leader: Vec::new(), end: End::Nothing, price }
    }

    /// The straight pieces of its leader, and a cross for the dot at its end.
    pub(super) fn pieces(&self) -> impl Iterator<Item = Line> {
        let dot = match self.end {
            End::Dot(at) => Some(at),
            End::Nothing | End::Arrow(..) => None,
        };
        let cross = dot
            .into_iter()
            .flat_map(|at| [Vec2::new(DOT, 0.0), Vec2::new(0.0, DOT)].map(|reach| Line::new(at - reach, at + reach)));
        self.leader.windows(2).map(|pair| Line::new(pair[0], pair[1])).chain(cross)
    }
}

/// Length and height of a text.
pub(super) fn text_size(text: &str, lettering: Lettering) -> Vec2 {
    let place = TextBox::centred(text, lettering, Point::ZERO, Vec2::new(1.0, 0.0));
    Vec2::new(place.half_length, place.half_height) * 2.0
}

fn sized(size: Vec2, centre: Point, along: Vec2) -> TextBox {
    TextBox { centre, along, half_length: size.x / 2.0, half_height: size.y / 2.0 }
}

const LEVEL: Vec2 = Vec2::new(1.0, 0.0);

/// Where the figure of a dimension will most likely stand: the first of its choices.
pub(super) fn likeliest_place(rowed: &RowedLinear<'_>, size: Vec2) -> TextBox {
    if size.x + 1.0 <= rowed.length() {
        over_line(rowed, size, 0.0)
    } else if is_upright(rowed) {
        beside_upright(rowed, size, rowed.outward, 0.0)
    } else {
        beyond_end(rowed, size, rowed.ends[1], rowed.along(), 0.0).0
    }
}

/// Along a dimension line: over it, else beside or beyond its ends.
pub(super) fn beside_dimension(rowed: &RowedLinear<'_>, size: Vec2) -> Vec<Choice> {
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

/// Round a point, near first, with a leader where it stands off.
pub(super) fn round_point(label: &Label, size: Vec2, factors: Scale) -> Vec<Choice> {
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
pub(super) fn with_leader(at: Point, clear: f64, tip: Tip, place: TextBox, price: f64) -> Choice {
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

/// Along a line, on its side.
pub(super) fn along_line(name: &LineName, size: Vec2, layout: &Layout<'_>) -> Vec<Choice> {
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

/// In a margin, outside all dimensions; the box includes the arrow.
pub(super) fn in_margin(note: &Note, layout: &Layout<'_>) -> Vec<Choice> {
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

/// Outside a circle, at a leader that points to its middle.
pub(super) fn round_circle(round: &Round, size: Vec2, factors: Scale) -> Vec<Choice> {
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
pub(super) fn round_angle(angle: &AngleBetween, size: Vec2, factors: Scale) -> Vec<Choice> {
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

/// Anywhere in a frame, with a leader: the last resort before the key.
pub(super) fn anywhere(at: Point, clear: f64, tip: Tip, size: Vec2, frame: Rect) -> Vec<Choice> {
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
