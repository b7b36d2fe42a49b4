//! Whole commissions judged: what is missing, contradictory, half.

use crate::diag::Report;
use crate::source::{SourceFile, Sources};
use crate::spec;

/// A commission that agrees with itself; figures invented.
const SOUND: &str = r#"format = 1
[commission]
number = "T-1"
title = "Sound"
[scale]
length = "25 in"
[frets]
count = 22
[wire]
pattern = "medium"
[slots]
kerf = "0.56 mm"
[radius]
board = "flat"
[taper]
width_nut = "43 mm"
width_end = "56 mm"
end_at = "last fret"
[board]
wood = "maple"
thickness = "6 mm"
[strings]
spread_nut = "36 mm"
spread_saddle = "52 mm"
set = [{ note = "E4", gauge = "0.010 in", kind = "plain" }]
"#;

/// The findings of a commission judged alone, one a line: `line code place: message`.
fn judged(text: &str) -> Vec<String> {
    let mut sources = Sources::default();
    let file = sources.add(SourceFile::new("test.toml", text));
    let mut report = Report::default();
    let commission = spec::read(&sources, file, &mut report);
    spec::judge(&spec::filled(&commission, None), &mut report);
    shown(&sources, report)
}

fn judged_shop(text: &str) -> Vec<String> {
    let mut sources = Sources::default();
    let file = sources.add(SourceFile::new("shop.toml", text));
    let mut report = Report::default();
    spec::read_shop(&sources, file, &mut report);
    shown(&sources, report)
}

fn shown(sources: &Sources, mut report: Report) -> Vec<String> {
    report.sort();
    let line = |finding: &crate::diag::Diagnostic| {
        let span = finding.primary.as_ref().expect("every finding has its place").span;
        let line = sources.range(span).0.line;
        format!("{line} {} {}: {}", finding.code, finding.place, finding.message)
    };
    report.findings().iter().map(line).collect()
}

/// The sound commission with one part changed.
fn changed(from: &str, to: &str) -> Vec<String> {
    assert!(SOUND.contains(from), "{from}");
    judged(&SOUND.replacen(from, to, 1))
}

#[test]
fn a_sound_commission_has_no_finding() {
    assert_eq!(judged(SOUND), Vec::<String>::new());
}

#[test]
fn an_empty_file_lacks_every_required_table() {
    let found = judged("");
    let tables = ["commission", "scale", "frets", "wire", "slots", "radius", "taper", "board", "strings"];
    let expected: Vec<String> =
        tables.iter().map(|table| format!("1 SPEC-02 {table}: the table `[{table}]` is missing")).collect();
    assert_eq!(found, expected);
}

#[test]
fn a_required_key_that_is_missing_is_named_at_its_table() {
    assert_eq!(changed("number = \"T-1\"\n", ""), ["2 SPEC-02 commission.number: `commission.number` is missing"]);
    assert_eq!(changed("kerf = \"0.56 mm\"\n", ""), ["11 SPEC-02 slots.kerf: `slots.kerf` is missing"]);
    assert_eq!(changed("length = \"25 in\"\n", ""), ["5 SPEC-02 scale.length: `scale.length` is missing"]);
    assert_eq!(changed("board = \"flat\"\n", ""), ["13 SPEC-02 radius.board: `radius.board` is missing"]);
    assert_eq!(
        changed(", gauge = \"0.010 in\"", ""),
        ["25 SPEC-02 strings.set[1].gauge: `strings.set[1].gauge` is missing"]
    );
    assert_eq!(
        changed("[{ note = \"E4\", gauge = \"0.010 in\", kind = \"plain\" }]", "[]"),
        ["25 SPEC-06 strings.set: `strings.set` has no strings in it"]
    );
}

#[test]
fn a_table_that_is_no_table_is_found_once() {
    let text = SOUND.replace("[slots]\nkerf = \"0.56 mm\"\n", "").replace("format = 1\n", "format = 1\nslots = 5\n");
    assert_eq!(judged(&text), ["2 SPEC-06 slots: `slots` = 5: a table is wanted"]);
}

#[test]
fn two_ways_to_say_a_thing_are_an_error_at_the_second() {
    assert_eq!(
        changed("length = \"25 in\"", "bass = \"26 in\"\nlength = \"25 in\""),
        ["7 SPEC-07 scale.length: one scale or two, not both"]
    );
    assert_eq!(
        changed("board = \"flat\"", "board = \"flat\"\nnut = \"10 in\""),
        ["15 SPEC-07 radius.nut: one radius or a cone, not both"]
    );
    assert_eq!(
        changed("width_nut", "string_to_edge_end = \"3 mm\"\nwidth_nut"),
        ["17 SPEC-07 taper.width_nut: the edges come from widths or from the strings, not from both"]
    );
    assert_eq!(
        changed("count = 22", "count = 22\nbehind_nut = \"9 mm\""),
        ["9 SPEC-07 frets.behind_nut: the board's end is the zero line, so there is no wood behind the nut"]
    );
}

#[test]
fn half_of_a_set_names_the_missing_half() {
    assert_eq!(changed("end_at = \"last fret\"\n", ""), ["16 SPEC-08 taper.end_at: 56 mm where?"]);
    assert_eq!(
        changed("board = \"flat\"", "nut = \"10 in\"\nend = \"16 in\""),
        ["14 SPEC-08 radius.end_at: 16 in where?"]
    );
    assert_eq!(
        changed("length = \"25 in\"", "bass = \"26 in\"\ntreble = \"25 in\""),
        ["6 SPEC-08 scale.square_fret: a fan needs `scale.square_fret`"]
    );
    assert_eq!(
        changed("count = 22", "count = 22\nnut_at = \"slot\""),
        ["9 SPEC-08 frets.behind_nut: `frets.behind_nut` is missing: how much wood lies behind the zero line?"]
    );
    assert_eq!(
        changed(
            "width_nut = \"43 mm\"\nwidth_end = \"56 mm\"\nend_at = \"last fret\"",
            "string_to_edge_nut_treble = \"3 mm\""
        ),
        [
            "16 SPEC-08 taper.string_to_edge_nut: a taper from the strings needs `taper.string_to_edge_nut`",
            "16 SPEC-08 taper.string_to_edge_end: a taper from the strings needs `taper.string_to_edge_end`",
        ]
    );
}

