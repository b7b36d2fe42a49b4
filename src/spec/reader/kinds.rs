//! The kinds of single values: a quantity, a word, a count, a text, a date, a place.

use toml::de::DeValue;

use super::{Least, Raw, TableReader};
use crate::diag::codes;
use crate::spec::date::Date;
use crate::spec::entry::{Entry, Given};
use crate::spec::nearest::nearest;
use crate::spec::note::Note;
use crate::spec::quantity::{self, Dimension, Fault, Measure, Price, PriceFault, Ratio};
use crate::spec::size::{self, Along, HoleDepth, Inset, PocketTaper, WrittenRadius};
use crate::spec::words::{PlaceAcross, PlaceAlong, Word};
use crate::units::Duration;

/// The greatest whole number that is taken for meant.
const MOST: u32 = 1_000_000;

/// The longest text that is taken for meant, in characters: half a page of a sheet.
const LONGEST_TEXT: usize = 2_000;

impl<'t> TableReader<'t, '_> {
    /// A quantity with its unit.
    pub(crate) fn quantity<T: Measure>(&mut self, key: &'static str, least: Least) -> Option<Entry<T>> {
        self.entry(key, |reader, key, raw| reader.one_quantity(key, raw, least))
    }

    /// "flat" or a radius.
    pub(crate) fn radius(&mut self, key: &'static str) -> Option<Entry<WrittenRadius>> {
        self.sized(key, size::radius, |radius| match radius {
            WrittenRadius::Flat => None,
            WrittenRadius::Of(length) => Some((length.to_mm(), Least::MoreThanZero)),
        })
    }

    /// A length or a part of the half width.
    pub(crate) fn inset(&mut self, key: &'static str) -> Option<Entry<Inset>> {
        self.sized(key, size::inset, |inset| match inset {
            Inset::Length(length) => Some((length.to_mm(), Least::MoreThanZero)),
            Inset::PartOfHalfWidth(part) => Some((*part, Least::MoreThanZero)),
        })
    }

    /// "through" or a depth.
    pub(crate) fn hole_depth(&mut self, key: &'static str) -> Option<Entry<HoleDepth>> {
        self.sized(key, size::hole_depth, |depth| match depth {
            HoleDepth::Through => None,
            HoleDepth::Of(length) => Some((length.to_mm(), Least::MoreThanZero)),
        })
    }

    /// A place along the board.
    pub(crate) fn along(&mut self, key: &'static str, along: Along, least: Least) -> Option<Entry<PlaceAlong>> {
        self.sized(
            key,
            |text| size::place_along(text, along),
            |place| match place {
                PlaceAlong::At(length) => Some((length.to_mm(), least)),
                _ => None,
            },
        )
    }

    /// A place across the board.
    pub(crate) fn across(&mut self, key: &'static str) -> Option<Entry<PlaceAcross>> {
        self.sized(key, size::place_across, |_| None)
    }

    /// A price: a figure in quotes without a unit.
    pub(crate) fn price(&mut self, key: &'static str) -> Option<Entry<Price>> {
        self.entry(key, |reader, key, raw| {
            let Some(text) = reader.quoted_figure(key, raw) else { return Given::Faulty };
            if is_open(text) {
                return Given::Open;
            }
            match quantity::price(text) {
                Ok(price) if price.0 < 0.0 => reader.too_small(key, raw, Least::Zero),
                Ok(price) => Given::Value(price),
                Err(PriceFault::WithUnit(unit)) => {
                    let place = reader.place(key);
                    let message = format!("`{place}` must stand without a unit, not with `{unit}`");
                    let help = "a price is in the shop's currency: \"3.50\"".to_owned();
                    reader.faulty(codes::SPEC_04, key, raw, message, &[help])
                }
                Err(PriceFault::Unreadable(why)) => reader.unreadable(key, raw, &why),
            }
        })
    }

    /// A proportion: `2 : 1`.
    pub(crate) fn ratio(&mut self, key: &'static str) -> Option<Entry<Ratio>> {
        self.entry(key, |reader, key, raw| {
            let Some(text) = reader.quoted(key, raw, "\"2 : 1\"") else { return Given::Faulty };
            match quantity::ratio(text) {
                _ if is_open(text) => Given::Open,
                Ok(ratio) => Given::Value(ratio),
                Err(why) => reader.unreadable(key, raw, &why),
            }
        })
    }

    /// The note of a string.
    pub(crate) fn note(&mut self, key: &'static str) -> Option<Entry<Note>> {
        self.entry(key, |reader, key, raw| {
            let Some(text) = reader.quoted(key, raw, "\"E4\"") else { return Given::Faulty };
            match Note::from_text(text) {
                _ if is_open(text) => Given::Open,
                Some(note) => Given::Value(note),
                None => reader.unreadable(key, raw, "a note is a letter and its octave: \"E4\", \"F#3\", \"Bb2\""),
            }
        })
    }

    /// One of a few words.
    pub(crate) fn word<T: Word>(&mut self, key: &'static str) -> Option<Entry<T>> {
        self.entry(key, |reader, key, raw| {
            let words: Vec<&str> = T::WORDS.iter().map(|(word, _)| *word).collect();
            let text = raw.value.as_str().unwrap_or("");
            let tidied = size::tidy(text);
            if let Some((_, value)) = T::WORDS.iter().find(|(word, _)| size::tidy(word) == tidied) {
                return Given::Value(*value);
            }
            let mut help = Vec::new();
            if is_open(text) {
                help.push("a word cannot be left open: leave the key out to have its default".to_owned());
            } else if let Some(near) = nearest(&tidied, words.iter().copied()) {
                help.push(format!("did you mean \"{near}\"?"));
            }
            let message = format!("`{}` = {}: {}", reader.place(key), reader.shown(raw), either(&words));
            reader.faulty(codes::SPEC_06, key, raw, message, &help)
        })
    }

    /// "neck", for the sides of a pocket.
    pub(crate) fn pocket_taper(&mut self, key: &'static str) -> Option<Entry<PocketTaper>> {
        self.entry(key, |reader, key, raw| match raw.value.as_str().map(size::tidy).as_deref() {
            Some("neck") => Given::Value(PocketTaper),
            _ => {
                let message = format!("`{}` = {}: only \"neck\"", reader.place(key), reader.shown(raw));
                let help = "leave the key out for a pocket with parallel sides".to_owned();
                reader.faulty(codes::SPEC_06, key, raw, message, &[help])
            }
        })
    }

    /// A whole number: a bare count or the number of a fret.
    pub(crate) fn count(&mut self, key: &'static str) -> Option<Entry<u32>> {
        self.entry(key, |reader, key, raw| reader.one_count(key, raw))
    }

    /// A number of things, not always whole: `2` or `1.5`.
    pub(crate) fn amount(&mut self, key: &'static str) -> Option<Entry<f64>> {
        self.entry(key, |reader, key, raw| {
            if raw.value.as_str().is_some_and(is_open) {
                return Given::Open;
            }
            match bare_figure(raw.value) {
                Some(figure) if figure < 0.0 => reader.too_small(key, raw, Least::Zero),
                Some(figure) if figure <= 1e9 => Given::Value(figure),
                _ => {
                    let message = format!("`{}` = {}: a bare number is wanted", reader.place(key), reader.shown(raw));
                    let help = "write it without quotes and without a unit".to_owned();
                    reader.faulty(codes::SPEC_06, key, raw, message, &[help])
                }
            }
        })
    }

    /// Working hours: a bare number of hours, or a time with its unit.
    pub(crate) fn hours(&mut self, key: &'static str) -> Option<Entry<Duration>> {
        self.entry(key, |reader, key, raw| match bare_figure(raw.value) {
            Some(hours) if hours < 0.0 => reader.too_small(key, raw, Least::Zero),
            Some(hours) if hours <= 1e6 => Given::Value(Duration::minutes(hours * 60.0)),
            _ => reader.one_quantity(key, raw, Least::Zero),
        })
    }

    /// A text that may be empty.
    pub(crate) fn text(&mut self, key: &'static str) -> Option<Entry<String>> {
        self.entry(key, |reader, key, raw| {
            reader.quoted(key, raw, "a text").map_or(Given::Faulty, |text| Given::Value(text.trim().to_owned()))
        })
    }

    /// A text that says something: a number, a title, a name.
    pub(crate) fn name(&mut self, key: &'static str) -> Option<Entry<String>> {
        self.entry(key, |reader, key, raw| reader.one_name(key, raw))
    }

    /// A name that may be left open: an id of a catalogue or of the shop's stock.
    pub(crate) fn id(&mut self, key: &'static str) -> Option<Entry<String>> {
        self.entry(key, |reader, key, raw| match raw.value.as_str() {
            Some(text) if is_open(text) => Given::Open,
            _ => reader.one_name(key, raw),
        })
    }

    /// A day: a TOML date, or the same in quotes.
    pub(crate) fn date(&mut self, key: &'static str) -> Option<Entry<Date>> {
        self.entry(key, |reader, key, raw| {
            let date = match raw.value {
                DeValue::String(text) => Date::from_text(text.trim()),
                DeValue::Datetime(moment) if moment.time.is_none() => {
                    moment.date.and_then(|date| Date::new(date.year, date.month, date.day))
                }
                _ => None,
            };
            date.map_or_else(
                || {
                    let message = format!("`{}` = {}: not a day", reader.place(key), reader.shown(raw));
                    reader.faulty(codes::SPEC_06, key, raw, message, &["write year-month-day: 2026-03-01".to_owned()])
                },
                Given::Value,
            )
        })
    }

    pub(super) fn one_name(&mut self, key: &'static str, raw: Raw<'t>) -> Given<String> {
        let Some(text) = self.quoted(key, raw, "a text") else { return Given::Faulty };
        let text = text.trim();
        if text.is_empty() {
            let message = format!("`{}` is empty", self.place(key));
            return self.faulty(codes::SPEC_14, key, raw, message, &[]);
        }
        Given::Value(text.to_owned())
    }

    pub(super) fn one_count(&mut self, key: &'static str, raw: Raw<'t>) -> Given<u32> {
        let place = self.place(key);
        let shown = self.shown(raw);
        if let DeValue::Integer(integer) = raw.value {
            return match i128::from_str_radix(integer.as_str(), integer.radix()) {
                Ok(number) if number < 0 => self.too_small(key, raw, Least::Zero),
                Ok(number) => match u32::try_from(number) {
                    Ok(count) if count <= MOST => Given::Value(count),
                    _ => self.unreadable(key, raw, "it is far more than anybody counts at a bench"),
                },
                Err(_) => self.unreadable(key, raw, "it is far more than anybody counts at a bench"),
            };
        }
        let text = raw.value.as_str().unwrap_or("").trim();
        let help = if is_open(text) {
            "a bare count cannot be left open".to_owned()
        } else if text.len() < 7 && text.parse::<u32>().is_ok() {
            format!("write {text} without quotes")
        } else {
            "write a whole number without quotes and without a unit".to_owned()
        };
        self.faulty(codes::SPEC_06, key, raw, format!("`{place}` = {shown}: a whole number is wanted"), &[help])
    }

    pub(super) fn one_quantity<T: Measure>(&mut self, key: &'static str, raw: Raw<'t>, least: Least) -> Given<T> {
        let text = match raw.value {
            DeValue::String(text) => text.as_ref(),
            _ => match bare_figure(raw.value) {
                Some(figure) => return self.without_unit(key, raw, figure, T::DIMENSION),
                None => return self.not_a(key, raw, T::DIMENSION.kind(), T::DIMENSION),
            },
        };
        if is_open(text) {
            return Given::Open;
        }
        match quantity::quantity::<T>(text) {
            Ok(value) if below(value.base(), least) => self.too_small(key, raw, least),
            Ok(value) => {
                let meant = self.doubt(key, raw, text).and_then(|text| quantity::quantity::<T>(&text).ok());
                Given::Value(meant.unwrap_or(value))
            }
            Err(fault) => self.quantity_fault(key, raw, fault, T::DIMENSION),
        }
    }

    /// A size that may be written in more than one way; `judge` gives the figure that has a least.
    fn sized<T>(
        &mut self,
        key: &'static str,
        read: impl Fn(&str) -> Result<T, Fault>,
        judge: impl FnOnce(&T) -> Option<(f64, Least)>,
    ) -> Option<Entry<T>> {
        self.entry(key, |reader, key, raw| {
            let DeValue::String(text) = raw.value else {
                return match bare_figure(raw.value) {
                    Some(figure) => reader.without_unit(key, raw, figure, Dimension::Length),
                    None => reader.not_a(key, raw, "a length or a place", Dimension::Length),
                };
            };
            if is_open(text) {
                return Given::Open;
            }
            match read(text) {
                Ok(value) => match judge(&value) {
                    Some((figure, least)) if below(figure, least) => reader.too_small(key, raw, least),
                    _ => {
                        let meant = reader.doubt(key, raw, text).and_then(|text| read(&text).ok());
                        Given::Value(meant.unwrap_or(value))
                    }
                },
                Err(fault) => reader.quantity_fault(key, raw, fault, Dimension::Length),
            }
        })
    }

    /// A text in quotes, or a finding.
    pub(super) fn quoted(&mut self, key: &'static str, raw: Raw<'t>, sample: &str) -> Option<&'t str> {
        if let DeValue::String(text) = raw.value {
            let length = text.chars().count();
            if length <= LONGEST_TEXT {
                return Some(text.as_ref());
            }
            let message = format!("`{}` is {length} signs long: no more than {LONGEST_TEXT} are set", self.place(key));
            self.fault(codes::SPEC_05, key, raw.span, message, &["say it in fewer words".to_owned()]);
            return None;
        }
        let message = format!("`{}` = {}: a text in quotes is wanted", self.place(key), self.shown(raw));
        let help = match raw.value {
            DeValue::Array(_) | DeValue::Table(_) => format!("write {sample}"),
            _ => format!("write \"{}\"", self.shown(raw)),
        };
        self.fault(codes::SPEC_06, key, raw.span, message, &[help]);
        None
    }

    /// A figure in quotes, or a finding that shows how to quote it.
    fn quoted_figure(&mut self, key: &'static str, raw: Raw<'t>) -> Option<&'t str> {
        self.quoted(key, raw, "\"3.50\"")
    }
}

/// Whether a text is the word for what is not decided yet.
pub(super) fn is_open(text: &str) -> bool {
    text.trim().eq_ignore_ascii_case("open")
}

/// A TOML number, whole or not.
pub(crate) fn bare_figure(value: &DeValue<'_>) -> Option<f64> {
    let figure = match value {
        DeValue::Integer(integer) => i128::from_str_radix(integer.as_str(), integer.radix()).ok()? as f64,
        DeValue::Float(float) => float.as_str().parse::<f64>().ok()?,
        _ => return None,
    };
    figure.is_finite().then_some(figure)
}

fn below(figure: f64, least: Least) -> bool {
    match least {
        Least::Any => false,
        Least::Zero => figure < 0.0,
        Least::MoreThanZero => figure <= 0.0,
    }
}

/// The words of a choice: `right or left`.
fn either(words: &[&str]) -> String {
    match words {
        [] => String::new(),
        [only] => (*only).to_owned(),
        [first @ .., last] => format!("{} or {last}", first.join(", ")),
    }
}
