//! What every check has before it: the resolved instrument, its computed numbers and the limits in force.

use super::limits::Limits;
use super::place::Place;
use crate::design::board::markers::Marker;
use crate::design::board::slot_depths::SlotDepth;
use crate::design::{Design, LampDesign};
use crate::model::{Channels, Known, Lamp, LampCircuit, Model};

/// What every check has before it.
#[derive(Debug, Clone, Copy)]
pub struct Bench<'a> {
    /// The resolved instrument.
    pub model: &'a Model,
    /// Its computed numbers.
    pub design: &'a Design,
    /// The limits in force.
    pub limits: Limits<'a>,
}

/// The tables and numbers of a lit board.
#[derive(Debug, Clone, Copy)]
pub(super) struct Lit<'a> {
    pub(super) lamp: &'a Lamp,
    pub(super) channels: &'a Channels,
    pub(super) circuit: &'a LampCircuit,
    pub(super) design: &'a LampDesign,
}

impl<'a> Bench<'a> {
    /// Lays the instrument and its numbers side by side.
    pub fn new(model: &'a Model, design: &'a Design) -> Self {
        Self { model, design, limits: Limits::of(model) }
    }

    /// The lamps; none where the board is not lit.
    pub(super) fn lit(&self) -> Option<Lit<'a>> {
        Some(Lit {
            lamp: self.model.lamp.as_ref()?,
            channels: self.model.channels.as_ref()?,
            circuit: self.model.circuit.as_ref()?,
            design: self.design.lamps.as_ref()?,
        })
    }

    /// A marker's place in words: its lamp, or the hole of its dot.
    pub(super) fn marker_place(&self, marker: &Marker) -> Place {
        match self.design.lamps {
            Some(_) => Place::Lamp(marker.number, marker.fret),
            None => Place::Hole(marker.number, marker.fret),
        }
    }

    /// The depths of all slots, the deepest need first: with one setting it is the one that all others share.
    pub(super) fn depths_deepest_first(&self) -> Known<impl Iterator<Item = &'a SlotDepth> + use<'a>> {
        let depths = self.design.depths.as_ref().map_err(|missing| *missing)?;
        let deepest = depths.deepest_fret.ok();
        let first = depths.rows.iter().filter(move |row| Some(row.fret) == deepest);
        let rest = depths.rows.iter().filter(move |row| Some(row.fret) != deepest);
        Ok(first.chain(rest))
    }
}
