//! `[limits]` and `[tolerances]`: a default changed by its name or its code, with the reason.
//!
//! In: a table whose keys are codes ("CHAN-01") or names of tolerances ("slot position"). Out: one [`Override`]
//! a key. A key that names nothing is SPEC-16, and so is an override without its `why`.

use toml::de::DeValue;

use super::entry::{Entry, Fill, Given};
use super::nearest::nearest;
use super::quantity::{Dimension, Fault, any_quantity};
use super::reader::TableReader;
use super::table::Table;
use crate::diag::{Code, codes};
use crate::source::Span;

/// The tolerances that have a default (the table of them is in the reference of the sheets).
pub const TOLERANCES: &[&str] = &[
    "slot position",
    "slot squareness",
    "slot depth",
    "kerf",
    "thickness",
    "width",
    "radius",
    "marker place",
    "seat depth",
    "channel depth",
    "channel place",
    "back flat after potting",
    "board end to saddle line",
];

/// Codes whose checks come with later sheets: an override of one is no mistake, it waits for its check.
const WAITING: &[&str] = &[
    "SLOT-02", "POT-03", "NECK-05", "ORDER-01", "ORDER-02", "ORDER-03", "ORDER-04", "ORDER-05", "ORDER-06", "ORDER-07",
    "ORDER-08", "ORDER-09",
];

/// The widest tolerance that is taken for meant, in millimetres: beyond it a size is not kept at all. Common practice,
/// no source.
const MOST_TOLERATED: f64 = 3.0;

/// What an override changes.
#[derive(Debug, Clone, PartialEq)]
pub enum Target {
    /// The limit of a check.
    Limit(Code),
    /// The limit of a check that comes with a later sheet.
    WaitingLimit(&'static str),
    /// A tolerance.
    Tolerance(&'static str),
}

/// A figure with its dimension; none for a bare number.
pub type Bound = (Option<Dimension>, f64);

/// One override as written.
#[derive(Debug, Clone, PartialEq)]
pub struct Override {
    /// What it changes.
    pub target: Target,
    /// Where it stands.
    pub span: Span,
    /// The bound of the note; two for a limit with a least and a most.
    pub note: Option<Entry<Vec<Bound>>>,
    /// The bound of the warning; two for a limit with a least and a most.
    pub warning: Option<Entry<Vec<Bound>>>,
    /// The bound of the error; two for a limit with a least and a most.
    pub error: Option<Entry<Vec<Bound>>>,
    /// The tolerance.
    pub value: Option<Entry<Vec<Bound>>>,
    /// The reason.
    pub why: Option<Entry<String>>,
}

impl Fill for Override {}

/// The keys of one override.
struct OverrideKeys {
    note: Option<Entry<Vec<Bound>>>,
    warning: Option<Entry<Vec<Bound>>>,
    error: Option<Entry<Vec<Bound>>>,
    value: Option<Entry<Vec<Bound>>>,
    why: Option<Entry<String>>,
}

impl Table for OverrideKeys {
    const KEYS: &'static [&'static str] = &["note", "warning", "error", "value", "why"];

    fn read(reader: &mut TableReader<'_, '_>) -> Self {
        Self {
            note: reader.bounds("note"),
            warning: reader.bounds("warning"),
            error: reader.bounds("error"),
            value: reader.bounds("value"),
            why: reader.name("why"),
        }
    }
}

/// What a key of `[limits]` or `[tolerances]` names.
fn target(key: &str) -> Option<Target> {
    let tidied = super::size::tidy(key);
    if let Some(code) = Code::find(key) {
        return Some(Target::Limit(code));
    }
    if let Some(code) = WAITING.iter().find(|code| code.eq_ignore_ascii_case(key.trim())) {
        return Some(Target::WaitingLimit(code));
    }
    TOLERANCES.iter().find(|name| **name == tidied).map(|name| Target::Tolerance(name))
}

/// The code or tolerance nearest to what was written.
fn nearest_target(key: &str) -> Option<&'static str> {
    let all = codes::CODES.iter().map(|row| row.code.as_str()).chain(WAITING.iter().copied());
    nearest(key, all.chain(TOLERANCES.iter().copied()))
}

/// Whether a text is the code of a check, of this edition or a later one.
fn is_code(text: &str) -> bool {
    matches!(target(text), Some(Target::Limit(_) | Target::WaitingLimit(_)))
}

/// The figure of a tolerance that no work at a bench has.
fn implausible(value: &Entry<Vec<Bound>>) -> Option<f64> {
    let figures = value.value()?.iter().filter(|(dimension, _)| *dimension == Some(Dimension::Length));
    figures.map(|(_, millimetres)| *millimetres).find(|figure| *figure <= 0.0 || *figure > MOST_TOLERATED)
}

