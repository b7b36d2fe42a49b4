//! Which sheets' stamps a change of each key moves, held against the declared table of what depends on what; and what
//! moves none.

use std::collections::BTreeSet;
use std::path::Path;

use kerfbook::packet::{InputFile, Inputs, Standing, check};
use kerfbook::source::{SourceFile, Sources};

fn text(name: &str) -> String {
    std::fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join("specs").join(name)).unwrap()
}

/// How a commission stands in the demo shop; none where it has an error.
fn standing(commission: &str) -> Option<Standing> {
    let mut sources = Sources::default();
    let mut add =
        |name: &str, text: &str| InputFile { id: sources.add(SourceFile::new(name, text)), path: name.to_owned() };
    let (commission, shop) = (add("stamps.toml", commission), add("shop.toml", &text("shop.toml")));
    check(&Inputs { sources, commission, shop: Some(shop), issues: None }).standing
}

/// Sheets that gather from the others, whose stamps move with any of them.
const GATHERING: [&str; 4] = ["materials-list", "sign-off", "set-up-cards", "safety-notes"];

/// The sheets whose stamps differ, in packet order.
fn moved(old: &Standing, new: &Standing) -> Vec<String> {
    let stamp = |standing: &Standing, sheet: &str| standing.now.sheet(sheet).map(|sheet| sheet.stamp.clone());
    let names = old.now.sheets.iter().chain(&new.now.sheets).map(|sheet| sheet.sheet.clone());
    let mut seen = BTreeSet::new();
    names.filter(|name| seen.insert(name.clone()) && stamp(old, name) != stamp(new, name)).collect()
}

/// Another word for a key that takes words.
const OTHER_WORDS: &[(&str, &str)] = &[
    ("commission.number", "T-999"),
    ("commission.title", "Another name"),
    ("commission.customer", "Somebody else"),
    ("commission.drawn_by", "bench nine"),
    ("commission.hand", "left"),
    ("commission.sequence", "neck first"),
    ("slots.blade", "wide blade"),
    ("board.wood", "maple"),
    ("markers.kind", "plain"),
    ("electronics.lamps.chemistry", "lithium"),
    ("electronics.lamps.resistors", "board"),
    ("electronics.lamps.series", "E96"),
    ("electronics.lamps.switch", "slide switch"),
    ("neck.wood", "walnut"),
];

/// Values to try for a key in place of its own, as TOML.
fn others(place: &str, value: &str) -> Vec<String> {
    if let Some((_, word)) = OTHER_WORDS.iter().find(|(key, _)| *key == place) {
        return vec![format!("\"{word}\"")];
    }
    let scaled = |scale: f64| {
        let start = value.find(|c: char| c.is_ascii_digit())?;
        let rest = &value[start..];
        let end = rest.find(|c: char| !c.is_ascii_digit() && c != '.').unwrap_or(rest.len());
        let figure: f64 = rest[..end].parse().ok()?;
        if !value.starts_with('"') {
            return Some(format!("{}", figure + if scale > 1.0 { 1.0 } else { -1.0 }));
        }
        // "25 1/2 in": the whole inches are enough to be changed.
        let changed = if rest.contains('/') { figure + if scale > 1.0 { 1.0 } else { -1.0 } } else { figure * scale };
        Some(format!("{}{changed}{}", &value[..start], &rest[end..]))
    };
    [1.03, 0.97, 1.2, 0.8, 1.5, 0.5].into_iter().filter_map(scaled).collect()
}

/// Each key of a commission file that stands on a line of its own, with the file in which it is another.
fn edits(commission: &str) -> Vec<(String, Vec<String>)> {
    let lines: Vec<&str> = commission.lines().collect();
    let mut table = String::new();
    let mut edits = Vec::new();
    for (index, line) in lines.iter().enumerate() {
        if let Some(header) = line.strip_prefix('[') {
            table = header.trim_end_matches(']').to_owned();
        }
        let Some((key, value)) = line.split_once('=') else { continue };
        let (key, value) = (key.trim(), value.split('#').next().unwrap_or("").trim());
        if line.starts_with(' ') || value.starts_with(['{', '[']) || table.is_empty() {
            continue;
        }
        let place = format!("{table}.{key}");
        let changed = others(&place, value).into_iter().map(|other| {
            let mut lines: Vec<String> = lines.iter().map(|line| (*line).to_owned()).collect();
            lines[index] = format!("{key} = {other}");
            lines.join("\n")
        });
        let changed = changed.collect();
        edits.push((place, changed));
    }
    edits
}

/// The sheets that each key of a commission moves; "an error" where no other value stands.
fn table(name: &str) -> Vec<(String, Option<Vec<String>>)> {
    let commission = text(name);
    let old = standing(&commission).unwrap();
    let sheets = |changed: Vec<String>| {
        let all = changed.iter().filter_map(|changed| standing(changed)).map(|new| moved(&old, &new));
        // The first edit that moves something; where none does, nothing moves.
        all.reduce(|first, next| if first.is_empty() { next } else { first })
    };
    edits(&commission).into_iter().map(|(key, changed)| (key, sheets(changed))).collect()
}

