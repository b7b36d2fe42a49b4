//! Patterns at full size: read back as files, and held against the sheets' own tables.

use std::collections::BTreeMap;

use dxf::entities::{Entity, EntityType, LwPolyline};
use dxf::enums::Units;
use kerfbook::design::Design;
use kerfbook::drawing::contour::{Corner, centre_and_radius};
use kerfbook::drawing::{Contour, outline};
use kerfbook::lettering::MM_PER_POINT;
use kerfbook::model::Model;
use kerfbook::packet::Packet;
use kerfbook::sheets::patterns::{self, Edition, Kind, Pattern};
use kerfbook::sheets::{self, Job};
use kurbo::{Line, Point};

use super::dxf::{circles, near, read};
use super::figures::{model_of, models};
use super::mirror::{packet, rows};

/// The patterns of a commission as a draft.
fn patterns_of(model: &Model) -> Vec<Pattern> {
    let design = Design::of(model);
    let job = Job { model, design: &design, findings: &[], left_out: &[], ranges: &[] };
    let sheets = sheets::make(&job);
    let stamps: Vec<_> = sheets.iter().map(|sheet| sheet.stamp(&job)).collect();
    patterns::all(&job, &Edition::of(Some("DRAFT".to_owned()), sheets.iter().zip(&stamps)))
}

fn one(patterns: &[Pattern], id: &str) -> Option<Pattern> {
    patterns.iter().find(|pattern| pattern.id == id).cloned()
}

#[test]
fn no_text_lies_over_a_text_or_a_line_and_all_can_be_read() {
    let mut seen = 0;
    for (name, model) in models() {
        for pattern in patterns_of(&model) {
            let picture = pattern.plan.picture(3.0);
            assert_eq!(picture.conflicts(), vec![], "{name}: {}", pattern.id);
            for text in picture.texts() {
                assert!(text.size >= 7.0, "{name}: {} at {} points", text.text, text.size);
            }
            seen += 1;
        }
    }
    assert!(seen > 20, "{seen}");
}

#[test]
fn nothing_collides_on_boards_that_leave_no_room() {
    let replaced = |name: &str, changes: &[(&str, &str)]| {
        model_of(name, |text| {
            changes.iter().fold(text, |text, (from, to)| {
                assert!(text.contains(from), "{name}: {from}");
                text.replace(from, to)
            })
        })
    };
    let long = format!("number   = \"{}\"", "W".repeat(60));
    let boards = [
        replaced("T-204", &[("number   = \"T-204\"", &long)]),
        replaced("T-211", &[("number   = \"T-211\"", &long)]),
        // Slots less than 3 mm apart, and a fan whose last frets lie under some strings only.
        replaced("T-224", &[("divisions = 19", "divisions = 53"), ("count   = 34", "count   = 90")]),
        replaced("T-215", &[("count  = 24", "count  = 24\npartial = [{ fret = 24, strings = [1, 2, 3] }]")]),
        replaced("T-218", &[("[commission]", "[commission]\nhand = \"left\"")]),
    ];
    for model in &boards {
        let patterns = patterns_of(model);
        assert!(patterns.len() > 5);
        for pattern in patterns {
            assert_eq!(pattern.plan.picture(3.0).conflicts(), vec![], "{}", pattern.id);
        }
    }
}

