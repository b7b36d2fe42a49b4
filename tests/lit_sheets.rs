//! The sheets of the lamps and of the whole board (routing, wiring, potting, materials, safety, sign-off) against
//! worked figures.
//!
//! The worked board is invented; its figures were reckoned by a program of another hand in another language, from the
//! same definitions, and are given to four decimals.

use kerfbook::design::Design;
use kerfbook::diag::Report;
use kerfbook::model::resolve;
use kerfbook::paper;
use kerfbook::sheets::{self, Cell, Data, Job, Sheet, Value};
use kerfbook::source::{SourceFile, Sources};
use kerfbook::spec;

use crate::patch::Patched;

const PLAIN: &str = include_str!("../src/diag/pages/_plain.toml");
const LIT: &str = include_str!("../src/diag/pages/_lit.toml");

/// What makes the worked board of the lit sample.
const WORKED: &str = r#"
[scale]
length = "26 1/4 in"
[frets]
count = 25
[wire]
crown_width = "2.3 mm"
tang_depth  = "1.7 mm"
tang_width  = "0.50 mm"
barb_width  = "0.74 mm"
[slots]
kerf       = "0.56 mm"
under_tang = "0.15 mm"
[radius]
board = "14 in"
[taper]
width_nut = "48.5 mm"
width_end = "65 mm"
past_last = "9 mm"
[board]
wood      = "wenge"
thickness = "7.4 mm"
blank     = { length = "540 mm", width = "74 mm", thickness = "8 mm" }
[markers]
single = [1, 3, 7, 9, 15, 17, 19, 21]
double = [5, 12, 24]
inset  = "2/5 half-width"
[lamp]
lens_height = "3.6 mm"
flange      = "3.8 mm"
proud       = "0.12 mm"
forward     = "2.9 V"
current     = "3 mA"
[channels]
exit_past = "3.4 mm"
exit_y    = "13 mm bass"
[electronics.lamps]
supply_low      = "7 V"
capacity        = "500 mAh"
chemistry       = "alkaline"
resistor_rating = "0.125 W"
[neck]
wood        = "maple"
rod_width   = "6 mm"
rod_depth   = "9.5 mm"
rod_length  = "460 mm"
rod_end_gap = "3 mm"
"#;

const SHOP: &str = r#"
[shop]
name     = "Worked Instruments"
currency = "EUR"
[epoxy]
mix        = "2 : 1"
pot_life   = "20 min"
cure       = "24 h"
allowance  = "25 %"
[[wood]]
id       = "wenge"
name     = "wenge"
price    = "64.00"
unit     = "billet"
on_shelf = 2
bin      = "rack 2"
[[stock]]
id           = "narrow wire"
what         = "fret wire, narrow"
kind         = "wire"
crown_width  = "2.3 mm"
crown_height = "1.2 mm"
tang_depth   = "1.7 mm"
tang_width   = "0.50 mm"
barb_width   = "0.74 mm"
stick        = "600 mm"
unit         = "stick"
price        = "1.90"
[[stock]]
id     = "thin hook-up"
what   = "hook-up wire, thin"
kind   = "hookup"
hookup = "0.7 mm"
unit   = "ft"
price  = "0.10"
[[stock]]
id    = "clear epoxy"
what  = "clear epoxy"
kind  = "epoxy"
unit  = "kit"
price = "9.00"
bin   = "cupboard"
"#;

/// The sheets of a commission in a shop.
fn sheets_of(commission: &str, shop: &str) -> Vec<Sheet> {
    let mut sources = Sources::default();
    let mut report = Report::default();
    let file = sources.add(SourceFile::new("worked.toml", commission));
    let shop_file = sources.add(SourceFile::new("shop.toml", shop));
    let shop = spec::read_shop(&sources, shop_file, &mut report);
    let written = spec::read(&sources, file, &mut report);
    let model = resolve::resolve(&written, Some(&shop), &mut report);
    assert!(!report.has_errors(), "{commission}\n{:?}", report.findings());
    let model = model.unwrap();
    let design = Design::of(&model);
    sheets::make(&Job { model: &model, design: &design, findings: &[], left_out: &[], ranges: &[] })
}

