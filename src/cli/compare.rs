//! `kerfbook compare`: what differs between two states of a commission, and which prints go into the bin.

use std::path::Path;

use clap::{Args, ValueEnum};
use serde_json::{Value, json};

use super::files::{self, Fault, Loaded};
use super::one::{self, One};
use super::revision::{self, Refused};
use super::{Status, Terminal, tabular};
use crate::diag::Report;
use crate::diag::render::{self, Context};
use crate::sheets::difference::{Difference, Fate, Moved, SheetDifference};
use crate::spec::issues::{self, State};

/// Compares two states of a commission: what moved, which prints go into the bin, which stay
#[derive(Debug, Args)]
#[command(after_help = EXAMPLES)]
pub(super) struct Compare {
    /// The older state: FILE, FILE@LETTER for an issue, FILE@REVISION from git
    old: String,
    /// The newer state, in the same forms
    new: String,
    /// How to tell the difference
    #[arg(long, value_enum, default_value_t = Format::Text)]
    format: Format,
}

const EXAMPLES: &str = "\
Examples:
  kerfbook compare specs/K-7.toml@B specs/K-7.toml
  kerfbook compare specs/K-7.toml@HEAD~1 specs/K-7.toml
  kerfbook compare specs/K-7.toml@A specs/K-7.toml@B --format json

Exit status: 0 nothing differs, 1 something does, or a state has errors, 2 no issue or revision has this name.";

/// The forms of a comparison.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
enum Format {
    /// For people; of each sheet the first figures
    Text,
    /// For scripts; all figures
    Json,
}

/// Figures of one sheet that the text tells.
const TOLD: usize = 6;

impl Compare {
    pub(super) fn run(&self, terminal: &mut Terminal) -> Status {
        let status = match (state(&self.old, terminal), state(&self.new, terminal)) {
            (Ok(Ok(old)), Ok(Ok(new))) => self.tell(&old, &new, terminal),
            (old, new) => [old, new].into_iter().map(|side| refused(side, terminal)).max().unwrap_or_default(),
        };
        terminal.end(status)
    }

    fn tell(&self, old: &State, new: &State, terminal: &mut Terminal) -> Status {
        if old.number() != new.number() {
            let (old, new) = (old.number(), new.number());
            terminal.complain(&format!("`{old}` and `{new}` are two commissions, not two states of one"));
            return Status::Usage;
        }
        let difference = Difference::between(old, new);
        let text = match self.format {
            Format::Text => self.text(&difference),
            Format::Json => tabular::json_text(&self.json(new.number(), &difference)),
        };
        terminal.result(&text);
        if difference.is_nothing() { Status::Well } else { Status::SpecErrors }
    }

    fn text(&self, difference: &Difference) -> String {
        let mut lines = Vec::new();
        if difference.is_nothing() {
            lines.push("nothing differs: every print stays on the wall".to_owned());
        }
        lines.extend(difference.values.iter().map(in_words));
        for (heading, fates) in [("BIN", &[Fate::Bin, Fate::Gone][..]), ("NEW", &[Fate::New]), ("KEEP", &[Fate::Keep])]
        {
            let sheets: Vec<_> = difference.sheets.iter().filter(|sheet| fates.contains(&sheet.fate)).collect();
            if sheets.is_empty() || difference.is_nothing() {
                continue;
            }
            lines.extend([String::new(), heading.to_owned()]);
            lines.extend(sheets.into_iter().flat_map(sheet_lines));
        }
        lines.iter().map(|line| format!("{}\n", render::visible(line))).collect()
    }

    fn json(&self, number: &str, difference: &Difference) -> Value {
        let moved = |all: &[Moved], name: &str| -> Vec<Value> {
            all.iter().map(|moved| json!({ name: moved.what, "was": moved.was, "is": moved.is })).collect()
        };
        let sheets = difference.sheets.iter().map(|sheet| {
            let fate = match sheet.fate {
                Fate::Keep => "keep",
                Fate::Bin | Fate::Gone => "bin",
                Fate::New => "new",
            };
            json!({
                "sheet": sheet.sheet, "fate": fate, "was": sheet.was, "is": sheet.is,
                "figures": moved(&sheet.moved, "figure"),
            })
        });
        json!({
            "commission": number, "old": self.old, "new": self.new, "same": difference.is_nothing(),
            "values": moved(&difference.values, "key"), "sheets": sheets.collect::<Vec<_>>(),
        })
    }
}

