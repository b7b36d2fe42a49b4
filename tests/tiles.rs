//! Full size on ordinary paper, as a reader of the file measures it.

use hayro_syntax::Pdf;
use hayro_syntax::content::ops::TypedInstruction;
use kerfbook::drawing::{Anchor, Layer, Lettering, Pen, Plan};
use kerfbook::emit::pdf::{Document, pdf};
use kerfbook::paper::tiles::{Piece, Ruler, Stretch, TilePlace, roll, tile};
use kerfbook::paper::{Paper, Volume};
use kurbo::{Point, Rect};

use super::sample;

/// A point of a PDF page in millimetres (ISO 32000-1: a unit is 1/72 in).
const MILLIMETRES: f64 = 25.4 / 72.0;

/// A board's worth of lines, 504 mm by 64 mm, from x = -4 on.
fn board() -> Plan {
    let mut plan = Plan::new("Board", "A board.");
    plan.polygon(
        Layer::Outline,
        &[(-4.0, -25.0), (500.0, -32.0), (500.0, 32.0), (-4.0, 25.0)].map(Point::from),
        Pen::Visible,
    );
    for number in 0..=25 {
        let x = 19.37 * f64::from(number);
        plan.line(Layer::Slots, Point::new(x, -20.0), Point::new(x, 20.0), Pen::Thin);
        plan.text(Point::new(x, 26.0), number.to_string(), Lettering::NORMAL, Anchor::Middle, 0.0);
    }
    plan.circle(Layer::Holes, Point::new(250.0, 10.0), 3.0, Pen::Thin);
    plan
}

fn piece(plan: Plan, lengthwise: bool) -> Piece {
    let ruler = Ruler {
        datum: "the squared end".to_owned(),
        origin: -4.0,
        unit: "mm",
        millimetres: 1.0,
        step: 10.0,
        figures: 5,
    };
    Piece { title: "Board".to_owned(), note: "taper 2FWD 80HV N".to_owned(), plan, ruler: Some(ruler), lengthwise }
}

fn square(side: f64) -> Piece {
    let mut plan = Plan::new("Square", "A square.");
    plan.polygon(Layer::Outline, &[(0.0, 0.0), (side, 0.0), (side, side), (0.0, side)].map(Point::from), Pen::Visible);
    Piece { ruler: None, lengthwise: false, ..piece(plan, false) }
}

struct Printed {
    places: Vec<TilePlace>,
    /// Ends of the straight lines of each page, millimetres from its lower left corner.
    lines: Vec<Vec<(Point, Point)>>,
    volume: Volume,
}

/// Ends of the straight lines of each page, millimetres from its lower left corner.
pub(crate) fn lines(bytes: &[u8]) -> Vec<Vec<(Point, Point)>> {
    let file = Pdf::new(bytes.to_vec()).unwrap();
    let of_page = |page: &hayro_syntax::page::Page<'_>| {
        let mut lines = Vec::new();
        let mut at = Point::ZERO;
        let mut operations = page.typed_operations();
        while let Some(operation) = operations.next() {
            let point = |x: f64, y: f64| Point::new(x * MILLIMETRES, y * MILLIMETRES);
            match operation {
                TypedInstruction::MoveTo(to) => at = point(to.0.as_f64(), to.1.as_f64()),
                TypedInstruction::LineTo(to) => {
                    let to = point(to.0.as_f64(), to.1.as_f64());
                    lines.push((at, to));
                    at = to;
                }
                TypedInstruction::Transform(_) => panic!("coordinates are written as they are"),
                _ => {}
            }
        }
        lines
    };
    file.pages().iter().map(of_page).collect()
}

fn printed(pieces: &[Piece], paper: Paper, stretch: Stretch) -> Printed {
    let frame = sample::frame(paper, "Patterns", "–", None);
    let tiled = tile(pieces, &frame, stretch);
    let mut volume = Volume::default();
    tiled.append_to(&mut volume, "tiles", &frame, (0, tiled.page_count()));
    let bytes = pdf(&Document { volume: volume.clone(), ..Document::default() });
    Printed { places: tiled.places(), lines: lines(&bytes), volume }
}

impl Printed {
    fn has_line(&self, page: usize, from: Point, to: Point) -> bool {
        let near = |one: Point, other: Point| (one - other).hypot() < 0.001;
        self.lines[page]
            .iter()
            .any(|(one, other)| (near(*one, from) && near(*other, to)) || (near(*one, to) && near(*other, from)))
    }
}

