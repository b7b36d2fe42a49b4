//! Whether the keys of a file go together: what is missing, what excludes what, what is half of a set.
//!
//! In: a commission whose gaps the shop's defaults have filled, or a shop file. Out: SPEC-02, -07, -08, -14,
//! -16 and -18 in the report. A key that could not be read counts as written: it has its finding already.

mod body;
mod lights;
mod overrides;
mod rows;
mod shop;

use std::collections::BTreeMap;

use super::entry::{Entry, value_of};
use super::tables::{FretsTable, RadiusTable, ScaleTable, SlotsTable, Spec, StringSet, StringsTable, TaperTable};
use super::words::NutAt;
use crate::diag::{Code, Diagnostic, Report, Severity, codes};
use crate::source::Span;

pub(crate) use shop::judge_shop;

/// Judges a commission, gaps filled.
pub(crate) fn judge_commission(spec: &Spec, report: &mut Report) {
    let mut judge = Judge { report };
    judge.tables(spec);
    if let Some(scale) = value_of(&spec.scale) {
        judge.scale(scale);
    }
    if let Some(frets) = value_of(&spec.frets) {
        judge.frets(frets);
    }
    if let Some(slots) = value_of(&spec.slots) {
        judge.slots(slots);
    }
    if let Some(radius) = value_of(&spec.radius) {
        judge.radius(radius);
    }
    if let Some(taper) = value_of(&spec.taper) {
        judge.taper(taper);
    }
    if let Some(strings) = value_of(&spec.strings) {
        judge.strings(strings);
    }
    judge.lights(spec);
    judge.setup(spec);
    judge.neck_and_body(spec);
    judge.audio(spec);
    judge.rows(spec);
    judge.overrides(&spec.limits, "limits");
    judge.overrides(&spec.tolerances, "tolerances");
}

/// Whoever judges, with the report to write to.
struct Judge<'r> {
    report: &'r mut Report,
}

/// What to do about a key that is missing, where there is more to say than "write it".
const ADVICE: &[(&str, &str)] = &[
    ("slots.kerf", "cut a test slot in scrap and write what the feeler says, or name a blade of the shop"),
    ("lamp.forward", "measure the batch: its forward voltage at the wanted current"),
    ("commission.number", "it names the packet: number = \"K-1\""),
    ("strings.set", "name a set of the shop file, or list the strings, highest first"),
    ("board.wood", "write an id of the wood catalogue or the shop's, or a name with its density"),
    ("channels.exit_hole", "the hole that the lamps' wires leave by"),
];

