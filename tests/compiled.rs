//! A commission's text, read, resolved, computed and checked: what the tests of pages and checks look at.

use std::collections::BTreeSet;

use kerfbook::checks::{Bench, Outcome};
use kerfbook::design::Design;
use kerfbook::diag::render::{Context, short};
use kerfbook::diag::{Code, Diagnostic, Severity};
use kerfbook::model::Model;
use kerfbook::packet::{Examined, InputFile, Inputs, Templates, examine};
use kerfbook::source::{FileId, SourceFile, Sources};

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
        let file = sources.add(SourceFile::new("sample.toml", commission));
        let input = |id, path: &str| InputFile { id, path: path.to_owned() };
        let shop = shop.map(|text| input(sources.add(SourceFile::new("shop.toml", text)), "shop.toml"));
        let inputs = Inputs {
            sources,
            commission: input(file, "sample.toml"),
            shop,
            issues: None,
            templates: Templates::default(),
        };
        let Examined { report, found, .. } = examine(&inputs);
        let (model, outcome) = found.map_or((None, Outcome::default()), |(model, _, outcome)| (Some(model), outcome));
        let findings = report.findings().to_vec();
        Self { sources: inputs.sources, commission: file, findings, outcome, model }
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
