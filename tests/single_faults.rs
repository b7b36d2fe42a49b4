//! One slip of the pen in an otherwise sound commission: what it breaks is told, at its line, and nothing that only
//! follows from it.

use std::collections::BTreeSet;

use kerfbook::diag::Severity;
use kerfbook::diag::codes;

use crate::compiled::Compiled;
use crate::patch::Patched;

const PLAIN: &str = include_str!("../src/diag/pages/_plain.toml");
const LIT: &str = include_str!("../src/diag/pages/_lit.toml");
const BUILT: &str = include_str!("../src/diag/pages/_built.toml");

/// The codes, notes apart, that a slip adds to those of the sound commission.
fn added(base: &str, slip: &str) -> BTreeSet<&'static str> {
    let of = |text: &str| -> BTreeSet<&'static str> {
        let findings = Compiled::of(text, None).findings;
        findings.iter().filter(|found| found.severity != Severity::Note).map(|found| found.code.as_str()).collect()
    };
    &of(&Patched::of(base).with(slip, false).text()) - &of(base)
}

#[test]
fn no_wires_are_counted_for_groups_that_cannot_be() {
    assert_eq!(added(LIT, "[electronics.lamps]\nin_series = 0\n"), BTreeSet::from(["ELEC-12"]));
    // The same depth with groups that can be is still judged by its wires.
    assert!(added(LIT, "[channels]\ndepth = \"0.8 mm\"\n").contains("CHAN-05"));
}

#[test]
fn a_current_the_lamp_does_not_bear_says_nothing_of_battery_heat_and_wire() {
    let slip = "[lamp]\ncurrent = \"30 mA\"\nmax_current = \"20 mA\"\n";
    assert_eq!(added(LIT, slip), BTreeSet::from(["LAMP-12"]));
    // A current it bears is judged by all three.
    let borne = added(
        LIT,
        "[lamp]\ncurrent = \"30 mA\"\nmax_current = \"50 mA\"\n[electronics.lamps]\ncapacity = \"500 mAh\"\n",
    );
    assert!(borne.contains("ELEC-06"), "{borne:?}");
}

#[test]
fn a_fan_that_cannot_be_has_no_slants_to_judge() {
    let fan = |bass: &str, treble: &str, square: u32| {
        let scale = format!("[scale]\nbass = \"{bass}\"\ntreble = \"{treble}\"\nsquare_fret = {square}\n");
        added(&PLAIN.replacen("length = \"650 mm\"\n", "", 1), &scale)
    };
    let judged = ["FRET-04", "FRET-07", "FRET-08", "FRET-10"];
    for (slipped, code) in [(fan("600 mm", "650 mm", 7), "FRET-05"), (fan("680 mm", "640 mm", 30), "FRET-06")] {
        assert!(slipped.contains(code), "{slipped:?}");
        assert!(judged.iter().all(|slant| !slipped.contains(slant)), "{slipped:?}");
    }
    // The same scales the right way round slant too much.
    assert!(fan("650 mm", "600 mm", 0).contains("FRET-07"));
}

#[test]
fn more_frets_than_a_board_can_have_say_nothing_of_their_crowns() {
    let slipped = added(PLAIN, "[frets]\ncount = 52\n");
    assert!(slipped.contains("FRET-02") && !slipped.contains("FRET-03"), "{slipped:?}");
    assert!(added(PLAIN, "[frets]\ncount = 36\n").contains("FRET-03"));
}

#[test]
fn a_waste_is_found_at_its_own_line() {
    let text =
        format!("{PLAIN}\n[[materials]]\nwhat = \"strap button\"\nquantity = 2\nunit = \"piece\"\nwaste = \"120 %\"\n");
    let compiled = Compiled::of(&text, None);
    assert_eq!(compiled.of_code(codes::STOCK_07).len(), 1, "{}", compiled.printed());
    let at = format!("sample.toml:{}:", text.lines().count());
    let printed = compiled.printed();
    assert!(printed.lines().any(|line| line.starts_with(&at) && line.contains("STOCK-07")), "{at}\n{printed}");
}

/// Beside a finding may stand the question whether its value has the wrong unit or its point in the wrong place.
const THE_QUESTION: &str = "SPEC-10";

const FAN: &str = include_str!("../specs/T-215-breakwater.toml");
const BOUND: &str = include_str!("../specs/T-218-short-crossing.toml");
const LAMPS: &str = include_str!("../specs/T-204-lantern-street.toml");
const SHOP: &str = include_str!("../specs/shop.toml");

/// The row of the second string with a digit lost.
const STRING_2: &str = "{ note = \"B3\", gauge = \"0.13 in\", kind = \"plain\" }";

