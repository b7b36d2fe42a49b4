//! Fret wire: the piece for each slot, its tang, its bend, and the sticks the pieces are cut from.

use super::edges::Edges;
use super::face::Face;
use super::slots::Slot;
use crate::design::formulas::{bend_radius, wire_piece};
use crate::geom::{Point, Segment};
use crate::model::{Known, Model};
use crate::rounding;
use crate::spec::words::Side;

/// Lost to each cut of the nipper or saw, in millimetres. Common practice, no source.
pub const LOST_TO_CUT: f64 = 1.0;

/// One piece of fret wire.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct WirePiece {
    /// The fret.
    pub fret: usize,
    /// Crown end to crown end.
    pub length: Known<f64>,
    /// With its overhang, rounded up to a whole millimetre.
    pub cut: Known<f64>,
    /// Length of the tang.
    pub tang: Known<f64>,
    /// Which stick it comes from, from 1.
    pub stick: Known<usize>,
    /// What it is bent to; infinite on a flat board.
    pub bend_radius: Known<f64>,
}

/// The pieces for all slots.
pub fn pieces(model: &Model, slots: &[(usize, Known<Slot>)], edges: &Edges, face: &Known<Face>) -> Vec<WirePiece> {
    let mut pieces: Vec<WirePiece> = slots
        .iter()
        .map(|(fret, slot)| {
            let length = slot.map(|slot| slot.crown.length());
            let cut = slot.and_then(|slot| {
                let overhang = model.wire.overhang.mm()?;
                let ends = f64::from(u8::from(slot.reaches[0]) + u8::from(slot.reaches[1]));
                Ok(rounding::up(wire_piece(slot.crown.length(), overhang, ends), 1.0))
            });
            let tang = slot.and_then(|slot| tang_length(model, &slot, edges));
            let bend = slot.and_then(|slot| {
                let face = (*face)?;
                Ok(if face.is_flat() {
                    f64::INFINITY
                } else {
                    bend_radius(face.radius(slot.line.x), slot.line.angle())
                })
            });
            WirePiece { fret: *fret, length, cut, tang, stick: cut.map(|_| 0), bend_radius: bend }
        })
        .collect();
    assign_sticks(model, &mut pieces);
    pieces
}

/// The tang: as long as the crown, or on a bound board nipped to stop short of the binding's inner face.
fn tang_length(model: &Model, slot: &Slot, edges: &Edges) -> Known<f64> {
    let binding = model.board.binding.mm()?;
    if binding <= 0.0 {
        return Ok(slot.crown.length());
    }
    let gap = model.board.tang_gap.mm()?;
    let end = |side: Side, reaches: bool, crown: Point| -> Point {
        if reaches { edges.on(side).meets(&slot.line, binding) } else { crown }
    };
    let inner = Segment::new(
        end(Side::Bass, slot.reaches[0], slot.crown.start),
        end(Side::Treble, slot.reaches[1], slot.crown.end),
    );
    let nipped = f64::from(u8::from(slot.reaches[0]) + u8::from(slot.reaches[1]));
    Ok(inner.length() - nipped * gap)
}

/// Gives each piece its stick: longest first, into the first stick that has room; equal lengths, lower fret first.
fn assign_sticks(model: &Model, pieces: &mut [WirePiece]) {
    let stick = match model.wire.stick.mm() {
        Ok(stick) => stick,
        Err(missing) => {
            pieces.iter_mut().for_each(|piece| piece.stick = Err(missing));
            return;
        }
    };
    let mut order: Vec<usize> = (0..pieces.len()).filter(|index| pieces[*index].cut.is_ok()).collect();
    let cut_of = |pieces: &[WirePiece], index: usize| pieces[index].cut.unwrap_or(0.0);
    order.sort_by(|a, b| cut_of(pieces, *b).total_cmp(&cut_of(pieces, *a)).then(a.cmp(b)));
    let mut room: Vec<f64> = Vec::new();
    for index in order {
        let need = cut_of(pieces, index) + LOST_TO_CUT;
        let number = match room.iter().position(|left| *left + rounding::ON_STEP >= need) {
            Some(number) => number,
            None => {
                room.push(stick);
                room.len() - 1
            }
        };
        room[number] -= need;
        pieces[index].stick = Ok(number + 1);
    }
}

/// How many sticks the pieces take, as far as they are known.
pub fn sticks(pieces: &[WirePiece]) -> Known<usize> {
    pieces.iter().try_fold(0, |most, piece| Ok(most.max(piece.stick?)))
}
