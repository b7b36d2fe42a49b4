//! `kerfbook build`: one packet per commission, whole or not at all.

use std::fmt::Write;
use std::path::{Path, PathBuf};

use clap::builder::PossibleValue;
use clap::{Args, ValueEnum};

use super::batch::{self, Batch, Commission};
use super::files::Fault;
use super::shelf::{NOT_CURRENT, Put, Shelf};
use super::{Status, Terminal};
use crate::diag::render;
use crate::packet::{self, Compiled, Options, Standing};
use crate::sheets;
use crate::spec::nearest;
use crate::spec::words::{Paper, Word};

/// What is built, where it is put, on what paper.
#[derive(Debug, Args)]
pub(super) struct Packets {
    /// Commission files, or folders that stand for all commissions below them
    #[arg(required = true, value_name = "SPEC")]
    pub(super) specs: Vec<PathBuf>,
    /// The folder that takes the packets, each in a folder by its commission's number
    #[arg(long, value_name = "DIR", default_value = "packets")]
    pub(super) out: PathBuf,
    /// The paper, in place of the one that commission or shop asks for
    #[arg(long, value_enum)]
    pub(super) paper: Option<Paper>,
}

/// Checks each commission and writes its packet
#[derive(Debug, Args)]
#[command(after_help = EXAMPLES)]
pub(super) struct Build {
    #[command(flatten)]
    packets: Packets,
    /// Also write only.pdf with these sheets
    #[arg(long, value_name = "SHEET,…", value_delimiter = ',')]
    only: Vec<String>,
    /// Also write reprint.pdf with the sheets that differ from the issue before
    #[arg(long)]
    reprint: bool,
    /// Replace what lies in a packet's place, even if it is not that commission's packet
    #[arg(long)]
    force: bool,
}

const EXAMPLES: &str = "\
Examples:
  kerfbook build specs
  kerfbook build specs/K-7.toml --out /srv/shop/packets --paper letter
  kerfbook build specs/K-7.toml --only slot-depth,taper
  kerfbook build specs/K-7.toml --reprint

A commission with errors keeps its last whole packet, with a NOT-CURRENT.txt in it that says why.";

/// Papers are called on the command line as in the commission file.
impl ValueEnum for Paper {
    fn value_variants<'a>() -> &'a [Self] {
        &[Self::A4, Self::Letter]
    }

    fn to_possible_value(&self) -> Option<PossibleValue> {
        Some(PossibleValue::new(self.as_word()))
    }
}

impl Build {
    pub(super) fn run(&self, terminal: &mut Terminal) -> Status {
        if let Some(complaint) = self.only.iter().find_map(|sheet| unknown_sheet(sheet)) {
            terminal.complain(&complaint);
            return terminal.end(Status::Usage);
        }
        let options = Options { paper: self.packets.paper, only: self.only.clone(), reprint: self.reprint };
        let batch = batch::run(&self.packets.specs, terminal, |inputs| packet::compile(inputs, &options));
        let how = Finish { out: &self.packets.out, force: self.force, reprint: self.reprint };
        let status = finish(&batch, &how, terminal);
        terminal.end(status)
    }
}

/// How a run's packets are put on the shelf.
pub(super) struct Finish<'a> {
    /// The folder that takes them.
    pub(super) out: &'a Path,
    /// Whether what lies in a packet's place is replaced, whatever it is.
    pub(super) force: bool,
    /// Whether the sheets to be reprinted are told.
    pub(super) reprint: bool,
}

/// Puts each packet of a run on the shelf, or the mark into its last one, and says so.
pub(super) fn finish(batch: &Batch, how: &Finish<'_>, terminal: &mut Terminal) -> Status {
    for commission in &batch.commissions {
        let text = render::human(commission.findings(), commission.context(), terminal.colour_problems());
        terminal.problem(&text);
    }
    // Where nothing can be built and nothing was, there is no folder to make.
    let wanted = batch.commissions.iter().any(|commission| !commission.is_stopped()) || how.out.exists();
    let shelf = if wanted { Shelf::open(how.out, how.force).map(Some) } else { Ok(None) };
    let mut status = batch.status;
    let claimed: Vec<&str> = batch.commissions.iter().filter_map(|commission| commission.folder.as_deref()).collect();
    match shelf {
        Ok(shelf) => {
            for commission in &batch.commissions {
                let keep_last = |terminal: &mut Terminal| match &shelf {
                    None => Ok(not_built(commission)),
                    Some(shelf) => keep_last(commission, shelf, &claimed, terminal),
                };
                status = status.max(settle(commission, shelf.as_ref(), how.reprint, keep_last, terminal));
            }
        }
        Err(fault) => {
            terminal.complain(&fault.0);
            status = status.max(Status::Machine);
        }
    }
    status
}

