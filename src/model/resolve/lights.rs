//! `[markers]`, `[lamp]`, `[channels]` and `[electronics.lamps]`.
//!
//! The built-in defaults here are common practice, no source.

use super::pattern::{RowSize, Shelf};
use super::resolver::{Places, Resolver, all_values, mapped, nowhere};
use crate::catalog::{self, awg};
use crate::diag::codes;
use crate::model::{
    Channels, Frets, Inset, Key, Known, Lamp, LampCircuit, Markers, Missing, Origin, ResolvedValue, Scale, SideDots,
    Sourced, Strings,
};
use crate::spec::Spec;
use crate::spec::entry::{Entry, value_of};
use crate::spec::size;
use crate::spec::tables::{ChannelsTable, LampCircuitTable, LampTable, MarkersTable, StockSizes};
use crate::spec::words::{LensShape, MarkerKind, PlaceAlong, Seats, Series};
use crate::units::Length;

/// Singles and pairs that players count by.
const USUAL: (&[u32], &[u32]) = (&[3, 5, 7, 9, 15, 17, 19, 21], &[12, 24]);

/// Singles and pairs of small instruments, which mark 10 for 9.
const SMALL: (&[u32], &[u32]) = (&[5, 7, 10, 15], &[12]);

/// What the markers are; none where their word could not be read.
pub(super) fn kind_of(spec: &Spec) -> Option<MarkerKind> {
    match &spec.markers {
        None => Some(MarkerKind::None),
        Some(entry) => match entry.value()?.kind.as_ref() {
            None => Some(MarkerKind::Plain),
            Some(kind) => kind.value().copied(),
        },
    }
}

/// What lit markers need.
pub(super) type Lights = (Option<Lamp>, Option<Channels>, Option<LampCircuit>);

