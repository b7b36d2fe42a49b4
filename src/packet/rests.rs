//! What rests on a value that cannot be meant as it stands: no fault of its own, and told with the value.
//!
//! A scale of 262 mm makes every place on the board wrong, and a score of checks find something; hardly any of it is
//! true. Such a value is found by a check of its own (see [`CAUSES`]). The commission is then looked at again with other
//! values in its place, such as they are on instruments. What is found with every one of them is a second fault and is
//! told; what is not found with each may follow from the value, waits, and is named beside it.

use std::collections::BTreeMap;

use super::Inputs;
use super::salvage::{Change, changed};
use crate::checks::Outcome;
use crate::diag::codes::{self, Code};
use crate::diag::{Diagnostic, Label, Severity};
use crate::model::Key;
use crate::spec::quantity::quantity;
use crate::units::Length;

/// What is put in the place of a value that cannot be meant.
#[derive(Debug, Clone, Copy)]
enum StandIn {
    /// Values from one end of what is built to the other. Common practice, no source.
    Values(&'static [&'static str]),
    /// Of two lengths the first is to be the greater: by so much in turn of the second, of the first, and swapped.
    /// Common practice, no source.
    Ratio(f64),
}

/// A finding against a value that cannot be meant as it stands.
struct Cause {
    code: Code,
    stand_in: StandIn,
    /// Checks that hold a size against another one made to fit it: they wait whatever stands in.
    fitted: &'static [Code],
}

const fn cause(code: Code, stand_in: StandIn) -> Cause {
    Cause { code, stand_in, fitted: &[] }
}

impl Cause {
    const fn fitted(self, fitted: &'static [Code]) -> Self {
        Self { fitted, ..self }
    }

    fn of(code: Code) -> Option<&'static Self> {
        CAUSES.iter().find(|cause| cause.code == code)
    }
}

/// What is made to fit the board's end: pocket, screws, wire hole, pickups.
const AT_THE_END: &[Code] =
    &[codes::NECK_04, codes::NECK_09, codes::CHAN_10, codes::CHAN_19, codes::FRET_15, codes::BODY_02];

const CAUSES: &[Cause] = &[
    cause(codes::FRET_01, StandIn::Values(&["330 mm", "432 mm", "578 mm", "648 mm", "686 mm", "864 mm"]))
        .fitted(AT_THE_END),
    cause(codes::FRET_02, StandIn::Values(&["12", "17", "20", "22", "24"])).fitted(AT_THE_END),
    cause(codes::FRET_05, StandIn::Ratio(1.04)),
    cause(codes::FRET_06, StandIn::Values(&["0", "7", "12"])),
    cause(codes::FRET_17, StandIn::Values(&["12", "19", "24"])).fitted(AT_THE_END),
    cause(codes::RADIUS_01, StandIn::Values(&["7 1/4 in", "10 in", "12 in", "16 in", "20 in"])),
    cause(codes::WIRE_08, StandIn::Ratio(1.5)),
    cause(codes::WIRE_01, StandIn::Values(&["0.5 mm", "0.58 mm"])),
    cause(codes::SLOT_08, StandIn::Values(&["0 mm", "0.3 mm"])),
    cause(codes::TAPER_01, StandIn::Ratio(1.32)).fitted(AT_THE_END),
    cause(codes::LAMP_08, StandIn::Values(&["1.9 mm", "3.1 mm", "5.1 mm"])),
    cause(codes::LAMP_12, StandIn::Values(&["1 mA", "2 mA", "5 mA"])),
    cause(codes::ELEC_12, StandIn::Values(&["1", "2", "3"])),
    cause(codes::STRING_08, StandIn::Ratio(1.4)),
];

/// The most checks that are named as left out.
const MOST_NAMED: usize = 8;

/// Whether a finding of this gravity throws doubt on a value, so that what rests on it is no news.
///
/// An accepted error throws none: it is built as it stands.
fn is_cause(finding: &Diagnostic, gravity: Severity) -> bool {
    let row = finding.code.row();
    finding.severity == gravity && row.severity == gravity && Cause::of(finding.code).is_some()
}

/// The commission with other values in the place of those that findings of this gravity throw doubt on; none where
/// there is no such finding.
pub(super) fn worlds(inputs: &Inputs, findings: &[Diagnostic], gravity: Severity) -> Vec<Inputs> {
    let causes = findings.iter().filter(|finding| is_cause(finding, gravity));
    let of_each: Vec<Vec<Vec<Change>>> = causes.map(|cause| changes(inputs, cause)).collect();
    let most = of_each.iter().map(Vec::len).max().unwrap_or(0);
    let world = |index: usize| {
        let of_cause = |ways: &Vec<Vec<Change>>| ways.iter().cycle().nth(index).cloned().unwrap_or_default();
        let all: Vec<Change> = of_each.iter().filter(|ways| !ways.is_empty()).flat_map(of_cause).collect();
        changed(inputs, &all)
    };
    (0..most).map(world).collect()
}

