//! Waivers that waive nothing: SPEC-20.

use super::{Outcome, row};
use crate::diag::{Code, Diagnostic, Severity, codes};
use crate::model::Waiver;
use crate::source::Span;

/// A note for each waiver that no finding needed; `used` are those that one did, by their line.
///
/// Nothing is said of a waiver whose check could not look at everything, or was silent because another error explains
/// what it would find: it may yet be needed.
pub(super) fn idle(
    waivers: &[Waiver],
    used: &[Span],
    outcome: &Outcome,
    stopped: impl Fn(Code) -> bool,
) -> Vec<Diagnostic> {
    let mut notes = Vec::new();
    for waiver in waivers.iter().filter(|waiver| !used.contains(&waiver.span)) {
        let Some(check) = Code::find(&waiver.code).and_then(row) else { continue };
        let code = check.code;
        if outcome.left_out.iter().any(|(left, _)| *left == code) || check.unless.iter().any(|cause| stopped(*cause)) {
            continue;
        }
        let message = format!("the waiver of {code} for \"{}\" waives nothing", waiver.place.trim());
        let finding = Diagnostic::new(codes::SPEC_20, Severity::Note, "waiver", message).at(Some(waiver.span));
        let mut found = outcome.findings.iter().filter(|finding| finding.code == code);
        let error = found.clone().find(|finding| finding.severity == Severity::Error);
        let twin = waivers.iter().any(|other| used.contains(&other.span) && Code::find(&other.code) == Some(code));
        notes.push(match (error, twin, found.next()) {
            (Some(error), ..) => finding.help(format!("for what is found write place = \"{}\"", error.place)),
            (None, true, _) => finding.help("another waiver covers what is found; take this one out"),
            (None, false, Some(_)) => finding.help("what is found is a warning, which wants initials and no waiver"),
            (None, false, None) => finding.help(format!("{code} finds nothing here; take it out")),
        });
    }
    notes
}
