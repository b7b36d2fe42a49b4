//! One entry of a file: what was given for a key, where it stands, and how it was written.
//!
//! In: nothing. Out: [`Entry`], the leaf of every table, and [`Fill`], by which a shop's defaults fill the
//! keys that a commission does not write.

use super::date::Date;
use super::note::Note;
use super::quantity::{Price, Ratio};
use super::size::{HoleDepth, Inset, PocketTaper, WrittenRadius};
use super::words::{
    BodyFace, Cut, EndCut, Hand, Holds, LensShape, MarkerKind, Measured, Method, NutAt, Paper, PlaceAcross, PlaceAlong,
    PrintIn, Resistors, Seats, Sequence, Series, Setting, Spacing, StringKind,
};
use crate::source::Span;
use crate::units::{
    Angle, Charge, Current, Density, Duration, Length, LinearDensity, Power, Resistance, Share, Voltage,
};

/// What was given for a key.
#[derive(Debug, Clone, PartialEq)]
pub enum Given<T> {
    /// A value that was read.
    Value(T),
    /// The word "open": not decided yet.
    Open,
    /// Something that cannot be used; the finding is in the report already, so nobody need report it again.
    Faulty,
}

/// A key's entry in a file.
#[derive(Debug, Clone, PartialEq)]
pub struct Entry<T> {
    /// What was given.
    pub given: Given<T>,
    /// Where the value stands; the file tells a commission's value from a shop's default.
    pub span: Span,
    /// The value as it is written in the file, without quotes: `26 1/4 in`. Tables and long lists: empty.
    pub written: String,
}

impl<T> Entry<T> {
    /// The value, where one was given and could be read.
    pub fn value(&self) -> Option<&T> {
        match &self.given {
            Given::Value(value) => Some(value),
            Given::Open | Given::Faulty => None,
        }
    }

    /// Whether the key waits for a decision.
    pub fn is_open(&self) -> bool {
        matches!(self.given, Given::Open)
    }

    /// Whether the key's value could not be used.
    pub fn is_faulty(&self) -> bool {
        matches!(self.given, Given::Faulty)
    }

    /// The same entry with its value changed.
    pub fn map<U>(self, change: impl FnOnce(T) -> U) -> Entry<U> {
        let given = match self.given {
            Given::Value(value) => Given::Value(change(value)),
            Given::Open => Given::Open,
            Given::Faulty => Given::Faulty,
        };
        Entry { given, span: self.span, written: self.written }
    }
}

/// The value of an optional entry.
pub fn value_of<T>(entry: &Option<Entry<T>>) -> Option<&T> {
    entry.as_ref().and_then(Entry::value)
}

/// How a default fills what a commission leaves unsaid.
pub trait Fill: Clone {
    /// Takes from the default each key that is not written here; a plain value has no keys and stays.
    fn fill(&mut self, _default: &Self) {}
}

impl<T: Fill> Fill for Entry<T> {
    fn fill(&mut self, default: &Self) {
        if let (Given::Value(own), Given::Value(default)) = (&mut self.given, &default.given) {
            own.fill(default);
        }
    }
}

/// A list of tables takes the keys of a default that is a single table: `[defaults.body.pocket]`.
impl<T: Fill> Fill for Vec<T> {
    fn fill(&mut self, default: &Self) {
        if let [pattern] = default.as_slice() {
            for own in self {
                own.fill(pattern);
            }
        }
    }
}

/// Fills one key: a written one goes first, inside a table key by key.
pub(crate) fn fill_key<T: Fill>(own: &mut Option<Entry<T>>, default: &Option<Entry<T>>, whole: bool) {
    match (own, default) {
        (Some(own), Some(default)) => own.fill(default),
        (own @ None, Some(default)) if whole => *own = Some(default.clone()),
        _ => {}
    }
}

macro_rules! plain_values {
    ($($name:ty),* $(,)?) => {
        $(impl Fill for $name {})*
    };
}

// Values without keys of their own: a default takes their place whole or not at all.
plain_values!(Angle, Charge, Current, Density, Duration, Length, LinearDensity, Power, Resistance, Share, Voltage);
plain_values!(Hand, Sequence, PrintIn, Paper, Measured, NutAt, Cut, Setting, Method, EndCut, MarkerKind, LensShape);
plain_values!(Seats, Resistors, Series, Spacing, StringKind, Holds, BodyFace, PlaceAlong, PlaceAcross);
plain_values!(Date, Inset, Note, Price, Ratio, WrittenRadius, HoleDepth, PocketTaper, String, u32, f64);