fn worked(patch: &str) -> Vec<Sheet> {
    let text = Patched::of(LIT).with(WORKED, false).with(patch, false).text();
    sheets_of(&text, SHOP)
}

fn plain(patch: &str) -> Vec<Sheet> {
    sheets_of(&Patched::of(PLAIN).with(patch, false).text(), SHOP)
}

fn sheet<'a>(sheets: &'a [Sheet], id: &str) -> &'a Sheet {
    find(sheets, id).unwrap_or_else(|| panic!("no sheet {id}"))
}

fn find<'a>(sheets: &'a [Sheet], id: &str) -> Option<&'a Sheet> {
    sheets.iter().find(|sheet| sheet.id == id)
}

/// A cell of a sheet's file, by row and key.
fn cell<'a>(sheet: &'a Sheet, row: usize, key: &str) -> &'a Cell {
    &sheet.tables[0].rows[row][sheet.tables[0].index(key)]
}

/// The row of a sheet's file where a column has a word.
fn row_where(sheet: &Sheet, key: &str, word: &str) -> usize {
    let index = sheet.tables[0].index(key);
    let is = |cell: &Cell| matches!(cell, Cell::Words(words) | Cell::Quoted(words) if words == word);
    sheet.tables[0].rows.iter().position(|row| is(&row[index])).unwrap_or_else(|| panic!("no {word} in {key}"))
}

fn figure(sheet: &Sheet, row: usize, key: &str) -> f64 {
    match cell(sheet, row, key) {
        Cell::Figure(figure) => *figure,
        other => panic!("{key} of row {row}: {other:?}"),
    }
}

/// To the fourth decimal, as the worked figures are given.
fn assert_worked(sheet: &Sheet, row: usize, key: &str, worked: f64) {
    let got = figure(sheet, row, key);
    assert!((got - worked).abs() <= 0.000_051, "{} row {row} {key}: {got}, worked {worked}", sheet.id);
}

/// A paper view as words, row by row.
fn view(sheet: &Sheet, name: &str) -> Vec<Vec<String>> {
    let named = sheet.views.iter().find(|view| view.name == name).unwrap_or_else(|| panic!("no view {name}"));
    let words = |cell: &paper::Cell| match cell {
        paper::Cell::Text(text) => text.text(),
        _ => String::new(),
    };
    let rows = named.table.rows.iter().map(|row| match row {
        paper::Row::Cells(cells) | paper::Row::Total(cells) => cells.iter().map(words).collect(),
        paper::Row::Group(text) => vec![text.text()],
    });
    rows.collect()
}

fn words<'a>(data: &'a Data, name: &str) -> &'a str {
    match &data[name] {
        Value::Words(words) | Value::Quoted(words) => words,
        other => panic!("{name}: {other:?}"),
    }
}

#[test]
fn channels_run_where_they_were_worked() {
    let sheets = worked("");
    let map = sheet(&sheets, "routing-map");
    for (row, x1, y1, x2, y2, fill) in [
        (0, 17.2111, -18.5279, 514.3178, -26.5786, 40.8169),
        (1, 17.2111, 18.5279, 514.3178, 26.5786, 11.6620),
        (2, 18.7109, -18.5522, 18.7109, 18.5522, 5.8310),
        (7, 323.4632, -23.4877, 323.4632, 23.4877, 5.8310),
        (12, 495.1066, -26.2674, 495.1066, 26.2674, 5.8310),
        (13, 512.8180, -26.5543, 512.8180, 26.5543, 40.8169),
    ] {
        for (key, worked) in [("x1_mm", x1), ("y1_mm", y1), ("x2_mm", x2), ("y2_mm", y2), ("fill_percent", fill)] {
            assert_worked(map, row, key, worked);
        }
    }
    let wires: Vec<&Cell> = (0..14).map(|row| cell(map, row, "wires")).collect();
    let counted = [7, 2, 1, 2, 1, 1, 2, 1, 1, 2, 1, 2, 1, 7].map(Cell::Count);
    assert_eq!(wires, counted.iter().collect::<Vec<_>>());
    assert_eq!(words(&map.data, "fence_wall"), "4.50");
    assert_eq!(words(&map.data, "fence_centre"), "6.00");
    assert_eq!(words(&map.data, "glue_face"), "75.8");
}

