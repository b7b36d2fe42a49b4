//! Strings, neck and body: the worked figures of two invented commissions, and what the checks make of them.
//!
//! The worked figures are derived, not published: computed by hand and by a second program that shares no code with
//! this one. They are held through the checks, whose slack is the figure less its limit.

use std::path::Path;

use kerfbook::checks::{self, Slack};
use kerfbook::design::neck::NeckPlace;
use kerfbook::diag::{Code, Severity, codes};

use crate::compiled::Compiled;
use crate::patch::Patched;

/// Set-up and body of the worked lit seven-string.
const SEVEN: &str = r#"
[setup]
action_1      = { treble = "0.4 mm", bass = "0.6 mm" }
action_12     = { treble = "1.5 mm", bass = "1.9 mm" }
saddle_travel = "9 mm"
bridge_height = ["10 mm", "16 mm"]

[[electronics.pickup]]
name = "neck"

[[electronics.pickup]]
name = "bridge"

[body]
wood      = "ash"
thickness = "44 mm"

[[body.pocket]]
name      = "neck"
holds     = "neck"
face      = "front"
x         = "479.2 mm"
y         = "centre"
length    = "78.4 mm"
width     = "65.3 mm"
taper     = "neck"
corner    = "6 mm"
depth     = "16 mm"
floor_min = "18 mm"

[[body.pocket]]
name      = "neck pickup"
holds     = "pickup"
pickup    = "neck"
face      = "front"
x         = "548 mm"
y         = "centre"
length    = "40 mm"
width     = "98 mm"
corner    = "5 mm"
depth     = "20 mm"
floor_min = "5 mm"

[[body.pocket]]
name      = "bridge pickup"
holds     = "pickup"
pickup    = "bridge"
face      = "front"
x         = "634 mm"
y         = "centre"
length    = "40 mm"
width     = "98 mm"
corner    = "5 mm"
depth     = "20 mm"
floor_min = "5 mm"

[[body.pocket]]
name      = "controls"
holds     = "controls"
face      = "back"
x         = "716 mm"
y         = "64 mm treble"
length    = "95 mm"
width     = "60 mm"
corner    = "8 mm"
depth     = "36 mm"
floor_min = "5 mm"

[[body.pocket]]
name      = "battery"
holds     = "battery"
face      = "back"
x         = "716 mm"
y         = "70 mm bass"
length    = "56 mm"
width     = "32 mm"
corner    = "6 mm"
depth     = "23 mm"
floor_min = "5 mm"

[[body.hole]]
name     = "volume"
face     = "front"
x        = "690 mm"
y        = "64 mm treble"
diameter = "8 mm"
depth    = "through"

[[body.hole]]
name     = "lamp wires"
face     = "front"
x        = "exit"
y        = "13 mm bass"
diameter = "6 mm"
depth    = "20 mm"
"#;

/// The worked lit seven-string with its body.
fn seven() -> Patched {
    spec("lit-seven.toml").with(SEVEN, false)
}

fn spec(name: &str) -> Patched {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/specs").join(name);
    Patched::of(&std::fs::read_to_string(path).unwrap())
}

fn compiled(spec: &Patched, change: &str) -> Compiled {
    Compiled::of(&spec.clone().with(change, false).text(), None)
}

fn slack(compiled: &Compiled, code: Code) -> Slack {
    let slack = compiled.ask(|bench| checks::slack(code, bench)).flatten();
    slack.unwrap_or_else(|| panic!("{code} measures nothing:\n{}", compiled.printed()))
}

/// Holds the slack to a warning's bound.
fn hold(compiled: &Compiled, code: Code, expected: f64) {
    let got = slack(compiled, code).warning;
    assert!((got - expected).abs() < 5.1e-5, "{code}: {got}, worked {expected}");
}

/// What the worked seven-string raises as it stands: straight slots, and wet wood on purpose.
const AS_IT_STANDS: [Code; 2] = [codes::SLOT_07, codes::STOCK_02];

fn codes_of(compiled: &Compiled) -> Vec<Code> {
    compiled.findings.iter().map(|finding| finding.code).collect()
}

