//! Woods: the shop's rack before the catalogue, a density of its own before both.

use super::resolver::Resolver;
use crate::catalog;
use crate::diag::codes;
use crate::model::{Key, Sourced, Wood};
use crate::spec::entry::{Entry, value_of};
use crate::spec::tables::WoodTable;
use crate::units::Density;

impl Resolver<'_> {
    /// The wood of a key; one that nobody knows and that has no density is STOCK-04.
    pub(super) fn wood(
        &mut self,
        key: Key,
        entry: &Option<Entry<String>>,
        density: &Option<Entry<Density>>,
    ) -> Sourced<Wood> {
        let written = self.required(key, entry);
        let (value, origin) = (written.value, written.origin);
        let value = value.and_then(|id| {
            self.known_wood(&id, density).ok_or_else(|| {
                let span = entry.as_ref().map(|entry| entry.span);
                self.unknown_wood(key, &id, span);
                crate::model::Missing::faulty(key)
            })
        });
        Sourced { value, key, origin, written: written.written }
    }

    fn known_wood(&self, id: &str, density: &Option<Entry<Density>>) -> Option<Wood> {
        let row = self.rack().iter().find(|row| value_of(&row.id).is_some_and(|known| known == id));
        let listed = catalog::wood(id);
        let own = value_of(density).copied();
        if row.is_none() && listed.is_none() && density.is_none() {
            return None;
        }
        let by_shop = row.and_then(|row| value_of(&row.name).cloned());
        let name = by_shop.or_else(|| listed.map(|wood| wood.name.clone())).unwrap_or_else(|| id.to_owned());
        let shop_density = row.and_then(|row| value_of(&row.density).copied());
        let density = own.or(shop_density).or_else(|| listed.map(|wood| wood.density));
        Some(Wood { id: id.to_owned(), name, density })
    }

    fn rack(&self) -> &[WoodTable] {
        self.shop.and_then(|shop| value_of(&shop.wood)).map_or(&[], Vec::as_slice)
    }

    fn unknown_wood(&mut self, key: Key, id: &str, span: Option<crate::source::Span>) {
        let Some(span) = span else { return };
        let shelf: Vec<String> = self.rack().iter().filter_map(|row| value_of(&row.id).cloned()).collect();
        let known = shelf.iter().map(String::as_str).chain(catalog::woods().iter().map(|wood| wood.id.as_str()));
        let table = key.split('.').next().unwrap_or(key);
        let help = match crate::spec::nearest(id, known) {
            Some(near) => format!("did you mean \"{near}\"? If not, write its {table}.density"),
            None => format!("write its {table}.density, as in \"870 kg/m3\", or a wood of the catalogue"),
        };
        let message = format!("`{key}` = \"{id}\" is not in the catalogue or on the shop's rack, and has no density");
        self.say(codes::STOCK_04, key, span, message, Some(help));
    }
}