#[test]
fn the_bench_reads_a_channel_from_the_squared_end_with_its_side_named() {
    let behind = "[frets]\nnut_at = \"slot\"\nbehind_nut = \"6 mm\"\n[board]\nblank = { length = \"560 mm\", width = \"74 mm\", thickness = \"8 mm\" }\n";
    let sheets = worked(behind);
    let map = sheet(&sheets, "routing-map");
    assert_worked(map, 2, "x1_mm", 18.7109);
    let bench = view(map, "routing-map");
    assert_eq!(bench[2][..6], ["3", "cross, before fret 1", "24.71", "18.55 bass", "24.71", "18.55 treble"]);
    let back = view(map, "routing-map-back");
    assert_eq!(back[2][2..6], ["18.71", "18.55 bass", "18.71", "18.55 treble"], "the builder reads from the zero line");
    assert!(bench.iter().flatten().all(|word| !word.contains('-')), "no sign on paper");
}

#[test]
fn the_other_hand_mirrors_files_and_keeps_the_bench() {
    let [right, left] = ["right", "left"].map(|hand| worked(&format!("[commission]\nhand = \"{hand}\"\n")));
    let [right, left] = [sheet(&right, "routing-map"), sheet(&left, "routing-map")];
    assert!((figure(right, 0, "y1_mm") + figure(left, 0, "y1_mm")).abs() < 1e-12);
    assert!(figure(right, 0, "y1_mm") < 0.0);
    assert_eq!(view(right, "routing-map"), view(left, "routing-map"));
    assert_eq!(words(&right.data, "bass_edge_at"), "TOP");
    assert_eq!(words(&left.data, "bass_edge_at"), "BOTTOM");
}

#[test]
fn groups_take_the_worked_resistor_and_current() {
    let sheets = worked("");
    let wiring = sheet(&sheets, "wiring");
    assert_eq!(wiring.tables[0].rows.len(), 7);
    for (key, worked) in [
        ("drop_v", 5.8),
        ("resistor_exact_ohm", 1066.6667),
        ("resistor_ohm", 1100.0),
        ("current_ma", 2.9091),
        ("current_fresh_ma", 3.4545),
        ("current_low_ma", 1.0909),
        ("resistor_mw", 13.1273),
    ] {
        assert_worked(wiring, 6, key, worked);
    }
    assert_eq!(cell(wiring, 5, "lamps"), &Cell::Words("11 12".to_owned()));
    assert_eq!(view(wiring, "wiring")[0][1], "feed\u{a0}1 → +\u{a0}1\u{a0}− → +\u{a0}2\u{a0}− → return");
    assert_eq!(words(&wiring.data, "all_nominal"), "20.36");
    assert_eq!(words(&wiring.data, "hours"), "25", "24.5536");
    assert_eq!(words(&wiring.data, "wire_m"), "3.00", "3002.870 mm");
}

#[test]
fn a_pair_met_from_the_treble_side_counts_treble_first() {
    let sheets = worked("[electronics.lamps]\nin_series = 3\n");
    let wiring = sheet(&sheets, "wiring");
    let lamps: Vec<&Cell> = (0..5).map(|row| cell(wiring, row, "lamps")).collect();
    // Frets 1, 3 and the pair of 5: crossed bass to treble, back, and over again.
    assert_eq!(lamps[0], &Cell::Words("1 2 3".to_owned()));
    assert_eq!(wiring.tables[0].rows.len(), 5);
    assert_worked(wiring, 0, "resistor_ohm", 100.0);
    assert_worked(wiring, 0, "current_low_ma", 0.0);
}

