//! The drawings of the demo commissions: nothing collides in any room, and what is drawn is what was computed.

use std::fs;
use std::path::Path;

use approx::assert_relative_eq;
use kerfbook::design::Design;
use kerfbook::drawing::{Drawing, Item, Layer, Picture, Room};
use kerfbook::model::{Known, Model, resolve};
use kerfbook::sheets::figures::{self, PieceNames};
use kerfbook::sheets::{self, Job};
use kerfbook::source::{SourceFile, Sources};
use kerfbook::{diag::Report, spec};
use kurbo::{PathEl, Point, Shape as _};

/// A demo commission by the beginning of its file's name, changed before it is read.
pub(crate) fn model_of(name: &str, change: impl Fn(String) -> String) -> Model {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("specs");
    let mut names: Vec<String> =
        fs::read_dir(&folder).unwrap().map(|entry| entry.unwrap().file_name().into_string().unwrap()).collect();
    names.retain(|file| file.starts_with(name));
    let read = |file: &str| fs::read_to_string(folder.join(file)).unwrap();
    let mut sources = Sources::default();
    let commission = sources.add(SourceFile::new(names[0].clone(), change(read(&names[0]))));
    let shop = sources.add(SourceFile::new("shop.toml", read("shop.toml")));
    let mut report = Report::default();
    let written = spec::read(&sources, commission, &mut report);
    let shop = spec::read_shop(&sources, shop, &mut report);
    let model = resolve::resolve(&written, Some(&shop), &mut report).unwrap();
    assert!(!report.has_errors(), "{name}: {:?}", report.findings());
    model
}

/// Whatever is to be drawn of a commission, by name.
fn all_of(model: &Model) -> Vec<(String, Drawing)> {
    let design = Design::of(model);
    let job = Job { model, design: &design, findings: &[], left_out: &[], ranges: &[] };
    let mut drawings: Vec<(String, Known<Drawing>)> = vec![
        ("front".to_owned(), figures::board_front(&job)),
        ("back".to_owned(), figures::board_back(&job, pieces(&design).as_ref())),
        ("deepest".to_owned(), figures::cross_section(&job)),
        ("circuit".to_owned(), figures::lamp_circuit(&job)),
        ("map".to_owned(), figures::lamp_map(&job)),
        ("taper".to_owned(), figures::taper_outline(&job)),
        ("face-0".to_owned(), figures::radius_section(&job, 0)),
    ];
    let last = design.layout.as_ref().map_or(0, |layout| layout.last());
    for fret in [1, 12, last] {
        drawings.push((format!("section-{fret}"), figures::cross_section_at(&job, fret)));
        drawings.push((format!("face-{fret}"), figures::radius_section(&job, fret)));
    }
    for marker in design.markers.iter().flatten().step_by(3) {
        drawings.push((format!("lamp-{}", marker.number), figures::lamp_section(&job, marker.number)));
    }
    let known = drawings.into_iter().filter_map(|(name, drawing)| Some((name, drawing.ok()?)));
    let on_sheets = sheets::make(&job).into_iter().flat_map(|sheet| sheet.drawings);
    known.chain(on_sheets.map(|(name, drawing)| (name.to_owned(), drawing))).collect()
}

/// Numbers for the channels' pieces in the order of the map.
fn pieces(design: &Design) -> Option<PieceNames> {
    let map = design.lamps.as_ref()?.map.as_ref().ok()?;
    let number = |index: usize| (index + 1).to_string();
    let crosses = map.crosses.len();
    Some(PieceNames {
        sides: [number(0), number(1)],
        crosses: (2..crosses + 2).map(number).collect(),
        end: number(crosses + 2),
        exit: number(crosses + 3),
    })
}

/// The demo commissions and some that are harder to draw.
pub(crate) fn models() -> Vec<(&'static str, Model)> {
    let as_written = |text: String| text;
    let left = |text: String| text.replace("\"right\"", "\"left\"");
    let one_group = |text: String| text.replace("in_series       = 3", "in_series       = 1");
    let inches = |text: String| text.replace("[commission]", "[commission]\nprint_in = \"in\"");
    vec![
        ("T-204", model_of("T-204", as_written)),
        ("T-204 left-handed", model_of("T-204", left)),
        ("T-204, a group a lamp", model_of("T-204", one_group)),
        ("T-204 in inches", model_of("T-204", inches)),
        ("T-207", model_of("T-207", as_written)),
        ("T-211", model_of("T-211", as_written)),
        ("T-215", model_of("T-215", as_written)),
        ("T-215 left-handed", model_of("T-215", left)),
        ("T-218", model_of("T-218", as_written)),
        ("T-221", model_of("T-221", as_written)),
        ("T-224", model_of("T-224", as_written)),
    ]
}

