//! Findings for people and scripts: three forms of one report.
//!
//! In: findings and the sources they point into. Out: text. A finding without a line (a default, a missing
//! table) stands at line 1, column 1 of the commission file. What a commission file says is foreign text: it
//! never reaches a terminal with its control characters.

mod human;
mod json;
mod short;
mod visible;

pub use human::human;
pub use json::{Finding, Place, findings, harmless_json, to_json};
pub use short::short;
pub use visible::{steers, visible};

use super::{Diagnostic, Label};
use crate::source::{FileId, Position, Sources};

/// What a rendering needs beside the findings.
#[derive(Debug, Clone, Copy)]
pub struct Context<'a> {
    /// The sources that the findings point into.
    pub sources: &'a Sources,
    /// The commission file: where a finding without a line stands.
    pub commission: FileId,
}

/// Where a label stands, for people: file, first position, position after the last character.
struct Stretch<'a> {
    file: &'a str,
    start: Position,
    end: Position,
}

impl<'a> Context<'a> {
    /// Where a finding stands.
    fn stretch(self, finding: &Diagnostic) -> Stretch<'a> {
        let start = Position { line: 1, column: 1 };
        finding.primary.as_ref().map_or_else(
            || Stretch { file: self.sources.get(self.commission).name(), start, end: start },
            |label| self.stretch_of(label),
        )
    }

    /// Where a label stands.
    fn stretch_of(self, label: &Label) -> Stretch<'a> {
        let (start, end) = self.sources.range(label.span);
        Stretch { file: self.sources.get(label.span.file).name(), start, end }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::diag::{Severity, codes};
    use crate::source::{SourceFile, Span};

    /// A commission and a shop file with findings of each kind.
    pub(super) fn sample() -> (Sources, FileId, Vec<Diagnostic>) {
        let mut sources = Sources::default();
        let text = "format = 1\n\n[board]\nthickness = \"6.35 mm\"\n\n[channels]\ndepth = \"2.2 mm\"\n";
        let commission = sources.add(SourceFile::new("specs/K-1.toml", text));
        let shop = sources.add(SourceFile::new("specs/shop.toml", "[limits]\n\"CHAN-01\" = { error = \"1.0 mm\" }\n"));
        let span = |file: FileId, words: &str| {
            let start = sources.get(file).text().find(words).unwrap();
            Some(Span { file, start, end: start + words.len() })
        };
        let findings = vec![
            Diagnostic::new(
                codes::CHAN_01,
                Severity::Error,
                "channels.depth",
                "fret 25: the channel leaves 0.81 mm under the slot; at least 1.0",
            )
            .at(span(commission, "\"2.2 mm\""))
            .with(span(commission, "\"6.35 mm\""), "board.thickness", "6.35 mm here")
            .with(span(shop, "\"1.0 mm\""), "limits.CHAN-01", "the shop's limit")
            .help("a board of 7.04 mm leaves 1.5")
            .help("or a channel of 1.5 mm"),
            Diagnostic::new(codes::SPEC_02, Severity::Error, "slots", "the table `slots` is missing"),
        ];
        (sources, commission, findings)
    }
}
