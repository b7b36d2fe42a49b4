//! Several commissions in one run: each on its own, so that errors in one never stop the others, and then
//! together, because a number may be used only once.

use std::collections::BTreeMap;
use std::path::PathBuf;

use super::files::{self, Loaded};
use super::folder_name::{folder_name, key};
use super::{Status, Terminal};
use crate::diag::render::Context;
use crate::diag::{Diagnostic, Severity, codes};
use crate::packet::{Compiled, Inputs};
use crate::template::TemplateError;

/// One commission of a run.
#[derive(Debug)]
pub(super) struct Commission {
    /// Its file, as messages name it.
    pub(super) name: String,
    /// What it was compiled from.
    pub(super) inputs: Inputs,
    /// What came of it.
    pub(super) compiled: Compiled,
    /// The folder of its packet; none where its number gives none.
    pub(super) folder: Option<String>,
    /// The later commission that claims the same folder.
    pub(super) claimed_by: Option<String>,
}

impl Commission {
    /// What a rendering of its findings needs.
    pub(super) const fn context(&self) -> Context<'_> {
        Context { sources: &self.inputs.sources, commission: self.inputs.commission.id }
    }

    /// Its findings.
    pub(super) fn findings(&self) -> &[Diagnostic] {
        self.compiled.report.findings()
    }

    /// Whether it may not be built: it has errors, its number is not its own, or a template is broken.
    pub(super) fn is_stopped(&self) -> bool {
        self.has_errors() || !self.compiled.template_faults.is_empty()
    }

    /// Whether what its own files say may not be built.
    fn has_errors(&self) -> bool {
        self.compiled.report.has_errors() || self.claimed_by.is_some()
    }

    /// The files of the templates that are broken, each once.
    fn broken_templates(&self) -> Vec<&str> {
        let mut files: Vec<&str> = Vec::new();
        for fault in &self.compiled.template_faults {
            let file = fault.file.as_deref().unwrap_or(&fault.template);
            if !files.contains(&file) {
                files.push(file);
            }
        }
        files
    }

    /// How it stands, in words: `2 errors, 1 warning`; empty if there is nothing to say.
    pub(super) fn counts(&self) -> String {
        let kinds = [Severity::Error, Severity::Warning, Severity::Note];
        let words = kinds.into_iter().filter_map(|severity| match self.compiled.report.count(severity) {
            0 => None,
            1 => Some(format!("1 {}", severity.word())),
            count => Some(format!("{count} {}s", severity.word())),
        });
        let claim = self.claimed_by.iter().map(|other| format!("its number is also claimed by {other}"));
        let broken = self.broken_templates().into_iter().map(|file| format!("{file} is broken"));
        claim.chain(words).chain(broken).collect::<Vec<_>>().join(", ")
    }
}

/// A run's commissions and how far it went well.
#[derive(Debug, Default)]
pub(super) struct Batch {
    /// The commissions, in the order of the command line.
    pub(super) commissions: Vec<Commission>,
    /// The gravest that happened so far.
    pub(super) status: Status,
}

/// Finds and reads the commissions that the paths lead to, and makes of each what `compile` makes of it.
///
/// What could not be found or read is said at once.
pub(super) fn run(specs: &[PathBuf], terminal: &mut Terminal, compile: impl Fn(&Inputs) -> Compiled) -> Batch {
    run_changed(specs, terminal, |inputs| inputs, compile)
}

/// The same of what `change` makes of each commission's files.
pub(super) fn run_changed(
    specs: &[PathBuf],
    terminal: &mut Terminal,
    change: impl Fn(Inputs) -> Inputs,
    compile: impl Fn(&Inputs) -> Compiled,
) -> Batch {
    let found = files::find(specs);
    let mut batch = Batch::default();
    for fault in &found.faults {
        terminal.complain(&fault.0);
        batch.status = batch.status.max(Status::Machine);
    }
    for folder in &found.empty {
        terminal.complain(&format!("{}: no commission below this folder", folder.display()));
        terminal.problem("  help: a commission is a .toml file with a [commission] table\n");
        batch.status = batch.status.max(Status::Usage);
    }
    for path in &found.commissions {
        match files::load(path) {
            Ok(mut loaded) => {
                loaded.inputs = change(loaded.inputs);
                batch.commissions.push(compiled(path.display().to_string(), loaded, &compile));
            }
            Err(fault) => {
                terminal.complain(&fault.0);
                batch.status = batch.status.max(Status::Machine);
            }
        }
    }
    claim_folders(&mut batch.commissions);
    if batch.commissions.iter().any(Commission::has_errors) {
        batch.status = batch.status.max(Status::SpecErrors);
    }
    tell_of_templates(&mut batch, terminal);
    batch
}

