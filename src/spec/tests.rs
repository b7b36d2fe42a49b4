//! Whole files through the reader: what is read, what is found, and where.

use super::table::Table;
use super::*;
use crate::source::SourceFile;

/// The findings of a text, one a line: `line:column code place: message | help`.
fn findings(text: &str, shop: bool) -> Vec<String> {
    let mut sources = Sources::default();
    let file = sources.add(SourceFile::new("test.toml", text));
    let mut report = Report::default();
    if shop {
        read_shop(&sources, file, &mut report);
    } else {
        read(&sources, file, &mut report);
    }
    report.sort();
    let mut lines = Vec::new();
    for finding in report.findings() {
        let label = finding.primary.as_ref().expect("every finding of the reader has its place");
        assert!(label.span.end <= text.len() && label.span.start <= label.span.end, "{finding:?}");
        let at = sources.get(file).position(label.span.start);
        let help: String = finding.help.iter().map(|help| format!(" | {help}")).collect();
        lines.push(format!("{}:{} {} {}: {}{help}", at.line, at.column, finding.code, finding.place, finding.message));
    }
    lines
}

/// A commission that uses every key of the language; figures invented.
const EVERY_KEY: &str = include_str!("tests/every-key.toml");

/// A shop file that uses every key; figures invented.
const EVERY_SHOP_KEY: &str = include_str!("tests/every-shop-key.toml");

#[test]
fn every_key_of_the_language_is_read_without_a_finding() {
    assert_eq!(findings(EVERY_KEY, false), Vec::<String>::new());
    assert_eq!(findings(EVERY_SHOP_KEY, true), Vec::<String>::new());
}

#[test]
fn the_sample_holds_every_key_that_is_declared() {
    // A key that is declared and not in the sample would be untested; `format` and rows are counted by name.
    let has = |key: &str| {
        EVERY_KEY.lines().any(|line| {
            let words = line.replace(['[', ']', '{', ',', '.'], " ");
            let mut words = words.split_whitespace().peekable();
            std::iter::from_fn(|| words.next()).any(|word| word == key)
        })
    };
    for (table, keys) in tables::HOMES {
        for key in *keys {
            assert!(has(key), "{table}.{key} is not in the sample");
        }
    }
    for key in Spec::KEYS {
        assert!(has(key), "{key} is not in the sample");
    }
}

#[test]
fn every_key_written_wrongly_is_found_where_it_stands() {
    // Each line of the sample that sets a key by itself is spoiled in turn; the reader must say so on that line.
    for (index, line) in EVERY_KEY.lines().enumerate() {
        let Some((key, value)) = line.split_once(" = ") else { continue };
        if key.starts_with([' ', '#', '"', '{']) || value.trim_start().starts_with('[') && !value.contains(']') {
            continue;
        }
        for (spoiled, code) in
            [(format!("{}x = {value}", key.trim()), "SPEC-01"), (format!("{} = {{ }}", key.trim()), "")]
        {
            let lines: Vec<&str> = EVERY_KEY
                .lines()
                .enumerate()
                .map(|(at, line)| if at == index { spoiled.as_str() } else { line })
                .collect();
            let found = findings(&lines.join("\n"), false);
            let group =
                ["blank", "side", "action_1", "action_12", "set", "coats", "screws", "partial"].contains(&key.trim());
            if code.is_empty() && group {
                continue;
            }
            assert_eq!(found.len(), 1, "{spoiled}: {found:?}");
            assert!(found[0].starts_with(&format!("{}:", index + 1)), "{spoiled}: {found:?}");
            assert!(found[0].contains(code), "{spoiled}: {found:?}");
        }
    }
}

#[test]
fn a_misspelt_key_is_answered_with_the_nearest_one() {
    assert_eq!(
        findings("[wire]\ntang_dpeth = \"1.7 mm\"\nkerf = \"0.5 mm\"\n[slotz]\nkerf = \"0.5 mm\"\n[tools]\n", false),
        [
            "2:1 SPEC-01 wire.tang_dpeth: `wire.tang_dpeth` is not a word of this table | did you mean `tang_depth`?",
            "3:1 SPEC-01 wire.kerf: `wire.kerf` is not a word of this table | `kerf` belongs to `[slots]`",
            "4:2 SPEC-01 slotz: `slotz` is not a table or key of this file | did you mean `slots`?",
            "6:2 SPEC-01 tools: `tools` is not a table or key of this file | `[tools]` belongs to the shop file, shop.toml",
        ]
    );
}

