//! `kerfbook stamp`: whether a print is still good, by the nine signs on it.

use std::path::{Path, PathBuf};

use clap::Args;

use super::batch::{self, Commission};
use super::compare::in_words;
use super::{Status, Terminal};
use crate::diag::render;
use crate::packet::{self, Standing};
use crate::sheets::cover;
use crate::sheets::difference::of_sheet;
use crate::spec::issues::State;
use crate::stamp::{self, Misread};

/// Tells by the stamp on a print which sheet it is, whether it is current, and what differs
#[derive(Debug, Args)]
#[command(after_help = EXAMPLES)]
pub(super) struct StampCommand {
    /// The nine signs, with or without gaps, then commission files or folders of them
    #[arg(required = true, value_names = ["CODE", "SPEC"], num_args = 2..)]
    words: Vec<String>,
}

const EXAMPLES: &str = "\
Examples:
  kerfbook stamp 7K4M-2QXT-9 specs
  kerfbook stamp 7k4m2qxt9 specs/K-7.toml

Capitals, gaps and hyphens do not matter; O is read as 0, I and L as 1.
Exit status: 0 the print is current, 1 it is not or nothing is known of it, 2 the code is mistyped.";

/// Signs of a stamp.
const SIGNS: usize = 9;

/// Figures that differ and are told; `compare` tells all.
const TOLD: usize = 8;

/// Codes that are offered for a mistyped one.
const OFFERED: usize = 3;

/// Slips of the pen that still leave a code near.
const FEW: usize = 2;

/// A stamp that a commission bears or bore.
struct Borne<'a> {
    commission: &'a Commission,
    standing: &'a Standing,
    sheet: String,
    stamp: String,
}

impl StampCommand {
    pub(super) fn run(&self, terminal: &mut Terminal) -> Status {
        let (typed, specs) = self.split();
        if specs.is_empty() {
            terminal.complain("name the commission files, or a folder of them, after the stamp");
            return terminal.end(Status::Usage);
        }
        let batch = batch::run(&specs, terminal, packet::check);
        for commission in batch.commissions.iter().filter(|commission| commission.compiled.standing.is_none()) {
            let name = &commission.name;
            terminal.complain(&format!("{name}: has errors: its stamps cannot be told; see `kerfbook check {name}`"));
        }
        let borne = all_stamps(&batch.commissions);
        let status = match stamp::Stamp::read(&typed) {
            Ok(stamp) => match borne.iter().find(|borne| borne.stamp == stamp.as_str()) {
                Some(borne) => tell(borne, terminal),
                None => {
                    let is_all = batch.status == Status::Well
                        && batch.commissions.iter().all(|commission| commission.compiled.standing.is_some());
                    terminal.result(&format!("{stamp}: {}\n", unknown(is_all)));
                    Status::SpecErrors
                }
            },
            Err(misread) => {
                terminal.complain(&mistyped(&typed, &misread, &borne));
                Status::Usage
            }
        };
        terminal.end(batch.status.max(status))
    }

    /// The code and the paths: groups of signs that are no files belong to the code, up to nine signs.
    fn split(&self) -> (String, Vec<PathBuf>) {
        let count = |text: &str| text.chars().filter(|c| c.is_alphanumeric()).count();
        let mut words = self.words.iter();
        let mut typed = words.next().cloned().unwrap_or_default();
        let mut rest: Vec<&String> = words.collect();
        while let Some(next) = rest.first().copied()
            && count(&typed) + count(next) <= SIGNS
            && stamp::is_of_signs(next)
            && !Path::new(next).exists()
        {
            typed.push_str(next);
            rest.remove(0);
        }
        (typed, rest.into_iter().map(PathBuf::from).collect())
    }
}

/// What is said of a stamp that none of the commissions bears or bore.
///
/// It may be good for a commission that was not asked, or that could not be read: nobody is told to throw it away.
const fn unknown(is_all: bool) -> &'static str {
    if is_all {
        "UNKNOWN: no sheet of these commissions bears this stamp, nor did at any issue\n\
         it is of another commission, or of a draft that was changed since: ask the builder before you cut from it"
    } else {
        "UNKNOWN: it may be of a commission that has errors or could not be read\n\
         ask the builder before you cut from it"
    }
}