/// Lamps 0.1 V off their batch (common practice, no source), E24 resistors 5 % off theirs (IEC 60063, from memory), a
/// battery between 9 V and 9.6 V: (9 − 5.8 − 0.2) / (1100 · 1.05) and (9.6 − 5.8 + 0.2) / (1100 · 0.95) amperes.
#[test]
fn the_dry_test_tells_half_the_current_from_the_whole() {
    let sheets = worked("");
    let holds = &sheet(&sheets, "wiring").holds;
    let first = holds.iter().find(|hold| hold.what.starts_with("group 1 alone")).unwrap();
    let (low, high) = (first.low.unwrap(), first.high.unwrap());
    assert!((low - 2.5974).abs() < 1e-4 && (high - 3.8278).abs() < 1e-4, "{low} … {high}");
    assert!(high / 2.0 < low && low < first.nominal.unwrap() && first.nominal.unwrap() < high);
}

/// Three lamps leave the resistor 0.3 V, which the lamps' own scatter uses up: no range can tell more than half.
#[test]
fn no_current_at_all_never_passes_the_dry_test() {
    let sheets = worked("[electronics.lamps]\nin_series = 3\n");
    let holds = &sheet(&sheets, "wiring").holds;
    let first = holds.iter().find(|hold| hold.what.starts_with("group 1 alone")).unwrap();
    assert!((first.low.unwrap() - 1.5).abs() < 1e-4, "{:?}", first.low);
    assert!(first.high.unwrap() > first.nominal.unwrap());
}

#[test]
fn epoxy_is_mixed_as_worked_and_rounded_up_in_its_own_proportion() {
    let sheets = worked("");
    let potting = sheet(&sheets, "potting");
    for (part, volume) in
        [("channels", 10016.6918), ("seats", 377.5125), ("flanges", 158.7761), ("wire", 1155.6397), ("net", 9079.7885)]
    {
        // Pieces of circles cut by two channels: the other program integrates them in steps.
        let got = figure(potting, row_where(potting, "part", part), "volume_mm3");
        assert!((got - volume).abs() < 0.001, "{part}: {got}, worked {volume}");
    }
    assert_worked(potting, row_where(potting, "part", "net"), "mix_ml", 11.3497);
    assert_eq!(view(potting, "potting")[0][1..3], ["7.6", "3.8"]);
    assert_eq!(words(&potting.data, "pot_life"), "20");
}

#[test]
fn the_list_takes_whole_units_with_their_waste() {
    let sheets = worked("");
    let list = sheet(&sheets, "materials-list");
    for (what, quantity, take, cost) in [
        ("wenge, for the board", 1.0, 1.0, Some(64.0)),
        // 1635 mm in 3 sticks of 600.
        ("fret wire, narrow", 2.725, 3.0, Some(5.7)),
        ("lamps", 14.0, 16.0, None),
        // 3.002870 m in the channels and 8 tails of 80 mm, sold by the foot of 0.3048 m, a fifth more.
        ("hook-up wire, thin", 3.642_87 / 0.3048, 15.0, Some(1.5)),
        ("resistor, 1.1\u{a0}kΩ", 7.0, 9.0, None),
        ("clear epoxy", 11.349_74, 12.0, None),
    ] {
        let row = row_where(list, "what", what);
        assert!((figure(list, row, "quantity") - quantity).abs() < 1e-4, "{what}: {}", figure(list, row, "quantity"));
        assert!((figure(list, row, "take") - take).abs() < 1e-9, "{what}: {}", figure(list, row, "take"));
        match cost {
            Some(cost) => assert!((figure(list, row, "cost") - cost).abs() < 1e-9, "{what}"),
            None => assert_eq!(cell(list, row, "cost"), &Cell::Empty, "{what}"),
        }
    }
    assert_eq!(words(&list.data, "total"), "71.20");
    assert!(words(&list.data, "unpriced").contains("clear epoxy"), "a kit is not millilitres");
    let bench = sheets.iter().find(|sheet| sheet.id == "materials-list").map(|sheet| &sheet.views[0].table).unwrap();
    assert!(bench.columns.iter().all(|column| !column.heading.contains("price") && !column.heading.contains("cost")));
}

