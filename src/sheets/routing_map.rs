//! `routing-map`: the channels in the back, piece by piece, with cutter, depth and fence.

use super::{
    Cell, CutDepth, Data, Hold, Job, Kind, MachineSetting, Named, Sheet, Station, Table, Value, View, figures,
};
use crate::checks::limits::Limits;
use crate::design::formulas::{fill_of_channel, round_area};
use crate::diag::codes;
use crate::geom::Point;
use crate::model::Known;
use crate::paper::Place;

pub(super) const ID: &str = "routing-map";

/// One routed piece, as the map numbers it.
struct Piece {
    number: usize,
    kind: &'static str,
    part: &'static str,
    fret: Option<usize>,
    from: Point,
    to: Point,
    width: Known<f64>,
    depth: Option<Known<f64>>,
    wires: Option<Known<usize>>,
}

/// The sheet; none where nothing is lit or the map is open.
pub(super) fn sheet(job: &Job<'_>) -> Option<Sheet> {
    let pieces = pieces(job)?;
    let table = table(job, &pieces);
    let unit = job.unit();
    Some(Sheet {
        id: ID,
        title: "Routing map",
        kind: "bench sheet",
        read_first: "The board lies on its face: this is the BACK. Seats first, then channels.".to_owned(),
        datum: "the squared end, and across from the centreline",
        station: Station::Router,
        caution: None,
        data: data(job, &pieces),
        views: views(job, &pieces).into(),
        tables: vec![table],
        drawings: figures::board_back(job, Some(&names(&pieces)))
            .ok()
            .map(|drawing| ("board-back", drawing))
            .into_iter()
            .collect(),
        holds: holds(job),
        settings: settings(job),
        unit,
    })
}

fn pieces(job: &Job<'_>) -> Option<Vec<Piece>> {
    let channels = job.model.channels.as_ref()?;
    let lamps = job.design.lamps.as_ref()?;
    let map = lamps.map.as_ref().ok()?;
    let wires = lamps.wires.as_ref().map_err(|missing| *missing);
    let (width, depth) = (channels.width.mm(), channels.depth.mm());
    let piece = |kind, fret, strip: &crate::geom::Segment, wires| Piece {
        number: 0,
        kind,
        part: "board",
        fret,
        from: strip.start,
        to: strip.end,
        width,
        depth: Some(depth),
        wires: Some(wires),
    };
    let sides = map
        .sides
        .iter()
        .enumerate()
        .map(|(index, side)| piece("side", None, &side.centre, wires.map(|wires| wires.in_sides[index])));
    let crosses = map.crosses.iter().enumerate().map(|(index, cross)| {
        piece("cross", Some(cross.fret), &cross.strip.centre, wires.map(|wires| wires.in_crosses[index]))
    });
    let end = piece("end", None, &map.end.centre, wires.map(|wires| wires.in_end));
    let exit = Piece {
        number: 0,
        kind: "exit",
        part: "neck",
        fret: None,
        from: map.exit.centre,
        to: map.exit.centre,
        width: Ok(map.exit.radius * 2.0),
        depth: None,
        wires: None,
    };
    let mut pieces: Vec<Piece> = sides.chain(crosses).chain([end, exit]).collect();
    for (index, piece) in pieces.iter_mut().enumerate() {
        piece.number = index + 1;
    }
    Some(pieces)
}

/// The numbers of the pieces; none where nothing is lit or the map is open.
pub(super) fn piece_names(job: &Job<'_>) -> Option<figures::PieceNames> {
    Some(names(&pieces(job)?))
}

/// The pieces' numbers as the drawing writes them.
fn names(pieces: &[Piece]) -> figures::PieceNames {
    let of = |kind: &str| {
        pieces.iter().filter(|piece| piece.kind == kind).map(|piece| piece.number.to_string()).collect::<Vec<_>>()
    };
    let one = |kind: &str| of(kind).pop().unwrap_or_default();
    let mut sides = of("side").into_iter();
    let mut side = || sides.next().unwrap_or_default();
    figures::PieceNames { sides: [side(), side()], crosses: of("cross"), end: one("end"), exit: one("exit") }
}

fn fill(job: &Job<'_>, piece: &Piece) -> Option<Known<f64>> {
    let (wires, depth) = (piece.wires?, piece.depth?);
    let circuit = job.model.circuit.as_ref()?;
    Some((|| {
        let wires = f64::from(u32::try_from(wires?).unwrap_or(u32::MAX));
        Ok(fill_of_channel(wires, round_area(circuit.hookup.mm()?), piece.width?, depth?))
    })())
}

