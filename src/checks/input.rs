//! The values that a check looks at: key, line, and what stands there.

use crate::model::{BoardRadius, BridgeHeight, Inset, Key, Origin, PartialFret, Sourced, Wood};
use crate::rounding::fixed;
use crate::source::Span;
use crate::spec::leaf::part_in_words;
use crate::spec::words::{PlaceAcross, PlaceAlong, Word};
use crate::units::{Angle, Charge, Current, Duration, Length, Power, Share, Voltage};

/// A value that a check looks at.
#[derive(Clone, Copy)]
pub struct Input<'a> {
    /// The key that sets it.
    pub key: Key,
    span: Option<Span>,
    instead: Option<(Key, Span)>,
    value: Option<&'a dyn InWords>,
    written: &'a str,
    from_a_row: bool,
}

impl<'a> Input<'a> {
    /// A value that is written on a line but resolved elsewhere.
    pub(super) const fn line(key: Key, span: Span) -> Self {
        Self { key, span: Some(span), instead: None, value: None, written: "", from_a_row: false }
    }

    /// A row of a list that another line chose: the row itself where the list is written there.
    pub(super) fn row_of<T>(list: &Sourced<T>, span: Span) -> Self {
        let chosen = list.span().filter(|chosen| chosen.file != span.file);
        Self {
            key: list.key,
            span: Some(span),
            instead: chosen.map(|chosen| (list.key, chosen)),
            value: None,
            written: "",
            from_a_row: chosen.is_some(),
        }
    }

    /// A key that nobody wrote, though somebody ought to have.
    pub(super) const fn unwritten(key: Key) -> Self {
        Self { key, span: None, instead: None, value: None, written: "", from_a_row: false }
    }

    /// The same, or, where no line sets the value itself, the line that chose it: a pattern, a blade.
    #[must_use]
    pub(super) fn or_by<T>(mut self, chosen_by: Option<&Sourced<T>>) -> Self {
        self.instead = chosen_by.and_then(|chosen| Some((chosen.key, chosen.span()?)));
        self
    }

    /// The line to point at, with the key that stands there: before a row of the shop's, the line that chose it.
    pub(super) fn place(&self) -> Option<(Key, Span)> {
        let own = self.span.map(|span| (self.key, span));
        if self.from_a_row { self.instead.or(own) } else { own.or(self.instead) }
    }

    /// The row of the shop's that holds the value, where another line chose it.
    pub(super) fn row(&self) -> Option<(Key, Span)> {
        self.span.filter(|_| self.from_a_row && self.instead.is_some()).map(|span| (self.key, span))
    }

    /// What stands there, in words; empty where the line itself says the same.
    pub(super) fn words(&self) -> String {
        let words = self.value.map_or_else(String::new, InWords::in_words);
        if says_the_same(&words, self.written) { String::new() } else { words }
    }
}

impl<'a, T: InWords> From<&'a Sourced<T>> for Input<'a> {
    fn from(value: &'a Sourced<T>) -> Self {
        let span = value.span();
        let words = value.value.as_ref().ok().map(|value| value as &dyn InWords);
        let from_a_row = matches!(value.origin, Origin::ShopRow { .. });
        Self { key: value.key, span, instead: None, value: words, written: &value.written, from_a_row }
    }
}

/// Whether a value in words is what stands in the file, idle zeros aside: "1 mm" for `"1.0 mm"`.
fn says_the_same(words: &str, written: &str) -> bool {
    let figure = |text: &str| {
        let (figure, unit) = text.split_once(' ')?;
        Some((figure.parse::<f64>().ok()?, unit.to_owned()))
    };
    words.trim_matches('"') == written || figure(words).is_some_and(|own| Some(own) == figure(written))
}

/// A value as a label prints it.
pub trait InWords {
    /// The value with its unit, or in the commission file's words.
    fn in_words(&self) -> String;
}

/// A figure without the zeros that say nothing: "6.35", "0.5", "3".
pub(super) fn trimmed(value: f64) -> String {
    let text = fixed(value, 4);
    if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.').to_owned() } else { text }
}