#[test]
fn every_slot_is_on_paper_where_it_is_on_the_board_to_a_thousandth() {
    for paper in [Paper::A4, Paper::Letter] {
        let printed = printed(&[piece(board(), true)], paper, Stretch::NONE);
        assert!(printed.places.len() >= 3, "{:?}", printed.places);
        for number in 0..=25 {
            let x = 19.37 * f64::from(number);
            let (from, to) = (Point::new(x, -20.0), Point::new(x, 20.0));
            let mut shown = 0;
            for place in printed.places.iter().filter(|place| place.area.x0 < x && x < place.area.x1) {
                let (one, other) = (place.on_page(from), place.on_page(to));
                assert!(printed.has_line(place.page, one, other), "{paper:?} {number}: {one:?} {other:?}");
                // At full size, and turned only.
                assert!((one.distance(other) - 40.0).abs() < 1e-9);
                shown += 1;
            }
            assert!(shown >= 1, "{paper:?}: slot {number} is on no tile");
        }
    }
}

#[test]
fn neighbours_share_their_seam_and_both_show_its_crosses() {
    let printed = printed(&[piece(board(), true)], Paper::A4, Stretch::NONE);
    let joined: Vec<_> = printed.places.windows(2).collect();
    assert!(joined.len() >= 2);
    for pair in joined {
        let (one, other) = (&pair[0], &pair[1]);
        assert!((one.area.x1 - other.area.x0 - 16.0).abs() < 1e-9, "they overlap by what is glued");
        let seam = (one.area.x1 + other.area.x0) / 2.0;
        assert!(((seam + 4.0) / 10.0).fract().abs() < 1e-9, "the ruler has a tick at the seam: {seam}");
        for place in [one, other] {
            assert!(place.seams.iter().any(|own| (own - seam).abs() < 1e-9));
            for y in [place.area.y0 + 3.5, place.area.y1 - 3.5] {
                for (dx, dy) in [(3.5, 0.0), (0.0, 3.5)] {
                    let arms = [-1.0, 1.0].map(|way| place.on_page(Point::new(seam + way * dx, y + way * dy)));
                    assert!(printed.has_line(place.page, arms[0], arms[1]), "{arms:?}");
                }
            }
        }
    }
    let covered = printed.places.iter().map(|place| place.area).reduce(|one, other| one.union(other)).unwrap();
    assert!(covered.x0 <= -4.0 && covered.x1 >= 500.0);
}

#[test]
fn no_tile_lies_over_another_or_over_the_frame() {
    let mut pieces = vec![piece(board(), true)];
    pieces.extend((0..12).map(|number| square(15.0 + 4.0 * f64::from(number))));
    pieces.push(square(400.0));
    for paper in [Paper::A4, Paper::Letter] {
        let printed = printed(&pieces, paper, Stretch::NONE);
        let on_page = |place: &TilePlace| {
            let corners = [place.area.origin(), Point::new(place.area.x1, place.area.y1)].map(|at| place.on_page(at));
            Rect::from_points(corners[0], corners[1])
        };
        let frame = paper.frame();
        for (index, place) in printed.places.iter().enumerate() {
            let own = on_page(place);
            assert!(frame.contains(own.origin()) && own.x1 < frame.x1 && own.y1 < frame.y1, "{place:?}");
            for other in printed.places[..index].iter().filter(|other| other.page == place.page) {
                assert!(own.intersect(on_page(other)).is_zero_area(), "{place:?}\n{other:?}");
            }
        }
        // A square too large for the page either way is cut both ways, and all of it is there.
        let large: Vec<_> = printed.places.iter().filter(|place| place.piece == 13).collect();
        assert!(large.len() >= 6, "{}", large.len());
        let area: f64 = large.iter().map(|place| place.area.area()).sum();
        assert!(area >= 400.0 * 400.0);
    }
}

#[test]
fn what_is_small_lies_beside_a_short_tile() {
    let board = piece(board(), true);
    let alone = printed(std::slice::from_ref(&board), Paper::A4, Stretch::NONE);
    let with_strips = printed(&[board, square(30.0), square(40.0)], Paper::A4, Stretch::NONE);
    assert_eq!(with_strips.volume.pages.len(), alone.volume.pages.len());
    let page = |piece: usize| with_strips.places.iter().find(|place| place.piece == piece).unwrap().page;
    assert!(page(1) < alone.places.len() && page(2) < alone.places.len());
}

