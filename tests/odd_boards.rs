//! What the sheets of a fan, a bound board and one with partial frets tell the bench, against figures worked by hand.

use kerfbook::design::Design;
use kerfbook::drawing::Room;
use kerfbook::model::Model;
use kerfbook::paper;
use kerfbook::sheets::{self, Cell, Job, Sheet, Value};

use crate::figures::model_of;

fn sheet(model: &Model, id: &str) -> Sheet {
    let design = Design::of(model);
    let job = Job { model, design: &design, findings: &[], left_out: &[], ranges: &[] };
    sheets::make(&job).into_iter().find(|sheet| sheet.id == id).unwrap()
}

/// The texts of a view, row by row; a box or a line to write on is none.
fn view(sheet: &Sheet, name: &str) -> Vec<Vec<String>> {
    let text = |cell: &paper::Cell| match cell {
        paper::Cell::Text(text) => text.text(),
        _ => String::new(),
    };
    let table = &sheet.views.iter().find(|view| view.name == name).unwrap().table;
    let cells = |row: &paper::Row| match row {
        paper::Row::Cells(cells) => cells.iter().map(text).filter(|text| !text.is_empty()).collect(),
        other => panic!("{name}: {other:?}"),
    };
    table.rows.iter().map(cells).collect()
}

fn fact(sheet: &Sheet, name: &str) -> String {
    match &sheet.data.get(name) {
        Some(Value::Words(words)) => words.clone(),
        other => panic!("{name}: {other:?}"),
    }
}

#[test]
fn a_partial_fret_is_no_part_of_the_sleds_sequence() {
    let sheet = sheet(&model_of("T-224", |text| text), "fret-table");
    let sled = view(&sheet, "fret-table");
    assert_eq!(sled.len(), 31);
    assert!(sled.iter().all(|row| !["32", "33", "34"].contains(&row[0].as_str())));
    // 650 mm, nineteen steps, 38 mm at equal gaps to 51 mm at equal centres: the cut stops midway to the next string.
    let by_hand = view(&sheet, "partial-frets");
    assert_eq!(
        by_hand,
        [
            ["32", "447.74", "9.36 bass of the centreline", "the treble edge"],
            ["33", "454.98", "0.03 treble of the centreline", "the treble edge"],
            ["34", "461.97", "9.48 treble of the centreline", "the treble edge"],
        ]
    );
    // The file has every fret; where the sled cuts none, it has no stop.
    let table = &sheet.tables[0];
    let stop = table.index("stop_mm");
    let stops: Vec<bool> = table.rows.iter().map(|row| row[stop] != Cell::Empty).collect();
    assert_eq!(stops, [vec![true; 31], vec![false; 3]].concat());
}

#[test]
fn the_nut_of_a_fan_is_marked_on_both_edges_of_the_blank() {
    // 698.5 and 660.4 mm along the string, square at 7, 49 and 73.5 mm, a blank of 84 mm: the nut's line rises by
    // 0.25864 for each millimetre across, and the squared end stands 5 mm clear of it.
    let model = model_of("T-215", |text| text);
    let frets = sheet(&model, "fret-table");
    assert_eq!((fact(&frets, "nut_bass").as_str(), fact(&frets, "nut_treble").as_str()), ("5.00", "26.73"));
    // Along themselves the strings spread wider than square to the centreline.
    let nut = sheet(&model, "nut-and-saddle");
    assert_eq!((fact(&nut, "spread_nut").as_str(), fact(&nut, "spread_saddle").as_str()), ("50.61", "77.78"));
    assert_eq!((fact(&nut, "square_nut").as_str(), fact(&nut, "square_saddle").as_str()), ("49.00", "73.50"));
}

#[test]
fn a_straight_nut_needs_no_marks_of_its_own() {
    let frets = sheet(&model_of("T-218", |text| text), "fret-table");
    assert_eq!(frets.data.get("nut_bass"), None);
}

#[test]
fn the_picture_of_the_taper_shows_what_its_table_says_to_plane_to() {
    for name in ["T-204", "T-215", "T-218", "T-221", "T-224"] {
        let model = model_of(name, |text| text);
        let sheet = sheet(&model, "taper");
        let picture = sheet.drawings[0].1.place(Room { width: 170.0, height: 120.0 });
        let shown: Vec<&str> = picture.texts().map(|text| text.text.as_str()).collect();
        let columns = ["plane_bass_mm", "plane_treble_mm"].map(|key| sheet.tables[0].index(key));
        for row in &sheet.tables[0].rows {
            let Cell::Words(station) = &row[0] else { panic!("{name}: a station has a name") };
            if !["nut", "fret 12", "board end"].contains(&station.as_str()) {
                continue;
            }
            for column in columns {
                let Cell::Figure(plane) = row[column] else { panic!("{name}, {station}") };
                let text = match sheet.unit {
                    kerfbook::units::WorkingUnit::Inch => format!("{:.3}", plane / 25.4),
                    kerfbook::units::WorkingUnit::Millimetre => format!("{plane:.2}"),
                };
                assert!(shown.contains(&text.as_str()), "{name}, {station}: {text} is not among {shown:?}");
            }
        }
    }
}
