//! `drilling-chart`: every hole, by bit, part and face. Markers first, numbered like the lamps; then side dots, the
//! exit hole, the heel's screws and the body's holes.

use super::{
    Cell, CutDepth, Data, Hold, Job, Kind, MachineSetting, Named, Sheet, Station, Table, Value, View, figures,
};
use crate::drawing::Drawing;
use crate::model::Known;
use crate::spec::words::Word;
use holes::{Hole, marker_holes};

mod holes;

pub(super) const ID: &str = "drilling-chart";

/// The bit of the pilot hole. Common practice, no source.
const PILOT: f64 = 1.5;

/// The sheet; none where nothing is drilled or no place is known.
pub(super) fn sheet(job: &Job<'_>) -> Option<Sheet> {
    let holes = holes::all(job);
    let table = table(job, &holes);
    if holes.is_empty() || !table.knows("x_mm") {
        return None;
    }
    let unit = job.unit();
    let blocks = blocks(job, &holes);
    let back = table.desk(
        "drilling-chart-back",
        unit,
        &[
            View::column("hole", "hole").strong(),
            View::column("part", "part"),
            View::column("face", "face"),
            View::column("fret", "fret"),
            View::column("x_mm", "from the zero line"),
            View::column("side", "side"),
            View::column("y_mm", "from centre"),
            View::column("diameter_mm", "hole"),
            View::column("depth_mm", "deep"),
            View::column("clear_slot_mm", "clear to slot"),
            View::column("clear_edge_mm", "clear to edge"),
        ],
    );
    let mut views: Vec<Named> = blocks.iter().map(|block| block.view.clone()).collect();
    views.push(back);
    Some(Sheet {
        id: ID,
        title: "Drilling chart",
        kind: "bench sheet",
        read_first: "Punch, pilot, then drill square to the back from the face. Scrap behind.".to_owned(),
        datum: "the squared end, and across from the centreline",
        station: Station::Drill,
        caution: None,
        data: data(job, &blocks),
        views,
        tables: vec![table],
        drawings: drawings(job, &holes),
        holds: places_to_measure(job, &holes),
        settings: settings(job, &blocks),
        unit,
    })
}

fn drawings(job: &Job<'_>, holes: &[Hole]) -> Vec<(&'static str, Drawing)> {
    let on_board = holes.iter().filter(|hole| hole.part == "board");
    let bored: Vec<figures::Bored> = on_board
        .filter_map(|hole| {
            Some(figures::Bored {
                number: hole.number,
                place: hole.place.ok()?,
                diameter: hole.diameter.ok(),
                in_edge: hole.height.is_some(),
            })
        })
        .collect();
    let for_the_drill = if bored.is_empty() { None } else { figures::drilled_face(job, &bored).ok() };
    let for_the_builder = figures::board_front(job).ok();
    [("drilled-face", for_the_drill), ("board-front", for_the_builder)]
        .into_iter()
        .filter_map(|(name, drawing)| Some((name, drawing?)))
        .collect()
}

fn table(job: &Job<'_>, holes: &[Hole]) -> Table {
    let hand = job.hand();
    let mut table = Table::new(
        ID,
        &[
            ("hole", Kind::Count),
            ("what", Kind::Words),
            ("part", Kind::Words),
            ("face", Kind::Words),
            ("fret", Kind::Count),
            ("x_mm", Kind::Length),
            ("from_end_mm", Kind::Length),
            ("y_mm", Kind::Across),
            ("side", Kind::Words),
            ("height_mm", Kind::Length),
            ("diameter_mm", Kind::Length),
            ("depth_mm", Kind::Length),
            ("tool", Kind::Words),
            ("clear_slot_mm", Kind::Length),
            ("clear_edge_mm", Kind::Length),
        ],
    );
    for hole in holes {
        table.row(vec![
            hole.number.into(),
            Cell::Quoted(hole.name.clone()),
            hole.part.into(),
            hole.face.into(),
            hole.fret.into(),
            hole.place.map(|place| place.x).into(),
            hole.place.and_then(|place| Ok(place.x - job.design.squared_end?)).into(),
            hole.place.map(|place| hand.y(place.y)).into(),
            hole.place.map(|place| side_word(place.y)).into(),
            hole.height.into(),
            hole.diameter.into(),
            hole.depth.into(),
            hole.diameter.map(|diameter| format!("bit {}", job.tool(diameter))).into(),
            hole.clear_slot.into(),
            hole.clear_edge.into(),
        ]);
    }
    table
}

/// The side a place lies on, plus toward the treble side.
fn side_word(toward_treble: f64) -> &'static str {
    if toward_treble.abs() < crate::rounding::ON_STEP {
        "centre"
    } else if toward_treble < 0.0 {
        "bass"
    } else {
        "treble"
    }
}

/// The holes of one bit, part, face and depth.
struct Block {
    name: String,
    part: &'static str,
    face: &'static str,
    diameter: f64,
    depth: Option<f64>,
    /// Of the first hole, over the back; none in a face.
    height: Option<Known<f64>>,
    count: usize,
    view: Named,
}

