//! A commission as it stands now, in the form in which its issues are kept.

use std::collections::BTreeMap;

use super::printed::{identity, printed};
use super::{Job, Sheet, changes, cover};
use crate::model::ResolvedValue;
use crate::rounding;
use crate::spec::issues::{Recorded, SheetState, State};
use crate::spec::leaf::{Saying, Says};
use crate::spec::quantity::Ratio;

/// The commission of these sheets: what is decided and what each sheet prints.
///
/// The cover and the list of changes only tell of the others and are not in it.
pub(super) fn state(job: &Job<'_>, sheets: &[Sheet]) -> State {
    let identity = identity(job);
    let sheets = sheets.iter().filter(|sheet| ![cover::ID, changes::ID].contains(&sheet.id)).map(|sheet| {
        let printed = printed(job, sheet);
        let stamp = identity.stamp_of(sheet.id, &printed).to_string();
        SheetState { sheet: sheet.id.to_owned(), stamp, printed }
    });
    State { sheets: sheets.collect(), values: values(job), identity }
}

/// Every resolved value, then what else decides of the sheets: epoxy, tolerances, limits, waivers.
fn values(job: &Job<'_>) -> Vec<(String, Recorded)> {
    let model = job.model;
    let mut values: Vec<(String, Recorded)> =
        model.values.iter().map(|resolved| (resolved.key.to_string(), recorded(&resolved.value))).collect();
    if model.circuit.is_some() {
        let epoxy = &model.shop.epoxy;
        let mix = Ratio { first: epoxy.mix.0, second: epoxy.mix.1 };
        let sayings = [
            ("epoxy.mix", Some(mix.says())),
            ("epoxy.allowance", Some(epoxy.allowance.says())),
            ("epoxy.pot_life", epoxy.pot_life.as_ref().and_then(|time| Some(time.get().ok()?.says()))),
            ("epoxy.cure", epoxy.cure.map(|time| time.says())),
            ("epoxy.pour_depth", epoxy.pour_depth.as_ref().and_then(|depth| Some(depth.get().ok()?.says()))),
        ];
        values.retain(|(key, _)| !key.starts_with("epoxy."));
        values.extend(sayings.into_iter().filter_map(|(key, says)| Some((key.to_owned(), Recorded::One(said(says?))))));
    }
    let mut put = |key: String, text: String| {
        // The commission's override comes after the shop's and takes its place.
        values.retain(|(own, _)| *own != key);
        values.push((key, Recorded::One(text)));
    };
    for tolerance in &model.tolerances {
        put(format!("tolerances.{}", tolerance.name), figure(tolerance.value.to_mm(), "mm"));
    }
    // A limit with a least and a most comes as two.
    let mut limits: BTreeMap<&str, Vec<String>> = BTreeMap::new();
    for limit in &model.limits {
        let bound = |word: &str, bound: Option<f64>| bound.map(|bound| format!("{word} {}", figure(bound, "")));
        let bounds = [bound("note", limit.note), bound("warning", limit.warning), bound("error", limit.error)];
        limits.entry(limit.code.as_str()).or_default().extend(bounds.into_iter().flatten());
    }
    for (code, bounds) in limits {
        put(format!("limits.{code}"), bounds.join(", "));
    }
    for waiver in &model.waivers {
        put(format!("waiver.{} at {}", waiver.code, waiver.place), format!("by {}, {}", waiver.by, waiver.date));
    }
    values
}

fn recorded(value: &ResolvedValue) -> Recorded {
    match value {
        ResolvedValue::Figure(value, unit) => Recorded::One(figure(*value, unit)),
        ResolvedValue::Count(count) => Recorded::One(count.to_string()),
        ResolvedValue::Words(words) => Recorded::One(words.clone()),
        ResolvedValue::List(list) => Recorded::List(list.clone()),
        ResolvedValue::Open => Recorded::One("open".to_owned()),
    }
}

fn said(says: Says) -> String {
    match says {
        Says::Figure(value, unit) => figure(value, unit),
        Says::Count(count) => count.to_string(),
        Says::Words(words) => words,
        Says::Open => "open".to_owned(),
    }
}

/// A figure with its unit in the one form in which two of them are compared: `647.7 mm`; a share is a bare number.
///
/// Twelve places that count: the same size written in another unit is the same text.
fn figure(value: f64, unit: &str) -> String {
    let text = rounding::significant(value, 12);
    if unit.is_empty() { text } else { format!("{text} {unit}") }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_size_has_one_form_however_it_was_written() {
        assert_eq!(figure(25.5 * 25.4, "mm"), "647.7 mm");
        assert_eq!(figure(647.7, "mm"), "647.7 mm");
        assert_eq!(figure(0.036 * 25.4, "mm"), "0.9144 mm");
        assert_eq!(figure(0.07 + 0.008, ""), "0.078");
        assert_eq!(figure(0.0025, "A"), "0.0025 A");
        assert_eq!(figure(0.0, "mm"), "0 mm");
        assert_eq!(figure(-0.0, "mm"), "0 mm");
        assert_eq!(figure(100.0 / 3.0, "mm"), "33.3333333333 mm");
    }
}
