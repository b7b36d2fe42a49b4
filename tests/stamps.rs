//! Which sheets' stamps a change of each key moves, held against the declared table of what depends on what; and what
//! moves none.

use std::collections::BTreeSet;
use std::path::Path;

use kerfbook::packet::{InputFile, Inputs, Standing, Templates, check};
use kerfbook::source::{SourceFile, Sources};

fn text(name: &str) -> String {
    std::fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join("specs").join(name)).unwrap()
}

/// How a commission stands in the demo shop; none where it has an error.
fn standing(commission: &str) -> Option<Standing> {
    standing_with(commission, None)
}

/// The same with an issues file.
fn standing_with(commission: &str, issues: Option<&str>) -> Option<Standing> {
    let mut sources = Sources::default();
    let mut add =
        |name: &str, text: &str| InputFile { id: sources.add(SourceFile::new(name, text)), path: name.to_owned() };
    let (commission, shop) = (add("stamps.toml", commission), add("shop.toml", &text("shop.toml")));
    let issues = issues.map(|text| add("stamps.issues.toml", text));
    check(&Inputs { sources, commission, shop: Some(shop), issues, templates: Templates::default() }).standing
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

/// The demo commissions: lit and unlit, a fan, a zero fret on a bound board, neck first with an open radius, flat,
/// left-handed, another division of the octave, issued twice.
fn demos() -> Vec<(String, String)> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("specs");
    let names = std::fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().file_name().into_string().unwrap());
    let is_commission = |name: &String| name.starts_with("T-") && !name.ends_with(".issues.toml");
    let mut names: Vec<String> = names.filter(is_commission).collect();
    names.sort();
    let demos: Vec<_> = names.into_iter().map(|name| (name.clone(), text(&name))).collect();
    for what in ["nut_at     = \"zero fret\"", "binding ", "square_fret", "\"neck first\"", "\"flat\"", "\"left\""] {
        assert!(demos.iter().any(|(_, text)| text.contains(what)), "no demo has {what}");
    }
    demos
}

/// A commission with a key of `[commission]` set.
fn with_key(commission: &str, key: &str, value: &str) -> String {
    let is_key = |line: &&str| line.split_once('=').is_none_or(|(own, _)| own.trim() != key);
    let without: Vec<&str> = commission.lines().filter(is_key).collect();
    without.join("\n").replacen("[commission]", &format!("[commission]\n{key} = {value}"), 1)
}

#[test]
fn prose_paper_customer_letter_and_date_move_no_stamp_of_any_commission() {
    for (name, commission) in demos() {
        let old = standing(&commission).unwrap();
        for (key, value) in [
            ("title", "\"Another name\""),
            ("customer", "\"Somebody else, invented\""),
            ("drawn_by", "\"bench nine\""),
            ("due", "2031-07-01"),
            ("paper", "\"letter\""),
        ] {
            let new = standing(&with_key(&commission, key, value)).unwrap_or_else(|| panic!("{name}: {key}"));
            assert_eq!(moved(&old, &new), Vec::<String>::new(), "{name}: {key}");
            assert_eq!(old.stamp, new.stamp, "{name}: {key}");
        }
        let mut issued = String::new();
        for (letter, day) in [("A", "2026-03-02"), ("B", "2027-04-05")] {
            let issue = kerfbook::spec::issues::Issue {
                letter: letter.to_owned(),
                ..old.next_issue(kerfbook::spec::date::Date::from_text(day).unwrap(), letter, day)
            };
            let before = standing_with(&commission, Some(&issued)).unwrap().issues;
            issued = kerfbook::spec::issues::with_issue(&issued, &before, &issue);
            let new = standing_with(&commission, Some(&issued)).unwrap();
            assert_eq!(new.issued().map(|issue| issue.letter.as_str()), Some(letter), "{name}");
            assert_eq!(moved(&old, &new), Vec::<String>::new(), "{name}: issue {letter}");
            assert_eq!(old.stamp, new.stamp, "{name}: issue {letter}");
        }
    }
}

