//! What is doubtful though it can be read: the wrong unit, odd fractions, waivers that waive nothing.
//!
//! The wrong units are those that a shop with rulers in both makes; no published source.

use kerfbook::diag::{Diagnostic, Severity, codes};

use crate::compiled::Compiled;
use crate::patch::Patched;

const PLAIN: &str = include_str!("../src/diag/pages/_plain.toml");
const LIT: &str = include_str!("../src/diag/pages/_lit.toml");

fn patched(base: &str, patch: &str) -> Compiled {
    Compiled::of(&Patched::of(base).with(patch, false).text(), None)
}

/// The findings but for what both bases have: slots open under the tang, a note.
fn but_for_the_base(compiled: &Compiled) -> impl Iterator<Item = &Diagnostic> {
    compiled.findings.iter().filter(|finding| finding.code != codes::SLOT_07)
}

/// Codes with their severity, in the order of the report.
fn found(compiled: &Compiled) -> Vec<String> {
    but_for_the_base(compiled).map(|finding| format!("{} {}", finding.code, finding.severity.word())).collect()
}

#[test]
fn a_length_in_the_wrong_unit_is_told_once_with_the_question() {
    for (base, patch, question, besides) in [
        (PLAIN, "[scale]\nlength = \"35 mm\"\n", "did you mean \"35 in\" (889 mm)?", "FRET-01 error"),
        (PLAIN, "[scale]\nlength = \"650 in\"\n", "did you mean \"650 mm\"?", "FRET-01 error"),
        (PLAIN, "[scale]\nlength = \"25 1/2 mm\"\n", "did you mean \"25 1/2 in\" (647.7 mm)?", "FRET-01 error"),
        (PLAIN, "[radius]\nboard = \"14 mm\"\n", "did you mean \"14 in\" (355.6 mm)?", "RADIUS-01 error"),
        (PLAIN, "[taper]\nwidth_nut = \"1.9 mm\"\n", "did you mean \"1.9 in\" (48.26 mm)?", "TAPER-02 error"),
        (PLAIN, "[board]\nthickness = \"1/4 mm\"\n", "did you mean \"1/4 in\" (6.35 mm)?", "SLOT-03 error"),
        (LIT, "[channels]\nexit_y = \"12 in bass\"\n", "did you mean \"12 mm bass\"?", "CHAN-16 error"),
        (LIT, "[lamp]\nlens_height = \"0.14\\\"\"\nproud = \"0.1 in\"\n", "did you mean \"0.1 mm\"?", ""),
        (PLAIN, "[board]\nthickness = \"7\u{201d}\"\n", "did you mean \"7 mm\"?", ""),
    ] {
        let compiled = patched(base, patch);
        let slips = compiled.of_code(codes::SPEC_10);
        let [slip] = slips.as_slice() else { panic!("{patch}\n{}", compiled.printed()) };
        assert_eq!(slip.severity, Severity::Warning);
        assert!(slip.message.ends_with(question), "{}", slip.message);
        if besides.is_empty() {
            continue;
        }
        let mut expected = vec!["SPEC-10 warning".to_owned(), besides.to_owned()];
        expected.sort();
        let mut own = found(&compiled);
        own.sort();
        assert_eq!(own, expected, "{patch}\n{}", compiled.printed());
        for finding in but_for_the_base(&compiled) {
            assert!(finding.code == codes::SPEC_10 || finding.help[0].ends_with(question), "{}", compiled.printed());
        }
    }
}

#[test]
fn what_is_plausible_as_it_stands_is_not_doubted() {
    for (base, patch) in [
        (PLAIN, "[scale]\nlength = \"35 in\"\n"),
        (PLAIN, "[scale]\nlength = \"13 5/8 in\"\n"),
        (PLAIN, "[radius]\nboard = \"7 1/4 in\"\n"),
        (PLAIN, "[radius]\nboard = \"flat\"\n"),
        (PLAIN, "[board]\nbinding = \"0 mm\"\n"),
        (PLAIN, "[slots]\nskim = \"0 in\"\n"),
        (PLAIN, "[taper]\nend_at = \"fret 12\"\n"),
        (LIT, "[channels]\nexit_y = \"1/2 in bass\"\n"),
        // Neither in the other unit nor far beyond: the check of its own says so, and asks nothing.
        (PLAIN, "[scale]\nlength = \"2700 mm\"\n"),
        (PLAIN, "[board]\nthickness = \"1.5 mm\"\n"),
    ] {
        let compiled = patched(base, patch);
        assert!(compiled.of_code(codes::SPEC_10).is_empty(), "{}", compiled.printed());
    }
}

#[test]
fn a_slip_hides_no_fault_beside_it() {
    let faults = "[slots]\nkerf = \"0.72 mm\"\n[markers]\ninset = \"5 mm\"\n";
    let compiled = patched(PLAIN, &format!("[scale]\nlength = \"35 mm\"\n{faults}"));
    let codes: Vec<_> = compiled.errors().into_iter().collect();
    assert_eq!(codes, ["FRET-01", "MARK-04", "WIRE-01"], "{}", compiled.printed());
    // And their figures are those of the board as it was meant.
    let right = patched(PLAIN, &format!("[scale]\nlength = \"35 in\"\n{faults}"));
    for finding in &right.findings {
        assert!(compiled.findings.contains(finding), "{}", finding.message);
    }
}

