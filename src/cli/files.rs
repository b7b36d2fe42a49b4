//! Finding and reading commission files and their shop file.
//!
//! A fault of the machine (missing, not allowed, not a file) is a [`Fault`] that names the file; a fault of the
//! content (not UTF-8, far too large) is a finding like any other.

use std::fs;
use std::io::{self, ErrorKind, Read};
use std::path::{Component, Path, PathBuf};

use super::own_templates;
use crate::diag::{Diagnostic, Report, Severity, codes};
use crate::packet::{InputFile, Inputs, Templates};
use crate::source::{FileId, SourceFile, Sources, Span};

/// The name of the shop file.
pub(super) const SHOP_FILE: &str = "shop.toml";

/// The most that is read of one file, in bytes: more than any commission needs, less than hurts.
const MOST_BYTES: u64 = 1 << 20;

/// The same of an issues file, to which every issue adds some fifty thousand at most.
const MOST_BYTES_OF_ISSUES: u64 = 1 << 24;

/// What the machine refused, with the file's name in it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Fault(pub(super) String);

impl Fault {
    /// A fault that names its file and says why.
    pub(super) fn new(path: &Path, what: &str, error: &io::Error) -> Self {
        let why = match error.kind() {
            ErrorKind::NotFound => "there is no such file or folder".to_owned(),
            ErrorKind::PermissionDenied => "the system does not allow it".to_owned(),
            _ => error.to_string(),
        };
        Self(format!("{}: {what}: {why}", path.display()))
    }
}

/// What the paths on the command line lead to.
#[derive(Debug, Default)]
pub(super) struct Found {
    /// Commission files in the order of the command line, those of a folder sorted, each once.
    pub(super) commissions: Vec<PathBuf>,
    /// Folders that hold no commission.
    pub(super) empty: Vec<PathBuf>,
    /// What could not be read.
    pub(super) faults: Vec<Fault>,
}

/// Follows the paths on the command line: a file is a commission, a folder stands for all commissions below it.
///
/// Links to folders and folders whose name begins with a dot are not entered.
pub(super) fn find(specs: &[PathBuf]) -> Found {
    let mut found = Found::default();
    let mut seen = Vec::new();
    for spec in specs {
        let mut paths = Vec::new();
        match fs::metadata(spec) {
            Ok(metadata) if metadata.is_dir() => {
                walk(spec, &mut paths, &mut found.faults);
                paths.sort();
                if paths.is_empty() {
                    found.empty.push(spec.clone());
                }
            }
            Ok(_) => paths.push(spec.clone()),
            Err(error) => found.faults.push(Fault::new(spec, "cannot be read", &error)),
        }
        for path in paths {
            let same = fs::canonicalize(&path).unwrap_or_else(|_| path.clone());
            if !seen.contains(&same) {
                seen.push(same);
                found.commissions.push(path);
            }
        }
    }
    found
}

/// Collects the commissions below a folder.
fn walk(folder: &Path, commissions: &mut Vec<PathBuf>, faults: &mut Vec<Fault>) {
    let entries = match fs::read_dir(folder).and_then(Iterator::collect::<io::Result<Vec<_>>>) {
        Ok(entries) => entries,
        Err(error) => {
            faults.push(Fault::new(folder, "cannot be listed", &error));
            return;
        }
    };
    for entry in entries {
        let path = entry.path();
        let hidden = entry.file_name().as_encoded_bytes().starts_with(b".");
        let is_folder = entry.file_type().is_ok_and(|kind| kind.is_dir());
        if is_folder && !hidden {
            walk(&path, commissions, faults);
        } else if !is_folder && may_be_commission(&path) {
            match has_commission(&path) {
                Ok(true) => commissions.push(path),
                Ok(false) => {}
                Err(fault) => faults.push(fault),
            }
        }
    }
}

/// Whether a file's name allows a commission in it: TOML, but neither the shop's nor a memory file.
fn may_be_commission(path: &Path) -> bool {
    let Some(name) = path.file_name().and_then(|name| name.to_str()) else { return false };
    let memory = [".issues.toml", ".signed.toml"];
    name.ends_with(".toml") && name != SHOP_FILE && !memory.iter().any(|ending| name.ends_with(ending))
}

