//! TOML: every syntax error in plain words with its place, and on with what can be read.
//!
//! In: a file's text. Out: a text that is TOML, with the statements that are none left out, and a map back to
//! the bytes of the file. A statement is judged by itself, so one slip makes one finding; the key that it was
//! meant to set is remembered as faulty, so that nobody calls it missing. Time grows with the text's length.

mod statements;

use std::collections::BTreeMap;

use toml::de::DeTable;

use self::statements::{Kind, Statement, statements};
use super::reader::shorten;
use crate::diag::{Code, Diagnostic, Report, Severity, codes};
use crate::source::{FileId, Span};

/// A file's text made readable.
#[derive(Debug)]
pub(crate) struct Readable {
    /// TOML without syntax errors, as far as statements go.
    pub(crate) text: String,
    /// Where its pieces come from: their first byte here, and in the file.
    pub(crate) pieces: Vec<(usize, usize)>,
    /// Keys of statements that are not TOML, by their full name.
    pub(crate) faulty: BTreeMap<String, Span>,
}

/// Makes a text readable and reports each syntax error.
pub(crate) fn readable(file: FileId, text: &str, report: &mut Report) -> Readable {
    if DeTable::parse_recoverable(text).1.is_empty() {
        return Readable { text: text.to_owned(), pieces: vec![(0, 0)], faulty: BTreeMap::new() };
    }
    let mut mending = Mending {
        file,
        text,
        table: Some(String::new()),
        rows: BTreeMap::new(),
        seen: BTreeMap::new(),
        told: BTreeMap::new(),
        out: Readable { text: String::new(), pieces: Vec::new(), faulty: BTreeMap::new() },
        report,
    };
    for statement in statements(text) {
        match statement.kind {
            Kind::Header => mending.header(&statement),
            Kind::Key => mending.key(&statement),
        }
    }
    // Statements sound by themselves can still clash, in ways that the seen keys do not show: a dotted key
    // against a table. The parser keeps the first of them.
    for error in DeTable::parse_recoverable(&mending.out.text).1 {
        let range = error.span().unwrap_or(0..0);
        let start = to_file(&mending.out.pieces, range.start);
        if mending.told.range(..=start).next_back().is_some_and(|(_, end)| start < *end) {
            continue;
        }
        let span = Span { file, start, end: (start + range.len()).min(text.len()) };
        if too_deep(error.message()) {
            let message = "the file is nested too deeply here".to_owned();
            mending.report(codes::SPEC_12, "", span, message, Some(NOT_SO_DEEP.to_owned()));
            continue;
        }
        let shown = shorten(text.get(span.start..span.end).unwrap_or(""));
        mending.report(
            codes::SPEC_12,
            "",
            span,
            format!("`{shown}` is written twice"),
            Some("keep one of them".to_owned()),
        );
    }
    mending.out
}

/// The byte of the file for a byte of the readable text.
pub(crate) fn to_file(pieces: &[(usize, usize)], byte: usize) -> usize {
    let index = pieces.partition_point(|(here, _)| *here <= byte);
    index.checked_sub(1).map_or(0, |index| {
        let (here, there) = pieces[index];
        there + (byte - here)
    })
}

/// The work in progress.
struct Mending<'t, 'r> {
    file: FileId,
    text: &'t str,
    /// The path of the table that keys go to; none: its header cannot be read.
    table: Option<String>,
    /// How many rows each list of tables has so far.
    rows: BTreeMap<String, usize>,
    /// Keys and headers by their full name, where they stand first.
    seen: BTreeMap<String, Span>,
    /// Where findings point already: first byte and the byte behind the last.
    told: BTreeMap<usize, usize>,
    out: Readable,
    report: &'r mut Report,
}

impl Mending<'_, '_> {
    fn span(&self, statement: &Statement) -> Span {
        Span { file: self.file, start: statement.range.start, end: statement.range.end }
    }

    /// Puts a statement into the readable text.
    fn keep(&mut self, statement: &str, start: usize) {
        self.out.pieces.push((self.out.text.len(), start));
        self.out.text.push_str(statement);
        self.out.text.push('\n');
    }

    fn report(&mut self, code: Code, place: &str, span: Span, message: String, help: Option<String>) {
        let mut finding = Diagnostic::new(code, Severity::Error, place.to_owned(), message).at(Some(span));
        if let Some(help) = help {
            finding = finding.help(help);
        }
        self.told.insert(span.start, span.end);
        self.report.push(finding);
    }

