//! Where several checks pull at one length: what all of them together leave of it, told once, and what would open it.

use super::range::{self, Bound, DIMENSIONS, Dimension, Interval, Range};
use super::remedy::{INCH_STEP, STEP};
use super::{Bench, Passing, passing};
use crate::design::Design;
use crate::diag::{Code, Diagnostic, Severity};
use crate::model::Model;
use crate::rounding;
use crate::units::MM_PER_INCH;

/// What is changed before what, the cheapest first: settings before what is bought, and that before wood.
const EASE: &[&str] = &[
    "slots.under_tang",
    "channels.depth",
    "channels.width",
    "channels.margin",
    "channels.exit_past",
    "lamp.proud",
    "lamp.lead_bend",
    "neck.rod_depth",
    "wire.tang_depth",
    "lamp.lens_height",
    "lamp.counterbore",
    "board.thickness",
];
/// So many ways out are told.
const MOST_WAYS: usize = 3;

/// Adds to the first finding about a length that others hold from the other side what is left of it.
pub(super) fn explain(bench: &Bench<'_>, findings: &mut [Diagnostic]) {
    for dimension in DIMENSIONS {
        let asks_for_another = |finding: &Diagnostic| {
            finding.severity != Severity::Note
                && passing(finding.code, bench).iter().any(|way| way.key == dimension.key)
        };
        let Some(first) = findings.iter_mut().find(|finding| asks_for_another(finding)) else { continue };
        if let Some(range) = range::of(bench.model, *dimension) {
            first.help.extend(in_words(bench.model, &range));
        }
    }
}

/// What the checks leave, in words; nothing where they hold the length from one side only, or are content with it.
fn in_words(model: &Model, range: &Range) -> Option<String> {
    let Interval { least: Some(least), most: Some(most) } = range.without_warning else { return None };
    let key = range.dimension.key;
    if range.without_warning.holds(range.now) {
        return None;
    }
    if range.without_warning.is_empty() {
        let ways = ways_out(model, range.dimension, least, most);
        let ways = if ways.is_empty() {
            "no other single length opens it".to_owned()
        } else {
            format!("what opens it: {}", ways.iter().map(Passing::in_words).collect::<Vec<_>>().join(", or "))
        };
        return Some(format!(
            "no {key} satisfies every check: {} asks for {} or more, {} for {} or less; {ways}",
            least.code,
            up(least),
            most.code,
            down(most),
        ));
    }
    Some(format!(
        "all checks together leave {key} from {} ({}) to {} ({}){}",
        up(least),
        least.code,
        down(most),
        most.code,
        without_error(range),
    ))
}

/// How much farther it may go where warnings are accepted.
fn without_error(range: &Range) -> String {
    let ends = [
        range.without_error.least.map(|least| format!("{} at least", up(least))),
        range.without_error.most.map(|most| format!("{} at most", down(most))),
    ];
    let ends: Vec<String> = ends.into_iter().flatten().collect();
    if ends.is_empty() { String::new() } else { format!("; with warnings, {}", ends.join(" and ")) }
}

fn up(bound: Bound) -> String {
    words(rounding::up(bound.millimetres, STEP), rounding::up(bound.millimetres / MM_PER_INCH, INCH_STEP))
}

fn down(bound: Bound) -> String {
    words(rounding::down(bound.millimetres, STEP), rounding::down(bound.millimetres / MM_PER_INCH, INCH_STEP))
}

fn words(millimetres: f64, inches: f64) -> String {
    format!("{} mm ({} in)", rounding::fixed(millimetres, 2), rounding::fixed(inches, 3))
}

/// Single other lengths that leave the range something, the cheapest first; each was tried.
fn ways_out(model: &Model, dimension: Dimension, least: Bound, most: Bound) -> Vec<Passing> {
    let mut ways: Vec<Passing> = Vec::new();
    for (at, code) in [(most.millimetres, least.code), (least.millimetres, most.code)] {
        ways.extend(asked_at(model, dimension, at, code));
    }
    ways.sort_by_key(|way| EASE.iter().position(|key| *key == way.key).unwrap_or(EASE.len()));
    ways.dedup_by_key(|way| way.key);
    ways.retain(|way| {
        let mut trial = model.clone();
        trial.try_length(way.key, way.millimetres)
            && range::of(&trial, dimension).is_some_and(|range| !range.without_warning.is_empty())
    });
    ways.truncate(MOST_WAYS);
    ways
}

/// The values of other lengths that would content a check where the length stands at its other bound.
fn asked_at(model: &Model, dimension: Dimension, millimetres: f64, code: Code) -> Vec<Passing> {
    let mut trial = model.clone();
    trial.try_length(dimension.key, millimetres);
    let design = Design::of(&trial);
    let mut ways = passing(code, &Bench::new(&trial, &design));
    ways.retain(|way| way.key != dimension.key);
    ways
}