#[test]
fn the_strings_of_the_worked_commissions_pull_what_was_worked_out() {
    let seven = compiled(&spec("lit-seven.toml"), "");
    // Strings of 67.3941 N (2) to 81.3323 N (5), 528.970 N in all; equal gaps of 6.2065 mm.
    hold(&seven, codes::STRING_02, 67.3941 - 38.0);
    hold(&seven, codes::STRING_03, 1.7 - 81.3323 / 67.3941);
    assert!((slack(&seven, codes::STRING_04).warning - (900.0 - 528.970)).abs() < 5.1e-4);
    hold(&seven, codes::STRING_05, 6.2065 - 5.0);
    // 144.5817 N (5) to 188.2336 N (1), 860.803 N in all; a bass: 100 to 260 N, and 6.5 mm between strings.
    let bass = compiled(&spec("left-bass.toml"), "");
    hold(&bass, codes::STRING_02, 144.5817 - 100.0);
    hold(&bass, codes::STRING_03, 1.7 - 188.2336 / 144.5817);
    assert!((slack(&bass, codes::STRING_04).warning - (900.0 - 860.803)).abs() < 5.1e-4);
    // 41 mm less 2.54 + 2.032 + 1.524 mm of inner strings and half of 1.143 + 3.2512 mm, over four gaps.
    hold(&bass, codes::STRING_05, (41.0 - 6.096 - 2.1971) / 4.0 - 6.5);
    assert_eq!(codes_of(&seven), AS_IT_STANDS, "{}", seven.printed());
    assert_eq!(codes_of(&bass), [codes::SLOT_07], "{}", bass.printed());
}

#[test]
fn a_limit_of_the_strings_is_changed_in_newtons() {
    let change = "[limits]\n\"STRING-04\" = { warning = \"500 N\", why = \"a slender neck\" }\n\"STRING-02\" = { warning = [\"70 N\", \"165 N\"], why = \"a stiff hand\" }\n";
    let seven = compiled(&spec("lit-seven.toml"), change);
    assert!(seven.printed().contains("all strings together pull 528.97 N; at most 500"), "{}", seven.printed());
    assert!(
        seven.printed().contains("string 2: it pulls 67.39 N; 70 to 165 N (and 1 more string)"),
        "{}",
        seven.printed()
    );
    let pounds = compiled(
        &spec("lit-seven.toml"),
        "[limits]\n\"STRING-04\" = { warning = \"110 lbf\", why = \"the maker of the rod says so\" }\n",
    );
    // 110 lbf are 489.3 N (NIST SP 811, appendix B).
    assert!(pounds.printed().contains("at most 489.3"), "{}", pounds.printed());
}

#[test]
fn a_string_of_the_shops_set_is_pointed_at_where_it_is_chosen() {
    let shop = "[[strings]]\nid = \"six\"\nset = [\n  { note = \"E4\", gauge = \"0.010 in\", kind = \"plain\" },\n  { note = \"B3\", gauge = \"0.013 in\", kind = \"plain\", weight = \"6.7 g/m\" },\n]\n";
    let text = spec("lit-seven.toml").with("[strings]\nset = \"six\"\n", false).text();
    let found = Compiled::of(&text, Some(shop));
    let finding = found.of_code(codes::STRING_10)[0];
    assert_eq!(finding.severity, Severity::Warning);
    let chosen = finding.primary.as_ref().unwrap();
    assert!(text[chosen.span.start..].starts_with("\"six\""), "{}", &text[chosen.span.start..]);
    let row = &finding.related[0];
    assert!(shop[row.span.start..].starts_with("{ note = \"B3\""), "{}", &shop[row.span.start..]);
}

#[test]
fn reentrant_strings_and_strings_of_nylon_are_free_to_be_what_they_are() {
    let set = "[strings]\nspread_nut = \"27 mm\"\nspacing = \"equal centres\"\nset = [\n  { note = \"A4\", gauge = \"0.024 in\", kind = \"nylon\", weight = \"0.33 g/m\" },\n  { note = \"E4\", gauge = \"0.032 in\", kind = \"nylon\" },\n  { note = \"C4\", gauge = \"0.040 in\", kind = \"nylon\" },\n  { note = \"G4\", gauge = \"0.028 in\", kind = \"nylon\" },\n]\n";
    let small = compiled(&spec("left-bass.toml"), set);
    for code in [codes::STRING_07, codes::STRING_10] {
        assert!(small.of_code(code).is_empty(), "{}", small.printed());
    }
    // Swapped, the lower of two falling notes is the lighter one.
    let swapped = set.replace("0.032 in", "0.041 in");
    let found = compiled(&spec("left-bass.toml"), &swapped);
    assert!(
        found.of_code(codes::STRING_07)[0].message.starts_with("string 3: C4 is lower than E4"),
        "{}",
        found.printed()
    );
}