impl TableReader<'_, '_> {
    /// A table of overrides; its keys are free, what they name is not.
    pub(crate) fn overrides(&mut self, key: &'static str) -> Option<Entry<Vec<Override>>> {
        self.free_table(key, |reader, name, span, table| {
            let Some(target) = target(name) else {
                let shown = super::reader::shorten(name);
                let help = nearest_target(name).map_or_else(
                    || {
                        "write the code of a check (\"CHAN-01\") or the name of a tolerance (\"slot position\")"
                            .to_owned()
                    },
                    |near| format!("did you mean \"{near}\"?"),
                );
                let message =
                    format!("`{}` overrides nothing: there is no such code or tolerance", reader.place(&shown));
                reader.fault(codes::SPEC_16, &shown, span, message, &[help]);
                return None;
            };
            let keys: OverrideKeys = reader.free_row(name, span, table)?;
            if keys.why.is_none() {
                let message = format!("`{}` overrides a default without its `why`", reader.place(name));
                let help = "add why = \"the reason\": it is printed on the cover".to_owned();
                reader.fault(codes::SPEC_16, name, span, message, &[help]);
            }
            let OverrideKeys { note, warning, error, mut value, why } = keys;
            if let (Target::Tolerance(_), Some(entry)) = (&target, &mut value)
                && let Some(figure) = implausible(entry)
            {
                let message = format!(
                    "`{}` allows {} mm: a tolerance is more than 0 and no more than {MOST_TOLERATED} mm",
                    reader.place(name),
                    crate::rounding::fixed(figure, 2)
                );
                let help = "write how far it may be off to one side, as the tool keeps it: \"0.10 mm\"".to_owned();
                reader.fault(codes::SPEC_16, name, entry.span, message, &[help]);
                entry.given = Given::Faulty;
            }
            Some(Override { target, span, note, warning, error, value, why })
        })
    }

    /// One bound, or a least and a most: a quantity in quotes or a bare number.
    fn bounds(&mut self, key: &'static str) -> Option<Entry<Vec<Bound>>> {
        self.judged(key, |value| match value {
            DeValue::Array(array) if array.len() == 2 => array.iter().map(|member| bound(member.get_ref())).collect(),
            DeValue::Array(_) => Err("two figures, the least and the most".to_owned()),
            value => bound(value).map(|bound| vec![bound]),
        })
    }

    /// The code of a check.
    pub(crate) fn check_code(&mut self, key: &'static str) -> Option<Entry<String>> {
        let entry = self.name(key)?;
        let Given::Value(text) = &entry.given else { return Some(entry) };
        let place = self.place(key);
        let fault = if !is_code(text) {
            let near = nearest_target(text).map(|near| format!("did you mean \"{near}\"?"));
            Some((format!("`{place}` = \"{}\": no check has this code", super::reader::shorten(text)), near))
        } else if text.to_uppercase().starts_with("SPEC-")
            || ["FRET-14", "RADIUS-01"].contains(&text.to_uppercase().as_str())
        {
            let help = "what cannot be read or drawn must be put right".to_owned();
            Some((format!("`{place}` = \"{text}\" cannot be waived"), Some(help)))
        } else {
            None
        };
        let Some((message, help)) = fault else { return Some(entry.map(|text| text.to_uppercase())) };
        let help: Vec<String> = help.into_iter().collect();
        self.fault(codes::SPEC_06, key, entry.span, message, &help);
        Some(Entry { given: Given::Faulty, ..entry })
    }
}

fn bound(value: &DeValue<'_>) -> Result<Bound, String> {
    if let Some(text) = value.as_str() {
        return match any_quantity(text) {
            Ok((dimension, figure)) => Ok((Some(dimension), figure)),
            Err(Fault::NoUnit(figure)) => Ok((None, figure)),
            Err(Fault::WrongKind(unit)) => Err(format!("`{unit}` is not a unit of limits")),
            Err(Fault::Unreadable(why)) => Err(why),
        };
    }
    super::reader::bare_figure(value).map(|figure| (None, figure)).ok_or_else(|| "a figure with its unit".to_owned())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_code_waits_that_has_its_check() {
        for code in WAITING {
            assert_eq!(Code::find(code), None, "{code} has its check: take it off the list");
        }
    }

    #[test]
    fn codes_and_tolerances_are_known_by_name() {
        assert_eq!(target("chan-01"), Some(Target::Limit(codes::CHAN_01)));
        assert_eq!(target("Slot  position"), Some(Target::Tolerance("slot position")));
        assert_eq!(target("ORDER-07"), Some(Target::WaitingLimit("ORDER-07")));
        assert_eq!(target("CHAN-99"), None);
        assert_eq!(nearest_target("slot postion"), Some("slot position"));
    }
}
