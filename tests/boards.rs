//! Laws that hold for every board, over boards of many kinds, and second opinions of a polygon library (`geo`).
//!
//! A thousand boards and more are generated: one scale and fans, both hands, bound and not, several divisions, flat,
//! radiused and conical, lit and plain, with partial frets and without.

use geo::algorithm::line_intersection::{LineIntersection, line_intersection};
use geo::{
    Area, BooleanOps, Buffer, Contains, Coord, Distance, Euclidean, Line, LineString, MultiPolygon, Point, Polygon,
};
use kerfbook::design::Design;
use kerfbook::design::board::strings::StringPlaces;
use kerfbook::diag::{Report, Severity};
use kerfbook::geom::{Circle, Convex, Strip};
use kerfbook::model::{Model, resolve};
use kerfbook::source::{SourceFile, Sources};
use kerfbook::spec;
use kerfbook::spec::words::{Hand, Side};
use proptest::prelude::*;
use proptest::test_runner::RngSeed;

/// What a generated board is made from.
#[derive(Debug, Clone)]
pub(crate) struct Board {
    pub(crate) strings: usize,
    pub(crate) frets: u32,
    pub(crate) divisions: u32,
    pub(crate) left: bool,
    pub(crate) fan: Option<(f64, u32)>,
    pub(crate) binding: f64,
    pub(crate) radius: Radius,
    pub(crate) nut: &'static str,
    pub(crate) scale: f64,
    pub(crate) along_last: bool,
    pub(crate) lit: bool,
    pub(crate) cut: &'static str,
    pub(crate) each: bool,
    pub(crate) partial: Partial,
}

#[derive(Debug, Clone, Copy)]
pub(crate) enum Radius {
    Flat,
    One(f64),
    Cone(f64, f64),
}

/// Which strings the last frets lie under.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum Partial {
    None,
    Treble,
    Bass,
    Middle,
}

/// Boards that a shop could be asked for.
pub(crate) fn boards() -> impl Strategy<Value = Board> {
    let fan = prop_oneof![Just(None), (8.0..32.0_f64, 0..14_u32).prop_map(Some)];
    let radius = prop_oneof![
        Just(Radius::Flat),
        (230.0..510.0_f64).prop_map(Radius::One),
        (230.0..300.0_f64, 300.0..510.0_f64).prop_map(|(nut, end)| Radius::Cone(nut, end)),
    ];
    let partial = prop_oneof![Just(Partial::None), Just(Partial::Treble), Just(Partial::Bass), Just(Partial::Middle)];
    (
        (4..=12_usize, 12..=36_u32, prop_oneof![Just(12_u32), Just(19), Just(24)], any::<bool>(), fan),
        (prop_oneof![Just(0.0), 1.0..2.5_f64], radius, prop_oneof![Just("board end"), Just("slot"), Just("zero fret")]),
        (560.0..900.0_f64, any::<bool>(), any::<bool>(), any::<bool>()),
        prop_oneof![Just("before radiusing"), Just("after radiusing"), Just("following the radius")],
        partial,
    )
        .prop_map(
            |(
                (strings, frets, divisions, left, fan),
                (binding, radius, nut),
                (scale, along_last, lit, each),
                cut,
                partial,
            )| {
                Board {
                    strings,
                    frets,
                    divisions,
                    left,
                    fan,
                    binding,
                    radius,
                    nut,
                    scale,
                    along_last,
                    lit,
                    cut,
                    each,
                    partial,
                }
            },
        )
}

impl Board {
    /// The partial frets with the first and the last string that each serves: the last three frets, ever fewer strings.
    pub(crate) fn partial_frets(&self) -> Vec<(u32, usize, usize)> {
        let of = |index: u32| {
            let fewer = index as usize;
            let strings = match self.partial {
                Partial::None => return None,
                Partial::Treble => (1, self.strings - 1 - fewer),
                Partial::Bass => (2 + fewer, self.strings),
                Partial::Middle => (2, (self.strings - 1 - fewer).max(2)),
            };
            Some((self.frets - 2 + index, strings.0, strings.1))
        };
        (0..3).filter_map(of).collect()
    }

