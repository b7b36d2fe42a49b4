//! `[radius]`, `[taper]` and `[board]`: the board's shape and its wood.

use crate::spec::reader::Least::{MoreThanZero, Zero};
use crate::spec::size::{Along, WrittenRadius};
use crate::spec::table::table;
use crate::spec::words::{EndCut, PlaceAlong};
use crate::units::{Density, Length, Share};

table! {
    /// `[radius]`: one radius, or the two of a cone.
    RadiusTable {
        /// One radius for the whole board, or flat.
        board: WrittenRadius => optional radius(),
        /// Of a cone, at the zero line.
        nut: WrittenRadius => optional radius(),
        /// Of a cone, at `end_at`.
        end: WrittenRadius => optional radius(),
        /// Where the second radius of a cone holds.
        end_at: PlaceAlong => optional along(Along::Anywhere, MoreThanZero),
    }
}

table! {
    /// `[taper]`: by finished widths, or from the outer strings.
    TaperTable {
        /// Finished width at the zero line, binding included.
        width_nut: Length => optional quantity(MoreThanZero),
        /// Finished width at `end_at`.
        width_end: Length => optional quantity(MoreThanZero),
        /// Where `width_end` holds.
        end_at: PlaceAlong => optional along(Along::Anywhere, MoreThanZero),
        /// From the outer string's centre to the edge at the zero line; bass, and treble where it is not written.
        string_to_edge_nut: Length => optional quantity(MoreThanZero),
        /// The same at the board's end.
        string_to_edge_end: Length => optional quantity(MoreThanZero),
        /// The treble side at the zero line, where it differs.
        string_to_edge_nut_treble: Length => optional quantity(MoreThanZero),
        /// The treble side at the board's end, where it differs.
        string_to_edge_end_treble: Length => optional quantity(MoreThanZero),
        /// Wood beyond the last slot, along the centreline.
        past_last: Length => optional quantity(Zero),
        /// How the far end is cut.
        end_cut: EndCut => optional word(),
    }
}

table! {
    /// `[board]`.
    BoardTable {
        /// An id of the wood catalogue or the shop's, or a name with `density`.
        wood: String => required id(),
        /// Density of a wood that is in neither.
        density: Density => optional quantity(MoreThanZero),
        /// Finished thickness on the centreline.
        thickness: Length => required quantity(MoreThanZero),
        /// The blank.
        blank: BlankTable => optional group(),
        /// Thickness of the binding; zero: none.
        binding: Length => optional quantity(Zero),
        /// How far a nipped tang stops short of the binding.
        tang_gap: Length => optional quantity(Zero),
        /// Moisture of the wood.
        moisture: Share => optional quantity(Zero),
    }
}

table! {
    /// Sizes of a blank or a billet.
    BlankTable {
        /// Along the grain.
        length: Length => optional quantity(MoreThanZero),
        /// Across.
        width: Length => optional quantity(MoreThanZero),
        /// Thickness.
        thickness: Length => optional quantity(MoreThanZero),
    }
}
