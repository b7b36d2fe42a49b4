//! A left-handed packet is the mirror image of the right-handed one: number for number, and drawing for drawing.

use std::collections::BTreeMap;
use std::path::Path;

use kerfbook::packet::{InputFile, Inputs, Options, Packet, Templates, compile};
use kerfbook::source::{SourceFile, Sources};

pub(crate) fn packet(name: &str, hand: &str) -> Packet {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("specs");
    let read = |name: &str| std::fs::read_to_string(folder.join(name)).unwrap();
    let text = read(name);
    let text = match text.contains("hand     = ") {
        true => text.replace("\"right\"", &format!("\"{hand}\"")).replace("\"left\"", &format!("\"{hand}\"")),
        false => text.replace("[commission]", &format!("[commission]\nhand = \"{hand}\"")),
    };
    let mut sources = Sources::default();
    let mut input =
        |name: &str, text: String| InputFile { id: sources.add(SourceFile::new(name, text)), path: name.to_owned() };
    let (commission, shop) = (input("mirror.toml", text), input("shop.toml", read("shop.toml")));
    let inputs = Inputs { sources, commission, shop: Some(shop), issues: None, templates: Templates::default() };
    let compiled = compile(&inputs, &Options::default());
    compiled.packet.unwrap_or_else(|| panic!("{name}, {hand}: {:?}", compiled.report))
}

pub(crate) fn rows(packet: &Packet, path: &str) -> Vec<BTreeMap<String, String>> {
    csv::Reader::from_reader(packet.file(path).unwrap()).deserialize().map(Result::unwrap).collect()
}

/// A lit board, a lit fan, a bound one with a zero fret, one with partial frets.
const DEMO: [&str; 4] =
    ["T-204-lantern-street.toml", "T-215-breakwater.toml", "T-218-short-crossing.toml", "T-224-nineteen-bells.toml"];

#[test]
fn tables_of_the_other_hand_differ_in_the_sign_of_y_alone() {
    for name in DEMO {
        let (right, left) = (packet(name, "right"), packet(name, "left"));
        let tables: Vec<&str> =
            right.files.iter().map(|file| file.path.as_str()).filter(|path| path.starts_with("tables/")).collect();
        assert!(tables.len() > 8, "{name}");
        let mut turned = 0;
        for path in tables {
            let (right, left) = (rows(&right, path), rows(&left, path));
            assert_eq!(right.len(), left.len(), "{name} {path}");
            for (right, left) in right.iter().zip(&left) {
                for (column, value) in right {
                    let own = &left[column];
                    let is_across = column.ends_with("y_mm") || column.starts_with('y');
                    match (is_across, value.parse::<f64>(), own.parse::<f64>()) {
                        (true, Ok(value), Ok(own)) => {
                            assert!((value + own).abs() < 1e-9, "{name} {path} {column}: {value}, {own}");
                            turned += usize::from(value != 0.0);
                        }
                        _ => assert_eq!(value, own, "{name} {path} {column}"),
                    }
                }
            }
        }
        assert!(turned > 40, "{name}: {turned}");
    }
}

/// The points of the geometry layers of a drawing, texts and dimensions left out, in millimetres.
fn geometry(svg: &[u8], layer: &str) -> Vec<(f64, f64)> {
    let text = std::str::from_utf8(svg).unwrap();
    let Some(start) = text.find(&format!("<g id=\"{layer}\"")) else { return Vec::new() };
    let group = &text[start..start + text[start..].find("</g>").unwrap()];
    let mut points = Vec::new();
    for path in group.split(" d=\"").skip(1) {
        let data = &path[..path.find('"').unwrap()];
        let numbers: Vec<f64> = data
            .split(|c: char| c.is_ascii_alphabetic() || c == ' ' || c == ',')
            .filter_map(|number| number.parse().ok())
            .collect();
        points.extend(numbers.chunks_exact(2).map(|pair| (pair[0], pair[1])));
    }
    points
}

/// The points from their own least x and y, y turned over if `upward` is minus.
fn from_corner(points: &[(f64, f64)], upward: f64) -> Vec<(f64, f64)> {
    let turned: Vec<(f64, f64)> = points.iter().map(|(x, y)| (*x, upward * y)).collect();
    let x = turned.iter().map(|point| point.0).fold(f64::INFINITY, f64::min);
    let y = turned.iter().map(|point| point.1).fold(f64::INFINITY, f64::min);
    turned.into_iter().map(|point| (point.0 - x, point.1 - y)).collect()
}

#[test]
fn drawings_of_the_other_hand_are_drawn_the_other_way_round() {
    for name in DEMO {
        let (right, left) = (packet(name, "right"), packet(name, "left"));
        for drawing in ["drawings/board-front.svg", "drawings/board-outline.svg"] {
            for layer in ["outline", "slots", "holes"] {
                let own = |packet: &Packet| geometry(packet.file(drawing).unwrap(), layer);
                let (right, left) = (own(&right), own(&left));
                assert_eq!(right.len(), left.len(), "{name} {drawing} {layer}");
                // From each drawing's own left and upper edge: the margins for texts may differ.
                let (mirrored, drawn) = (from_corner(&right, -1.0), from_corner(&left, 1.0));
                let near = |a: f64, b: f64| (a - b).abs() <= 0.002;
                for point in &mirrored {
                    let found = drawn.iter().any(|own| near(point.0, own.0) && near(point.1, own.1));
                    assert!(found, "{name} {drawing} {layer}: nothing at {point:?}");
                }
            }
        }
    }
}