#[test]
fn all_problems_are_found_at_once_each_with_its_place() {
    let text = r#"
[commission]
number = ""
title = 7
hand = "lefty"
due = 2026-02-30
[scale]
length = 26.25
divisions = "12"
[frets]
count = "open"
[wire]
crown_width = "2.3"
tang_depth = "1.7 V"
tang_width = "1/0 mm"
overhang = "-3 mm"
[board]
thickness = "0 mm"
blank = { length = "540 mm", widht = "74 mm" }
[channels]
exit_y = "13 mm"
[strings]
set = [
  { note = "E4", gauge = "0.0095 in", kind = "plain" },
  { note = "H3", gauge = 0.0125, kind = "pain" },
]
[[materials]]
price = "3.50 EUR"
"#;
    assert_eq!(
        findings(text, false),
        [
            "3:10 SPEC-14 commission.number: `commission.number` is empty",
            "4:9 SPEC-06 commission.title: `commission.title` = 7: a text in quotes is wanted | write \"7\"",
            "5:8 SPEC-06 commission.hand: `commission.hand` = \"lefty\": right or left | did you mean \"left\"?",
            "6:7 SPEC-06 commission.due: `commission.due` = 2026-02-30 is not a day of the calendar | write year-month-day: 2026-03-01",
            "8:10 SPEC-03 scale.length: `scale.length` = 26.25: a length without its unit | write \"26.25 in\" (the same as \"666.75 mm\") or \"26.25 mm\"",
            "9:13 SPEC-06 scale.divisions: `scale.divisions` = \"12\": a whole number is wanted | write 12 without quotes",
            "11:9 SPEC-06 frets.count: `frets.count` = \"open\": a whole number is wanted | a bare count cannot be left open",
            "13:15 SPEC-03 wire.crown_width: `wire.crown_width` = \"2.3\": a length without its unit | write \"2.3 in\" (the same as \"58.42 mm\") or \"2.3 mm\"",
            "14:14 SPEC-04 wire.tang_depth: `wire.tang_depth` must be in mm or in, not in `V`",
            "15:14 SPEC-05 wire.tang_width: `wire.tang_width` = \"1/0 mm\": nothing can be divided by 0",
            "16:12 SPEC-09 wire.overhang: `wire.overhang` = \"-3 mm\": must not be less than zero",
            "18:13 SPEC-09 board.thickness: `board.thickness` = \"0 mm\": must be more than zero",
            "19:30 SPEC-01 board.blank.widht: `board.blank.widht` is not a word of this table | did you mean `width`?",
            "21:10 SPEC-05 channels.exit_y: `channels.exit_y` = \"13 mm\": it does not say which side: add \"bass\" or \"treble\"",
            "25:12 SPEC-05 strings.set[2].note: `strings.set[2].note` = \"H3\": a note is a letter and its octave: \"E4\", \"F#3\", \"Bb2\"",
            "25:26 SPEC-03 strings.set[2].gauge: `strings.set[2].gauge` = 0.0125: a length without its unit | write \"0.0125 in\" (the same as \"0.3175 mm\") or \"0.0125 mm\"",
            "25:41 SPEC-06 strings.set[2].kind: `strings.set[2].kind` = \"pain\": plain, wound, nylon, wound nylon, fluorocarbon or gut | did you mean \"plain\"?",
            "28:9 SPEC-04 materials[1].price: `materials[1].price` must stand without a unit, not with `EUR` | a price is in the shop's currency: \"3.50\"",
        ]
    );
}

#[test]
fn syntax_errors_are_told_in_plain_words_and_the_rest_is_read() {
    let text = "[wire]\ncrown_width = 2.3 mm\ntang_depth =\nstick : \"600 mm\"\n[slots\nkerf = \"0,56 mm\"\n[board]\nthickness = \"7.4 mm\nwood = \"wenge\"\nwood = \"ash\"\n[markers]\nsingle = [3, 5\ndouble = [12]\n[board]\nbinding = 2\n";
    assert_eq!(
        findings(text, false),
        [
            "2:15 SPEC-12 wire.crown_width: `wire.crown_width` = 2.3 mm is not in quotes | write \"2.3 mm\"",
            "3:13 SPEC-12 wire.tang_depth: `wire.tang_depth` has no value | write a value behind the =, or take the line out",
            "4:7 SPEC-12 wire.stick: `wire.stick` has no = | write key = value",
            "5:1 SPEC-12 slots: the header `[slots` is not whole | write [slots]",
            "6:8 SPEC-05 slots.kerf: `slots.kerf` = \"0,56 mm\": a comma can be misread: write 0.56",
            "8:20 SPEC-12 board.thickness: `board.thickness` has a quote that is not closed | end the text with the quote that began it",
            "10:1 SPEC-12 board.wood: `board.wood` is written twice | keep one of them",
            "12:10 SPEC-12 markers.single: the list of `markers.single` is not closed | end it with ]",
            "14:1 SPEC-12 board: the table `[board]` is there twice | keep one of them",
            "15:11 SPEC-03 board.binding: `board.binding` = 2: a length without its unit | write \"2 in\" (the same as \"50.8 mm\") or \"2 mm\"",
        ]
    );
}