#[test]
fn a_line_of_the_commission_overrides_a_derived_one_or_joins_the_list() {
    let own = "[[materials]]\nwhat = \"lamps\"\nquantity = 20\nprice = \"0.40\"\nwaste = \"0 %\"\n\
               [[materials]]\nwhat = \"padded case\"\nquantity = 1\nprice = \"85.00\"\npapers = \"none needed\"\n";
    let sheets = worked(own);
    let list = sheet(&sheets, "materials-list");
    let lamps = row_where(list, "what", "lamps");
    assert!((figure(list, lamps, "take") - 20.0).abs() < 1e-9);
    assert!((figure(list, lamps, "cost") - 8.0).abs() < 1e-9);
    let case = row_where(list, "what", "padded case");
    assert_eq!(case, list.tables[0].rows.len() - 1);
    assert_eq!(words(&list.data, "total"), "164.20");
}

#[test]
fn an_open_line_has_no_quantity_and_is_named_beside_the_total() {
    let sheets = worked("[channels]\ndepth = \"open\"\n");
    assert!(find(&sheets, "potting").is_none());
    let list = sheet(&sheets, "materials-list");
    let epoxy = row_where(list, "what", "clear epoxy");
    assert_eq!(cell(list, epoxy, "quantity"), &Cell::Waits);
    assert_eq!(cell(list, epoxy, "cost"), &Cell::Waits);
    assert_eq!(words(&list.data, "open"), "clear epoxy");
    assert!(find(&sheets, "wiring").is_some(), "the circuit waits for no channel");
}

#[test]
fn a_sheet_whose_main_number_is_open_is_left_out() {
    let sheets = worked("[channels]\nmargin = \"open\"\n");
    assert!(find(&sheets, "routing-map").is_none());
    let sheets = worked("[lamp]\nforward = \"open\"\n");
    assert!(find(&sheets, "wiring").is_none());
    assert!(find(&sheets, "routing-map").is_some());
    let sheets = worked("[electronics.lamps]\nhookup = \"open\"\n");
    assert!(find(&sheets, "potting").is_none(), "the wire's volume is open");
    let map = sheet(&sheets, "routing-map");
    assert_eq!(cell(map, 0, "fill_percent"), &Cell::Waits);
}

#[test]
fn a_plain_board_has_no_lamp_in_any_sheet() {
    let sheets = plain("");
    for id in ["routing-map", "wiring", "potting"] {
        assert!(find(&sheets, id).is_none(), "{id}");
    }
    let notes = view(sheet(&sheets, "safety-notes"), "safety-notes");
    let hazards: Vec<&str> = notes.iter().map(|row| row[1].as_str()).collect();
    for lit in ["soldering", "battery", "epoxy", "router, narrow channels"] {
        assert!(!hazards.contains(&lit), "{lit}");
    }
    let steps = steps(sheet(&sheets, "sign-off"));
    assert!(steps.iter().all(|step| !["seats", "channels", "dry-test", "pot", "level"].contains(&step.as_str())));
}

#[test]
fn every_sheet_of_a_hazard_carries_its_caution() {
    let sheets = worked("");
    for (id, word) in [
        ("slot-depth", "blade"),
        ("routing-map", "cutter"),
        ("wiring", "Battery out"),
        ("potting", "nitrile gloves"),
        ("drilling-chart", "clamped"),
    ] {
        let caution = sheet(&sheets, id).caution.as_deref().unwrap_or_default();
        assert!(caution.contains(word), "{id}: {caution}");
        assert!(caution.ends_with("Local rules and the maker's sheet come first."), "{id}: {caution}");
    }
    assert!(sheet(&sheets, "slot-depth").caution.as_deref().unwrap().contains("sensitiser"), "wenge");
}

