//! `taper`: half widths from the centreline, what to plane to, and the height of the edge.

use super::{Data, Hold, Job, Kind, Sheet, Station, Table, Value, View, figures};
use crate::design::board::edges::outer_string;
use crate::design::formulas::inset_across;
use crate::design::order::OrderOfWork;
use crate::model::Known;
use crate::spec::words::Side;

const ID: &str = "taper";

/// Left outside the line by the saw, to be planed off, millimetres. Common practice, no source.
const SAWN_PROUD: f64 = 0.5;

/// Frets that are stations where the board has them.
const STATION_FRETS: [usize; 7] = [1, 3, 5, 7, 9, 12, 15];

/// A place along the board whose width is given.
pub(super) struct Place {
    /// Its name on paper.
    pub(super) name: String,
    /// From the zero line, along the centreline.
    pub(super) x: f64,
}

/// The sheet; none while no width is known.
pub(super) fn sheet(job: &Job<'_>) -> Option<Sheet> {
    let places = places(job)?;
    let table = table(job, &places);
    if !table.knows("width_mm") {
        return None;
    }
    let unit = job.unit();
    let bench = table.view(
        ID,
        unit,
        crate::paper::Place::Bench,
        &[
            View::column("station", "station").strong(),
            View::column("from_end_mm", "from the squared end"),
            View::column("saw_bass_mm", "saw bass"),
            View::column("plane_bass_mm", "plane bass to").main(),
            View::column("saw_treble_mm", "saw treble"),
            View::column("plane_treble_mm", "plane treble to").main(),
            View::Tick("planed".to_owned()),
            View::WriteIn("bass".to_owned()),
            View::WriteIn("treble".to_owned()),
        ],
        |row| matches!(&row[0], super::Cell::Words(name) if at_bench(name)),
    );
    let back = table.desk(
        "taper-back",
        unit,
        &[
            View::column("station", "station").strong(),
            View::column("x_mm", "from the zero line"),
            View::column("width_mm", "width"),
            View::column("half_bass_mm", "half, bass"),
            View::column("half_treble_mm", "half, treble"),
            View::column("edge_height_mm", "edge height"),
            View::column("string_to_edge_bass_mm", "string to edge, bass"),
            View::column("string_to_edge_treble_mm", "string to edge, treble"),
        ],
    );
    Some(Sheet {
        id: ID,
        title: "Taper",
        kind: "bench sheet",
        read_first: "Half widths from the centreline, each side for itself. First only scribed; sawn much later."
            .to_owned(),
        datum: "the centreline, scribed on both faces",
        station: Station::Bench,
        caution: None,
        data: data(job),
        views: vec![bench, back],
        tables: vec![table],
        drawings: figures::taper_outline(job).ok().map(|drawing| ("taper-outline", drawing)).into_iter().collect(),
        holds: holds(job, &places),
        settings: Vec::new(),
        unit,
    })
}

/// The fret between the ends that the bench checks at, where the board has it.
pub(super) const CHECKED_FRET: usize = 12;

/// The bench works at both ends and checks between.
fn at_bench(name: &str) -> bool {
    ["nut", "last fret", "board end"].contains(&name) || name == format!("fret {CHECKED_FRET}")
}

/// The stations; none while the scale is open.
pub(super) fn places(job: &Job<'_>) -> Option<Vec<Place>> {
    let layout = job.design.layout.as_ref().ok()?;
    let mut places = vec![Place { name: "nut".to_owned(), x: 0.0 }];
    for fret in STATION_FRETS.into_iter().filter(|fret| *fret < layout.last()) {
        places.push(Place { name: format!("fret {fret}"), x: layout.fret(fret)?.x });
    }
    places.push(Place { name: "last fret".to_owned(), x: layout.last_line().x });
    if let Ok(outline) = &job.design.outline {
        places.push(Place { name: "board end".to_owned(), x: outline.end.x });
    }
    Some(places)
}

fn table(job: &Job<'_>, places: &[Place]) -> Table {
    let (model, design) = (job.model, job.design);
    let mut table = Table::new(
        ID,
        &[
            ("station", Kind::Words),
            ("x_mm", Kind::Length),
            ("from_end_mm", Kind::Length),
            ("width_mm", Kind::Length),
            ("half_bass_mm", Kind::Length),
            ("half_treble_mm", Kind::Length),
            ("saw_bass_mm", Kind::Length),
            ("plane_bass_mm", Kind::Length),
            ("saw_treble_mm", Kind::Length),
            ("plane_treble_mm", Kind::Length),
            ("edge_height_mm", Kind::Length),
            ("string_to_edge_bass_mm", Kind::Length),
            ("string_to_edge_treble_mm", Kind::Length),
        ],
    );
    for place in places {
        let half = |side: Side| design.edges.map(|edges| edges.on(side).half(place.x));
        let plane = |side: Side| plane_to(job, side, place.x);
        let saw = |side: Side| plane(side).map(|plane| plane + SAWN_PROUD);
        let to_edge = |side: Side| -> Known<f64> {
            let layout = design.layout.as_ref().map_err(|missing| *missing)?;
            Ok(half(side)? - outer_string(layout, design.spreads?, side, place.x))
        };
        let edge_height = (|| {
            let drop = design.face?.drop(place.x, design.edges?.wider_half(place.x));
            Ok(model.board.thickness.mm()? - drop)
        })();
        table.row(vec![
            place.name.as_str().into(),
            place.x.into(),
            design.squared_end.map(|end| place.x - end).into(),
            design.edges.map(|edges| edges.width(place.x)).into(),
            half(Side::Bass).into(),
            half(Side::Treble).into(),
            saw(Side::Bass).into(),
            plane(Side::Bass).into(),
            saw(Side::Treble).into(),
            plane(Side::Treble).into(),
            edge_height.into(),
            to_edge(Side::Bass).into(),
            to_edge(Side::Treble).into(),
        ]);
    }
    table
}