#[test]
fn while_the_set_is_open_its_checks_are_left_out() {
    let open = compiled(&spec("lit-seven.toml"), "[strings]\nset = \"open\"\n");
    for code in
        [codes::STRING_02, codes::STRING_03, codes::STRING_04, codes::STRING_05, codes::STRING_07, codes::STRING_10]
    {
        let keys = open.outcome.left_out.iter().find(|(left_out, _)| *left_out == code).map(|(_, keys)| keys.clone());
        assert_eq!(keys, Some(vec!["strings.set"]), "{code}");
    }
}

#[test]
fn the_neck_of_the_worked_seven_is_as_it_was_worked_out() {
    let whole = compiled(&seven(), "");
    assert_eq!(codes_of(&whole), AS_IT_STANDS, "{}", whole.printed());
    // Under the rod at fret 1: 3.5 on the centreline, 3.4050 at the corner. The tips of the screws: 3.
    hold(&whole, codes::NECK_02, 3.4050 - 3.0);
    assert!((slack(&whole, codes::NECK_03).error - (3.0 - 1.5)).abs() < 1e-9);
    // The board's end is 65.2915 wide, its pocket 65.3.
    assert!((slack(&whole, codes::NECK_04).error - (0.2 - (65.3 - 65.2915))).abs() < 5.1e-5);
    // 1 + 7.4 + 1.2 + 0 + 3.0517 = 12.6517, the bridge goes from 10 to 16.
    hold(&whole, codes::NECK_07, 12.6517 - 10.0);
    // From the end less 3 mm back over 460 mm: 55.4180 mm are left at the nut.
    assert!((slack(&whole, codes::NECK_01).error - 55.4180).abs() < 5.1e-5);
    let first = whole.ask(|bench| bench.design.neck.as_ref().unwrap().stations[0]).unwrap();
    assert_eq!((first.place, first.thickness), (NeckPlace::Fret(1), Ok(20.4)));
    assert!((first.width.unwrap() - 49.7121).abs() < 5.1e-5);
    assert!((first.under_rod.unwrap().unwrap().centre - 3.5).abs() < 1e-9);
    // A pocket with straight sides gapes at its mouth by (65.3 − 62.7516) / 2.
    let straight = compiled(&Patched::of(&seven().text().replace("taper     = \"neck\"\n", "")), "");
    assert!((slack(&straight, codes::NECK_09).warning - (0.5 - 1.2742)).abs() < 5.1e-5);
    assert_eq!(straight.findings.len(), 1 + AS_IT_STANDS.len(), "{}", straight.printed());
}

#[test]
fn the_thickest_board_over_the_rod_is_the_worked_one() {
    // Wood under the rod's corner asks for a board of 8.3116 mm or less, 7.8079 for no warning.
    for (board, severity) in [
        ("7.8078", None),
        ("7.8081", Some(Severity::Warning)),
        ("8.3115", Some(Severity::Warning)),
        ("8.3118", Some(Severity::Error)),
    ] {
        let thick = format!("[board]\nthickness = \"{board} mm\"\nblank = {{ thickness = \"9 mm\" }}\n");
        let found = compiled(&seven(), &thick);
        let own: Vec<_> = found.of_code(codes::NECK_02).iter().map(|finding| finding.severity).collect();
        assert_eq!(own, severity.into_iter().collect::<Vec<_>>(), "{board}: {}", found.printed());
    }
}

