//! The pages that `explain` prints: complete, tied to the table of codes, and true: each page's bad sample is found
//! as its code says, its good one is not, and the values that a finding offers do pass.
//!
//! A sample is a patch on one of three small commissions, `_plain.toml`, `_lit.toml` and `_built.toml` (with neck and
//! body) beside the pages. The fence says which: ```` ```toml bad ````, ```` ```toml good lit ````. A key replaces the base's; with `whole`, a table
//! replaces the base's whole table. ```` ```toml shop ```` is the shop file of both samples, a second one
//! that of the good one; `sketch` is not run.

use std::collections::BTreeSet;

use kerfbook::checks::{self, CHECKS};
use kerfbook::diag::codes::CODES;
use kerfbook::diag::{Code, Severity};

use crate::compiled::Compiled;
use crate::patch::Patched;

const PLAIN: &str = include_str!("../src/diag/pages/_plain.toml");
const LIT: &str = include_str!("../src/diag/pages/_lit.toml");
const BUILT: &str = include_str!("../src/diag/pages/_built.toml");

/// Codes that no single commission file brings about: the program's own check, two files of one run, a file in the
/// shop's folder, issues.
const WITHOUT_SAMPLE: [&str; 5] = ["FRET-14", "SPEC-13", "SPEC-21", "ORDER-10", "ORDER-11"];

/// A fenced sample of a page.
struct Sample {
    words: Vec<String>,
    text: String,
}

impl Sample {
    fn has(&self, word: &str) -> bool {
        self.words.iter().any(|own| own == word)
    }

    /// The base with this sample laid over it.
    fn patched(&self) -> Patched {
        let base = match (self.has("lit"), self.has("built")) {
            (true, _) => LIT,
            (_, true) => BUILT,
            _ => PLAIN,
        };
        Patched::of(base).with(&self.text, self.has("whole"))
    }
}

fn samples(page: &str) -> Vec<Sample> {
    let mut samples = Vec::new();
    let mut lines = page.lines();
    while let Some(line) = lines.next() {
        let Some(words) = line.strip_prefix("```toml") else { continue };
        let text: Vec<&str> = lines.by_ref().take_while(|line| *line != "```").collect();
        let words = words.split_whitespace().map(str::to_owned).collect();
        samples.push(Sample { words, text: text.join("\n") + "\n" });
    }
    samples.retain(|sample| !sample.has("sketch"));
    samples
}

/// The samples of every code that has some: bad, good, and the shop file of either.
fn pairs() -> Vec<(Code, Sample, Sample, [Option<String>; 2])> {
    let mut all = Vec::new();
    for row in CODES.iter().filter(|row| !WITHOUT_SAMPLE.contains(&row.code.as_str())) {
        let mut samples = samples(row.page);
        let mut take = |word: &str| {
            let at = samples.iter().position(|sample| sample.has(word))?;
            Some(samples.remove(at))
        };
        let shop = take("shop").map(|sample| sample.text);
        let good_shop = take("shop").map(|sample| sample.text).or_else(|| shop.clone());
        let (bad, good) = (take("bad"), take("good"));
        let (Some(bad), Some(good)) = (bad, good) else { panic!("{}: no pair of samples", row.code) };
        assert!(samples.is_empty(), "{}: more samples than a pair", row.code);
        all.push((row.code, bad, good, [shop, good_shop]));
    }
    all
}

#[test]
fn every_page_says_what_it_costs_and_where_the_limit_comes_from() {
    for row in CODES {
        for part in ["\n\n**At the bench.** ", "\n\n**The limit.** "] {
            assert!(row.page.contains(part), "{}: {part}", row.code);
        }
        let sourced = ["no source", "Geometry", "Equal temperament", "Ohm's law"];
        let named = sourced.iter().any(|word| row.page.contains(word));
        assert!(row.limit.is_none() || named, "{}: where does the limit come from?", row.code);
    }
}

#[test]
fn every_limit_of_the_table_has_its_check() {
    for row in CODES.iter().filter(|row| row.limit.is_some()) {
        assert!(CHECKS.iter().any(|check| check.code == row.code), "{} has a limit and no check", row.code);
    }
}

#[test]
fn the_bases_themselves_are_sound() {
    for base in [PLAIN, LIT, BUILT] {
        let compiled = Compiled::of(base, None);
        assert!(compiled.errors().is_empty(), "{}", compiled.printed());
    }
}

#[test]
fn a_bad_sample_is_found_and_a_good_one_is_not() {
    let mut wrong = Vec::new();
    for (code, bad, good, [shop, good_shop]) in pairs() {
        let found = Compiled::of(&bad.patched().text(), shop.as_deref());
        let stops = code.row().severity == Severity::Error;
        let errors = if stops { BTreeSet::from([code.as_str()]) } else { BTreeSet::new() };
        if found.errors() != errors || found.of_code(code).is_empty() {
            wrong.push(format!("{code}, bad sample:\n{}", found.printed()));
        }
        let passes = Compiled::of(&good.patched().text(), good_shop.as_deref());
        if !passes.errors().is_empty() || !(stops || passes.of_code(code).is_empty()) {
            wrong.push(format!("{code}, good sample:\n{}", passes.printed()));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n\n"));
}

#[test]
fn a_value_that_a_finding_offers_does_pass() {
    let mut offered = 0;
    for (code, bad, _, [shop, _]) in pairs() {
        let patched = bad.patched();
        let found = Compiled::of(&patched.text(), shop.as_deref());
        for passing in found.ask(|bench| checks::passing(code, bench)).unwrap_or_default() {
            let value = format!("\"{} mm\"", passing.millimetres);
            let mended = patched.each_with_value(passing.key, &value);
            let mended: Vec<_> = mended.iter().map(|own| Compiled::of(&own.text(), shop.as_deref())).collect();
            let passes = mended.iter().any(|own| own.of_code(code).is_empty());
            assert!(passes, "{code}: {} does not pass\n{}", passing.in_words(), mended[0].printed());
            offered += 1;
        }
    }
    assert!(offered >= 45, "{offered} values offered");
}

#[test]
fn a_finding_points_at_a_line_that_is_written() {
    for (code, bad, _, [shop, _]) in pairs() {
        let found = Compiled::of(&bad.patched().text(), shop.as_deref());
        for finding in found.of_code(code) {
            assert!(finding.primary.is_some(), "{code}: {}", finding.message);
            assert!(!finding.place.is_empty(), "{code}: no key");
        }
    }
}
