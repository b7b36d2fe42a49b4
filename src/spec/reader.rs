//! The collecting reader: a table is asked for its keys by kind, problems pile up, nothing stops early.
//!
//! In: one table of the parsed document. Out: an [`Entry`] for each key asked for, and findings in the report:
//! what cannot be used, and at the end each key that nobody asked for, with the nearest known one. One mistake
//! makes one finding: what was found faulty here is marked so, a misspelt key's right one too, and nobody
//! downstream calls it missing.

mod doubts;
mod faults;
mod kinds;
mod lists;
mod records;

use std::collections::BTreeMap;

pub(crate) use kinds::bare_figure;
use toml::de::{DeTable, DeValue};

use super::document::Document;
use super::entry::{Entry, Given};
use super::nearest::nearest;
use super::table::{Table, home_of};
use super::tables::Shop;
use crate::diag::{Code, Diagnostic, Report, Severity, codes};
use crate::source::Span;

/// Where a figure must lie.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Least {
    /// Any figure; a check of its own judges it.
    Any,
    /// Zero or more.
    Zero,
    /// More than zero.
    MoreThanZero,
}

/// One table of a file while it is read.
pub(crate) struct TableReader<'t, 'r> {
    document: &'t Document<'t>,
    table: &'t DeTable<'t>,
    path: String,
    header: Span,
    asked: Vec<&'static str>,
    lenient: bool,
    /// Known keys that are not in the table, but a misspelt one in it was meant for them: where that stands.
    meant: BTreeMap<&'static str, Span>,
    report: &'r mut Report,
}

/// How many misspelt keys of one table are matched with what they were meant for; more are no slips of the pen.
const MOST_SLIPS: usize = 200;

/// A value as it stands in the file.
#[derive(Clone, Copy)]
pub(crate) struct Raw<'t> {
    value: &'t DeValue<'t>,
    span: Span,
}

impl<'t, 'r> TableReader<'t, 'r> {
    /// Starts to read a whole file.
    pub(crate) fn root<T: Table>(
        document: &'t Document<'t>,
        table: &'t DeTable<'t>,
        report: &'r mut Report,
    ) -> TableReader<'t, 'r> {
        let header = document.span(0..0);
        Self::new(document, table, String::new(), header, T::KEYS, report)
    }