/// The names views go by in the template, one for each block.
const BLOCK_NAMES: [&str; 12] = [
    "drill-1", "drill-2", "drill-3", "drill-4", "drill-5", "drill-6", "drill-7", "drill-8", "drill-9", "drill-10",
    "drill-11", "drill-12",
];

fn blocks(job: &Job<'_>, holes: &[Hole]) -> Vec<Block> {
    let kind = |hole: &Hole| {
        let micrometres = |figure: f64| crate::rounding::fixed(figure, 3);
        let depth = hole.depth.map(|depth| depth.map_or_else(|_| "open".to_owned(), micrometres));
        (hole.part, hole.face, hole.diameter.map_or_else(|_| "open".to_owned(), micrometres), depth)
    };
    let mut kinds = Vec::new();
    for hole in holes {
        if !kinds.contains(&kind(hole)) {
            kinds.push(kind(hole));
        }
    }
    // More kinds of holes than blocks: the rest shares the last block, whose rows carry their own bit and depth.
    let block_of =
        |hole: &Hole| kinds.iter().position(|known| *known == kind(hole)).unwrap_or(0).min(BLOCK_NAMES.len() - 1);
    let count = kinds.len().min(BLOCK_NAMES.len());
    (0..count)
        .filter_map(|index| {
            let own: Vec<&Hole> = holes.iter().filter(|hole| block_of(hole) == index).collect();
            let first = own.first()?;
            Some(Block {
                name: block_name(&own),
                part: first.part,
                face: first.face,
                diameter: first.diameter.unwrap_or(f64::NAN),
                depth: first.depth.map(|depth| depth.unwrap_or(f64::NAN)),
                height: first.height,
                count: own.len(),
                view: block_view(job, BLOCK_NAMES[index], &own),
            })
        })
        .collect()
}

fn block_name(holes: &[&Hole]) -> String {
    let mut names: Vec<&str> = holes.iter().map(|hole| hole.name.as_str()).collect();
    names.dedup();
    names.join(", ")
}

fn block_view(job: &Job<'_>, name: &'static str, holes: &[&Hole]) -> Named {
    let mut table = Table::new(
        name,
        &[
            ("hole", Kind::Count),
            ("fret", Kind::Count),
            ("from_end_mm", Kind::Length),
            ("along", Kind::Words),
            ("across", Kind::Words),
            ("height_mm", Kind::Length),
            ("what", Kind::Words),
        ],
    );
    for hole in holes {
        table.row(vec![
            hole.number.into(),
            hole.fret.into(),
            hole.place.and_then(|place| Ok(place.x - job.design.squared_end?)).into(),
            along(job, hole).into(),
            hole.place.map(|place| job.across(place.y)).into(),
            hole.height.into(),
            Cell::Quoted(hole.name.clone()),
        ]);
    }
    let in_edge = holes.iter().any(|hole| hole.height.is_some());
    let in_body = holes.iter().any(|hole| hole.part == "body");
    let mut views = vec![View::column("hole", "hole").strong()];
    if holes.iter().any(|hole| hole.fret.is_some()) {
        views.push(View::column("fret", "by fret"));
    }
    views.push(if in_body {
        View::column("along", "along the centreline").strong()
    } else {
        View::column("from_end_mm", "from the squared end").main()
    });
    if in_edge {
        views.push(View::column("height_mm", "over the back").main());
    } else {
        views.push(View::column("across", format!("from the centreline, {}", job.unit_word())).main());
    }
    if in_body {
        views.push(View::column("what", "hole for"));
    }
    views.extend([
        View::Tick("punched".to_owned()),
        View::Tick("bored".to_owned()),
        View::WriteIn("measured".to_owned()),
    ]);
    table.bench(name, job.unit(), &views)
}

/// A hole's place along the centreline in words. A body has no nut: its holes count from the saddle line.
fn along(job: &Job<'_>, hole: &Hole) -> Known<String> {
    let x = hole.place?.x;
    if hole.part != "body" {
        return Ok(format!("{} from the squared end", job.length(x - job.design.squared_end?)));
    }
    let saddle = job.design.layout.as_ref().map_err(|missing| *missing)?.scale;
    let way = if x <= saddle { "toward the neck" } else { "toward the tail" };
    Ok(format!("{} from the saddle line, {way}", job.length((saddle - x).abs())))
}

