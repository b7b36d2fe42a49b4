//! The DXF files as another crate than their writer reads them: in millimetres, on layers that say what is cut, and
//! every coordinate as the tables have it.

use std::collections::BTreeSet;

use dxf::Drawing;
use dxf::entities::{Entity, EntityType};
use dxf::enums::Units;
use kerfbook::drawing::contour::Corner;
use kerfbook::drawing::plan::Level;
use kerfbook::drawing::{Anchor, Contour, Layer, Lettering, Pen, Plan};
use kerfbook::emit::dxf::dxf;
use kurbo::Point;

use super::mirror::{packet, rows};

pub(crate) fn read(bytes: &[u8]) -> Drawing {
    let mut bytes = bytes;
    Drawing::load(&mut bytes).unwrap()
}

/// The straight lines of a layer as x, y, x, y, bass end first where the hand is right.
fn lines(drawing: &Drawing, layer: &str) -> Vec<[f64; 4]> {
    let line = |entity: &Entity| match &entity.specific {
        EntityType::Line(line) if entity.common.layer == layer => Some([line.p1.x, line.p1.y, line.p2.x, line.p2.y]),
        _ => None,
    };
    drawing.entities().filter_map(line).collect()
}

/// The circles of the layers that pass as x, y, diameter.
pub(crate) fn circles(drawing: &Drawing, on: impl Fn(&str) -> bool) -> Vec<[f64; 3]> {
    let circle = |entity: &Entity| match &entity.specific {
        EntityType::Circle(circle) if on(&entity.common.layer) => {
            Some([circle.center.x, circle.center.y, 2.0 * circle.radius])
        }
        _ => None,
    };
    drawing.entities().filter_map(circle).collect()
}

pub(crate) fn near(one: f64, other: f64) -> bool {
    (one - other).abs() < 0.001
}

#[test]
fn slots_and_holes_of_the_face_stand_where_the_tables_have_them() {
    // A lit board, a lit fan, a left-handed lit one; none is bound, so that slots end where the table says.
    for name in ["T-204-lantern-street.toml", "T-215-breakwater.toml", "T-221-other-hand.toml"] {
        let hand = if name.starts_with("T-221") { "left" } else { "right" };
        let packet = packet(name, hand);
        let figure = |row: &std::collections::BTreeMap<String, String>, key: &str| row[key].parse::<f64>().unwrap();
        let drawing = read(packet.file("drawings/board-front.dxf").unwrap());
        assert_eq!(drawing.header.default_drawing_units, Units::Millimeters, "{name}");
        let slots = lines(&drawing, "slots");
        let frets = rows(&packet, "tables/fret-table.csv");
        assert!(frets.len() > 18, "{name}");
        for fret in &frets {
            let ends = ["bass_x_mm", "bass_y_mm", "treble_x_mm", "treble_y_mm"].map(|key| figure(fret, key));
            let there = slots.iter().any(|slot| slot.iter().zip(ends).all(|(one, other)| near(*one, other)));
            assert!(there, "{name}: fret {} at {ends:?}", fret["fret"]);
        }
        assert_eq!(slots.len(), frets.len(), "{name}");
        let bored = circles(&drawing, |layer| layer == "holes");
        let mut holes = rows(&packet, "tables/drilling-chart.csv");
        holes.retain(|hole| hole["part"] == "board" && hole["face"] == "front");
        assert!(holes.len() > 5, "{name}");
        for hole in &holes {
            let place = ["x_mm", "y_mm", "diameter_mm"].map(|key| figure(hole, key));
            let there = bored.iter().any(|one| one.iter().zip(place).all(|(one, other)| near(*one, other)));
            assert!(there, "{name}: hole {} at {place:?}", hole["hole"]);
        }
    }
}

#[test]
fn every_drawing_is_whole_closed_and_on_declared_layers() {
    let packet = packet("T-215-breakwater.toml", "right");
    let mut files = 0;
    for file in packet.files.iter().filter(|file| file.path.ends_with(".dxf")) {
        files += 1;
        assert!(file.bytes.is_ascii(), "{}", file.path);
        let drawing = read(&file.bytes);
        let declared: BTreeSet<&str> = drawing.layers().map(|layer| layer.name.as_str()).collect();
        let mut handles = BTreeSet::new();
        let mut outlines = 0;
        for entity in drawing.entities() {
            assert!(declared.contains(entity.common.layer.as_str()), "{}: {}", file.path, entity.common.layer);
            assert!(handles.insert(entity.common.handle.0), "{}: a handle twice", file.path);
            if let EntityType::LwPolyline(line) = &entity.specific
                && line.is_closed()
            {
                outlines += 1;
                assert!(line.vertices.len() > 1);
            }
        }
        assert!(outlines > 0, "{}: no closed outline", file.path);
        // A drawing of the board has dozens of marks; a gauge strip is an outline and a few lines of text.
        assert!(handles.len() > if file.path.contains("board") { 20 } else { 3 }, "{}", file.path);
    }
    assert!(files > 4, "{files}");
}

#[test]
fn arcs_stay_arcs_and_depths_are_layers() {
    let mut plan = Plan::new("", "");
    // A slot with round ends, 60 mm by 10 mm: half circles have the bulge 1.
    let corner = |x: f64, y: f64, bulge: f64| Corner { at: Point::new(x, y), bulge };
    let corners = vec![corner(0.0, -5.0, 0.0), corner(50.0, -5.0, 1.0), corner(50.0, 5.0, 0.0), corner(0.0, 5.0, 1.0)];
    plan.contour(Level::deep(Layer::Pockets, 6.35), Contour { corners, closed: true }, Pen::Thin);
    plan.circle(Layer::Holes, Point::new(25.0, 0.0), 1.55, Pen::Thin);
    let drawing = read(dxf(&plan).as_bytes());
    let pocket = drawing.entities().find(|entity| entity.common.layer == "pockets-6.35").unwrap();
    let EntityType::LwPolyline(line) = &pocket.specific else { panic!("{pocket:?}") };
    assert!(line.is_closed());
    let read_back: Vec<[f64; 3]> = line.vertices.iter().map(|vertex| [vertex.x, vertex.y, vertex.bulge]).collect();
    assert_eq!(read_back, [[0.0, -5.0, 0.0], [50.0, -5.0, 1.0], [50.0, 5.0, 0.0], [0.0, 5.0, 1.0]]);
    assert_eq!(circles(&drawing, |layer| layer == "holes"), [[25.0, 0.0, 3.1]]);
}

#[test]
fn a_text_can_be_nothing_but_text() {
    let hostile = "K-1\n  0\nEOF\r\u{0}%%u\\U+0045^I Ø 𝄞";
    let mut plan = Plan::new(hostile, hostile);
    plan.text(Point::new(1.0, 2.0), hostile, Lettering::NORMAL, Anchor::Middle, 0.5);
    plan.line(Layer::Slots, Point::ZERO, Point::new(3.0, 4.0), Pen::Hidden);
    let drawing = read(dxf(&plan).as_bytes());
    assert_eq!(drawing.entities().count(), 2);
    let text = drawing.entities().find_map(|entity| match &entity.specific {
        EntityType::Text(text) => Some(text.clone()),
        _ => None,
    });
    let text = text.unwrap();
    assert_eq!(text.value, "K-1   0 EOF ?% %u/U+0045^I Ø ?");
    assert!((text.rotation - 0.5_f64.to_degrees()).abs() < 1e-6);
}
