//! The issues file, read: every fault at once.

use super::{Identity, Issue, PrintedTable, Recorded, SheetState, State, letter};
use crate::diag::{Diagnostic, Report, Severity, codes};
use crate::source::{FileId, Sources, Span};
use crate::spec::date::Date;
use crate::spec::entry::{Entry, value_of};
use crate::spec::reader::TableReader;
use crate::spec::table::Table;
use crate::stamp::Stamp;

/// The edition of the issues file that is read here.
const FORMAT: u32 = 1;

/// Reads an issues file; its issues are whole only where nothing was found.
///
/// `number` is the commission's: an issues file of another commission is a finding.
pub fn read_issues(sources: &Sources, file: FileId, number: Option<&str>, report: &mut Report) -> Vec<Issue> {
    let mut own = Report::default();
    let written: Written = crate::spec::read_file(crate::spec::Units::AsWritten, sources, file, &mut own);
    let mut issues: Vec<Issue> = Vec::new();
    if let Some(format) = &written.format
        && format.value().is_some_and(|edition| *edition != FORMAT)
    {
        let message = format!("`format` = {}: this program reads format {FORMAT} of issues", format.written);
        own.push(fault(codes::SPEC_06, "format", format.span, message));
    }
    for (place, keys) in value_of(&written.issue).into_iter().flatten().enumerate() {
        if !is_broken_off(keys, &own) {
            judge(place, keys, number, &issues, &mut own);
        }
        issues.extend(issue(keys, &issues));
    }
    report.extend(own.findings().iter().cloned());
    issues
}

/// Whether an issue's header is not whole and nothing stands below it: that header has its finding, and no key is missing.
fn is_broken_off(keys: &Keys, report: &Report) -> bool {
    let starts_here = |finding: &&Diagnostic| {
        let starts = finding.primary.as_ref().map(|label| (label.span.file, label.span.start));
        finding.code == codes::SPEC_12 && starts == Some((keys.header.file, keys.header.start))
    };
    keys.missing().count() == Keys::REQUIRED && report.findings().iter().any(|finding| starts_here(&finding))
}

/// The file as written.
struct Written {
    format: Option<Entry<u32>>,
    issue: Option<Entry<Vec<Keys>>>,
}

impl Table for Written {
    const KEYS: &'static [&'static str] = &["format", "issue"];

    fn read(reader: &mut TableReader<'_, '_>) -> Self {
        Self { format: reader.count("format"), issue: reader.tables("issue") }
    }
}

type ByName<T> = Option<Entry<Vec<(String, T)>>>;

/// One issue as written.
struct Keys {
    header: Span,
    letter: Option<Entry<String>>,
    date: Option<Entry<Date>>,
    by: Option<Entry<String>>,
    changed: Option<Entry<String>>,
    program: Option<Entry<String>>,
    of: Option<Entry<Vec<Entry<String>>>>,
    stamp: Option<Entry<String>>,
    sheets: ByName<String>,
    values: ByName<Recorded>,
    printed: ByName<Vec<PrintedTable>>,
}

impl Table for Keys {
    const KEYS: &'static [&'static str] =
        &["letter", "date", "by", "changed", "program", "of", "stamp", "sheets", "values", "printed"];

    fn read(reader: &mut TableReader<'_, '_>) -> Self {
        Self {
            header: reader.header(),
            letter: reader.name("letter"),
            date: reader.date("date"),
            by: reader.name("by"),
            changed: reader.name("changed"),
            program: reader.name("program"),
            of: reader.texts("of"),
            stamp: reader.name("stamp"),
            sheets: reader.texts_by_name("sheets"),
            values: reader.values_by_name("values"),
            printed: reader.tables_by_name("printed"),
        }
    }
}

impl Keys {
    /// How many keys every issue has.
    const REQUIRED: usize = 9;

    fn missing(&self) -> impl Iterator<Item = &'static str> {
        let there: [bool; Self::REQUIRED] = [
            self.letter.is_some(),
            self.date.is_some(),
            self.by.is_some(),
            self.changed.is_some(),
            self.program.is_some(),
            self.of.is_some(),
            self.stamp.is_some(),
            self.sheets.is_some(),
            self.values.is_some(),
        ];
        // An issue in which no sheet is new has no figures of its own.
        Self::KEYS.iter().copied().zip(there).filter(|(_, there)| !there).map(|(key, _)| key)
    }

    fn identity(&self) -> Option<Identity> {
        value_of(&self.of)?.iter().map(|word| word.value().cloned()).collect::<Option<Vec<_>>>().map(Identity)
    }
}

/// What a sheet printed under the same stamp in an issue before.
pub(super) fn printed_before<'i>(before: &'i [Issue], sheet: &SheetState) -> Option<&'i [PrintedTable]> {
    let same = |issue: &'i Issue| issue.state.sheet(&sheet.sheet).filter(|own| own.stamp == sheet.stamp);
    before.iter().rev().find_map(same).map(|own| own.printed.as_slice())
}