fn data(job: &Job<'_>, blocks: &[Block]) -> Data {
    let mut data = Data::new();
    data.insert("unit", job.unit_word().into());
    data.insert("lit", job.model.lamp.is_some().into());
    data.insert("in_neck", blocks.iter().any(|block| block.part == "neck").into());
    data.insert("domed", job.is_worked_domed().into());
    data.insert("pilot", super::table::size(PILOT).into());
    let list = blocks
        .iter()
        .map(|block| {
            let bit = job.tool(block.diameter);
            Data::from([
                ("view", Value::from(block.view.name)),
                ("name", Value::Quoted(block.name.clone())),
                ("part", block.part.into()),
                ("face", block.face.into()),
                ("where", Value::Prose(place_words(block.part, block.face, block.depth.is_none()))),
                ("first", Value::Prose(first_words(job, block))),
                ("count", block.count.into()),
                ("bit", bit.value.into()),
                ("bit_unit", bit.unit.into()),
                ("bit_other", bit.other.into()),
                ("through", block.depth.is_none().into()),
                ("depth", block.depth.map_or_else(String::new, |depth| job.length(depth)).into()),
            ])
        })
        .collect::<Vec<_>>();
    data.insert("blocks", list.into());
    data.insert("hand", job.hand().as_word().into());
    data
}

/// Into what, from which side and how far a hole is bored.
fn place_words(part: &str, face: &str, through: bool) -> String {
    let from = match (part, face) {
        ("board", "side") => "board's edge, bass side",
        ("board", _) => "board, from its face",
        ("neck", "front") => "neck only, never the board: from the neck's glue face",
        ("neck", _) => "neck's heel, from the back",
        (_, "front") => "body, from its face",
        _ => "body, from its back",
    };
    if through { format!("{from}, right through") } else { from.to_owned() }
}

/// What comes before the holes of a block, where the sheet's own words do not hold for it: a side dot bored into the
/// blank's edge is planed away with it, and a hole of the neck could be laid out mirrored.
fn first_words(job: &Job<'_>, block: &Block) -> String {
    if (block.part, block.face) == ("neck", "front") {
        // The only drawings of its place are of the board's back, which is the other way round.
        let bass_edge = figures::view::View::front(job.hand()).bass_edge_at();
        return format!("Glue face up and nut at the left, the bass edge is at the {bass_edge}.");
    }
    if (block.part, block.face) != ("board", "side") {
        return String::new();
    }
    let bound = job.model.board.is_bound();
    let first = if bound { "tapered and bound" } else { "tapered" };
    let words =
        format!("Only when the board is {first}: until then its edge is waste. Square to the edge, not to the back.");
    match block.height {
        Some(Err(missing)) => format!("NOT YET: their height over the back waits for {}. {words}", missing.key),
        _ => words,
    }
}

/// Cards for the holes of the board: one for each bit, and one for the stop of each hole that has a bottom.
fn settings(job: &Job<'_>, blocks: &[Block]) -> Vec<MachineSetting> {
    let on_board = blocks.iter().filter(|block| block.part == "board" && block.diameter.is_finite());
    let card = |label: String, value, unit: String, note| MachineSetting {
        station: Station::Drill,
        label,
        value,
        unit,
        tolerance: String::new(),
        note,
    };
    let cards = on_board.flat_map(|block| {
        let bit = job.tool(block.diameter);
        let stop = block.depth.filter(|depth| depth.is_finite()).map(|depth| {
            let unit = format!("{} deep", job.unit_word());
            let first = if block.face == "side" { " · board's edge, bass side, once it is tapered" } else { "" };
            card(format!("STOP for {}", block.name), job.length(depth), unit, format!("with the bit Ø {bit}{first}"))
        });
        let note = if block.depth.is_none() { "through, square to the back" } else { "" }.to_owned();
        let bit = card(format!("BIT for {}", block.name), format!("Ø {}", bit.value), bit.unit.to_owned(), note);
        [Some(bit), stop]
    });
    cards.flatten().collect()
}

/// The depth that a strip can prove: the dots' in the face, which has no tolerance of its own.
pub(super) fn depths(job: &Job<'_>) -> Vec<CutDepth> {
    let bored = marker_holes(job).into_iter().find_map(|hole| match (hole.diameter, hole.depth) {
        (Ok(diameter), Some(Ok(depth))) => Some((diameter, depth)),
        _ => None,
    });
    let depth = |(diameter, depth)| CutDepth { bore: Some(diameter), ..CutDepth::new(job, "dot depth", depth, None) };
    bored.map(depth).into_iter().collect()
}

/// The first and the last marker, measured before anything is bored.
fn places_to_measure(job: &Job<'_>, holes: &[Hole]) -> Vec<Hold> {
    let tolerance = job.tolerance("marker place");
    let on_face: Vec<&Hole> = holes.iter().filter(|hole| hole.part == "board" && hole.face == "front").collect();
    let ends = on_face.first().into_iter().chain(on_face.last().filter(|_| on_face.len() > 1));
    ends.filter_map(|hole| {
        let place = hole.place.ok()?.x - job.design.squared_end.ok()?;
        Some(Hold {
            step: "drill",
            what: format!("hole {}, from the squared end", hole.number),
            nominal: Some(place),
            low: Some(place - tolerance.under),
            high: Some(place + tolerance.over),
            unit: "mm",
        })
    })
    .collect()
}