#[test]
fn a_left_handed_pattern_is_the_mirror_image() {
    for name in ["T-204-lantern-street.toml", "T-215-breakwater.toml", "T-218-short-crossing.toml"] {
        let (right, left) = (packet(name, "right"), packet(name, "left"));
        // Corners and the turn of the piece after each, y up; strips and gauges are mirrored left to right.
        let geometry = |packet: &Packet, id: &str| {
            let layers = ["outline", "slots", "pockets-2.10", "pockets-2.20"];
            runs(&file(packet, id), |layer| layers.contains(&layer)).iter().map(contour).collect::<Vec<_>>()
        };
        let of_lit: &[&str] = if name.starts_with("T-218") { &[] } else { &["pattern-back"] };
        for id in ["pattern-face", "pattern-taper"].iter().chain(of_lit) {
            let (right, left) = (geometry(&right, id), geometry(&left, id));
            assert!(right.len() == left.len() && !right.is_empty(), "{name} {id}");
            let pieces = |contours: &[Contour]| {
                contours.iter().flat_map(|one| one.pieces().collect::<Vec<_>>()).collect::<Vec<_>>()
            };
            let left = pieces(&left);
            for (from, to, bulge) in pieces(&right) {
                let mirrored = |at: Point| Point::new(at.x, -at.y);
                let (from, to) = (mirrored(from), mirrored(to));
                let meets = |one: Point, other: Point| near(one.x, other.x) && near(one.y, other.y);
                // An outline may be walked either way round; then its arcs turn the other way as well.
                let there = left.iter().any(|(start, end, turn)| {
                    meets(*start, from) && meets(*end, to) && near(*turn, -bulge)
                        || meets(*start, to) && meets(*end, from) && near(*turn, bulge)
                });
                assert!(there, "{name} {id}: {from:?} to {to:?}, {bulge}");
            }
        }
    }
}

#[test]
fn every_pattern_says_whose_it_is_and_by_which_stamps_it_holds() {
    for (name, model) in models() {
        let number = model.commission.number.get().unwrap();
        let design = Design::of(&model);
        let job = Job { model: &model, design: &design, findings: &[], left_out: &[], ranges: &[] };
        let made = sheets::make(&job);
        let patterns = patterns_of(&model);
        for (index, pattern) in patterns.iter().enumerate() {
            assert!(!patterns[..index].iter().any(|other| other.id == pattern.id), "{name}: {} twice", pattern.id);
            let texts: Vec<String> = pattern.plan.picture(0.0).texts().map(|text| text.text.clone()).collect();
            let says = |what: &str| texts.iter().any(|text| text.contains(what));
            assert!(says(&number) && says("DRAFT"), "{name}: {}: {texts:?}", pattern.id);
            assert!(!pattern.sheets.is_empty(), "{name}: {}", pattern.id);
            for id in &pattern.sheets {
                let sheet = made.iter().find(|sheet| sheet.id == *id).unwrap();
                assert!(says(sheet.stamp(&job).as_str()), "{name}: {} lacks the stamp of {id}: {texts:?}", pattern.id);
            }
        }
    }
}

/// The closed and open runs of the layers that pass.
fn runs(drawing: &dxf::Drawing, on: impl Fn(&str) -> bool) -> Vec<LwPolyline> {
    let run = |entity: &Entity| match &entity.specific {
        EntityType::LwPolyline(run) if on(&entity.common.layer) => Some(run.clone()),
        _ => None,
    };
    drawing.entities().filter_map(run).collect()
}

fn contour(run: &LwPolyline) -> Contour {
    let corner = |vertex: &dxf::LwPolylineVertex| Corner { at: Point::new(vertex.x, vertex.y), bulge: vertex.bulge };
    Contour { corners: run.vertices.iter().map(corner).collect(), closed: run.is_closed() }
}

fn figure(row: &BTreeMap<String, String>, key: &str) -> f64 {
    row[key].parse().unwrap_or_else(|_| panic!("{key}: {}", row[key]))
}

fn file(packet: &Packet, id: &str) -> dxf::Drawing {
    let drawing = read(packet.file(&format!("drawings/{id}.dxf")).unwrap());
    assert_eq!(drawing.header.default_drawing_units, Units::Millimeters, "{id}");
    drawing
}

