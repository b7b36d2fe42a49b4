//! What is doubtful in a length that can be read: the other unit's figure, a fraction that no rule has.

use super::{Raw, TableReader};
use crate::diag::{Diagnostic, Severity, codes};
use crate::spec::figure::{Figure, read_figure};
use crate::spec::quantity::{Dimension, unit};
use crate::spec::size::strip_side;
use crate::spec::tables::plausible;
use crate::units::MM_PER_INCH;

/// What stands under the fractions of an inch on rules, bits and gauges.
const UNDER: [f64; 6] = [2.0, 4.0, 8.0, 16.0, 32.0, 64.0];

/// A length as it is written: its figure, and the unit behind it.
struct Written<'t> {
    figure: Figure<'t>,
    /// The unit as written, with the space before it.
    behind: &'t str,
    /// Millimetres of one of its unit.
    one: f64,
}

impl<'t> Written<'t> {
    /// The length in a text; none where it holds another thing.
    fn of(text: &'t str) -> Option<Self> {
        let text = strip_side(text.trim());
        let figure = read_figure(text).ok()?;
        let (dimension, one) = unit(figure.rest)?;
        let before = text.strip_suffix(figure.rest)?.trim_end();
        let behind = text.get(before.len()..)?;
        (dimension == Dimension::Length).then_some(Self { figure, behind, one })
    }

    fn is_in_inches(&self) -> bool {
        (self.one - MM_PER_INCH).abs() < f64::EPSILON
    }

    fn mm(&self) -> f64 {
        self.figure.value * self.one
    }

    /// The unit in which the same figure is plausible, where in its own it is not, and what it is in millimetres then.
    fn meant(&self, least: f64, most: f64) -> Option<(&'static str, f64)> {
        let within = |millimetres: f64| (least..=most).contains(&millimetres);
        if within(self.mm()) || self.figure.value == 0.0 {
            return None;
        }
        let others = [("mm", 1.0), ("in", MM_PER_INCH)].into_iter().map(|(unit, one)| (unit, self.figure.value * one));
        others.filter(|(_, millimetres)| (millimetres - self.mm()).abs() > f64::EPSILON).find(|(_, mm)| within(*mm))
    }
}

impl<'t> TableReader<'t, '_> {
    /// Says what is doubtful in a value that could be read. Gives the text as it was probably meant, where the file is
    /// read so.
    pub(super) fn doubt(&mut self, key: &'static str, raw: Raw<'t>, text: &str) -> Option<String> {
        let written = Written::of(text)?;
        self.odd_fraction(key, raw, &written);
        let (least, most) = plausible(&self.place(key))?;
        let (unit, millimetres) = written.meant(least, most)?;
        let meant = text.trim().replacen(written.behind, &format!(" {unit}"), 1);
        if self.document.as_meant {
            return Some(meant);
        }
        let place = self.place(key);
        let other = if unit == "mm" { String::new() } else { format!(" ({} mm)", figure(millimetres)) };
        let message = format!(
            "`{place}` = {}: {} to {} mm is plausible; did you mean \"{meant}\"{other}?",
            self.shown(raw),
            figure(least),
            figure(most)
        );
        self.warn(
            codes::SPEC_10,
            key,
            raw,
            message,
            "if it is meant as it stands, initial this on the cover".to_owned(),
        );
        None
    }

    /// A fraction of an inch that stands on no rule.
    fn odd_fraction(&mut self, key: &'static str, raw: Raw<'t>, written: &Written<'_>) {
        let Some(under) = written.figure.under.filter(|_| written.is_in_inches()) else { return };
        if self.document.as_meant || UNDER.contains(&under) {
            return;
        }
        let message = format!(
            "`{}` = {}: rules and bits have halves to 64ths of an inch, not {}ths; sure?",
            self.place(key),
            self.shown(raw),
            figure(under)
        );
        let nearest = crate::rounding::inch_fraction((written.figure.value.abs() * 64.0).round());
        self.warn(codes::SPEC_11, key, raw, message, format!("the nearest 64th is {nearest} in"));
    }

    fn warn(&mut self, code: crate::diag::Code, key: &str, raw: Raw<'t>, message: String, help: String) {
        let finding = Diagnostic::new(code, Severity::Warning, self.place(key), message).at(Some(raw.span));
        self.report.push(finding.help(help));
    }
}

/// A figure without the zeros at its end.
fn figure(value: f64) -> String {
    super::faults::trimmed(crate::rounding::fixed(value, 4))
}
