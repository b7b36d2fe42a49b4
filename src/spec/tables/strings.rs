//! `[strings]` and `[setup]`: the strings and how they lie.

use crate::spec::entry::{Entry, Fill};
use crate::spec::note::Note;
use crate::spec::reader::Least::{MoreThanZero, Zero};
use crate::spec::table::table;
use crate::spec::words::{Spacing, StringKind};
use crate::units::{Length, LinearDensity};

table! {
    /// `[strings]`.
    StringsTable {
        /// Outer to outer at the nut, centres, square to the centreline.
        spread_nut: Length => required quantity(MoreThanZero),
        /// The same at the saddle.
        spread_saddle: Length => required quantity(MoreThanZero),
        /// What is equal at the nut.
        spacing: Spacing => optional word(),
        /// What is equal at the saddle.
        spacing_saddle: Spacing => optional word(),
        /// The id of a set of the shop, or the strings, highest first.
        set: StringSet => required string_set(),
    }
}

/// The strings: a set of the shop by its id, or one by one.
#[derive(Debug, Clone, PartialEq)]
pub enum StringSet {
    /// The id of a set in the shop file.
    Id(String),
    /// The strings, 1 (highest) first.
    List(Vec<StringTable>),
}

impl Fill for StringSet {}

table! {
    /// One string.
    StringTable {
        /// Its note.
        note: Note => required note(),
        /// Its diameter.
        gauge: Length => required quantity(MoreThanZero),
        /// What it is made of.
        kind: StringKind => required word(),
        /// Its weight per length, where it was weighed.
        weight: LinearDensity => optional quantity(MoreThanZero),
    }
}

table! {
    /// `[setup]`.
    SetupTable {
        /// Action at the first fret.
        action_1: ActionTable => optional group(),
        /// Action at the twelfth.
        action_12: ActionTable => optional group(),
        /// Relief of the neck.
        relief: Length => optional quantity(Zero),
        /// How far a saddle can go behind the scale line.
        saddle_travel: Length => optional quantity(Zero),
        /// Height of the strings above the body at the saddle line: the lowest and the highest that the bridge gives.
        bridge_height: Vec<Entry<Length>> => optional quantities(Zero),
    }
}

table! {
    /// An action, one figure a side.
    ActionTable {
        /// Under the highest string.
        treble: Length => required quantity(Zero),
        /// Under the lowest.
        bass: Length => required quantity(Zero),
    }
}
