//! The kinds that hold other values: lists, tables, rows of tables.

use toml::de::DeValue;

use super::kinds::is_open;
use super::{Least, Raw, TableReader};
use crate::diag::codes;
use crate::source::Span;
use crate::spec::entry::{Entry, Given};
use crate::spec::quantity::Measure;
use crate::spec::table::Table;
use crate::spec::tables::StringSet;

impl<'t> TableReader<'t, '_> {
    /// A table with a header of its own; it cannot be left open.
    pub(crate) fn section<T: Table>(&mut self, key: &'static str) -> Option<Entry<T>> {
        self.entry(key, |reader, key, raw| match raw.value.as_table() {
            Some(table) => {
                let path = reader.place(key);
                Given::Value(reader.read_child(table, path, raw.span))
            }
            None => {
                let place = reader.place(key);
                let message = format!("`{place}` = {}: a table is wanted", reader.shown(raw));
                reader.faulty(codes::SPEC_06, key, raw, message, &[format!("write `[{place}]` and its keys below it")])
            }
        })
    }

    /// A few dimensions that belong together, in braces; they may be left open together.
    pub(crate) fn group<T: Table>(&mut self, key: &'static str) -> Option<Entry<T>> {
        self.entry(key, |reader, key, raw| match raw.value {
            DeValue::String(text) if is_open(text) => Given::Open,
            DeValue::Table(table) => {
                let path = reader.place(key);
                Given::Value(reader.read_child(table, path, raw.span))
            }
            _ => {
                let message = format!("`{}` = {}: a group of keys is wanted", reader.place(key), reader.shown(raw));
                let help = format!("write {key} = {{ {} = … }}", T::KEYS.join(" = …, "));
                reader.faulty(codes::SPEC_06, key, raw, message, &[help])
            }
        })
    }

    /// A list of tables, in braces or each under its own `[[header]]`; a single table is a list of one.
    pub(crate) fn tables<T: Table>(&mut self, key: &'static str) -> Option<Entry<Vec<T>>> {
        self.entry(key, |reader, key, raw| match raw.value {
            DeValue::String(text) if is_open(text) => Given::Open,
            DeValue::Table(table) => {
                let path = reader.place(key);
                Given::Value(vec![reader.read_child(table, path, raw.span)])
            }
            DeValue::Array(array) => {
                let mut rows = Vec::new();
                let mut whole = true;
                for (index, row) in array.iter().enumerate() {
                    let span = reader.document.span(row.span());
                    let path = format!("{}[{}]", reader.place(key), index + 1);
                    match row.get_ref().as_table() {
                        Some(table) => rows.push(reader.read_child(table, path, span)),
                        None => {
                            whole = false;
                            let raw = Raw { value: row.get_ref(), span };
                            let message = format!("`{path}` = {}: a group of keys is wanted", reader.shown(raw));
                            let help = format!("write {{ {} = … }}", T::KEYS.join(" = …, "));
                            reader.fault(codes::SPEC_06, &format!("{key}[{}]", index + 1), span, message, &[help]);
                        }
                    }
                }
                if whole { Given::Value(rows) } else { Given::Faulty }
            }
            _ => {
                let message = format!("`{}` = {}: a list is wanted", reader.place(key), reader.shown(raw));
                let help = format!("write {key} = [{{ {} = … }}, …]", T::KEYS.join(" = …, "));
                reader.faulty(codes::SPEC_06, key, raw, message, &[help])
            }
        })
    }

    /// Rows of tables that a shop's default completes and never brings in: `[[body.pocket]]`.
    pub(crate) fn rows<T: Table>(&mut self, key: &'static str) -> Option<Entry<Vec<T>>> {
        self.tables(key)
    }

    /// A list of quantities.
    pub(crate) fn quantities<T: Measure>(&mut self, key: &'static str, least: Least) -> Option<Entry<Vec<Entry<T>>>> {
        self.list(key, "[\"3 mm\", \"1/8 in\"]", |reader, key, raw| reader.one_quantity(key, raw, least))
    }

    /// A list of whole numbers.
    pub(crate) fn counts(&mut self, key: &'static str) -> Option<Entry<Vec<Entry<u32>>>> {
        self.list(key, "[3, 5, 7]", Self::one_count)
    }

    /// A list of texts.
    pub(crate) fn texts(&mut self, key: &'static str) -> Option<Entry<Vec<Entry<String>>>> {
        self.list(key, "[\"one\", \"two\"]", |reader, key, raw| {
            reader.quoted(key, raw, "a text").map_or(Given::Faulty, |text| Given::Value(text.to_owned()))
        })
    }

    /// A list of names, none of them empty.
    pub(crate) fn names(&mut self, key: &'static str) -> Option<Entry<Vec<Entry<String>>>> {
        self.list(key, "[\"one\", \"two\"]", Self::one_name)
    }

    /// The strings: the id of a set, or one by one.
    pub(crate) fn string_set(&mut self, key: &'static str) -> Option<Entry<StringSet>> {
        match self.peek(key) {
            Some(DeValue::String(_)) => self.id(key).map(|entry| entry.map(StringSet::Id)),
            _ => self.tables(key).map(|entry| entry.map(StringSet::List)),
        }
    }

    /// A table whose keys are names of something; `read` gives what it makes of each.
    pub(crate) fn free_table<T>(
        &mut self,
        key: &'static str,
        read: impl Fn(&mut TableReader<'t, '_>, &'t str, Span, Raw<'t>) -> Option<T>,
    ) -> Option<Entry<Vec<T>>> {
        self.entry(key, |reader, key, raw| {
            let Some(table) = raw.value.as_table() else {
                let place = reader.place(key);
                let message = format!("`{place}` = {}: a table is wanted", reader.shown(raw));
                let help = format!("write `[{place}]` and its keys below it");
                return reader.faulty(codes::SPEC_06, key, raw, message, &[help]);
            };
            let path = reader.place(key);
            let mut child = reader.child(table, path, raw.span, &[]);
            let rows = child.keys().into_iter().filter_map(|(name, span)| {
                let value = child.table.get(name)?;
                let raw = Raw { value: value.get_ref(), span: child.document.span(value.span()) };
                read(&mut child, name, span, raw)
            });
            Given::Value(rows.collect())
        })
    }

    /// One row of such a table.
    pub(crate) fn free_row<T: Table>(&mut self, name: &str, span: Span, raw: Raw<'t>) -> Option<T> {
        let path = self.place(name);
        let Some(table) = raw.value.as_table() else {
            let message = format!("`{path}` = {}: a group of keys is wanted", self.shown(raw));
            let help = format!("write {{ {} = … }}", T::KEYS.join(" = …, "));
            self.fault(codes::SPEC_06, name, raw.span, message, &[help]);
            return None;
        };
        Some(self.read_child(table, path, span))
    }

    /// A value judged by a function that says what was wanted.
    pub(crate) fn judged<T>(
        &mut self,
        key: &'static str,
        judge: impl FnOnce(&DeValue<'t>) -> Result<T, String>,
    ) -> Option<Entry<T>> {
        self.entry(key, |reader, key, raw| match judge(raw.value) {
            Ok(value) => Given::Value(value),
            Err(why) => reader.unreadable(key, raw, &why),
        })
    }

    /// A list; its members are faulty each for itself.
    fn list<T>(
        &mut self,
        key: &'static str,
        sample: &str,
        read: impl Fn(&mut Self, &'static str, Raw<'t>) -> Given<T>,
    ) -> Option<Entry<Vec<Entry<T>>>> {
        self.entry(key, |reader, key, raw| match raw.value {
            DeValue::String(text) if is_open(text) => Given::Open,
            DeValue::Array(array) => Given::Value(
                array
                    .iter()
                    .map(|member| {
                        let raw = Raw { value: member.get_ref(), span: reader.document.span(member.span()) };
                        let given = read(reader, key, raw);
                        Entry { given, span: raw.span, written: reader.written(raw) }
                    })
                    .collect(),
            ),
            _ => {
                let message = format!("`{}` = {}: a list is wanted", reader.place(key), reader.shown(raw));
                reader.faulty(codes::SPEC_06, key, raw, message, &[format!("write {key} = {sample}")])
            }
        })
    }
}