#[test]
fn a_neck_that_leans_back_lifts_the_strings_at_the_bridge() {
    // 2° over the 148.332 mm from the board's end to the saddle line are 5.1799 mm.
    let leaning = compiled(&seven(), "[neck]\nangle = \"2 deg\"\n");
    let rise = 148.332_029 * (2.0_f64).to_radians().tan();
    assert!((slack(&leaning, codes::NECK_07).warning - (16.0 - 12.6517 - rise)).abs() < 5.1e-5);
    let finding = leaning.of_code(codes::NECK_07)[0];
    assert!(finding.message.contains("17.83 mm over the body at the saddle line; 10 to 16 mm"), "{}", finding.message);
    assert_eq!(finding.place, "setup.bridge_height");
    assert!(finding.help.iter().any(|help| help.contains("a neck angle of 1.29 deg")), "{:?}", finding.help);
}

#[test]
fn a_heel_thinner_than_its_rod_is_deep_is_found_at_the_heel() {
    let thin = compiled(
        &seven(),
        "[neck]\nheel_thickness = \"11 mm\"\nscrews = []\n[setup]\nbridge_height = [\"5 mm\", \"16 mm\"]\n",
    );
    let finding = thin.of_code(codes::NECK_02)[0];
    assert!(finding.message.starts_with("heel: 1.50 mm of wood under the rod"), "{}", finding.message);
    assert_eq!(finding.place, "neck.heel_thickness");
}

#[test]
fn an_open_value_of_the_neck_leaves_out_what_hangs_on_it() {
    for (table, key, codes) in [
        ("neck", "heel_thickness", [codes::NECK_02, codes::NECK_03, codes::NECK_07].as_slice()),
        ("neck", "rod_depth", &[codes::NECK_02]),
        ("neck", "angle", &[codes::NECK_06, codes::NECK_07]),
        ("neck", "screws", &[codes::CHAN_10, codes::NECK_03]),
        ("setup", "action_12", &[codes::NECK_07]),
        ("setup", "bridge_height", &[codes::NECK_07]),
        ("wire", "crown_height", &[codes::NECK_07]),
    ] {
        let open = compiled(&seven(), &format!("[{table}]\n{key} = \"open\"\n"));
        assert!(open.errors().is_empty(), "{key}: {}", open.printed());
        let name = format!("{table}.{key}");
        for code in codes {
            let keys = open.outcome.left_out.iter().find(|(left_out, _)| left_out == code).map(|(_, keys)| keys);
            assert!(keys.is_some_and(|keys| keys.iter().any(|own| *own == name)), "{code} and {name}: {keys:?}");
        }
    }
}

#[test]
fn one_fret_more_brings_the_worked_boards_end_to_the_pickup() {
    // With 26 frets the board's end at 527.2483 comes within 0.75 of the pocket at 528; with the taper's line kept it is
    // 65.5775 wide, which the pocket of 65.3 does not take; with the width at the last fret kept it is 65.2865 wide.
    let kept = compiled(&seven(), "[frets]\ncount = 26\n[taper]\nend_at = \"fret 25\"\n");
    let errors: Vec<_> = kept.errors().into_iter().collect();
    assert_eq!(errors, ["BODY-02", "NECK-04"], "{}", kept.printed());
    assert!((slack(&kept, codes::BODY_02).error - (528.0 - 527.2483 - 2.0)).abs() < 5.1e-5);
    assert!((slack(&kept, codes::NECK_04).error - (0.2 - (65.5775 - 65.3))).abs() < 5.1e-5);
    let finding = kept.of_code(codes::BODY_02)[0];
    let message = "\"neck pickup\" begins 0.75 mm past the far corner of the board's end; at least 2.0";
    assert!(finding.message.contains(message), "{}", finding.message);
    assert_eq!(finding.place, "body.pocket.x");
    let turned = compiled(&seven(), "[frets]\ncount = 26\n");
    assert_eq!(turned.errors().into_iter().collect::<Vec<_>>(), ["BODY-02"], "{}", turned.printed());
    assert!((slack(&turned, codes::NECK_04).error - (0.2 - (65.3 - 65.2865))).abs() < 5.1e-5);
    let fewer = compiled(&seven(), "[frets]\ncount = 24\n[taper]\nend_at = \"509.417971 mm\"\n");
    assert_eq!(fewer.errors().into_iter().collect::<Vec<_>>(), ["NECK-04"], "{}", fewer.printed());
}

