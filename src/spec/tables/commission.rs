//! `[commission]` and `[parts]`: what is made, for whom, on what paper.

use crate::spec::date::Date;
use crate::spec::table::table;
use crate::spec::words::{Hand, Paper, PrintIn, Sequence};

table! {
    /// `[commission]`.
    CommissionTable {
        /// The number, unique among the files of one run; it names the packet's folder.
        number: String => required name(),
        /// The title.
        title: String => required name(),
        /// Who ordered it.
        customer: String => optional text(),
        /// The serial number.
        serial: String => optional text(),
        /// When it is due.
        due: Date => optional date(),
        /// Who drew the commission up.
        drawn_by: String => optional text(),
        /// The player's hand.
        hand: Hand => optional word(),
        /// Board or neck first.
        sequence: Sequence => optional word(),
        /// The working unit of the sheets.
        print_in: PrintIn => optional word(),
        /// The paper.
        paper: Paper => optional word(),
    }
}

table! {
    /// `[parts]`: which making of each part this is; a part made anew clears its locks.
    PartsTable {
        /// The board.
        board: u32 => optional count(),
        /// The neck.
        neck: u32 => optional count(),
        /// The body.
        body: u32 => optional count(),
    }
}
