//! One line a finding: `PATH:LINE:COLUMN: error CHAN-01: message`.

use std::fmt::Write;

use super::{Context, visible};
use crate::diag::Diagnostic;

/// Renders findings one to a line, in their order; with `verbose` the help stands indented below.
///
/// A finding without a line stands at 1:1 of the commission file.
pub fn short(findings: &[Diagnostic], context: Context<'_>, verbose: bool) -> String {
    let mut out = String::new();
    for finding in findings {
        let at = context.stretch(finding);
        let (line, column) = (at.start.line, at.start.column);
        let message = visible(&finding.message);
        // Writing to a string cannot fail.
        let _ = writeln!(
            out,
            "{}:{line}:{column}: {} {}: {message}",
            visible(at.file),
            finding.severity.word(),
            finding.code
        );
        for help in finding.help.iter().filter(|_| verbose) {
            let _ = writeln!(out, "    help: {}", visible(help));
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::diag::render::tests::sample;

    #[test]
    fn a_finding_is_one_line_and_its_help_is_indented() {
        let (sources, commission, findings) = sample();
        let context = Context { sources: &sources, commission };
        assert_eq!(
            short(&findings, context, false),
            "specs/K-1.toml:7:9: error CHAN-01: fret 25: the channel leaves 0.81 mm under the slot; at least 1.0\n\
             specs/K-1.toml:1:1: error SPEC-02: the table `slots` is missing\n"
        );
        let verbose = short(&findings, context, true);
        assert!(verbose.contains("at least 1.0\n    help: a board of 7.04 mm leaves 1.5\n    help: or a channel"));
    }
}