#[test]
fn the_body_of_the_worked_seven_is_as_it_was_worked_out() {
    let whole = compiled(&seven(), "");
    assert_eq!(codes_of(&whole), AS_IT_STANDS, "{}", whole.printed());
    // 44 less 36 leaves 8 under the controls, 5 asked for; 28 under the neck, 18 asked for.
    assert!((slack(&whole, codes::BODY_01).error - 3.0).abs() < 1e-9);
    // The board's end at 518.4180, the pickup's near wall at 528.
    assert!((slack(&whole, codes::BODY_02).error - (9.5820 - 2.0)).abs() < 5.1e-5);
    // The neck's far wall at 518.4, the pickup's near wall at 528: a wall of 9.6.
    hold(&whole, codes::BODY_03, 9.6 - 3.0);
    // 56 × 32 × 23 against 51.5 × 29.5 × 19: 2.5 is the least room.
    hold(&whole, codes::BODY_07, 2.5);
    // The board's end stands 0.0180 past the neck's pocket.
    hold(&whole, codes::FRET_15, 20.0 - 0.0180);
}

#[test]
fn a_pocket_beside_the_board_is_not_under_it() {
    let beside = "[[body.pocket]]\nname = \"switch\"\nholds = \"controls\"\nface = \"front\"\nx = \"470 mm\"\ny = \"80 mm bass\"\ndiameter = \"30 mm\"\ndepth = \"20 mm\"\n";
    let whole = compiled(&seven(), beside);
    assert_eq!(codes_of(&whole), AS_IT_STANDS, "{}", whole.printed());
    let under = compiled(&seven(), &beside.replace("80 mm bass", "20 mm bass"));
    assert!(
        under.of_code(codes::BODY_02)[0].message.contains("the board's end reaches 63.42 mm over the pocket"),
        "{}",
        under.printed()
    );
}

#[test]
fn a_recess_within_a_pocket_has_no_wall_and_one_across_its_edge_has() {
    let recess = "[[body.pocket]]\nname = \"cover\"\nholds = \"other\"\nface = \"back\"\nx = \"716 mm\"\ny = \"64 mm treble\"\nlength = \"105 mm\"\nwidth = \"70 mm\"\ncorner = \"10 mm\"\ndepth = \"3 mm\"\n";
    let whole = compiled(&seven(), recess);
    assert_eq!(codes_of(&whole), AS_IT_STANDS, "{}", whole.printed());
    let across = compiled(&seven(), &recess.replace("716 mm", "740 mm"));
    let finding = across.of_code(codes::BODY_03)[0];
    assert_eq!(finding.severity, Severity::Error);
    assert!(
        finding.message.starts_with("pockets 4 and 6: \"controls\" and \"cover\" run into each other"),
        "{}",
        finding.message
    );
}

#[test]
fn the_wire_hole_is_found_by_its_place_and_pointed_at_where_it_was_set() {
    let off = compiled(&seven(), "[[body.hole]]\nname = \"lamp wires\"\ny = \"11 mm bass\"\n");
    let finding = off.of_code(codes::CHAN_19)[0];
    assert_eq!((finding.severity, finding.place.as_ref()), (Severity::Warning, "body.hole.y"));
    assert!(finding.message.contains("lies 2 mm off the exit of 5 mm: 1.5 mm"), "{}", finding.message);
    // The exit lies at 512.818; a hole that says so in millimetres is pointed at by its place along.
    let near = compiled(&seven(), "[[body.hole]]\nname = \"lamp wires\"\nx = \"512.9 mm\"\n");
    assert!(near.of_code(codes::CHAN_19).is_empty(), "{}", near.printed());
    let far = compiled(&seven(), "[[body.hole]]\nname = \"lamp wires\"\nx = \"510 mm\"\n");
    assert_eq!(far.of_code(codes::CHAN_19)[0].place, "body.hole.x");
    // A hole for a screw is none for wires.
    let screws =
        seven().text().replace("x        = \"exit\"\ny        = \"13 mm bass\"", "x = \"479 mm\"\ny = \"16 mm bass\"");
    assert!(compiled(&Patched::of(&screws), "").of_code(codes::CHAN_19).is_empty());
}

