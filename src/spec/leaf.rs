//! Every value of a file one by one, for the record: its full key, where it stands, and what it says.

use super::date::Date;
use super::entry::{Entry, Given};
use super::note::Note;
use super::overrides::Override;
use super::quantity::{Price, Ratio};
use super::size::{HoleDepth, Inset, PocketTaper, WrittenRadius};
use super::tables::{StockTable, StringSet};
use super::words::{
    BodyFace, Cut, EndCut, Hand, Holds, LensShape, MarkerKind, Measured, Method, NutAt, Paper, PlaceAcross, PlaceAlong,
    PrintIn, Resistors, Seats, Sequence, Series, Setting, Spacing, StringKind, Word,
};
use crate::source::Span;
use crate::units::{
    Angle, Charge, Current, Density, Duration, Length, LinearDensity, Power, Resistance, Share, Voltage,
};

/// One value.
#[derive(Debug, Clone, PartialEq)]
pub struct Leaf {
    /// The full key, members of a list by number from 1: `strings.set[3].gauge`.
    pub key: String,
    /// Where it stands.
    pub span: Span,
    /// What it says.
    pub says: Says,
}

/// What a value says, in a form that does not depend on how it was spelled.
#[derive(Debug, Clone, PartialEq)]
pub enum Says {
    /// A figure and its unit; a share has none.
    Figure(f64, &'static str),
    /// A count.
    Count(u32),
    /// Words.
    Words(String),
    /// Not decided.
    Open,
}

/// What says something by itself.
pub trait Saying {
    /// What it says.
    fn says(&self) -> Says;
}

/// A share as people say it: `1/3` where it is a plain fraction, else the figure.
pub fn part_in_words(part: f64) -> String {
    let plain = (2..=64_u32).find_map(|bottom| {
        let top = part * f64::from(bottom);
        let whole = top.round();
        (whole > 0.0 && part < 1.0 && (top - whole).abs() < 1e-9).then(|| format!("{whole}/{bottom}"))
    });
    plain.unwrap_or_else(|| part.to_string())
}

macro_rules! figures {
    ($($name:ident $unit:literal $figure:expr;)*) => {
        $(impl Saying for $name {
            fn says(&self) -> Says {
                let figure: fn($name) -> f64 = $figure;
                Says::Figure(figure(*self), $unit)
            }
        })*
    };
}
figures! {
    Length "mm" Length::to_mm;
    Angle "deg" Angle::to_degrees;
    Voltage "V" Voltage::to_volts;
    Current "A" Current::to_amperes;
    Resistance "ohm" Resistance::to_ohms;
    Power "W" Power::to_watts;
    Charge "Ah" Charge::to_ampere_hours;
    LinearDensity "g/m" LinearDensity::to_grams_per_metre;
    Density "kg/m3" Density::to_kilograms_per_cubic_metre;
    Duration "min" Duration::to_minutes;
    Share "" Share::to_parts;
    Price "" |price| price.0;
    f64 "" |figure| figure;
}

macro_rules! said_by_word {
    ($($name:ident),* $(,)?) => {
        $(impl Saying for $name {
            fn says(&self) -> Says {
                Says::Words(self.as_word().to_owned())
            }
        })*
    };
}
said_by_word!(Hand, Sequence, PrintIn, Paper, Measured, NutAt, Cut, Setting, Method, EndCut, MarkerKind, LensShape);
said_by_word!(Seats, Resistors, Series, Spacing, StringKind, Holds, BodyFace);

macro_rules! said {
    ($($name:ty: $says:expr;)*) => {
        $(impl Saying for $name {
            fn says(&self) -> Says {
                let says: fn(&$name) -> Says = $says;
                says(self)
            }
        })*
    };
}
said! {
    u32: |count| Says::Count(*count);
    String: |text| Says::Words(text.clone());
    Date: |date| Says::Words(date.to_string());
    Note: |note| Says::Words(note.name.clone());
    Ratio: |ratio| Says::Words(format!("{} : {}", ratio.first, ratio.second));
    PocketTaper: |_| Says::Words("neck".to_owned());
    WrittenRadius: |radius| match radius {
        WrittenRadius::Flat => Says::Words("flat".to_owned()),
        WrittenRadius::Of(length) => length.says(),
    };
    Inset: |inset| match inset {
        Inset::Length(length) => length.says(),
        Inset::PartOfHalfWidth(part) => Says::Words(format!("{} half-width", part_in_words(*part))),
    };
    HoleDepth: |depth| match depth {
        HoleDepth::Through => Says::Words("through".to_owned()),
        HoleDepth::Of(length) => length.says(),
    };
    PlaceAlong: |place| match place {
        PlaceAlong::Fret(number) => Says::Words(format!("fret {number}")),
        PlaceAlong::LastFret => Says::Words("last fret".to_owned()),
        PlaceAlong::BoardEnd => Says::Words("board end".to_owned()),
        PlaceAlong::Saddle => Says::Words("saddle".to_owned()),
        PlaceAlong::Exit => Says::Words("exit".to_owned()),
        PlaceAlong::At(length) => length.says(),
    };
    PlaceAcross: |place| match place {
        PlaceAcross::Centre => Says::Words("centre".to_owned()),
        PlaceAcross::Off(length, side) => Says::Words(format!("{} mm {}", length.to_mm(), side.word())),
    };
}

/// What holds values.
pub trait Leaves {
    /// Adds its values to a list.
    fn leaves(&self, place: &str, span: Span, out: &mut Vec<Leaf>);
}

macro_rules! single_leaves {
    ($($name:ty),* $(,)?) => {
        $(impl Leaves for $name {
            fn leaves(&self, place: &str, span: Span, out: &mut Vec<Leaf>) {
                out.push(Leaf { key: place.to_owned(), span, says: self.says() });
            }
        })*
    };
}
single_leaves!(Length, Angle, Voltage, Current, Resistance, Power, Charge, LinearDensity, Density, Duration, Share);
single_leaves!(Hand, Sequence, PrintIn, Paper, Measured, NutAt, Cut, Setting, Method, EndCut, MarkerKind, LensShape);
single_leaves!(Seats, Resistors, Series, Spacing, StringKind, Holds, BodyFace, PlaceAlong, PlaceAcross, Price, Ratio);
single_leaves!(Date, Note, PocketTaper, WrittenRadius, Inset, HoleDepth, String, u32, f64);

impl<T: Leaves> Leaves for Entry<T> {
    fn leaves(&self, place: &str, _span: Span, out: &mut Vec<Leaf>) {
        match &self.given {
            Given::Value(value) => value.leaves(place, self.span, out),
            Given::Open => out.push(Leaf { key: place.to_owned(), span: self.span, says: Says::Open }),
            Given::Faulty => {}
        }
    }
}

impl<T: Leaves> Leaves for Vec<T> {
    fn leaves(&self, place: &str, span: Span, out: &mut Vec<Leaf>) {
        for (index, member) in self.iter().enumerate() {
            member.leaves(&format!("{place}[{}]", index + 1), span, out);
        }
    }
}

impl Leaves for StringSet {
    fn leaves(&self, place: &str, span: Span, out: &mut Vec<Leaf>) {
        match self {
            Self::Id(id) => id.leaves(place, span, out),
            Self::List(strings) => strings.leaves(place, span, out),
        }
    }
}

/// Limits and tolerances are no values of the instrument.
impl Leaves for Override {
    fn leaves(&self, _place: &str, _span: Span, _out: &mut Vec<Leaf>) {}
}

/// The shop's stock is no value of the instrument.
impl Leaves for StockTable {
    fn leaves(&self, _place: &str, _span: Span, _out: &mut Vec<Leaf>) {}
}

/// The values below one key.
pub(crate) fn key_leaves<T: Leaves>(entry: &Option<Entry<T>>, place: &str, key: &str, out: &mut Vec<Leaf>) {
    if let Some(entry) = entry {
        let place = if place.is_empty() { key.to_owned() } else { format!("{place}.{key}") };
        entry.leaves(&place, entry.span, out);
    }
}