impl InWords for Length {
    fn in_words(&self) -> String {
        format!("{} mm", trimmed(self.to_mm()))
    }
}

impl InWords for Voltage {
    fn in_words(&self) -> String {
        format!("{} V", trimmed(self.to_volts()))
    }
}

impl InWords for Current {
    fn in_words(&self) -> String {
        format!("{} mA", trimmed(self.to_amperes() * 1000.0))
    }
}

impl InWords for Charge {
    fn in_words(&self) -> String {
        format!("{} mAh", trimmed(self.to_ampere_hours() * 1000.0))
    }
}

impl InWords for Angle {
    fn in_words(&self) -> String {
        format!("{} deg", trimmed(self.to_degrees()))
    }
}

impl InWords for Power {
    fn in_words(&self) -> String {
        format!("{} W", trimmed(self.to_watts()))
    }
}

impl InWords for Share {
    fn in_words(&self) -> String {
        format!("{} %", trimmed(self.to_parts() * 100.0))
    }
}

impl InWords for Duration {
    fn in_words(&self) -> String {
        format!("{} min", trimmed(self.to_minutes()))
    }
}

impl InWords for Wood {
    fn in_words(&self) -> String {
        self.name.clone()
    }
}

impl InWords for u32 {
    fn in_words(&self) -> String {
        self.to_string()
    }
}

impl InWords for BoardRadius {
    fn in_words(&self) -> String {
        match self {
            Self::Flat => "flat".to_owned(),
            Self::Of(radius) => radius.in_words(),
        }
    }
}

impl InWords for Inset {
    fn in_words(&self) -> String {
        match self {
            Self::Length(inset) => inset.in_words(),
            Self::HalfWidth(share) => format!("{} of the half width", part_in_words(*share)),
        }
    }
}

impl InWords for BridgeHeight {
    fn in_words(&self) -> String {
        format!("{} to {}", self.lowest.in_words(), self.highest.in_words())
    }
}

impl InWords for PlaceAlong {
    fn in_words(&self) -> String {
        self.words()
    }
}

impl InWords for PlaceAcross {
    fn in_words(&self) -> String {
        match self {
            Self::Centre => "on the centreline".to_owned(),
            Self::Off(distance, side) => format!("{} {}", distance.in_words(), side.word()),
        }
    }
}

/// Lists and words say on their own line what they are.
macro_rules! says_itself {
    ($($kind:ty),*) => {$(
        impl InWords for $kind {
            fn in_words(&self) -> String {
                String::new()
            }
        }
    )*};
}

says_itself!(Vec<u32>, Vec<PartialFret>, Vec<crate::model::InstrumentString>, Vec<crate::model::Screw>, String);

/// A choice by a word.
macro_rules! word {
    ($($kind:ty),*) => {$(
        impl InWords for $kind {
            fn in_words(&self) -> String {
                format!("\"{}\"", self.as_word())
            }
        }
    )*};
}

word!(
    crate::spec::words::Cut,
    crate::spec::words::EndCut,
    crate::spec::words::NutAt,
    crate::spec::words::Seats,
    crate::spec::words::Setting,
    crate::spec::words::Spacing,
    crate::spec::words::LensShape,
    crate::spec::words::MarkerKind,
    crate::spec::words::Resistors,
    crate::spec::words::Series
);

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_label_does_not_repeat_the_line() {
        assert!(says_the_same("1 mm", "1.0 mm"));
        assert!(says_the_same("\"each\"", "each"));
        assert!(!says_the_same("6.35 mm", "1/4 in"));
        assert!(!says_the_same("6.35 mm", "6.35 in"));
    }

    #[test]
    fn figures_carry_no_idle_zeros() {
        assert_eq!(Length::inches(0.25).in_words(), "6.35 mm");
        assert_eq!(Length::mm(3.0).in_words(), "3 mm");
        assert_eq!(Length::mm(300.0).in_words(), "300 mm");
        assert_eq!(Current::amperes(0.003).in_words(), "3 mA");
    }
}