#[test]
fn neck_and_body_are_judged_alike_for_either_hand() {
    let change = "[frets]\ncount = 26\n[body]\nthickness = \"38 mm\"\n[[body.hole]]\nname = \"lamp wires\"\ny = \"11 mm bass\"\n[neck]\nrod_depth = \"11 mm\"\n";
    let (right, left) =
        (compiled(&seven(), change), compiled(&seven(), &format!("[commission]\nhand = \"left\"\n{change}")));
    let messages = |compiled: &Compiled| compiled.findings.iter().map(|f| f.message.clone()).collect::<Vec<_>>();
    assert!(messages(&right).len() >= 4, "{}", right.printed());
    assert_eq!(messages(&right), messages(&left));
}

#[test]
fn an_open_value_of_the_body_leaves_out_what_hangs_on_it() {
    for (row, key, codes) in [
        ("[body]\nthickness = \"open\"\n", "body.thickness", [codes::BODY_01, codes::BODY_08].as_slice()),
        ("[[body.pocket]]\nname = \"neck pickup\"\nx = \"open\"\n", "body.pocket.x", &[codes::BODY_02, codes::BODY_03]),
        (
            "[[body.pocket]]\nname = \"neck\"\nwidth = \"open\"\n",
            "body.pocket.width",
            &[codes::NECK_04, codes::FRET_15],
        ),
        (
            "[[body.pocket]]\nname = \"neck\"\ndepth = \"open\"\n",
            "body.pocket.depth",
            &[codes::NECK_07, codes::BODY_01],
        ),
        ("[[body.hole]]\nname = \"lamp wires\"\ny = \"open\"\n", "body.hole.y", &[codes::CHAN_19]),
        ("[taper]\npast_last = \"open\"\n", "taper.past_last", &[codes::BODY_02, codes::NECK_04, codes::FRET_15]),
    ] {
        let open = compiled(&seven(), row);
        assert!(open.errors().is_empty(), "{key}: {}", open.printed());
        for code in codes {
            let keys = open.outcome.left_out.iter().find(|(left_out, _)| left_out == code).map(|(_, keys)| keys);
            assert!(keys.is_some_and(|keys| keys.contains(&key)), "{code} and {key}: {keys:?}");
        }
    }
}

#[test]
fn pockets_without_number_are_a_slip_and_take_no_time() {
    let row = |number: usize| {
        format!(
            "[[body.pocket]]\nname = \"p{number}\"\nholds = \"other\"\nface = \"back\"\nx = \"300 mm\"\ny = \"centre\"\ndiameter = \"9 mm\"\ndepth = \"9 mm\"\n"
        )
    };
    let text = seven().text() + &(0..3000).map(row).collect::<String>();
    let found = Compiled::of(&text, None);
    let finding = found.of_code(codes::BODY_03)[0];
    assert!(finding.message.starts_with("3005 pockets: no body has so many"), "{}", finding.message);
}

#[test]
fn under_a_slanted_end_the_breadth_that_both_have_counts() {
    let fan = "[scale]\nbass = \"26 1/4 in\"\ntreble = \"25 1/2 in\"\nsquare_fret = 7\n";
    let slanted = seven().with(fan, true).with("[taper]\nend_cut = \"along last fret\"\n", false);
    let reach = |width: f64| {
        let pocket = format!("[[body.pocket]]\nname = \"neck pickup\"\nwidth = \"{width} mm\"\n");
        let found = compiled(&slanted, &pocket);
        let (end, corners) = found
            .ask(|bench| {
                let outline = bench.design.outline.as_ref().unwrap();
                (outline.end, outline.end_corners)
            })
            .unwrap();
        (slack(&found, codes::BODY_02).error + 2.0, end, corners)
    };
    // A pocket wider than the board meets its far corner; a narrow one only what lies over it.
    let (wide, end, [bass, treble]) = reach(98.0);
    assert!(end.slant.abs() > 0.01, "a fan: {end:?}");
    assert!((528.0 - wide - bass.x.max(treble.x)).abs() < 1e-9);
    let (narrow, ..) = reach(20.0);
    assert!((528.0 - narrow - (end.x + 10.0 * end.slant.abs())).abs() < 1e-9);
}