/// Whether a file has a `[commission]` table, also if it is not TOML elsewhere.
fn has_commission(path: &Path) -> Result<bool, Fault> {
    // A link that leads to a folder, a pipe, a device: none of them is a commission.
    if fs::metadata(path).is_ok_and(|metadata| !metadata.is_file()) {
        return Ok(false);
    }
    let bytes = read_bytes(path, MOST_BYTES)?;
    let text = String::from_utf8_lossy(&bytes);
    let parsed = toml::de::DeTable::parse_recoverable(&text).0;
    let written = || text.lines().any(|line| line.trim_start().starts_with("[commission]"));
    Ok(parsed.get_ref().contains_key("commission") || written())
}

/// A commission's inputs and what is wrong with them before anything is parsed.
#[derive(Debug)]
pub(super) struct Loaded {
    /// The texts.
    pub(super) inputs: Inputs,
    /// Findings of reading: a file that is not UTF-8, or far too large.
    pub(super) report: Report,
}

/// Reads a commission file, the issues file beside it, and its shop file: the one in its folder, or in the nearest
/// folder above; with that the shop's own templates.
///
/// # Errors
/// A file that the machine does not give out.
pub(super) fn load(path: &Path) -> Result<Loaded, Fault> {
    let mut sources = Sources::default();
    let mut report = Report::default();
    let commission = read(path, MOST_BYTES, &mut sources, &mut report)?;
    let name = path.file_name().map_or_else(String::new, |name| name.to_string_lossy().into_owned());
    let mut templates = Templates::default();
    let shop = match find_shop(path)? {
        Some(shop) => {
            let id = read(&shop.path, MOST_BYTES, &mut sources, &mut report)?;
            let up = "../".repeat(shop.up);
            templates = own_templates::load(&shop.path, id, &up, &mut sources);
            Some(InputFile { id, path: format!("{up}{SHOP_FILE}") })
        }
        None => None,
    };
    let beside = issues_file(path);
    let issues = match fs::symlink_metadata(&beside) {
        Ok(_) => {
            let id = read(&beside, MOST_BYTES_OF_ISSUES, &mut sources, &mut report)?;
            let name = beside.file_name().map_or_else(String::new, |name| name.to_string_lossy().into_owned());
            Some(InputFile { id, path: name })
        }
        Err(_) => None,
    };
    let commission = InputFile { id: commission, path: name };
    Ok(Loaded { inputs: Inputs { sources, commission, shop, issues, templates }, report })
}

/// The issues file that belongs to a commission file: `K-7.issues.toml` beside `K-7.toml`.
pub(super) fn issues_file(commission: &Path) -> PathBuf {
    commission.with_extension("issues.toml")
}

/// A shop file: where it is, and how many folders above the commission's.
struct ShopFile {
    path: PathBuf,
    up: usize,
}

fn find_shop(commission: &Path) -> Result<Option<ShopFile>, Fault> {
    let folder = match commission.parent() {
        Some(parent) if !parent.as_os_str().is_empty() => parent,
        _ => Path::new("."),
    };
    let whole = fs::canonicalize(folder).map_err(|error| Fault::new(folder, "cannot be read", &error))?;
    for (up, ancestor) in whole.ancestors().enumerate() {
        // As the command line names the folder, for as long as it does: messages then say `specs/shop.toml`.
        let named = if up == 0 { folder.to_owned() } else { named_above(folder, up).unwrap_or(ancestor.to_owned()) };
        let path = if named == Path::new(".") { PathBuf::from(SHOP_FILE) } else { named.join(SHOP_FILE) };
        if fs::symlink_metadata(&path).is_ok() {
            return Ok(Some(ShopFile { path, up }));
        }
    }
    Ok(None)
}

/// The folder some steps above another, as far as its name says it.
fn named_above(folder: &Path, up: usize) -> Option<PathBuf> {
    let parts: Vec<_> = folder.components().collect();
    if !parts.iter().all(|part| matches!(part, Component::Normal(_))) || up > parts.len() {
        return None;
    }
    let above: PathBuf = parts[..parts.len() - up].iter().collect();
    Some(if above.as_os_str().is_empty() { PathBuf::from(".") } else { above })
}