#[test]
fn lit_markers_need_their_tables_and_others_must_not_have_them() {
    let lit = format!("{SOUND}[markers]\nkind = \"lit\"\n");
    assert_eq!(
        judged(&lit),
        ["lamp", "channels", "electronics.lamps"]
            .map(|table| { format!("27 SPEC-08 {table}: the markers are lit, and the table `[{table}]` is missing") })
    );
    let plain = format!("{SOUND}[markers]\n[lamp]\npattern = \"3 mm flat\"\n[channels]\nmargin = \"4 mm\"\n");
    assert_eq!(judged(&plain), ["27 SPEC-18 lamp: the markers are plain: nothing to light"]);
    let none = format!("{SOUND}[electronics.lamps]\nsupply = \"9 V\"\n");
    assert_eq!(judged(&none), ["26 SPEC-18 electronics.lamps: there are no markers: nothing to light"]);
    let unread = format!("{SOUND}[markers]\nkind = \"lti\"\n[lamp]\n");
    assert_eq!(judged(&unread), ["27 SPEC-06 markers.kind: `markers.kind` = \"lti\": lit, plain or none"]);
}

#[test]
fn a_pocket_is_round_or_not_and_the_neck_has_one_width() {
    let body = r#"[neck]
pocket_width = "56 mm"
[[body.pocket]]
name = "neck"
holds = "neck"
face = "front"
x = "470 mm"
y = "centre"
length = "70 mm"
width = "57 mm"
depth = "16 mm"
[[body.pocket]]
name = "a"
holds = "pickup"
face = "front"
x = "600 mm"
y = "centre"
length = "70 mm"
diameter = "20 mm"
depth = "16 mm"
[[electronics.pickup]]
name = "bridge"
"#;
    assert_eq!(
        judged(&format!("{SOUND}{body}")),
        [
            "35 SPEC-07 body.pocket[1].width: `body.pocket[1].width` is 57.00 mm and `neck.pocket_width` is 56.00 mm: one pocket has one width",
            "44 SPEC-07 body.pocket[2].diameter: a pocket is round or has a length and a width, not both",
            "46 SPEC-08 electronics.pickup[1].place: `electronics.pickup[1].place` is missing, and no pocket of the body holds the pickup",
        ]
    );
}

#[test]
fn an_action_has_two_sides_and_a_bridge_two_heights() {
    let setup = "[setup]\naction_12 = { treble = \"1.5 mm\" }\nbridge_height = [\"16 mm\", \"10 mm\"]\n";
    assert_eq!(
        judged(&format!("{SOUND}{setup}")),
        [
            "27 SPEC-08 setup.action_12.bass: `setup.action_12.bass` is missing",
            "28 SPEC-06 setup.bridge_height: `setup.bridge_height`: the lowest setting is above the highest",
        ]
    );
}

#[test]
fn an_override_changes_something_in_its_own_unit() {
    let limits = r#"[limits]
"CHAN-01" = { error = "1 V", why = "x" }
"CHAN-02" = { error = 1, why = "x" }
"CHAN-03" = { why = "x" }
"FRET-02" = { error = [1, 40], why = "x" }
"SPEC-01" = { error = 1, why = "x" }
"LAMP-01" = { value = "1 mm", why = "x" }
"slot depth" = { error = "1 mm", why = "x" }
"#;
    assert_eq!(
        judged(&format!("{SOUND}{limits}")),
        [
            "27 SPEC-04 limits.CHAN-01.error: `limits.CHAN-01.error` must be in mm or in",
            "28 SPEC-03 limits.CHAN-02.error: `limits.CHAN-02.error` = 1: a length without its unit",
            "29 SPEC-16 limits.CHAN-03: `limits.CHAN-03` changes nothing",
            "31 SPEC-16 limits.SPEC-01: `limits.SPEC-01` overrides nothing: SPEC-01 has no limit",
            "32 SPEC-16 limits.LAMP-01.value: `limits.LAMP-01` has no `value`",
            "33 SPEC-16 limits.slot depth.error: `limits.slot depth` has no `error`",
        ]
    );
}

#[test]
fn a_shop_gives_each_row_its_id_and_no_id_twice() {
    let shop = r#"[shop]
paper = "a4"
[tools]
blades = [{ name = "A", kerf = "0.5 mm" }, { name = "A" }]
[[wood]]
id = "elm"
[[wood]]
id = "elm"
[[stock]]
id = "x"
[[strings]]
id = "four"
set = []
[defaults.commission]
paper = "letter"
"#;
    assert_eq!(
        judged_shop(shop),
        [
            "4 SPEC-02 tools.blades[2].kerf: `tools.blades[2].kerf` is missing",
            "4 SPEC-07 tools.blades[2].name: `tools.blades[2].name` = \"A\" is there twice",
            "8 SPEC-07 wood[2].id: `wood[2].id` = \"elm\" is there twice",
            "9 SPEC-02 stock[1].kind: `stock[1].kind` is missing",
            "13 SPEC-06 strings[1].set: `strings[1].set` has no strings in it",
            "15 SPEC-07 defaults.commission.paper: `shop.paper` and `defaults.commission.paper` disagree",
        ]
    );
}
