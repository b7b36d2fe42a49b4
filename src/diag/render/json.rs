//! Findings for scripts: one array, the fields of the contract.

use serde::Serialize;

use super::{Context, Stretch, visible::steers};
use crate::diag::{Diagnostic, Label};

/// One finding, as scripts read it.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Finding {
    /// Where it stands and what it says.
    #[serde(flatten)]
    pub place: Place,
    /// The other values involved, with the same fields.
    pub related: Vec<Place>,
}

/// A place and what is said of it. Lines and columns count from one, columns in characters.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Place {
    /// The file, by the name that messages print.
    pub file: String,
    /// Line of the first character.
    pub line: usize,
    /// Column of the first character.
    pub column: usize,
    /// Line of the character after the last.
    pub end_line: usize,
    /// Column of the character after the last.
    pub end_column: usize,
    /// `error`, `warning` or `note`; a related value is a note.
    pub severity: &'static str,
    /// The code.
    pub code: &'static str,
    /// The fault; of a related value what stands there.
    pub message: String,
    /// What to do, line by line; empty if there is nothing to say.
    pub help: String,
    /// The key as the commission file writes it.
    pub place: String,
}

/// Findings as scripts read them, in their order.
pub fn findings(findings: &[Diagnostic], context: Context<'_>) -> Vec<Finding> {
    findings.iter().map(|finding| one(finding, context)).collect()
}

/// An array of findings as JSON with a line break at its end.
///
/// What could steer a terminal is escaped, which JSON reads back as it was.
///
/// # Panics
/// Never: findings hold only text and whole numbers.
pub fn to_json(findings: &[Finding]) -> String {
    let text = serde_json::to_string_pretty(findings).expect("findings hold only text and whole numbers");
    harmless_json(&text) + "\n"
}

/// JSON in which what could steer a terminal is escaped, which reads back as it was.
pub fn harmless_json(json: &str) -> String {
    let mut out = String::with_capacity(json.len());
    for character in json.chars() {
        // Between strings only line breaks steer; within strings the writer has escaped what is below a space.
        if character != '\n' && steers(character) {
            out.push_str(&format!("\\u{:04x}", u32::from(character)));
        } else {
            out.push(character);
        }
    }
    out
}

fn one(finding: &Diagnostic, context: Context<'_>) -> Finding {
    let related = |label: &Label| {
        let place = place(finding, context.stretch_of(label));
        Place {
            severity: "note",
            message: label.text.clone(),
            help: String::new(),
            place: label.place.clone().into_owned(),
            ..place
        }
    };
    Finding { place: place(finding, context.stretch(finding)), related: finding.related.iter().map(related).collect() }
}

fn place(finding: &Diagnostic, at: Stretch<'_>) -> Place {
    Place {
        file: at.file.to_owned(),
        line: at.start.line,
        column: at.start.column,
        end_line: at.end.line,
        end_column: at.end.column,
        severity: finding.severity.word(),
        code: finding.code.as_str(),
        message: finding.message.clone(),
        help: finding.help.join("\n"),
        place: finding.place.clone().into_owned(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::diag::render::tests::sample;
    use crate::diag::{Severity, codes};

    #[test]
    fn every_field_of_the_contract_is_there() {
        let (sources, commission, sample) = sample();
        let text = to_json(&findings(&sample, Context { sources: &sources, commission }));
        let value: serde_json::Value = serde_json::from_str(&text).unwrap();
        let first = &value[0];
        assert_eq!(first["file"], "specs/K-1.toml");
        assert_eq!((first["line"].as_u64(), first["column"].as_u64()), (Some(7), Some(9)));
        assert_eq!((first["end_line"].as_u64(), first["end_column"].as_u64()), (Some(7), Some(17)));
        assert_eq!(first["severity"], "error");
        assert_eq!(first["code"], "CHAN-01");
        assert_eq!(first["help"], "a board of 7.04 mm leaves 1.5\nor a channel of 1.5 mm");
        assert_eq!(first["place"], "channels.depth");
        assert_eq!(first["related"][1]["file"], "specs/shop.toml");
        assert_eq!(first["related"][0]["message"], "6.35 mm here");
        assert_eq!(value[1]["end_column"].as_u64(), Some(1), "no line: 1:1");
        assert_eq!(value[1]["related"], serde_json::json!([]));
    }

    #[test]
    fn escapes_come_back_but_do_not_reach_the_terminal() {
        let (sources, commission, _) = sample();
        let foreign = "a\u{1b}b\u{9b}c\u{202e}d\"e";
        let finding = Diagnostic::new(codes::SPEC_05, Severity::Error, foreign, foreign);
        let text = to_json(&findings(&[finding], Context { sources: &sources, commission }));
        assert!(!text.chars().any(|character| character != '\n' && steers(character)));
        let value: serde_json::Value = serde_json::from_str(&text).unwrap();
        assert_eq!(value[0]["message"], foreign);
    }
}