fn table(job: &Job<'_>, pieces: &[Piece]) -> Table {
    let hand = job.hand();
    let mut table = Table::new(
        ID,
        &[
            ("piece", Kind::Count),
            ("kind", Kind::Words),
            ("part", Kind::Words),
            ("face", Kind::Words),
            ("fret", Kind::Count),
            ("x1_mm", Kind::Length),
            ("y1_mm", Kind::Across),
            ("x2_mm", Kind::Length),
            ("y2_mm", Kind::Across),
            ("width_mm", Kind::Length),
            ("depth_mm", Kind::Length),
            ("tool", Kind::Words),
            ("wires", Kind::Count),
            ("fill_percent", Kind::Figure("%", 1)),
        ],
    );
    for piece in pieces {
        let tool = if piece.kind == "exit" { "bit" } else { "cutter" };
        table.row(vec![
            piece.number.into(),
            piece.kind.into(),
            piece.part.into(),
            if piece.part == "board" { "back" } else { "front" }.into(),
            piece.fret.into(),
            piece.from.x.into(),
            hand.y(piece.from.y).into(),
            piece.to.x.into(),
            hand.y(piece.to.y).into(),
            piece.width.into(),
            piece.depth.into(),
            piece.width.map(|width| format!("{tool} {}", job.tool(width))).into(),
            piece.wires.into(),
            fill(job, piece).into(),
        ]);
    }
    table
}

/// The bench's view, from the squared end, and the builder's, from the zero line; in both the side is named.
fn views(job: &Job<'_>, pieces: &[Piece]) -> [Named; 2] {
    let mut table = Table::new(
        ID,
        &[
            ("piece", Kind::Count),
            ("what", Kind::Words),
            ("from_mm", Kind::Length),
            ("from_across", Kind::Words),
            ("to_mm", Kind::Length),
            ("to_across", Kind::Words),
            ("from_zero_mm", Kind::Length),
            ("to_zero_mm", Kind::Length),
            ("width_mm", Kind::Length),
            ("depth_mm", Kind::Length),
            ("wires", Kind::Count),
            ("fill_percent", Kind::Figure("%", 1)),
        ],
    );
    for piece in pieces {
        let from_end = |x: f64| job.design.squared_end.map(|end| x - end);
        let what = match (piece.kind, piece.fret) {
            ("cross", Some(fret)) => format!("cross, before fret {fret}"),
            ("side", _) => format!("side, {}: to the wall", if piece.from.y < 0.0 { "bass" } else { "treble" }),
            ("exit", _) => "exit hole, into the neck".to_owned(),
            (kind, _) => kind.to_owned(),
        };
        let far = piece.kind != "exit";
        table.row(vec![
            piece.number.into(),
            what.into(),
            from_end(piece.from.x).into(),
            job.across(piece.from.y).into(),
            if far { from_end(piece.to.x).into() } else { Cell::Empty },
            if far { job.across(piece.to.y).into() } else { Cell::Empty },
            piece.from.x.into(),
            if far { piece.to.x.into() } else { Cell::Empty },
            piece.width.into(),
            piece.depth.into(),
            piece.wires.into(),
            fill(job, piece).into(),
        ]);
    }
    let across = format!("from the centreline, {}", job.unit_word());
    // The hole for the wires is no cut in the board: on paper it stands in words, without a box to tick.
    let exit = pieces.iter().position(|piece| piece.kind == "exit").map(|index| index + 1);
    let in_board = |row: &[Cell]| !matches!(row.first(), Some(Cell::Count(piece)) if exit.is_some_and(|exit| usize::try_from(*piece) == Ok(exit)));
    let bench = table.view(
        ID,
        job.unit(),
        Place::Bench,
        &[
            View::column("piece", "piece").strong(),
            View::column("what", "what"),
            View::column("from_mm", "from the squared end").strong(),
            View::column("from_across", across.as_str()),
            View::column("to_mm", "to").strong(),
            View::column("to_across", across.as_str()),
            View::Tick("routed".to_owned()),
        ],
        in_board,
    );
    let back = table.desk(
        "routing-map-back",
        job.unit(),
        &[
            View::column("piece", "piece").strong(),
            View::column("what", "what"),
            View::column("from_zero_mm", "from the zero line"),
            View::column("from_across", across.as_str()),
            View::column("to_zero_mm", "to"),
            View::column("to_across", across.as_str()),
            View::column("width_mm", "wide"),
            View::column("depth_mm", "deep"),
            View::column("wires", "wires"),
            View::column("fill_percent", "fill"),
        ],
    );
    [bench, back]
}