    /// The commission file.
    pub(crate) fn text(&self) -> String {
        let gaps = self.strings as f64 - 1.0;
        let (nut, saddle) = (7.2 * gaps, 10.4 * gaps);
        let scale = match self.fan {
            None => format!("length = \"{:.4} mm\"\ndivisions = {}", self.scale, self.divisions),
            Some((spread, square)) => format!(
                "bass = \"{:.4} mm\"\ntreble = \"{:.4} mm\"\nsquare_fret = {}\ndivisions = {}",
                self.scale + spread,
                self.scale,
                square.min(self.frets),
                self.divisions
            ),
        };
        let behind = if self.nut == "board end" { "" } else { "behind_nut = \"25 mm\"\n" };
        let radius = match self.radius {
            Radius::Flat => "board = \"flat\"".to_owned(),
            Radius::One(radius) => format!("board = \"{radius:.3} mm\""),
            Radius::Cone(nut, end) => {
                format!("nut = \"{nut:.3} mm\"\nend = \"{end:.3} mm\"\nend_at = \"last fret\"")
            }
        };
        let partial = self
            .partial_frets()
            .into_iter()
            .map(|(fret, first, last)| {
                format!("{{ fret = {fret}, strings = {:?} }}", (first..=last).collect::<Vec<_>>())
            })
            .collect::<Vec<_>>()
            .join(", ");
        let octave = self.divisions.min(self.frets);
        let lit = if self.lit { LIT } else { "" };
        let kind = if self.lit { "lit" } else { "plain" };
        let dot = if self.lit { "" } else { "dot = \"4 mm\"\ndot_depth = \"1.5 mm\"\n" };
        let strings = (0..self.strings)
            .map(|index| {
                format!(
                    "{{ note = \"E{}\", gauge = \"{:.3} mm\", kind = \"plain\" }}",
                    4 - index % 4,
                    0.25 + 0.1 * index as f64
                )
            })
            .collect::<Vec<_>>()
            .join(", ");
        format!(
            "format = 1\n[commission]\nnumber = \"G-1\"\ntitle = \"generated\"\nhand = \"{}\"\n[scale]\n{scale}\n[frets]\ncount = {}\n\
             nut_at = \"{}\"\n{behind}partial = [{partial}]\n[wire]\ncrown_width = \"1.5 mm\"\ncrown_height = \"1.2 mm\"\ntang_depth = \"1.5 mm\"\n\
             tang_width = \"0.5 mm\"\nbarb_width = \"0.74 mm\"\n[slots]\nkerf = \"0.56 mm\"\ncut = \"{}\"\nsetting = \"{}\"\n\
             [radius]\n{radius}\n[taper]\nwidth_nut = \"{:.4} mm\"\nwidth_end = \"{:.4} mm\"\nend_at = \"last fret\"\n\
             past_last = \"12 mm\"\nend_cut = \"{}\"\n[board]\nwood = \"x\"\ndensity = \"800 kg/m3\"\nthickness = \"9 mm\"\n\
             binding = \"{} mm\"\n[markers]\nkind = \"{kind}\"\nsingle = [1, 3, 5]\ndouble = [{octave}]\ninset = \"2/5 half-width\"\n{dot}\
             side = {{ dot = \"2 mm\", depth = \"2 mm\" }}\n{lit}[strings]\nspread_nut = \"{nut:.4} mm\"\nspread_saddle = \"{saddle:.4} mm\"\n\
             spacing = \"equal centres\"\nset = [{strings}]\n",
            if self.left { "left" } else { "right" },
            self.frets,
            self.nut,
            self.cut,
            if self.each { "each" } else { "one" },
            nut + 8.0,
            nut + 8.0 + 1.8 * gaps,
            if self.along_last { "along last fret" } else { "square" },
            self.binding,
        )
    }
}

const LIT: &str = "[lamp]\nhole = \"3.1 mm\"\nlens = \"3 mm\"\nlens_height = \"3.6 mm\"\nflange = \"3.8 mm\"\n\
    flange_height = \"1 mm\"\nlead_bend = \"0.9 mm\"\ncounterbore = \"4.2 mm\"\nforward = \"2 V\"\ncurrent = \"2 mA\"\n\
    max_current = \"20 mA\"\n[channels]\nwidth = \"3 mm\"\ndepth = \"2.2 mm\"\nexit_past = \"4 mm\"\nexit_y = \"5 mm bass\"\n\
    exit_hole = \"4 mm\"\n[electronics.lamps]\nsupply = \"9 V\"\nsupply_fresh = \"9.6 V\"\nsupply_low = \"7 V\"\nin_series = 2\n\
    resistors = \"cavity\"\nresistor_rating = \"0.125 W\"\nswitch = \"slide\"\nhookup = \"0.7 mm\"\n";