/// The demo shop's own: a fan with a cone, a bound board with a zero fret, a lit board. One text put in another's place, the
/// code, and what stands at the place that is pointed at.
const IN_THE_SHOP: &[(&str, &str, &str, &str, &str)] = &[
    (FAN, "bass        = \"27 1/2 in\"", "bass        = \"2750 mm\"", "FRET-01", "\"2750 mm\""),
    (FAN, "bass        = \"27 1/2 in\"", "bass        = \"275 mm\"", "FRET-01", "\"275 mm\""),
    (FAN, "count  = 24", "count  = 0", "FRET-02", "0"),
    (FAN, "treble      = \"26 in\"", "treble      = \"28 in\"", "FRET-05", "\"27 1/2 in\""),
    (FAN, "square_fret = 7", "square_fret = 70", "FRET-06", "70"),
    (FAN, "nut    = \"16 in\"", "nut    = \"1 in\"", "RADIUS-01", "\"1 in\""),
    (FAN, "end    = \"20 in\"", "end    = \"1 in\"", "RADIUS-01", "\"1 in\""),
    (FAN, "width_end = \"74 mm\"", "width_end = \"54 mm\"", "TAPER-01", "\"54 mm\""),
    (FAN, "spread_saddle = \"73.5 mm\"", "spread_saddle = \"43.5 mm\"", "STRING-08", "\"43.5 mm\""),
    (FAN, "exit_y    = \"14 mm bass\"", "exit_y    = \"44 mm bass\"", "CHAN-16", "\"44 mm bass\""),
    (FAN, "in_series       = 2", "in_series       = 40", "ELEC-12", "40"),
    (BOUND, "length = \"24 in\"", "length = \"2400 mm\"", "FRET-01", "\"2400 mm\""),
    (BOUND, "count      = 21", "count      = 0", "FRET-02", "0"),
    (BOUND, "board = \"12 in\"", "board = \"1 in\"", "RADIUS-01", "\"1 in\""),
    (BOUND, "width_end = \"2 3/16 in\"", "width_end = \"1 1/2 in\"", "TAPER-01", "\"1 1/2 in\""),
    (BOUND, "spread_nut    = \"1 3/8 in\"", "spread_nut    = \"2 3/8 in\"", "STRING-08", "\"2 1/16 in\""),
    (BOUND, "behind_nut = \"1/4 in\"", "behind_nut = \"1/16 in\"", "FRET-10", "\"1/16 in\""),
    (BOUND, "blade = \"fine blade\"", "kerf = \"5.5 mm\"", "WIRE-01", "\"5.5 mm\""),
    (LAMPS, "exit_y    = \"11 mm bass\"", "exit_y    = \"2 mm bass\"", "CHAN-09", "\"2 mm bass\""),
    (LAMPS, "proud   = \"0.12 mm\"", "proud   = \"0.12 mm\"\nhole = \"31 mm\"", "LAMP-08", "\"31 mm\""),
    (LAMPS, "gauge = \"0.013 in\"", "gauge = \"0.13 in\"", "STRING-02", STRING_2),
    (LAMPS, "switch          = ", "# ", "ELEC-10", "[electronics.lamps]"),
    (LAMPS, "channels]", "channels]\nx = 1", "SPEC-01", "x"),
];