#[test]
fn nothing_collides_in_any_drawing_of_any_commission_in_any_room() {
    let rooms = [(170.0, 110.0), (176.0, 60.0), (178.0, 200.0), (140.0, 90.0), (390.0, 277.0)];
    for (commission, model) in models() {
        let drawings = all_of(&model);
        assert!(drawings.len() >= 3, "{commission}: {}", drawings.len());
        for (name, drawing) in drawings {
            for (width, height) in rooms {
                let picture = drawing.place(Room { width, height });
                assert_eq!(picture.conflicts(), vec![], "{commission}, {name} in {width} × {height}");
                assert!(picture.width <= width + 0.5, "{commission}, {name}: {} of {width}", picture.width);
            }
        }
    }
}

#[test]
fn in_the_room_of_a_page_at_most_one_text_must_go_to_the_key() {
    for (commission, model) in models() {
        for (name, drawing) in all_of(&model) {
            let picture = drawing.place(Room { width: 170.0, height: 200.0 });
            let unmarked = picture.key.iter().filter(|entry| !entry.marked).count();
            assert!(picture.key.len() <= 1 && unmarked == 0, "{commission}, {name}: {:?}", picture.key);
        }
    }
}

/// The points of a layer's paths in the drawing's own millimetres.
fn points(picture: &Picture, layer: Layer) -> Vec<Vec<Point>> {
    let back = |point: Point| {
        let away = point - picture.origin;
        Point::new(away.x / picture.factors.along, away.y / picture.factors.across)
    };
    let layer = picture.layers.iter().find(|known| known.layer == layer);
    layer
        .into_iter()
        .flat_map(|layer| &layer.items)
        .filter_map(|item| match item {
            Item::Path { outline, .. } => Some(
                outline
                    .elements()
                    .iter()
                    .filter_map(|element| match element {
                        PathEl::MoveTo(point) | PathEl::LineTo(point) => Some(back(*point)),
                        _ => None,
                    })
                    .collect(),
            ),
            Item::Text(_) => None,
        })
        .collect()
}

#[test]
fn each_slot_is_drawn_where_the_table_has_it_and_as_long() {
    for (commission, model) in models() {
        let design = Design::of(&model);
        let job = Job { model: &model, design: &design, findings: &[], left_out: &[], ranges: &[] };
        let (Ok(drawing), Ok(slots)) = (figures::board_front(&job), &design.slots) else { continue };
        let picture = drawing.place(Room { width: 170.0, height: 120.0 });
        let drawn = points(&picture, Layer::Slots);
        assert_eq!(drawn.len(), slots.len(), "{commission}");
        for (line, (_, slot)) in drawn.iter().zip(slots) {
            let slot = (*slot).unwrap();
            for (point, end) in line.iter().zip([slot.cut.start, slot.cut.end]) {
                assert_relative_eq!(point.x, end.x, epsilon = 1e-9);
                assert_relative_eq!(point.y, job.hand().y(end.y), epsilon = 1e-9);
            }
        }
    }
}

#[test]
fn a_left_handed_board_is_the_mirror_image_and_its_back_is_turned_over() {
    let right = model_of("T-204", |text| text);
    let left = model_of("T-204", |text| text.replace("\"right\"", "\"left\""));
    let drawn = |model: &Model, back: bool| {
        let design = Design::of(model);
        let job = Job { model, design: &design, findings: &[], left_out: &[], ranges: &[] };
        let drawing = if back { figures::board_back(&job, None) } else { figures::board_front(&job) }.unwrap();
        points(&drawing.place(Room { width: 170.0, height: 140.0 }), Layer::Outline)
    };
    let mirrored = |lines: Vec<Vec<Point>>| -> Vec<Vec<Point>> {
        lines.into_iter().map(|line| line.into_iter().map(|point| Point::new(point.x, -point.y)).collect()).collect()
    };
    let near = |one: &[Vec<Point>], other: &[Vec<Point>]| {
        for (one, other) in one.iter().flatten().zip(other.iter().flatten()) {
            assert_relative_eq!(one.x, other.x, epsilon = 1e-9);
            assert_relative_eq!(one.y, other.y, epsilon = 1e-9);
        }
    };
    near(&drawn(&right, false), &mirrored(drawn(&left, false)));
    // The outline is drawn first on both faces.
    near(&drawn(&right, true)[..1], &mirrored(drawn(&right, false))[..1]);
}