fn data(job: &Job<'_>, pieces: &[Piece]) -> Data {
    let mut data = Data::new();
    if let Some(exit) = pieces.iter().find(|piece| piece.kind == "exit") {
        data.insert("exit_piece", Value::Prose(exit.number.to_string()));
        if let Ok(end) = job.design.squared_end {
            let place = format!("{} from the squared end, {}", job.length(exit.from.x - end), job.across(exit.from.y));
            data.insert("exit_place", Value::Prose(place));
        }
    }
    data.insert("unit", job.unit_word().into());
    let Some(channels) = &job.model.channels else { return data };
    data.insert("depth_tolerance", job.tolerance_text("channel depth").into());
    if let Ok(width) = channels.width.mm() {
        let cutter = job.tool(width);
        data.insert("cutter", cutter.value.into());
        data.insert("cutter_unit", cutter.unit.into());
        data.insert("cutter_other", cutter.other.into());
        if let Ok(margin) = channels.margin.mm() {
            data.insert("fence_wall", job.length(margin).into());
            data.insert("fence_centre", job.length(margin + width / 2.0).into());
        }
    }
    if let Ok(depth) = channels.depth.mm() {
        data.insert("depth", job.length(depth).into());
        data.insert("depth_other", job.other_length(depth).into());
    }
    if let Some(Ok(exit)) = job.model.channels.as_ref().map(|channels| channels.exit_hole.mm()) {
        data.insert("exit", job.tool(exit).to_string().into());
    }
    if let Some(Ok(left)) = job.design.lamps.as_ref().map(|lamps| lamps.glue_face) {
        data.insert("glue_face", crate::rounding::fixed(left, 1).into());
    }
    if let Some(wood) = least_wood(job) {
        data.insert("wood_to_slot", job.length(wood).into());
    }
    data.insert("bass_edge_at", figures::view::View::back(job.hand()).bass_edge_at().into());
    data.insert("bass_edge_on_glue_face", figures::view::View::front(job.hand()).bass_edge_at().into());
    data.insert("domed", job.is_worked_domed().into());
    data
}

fn holds(job: &Job<'_>) -> Vec<Hold> {
    let Some(channels) = &job.model.channels else { return Vec::new() };
    let mut holds = Vec::new();
    if let Ok(depth) = channels.depth.mm() {
        let tolerance = job.tolerance("channel depth");
        holds.push(Hold {
            step: "channels",
            what: "depth of a side channel, from the back".to_owned(),
            nominal: Some(depth),
            low: Some(depth - tolerance.under),
            high: Some(depth + tolerance.over),
            unit: "mm",
        });
    }
    if let Ok(margin) = channels.margin.mm() {
        let tolerance = job.tolerance("channel place");
        holds.push(Hold {
            step: "channels",
            what: "outer wall of a side channel to the taper line".to_owned(),
            nominal: Some(margin),
            low: Some(margin - tolerance.under),
            high: Some(margin + tolerance.over),
            unit: "mm",
        });
    }
    if let Some(wood) = least_wood(job) {
        holds.push(Hold {
            step: "channels",
            what: "thinnest wood to a slot: board less slot less channel, as measured".to_owned(),
            nominal: Some(wood),
            low: Limits::of(job.model).of_code(codes::CHAN_01).and_then(|limit| limit.error.least),
            high: None,
            unit: "mm",
        });
    }
    holds
}

/// The depth that a strip can prove: the channels'.
pub(super) fn depths(job: &Job<'_>) -> Vec<CutDepth> {
    let depth = job.model.channels.as_ref().and_then(|channels| channels.depth.mm().ok());
    depth.map(|depth| CutDepth::new(job, "channel depth", depth, Some("channel depth"))).into_iter().collect()
}

/// Least wood between any slot, cut to what is set, and a channel under it; none where no slot crosses one, or it waits.
fn least_wood(job: &Job<'_>) -> Option<f64> {
    let (model, design) = (job.model, job.design);
    let channels = model.channels.as_ref()?;
    let map = design.lamps.as_ref()?.map.as_ref().ok()?;
    let (slots, depths) = (design.slots.as_ref().ok()?, design.depths.as_ref().ok()?);
    let wood = slots.iter().filter_map(|(fret, slot)| {
        let wood_under = job.wood_under_as_set(depths.fret(*fret)?);
        map.wood_to_slot(model, channels, slot.as_ref().ok()?, wood_under, &design.face).ok().flatten()
    });
    wood.reduce(f64::min)
}

fn settings(job: &Job<'_>) -> Vec<MachineSetting> {
    let Some(channels) = &job.model.channels else { return Vec::new() };
    let setting = |label: &str, figure: f64, tolerance: &'static str, note: &str| MachineSetting {
        station: Station::Router,
        label: label.to_owned(),
        value: job.length(figure),
        unit: job.unit_word().to_owned(),
        tolerance: job.tolerance_text(tolerance),
        note: note.to_owned(),
    };
    let cutter = channels.width.mm().map(|width| format!("cutter {}", job.tool(width))).unwrap_or_default();
    let mut settings = Vec::new();
    if let Ok(depth) = channels.depth.mm() {
        settings.push(setting("channel depth", depth, "channel depth", &cutter));
    }
    if let Ok(margin) = channels.margin.mm() {
        settings.push(setting("fence, near wall to the taper line", margin, "channel place", &cutter));
    }
    settings
}
