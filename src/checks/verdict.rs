//! From figures to findings: how grave, which place is worst, who waived it, what to do.

use super::Check;
use super::bench::Bench;
use super::input::Input;
use super::limits;
use super::message;
use super::place::Place;
use super::remedy::Passing;
use super::tally::{Fault, Measure, Reading, Tally};
use crate::diag::codes::{self, Bounds};
use crate::diag::{Code, Diagnostic, Label, Severity};
use crate::model::Waiver;
use crate::source::Span;

/// What the checks so far have found wrong, so that a consequence is not reported beside its cause.
#[derive(Debug, Default)]
pub(super) struct Found {
    errors: Vec<(Code, Place)>,
}

impl Found {
    /// The code among these that found this place wrong, or the whole. What is said of the whole is explained by a cause
    /// at any place.
    fn explains(&self, causes: &[Code], place: Place) -> Option<Code> {
        let covers = |at: Place| at == place || at == Place::Whole || place == Place::Whole;
        self.errors.iter().find(|(code, at)| causes.contains(code) && covers(*at)).map(|(code, _)| *code)
    }

    pub(super) fn has(&self, code: Code) -> bool {
        self.errors.iter().any(|(found, _)| *found == code)
    }
}

/// What one check comes to.
#[derive(Debug, Default)]
pub(super) struct Verdict {
    pub(super) findings: Vec<Diagnostic>,
    /// Codes that explain what was found here and is not told.
    pub(super) held_back: Vec<Code>,
    /// The waivers that something needed, by their line.
    pub(super) used: Vec<Span>,
}

impl Verdict {
    fn hold_back(&mut self, cause: Code) {
        if !self.held_back.contains(&cause) {
            self.held_back.push(cause);
        }
    }
}

/// Judges what one check wrote down.
pub(super) fn judge(bench: &Bench<'_>, check: &Check, tally: &Tally<'_>, found: &mut Found) -> Verdict {
    let mut verdict = Verdict::default();
    let mut errors = Vec::new();
    for fault in &tally.faults {
        if let Some(cause) = found.explains(check.unless, fault.place) {
            verdict.hold_back(cause);
            continue;
        }
        let finding = of_fault(check.code, fault);
        let waiver = waiver(bench, check.code, fault.place, &fault.inputs);
        match waiver.filter(|_| fault.severity == Severity::Error) {
            Some(waiver) => {
                verdict.used.push(waiver.span);
                verdict.findings.push(waived(finding, waiver));
            }
            None => {
                if fault.severity == Severity::Error {
                    errors.push((check.code, fault.place));
                }
                verdict.findings.push(finding);
            }
        }
    }
    for measure in &tally.measures {
        let mut open = Vec::new();
        for reading in &measure.readings {
            match found.explains(check.unless, reading.place) {
                None => open.push(*reading),
                Some(cause) if finds(measure, reading) => verdict.hold_back(cause),
                Some(_) => {}
            }
        }
        judge_measure(bench, check.code, (measure, &open), &mut errors, &mut verdict);
    }
    found.errors.extend(errors);
    verdict
}

