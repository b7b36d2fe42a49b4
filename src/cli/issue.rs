//! `kerfbook issue`: what the commission is now, kept under the next letter.

use std::fs::{self, File};
use std::io::Write;
use std::path::{Path, PathBuf};

use clap::Args;

use super::files::{self, Fault};
use super::one::{self, One};
use super::{Status, Terminal, today};
use crate::diag::{Report, render};
use crate::packet::Standing;
use crate::source::{SourceFile, Sources};
use crate::spec::date::Date;
use crate::spec::issues::{self, Issue};

/// Issues a commission: keeps its values, stamps and printed figures under the next letter
#[derive(Debug, Args)]
#[command(after_help = EXAMPLES)]
pub(super) struct IssueCommand {
    /// The commission file
    spec: PathBuf,
    /// Who issues it
    #[arg(long, value_name = "NAME")]
    by: String,
    /// What changed, in words for the cover
    #[arg(long, value_name = "TEXT")]
    changed: String,
    /// The day, if it is not today (by Coordinated Universal Time)
    #[arg(long, value_name = "YYYY-MM-DD")]
    date: Option<String>,
}

const EXAMPLES: &str = "\
Examples:
  kerfbook issue specs/K-7.toml --by \"bench one\" --changed \"first issue\"
  kerfbook issue specs/K-7.toml --by \"bench one\" --changed \"radius 12 in\" --date 2026-03-09

The issue is written behind what stands in NAME.issues.toml. A commission with errors is not issued, nor one that
is as it was at its last issue.";

impl IssueCommand {
    pub(super) fn run(&self, terminal: &mut Terminal) -> Status {
        let status = match self.issue(terminal) {
            Ok(status) => status,
            Err(fault) => {
                terminal.complain(&fault.0);
                Status::Machine
            }
        };
        terminal.end(status)
    }

    fn issue(&self, terminal: &mut Terminal) -> Result<Status, Fault> {
        for (option, text) in [("--by", &self.by), ("--changed", &self.changed)] {
            if text.trim().is_empty() {
                terminal.complain(&format!("{option} is empty: an issue says who made it and what changed"));
                return Ok(Status::Usage);
            }
        }
        let Some(date) = self.date.as_deref().map_or_else(today::today, Date::from_text) else {
            terminal.complain("the day is not one of the calendar: write --date 2026-03-01");
            return Ok(Status::Usage);
        };
        // Held until the file is written, so that two people cannot both take the next letter.
        let _lock = lock(&self.spec);
        let commission = match one::load(&self.spec, terminal)? {
            One::Sound(commission) => commission,
            One::Faulty(status) => return Ok(status),
        };
        let name = render::visible(&self.spec.display().to_string());
        let standing = &commission.standing;
        if let Some(last) = standing.issued() {
            let (letter, day) = (&last.letter, last.date);
            terminal.complain(&format!("{name}: not issued: nothing has changed since issue {letter} of {day}"));
            return Ok(Status::SpecErrors);
        }
        if let Some(last) = standing.issues.last().filter(|last| last.date > date) {
            let (letter, day) = (&last.letter, last.date);
            terminal.complain(&format!("{name}: not issued: issue {letter} is of {day}, and {date} lies before it"));
            return Ok(Status::Usage);
        }
        let issue = standing.next_issue(date, &self.by, &self.changed);
        let path = files::issues_file(&self.spec);
        let existing =
            commission.inputs.issues.as_ref().map_or("", |file| commission.inputs.sources.get(file.id).text());
        write(&path, existing, standing, &issue)?;
        let shown = path.display().to_string();
        terminal.result(&format!("{name}: issue {} of {date}, stamp {}\n", issue.letter, issue.stamp));
        terminal
            .result(&format!("written to {}; `kerfbook build --reprint` prints what moved\n", render::visible(&shown)));
        Ok(Status::Well)
    }
}

/// Holds the commission's folder against a second issue at the same time, where the system can.
fn lock(commission: &Path) -> Option<File> {
    let folder = match commission.parent() {
        Some(parent) if !parent.as_os_str().is_empty() => parent,
        _ => Path::new("."),
    };
    File::open(folder).ok().filter(|folder| folder.lock().is_ok())
}

/// Writes the file with one more issue, in one step.
fn write(path: &Path, existing: &str, standing: &Standing, issue: &Issue) -> Result<(), Fault> {
    let text = issues::with_issue(existing, &standing.issues, issue);
    let mut expected = standing.issues.clone();
    expected.push(issue.clone());
    if read_again(&text) != Some(expected) {
        let path = path.display();
        return Err(Fault(format!(
            "{path}: cannot be written: behind what stands there no issue can stand; write each issue under its own \
             `[[issue]]`, and close every bracket"
        )));
    }
    let refuse = |error: &std::io::Error| Fault::new(path, "cannot be written", error);
    // A link is followed: what it leads to is replaced, not the link.
    let target = if fs::symlink_metadata(path).is_ok() {
        fs::canonicalize(path).map_err(|error| refuse(&error))?
    } else {
        path.to_owned()
    };
    let name = target.file_name().map_or_else(Default::default, |name| name.to_string_lossy().into_owned());
    let fresh = target.with_file_name(format!(".{name}.new"));
    let written = File::create(&fresh)
        .and_then(|mut file| file.write_all(text.as_bytes()).and_then(|()| file.sync_all()))
        .and_then(|()| fs::rename(&fresh, &target));
    written.map_err(|error| {
        let _ = fs::remove_file(&fresh);
        refuse(&error)
    })
}

/// The issues of a text; none where anything can be said against it.
fn read_again(text: &str) -> Option<Vec<Issue>> {
    let mut sources = Sources::default();
    let mut report = Report::default();
    let file = sources.add(SourceFile::new("", text));
    let issues = issues::read_issues(&sources, file, None, &mut report);
    report.findings().is_empty().then_some(issues)
}