/// Reads, resolves and computes; a generated board has no fault of form.
pub(crate) fn designed(text: &str) -> (Model, Design) {
    let mut sources = Sources::default();
    let mut report = Report::default();
    let file = sources.add(SourceFile::new("generated.toml", text));
    let written = spec::read(&sources, file, &mut report);
    let model = resolve::resolve(&written, None, &mut report);
    assert!(!report.has_errors(), "{text}\n{:?}", report.findings());
    let model = model.unwrap();
    let design = Design::of(&model);
    (model, design)
}

/// So many boards, the same ones on every machine and in every run.
fn config(cases: u32) -> ProptestConfig {
    ProptestConfig { cases, failure_persistence: None, rng_seed: RngSeed::Fixed(2026), ..ProptestConfig::default() }
}

fn coordinate(point: kerfbook::geom::Point) -> Coord {
    Coord { x: point.x, y: point.y }
}

fn polygon(area: &Convex) -> Polygon {
    Polygon::new(LineString::new(area.corners().iter().map(|corner| coordinate(*corner)).collect()), Vec::new())
}

/// A circle as a polygon of many corners, of the circle's own area.
fn round(circle: &Circle) -> Polygon {
    let corners = 720;
    let step = std::f64::consts::TAU / f64::from(corners);
    let radius = circle.radius * (step / step.sin()).sqrt();
    let corner = |index: i32| {
        let (sin, cos) = (f64::from(index) * step).sin_cos();
        Coord { x: circle.centre.x + radius * cos, y: circle.centre.y + radius * sin }
    };
    Polygon::new((0..corners).map(corner).collect(), Vec::new())
}

