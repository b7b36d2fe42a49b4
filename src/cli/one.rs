//! One commission that must be sound: what `issue`, `compare` and `stamp` work on.

use std::path::Path;

use super::files::{self, Fault, Loaded};
use super::{Status, Terminal};
use crate::diag::render::{self, Context};
use crate::packet::{self, Compiled, Inputs, Standing};

/// A commission without errors.
#[derive(Debug)]
pub(super) struct Sound {
    /// What it was read from.
    pub(super) inputs: Inputs,
    /// How it stands to its issues.
    pub(super) standing: Standing,
}

/// What came of a file.
#[derive(Debug)]
pub(super) enum One {
    /// A commission without errors.
    Sound(Box<Sound>),
    /// Something else; it has been said.
    Faulty(Status),
}

/// Reads and checks one commission file; says what is wrong with it.
///
/// # Errors
/// A file that the machine does not give out.
pub(super) fn load(path: &Path, terminal: &mut Terminal) -> Result<One, Fault> {
    if path.is_dir() {
        terminal.complain(&format!("{}: is a folder; name one commission file", path.display()));
        return Ok(One::Faulty(Status::Usage));
    }
    Ok(examine(files::load(path)?, terminal))
}

/// Checks a commission that is read already; says what is wrong with it.
pub(super) fn examine(loaded: Loaded, terminal: &mut Terminal) -> One {
    let Loaded { inputs, report } = loaded;
    let compiled =
        if report.has_errors() { Compiled { report, ..Compiled::default() } } else { packet::check(&inputs) };
    match compiled.standing {
        Some(standing) => One::Sound(Box::new(Sound { inputs, standing })),
        None => {
            let context = Context { sources: &inputs.sources, commission: inputs.commission.id };
            terminal.problem(&render::human(compiled.report.findings(), context, terminal.colour_problems()));
            One::Faulty(Status::SpecErrors)
        }
    }
}