/// Reads a file into the sources; what is wrong with its content goes into the report.
fn read(path: &Path, most: u64, sources: &mut Sources, report: &mut Report) -> Result<FileId, Fault> {
    let name = path.display().to_string();
    let metadata = fs::metadata(path).map_err(|error| Fault::new(path, "cannot be read", &error))?;
    if metadata.is_dir() {
        return Err(Fault(format!("{name}: cannot be read: it is a folder")));
    }
    if !metadata.is_file() {
        return Err(Fault(format!("{name}: cannot be read: it is not a file")));
    }
    let bytes = read_bytes(path, most)?;
    if bytes.len() as u64 > most {
        let id = sources.add(SourceFile::new(name, ""));
        let message = format!("the file is larger than {} MB: none of its kind is", most >> 20);
        report.push(at(id, 0, message));
        return Ok(id);
    }
    if let Some((fault, help)) = no_text(&bytes) {
        let id = sources.add(SourceFile::new(name, ""));
        report.push(at(id, 0, fault.to_owned()).help(help));
        return Ok(id);
    }
    match String::from_utf8(bytes) {
        Ok(text) => Ok(sources.add(SourceFile::new(name, text))),
        Err(error) => {
            let good = error.utf8_error().valid_up_to();
            let text = String::from_utf8_lossy(error.as_bytes()).into_owned();
            let id = sources.add(SourceFile::new(name, text));
            let finding = at(id, good, "not UTF-8 text from here on".to_owned());
            report.push(finding.help("save the file as UTF-8"));
            Ok(id)
        }
    }
}

/// What a file is that is no text at all, and what to do: told once, in place of a finding a line.
fn no_text(bytes: &[u8]) -> Option<(&'static str, &'static str)> {
    // The byte order marks of UTF-16 (RFC 2781, section 3.2).
    let marked = bytes.starts_with(&[0xff, 0xfe]) || bytes.starts_with(&[0xfe, 0xff]);
    let nuls = bytes.iter().filter(|byte| **byte == 0).count();
    // Plain letters in UTF-16 are every other byte a NUL; no line of UTF-8 text holds more than a stray one.
    if marked || (nuls > 0 && nuls.abs_diff(bytes.len() / 2) <= bytes.len() / 16) {
        return Some(("the file is text in UTF-16, not in UTF-8", "save the file as UTF-8"));
    }
    let lone = bytes.contains(&b'\r') && !bytes.contains(&b'\n');
    if lone {
        return Some((
            "the file's lines end in a lone carriage return",
            "save the file with line feeds (LF) as line ends",
        ));
    }
    (nuls > bytes.len() / 8).then_some(("the file is no text: it holds NUL bytes", "name the commission's .toml file"))
}

fn at(file: FileId, byte: usize, message: String) -> Diagnostic {
    Diagnostic::new(codes::SPEC_12, Severity::Error, "", message).at(Some(Span { file, start: byte, end: byte }))
}

/// Reads a file, but no more than a byte past the limit.
fn read_bytes(path: &Path, most: u64) -> Result<Vec<u8>, Fault> {
    let mut bytes = Vec::new();
    let read = fs::File::open(path).and_then(|file| file.take(most + 1).read_to_end(&mut bytes));
    read.map_err(|error| Fault::new(path, "cannot be read", &error))?;
    Ok(bytes)
}

#[cfg(test)]
mod tests {
    use tempfile::TempDir;

    use super::*;

    fn shop_with(files: &[(&str, &str)]) -> TempDir {
        let folder = TempDir::new().unwrap();
        for (name, text) in files {
            let path = folder.path().join(name);
            fs::create_dir_all(path.parent().unwrap()).unwrap();
            fs::write(path, text).unwrap();
        }
        folder
    }

    fn names(found: &Found, folder: &TempDir) -> Vec<String> {
        let name = |path: &PathBuf| path.strip_prefix(folder.path()).unwrap().display().to_string();
        found.commissions.iter().map(name).collect()
    }

    const COMMISSION: &str = "[commission]\nnumber = \"K-1\"\n";

    #[test]
    fn a_folder_stands_for_its_commissions_and_for_nothing_else() {
        let folder = shop_with(&[
            ("b.toml", COMMISSION),
            ("a.toml", COMMISSION),
            ("deep/er/c.toml", COMMISSION),
            ("dotted.toml", "commission.number = \"K-2\"\n"),
            ("broken.toml", "x = = 1\n[commission]\nnumber = \"K-3\"\n"),
            ("shop.toml", COMMISSION),
            ("a.issues.toml", COMMISSION),
            ("a.signed.toml", COMMISSION),
            (".hidden/d.toml", COMMISSION),
            ("notes.toml", "title = \"no commission\"\n"),
            ("readme.md", COMMISSION),
        ]);
        let found = find(&[folder.path().to_owned()]);
        assert_eq!(names(&found, &folder), ["a.toml", "b.toml", "broken.toml", "deep/er/c.toml", "dotted.toml"]);
        assert!(found.faults.is_empty() && found.empty.is_empty());
    }

