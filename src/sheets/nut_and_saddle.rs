//! `nut-and-saddle`: where each string crosses the nut and the saddle.

use super::{Data, Job, Kind, Sheet, Station, Table, View};
use crate::design::board::layout::Layout;
use crate::design::board::strings::StringPlaces;
use crate::design::formulas::along_slant;
use crate::spec::words::Side;

const ID: &str = "nut-and-saddle";

/// Room of a nut slot over the string's gauge, millimetres. Common practice, no source.
const SLOT_ROOM: (f64, f64) = (0.05, 0.10);

/// How far the bottom of a nut slot lies over the plane of the frets' tops, millimetres. Common practice, no source.
const OVER_FRETS: (f64, f64) = (0.3, 0.5);

/// The sheet; none while the strings' places are open.
pub(super) fn sheet(job: &Job<'_>) -> Option<Sheet> {
    let places = StringPlaces::of(job.model).ok()?;
    let set = job.model.strings.set.get().ok()?;
    let layout = job.design.layout.as_ref().ok();
    let fan = layout.is_some_and(|layout| layout.fan);
    let mut table = Table::new(
        ID,
        &[
            ("string", Kind::Count),
            ("note", Kind::Words),
            ("nut_from_treble_mm", Kind::Length),
            ("saddle_from_treble_mm", Kind::Length),
            ("nut_along_mm", Kind::Length),
            ("saddle_along_mm", Kind::Length),
            ("slot_from_mm", Kind::Length),
            ("slot_to_mm", Kind::Length),
        ],
    );
    let from_treble = |places: &[f64], index: usize| places[0] - places[index];
    for (index, string) in set.iter().enumerate() {
        let (nut, saddle) = (from_treble(&places.nut, index), from_treble(&places.saddle, index));
        let along = layout
            .map(|layout| (along_slant(nut, layout.zero_line().angle()), along_slant(saddle, layout.saddle().angle())));
        let gauge = string.gauge.to_mm();
        table.row(vec![
            (index + 1).into(),
            super::Cell::Quoted(string.note.clone()),
            nut.into(),
            saddle.into(),
            along.map(|(nut, _)| nut).into(),
            along.map(|(_, saddle)| saddle).into(),
            (gauge + SLOT_ROOM.0).into(),
            (gauge + SLOT_ROOM.1).into(),
        ]);
    }
    let unit = job.unit();
    let (nut, saddle) =
        if fan { ("nut_along_mm", "saddle_along_mm") } else { ("nut_from_treble_mm", "saddle_from_treble_mm") };
    let bench = table.bench(
        ID,
        unit,
        &[
            View::column("string", "string").strong(),
            View::column("note", "note"),
            View::column(nut, if fan { "along the nut" } else { "nut" }).main(),
            View::Tick("nut cut".to_owned()),
            View::column(saddle, if fan { "along the saddle" } else { "saddle" }).main(),
            View::Tick("saddle set".to_owned()),
            View::column("slot_from_mm", "slot wide, from"),
            View::column("slot_to_mm", "to"),
        ],
    );
    let mut data = Data::new();
    data.insert("fan", fan.into());
    data.insert("unit", job.unit_word().into());
    data.insert("strings", set.len().into());
    // On a fan the rule lies along the slant, and so do these figures; square to the centreline beside them.
    let span = |places: &[f64]| places[0] - places[places.len() - 1];
    for (name, square, line) in [
        ("nut", span(&places.nut), layout.map(Layout::zero_line)),
        ("saddle", span(&places.saddle), layout.map(Layout::saddle)),
    ] {
        let along = line.map_or(square, |line| along_slant(square, line.angle()));
        data.insert(if name == "nut" { "spread_nut" } else { "spread_saddle" }, job.length(along).into());
        data.insert(if name == "nut" { "square_nut" } else { "square_saddle" }, job.length(square).into());
    }
    for (side, index, name) in
        [(Side::Treble, 0, "edge_treble"), (Side::Bass, set.len().saturating_sub(1), "edge_bass")]
    {
        if let (Some(line), Some(string), Ok(edges)) =
            (layout.map(Layout::zero_line), places.nut.get(index), job.design.edges)
        {
            let to_edge = edges.on(side).meets(&line, 0.0).y.abs() - string.abs();
            data.insert(name, job.length(along_slant(to_edge, line.angle())).into());
        }
    }
    let zero_fret = job.has_zero_fret();
    data.insert("zero_fret", zero_fret.into());
    if !zero_fret {
        let [low, high] = [OVER_FRETS.0, OVER_FRETS.1].map(|over| job.length(over));
        data.insert("over_frets_from", low.into());
        data.insert("over_frets_to", high.into());
    }
    Some(Sheet {
        id: ID,
        title: "Nut and saddle",
        kind: "bench sheet",
        read_first: "Measure every string from string 1, never from the string before.".to_owned(),
        datum: "string 1, the highest",
        station: Station::Bench,
        caution: None,
        data,
        views: vec![bench],
        tables: vec![table],
        drawings: Vec::new(),
        holds: Vec::new(),
        settings: Vec::new(),
        unit,
    })
}