/// The commission once for each of its tables, with all lengths of that table longer by a millionth of a
/// thousandth of a millimetre: less than any sheet prints.
fn nudged(commission: &str) -> Vec<(String, String)> {
    let mut table = "";
    let mut lines: Vec<(&str, &str, Option<String>)> = Vec::new();
    for line in commission.lines() {
        if line.starts_with('[') {
            table = line;
        }
        let length = line.split_once(" mm\"").and_then(|(before, after)| {
            let (key, figure) = before.rsplit_once('"')?;
            let longer = figure.parse::<f64>().ok()? + 1e-9;
            Some(format!("{key}\"{longer:.9} mm\"{after}"))
        });
        lines.push((table, line, length));
    }
    let tables: BTreeSet<&str> =
        lines.iter().filter(|(.., length)| length.is_some()).map(|(table, ..)| *table).collect();
    let changed = |own: &str| {
        let line = |(table, line, length): &(&str, &str, Option<String>)| match length {
            Some(length) if *table == own => length.clone(),
            _ => (*line).to_owned(),
        };
        lines.iter().map(line).collect::<Vec<_>>().join("\n")
    };
    tables.into_iter().map(|table| (table.to_owned(), changed(table))).collect()
}

#[test]
fn what_moves_no_printed_figure_moves_no_stamp_of_any_commission() {
    let mut tables = 0;
    for (name, commission) in demos() {
        let old = standing(&commission).unwrap();
        for (table, longer) in nudged(&commission) {
            tables += 1;
            assert_ne!(longer, commission);
            let new = standing(&longer).unwrap_or_else(|| panic!("{name}: {table} has an error"));
            assert_eq!(moved(&old, &new), Vec::<String>::new(), "{name}: {table}");
        }
    }
    assert!(tables > 40, "{tables} tables");
}

/// What a stamp covers of a sheet: names and rows, no headings.
fn figures(sheet: &kerfbook::spec::issues::SheetState) -> Vec<(&str, &[Vec<String>])> {
    sheet.printed.iter().map(|table| (table.name.as_str(), table.rows.as_slice())).collect()
}

#[test]
fn a_stamp_moves_exactly_where_a_printed_figure_of_its_sheet_moves() {
    let (mut kept, mut changed) = (0, 0);
    for (name, commission) in demos() {
        let old = standing(&commission).unwrap();
        let mut done = BTreeSet::new();
        for (key, edits) in edits(&commission) {
            // Number and hand are in every stamp, beside the figures; one key tells for its table.
            let table = key.split('.').next().unwrap_or("").to_owned();
            if table == "commission" || done.contains(&table) {
                continue;
            }
            let Some(new) = edits.iter().find_map(|edit| standing(edit)) else { continue };
            if moved(&old, &new).is_empty() {
                continue;
            }
            done.insert(table);
            for was in &old.now.sheets {
                let Some(is) = new.now.sheet(&was.sheet) else { continue };
                assert_eq!(was.stamp == is.stamp, figures(was) == figures(is), "{name}: {key}: {}", was.sheet);
                *(if was.stamp == is.stamp { &mut kept } else { &mut changed }) += 1;
            }
        }
    }
    assert!(kept > 200 && changed > 100, "{kept} stamps stayed, {changed} moved");
}

#[test]
fn a_radius_moves_slots_seats_and_blocks_and_never_fret_places_or_wires() {
    // Geometry: heights, depths and bends follow from the radius (the edge of the taper, the bend of the wire too);
    // places along the centreline and Ohm's law do not.
    for (name, commission) in demos() {
        let (from, to) = [
            ("board = \"16 in\"", "board = \"15 in\""),
            ("board = \"12 in\"", "board = \"13 in\""),
            ("board = \"9 1/2 in\"", "board = \"10 in\""),
            ("board = \"open\"", "board = \"12 in\""),
            ("board = \"flat\"", "board = \"16 in\""),
            ("nut    = \"16 in\"", "nut    = \"15 in\""),
        ]
        .into_iter()
        .find(|(from, _)| commission.contains(from))
        .unwrap_or_else(|| panic!("{name}: which radius?"));
        let old = standing(&commission).unwrap();
        let new = standing(&commission.replacen(from, to, 1)).unwrap_or_else(|| panic!("{name}: {to} is an error"));
        let moved = moved(&old, &new);
        let has = |sheet: &str| old.now.sheet(sheet).is_some() || new.now.sheet(sheet).is_some();
        for sheet in ["slot-depth", "radius", "lamp-seats"].into_iter().filter(|sheet| has(sheet)) {
            assert!(moved.iter().any(|own| own == sheet), "{name}: {sheet} follows from the radius: {moved:?}");
        }
        for sheet in ["fret-table", "wiring"] {
            assert!(moved.iter().all(|own| own != sheet), "{name}: {sheet} has nothing of the radius: {moved:?}");
        }
    }
}
