//! `[finish]`, `[[materials]]`, `[quote]` and `[[waiver]]`.

use crate::spec::date::Date;
use crate::spec::quantity::Price;
use crate::spec::reader::Least::{Any, Zero};
use crate::spec::table::table;
use crate::units::{Duration, Share};

table! {
    /// `[finish]`.
    FinishTable {
        /// Coats, the first first.
        coats: Vec<CoatTable> => optional tables(),
    }
}

table! {
    /// One coat.
    CoatTable {
        /// What is put on.
        what: String => required name(),
        /// On which part.
        on as "where": String => optional name(),
        /// The grit before it.
        grit: u32 => optional count(),
        /// How long to wait after it.
        wait: Duration => optional quantity(Zero),
    }
}

table! {
    /// `[[materials]]`: an extra line, or an override of a derived one.
    MaterialTable {
        /// What.
        what: String => required name(),
        /// How many.
        quantity: f64 => optional amount(),
        /// In what unit.
        unit: String => optional name(),
        /// Price of one unit.
        price: Price => optional price(),
        /// Share added for waste; a check judges its range.
        waste: Share => optional quantity(Any),
        /// Papers at hand for a listed species.
        papers: String => optional text(),
    }
}

table! {
    /// `[quote]`.
    QuoteTable {
        /// Hours beyond those of the steps.
        hours: Duration => optional hours(),
        /// Share added to the cost.
        margin: Share => optional quantity(Zero),
        /// Share due when the customer agrees.
        deposit: Share => optional quantity(Zero),
        /// Tax.
        tax: Share => optional quantity(Zero),
        /// Share taken off.
        discount: Share => optional quantity(Zero),
    }
}

table! {
    /// `[[waiver]]`: a named person accepts an error.
    WaiverTable {
        /// The code.
        code: String => required check_code(),
        /// The key or place that it is accepted for.
        place: String => required name(),
        /// Why.
        why: String => required name(),
        /// Who.
        by: String => required name(),
        /// When.
        date: Date => required date(),
    }
}