#[test]
fn one_slip_in_a_commission_of_the_shop_brings_one_finding_where_it_stands() {
    let mut wrong = Vec::new();
    for (text, old, new, code, stands) in IN_THE_SHOP {
        assert!(text.contains(old), "{old}");
        let slipped = text.replacen(old, new, 1);
        let compiled = Compiled::of(&slipped, Some(SHOP));
        let sound = Compiled::of(text, Some(SHOP));
        let known = |code: &str| sound.findings.iter().any(|finding| finding.code.as_str() == code);
        let new_ones = compiled.findings.iter().filter(|found| {
            let told = found.severity != Severity::Note && found.code.as_str() != THE_QUESTION;
            told && (found.code.as_str() == *code || !known(found.code.as_str()))
        });
        let told: Vec<(&str, Option<&str>)> = new_ones
            .map(|found| {
                let at = found.primary.as_ref().and_then(|label| slipped.get(label.span.start..label.span.end));
                (found.code.as_str(), at)
            })
            .collect();
        if told != [(*code, Some(*stands))] {
            wrong.push(format!("{new}: {told:?}\n{}", compiled.printed()));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn a_figure_that_is_offered_in_words_passes() {
    // What stands before the figure in the help, and the change that takes it up.
    let offers: &[(&str, &str, &str, &str, &str)] = &[
        (
            LIT,
            "[markers]\ninset = \"1/10 half-width\"\n",
            "MARK-04",
            "an inset of ",
            "[markers]\ninset = \"{} half-width\"\n",
        ),
        (
            LIT,
            "[markers]\ninset = \"9/10 half-width\"\n",
            "MARK-05",
            "an inset of ",
            "[markers]\ninset = \"{} half-width\"\n",
        ),
        (PLAIN, "[frets]\ncount = 52\n", "FRET-02", "", "[frets]\ncount = {}\n"),
        (PLAIN, "[scale]\ndivisions = 3\n", "FRET-17", "", "[scale]\ndivisions = {}\n"),
        (LIT, "[electronics.lamps]\nin_series = 99\n", "ELEC-12", "1 to ", "[electronics.lamps]\nin_series = {}\n"),
    ];
    for (base, slip, code, before, change) in offers {
        let slipped = Patched::of(base).with(slip, false);
        let compiled = Compiled::of(&slipped.clone().text(), None);
        let found = compiled.findings.iter().find(|finding| finding.code.as_str() == *code);
        let help = &found.unwrap_or_else(|| panic!("{code}\n{}", compiled.printed())).help;
        let figure = help.iter().find_map(|line| {
            let rest = line.strip_prefix(before)?;
            let end = rest.find(' ').unwrap_or(rest.len());
            rest[..end].parse::<f64>().ok()
        });
        let figure = figure.unwrap_or_else(|| panic!("{code} offers no figure: {help:?}"));
        let mended = slipped.with(&change.replace("{}", &figure.to_string()), false).text();
        let left = Compiled::of(&mended, None);
        assert!(left.findings.iter().all(|finding| finding.code.as_str() != *code), "{mended}\n{}", left.printed());
    }
}

/// A slip: what it is laid over, the change, the code it brings, the key that is pointed at.
type Slip = (&'static str, &'static str, &'static str, &'static str);

/// One slip each, and the one finding that it brings, notes apart. The limits are those of the pages.
const SLIPS: &[Slip] = &[
    // A value that cannot be meant: what rests on it waits.
    (PLAIN, "[scale]\nlength = \"262.5 mm\"\n", "FRET-01", "scale.length"),
    (BUILT, "[scale]\nlength = \"2625 mm\"\n", "FRET-01", "scale.length"),
    (LIT, "[scale]\nlength = \"262.5 mm\"\n", "FRET-01", "scale.length"),
    (LIT, "[frets]\ncount = 52\n", "FRET-02", "frets.count"),
    (BUILT, "[frets]\ncount = 0\n", "FRET-02", "frets.count"),
    (LIT, "[frets]\ncount = 0\n", "FRET-02", "frets.count"),
    (LIT, "[scale]\ndivisions = 3\n", "FRET-17", "scale.divisions"),
    (LIT, "[radius]\nboard = \"1 in\"\n", "RADIUS-01", "radius.board"),
    (PLAIN, "[wire]\nbarb_width = \"0.4 mm\"\n", "WIRE-08", "wire.barb_width"),
    (PLAIN, "[slots]\nskim = \"3 mm\"\n", "SLOT-08", "slots.skim"),
    (LIT, "[slots]\nskim = \"-0.3 mm\"\n", "SLOT-08", "slots.skim"),
    (LIT, "[taper]\nwidth_nut = \"56 mm\"\nwidth_end = \"43 mm\"\n", "TAPER-01", "taper.width_end"),
    (BUILT, "[taper]\nwidth_end = \"33 mm\"\n", "TAPER-01", "taper.width_end"),
    (LIT, "[strings]\nspread_nut = \"52 mm\"\nspread_saddle = \"35 mm\"\n", "STRING-08", "strings.spread_saddle"),
    (PLAIN, "[strings]\nspread_saddle = \"33 mm\"\n", "STRING-08", "strings.spread_saddle"),
    (LIT, "[lamp]\ncurrent = \"30 mA\"\nmax_current = \"20 mA\"\n", "LAMP-12", "lamp.current"),
    (LIT, "[electronics.lamps]\nin_series = 0\n", "ELEC-12", "electronics.lamps.in_series"),
    // A limit that is missed: one check of those that look at it.
    (PLAIN, "[slots]\nunder_tang = \"0.02 mm\"\n", "SLOT-01", "slots.under_tang"),
    (PLAIN, "[taper]\npast_last = \"1.5 mm\"\n", "FRET-04", "taper.past_last"),
    (PLAIN, "[wire]\noverhang = \"1 mm\"\n", "WIRE-04", "wire.overhang"),
    (PLAIN, "[wire]\nstick = \"60 mm\"\n", "WIRE-05", "wire.stick"),
    (LIT, "[lamp]\nproud = \"0.01 mm\"\n", "LAMP-11", "lamp.proud"),
    (LIT, "[electronics.lamps]\nsupply_low = \"9.2 V\"\n", "ELEC-07", "electronics.lamps.supply_low"),
    (LIT, "[channels]\nexit_past = \"2.5 mm\"\n", "CHAN-02", "channels.exit_past"),
];

#[test]
fn one_slip_brings_one_finding_at_its_line() {
    let mut wrong = Vec::new();
    for (base, slip, code, key) in SLIPS {
        let compiled = Compiled::of(&Patched::of(base).with(slip, false).text(), None);
        let mut found = added(base, slip);
        found.remove(THE_QUESTION);
        let points_there = compiled.findings.iter().any(|finding| {
            finding.code.as_str() == *code && finding.primary.as_ref().is_some_and(|label| label.place == *key)
        });
        if found != BTreeSet::from([*code]) || !points_there {
            wrong.push(format!("{slip}{found:?}\n{}", compiled.printed()));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn a_value_left_open_beside_the_slip_brings_nothing() {
    for (base, slip, ..) in SLIPS {
        for open in ["[board]\nthickness = \"open\"\n", "[strings]\nset = \"open\"\n", "[slots]\nkerf = \"open\"\n"] {
            let opened = Patched::of(base).with(open, false).text();
            let brought = added(&opened, slip);
            assert!(brought.is_subset(&added(base, slip)), "{slip}{open}{brought:?}");
        }
    }
}

#[test]
fn a_second_fault_is_found_beside_a_value_that_cannot_be_meant() {
    let slips = "[scale]\nlength = \"262.5 mm\"\n[taper]\npast_last = \"1.5 mm\"\n[markers]\ninset = \"5 mm\"\n[slots]\nkerf = \"0.72 mm\"\n";
    assert_eq!(added(PLAIN, slips), BTreeSet::from(["FRET-01", "FRET-04", "MARK-04", "WIRE-01"]));
}

#[test]
fn what_waits_is_named_with_what_it_waits_for() {
    let help = |base: &str, slip: &str, code| {
        let compiled = Compiled::of(&Patched::of(base).with(slip, false).text(), None);
        let finding = compiled.of_code(code).first().map(|finding| finding.help.join("\n"));
        finding.unwrap_or_else(|| panic!("{code}:\n{}", compiled.printed()))
    };
    let swapped = help(LIT, "[strings]\nspread_nut = \"52 mm\"\nspread_saddle = \"35 mm\"\n", codes::STRING_08);
    assert!(swapped.contains("not judged until this is mended: TAPER-02"), "{swapped}");
    let unreadable = help(LIT, "[board]\nthickness = \"7.4\"\n", codes::SPEC_03);
    assert!(unreadable.contains("not judged until this is mended: "), "{unreadable}");
    for code in ["CHAN-01", "LAMP-06", "RADIUS-03"] {
        assert!(unreadable.contains(code) || unreadable.contains(" more"), "{code}: {unreadable}");
    }
}

#[test]
fn a_board_that_narrows_is_an_error_only_where_something_cannot_be_built_on_it() {
    let gravity = |slip: &str| {
        let compiled = Compiled::of(&Patched::of(PLAIN).with(slip, false).text(), None);
        let found = compiled.of_code(codes::TAPER_01).first().map(|finding| finding.severity);
        (found, compiled.errors())
    };
    let narrow = "[strings]\nspread_nut = \"35 mm\"\nspread_saddle = \"36 mm\"\n[taper]\nwidth_nut = \"52 mm\"\n";
    let harmless = gravity(&format!("{narrow}width_end = \"51 mm\"\n"));
    assert_eq!(harmless, (Some(Severity::Warning), BTreeSet::new()));
    let off_the_board = gravity("[taper]\nwidth_nut = \"56 mm\"\nwidth_end = \"43 mm\"\n");
    assert_eq!(off_the_board, (Some(Severity::Error), BTreeSet::from(["TAPER-01"])));
}

#[test]
fn lamps_on_a_plain_board_say_nothing_of_the_exit_of_their_wires() {
    let body = "[body]\nwood = \"ash\"\nthickness = \"44 mm\"\n[[body.hole]]\nname = \"wires\"\nface = \"front\"\nx = \"exit\"\ny = \"11 mm bass\"\ndiameter = \"6 mm\"\ndepth = \"20 mm\"\n";
    let plain = "[markers]\nkind = \"plain\"\ndot = \"5 mm\"\ndot_depth = \"2.2 mm\"\n";
    let text = format!("{}{body}", Patched::of(LIT).with(plain, false).text());
    let compiled = Compiled::of(&text, None);
    assert_eq!(compiled.errors(), BTreeSet::from(["SPEC-18"]), "{}", compiled.printed());
}