/// The figures of a sheet: its own, or those that an issue before printed under the same stamp.
fn figures(keys: &Keys, before: &[Issue], sheet: &str, stamp: &str) -> Option<Vec<PrintedTable>> {
    let own = value_of(&keys.printed).into_iter().flatten().find(|(own, _)| own == sheet);
    let wanted = SheetState { sheet: sheet.to_owned(), stamp: stamp.to_owned(), printed: Vec::new() };
    own.map(|(_, tables)| tables.as_slice()).or_else(|| printed_before(before, &wanted)).map(<[_]>::to_vec)
}

/// The issue of keys that are all there.
fn issue(keys: &Keys, before: &[Issue]) -> Option<Issue> {
    let sheets = value_of(&keys.sheets)?.iter().map(|(sheet, stamp)| {
        let printed = figures(keys, before, sheet, stamp)?;
        Some(SheetState { sheet: sheet.clone(), stamp: stamp.clone(), printed })
    });
    Some(Issue {
        letter: value_of(&keys.letter)?.clone(),
        date: *value_of(&keys.date)?,
        by: value_of(&keys.by)?.clone(),
        changed: value_of(&keys.changed)?.clone(),
        program: value_of(&keys.program)?.clone(),
        stamp: value_of(&keys.stamp)?.clone(),
        state: State {
            identity: keys.identity()?,
            values: value_of(&keys.values)?.clone(),
            sheets: sheets.collect::<Option<Vec<_>>>()?,
        },
    })
}

/// Whether an issue follows the one before it and agrees with itself.
fn judge(place: usize, keys: &Keys, number: Option<&str>, before: &[Issue], report: &mut Report) {
    let path = |key: &str| format!("issue[{}].{key}", place + 1);
    for key in keys.missing() {
        let message = format!("`{}` is missing", path(key));
        report.push(fault(codes::SPEC_02, path(key), keys.header, message).help(RESTORE));
    }
    if let Some(entry) = &keys.letter
        && let (Some(own), expected) = (entry.value(), letter(place))
        && *own != expected
    {
        let own = crate::spec::reader::shorten(own);
        let message =
            format!("issue {} of this file bears the letter \"{own}\": \"{expected}\" is its turn", place + 1);
        report.push(fault(codes::ORDER_11, path("letter"), entry.span, message).help(RESTORE));
    }
    if let Some(entry) = &keys.date
        && let (Some(own), Some(last)) = (entry.value(), before.last())
        && *own < last.date
    {
        let message = format!("issue {} is of {own}, before issue {} of {}", place + 1, last.letter, last.date);
        report.push(fault(codes::ORDER_11, path("date"), entry.span, message).help(RESTORE));
    }
    let (Some(identity), Some(of)) = (keys.identity(), &keys.of) else { return };
    if let (Some(number), Some(own)) = (number, identity.0.first())
        && own != number
    {
        let own = crate::spec::reader::shorten(own);
        let message = format!("this is an issue of `{own}`, but the commission is `{number}`");
        let help = "take the issues file of another commission away; a copy begins without issues";
        report.push(fault(codes::ORDER_11, path("of"), of.span, message).help(help));
    }
    let Some(sheets) = &keys.sheets else { return };
    for (sheet, stamp) in sheets.value().into_iter().flatten() {
        let place = format!("{}.{sheet}", path("sheets"));
        let Some(tables) = figures(keys, before, sheet, stamp) else {
            let message =
                format!("`{}` has no figures of `{sheet}`, and no issue before bears its stamp", path("printed"));
            report.push(fault(codes::ORDER_11, place, sheets.span, message).help(RESTORE));
            continue;
        };
        let made = identity.stamp_of(sheet, &tables);
        if made.as_str() != stamp {
            let stamp = crate::spec::reader::shorten(stamp);
            let message = format!("the figures of `{sheet}` give the stamp {made}, but {stamp} is written");
            report.push(fault(codes::ORDER_11, place, sheets.span, message).help(RESTORE));
        }
    }
    if let (Some(stamp), Some(all)) = (&keys.stamp, sheets.value())
        && let Some(written) = stamp.value()
    {
        let made: Stamp = identity.stamp_of_packet(all.iter().map(|(sheet, stamp)| (sheet.as_str(), stamp.as_str())));
        if made.as_str() != written {
            let written = crate::spec::reader::shorten(written);
            let message = format!("the sheets' stamps give the packet's stamp {made}, but {written} is written");
            report.push(fault(codes::ORDER_11, path("stamp"), stamp.span, message).help(RESTORE));
        }
    }
}

/// What to do with an issue that was changed after it was made.
const RESTORE: &str =
    "an issue is written by `kerfbook issue` and stays as it is: take the file back from version control";

fn fault(code: crate::diag::Code, place: impl Into<String>, span: Span, message: String) -> Diagnostic {
    Diagnostic::new(code, Severity::Error, place.into(), message).at(Some(span))
}
