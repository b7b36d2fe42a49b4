//! The rules of the house that a machine can keep.

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};

use kerfbook::diag::codes::CODES;

/// The longest a source file may be, its tests apart: then it holds more than one concept.
const LONGEST_FILE: usize = 500;

/// A file of the project: its path from the top, and its text.
struct TextFile {
    path: String,
    text: String,
}

fn top() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

/// Every file below a folder with one of the endings, sorted.
fn files(folder: &str, endings: &[&str]) -> Vec<TextFile> {
    let mut paths = Vec::new();
    collect(&top().join(folder), &mut paths);
    paths.sort();
    let wanted = |path: &PathBuf| endings.iter().any(|ending| path.to_string_lossy().ends_with(ending));
    let file = |path: PathBuf| {
        let name = path.strip_prefix(top()).unwrap().to_string_lossy().replace('\\', "/");
        TextFile { path: name, text: fs::read_to_string(&path).unwrap() }
    };
    paths.into_iter().filter(wanted).map(file).collect()
}

fn collect(folder: &Path, paths: &mut Vec<PathBuf>) {
    let Ok(entries) = fs::read_dir(folder) else { return };
    for path in entries.map(|entry| entry.unwrap().path()) {
        if path.is_dir() { collect(&path, paths) } else { paths.push(path) }
    }
}

fn sources() -> Vec<TextFile> {
    files("src", &[".rs"])
}

/// A source's code: without comments, and without what follows the head of its tests.
fn code(text: &str) -> String {
    let before_tests = text.split("#[cfg(test)]").next().unwrap_or(text);
    let lines = before_tests.lines().map(|line| line.split("//").next().unwrap_or(line));
    lines.collect::<Vec<_>>().join("\n")
}

/// The first module of a path in `src`: `geom` of `src/geom/line.rs`.
fn module(path: &str) -> &str {
    let rest = path.strip_prefix("src/").unwrap();
    rest.split(['/', '.']).next().unwrap()
}

/// Whether `word` stands in `text` as a word of its own.
fn has_word(text: &str, word: &str) -> bool {
    let part = |character: Option<char>| character.is_some_and(char::is_alphanumeric);
    text.match_indices(word)
        .any(|(at, _)| !part(text[..at].chars().next_back()) && !part(text[at + word.len()..].chars().next()))
}

#[test]
fn a_module_uses_only_what_stands_above_it() {
    let library = fs::read_to_string(top().join("src/lib.rs")).unwrap();
    let floors: Vec<&str> = library
        .lines()
        .filter_map(|line| line.trim_start_matches("pub ").strip_prefix("mod ")?.strip_suffix(';'))
        .collect();
    assert!(floors.len() > 15, "the floors are read from src/lib.rs");
    let floor = |name: &str| floors.iter().position(|module| *module == name);
    let mut uses = 0;
    for file in sources() {
        let Some(own) = floor(module(&file.path)) else { continue };
        for (at, _) in file.text.match_indices("crate::") {
            let line_start = file.text[..at].rfind('\n').map_or(0, |end| end + 1);
            if file.text[line_start..at].trim_start().starts_with("//") || file.text[..at].ends_with('$') {
                continue;
            }
            let rest = &file.text[at + "crate::".len()..];
            let used = rest.split(|c: char| !c.is_alphanumeric() && c != '_').next().unwrap();
            let used_floor = floor(used).unwrap_or_else(|| panic!("{}: crate::{used} is no floor", file.path));
            assert!(used_floor <= own, "{} uses crate::{used}, which stands below it", file.path);
            uses += 1;
        }
    }
    assert!(uses > 50, "uses are found: {uses}");
}

#[test]
fn geometry_drawing_and_paper_know_no_word_of_the_trade() {
    const TRADE: [&str; 17] = [
        "fret",
        "frets",
        "fretboard",
        "lamp",
        "lamps",
        "kerf",
        "tang",
        "saddle",
        "neck",
        "truss",
        "luthier",
        "guitar",
        "commission",
        "sticks",
        "barb",
        "pickup",
        "epoxy",
    ];
    for file in sources().iter().filter(|file| ["geom", "drawing", "paper"].contains(&module(&file.path))) {
        let text = file.text.to_lowercase().replace('_', " ");
        let found: Vec<_> = TRADE.iter().filter(|word| has_word(&text, word)).collect();
        assert!(found.is_empty(), "{}: {found:?}", file.path);
    }
}