/// One sheet in words: its stamps, then what moved on it.
fn sheet_lines(sheet: &SheetDifference) -> Vec<String> {
    let stamps = match (&sheet.was, &sheet.is) {
        (Some(was), Some(is)) if was != is => format!("{was}  now {is}"),
        (Some(was), None) => format!("{was}  no such sheet now"),
        (_, Some(is)) => is.clone(),
        (None, None) => String::new(),
    };
    let mut lines = vec![format!("  {:<16}{stamps}", sheet.sheet)];
    lines.extend(sheet.moved.iter().take(TOLD).map(|moved| format!("      {}", in_words(moved))));
    if let Some(more) = sheet.moved.len().checked_sub(TOLD).filter(|more| *more > 0) {
        lines.push(format!("      … and {more} more"));
    }
    lines
}

/// `radius.board: 406.4 mm, now 304.8 mm`.
pub(super) fn in_words(moved: &Moved) -> String {
    let side = |side: &Option<String>| side.clone().unwrap_or_else(|| "nothing".to_owned());
    format!("{}: {}, now {}", moved.what, side(&moved.was), side(&moved.is))
}

type Side = Result<Result<State, Status>, Fault>;

/// What a side that is not there gives for an exit status; a fault is said, anything else was.
fn refused(side: Side, terminal: &mut Terminal) -> Status {
    match side {
        Ok(Ok(_)) => Status::Well,
        Ok(Err(status)) => status,
        Err(fault) => {
            terminal.complain(&fault.0);
            Status::Machine
        }
    }
}

/// The state that a word of the command line names.
fn state(word: &str, terminal: &mut Terminal) -> Side {
    // A file whose name has the sign in it is that file.
    let named = word.rsplit_once('@').filter(|_| !Path::new(word).exists());
    let Some((file, at)) = named else {
        return Ok(sound(one::load(Path::new(word), terminal)?));
    };
    if issues::is_letter(at)
        && let Some(state) = issue(file, at, terminal)?
    {
        return Ok(state);
    }
    match revision::load(file, at) {
        Ok(loaded) => Ok(sound(one::examine(loaded, terminal))),
        Err(Refused::Machine(fault)) => Err(fault),
        Err(Refused::Typed(why)) => {
            terminal.complain(&why);
            if let letters @ [_, ..] = letters(file).as_slice() {
                terminal.problem(&format!("  help: the issues of this commission: {}\n", letters.join(", ")));
            }
            Ok(Err(Status::Usage))
        }
    }
}

/// The letters of a commission's issues, as far as they can be read.
fn letters(file: &str) -> Vec<String> {
    let Ok(Loaded { inputs, .. }) = files::load(Path::new(file)) else { return Vec::new() };
    let Some(beside) = &inputs.issues else { return Vec::new() };
    let issues = issues::read_issues(&inputs.sources, beside.id, None, &mut Report::default());
    issues.into_iter().map(|issue| issue.letter).collect()
}

fn sound(one: One) -> Result<State, Status> {
    match one {
        One::Sound(commission) => Ok(commission.standing.now),
        One::Faulty(status) => Err(status),
    }
}

/// The issue of a letter; none where the commission has none.
///
/// The commission itself need not be sound: what was issued was.
fn issue(file: &str, letter: &str, terminal: &mut Terminal) -> Result<Option<Result<State, Status>>, Fault> {
    let path = Path::new(file);
    if !path.is_file() {
        return Ok(None);
    }
    let inputs = files::load(path)?.inputs;
    let Some(beside) = &inputs.issues else { return Ok(None) };
    let mut report = Report::default();
    let all = issues::read_issues(&inputs.sources, beside.id, None, &mut report);
    if report.has_errors() {
        let context = Context { sources: &inputs.sources, commission: inputs.commission.id };
        terminal.problem(&render::human(report.findings(), context, terminal.colour_problems()));
        return Ok(Some(Err(Status::SpecErrors)));
    }
    Ok(all.into_iter().find(|issue| issue.letter == letter).map(|issue| Ok(issue.state)))
}