    /// Something stands a second time.
    fn twice(&mut self, place: &str, span: Span, first: Span, message: String) {
        let finding = Diagnostic::new(codes::SPEC_12, Severity::Error, place.to_owned(), message)
            .at(Some(span))
            .with(Some(first), place.to_owned(), "first here")
            .help("keep one of them");
        self.told.insert(span.start, span.end);
        self.report.push(finding);
    }

    fn header(&mut self, statement: &Statement) {
        let line = &self.text[statement.range.clone()];
        let (path, rows) = header_path(line);
        let span = self.span(statement);
        let sound = DeTable::parse_recoverable(line).1.is_empty();
        let Some(path) = path else {
            self.table = None;
            let help = "write [table] or [[table]]; its keys were left out".to_owned();
            self.report(codes::SPEC_12, "", span, format!("the header `{}` cannot be read", shorten(line)), Some(help));
            return;
        };
        if !sound {
            let mended = if rows { format!("[[{path}]]") } else { format!("[{path}]") };
            self.report(
                codes::SPEC_12,
                &path,
                span,
                format!("the header `{}` is not whole", shorten(line)),
                Some(format!("write {mended}")),
            );
            self.keep(&mended, statement.range.start);
        } else {
            self.keep(line, statement.range.start);
        }
        let path = self.in_rows(&path);
        if rows {
            let count = self.rows.entry(path.clone()).or_insert(0);
            *count += 1;
            self.table = Some(format!("{path}[{count}]"));
            return;
        }
        let header = format!("[{path}]");
        // Of a table that is there twice the parser adds up the keys, so none of them is lost.
        if let Some(first) = self.seen.get(&header).copied() {
            self.twice(&path, span, first, format!("the table `{header}` is there twice"));
        } else {
            self.seen.insert(header, span);
        }
        self.table = Some(path);
    }

    /// A header's path with the row at which each list of tables on its way is: `issue[2].sheets`.
    ///
    /// Without it the same table in the next row would be taken for one that is there twice.
    fn in_rows(&self, path: &str) -> String {
        let mut whole = String::new();
        let mut parts = path.split('.').peekable();
        while let Some(part) = parts.next() {
            whole.push_str(part);
            if parts.peek().is_some() {
                if let Some(count) = self.rows.get(&whole) {
                    whole.push_str(&format!("[{count}]"));
                }
                whole.push('.');
            }
        }
        whole
    }

    fn key(&mut self, statement: &Statement) {
        let line = &self.text[statement.range.clone()];
        let name = key_name(line);
        let Some(table) = self.table.clone() else { return };
        let place = match (table.is_empty(), &name) {
            (_, None) => table.clone(),
            (true, Some(name)) => name.clone(),
            (false, Some(name)) => format!("{table}.{name}"),
        };
        let span = self.span(statement);
        if let Some(opening) = statement.unclosed {
            let what = if self.text[opening..].starts_with('[') { "list" } else { "group" };
            let close = if what == "list" { "]" } else { "}" };
            let at = Span { file: self.file, start: opening, end: opening + 1 };
            let message = format!("the {what} of `{place}` is not closed");
            self.report(codes::SPEC_12, &place, at, message, Some(format!("end it with {close}")));
            self.out.faulty.insert(place, span);
            return;
        }
        let errors = DeTable::parse_recoverable(line).1;
        let first = errors.iter().min_by_key(|error| error.span().map_or(0, |range| range.start));
        if let Some(error) = first {
            let range = error.span().unwrap_or(0..line.len());
            let start = statement.range.start + range.start.min(line.len());
            let end = (statement.range.start + range.end.min(line.len())).max(start);
            let (message, help) = plain_words(error.message(), line, range.start.min(line.len()), &place);
            // A day that is in no calendar is a wrong date, in quotes or not.
            let code = if error.message().starts_with("invalid date") { codes::SPEC_06 } else { codes::SPEC_12 };
            self.report(code, &place, Span { file: self.file, start, end }, message, help);
            self.out.faulty.insert(place, span);
            return;
        }
        if name.is_some() {
            if let Some(first) = self.seen.get(&place).copied() {
                self.twice(&place, span, first, format!("`{place}` is written twice"));
                return;
            }
            self.seen.insert(place, span);
        }
        self.keep(line, statement.range.start);
    }
}

/// The path of a header as far as it can be told, and whether it heads a row of a list.
fn header_path(line: &str) -> (Option<String>, bool) {
    let inner = line.trim_start_matches('[');
    let rows = line.len() - inner.len() > 1;
    let inner = inner.split(['#', ']']).next().unwrap_or(inner);
    let parts: Vec<String> = inner.split('.').map(|part| part.trim().trim_matches(['"', '\'']).to_owned()).collect();
    let bare =
        |part: &String| !part.is_empty() && part.chars().all(|c| c.is_ascii_alphanumeric() || matches!(c, '_' | '-'));
    (parts.iter().all(bare).then(|| parts.join(".")), rows)
}

