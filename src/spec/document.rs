//! A file as text: where its values stand, and which of them could not be read as TOML at all.

use std::ops::Range;

use super::syntax::{Readable, to_file};
use crate::source::{FileId, Span};

/// The text of one file and what its syntax errors spoiled.
#[derive(Debug)]
pub(crate) struct Document<'t> {
    file: FileId,
    text: &'t str,
    readable: &'t Readable,
    /// Whether a length that is plausible only in the other unit is read in that one.
    pub(crate) as_meant: bool,
}

impl<'t> Document<'t> {
    /// Takes a file's text and what was made readable of it.
    pub(crate) fn new(file: FileId, text: &'t str, readable: &'t Readable, as_meant: bool) -> Self {
        Self { file, text, readable, as_meant }
    }

    /// A range of bytes of the readable text as a place in the file.
    pub(crate) fn span(&self, range: Range<usize>) -> Span {
        let start = to_file(&self.readable.pieces, range.start).min(self.text.len());
        let end = to_file(&self.readable.pieces, range.end.max(range.start + 1) - 1) + 1;
        let end = if range.is_empty() { start } else { end.clamp(start, self.text.len()) };
        // What was made readable may stand for a part of a character: a place holds whole ones.
        let (start, end) = (self.text.floor_char_boundary(start), self.text.ceil_char_boundary(end));
        Span { file: self.file, start, end }
    }

    /// The text at a place.
    pub(crate) fn slice(&self, span: Span) -> &'t str {
        self.text.get(span.start..span.end).unwrap_or("")
    }

    /// Where a key stands that is in a statement with a syntax error.
    pub(crate) fn faulty(&self, place: &str) -> Option<Span> {
        self.readable.faulty.get(place).copied()
    }
}