/// Says what is wrong with the shop's own templates: once, though every commission of the shop finds it.
fn tell_of_templates(batch: &mut Batch, terminal: &mut Terminal) {
    let mut told: Vec<&TemplateError> = Vec::new();
    for fault in batch.commissions.iter().flat_map(|commission| &commission.compiled.template_faults) {
        if !told.contains(&fault) {
            terminal.complain(&fault.to_string());
            told.push(fault);
        }
    }
    if !told.is_empty() {
        batch.status = batch.status.max(Status::Machine);
    }
}

fn compiled(name: String, loaded: Loaded, compile: impl Fn(&Inputs) -> Compiled) -> Commission {
    let Loaded { inputs, report } = loaded;
    let compiled = if report.has_errors() { Compiled { report, ..Compiled::default() } } else { compile(&inputs) };
    Commission { name, inputs, compiled, folder: None, claimed_by: None }
}

/// Gives each commission its folder. A number that cannot be a folder, and one whose folder is taken, is an error of
/// the commission that comes later; the earlier one is not built either, for which of the two is right?
fn claim_folders(commissions: &mut [Commission]) {
    let mut taken: BTreeMap<String, usize> = BTreeMap::new();
    for index in 0..commissions.len() {
        let Some(number) = commissions[index].compiled.number.clone() else { continue };
        let Some(folder) = folder_name(&number.text) else {
            let fault = format!("commission.number = `{}`: nothing of it can name a folder", number.text);
            let finding = Diagnostic::new(codes::SPEC_14, Severity::Error, "commission.number", fault);
            stop(&mut commissions[index], finding.at(number.span).help("write letters or figures: \"K-118\""));
            continue;
        };
        commissions[index].folder = Some(folder.clone());
        let first = *taken.entry(key(&folder)).or_insert(index);
        if first == index {
            continue;
        }
        let other = &commissions[first];
        let other_number = other.compiled.number.as_ref().map_or("", |number| number.text.as_str());
        let fault = if other_number == number.text {
            format!("commission.number = `{}` is also the number of {}", number.text, other.name)
        } else {
            format!(
                "commission.number = `{}` would share a folder with `{other_number}` of {}",
                number.text, other.name
            )
        };
        let finding = Diagnostic::new(codes::SPEC_13, Severity::Error, "commission.number", fault).at(number.span);
        let name = commissions[index].name.clone();
        stop(&mut commissions[index], finding.help("each commission of one run has a number of its own"));
        commissions[first].claimed_by.get_or_insert(name);
    }
}

fn stop(commission: &mut Commission, finding: Diagnostic) {
    commission.compiled.report.push(finding);
    commission.compiled.report.sort();
    commission.compiled.packet = None;
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::packet::{InputFile, Number, Templates};
    use crate::source::{SourceFile, Sources};

    fn commission(name: &str, number: &str) -> Commission {
        let mut sources = Sources::default();
        let id = sources.add(SourceFile::new(name, ""));
        let inputs = Inputs {
            sources,
            commission: InputFile { id, path: name.to_owned() },
            shop: None,
            issues: None,
            templates: Templates::default(),
        };
        let number = Some(Number { text: number.to_owned(), span: None });
        let compiled = Compiled { number, ..Compiled::default() };
        Commission { name: name.to_owned(), inputs, compiled, folder: None, claimed_by: None }
    }

    fn messages(commission: &Commission) -> Vec<&str> {
        commission.findings().iter().map(|finding| finding.message.as_str()).collect()
    }

    #[test]
    fn a_number_used_twice_stops_both_and_is_told_once() {
        let mut run = [commission("a.toml", "K-1"), commission("b.toml", "K-2"), commission("c.toml", "K-1")];
        claim_folders(&mut run);
        assert!(messages(&run[0]).is_empty() && run[0].is_stopped());
        assert_eq!(run[0].claimed_by.as_deref(), Some("c.toml"));
        assert!(!run[1].is_stopped());
        assert_eq!(messages(&run[2]), ["commission.number = `K-1` is also the number of a.toml"]);
        assert_eq!(run[2].findings()[0].code, codes::SPEC_13);
    }

    #[test]
    fn numbers_that_would_share_a_folder_are_told_apart_by_nobody() {
        let mut run = [commission("a.toml", "K/1"), commission("b.toml", "k:1")];
        claim_folders(&mut run);
        assert_eq!(messages(&run[1]), ["commission.number = `k:1` would share a folder with `K/1` of a.toml"]);
        assert!(run[0].is_stopped());
    }

    #[test]
    fn a_number_of_dots_names_no_folder() {
        let mut run = [commission("a.toml", "..")];
        claim_folders(&mut run);
        assert!(run[0].is_stopped() && run[0].folder.is_none());
    }
}