/// Half width to plane to: the finished one, less the binding that is still to be glued on.
pub(super) fn plane_to(job: &Job<'_>, side: Side, place: f64) -> Known<f64> {
    let edge = job.design.edges?.on(side);
    Ok(edge.half(place) - inset_across(job.model.board.binding.mm()?, edge.taper()))
}

fn data(job: &Job<'_>) -> Data {
    let mut data = Data::new();
    data.insert("unit", job.unit_word().into());
    data.insert("zero_fret", job.has_zero_fret().into());
    data.insert("bound", job.model.board.is_bound().into());
    data.insert("tolerance", job.half_tolerance_text("width").into());
    let order = OrderOfWork::of(job.model, job.design);
    for (name, step) in [("scribing", "layout"), ("tapering", "taper")] {
        data.insert(name, Value::Prose(order.told(step)));
    }
    if let Some(end) = end_on_edges(job) {
        data.insert("end_on_centreline", job.length(end.on_centreline).into());
        if end.is_slanted {
            let [bass, treble] = end.on_edges.map(|place| job.length(place));
            data.insert("end_bass", bass.into());
            data.insert("end_treble", treble.into());
        }
    }
    let ends = job.design.outline.as_ref().ok().map(|outline| [("nut", 0.0), ("board_end", outline.end.x)]);
    let mut settings = Vec::new();
    for (name, place) in ends.into_iter().flatten() {
        for side in Side::BOTH {
            if let Ok(half) = plane_to(job, side, place) {
                settings.push(Data::from([
                    ("at", Value::from(if name == "nut" { "nut" } else { "board end" })),
                    ("side", side.word().into()),
                    ("half", job.length(half).into()),
                    ("other", job.other_length(half).into()),
                ]));
            }
        }
    }
    data.insert("settings", settings.into());
    data
}

/// Where the board's end is cut, from the squared end, millimetres.
struct EndCut {
    on_centreline: f64,
    /// On the planed edges, bass and treble.
    on_edges: [f64; 2],
    is_slanted: bool,
}

fn end_on_edges(job: &Job<'_>) -> Option<EndCut> {
    let outline = job.design.outline.as_ref().ok()?;
    let (edges, binding) = (job.design.edges.ok()?, job.model.board.binding.mm().ok()?);
    let on_edge = |side: Side| edges.on(side).meets(&outline.end, binding).x - outline.squared_end;
    let on_edges = Side::BOTH.map(on_edge);
    let is_slanted = (on_edges[0] - on_edges[1]).abs() > crate::rounding::ON_STEP;
    Some(EndCut { on_centreline: outline.end.x - outline.squared_end, on_edges, is_slanted })
}

fn holds(job: &Job<'_>, places: &[Place]) -> Vec<Hold> {
    let tolerance = job.tolerance("width");
    let slanted = end_on_edges(job).is_some_and(|end| end.is_slanted);
    // Square to the centreline there, one side of a slanted end is no wood any more once it is cut.
    let before = |name: &str| if slanted && name == "board end" { ", before the end is cut" } else { "" };
    let mut holds: Vec<Hold> = places
        .iter()
        .filter(|place| at_bench(&place.name))
        .filter_map(|place| {
            let width = plane_to(job, Side::Bass, place.x).ok()? + plane_to(job, Side::Treble, place.x).ok()?;
            Some(Hold {
                step: "taper",
                what: format!("{}, width as planed{}", place.name, before(&place.name)),
                nominal: Some(width),
                low: Some(width - tolerance.under),
                high: Some(width + tolerance.over),
                unit: "mm",
            })
        })
        .collect();
    if let Ok(outline) = &job.design.outline {
        let length = outline.end.x - outline.squared_end;
        let tolerance = job.tolerance("board end to saddle line");
        holds.push(Hold {
            step: "taper",
            what: "length on the centreline, squared end to board end".to_owned(),
            nominal: Some(length),
            low: Some(length - tolerance.under),
            high: Some(length + tolerance.over),
            unit: "mm",
        });
    }
    holds
}
