//! Distances from one datum at the ends of their own lines, moved apart so that no two figures overlap.
//!
//! Method of the spreading: each figure wants to stand over its station; where they would come closer than a line
//! of text, the least squares answer under that constraint is found by pooling neighbours (isotonic regression).

use kurbo::{Line, Point, Rect, Vec2};

use super::layout::to_paper;
use crate::drawing::annotation::{NameRow, Ordinates};
use crate::drawing::hatch::broken_around;
use crate::drawing::outline::{bounds, circle, straight_pieces};
use crate::drawing::scale::Scale;
use crate::drawing::style::{Lettering, Side};
use crate::drawing::textbox::TextBox;
use crate::lettering::Face;

/// Gap between the station's point and its line.
const GAP: f64 = 1.0;
/// From the outline to where lines may turn aside.
const STRAIGHT: f64 = 2.0;
/// Room between neighbouring figures, more than their height.
const APART: f64 = 1.0;

/// Room between neighbouring names in a row: numbers, and names of several words, which would read as one.
const NUMBERS_APART: f64 = 1.5;
const NAMES_APART: f64 = 4.0;

/// Radius of the ring that marks the datum.
pub(super) const RING: f64 = 1.0;

/// Ordinates or a row of names on paper.
pub(super) struct PlacedOrdinates {
    /// Lines with their turns.
    pub(super) lines: Vec<Vec<Point>>,
    /// The middle of the ring that marks the datum.
    pub(super) ring: Option<Point>,
    /// The texts.
    pub(super) texts: Vec<(String, Lettering, TextBox)>,
    /// The box of it all.
    pub(super) bounds: Rect,
}

/// Ordinates outside what stands on their side already.
pub(super) fn spread(asked: &Ordinates, extents: Rect, factors: Scale) -> PlacedOrdinates {
    let (along, outward) = (asked.side.along(), asked.side.outward());
    let datum = (to_paper(asked.datum, factors), "0", asked.datum_name.as_str());
    let mut stations: Vec<(Point, &str, &str)> = asked
        .stations
        .iter()
        .map(|station| (to_paper(station.at, factors), station.text.as_str(), station.name.as_str()))
        .chain([datum])
        .collect();
    stations.sort_by(|one, two| one.0.to_vec2().dot(along).total_cmp(&two.0.to_vec2().dot(along)));

    let height = TextBox::centred("0", asked.lettering, Point::ZERO, along).half_height * 2.0;
    let wanted: Vec<f64> = stations.iter().map(|(at, ..)| at.to_vec2().dot(along)).collect();
    let moved = apart(&wanted, &vec![height + APART; wanted.len()]);
    let most = wanted.iter().zip(&moved).map(|(from, to)| (from - to).abs()).fold(0.0, f64::max);

    let turn = reach(extents, asked.side) + STRAIGHT;
    let straight_again = turn + if most < 0.01 { 0.0 } else { (most * 0.6).clamp(3.0, 14.0) };
    let end = straight_again + 1.5;
    // Figures are read from below or, where they stand upright, from the right.
    let reading = match asked.side {
        Side::Top | Side::Bottom => Vec2::new(0.0, 1.0),
        Side::Left | Side::Right => Vec2::new(1.0, 0.0),
    };
    let strong = Lettering { face: Face::Bold, ..asked.lettering };
    let point = |t: f64, n: f64| (along * t + outward * n).to_point();
    let mut placed = PlacedOrdinates::empty();
    for ((at, figure, name), to) in stations.iter().zip(&moved) {
        let (here, start) = (at.to_vec2().dot(along), at.to_vec2().dot(outward) + GAP);
        placed.lines.push(vec![
            point(here, start),
            point(here, turn.max(start)),
            point(*to, straight_again),
            point(*to, end),
        ]);
        let mut from = end + 0.8;
        for (text, lettering) in [(*figure, asked.lettering), (*name, strong)] {
            if text.is_empty() {
                continue;
            }
            let length = lettering.width(text);
            let place = TextBox::centred(text, lettering, point(*to, from + length / 2.0), reading);
            placed.texts.push((text.to_owned(), lettering, place));
            from += length + 1.6;
        }
    }
    placed.ring = Some(datum.0 + outward * (GAP + RING));
    placed.bounded()
}

