//! Overrides: what each must say, and in which unit.

use super::Judge;
use crate::diag::codes;
use crate::spec::entry::{Entry, value_of};
use crate::spec::overrides::{Bound, Override, Target};
use crate::spec::quantity::Dimension;

/// The dimension in which a limit of the table of codes is written; none for a bare number.
pub(crate) fn limit_dimension(unit: &str) -> Option<Dimension> {
    match unit {
        "mm" => Some(Dimension::Length),
        "°" => Some(Dimension::Angle),
        "%" => Some(Dimension::Share),
        "N" => Some(Dimension::Force),
        "h" => Some(Dimension::Duration),
        _ => None,
    }
}

/// What an override of a limit may say.
fn bounds_of(row: &Override) -> [&Option<Entry<Vec<Bound>>>; 3] {
    [&row.note, &row.warning, &row.error]
}

impl Judge<'_> {
    pub(super) fn overrides(&mut self, table: &Option<Entry<Vec<Override>>>, path: &str) {
        for row in value_of(table).into_iter().flatten() {
            match &row.target {
                Target::Tolerance(name) => {
                    let place = format!("{path}.{name}");
                    self.bounds(row, &place, &row.value, "value", Some(Dimension::Length));
                    self.unused(
                        row,
                        &place,
                        &[("note", &row.note), ("warning", &row.warning), ("error", &row.error)],
                        "value",
                    );
                    if row.value.is_none() && bounds_of(row).iter().all(|bound| bound.is_none()) {
                        self.says_nothing(row, &place, "value = \"0.15 mm\"");
                    }
                }
                Target::Limit(code) => {
                    let place = format!("{path}.{code}");
                    if let Some(limit) = &code.row().limit {
                        let wanted = limit_dimension(limit.unit);
                        self.bounds(row, &place, &row.note, "note", wanted);
                        self.bounds(row, &place, &row.warning, "warning", wanted);
                        self.bounds(row, &place, &row.error, "error", wanted);
                    } else {
                        let message = format!("`{place}` overrides nothing: {code} has no limit");
                        self.say(codes::SPEC_16, &place, row.span, message, None);
                        continue;
                    }
                    self.limit_says_something(row, &place);
                }
                Target::WaitingLimit(code) => self.limit_says_something(row, &format!("{path}.{code}")),
            }
        }
    }

    fn limit_says_something(&mut self, row: &Override, place: &str) {
        self.unused(row, place, &[("value", &row.value)], "error` or `warning");
        if row.value.is_none() && bounds_of(row).iter().all(|bound| bound.is_none()) {
            self.says_nothing(row, place, "error = … or warning = …");
        }
    }

    fn says_nothing(&mut self, row: &Override, place: &str, sample: &str) {
        let message = format!("`{place}` changes nothing");
        self.say(codes::SPEC_16, place, row.span, message, Some(format!("write {sample}, and why")));
    }

    fn unused(&mut self, row: &Override, place: &str, keys: &[(&str, &Option<Entry<Vec<Bound>>>)], wanted: &str) {
        for (key, entry) in keys {
            if let Some(entry) = entry {
                let message = format!("`{place}` has no `{key}`");
                let span = if entry.span.end > entry.span.start { entry.span } else { row.span };
                self.say(codes::SPEC_16, &format!("{place}.{key}"), span, message, Some(format!("write `{wanted}`")));
            }
        }
    }

    fn bounds(
        &mut self,
        _row: &Override,
        place: &str,
        entry: &Option<Entry<Vec<Bound>>>,
        key: &str,
        wanted: Option<Dimension>,
    ) {
        let Some(entry) = entry else { return };
        for (dimension, _) in entry.value().into_iter().flatten() {
            if *dimension == wanted {
                continue;
            }
            let place = format!("{place}.{key}");
            let message = match (dimension, wanted) {
                (None, Some(wanted)) => {
                    let message = format!("`{place}` = {}: {} without its unit", entry.written, wanted.kind());
                    let help = format!("write \"{} {}\"", entry.written, wanted.usual_unit());
                    self.say(codes::SPEC_03, &place, entry.span, message, Some(help));
                    return;
                }
                (_, Some(wanted)) => format!("`{place}` must be in {}", wanted.units()),
                (_, None) => format!("`{place}` must be a number without a unit"),
            };
            self.say(codes::SPEC_04, &place, entry.span, message, None);
            return;
        }
    }
}
