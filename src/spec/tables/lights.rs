//! `[markers]`, `[lamp]` and `[channels]`: dots, lamps, and where their wires lie.

use crate::spec::entry::Entry;
use crate::spec::reader::Least::{MoreThanZero, Zero};
use crate::spec::size::{Along, Inset};
use crate::spec::table::table;
use crate::spec::words::{LensShape, MarkerKind, PlaceAcross, PlaceAlong, Seats};
use crate::units::{Current, Length, Voltage};

table! {
    /// `[markers]`.
    MarkersTable {
        /// Lit, plain or none.
        kind: MarkerKind => optional word(),
        /// Frets with one marker.
        single: Vec<Entry<u32>> => optional counts(),
        /// Frets with a pair.
        double: Vec<Entry<u32>> => optional counts(),
        /// How far in from the tapered edge a pair lies.
        inset: Inset => optional inset(),
        /// Diameter of a plain dot.
        dot: Length => optional quantity(MoreThanZero),
        /// Depth of a plain dot's hole.
        dot_depth: Length => optional quantity(MoreThanZero),
        /// Dots in the edge.
        side: SideTable => optional group(),
    }
}

table! {
    /// Dots in the board's edge.
    SideTable {
        /// Diameter.
        dot: Length => required quantity(MoreThanZero),
        /// Depth.
        depth: Length => required quantity(MoreThanZero),
    }
}

table! {
    /// `[lamp]`. A size written here goes before the pattern's.
    LampTable {
        /// An id of the shop's stock or the catalogue.
        pattern: String => optional id(),
        /// Diameter of the hole for the lens.
        hole: Length => optional quantity(MoreThanZero),
        /// Diameter of the lens.
        lens: Length => optional quantity(MoreThanZero),
        /// From the flange's seat to the top of the lens.
        lens_height: Length => optional quantity(MoreThanZero),
        /// Its top.
        lens_shape: LensShape => optional word(),
        /// Diameter of the flange.
        flange: Length => optional quantity(MoreThanZero),
        /// Height of the flange.
        flange_height: Length => optional quantity(Zero),
        /// Room that the bent leads take behind the flange.
        lead_bend: Length => optional quantity(Zero),
        /// Diameter of the seat, bored from the back.
        counterbore: Length => optional quantity(MoreThanZero),
        /// Left above the face for sanding.
        proud: Length => optional quantity(Zero),
        /// Forward voltage.
        forward: Voltage => optional quantity(MoreThanZero),
        /// Current wanted.
        current: Current => optional quantity(MoreThanZero),
        /// The most the lamp bears.
        max_current: Current => optional quantity(MoreThanZero),
        /// A seat of its own for each lamp, or one setting.
        seats: Seats => optional word(),
        /// The most that may be sanded off the lens.
        sand_limit: Length => optional quantity(Zero),
    }
}

table! {
    /// `[channels]`.
    ChannelsTable {
        /// Outer wall of a side channel to the tapered edge.
        margin: Length => optional quantity(Zero),
        /// Width.
        width: Length => required quantity(MoreThanZero),
        /// Depth from the back.
        depth: Length => required quantity(MoreThanZero),
        /// The slot from which the end channel is counted.
        exit_from: PlaceAlong => optional along(Along::Slot, MoreThanZero),
        /// From there to the end channel, along the centreline.
        exit_past: Length => required quantity(MoreThanZero),
        /// Where across the wires leave.
        exit_y: PlaceAcross => required across(),
        /// Diameter of the hole they leave by.
        exit_hole: Length => required quantity(MoreThanZero),
    }
}
