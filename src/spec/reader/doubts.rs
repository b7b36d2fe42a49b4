//! What is doubtful in a length that can be read: the other unit's figure, a point in the wrong place, a fraction that no
//! rule has.

use super::{Raw, TableReader};
use crate::diag::{Diagnostic, Severity, codes};
use crate::spec::figure::{Figure, read_figure};
use crate::spec::quantity::{Dimension, unit};
use crate::spec::size::strip_side;
use crate::spec::tables::plausible;
use crate::units::MM_PER_INCH;

/// What stands under the fractions of an inch on rules, bits and gauges.
const UNDER: [f64; 6] = [2.0, 4.0, 8.0, 16.0, 32.0, 64.0];

/// So many times beyond what is plausible, a digit was lost or written twice rather than something odd meant.
const FAR_BEYOND: f64 = 2.5;

/// What a length was probably meant to be.
struct Meant {
    /// As it would be written.
    text: String,
    /// Whether the unit is another one; else the point stands one place off.
    other_unit: bool,
    /// Millimetres, where the text does not say them.
    mm: Option<f64>,
}

/// A length as it is written: its figure, and the unit behind it.
struct Written<'t> {
    figure: Figure<'t>,
    /// The figure as written.
    before: &'t str,
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
        (dimension == Dimension::Length).then_some(Self { figure, before, behind, one })
    }

    fn is_in_inches(&self) -> bool {
        (self.one - MM_PER_INCH).abs() < f64::EPSILON
    }

    fn mm(&self) -> f64 {
        self.figure.value * self.one
    }

    /// What is plausible where the length itself is not: the same figure in the other unit, or, far beyond what is
    /// plausible, the figure with its point moved one place. `text` is the whole value.
    fn meant(&self, text: &str, least: f64, most: f64) -> Option<Meant> {
        let within = |millimetres: f64| (least..=most).contains(&millimetres);
        let (own, value) = (self.mm(), self.figure.value);
        if within(own) || value == 0.0 {
            return None;
        }
        let units = [("mm", 1.0), ("in", MM_PER_INCH)].into_iter().map(|(unit, one)| (unit, value * one));
        let mut others = units.filter(|(_, millimetres)| (millimetres - own).abs() > f64::EPSILON);
        if let Some((unit, millimetres)) = others.find(|(_, millimetres)| within(*millimetres)) {
            let text = text.replacen(self.behind, &format!(" {unit}"), 1);
            return Some(Meant { text, other_unit: true, mm: (unit != "mm").then_some(millimetres) });
        }
        let moved = if own > most * FAR_BEYOND {
            value / 10.0
        } else if own < least / FAR_BEYOND {
            value * 10.0
        } else {
            return None;
        };
        within(moved * self.one).then(|| Meant {
            text: text.replacen(self.before, &figure(moved), 1),
            other_unit: false,
            mm: self.is_in_inches().then_some(moved * self.one),
        })
    }
}

impl<'t> TableReader<'t, '_> {
    /// Says what is doubtful in a value that could be read. Gives the text as it was probably meant, where the file is
    /// read so.
    pub(super) fn doubt(&mut self, key: &'static str, raw: Raw<'t>, text: &str) -> Option<String> {
        let written = Written::of(text)?;
        self.odd_fraction(key, raw, &written);
        let (least, most) = plausible(&self.place(key))?;
        let Meant { text: meant, other_unit, mm } = written.meant(text.trim(), least, most)?;
        if self.document.as_meant {
            return Some(meant);
        }
        let place = self.place(key);
        let millimetres = mm.map_or_else(String::new, |millimetres| format!(" ({} mm)", figure(millimetres)));
        let digit = if other_unit { "" } else { ", its point moved by one place" };
        let message = format!(
            "`{place}` = {}: {} to {} mm is plausible; did you mean \"{meant}\"{millimetres}{digit}?",
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