    #[test]
    fn a_commission_that_is_named_twice_is_built_once() {
        let folder = shop_with(&[("a.toml", COMMISSION)]);
        let file = folder.path().join("a.toml");
        let found = find(&[file.clone(), folder.path().to_owned(), folder.path().join("./a.toml")]);
        assert_eq!(found.commissions, [file]);
    }

    #[test]
    fn a_folder_without_commissions_and_a_path_that_is_not_there_are_told_apart() {
        let folder = shop_with(&[("shop.toml", "")]);
        let missing = folder.path().join("missing.toml");
        let found = find(&[folder.path().to_owned(), missing.clone()]);
        assert_eq!(found.empty, [folder.path()]);
        let expected = format!("{}: cannot be read: there is no such file or folder", missing.display());
        assert_eq!(found.faults, [Fault(expected)]);
    }

    #[test]
    fn the_nearest_shop_file_is_taken() {
        let folder = shop_with(&[("shop.toml", "# far"), ("near/shop.toml", "# near"), ("near/a.toml", COMMISSION)]);
        fs::create_dir_all(folder.path().join("one/two")).unwrap();
        fs::write(folder.path().join("one/two/b.toml"), COMMISSION).unwrap();
        let near = load(&folder.path().join("near/a.toml")).unwrap().inputs;
        let shop = near.shop.unwrap();
        assert_eq!((near.sources.get(shop.id).text(), shop.path.as_str()), ("# near", "shop.toml"));
        let far = load(&folder.path().join("one/two/b.toml")).unwrap().inputs;
        let shop = far.shop.unwrap();
        assert_eq!((far.sources.get(shop.id).text(), shop.path.as_str()), ("# far", "../../shop.toml"));
        assert_eq!(far.commission.path, "b.toml");
    }

    #[test]
    fn text_that_is_not_utf_8_is_a_finding_at_its_place() {
        let folder = TempDir::new().unwrap();
        let path = folder.path().join("a.toml");
        fs::write(&path, b"[commission]\ntitle = \"caf\xe9\"\n").unwrap();
        let loaded = load(&path).unwrap();
        let label = loaded.report.findings()[0].primary.clone().unwrap();
        let at = loaded.inputs.sources.range(label.span).0;
        assert_eq!((at.line, at.column), (2, 13));
        assert_eq!(loaded.report.findings()[0].code, codes::SPEC_12);
        assert_eq!(find(&[folder.path().to_owned()]).commissions, [path], "it is found all the same");
    }

    #[test]
    fn a_file_that_is_no_text_is_one_finding() {
        let folder = TempDir::new().unwrap();
        let path = folder.path().join("a.toml");
        let wide = |marked: bool| -> Vec<u8> {
            let mark = if marked { "\u{feff}" } else { "" };
            format!("{mark}{COMMISSION}").encode_utf16().flat_map(u16::to_be_bytes).collect()
        };
        let lone = COMMISSION.replace('\n', "\r").into_bytes();
        for (bytes, word) in
            [(wide(true), "UTF-16"), (wide(false), "UTF-16"), (lone, "carriage return"), (vec![0; 9_999], "NUL")]
        {
            fs::write(&path, &bytes).unwrap();
            let loaded = load(&path).unwrap();
            let told = loaded.report.findings();
            assert!(told.len() == 1 && told[0].message.contains(word), "{word}: {told:?}");
        }
    }

    #[test]
    fn a_huge_file_and_a_folder_in_place_of_a_file_are_refused() {
        let folder = shop_with(&[("huge.toml", &"#".repeat(2 << 20)), ("a.toml", COMMISSION)]);
        assert!(load(&folder.path().join("huge.toml")).unwrap().report.has_errors());
        fs::create_dir(folder.path().join("shop.toml")).unwrap();
        let fault = load(&folder.path().join("a.toml")).unwrap_err();
        assert!(fault.0.ends_with("shop.toml: cannot be read: it is a folder"), "{}", fault.0);
    }

    #[cfg(unix)]
    #[test]
    fn a_link_in_a_circle_does_not_trap_the_walk() {
        let folder = shop_with(&[("a.toml", COMMISSION)]);
        std::os::unix::fs::symlink(folder.path(), folder.path().join("again")).unwrap();
        std::os::unix::fs::symlink("nowhere", folder.path().join("dangling")).unwrap();
        let found = find(&[folder.path().to_owned()]);
        assert_eq!(names(&found, &folder), ["a.toml"]);
        assert!(found.faults.is_empty());
    }
}
