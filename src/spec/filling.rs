//! What a shop always does: its `[defaults]` fill the keys that a commission does not write.
//!
//! In: a commission and its shop, as written. Out: the commission with its gaps filled; a value's span still
//! says in which file it stands. A default never brings in a table, nor the other half of an either-or: where
//! the commission has chosen one way to say a thing, the keys of the other way stay out.

use super::entry::{Entry, Fill, Given, fill_key, value_of};
use super::tables::{BodyTable, Defaults, PocketTable, Shop, Spec};
use super::words::NutAt;

/// Fills a commission from its shop file.
pub fn filled(commission: &Spec, shop: Option<&Shop>) -> Spec {
    let mut spec = commission.clone();
    let Some(shop) = shop else { return spec };
    if let Some(defaults) = value_of(&shop.defaults) {
        fill_from_defaults(&mut spec, defaults);
    }
    if let Some(shop) = value_of(&shop.shop) {
        if let Some(Given::Value(commission)) = spec.commission.as_mut().map(|entry| &mut entry.given) {
            fill_key(&mut commission.paper, &shop.paper, true);
            fill_key(&mut commission.print_in, &shop.print_in, true);
        }
        if let Some(Given::Value(quote)) = spec.quote.as_mut().map(|entry| &mut entry.given) {
            fill_key(&mut quote.margin, &shop.margin, true);
            fill_key(&mut quote.deposit, &shop.deposit, true);
            fill_key(&mut quote.tax, &shop.tax, true);
        }
    }
    spec
}

/// Fills a table from its default, after `choose` has taken out what the commission has said another way.
fn section<T: Fill>(own: &mut Option<Entry<T>>, default: &Option<Entry<T>>, choose: impl FnOnce(&T, &mut T)) {
    let (Some(own), Some(default)) = (own.as_mut().map(|entry| &mut entry.given), value_of(default)) else { return };
    if let Given::Value(own) = own {
        let mut default = default.clone();
        choose(own, &mut default);
        own.fill(&default);
    }
}

/// A table whose keys do not exclude each other.
fn as_it_is<T>(_own: &T, _default: &mut T) {}

/// Takes keys out of a default where any key of the other way is written.
macro_rules! unless_written {
    ($own:ident, $default:ident, [$($written:ident),*] => [$($out:ident),*]) => {
        if $($own.$written.is_some())||* {
            $($default.$out = None;)*
        }
    };
}

fn fill_from_defaults(spec: &mut Spec, defaults: &Defaults) {
    section(&mut spec.commission, &defaults.commission, as_it_is);
    section(&mut spec.parts, &defaults.parts, as_it_is);
    section(&mut spec.scale, &defaults.scale, |own, default| {
        unless_written!(own, default, [length] => [bass, treble, square_fret]);
        unless_written!(own, default, [bass, treble, square_fret] => [length]);
    });
    section(&mut spec.frets, &defaults.frets, |own, default| {
        let nut_at = own.nut_at.as_ref().or(default.nut_at.as_ref());
        let at_board_end = nut_at.is_none_or(|entry| entry.value() == Some(&NutAt::BoardEnd));
        if own.behind_nut.is_none() && at_board_end {
            default.behind_nut = None;
        }
        // Wood behind the nut was written for another nut than the shop's usual one.
        if own.nut_at.is_none() && own.behind_nut.is_some() && at_board_end {
            default.nut_at = None;
        }
    });
    section(&mut spec.wire, &defaults.wire, as_it_is);
    section(&mut spec.slots, &defaults.slots, |own, default| {
        unless_written!(own, default, [blade] => [kerf]);
        unless_written!(own, default, [kerf] => [blade]);
    });
    section(&mut spec.radius, &defaults.radius, |own, default| {
        unless_written!(own, default, [board] => [nut, end, end_at]);
        unless_written!(own, default, [nut, end, end_at] => [board]);
    });
    section(&mut spec.taper, &defaults.taper, |own, default| {
        unless_written!(own, default, [width_nut, width_end, end_at] => [
            string_to_edge_nut, string_to_edge_end, string_to_edge_nut_treble, string_to_edge_end_treble
        ]);
        unless_written!(own, default, [
            string_to_edge_nut, string_to_edge_end, string_to_edge_nut_treble, string_to_edge_end_treble
        ] => [width_nut, width_end, end_at]);
    });
    section(&mut spec.board, &defaults.board, |own, default| {
        // A density belongs to the wood that it was written for.
        unless_written!(own, default, [wood] => [density]);
    });
    section(&mut spec.markers, &defaults.markers, |own, default| {
        unless_written!(own, default, [single, double] => [single, double]);
    });
    section(&mut spec.lamp, &defaults.lamp, as_it_is);
    section(&mut spec.channels, &defaults.channels, as_it_is);
    section(&mut spec.electronics, &defaults.electronics, as_it_is);
    section(&mut spec.strings, &defaults.strings, as_it_is);
    section(&mut spec.neck, &defaults.neck, |own, default| {
        unless_written!(own, default, [wood] => [density]);
    });
    section(&mut spec.setup, &defaults.setup, as_it_is);
    section(&mut spec.body, &defaults.body, fill_pockets);
    section(&mut spec.finish, &defaults.finish, as_it_is);
    fill_key(&mut spec.materials, &defaults.materials, false);
    section(&mut spec.quote, &defaults.quote, as_it_is);
}