proptest! {
    #![proptest_config(config(300))]

    #[test]
    fn every_slot_lies_on_its_line_and_inside_the_board(board in boards()) {
        let (model, design) = designed(&board.text());
        let outline = design.outline.as_ref().unwrap();
        let findings = kerfbook::checks::run(&model, &design).findings;
        let stopped = findings.iter().any(|finding| finding.severity == Severity::Error);
        // A hair wider than the board, for slots end on its edge.
        let area = polygon(&outline.area).buffer(1e-6);
        let edges: Vec<Line> = Side::BOTH
            .iter()
            .map(|side| {
                let edge = design.edges.unwrap().on(*side);
                let at = |x: f64| Coord { x, y: side.toward_treble() * edge.half(x) };
                Line::new(at(-200.0), at(1200.0))
            })
            .collect();
        for (_, slot) in design.slots.as_ref().unwrap() {
            let slot = slot.unwrap();
            let (start, end) = (coordinate(slot.crown.start), coordinate(slot.crown.end));
            prop_assert!(area.contains(&Line::new(start, end)) || stopped, "a board that passes has no slot outside");
            // Second opinion on where the fret's line meets both edges.
            let fret = Line::new(
                Coord { x: slot.line.at(-200.0), y: -200.0 },
                Coord { x: slot.line.at(200.0), y: 200.0 },
            );
            for (edge, own) in edges.iter().zip([start, end]).zip(slot.reaches).filter_map(|(end, reaches)| reaches.then_some(end)) {
                let Some(LineIntersection::SinglePoint { intersection, .. }) = line_intersection(fret, *edge) else {
                    return Err(TestCaseError::fail("a fret meets both edges"));
                };
                prop_assert!(Euclidean.distance(Point(intersection), Point(own)) < 1e-7);
            }
            for ((edge, own), reaches) in edges.iter().zip([slot.cut.start, slot.cut.end]).zip(slot.reaches) {
                let inset = Euclidean.distance(&Point(coordinate(own)), edge);
                let binding = model.board.binding.mm().unwrap();
                prop_assert!(!reaches || (inset - binding).abs() < 1e-7, "the slot stops at the binding");
            }
        }
    }

    #[test]
    fn gaps_shrink_by_one_step_and_straight_frets_divide_every_string(board in boards()) {
        let (model, design) = designed(&board.text());
        let layout = design.layout.as_ref().unwrap();
        let ratio = (-1.0 / f64::from(board.divisions)).exp2();
        let places = StringPlaces::of(&model).unwrap();
        for string in 1..=places.count() {
            // Where each fret's line crosses this string, measured from its place at the zero line.
            let at = |share: f64| places.across(string, share).unwrap();
            let along = |fret: usize| {
                let line = layout.fret(fret).unwrap();
                let (nut, saddle) = (layout.zero_line().at(at(0.0)), layout.saddle().at(at(1.0)));
                let string = Line::new(Coord { x: nut, y: at(0.0) }, Coord { x: saddle, y: at(1.0) });
                let fret = Line::new(Coord { x: line.at(-300.0), y: -300.0 }, Coord { x: line.at(300.0), y: 300.0 });
                let Some(LineIntersection::SinglePoint { intersection, .. }) = line_intersection(fret, string) else {
                    return f64::NAN;
                };
                let length = Euclidean.distance(Point(string.start), Point(string.end));
                Euclidean.distance(Point(string.start), Point(intersection)) / length
            };
            for fret in 1..=layout.last() {
                let share = 1.0 - ratio.powi(i32::try_from(fret).unwrap());
                prop_assert!((along(fret) - share).abs() < 1e-9, "string {string}, fret {fret}");
            }
        }
    }

    #[test]
    fn a_partial_fret_stops_midway_between_two_strings(board in boards()) {
        let (model, design) = designed(&board.text());
        let layout = design.layout.as_ref().unwrap();
        let places = StringPlaces::of(&model).unwrap();
        // Second opinion: the fret's line meets both neighbours; the cut stops halfway between the two crossings.
        let string = |number: usize| {
            let at = |line: &kerfbook::design::board::layout::StationLine, share: f64| {
                let across = places.across(number, share).unwrap();
                Coord { x: line.at(across), y: across }
            };
            Line::new(at(&layout.zero_line(), 0.0), at(&layout.saddle(), 1.0))
        };
        let slots = design.slots.as_ref().unwrap();
        let mut seen = 0;
        for (fret, slot) in slots {
            let slot = slot.unwrap();
            let partial = board.partial_frets().into_iter().find(|(of, ..)| usize::try_from(*of) == Ok(*fret));
            let Some((_, first, last)) = partial else {
                prop_assert!(!slot.is_partial(), "fret {fret} is whole");
                continue;
            };
            let line = Line::new(
                Coord { x: slot.line.at(-300.0), y: -300.0 },
                Coord { x: slot.line.at(300.0), y: 300.0 },
            );
            let crossing = |number: usize| match line_intersection(line, string(number)) {
                Some(LineIntersection::SinglePoint { intersection, .. }) => intersection,
                _ => Coord { x: f64::NAN, y: f64::NAN },
            };
            let inner = |own: kerfbook::geom::Point, a: usize, b: usize| {
                let middle = (crossing(a) + crossing(b)) / 2.0;
                Euclidean.distance(Point(middle), Point(coordinate(own))) < 1e-7
            };
            // The bass end lies beyond the last string served, the treble end before the first.
            prop_assert_eq!(slot.reaches, [last == board.strings, first == 1]);
            prop_assert!(slot.reaches[0] || inner(slot.cut.start, last, last + 1), "fret {fret}, bass end");
            prop_assert!(slot.reaches[1] || inner(slot.cut.end, first - 1, first), "fret {fret}, treble end");
            seen += 1;
        }
        prop_assert_eq!(seen, board.partial_frets().len());
    }

    #[test]
    fn the_other_hand_is_the_mirror_image(board in boards()) {
        let (_, right) = designed(&Board { left: false, ..board.clone() }.text());
        let (_, left) = designed(&Board { left: true, ..board }.text());
        prop_assert_eq!(format!("{:?}", right.slots), format!("{:?}", left.slots));
        prop_assert_eq!(format!("{:?}", right.markers), format!("{:?}", left.markers));
        let (there, here) = (Hand::Right.y(12.5), Hand::Left.y(12.5));
        prop_assert!((there + here).abs() < 1e-12);
    }

    #[test]
    fn a_tighter_radius_needs_deeper_slots(board in boards(), radius in 240.0..480.0_f64) {
        let at = |radius: f64| {
            let (_, design) = designed(&Board { radius: Radius::One(radius), cut: "before radiusing", ..board.clone() }.text());
            design.depths.unwrap().rows.into_iter().map(|row| row.own.unwrap()).collect::<Vec<_>>()
        };
        for (tight, flat) in at(radius).into_iter().zip(at(radius * 1.25)) {
            prop_assert!(tight > flat);
        }
    }

    #[test]
    fn clearances_are_true_distances(board in boards()) {
        let (model, design) = designed(&board.text());
        let hole = kerfbook::design::hole_diameter(&model).unwrap();
        let kerf = model.slots.kerf.mm().unwrap();
        let layout = design.layout.as_ref().unwrap();
        for marker in design.markers.as_ref().unwrap() {
            let clear = design.clearance(&model, marker).unwrap();
            let middle = Point(coordinate(marker.middle.unwrap()));
            let nearest = [marker.fret - 1, marker.fret]
                .into_iter()
                .map(|fret| {
                    let line = layout.fret(fret).unwrap();
                    let slot = design.slots.as_ref().unwrap().iter().find(|(of, _)| *of == fret);
                    if let Some(slot) = slot.map(|(_, slot)| slot.unwrap()).filter(|slot| slot.is_partial()) {
                        // A partial slot is no wider than it is cut.
                        let own = Line::new(coordinate(slot.cut.start), coordinate(slot.cut.end));
                        return Euclidean.distance(&middle, &own);
                    }
                    let far = Line::new(Coord { x: line.at(-500.0), y: -500.0 }, Coord { x: line.at(500.0), y: 500.0 });
                    Euclidean.distance(&middle, &far)
                })
                .fold(f64::INFINITY, f64::min);
            prop_assert!((clear.slot - (nearest - kerf / 2.0 - hole / 2.0)).abs() < 1e-7);
        }
    }
}

