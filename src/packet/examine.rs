//! Reading, resolving, computing and checking: what is known of a commission before any packet is made.
//!
//! Where a length stands in the wrong unit or with its point in the wrong place (SPEC-10), nearly every check finds
//! something, and hardly any of it is true. Then the commission is looked at a second time with that length as it was
//! meant, and what the slip alone brought about is told once, with the slip.

use super::rests::{self, Silent};
use super::{Inputs, Number, print};
use crate::checks;
use crate::design::Design;
use crate::diag::{Code, Diagnostic, Report, Severity, codes};
use crate::model::{Model, resolve};
use crate::source::Span;
use crate::spec::entry::value_of;
use crate::spec::issues::{Issue, read_issues};
use crate::spec::{self, Shop, Spec, Units};

/// What reading, resolving, computing and checking gave.
#[derive(Debug)]
pub struct Examined {
    /// Everything that was found, in reading order.
    pub report: Report,
    /// The commission's number; none where it could not be read.
    pub number: Option<Number>,
    /// The instrument, its numbers and what the checks said; none when there is nothing of an instrument in the file.
    pub found: Option<(Model, Design, checks::Outcome)>,
    /// The commission's issues, the first first; whole only where nothing was found against them.
    pub issues: Vec<Issue>,
}

/// Looks at one commission as far as it can be looked at.
pub fn examine(inputs: &Inputs) -> Examined {
    let mut report = Report::default();
    let first = judged(inputs, Units::AsWritten, &mut report);
    let slips: Vec<Diagnostic> = report.findings().iter().filter(|one| one.code == codes::SPEC_10).cloned().collect();
    let as_meant = (!slips.is_empty())
        .then(|| judged(inputs, Units::AsMeant, &mut Report::default()))
        .filter(|as_meant| explain(&slips, &first.findings, &as_meant.findings));
    let (settled, mut silent) = without_what_rests(inputs, Units::AsWritten, &first);
    let findings = match as_meant {
        None => settled,
        Some(as_meant) => {
            let (as_meant, _) = without_what_rests(inputs, Units::AsMeant, &as_meant);
            let told = told_with_the_slips((&first.findings, &settled), as_meant, &slips);
            silent.hold_back(untold_errors(&first.findings, &told));
            told
        }
    };
    report.extend(findings);
    report.extend(first.shop.iter().flat_map(|shop| print::findings(shop, &inputs.templates)));
    report.sort();
    silent.name_with(report.findings_mut());
    let number = number(&first.spec);
    let issues = inputs.issues.as_ref().map_or_else(Vec::new, |file| {
        let number = number.as_ref().map(|number| number.text.as_str());
        read_issues(&inputs.sources, file.id, number, &mut report)
    });
    report.sort();
    Examined { report, number, found: first.found, issues }
}

/// One way through the commission.
struct Judged {
    spec: Spec,
    shop: Option<Shop>,
    found: Option<(Model, Design, checks::Outcome)>,
    /// What was found beyond the reading.
    findings: Vec<Diagnostic>,
}

impl Judged {
    fn silent(&self) -> Silent {
        Silent::of(self.found.as_ref().map(|(_, _, outcome)| outcome))
    }
}

/// Reads both files, reporting into `report`, and judges what they say.
fn judged(inputs: &Inputs, units: Units, report: &mut Report) -> Judged {
    let spec = spec::read_in(units, &inputs.sources, inputs.commission.id, report);
    let shop = inputs.shop.as_ref().map(|shop| spec::read_shop_in(units, &inputs.sources, shop.id, report));
    let mut beyond = Report::default();
    let found = resolve::resolve(&spec, shop.as_ref(), &mut beyond).map(|model| {
        let design = Design::of(&model);
        let outcome = checks::run(&model, &design);
        beyond.extend(outcome.findings.iter().cloned());
        (model, design, outcome)
    });
    Judged { spec, shop, found, findings: beyond.findings().to_vec() }
}

/// What was found, less what only rests on values that cannot be meant as they stand.
fn without_what_rests(inputs: &Inputs, units: Units, first: &Judged) -> (Vec<Diagnostic>, Silent) {
    let (mut findings, mut silent) = (first.findings.clone(), first.silent());
    for gravity in [Severity::Error, Severity::Warning] {
        let worlds = rests::worlds(inputs, &findings, gravity);
        let worlds: Vec<Vec<Diagnostic>> =
            worlds.iter().map(|world| judged(world, units, &mut Report::default()).findings).collect();
        if let Some(told) = rests::told(&findings, &worlds, gravity) {
            findings = told.findings;
            silent.hold_back(told.held_back);
        }
    }
    (findings, silent)
}

