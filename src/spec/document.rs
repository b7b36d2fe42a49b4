//! A file as text: where its values stand, and which of them could not be read as TOML at all.

use std::collections::BTreeMap;
use std::ops::Range;

use crate::source::{FileId, Span};

/// The text of one file and what its syntax errors spoiled.
#[derive(Debug)]
pub(crate) struct Document<'t> {
    file: FileId,
    text: &'t str,
    /// Keys on lines that are not TOML, by their full name.
    faulty: BTreeMap<String, Span>,
}

impl<'t> Document<'t> {
    /// Takes a file's text.
    pub(crate) fn new(file: FileId, text: &'t str, faulty: BTreeMap<String, Span>) -> Self {
        Self { file, text, faulty }
    }

    /// A range of bytes as a place, held inside the text.
    pub(crate) fn span(&self, range: Range<usize>) -> Span {
        let end = range.end.min(self.text.len());
        Span { file: self.file, start: range.start.min(end), end }
    }

    /// The text at a place.
    pub(crate) fn slice(&self, span: Span) -> &'t str {
        self.text.get(span.start..span.end).unwrap_or("")
    }

    /// Where a key stands that is on a line with a syntax error.
    pub(crate) fn faulty(&self, place: &str) -> Option<Span> {
        self.faulty.get(place).copied()
    }
}