/// A pocket that is round takes no length and width from the default, and the other way round.
fn fill_pockets(own: &BodyTable, default: &mut BodyTable) {
    if own.wood.is_some() {
        default.density = None;
    }
    let pockets = value_of(&own.pocket).map_or(&[] as &[PocketTable], Vec::as_slice);
    let round = pockets.iter().any(|pocket| pocket.diameter.is_some());
    let square = pockets.iter().any(|pocket| pocket.length.is_some() || pocket.width.is_some());
    if let Some(Given::Value(patterns)) = default.pocket.as_mut().map(|entry| &mut entry.given) {
        for pattern in patterns {
            if round {
                pattern.length = None;
                pattern.width = None;
                pattern.taper = None;
            }
            if square {
                pattern.diameter = None;
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::diag::Report;
    use crate::source::{FileId, SourceFile, Sources};
    use crate::units::Length;

    fn fill(commission: &str, shop: &str) -> Spec {
        let mut sources = Sources::default();
        let commission = sources.add(SourceFile::new("a.toml", commission));
        let shop = sources.add(SourceFile::new("shop.toml", shop));
        let mut report = Report::default();
        let spec = super::super::read(&sources, commission, &mut report);
        let shop = super::super::read_shop(&sources, shop, &mut report);
        assert_eq!(report.findings(), &[]);
        filled(&spec, Some(&shop))
    }

    fn table<T>(entry: &Option<Entry<T>>) -> &T {
        value_of(entry).unwrap()
    }

    #[test]
    fn a_default_fills_a_key_and_keeps_its_own_place() {
        let spec =
            fill("[channels]\nmargin = \"4 mm\"\n", "[defaults.channels]\nwidth = \"1/8 in\"\nmargin = \"5 mm\"\n");
        let channels = table(&spec.channels);
        assert_eq!(value_of(&channels.margin), Some(&Length::mm(4.0)));
        let width = channels.width.as_ref().unwrap();
        assert_eq!((width.value(), width.span.file), (Some(&Length::inches(0.125)), FileId(1)));
    }

    #[test]
    fn a_default_brings_in_no_table_and_no_other_half() {
        let defaults = "[defaults.lamp]\nlens = \"3 mm\"\n[defaults.slots]\nkerf = \"0.5 mm\"\n\
                        [defaults.taper]\nwidth_nut = \"45 mm\"\npast_last = \"11 mm\"\n\
                        [defaults.electronics.lamps]\nseries = \"E96\"\n[defaults.markers]\ndouble = [12]\n";
        let commission = "[slots]\nblade = \"A\"\n[taper]\nstring_to_edge_nut = \"3 mm\"\n\
                          [electronics.output]\nkind = \"jack\"\n[markers]\nsingle = [3]\n";
        let spec = fill(commission, defaults);
        assert!(spec.lamp.is_none());
        assert!(table(&spec.slots).kerf.is_none());
        assert!(table(&spec.taper).width_nut.is_none());
        assert_eq!(value_of(&table(&spec.taper).past_last), Some(&Length::mm(11.0)));
        assert!(table(&spec.electronics).lamps.is_none());
        assert!(table(&spec.markers).double.is_none());
    }

    #[test]
    fn a_default_of_a_row_completes_each_row() {
        let spec = fill(
            "[[body.pocket]]\nname = \"a\"\n[[body.pocket]]\nname = \"b\"\nfloor_min = \"3 mm\"\n",
            "[defaults.body.pocket]\nfloor_min = \"4 mm\"\n",
        );
        let pockets = table(&table(&spec.body).pocket);
        assert_eq!(value_of(&pockets[0].floor_min), Some(&Length::mm(4.0)));
        assert_eq!(value_of(&pockets[1].floor_min), Some(&Length::mm(3.0)));
    }

    #[test]
    fn open_is_a_decision_to_wait_and_is_not_filled() {
        let spec = fill("[board]\nthickness = \"open\"\n", "[defaults.board]\nthickness = \"7 mm\"\n");
        assert!(table(&spec.board).thickness.as_ref().unwrap().is_open());
    }

    #[test]
    fn the_shop_says_paper_and_unit() {
        let spec = fill("[commission]\nnumber = \"1\"\n", "[shop]\npaper = \"letter\"\nprint_in = \"in\"\n");
        assert_eq!(table(&spec.commission).paper.as_ref().unwrap().span.file, FileId(1));
    }
}