#[test]
fn the_back_says_where_the_bass_edge_is_and_draws_the_exit_there() {
    for (change, place) in [("right", "TOP"), ("left", "BOTTOM")] {
        let model = model_of("T-204", |text| text.replace("\"right\"", &format!("\"{change}\"")));
        let design = Design::of(&model);
        let job = Job { model: &model, design: &design, findings: &[], left_out: &[], ranges: &[] };
        let picture =
            figures::board_back(&job, pieces(&design).as_ref()).unwrap().place(Room { width: 170.0, height: 140.0 });
        let note = format!("the bass edge is at the {place} of this page");
        assert!(picture.texts().any(|text| text.text == note), "{change}");
        // The exit lies 11 mm bass of the centreline; it is the neck's, so it is drawn hidden, where else the rod is.
        let exit = picture
            .layers
            .iter()
            .find(|layer| layer.layer == Layer::Hidden)
            .unwrap()
            .items
            .iter()
            .find_map(|item| match item {
                Item::Path { outline, .. } => Some(outline.bounding_box()).filter(|bounds| bounds.width() < 10.0),
                Item::Text(_) => None,
            })
            .unwrap();
        let across = (exit.center().y - picture.origin.y) / picture.factors.across;
        assert_relative_eq!(across, if place == "TOP" { 11.0 } else { -11.0 }, epsilon = 1e-6);
    }
}

#[test]
fn the_ladder_names_every_lamp_once_and_every_group() {
    let model = model_of("T-204", |text| text);
    let design = Design::of(&model);
    let job = Job { model: &model, design: &design, findings: &[], left_out: &[], ranges: &[] };
    let picture = figures::lamp_circuit(&job).unwrap().place(Room { width: 170.0, height: 120.0 });
    let texts: Vec<&str> = picture.texts().map(|text| text.text.as_str()).collect();
    for lamp in 1..=design.markers.as_ref().unwrap().len() {
        assert_eq!(texts.iter().filter(|text| **text == lamp.to_string()).count(), 1, "lamp {lamp}");
    }
    for group in 1..=design.lamps.as_ref().unwrap().groups.as_ref().unwrap().len() {
        assert!(texts.contains(&format!("group {group}").as_str()), "group {group}");
    }
    assert!(picture.scale.is_none());
}

#[test]
fn the_drill_reads_each_hole_of_the_face_once_from_the_squared_end() {
    let bass_at = |hand: &str| {
        let model = model_of("T-204", |text| text.replace("\"right\"", &format!("\"{hand}\"")));
        let design = Design::of(&model);
        let job = Job { model: &model, design: &design, findings: &[], left_out: &[], ranges: &[] };
        let chart = sheets::make(&job).into_iter().find(|sheet| sheet.id == "drilling-chart").unwrap();
        let (_, drawing) = chart.drawings.into_iter().find(|(name, _)| *name == "drilled-face").unwrap();
        let picture = drawing.place(Room { width: 170.0, height: 140.0 });
        let texts: Vec<&str> = picture.texts().map(|text| text.text.as_str()).collect();
        let squared_end = design.squared_end.unwrap();
        for marker in design.markers.as_ref().unwrap() {
            let place = job.length(marker.middle.unwrap().x - squared_end);
            assert_eq!(texts.iter().filter(|text| text.starts_with(&place)).count(), 1, "{place}: {texts:?}");
        }
        // Two lamps of one place share its figure; the dots in the edge have numbers and no figures of their own.
        let figures = texts.iter().filter(|text| text.parse::<f64>().is_ok() && text.contains('.')).count();
        let places = design.markers.as_ref().unwrap().iter().map(|marker| marker.fret);
        assert_eq!(figures, places.collect::<std::collections::BTreeSet<_>>().len(), "{texts:?}");
        let dots = design.side_dots.as_ref().unwrap();
        let lamps = design.markers.as_ref().unwrap().len();
        let first_dot = (lamps + 1).to_string();
        let row = picture.texts().find(|text| text.text == first_dot).unwrap();
        assert_eq!(texts.iter().filter(|text| **text == (lamps + dots.len()).to_string()).count(), 1);
        row.at.y - picture.origin.y
    };
    assert!(bass_at("right") < 0.0 && bass_at("left") > 0.0, "the dots stand along the bass edge");
}

#[test]
fn the_section_of_a_fan_tells_the_figures_of_the_table_and_the_fence() {
    let left = |text: String| text.replace("\"right\"", "\"left\"");
    for model in [model_of("T-215", |text| text), model_of("T-215", left)] {
        let design = Design::of(&model);
        let job = Job { model: &model, design: &design, findings: &[], left_out: &[], ranges: &[] };
        let row = design.depths.as_ref().unwrap().fret(24).unwrap();
        let [bass, treble] = row.drops.unwrap();
        assert!(bass > treble);
        let at_the_lower_end = job.length(job.set_up(row.setting.unwrap()) - bass);
        let fence = job.length(model.channels.as_ref().unwrap().margin.mm().unwrap());
        let picture = figures::cross_section_at(&job, 24).unwrap().place(Room { width: 170.0, height: 110.0 });
        let texts: Vec<&str> = picture.texts().map(|text| text.text.as_str()).collect();
        for figure in [at_the_lower_end, fence] {
            assert!(texts.contains(&figure.as_str()), "{figure}: {texts:?}");
        }
    }
}
