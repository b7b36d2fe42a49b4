//! Ways to spoil a file: lines lost, doubled and swapped, each value replaced by each wrong kind, the text cut off.
//!
//! In: a text that is sound. Out: its changes, each one range of bytes and what stands there instead, in a fixed
//! order, so that a change can be named by its number.

use std::ops::Range;

use toml::de::{DeTable, DeValue};

/// One change of a text.
#[derive(Debug, Clone)]
pub(crate) struct Change {
    /// The bytes that go.
    range: Range<usize>,
    /// What comes in their place.
    instead: String,
}

impl Change {
    /// The text with the change made.
    pub(crate) fn of(&self, text: &str) -> String {
        format!("{}{}{}", &text[..self.range.start], self.instead, &text[self.range.end..])
    }

    /// The change in short, for the message of a failing test.
    pub(crate) fn told(&self, text: &str) -> String {
        let short = |text: &str| text.chars().take(80).collect::<String>();
        format!("{:?} for {:?} at byte {}", short(&self.instead), short(&text[self.range.clone()]), self.range.start)
    }
}

/// Every change of a text: its lines first, then its values, then its keys.
pub(crate) fn changes(text: &str) -> Vec<Change> {
    let mut changes = of_lines(text);
    let parsed = DeTable::parse(text).expect("the text is sound before it is spoiled");
    let mut places = Vec::new();
    values(parsed.get_ref(), text, &mut places);
    let wrong = wrong_values();
    for range in &places {
        changes.extend(wrong.iter().map(|value| Change { range: range.clone(), instead: value.clone() }));
        changes.extend(twisted(&text[range.clone()]).map(|instead| Change { range: range.clone(), instead }));
    }
    let mut names = Vec::new();
    keys(parsed.get_ref(), &mut names);
    for range in names.into_iter().filter(|range| !range.is_empty()) {
        let own = &text[range.clone()];
        let instead = ["", "\"\"", "\"a\\u0000b\"", "x.y", "é", "\"=1+1\"", "length", "number"].map(str::to_owned);
        let misspelt = [format!("{own}x"), own.to_uppercase(), format!("{own}.{own}"), format!("\"{own} \"")];
        changes.extend(instead.into_iter().chain(misspelt).map(|instead| Change { range: range.clone(), instead }));
    }
    changes
}

/// Each line dropped, doubled, swapped with the next, and cut off in its middle.
fn of_lines(text: &str) -> Vec<Change> {
    let mut changes = Vec::new();
    let lines: Vec<&str> = text.split_inclusive('\n').collect();
    let mut start = 0;
    for (index, line) in lines.iter().enumerate() {
        let end = start + line.len();
        let mut add = |range: Range<usize>, instead: String| changes.push(Change { range, instead });
        if !line.trim().is_empty() {
            add(start..end, String::new());
            add(start..end, line.repeat(2));
            if let Some(next) = lines.get(index + 1) {
                add(start..end + next.len(), format!("{next}{line}"));
            }
            let half = start + line.char_indices().nth(line.chars().count() / 2).map_or(0, |(at, _)| at);
            add(half..end, "\n".to_owned());
            add(half..text.len(), String::new());
        }
        start = end;
    }
    changes
}

/// The ranges of all values that are written out: scalars, lists, groups in braces.
fn values(table: &DeTable<'_>, text: &str, places: &mut Vec<Range<usize>>) {
    for value in table.values() {
        value_places(value.get_ref(), value.span(), text, places);
    }
}

fn value_places(value: &DeValue<'_>, range: Range<usize>, text: &str, places: &mut Vec<Range<usize>>) {
    // A table under a header has the header's range, which is no value.
    let header =
        text[range.clone()].starts_with('[') && text[..range.start].chars().next_back().is_none_or(|sign| sign == '\n');
    if !header && !range.is_empty() {
        places.push(range);
    }
    match value {
        DeValue::Table(table) => values(table, text, places),
        DeValue::Array(array) => {
            for member in array.iter() {
                value_places(member.get_ref(), member.span(), text, places);
            }
        }
        _ => {}
    }
}

fn keys(table: &DeTable<'_>, names: &mut Vec<Range<usize>>) {
    for (key, value) in table {
        names.push(key.span());
        let tables: Vec<_> = match value.get_ref() {
            DeValue::Table(table) => vec![table],
            DeValue::Array(array) => array.iter().filter_map(|member| member.get_ref().as_table()).collect(),
            _ => Vec::new(),
        };
        for table in tables {
            keys(table, names);
        }
    }
}