/// Whether the slips explain what is wrong: read as they were meant, fewer errors are left, and none at their lines.
fn explain(slips: &[Diagnostic], as_written: &[Diagnostic], as_meant: &[Diagnostic]) -> bool {
    let errors = |findings: &[Diagnostic]| findings.iter().filter(|one| one.severity == Severity::Error).count();
    let at_a_slip = |finding: &&Diagnostic| slips.iter().any(|slip| span_of(slip) == span_of(finding));
    let of_the_slips: Vec<Diagnostic> = as_meant.iter().filter(at_a_slip).cloned().collect();
    let written = errors(as_written);
    errors(&of_the_slips) == 0 && (written == 0 || errors(as_meant) < written)
}

fn span_of(finding: &Diagnostic) -> Option<Span> {
    finding.primary.as_ref().map(|label| label.span)
}

/// What to tell of a commission with slips.
///
/// Without an error it is made as it stands: all that was found is true, and what the slips brought about asks what they
/// ask. With an error: what is found of the commission as it was meant and as it is written (`settled`), and of the errors
/// that only the slips brought about the first at each slip's own line; where none stands there, the first of all.
fn told_with_the_slips(
    (as_written, settled): (&[Diagnostic], &[Diagnostic]),
    as_meant: Vec<Diagnostic>,
    slips: &[Diagnostic],
) -> Vec<Diagnostic> {
    let is_error = |finding: &Diagnostic| finding.severity == Severity::Error;
    let same = |a: &Diagnostic, b: &Diagnostic| a.code == b.code && a.severity == b.severity;
    let remains = |finding: &Diagnostic| as_meant.iter().any(|other| same(other, finding));
    if !as_written.iter().any(is_error) {
        let asked = |finding: &Diagnostic| if remains(finding) { finding.clone() } else { asking(finding, slips) };
        return as_written.iter().map(asked).collect();
    }
    let brought = || as_written.iter().filter(|finding| is_error(finding) && !remains(finding));
    let own = |slip: &Diagnostic| brought().find(|finding| span_of(finding) == span_of(slip));
    let at_slips: Vec<&Diagnostic> = slips.iter().filter_map(own).collect();
    let told = if at_slips.is_empty() { brought().take(1).collect() } else { at_slips };
    let told: Vec<Diagnostic> = told.into_iter().map(|finding| asking(finding, slips)).collect();
    // What is found only as it was meant, or at a slip's own line, speaks of a figure that stands nowhere.
    let at_a_slip = |finding: &Diagnostic| slips.iter().any(|slip| span_of(slip) == span_of(finding));
    let of_the_file = |finding: &Diagnostic| settled.iter().any(|other| same(other, finding)) && !at_a_slip(finding);
    told.into_iter().chain(as_meant.into_iter().filter(of_the_file)).collect()
}

/// The errors that are not told, each with the first that is.
fn untold_errors(found: &[Diagnostic], told: &[Diagnostic]) -> Vec<(Code, Code)> {
    let Some(first) = told.iter().find(|finding| finding.severity == Severity::Error) else { return Vec::new() };
    let untold = found.iter().filter(|one| one.severity == Severity::Error && told.iter().all(|t| t.code != one.code));
    untold.map(|finding| (first.code, finding.code)).collect()
}

/// A finding that asks what the slip behind it asks: the one it points at, else the first.
fn asking(finding: &Diagnostic, slips: &[Diagnostic]) -> Diagnostic {
    let mut finding = finding.clone();
    let stands = |slip: &&Diagnostic| {
        let mut labels = finding.primary.iter().chain(&finding.related);
        labels.any(|label| slip.primary.as_ref().is_some_and(|slip| slip.span == label.span))
    };
    let labelled = slips.iter().find(stands);
    let Some(slip) = labelled.or(slips.first()) else { return finding };
    // The question stands behind the last semicolon of what the slip says.
    let question = slip.message.rsplit_once("; ").map_or("", |(_, question)| question);
    finding.help = vec![format!("`{}`: {question}", slip.place)];
    match &slip.primary {
        Some(label) if labelled.is_none() => {
            finding.with(Some(label.span), label.place.clone(), "in the wrong unit, or a point too far?")
        }
        _ => finding,
    }
}

/// The commission's number, as far as it could be read.
fn number(spec: &Spec) -> Option<Number> {
    let entry = value_of(&spec.commission)?.number.as_ref()?;
    entry.value().map(|text| Number { text: text.clone(), span: Some(entry.span) })
}
