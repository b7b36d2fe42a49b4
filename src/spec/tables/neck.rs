//! `[neck]` and `[body]`.

use crate::spec::reader::Least::{Any, MoreThanZero, Zero};
use crate::spec::size::{Along, HoleDepth, PocketTaper};
use crate::spec::table::table;
use crate::spec::words::{BodyFace, Holds, PlaceAcross, PlaceAlong};
use crate::units::{Angle, Density, Length};

table! {
    /// `[neck]`.
    NeckTable {
        /// An id of the wood catalogue or the shop's, or a name with `density`.
        wood: String => optional id(),
        /// Density of a wood that is in neither.
        density: Density => optional quantity(MoreThanZero),
        /// Width of the rod's slot.
        rod_width: Length => optional quantity(MoreThanZero),
        /// Depth of the rod's slot.
        rod_depth: Length => optional quantity(MoreThanZero),
        /// Length of the rod's slot; not written: to the zero line.
        rod_length: Length => optional quantity(MoreThanZero),
        /// From the board's end to the rod's slot.
        rod_end_gap: Length => optional quantity(Zero),
        /// Board and neck together at the first fret.
        thickness_1: Length => optional quantity(MoreThanZero),
        /// Board and neck together at the twelfth.
        thickness_12: Length => optional quantity(MoreThanZero),
        /// Neck wood at the heel, without the board.
        heel_thickness: Length => optional quantity(MoreThanZero),
        /// Width of the neck's pocket at the board's end; from the body's pocket if there is one.
        pocket_width: Length => optional quantity(MoreThanZero),
        /// Screws through the heel.
        screws: Vec<ScrewTable> => optional tables(),
        /// Angle of the neck to the body.
        angle: Angle => optional quantity(Any),
    }
}

table! {
    /// A screw through the heel.
    ScrewTable {
        /// From the zero line, along the centreline.
        x: Length => required quantity(Any),
        /// Its place across.
        y: PlaceAcross => required across(),
        /// Diameter of its hole.
        diameter: Length => required quantity(MoreThanZero),
        /// Depth into the heel, from the body's side.
        depth: Length => required quantity(MoreThanZero),
    }
}

table! {
    /// `[body]`.
    BodyTable {
        /// An id of the wood catalogue or the shop's, or a name with `density`.
        wood: String => optional id(),
        /// Density of a wood that is in neither.
        density: Density => optional quantity(MoreThanZero),
        /// Thickness.
        thickness: Length => optional quantity(MoreThanZero),
        /// Pockets.
        pocket: Vec<PocketTable> => optional rows(),
        /// Holes.
        hole: Vec<HoleTable> => optional rows(),
    }
}

table! {
    /// `[[body.pocket]]`; x and y are those of its middle.
    PocketTable {
        /// Its name.
        name: String => required name(),
        /// What it holds.
        holds: Holds => required word(),
        /// The pickup in it, by its name.
        pickup: String => optional name(),
        /// The face it is cut from.
        face: BodyFace => required word(),
        /// Place along.
        x: PlaceAlong => required along(Along::Anywhere, Any),
        /// Place across.
        y: PlaceAcross => required across(),
        /// Along the centreline.
        length: Length => optional quantity(MoreThanZero),
        /// Across; with `taper` at the board's end.
        width: Length => optional quantity(MoreThanZero),
        /// Of a round pocket.
        diameter: Length => optional quantity(MoreThanZero),
        /// What its sides follow.
        taper: PocketTaper => optional pocket_taper(),
        /// Radius of its corners.
        corner: Length => optional quantity(Zero),
        /// Depth.
        depth: Length => required quantity(MoreThanZero),
        /// The least wood left under it.
        floor_min: Length => optional quantity(Zero),
    }
}

table! {
    /// `[[body.hole]]`.
    HoleTable {
        /// Its name.
        name: String => required name(),
        /// The face it is bored from.
        face: BodyFace => required word(),
        /// Place along.
        x: PlaceAlong => required along(Along::Anywhere, Any),
        /// Place across.
        y: PlaceAcross => required across(),
        /// Diameter.
        diameter: Length => required quantity(MoreThanZero),
        /// Depth, or through.
        depth: HoleDepth => required hole_depth(),
    }
}