#[test]
fn slots_are_as_wide_as_the_kerf_and_end_where_the_fret_table_has_them() {
    // A lit board, a lit fan, a left-handed one, one with partial frets; none is bound.
    let boards = [
        ("T-204-lantern-street.toml", "right", 0.55),
        ("T-215-breakwater.toml", "right", 0.55),
        ("T-221-other-hand.toml", "left", 0.55),
        ("T-224-nineteen-bells.toml", "right", 0.54),
    ];
    for (name, hand, kerf) in boards {
        let packet = packet(name, hand);
        let drawing = file(&packet, "pattern-face");
        let slots = runs(&drawing, |layer| layer == "slots");
        let frets = rows(&packet, "tables/fret-table.csv");
        assert_eq!(slots.len(), frets.len(), "{name}");
        for (slot, fret) in slots.iter().zip(&frets) {
            assert!(slot.is_closed() && slot.vertices.len() == 4, "{name}");
            let at = |index: usize| Point::new(slot.vertices[index].x, slot.vertices[index].y);
            let ends = [at(0).midpoint(at(3)), at(1).midpoint(at(2))];
            for (end, (x, y)) in ends.iter().zip([("bass_x_mm", "bass_y_mm"), ("treble_x_mm", "treble_y_mm")]) {
                assert!(near(end.x, figure(fret, x)) && near(end.y, figure(fret, y)), "{name}: {end:?}, {fret:?}");
            }
            // From one wall to the other, square to them.
            let wall = (at(1) - at(0)).normalize();
            for index in [2, 3] {
                assert!(near(wall.cross(at(index) - at(0)).abs(), kerf), "{name}: fret {}", fret["fret"]);
            }
        }
    }
}

#[test]
fn a_bound_slot_stops_at_the_binding_and_the_zero_fret_is_cut_too() {
    // T-218 by hand: half an inch board of 1 11/16 in at x = 0, 2 3/16 in at fret 21 of a 24 in scale; binding 1/16 in.
    let end = 24.0 * 25.4 * (1.0 - 2.0_f64.powf(-21.0 / 12.0));
    let (nut, last, binding) = (1.6875 * 25.4 / 2.0, 2.1875 * 25.4 / 2.0, 25.4 / 16.0);
    let growth = (last - nut) / end;
    let packet = packet("T-218-short-crossing.toml", "right");
    let slots = runs(&file(&packet, "pattern-face"), |layer| layer == "slots");
    assert_eq!(slots.len(), 22);
    for (fret, slot) in (0_i32..).zip(&slots) {
        let x = 24.0 * 25.4 * (1.0 - 2.0_f64.powf(-f64::from(fret) / 12.0));
        let inner = nut + growth * x - binding * (1.0 + growth * growth).sqrt();
        let (bass, treble) = (&slot.vertices[0], &slot.vertices[1]);
        // The wall lies half a kerf nearer to the nut, where the board is so much narrower.
        let wall = inner - growth * 0.275;
        assert!(near(bass.y, -wall) && near(treble.y, wall), "fret {fret}: {} {wall}", treble.y);
        assert!(near(bass.x, x - 0.275), "fret {fret}");
    }
}

#[test]
fn holes_of_face_and_back_stand_where_the_drilling_chart_has_them() {
    for (name, hand) in
        [("T-204-lantern-street.toml", "right"), ("T-215-breakwater.toml", "right"), ("T-221-other-hand.toml", "left")]
    {
        let packet = packet(name, hand);
        let mut holes = rows(&packet, "tables/drilling-chart.csv");
        holes.retain(|hole| ["lamp", "exit of the lamps' wires"].contains(&hole["what"].as_str()));
        assert!(holes.len() > 9, "{name}");
        for (id, up) in [("pattern-face", 1.0), ("pattern-back", -1.0)] {
            let bored = circles(&file(&packet, id), |layer| layer == "holes");
            for hole in holes.iter().filter(|hole| id == "pattern-back" || hole["what"] == "lamp") {
                let place = [figure(hole, "x_mm"), up * figure(hole, "y_mm"), figure(hole, "diameter_mm")];
                // The wires' hole is the neck's: nothing on the board's layer of holes for a machine to bore.
                let exit = hole["what"] != "lamp";
                let own = if exit { circles(&file(&packet, id), |layer| layer == "hidden") } else { bored.clone() };
                assert!(!exit || !bored.iter().any(|one| near(one[0], place[0]) && near(one[1], place[1])), "{name}");
                let there = own.iter().any(|one| one.iter().zip(place).all(|(one, other)| near(*one, other)));
                assert!(there, "{name} {id}: hole {} at {place:?}", hole["hole"]);
            }
        }
        // Each counterbore is on the layer of the depth that the seats' table sets.
        let back = file(&packet, "pattern-back");
        for seat in rows(&packet, "tables/lamp-seats.csv") {
            let layer = format!("holes-{:.2}", figure(&seat, "set_mm"));
            let (x, y) = (figure(&seat, "x_mm"), -figure(&seat, "y_mm"));
            let bores = circles(&back, |on| on == layer);
            assert!(bores.iter().any(|bore| near(bore[0], x) && near(bore[1], y)), "{name}: {layer}, {seat:?}");
        }
    }
}

