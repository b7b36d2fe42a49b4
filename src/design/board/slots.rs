//! Where each slot begins and ends: on the finished edges, at a binding's inner face, or under a string.

use super::edges::Edges;
use super::layout::{Layout, StationLine};
use super::strings::StringPlaces;
use crate::geom::{Point, Segment};
use crate::model::{Known, Missing, Model, PartialFret};
use crate::spec::words::{NutAt, Side};

/// One fret's slot.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Slot {
    /// The fret; 0 for a zero fret.
    pub fret: usize,
    /// Its line.
    pub line: StationLine,
    /// The crown, bass end to treble end: on the finished edges, or where a partial fret stops.
    pub crown: Segment,
    /// The slot itself: as the crown, but stopping at a binding's inner face.
    pub cut: Segment,
    /// Whether the bass and the treble end reach an edge.
    pub reaches: [bool; 2],
}

impl Slot {
    /// Whether the fret lies under some strings only.
    pub const fn is_partial(&self) -> bool {
        !(self.reaches[0] && self.reaches[1])
    }

    /// The end of the cut on a side.
    pub const fn cut_end(&self, side: Side) -> Point {
        match side {
            Side::Bass => self.cut.start,
            Side::Treble => self.cut.end,
        }
    }
}

/// The slots of all frets in order, each known or waiting; a zero fret first where there is one.
///
/// A partial fret waits for the strings; the others do not.
///
/// # Errors
/// With the key that is open or cannot be used, when no slot is known.
pub fn slots(model: &Model, layout: &Layout, edges: &Edges) -> Known<Vec<(usize, Known<Slot>)>> {
    let binding = model.board.binding.mm()?;
    let partial = model.frets.partial.get();
    let first = usize::from(model.frets.nut_at.get()? != NutAt::ZeroFret);
    Ok((first..=layout.last())
        .filter_map(|fret| Some((fret, layout.fret(fret)?)))
        .map(|(fret, line)| {
            let slot = partial.clone().and_then(|partial| {
                let full = full_slot(fret, line, edges, binding);
                match partial.iter().find(|one| usize::try_from(one.fret) == Ok(fret)) {
                    Some(one) => partial_slot(model, layout, full, one),
                    None => Ok(full),
                }
            });
            (fret, slot)
        })
        .collect())
}

fn full_slot(fret: usize, line: StationLine, edges: &Edges, binding: f64) -> Slot {
    let ends = |inset: f64| Segment::new(edges.bass.meets(&line, inset), edges.treble.meets(&line, inset));
    Slot { fret, line, crown: ends(0.0), cut: ends(binding), reaches: [true, true] }
}

/// Cuts a full slot down to the strings it serves: midway to the next string at each side that has one.
fn partial_slot(model: &Model, layout: &Layout, full: Slot, partial: &PartialFret) -> Known<Slot> {
    let strings = StringPlaces::of(model)?;
    let share = layout.share(full.fret);
    let numbers = || partial.strings.iter().filter_map(|number| usize::try_from(*number).ok());
    let (highest, lowest) = numbers()
        .min()
        .zip(numbers().max())
        .filter(|(highest, lowest)| *highest >= 1 && *lowest <= strings.count())
        .ok_or(Missing::faulty("frets.partial"))?;
    let between = |a: usize, b: usize| -> Known<Point> {
        let across = strings
            .across(a, share)
            .zip(strings.across(b, share))
            .map(|(a, b)| f64::midpoint(a, b))
            .ok_or(Missing::faulty("frets.partial"))?;
        Ok(Point::new(full.line.at(across), across))
    };
    let mut slot = full;
    if highest > 1 {
        let end = between(highest - 1, highest)?;
        (slot.crown.end, slot.cut.end, slot.reaches[1]) = (end, end, false);
    }
    if lowest < strings.count() {
        let end = between(lowest, lowest + 1)?;
        (slot.crown.start, slot.cut.start, slot.reaches[0]) = (end, end, false);
    }
    Ok(slot)
}
