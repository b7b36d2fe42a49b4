//! A shop's own templates: what its folder holds, the engine that fills them in, and what no template leaves out.

use std::borrow::Cow;
use std::ops::Deref;

use super::{InputFile, Inputs};
use crate::paper::{Block, Table};
use crate::sheets::Sheet;
use crate::template::{Engine, Override, TemplateError};

/// A shop's own templates, as they lie in its folder.
#[derive(Debug, Clone, Default)]
pub struct Templates {
    /// Those that take the place of a built-in one.
    pub files: Vec<TemplateFile>,
    /// Files of the folder that are named like templates and take no template's place: their paths within it.
    pub strangers: Vec<String>,
    /// What kept the folder or a file in it from being read.
    pub faults: Vec<TemplateError>,
}

/// One of a shop's own templates.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct TemplateFile {
    /// The built-in template that it takes the place of: `cover`, `_parts/footer`.
    pub name: String,
    /// Its text.
    pub file: InputFile,
}

impl Templates {
    /// Whether there is anything else than the built-in templates.
    pub(super) fn are_own(&self) -> bool {
        !self.files.is_empty() || !self.faults.is_empty()
    }
}

/// The engine of a commission.
pub(super) enum Filler {
    BuiltIn(&'static Engine),
    Own(Box<Engine>),
}

impl Deref for Filler {
    type Target = Engine;

    fn deref(&self) -> &Engine {
        match self {
            Self::BuiltIn(engine) => engine,
            Self::Own(engine) => engine,
        }
    }
}

/// The built-in templates with the shop's own in their place.
///
/// # Errors
/// Every template that could not be read from its file or says what no template may.
pub(super) fn filler(inputs: &Inputs) -> Result<Filler, Vec<TemplateError>> {
    let templates = &inputs.templates;
    if !templates.are_own() {
        return Ok(Filler::BuiltIn(Engine::built_in()));
    }
    let own = |template: &TemplateFile| {
        let source = inputs.sources.get(template.file.id);
        Override { name: template.name.clone(), file: source.name().to_owned(), text: as_ours(source.text()).into() }
    };
    let overrides: Vec<Override> = templates.files.iter().map(own).collect();
    match (Engine::with_overrides(&overrides), templates.faults.as_slice()) {
        (Ok(engine), []) => Ok(Filler::Own(Box::new(engine))),
        (made, faults) => Err(faults.iter().cloned().chain(made.err().into_iter().flatten()).collect()),
    }
}

/// A text with line ends as ours and without a mark of byte order: an editor or git may have changed both.
fn as_ours(text: &str) -> Cow<'_, str> {
    let text = text.strip_prefix('\u{feff}').unwrap_or(text);
    if text.contains("\r\n") { text.replace("\r\n", "\n").into() } else { text.into() }
}

/// Tables that stand on their sheet whatever its template says: nothing else on paper tells what they tell.
const KEPT: &[(&str, &[&str])] = &[
    ("cover", &["cover-sheets", "cover-warnings", "cover-open"]),
    ("changes", &["changes-bin"]),
    ("safety-notes", &["safety-notes"]),
    ("sign-off", &["sign-off"]),
    ("full-size", &["full-size-pieces"]),
];

/// The tables that a sheet must show and its blocks do not.
pub(super) fn left_out(sheet: &Sheet, blocks: &[Block]) -> Vec<Block> {
    let kept = KEPT.iter().find(|(id, _)| *id == sheet.id).map_or(&[] as &[_], |(_, tables)| *tables);
    let wanted = sheet.views.iter().filter(|view| kept.contains(&view.name));
    wanted.filter(|view| !shows(blocks, &view.table)).map(|view| view.table.clone().into()).collect()
}

fn shows(blocks: &[Block], table: &Table) -> bool {
    blocks.iter().any(|block| match block {
        Block::Table(own) => own == table,
        Block::Group(inner) => shows(inner, table),
        Block::List(list) => list.items.iter().any(|item| shows(item, table)),
        _ => false,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_must_stand_are_tables_of_sheets_that_there_are() {
        let ids: Vec<&str> = crate::sheets::ids().collect();
        for (id, tables) in KEPT {
            assert!(ids.contains(id) || *id == crate::sheets::full_size::ID);
            let calls = |table: &&str| Engine::text(id).unwrap().contains(&format!("```table {table}\n"));
            assert!(tables.iter().all(calls), "{id}");
        }
    }
}
