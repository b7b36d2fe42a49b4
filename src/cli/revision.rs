//! A commission as git kept it: its file, shop file and issues file at one revision.
//!
//! git is called by itself, without a shell; what is typed reaches it as one argument that cannot be an option.

use std::io::ErrorKind;
use std::path::Path;
use std::process::{Command, Stdio};

use super::files::{Fault, Loaded, SHOP_FILE, issues_file};
use crate::diag::Report;
use crate::packet::{InputFile, Inputs, Templates};
use crate::source::{FileId, SourceFile, Sources};

/// Why there is no commission at a revision.
pub(super) enum Refused {
    /// What was typed leads to nothing.
    Typed(String),
    /// git, or a file of that revision, cannot be read.
    Machine(Fault),
}

impl From<Fault> for Refused {
    fn from(fault: Fault) -> Self {
        Self::Machine(fault)
    }
}

/// Reads a commission file at a revision.
///
/// # Errors
/// No git, no repository, no such revision, or a revision without the file: in words.
pub(super) fn load(file: &str, revision: &str) -> Result<Loaded, Refused> {
    let refuse = |why: &str| Fault(format!("{file}@{revision}: {why}"));
    let typed = |why: &str| Refused::Typed(format!("{file}@{revision}: {why}"));
    let odd = |c: char| c.is_whitespace() || c.is_control() || c == ':';
    if revision.is_empty() || revision.starts_with('-') || revision.contains(odd) {
        return Err(typed("that is neither the letter of an issue nor the name of a revision"));
    }
    let path = Path::new(file);
    let folder = path.parent().filter(|parent| !parent.as_os_str().is_empty()).unwrap_or(Path::new("."));
    let Some(name) = path.file_name().and_then(|name| name.to_str()) else {
        return Err(typed("that is not the name of a file"));
    };
    let Some(prefix) = text_of(git(folder, &["rev-parse", "--show-prefix"], &refuse)?) else {
        return Err(typed("no issue has this name, and the folder is in no git repository"));
    };
    let prefix = prefix.trim_end_matches('\n');
    let wanted = format!("{revision}^{{commit}}");
    let Some(commit) = text_of(git(folder, &["rev-parse", "--verify", "--quiet", &wanted], &refuse)?) else {
        return Err(typed("neither an issue nor a revision has this name"));
    };
    let commit = commit.trim();
    let mut sources = Sources::default();
    // A file of that revision by its path from the top of the repository; none where the revision has none.
    let mut take = |path: &str, shown: &str| -> Result<Option<FileId>, Fault> {
        let object = format!("{commit}:{path}");
        let Some(bytes) = git(folder, &["cat-file", "blob", &object], &refuse)? else { return Ok(None) };
        let text = String::from_utf8(bytes).map_err(|_| refuse(&format!("{path} is not UTF-8 text there")))?;
        Ok(Some(sources.add(SourceFile::new(format!("{shown}@{revision}"), text))))
    };
    let Some(commission) = take(&format!("{prefix}{name}"), file)? else {
        return Err(typed("that revision has no such file"));
    };
    let beside = issues_file(Path::new(name)).to_string_lossy().into_owned();
    let issues = take(&format!("{prefix}{beside}"), &beside)?.map(|id| InputFile { id, path: beside.clone() });
    let mut shop = None;
    let mut above = Some(prefix);
    let mut up = 0;
    while let Some(folder) = above.filter(|_| shop.is_none()) {
        let path = format!("{}{SHOP_FILE}", "../".repeat(up));
        shop = take(&format!("{folder}{SHOP_FILE}"), &path)?.map(|id| InputFile { id, path });
        above = match folder.trim_end_matches('/') {
            "" => None,
            inner => Some(inner.rfind('/').map_or("", |slash| &folder[..=slash])),
        };
        up += 1;
    }
    let commission = InputFile { id: commission, path: name.to_owned() };
    // Two states are compared by their figures, which no template touches.
    let templates = Templates::default();
    Ok(Loaded { inputs: Inputs { sources, commission, shop, issues, templates }, report: Report::default() })
}

/// What git answers; none where it refuses.
fn git(folder: &Path, arguments: &[&str], refuse: &impl Fn(&str) -> Fault) -> Result<Option<Vec<u8>>, Fault> {
    let run = Command::new("git")
        .arg("-C")
        .arg(folder)
        .args(arguments)
        .env("GIT_OPTIONAL_LOCKS", "0")
        .env("GIT_TERMINAL_PROMPT", "0")
        .stdin(Stdio::null())
        .output();
    match run {
        Ok(output) => Ok(output.status.success().then_some(output.stdout)),
        Err(error) if error.kind() == ErrorKind::NotFound => {
            Err(refuse("git is not installed, and only git knows revisions; an issue is named by its letter"))
        }
        Err(error) => Err(refuse(&format!("git cannot be run: {error}"))),
    }
}

fn text_of(bytes: Option<Vec<u8>>) -> Option<String> {
    bytes.and_then(|bytes| String::from_utf8(bytes).ok())
}
