//! Patterns at full size: what is laid on the wood, cut out of the page or sent to a cutter.
//!
//! In: the commission, its numbers, the stamps of its sheets. Out: plans in millimetres at 1 : 1, one file a pattern
//! or a family of them. Every outline is exact, arcs are arcs, and nothing is drawn whose governing value is open. A
//! left-handed board is drawn left-handed; the back is turned over about the long axis, as on the routing map.

mod back;
mod face;
mod gauges;
mod lettered;
mod radius;
mod strips;
mod taper;

use super::stamp::Stamp;
use super::{Job, Sheet};
use crate::drawing::Plan;
use crate::model::Known;
use crate::shared;

/// A pattern at full size.
#[derive(Debug, Clone, PartialEq)]
pub struct Pattern {
    /// The stem of its files: `pattern-face`.
    pub id: String,
    /// What it is, in a few words.
    pub title: String,
    /// Millimetres at full size, y up on the paper; x along the board from the zero line where `along_board`.
    pub plan: Plan,
    /// Whether its x is the instrument's own.
    pub along_board: bool,
    /// Where its x is 0, in words.
    pub datum: &'static str,
    /// The sheets whose figures it shows; their stamps say whether it still holds. Never empty.
    pub sheets: Vec<&'static str>,
    /// How it comes on paper.
    pub kind: Kind,
}

/// How a pattern comes on paper.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kind {
    /// As long as the board: cut into tiles along x.
    Board,
    /// Fits a page, beside others.
    Piece,
    /// A strip to be cut out and put into a cut.
    Gauge,
}

/// What a pattern says of itself once it is cut out of its page: whose it is, and how it stands.
#[derive(Debug, Clone)]
pub struct Edition {
    /// `DRAFT`, `DRAFT after B`; none where the commission is issued as it stands.
    pub draft: Option<String>,
    /// The sheets of the packet: identifier, title, stamp.
    stamps: Vec<(&'static str, &'static str, String)>,
}

impl Edition {
    /// The edition of these sheets, each with its stamp.
    pub fn of<'a>(draft: Option<String>, sheets: impl IntoIterator<Item = (&'a Sheet, &'a Stamp)>) -> Self {
        let stamps = sheets.into_iter().map(|(sheet, stamp)| (sheet.id, sheet.title, stamp.to_string())).collect();
        Self { draft, stamps }
    }

    /// Those of some sheets that are in the packet.
    fn present(&self, sheets: &[&'static str]) -> Vec<&'static str> {
        sheets.iter().copied().filter(|id| self.stamps.iter().any(|(own, ..)| own == id)).collect()
    }

    /// Title and stamp of those of some sheets that are in the packet.
    fn stamps<'a>(&'a self, sheets: &'a [&'static str]) -> impl Iterator<Item = (&'static str, &'a str)> {
        let own = |id: &&'static str| self.stamps.iter().find(|(own, ..)| own == id);
        sheets.iter().filter_map(own).map(|(_, title, stamp)| (*title, stamp.as_str()))
    }
}

/// All patterns of a commission, in the order in which they are needed.
///
/// A pattern whose governing value is open, or whose sheets are not in the packet, is left out: without a stamp
/// nobody could tell whether it still holds.
pub fn all(job: &Job<'_>, edition: &Edition) -> Vec<Pattern> {
    let made = shared::in_order(MAKE.len(), |index| MAKE[index](job, edition).unwrap_or_default());
    made.into_iter().flatten().filter(|pattern| !pattern.sheets.is_empty()).collect()
}

/// Makes a family of patterns; none where this commission has nothing of the kind.
type Make = fn(&Job<'_>, &Edition) -> Known<Vec<Pattern>>;

/// What makes the patterns, in their order.
const MAKE: &[Make] = &[face::face, taper::taper, back::back, strips::strips, radius::radii, gauges::gauges];

/// The commission's number.
fn number(job: &Job<'_>) -> String {
    job.model.commission.number.get().unwrap_or_default()
}
