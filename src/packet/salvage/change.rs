//! One value of a commission replaced in its text, so that it is read like any other.

use std::fmt;
use std::str::FromStr;

use toml::de::DeTable;

use crate::diag::Report;
use crate::packet::{InputFile, Inputs};
use crate::source::SourceFile;
use crate::spec;
use crate::spec::leaf::{Leaf, Leaves};

/// A key with another value: `channels.depth=2.9 mm`.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Change {
    /// The key, in full: `channels.depth`.
    pub key: String,
    /// The value as somebody types it: `2.9 mm`, `open`, `18`.
    pub value: String,
}

impl Change {
    /// A change of a key.
    pub fn new(key: impl Into<String>, value: impl Into<String>) -> Self {
        Self { key: key.into(), value: value.into() }
    }

    /// The value as TOML: as it is where it is a number, a list or a word of TOML's own, else in quotes.
    fn literal(&self) -> String {
        let value = self.value.trim();
        let stays = !value.contains(['\n', '\r', '#']) && DeTable::parse(&format!("x = {value}")).is_ok();
        // A string of JSON is one of TOML.
        if stays { value.to_owned() } else { serde_json::Value::from(value).to_string() }
    }
}

impl fmt::Display for Change {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} = {}", self.key, self.value)
    }
}

impl FromStr for Change {
    type Err = String;

    fn from_str(text: &str) -> Result<Self, Self::Err> {
        let help = "write the key, = and the value: --if \"board.thickness=6.9 mm\"";
        let (key, value) = text.split_once('=').ok_or_else(|| format!("no = in it; {help}"))?;
        let (key, value) = (key.trim(), value.trim());
        let is_key = !key.is_empty() && key.split('.').all(|part| !part.is_empty() && part.chars().all(is_of_a_key));
        if !is_key {
            return Err(format!("no key before the =; {help}"));
        }
        if value.is_empty() {
            return Err(format!("no value after the =; {help}"));
        }
        Ok(Self::new(key, value))
    }
}

fn is_of_a_key(c: char) -> bool {
    c.is_ascii_alphanumeric() || matches!(c, '_' | '-' | '[' | ']')
}

/// The inputs with some values replaced in the commission's text; the file keeps its name.
pub fn changed(inputs: &Inputs, changes: &[Change]) -> Inputs {
    let mut changed = inputs.clone();
    for change in changes {
        let file = changed.sources.get(changed.commission.id);
        let spec = spec::read(&changed.sources, changed.commission.id, &mut Report::default());
        let mut leaves: Vec<Leaf> = Vec::new();
        spec.leaves("", spec.header, &mut leaves);
        let written = leaves.iter().find(|leaf| leaf.key == change.key).map(|leaf| leaf.span.start..leaf.span.end);
        let mut text = file.text().to_owned();
        match written.filter(|range| text.get(range.clone()).is_some()) {
            Some(range) => text.replace_range(range, &change.literal()),
            None => insert(&mut text, change),
        }
        let id = changed.sources.add(SourceFile::new(file.name().to_owned(), text));
        changed.commission = InputFile { id, path: changed.commission.path };
    }
    changed
}

/// Writes a key that nobody wrote: under its table's header, or with its table at the end.
fn insert(text: &mut String, change: &Change) {
    let (table, key) = change.key.rsplit_once('.').unwrap_or(("", &change.key));
    let line = format!("{key} = {}\n", change.literal());
    let mut at = 0;
    for row in text.split_inclusive('\n') {
        at += row.len();
        let header = row.split('#').next().unwrap_or_default().trim();
        if header.strip_prefix('[').and_then(|rest| rest.strip_suffix(']')).is_some_and(|name| name.trim() == table) {
            let line = if row.ends_with('\n') { line } else { format!("\n{line}") };
            text.insert_str(at, &line);
            return;
        }
    }
    if table.is_empty() { text.insert_str(0, &line) } else { text.push_str(&format!("\n[{table}]\n{line}")) }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn values_are_quoted_unless_they_are_of_toml_itself() {
        let literal = |value: &str| Change::new("a.b", value).literal();
        assert_eq!(literal("2.9 mm"), "\"2.9 mm\"");
        assert_eq!(literal("18"), "18");
        assert_eq!(literal("[3, 5]"), "[3, 5]");
        assert_eq!(literal("\"open\""), "\"open\"");
        // Nothing that is typed becomes a second statement.
        assert_eq!(literal("1\n[board]"), "\"1\\n[board]\"");
        assert_eq!(literal("1 # 2"), "\"1 # 2\"");
    }

    #[test]
    fn a_change_is_a_key_and_a_value() {
        assert_eq!("board.thickness = 6.9 mm".parse(), Ok(Change::new("board.thickness", "6.9 mm")));
        for wrong in ["board.thickness", "=6 mm", "board.thickness=", "board thickness=6 mm", ".a=1"] {
            assert!(wrong.parse::<Change>().is_err(), "{wrong}");
        }
    }

    #[test]
    fn a_key_that_nobody_wrote_goes_under_its_header() {
        let mut text = "[board] # the board\nwood = \"ash\"\n[slots]".to_owned();
        insert(&mut text, &Change::new("board.binding", "1.5 mm"));
        insert(&mut text, &Change::new("slots.skim", "0.2 mm"));
        insert(&mut text, &Change::new("lamp.proud", "0.2 mm"));
        let expected = "[board] # the board\nbinding = \"1.5 mm\"\nwood = \"ash\"\n[slots]\nskim = \"0.2 mm\"\n\n[lamp]\nproud = \"0.2 mm\"\n";
        assert_eq!(text, expected);
    }
}
