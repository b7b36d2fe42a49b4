//! What the shop file says of printing: which sheets, in which order, and where the shop's own templates lie.

use super::Templates;
use crate::diag::{Diagnostic, Severity, codes};
use crate::sheets::{self, Sheet, changes, cover};
use crate::spec::entry::value_of;
use crate::spec::nearest;
use crate::spec::tables::Shop;
use crate::template::Engine;

const TEMPLATES: &str = "print.templates";
const SHEETS: &str = "print.sheets";

/// Whether a path leads to a folder below the one it is read from: names and forward slashes, no step upward.
pub fn leads_within(path: &str) -> bool {
    let path = path.strip_suffix('/').unwrap_or(path);
    let is_name = |name: &str| !matches!(name, "" | "." | "..") && !name.contains(['\\', ':']) && name.trim() == name;
    path.split('/').all(is_name)
}

/// What is wrong in `[print]`, and what lies in the folder of templates for nothing.
pub(super) fn findings(shop: &Shop, templates: &Templates) -> Vec<Diagnostic> {
    let Some(print) = value_of(&shop.print) else { return Vec::new() };
    let mut found = Vec::new();
    if let Some(entry) = &print.templates
        && let Some(path) = entry.value()
    {
        if !leads_within(path) {
            let message = format!("`{TEMPLATES}` = \"{path}\": it names no folder below the shop file's own");
            let finding = Diagnostic::new(codes::SPEC_06, Severity::Error, TEMPLATES, message).at(Some(entry.span));
            found.push(finding.help("name a folder that lies beside the shop file: \"templates\""));
        }
        for stranger in &templates.strangers {
            let message = format!("`{path}/{stranger}` takes no template's place");
            let finding = Diagnostic::new(codes::SPEC_21, Severity::Warning, TEMPLATES, message).at(Some(entry.span));
            let name = stranger.strip_suffix(".md").unwrap_or(stranger);
            found.push(finding.help(match nearest(name, Engine::names()) {
                Some(near) => format!("did you mean `{near}.md`?"),
                None => format!("take it away, or give it one of these names, with .md: {}", listed(Engine::names())),
            }));
        }
    }
    let wanted = print.sheets.iter().filter_map(|list| list.value()).flatten();
    let mut seen: Vec<&str> = Vec::new();
    for (entry, name) in wanted.filter_map(|entry| Some((entry, entry.value()?.as_str()))) {
        let wrong =
            |message: String| Diagnostic::new(codes::SPEC_06, Severity::Error, SHEETS, message).at(Some(entry.span));
        if seen.contains(&name) {
            found.push(wrong(format!("`{SHEETS}`: `{name}` is there twice")).help("name each sheet once"));
        } else if sheets::ids().all(|id| id != name) {
            let near = nearest(name, sheets::ids()).map_or_else(String::new, |near| format!("did you mean `{near}`? "));
            let help = format!("{near}there are {}", listed(sheets::ids()));
            found.push(wrong(format!("`{SHEETS}`: there is no sheet `{name}`")).help(help));
        }
        seen.push(name);
    }
    found
}

fn listed<'n>(names: impl Iterator<Item = &'n str>) -> String {
    names.map(|name| format!("`{name}`")).collect::<Vec<_>>().join(", ")
}

/// Sheets that no choice leaves out: which prints are good no more, and what may hurt.
const ALWAYS: [&str; 2] = [changes::ID, "safety-notes"];

/// Puts the sheets but the cover in the order that the shop wants, those that it does not print behind the others; how
/// many it prints. Without a wish all are printed as they come.
pub(super) fn settle(sheets: &mut [Sheet], wanted: &[String]) -> usize {
    if wanted.iter().all(|name| name == cover::ID) {
        return sheets.len();
    }
    let place = |id: &str| match wanted.iter().position(|name| name == id) {
        Some(at) => at + 1,
        // What the helper must throw away comes first, cautions come last.
        None if id == changes::ID => 0,
        None if ALWAYS.contains(&id) => wanted.len() + 1,
        None => wanted.len() + 2,
    };
    sheets.sort_by_key(|sheet| place(sheet.id));
    sheets.iter().take_while(|sheet| place(sheet.id) < wanted.len() + 2).count()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_path_within_has_names_and_no_steps() {
        for path in ["templates", "own/templates", "own/templates/", ".mine", "à b"] {
            assert!(leads_within(path), "{path}");
        }
        for path in ["", "/", "/etc", "..", "../x", "a/../..", "a//b", "./a", "C:\\x", "a\\b", "c:x", " a", "a/ "] {
            assert!(!leads_within(path), "{path}");
        }
    }
}