#[test]
fn lithium_is_warned_of_where_it_is() {
    let of = |chemistry: &str| {
        let sheets = worked(&format!("[electronics.lamps]\nchemistry = \"{chemistry}\"\n"));
        sheet(&sheets, "wiring").caution.clone().unwrap()
    };
    assert!(of("lithium-ion").contains("Lithium cell"));
    assert!(!of("alkaline").contains("ithium"));
}

/// The steps of the sign-off's rows, each once, in order.
fn steps(sheet: &Sheet) -> Vec<String> {
    let index = sheet.tables[0].index("step");
    let mut steps: Vec<String> = sheet.tables[0]
        .rows
        .iter()
        .map(|row| match &row[index] {
            Cell::Words(step) => step.clone(),
            other => panic!("{other:?}"),
        })
        .collect();
    steps.dedup();
    steps
}

#[test]
fn every_hold_of_every_sheet_is_signed_off_in_the_order_of_the_work() {
    let sheets = worked("");
    let off = sheet(&sheets, "sign-off");
    assert_eq!(
        steps(off),
        [
            "billet", "back", "nut-end", "test-cut", "slots", "drill", "seats", "channels", "dry-test", "radius",
            "pot", "level", "taper"
        ]
    );
    let rows = &off.tables[0].rows;
    for hold in sheets.iter().flat_map(|sheet| &sheet.holds) {
        let what = off.tables[0].index("what");
        assert_eq!(
            rows.iter().filter(|row| row[what] == Cell::Words(hold.what.clone())).count(),
            1,
            "{} once",
            hold.what
        );
    }
    let check = off.tables[0].index("check");
    let mut names: Vec<String> = rows.iter().map(|row| format!("{:?}", row[check])).collect();
    names.sort();
    names.dedup();
    assert_eq!(names.len(), rows.len(), "each row has a name of its own");
}

#[test]
fn holds_state_the_worked_figures() {
    let sheets = worked("");
    let off = sheet(&sheets, "sign-off");
    for (what, nominal, low, high) in [
        ("thickness on the centreline; above 7.45\u{a0}mm the lamp seats are issued again", 7.4, Some(7.3), Some(7.5)),
        ("fret 12, squared end to the slot's middle", 333.375, Some(333.275), Some(333.475)),
        ("fret 25, depth of the slot", 3.35, Some(3.35), Some(3.45)),
        ("kerf in the offcut, by feeler", 0.56, Some(0.54), Some(0.59)),
        ("stop D, depth of a seat from the back", 3.45, Some(3.45), Some(3.55)),
        // As set: 7.4 less 3.35 less 2.2.
        ("thinnest wood to a slot: board less slot less channel, as measured", 1.85, Some(1.0), None),
        ("nut, height of the blank's edge", 5.4698, Some(5.3698), Some(5.5698)),
    ] {
        let row = row_where(off, "what", what);
        assert_worked(off, row, "nominal", nominal);
        for (key, worked) in [("low", low), ("high", high)] {
            match worked {
                Some(worked) => assert_worked(off, row, key, worked),
                None => assert_eq!(cell(off, row, key), &Cell::Empty, "{what}"),
            }
        }
    }
}

#[test]
fn a_face_radiused_first_is_signed_off_first() {
    let sheets = plain("[slots]\ncut = \"after radiusing\"\n");
    let steps = steps(sheet(&sheets, "sign-off"));
    let place = |step: &str| steps.iter().position(|own| own == step).unwrap();
    assert!(place("test-cut") < place("radius") && place("radius") < place("slots"), "{steps:?}");
}

#[test]
fn inches_are_printed_in_inches_and_files_stay_in_millimetres() {
    let sheets = worked("[commission]\nprint_in = \"in\"\n");
    let map = sheet(&sheets, "routing-map");
    assert_worked(map, 2, "x1_mm", 18.7109);
    assert_eq!(view(map, "routing-map")[2][2], "0.737");
    let list = sheet(&sheets, "materials-list");
    let board = row_where(list, "what", "wenge, for the board");
    assert_eq!(cell(list, board, "size"), &Cell::Words("21.26 × 2.913 × 0.315\u{a0}in".to_owned()));
}