/// The runs of the cutter's middle as the routing map has them, seen from the back.
fn cutter_runs(pieces: &[BTreeMap<String, String>]) -> Vec<Line> {
    let run = |piece: &BTreeMap<String, String>| {
        let at = |x: &str, y: &str| Point::new(figure(piece, x), -figure(piece, y));
        let line = Line::new(at("x1_mm", "y1_mm"), at("x2_mm", "y2_mm"));
        // A side channel's own ends are the walls there: the cutter's middle stops half its width before them.
        let past = match piece["kind"].as_str() {
            "side" => (line.p1 - line.p0).normalize() * (figure(piece, "width_mm") / 2.0),
            _ => kurbo::Vec2::ZERO,
        };
        Line::new(line.p0 + past, line.p1 - past)
    };
    pieces.iter().filter(|piece| piece["kind"] != "exit").map(run).collect()
}

fn distance(line: &Line, at: Point) -> f64 {
    let run = line.p1 - line.p0;
    let share = ((at - line.p0).dot(run) / run.hypot2()).clamp(0.0, 1.0);
    (at - line.p0.lerp(line.p1, share)).hypot()
}

#[test]
fn the_channels_walls_are_what_a_round_cutter_leaves_along_the_routing_map() {
    for (name, hand) in
        [("T-204-lantern-street.toml", "right"), ("T-215-breakwater.toml", "right"), ("T-221-other-hand.toml", "left")]
    {
        let packet = packet(name, hand);
        let pieces = rows(&packet, "tables/routing-map.csv");
        let (width, depth) = (figure(&pieces[0], "width_mm"), figure(&pieces[0], "depth_mm"));
        let layer = format!("pockets-{depth:.2}");
        let walls = runs(&file(&packet, "pattern-back"), |on| on == layer);
        let crosses = pieces.iter().filter(|piece| piece["kind"] == "cross").count();
        assert_eq!(walls.len(), crosses + 1, "{name}: the outer wall, and an island before each cross channel but one");
        assert!(walls.iter().all(LwPolyline::is_closed), "{name}");
        let walls: Vec<Contour> = walls.iter().map(contour).collect();
        let arcs: Vec<(Point, f64)> = walls
            .iter()
            .flat_map(Contour::pieces)
            .filter_map(|(from, to, bulge)| centre_and_radius(from, to, bulge))
            .collect();
        assert_eq!(arcs.len(), 4, "{name}: a round corner where each side channel ends");
        let runs = cutter_runs(&pieces);
        for (centre, radius) in &arcs {
            assert!(near(*radius, width / 2.0), "{name}: {radius}");
            let meets = runs.iter().filter(|run| distance(run, *centre) < 0.001).count();
            assert_eq!(meets, 2, "{name}: {centre:?} is a crossing of two channels");
        }
        // Second opinion: a place is cut exactly if some run of the cutter's middle passes within its radius.
        let pieces: Vec<Line> = walls.iter().flat_map(|wall| outline::straight_pieces(&wall.path(), 0.0005)).collect();
        let bounds = walls[0].bounds().unwrap().inflate(2.0, 2.0);
        let (mut cut, mut left) = (0, 0);
        let grid = |length: f64| (0..2000).map(|step| 0.37 * f64::from(step)).take_while(move |at| *at < length);
        for x in grid(bounds.width()) {
            for y in grid(bounds.height()) {
                let at = Point::new(bounds.x0 + x, bounds.y0 + y);
                let reach = runs.iter().map(|run| distance(run, at)).fold(f64::INFINITY, f64::min) - width / 2.0;
                if reach.abs() < 0.002 {
                    continue;
                }
                assert_eq!(outline::encloses(&pieces, at), reach < 0.0, "{name}: {at:?}, {reach}");
                if reach < 0.0 { cut += 1 } else { left += 1 }
            }
        }
        assert!(cut > 10_000 && left > 30_000, "{name}: {cut} {left}");
    }
}