/// Every stamp that the commissions bear, or bore at an issue; those of now first.
fn all_stamps(commissions: &[Commission]) -> Vec<Borne<'_>> {
    let mut all = Vec::new();
    for commission in commissions {
        let Some(standing) = &commission.compiled.standing else { continue };
        let issues = standing.issues.iter().rev().map(|issue| (&issue.state, &issue.stamp));
        for (state, packet) in std::iter::once((&standing.now, &standing.stamp)).chain(issues) {
            let cover = (cover::ID.to_owned(), packet.clone());
            let sheets = state.sheets.iter().map(|sheet| (sheet.sheet.clone(), sheet.stamp.clone()));
            let stamps = std::iter::once(cover).chain(sheets);
            all.extend(stamps.map(|(sheet, stamp)| Borne { commission, standing, sheet, stamp }));
        }
        all.extend(standing.notices.iter().map(|(sheet, stamp)| Borne {
            commission,
            standing,
            sheet: sheet.clone(),
            stamp: stamp.clone(),
        }));
    }
    all
}

/// The stamp that a sheet bears in a state.
fn stamp_in(state: &State, packet: &str, sheet: &str) -> Option<String> {
    if sheet == cover::ID {
        return Some(packet.to_owned());
    }
    state.sheet(sheet).map(|sheet| sheet.stamp.clone())
}

/// Says what a stamp that was found is.
fn tell(borne: &Borne<'_>, terminal: &mut Terminal) -> Status {
    let Borne { standing, sheet, stamp, commission } = borne;
    let at = |issue: &crate::spec::issues::Issue| stamp_in(&issue.state, &issue.stamp, sheet).as_deref() == Some(stamp);
    let is_notice = standing.notices.iter().any(|(own, _)| own == sheet);
    let now = stamp_in(&standing.now, &standing.stamp, sheet);
    let is_current = is_notice || now.as_deref() == Some(stamp);
    let head = format!("{}, {sheet}, {stamp}", standing.now.number());
    let since = standing.issues.iter().rev().take_while(|issue| at(issue)).last();
    let last_of = standing.issues.iter().rev().find(|issue| at(issue));
    let mut lines = Vec::new();
    match (is_current, since, last_of) {
        (true, Some(issue), _) => {
            lines.push(format!("{head}: current, since issue {} of {}", issue.letter, issue.date));
        }
        (true, None, _) => lines.push(format!("{head}: current, as {}; it was not issued", standing.name())),
        (false, Some(_), _) => {
            lines.push(format!("{head}: NOT CURRENT: good for the last issue, but {} differs", standing.name()));
            lines.push("ask the builder before you cut from it".to_owned());
        }
        (false, None, Some(issue)) => {
            lines.push(format!("{head}: NOT CURRENT: good up to issue {} of {}", issue.letter, issue.date));
            lines.push("into the bin with it".to_owned());
        }
        (false, None, None) => lines.push(format!("{head}: NOT CURRENT")),
    }
    if !is_current && let Some(issue) = last_of {
        let difference = of_sheet(sheet, issue.state.sheet(sheet), standing.now.sheet(sheet));
        match &now {
            Some(now) => lines.push(format!("the sheet bears {now} in {} ({})", commission.name, standing.name())),
            None => lines.push(format!("{} has no such sheet now", commission.name)),
        }
        lines.extend(difference.moved.iter().take(TOLD).map(|moved| format!("  {}", in_words(moved))));
        if let Some(more) = difference.moved.len().checked_sub(TOLD).filter(|more| *more > 0) {
            lines.push(format!("  … and {more} more: kerfbook compare {0}@{1} {0}", commission.name, issue.letter));
        }
    }
    for line in lines {
        terminal.result(&format!("{}\n", render::visible(&line)));
    }
    if is_current { Status::Well } else { Status::SpecErrors }
}

/// What is said of a code that is none, with the codes that could have been meant.
fn mistyped(typed: &str, misread: &Misread, borne: &[Borne<'_>]) -> String {
    let why = match misread {
        Misread::Sign(sign) => format!("`{sign}` is no sign of a stamp"),
        Misread::Length(length) => format!("a stamp has nine signs, this has {length}"),
        Misread::Check => "the last sign does not fit the others: one of them is mistyped".to_owned(),
    };
    let mut near: Vec<(usize, &str, String)> = Vec::new();
    for borne in borne {
        let read = stamp::Stamp::read(&borne.stamp);
        let Some(slips) = read.ok().map(|stamp| stamp.slips(typed)).filter(|slips| *slips <= FEW) else { continue };
        if !near.iter().any(|(_, stamp, _)| *stamp == borne.stamp) {
            let of = format!("{} ({}, {})", borne.stamp, borne.standing.now.number(), borne.sheet);
            near.push((slips, &borne.stamp, of));
        }
    }
    near.sort();
    let near: Vec<String> = near.into_iter().take(OFFERED).map(|(_, _, of)| of).collect();
    let offer = if near.is_empty() { String::new() } else { format!("; did you mean {}?", near.join(" or ")) };
    format!("{typed}: {why}{offer}")
}
