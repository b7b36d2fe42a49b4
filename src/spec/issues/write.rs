//! The issues file, written: a new issue goes behind all that stands there, and nothing else is touched.

use super::read::printed_before;
use super::{Issue, Recorded};

/// What stands at the head of a new file.
const HEAD: &str = "\
# What this commission was each time it was issued: values, stamps and the figures on each sheet.
# `kerfbook issue` writes behind what stands here and changes nothing of it; your own comments stay.

format = 1
";

/// The text of the issues file with one more issue; `existing` is the file as it stands, with the issues `before`,
/// and empty where there is none yet.
///
/// A sheet that bears the stamp of an issue before prints what stands there, and is not written again.
pub fn with_issue(existing: &str, before: &[Issue], issue: &Issue) -> String {
    let mut text = if existing.trim().is_empty() { HEAD.to_owned() } else { existing.to_owned() };
    if !text.ends_with('\n') {
        text.push('\n');
    }
    text.push_str("\n[[issue]]\n");
    let mut line = |key: &str, value: &str| {
        text.push_str(&format!("{key:<7} = {value}\n"));
    };
    line("letter", &quoted(&issue.letter));
    line("date", &issue.date.to_string());
    line("by", &quoted(&issue.by));
    line("changed", &quoted(&issue.changed));
    line("program", &quoted(&issue.program));
    line("of", &list(&issue.state.identity.0));
    line("stamp", &quoted(&issue.stamp));
    text.push_str("\n[issue.sheets]\n");
    for sheet in &issue.state.sheets {
        text.push_str(&format!("{} = {}\n", key(&sheet.sheet), quoted(&sheet.stamp)));
    }
    text.push_str("\n[issue.values]\n");
    for (name, value) in &issue.state.values {
        let value = match value {
            Recorded::One(text) => quoted(text),
            Recorded::List(members) => list(members),
        };
        text.push_str(&format!("{} = {value}\n", key(name)));
    }
    for sheet in issue.state.sheets.iter().filter(|sheet| printed_before(before, sheet).is_none()) {
        text.push_str(&format!("\n[issue.printed.{}]\n", key(&sheet.sheet)));
        for table in &sheet.printed {
            text.push_str(&format!("{} = [\n", key(&table.name)));
            for row in std::iter::once(&table.headings).chain(&table.rows) {
                text.push_str(&format!("  {},\n", list(row)));
            }
            text.push_str("]\n");
        }
    }
    text
}

/// A key: bare where TOML allows it, else quoted.
fn key(name: &str) -> String {
    let bare = |c: char| c.is_ascii_alphanumeric() || c == '-' || c == '_';
    if !name.is_empty() && name.chars().all(bare) { name.to_owned() } else { quoted(name) }
}

fn list(members: &[String]) -> String {
    format!("[{}]", members.iter().map(|member| quoted(member)).collect::<Vec<_>>().join(", "))
}

/// A basic string of TOML 1.0: quotes, backslashes and what steers a terminal are written as escapes.
fn quoted(text: &str) -> String {
    let mut quoted = String::with_capacity(text.len() + 2);
    quoted.push('"');
    for character in text.chars() {
        match character {
            '"' => quoted.push_str("\\\""),
            '\\' => quoted.push_str("\\\\"),
            '\n' => quoted.push_str("\\n"),
            '\t' => quoted.push_str("\\t"),
            c if c.is_control() || crate::diag::render::steers(c) => {
                quoted.push_str(&format!("\\U{:08X}", u32::from(c)));
            }
            c => quoted.push(c),
        }
    }
    quoted.push('"');
    quoted
}
