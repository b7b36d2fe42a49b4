//! Two invented commissions worked through by an independent calculation, every column of every sheet, and one change
//! at a time.
//!
//! The figures in `worked/` are derived, not published: they were computed by hand and by a second program that shares
//! no code with this one, from the formulas of plane geometry, equal temperament and Ohm's law. Four decimals, as
//! printed there, are held.

use std::collections::BTreeMap;
use std::path::Path;

use kerfbook::packet::{InputFile, Inputs, Options, Packet, Templates, compile};
use kerfbook::source::{SourceFile, Sources};

use crate::patch::Patched;

fn text(path: &str) -> String {
    std::fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join("tests").join(path)).unwrap()
}

fn packet(commission: &str) -> Packet {
    let mut sources = Sources::default();
    let id = sources.add(SourceFile::new("worked.toml", commission));
    let commission = InputFile { id, path: "worked.toml".to_owned() };
    let compiled = compile(
        &Inputs { sources, commission, shop: None, issues: None, templates: Templates::default() },
        &Options::default(),
    );
    compiled.packet.unwrap_or_else(|| panic!("{:?}", compiled.report))
}

type Rows = Vec<BTreeMap<String, String>>;

fn rows(bytes: &[u8]) -> Rows {
    csv::Reader::from_reader(bytes).deserialize().map(Result::unwrap).collect()
}

fn table(packet: &Packet, sheet: &str) -> Rows {
    rows(packet.file(&format!("tables/{sheet}.csv")).unwrap_or_else(|| panic!("no table {sheet}")))
}

/// Holds the rows of one sheet; rows of the packet beyond the worked ones are other holes.
fn hold(packet: &Packet, example: &str, sheet: &str) -> usize {
    let expected = rows(text(&format!("worked/{example}-{sheet}.csv")).as_bytes());
    let own = table(packet, sheet);
    assert!(own.len() >= expected.len(), "{example} {sheet}");
    let mut held = 0;
    for (expected, own) in expected.iter().zip(&own) {
        for (column, expected) in expected {
            let own = own.get(column).unwrap_or_else(|| panic!("{example} {sheet}: no column {column}"));
            match (expected.parse::<f64>(), own.parse::<f64>()) {
                (Ok(expected), Ok(own)) => {
                    assert!((expected - own).abs() <= 5.1e-5, "{example} {sheet} {column}: {own}, worked {expected}");
                }
                _ => assert_eq!(expected, own, "{example} {sheet} {column}"),
            }
            held += 1;
        }
    }
    held
}

#[test]
fn every_column_of_the_worked_lit_board_agrees() {
    let packet = packet(&text("specs/lit-seven.toml"));
    let sheets = [
        "fret-table",
        "slot-depth",
        "taper",
        "drilling-chart",
        "lamp-seats",
        "routing-map",
        "wiring",
        "potting",
        "fret-wire",
        "nut-and-saddle",
        "strings",
    ];
    let held: usize = sheets.iter().map(|sheet| hold(&packet, "lit-seven", sheet)).sum();
    assert!(held > 1100, "{held}");
}

#[test]
fn every_column_of_the_worked_left_handed_bass_agrees() {
    let packet = packet(&text("specs/left-bass.toml"));
    let sheets = ["fret-table", "slot-depth", "taper", "drilling-chart", "fret-wire", "nut-and-saddle", "strings"];
    let held: usize = sheets.iter().map(|sheet| hold(&packet, "left-bass", sheet)).sum();
    assert!(held > 600, "{held}");
}

/// The change that a row of `one-change.csv` names, as a patch of the worked lit board.
fn change(name: &str) -> &'static str {
    match name {
        "as it stands" => "",
        "measured thickness 7.25 mm" => "[board]\nthickness = \"7.25 mm\"\n",
        "radius 10 in" => "[radius]\nboard = \"10 in\"\n",
        "radius 20 in" => "[radius]\nboard = \"20 in\"\n",
        "26 frets" => "[frets]\ncount = 26\n[taper]\nend_at = \"fret 25\"\n",
        "24 frets" => "[frets]\ncount = 24\n[taper]\nend_at = \"509.417971 mm\"\n",
        "slots after radiusing" => "[slots]\ncut = \"after radiusing\"\n",
        "slots following the radius" => "[slots]\ncut = \"following the radius\"\n",
        "a setting for each slot" => "[slots]\nsetting = \"each\"\n",
        "skim 0.3 mm" => "[slots]\nskim = \"0.3 mm\"\n",
        "channel 2.8 mm deep" => "[channels]\ndepth = \"2.8 mm\"\n",
        "seats one setting" => "[lamp]\nseats = \"one setting\"\n",
        "proud 0.20 mm" => "[lamp]\nproud = \"0.20 mm\"\n",
        "inset 1/4 half-width" => "[markers]\ninset = \"1/4 half-width\"\n",
        "3 in series" => "[electronics.lamps]\nin_series = 3\n",
        "lamps of 2.0 V" => "[lamp]\nforward = \"2.0 V\"\n",
        "series E12" => "[electronics.lamps]\nseries = \"E12\"\n",
        "series E96" => "[electronics.lamps]\nseries = \"E96\"\n",
        other => panic!("no change is called {other}"),
    }
}

#[test]
fn one_change_at_a_time_moves_what_it_must() {
    let base = text("specs/lit-seven.toml");
    // These three stop the packet; their findings are held in `checks.rs`.
    let stopped = ["thickness 1/4 in", "5 in series", "1 in series"];
    let worked = rows(text("worked/one-change.csv").as_bytes());
    assert_eq!(worked.len(), 21);
    for row in worked.iter().filter(|row| !stopped.contains(&row["change"].as_str())) {
        let name = &row["change"];
        let packet = packet(&Patched::of(&base).with(change(name), false).text());
        let figure = |sheet: &str, column: &str| -> Vec<f64> {
            table(&packet, sheet).iter().filter_map(|row| row[column].parse().ok()).collect()
        };
        let most = |figures: Vec<f64>| figures.into_iter().fold(f64::NEG_INFINITY, f64::max);
        let least = |figures: Vec<f64>| figures.into_iter().fold(f64::INFINITY, f64::min);
        let lamp = |fret: &str, column: &str| -> f64 {
            let rows = table(&packet, "lamp-seats");
            rows.iter().find(|row| row["fret"] == fret).unwrap()[column].parse().unwrap()
        };
        let milliamperes: f64 = figure("wiring", "current_ma").into_iter().sum();
        let own = [
            ("deepest slot", most(figure("slot-depth", "depth_mm"))),
            ("set", most(figure("slot-depth", "set_mm"))),
            ("least wood to a channel", least(figure("slot-depth", "to_channel_mm"))),
            ("seat 3", lamp("3", "seat_mm")),
            ("seat 12", lamp("12", "seat_mm")),
            ("seat 24", lamp("24", "seat_mm")),
            ("lead room 24", lamp("24", "lead_room_mm")),
            ("sand most", most(figure("lamp-seats", "sand_max_mm"))),
            ("ohm", figure("wiring", "resistor_ohm")[0]),
            ("all mA", milliamperes),
            ("low mA", figure("wiring", "current_low_ma")[0]),
            ("mix ml", figure("potting", "mix_ml")[0]),
            ("board end", most(figure("taper", "x_mm"))),
        ];
        for (column, own) in own {
            let expected: f64 = row[column].parse().unwrap();
            assert!((own - expected).abs() <= 5.1e-5, "{name}: {column} {own}, worked {expected}");
        }
    }
}