/// A row of names outside what stands on their side already.
pub(super) fn names(asked: &NameRow, extents: Rect, outline: Rect, factors: Scale) -> PlacedOrdinates {
    let (along, outward) = (asked.side.along(), asked.side.outward());
    let mut stations: Vec<(Point, &str)> =
        asked.names.iter().map(|(at, name)| (to_paper(*at, factors), name.as_str())).collect();
    stations.sort_by(|one, two| one.0.to_vec2().dot(along).total_cmp(&two.0.to_vec2().dot(along)));
    let set = |reading: Vec2| -> Vec<TextBox> {
        stations.iter().map(|(_, name)| TextBox::centred(name, asked.lettering, Point::ZERO, reading)).collect()
    };
    let half = |way: Vec2, place: &TextBox| {
        let bounds = place.bounds();
        bounds.width() / 2.0 * way.x.abs() + bounds.height() / 2.0 * way.y.abs()
    };
    let several_words = asked.names.iter().any(|(_, name)| name.contains(' '));
    let gap = if several_words { NAMES_APART } else { NUMBERS_APART };
    let mut boxes = set(Vec2::new(1.0, 0.0));
    let length: f64 = boxes.iter().map(|place| 2.0 * half(along, place) + gap).sum();
    let room = reach(outline, asked.side.clockwise()) + reach(outline, asked.side.clockwise().opposite());
    if length > room && along.x.abs() > 0.5 {
        // Too long side by side: they stand upright.
        boxes = set(Vec2::new(0.0, 1.0));
    }
    let wanted: Vec<f64> = stations.iter().map(|(at, _)| at.to_vec2().dot(along)).collect();
    let pitches: Vec<f64> = boxes.windows(2).map(|pair| half(along, &pair[0]) + half(along, &pair[1]) + gap).collect();
    let moved = apart(&wanted, &pitches);
    let most = wanted.iter().zip(&moved).map(|(from, to)| (from - to).abs()).fold(0.0, f64::max);

    let turn = reach(extents, asked.side) + GAP;
    let end = turn + if most < 0.3 { 0.0 } else { (most * 0.6).clamp(1.5, 12.0) };
    let mut placed = PlacedOrdinates::empty();
    for (((at, name), to), place) in stations.iter().zip(&moved).zip(&boxes) {
        let (here, start) = (at.to_vec2().dot(along), at.to_vec2().dot(outward) + GAP);
        let point = |t: f64, n: f64| (along * t + outward * n).to_point();
        if end > turn || turn > start {
            placed.lines.push(vec![point(here, start), point(here, turn), point(*to, end)]);
        }
        let centre = point(*to, end + 0.8 + half(outward, place));
        placed.texts.push(((*name).to_owned(), asked.lettering, TextBox { centre, ..*place }));
    }
    placed.bounded()
}

impl PlacedOrdinates {
    fn empty() -> Self {
        Self { lines: Vec::new(), ring: None, texts: Vec::new(), bounds: Rect::ZERO }
    }

    fn bounded(self) -> Self {
        let corners = self
            .lines
            .iter()
            .flatten()
            .copied()
            .chain(self.texts.iter().flat_map(|(.., place)| place.grown(0.4).corners()));
        Self { bounds: bounds(corners).unwrap_or(Rect::ZERO), ..self }
    }

    /// The same with its lines broken where they would run through the texts of others.
    pub(super) fn clear_of(self, others: &[Self]) -> Self {
        let texts: Vec<TextBox> =
            others.iter().flat_map(|other| other.texts.iter().map(|(.., place)| *place)).collect();
        if texts.is_empty() {
            return self;
        }
        let pieces: Vec<Line> = self.pieces().collect();
        let lines = broken_around(&pieces, &texts).iter().map(|piece| vec![piece.p0, piece.p1]).collect();
        Self { lines, ..self }
    }

    /// The straight pieces of all lines.
    fn pieces(&self) -> impl Iterator<Item = Line> {
        self.lines.iter().flat_map(|line| line.windows(2).map(|pair| Line::new(pair[0], pair[1])))
    }

    /// What no text may touch: the lines and the ring.
    pub(super) fn obstacles(&self) -> impl Iterator<Item = Line> {
        let ring = self.ring.into_iter().flat_map(|at| straight_pieces(&circle(at, RING), 0.1));
        self.pieces().chain(ring)
    }
}

/// How far a box reaches outward on a side.
pub(super) fn reach(rectangle: Rect, side: Side) -> f64 {
    match side {
        Side::Top => rectangle.y1,
        Side::Bottom => -rectangle.y0,
        Side::Left => -rectangle.x0,
        Side::Right => rectangle.x1,
    }
}

/// The places nearest to the wanted ones (rising) that are at least the pitches apart: `pitches[i]` from i to i + 1.
fn apart(wanted: &[f64], pitches: &[f64]) -> Vec<f64> {
    let mut steps = Vec::with_capacity(wanted.len());
    let mut sum = 0.0;
    for index in 0..wanted.len() {
        steps.push(sum);
        sum += pitches.get(index).copied().unwrap_or(0.0);
    }
    // With the pitches taken off, "apart" becomes "not falling".
    let mut pools: Vec<(f64, f64)> = Vec::new();
    for (place, step) in wanted.iter().zip(&steps) {
        pools.push((place - step, 1.0));
        while let [.., before, last] = pools.as_slice() {
            if before.0 <= last.0 {
                break;
            }
            let pooled = ((before.0 * before.1 + last.0 * last.1) / (before.1 + last.1), before.1 + last.1);
            pools.truncate(pools.len() - 2);
            pools.push(pooled);
        }
    }
    let mut places = Vec::with_capacity(wanted.len());
    for (mean, mut count) in pools {
        while count > 0.5 {
            places.push(mean + steps[places.len()]);
            count -= 1.0;
        }
    }
    places
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn figures_are_moved_no_more_than_they_must() {
        let places = apart(&[0.0, 10.0, 11.0, 12.0, 30.0], &[4.0; 5]);
        let expected = [0.0, 7.0, 11.0, 15.0, 30.0];
        for (place, expected) in places.iter().zip(expected) {
            assert!((place - expected).abs() < 1e-9, "{places:?}");
        }
    }

    #[test]
    fn all_are_apart_and_in_order_however_crowded() {
        let wanted: Vec<f64> = (0..40).map(|index| f64::from(index) * 0.7 + f64::from(index % 3) * 0.2).collect();
        for pair in apart(&wanted, &[3.3; 40]).windows(2) {
            assert!(pair[1] - pair[0] > 3.3 - 1e-9);
        }
    }
}
