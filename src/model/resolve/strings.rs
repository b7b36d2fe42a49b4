//! `[strings]`: one by one, or a set of the shop; and `[setup]`, how they lie.

use super::resolver::{Resolver, all_values, needed, one_value, shown};
use crate::diag::codes;
use crate::model::{Action, BridgeHeight, InstrumentString, Key, Missing, Origin, Setup, Sourced, Strings, Why};
use crate::spec::Spec;
use crate::spec::entry::{Entry, value_of};
use crate::spec::leaf::Leaves;
use crate::spec::tables::{ActionTable, ShopStringsTable, StringSet, StringTable, StringsTable};
use crate::spec::words::Spacing;

const SET: Key = "strings.set";

impl Resolver<'_> {
    pub(super) fn strings(&mut self, spec: &Spec) -> Strings {
        let empty = StringsTable::empty(spec.header);
        let table = value_of(&spec.strings).unwrap_or(&empty);
        Strings {
            spread_nut: self.required("strings.spread_nut", &table.spread_nut),
            spread_saddle: self.required("strings.spread_saddle", &table.spread_saddle),
            spacing: self.or_built_in("strings.spacing", &table.spacing, Spacing::EqualGaps),
            spacing_saddle: self.or_built_in("strings.spacing_saddle", &table.spacing_saddle, Spacing::EqualCentres),
            set: self.set(&table.set),
        }
    }

    fn set(&mut self, entry: &Option<Entry<StringSet>>) -> Sourced<Vec<InstrumentString>> {
        let written = self.required(SET, entry);
        let value = written.value.and_then(|set| match set {
            StringSet::List(list) => strings_of(&list),
            StringSet::Id(id) => self.shop_set(&id, entry.as_ref()),
        });
        Sourced { value, key: SET, origin: written.origin, written: written.written }
    }

    /// A set of the shop by its id.
    fn shop_set(&mut self, id: &str, entry: Option<&Entry<StringSet>>) -> Result<Vec<InstrumentString>, Missing> {
        let sets = self.shop.and_then(|shop| value_of(&shop.strings));
        let sets: &[ShopStringsTable] = sets.map_or(&[], Vec::as_slice);
        let Some(row) = sets.iter().find(|row| value_of(&row.id).is_some_and(|known| known == id)) else {
            let known: Vec<&str> = sets.iter().filter_map(|row| value_of(&row.id)).map(String::as_str).collect();
            let message = if self.shop.is_some() {
                format!("the shop has no set of strings \"{id}\"")
            } else {
                format!("there is no shop file that knows a set of strings \"{id}\"")
            };
            if let Some(entry) = entry {
                self.not_there(codes::SPEC_19, SET, entry.span, message, id, known.into_iter());
            }
            return Err(Missing::faulty(SET));
        };
        let Ok(list) = needed(&row.set) else { return Err(Missing::faulty(SET)) };
        let mut leaves = Vec::new();
        list.leaves(SET, row.header, &mut leaves);
        for leaf in leaves {
            let origin = Origin::ShopRow { span: leaf.span, id: id.to_owned() };
            self.add(leaf.key, shown(leaf.says), origin);
        }
        strings_of(&list)
    }
}

impl Resolver<'_> {
    pub(super) fn setup(&self, spec: &Spec) -> Option<Setup> {
        let table = value_of(&spec.setup)?;
        let action = |key: Key, entry: &Option<Entry<ActionTable>>| {
            let whole = self.optional(key, entry)?;
            let side = |own: fn(&ActionTable) -> &Option<Entry<crate::units::Length>>| match &whole.value {
                Ok(action) => self.required(key, own(action)),
                Err(missing) => {
                    Sourced { value: Err(*missing), key, origin: whole.origin.clone(), written: whole.written.clone() }
                }
            };
            Some(Action { treble: side(|action| &action.treble), bass: side(|action| &action.bass) })
        };
        Some(Setup {
            action_1: action("setup.action_1", &table.action_1),
            action_12: action("setup.action_12", &table.action_12),
            saddle_travel: self.optional("setup.saddle_travel", &table.saddle_travel),
            bridge_height: table.bridge_height.as_ref().map(|entry| self.bridge_height(entry)),
        })
    }

    /// The two settings of the bridge; other than two have their finding.
    fn bridge_height(&self, entry: &Entry<Vec<Entry<crate::units::Length>>>) -> Sourced<BridgeHeight> {
        let key = "setup.bridge_height";
        let written = self.given(key, entry);
        let value = written.value.and_then(|heights| match all_values(&heights) {
            Ok(heights) => match heights.as_slice() {
                [lowest, highest] => Ok(BridgeHeight { lowest: *lowest, highest: *highest }),
                _ => Err(Missing::faulty(key)),
            },
            Err(why) => Err(Missing { key, why }),
        });
        Sourced { value, key, origin: written.origin, written: written.written }
    }
}

/// The strings of a list; one that is not whole leaves the set open or faulty.
fn strings_of(list: &[StringTable]) -> Result<Vec<InstrumentString>, Missing> {
    if list.is_empty() {
        return Err(Missing::faulty(SET));
    }
    let string = |row: &StringTable| {
        let note = needed(&row.note)?;
        let weight = match &row.weight {
            // A weight that is not decided is one that was not weighed: the sheets have a stand-in for it.
            Some(entry) if !entry.is_open() => Some(one_value(entry)?),
            _ => None,
        };
        Ok(InstrumentString {
            note: note.name,
            semitone: note.semitone,
            gauge: needed(&row.gauge)?,
            kind: needed(&row.kind)?,
            weight,
            span: row.header,
        })
    };
    list.iter().map(string).collect::<Result<_, Why>>().map_err(|why| Missing { key: SET, why })
}