/// The key that a statement sets or was meant to set.
fn key_name(line: &str) -> Option<String> {
    let name = match line.chars().next()? {
        quote @ ('"' | '\'') => line[1..].split(quote).next()?,
        _ => line.split(|c: char| c.is_whitespace() || matches!(c, '=' | ':')).next()?,
    };
    (!name.is_empty()).then(|| name.to_owned())
}

/// What to do about a file that is nested too deeply.
const NOT_SO_DEEP: &str = "nothing here needs more than a list of groups";

/// Whether the parser's words tell of nesting that goes too deep.
fn too_deep(words: &str) -> bool {
    words.contains("recursion") || words.contains("recurse") || words.contains("depth")
}

/// The parser's words in those of a builder, and what to do.
fn plain_words(words: &str, line: &str, at: usize, place: &str) -> (String, Option<String>) {
    let value = line.split_once('=').map_or("", |(_, value)| value.split('#').next().unwrap_or("").trim());
    let shown = shorten(value);
    let whose = shorten(place);
    let named = |what: &str| if place.is_empty() { format!("this line {what}") } else { format!("`{whose}` {what}") };
    let (message, help) = match words {
        _ if words.starts_with("string values must be quoted") && value.is_empty() => {
            (named("has no value"), "write a value behind the =, or take the line out")
        }
        _ if words.starts_with("string values must be quoted") && value.contains(['“', '”', '„', '‘', '’']) => {
            (named("has curly quotes"), "use the straight ones: \" \"")
        }
        _ if words.starts_with("string values must be quoted")
            && line.matches('=').count() == 1
            && at_value(line, at) =>
        {
            return (named(&format!("= {shown} is not in quotes")), Some(format!("write \"{shown}\"")));
        }
        _ if words.starts_with("string values must be quoted") => {
            (named("holds something that is not in quotes"), "put texts and figures with units in quotes")
        }
        _ if words.starts_with("key with no value") => (named("has no ="), "write key = value"),
        _ if words.starts_with("invalid basic string") || words.starts_with("invalid literal string") => {
            if value.is_empty() || line[at..].trim_start().starts_with(['}', ']', ',']) {
                (named("has a key without a value"), "write a value behind each =")
            } else {
                (named("has a quote that is not closed"), "end the text with the quote that began it")
            }
        }
        _ if words.starts_with("invalid multi-line") => {
            (named("has a text of many lines that is not closed"), "end it with the three quotes that began it")
        }
        _ if words.starts_with("missing escaped value") || words.contains("unicode value") => {
            (named("has a backslash that means nothing"), "write it twice, or put the text in single quotes: '…'")
        }
        _ if words.starts_with("unexpected key or value") => {
            (named("has something behind its value"), "one key to a line; a remark begins with #")
        }
        _ if words.starts_with("unexpected leading zero") => (named("= a number that begins with 0"), "take the 0 off"),
        _ if words.starts_with("invalid fraction") || words.starts_with("invalid exponent") => {
            (named("= a number that breaks off"), "write the digits out")
        }
        _ if words.starts_with("invalid date") || words.starts_with("invalid time") || words.contains("datetime") => {
            (named(&format!("= {shown} is not a day of the calendar")), "write year-month-day: 2026-03-01")
        }
        _ if words.starts_with("missing comma") => (named("lacks a comma"), "put a comma between two members"),
        _ if words.starts_with("extra comma") => (named("has a comma too many"), "take it out"),
        _ if words.starts_with("duplicate key") => (named("has one key twice"), "keep one of them"),
        _ if too_deep(words) => (named("is nested too deeply"), NOT_SO_DEEP),
        _ if words.contains("unquoted key") => {
            (named("has a key with signs that need quotes"), "write \"the key\" = value")
        }
        _ if words.starts_with("carriage return")
            || words.contains("control")
            || words.contains("comment character") =>
        {
            (named("holds a sign that cannot be printed"), "type the line anew")
        }
        _ => return (named(&format!("is not TOML: {words}")), None),
    };
    (message, Some(help.to_owned()))
}

/// Whether a byte of a statement is the first of its value.
fn at_value(line: &str, at: usize) -> bool {
    line.find('=').is_some_and(|equals| line.get(equals + 1..at).is_some_and(|between| between.trim().is_empty()))
}
