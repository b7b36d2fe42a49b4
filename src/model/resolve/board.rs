//! `[scale]`, `[frets]`, `[slots]`, `[radius]`, `[taper]` and `[board]`.
//!
//! The built-in defaults here are common practice, no source.

use super::resolver::{Places, Resolver, all_values, mapped, needed, nowhere, unsaid};
use crate::diag::{Diagnostic, Severity, codes};
use crate::model::{
    Board, BoardRadius, Frets, Missing, Origin, PartialFret, Radius, Scale, ScaleLength, Slots, Sourced, Taper,
    TaperEdges, Why,
};
use crate::rounding::fixed;
use crate::spec::Spec;
use crate::spec::entry::{Entry, value_of};
use crate::spec::leaf::Saying;
use crate::spec::size::WrittenRadius;
use crate::spec::tables::{
    BladeTable, BlankTable, BoardTable, FretsTable, PartialTable, RadiusTable, ScaleTable, SlotsTable, TaperTable,
};
use crate::spec::words::{Cut, EndCut, Measured, Method, NutAt, Setting};
use crate::units::Length;

/// Two kerfs in millimetres that differ by less are the same one.
const SAME_KERF: f64 = 0.000_5;

impl Resolver<'_> {
    pub(super) fn scale(&mut self, spec: &Spec) -> Scale {
        let empty = ScaleTable::empty(spec.header);
        let table = value_of(&spec.scale).unwrap_or(&empty);
        let fan = table.bass.is_some() || table.treble.is_some() || table.square_fret.is_some();
        let length = if fan && table.length.is_none() {
            ScaleLength::Fan {
                bass: self.required("scale.bass", &table.bass),
                treble: self.required("scale.treble", &table.treble),
                square_fret: self.required("scale.square_fret", &table.square_fret),
            }
        } else {
            ScaleLength::One(self.required("scale.length", &table.length))
        };
        Scale {
            measured: match length {
                ScaleLength::Fan { .. } => self.or_built_in("scale.measured", &table.measured, Measured::AlongString),
                ScaleLength::One(_) => self.or_unused("scale.measured", &table.measured, Measured::AlongString),
            },
            length,
            divisions: self.or_built_in("scale.divisions", &table.divisions, 12),
        }
    }

    pub(super) fn frets(&mut self, spec: &Spec) -> Frets {
        let empty = FretsTable::empty(spec.header);
        let table = value_of(&spec.frets).unwrap_or(&empty);
        let nut_at = self.or_built_in("frets.nut_at", &table.nut_at, NutAt::BoardEnd);
        let behind_nut = match nut_at.value {
            Ok(NutAt::BoardEnd) => None,
            Ok(NutAt::Slot | NutAt::ZeroFret) => Some(self.required("frets.behind_nut", &table.behind_nut)),
            Err(_) => self.optional("frets.behind_nut", &table.behind_nut),
        };
        Frets {
            count: self.required("frets.count", &table.count),
            nut_at,
            behind_nut,
            partial: self.partial(&table.partial),
        }
    }

    fn partial(&mut self, entry: &Option<Entry<Vec<PartialTable>>>) -> Sourced<Vec<PartialFret>> {
        let key = "frets.partial";
        let Some(entry) = entry else { return unsaid(key, Vec::new()) };
        let written = self.given(key, entry);
        let frets = written.value.clone().and_then(|rows| {
            let fret = |row: &PartialTable| {
                let strings = all_values(&needed(&row.strings)?)?;
                Ok(PartialFret { fret: needed(&row.fret)?, strings, span: row.header })
            };
            rows.iter().map(fret).collect::<Result<_, Why>>().map_err(|why| Missing { key, why })
        });
        Sourced { value: frets, key, origin: written.origin, written: written.written }
    }

    pub(super) fn slots(&mut self, spec: &Spec) -> Slots {
        let empty = SlotsTable::empty(spec.header);
        let table = value_of(&spec.slots).unwrap_or(&empty);
        Slots {
            blade: self.optional("slots.blade", &table.blade),
            kerf: self.kerf(table),
            under_tang: self.or_built_in("slots.under_tang", &table.under_tang, Length::mm(0.2)),
            cut: self.or_built_in("slots.cut", &table.cut, Cut::BeforeRadiusing),
            setting: self.or_built_in("slots.setting", &table.setting, Setting::One),
            skim: self.or_built_in("slots.skim", &table.skim, Length::mm(0.0)),
            method: self.or_built_in("slots.method", &table.method, Method::Stop),
        }
    }

    /// The kerf as measured, or that of the blade.
    fn kerf(&mut self, table: &SlotsTable) -> Sourced<Length> {
        let key = "slots.kerf";
        let Some(blade) = &table.blade else { return self.required(key, &table.kerf) };
        let row = match blade.value() {
            Some(name) => self.blade(blade, name),
            None => Err(if blade.is_open() { Missing::open("slots.blade") } else { Missing::faulty("slots.blade") }),
        };
        if let Some(kerf) = &table.kerf {
            if let (Ok((row, _)), Some(measured)) = (&row, kerf.value()) {
                self.kerf_twice(blade, kerf, *measured, row);
            }
            return self.given(key, kerf);
        }
        match row {
            Ok((row, id)) => {
                let span = row.kerf.as_ref().map_or(row.header, |kerf| kerf.span);
                let origin = Origin::ShopRow { span, id };
                let value = needed(&row.kerf).map_err(|why| Missing { key, why });
                if let Ok(kerf) = value {
                    self.add(key, super::resolver::shown(kerf.says()), origin.clone());
                }
                let written = row.kerf.as_ref().map_or_else(String::new, |kerf| kerf.written.clone());
                Sourced { value, key, origin, written }
            }
            Err(missing) => nowhere(missing, key),
        }
    }

    /// The shop's blade of a name.
    fn blade(&mut self, entry: &Entry<String>, name: &str) -> Result<(BladeTable, String), Missing> {
        let blades = self.shop.and_then(|shop| value_of(&shop.tools)).and_then(|tools| value_of(&tools.blades));
        let blades: &[BladeTable] = blades.map_or(&[], Vec::as_slice);
        if let Some(row) = blades.iter().find(|row| value_of(&row.name).is_some_and(|known| known == name)) {
            return Ok((row.clone(), name.to_owned()));
        }
        let known: Vec<String> = blades.iter().filter_map(|row| value_of(&row.name).cloned()).collect();
        let message = if self.shop.is_some() {
            format!("the shop has no blade \"{name}\"")
        } else {
            format!("there is no shop file that knows a blade \"{name}\"")
        };
        self.not_there(codes::SPEC_19, "slots.blade", entry.span, message, name, known.iter().map(String::as_str));
        Err(Missing::faulty("slots.blade"))
    }

    /// A blade and a kerf state one fact.
    fn kerf_twice(&mut self, blade: &Entry<String>, kerf: &Entry<Length>, measured: Length, row: &BladeTable) {
        let Some(known) = value_of(&row.kerf) else { return };
        if (known.to_mm() - measured.to_mm()).abs() < SAME_KERF {
            return;
        }
        let (first, second, place, other) = if blade.span < kerf.span {
            (blade.span, kerf.span, "slots.kerf", "slots.blade")
        } else {
            (kerf.span, blade.span, "slots.blade", "slots.kerf")
        };
        let message = format!(
            "`slots.kerf` is {} mm and the blade \"{}\" cuts {} mm",
            fixed(measured.to_mm(), 2),
            blade.written,
            fixed(known.to_mm(), 2)
        );
        let finding = Diagnostic::new(codes::SPEC_07, Severity::Error, place, message)
            .at(Some(second))
            .with(Some(first), other, "written first")
            .help("keep the kerf that a test cut gave, or the blade");
        self.push(finding);
    }

    pub(super) fn radius(&mut self, spec: &Spec, places: Places) -> Radius {
        let empty = RadiusTable::empty(spec.header);
        let table = value_of(&spec.radius).unwrap_or(&empty);
        let cone = table.nut.is_some() || table.end.is_some() || table.end_at.is_some();
        if cone && table.board.is_none() {
            return Radius::Cone {
                nut: mapped(self.required("radius.nut", &table.nut), board_radius),
                end: mapped(self.required("radius.end", &table.end), board_radius),
                end_at: self.place("radius.end_at", &table.end_at, places),
            };
        }
        Radius::One(mapped(self.required("radius.board", &table.board), board_radius))
    }

    pub(super) fn taper(&mut self, spec: &Spec, places: Places) -> Taper {
        let empty = TaperTable::empty(spec.header);
        let table = value_of(&spec.taper).unwrap_or(&empty);
        Taper {
            edges: self.edges(table, places),
            past_last: self.or_built_in("taper.past_last", &table.past_last, Length::mm(8.0)),
            end_cut: self.or_built_in("taper.end_cut", &table.end_cut, EndCut::Square),
        }
    }

    fn edges(&mut self, table: &TaperTable, places: Places) -> TaperEdges {
        let widths = table.width_nut.is_some() || table.width_end.is_some() || table.end_at.is_some();
        let from_strings = [
            &table.string_to_edge_nut,
            &table.string_to_edge_end,
            &table.string_to_edge_nut_treble,
            &table.string_to_edge_end_treble,
        ];
        if !widths && from_strings.iter().any(|entry| entry.is_some()) {
            let nut_bass = self.required("taper.string_to_edge_nut", &table.string_to_edge_nut);
            let end_bass = self.required("taper.string_to_edge_end", &table.string_to_edge_end);
            let treble_nut = self.optional("taper.string_to_edge_nut_treble", &table.string_to_edge_nut_treble);
            let treble_end = self.optional("taper.string_to_edge_end_treble", &table.string_to_edge_end_treble);
            return TaperEdges::FromStrings {
                nut_treble: treble_nut.unwrap_or_else(|| nut_bass.clone()),
                end_treble: treble_end.unwrap_or_else(|| end_bass.clone()),
                nut_bass,
                end_bass,
            };
        }
        TaperEdges::Widths {
            nut: self.required("taper.width_nut", &table.width_nut),
            end: self.required("taper.width_end", &table.width_end),
            end_at: self.place("taper.end_at", &table.end_at, places),
        }
    }

    pub(super) fn board(&mut self, spec: &Spec) -> Board {
        let empty = BoardTable::empty(spec.header);
        let table = value_of(&spec.board).unwrap_or(&empty);
        let (blank_length, blank_width, blank_thickness) = self.blank(&table.blank);
        let binding = self.or_built_in("board.binding", &table.binding, Length::mm(0.0));
        let unbound = binding.value == Ok(Length::mm(0.0));
        let tang_gap = Length::mm(0.25);
        Board {
            wood: self.wood("board.wood", &table.wood, &table.density),
            thickness: self.required("board.thickness", &table.thickness),
            blank_length,
            blank_width,
            blank_thickness,
            binding,
            tang_gap: if unbound {
                self.or_unused("board.tang_gap", &table.tang_gap, tang_gap)
            } else {
                self.or_built_in("board.tang_gap", &table.tang_gap, tang_gap)
            },
            moisture: self.optional("board.moisture", &table.moisture),
        }
    }

    /// The blank's sizes; a blank that is open as a whole is open in each.
    fn blank(&self, entry: &Option<Entry<BlankTable>>) -> (OptionalLength, OptionalLength, OptionalLength) {
        let Some(entry) = entry else { return (None, None, None) };
        if let Some(blank) = entry.value() {
            return (
                self.optional("board.blank.length", &blank.length),
                self.optional("board.blank.width", &blank.width),
                self.optional("board.blank.thickness", &blank.thickness),
            );
        }
        let whole = |key| {
            let mut size = nowhere(if entry.is_open() { Missing::open(key) } else { Missing::faulty(key) }, key);
            size.origin = self.given(key, &entry.clone().map(|_| ())).origin;
            Some(size)
        };
        (whole("board.blank.length"), whole("board.blank.width"), whole("board.blank.thickness"))
    }
}

/// A length that need not be written.
type OptionalLength = Option<Sourced<Length>>;

fn board_radius(written: WrittenRadius) -> BoardRadius {
    match written {
        WrittenRadius::Flat => BoardRadius::Flat,
        WrittenRadius::Of(length) => BoardRadius::Of(length),
    }
}
