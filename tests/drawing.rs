//! Drawings placed by the program: nothing collides whatever is asked, and the files are well formed.

use kerfbook::drawing::{
    Align, AngleBetween, Conflict, Drawing, Importance, Item, Label, Layer, Lettering, LineName, Linear, Note,
    Ordinates, Pen, Picture, Room, Round, Scale, Scaling, Side, Station, Tip,
};
use kerfbook::emit::svg::svg;
use kurbo::{Point, Rect, Vec2};
use proptest::prelude::*;
use proptest::test_runner::RngSeed;

const ROOM: Room = Room { width: 178.0, height: 120.0 };

/// A strip with cross lines, holes, hatched ends, dimensions and labels, as many and as close as asked.
fn strip(length: f64, width: f64, lines: u32, labels: &[(f64, f64, String)], dimensions: &[(f64, f64, u8)]) -> Drawing {
    let mut drawing = Drawing::new("A strip", "A strip with cross lines.");
    let edge = Rect::new(0.0, 0.0, length, width);
    drawing.rounded_rectangle(Layer::Outline, edge, width / 20.0, Pen::Visible);
    drawing.hatch(
        kerfbook::drawing::outline::rounded_rectangle(Rect::new(0.0, 0.0, length / 4.0, width), 0.0),
        0.7,
        2.0,
    );
    drawing.centre_line(Point::new(0.0, width / 2.0), Point::new(length, width / 2.0));
    let mut stations = Vec::new();
    for line in 1..=lines {
        let x = length * f64::from(line) / f64::from(lines + 1);
        drawing.line(Layer::Slots, Point::new(x, 0.0), Point::new(x, width), Pen::Thin);
        stations.push(Station { at: Point::new(x, width), text: format!("{x:.2}"), name: line.to_string() });
    }
    for (index, (x, y, text)) in labels.iter().enumerate() {
        let at = Point::new(length * x, width * y);
        let label = Label::new(at, text.clone());
        let label = match index % 3 {
            0 => label.tip(Tip::Dot).toward(Side::ALL[index % 4]),
            1 => label.tip(Tip::Arrow).lettering(Lettering::STRONG).importance(Importance::High),
            _ => {
                drawing.circle(Layer::Holes, at, width / 30.0, Pen::Visible);
                label.clear_of(width / 30.0).importance(Importance::Low)
            }
        };
        drawing.label(label);
    }
    for (from, to, side) in dimensions {
        let side = Side::ALL[usize::from(*side) % 4];
        let (one, two) = (Point::new(length * from, width * from), Point::new(length * to, width * to));
        drawing.dimension(Linear::outside(one, two, side, format!("{:.2}", (to - from).abs() * length)));
    }
    drawing.ordinates(Ordinates {
        datum: Point::new(0.0, width),
        datum_name: "DATUM".to_owned(),
        side: Side::Top,
        stations,
        lettering: Lettering::NORMAL,
    });
    drawing.name_line(LineName {
        from: Point::ZERO,
        to: Point::new(length, 0.0),
        side: Side::Bottom,
        text: "LOWER EDGE".to_owned(),
        lettering: Lettering::STRONG,
        importance: Importance::Utmost,
    });
    drawing.note(Note {
        side: Side::Bottom,
        align: Align::Start,
        text: "to the datum".to_owned(),
        lettering: Lettering::STRONG,
        arrow: Some(Side::Left),
        importance: Importance::Utmost,
    });
    drawing
}