#[test]
fn the_tapers_outline_is_the_wood_as_it_is_planed() {
    for (name, hand) in [
        ("T-204-lantern-street.toml", "right"),
        ("T-207-ferry-bell.toml", "right"),
        ("T-218-short-crossing.toml", "right"),
        ("T-221-other-hand.toml", "left"),
    ] {
        let packet = packet(name, hand);
        let up = if hand == "left" { -1.0 } else { 1.0 };
        let outlines = runs(&file(&packet, "pattern-taper"), |layer| layer == "outline");
        assert_eq!(outlines.len(), 1, "{name}");
        let edges: Vec<(Point, Point)> = contour(&outlines[0]).pieces().map(|(from, to, _)| (from, to)).collect();
        let stations = rows(&packet, "tables/taper.csv");
        assert!(stations.len() > 6, "{name}");
        for station in &stations {
            let x = figure(station, "x_mm");
            for (key, side) in [("plane_bass_mm", -up), ("plane_treble_mm", up)] {
                let at = Point::new(x, side * figure(station, key));
                let on = |(from, to): &(Point, Point)| distance(&Line::new(*from, *to), at) < 0.001;
                assert!(edges.iter().any(on), "{name}: {} {key} at {at:?}", station["station"]);
            }
        }
    }
}

#[test]
fn what_is_open_leaves_its_pattern_out_and_nothing_else() {
    let open = |from: &'static str, to: &'static str| {
        patterns_of(&model_of("T-204", move |text| {
            assert!(text.contains(from), "{from}");
            text.replace(from, to)
        }))
    };
    let whole = patterns_of(&model_of("T-204", |text| text));
    for id in ["pattern-face", "pattern-taper", "pattern-back"] {
        assert!(one(&whole, id).is_some(), "{id}");
    }
    let no_width = open("width_nut = \"43 mm\"", "width_nut = \"open\"");
    for id in ["pattern-face", "pattern-taper", "pattern-back"] {
        assert!(one(&no_width, id).is_none(), "{id}");
    }
    let no_margin = open("margin    = \"4 mm\"", "margin    = \"open\"");
    assert!(one(&no_margin, "pattern-back").is_none() && one(&no_margin, "pattern-face").is_some());
    assert!(one(&patterns_of(&model_of("T-218", |text| text)), "pattern-back").is_none(), "nothing is routed into it");
}

/// The upright lines of a layer by their x, from the left.
fn uprights(drawing: &dxf::Drawing, layer: &str) -> Vec<f64> {
    let upright = |entity: &Entity| match &entity.specific {
        EntityType::Line(line) if entity.common.layer == layer && near(line.p1.x, line.p2.x) => Some(line.p1.x),
        _ => None,
    };
    let mut places: Vec<f64> = drawing.entities().filter_map(upright).collect();
    places.sort_by(f64::total_cmp);
    places
}

