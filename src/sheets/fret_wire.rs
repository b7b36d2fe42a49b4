//! `fret-wire`: the pieces in cutting order, stick by stick.

use super::{Data, Job, Kind, MachineSetting, Named, Sheet, Station, Table, Value, View};
use crate::design::board::wire::{self, WirePiece};

const ID: &str = "fret-wire";

/// The sheet; none while no piece's length is known.
pub(super) fn sheet(job: &Job<'_>) -> Option<Sheet> {
    let pieces = job.design.wire.as_ref().ok()?;
    let table = table(pieces);
    if !table.knows("length_mm") {
        return None;
    }
    let unit = job.unit();
    let back = table.desk(
        "fret-wire-back",
        unit,
        &[
            View::column("fret", "fret").strong(),
            View::column("length_mm", "crown, end to end"),
            View::column("cut_mm", "cut"),
            View::column("tang_mm", "tang"),
            View::column("stick", "stick"),
            View::column("bend_radius_mm", "bend to radius"),
        ],
    );
    Some(Sheet {
        id: ID,
        title: "Fret wire",
        kind: "bench sheet",
        read_first: "Cut in this order, stick by stick. Put each piece in the numbered block at once.".to_owned(),
        datum: "the end of the stick",
        station: Station::Press,
        caution: None,
        data: data(job, pieces),
        views: vec![cutting_order(job, pieces), back],
        tables: vec![table],
        drawings: Vec::new(),
        holds: Vec::new(),
        settings: settings(job, pieces),
        unit,
    })
}

fn table(pieces: &[WirePiece]) -> Table {
    let mut table = Table::new(
        ID,
        &[
            ("fret", Kind::Count),
            ("length_mm", Kind::Length),
            ("cut_mm", Kind::Length),
            ("tang_mm", Kind::Length),
            ("stick", Kind::Count),
            ("bend_radius_mm", Kind::Length),
        ],
    );
    for piece in pieces {
        table.row(vec![
            piece.fret.into(),
            piece.length.into(),
            piece.cut.into(),
            piece.tang.into(),
            piece.stick.into(),
            piece.bend_radius.into(),
        ]);
    }
    table
}

/// The same pieces by stick, longest first, as they are cut.
fn cutting_order(job: &Job<'_>, pieces: &[WirePiece]) -> Named {
    let mut order: Vec<&WirePiece> = pieces.iter().collect();
    order.sort_by(|a, b| {
        let stick = |piece: &WirePiece| piece.stick.unwrap_or(usize::MAX);
        let cut = |piece: &WirePiece| piece.cut.unwrap_or(0.0);
        stick(a).cmp(&stick(b)).then(cut(b).total_cmp(&cut(a))).then(a.fret.cmp(&b.fret))
    });
    let bound = is_bound(job);
    let mut table = Table::new(
        ID,
        &[
            ("stick", Kind::Count),
            ("fret", Kind::Count),
            ("cut_mm", Kind::Length),
            ("tang_mm", Kind::Length),
            ("bend_radius_mm", Kind::Length),
        ],
    );
    for piece in order {
        table.row(vec![
            piece.stick.into(),
            piece.fret.into(),
            piece.cut.into(),
            piece.tang.into(),
            piece.bend_radius.into(),
        ]);
    }
    let mut views = vec![
        View::column("stick", "stick"),
        View::column("fret", "fret").strong(),
        View::column("cut_mm", "cut").main(),
        View::Tick("cut".to_owned()),
    ];
    if bends(pieces).is_some_and(|(least, most)| differ(least, most)) {
        views.push(View::column("bend_radius_mm", "bend to radius").strong());
    }
    if bends(pieces).is_some() || !job.design.face.is_ok_and(|face| face.is_flat()) {
        views.push(View::Tick("bent".to_owned()));
    }
    if bound {
        views.push(View::column("tang_mm", "nip the tang to").strong());
        views.push(View::Tick("nipped".to_owned()));
    }
    views.push(View::Tick("in the block".to_owned()));
    views.push(View::other("cut_mm", "cut"));
    let mut named = table.bench(ID, job.unit(), &views);
    // No page is turned within a stick.
    named.table.together = Some(0);
    named
}

fn is_bound(job: &Job<'_>) -> bool {
    job.model.board.is_bound()
}

fn data(job: &Job<'_>, pieces: &[WirePiece]) -> Data {
    let mut data = Data::new();
    data.insert("unit", job.unit_word().into());
    data.insert("pieces", pieces.len().into());
    data.insert("flat", job.design.face.is_ok_and(|face| face.is_flat()).into());
    data.insert("bound", is_bound(job).into());
    if let Ok(sticks) = wire::sticks(pieces) {
        data.insert("sticks", sticks.into());
    }
    if let Ok(stick) = job.model.wire.stick.mm() {
        data.insert("stick", job.length(stick).into());
    }
    if let Ok(lost) = pieces.iter().try_fold(0.0, |sum, piece| piece.cut.map(|cut| sum + cut)) {
        data.insert("total", job.length(lost).into());
    }
    if let Some(pattern) = job.model.wire.pattern.as_ref().and_then(|pattern| pattern.get().ok()) {
        data.insert("pattern", Value::Quoted(pattern));
    }
    if let Some((least, most)) = bends(pieces) {
        data.insert("bend", job.length(least).into());
        if differ(least, most) {
            data.insert("bend_most", job.length(most).into());
        }
    }
    data.insert("partial", pieces_are_partial(job).into());
    if let Some(open) = super::slot_depth::open_under_tang(job) {
        data.insert("open_under_tang", job.length(open).into());
    }
    data
}

/// The tightest and the flattest bend; none on a flat board.
fn bends(pieces: &[WirePiece]) -> Option<(f64, f64)> {
    let bends = || pieces.iter().filter_map(|piece| piece.bend_radius.ok()).filter(|bend| bend.is_finite());
    bends().reduce(f64::min).zip(bends().reduce(f64::max))
}

/// Whether two bends differ as printed.
fn differ(least: f64, most: f64) -> bool {
    most - least > crate::rounding::ON_STEP
}

/// A card for the bend, where one will do: nobody is to take the caul's radius for it.
fn settings(job: &Job<'_>, pieces: &[WirePiece]) -> Vec<MachineSetting> {
    let one = bends(pieces).filter(|(least, most)| !differ(*least, *most));
    let card = |(bend, _): (f64, f64)| MachineSetting {
        station: Station::Press,
        label: "bend of the fret wire, radius".to_owned(),
        value: job.length(bend),
        unit: job.unit_word().to_owned(),
        tolerance: String::new(),
        note: format!("before it is pressed in · {}", job.other_length(bend)),
    };
    one.map(card).into_iter().collect()
}

fn pieces_are_partial(job: &Job<'_>) -> bool {
    job.design.slots.as_ref().is_ok_and(|slots| slots.iter().any(|(_, slot)| slot.is_ok_and(|slot| slot.is_partial())))
}
