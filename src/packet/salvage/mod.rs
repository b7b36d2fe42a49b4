//! The way out after a slip at the bench: with the value that was cut, which other single change still passes.
//!
//! Each candidate is put into the commission's own text and goes the whole way through reading, computing and checking,
//! so that what is offered has been tried.

mod candidates;
mod change;

pub use candidates::Cost;
pub use change::{Change, changed};

use std::collections::BTreeSet;

use super::{Inputs, examine};
use crate::diag::{Code, Diagnostic, Report, Severity};
use crate::shared;
use crate::spec;

/// A single change that passes, and what it still brings.
#[derive(Debug, Clone, PartialEq)]
pub struct Way {
    /// The change.
    pub change: Change,
    /// What kind of change it is.
    pub cost: Cost,
    /// The codes of the warnings that are left, each once.
    pub warnings: Vec<Code>,
}

/// What came of the search.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Salvage {
    /// The ways that pass, best first: without warnings before with, the cheapest before the dear.
    pub ways: Vec<Way>,
    /// How many changes were tried.
    pub tried: usize,
}

/// So many ways of one key are told.
const MOST_OF_A_KEY: usize = 2;

/// What was cut and can be filled with wood or epoxy and cut again, as common practice has it, no source.
const CAN_BE_FILLED: [&str; 6] =
    ["channels.depth", "channels.width", "slots.under_tang", "slots.kerf", "lamp.counterbore", "markers.dot_depth"];

/// Whether what a change stands for can be filled and cut again to what the commission says.
pub fn can_be_filled(change: &Change) -> bool {
    CAN_BE_FILLED.contains(&change.key.as_str())
}

/// Searches the single changes with which a commission that has errors passes, or one with warnings has fewer of them.
///
/// `fixed` are the keys that were cut and cannot be changed any more. Nothing where the files cannot be read as they
/// stand: then there is nothing to hold a change against.
pub fn ways_out(inputs: &Inputs, fixed: &[Change]) -> Salvage {
    let examined = examine(inputs);
    let findings = examined.report.findings();
    let cannot_be_read = |finding: &Diagnostic| finding.severity == Severity::Error && finding.code.family() == "SPEC";
    let Some((model, design, _)) = &examined.found else { return Salvage::default() };
    if findings.iter().any(cannot_be_read) {
        return Salvage::default();
    }
    let most_warnings = if examined.report.has_errors() { usize::MAX } else { warnings(findings).len() };
    let shop = inputs.shop.as_ref().map(|shop| spec::read_shop(&inputs.sources, shop.id, &mut Report::default()));
    let mut candidates = candidates::candidates(model, design, findings, shop.as_ref());
    let is_fixed =
        |key: &str| fixed.iter().any(|change| change.key == key || change.key.starts_with(&format!("{key}.")));
    candidates.retain(|candidate| !is_fixed(&candidate.change.key));
    let tried = shared::in_order(candidates.len(), |index| {
        let candidate = &candidates[index];
        let report = examine(&changed(inputs, std::slice::from_ref(&candidate.change))).report;
        (!report.has_errors()).then(|| Way {
            change: candidate.change.clone(),
            cost: candidate.cost,
            warnings: warnings(report.findings()),
        })
    });
    let mut ways: Vec<Way> = tried.into_iter().flatten().filter(|way| way.warnings.len() < most_warnings).collect();
    ways.sort_by_key(|way| (way.warnings.len(), way.cost));
    let mut told: Vec<Way> = Vec::new();
    for way in ways {
        if told.iter().filter(|other| other.change.key == way.change.key).count() < MOST_OF_A_KEY {
            told.push(way);
        }
    }
    Salvage { ways: told, tried: candidates.len() }
}

fn warnings(findings: &[Diagnostic]) -> Vec<Code> {
    let codes: BTreeSet<Code> =
        findings.iter().filter(|finding| finding.severity == Severity::Warning).map(|finding| finding.code).collect();
    codes.into_iter().collect()
}