#[test]
fn strings_cross_the_strips_where_the_table_has_them() {
    for (name, hand) in [
        ("T-204-lantern-street.toml", "right"),
        ("T-215-breakwater.toml", "right"),
        ("T-218-short-crossing.toml", "right"),
        ("T-221-other-hand.toml", "left"),
    ] {
        let packet = packet(name, hand);
        let strings = rows(&packet, "tables/nut-and-saddle.csv");
        // String 1 is the highest: at the right of a strip seen from the saddle, at the left of a left-handed one.
        let toward_bass = if hand == "left" { 1.0 } else { -1.0 };
        for (id, key) in [("pattern-nut", "nut_along_mm"), ("pattern-saddle", "saddle_along_mm")] {
            let drawing = file(&packet, id);
            let mut expected: Vec<f64> = strings.iter().map(|string| toward_bass * figure(string, key)).collect();
            expected.sort_by(f64::total_cmp);
            let marks = uprights(&drawing, "centre");
            assert_eq!(marks.len(), expected.len(), "{name} {id}");
            assert!(marks.iter().zip(&expected).all(|(one, other)| near(*one, *other)), "{name} {id}: {marks:?}");
            // Each as wide as its string, in the order of the strings.
            let widths = runs(&drawing, |layer| layer == "slots")
                .iter()
                .map(|run| contour(run).bounds().unwrap().width())
                .collect::<Vec<_>>();
            let slots = strings.iter().map(|string| figure(string, "slot_from_mm") - 0.05);
            assert!(widths.iter().zip(slots).all(|(width, gauge)| near(*width, gauge)), "{name} {id}: {widths:?}");
        }
    }
}

#[test]
fn a_fans_strips_lie_along_its_slant() {
    // Worked by hand and by a second program: spreads of 45 and 70 mm are 45.7619 and 71.9618 mm along the slanted nut
    // and saddle of scales of 690 and 665 mm that stand square at fret 7; no published source.
    let small = |text: String| {
        [
            ("bass        = \"27 1/2 in\"", "bass = \"690 mm\""),
            ("treble      = \"26 in\"", "treble = \"665 mm\""),
            ("spread_nut    = \"49 mm\"", "spread_nut = \"45 mm\""),
            ("spread_saddle = \"73.5 mm\"", "spread_saddle = \"70 mm\""),
        ]
        .iter()
        .fold(text, |text, (from, to)| {
            assert!(text.contains(from), "{from}");
            text.replace(from, to)
        })
    };
    let patterns = patterns_of(&model_of("T-215", small));
    for (id, along) in [("pattern-nut", 45.7619), ("pattern-saddle", 71.9618)] {
        let plan = one(&patterns, id).unwrap().plan;
        let marks = uprights(&read(kerfbook::emit::dxf::dxf(&plan).as_bytes()), "centre");
        let spread = marks[marks.len() - 1] - marks[0];
        assert!((spread - along).abs() < 6e-5, "{id}: {spread}");
    }
}

