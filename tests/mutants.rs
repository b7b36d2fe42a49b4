//! The files of the demo shop, spoiled in every way: nothing panics, every finding lies inside its file, what
//! passes all the same can be built, and what is open is open and not wrong.
//!
//! A sample of the mutants by default, the same one each time; all of them, or as many as asked, with
//! `MUTANTS=all cargo test --release mutants -- --nocapture`.

use std::io::Write;
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::time::{Duration, Instant};

use kerfbook::diag::{Diagnostic, Severity};

use crate::sound::{Examined, assert_packet};
use crate::spoiling::{Change, changes};

const SHOP: &str = include_str!("../specs/shop.toml");
const COMMISSIONS: [(&str, &str); 7] = [
    ("lit", include_str!("../specs/T-204-lantern-street.toml")),
    ("from the strings", include_str!("../specs/T-207-ferry-bell.toml")),
    ("small", include_str!("../specs/T-211-windowsill.toml")),
    ("fan", include_str!("../specs/T-215-breakwater.toml")),
    ("short", include_str!("../specs/T-218-short-crossing.toml")),
    ("left", include_str!("../specs/T-221-other-hand.toml")),
    ("nineteen", include_str!("../specs/T-224-nineteen-bells.toml")),
];

/// How many mutants of each kind are looked at where nothing else is asked.
const SAMPLE: usize = 600;

/// Of how many that pass one is set and drawn too.
const SET_ONE_OF: usize = 25;

/// What a sweep has seen.
#[derive(Default)]
struct Sweep {
    mutants: usize,
    passed: usize,
    set: usize,
    failures: Vec<String>,
    slowest: (Duration, String),
}

impl Sweep {
    /// Looks at one mutant.
    fn take(&mut self, told: impl Fn() -> String, commission: &str, shop: &str) {
        self.mutants += 1;
        let start = Instant::now();
        let set = self.passed.is_multiple_of(SET_ONE_OF);
        let looked = catch_unwind(AssertUnwindSafe(|| {
            let examined = Examined::of(commission, Some(shop));
            examined.assert_sound();
            if examined.passes() && set {
                assert_packet(&examined.packet().expect("what passes becomes a packet"));
            }
            examined.passes()
        }));
        match looked {
            Ok(passes) => {
                self.set += usize::from(passes && set);
                self.passed += usize::from(passes);
            }
            Err(panic) => {
                let text = panic.downcast_ref::<String>().map(String::as_str);
                let text = text.or_else(|| panic.downcast_ref::<&str>().copied()).unwrap_or("a panic");
                self.failures.push(format!("{}: {}", told(), text.chars().take(600).collect::<String>()));
            }
        }
        let time = start.elapsed();
        if time > self.slowest.0 {
            self.slowest = (time, told());
        }
    }

    /// Says what was seen and fails with what was wrong.
    fn end(self, what: &str) {
        let Self { mutants, passed, set, failures, slowest } = self;
        let (faults, time, told) = (failures.len(), slowest.0, slowest.1);
        // Shown with `--nocapture` only.
        let line = format!("{what}: {mutants} mutants, {passed} pass, {set} set, {faults} faults; {time:?} for {told}");
        let _ = writeln!(std::io::stderr(), "{line}");
        assert!(failures.is_empty(), "{line}\n{}", failures.join("\n"));
        assert!(passed > mutants / 50 && passed < mutants, "{line}: the sweep must see both");
    }
}

/// Whether a mutant belongs to the sample: a fixed draw by its number.
fn drawn(number: usize, total: usize) -> bool {
    let wanted = match std::env::var("MUTANTS").as_deref() {
        Ok("all") => total,
        Ok(number) => number.parse().unwrap_or(SAMPLE),
        Err(_) => SAMPLE,
    };
    // Knuth's multiplicative hash (from memory): neighbours fall far apart.
    let draw = (number as u64).wrapping_mul(0x9e37_79b9_7f4a_7c15) >> 32;
    (draw * (total as u64)) >> 32 < wanted as u64
}

#[test]
fn a_spoiled_commission_makes_findings_and_no_wrong_figure() {
    let all: Vec<(&str, &str, Change)> = COMMISSIONS
        .iter()
        .flat_map(|(name, text)| changes(text).into_iter().map(|change| (*name, *text, change)))
        .collect();
    let mut sweep = Sweep::default();
    for (number, (name, text, change)) in all.iter().enumerate() {
        if drawn(number, all.len()) {
            sweep.take(|| format!("{name}: {}", change.told(text)), &change.of(text), SHOP);
        }
    }
    sweep.end("commissions");
}

#[test]
fn a_spoiled_shop_file_makes_findings_and_no_wrong_figure() {
    let all = changes(SHOP);
    let mut sweep = Sweep::default();
    for (number, change) in all.iter().enumerate() {
        if drawn(number, all.len()) {
            let (name, text) = COMMISSIONS[number % COMMISSIONS.len()];
            sweep.take(|| format!("shop of {name}: {}", change.told(SHOP)), text, &change.of(SHOP));
        }
    }
    sweep.end("shop files");
}

/// All findings of a commission, which must be sound.
fn findings(commission: &str, shop: &str) -> Vec<Diagnostic> {
    let examined = Examined::of(commission, Some(shop));
    examined.assert_sound();
    examined.findings().to_vec()
}

/// A text with one line put another way.
fn with_line(text: &str, index: usize, line: &str) -> String {
    let lines = text.lines().enumerate().map(|(at, old)| if at == index { line } else { old });
    lines.collect::<Vec<_>>().join("\n")
}

fn errors(findings: &[Diagnostic]) -> Vec<String> {
    let errors = findings.iter().filter(|finding| finding.severity == Severity::Error);
    errors.map(|finding| format!("{} {}", finding.code, finding.message)).collect()
}

#[test]
fn a_dimension_left_open_is_no_error() {
    let mut opened = 0;
    for (_, text) in COMMISSIONS {
        assert_eq!(errors(&findings(text, SHOP)), Vec::<String>::new());
        for (index, line) in text.lines().enumerate() {
            let value = line.split('#').next().unwrap_or("").split_once('=').map(|(_, value)| value.trim());
            let unit = |value: &str| {
                let units =
                    [" mm\"", " in\"", " V\"", " mA\"", " mAh\"", " W\"", " g/m\"", " %\"", " deg\"", " fret\""];
                value.starts_with('"')
                    && value[1..].starts_with(|sign: char| sign.is_ascii_digit())
                    && units.iter().any(|unit| value.ends_with(unit))
            };
            let (Some((key, _)), Some(true)) = (line.split_once('='), value.map(unit)) else { continue };
            let found = errors(&findings(&with_line(text, index, &format!("{key}= \"open\"")), SHOP));
            assert_eq!(found, Vec::<String>::new(), "{line}");
            opened += 1;
        }
    }
    assert!(opened > 50, "{opened} dimensions were opened");
}
