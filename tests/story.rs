//! The story of the demo commission that was issued twice and is being changed again: its issues file is what the
//! program writes, and the README tells what the program says.
//!
//! A sheet that prints other figures than it did moves its stamp; then `INSTA_UPDATE=always cargo test story` writes
//! both anew, and the diff is read as carefully as code.

use std::fs;
use std::path::{Path, PathBuf};

use kerfbook::source::{SourceFile, Sources};
use kerfbook::spec::issues::{Issue, read_issues};

use crate::support::Shop;

const NAME: &str = "specs/T-230-second-thoughts";

fn top(path: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join(path)
}

fn text(path: &str) -> String {
    fs::read_to_string(top(path)).unwrap()
}

/// Holds a text against a file of the project, or writes it there if that was asked for.
fn hold(path: &str, made: &str) {
    if text(path) == made {
        return;
    }
    if std::env::var("INSTA_UPDATE").is_ok_and(|word| word == "always") {
        fs::write(top(path), made).unwrap();
        return;
    }
    panic!("{path} is not what the program makes now: INSTA_UPDATE=always cargo test story, then read the diff");
}

/// The demo's shop: issued twice, then changed to what the file says.
fn issued_twice() -> Shop {
    let (commission, file) = (text(&format!("{NAME}.toml")), format!("{NAME}.toml"));
    let shop = Shop::new().with("specs/shop.toml", text("specs/shop.toml"));
    let (radius, dot) = ("board = \"16 in\" ", "dot       = \"5 mm\" ");
    assert!(commission.contains(radius) && commission.contains(dot));
    let second = commission.replace(dot, "dot       = \"6 mm\" ");
    let first = second.replace(radius, "board = \"12 in\" ");
    for (state, changed, date) in [
        (&first, "agreed with the customer", "2026-03-02"),
        (&second, "customer wants a flatter board: 16 in, not 12 in", "2026-03-09"),
    ] {
        shop.write(&file, state);
        let run = shop.run(&["issue", &file, "--by", "bench one", "--changed", changed, "--date", date]);
        assert_eq!(run.status, 0, "{}", run.err);
    }
    shop.write(&file, commission);
    shop
}

fn issues(text: &str) -> Vec<Issue> {
    let mut sources = Sources::default();
    let file = sources.add(SourceFile::new("issues", text));
    read_issues(&sources, file, Some("T-230"), &mut kerfbook::diag::Report::default())
}

#[test]
fn the_story_of_the_demo_is_what_the_program_does() {
    let shop = issued_twice();
    let file = format!("{NAME}.toml");
    let made = fs::read_to_string(shop.path(&format!("{NAME}.issues.toml"))).unwrap();
    hold(&format!("{NAME}.issues.toml"), &made);
    let issues = issues(&made);
    let [first, second] = issues.as_slice() else { panic!("two issues") };
    let stamp = |issue: &Issue, sheet: &str| issue.state.sheet(sheet).unwrap().stamp.replace(' ', "-");
    let mut told = String::new();
    for (arguments, status) in [
        (vec!["compare", &format!("{file}@A"), &format!("{file}@B")], 1),
        (vec!["compare", &format!("{file}@B"), &file], 1),
        (vec!["build", &file, "--reprint"], 0),
        (vec!["stamp", &stamp(second, "fret-table"), &file], 0),
        (vec!["stamp", &stamp(first, "slot-depth"), &file], 1),
    ] {
        let run = shop.run(&arguments);
        assert_eq!(run.status, status, "{arguments:?}: {}{}", run.out, run.err);
        assert!(run.err.is_empty(), "{arguments:?}: {}", run.err);
        if arguments[1].ends_with("@A") {
            // The first change in short: all of it would not be one screen.
            assert!(run.out.starts_with("radius.board: 304.8 mm, now 406.4 mm\n"), "{}", run.out);
            continue;
        }
        told.push_str(&format!("$ kerfbook {}\n{}\n\n", arguments.join(" "), run.out.trim_end()));
    }
    let readme = text("README.md");
    let (before, rest) = readme.split_once("```console\n").unwrap();
    let (_, after) = rest.split_once("```\n").unwrap();
    hold("README.md", &format!("{before}```console\n{}\n```\n{after}", told.trim_end()));
}