#[test]
fn an_odd_value_that_stops_nothing_is_taken_as_it_stands() {
    let compiled = patched(PLAIN, "[board]\nthickness = \"7 in\"\n");
    assert!(compiled.errors().is_empty(), "{}", compiled.printed());
    let slack = compiled.ask(|bench| kerfbook::checks::slack(codes::SLOT_03, bench)).flatten().unwrap();
    assert!(slack.error > 170.0, "{slack:?}");
    // What only the slip brings about asks the same.
    let gauge = "[strings]\nset = [{ note = \"E4\", gauge = \"0.010 mm\", kind = \"plain\" }, { note = \"B3\", gauge = \"0.013 in\", kind = \"plain\" }]\n";
    let compiled = patched(PLAIN, gauge);
    assert!(compiled.errors().is_empty() && compiled.findings.len() > 1, "{}", compiled.printed());
    let question = "`strings.set[1].gauge`: did you mean \"0.010 in\" (0.254 mm)?";
    for finding in but_for_the_base(&compiled).filter(|finding| finding.code != codes::SPEC_10) {
        assert_eq!(finding.help, [question], "{}", finding.message);
    }
}

#[test]
fn the_shop_file_is_doubted_too() {
    let shop = "[tools]\nbits = [\"3 mm\", \"2.5 mm\", \"1/8 mm\"]\nradius_blocks = [\"12 mm\"]\n[defaults.taper]\npast_last = \"10 in\"\n";
    let compiled = Compiled::of(PLAIN, Some(shop));
    let places: Vec<&str> = compiled.of_code(codes::SPEC_10).iter().map(|finding| finding.place.as_ref()).collect();
    assert_eq!(places, ["tools.bits", "tools.radius_blocks", "defaults.taper.past_last"], "{}", compiled.printed());
}

#[test]
fn fractions_of_an_inch_are_halved_and_halved_again() {
    let of = |value: &str| {
        let compiled = patched(PLAIN, &format!("[taper]\nwidth_nut = \"{value}\"\n"));
        compiled.of_code(codes::SPEC_11).iter().map(|finding| finding.help[0].clone()).collect::<Vec<_>>()
    };
    for value in ["1 11/16 in", "1 43/64 in", "1½ in", "1.7 in", "43 1/3 mm"] {
        assert!(of(value).is_empty(), "{value}");
    }
    for (value, nearest) in
        [("1 9/13 in", "1 11/16"), ("1 2/3 in", "1 43/64"), ("1⅔ in", "1 43/64"), ("19/12 in", "1 37/64")]
    {
        assert_eq!(of(value), [format!("the nearest 64th is {nearest} in")], "{value}");
    }
}

#[test]
fn a_waiver_without_its_finding_says_why() {
    let waiver = |place: &str| {
        format!(
            "[[waiver]]\ncode = \"MARK-04\"\nplace = \"{place}\"\nwhy = \"bound\"\nby = \"the builder\"\ndate = 2026-01-15\n"
        )
    };
    let help = |patch: &str| {
        let compiled = patched(PLAIN, patch);
        compiled.of_code(codes::SPEC_20).iter().map(|finding| finding.help[0].clone()).collect::<Vec<_>>()
    };
    let [near, nearer] = ["[markers]\ninset = \"6.5 mm\"\n", "[markers]\ninset = \"5 mm\"\n"];
    assert_eq!(help(&waiver("markers.inset")), ["MARK-04 finds nothing here; take it out"]);
    assert_eq!(
        help(&format!("{near}{}", waiver("markers.inset"))),
        ["what is found is a warning, which wants initials and no waiver"]
    );
    assert_eq!(help(&format!("{nearer}{}", waiver("hole 99"))), ["for what is found write place = \"markers.inset\""]);
    assert_eq!(
        help(&format!("{nearer}{}{}", waiver("markers.inset"), waiver("hole 99"))),
        ["another waiver covers what is found; take this one out"]
    );
    assert!(help(&format!("{nearer}{}", waiver("markers.inset"))).is_empty());
    // While the edges are open nobody can know.
    assert!(help(&format!("[taper]\nwidth_nut = \"open\"\n{}", waiver("markers.inset"))).is_empty());
}

#[test]
fn a_point_in_the_wrong_place_is_asked_for_and_its_consequences_wait() {
    for (patch, place, meant) in [
        ("[taper]\nwidth_end = \"580 mm\"\n", "taper.width_end", "\"58 mm\""),
        ("[board]\nthickness = \"0.74 mm\"\n", "board.thickness", "\"7.4 mm\""),
        ("[wire]\ntang_depth = \"17 mm\"\n", "wire.tang_depth", "\"1.7 mm\""),
        ("[strings]\nspread_saddle = \"520 mm\"\n", "strings.spread_saddle", "\"52 mm\""),
        ("[radius]\nboard = \"1.4 in\"\n", "radius.board", "\"14 in\" (355.6 mm)"),
        ("[channels]\nexit_y = \"180 mm bass\"\n", "channels.exit_y", "\"18 mm bass\""),
    ] {
        let compiled = patched(LIT, patch);
        let slips = compiled.of_code(codes::SPEC_10);
        let asked = slips.iter().any(|slip| slip.place == place && slip.message.contains(meant));
        assert!(asked, "{patch}{}", compiled.printed());
        assert!(compiled.errors().len() <= 2, "{patch}{}", compiled.printed());
    }
}