    fn child(
        &mut self,
        table: &'t DeTable<'t>,
        path: String,
        header: Span,
        known: &[&'static str],
    ) -> TableReader<'t, '_> {
        TableReader::new(self.document, table, path, header, known, self.report)
    }

    fn new(
        document: &'t Document<'t>,
        table: &'t DeTable<'t>,
        path: String,
        header: Span,
        known: &[&'static str],
        report: &'r mut Report,
    ) -> Self {
        let mut reader =
            Self { document, table, path, header, asked: Vec::new(), lenient: false, meant: BTreeMap::new(), report };
        let unknown = reader.keys().into_iter().filter(|(key, _)| !known.contains(key)).take(MOST_SLIPS);
        for (key, span) in unknown {
            let absent = known.iter().copied().filter(|name| !table.contains_key(*name));
            if let Some(meant) = nearest(key, absent) {
                reader.meant.entry(meant).or_insert(span);
            }
        }
        reader
    }

    /// The table's header, or the braces of an inline table.
    pub(crate) fn header(&self) -> Span {
        self.header
    }

    /// The keys that stand in the table, known or not, in the order of the file.
    pub(crate) fn keys(&self) -> Vec<(&'t str, Span)> {
        let mut keys: Vec<_> =
            self.table.keys().map(|key| (key.get_ref().as_ref(), self.document.span(key.span()))).collect();
        keys.sort_by_key(|(_, span)| *span);
        keys
    }

    /// A key's full name: `wire.tang_depth`.
    pub(crate) fn place(&self, key: &str) -> String {
        if self.path.is_empty() { key.to_owned() } else { format!("{}.{key}", self.path) }
    }

    /// Reports a finding at a place of this table.
    pub(crate) fn fault(&mut self, code: Code, key: &str, span: Span, message: impl Into<String>, help: &[String]) {
        let mut finding = Diagnostic::new(code, Severity::Error, self.place(key), message).at(Some(span));
        for line in help {
            finding = finding.help(line.as_str());
        }
        self.report.push(finding);
    }

    /// Reports each key that nobody asked for.
    pub(crate) fn finish(mut self) {
        for (key, span) in self.keys() {
            if self.lenient || self.asked.contains(&key) {
                continue;
            }
            let shown = shorten(key);
            let what = if self.path.is_empty() { "table or key of this file" } else { "word of this table" };
            let mut help = Vec::new();
            let known = self.asked.iter().copied().filter(|name| !self.has(name));
            if let Some(near) = nearest(key, known).or_else(|| nearest(key, self.asked.iter().copied())) {
                help.push(format!("did you mean `{near}`?"));
            } else if self.path.is_empty() && Shop::KEYS.contains(&key) {
                help.push(format!("`[{key}]` belongs to the shop file, shop.toml"));
            } else if let Some(home) = home_of(key, &self.path) {
                help.push(format!("`{key}` belongs to `[{home}]`"));
            } else if !self.asked.is_empty() && self.asked.len() <= 12 {
                help.push(format!("the words here are {}", self.asked.join(", ")));
            }
            let message = format!("`{}` is not a {what}", self.place(&shown));
            self.fault(codes::SPEC_01, &shown, span, message, &help);
        }
    }

    /// Whether a key stands in the table.
    pub(crate) fn has(&self, key: &str) -> bool {
        self.table.contains_key(key)
    }

    /// The value of a key before it is asked for.
    fn peek(&self, key: &str) -> Option<&'t DeValue<'t>> {
        self.table.get(key).map(|value| value.get_ref())
    }

    /// Takes the keys that nobody asked for as they are: nothing can be said against them.
    pub(crate) fn leave_the_rest(&mut self) {
        self.lenient = true;
    }

    /// Reads a key by a function that judges its value.
    fn entry<T>(
        &mut self,
        key: &'static str,
        read: impl FnOnce(&mut Self, &'static str, Raw<'t>) -> Given<T>,
    ) -> Option<Entry<T>> {
        self.asked.push(key);
        let spoiled = self.document.faulty(&self.place(key)).or_else(|| self.meant.get(key).copied());
        if let Some(span) = spoiled {
            return Some(Entry { given: Given::Faulty, span, written: String::new() });
        }
        let raw = self.table.get(key)?;
        let raw = Raw { value: raw.get_ref(), span: self.document.span(raw.span()) };
        let given = read(self, key, raw);
        Some(Entry { given, span: raw.span, written: self.written(raw) })
    }

    /// The value as it is written, without quotes; empty for tables and lists.
    fn written(&self, raw: Raw<'_>) -> String {
        match raw.value {
            DeValue::String(text) => text.trim().to_owned(),
            DeValue::Array(_) | DeValue::Table(_) => String::new(),
            _ => self.document.slice(raw.span).to_owned(),
        }
    }

    /// The value as a message shows it: as it stands in the file, on one line, not too long.
    fn shown(&self, raw: Raw<'_>) -> String {
        let text = self.document.slice(raw.span);
        shorten(text)
    }

    /// Reads a table within this one under a path.
    fn read_child<T: Table>(&mut self, table: &'t DeTable<'t>, path: String, header: Span) -> T {
        let mut child = self.child(table, path, header, T::KEYS);
        let value = T::read(&mut child);
        child.finish();
        value
    }
}

/// The first line of a text, at most sixty characters of it.
pub(crate) fn shorten(text: &str) -> String {
    let line = text.lines().next().unwrap_or("");
    let mut shown: String = line.chars().take(60).collect();
    if shown.len() < text.len() {
        shown.push('…');
    }
    shown
}