proptest! {
    #![proptest_config(config(40))]

    #[test]
    fn routed_volume_agrees_with_unions_of_polygons(board in boards()) {
        let board = Board { lit: true, ..board };
        let (model, design) = designed(&board.text());
        let lamps = design.lamps.as_ref().unwrap();
        let (map, potting) = (lamps.map.as_ref().unwrap(), lamps.potting.as_ref().unwrap());
        let channels = model.channels.as_ref().unwrap();
        let lamp = model.lamp.as_ref().unwrap();
        let depth = channels.depth.mm().unwrap();
        let strips: Vec<Polygon> = map
            .sides
            .iter()
            .copied()
            .chain(map.crosses.iter().map(|cross| cross.strip))
            .chain([map.end])
            .map(|strip: Strip| polygon(&strip.outline()))
            .collect();
        let routed = union(&strips);
        // A cross channel is counted between the side channels' inner walls; a slanted one leaves slivers at the
        // walls that a true union has: far below the volume's own accuracy of a tenth of a per cent.
        let volume = routed.unsigned_area() * depth;
        prop_assert!((potting.channels - volume).abs() <= 1e-3 * volume, "{} {volume}", potting.channels);
        let bore = lamp.counterbore.mm().unwrap();
        let mut seats = 0.0;
        for (marker, seat) in design.markers.as_ref().unwrap().iter().zip(lamps.seats.as_ref().unwrap()) {
            let circle = Circle::with_diameter(marker.middle.unwrap(), bore);
            let own: Vec<Polygon> = map
                .sides
                .iter()
                .map(|side| polygon(&side.outline()))
                .chain(map.cross(marker.fret).map(|cross| polygon(&cross.strip.outline())))
                .collect();
            let open = union(&own).intersection(&MultiPolygon(vec![round(&circle)])).unsigned_area();
            let seat = seat.seat.unwrap();
            seats += circle.area() * seat - open * seat.min(depth);
        }
        prop_assert!((potting.seats - seats).abs() <= 1e-3 * seats, "{} {seats}", potting.seats);
    }
}

fn union(polygons: &[Polygon]) -> MultiPolygon {
    polygons.iter().fold(MultiPolygon(Vec::new()), |whole, one| whole.union(&MultiPolygon(vec![one.clone()])))
}

/// Every drawing of a commission, as its sheets carry them.
fn drawings(model: &Model, design: &Design) -> Vec<(&'static str, kerfbook::drawing::Drawing)> {
    let job = kerfbook::sheets::Job { model, design, findings: &[], left_out: &[], ranges: &[] };
    kerfbook::sheets::make(&job).into_iter().flat_map(|sheet| sheet.drawings).collect()
}

/// How many boards the sweep of drawings draws; by hand with `SWEEP=2000 cargo test --release sweep`.
fn sweep() -> u32 {
    std::env::var("SWEEP").ok().and_then(|number| number.parse().ok()).unwrap_or(12)
}

proptest! {
    #![proptest_config(ProptestConfig { max_global_rejects: 4 * sweep() + 1024, ..config(sweep()) })]

    #[test]
    fn nothing_collides_in_any_drawing_of_the_sweep(board in boards()) {
        let (model, design) = designed(&board.text());
        let stopped = kerfbook::checks::run(&model, &design).findings.iter().any(|finding| finding.severity == Severity::Error);
        prop_assume!(!stopped);
        for (name, drawing) in drawings(&model, &design) {
            for (width, height) in [(170.0, 120.0), (390.0, 277.0)] {
                let picture = drawing.place(kerfbook::drawing::Room { width, height });
                let conflicts = picture.conflicts();
                prop_assert!(conflicts.is_empty(), "{name} in {width} × {height}: {conflicts:?}");
            }
        }
    }
}
