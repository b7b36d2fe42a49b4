//! A resolved value: known or missing, and from where.

use std::borrow::Cow;

use crate::source::Span;

/// A key as the commission file writes it: `wire.tang_depth`.
pub type Key = &'static str;

/// A value, or the key that it waits for.
pub type Known<T> = Result<T, Missing>;

/// A value that is not there, by the key that should have given it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Missing {
    /// The key.
    pub key: Key,
    /// The reason.
    pub why: Why,
}

/// Why a value is not there.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Why {
    /// The builder has not decided it yet.
    Open,
    /// It is written but cannot be used, or it is required and not written; a finding says so.
    Faulty,
}

impl Missing {
    /// Undecided.
    pub const fn open(key: Key) -> Self {
        Self { key, why: Why::Open }
    }

    /// Unreadable, or required and not written.
    pub const fn faulty(key: Key) -> Self {
        Self { key, why: Why::Faulty }
    }
}

/// Where a value came from.
#[derive(Debug, Clone, PartialEq)]
pub enum Origin {
    /// A line of the commission file.
    Commission(Span),
    /// `[defaults]` of the shop file.
    ShopDefault(Span),
    /// A row of the shop's stock, woods, blades or string sets, by its id.
    ShopRow {
        /// The row's line.
        span: Span,
        /// Its id.
        id: String,
    },
    /// The built-in default of the key.
    BuiltIn,
    /// A row of a built-in catalogue, by its id.
    Catalogue {
        /// The catalogue's name.
        table: &'static str,
        /// The row's id.
        id: String,
    },
    /// Required and nowhere written.
    Nowhere,
}

impl Origin {
    /// The line that set the value, if a file did.
    pub const fn span(&self) -> Option<Span> {
        match self {
            Self::Commission(span) | Self::ShopDefault(span) | Self::ShopRow { span, .. } => Some(*span),
            Self::BuiltIn | Self::Catalogue { .. } | Self::Nowhere => None,
        }
    }
}

/// A resolved value with its key and origin.
#[derive(Debug, Clone, PartialEq)]
pub struct Sourced<T> {
    /// The value, or why there is none.
    pub value: Known<T>,
    /// The key that sets it.
    pub key: Key,
    /// Where it came from.
    pub origin: Origin,
    /// As it was written (`26 1/4 in`); empty for what nobody wrote.
    pub written: String,
}

impl<T: Clone> Sourced<T> {
    /// The value, or what is missing.
    ///
    /// # Errors
    /// With the key, when the value is open or faulty.
    pub fn get(&self) -> Known<T> {
        self.value.clone()
    }
}

impl<T> Sourced<T> {
    /// The line that set the value, if a file did.
    pub const fn span(&self) -> Option<Span> {
        self.origin.span()
    }
}

impl Sourced<crate::units::Length> {
    /// The length in millimetres, as geometry wants it.
    ///
    /// # Errors
    /// With the key, when the value is open or faulty.
    pub fn mm(&self) -> Known<f64> {
        self.value.map(crate::units::Length::to_mm)
    }
}

/// One resolved value for the record: the packet's list of values, the cover's list of defaults and open values.
#[derive(Debug, Clone, PartialEq)]
pub struct Resolved {
    /// The key, arrays with their index from 1: `strings.set[3].gauge`.
    pub key: Cow<'static, str>,
    /// The value in its base unit or as words; `open` when undecided.
    pub value: ResolvedValue,
    /// Where it came from.
    pub origin: Origin,
}

/// The figure, count or words of a resolved value.
#[derive(Debug, Clone, PartialEq)]
pub enum ResolvedValue {
    /// A figure and its unit: "mm", "V", "A", "ohm", "W", "Ah", "g/m", "kg/m3", "deg", "min", "" for a share.
    Figure(f64, &'static str),
    /// A count.
    Count(i64),
    /// Words, ids, places, as written.
    Words(String),
    /// A list, its members as words.
    List(Vec<String>),
    /// Undecided.
    Open,
}
