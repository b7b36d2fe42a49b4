//! The first page of the full-size patterns: how they are printed, proved and put together, and why nobody saws by
//! them.

use super::patterns::{Kind, Pattern};
use super::{Data, Job, Named, Sheet, Station, slot_depth};
use crate::design::formulas::cents_off;
use crate::drawing::{Drawing, Importance, Label, Layer, Lettering, Pen, Scaling};
use crate::paper::tiles::{Stretch, TilePlace};
use crate::paper::{self, Cell, Column};
use crate::rounding;
use kurbo::{Point, Rect, Vec2};

/// The file's name and its template's.
pub(crate) const ID: &str = "full-size";

/// By how much a print on plain paper is off though it looks right, as a share. Common practice, no source: paper that
/// has taken up damp and a printer's feed together.
const OFF: f64 = 0.003;

/// From one piece of the map to the next, millimetres of the thing.
const MAP_GAP: f64 = 18.0;

/// How far the last slot would be off if somebody sawed by a print.
struct Drift {
    fret: usize,
    millimetres: f64,
    cents: f64,
}

fn drift(job: &Job<'_>) -> Option<Drift> {
    let layout = job.design.layout.as_ref().ok()?;
    let fret = layout.last();
    let millimetres = OFF * (layout.last_line().x - layout.zero_line().x);
    Some(Drift { fret, millimetres, cents: cents_off(layout.sounding(fret), millimetres) })
}

/// The page; `first` is the number of the page after it. `stamps` gives what stands over the tiles of each pattern.
pub(crate) fn guide(
    job: &Job<'_>,
    patterns: &[Pattern],
    stamps: &[String],
    places: &[TilePlace],
    stretch: Stretch,
    first: usize,
) -> Sheet {
    let mut read_first = "Paper is not for slots: mark and saw those from the fret table.".to_owned();
    let mut data = Data::new();
    data.insert("off", format!("{}\u{a0}%", rounding::fixed(100.0 * OFF, 1)).into());
    if let Some(drift) = drift(job) {
        let (length, cents) = (job.length_with_unit(drift.millimetres), rounding::fixed(drift.cents, 1));
        read_first = format!(
            "Paper is not for slots: a print {}\u{a0}% too long puts fret\u{a0}{} off by {length}, {cents}\u{a0}cents.",
            rounding::fixed(100.0 * OFF, 1),
            drift.fret
        );
    }
    data.insert("has_gauges", patterns.iter().any(|pattern| pattern.kind == Kind::Gauge).into());
    let slot_gauge =
        patterns.iter().any(|pattern| pattern.kind == Kind::Gauge && pattern.sheets.contains(&slot_depth::ID));
    let kerf = job.model.slots.kerf.mm().ok().filter(|_| slot_gauge).map(|kerf| job.length_with_unit(kerf));
    data.insert("kerf", kerf.unwrap_or_default().into());
    data.insert("has_seams", places.iter().any(|place| place.tile.1 > 1).into());
    data.insert("stretched", (stretch != Stretch::NONE).into());
    data.insert("stretch_x", rounding::fixed(stretch.x, 5).into());
    data.insert("stretch_y", rounding::fixed(stretch.y, 5).into());
    Sheet {
        id: ID,
        title: "Full-size patterns",
        kind: "patterns",
        read_first,
        datum: "",
        station: Station::Bench,
        caution: None,
        data,
        tables: Vec::new(),
        views: vec![Named { name: "full-size-pieces", table: pieces(patterns, stamps, places, first), prose: &[] }],
        drawings: map(patterns, places, first).into_iter().map(|drawing| ("tile-map", drawing)).collect(),
        holds: Vec::new(),
        settings: Vec::new(),
        unit: job.unit(),
    }
}

/// What lies on which page, and by which stamps it holds. Gauges are one line.
fn pieces(patterns: &[Pattern], stamps: &[String], places: &[TilePlace], first: usize) -> paper::Table {
    let columns = vec![
        Column::text("pattern").strong(),
        Column::number("tiles", ""),
        Column::number("pages", ""),
        Column::text("valid with these stamps on the cover"),
        Column::centred("checked"),
    ];
    let rows = patterns.iter().zip(stamps).enumerate().map(|(index, (pattern, stamps))| {
        let pages: Vec<usize> =
            places.iter().filter(|place| place.piece == index).map(|place| place.page + first).collect();
        let cells: Vec<Cell> = vec![
            pattern.title.as_str().into(),
            pages.len().to_string().into(),
            runs(&pages).into(),
            stamps.as_str().into(),
            Cell::Tick,
        ];
        cells.into()
    });
    paper::Table { columns, rows: rows.collect(), ..paper::Table::default() }
}

/// Pages in their order, those that follow each other as one: `7–9, 6`.
fn runs(pages: &[usize]) -> String {
    let follows = |one: &usize, next: &usize| one + 1 == *next;
    let name = |run: &[usize]| match run {
        [first, .., last] => format!("{first}–{last}"),
        run => run.iter().map(usize::to_string).collect(),
    };
    pages.chunk_by(follows).map(name).collect::<Vec<_>>().join(", ")
}

/// Every piece that is cut, with its seams and the page that each tile is on; none where nothing is cut.
fn map(patterns: &[Pattern], places: &[TilePlace], first: usize) -> Option<Drawing> {
    let description = "Where the tiles of each pattern belong, with the page that each is printed on.";
    let mut drawing = Drawing::new("Tile map, nut end at the left", description);
    drawing.scaling = Scaling::Standard;
    let mut top = 0.0;
    let mut drawn = false;
    for (index, pattern) in patterns.iter().enumerate() {
        let tiles: Vec<&TilePlace> = places.iter().filter(|place| place.piece == index && place.tile.1 > 1).collect();
        let Some(whole) = tiles.iter().map(|tile| tile.area).reduce(|one, other| one.union(other)) else { continue };
        drawn = true;
        let shift = Vec2::new(-whole.x0, top - whole.y1);
        for mark in &pattern.plan.marks {
            if mark.level.layer == Layer::Outline
                && let crate::drawing::Item::Path { outline, .. } = mark.item()
            {
                drawing.path(Layer::Outline, kurbo::Affine::translate(shift) * &outline, Pen::Thin);
            }
        }
        for tile in tiles {
            let area: Rect = tile.area + shift;
            for seam in &tile.seams {
                let (low, high) = (Point::new(seam + shift.x, area.y0), Point::new(seam + shift.x, area.y1));
                drawing.line(Layer::Neighbours, low, high, Pen::Neighbour);
            }
            let text = format!("page {}", tile.page + first);
            let label = Label::new(area.center(), text).importance(Importance::Normal).lettering(Lettering::STRONG);
            drawing.label(label);
        }
        let name = Point::new(whole.x0 + shift.x, top);
        drawing.label(Label::new(name, pattern.title.as_str()).tip(crate::drawing::Tip::Plain));
        top -= whole.height() + MAP_GAP;
    }
    drawn.then_some(drawing)
}
