//! What a sheet's template may see: words and figures as they are printed, each under a name.
//!
//! A figure is rounded before it gets here, so that templates do no arithmetic and a stamp covers what is printed.

use std::collections::BTreeMap;

/// A named set of printed values.
pub type Data = BTreeMap<&'static str, Value>;

/// A printed value.
#[derive(Debug, Clone, PartialEq)]
pub enum Value {
    /// Words or a figure of our own.
    Words(String),
    /// Words that go with the figures and are none: no stamp covers them.
    Prose(String),
    /// Text from a commission or shop file: data, never structure.
    Quoted(String),
    /// Whether something holds.
    Flag(bool),
    /// A list of sets.
    List(Vec<Data>),
}

impl From<String> for Value {
    fn from(words: String) -> Self {
        Self::Words(words)
    }
}

impl From<&str> for Value {
    fn from(words: &str) -> Self {
        Self::Words(words.to_owned())
    }
}

impl From<bool> for Value {
    fn from(flag: bool) -> Self {
        Self::Flag(flag)
    }
}

impl From<usize> for Value {
    fn from(count: usize) -> Self {
        Self::Words(count.to_string())
    }
}

impl From<Vec<Data>> for Value {
    fn from(list: Vec<Data>) -> Self {
        Self::List(list)
    }
}
