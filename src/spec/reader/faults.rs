//! What a finding says of a single value: the value as it is written, why it cannot be used, what to write.

use super::{Least, Raw, TableReader};
use crate::diag::{Code, codes};
use crate::rounding;
use crate::spec::entry::Given;
use crate::spec::quantity::{Dimension, Fault};
use crate::units::MM_PER_INCH;

impl<'t> TableReader<'t, '_> {
    pub(super) fn quantity_fault<T>(
        &mut self,
        key: &'static str,
        raw: Raw<'t>,
        fault: Fault,
        wanted: Dimension,
    ) -> Given<T> {
        match fault {
            Fault::NoUnit(figure) => self.without_unit(key, raw, figure, wanted),
            Fault::WrongKind(unit) => {
                let message = format!("`{}` must be in {}, not in `{unit}`", self.place(key), wanted.units());
                self.faulty(codes::SPEC_04, key, raw, message, &[])
            }
            Fault::Unreadable(why) => self.unreadable(key, raw, &why),
        }
    }

    /// A figure without its unit; a length is shown in both units, so that nobody has to convert.
    pub(super) fn without_unit<T>(
        &mut self,
        key: &'static str,
        raw: Raw<'t>,
        figure: f64,
        wanted: Dimension,
    ) -> Given<T> {
        let place = self.place(key);
        let message = format!("`{place}` = {}: {} without its unit", self.shown(raw), wanted.kind());
        let written = self.bare_text(raw);
        let help = if wanted == Dimension::Length && figure.abs() < 1e6 {
            format!(
                "write \"{written} in\" (the same as \"{} mm\") or \"{written} mm\"",
                trimmed(rounding::fixed(figure * MM_PER_INCH, 4))
            )
        } else {
            format!("write \"{written} {}\"", wanted.usual_unit())
        };
        let mut help = vec![help];
        if key.ends_with("end_at") || key == "exit_from" {
            help.push(format!("for a fret write \"fret {written}\""));
        }
        self.faulty(codes::SPEC_03, key, raw, message, &help)
    }

    /// The figure as written, without quotes and spaces.
    fn bare_text(&self, raw: Raw<'t>) -> String {
        super::shorten(self.written(raw).trim())
    }

    pub(super) fn not_a<T>(&mut self, key: &'static str, raw: Raw<'t>, what: &str, wanted: Dimension) -> Given<T> {
        let message = format!("`{}` = {}: {what} is wanted", self.place(key), self.shown(raw));
        let help = format!("write a figure and its unit ({}) in quotes", wanted.units());
        self.faulty(codes::SPEC_05, key, raw, message, &[help])
    }

    pub(super) fn too_small<T>(&mut self, key: &'static str, raw: Raw<'t>, least: Least) -> Given<T> {
        let bound = match least {
            Least::Zero => "must not be less than zero",
            Least::Any | Least::MoreThanZero => "must be more than zero",
        };
        let message = format!("`{}` = {}: {bound}", self.place(key), self.shown(raw));
        self.faulty(codes::SPEC_09, key, raw, message, &[])
    }

    pub(super) fn unreadable<T>(&mut self, key: &'static str, raw: Raw<'t>, why: &str) -> Given<T> {
        let message = format!("`{}` = {}: {why}", self.place(key), self.shown(raw));
        self.faulty(codes::SPEC_05, key, raw, message, &[])
    }

    pub(super) fn faulty<T>(
        &mut self,
        code: Code,
        key: &'static str,
        raw: Raw<'t>,
        message: String,
        help: &[String],
    ) -> Given<T> {
        self.fault(code, key, raw.span, message, help);
        Given::Faulty
    }
}

/// A decimal without the zeros at its end.
pub(super) fn trimmed(figure: String) -> String {
    if figure.contains('.') { figure.trim_end_matches('0').trim_end_matches('.').to_owned() } else { figure }
}
