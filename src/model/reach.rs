//! The lengths of an instrument that can be tried with another value: "what if this were 7 mm".

use super::value::{Key, Sourced};
use super::{Lamp, Model};
use crate::spec::words::Holds;
use crate::units::Length;

/// Where a length stands in a model.
type Reach = fn(&mut Model) -> Option<&mut Sourced<Length>>;

macro_rules! lamp {
    ($field:ident) => {
        |model| model.lamp.as_mut().map(|lamp: &mut Lamp| &mut lamp.$field)
    };
}
macro_rules! channels {
    ($field:ident) => {
        |model| model.channels.as_mut().map(|channels| &mut channels.$field)
    };
}

/// The lengths by their keys; of the body's pockets the neck's.
static LENGTHS: &[(Key, Reach)] = &[
    ("board.thickness", |model| Some(&mut model.board.thickness)),
    ("board.binding", |model| Some(&mut model.board.binding)),
    ("wire.tang_depth", |model| Some(&mut model.wire.tang_depth)),
    ("wire.crown_width", |model| Some(&mut model.wire.crown_width)),
    ("slots.under_tang", |model| Some(&mut model.slots.under_tang)),
    ("slots.skim", |model| Some(&mut model.slots.skim)),
    ("slots.kerf", |model| Some(&mut model.slots.kerf)),
    ("taper.past_last", |model| Some(&mut model.taper.past_last)),
    ("markers.dot", |model| model.markers.as_mut()?.dot.as_mut()),
    ("markers.dot_depth", |model| model.markers.as_mut()?.dot_depth.as_mut()),
    ("lamp.hole", lamp!(hole)),
    ("lamp.lens_height", lamp!(lens_height)),
    ("lamp.flange_height", lamp!(flange_height)),
    ("lamp.lead_bend", lamp!(lead_bend)),
    ("lamp.counterbore", lamp!(counterbore)),
    ("lamp.proud", lamp!(proud)),
    ("channels.margin", channels!(margin)),
    ("channels.width", channels!(width)),
    ("channels.depth", channels!(depth)),
    ("channels.exit_past", channels!(exit_past)),
    ("channels.exit_hole", channels!(exit_hole)),
    ("body.pocket.depth", |model| {
        let pockets = model.body.as_mut()?.pockets.iter_mut();
        pockets.into_iter().find(|pocket| pocket.holds == Holds::Neck).map(|pocket| &mut pocket.depth)
    }),
    ("neck.rod_width", |model| model.neck.as_mut()?.rod_width.as_mut()),
    ("neck.rod_depth", |model| model.neck.as_mut()?.rod_depth.as_mut()),
];

impl Model {
    /// The length of a key in millimetres; none where it is not written, open, or no length that can be tried.
    pub fn length(&self, key: &str) -> Option<f64> {
        // The table reaches in to change; asking needs a copy, and is asked seldom.
        self.clone().reach(key)?.mm().ok()
    }

    /// Puts another length in place of a key's; false where there is none to replace. Origin and text stay: the line
    /// that set the value is still the one to point at.
    pub fn try_length(&mut self, key: &str, millimetres: f64) -> bool {
        self.reach(key).is_some_and(|value| {
            value.value = Ok(Length::mm(millimetres));
            true
        })
    }

    fn reach(&mut self, key: &str) -> Option<&mut Sourced<Length>> {
        let (_, reach) = LENGTHS.iter().find(|(name, _)| *name == key)?;
        reach(self)
    }
}