#[test]
fn each_key_moves_the_stamps_of_the_sheets_that_print_what_follows_from_it() {
    let table = table("T-204-lantern-street.toml");
    let row = |(key, sheets): &(String, Option<Vec<String>>)| match sheets {
        None => format!("{key}: no other value tried here"),
        Some(sheets) if sheets.is_empty() => format!("{key}: none"),
        Some(sheets) => format!("{key}: {}", sheets.join(" ")),
    };
    insta::assert_snapshot!(table.iter().map(row).collect::<Vec<_>>().join("\n"));
    let of = |key: &str| {
        let sheets = table.iter().find(|(own, _)| own == key).and_then(|(_, sheets)| sheets.clone());
        sheets.unwrap_or_else(|| panic!("{key} was not changed"))
    };
    // The dependencies of the trade (what a radius, a circuit, a string changes at the bench): geometry and
    // Ohm's law; which sheet prints them is ours.
    for (key, moves, never) in [
        ("radius.board", &["slot-depth", "lamp-seats", "radius"][..], &["fret-table", "wiring", "strings"][..]),
        ("scale.length", &["fret-table", "taper", "drilling-chart", "strings"], &["nut-and-saddle"]),
        ("electronics.lamps.in_series", &["wiring", "routing-map"], &["fret-table", "slot-depth", "lamp-seats"]),
        ("electronics.lamps.supply", &["wiring"], &["routing-map", "potting", "fret-table"]),
        ("strings.spread_saddle", &["nut-and-saddle"], &["fret-table", "slot-depth", "wiring"]),
        ("channels.depth", &["routing-map", "potting"], &["fret-table", "lamp-seats", "wiring"]),
        ("lamp.proud", &["lamp-seats"], &["fret-table", "slot-depth", "wiring"]),
    ] {
        let moved = of(key);
        for sheet in moves {
            assert!(moved.iter().any(|own| own == sheet), "{key} moves {sheet}: {moved:?}");
        }
        for sheet in never {
            assert!(moved.iter().all(|own| own != sheet), "{key} does not move {sheet}: {moved:?}");
        }
    }
    for key in ["commission.title", "commission.customer", "commission.drawn_by"] {
        assert_eq!(of(key), Vec::<String>::new(), "{key} is no figure");
    }
    let all = standing(&text("T-204-lantern-street.toml")).unwrap().now.sheets.len();
    for key in ["commission.number", "commission.hand"] {
        assert_eq!(of(key).len(), all, "{key} stands on every sheet and in every stamp");
    }
}

#[test]
fn no_stamp_moves_that_the_declared_table_does_not_know() {
    let commission = text("T-204-lantern-street.toml");
    let mut unknown = Vec::new();
    let mut seen = 0;
    for (key, sheets) in table("T-204-lantern-street.toml") {
        let Some(needs) = kerfbook::design::needs::NEEDS.iter().find(|need| need.key == key) else { continue };
        let declared: Vec<&str> = needs.waits.iter().map(|(sheet, _)| *sheet).collect();
        for sheet in sheets.into_iter().flatten().filter(|sheet| !GATHERING.contains(&sheet.as_str())) {
            seen += 1;
            if !declared.contains(&sheet.as_str()) {
                unknown.push(format!("{key} moves {sheet}"));
            }
        }
    }
    assert!(seen > 10 && commission.len() > 100, "{seen}");
    assert_eq!(unknown, Vec::<String>::new());
}

#[test]
fn what_moves_no_printed_figure_moves_no_stamp() {
    let commission = text("T-204-lantern-street.toml");
    let old = standing(&commission).unwrap();
    for (from, to) in [
        ("length = \"25 1/2 in\"", "length = \"647.7 mm\""),
        ("length = \"25 1/2 in\"", "length = \"647.70000001 mm\""),
        ("hand     = \"right\"", "hand     = \"right\"\npaper = \"letter\""),
        ("[scale]", "# a remark\n\n[scale]"),
        ("[scale]", "[parts]\nboard = 1\n\n[scale]"),
    ] {
        assert!(commission.contains(from), "{from}");
        let new = standing(&commission.replacen(from, to, 1)).unwrap();
        assert_eq!(moved(&old, &new), Vec::<String>::new(), "{to}");
        assert_eq!(old.stamp, new.stamp, "{to}");
    }
    let anew = standing(&commission.replacen("[scale]", "[parts]\nboard = 2\n\n[scale]", 1)).unwrap();
    assert_eq!(moved(&old, &anew).len(), old.now.sheets.len(), "a part made anew has sheets of its own");
}
