//! Strings, neck and body: the worked figures of two invented commissions, and what the checks make of them.
//!
//! The worked figures are derived, not published: computed by hand and by a second program that shares no code with
//! this one. They are held through the checks, whose slack is the figure less its limit.

use std::path::Path;

use kerfbook::checks::{self, Slack};
use kerfbook::diag::{Code, Severity, codes};

use crate::compiled::Compiled;
use crate::patch::Patched;

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
    assert!(seven.findings.is_empty() && bass.findings.is_empty(), "{}{}", seven.printed(), bass.printed());
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
