//! A TOML text cut into statements: one header, or one key with its value, however many lines that takes.
//!
//! In: the text, sound or not. Out: its statements in order. A list or a quoted text that is never closed ends
//! where the next key or header plainly begins, so that one missing bracket does not swallow the rest.

use std::ops::Range;

/// What a statement is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Kind {
    /// `[table]` or `[[table]]`.
    Header,
    /// `key = value`, or what should have been one.
    Key,
}

/// One statement.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Statement {
    /// What it is.
    pub(super) kind: Kind,
    /// Its bytes, without the line end.
    pub(super) range: Range<usize>,
    /// Where a list or a group opens that is never closed.
    pub(super) unclosed: Option<usize>,
}

/// Cuts a text into its statements; empty lines and remarks belong to none.
pub(super) fn statements(text: &str) -> Vec<Statement> {
    let mut found = Vec::new();
    let mut start = if text.starts_with('\u{feff}') { '\u{feff}'.len_utf8() } else { 0 };
    while start < text.len() {
        let line_end = end_of_line(text, start);
        let line = text[start..line_end].trim_start();
        let begin = line_end - line.len();
        if line.trim_end().is_empty() || line.starts_with('#') {
            start = line_end + 1;
            continue;
        }
        let statement = if line.starts_with('[') {
            Statement { kind: Kind::Header, range: begin..line_end, unclosed: None }
        } else {
            let (end, unclosed) = end_of_value(text, begin);
            Statement { kind: Kind::Key, range: begin..end, unclosed }
        };
        start = statement.range.end + 1;
        found.push(Statement { range: begin..begin + text[statement.range.clone()].trim_end().len(), ..statement });
    }
    found
}

/// The byte of the line's end, or the end of the text.
fn end_of_line(text: &str, from: usize) -> usize {
    text[from..].find('\n').map_or(text.len(), |at| from + at)
}

/// Where the statement that begins at `begin` ends, and what of it is never closed.
fn end_of_value(text: &str, begin: usize) -> (usize, Option<usize>) {
    let bytes = text.as_bytes();
    let mut open: Vec<usize> = Vec::new();
    let mut at = begin;
    while at < bytes.len() {
        match bytes[at] {
            b'#' => at = end_of_line(text, at),
            b'"' | b'\'' => at = end_of_quotes(text, at),
            b'[' | b'{' => {
                open.push(at);
                at += 1;
            }
            b']' | b'}' => {
                open.pop();
                at += 1;
            }
            b'\n' => {
                let Some(innermost) = open.last() else { return (at, None) };
                let next = text[at + 1..end_of_line(text, at + 1)].trim();
                if is_header(next) || (bytes[*innermost] == b'[' && is_key(next)) {
                    return (at, open.first().copied());
                }
                at += 1;
            }
            _ => at += 1,
        }
    }
    (bytes.len(), open.first().copied())
}

/// The byte behind a quoted text; an unclosed one ends with its line.
fn end_of_quotes(text: &str, from: usize) -> usize {
    let quote = &text[from..=from];
    let triple = quote.repeat(3);
    let (body, closing) =
        if text[from..].starts_with(&triple) { (from + 3, triple.as_str()) } else { (from + 1, quote) };
    let last = if closing.len() == 3 { text.len() } else { end_of_line(text, body) };
    let bytes = text.as_bytes();
    let mut at = body;
    while at < last {
        if quote == "\"" && bytes[at] == b'\\' {
            at += 2;
        } else if bytes[at..].starts_with(closing.as_bytes()) {
            return at + closing.len();
        } else {
            at += 1;
        }
    }
    end_of_line(text, body)
}

/// Whether a line plainly is a header: names between brackets and nothing that a list would hold.
fn is_header(line: &str) -> bool {
    let Some(inner) = line.strip_prefix('[') else { return false };
    let inner = inner.strip_prefix('[').unwrap_or(inner).trim_start();
    let name =
        inner.find(|c: char| !(c.is_alphanumeric() || matches!(c, '_' | '-' | '.' | ' '))).unwrap_or(inner.len());
    inner.starts_with(|c: char| c.is_alphabetic()) && !inner[name..].starts_with(',')
}

/// Whether a line plainly begins a key: a bare name and an equals sign.
fn is_key(line: &str) -> bool {
    let name = line.find(|c: char| !(c.is_alphanumeric() || matches!(c, '_' | '-' | '.'))).unwrap_or(line.len());
    name > 0 && line[name..].trim_start().starts_with('=')
}

#[cfg(test)]
mod tests {
    use super::*;

    fn cut(text: &str) -> Vec<&str> {
        statements(text).into_iter().map(|statement| &text[statement.range]).collect()
    }

    #[test]
    fn values_may_take_many_lines() {
        let text = "\u{feff}a = 1 # one\n\n# remark\n[wire] # here\nb = [\n  { c = 1 }, # ]\n  2,\n]\nd = \"\"\"\n[x]\n\"\"\"\r\ne = { f = 1,\n g = 2 }\n";
        assert_eq!(
            cut(text),
            [
                "a = 1 # one",
                "[wire] # here",
                "b = [\n  { c = 1 }, # ]\n  2,\n]",
                "d = \"\"\"\n[x]\n\"\"\"",
                "e = { f = 1,\n g = 2 }"
            ]
        );
    }

    #[test]
    fn what_is_never_closed_ends_where_the_next_key_begins() {
        assert_eq!(cut("a = [1, 2\nb = 3\n[c]\nd = {\n[e]\n"), ["a = [1, 2", "b = 3", "[c]", "d = {", "[e]"]);
        assert_eq!(cut("a = \"abc\nb = 3\nc = '''x\nd = 1\n"), ["a = \"abc", "b = 3", "c = '''x", "d = 1"]);
        assert_eq!(statements("a = [1, 2\nb = 3\n")[0].unclosed, Some(4));
    }

    #[test]
    fn no_text_makes_the_cutting_panic() {
        for text in ["", "\u{feff}", "\"", "a = \"\\", "a = \"\\\nb", "[", "]", "a = ]]}", "é = '''", "x = \"\"\"\\é"]
        {
            let _ = statements(text);
        }
    }
}