/// The text of a value bent: another unit, another sign, a power of ten up and down.
fn twisted(value: &str) -> impl Iterator<Item = String> {
    let inner = value.trim_matches('"');
    let (figure, unit) = inner.split_once(' ').unwrap_or((inner, ""));
    let quoted = |figure: f64| format!("\"{figure} {unit}\"");
    let written = if value.starts_with('"') { figure.parse::<f64>().ok() } else { None };
    let bent = written.into_iter().flat_map(move |figure| {
        [-1.0, 0.1, 0.5, 0.9, 1.1, 2.0, 10.0, 25.4, 1.0 / 25.4, 1e4, 1e-4].map(|factor| figure * factor)
    });
    let units = ["mm", "in", "V", "mA", "deg", "%", "fret", "bass", ""];
    let swapped = written.map(|_| units.map(|unit| format!("\"{figure} {unit}\"").replace(" \"", "\"")));
    let counts = value
        .parse::<i64>()
        .ok()
        .into_iter()
        .flat_map(|count| [0, 1, -count, count + 1, count * 2, count * 10].map(|count: i64| count.to_string()));
    bent.map(quoted).collect::<Vec<_>>().into_iter().chain(swapped.into_iter().flatten()).chain(counts)
}

/// A value of every kind that is wrong for most keys, and texts that steer, evaluate or mark up somewhere.
pub(crate) fn wrong_values() -> Vec<String> {
    let mut values: Vec<String> = [
        "5",
        "0",
        "-1",
        "1.5",
        "10000",
        "4294967295",
        "-9223372036854775808",
        "99999999999999999999",
        "1e300",
        "1e-300",
        "-0.0",
        "nan",
        "-nan",
        "inf",
        "-inf",
        "true",
        "2026-03-01",
        "2026-03-01T12:00:00Z",
        "12:00:00",
        "0xffff",
        "",
        "=",
        "[]",
        "[[]]",
        "[[[]], 1, \"a\", {}]",
        "{}",
        "{ a = 1 }",
        "{ a = { b = { c = [] } } }",
        "[1, 2, 2, 1]",
        "[0]",
        "[24, 1, 12]",
        "[{}]",
        "[\"\"]",
        "[\"open\"]",
        "[\"1 mm\", \"2 mm\"]",
        "\"\"",
        "\" \"",
        "\"open\"",
        "\"OPEN \"",
        "\"0 mm\"",
        "\"-0 mm\"",
        "\"-3 mm\"",
        "\"0.0001 mm\"",
        "\"1000 mm\"",
        "\"999999 mm\"",
        "\"1000001 mm\"",
        "\"1e300 mm\"",
        "\"0.000000000000000000000001 mm\"",
        "\"1/0 in\"",
        "\"0/7 in\"",
        "\"½ in\"",
        "\"12 V\"",
        "\"0 V\"",
        "\"1000000 V\"",
        "\"0 %\"",
        "\"99 %\"",
        "\"100 %\"",
        "\"0.5 mA\"",
        "\"89.9 deg\"",
        "\"90 deg\"",
        "\"36000 deg\"",
        "\"0 half-width\"",
        "\"1 half-width\"",
        "\"5 half-width\"",
        "\"fret 0\"",
        "\"fret 1\"",
        "\"fret 99999\"",
        "\"last fret\"",
        "\"last slot\"",
        "\"board end\"",
        "\"centre\"",
        "\"exit\"",
        "\"saddle\"",
        "\"flat\"",
        "\"through\"",
        "\"9 mm bass\"",
        "\"9 mm treble\"",
        "\"lit\"",
        "\"plain\"",
        "\"zero fret\"",
        "\"slot\"",
        "\"left\"",
        "\"along centreline\"",
        "\"NaN mm\"",
        "\"inf mm\"",
        "\"E4\"",
        "\"2 : 1\"",
        "\"1.50\"",
        "\"a\\u0000b\"",
        "\"\\u001b[31m\\u0007\"",
        "\"\\u202e3.1 mm\"",
        "\"\\u2066\\u200f\"",
        "'''a\nb'''",
        "\"=HYPERLINK(1)\"",
        "\"@SUM(1)\"",
        "\"\\t+1\"",
        "\"<script>&amp;\"",
        "\"]]>\"",
        "\"{{ 7*7 }}{% raw %}\"",
        "\"$\\\\frac{1}{0}$ \\\\input{x}\"",
        "\"# *a* `b` | c [d](e) ![f](g)\"",
        "\"a, \\\"b\\\"; c\"",
        "\"../../x\"",
        "\"CON\"",
        "\"\u{feff}\"",
        "\"\u{e000}\u{10ffff}\"",
        "\"א1 mm\"",
        "\"unclosed",
        "'unclosed",
        "[1, 2",
        "{ a = 1",
        "\"\\q\"",
    ]
    .map(str::to_owned)
    .to_vec();
    values.push(format!("\"{}\"", "long ".repeat(2_000)));
    values.push(format!("\"{}\"", "W".repeat(3_000)));
    values.push(format!("\"{} mm\"", "9".repeat(3_000)));
    values.push("9".repeat(3_000));
    values.push(format!("{}{}", "[".repeat(60), "]".repeat(60)));
    values.push(format!("[{}]", "1, ".repeat(2_000)));
    values.push(format!("[{}]", "{}, ".repeat(300)));
    values
}
