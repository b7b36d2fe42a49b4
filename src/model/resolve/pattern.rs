//! Patterns: a row of the shop's stock or of a catalogue that supplies sizes.
//!
//! A size of the commission goes before its pattern's; a shop's default size goes before the pattern only where
//! the pattern is a default too. A pattern that is open leaves open what it would supply.

use super::resolver::{Resolver, nowhere, shown};
use crate::catalog;
use crate::diag::{Code, codes};
use crate::model::{Key, Missing, Origin, Sourced, Wire};
use crate::source::Span;
use crate::spec::Spec;
use crate::spec::entry::{Entry, value_of};
use crate::spec::leaf::Saying;
use crate::spec::tables::{StockSizes, StockTable, WireTable};
use crate::units::Length;

/// A pattern that a table names.
pub(super) enum Pattern<R> {
    /// None is named.
    None,
    /// It is open, faulty or not there: what it would supply waits for it.
    Missing {
        /// What is missing.
        missing: Missing,
        /// Whether the commission itself named it.
        own: bool,
    },
    /// It is there.
    Row {
        /// Its sizes.
        row: R,
        /// Its id.
        id: String,
        /// Whether the commission itself named it.
        own: bool,
    },
}

/// A row that supplies sizes.
pub(super) enum Row<'a, S, C: 'static> {
    /// Of the shop's stock.
    Shop(&'a S),
    /// Of a catalogue.
    Catalogue(&'static C),
}

/// What a row says of one size.
pub(super) enum RowSize<T> {
    /// The shop's stock says it.
    Shop(Entry<T>),
    /// A catalogue says it: its name, and the size.
    Catalogue(&'static str, T),
}

impl<S, C> Pattern<Row<'_, S, C>> {
    /// What the pattern says of one size; none where it says nothing, or there is no pattern.
    pub(super) fn size<T: Clone>(
        &self,
        of_stock: impl Fn(&S) -> &Option<Entry<T>>,
        of_catalogue: impl Fn(&'static C) -> Option<RowSize<T>>,
    ) -> Option<RowSize<T>> {
        match self {
            Self::Row { row: Row::Shop(row), .. } => of_stock(row).clone().map(RowSize::Shop),
            Self::Row { row: Row::Catalogue(row), .. } => of_catalogue(row),
            Self::None | Self::Missing { .. } => None,
        }
    }
}

/// Where a pattern is looked up, and what is said when it is not there.
pub(super) struct Shelf {
    pub(super) key: Key,
    pub(super) code: Code,
    pub(super) what: &'static str,
}

impl<'a> Resolver<'a> {
    /// The rows of the shop's stock.
    fn stock(&self) -> &'a [StockTable] {
        self.shop.and_then(|shop| value_of(&shop.stock)).map_or(&[], Vec::as_slice)
    }

    /// Looks a pattern up: the shop's stock first.
    pub(super) fn pattern<S, C>(
        &mut self,
        entry: &Option<Entry<String>>,
        shelf: &Shelf,
        of_stock: impl Fn(&'a StockSizes) -> Option<&'a S>,
        of_catalogue: impl Fn(&str) -> Option<&'static C>,
        catalogue: impl Iterator<Item = &'static str>,
    ) -> Pattern<Row<'a, S, C>> {
        let Some(entry) = entry else { return Pattern::None };
        let own = self.is_own(entry.span);
        let Some(id) = entry.value() else {
            let missing = if entry.is_open() { Missing::open(shelf.key) } else { Missing::faulty(shelf.key) };
            return Pattern::Missing { missing, own };
        };
        let in_stock = |item: &&StockTable| value_of(&item.row.id).is_some_and(|known| known == id);
        if let Some(row) = self.stock().iter().filter(in_stock).find_map(|item| of_stock(&item.sizes)) {
            return Pattern::Row { row: Row::Shop(row), id: id.clone(), own };
        }
        if let Some(row) = of_catalogue(id) {
            return Pattern::Row { row: Row::Catalogue(row), id: id.clone(), own };
        }
        let (key, code, span) = (shelf.key, shelf.code, entry.span);
        let of_kind = self.stock().iter().filter(|item| of_stock(&item.sizes).is_some());
        let mut known: Vec<&str> = Vec::new();
        known.extend(of_kind.filter_map(|item| value_of(&item.row.id).map(String::as_str)));
        for id in catalogue {
            known.push(id);
        }
        let message = format!("\"{id}\" is not {} of the shop's stock or the catalogue", shelf.what);
        self.not_there(code, key, span, message, id, known.into_iter());
        Pattern::Missing { missing: Missing::faulty(key), own }
    }

    /// One size: written, from the pattern, or built in; none when nobody says it.
    pub(super) fn patterned<R, T: Clone + Saying>(
        &mut self,
        key: Key,
        own: &Option<Entry<T>>,
        pattern: &Pattern<R>,
        of_row: Option<RowSize<T>>,
        built_in: Option<T>,
    ) -> Option<Sourced<T>> {
        let pattern_first = matches!(pattern, Pattern::Row { own: true, .. } | Pattern::Missing { own: true, .. });
        if let Some(entry) = own
            && (self.is_own(entry.span) || !pattern_first)
        {
            return Some(self.given(key, entry));
        }
        match pattern {
            Pattern::Row { id, .. } => {
                if let Some(size) = of_row {
                    return Some(self.of_row(key, size, id));
                }
            }
            Pattern::Missing { missing, .. } => return Some(nowhere(*missing, key)),
            Pattern::None => {}
        }
        match (own, built_in) {
            (Some(entry), _) => Some(self.given(key, entry)),
            (None, Some(value)) => Some(self.built_in(key, value)),
            (None, None) => None,
        }
    }

    fn of_row<T: Clone + Saying>(&mut self, key: Key, size: RowSize<T>, id: &str) -> Sourced<T> {
        let (value, origin, written) = match size {
            RowSize::Shop(entry) => {
                let origin = Origin::ShopRow { span: entry.span, id: id.to_owned() };
                (super::resolver::one_value(&entry).map_err(|why| Missing { key, why }), origin, entry.written)
            }
            RowSize::Catalogue(table, value) => {
                (Ok(value), Origin::Catalogue { table, id: id.to_owned() }, String::new())
            }
        };
        if let Ok(value) = &value {
            self.add(key, shown(value.says()), origin.clone());
        }
        Sourced { value, key, origin, written }
    }

    /// A size that nobody says: reported once for a table of which nothing is said, else key by key.
    pub(super) fn unsaid_sizes(&mut self, table: &str, header: Span, unsaid: &[Key], of: usize, pattern: Option<&str>) {
        if unsaid.len() == of {
            let place = format!("{table}.pattern");
            let message = format!("`[{table}]` has neither a pattern nor sizes");
            let help = format!("write pattern = an id of the shop's stock or the catalogue, or {}", list_of(unsaid));
            self.say(codes::SPEC_02, &place, header, message, Some(help));
            return;
        }
        for key in unsaid {
            let message = format!("`{key}` is missing");
            let help = match pattern {
                Some(id) => format!("the pattern \"{id}\" does not say it"),
                None => "write it, or a pattern that says it".to_owned(),
            };
            self.say(codes::SPEC_02, key, header, message, Some(help));
        }
    }

    pub(super) fn wire(&mut self, spec: &Spec) -> Wire {
        let empty = WireTable::empty(spec.header);
        let table = value_of(&spec.wire).unwrap_or(&empty);
        let shelf = Shelf { key: "wire.pattern", code: codes::WIRE_09, what: "fret wire" };
        let pattern = self.pattern(
            &table.pattern,
            &shelf,
            |sizes| if let StockSizes::Wire(row) = sizes { Some(&**row) } else { None },
            catalog::wire,
            catalog::wires().iter().map(|wire| wire.id.as_str()),
        );
        let mut unsaid: Vec<Key> = Vec::new();
        macro_rules! size {
            ($field:ident, $built_in:expr) => {{
                let key = concat!("wire.", stringify!($field));
                let of_row = pattern.size(|table| &table.$field, |wire| Some(RowSize::Catalogue("wires", wire.$field)));
                self.patterned(key, &table.$field, &pattern, of_row, $built_in).unwrap_or_else(|| {
                    unsaid.push(key);
                    nowhere(Missing::faulty(key), key)
                })
            }};
        }
        let wire = Wire {
            pattern: self.optional("wire.pattern", &table.pattern),
            crown_width: size!(crown_width, None),
            crown_height: size!(crown_height, None),
            tang_depth: size!(tang_depth, None),
            tang_width: size!(tang_width, None),
            barb_width: size!(barb_width, None),
            overhang: self.overhang(table, &pattern),
            stick: size!(stick, Some(Length::mm(600.0))),
        };
        if spec.wire.as_ref().is_some_and(|entry| entry.value().is_some()) {
            self.unsaid_sizes("wire", table.header, &unsaid, 5, value_of(&table.pattern).map(String::as_str));
        }
        wire
    }

    /// The overhang is the fitter's, not the wire's: only a row of stock that says it supplies it.
    fn overhang(&mut self, table: &WireTable, pattern: &Pattern<Row<'_, WireTable, catalog::Wire>>) -> Sourced<Length> {
        let key = "wire.overhang";
        match pattern.size(|table| &table.overhang, |_| None) {
            None => self.or_built_in(key, &table.overhang, Length::mm(3.0)),
            of_row => self
                .patterned(key, &table.overhang, pattern, of_row, None)
                .unwrap_or_else(|| nowhere(Missing::faulty(key), key)),
        }
    }
}

/// Keys as a message lists them, without their table.
fn list_of(keys: &[Key]) -> String {
    let names: Vec<&str> = keys.iter().map(|key| key.rsplit('.').next().unwrap_or(key)).collect();
    names.join(", ")
}
