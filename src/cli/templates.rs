//! `kerfbook templates`: the built-in templates, to be looked at or to be changed.

use std::fs;
use std::path::{Path, PathBuf};

use clap::{ArgGroup, Args};

use super::files::Fault;
use super::own_templates::{README, SUFFIX};
use super::{Status, Terminal};
use crate::diag::render::visible;
use crate::template::{Engine, GUIDE};

/// Lists the built-in templates, or writes them into a folder, to be changed
#[derive(Debug, Args)]
#[command(after_help = EXAMPLES, group(ArgGroup::new("what").required(true).args(["list", "write"])))]
pub(super) struct TemplatesCommand {
    /// List their names, as they are called in the folder
    #[arg(long)]
    list: bool,
    /// Write them all, and a README.md that tells what each of them may print
    #[arg(long, value_name = "DIR")]
    write: Option<PathBuf>,
    /// Also write over files that say something else
    #[arg(long, requires = "write", conflicts_with = "list")]
    force: bool,
}

const EXAMPLES: &str = "\
Examples:
  kerfbook templates --list
  kerfbook templates --write specs/templates    then: [print] templates = \"templates\" in specs/shop.toml

Keep what you change and take the others away: a template that is not there is the built-in one.";

impl TemplatesCommand {
    pub(super) fn run(&self, terminal: &mut Terminal) -> Status {
        let status = match &self.write {
            Some(folder) => match write_all(folder, self.force, terminal) {
                Ok(()) => Status::Well,
                Err(fault) => {
                    terminal.complain(&fault.0);
                    Status::Machine
                }
            },
            None => {
                let names = Engine::names().map(|name| format!("{name}{SUFFIX}\n"));
                terminal.result(&names.collect::<String>());
                Status::Well
            }
        };
        terminal.end(status)
    }
}

/// Writes every template and the guide; nothing at all where something else would be lost.
fn write_all(folder: &Path, force: bool, terminal: &mut Terminal) -> Result<(), Fault> {
    let templates = Engine::names().filter_map(|name| Some((format!("{name}{SUFFIX}"), Engine::text(name)?)));
    let files: Vec<(PathBuf, &str)> =
        templates.chain([(README.to_owned(), GUIDE)]).map(|(name, text)| (folder.join(name), text)).collect();
    // A link is something else too, whatever it leads to.
    let is_same = |path: &Path, text: &str| {
        fs::symlink_metadata(path).is_ok_and(|found| found.is_file())
            && fs::read(path).is_ok_and(|bytes| bytes == text.as_bytes())
    };
    let in_the_way: Vec<&PathBuf> = files
        .iter()
        .filter(|(path, text)| fs::symlink_metadata(path).is_ok() && !is_same(path, text))
        .map(|(path, _)| path)
        .collect();
    if let Some(first) = in_the_way.first().filter(|_| !force) {
        let others = match in_the_way.len() - 1 {
            0 => String::new(),
            others => format!(" (and {others} more)"),
        };
        let message = "says something else than the built-in template; nothing was written; --force writes over it";
        return Err(Fault(format!("{}{others}: {message}", first.display())));
    }
    for (path, text) in &files {
        if !is_same(path, text) {
            write(path, text)?;
        }
        terminal.result(&format!("{}\n", visible(&path.display().to_string())));
    }
    Ok(())
}

/// Writes a file beside its place and then gives it its name: never half of it, and never through a link.
fn write(path: &Path, text: &str) -> Result<(), Fault> {
    let refused = |error: &std::io::Error| Fault::new(path, "cannot be written", error);
    if let Some(folder) = path.parent() {
        fs::create_dir_all(folder).map_err(|error| refused(&error))?;
    }
    let beside = path.with_extension("md.new");
    let written = fs::write(&beside, text).and_then(|()| fs::rename(&beside, path));
    written.map_err(|error| {
        // Best effort: the fault that counts is told already.
        let _ = fs::remove_file(&beside);
        refused(&error)
    })
}
