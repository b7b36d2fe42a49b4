//! `[wire]` and `[slots]`: fret wire and the slots it goes into.

use crate::spec::reader::Least::{Any, MoreThanZero, Zero};
use crate::spec::table::table;
use crate::spec::words::{Cut, Method, Setting};
use crate::units::Length;

table! {
    /// `[wire]`: fret wire. A size written here goes before the pattern's.
    WireTable {
        /// An id of the shop's stock or the catalogue.
        pattern: String => optional id(),
        /// Width of the crown.
        crown_width: Length => optional quantity(MoreThanZero),
        /// Height of the crown.
        crown_height: Length => optional quantity(MoreThanZero),
        /// Depth of the tang.
        tang_depth: Length => optional quantity(MoreThanZero),
        /// Thickness of the tang.
        tang_width: Length => optional quantity(MoreThanZero),
        /// Thickness over the barbs.
        barb_width: Length => optional quantity(MoreThanZero),
        /// Over each edge before trimming.
        overhang: Length => optional quantity(Zero),
        /// Length sold.
        stick: Length => optional quantity(MoreThanZero),
    }
}

table! {
    /// `[slots]`.
    SlotsTable {
        /// A blade of the shop, by its name.
        blade: String => optional id(),
        /// Width of the cut, measured in a test cut.
        kerf: Length => optional quantity(MoreThanZero),
        /// Room left under the tang.
        under_tang: Length => optional quantity(Zero),
        /// When the slots are cut, and along what their bottom runs.
        cut: Cut => optional word(),
        /// One blade setting for all slots, or one for each.
        setting: Setting => optional word(),
        /// Still to come off the face after slotting; a check judges its range.
        skim: Length => optional quantity(Any),
        /// Stop or scribe.
        method: Method => optional word(),
    }
}
