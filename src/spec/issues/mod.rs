//! The issues file, `NAME.issues.toml`: what a commission was each time it was issued.
//!
//! In: the text of the file, or a new issue. Out: [`Issue`]s with their values, stamps and printed figures; or the
//! text with the new issue behind all that stands there. A hand may have been in it: everything is checked, each
//! stamp against the figures that stand below it.

mod letter;
mod read;
mod state;
mod write;

pub use letter::{is_letter, letter};
pub use read::read_issues;
pub use state::{Identity, PrintedTable, Recorded, SheetState, State};
pub use write::with_issue;

use super::date::Date;

/// One issue of a commission.
#[derive(Debug, Clone, PartialEq)]
pub struct Issue {
    /// Its letter: A … Z, AA ….
    pub letter: String,
    /// The day.
    pub date: Date,
    /// Who issued it.
    pub by: String,
    /// What changed, in the builder's words.
    pub changed: String,
    /// The edition of the program that worked it out.
    pub program: String,
    /// The packet's stamp.
    pub stamp: String,
    /// Its values and what its sheets print.
    pub state: State,
}