impl Resolver<'_> {
    pub(super) fn markers(&mut self, spec: &Spec, scale: &Scale, frets: &Frets, strings: &Strings) -> Option<Markers> {
        let table: &MarkersTable = value_of(&spec.markers)?;
        let kind = self.or_built_in("markers.kind", &table.kind, MarkerKind::Plain);
        let none = kind.value == Ok(MarkerKind::None);
        let schedule = schedule(scale, frets, strings);
        let one_written = table.single.is_some() || table.double.is_some() || none;
        let single_default = schedule.as_ref().map(|(single, _)| single.clone()).map_err(|missing| *missing);
        let double_default = schedule.map(|(_, double)| double);
        Some(Markers {
            kind,
            single: self.marked("markers.single", &table.single, one_written, single_default),
            double: self.marked("markers.double", &table.double, one_written, double_default),
            inset: mapped(
                self.or_built_in("markers.inset", &table.inset, size::Inset::PartOfHalfWidth(1.0 / 3.0)),
                |inset| match inset {
                    size::Inset::Length(length) => Inset::Length(length),
                    size::Inset::PartOfHalfWidth(part) => Inset::HalfWidth(part),
                },
            ),
            dot: self.optional("markers.dot", &table.dot),
            dot_depth: self.optional("markers.dot_depth", &table.dot_depth),
            side: self.side_dots(table),
        })
    }

    fn side_dots(&mut self, table: &MarkersTable) -> Option<SideDots> {
        let entry = table.side.as_ref()?;
        if let Some(side) = entry.value() {
            return Some(SideDots {
                dot: self.required("markers.side.dot", &side.dot),
                depth: self.required("markers.side.depth", &side.depth),
            });
        }
        let whole = |key| nowhere(if entry.is_open() { Missing::open(key) } else { Missing::faulty(key) }, key);
        Some(SideDots { dot: whole("markers.side.dot"), depth: whole("markers.side.depth") })
    }

    /// The frets of one list: written; empty when the other is; else the usual schedule.
    fn marked(
        &mut self,
        key: Key,
        entry: &Option<Entry<Vec<Entry<u32>>>>,
        one_written: bool,
        usual: Known<Vec<u32>>,
    ) -> Sourced<Vec<u32>> {
        if let Some(entry) = entry {
            let list = self.given(key, entry);
            let frets = list.value.clone().and_then(|list| all_values(&list).map_err(|why| Missing { key, why }));
            return Sourced { value: frets, key, origin: list.origin, written: list.written };
        }
        let value = if one_written { Ok(Vec::new()) } else { usual };
        if let Ok(frets) = &value {
            let words = frets.iter().map(u32::to_string).collect();
            self.add(key, ResolvedValue::List(words), Origin::BuiltIn);
        }
        Sourced { value, key, origin: Origin::BuiltIn, written: String::new() }
    }

    /// Lamps, channels and circuit; none of them unless the markers are lit.
    pub(super) fn lights(&mut self, spec: &Spec, kind: Option<MarkerKind>, places: Places) -> Lights {
        if kind.is_some_and(|kind| kind != MarkerKind::Lit) {
            return (None, None, None);
        }
        let circuit = value_of(&spec.electronics).and_then(|electronics| value_of(&electronics.lamps));
        (
            value_of(&spec.lamp).map(|lamp| self.lamp(lamp)),
            value_of(&spec.channels).map(|channels| self.channels(channels, places)),
            circuit.map(|circuit| self.circuit(circuit)),
        )
    }

    fn lamp(&mut self, table: &LampTable) -> Lamp {
        let shelf = Shelf { key: "lamp.pattern", code: codes::LAMP_10, what: "a lamp" };
        let pattern = self.pattern(
            &table.pattern,
            &shelf,
            |sizes| if let StockSizes::Lamp(row) = sizes { Some(&**row) } else { None },
            catalog::lamp,
            catalog::lamps().iter().map(|lamp| lamp.id.as_str()),
        );
        let mut unsaid: Vec<Key> = Vec::new();
        // What the catalogue says of a size; `None` where a lamp's batch says it.
        macro_rules! said {
            ($field:ident, $of_catalogue:expr, $built_in:expr) => {{
                let key = concat!("lamp.", stringify!($field));
                let of_catalogue: fn(&'static catalog::Lamp) -> Option<_> = $of_catalogue;
                let of_row = pattern.size(
                    |table| &table.$field,
                    |lamp| of_catalogue(lamp).map(|size| RowSize::Catalogue("lamps", size)),
                );
                (key, self.patterned(key, &table.$field, &pattern, of_row, $built_in))
            }};
        }
        macro_rules! size {
            ($field:ident, $of_catalogue:expr) => {{
                let (key, size) = said!($field, $of_catalogue, None);
                size.unwrap_or_else(|| {
                    unsaid.push(key);
                    nowhere(Missing::faulty(key), key)
                })
            }};
        }
        let lamp = Lamp {
            pattern: self.optional("lamp.pattern", &table.pattern),
            hole: size!(hole, |lamp| Some(lamp.hole)),
            lens: size!(lens, |lamp| Some(lamp.lens)),
            lens_height: size!(lens_height, |lamp| Some(lamp.lens_height)),
            lens_shape: {
                let (key, shape) = said!(lens_shape, |lamp| Some(lamp.lens_shape), Some(LensShape::Flat));
                shape.unwrap_or_else(|| nowhere(Missing::faulty(key), key))
            },
            flange: size!(flange, |lamp| Some(lamp.flange)),
            flange_height: size!(flange_height, |lamp| Some(lamp.flange_height)),
            lead_bend: size!(lead_bend, |lamp| Some(lamp.lead_bend)),
            counterbore: size!(counterbore, |lamp| Some(lamp.counterbore)),
            proud: self.or_built_in("lamp.proud", &table.proud, Length::mm(0.1)),
            forward: size!(forward, |_| None),
            current: size!(current, |_| None),
            max_current: said!(max_current, |lamp| Some(lamp.max_current), None).1,
            seats: self.or_built_in("lamp.seats", &table.seats, Seats::Each),
            sand_limit: self.or_built_in("lamp.sand_limit", &table.sand_limit, Length::mm(0.6)),
        };
        self.unsaid_sizes("lamp", table.header, &unsaid, 9, value_of(&table.pattern).map(String::as_str));
        lamp
    }

    fn channels(&mut self, table: &ChannelsTable, places: Places) -> Channels {
        let exit_from = if table.exit_from.is_some() {
            self.place("channels.exit_from", &table.exit_from, places)
        } else {
            self.built_in("channels.exit_from", PlaceAlong::LastFret)
        };
        Channels {
            margin: self.or_built_in("channels.margin", &table.margin, Length::mm(4.0)),
            width: self.required("channels.width", &table.width),
            depth: self.required("channels.depth", &table.depth),
            exit_from,
            exit_past: self.required("channels.exit_past", &table.exit_past),
            exit_y: self.required("channels.exit_y", &table.exit_y),
            exit_hole: self.required("channels.exit_hole", &table.exit_hole),
        }
    }

    fn circuit(&mut self, table: &LampCircuitTable) -> LampCircuit {
        LampCircuit {
            header: table.header,
            supply: self.required("electronics.lamps.supply", &table.supply),
            supply_fresh: self.required("electronics.lamps.supply_fresh", &table.supply_fresh),
            supply_low: self.required("electronics.lamps.supply_low", &table.supply_low),
            capacity: self.optional("electronics.lamps.capacity", &table.capacity),
            in_series: self.required("electronics.lamps.in_series", &table.in_series),
            resistors: self.required("electronics.lamps.resistors", &table.resistors),
            resistor_rating: self.optional("electronics.lamps.resistor_rating", &table.resistor_rating),
            series: self.or_built_in("electronics.lamps.series", &table.series, Series::E24),
            switch: self.optional("electronics.lamps.switch", &table.switch),
            hookup: self.required("electronics.lamps.hookup", &table.hookup),
            hookup_awg: self.gauge(&table.hookup_awg),
            chemistry: self.optional("electronics.lamps.chemistry", &table.chemistry),
        }
    }
}

impl Resolver<'_> {
    /// The gauge number of the hook-up wire; one that no wire has is reported and faulty.
    fn gauge(&mut self, entry: &Option<Entry<u32>>) -> Option<Sourced<u32>> {
        let key = "electronics.lamps.hookup_awg";
        let mut gauge = self.optional(key, entry)?;
        let (entry, number) = (entry.as_ref()?, gauge.value.ok());
        if let Some(number) = number.filter(|number| !awg::GAUGES.contains(number)) {
            let (thickest, finest) = (awg::GAUGES.start(), awg::GAUGES.end());
            let message = format!("`{key}` = {number}: gauge numbers run from {thickest} to {finest}");
            self.say(codes::SPEC_06, key, entry.span, message, None);
            gauge.value = Err(Missing::faulty(key));
        }
        Some(gauge)
    }
}

/// The usual singles and pairs of an instrument, none past its last fret; none at all for other divisions.
///
/// # Errors
/// With the key that must be known to tell a small instrument from the others.
fn schedule(scale: &Scale, frets: &Frets, strings: &Strings) -> Known<(Vec<u32>, Vec<u32>)> {
    if scale.divisions.get()? != 12 {
        return Ok((Vec::new(), Vec::new()));
    }
    let last = frets.count.get()?;
    let (single, double) = if scale.is_small(strings)? { SMALL } else { USUAL };
    let on_board = |list: &[u32]| list.iter().copied().filter(|fret| *fret <= last).collect();
    Ok((on_board(single), on_board(double)))
}
