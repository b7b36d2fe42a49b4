//! `potting`: how much of each part is mixed, in what order it is poured, and when the work goes on.

use super::{Cell, Data, Hold, Job, Kind, MachineSetting, Sheet, Station, Table, View};
use crate::design::lamps::potting::Potting;
use crate::rounding;

const ID: &str = "potting";

/// The step that a part is rounded up to, millilitres.
const STEP: f64 = 0.1;

/// The sheet; none where nothing is lit or the volume is open.
pub(super) fn sheet(job: &Job<'_>) -> Option<Sheet> {
    let potting = *job.design.lamps.as_ref()?.potting.as_ref().ok()?;
    let table = table(&potting);
    let unit = job.unit();
    let back = table.desk(
        "potting-back",
        unit,
        &[View::column("part", "part").strong(), View::column("volume_mm3", "volume"), View::column("mix_ml", "mix")],
    );
    let (a, b) = parts(job, potting.mix);
    Some(Sheet {
        id: ID,
        title: "Potting",
        kind: "bench sheet",
        read_first: "Every lamp has lit, and is lit again now, before anything is mixed.".to_owned(),
        datum: "",
        station: Station::Epoxy,
        caution: None,
        data: data(job, &potting, (a, b)),
        views: vec![batches(job, (a, b)), back],
        tables: vec![table],
        drawings: Vec::new(),
        holds: holds(),
        settings: vec![MachineSetting {
            station: Station::Epoxy,
            label: "resin, part A".to_owned(),
            value: rounding::fixed(a, 1),
            unit: "ml".to_owned(),
            tolerance: String::new(),
            note: format!("hardener, part B: {}\u{a0}ml", rounding::fixed(b, 1)),
        }],
        unit,
    })
}

/// Parts A and B of a mix, rounded up in the mix's own proportion: B to a whole step, A to go with it.
fn parts(job: &Job<'_>, mix: f64) -> (f64, f64) {
    let (a, b) = job.model.shop.epoxy.mix;
    let (small, large) = (a.min(b), a.max(b));
    let rounded_small = rounding::up(mix * small / (a + b), STEP);
    let rounded_large = rounding::up(rounded_small * large / small, STEP);
    if a >= b { (rounded_large, rounded_small) } else { (rounded_small, rounded_large) }
}

fn table(potting: &Potting) -> Table {
    let mut table = Table::new(
        ID,
        &[("part", Kind::Words), ("volume_mm3", Kind::Figure("mm³", 1)), ("mix_ml", Kind::Figure("ml", 2))],
    );
    for (part, volume) in [
        ("channels", potting.channels),
        ("seats", potting.seats),
        ("flanges", potting.flanges),
        ("wire", potting.wire),
        ("net", potting.net),
    ] {
        let mix = if part == "net" { potting.mix.into() } else { Cell::Empty };
        table.row(vec![part.into(), volume.into(), mix]);
    }
    table
}

/// The bench's record of each batch: the first is the computed one, a second stays blank.
fn batches(job: &Job<'_>, (a, b): (f64, f64)) -> super::Named {
    let mut table =
        Table::new(ID, &[("batch", Kind::Count), ("a", Kind::Figure("ml", 1)), ("b", Kind::Figure("ml", 1))]);
    table.row(vec![1_usize.into(), a.into(), b.into()]);
    table.row(vec![2_usize.into(), Cell::Empty, Cell::Empty]);
    table.bench(
        ID,
        job.unit(),
        &[
            View::column("batch", "batch").strong(),
            View::column("a", "part A").main(),
            View::column("b", "part B").main(),
            View::WriteIn("mixed at".to_owned()),
            View::WriteIn("poured at".to_owned()),
            View::WriteIn("not before".to_owned()),
        ],
    )
}

fn data(job: &Job<'_>, potting: &Potting, (a, b): (f64, f64)) -> Data {
    let epoxy = &job.model.shop.epoxy;
    let mut data = Data::new();
    data.insert("a", rounding::fixed(a, 1).into());
    data.insert("b", rounding::fixed(b, 1).into());
    data.insert("mix", rounding::fixed(potting.mix, 1).into());
    let plain = |figure: f64| rounding::fixed(figure, 2).trim_end_matches('0').trim_end_matches('.').to_owned();
    data.insert("ratio", format!("{} : {}", plain(epoxy.mix.0), plain(epoxy.mix.1)).into());
    data.insert("allowance", plain(epoxy.allowance.to_parts() * 100.0).into());
    if let Some(life) = epoxy.pot_life.as_ref().and_then(|life| life.get().ok()) {
        data.insert("pot_life", plain(life.to_minutes()).into());
    }
    if let Some(cure) = epoxy.cure {
        data.insert("cure", plain(cure.to_minutes() / 60.0).into());
    }
    data.insert("domed", job.design.face.is_ok_and(|face| !face.is_flat()).into());
    if let Some(depth) = epoxy.pour_depth.as_ref().and_then(|depth| depth.mm().ok()) {
        data.insert("several_pours", deepest_cut(job).is_none_or(|deepest| deepest > depth).into());
        data.insert("pour_depth", job.length(depth).into());
        data.insert("unit", job.unit_word().into());
    }
    let oily = super::hazards::board_wood(job).is_some_and(|wood| wood.oily);
    data.insert("oily", oily.into());
    data
}

/// How deep the epoxy stands where it is deepest, millimetres; none while a depth is open.
fn deepest_cut(job: &Job<'_>) -> Option<f64> {
    let channels = job.model.channels.as_ref()?.depth.mm().ok()?;
    let seats = job.design.lamps.as_ref()?.seats.as_ref().ok()?;
    seats.iter().try_fold(channels, |deepest, seat| Some(deepest.max(seat.seat.ok()?)))
}

fn holds() -> Vec<Hold> {
    let tick = |step: &'static str, what: &str| Hold {
        step,
        what: what.to_owned(),
        nominal: None,
        low: None,
        high: None,
        unit: "",
    };
    vec![tick("pot", "every lamp lights before the first pour"), tick("pot", "face taped, no hole left open")]
}
