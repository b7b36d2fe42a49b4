//! Warnings and notes of scale, wire, slots, radius, taper, epoxy and stock: where they speak, and where they keep silent.

use kerfbook::diag::{Code, Severity, codes};

use crate::compiled::Compiled;
use crate::patch::Patched;

const PLAIN: &str = include_str!("../src/diag/pages/_plain.toml");
const LIT: &str = include_str!("../src/diag/pages/_lit.toml");

fn patched(base: &str, patch: &str, shop: Option<&str>) -> Compiled {
    Compiled::of(&Patched::of(base).with(patch, false).text(), shop)
}

/// A board whose `[scale]` and `[radius]` are others altogether.
fn whole(patch: &str) -> Compiled {
    Compiled::of(&Patched::of(PLAIN).with(patch, true).text(), None)
}

/// The gravity and message of a code's only finding; none where it is silent.
fn finding(compiled: &Compiled, code: Code) -> Option<(Severity, String)> {
    match compiled.of_code(code).as_slice() {
        [] => None,
        [one] => Some((one.severity, one.message.clone())),
        _ => panic!("one {code} at most:\n{}", compiled.printed()),
    }
}

fn is_silent(compiled: &Compiled, code: Code) -> bool {
    compiled.of_code(code).is_empty()
}

#[test]
fn a_straight_slot_is_noted_then_warned_of_and_either_bound_may_be_moved() {
    // 190 mm over half a board of 28 mm drops by 190 − √(190² − 28²) = 2.0745 mm; 0.2 mm of room besides. Geometry.
    let one = patched(PLAIN, "[radius]\nboard = \"190 mm\"\n", None);
    let (severity, message) = finding(&one, codes::SLOT_07).unwrap();
    assert_eq!(severity, Severity::Note);
    assert!(message.contains("stays open by 2.27 mm under the tang; at most 1.2"), "{message}");
    let more = patched(PLAIN, "[radius]\nboard = \"190 mm\"\n[slots]\nunder_tang = \"0.3 mm\"\n", None);
    assert_eq!(finding(&more, codes::SLOT_07).unwrap().0, Severity::Warning);
    let moved =
        "[limits]\n\"SLOT-07\" = { note = \"2.5 mm\", warning = \"3 mm\", why = \"this shop fills every slot\" }\n";
    let quiet = patched(PLAIN, &format!("[radius]\nboard = \"190 mm\"\n{moved}"), None);
    assert!(is_silent(&quiet, codes::SLOT_07) && quiet.errors().is_empty(), "{}", quiet.printed());
    for cut in ["[slots]\ncut = \"following the radius\"\n", "[radius]\nboard = \"flat\"\n"] {
        assert!(is_silent(&patched(PLAIN, cut, None), codes::SLOT_07), "{cut}");
    }
}

#[test]
fn a_note_of_another_unit_is_an_error_at_its_line() {
    let found = patched(PLAIN, "[limits]\n\"SLOT-07\" = { note = \"2 %\", why = \"a slip\" }\n", None);
    let finding = found.of_code(codes::SPEC_04)[0];
    assert!(finding.message.contains("limits.SLOT-07.note") && finding.primary.is_some(), "{}", found.printed());
}

#[test]
fn what_follows_from_an_error_is_not_said_beside_it() {
    // Neither 4 mm nor 4 in is a radius: no slip of the unit stands behind it.
    let tight = patched(PLAIN, "[radius]\nboard = \"4 mm\"\n", None);
    for code in [codes::RADIUS_02, codes::RADIUS_04, codes::RADIUS_07, codes::SLOT_04, codes::SLOT_07] {
        assert!(is_silent(&tight, code), "{}", tight.printed());
    }
    let thin = patched(PLAIN, "[board]\nthickness = \"4 mm\"\n", None);
    assert!(!is_silent(&thin, codes::SLOT_03) && is_silent(&thin, codes::SLOT_04), "{}", thin.printed());
    let no_scale = patched(PLAIN, "[scale]\nlength = \"35 mm\"\n", None);
    assert!(!is_silent(&no_scale, codes::FRET_01), "{}", no_scale.printed());
    assert!(is_silent(&no_scale, codes::FRET_13) && is_silent(&no_scale, codes::TAPER_04), "{}", no_scale.printed());
    let narrow = patched(PLAIN, "[taper]\nwidth_nut = \"62 mm\"\nwidth_end = \"60 mm\"\n", None);
    assert!(!is_silent(&narrow, codes::TAPER_01) && is_silent(&narrow, codes::TAPER_04), "{}", narrow.printed());
    let wide_kerf = patched(PLAIN, "[slots]\nkerf = \"0.72 mm\"\n", None);
    assert!(!is_silent(&wide_kerf, codes::WIRE_01) && is_silent(&wide_kerf, codes::WIRE_03), "{}", wide_kerf.printed());
    let backward = whole("[radius]\nnut = \"480 mm\"\nend = \"190 mm\"\nend_at = \"last fret\"\n");
    assert!(!is_silent(&backward, codes::RADIUS_05), "{}", backward.printed());
    assert!(is_silent(&backward, codes::RADIUS_04), "the hump is what comes of it: {}", backward.printed());
}

