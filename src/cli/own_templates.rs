//! Reading a shop's own templates: the folder that `[print] templates` of its shop file names.
//!
//! Nothing outside that folder is read: no step upward, no link that leads out. What cannot be read is a fault of the
//! templates: the packets of the shop's commissions are marked, and nothing is built with half of the shop's words.

use std::fs;
use std::io::{self, ErrorKind, Read};
use std::path::{Path, PathBuf};

use crate::diag::Report;
use crate::packet::{InputFile, TemplateFile, Templates, leads_within};
use crate::source::{FileId, SourceFile, Sources};
use crate::spec::{self, entry::value_of};
use crate::template::{Engine, Place, TemplateError};

/// The most that is read of one template, in bytes: more than the engine takes, so that the engine says what it takes.
const MOST_BYTES: u64 = 1 << 18;

/// What every template's file ends in.
pub(super) const SUFFIX: &str = ".md";

/// Where templates lie in the folder: the sheets' in it, what sheets share below it.
const PLACES: [&str; 2] = ["", "_parts/"];

/// What `templates --write` explains there: no template.
pub(super) const README: &str = "README.md";

/// Reads the templates of a shop file that is read already. `up` leads from the commission's folder to the shop file's.
pub(super) fn load(shop: &Path, id: FileId, up: &str, sources: &mut Sources) -> Templates {
    // Nearly every shop has none, and its file need not be taken apart a second time.
    if !sources.get(id).text().contains("templates") {
        return Templates::default();
    }
    let written = spec::read_shop(sources, id, &mut Report::default());
    let Some(entry) = value_of(&written.print).and_then(|print| print.templates.as_ref()) else {
        return Templates::default();
    };
    // A path that leads elsewhere is a finding of the shop file.
    let Some(path) = entry.value().filter(|path| leads_within(path)) else { return Templates::default() };
    let at = sources.range(entry.span).0;
    let beside = shop.parent().unwrap_or(Path::new(""));
    let fault = |message: String| Templates {
        faults: vec![TemplateError {
            template: String::new(),
            file: Some(shop.display().to_string()),
            place: Place::Template(at.line, at.column),
            message: format!("`print.templates`: {message}"),
        }],
        ..Templates::default()
    };
    let folder = beside.join(path);
    match fs::metadata(&folder) {
        Err(error) if error.kind() == ErrorKind::NotFound => {
            return fault(format!("there is no folder `{path}` beside this file"));
        }
        Err(error) => return fault(format!("the folder `{path}` cannot be read: {error}")),
        Ok(metadata) if !metadata.is_dir() => return fault(format!("`{path}` is no folder")),
        Ok(_) => {}
    }
    let top = if beside.as_os_str().is_empty() { Path::new(".") } else { beside };
    match (fs::canonicalize(top), fs::canonicalize(&folder)) {
        (Ok(top), Ok(whole)) if whole.starts_with(&top) => {}
        _ => return fault(format!("the folder `{path}` leads out of the shop file's folder")),
    }
    let mut reading = Reading { folder, sources, templates: Templates::default() };
    match reading.names() {
        Ok(names) => {
            for name in names {
                reading.take(&name, &format!("{up}{}/{name}", path.trim_end_matches('/')));
            }
            reading.templates
        }
        Err(error) => fault(format!("the folder `{path}` cannot be listed: {error}")),
    }
}

struct Reading<'a> {
    folder: PathBuf,
    sources: &'a mut Sources,
    templates: Templates,
}

impl Reading<'_> {
    /// The paths of all files that are named like templates, sorted; in them `/` parts names.
    fn names(&self) -> io::Result<Vec<String>> {
        let mut names = Vec::new();
        for within in PLACES {
            let folder = self.folder.join(within);
            if !within.is_empty() && !folder.is_dir() {
                continue;
            }
            for entry in fs::read_dir(folder)? {
                let name = entry?.file_name().to_string_lossy().into_owned();
                let hidden = name.starts_with('.');
                if name.ends_with(SUFFIX) && !hidden && !name.eq_ignore_ascii_case(README) {
                    names.push(format!("{within}{name}"));
                }
            }
        }
        names.sort();
        Ok(names)
    }

    /// Reads one file, if it takes a template's place.
    fn take(&mut self, path: &str, from_commission: &str) {
        let name = path.strip_suffix(SUFFIX).unwrap_or(path);
        if Engine::names().all(|known| known != name) {
            self.templates.strangers.push(path.to_owned());
            return;
        }
        let file = self.folder.join(path);
        let shown = file.display().to_string();
        match self.read(&file) {
            Ok(text) => {
                let id = self.sources.add(SourceFile::new(shown, text));
                let file = InputFile { id, path: from_commission.to_owned() };
                self.templates.files.push(TemplateFile { name: name.to_owned(), file });
            }
            Err((place, message)) => {
                let fault = TemplateError { template: name.to_owned(), file: Some(shown), place, message };
                self.templates.faults.push(fault);
            }
        }
    }

    fn read(&self, file: &Path) -> Result<String, (Place, String)> {
        let whole = |message: &str| (Place::Whole, message.to_owned());
        let refused = |error: io::Error| (Place::Whole, format!("cannot be read: {error}"));
        let real = fs::canonicalize(file).map_err(refused)?;
        let folder = fs::canonicalize(&self.folder).map_err(refused)?;
        if !real.starts_with(folder) {
            return Err(whole("the link leads out of the folder of templates"));
        }
        if !fs::metadata(&real).map_err(refused)?.is_file() {
            return Err(whole("it is not a file"));
        }
        let mut bytes = Vec::new();
        let read = fs::File::open(&real).and_then(|file| file.take(MOST_BYTES + 1).read_to_end(&mut bytes));
        read.map_err(refused)?;
        if bytes.len() as u64 > MOST_BYTES {
            return Err((Place::Whole, format!("it is larger than {} kB: no template is", MOST_BYTES >> 10)));
        }
        String::from_utf8(bytes).map_err(|error| {
            let good = error.utf8_error().valid_up_to();
            let text = String::from_utf8_lossy(error.as_bytes());
            let at = SourceFile::new("", text).position(good);
            (Place::Template(at.line, at.column), "not UTF-8 text from here on; save the file as UTF-8".to_owned())
        })
    }
}
