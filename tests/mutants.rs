//! Commissions of the demo shop, spoiled line by line: nothing panics, every finding lies inside its file, and
//! what is open is open and not wrong.

use kerfbook::checks;
use kerfbook::design::Design;
use kerfbook::diag::{Diagnostic, Report, Severity};
use kerfbook::model::resolve;
use kerfbook::source::{SourceFile, Sources};
use kerfbook::spec;

const SHOP: &str = include_str!("../specs/shop.toml");
const COMMISSIONS: [(&str, &str); 3] = [
    ("lit", include_str!("../specs/T-204-lantern-street.toml")),
    ("from the strings", include_str!("../specs/T-207-ferry-bell.toml")),
    ("small", include_str!("../specs/T-211-windowsill.toml")),
];

/// All findings of a commission; fails where one lies outside its file or inside a character.
fn findings(commission: &str, shop: &str) -> Vec<Diagnostic> {
    let mut sources = Sources::default();
    let mut report = Report::default();
    let file = sources.add(SourceFile::new("spoiled.toml", commission));
    let shop = sources.add(SourceFile::new("shop.toml", shop));
    let written = spec::read(&sources, file, &mut report);
    let shop = spec::read_shop(&sources, shop, &mut report);
    if let Some(model) = resolve::resolve(&written, Some(&shop), &mut report) {
        report.extend(checks::run(&model, &Design::of(&model)).findings);
    }
    for finding in report.findings() {
        for label in finding.primary.iter().chain(&finding.related) {
            let text = sources.get(label.span.file).text();
            assert!(text.get(label.span.start..label.span.end).is_some(), "{finding:?}");
        }
    }
    report.findings().to_vec()
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
fn a_spoiled_line_makes_findings_and_no_panic() {
    for (_, text) in COMMISSIONS {
        for (index, line) in text.lines().enumerate() {
            if line.trim().is_empty() || line.trim_start().starts_with('#') {
                continue;
            }
            findings(&with_line(text, index, ""), SHOP);
            findings(&with_line(text, index, &format!("{line}\n{line}")), SHOP);
            let Some((key, _)) = line.split_once('=') else { continue };
            let values =
                ["5", "-1", "\"\"", "\"0 mm\"", "\"-3 mm\"", "\"1000 mm\"", "\"12 V\"", "[]", "{}", "\"½ in", "nan"];
            for value in values {
                findings(&with_line(text, index, &format!("{key}= {value}")), SHOP);
            }
        }
    }
}

#[test]
fn a_spoiled_shop_file_makes_findings_and_no_panic() {
    let (_, text) = COMMISSIONS[0];
    for (index, line) in SHOP.lines().enumerate() {
        findings(text, &with_line(SHOP, index, ""));
        if let Some((key, _)) = line.split_once('=') {
            for value in ["5", "\"open\"", "\"0 mm\"", "[]", "\"½ in"] {
                findings(text, &with_line(SHOP, index, &format!("{key}= {value}")));
            }
        }
    }
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
                value.starts_with('"') && units.iter().any(|unit| value.ends_with(unit))
            };
            let (Some((key, _)), Some(true)) = (line.split_once('='), value.map(unit)) else { continue };
            let found = errors(&findings(&with_line(text, index, &format!("{key}= \"open\"")), SHOP));
            assert_eq!(found, Vec::<String>::new(), "{line}");
            opened += 1;
        }
    }
    assert!(opened > 50, "{opened} dimensions were opened");
}