#[test]
fn radius_gauges_are_true_arcs_of_the_radius_they_are_lettered_with() {
    let cone = "nut = \"10 in\"\nend = \"16 in\"\nend_at = \"600 mm\"";
    let boards = [
        model_of("T-204", |text| text),
        model_of("T-204", |text| text.replace("board = \"16 in\"", cone)),
        model_of("T-218", |text| text),
        model_of("T-215", |text| text),
    ];
    let mut seen = 0;
    for model in &boards {
        let design = Design::of(model);
        let job = Job { model, design: &design, findings: &[], left_out: &[], ranges: &[] };
        let gauges: Vec<Pattern> =
            patterns_of(model).into_iter().filter(|pattern| pattern.id.starts_with("pattern-radius")).collect();
        assert_eq!(
            gauges.len(),
            if matches!(design.face, Ok(kerfbook::design::board::face::Face::Cone { .. })) { 3 } else { 1 }
        );
        for gauge in gauges {
            let place = match gauge.id.strip_prefix("pattern-radius").unwrap() {
                "" => 0.0,
                "-nut" => 0.0,
                fret => design.layout.as_ref().unwrap().fret(fret[6..].parse().unwrap()).unwrap().x,
            };
            let radius = match place {
                // A cone is linear along x: 10 in at the nut, 16 in at 600 mm; 16 in, and 20 in at the last fret.
                place if gauge.id.len() > "pattern-radius".len() => {
                    let fan = model.commission.number.get().unwrap() == "T-215";
                    let last = design.layout.as_ref().unwrap().last_line().x;
                    let (nut, end, at) = if fan { (16.0, 20.0, last) } else { (10.0, 16.0, 600.0) };
                    25.4 * (nut + (end - nut) * place / at)
                }
                _ => design.face.unwrap().radius(0.0),
            };
            let drawing = read(kerfbook::emit::dxf::dxf(&gauge.plan).as_bytes());
            let outlines: Vec<Contour> = runs(&drawing, |layer| layer == "outline").iter().map(contour).collect();
            assert_eq!(outlines.len(), 2, "{}", gauge.id);
            for (outline, over) in outlines.iter().zip([true, false]) {
                let arc = outline.pieces().find(|(.., bulge)| *bulge != 0.0).unwrap();
                let (centre, own) = centre_and_radius(arc.0, arc.1, arc.2).unwrap();
                assert!(near(own, radius) && near(centre.x, 0.0), "{}: {own} for {radius}", gauge.id);
                // The wood's middle lies below both arcs: one gauge is above its arc, one below.
                let apex = centre.y + own;
                let card = outline.bounds().unwrap();
                assert_eq!(card.y1 > apex + 1.0, over, "{}: {card:?} {apex}", gauge.id);
                assert!(card.width() >= 2.0 * design.edges.unwrap().wider_half(design.end.unwrap()));
            }
            let texts: Vec<String> = gauge.plan.picture(0.0).texts().map(|text| text.text.clone()).collect();
            let lettered = format!("R {} (", job.length_with_unit(radius));
            assert_eq!(texts.iter().filter(|text| text.starts_with(&lettered)).count(), 2, "{texts:?}");
            // How it lies, and where that is not anywhere: on a fan it does not lie along its fret.
            assert!(texts.contains(&"lay it SQUARE to the centreline".to_owned()), "{texts:?}");
            let at = format!("{} from the squared end", job.length_with_unit(place - design.squared_end.unwrap()));
            let is_cone = gauge.id != "pattern-radius";
            assert_eq!(texts.iter().filter(|text| **text == at).count(), if is_cone { 2 } else { 0 }, "{texts:?}");
            seen += 1;
        }
    }
    assert_eq!(seen, 8);
}

#[test]
fn a_flat_board_has_no_radius_gauge() {
    let flat = patterns_of(&model_of("T-204", |text| text.replace("board = \"16 in\"", "board = \"flat\"")));
    assert!(flat.iter().all(|pattern| !pattern.id.contains("radius")));
    assert!(one(&flat, "pattern-face").is_some());
}

#[test]
fn gauge_strips_go_by_the_limits_that_are_signed_off() {
    let packet = packet("T-204-lantern-street.toml", "right");
    let signed = rows(&packet, "tables/sign-off.csv");
    let limits = |what: &str| {
        let row = signed.iter().find(|row| row["what"].contains(what)).unwrap_or_else(|| panic!("{what}"));
        (figure(row, "low"), figure(row, "high"))
    };
    let names: Vec<&str> = packet
        .files
        .iter()
        .filter_map(|file| file.path.strip_prefix("drawings/gauge-")?.strip_suffix(".dxf"))
        .collect();
    let stops = rows(&packet, "tables/lamp-seats.csv")
        .iter()
        .map(|lamp| lamp["stop"].clone())
        .collect::<std::collections::BTreeSet<_>>();
    assert_eq!(names.len(), stops.len() + 2, "slots, channels, and each stop: {names:?}");
    for name in names {
        let (low, high) = match name {
            name if name.starts_with("slot-depth") => limits("fret 12, depth of the slot"),
            name if name.starts_with("channel-depth") => limits("depth of a side channel"),
            name => limits(&format!("stop {}, depth of a seat", name["seat-stop-".len()..][..1].to_uppercase())),
        };
        let outlines = runs(&file(&packet, &format!("gauge-{name}")), |layer| layer == "outline");
        assert!(outlines.len() == 1 && outlines[0].is_closed(), "{name}");
        // From the tip of each tongue to its shoulders, the strip's widest part.
        let corners = contour(&outlines[0]).corners;
        let widest = corners.iter().map(|corner| corner.at.x).fold(0.0, f64::max);
        let shoulders: Vec<f64> =
            corners.iter().filter(|corner| near(corner.at.x, widest)).map(|corner| corner.at.y).collect();
        let tips = |pick: fn(f64, f64) -> f64, from: f64| corners.iter().map(|corner| corner.at.y).fold(from, pick);
        let (go, no_go) =
            (shoulders[0] - tips(f64::min, f64::INFINITY), tips(f64::max, f64::NEG_INFINITY) - shoulders[1]);
        assert!(near(go, low) && near(no_go, high), "{name}: {go} {no_go} for {low} {high}");
    }
}

