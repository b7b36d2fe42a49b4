//! A commission against its issues: does it equal the last one, and if not, what moved.

use super::difference::{Difference, Fate};
use super::state::state;
use super::{Job, Sheet};
use crate::diag::{Diagnostic, Severity, codes};
use crate::spec::issues::{Issue, State, letter};
use crate::stamp::Stamp;

/// Sheets whose figures follow the rack and its prices: they move from day to day, and no letter with them.
const OF_THE_RACK: [&str; 1] = ["materials-list"];

/// Figures of one sheet that a finding names; all of them are told by `compare`.
const NAMED_FIGURES: usize = 3;

/// A commission as it stands, with its issues.
#[derive(Debug, Clone)]
pub struct History<'a> {
    /// The issues, the first first.
    pub issues: &'a [Issue],
    /// The commission as it stands.
    pub now: State,
    /// The packet's stamp.
    pub stamp: Stamp,
    /// Whether it equals the last issue: compared once, asked for every page.
    is_last: bool,
    /// The sheets' titles by their identifiers.
    titles: Vec<(&'static str, &'static str)>,
}

impl<'a> History<'a> {
    /// The commission of these sheets, with its issues.
    pub fn of(job: &Job<'_>, sheets: &[Sheet], issues: &'a [Issue]) -> Self {
        let now = state(job, sheets);
        let stamps = now.sheets.iter().map(|sheet| (sheet.sheet.as_str(), sheet.stamp.as_str()));
        let stamp = now.identity.stamp_of_packet(stamps);
        let titles = sheets.iter().map(|sheet| (sheet.id, sheet.title)).collect();
        let is_last = issues.last().is_some_and(|last| is_same(&last.state, &now));
        Self { issues, now, stamp, is_last, titles }
    }

    /// The title of a sheet; of one that this packet has not, its identifier.
    pub fn title<'t>(&'t self, sheet: &'t str) -> &'t str {
        self.titles.iter().find(|(id, _)| *id == sheet).map_or(sheet, |(_, title)| title)
    }

    /// The last issue.
    pub fn last(&self) -> Option<&'a Issue> {
        self.issues.last()
    }

    /// The issue that the commission is, as it stands; none: it is a draft.
    ///
    /// It is the last one if every value is what it was, and every figure but those of the rack.
    pub fn issued(&self) -> Option<&'a Issue> {
        self.last().filter(|_| self.is_last)
    }

    /// The issue that holders of older prints have: before the last one if that is as the commission stands.
    pub fn before(&self) -> Option<&'a Issue> {
        match self.issued() {
            Some(_) => self.issues.len().checked_sub(2).and_then(|place| self.issues.get(place)),
            None => self.last(),
        }
    }

    /// What marks each sheet of a draft: `DRAFT`, `DRAFT after B`; none where it is issued.
    pub fn draft_mark(&self) -> Option<String> {
        match (self.issued(), self.last()) {
            (Some(_), _) => None,
            (None, Some(last)) => Some(format!("DRAFT after {}", last.letter)),
            (None, None) => Some("DRAFT".to_owned()),
        }
    }

    /// The letter of the issue to come.
    pub fn next_letter(&self) -> String {
        letter(self.issues.len())
    }

    /// A packet that is as it was issued, or as it would be issued now.
    pub fn is_draft(&self) -> bool {
        self.issued().is_none()
    }
}

/// Whether two states are one issue: the same values, the same figures on the same sheets.
fn is_same(old: &State, new: &State) -> bool {
    let difference = Difference::between(old, new);
    difference.values.is_empty() && moved_sheets(&difference).next().is_none()
}

/// The sheets that differ, apart from those that follow the rack.
fn moved_sheets(difference: &Difference) -> impl Iterator<Item = &super::difference::SheetDifference> {
    difference
        .sheets
        .iter()
        .filter(|sheet| sheet.fate != Fate::Keep && !(sheet.fate == Fate::Bin && OF_THE_RACK.contains(&&*sheet.sheet)))
}

/// What is to be said where every value is that of the last issue and a printed figure is not.
///
/// `program` is this edition.
pub fn moved_alone(history: &History<'_>, program: &str) -> Option<Diagnostic> {
    let last = history.last()?;
    let difference = Difference::between(&last.state, &history.now);
    if !difference.values.is_empty() {
        return None;
    }
    let mut told = Vec::new();
    for sheet in moved_sheets(&difference) {
        let figures = sheet.moved.iter().take(NAMED_FIGURES).map(|moved| {
            let text = |side: &Option<String>| side.clone().unwrap_or_else(|| "nothing".to_owned());
            format!("{}: {}, now {}", moved.what, text(&moved.was), text(&moved.is))
        });
        let mut figures: Vec<String> = figures.collect();
        match sheet.fate {
            Fate::New => figures.push("a sheet that was not there".to_owned()),
            Fate::Gone => figures.push("a sheet that is not there any more".to_owned()),
            _ if sheet.moved.is_empty() => figures.push("its stamp is made otherwise".to_owned()),
            _ if sheet.moved.len() > NAMED_FIGURES => {
                figures.push(format!("and {} more", sheet.moved.len() - NAMED_FIGURES));
            }
            _ => {}
        }
        told.push(format!("{} ({})", sheet.sheet, figures.join("; ")));
    }
    if told.is_empty() {
        return None;
    }
    let (letter, then) = (&last.letter, &last.program);
    let message =
        format!("nothing decided has changed since issue {letter}, but other figures are printed: {}", told.join(", "));
    let why = if then == program {
        format!("issue {letter} is of the same edition, {then}: look at tools and stock in the shop file")
    } else {
        format!("issue {letter} was worked out by {then}, this is {program}")
    };
    let finding = Diagnostic::new(codes::ORDER_10, Severity::Warning, "issue", message).help(why);
    Some(finding.help("look at each figure; where the new one is right, issue the commission again"))
}
