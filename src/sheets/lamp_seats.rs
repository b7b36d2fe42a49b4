//! `lamp-seats`: how deep each counterbore is bored from the back, by stops.

use super::{CutDepth, Data, Hold, Job, Kind, MachineSetting, Named, Sheet, Station, Table, Value, View, figures};
use crate::design::lamps::seats::Seat;
use crate::model::Known;
use crate::rounding;

pub(super) const ID: &str = "lamp-seats";

/// The sheet; none where nothing is lit or no seat is known.
pub(super) fn sheet(job: &Job<'_>) -> Option<Sheet> {
    let seats = job.design.lamps.as_ref()?.seats.as_ref().ok()?;
    let stops = stops(job, seats);
    let table = table(job, seats, &stops);
    if !table.knows("seat_mm") {
        return None;
    }
    let unit = job.unit();
    let back = table.desk(
        "lamp-seats-back",
        unit,
        &[
            View::column("lamp", "lamp").strong(),
            View::column("fret", "fret"),
            View::column("seat_mm", "seat"),
            View::column("set_mm", "set"),
            View::column("lead_room_mm", "lead room"),
            View::column("wood_above_mm", "wood above"),
            View::column("sand_max_mm", "most to sand"),
        ],
    );
    Some(Sheet {
        id: ID,
        title: "Lamp seats",
        kind: "bench sheet",
        read_first: "Bore from the back, stop by stop. Deeper = lens higher.".to_owned(),
        datum: "the BACK: depths; the squared end: places",
        station: Station::Drill,
        caution: None,
        data: data(job, seats, &stops),
        views: vec![bench(job, seats, &stops), back],
        tables: vec![table],
        drawings: drawings(job),
        holds: holds(job, &stops),
        settings: settings(job, &stops),
        unit,
    })
}

/// One stop of the drill and its lamps.
struct Stop {
    letter: char,
    set: f64,
    lamps: Vec<usize>,
}

/// The stops, deepest first: A, B, C …
fn stops(job: &Job<'_>, seats: &[Seat]) -> Vec<Stop> {
    let mut stops: Vec<Stop> = Vec::new();
    for seat in seats {
        let Ok(set) = seat.seat.map(|seat| job.set_down(seat)) else { continue };
        match stops.iter_mut().find(|stop| (stop.set - set).abs() < rounding::ON_STEP) {
            Some(stop) => stop.lamps.push(seat.lamp),
            None => stops.push(Stop { letter: 'A', set, lamps: vec![seat.lamp] }),
        }
    }
    stops.sort_by(|a, b| b.set.total_cmp(&a.set));
    for (stop, letter) in stops.iter_mut().zip(('A'..='Z').cycle()) {
        stop.letter = letter;
    }
    stops
}

fn stop_of(stops: &[Stop], lamp: usize) -> Option<&Stop> {
    stops.iter().find(|stop| stop.lamps.contains(&lamp))
}

fn place(job: &Job<'_>, lamp: usize) -> Known<crate::geom::Point> {
    let markers = job.design.markers.as_ref().map_err(|missing| *missing)?;
    markers
        .iter()
        .find(|marker| marker.number == lamp)
        .map_or(Err(crate::model::Missing::faulty("markers.single")), |marker| marker.middle)
}

fn table(job: &Job<'_>, seats: &[Seat], stops: &[Stop]) -> Table {
    let hand = job.hand();
    let mut table = Table::new(
        ID,
        &[
            ("lamp", Kind::Count),
            ("fret", Kind::Count),
            ("stop", Kind::Words),
            ("x_mm", Kind::Length),
            ("y_mm", Kind::Across),
            ("seat_mm", Kind::Length),
            ("set_mm", Kind::Length),
            ("lead_room_mm", Kind::Length),
            ("wood_above_mm", Kind::Length),
            ("sand_max_mm", Kind::Length),
        ],
    );
    for seat in seats {
        let place = place(job, seat.lamp);
        table.row(vec![
            seat.lamp.into(),
            seat.fret.into(),
            stop_of(stops, seat.lamp).map(|stop| stop.letter.to_string()).into(),
            place.map(|place| place.x).into(),
            place.map(|place| hand.y(place.y)).into(),
            seat.seat.into(),
            seat.seat.map(|seat| job.set_down(seat)).into(),
            seat.lead_room.into(),
            seat.wood_above.into(),
            seat.most_sanded.into(),
        ]);
    }
    table
}

fn bench(job: &Job<'_>, seats: &[Seat], stops: &[Stop]) -> Named {
    let mut table = Table::new(
        ID,
        &[
            ("lamp", Kind::Count),
            ("stop", Kind::Words),
            ("set_mm", Kind::Length),
            ("from_end_mm", Kind::Length),
            ("across", Kind::Words),
        ],
    );
    for seat in seats {
        let place = place(job, seat.lamp);
        table.row(vec![
            seat.lamp.into(),
            stop_of(stops, seat.lamp).map(|stop| stop.letter.to_string()).into(),
            seat.seat.map(|seat| job.set_down(seat)).into(),
            place.and_then(|place| Ok(place.x - job.design.squared_end?)).into(),
            place.map(|place| job.across(place.y)).into(),
        ]);
    }
    table.bench(
        ID,
        job.unit(),
        &[
            View::column("lamp", "lamp").strong(),
            View::column("stop", "stop").strong(),
            View::column("set_mm", "bore to").main(),
            View::Tick("bored".to_owned()),
            View::WriteIn("measured".to_owned()),
            View::column("from_end_mm", "from the squared end"),
            View::column("across", format!("from the centreline, {}", job.unit_word())),
        ],
    )
}