#[test]
fn the_far_end_of_a_neighbour_alone_costs_no_tile() {
    let tiles = |blank: Option<f64>| {
        let mut plan = board();
        if let Some(end) = blank {
            let corners = [(-4.0, -36.0), (end, -36.0), (end, 36.0), (-4.0, 36.0)].map(Point::from);
            plan.polygon(Layer::Neighbours, &corners, Pen::Neighbour);
        }
        printed(&[piece(plan, true)], Paper::A4, Stretch::NONE).places
    };
    let without = tiles(None);
    let longest = without.last().unwrap().area.x1;
    assert!((longest - 502.0).abs() < 10.0);
    // Ends on the last page anyway: shown whole.
    assert!(tiles(Some(506.0)).last().unwrap().area.x1 > 506.0);
    // As long as the last page and more: the board's own tiles show how it goes on.
    let with = tiles(Some(800.0));
    assert_eq!(with.len(), without.len());
    let end = with.last().unwrap().area.x1;
    assert!(end > 505.0 && end < 520.0, "{end}");
}

#[test]
fn a_printer_that_is_off_is_corrected_along_each_side_of_its_paper() {
    // The bars of the test print measured 99.6 mm along the short side, 100.3 mm along the long one.
    let stretch = Stretch { x: 100.0 / 99.6, y: 100.0 / 100.3 };
    let printed = printed(&[piece(board(), true), square(40.0)], Paper::A4, stretch);
    for place in &printed.places {
        let at = |x: f64, y: f64| place.on_page(Point::new(place.area.x0 + x, place.area.y0 + y));
        let (origin, along, across) = (at(0.0, 0.0), at(30.0, 0.0), at(0.0, 30.0));
        for end in [along, across] {
            // What the printer then makes of it is what was drawn.
            let (dx, dy) = ((end - origin).x * 0.996, (end - origin).y * 1.003);
            assert!((dx.hypot(dy) - 30.0).abs() < 1e-9, "{place:?}");
        }
    }
    let frame = Paper::A4.frame();
    let level = |length: f64| {
        printed.lines[0].iter().any(|(one, other)| {
            (one.y - other.y).abs() < 1e-9
                && ((one.x - other.x).abs() - length).abs() < 0.001
                && one.y < frame.y0 + 60.0
        })
    };
    assert!(level(100.0 / 0.996) && level(101.6 / 0.996), "the bars are stretched like the rest");
}

#[test]
fn every_page_has_four_bars_that_measure_what_they_say() {
    let printed = printed(&[piece(board(), true), square(40.0)], Paper::Letter, Stretch::NONE);
    for lines in &printed.lines {
        // An inch is 25.4 mm exactly: 4 in are 101.6 mm.
        for length in [100.0, 101.6] {
            let is = |one: f64, other: f64| ((one - other).abs() - length).abs() < 0.001;
            assert!(
                lines.iter().any(|(one, other)| (one.y - other.y).abs() < 1e-9 && is(one.x, other.x)),
                "{length} level"
            );
            assert!(
                lines.iter().any(|(one, other)| (one.x - other.x).abs() < 1e-9 && is(one.y, other.y)),
                "{length} upright"
            );
        }
    }
}

#[test]
fn every_text_of_a_plan_stands_on_a_tile() {
    let printed = printed(&[piece(board(), true)], Paper::A4, Stretch::NONE);
    let written: Vec<String> = printed
        .volume
        .pages
        .iter()
        .flat_map(|page| &page.marks)
        .filter_map(|mark| match &mark.item {
            kerfbook::drawing::Item::Text(text) => Some(text.text.clone()),
            kerfbook::drawing::Item::Path { .. } => None,
        })
        .collect();
    for number in 0..=25 {
        assert!(written.contains(&number.to_string()), "{number}");
    }
    let names = written.iter().filter(|text| text.contains("tile")).count();
    assert_eq!(names, printed.places.len(), "each tile says which it is");
    assert!(written.iter().filter(|text| text.contains("2FWD 80HV N") && text.contains("taper")).count() >= names);
}

#[test]
fn a_roll_carries_all_pieces_whole() {
    let frame = sample::frame(Paper::A4, "Patterns", "–", None);
    let volume = roll(&[piece(board(), true), square(300.0)], &frame);
    assert_eq!(volume.pages.len(), 1);
    let page = &volume.pages[0];
    assert!(page.width > 504.0 && page.height > 64.0 + 300.0);
    let lines = lines(&pdf(&Document { volume: volume.clone(), ..Document::default() }));
    let slots: Vec<_> = lines[0]
        .iter()
        .filter(|(one, other)| (one.x - other.x).abs() < 1e-9 && ((one.y - other.y).abs() - 40.0).abs() < 0.001)
        .collect();
    assert_eq!(slots.len(), 26);
    let reach = slots.iter().map(|(one, _)| one.x).fold(0.0, f64::max)
        - slots.iter().map(|(one, _)| one.x).fold(f64::INFINITY, f64::min);
    assert!((reach - 25.0 * 19.37).abs() < 0.001);
}