fn texts(picture: &Picture) -> Vec<String> {
    picture.texts().map(|text| text.text.clone()).collect()
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 40, failure_persistence: None, rng_seed: RngSeed::Fixed(2026), ..ProptestConfig::default() })]

    #[test]
    fn nothing_collides_and_nothing_is_lost(
        length in 30.0..700.0_f64,
        width in 10.0..80.0_f64,
        lines in 0..30_u32,
        labels in prop::collection::vec((0.0..1.0_f64, 0.0..1.0_f64, "[A-Za-z][a-z0-9 ]{0,18}"), 0..25),
        dimensions in prop::collection::vec((0.0..1.0_f64, 0.0..1.0_f64, 0..4_u8), 0..8),
    ) {
        let drawing = strip(length, width, lines, &labels, &dimensions);
        let picture = drawing.place(ROOM);
        prop_assert_eq!(picture.conflicts(), vec![]);
        prop_assert!(picture.width <= ROOM.width + 0.1, "{} wide", picture.width);
        let all = texts(&picture).join("\n");
        for (.., text) in &labels {
            for word in text.split_whitespace() {
                prop_assert!(all.contains(word), "{} is missing", text);
            }
        }
        prop_assert_eq!(&picture, &drawing.place(ROOM));
        assert_well_formed(&svg(&picture, "A strip"));
    }
}

/// A plain reading of the XML we write: tags nest, attributes are quoted, no stray sign.
fn assert_well_formed(text: &str) {
    let mut open: Vec<&str> = Vec::new();
    let body = text.strip_prefix("<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n").expect("starts as XML does");
    let mut rest = body;
    while let Some(start) = rest.find('<') {
        assert!(!rest[..start].contains('>'), "stray > in {:?}", &rest[..start]);
        for entity in rest[..start].split('&').skip(1) {
            assert!(entity.contains(';'), "bare & in {:?}", &rest[..start]);
        }
        let end = start + rest[start..].find('>').expect("every tag closes");
        let tag = &rest[start + 1..end];
        assert!(!tag.contains('<'), "< in a tag: {tag}");
        assert_eq!(tag.matches('"').count() % 2, 0, "odd quotes: {tag}");
        if let Some(name) = tag.strip_prefix('/') {
            assert_eq!(open.pop(), Some(name));
        } else if !tag.ends_with('/') {
            open.push(tag.split_whitespace().next().expect("a tag has a name"));
        }
        rest = &rest[end + 1..];
    }
    assert!(open.is_empty(), "not closed: {open:?}");
    for bad in ["NaN", "inf", "e-", "E-"] {
        assert!(!text.split('"').skip(1).step_by(2).any(|value| value.contains(bad)), "{bad} in an attribute");
    }
}

#[test]
fn the_checker_sees_what_collides() {
    let picture = strip(400.0, 60.0, 12, &[(0.5, 0.5, "hole".to_owned())], &[]).place(ROOM);
    assert_eq!(picture.conflicts(), vec![]);
    // Any text moved onto the middle of the view lies on lines there; any moved out of the frame is seen too.
    for (shift, outside) in [(Vec2::new(0.0, 0.0), false), (Vec2::new(1000.0, 0.0), true)] {
        let mut spoiled = picture.clone();
        let centre = Point::new(spoiled.width / 2.0, spoiled.height / 2.0);
        let text = spoiled
            .layers
            .iter_mut()
            .flat_map(|layer| &mut layer.items)
            .find_map(|item| match item {
                Item::Text(text) if text.text == "LOWER EDGE" => Some(text),
                _ => None,
            })
            .unwrap();
        text.at = centre + shift;
        let found = spoiled.conflicts();
        assert!(
            found.iter().any(|conflict| matches!(
                (conflict, outside),
                (Conflict::OutsidePicture { .. }, true) | (Conflict::LineThroughText { .. }, false)
            )),
            "{found:?}"
        );
    }
}

/// Long remarks on many holes close together.
fn crowd(count: u32) -> Vec<(f64, f64, String)> {
    (0..count)
        .map(|index| {
            let place = f64::from(index);
            (place * 0.37 % 1.0, place * 0.61 % 1.0, format!("a rather long remark on hole {index}"))
        })
        .collect()
}

