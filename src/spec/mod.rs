//! The commission file and the shop file, as written.
//!
//! In: the text of a file. Out: [`Spec`] or [`Shop`], every key an [`Entry`] with its place, and
//! findings in the report for all that cannot be used, all at once. What the file says is not judged here beyond
//! its form; whether keys go together is judged once the shop's defaults have filled the gaps.

mod agreement;
pub mod date;
mod document;
pub mod entry;
mod figure;
mod filling;
pub mod issues;
pub mod leaf;
mod nearest;
pub mod note;
pub mod overrides;
pub mod quantity;
mod reader;
pub mod size;
mod syntax;
mod table;
pub mod tables;
pub mod words;

pub use entry::{Entry, Given};
pub use filling::filled;
pub(crate) use nearest::nearest;
pub use tables::{Shop, Spec};

use crate::diag::{Report, codes};
use crate::source::{FileId, Sources};
use reader::TableReader;
use table::Table;
use toml::de::DeTable;

/// The edition of the language that is read here.
const FORMAT: u32 = 1;

/// The place of a key's table in the order of the commission file.
pub(crate) fn table_rank(key: &str) -> usize {
    let table = key.split(['.', '[']).next().unwrap_or(key);
    Spec::KEYS.iter().position(|known| *known == table).unwrap_or(Spec::KEYS.len())
}

/// How a length is taken whose figure is plausible only in the other unit or with its point moved (SPEC-10).
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Units {
    /// As it is written, with a finding.
    AsWritten,
    /// As it was probably meant, without one: to tell what follows from the slip and what does not.
    AsMeant,
}

/// Reads a commission file: every key, all findings at once.
pub fn read(sources: &Sources, file: FileId, report: &mut Report) -> Spec {
    read_in(Units::AsWritten, sources, file, report)
}

/// The same, with lengths in doubtful units taken one way or the other.
pub fn read_in(units: Units, sources: &Sources, file: FileId, report: &mut Report) -> Spec {
    let spec: Spec = read_file(units, sources, file, report);
    if let Some(format) = &spec.format
        && format.value().is_some_and(|edition| *edition != FORMAT)
    {
        let message = format!("`format` = {}: this program reads format {FORMAT}", format.written);
        let finding = crate::diag::Diagnostic::new(codes::SPEC_06, crate::diag::Severity::Error, "format", message);
        report.push(finding.at(Some(format.span)));
    }
    spec
}

/// Reads a shop file; what is missing or twice in it is found here too.
pub fn read_shop(sources: &Sources, file: FileId, report: &mut Report) -> Shop {
    read_shop_in(Units::AsWritten, sources, file, report)
}

/// The same, with lengths in doubtful units taken one way or the other.
pub fn read_shop_in(units: Units, sources: &Sources, file: FileId, report: &mut Report) -> Shop {
    let shop = read_file(units, sources, file, report);
    agreement::judge_shop(&shop, report);
    shop
}

/// Judges whether the keys of a commission go together, once the shop's defaults have filled its gaps.
pub fn judge(filled: &Spec, report: &mut Report) {
    agreement::judge_commission(filled, report);
}

fn read_file<T: Table>(units: Units, sources: &Sources, file: FileId, report: &mut Report) -> T {
    let text = sources.get(file).text();
    let readable = syntax::readable(file, text, report);
    let document = document::Document::new(file, text, &readable, units == Units::AsMeant);
    let (table, _) = DeTable::parse_recoverable(&readable.text);
    let mut reader = TableReader::root::<T>(&document, table.get_ref(), report);
    let value = T::read(&mut reader);
    reader.finish();
    value
}

#[cfg(test)]
mod tests;
