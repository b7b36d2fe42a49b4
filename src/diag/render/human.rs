//! Findings for people: the lines themselves, with every value involved marked, and what to do.

use std::collections::BTreeMap;

use annotate_snippets::{Annotation, AnnotationKind, Group, Level, Origin, Renderer, Snippet};

use super::visible::{harmless_source, visible};
use super::{Context, Label};
use crate::diag::{Diagnostic, Severity};
use crate::source::{FileId, SourceFile};

/// Renders findings with the lines they point at, in their order, an empty line after each; colour only if asked.
pub fn human(findings: &[Diagnostic], context: Context<'_>, colour: bool) -> String {
    let renderer = if colour { Renderer::styled() } else { Renderer::plain() };
    let mut harmless = BTreeMap::new();
    for label in findings.iter().flat_map(labels) {
        let file = label.span.file;
        harmless.entry(file).or_insert_with(|| harmless_source(context.sources.get(file).text()));
    }
    let mut out = String::new();
    for finding in findings {
        out.push_str(&renderer.render(&[group(finding, context, &harmless)]));
        out.push_str("\n\n");
    }
    out
}

/// The labels of a finding, the primary one first.
fn labels(finding: &Diagnostic) -> impl Iterator<Item = &Label> {
    finding.primary.iter().chain(&finding.related)
}

fn group<'a>(finding: &'a Diagnostic, context: Context<'a>, harmless: &'a BTreeMap<FileId, String>) -> Group<'a> {
    let level = match finding.severity {
        Severity::Error => Level::ERROR,
        Severity::Warning => Level::WARNING,
        Severity::Note => Level::NOTE,
    };
    let title = level.primary_title(visible(&finding.message)).id(finding.code.as_str());
    let mut group = Group::with_title(title);
    if finding.primary.is_none() {
        let name = visible(context.sources.get(context.commission).name());
        group = group.element(Origin::path(name).line(1).char_column(1));
    }
    for file in files(finding) {
        let source = context.sources.get(file);
        let annotations = labels(finding).filter(|label| label.span.file == file).map(|label| {
            let kind = match &finding.primary {
                Some(primary) if std::ptr::eq(primary, label) => AnnotationKind::Primary,
                _ => AnnotationKind::Context,
            };
            annotation(kind, label, source)
        });
        let text = harmless[&file].as_str();
        group = group.element(Snippet::source(text).path(visible(source.name())).annotations(annotations));
    }
    for help in &finding.help {
        group = group.element(Level::HELP.message(visible(help)));
    }
    group
}

/// The files of a finding's labels, each once, in the order in which they are first named.
fn files(finding: &Diagnostic) -> Vec<FileId> {
    let mut files = Vec::new();
    for label in labels(finding) {
        if !files.contains(&label.span.file) {
            files.push(label.span.file);
        }
    }
    files
}

/// A mark under a label's stretch. A label without a text of its own names its key where it is not the finding's own.
fn annotation<'a>(kind: AnnotationKind, label: &'a Label, source: &SourceFile) -> Annotation<'a> {
    let end = label.span.end.min(source.text().len());
    let start = label.span.start.min(end);
    let text = match (label.text.is_empty(), &kind) {
        (false, _) => Some(visible(&label.text)),
        (true, AnnotationKind::Primary) => None,
        (true, _) => Some(visible(&label.place)),
    };
    kind.span(start..end).label(text)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::diag::codes;
    use crate::diag::render::tests::sample;
    use crate::source::{Sources, Span};

    #[test]
    fn every_value_involved_is_shown_on_its_line() {
        let (sources, commission, findings) = sample();
        insta::assert_snapshot!(human(&findings, Context { sources: &sources, commission }, false), @r#"
        error[CHAN-01]: fret 25: the channel leaves 0.81 mm under the slot; at least 1.0
         --> specs/K-1.toml:7:9
          |
        4 | thickness = "6.35 mm"
          |             --------- 6.35 mm here
        ...
        7 | depth = "2.2 mm"
          |         ^^^^^^^^
          |
         ::: specs/shop.toml:2:23
          |
        2 | "CHAN-01" = { error = "1.0 mm" }
          |                       -------- the shop's limit
          |
          = help: a board of 7.04 mm leaves 1.5
          = help: or a channel of 1.5 mm

        error[SPEC-02]: the table `slots` is missing
        --> specs/K-1.toml:1:1
        "#);
    }

    #[test]
    fn a_commission_cannot_steer_the_terminal() {
        let mut sources = Sources::default();
        let text = "[commission]\ntitle = \"\u{1b}[2J\u{9b}31m\u{202e}x\"\n";
        let commission = sources.add(SourceFile::new("a\u{1b}]0;b.toml", text));
        let span = Some(Span { file: commission, start: 21, end: text.len() - 1 });
        let foreign = "\u{1b}[31m\u{9b}\r\n";
        let finding = Diagnostic::new(codes::SPEC_05, Severity::Error, "commission.title", foreign)
            .at(span)
            .with(span, foreign, foreign)
            .help(foreign);
        let text = human(&[finding], Context { sources: &sources, commission }, false);
        assert!(!text.chars().any(|c| c != '\n' && super::super::visible::steers(c)), "{text:?}");
    }

    #[test]
    fn colour_is_there_only_if_asked_for() {
        let (sources, commission, findings) = sample();
        let context = Context { sources: &sources, commission };
        assert!(human(&findings, context, true).contains("\u{1b}["));
        assert!(!human(&findings, context, false).contains('\u{1b}'));
    }

    #[test]
    fn a_span_at_the_end_of_an_empty_file_is_no_trouble() {
        let mut sources = Sources::default();
        let commission = sources.add(SourceFile::new("empty.toml", ""));
        let finding = Diagnostic::new(codes::SPEC_12, Severity::Error, "", "the file is empty").at(Some(Span {
            file: commission,
            start: 0,
            end: 0,
        }));
        assert!(human(&[finding], Context { sources: &sources, commission }, false).contains("empty.toml:1:1"));
    }
}