#[test]
fn what_finds_no_room_becomes_a_number_in_the_key() {
    for (count, all_marked) in [(22, true), (90, false)] {
        let picture = strip(150.0, 40.0, 20, &crowd(count), &[]).place(ROOM);
        assert_eq!(picture.conflicts(), vec![]);
        assert!(!picture.key.is_empty());
        assert_eq!(picture.key.iter().all(|entry| entry.marked), all_marked, "{count} remarks");
        // The names of the cross lines are figures too, so the rings are told by their face.
        let ringed: Vec<&str> = picture
            .texts()
            .filter(|text| text.face == kerfbook::lettering::Face::CondensedBold)
            .map(|text| text.text.as_str())
            .collect();
        for entry in &picture.key {
            let shown = ringed.iter().filter(|text| **text == entry.number.to_string()).count();
            assert_eq!(shown, if entry.marked { 2 } else { 1 }, "number {}", entry.number);
            assert_eq!(entry.text.contains("no room"), !entry.marked);
        }
    }
}

#[test]
fn dimensions_round_and_angular_keep_clear() {
    let mut drawing = Drawing::new("", "A plate.");
    drawing.scaling = Scaling::Given(Scale::uniform(1.0));
    drawing.polygon(Layer::Outline, &[Point::ZERO, Point::new(60.0, 0.0), Point::new(60.0, 40.0)], Pen::Visible);
    drawing.circle(Layer::Holes, Point::new(45.0, 12.0), 6.0, Pen::Visible);
    drawing.centre_mark(Point::new(45.0, 12.0), 6.0);
    drawing.round(Round {
        centre: Point::new(45.0, 12.0),
        radius: 6.0,
        toward: Vec::new(),
        text: "Ø 12".to_owned(),
        lettering: Lettering::NORMAL,
        importance: Importance::Normal,
    });
    drawing.angle(AngleBetween {
        vertex: Point::ZERO,
        from: Point::new(60.0, 0.0),
        to: Point::new(60.0, 40.0),
        radius: 24.0,
        text: "33.69°".to_owned(),
    });
    drawing.dimension(Linear::outside(Point::ZERO, Point::new(60.0, 40.0), Side::Top, "72.11").aligned());
    drawing.label(Label::new(Point::new(60.0, 30.0), "edge").tip(Tip::Arrow).toward(Side::Right));
    let picture = drawing.place(ROOM);
    assert_eq!(picture.conflicts(), vec![]);
    for text in ["Ø 12", "33.69°", "72.11", "edge"] {
        assert!(texts(&picture).iter().any(|written| written == text), "{text}");
    }
    assert!(picture.key.is_empty());
}

#[test]
fn one_unit_of_the_file_is_one_millimetre_of_the_thing() {
    let picture = strip(400.0, 60.0, 0, &[], &[]).place(ROOM);
    let file = svg(&picture, "A strip");
    let outline = file.split("<g id=\"outline\"").nth(1).unwrap();
    let numbers: Vec<f64> = outline
        .split("d=\"")
        .nth(1)
        .unwrap()
        .split('"')
        .next()
        .unwrap()
        .split(|sign: char| !(sign.is_ascii_digit() || sign == '.' || sign == '-'))
        .filter(|part| !part.is_empty())
        .map(|part| part.parse().unwrap())
        .collect();
    let most = numbers.iter().copied().fold(f64::MIN, f64::max);
    let least = numbers.iter().copied().fold(f64::MAX, f64::min);
    // x runs from 0 to 400, y (turned down) from 0 to −60.
    assert!((most - 400.0).abs() < 1e-3 && (least + 60.0).abs() < 1e-3, "{least} … {most}");
}

#[test]
fn text_from_outside_is_inert_in_the_file() {
    let mut drawing = Drawing::new("<script>", "\"&'\u{1}");
    drawing.circle(Layer::Holes, Point::ZERO, 5.0, Pen::Visible);
    drawing.label(Label::new(Point::ZERO, "</text><script>alert(1)</script>\n&amp;").clear_of(5.0));
    let file = svg(&drawing.place(ROOM), "a\" onload=\"x");
    assert_well_formed(&file);
    assert!(!file.contains("<script"));
    assert!(!file.contains('\u{1}'));
}
