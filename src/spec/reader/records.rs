//! The kinds that memory files hold: texts under names of their own, and tables of texts.

use toml::de::{DeTable, DeValue};

use super::TableReader;
use crate::diag::codes;
use crate::spec::entry::Entry;
use crate::spec::issues::{PrintedTable, Recorded};

/// Things under names of their own, in the order of the file.
type ByName<T> = Option<Entry<Vec<(String, T)>>>;

impl TableReader<'_, '_> {
    /// Texts, each under a name of its own.
    pub(crate) fn texts_by_name(&mut self, key: &'static str) -> ByName<String> {
        self.by_name(key, "a text in quotes", |value| value.as_str().map(str::to_owned))
    }

    /// Texts or lists of texts, each under a name of its own.
    pub(crate) fn values_by_name(&mut self, key: &'static str) -> ByName<Recorded> {
        self.by_name(key, "a text in quotes, or a list of such", |value| match value {
            DeValue::Array(_) => texts(value).map(Recorded::List),
            value => value.as_str().map(|text| Recorded::One(text.to_owned())),
        })
    }

    /// Printed tables by their sheet: of each table the headings, then its rows.
    pub(crate) fn tables_by_name(&mut self, key: &'static str) -> ByName<Vec<PrintedTable>> {
        self.by_name(key, "tables of texts", |value| in_file_order(value.as_table()?).map(printed).collect())
    }

    fn by_name<T>(&mut self, key: &'static str, wanted: &str, read: impl Fn(&DeValue<'_>) -> Option<T>) -> ByName<T> {
        self.free_table(key, |reader, name, _, raw| {
            let value = read(raw.value);
            if value.is_none() {
                let shown = super::shorten(name);
                let message = format!("`{}` = {}: {wanted} is wanted", reader.place(&shown), reader.shown(raw));
                reader.fault(codes::SPEC_06, &shown, raw.span, message, &[]);
            }
            Some((name.to_owned(), value?))
        })
    }
}

/// The keys of a table with their values, as they follow each other in the file.
fn in_file_order<'t>(table: &'t DeTable<'_>) -> impl Iterator<Item = (&'t str, &'t DeValue<'t>)> {
    let mut keys: Vec<_> = table.iter().collect();
    keys.sort_by_key(|(key, _)| key.span().start);
    keys.into_iter().map(|(key, value)| (key.get_ref().as_ref(), value.get_ref()))
}

fn printed((name, value): (&str, &DeValue<'_>)) -> Option<PrintedTable> {
    let mut rows = value.as_array()?.iter().map(|row| texts(row.get_ref())).collect::<Option<Vec<_>>>()?.into_iter();
    Some(PrintedTable { name: name.to_owned(), headings: rows.next()?, rows: rows.collect() })
}

fn texts(value: &DeValue<'_>) -> Option<Vec<String>> {
    value.as_array()?.iter().map(|member| member.get_ref().as_str().map(str::to_owned)).collect()
}