#[test]
fn every_file_says_first_what_it_is() {
    for file in sources().into_iter().chain(files("tests", &[".rs"])).chain(files("examples", &[".rs"])) {
        assert!(file.text.starts_with("//! "), "{} has no head", file.path);
    }
}

#[test]
fn no_file_holds_more_than_one_concept() {
    for file in sources() {
        let lines = file.text.split("#[cfg(test)]").next().unwrap().lines().count();
        assert!(lines <= LONGEST_FILE, "{} has {lines} lines", file.path);
    }
}

#[test]
fn only_the_command_line_touches_files_environment_and_clock() {
    // A scope of threads that ends with its function leaves nothing outside it; any other thread would.
    const OUTSIDE: [&str; 8] = [
        "std::fs",
        "std::env",
        "std::process",
        "SystemTime",
        "Instant::now",
        "std::net",
        "thread::spawn",
        "thread::sleep",
    ];
    for file in sources().iter().filter(|file| !["cli", "main"].contains(&module(&file.path))) {
        let code = code(&file.text);
        let found: Vec<_> = OUTSIDE.iter().filter(|what| code.contains(**what)).collect();
        assert!(found.is_empty(), "{}: {found:?}", file.path);
    }
}

#[test]
fn nothing_hashes_its_order_into_a_packet() {
    for file in sources() {
        let code = code(&file.text);
        assert!(!code.contains("HashMap") && !code.contains("HashSet"), "{}: order by BTreeMap or Vec", file.path);
    }
}

#[test]
fn some_words_stay_out() {
    // Written in two halves, so that this file does not hold them.
    let banned = [
        ["/wo", "rk/"],
        ["../sha", "red"],
        ["crates", ".io"],
        ["pypi", ".org"],
        ["npmjs", ".com"],
        ["tran", "script"],
        ["record", "ed video"],
        ["seed ", "document"],
        ["helper ", "session"],
        ["(Being ", "written.)"],
    ]
    .map(|halves| halves.concat());
    let text = [".rs", ".toml", ".md", ".csv", ".snap"];
    let mut all: Vec<_> = ["src", "tests", "templates", "specs", "examples", ".ci"]
        .iter()
        .flat_map(|folder| files(folder, &text))
        .collect();
    for name in ["README.md", "DEVELOPERS.md", "CHANGELOG.md", "Cargo.toml", ".clippy.toml", ".ci/run"] {
        if let Ok(text) = fs::read_to_string(top().join(name)) {
            all.push(TextFile { path: name.to_owned(), text });
        }
    }
    assert!(all.len() > 50);
    for file in &all {
        let found: Vec<_> = banned.iter().filter(|word| file.text.contains(word.as_str())).collect();
        assert!(found.is_empty(), "{}: {found:?}", file.path);
    }
}

#[test]
fn every_code_has_its_page_and_every_page_its_code() {
    let pages = files("src/diag/pages", &[".md"]);
    let named: BTreeSet<String> = pages
        .iter()
        .map(|page| page.path.rsplit('/').next().unwrap().strip_suffix(".md").unwrap().to_owned())
        .collect();
    let codes: BTreeSet<String> = CODES.iter().map(|row| row.code.to_string()).collect();
    assert_eq!(named, codes);
    assert_eq!(codes.len(), CODES.len(), "a code stands once");
    for row in CODES {
        assert_eq!(row.page.lines().next(), Some(format!("# {}: {}", row.code, row.title).as_str()), "{}", row.code);
    }
}

#[test]
fn every_sheet_has_its_template_and_every_template_its_sheet() {
    let mut sheets: BTreeSet<String> = kerfbook::sheets::ids().map(str::to_owned).collect();
    assert_eq!(sheets.len(), kerfbook::sheets::ids().count(), "a sheet stands once");
    // The page before the patterns is in a file of its own and has no stamp: it is none of the packet's sheets.
    sheets.insert("full-size".to_owned());
    let templates = files("templates", &[".md"]).into_iter().filter_map(|file| {
        let name = file.path.strip_prefix("templates/")?.strip_suffix(".md")?.to_owned();
        (!name.starts_with("_parts/")).then_some(name)
    });
    assert_eq!(templates.collect::<BTreeSet<_>>(), sheets);
}
