//! What belongs to lit markers, and only to them.

use super::{Judge, Written, written};
use crate::diag::{Diagnostic, Severity, codes};
use crate::source::Span;
use crate::spec::entry::{Entry, value_of};
use crate::spec::tables::Spec;
use crate::spec::words::MarkerKind;

impl Judge<'_> {
    /// The tables of lit markers.
    pub(super) fn lights(&mut self, spec: &Spec) {
        let circuit = value_of(&spec.electronics).and_then(|electronics| electronics.lamps.as_ref());
        let lit_tables = [
            written("lamp", &spec.lamp),
            written("channels", &spec.channels),
            ("electronics.lamps", circuit.map(|entry| entry.span)),
        ];
        let markers = value_of(&spec.markers);
        let kind_entry = markers.and_then(|markers| markers.kind.as_ref());
        let kind = match (&spec.markers, kind_entry) {
            (None, _) => Some(MarkerKind::None),
            (Some(_), None) if markers.is_some() => Some(MarkerKind::Plain),
            (_, entry) => entry.and_then(|entry| entry.value().copied()),
        };
        if let Some(side) = markers.and_then(|markers| value_of(&markers.side)) {
            self.missing(codes::SPEC_08, "markers.side", side.header, side.missing());
        }
        match kind {
            Some(MarkerKind::Lit) => {
                let span = kind_entry.map_or(spec.header, |entry| entry.span);
                for (table, _) in lit_tables.iter().filter(|(_, span)| span.is_none()) {
                    let message = format!("the markers are lit, and the table `[{table}]` is missing");
                    let help = format!("write `[{table}]`, or kind = \"plain\"");
                    self.say(codes::SPEC_08, table, span, message, Some(help));
                }
                if let Some(channels) = value_of(&spec.channels) {
                    self.missing(codes::SPEC_02, "channels", channels.header, channels.missing());
                }
                if let Some(circuit) = circuit.and_then(Entry::value) {
                    self.missing(codes::SPEC_02, "electronics.lamps", circuit.header, circuit.missing());
                }
            }
            Some(kind) => self.nothing_to_light(spec, kind, kind_entry.map(|entry| entry.span), &lit_tables),
            None => {}
        }
    }

    fn nothing_to_light(&mut self, spec: &Spec, kind: MarkerKind, kind_span: Option<Span>, tables: &[Written]) {
        let mut there = tables.iter().filter_map(|(table, span)| span.map(|span| (span, *table)));
        let Some((span, table)) = there.next() else { return };
        let what = match (kind, spec.markers.is_some()) {
            (_, false) => "there are no markers",
            (MarkerKind::None, _) => "the markers are none",
            _ => "the markers are plain",
        };
        let mut finding = Diagnostic::new(codes::SPEC_18, Severity::Error, table, format!("{what}: nothing to light"))
            .at(Some(span))
            .with(kind_span, "markers.kind", "not lit")
            .help("write kind = \"lit\" in `[markers]`, or take the lamps' tables out");
        for (span, table) in there {
            finding = finding.with(Some(span), table, "nor this");
        }
        self.report.push(finding);
    }
}