/// Each way to put something else in the place of a value: the keys to change together.
fn changes(inputs: &Inputs, cause: &Diagnostic) -> Vec<Vec<Change>> {
    let written = |label: &Label| {
        let text = inputs.sources.get(label.span.file).text();
        text.get(label.span.start..label.span.end).map(|text| text.trim().to_owned())
    };
    let own = &cause.place;
    let labels = || cause.primary.iter().chain(&cause.related);
    let other = labels().find(|label| label.place != *own && !label.place.ends_with(".pattern"));
    let other = other.and_then(|label| Some((&label.place, written(label)?)));
    let Some(of_code) = Cause::of(cause.code) else { return Vec::new() };
    match (of_code.stand_in, other) {
        // The scales of a fan lie near each other.
        (StandIn::Values(_), Some((_, text))) if cause.code == codes::FRET_01 => {
            vec![vec![Change::new(own.as_ref(), text)]]
        }
        (StandIn::Values(values), _) => values.iter().map(|value| vec![Change::new(own.as_ref(), *value)]).collect(),
        (StandIn::Ratio(ratio), Some((other, lesser))) => {
            let greater = labels().find(|label| label.place == *own).and_then(written);
            let length = |text: &str| quantity::<Length>(text.trim_matches(['"', '\''])).ok().map(Length::to_mm);
            let mut ways = Vec::new();
            if let Some(length) = length(&lesser) {
                ways.push(vec![Change::new(own.as_ref(), format!("{} mm", length * ratio))]);
            }
            if let Some(greater) = greater {
                if let Some(length) = length(&greater) {
                    ways.push(vec![Change::new(other.as_ref(), format!("{} mm", length / ratio))]);
                }
                ways.push(vec![Change::new(own.as_ref(), lesser), Change::new(other.as_ref(), greater)]);
            }
            ways
        }
        (StandIn::Ratio(_), None) => Vec::new(),
    }
}

/// What is told, and what of the rest is explained by which code.
pub(super) struct Told {
    pub(super) findings: Vec<Diagnostic>,
    pub(super) held_back: Vec<(Code, Code)>,
}

/// Of what was found, what is told: the causes, and what is found in every other world too; none where all is.
///
/// A warning stops nothing: then the packet is made as it is written, and all that was found is true. Where it brings
/// about an error, it is that error.
pub(super) fn told(found: &[Diagnostic], worlds: &[Vec<Diagnostic>], gravity: Severity) -> Option<Told> {
    let same = |a: &Diagnostic, b: &Diagnostic| a.code == b.code && a.severity == b.severity && a.place == b.place;
    let stands = |finding: &&Diagnostic| worlds.iter().all(|world| world.iter().any(|other| same(other, finding)));
    let (causes, others): (Vec<&Diagnostic>, Vec<_>) = found.iter().partition(|finding| is_cause(finding, gravity));
    let fitted =
        |code: Code| causes.iter().any(|cause| Cause::of(cause.code).is_some_and(|of| of.fitted.contains(&code)));
    // What else is found of the very value is answered when that value is.
    let of_the_value = |finding: &Diagnostic| causes.iter().any(|cause| cause.place == finding.place);
    let (second, rest): (Vec<&Diagnostic>, Vec<_>) =
        others.into_iter().partition(|finding| stands(finding) && !fitted(finding.code) && !of_the_value(finding));
    let cause = causes.first()?.code;
    if gravity != Severity::Error && !rest.iter().any(|finding| finding.severity == Severity::Error) {
        return None;
    }
    let causes = causes.into_iter().map(|finding| Diagnostic { severity: Severity::Error, ..finding.clone() });
    let held_back = rest.iter().map(|finding| (cause, finding.code)).collect();
    Some(Told { findings: causes.chain(second.into_iter().cloned()).collect(), held_back })
}

/// What was not looked at or not told, to be named with the error that it waits for.
#[derive(Debug, Default)]
pub(super) struct Silent {
    /// Checks that were left out, with the keys that they wait for.
    left_out: Vec<(Code, Vec<Key>)>,
    /// What was found and is explained by another code: that code first.
    held_back: Vec<(Code, Code)>,
}

impl Silent {
    pub(super) fn of(outcome: Option<&Outcome>) -> Self {
        outcome.map_or_else(Self::default, |outcome| Self {
            left_out: outcome.left_out.clone(),
            held_back: outcome.held_back.clone(),
        })
    }

    pub(super) fn hold_back(&mut self, held_back: Vec<(Code, Code)>) {
        self.held_back.extend(held_back);
    }

    /// Names each check once with the first error that it waits for.
    pub(super) fn name_with(&self, findings: &mut [Diagnostic]) {
        let mut waits: Vec<(usize, Code)> = Vec::new();
        for (code, keys) in &self.left_out {
            let at = |key: Key| findings.iter().position(|finding| is_about(finding, key));
            waits.extend(keys.iter().filter_map(|key| Some((at(key)?, *code))));
        }
        for (cause, code) in &self.held_back {
            waits.extend(findings.iter().position(|finding| finding.code == *cause).map(|at| (at, *code)));
        }
        // What is told for one place and held back for another is named by its own finding.
        waits.retain(|(_, code)| findings.iter().all(|finding| finding.code != *code));
        let mut of_each: BTreeMap<usize, Vec<&str>> = BTreeMap::new();
        for (at, code) in waits {
            let codes = of_each.entry(at).or_default();
            if !codes.contains(&code.as_str()) {
                codes.push(code.as_str());
            }
        }
        for (at, codes) in of_each {
            if let Some(finding) = findings.get_mut(at) {
                finding.help.push(format!("not judged until this is mended: {}", list(&codes)));
            }
        }
    }
}

fn list(codes: &[&str]) -> String {
    match codes.len().checked_sub(MOST_NAMED) {
        Some(more) if more > 1 => {
            let named: Vec<&str> = codes.iter().copied().take(MOST_NAMED).collect();
            format!("{} and {more} more", named.join(", "))
        }
        _ => codes.join(", "),
    }
}

/// Whether an error of reading says what is wrong with a key, or with the table that the key stands in.
fn is_about(finding: &Diagnostic, key: Key) -> bool {
    let names = |place: &str| {
        key.strip_prefix(place).is_some_and(|rest| rest.is_empty() || !place.is_empty() && rest.starts_with('.'))
    };
    finding.severity == Severity::Error
        && finding.code.family() == "SPEC"
        && (names(&finding.place) || finding.primary.iter().any(|label| names(&label.place)))
}