fn judge_measure(
    bench: &Bench<'_>,
    code: Code,
    (measure, readings): (&Measure<'_>, &[Reading<'_>]),
    errors: &mut Vec<(Code, Place)>,
    verdict: &mut Verdict,
) {
    let (possible, impossible): (Vec<&Reading<'_>>, Vec<_>) =
        readings.iter().partition(|reading| !reading.value.is_nan());
    if let Some(reading) = impossible.first() {
        errors.push((code, reading.place));
        verdict.findings.push(cannot_be(code, measure, reading));
    }
    let (wrong, right): (Vec<&Reading<'_>>, Vec<_>) =
        possible.into_iter().partition(|reading| limits::fails(measure.limit.error, reading.value));
    let mut by_waiver: Vec<(&Waiver, Vec<&Reading<'_>>)> = Vec::new();
    let mut unwaived = Vec::new();
    for reading in wrong {
        match waiver_of(bench, code, measure, reading) {
            None => unwaived.push(reading),
            Some(waiver) => match by_waiver.iter_mut().find(|(other, _)| std::ptr::eq(*other, waiver)) {
                Some((_, readings)) => readings.push(reading),
                None => by_waiver.push((waiver, vec![reading])),
            },
        }
    }
    errors.extend(unwaived.iter().map(|reading| (code, reading.place)));
    for (waiver, readings) in &by_waiver {
        verdict.used.push(waiver.span);
        verdict.findings.extend(worst(bench, code, measure, readings, Severity::Error).map(|f| waived(f, waiver)));
    }
    let (wanting, right): (Vec<&Reading<'_>>, Vec<_>) =
        right.into_iter().partition(|reading| limits::fails(measure.limit.warning, reading.value));
    let notable: Vec<&Reading<'_>> =
        right.into_iter().filter(|reading| limits::fails(measure.limit.note, reading.value)).collect();
    let finding = worst(bench, code, measure, &unwaived, Severity::Error)
        .or_else(|| worst(bench, code, measure, &wanting, Severity::Warning))
        .or_else(|| worst(bench, code, measure, &notable, Severity::Note));
    verdict.findings.extend(finding);
}

/// Whether a figure fails a limit of any gravity.
fn finds(measure: &Measure<'_>, reading: &Reading<'_>) -> bool {
    let limit = &measure.limit;
    [limit.error, limit.warning, limit.note].into_iter().any(|bounds| limits::fails(bounds, reading.value))
}

/// The finding of the worst of some places that all fail; none if there is none.
fn worst(
    bench: &Bench<'_>,
    code: Code,
    measure: &Measure<'_>,
    failing: &[&Reading<'_>],
    severity: Severity,
) -> Option<Diagnostic> {
    let bounds = bounds(measure, severity);
    let slack = |reading: &Reading<'_>| limits::slack(bounds, reading.value);
    let worst = failing.iter().copied().reduce(|worst, next| if slack(next) < slack(worst) { next } else { worst })?;
    let bound = limits::nearest(bounds, worst.value)?;
    let fact = match measure.below.as_ref().filter(|_| worst.value < 0.0) {
        Some(says) => message::fact_below(says, worst.value, bounds, bound, measure.limit.unit),
        None => message::fact(&measure.says, worst.value, bounds, bound, measure.limit.unit),
    };
    let others = match failing.len() - 1 {
        0 => String::new(),
        more => format!(" (and {more} more {})", worst.place.noun(more)),
    };
    let message = placed(worst.place, &format!("{fact}{others}"));
    let mut finding = pointing(code, severity, message, worst.key.iter().chain(&measure.inputs));
    let moved = bench.limits.of_code(code) != code.row().limit;
    for change in bench.limits.changes(code).filter(|_| moved) {
        finding = finding.with(Some(change.span), format!("limits.{code}"), "changes the limit");
    }
    finding.help = help(measure, worst, bound);
    Some(finding)
}

/// The values that would pass for every measure of a check that fails somewhere.
pub(super) fn passing(tally: &Tally<'_>) -> Vec<Passing> {
    let mut all = Vec::new();
    for measure in &tally.measures {
        for bounds in [measure.limit.error, measure.limit.warning, measure.limit.note] {
            let failing = measure.readings.iter().filter(|reading| limits::fails(bounds, reading.value));
            let worst =
                failing.min_by(|a, b| limits::slack(bounds, a.value).total_cmp(&limits::slack(bounds, b.value)));
            if let Some((worst, bound)) = worst.and_then(|r| Some((r, limits::nearest(bounds, r.value)?))) {
                all.extend(values_that_pass(measure, worst, bound));
                break;
            }
        }
    }
    all
}

fn values_that_pass(measure: &Measure<'_>, worst: &Reading<'_>, bound: f64) -> Vec<Passing> {
    let target = message::target(measure.limit, bound);
    measure.remedies.iter().filter_map(|remedy| remedy.passing(worst.value, target)).collect()
}

/// What to do: the values that would pass, then advice that no figure says.
fn help(measure: &Measure<'_>, worst: &Reading<'_>, bound: f64) -> Vec<String> {
    let target = message::target(measure.limit, bound);
    let passing: Vec<String> = values_that_pass(measure, worst, bound).iter().map(Passing::in_words).collect();
    let mut help = Vec::new();
    if !passing.is_empty() {
        let what = passing.join(", or ");
        let aim = message::aim(bound, target, measure.limit.unit);
        help.push(format!("{what}{aim}"));
    }
    help.extend(measure.advice.iter().cloned());
    help
}

fn bounds(measure: &Measure<'_>, severity: Severity) -> Bounds {
    match severity {
        Severity::Error => measure.limit.error,
        Severity::Warning => measure.limit.warning,
        Severity::Note => measure.limit.note,
    }
}

fn of_fault(code: Code, fault: &Fault<'_>) -> Diagnostic {
    let message = placed(fault.place, &fault.message);
    let mut finding = pointing(code, fault.severity, message, &fault.inputs);
    finding.help.clone_from(&fault.advice);
    finding
}

/// A figure that is no number: the values allow of no such board, and nothing else has said so.
fn cannot_be(code: Code, measure: &Measure<'_>, reading: &Reading<'_>) -> Diagnostic {
    let message = placed(reading.place, &format!("{}: no figure comes out of these values", code.row().title));
    pointing(code, Severity::Error, message, reading.key.iter().chain(&measure.inputs))
}

fn placed(place: Place, message: &str) -> String {
    if place == Place::Whole { message.to_owned() } else { format!("{place}: {message}") }
}

/// A finding at the first value that some line sets; the other values beside it.
fn pointing<'i, 'a: 'i>(
    code: Code,
    severity: Severity,
    message: String,
    inputs: impl IntoIterator<Item = &'i Input<'a>>,
) -> Diagnostic {
    let inputs: Vec<&Input<'_>> = inputs.into_iter().collect();
    let key = inputs.first().map_or("", |input| input.key);
    let mut finding = Diagnostic::new(code, severity, key, message);
    for input in inputs {
        for (place, span) in input.place().into_iter().chain(input.row()) {
            let label = |text| Label { span, place: place.into(), text };
            match &finding.primary {
                None => finding.primary = Some(label(String::new())),
                Some(primary) if primary.span == span => {}
                Some(_) if finding.related.iter().any(|other| other.span == span) => {}
                Some(_) => finding.related.push(label(input.words())),
            }
        }
    }
    finding
}

/// Whether a finding of a code may be accepted by a named person.
fn can_be_waived(code: Code) -> bool {
    code != codes::FRET_14 && code != codes::RADIUS_01 && code.family() != "SPEC"
}

fn waiver<'m>(bench: &Bench<'m>, code: Code, place: Place, inputs: &[Input<'_>]) -> Option<&'m Waiver> {
    can_be_waived(code).then_some(())?;
    bench.model.waivers.iter().find(|waiver| {
        waiver.code.trim().eq_ignore_ascii_case(code.as_str())
            && (place.is_named(&waiver.place) || inputs.iter().any(|input| input.key == waiver.place.trim()))
    })
}

fn waiver_of<'m>(bench: &Bench<'m>, code: Code, measure: &Measure<'_>, reading: &Reading<'_>) -> Option<&'m Waiver> {
    let inputs: Vec<Input<'_>> = reading.key.iter().chain(&measure.inputs).copied().collect();
    waiver(bench, code, reading.place, &inputs)
}

/// An accepted error: it stops nothing, and says who, when and why.
fn waived(mut finding: Diagnostic, waiver: &Waiver) -> Diagnostic {
    finding.severity = Severity::Warning;
    finding.is_waived = true;
    let Waiver { by, date, why, .. } = waiver;
    finding.message = format!("{}: waived by {by}, {date}: {why}", finding.message);
    finding.with(Some(waiver.span), "waiver", "accepted here")
}