#[test]
fn a_dot_whose_depth_has_no_tolerance_has_a_strip_that_only_goes() {
    let patterns = patterns_of(&model_of("T-224", |text| text));
    let dot = one(&patterns, "gauge-dot-depth-1-80").unwrap();
    let texts: Vec<String> = dot.plan.picture(0.0).texts().map(|text| text.text.clone()).collect();
    assert!(texts.iter().any(|text| text.starts_with("GO 1.80")), "{texts:?}");
    assert!(!texts.iter().any(|text| text.contains("NO-GO")), "{texts:?}");
}

#[test]
fn a_pattern_as_long_as_the_board_has_the_instruments_own_x() {
    for (name, model) in models() {
        let design = Design::of(&model);
        let outline = design.outline.as_ref().unwrap();
        for pattern in patterns_of(&model).iter().filter(|pattern| pattern.kind == Kind::Board) {
            let bounds = pattern.plan.bounds().unwrap();
            assert!(pattern.along_board && bounds.x0 <= outline.squared_end + 1e-9, "{name}: {}", pattern.id);
            assert!(bounds.x1 >= outline.far_corner() - 1e-9, "{name}: {}", pattern.id);
            for text in pattern.plan.picture(0.0).texts() {
                assert!(text.size * MM_PER_POINT > 2.4);
            }
        }
    }
}

#[test]
fn a_tongue_for_a_bore_rests_beside_the_hole_or_is_not_made() {
    let gauges = |model: &Model| {
        let patterns = patterns_of(model);
        patterns.into_iter().filter(|pattern| pattern.id.starts_with("gauge-seat")).collect::<Vec<_>>()
    };
    // The demo shop's lamp: a hole of 3.1 mm through a counterbore of 4.2 mm.
    let usual = gauges(&model_of("T-204", |text| text));
    assert!(usual.len() >= 2);
    for gauge in usual {
        let drawing = read(kerfbook::emit::dxf::dxf(&gauge.plan).as_bytes());
        let corners = contour(&runs(&drawing, |layer| layer == "outline")[0]).corners;
        let lowest = corners.iter().map(|corner| corner.at.y).fold(f64::INFINITY, f64::min);
        let tip: Vec<f64> =
            corners.iter().filter(|corner| near(corner.at.y, lowest)).map(|corner| corner.at.x).collect();
        let width = (tip[0] - tip[1]).abs();
        // Pushed against one wall it has 0.3 mm of play and still covers the hole's other rim.
        assert!(near(width, 3.9), "{}: {width}", gauge.id);
    }
    let wide = gauges(&model_of("T-204", |text| {
        let lamp = text.replace("[lamp]", "[lamp]\nhole = \"3.6 mm\"");
        assert_ne!(lamp, text);
        lamp
    }));
    assert!(wide.is_empty(), "a tongue that could drop in proves nothing");
}
