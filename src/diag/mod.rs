//! Findings: what is wrong, where, with both numbers, and what to do about it.

pub mod codes;
pub mod render;

use std::borrow::Cow;

pub use codes::Code;

use crate::source::Span;

/// How grave a finding is, gravest first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Severity {
    /// Stops the packet.
    Error,
    /// Goes on the cover, to be initialled.
    Warning,
    /// Worth knowing.
    Note,
}

impl Severity {
    /// The word that messages, scripts and sheets use.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Error => "error",
            Self::Warning => "warning",
            Self::Note => "note",
        }
    }
}

/// A place in a source and what is to be said of it there.
#[derive(Debug, Clone, PartialEq)]
pub struct Label {
    /// Where.
    pub span: Span,
    /// The key as the commission file writes it: `wire.tang_depth`.
    pub place: Cow<'static, str>,
    /// What stands there, or why it matters; may be empty.
    pub text: String,
}

/// One finding.
#[derive(Debug, Clone, PartialEq)]
pub struct Diagnostic {
    /// The stable code.
    pub code: Code,
    /// How grave.
    pub severity: Severity,
    /// The fault, both numbers with their units, the place: lower case, no full stop.
    pub message: String,
    /// The key as the commission file writes it, also where no line sets it.
    pub place: Cow<'static, str>,
    /// The line that set the value; none where nothing was written (a default, a missing file).
    pub primary: Option<Label>,
    /// The other values involved, also from the shop file.
    pub related: Vec<Label>,
    /// What to do, if possible with the value that would pass.
    pub help: Vec<String>,
    /// Whether somebody accepted an error by name: it is built as it is.
    pub is_waived: bool,
}

impl Diagnostic {
    /// Starts a finding; the builder methods add to it.
    pub fn new(
        code: Code,
        severity: Severity,
        place: impl Into<Cow<'static, str>>,
        message: impl Into<String>,
    ) -> Self {
        Self {
            code,
            severity,
            message: message.into(),
            place: place.into(),
            primary: None,
            related: Vec::new(),
            help: Vec::new(),
            is_waived: false,
        }
    }

    /// Points at the line that set the value.
    #[must_use]
    pub fn at(mut self, span: Option<Span>) -> Self {
        let place = self.place.clone();
        self.primary = span.map(|span| Label { span, place, text: String::new() });
        self
    }

    /// Names another value involved.
    #[must_use]
    pub fn with(mut self, span: Option<Span>, place: impl Into<Cow<'static, str>>, text: impl Into<String>) -> Self {
        if let Some(span) = span {
            self.related.push(Label { span, place: place.into(), text: text.into() });
        }
        self
    }

    /// Says what to do.
    #[must_use]
    pub fn help(mut self, text: impl Into<String>) -> Self {
        self.help.push(text.into());
        self
    }
}

/// The most findings that are kept of one commission: more come of a file that is none, and nobody reads them.
const MOST: usize = 1_000;

/// All findings of one commission, in the order in which they are to be read.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Report {
    findings: Vec<Diagnostic>,
}

impl Report {
    /// Adds a finding; behind the thousandth an error says once that there are more.
    pub fn push(&mut self, finding: Diagnostic) {
        if self.findings.len() < MOST {
            self.findings.push(finding);
        } else if self.findings.len() == MOST {
            let message = format!("there are more than {MOST} findings; those beyond are not listed");
            // It stands where the first of the rest would have stood.
            let place = finding.primary.as_ref().map(|label| label.span);
            let more = Diagnostic::new(codes::SPEC_12, Severity::Error, "", message).at(place);
            self.findings.push(more.help("mend these first, or look whether this is the right file"));
        }
    }

    /// Adds many.
    pub fn extend(&mut self, findings: impl IntoIterator<Item = Diagnostic>) {
        findings.into_iter().for_each(|finding| self.push(finding));
    }

    /// Puts the findings in reading order: by file and line, then by code; what has no line comes last.
    pub fn sort(&mut self) {
        self.findings.sort_by(|a, b| {
            let key = |d: &Diagnostic| (d.primary.is_none(), d.primary.as_ref().map(|l| l.span), d.code);
            key(a).cmp(&key(b))
        });
    }

    /// The findings.
    pub fn findings(&self) -> &[Diagnostic] {
        &self.findings
    }

    /// The findings, to say more of them.
    pub(crate) fn findings_mut(&mut self) -> &mut [Diagnostic] {
        &mut self.findings
    }

    /// Whether anything stops the packet.
    pub fn has_errors(&self) -> bool {
        self.count(Severity::Error) > 0
    }

    /// How many findings of one severity.
    pub fn count(&self, severity: Severity) -> usize {
        self.findings.iter().filter(|finding| finding.severity == severity).count()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn endless_findings_end_with_an_error_that_says_so() {
        let mut report = Report::default();
        let note = Diagnostic::new(codes::SPEC_01, Severity::Note, "", "one of many");
        report.extend(std::iter::repeat_n(note, 3 * MOST));
        report.sort();
        assert_eq!(report.findings().len(), MOST + 1);
        assert!(report.has_errors(), "whatever stood among the rest stops the packet");
    }
}
