//! The pages that the README shows are pages of the demo shop's packets as the program makes them now.
//!
//! A picture's name carries the stamp of its sheet: `T-204-slot-depth-K355-D68K-N.png`. A figure that moves on the sheet
//! moves the stamp, and the picture wants making again: DEVELOPERS.md says how.

use std::collections::BTreeMap;
use std::path::Path;

use crate::support::Shop;

const FOLDER: &str = "examples/pages/";

/// The stamps of a demo commission's sheets, as names of files write them.
fn stamps(number: &str) -> BTreeMap<String, String> {
    let specs = Path::new(env!("CARGO_MANIFEST_DIR")).join("specs");
    let file = std::fs::read_dir(&specs).unwrap().filter_map(Result::ok).map(|entry| entry.file_name());
    let file = file.filter_map(|name| name.into_string().ok());
    let file = file.filter(|name| !name.contains(".issues.")).find(|name| name.starts_with(number)).unwrap();
    let mut shop = Shop::new();
    for name in ["shop.toml", &file] {
        shop = shop.with(name, std::fs::read(specs.join(name)).unwrap());
    }
    let run = shop.run(&["build", &file]);
    assert_eq!(run.status, 0, "{}", run.err);
    let manifest = std::fs::read(shop.path(&format!("packets/{number}/manifest.json"))).unwrap();
    let manifest: serde_json::Value = serde_json::from_slice(&manifest).unwrap();
    let word = |value: &serde_json::Value| value.as_str().unwrap().to_owned();
    let sheets = manifest["sheets"].as_array().unwrap();
    sheets.iter().map(|sheet| (word(&sheet["sheet"]), word(&sheet["stamp"]).replace(' ', "-"))).collect()
}

#[test]
fn the_readme_shows_three_pages_whose_stamps_are_current() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let readme = std::fs::read_to_string(root.join("README.md")).unwrap();
    let mut shown: Vec<(&str, &str)> = Vec::new();
    for image in readme.split("![").skip(1) {
        let (words, rest) = image.split_once("](").unwrap();
        let path = rest.split(')').next().unwrap();
        assert!(words.len() > 20, "{path}: its words tell what it shows to those who cannot see it: {words:?}");
        shown.push((path.strip_prefix(FOLDER).unwrap(), words));
    }
    assert_eq!(shown.len(), 3, "{shown:?}");
    let mut known: BTreeMap<&str, BTreeMap<String, String>> = BTreeMap::new();
    for (name, _) in &shown {
        let number = &name[..5];
        let stamps = known.entry(number).or_insert_with(|| stamps(number));
        let own = stamps.iter().find(|(sheet, _)| name[6..].starts_with(&format!("{sheet}-"))).unwrap();
        let now = format!("{number}-{}-{}.png", own.0, own.1);
        assert_eq!(*name, now, "the sheet has moved: make its picture anew");
        let bytes = std::fs::read(root.join(FOLDER).join(name)).unwrap();
        assert!(bytes.starts_with(b"\x89PNG") && bytes.len() < 150_000, "{name}: {} bytes", bytes.len());
    }
    let there = std::fs::read_dir(root.join(FOLDER)).unwrap().filter_map(Result::ok).map(|entry| entry.file_name());
    let there: Vec<String> = there.filter_map(|name| name.into_string().ok()).collect();
    assert!(
        there.iter().all(|name| shown.iter().any(|(own, _)| own == name)),
        "a picture that nobody shows: {there:?}"
    );
}
