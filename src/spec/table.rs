//! Tables declared key by key, in the words of the commission file.
//!
//! A declaration reads like the reference page: key, what it holds, whether it is required, how it is read.
//! From it come the type, the list of its keys (for the nearest name, for tests), its reading, and how a
//! shop's defaults fill it.

use super::reader::TableReader;

/// A table that can be read.
pub(crate) trait Table: Sized {
    /// Its keys.
    const KEYS: &'static [&'static str];

    /// Asks the reader for every key.
    fn read(reader: &mut TableReader<'_, '_>) -> Self;
}

/// Declares a table: `key: What it holds => required how_it_is_read(…)`.
macro_rules! table {
    (
        $(#[$doc:meta])*
        $name:ident {
            $($(#[$key_doc:meta])* $field:ident $(as $key:literal)? : $holds:ty => $need:ident $read:ident($($how:expr),*)),*
            $(,)?
        }
    ) => {
        $(#[$doc])*
        #[derive(Debug, Clone, PartialEq)]
        pub struct $name {
            /// The table's header, or the braces of an inline table.
            pub header: $crate::source::Span,
            $($(#[$key_doc])* pub $field: Option<$crate::spec::entry::Entry<$holds>>,)*
        }

        impl $crate::spec::table::Table for $name {
            const KEYS: &'static [&'static str] = &[$($crate::spec::table::key_name!($field $($key)?)),*];

            fn read(reader: &mut $crate::spec::reader::TableReader<'_, '_>) -> Self {
                Self {
                    header: reader.header(),
                    $($field: reader.$read($crate::spec::table::key_name!($field $($key)?) $(, $how)*),)*
                }
            }
        }

        impl $crate::spec::entry::Fill for $name {
            fn fill(&mut self, default: &Self) {
                $($crate::spec::entry::fill_key(
                    &mut self.$field,
                    &default.$field,
                    $crate::spec::table::fills_whole!($read),
                );)*
            }
        }

        impl $crate::spec::leaf::Leaves for $name {
            fn leaves(&self, place: &str, _span: $crate::source::Span, out: &mut Vec<$crate::spec::leaf::Leaf>) {
                $($crate::spec::leaf::key_leaves(
                    &self.$field,
                    place,
                    $crate::spec::table::key_name!($field $($key)?),
                    out,
                );)*
            }
        }

        impl $name {
            /// A table of which nothing is written.
            pub fn empty(header: $crate::source::Span) -> Self {
                Self { header, $($field: None,)* }
            }

            /// The keys that the table must have and has not.
            pub fn missing(&self) -> impl Iterator<Item = &'static str> {
                [$((
                    $crate::spec::table::is_required!($need) && self.$field.is_none(),
                    $crate::spec::table::key_name!($field $($key)?),
                )),*]
                .into_iter()
                .filter(|(missing, _)| *missing)
                .map(|(_, key)| key)
            }
        }
    };
}

/// A field's key: its own name, or another where that is a word of Rust.
macro_rules! key_name {
    ($field:ident) => {
        stringify!($field)
    };
    ($field:ident $key:literal) => {
        $key
    };
}

/// Whether a key must be there.
macro_rules! is_required {
    (required) => {
        true
    };
    (optional) => {
        false
    };
}

/// Whether a default brings in the whole key: a default never brings in a table with a header of its own.
macro_rules! fills_whole {
    (section) => {
        false
    };
    (rows) => {
        false
    };
    ($read:ident) => {
        true
    };
}

pub(crate) use {fills_whole, is_required, key_name, table};

/// The table in which a key is at home, if it is another than the one where it was found.
pub(crate) fn home_of(key: &str, path: &str) -> Option<&'static str> {
    let here = path.split('[').next().unwrap_or(path);
    super::tables::HOMES.iter().find(|(home, keys)| *home != here && keys.contains(&key)).map(|(home, _)| *home)
}