/// What a dummy lamp reads in the flat blank when bored to the set figure: `0.10 over`, `0.35 below`.
fn dummy_words(job: &Job<'_>, set: f64) -> Option<String> {
    let lamp = job.model.lamp.as_ref()?;
    let (height, thickness) = (lamp.lens_height.mm().ok()?, job.model.board.thickness.mm().ok()?);
    let reading = crate::design::formulas::dummy_reading(set, height, thickness, job.model.slots.skim.mm().ok()?);
    let words = if reading < 0.0 { "below the face" } else { "over the face" };
    Some(format!("{}\u{a0}{words}", job.length(reading.abs())))
}

fn data(job: &Job<'_>, seats: &[Seat], stops: &[Stop]) -> Data {
    let mut data = Data::new();
    data.insert("unit", job.unit_word().into());
    data.insert("tolerance", job.tolerance_text("seat depth").into());
    data.insert("domed", job.is_worked_domed().into());
    if let Some(Ok(bore)) = job.model.lamp.as_ref().map(|lamp| lamp.counterbore.mm()) {
        let bit = job.tool(bore);
        data.insert("bit", bit.to_string().into());
        data.insert("bit_value", Value::Prose(bit.value));
        data.insert("bit_unit", Value::Prose(bit.unit.to_owned()));
        data.insert("bit_other", Value::Prose(bit.other));
    }
    if let Some(skim) = job.skim_to_come() {
        data.insert("skim", job.length(skim).into());
    }
    if let Ok(thickness) = job.model.board.thickness.mm() {
        data.insert("thickness", job.length(thickness).into());
        let (over, under) = REISSUE;
        data.insert("at_most", job.length(thickness + over).into());
        data.insert("at_least", job.length(thickness - under).into());
    }
    let list = stops
        .iter()
        .map(|stop| {
            let lamps = stop.lamps.iter().map(ToString::to_string).collect::<Vec<_>>().join(" ");
            Data::from([
                ("letter", Value::from(stop.letter.to_string())),
                ("set", job.length(stop.set).into()),
                ("other", job.other_length(stop.set).into()),
                ("lamps", lamps.into()),
                ("dummy", dummy_words(job, stop.set).unwrap_or_default().into()),
            ])
        })
        .collect::<Vec<_>>();
    data.insert("stops", list.into());
    data.insert("waiting", seats.iter().any(|seat| seat.seat.is_err()).into());
    data
}

/// How far the measured thickness may lie over and under the nominal before the seats are issued again.
/// Common practice, no source.
pub(super) const REISSUE: (f64, f64) = (0.05, 0.10);

fn drawings(job: &Job<'_>) -> Vec<(&'static str, crate::drawing::Drawing)> {
    let Ok(markers) = &job.design.markers else { return Vec::new() };
    let single = markers.iter().find(|marker| marker.side.is_none()).map(|marker| marker.number);
    let pair = markers.iter().rev().find(|marker| marker.side.is_some()).map(|marker| marker.number);
    let section = |number: Option<usize>| figures::lamp_section(job, number?).ok();
    section(single)
        .map(|drawing| ("lamp-single", drawing))
        .into_iter()
        .chain(section(pair).map(|drawing| ("lamp-pair", drawing)))
        .collect()
}

fn holds(job: &Job<'_>, stops: &[Stop]) -> Vec<Hold> {
    let tolerance = job.tolerance("seat depth");
    stops
        .iter()
        .map(|stop| Hold {
            step: "seats",
            what: format!("stop {}, depth of a seat from the back", stop.letter),
            nominal: Some(stop.set),
            low: Some(stop.set - tolerance.under),
            high: Some(stop.set + tolerance.over),
            unit: "mm",
        })
        .collect()
}

/// The label of the card for the counterbores' bit: no depth is set by it.
pub(super) const COUNTERBORE: &str = "BIT for the counterbores";

/// The depths that a strip can prove: one for each stop.
pub(super) fn depths(job: &Job<'_>) -> Vec<CutDepth> {
    let Some(Ok(seats)) = job.design.lamps.as_ref().map(|lamps| lamps.seats.as_ref()) else { return Vec::new() };
    // How wide a strip may be is not known without both.
    let sizes = job.model.lamp.as_ref().and_then(|lamp| Some((lamp.counterbore.mm().ok()?, lamp.hole.mm().ok()?)));
    let Some((bore, through)) = sizes else { return Vec::new() };
    let depth = |stop: &Stop| CutDepth {
        places: lamps_in_words(stop),
        bore: Some(bore),
        through: Some(through),
        ..CutDepth::new(job, format!("seat, stop {}", stop.letter), stop.set, Some("seat depth"))
    };
    stops(job, seats).iter().map(depth).collect()
}

/// The lamps of a stop: `lamps 1 2 7`.
fn lamps_in_words(stop: &Stop) -> String {
    format!("lamps {}", stop.lamps.iter().map(ToString::to_string).collect::<Vec<_>>().join(" "))
}

fn settings(job: &Job<'_>, stops: &[Stop]) -> Vec<MachineSetting> {
    let bore = job.model.lamp.as_ref().and_then(|lamp| lamp.counterbore.mm().ok()).map(|bore| {
        let bit = job.tool(bore);
        MachineSetting {
            station: Station::Drill,
            label: COUNTERBORE.to_owned(),
            value: format!("Ø {}", bit.value),
            unit: bit.unit.to_owned(),
            tolerance: String::new(),
            note: "flat-bottomed, from the BACK".to_owned(),
        }
    });
    let stops = stops.iter().map(|stop| MachineSetting {
        station: Station::Drill,
        label: format!("seat, STOP {}", stop.letter),
        value: job.length(stop.set),
        unit: format!("{} deep", job.unit_word()),
        tolerance: job.tolerance_text("seat depth"),
        note: format!("from the BACK · {}", lamps_in_words(stop)),
    });
    bore.into_iter().chain(stops).collect()
}