#[test]
fn what_cannot_be_read_is_faulty_and_not_missing() {
    let mut sources = Sources::default();
    let text = "[board]\nthickness = 7.4 mm\nwood = \"open\"\nbinding = \"x\"\n";
    let file = sources.add(SourceFile::new("test.toml", text));
    let spec = read(&sources, file, &mut Report::default());
    let board = spec.board.as_ref().and_then(|board| board.value()).unwrap();
    assert!(board.thickness.as_ref().unwrap().is_faulty());
    assert!(board.wood.as_ref().unwrap().is_open());
    assert!(board.binding.as_ref().unwrap().is_faulty());
    assert_eq!(board.missing().next(), None);
}

#[test]
fn a_misspelt_key_is_not_missing_besides() {
    let mut sources = Sources::default();
    let text = "[comission]\nnumber = \"1\"\n[board]\nthicknes = \"7 mm\"\nwood = \"elm\"\n";
    let file = sources.add(SourceFile::new("test.toml", text));
    let mut report = Report::default();
    let spec = read(&sources, file, &mut report);
    assert_eq!(report.findings().len(), 2);
    assert!(spec.commission.as_ref().unwrap().is_faulty());
    let board = spec.board.as_ref().and_then(|board| board.value()).unwrap();
    assert!(board.thickness.as_ref().unwrap().is_faulty());
    assert_eq!(board.missing().count(), 0);
}

#[test]
fn a_size_of_another_kind_in_the_stock_is_found() {
    assert_eq!(
        findings("[[stock]]\nid = \"a\"\nkind = \"wire\"\ntang_depth = \"1.7 mm\"\nlens = \"3 mm\"\n", true),
        ["5:1 SPEC-01 stock[1].lens: `stock[1].lens` is not a word of this table | `lens` belongs to `[lamp]`"]
    );
}

#[test]
fn an_override_names_something_and_says_why() {
    let text = "[limits]\n\"CHAN-01\" = { warning = \"1.2 mm\", error = \"1.0 mm\" }\n\"CHAN-91\" = { error = \"1 mm\", why = \"x\" }\n[tolerances]\n\"slot position\" = { value = \"0.1 mm\", why = \"\" }\n";
    assert_eq!(
        findings(text, false),
        [
            "2:1 SPEC-16 limits.CHAN-01: `limits.CHAN-01` overrides a default without its `why` | add why = \"the reason\": it is printed on the cover",
            "3:1 SPEC-16 limits.CHAN-91: `limits.CHAN-91` overrides nothing: there is no such code or tolerance | did you mean \"CHAN-01\"?",
            "5:45 SPEC-14 tolerances.slot position.why: `tolerances.slot position.why` is empty",
        ]
    );
}

#[test]
fn another_edition_of_the_language_is_refused() {
    assert_eq!(findings("format = 2\n", false), ["1:10 SPEC-06 format: `format` = 2: this program reads format 1"]);
}

#[test]
fn no_text_makes_the_reader_panic() {
    let mut texts: Vec<String> = vec![
        String::new(),
        "\u{feff}".to_owned(),
        "\0".to_owned(),
        "[".repeat(10_000),
        "a = [".to_owned() + &"[".repeat(10_000),
    ];
    texts.push(format!("x = \"{}\"", "½".repeat(50_000)));
    texts.push("[[wood]]\n".repeat(5_000));
    texts.push("a.".repeat(20_000) + "b = 1");
    // Every line of the sample dropped, doubled, cut in the middle.
    let lines: Vec<&str> = EVERY_KEY.lines().collect();
    for index in 0..lines.len() {
        let mut dropped = lines.clone();
        dropped.remove(index);
        texts.push(dropped.join("\n"));
        let mut doubled = lines.clone();
        doubled.insert(index, lines[index]);
        texts.push(doubled.join("\r\n"));
        let mut cut = lines.clone();
        let middle = (0..=lines[index].len() / 2).rev().find(|at| lines[index].is_char_boundary(*at)).unwrap_or(0);
        cut[index] = &lines[index][..middle];
        texts.push(cut.join("\n"));
    }
    for text in texts {
        findings(&text, false);
        findings(&text, true);
    }
}

proptest::proptest! {
    #![proptest_config(proptest::prelude::ProptestConfig { failure_persistence: None, rng_seed: proptest::test_runner::RngSeed::Fixed(2026), ..proptest::prelude::ProptestConfig::with_cases(300) })]

    #[test]
    fn scraps_of_files_in_any_order_are_read_without_panic(scraps in proptest::collection::vec(0..SCRAPS.len(), 0..30)) {
        let text: String = scraps.into_iter().map(|scrap| SCRAPS[scrap]).collect();
        findings(&text, false);
        findings(&text, true);
    }
}

/// Pieces of commission files, whole and broken.
const SCRAPS: [&str; 28] = [
    "[wire]",
    "[[body.pocket]]",
    "[",
    "]",
    "{",
    "}",
    "\n",
    "\r\n",
    " = ",
    "\"",
    "'",
    "\"\"\"",
    "#",
    ",",
    "½",
    "–",
    "kerf",
    "format",
    "set",
    "25 1/2 in",
    "\"open\"",
    "1",
    "2026-02-30",
    "\\",
    ".",
    "\u{feff}",
    "[limits]\n\"CHAN-01\" = ",
    "\0",
];
