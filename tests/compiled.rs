//! A commission's text, read, resolved, computed and checked: what the tests of pages and checks look at.

use std::collections::BTreeSet;

use kerfbook::checks::{self, Bench, Outcome};
use kerfbook::design::Design;
use kerfbook::diag::render::{Context, short};
use kerfbook::diag::{Code, Diagnostic, Report, Severity};
use kerfbook::model::{Model, resolve};
use kerfbook::source::{FileId, SourceFile, Sources};
use kerfbook::spec;

/// What a commission comes to.
pub(crate) struct Compiled {
    sources: Sources,
    commission: FileId,
    /// All findings, in reading order.
    pub(crate) findings: Vec<Diagnostic>,
    /// What the checks gave.
    pub(crate) outcome: Outcome,
    model: Option<Model>,
}

impl Compiled {
    /// Compiles a commission with the shop file that lies beside it.
    pub(crate) fn of(commission: &str, shop: Option<&str>) -> Self {
        let mut sources = Sources::default();
        let mut report = Report::default();
        let file = sources.add(SourceFile::new("sample.toml", commission));
        let shop = shop.map(|text| {
            let file = sources.add(SourceFile::new("shop.toml", text));
            spec::read_shop(&sources, file, &mut report)
        });
        let written = spec::read(&sources, file, &mut report);
        let model = resolve::resolve(&written, shop.as_ref(), &mut report);
        let outcome = model.as_ref().map(|model| checks::run(model, &Design::of(model))).unwrap_or_default();
        report.extend(outcome.findings.iter().cloned());
        report.sort();
        Self { sources, commission: file, findings: report.findings().to_vec(), outcome, model }
    }

    /// The codes that stop the packet.
    pub(crate) fn errors(&self) -> BTreeSet<&'static str> {
        let errors = self.findings.iter().filter(|finding| finding.severity == Severity::Error);
        errors.map(|finding| finding.code.as_str()).collect()
    }

    /// The findings of one code.
    pub(crate) fn of_code(&self, code: Code) -> Vec<&Diagnostic> {
        self.findings.iter().filter(|finding| finding.code == code).collect()
    }

    /// The findings as a person reads them, one a line.
    pub(crate) fn printed(&self) -> String {
        short(&self.findings, Context { sources: &self.sources, commission: self.commission }, true)
    }

    /// Asks something of what the checks have before them.
    pub(crate) fn ask<T>(&self, question: impl FnOnce(&Bench<'_>) -> T) -> Option<T> {
        let model = self.model.as_ref()?;
        Some(question(&Bench::new(model, &Design::of(model))))
    }
}
