//! `kerfbook watch`: a packet built anew as soon as its commission, shop or issues file is saved.
//!
//! The files are read again and again; their content alone counts, so that it does not matter how an editor saves:
//! by writing in place, by renaming a new file, or in pieces. What is being saved is left alone until two looks at it
//! are the same.

use std::thread::sleep;
use std::time::Duration;

use clap::Args;

use super::build::{self, Finish, Packets};
use super::files::{self, Found};
use super::{Status, Terminal, batch};
use crate::packet::{self, Inputs, Options};

/// Builds each packet anew whenever one of its files is saved; ends with Ctrl-C
#[derive(Debug, Args)]
#[command(after_help = EXAMPLES)]
pub(super) struct Watch {
    #[command(flatten)]
    packets: Packets,
}

const EXAMPLES: &str = "\
Examples:
  kerfbook watch specs/K-7.toml
  kerfbook watch specs --out /srv/shop/packets";

/// From one look at the files to the next.
const LOOK: Duration = Duration::from_millis(10);

/// From a look that found a change to the one that must find the same.
const SETTLE: Duration = Duration::from_millis(5);

/// Looks for which a file may be away before it is missed: some editors remove it before they write it.
const AWAY: usize = 40;

/// What a look at the files found: every text that a packet is made from, and what could not be read.
#[derive(PartialEq, Eq, Default)]
struct Seen {
    texts: Vec<(String, String)>,
    away: Vec<String>,
}

impl Watch {
    pub(super) fn run(&self, terminal: &mut Terminal) -> Status {
        let options = Options { paper: self.packets.paper, ..Options::default() };
        let finish = Finish { out: &self.packets.out, force: false, reprint: false };
        let mut last: Option<Seen> = None;
        loop {
            let seen = self.look();
            if last.as_ref() != Some(&seen) {
                let seen = self.settled(seen);
                if last.as_ref() != Some(&seen) {
                    let batch = batch::run(&self.packets.specs, terminal, |inputs| packet::compile(inputs, &options));
                    build::finish(&batch, &finish, terminal);
                    last = Some(seen);
                    // Whoever reads along sees each build as it ends.
                    if terminal.end(Status::Well) != Status::Well {
                        return Status::Machine;
                    }
                }
            }
            sleep(LOOK);
        }
    }

    /// Every text that the packets are made from.
    fn look(&self) -> Seen {
        let Found { commissions, faults, .. } = files::find(&self.packets.specs);
        let mut seen = Seen { texts: Vec::new(), away: faults.into_iter().map(|fault| fault.0).collect() };
        for path in commissions {
            match files::load(&path) {
                Ok(loaded) => {
                    let texts = texts(&path.display().to_string(), &loaded.inputs);
                    // An editor empties a file before it writes: for a moment that is no text but one on its way.
                    let empty = texts.iter().filter(|(_, text)| text.trim().is_empty());
                    seen.away.extend(empty.map(|(name, _)| format!("{name} is empty")));
                    seen.texts.extend(texts);
                }
                Err(fault) => seen.away.push(fault.0),
            }
        }
        seen
    }

    /// What is there once nobody writes any more.
    fn settled(&self, mut seen: Seen) -> Seen {
        for looks in 0.. {
            sleep(if seen.away.is_empty() { SETTLE } else { LOOK });
            let again = self.look();
            let is_quiet = again == seen;
            seen = again;
            if is_quiet && (seen.away.is_empty() || looks >= AWAY) {
                break;
            }
        }
        seen
    }
}

fn texts(path: &str, inputs: &Inputs) -> Vec<(String, String)> {
    let named = |file: &packet::InputFile| format!("{path}: {}", file.path);
    let read = inputs.files().map(|file| (named(file), inputs.sources.get(file.id).text().to_owned()));
    // What cannot be read may be mended, and a file that is called otherwise may take a template's place.
    let templates = &inputs.templates;
    let faults = templates.faults.iter().map(ToString::to_string).chain(templates.strangers.iter().cloned());
    read.chain(faults.map(|fault| (format!("{path}: templates"), fault))).collect()
}
