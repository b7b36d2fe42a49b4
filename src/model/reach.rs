//! The lengths of an instrument that can be tried with another value: "what if this were 7 mm".

use super::Model;
use super::value::{Key, Sourced};
use crate::spec::words::Holds;
use crate::units::Length;

/// A length that can be tried: where to read it, and where to put another.
struct Reach {
    key: Key,
    get: fn(&Model) -> Option<&Sourced<Length>>,
    get_mut: fn(&mut Model) -> Option<&mut Sourced<Length>>,
}

/// The rows of lengths that stand in the model itself, in a table that may be missing, and there only if written.
macro_rules! reach {
    ($key:literal, $table:ident.$field:ident) => {
        Reach { key: $key, get: |model| Some(&model.$table.$field), get_mut: |model| Some(&mut model.$table.$field) }
    };
    ($key:literal, $table:ident?.$field:ident) => {
        Reach {
            key: $key,
            get: |model| Some(&model.$table.as_ref()?.$field),
            get_mut: |model| Some(&mut model.$table.as_mut()?.$field),
        }
    };
    ($key:literal, $table:ident?.$field:ident?) => {
        Reach {
            key: $key,
            get: |model| model.$table.as_ref()?.$field.as_ref(),
            get_mut: |model| model.$table.as_mut()?.$field.as_mut(),
        }
    };
}

/// The lengths by their keys; of the body's pockets the neck's.
static LENGTHS: &[Reach] = &[
    reach!("board.thickness", board.thickness),
    reach!("board.binding", board.binding),
    reach!("wire.tang_depth", wire.tang_depth),
    reach!("wire.crown_width", wire.crown_width),
    reach!("slots.under_tang", slots.under_tang),
    reach!("slots.skim", slots.skim),
    reach!("slots.kerf", slots.kerf),
    reach!("taper.past_last", taper.past_last),
    reach!("markers.dot", markers?.dot?),
    reach!("markers.dot_depth", markers?.dot_depth?),
    reach!("lamp.hole", lamp?.hole),
    reach!("lamp.lens_height", lamp?.lens_height),
    reach!("lamp.flange_height", lamp?.flange_height),
    reach!("lamp.lead_bend", lamp?.lead_bend),
    reach!("lamp.counterbore", lamp?.counterbore),
    reach!("lamp.proud", lamp?.proud),
    reach!("channels.margin", channels?.margin),
    reach!("channels.width", channels?.width),
    reach!("channels.depth", channels?.depth),
    reach!("channels.exit_past", channels?.exit_past),
    reach!("channels.exit_hole", channels?.exit_hole),
    Reach {
        key: "body.pocket.depth",
        get: |model| model.body.as_ref()?.neck_pocket().map(|pocket| &pocket.depth),
        get_mut: |model| {
            let mut pockets = model.body.as_mut()?.pockets.iter_mut();
            pockets.find(|pocket| pocket.holds == Holds::Neck).map(|pocket| &mut pocket.depth)
        },
    },
    reach!("neck.rod_width", neck?.rod_width?),
    reach!("neck.rod_depth", neck?.rod_depth?),
];

impl Model {
    /// The length of a key in millimetres; none where it is not written, open, or no length that can be tried.
    pub fn length(&self, key: &str) -> Option<f64> {
        (row(key)?.get)(self)?.mm().ok()
    }

    /// Puts another length in place of a key's; false where there is none to replace. Origin and text stay: the line
    /// that set the value is still the one to point at.
    pub fn try_length(&mut self, key: &str, millimetres: f64) -> bool {
        let value = row(key).and_then(|row| (row.get_mut)(self));
        value.is_some_and(|value| {
            value.value = Ok(Length::mm(millimetres));
            true
        })
    }
}

fn row(key: &str) -> Option<&'static Reach> {
    LENGTHS.iter().find(|row| row.key == key)
}
