//! `[scale]` and `[frets]`: where the frets lie.

use crate::spec::entry::Entry;
use crate::spec::reader::Least::MoreThanZero;
use crate::spec::table::table;
use crate::spec::words::{Measured, NutAt};
use crate::units::Length;

table! {
    /// `[scale]`: one length, or the two of a fan with the fret that stands square.
    ScaleTable {
        /// From the zero line to the saddle line, before compensation.
        length: Length => optional quantity(MoreThanZero),
        /// The bass scale of a fan.
        bass: Length => optional quantity(MoreThanZero),
        /// The treble scale of a fan.
        treble: Length => optional quantity(MoreThanZero),
        /// The fret of a fan that stands square; 0 is the nut.
        square_fret: u32 => optional count(),
        /// Along what a fan's lengths are measured.
        measured: Measured => optional word(),
        /// Equal steps to the octave.
        divisions: u32 => optional count(),
    }
}

table! {
    /// `[frets]`.
    FretsTable {
        /// The number of the last fret, partial ones included.
        count: u32 => required count(),
        /// What stands at the zero line.
        nut_at: NutAt => optional word(),
        /// From the zero line back to the squared end.
        behind_nut: Length => optional quantity(MoreThanZero),
        /// Frets that lie under some strings only.
        partial: Vec<PartialTable> => optional tables(),
    }
}

table! {
    /// A partial fret.
    PartialTable {
        /// The fret.
        fret: u32 => required count(),
        /// The strings it lies under, neighbours, 1 = highest.
        strings: Vec<Entry<u32>> => required counts(),
    }
}