impl Judge<'_> {
    /// Reports a finding that points at a span.
    fn say(&mut self, code: Code, place: &str, span: Span, message: String, help: Option<String>) {
        let mut finding = Diagnostic::new(code, Severity::Error, place.to_owned(), message).at(Some(span));
        if let Some(help) = help {
            finding = finding.help(help);
        }
        self.report.push(finding);
    }

    /// Each key that a table must have and has not.
    fn missing(&mut self, code: Code, path: &str, header: Span, keys: impl Iterator<Item = &'static str>) {
        for key in keys {
            let place = format!("{path}.{key}");
            let advice = ADVICE.iter().find(|(key, _)| *key == place).map(|(_, advice)| (*advice).to_owned());
            self.say(code, &place, header, format!("`{place}` is missing"), advice);
        }
    }

    /// Two ways to say a thing, both written: the finding stands at the second.
    fn either_or(&mut self, path: &str, one: &[Written], other: &[Written], message: &str) -> bool {
        let first_of = |keys: &[Written]| keys.iter().filter_map(|(key, span)| span.map(|span| (span, *key))).min();
        let (Some(one), Some(other)) = (first_of(one), first_of(other)) else { return false };
        let (first, second) = if one <= other { (one, other) } else { (other, one) };
        let finding = Diagnostic::new(codes::SPEC_07, Severity::Error, format!("{path}.{}", second.1), message)
            .at(Some(second.0))
            .with(Some(first.0), format!("{path}.{}", first.1), "written first")
            .help(format!("keep `{}` or `{}`", first.1, second.1));
        self.report.push(finding);
        true
    }

    /// Keys that only work together: those that are missing, once one of them is written.
    fn all_or_none(&mut self, path: &str, keys: &[Written], message: impl Fn(&str) -> (String, Option<String>)) {
        let Some(span) = keys.iter().filter_map(|(_, span)| *span).min() else { return };
        for (key, _) in keys.iter().filter(|(_, span)| span.is_none()) {
            let (message, help) = message(key);
            self.say(codes::SPEC_08, &format!("{path}.{key}"), span, message, help);
        }
    }

    /// Required tables, and the required keys of those that are there.
    fn tables(&mut self, spec: &Spec) {
        for table in spec.missing() {
            let message = format!("the table `[{table}]` is missing");
            self.say(codes::SPEC_02, table, spec.header, message, Some(format!("write `[{table}]` and its keys")));
        }
        macro_rules! required_keys {
            ($($table:ident),*) => {
                $(if let Some(table) = value_of(&spec.$table) {
                    self.missing(codes::SPEC_02, stringify!($table), table.header, table.missing());
                })*
            };
        }
        required_keys!(commission, frets, board, strings);
        if let Some(partial) = value_of(&spec.frets).and_then(|frets| value_of(&frets.partial)) {
            for (index, row) in partial.iter().enumerate() {
                let path = format!("frets.partial[{}]", index + 1);
                self.missing(codes::SPEC_02, &path, row.header, row.missing());
            }
        }
    }

    fn scale(&mut self, scale: &ScaleTable) {
        let one = [written("length", &scale.length)];
        let two = [
            written("bass", &scale.bass),
            written("treble", &scale.treble),
            written("square_fret", &scale.square_fret),
        ];
        if self.either_or("scale", &one, &two, "one scale or two, not both") {
            return;
        }
        if nothing(&one) && nothing(&two) {
            let help = "write length, or bass, treble and square_fret for a fan";
            self.say(
                codes::SPEC_02,
                "scale.length",
                scale.header,
                "`scale.length` is missing".to_owned(),
                Some(help.to_owned()),
            );
        }
        self.all_or_none("scale", &two, |key| {
            let help = match key {
                "square_fret" => "which fret stands square to the centreline? 0 is the nut",
                _ => "a fan has a bass scale and a treble scale",
            };
            (format!("a fan needs `scale.{key}`"), Some(help.to_owned()))
        });
    }

    fn frets(&mut self, frets: &FretsTable) {
        let nut_at = frets.nut_at.as_ref().map_or(Some(NutAt::BoardEnd), |entry| entry.value().copied());
        match (nut_at, &frets.behind_nut) {
            (Some(NutAt::BoardEnd), Some(behind)) => {
                let message = "the board's end is the zero line, so there is no wood behind the nut".to_owned();
                let help = "take `behind_nut` out, or write nut_at = \"slot\" or \"zero fret\"";
                self.say(codes::SPEC_07, "frets.behind_nut", behind.span, message, Some(help.to_owned()));
            }
            (Some(NutAt::Slot | NutAt::ZeroFret), None) => {
                let span = frets.nut_at.as_ref().map_or(frets.header, |entry| entry.span);
                let message = "`frets.behind_nut` is missing: how much wood lies behind the zero line?".to_owned();
                let help = "measure from the zero line back to the squared end: behind_nut = \"9 mm\"";
                self.say(codes::SPEC_08, "frets.behind_nut", span, message, Some(help.to_owned()));
            }
            _ => {}
        }
    }

    fn slots(&mut self, slots: &SlotsTable) {
        if slots.blade.is_none() && slots.kerf.is_none() {
            self.missing(codes::SPEC_02, "slots", slots.header, std::iter::once("kerf"));
        }
    }

    fn radius(&mut self, radius: &RadiusTable) {
        let one = [written("board", &radius.board)];
        let cone = [written("nut", &radius.nut), written("end", &radius.end), written("end_at", &radius.end_at)];
        if self.either_or("radius", &one, &cone, "one radius or a cone, not both") {
            return;
        }
        if nothing(&one) && nothing(&cone) {
            let help = "write board = \"14 in\" or \"flat\", or nut, end and end_at for a cone";
            let message = "`radius.board` is missing".to_owned();
            self.say(codes::SPEC_02, "radius.board", radius.header, message, Some(help.to_owned()));
        }
        let end = radius.end.as_ref().map_or("the second radius", |end| end.written.as_str()).to_owned();
        self.all_or_none("radius", &cone, |key| match key {
            "end_at" => (format!("{end} where?"), Some(WHERE.to_owned())),
            _ => (format!("a cone needs `radius.{key}`"), None),
        });
    }

    fn taper(&mut self, taper: &TaperTable) {
        let widths = [
            written("width_nut", &taper.width_nut),
            written("width_end", &taper.width_end),
            written("end_at", &taper.end_at),
        ];
        let from_strings = [
            written("string_to_edge_nut", &taper.string_to_edge_nut),
            written("string_to_edge_end", &taper.string_to_edge_end),
        ];
        let treble = [
            written("string_to_edge_nut_treble", &taper.string_to_edge_nut_treble),
            written("string_to_edge_end_treble", &taper.string_to_edge_end_treble),
        ];
        let any_string = [from_strings, treble].concat();
        if self.either_or(
            "taper",
            &widths,
            &any_string,
            "the edges come from widths or from the strings, not from both",
        ) {
            return;
        }
        if nothing(&widths) && nothing(&any_string) {
            let help = "write width_nut, width_end and end_at, or string_to_edge_nut and string_to_edge_end";
            let message = "`taper.width_nut` is missing".to_owned();
            self.say(codes::SPEC_02, "taper.width_nut", taper.header, message, Some(help.to_owned()));
        }
        let end = taper.width_end.as_ref().map_or("the end's width", |end| end.written.as_str()).to_owned();
        self.all_or_none("taper", &widths, |key| match key {
            "end_at" => (format!("{end} where?"), Some(WHERE.to_owned())),
            _ => (format!("a taper by widths needs `taper.{key}`"), None),
        });
        if !nothing(&any_string) {
            // A treble distance alone does not say where the bass edge is.
            let keys = if nothing(&from_strings) { [any_string[0], any_string[1]] } else { from_strings };
            let span = any_string.iter().filter_map(|(_, span)| *span).min().unwrap_or(taper.header);
            for (key, _) in keys.iter().filter(|(_, span)| span.is_none()) {
                let message = format!("a taper from the strings needs `taper.{key}`");
                self.say(codes::SPEC_08, &format!("taper.{key}"), span, message, None);
            }
        }
    }

    fn strings(&mut self, strings: &StringsTable) {
        let Some(set) = &strings.set else { return };
        let Some(StringSet::List(list)) = set.value() else { return };
        self.string_list("strings.set", set.span, list);
    }

    /// The strings of a set, one by one.
    fn string_list(&mut self, path: &str, span: Span, list: &[super::tables::StringTable]) {
        if list.is_empty() {
            let help = "list them, highest first: { note = \"E4\", gauge = \"0.010 in\", kind = \"plain\" }";
            let message = format!("`{path}` has no strings in it");
            self.say(codes::SPEC_06, path, span, message, Some(help.to_owned()));
        }
        for (index, string) in list.iter().enumerate() {
            let path = format!("{path}[{}]", index + 1);
            self.missing(codes::SPEC_02, &path, string.header, string.missing());
        }
    }

    /// A name that stands twice in a list: the finding stands at the second.
    fn names_once<'n>(&mut self, list: &str, key: &str, names: impl Iterator<Item = Option<&'n Entry<String>>>) {
        let mut seen: BTreeMap<&str, Span> = BTreeMap::new();
        for (index, entry) in names.enumerate() {
            let Some(entry) = entry else { continue };
            let Some(name) = entry.value() else { continue };
            if let Some(first) = seen.get(name.as_str()) {
                let place = format!("{list}[{}].{key}", index + 1);
                let message = format!("`{place}` = \"{}\" is there twice", super::reader::shorten(name));
                let finding = Diagnostic::new(codes::SPEC_07, Severity::Error, place.clone(), message)
                    .at(Some(entry.span))
                    .with(Some(*first), place, "first here")
                    .help("give each its own");
                self.report.push(finding);
            } else {
                seen.insert(name, entry.span);
            }
        }
    }
}

/// Where a place may be.
const WHERE: &str = "say at the last fret, the board's end or the saddle, at a fret, or a length from the nut";

/// A key and where it is written.
type Written = (&'static str, Option<Span>);

fn written<T>(key: &'static str, entry: &Option<Entry<T>>) -> Written {
    (key, entry.as_ref().map(|entry| entry.span))
}

fn nothing(keys: &[Written]) -> bool {
    keys.iter().all(|(_, span)| span.is_none())
}

#[cfg(test)]
mod tests;
