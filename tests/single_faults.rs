//! One slip of the pen in an otherwise sound commission: what it breaks is told, at its line, and nothing that only
//! follows from it.

use std::collections::BTreeSet;

use kerfbook::diag::Severity;
use kerfbook::diag::codes;

use crate::compiled::Compiled;
use crate::patch::Patched;

const PLAIN: &str = include_str!("../src/diag/pages/_plain.toml");
const LIT: &str = include_str!("../src/diag/pages/_lit.toml");

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