#[test]
fn a_scribed_slot_is_not_held_against_the_stop() {
    let high = "[scale]\nlength = \"440 mm\"\n[frets]\ncount = 24\n";
    let (_, message) = finding(&patched(PLAIN, high, None), codes::FRET_13).unwrap();
    // 440 · 2^(−24/12) · (2^(1.5/1200) − 2^(−1.5/1200)) = 0.1906 mm of band at fret 24: equal temperament.
    assert!(message.contains("at fret 24") && message.contains("0.19 mm wide"), "{message}");
    let scribed = format!("{high}[slots]\nmethod = \"scribed\"\n");
    assert!(is_silent(&patched(PLAIN, &scribed, None), codes::FRET_13));
    let nearer = format!("{high}[tolerances]\n\"slot position\" = {{ value = \"0.09 mm\", why = \"a new pin\" }}\n");
    assert!(is_silent(&patched(PLAIN, &nearer, None), codes::FRET_13));
}

#[test]
fn inner_strings_are_asked_for_by_the_rules_at_both_ends() {
    let fan = "[scale]\nbass = \"680 mm\"\ntreble = \"655 mm\"\nsquare_fret = 8\n";
    let strings = |rules: &str| {
        let board = Patched::of(PLAIN).with(fan, true).with(&format!("[strings]\n{rules}"), false);
        finding(&Compiled::of(&board.text(), None), codes::FRET_18)
    };
    assert_eq!(strings("spacing = \"equal gaps\"\n").unwrap().0, Severity::Note);
    assert_eq!(strings("spacing = \"equal centres\"\nspacing_saddle = \"equal centres\"\n"), None);
    assert_eq!(strings("spacing_saddle = \"equal gaps\"\n"), None, "thin strings: less than 0.05 mm");
    assert!(strings("spacing = \"equal centres\"\nspacing_saddle = \"equal gaps\"\n").is_some());
}

#[test]
fn a_shop_is_asked_for_prices_and_blocks_only_where_it_keeps_some() {
    let row = "[[stock]]\nid = \"wire\"\nkind = \"wire\"\ncrown_width = \"2.4 mm\"\nunit = \"stick\"\n";
    assert!(is_silent(&patched(PLAIN, "", Some(row)), codes::STOCK_05), "a shop without any price reckons elsewhere");
    let priced = format!("{row}[[wood]]\nid = \"maple\"\nprice = \"36.00\"\nunit = \"piece\"\n");
    assert!(!is_silent(&patched(PLAIN, "", Some(&priced)), codes::STOCK_05));
    assert!(is_silent(&patched(PLAIN, "", None), codes::RADIUS_06));
    // 14 in is 355.6 mm: the block of 356 mm is the same block.
    let blocks = "[tools]\nradius_blocks = [\"356 mm\"]\n";
    assert!(is_silent(&patched(PLAIN, "[radius]\nboard = \"14 in\"\n", Some(blocks)), codes::RADIUS_06));
    assert!(!is_silent(&patched(PLAIN, "[radius]\nboard = \"16 in\"\n", Some(blocks)), codes::RADIUS_06));
}

#[test]
fn a_short_pot_life_asks_for_batches_and_says_how_many() {
    let found = patched(LIT, "", Some("[epoxy]\npot_life = \"8 min\"\n"));
    // 7.61 ml, and 3 ml can be poured in the 3 minutes that are left: three batches.
    let finding = found.of_code(codes::POT_01)[0];
    assert!(finding.message.contains("7.61 ml") && finding.message.ends_with("at most 3"), "{}", finding.message);
    assert_eq!(finding.help, ["mix it in 3 batches, one after the other"]);
    let faster = "[limits]\n\"POT-01\" = { warning = 3, why = \"two of us pour\" }\n";
    assert!(is_silent(&patched(LIT, faster, Some("[epoxy]\npot_life = \"8 min\"\n")), codes::POT_01));
    assert!(is_silent(&patched(PLAIN, "", Some("[epoxy]\npot_life = \"6 min\"\n")), codes::POT_01), "not lit");
}

#[test]
fn an_open_value_leaves_out_what_it_stops_and_no_more() {
    let found = patched(PLAIN, "[radius]\nboard = \"open\"\n", None);
    for code in [codes::RADIUS_02, codes::RADIUS_04, codes::RADIUS_07, codes::SLOT_04, codes::SLOT_07] {
        let keys = found.outcome.left_out.iter().find(|(left_out, _)| *left_out == code).map(|(_, keys)| keys);
        assert_eq!(keys, Some(&vec!["radius.board"]), "{code}");
    }
    assert!(found.outcome.left_out.iter().all(|(code, _)| !["POT", "TAPER"].contains(&code.family())));
}