/// What is to be said where there is no sheet of that name.
pub(super) fn unknown_sheet(typed: &str) -> Option<String> {
    let names: Vec<_> = sheets::ids().collect();
    if names.contains(&typed) {
        return None;
    }
    Some(match nearest(typed, names.iter().copied()) {
        Some(near) => format!("there is no sheet `{typed}`; did you mean `{near}`?"),
        None => format!("there is no sheet `{typed}`; there are {}", names.join(", ")),
    })
}

/// Puts a commission's packet on the shelf, or the mark into its last one, and says so in one line.
fn settle(
    commission: &Commission,
    shelf: Option<&Shelf>,
    reprint: bool,
    keep_last: impl FnOnce(&mut Terminal) -> Result<String, Fault>,
    terminal: &mut Terminal,
) -> Status {
    let Compiled { packet, number, standing, .. } = &commission.compiled;
    let result = match (packet, &commission.folder, number, shelf) {
        (Some(packet), Some(folder), Some(number), Some(shelf)) if !commission.is_stopped() => {
            shelf.put(folder, &number.text, packet).map(|put| {
                let unchanged = if put == Put::Unchanged { ", unchanged" } else { "" };
                let counts = commission.counts();
                let counts = if counts.is_empty() { counts } else { format!("; {counts}") };
                let issue = standing.as_ref().map_or_else(String::new, |standing| told(standing, reprint));
                let (name, place, files) = (&commission.name, shelf.place(folder), packet.files.len());
                format!("{name}: {}: {files} files{unchanged}{issue}{counts}", place.display())
            })
        }
        _ => keep_last(terminal),
    };
    match result {
        Ok(line) => {
            terminal.result(&format!("{}\n", render::visible(&line)));
            Status::Well
        }
        Err(fault) => {
            terminal.complain(&fault.0);
            Status::Machine
        }
    }
}

/// What is said of a commission that was issued before: its letter, and what is to be reprinted.
fn told(standing: &Standing, reprint: bool) -> String {
    if standing.issues.is_empty() {
        let nothing = "; not issued yet, so nothing to reprint";
        return if reprint { nothing.to_owned() } else { String::new() };
    }
    let sheets = match standing.reprint.as_slice() {
        _ if !reprint => String::new(),
        [] => "; nothing to reprint".to_owned(),
        sheets => format!("; reprint.pdf: {}", sheets.join(", ")),
    };
    format!("; {}{sheets}", standing.name())
}

fn not_built(commission: &Commission) -> String {
    format!("{}: not built: {}", commission.name, commission.counts())
}

/// Leaves the last packet of a commission that cannot be built, with the mark in it.
///
/// Of a commission without a readable number the packets are marked that were made from a file of its name, unless
/// another commission of the run claims them.
fn keep_last(
    commission: &Commission,
    shelf: &Shelf,
    claimed: &[&str],
    terminal: &mut Terminal,
) -> Result<String, Fault> {
    let mut line = not_built(commission);
    let folders = match (&commission.folder, &commission.compiled.number) {
        (Some(folder), Some(number)) if shelf.holds(folder, &number.text)? => vec![folder.clone()],
        (Some(_), Some(_)) => Vec::new(),
        _ => {
            let mut folders = shelf.made_from(&commission.inputs.commission.path)?;
            folders.retain(|folder| !claimed.contains(&folder.as_str()));
            if folders.is_empty() {
                terminal.complain(&format!(
                    "{}: without a number nobody knows which packet is its last, and none was made from a file of \
                     this name: none could be marked as not current",
                    commission.name
                ));
            }
            folders
        }
    };
    for folder in &folders {
        shelf.mark_not_current(folder, &not_current(commission, &commission.counts()))?;
        let place = shelf.place(folder);
        terminal.complain(&format!(
            "{} IS NOT CURRENT: it was made from an earlier state of {}",
            place.display(),
            commission.name
        ));
        line.push_str(&format!("; {} keeps its last packet, marked {NOT_CURRENT}", place.display()));
    }
    Ok(line)
}

/// What the mark says: for whoever stands before the folder with a print in hand.
fn not_current(commission: &Commission, why: &str) -> String {
    let mut text = String::from("THIS PACKET IS NOT CURRENT. DO NOT CUT FROM IT BEFORE YOU HAVE ASKED.\n\n");
    // Writing to a string cannot fail.
    let _ = writeln!(
        text,
        "It was made from an earlier state of {}. The present state could not be built: {why}.\n\
         When it can be built again, a new packet takes this one's place and this note goes away.\n",
        commission.name
    );
    text.push_str(&render::short(commission.findings(), commission.context(), true));
    for fault in &commission.compiled.template_faults {
        text.push_str(&format!("{}\n", render::visible(&fault.to_string())));
    }
    text
}
