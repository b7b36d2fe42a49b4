//! TOML: every syntax error in plain words with its place, and on with what could be read.

use std::collections::BTreeMap;

use toml::de::DeTable;

use crate::diag::{Diagnostic, Report, Severity, codes};
use crate::source::{FileId, Span};

/// What could be read of a file.
pub(crate) struct Parsed<'t> {
    /// The root table.
    pub(crate) table: DeTable<'t>,
    /// Keys on lines that are not TOML, by their full name.
    pub(crate) faulty: BTreeMap<String, Span>,
}

/// Parses a text and reports each syntax error.
pub(crate) fn parse<'t>(file: FileId, text: &'t str, report: &mut Report) -> Parsed<'t> {
    let (table, errors) = DeTable::parse_recoverable(text);
    for error in errors {
        let range = error.span().unwrap_or(0..0);
        let span = Span { file, start: range.start, end: range.end };
        report.push(Diagnostic::new(codes::SPEC_12, Severity::Error, "", error.message()).at(Some(span)));
    }
    Parsed { table: table.into_inner(), faulty: BTreeMap::new() }
}
