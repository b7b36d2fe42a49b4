//! `wiring`: group by group, hole to hole, plus first; the resistors in a table of their own; what to expect dry.

use super::{Cell, Data, Hold, Job, Kind, Named, Sheet, Station, Table, Value, View, figures};
use crate::design::lamps::circuit::{GroupCircuit, battery_hours, total_current};
use crate::model::{Known, LampCircuit};
use crate::rounding;
use crate::spec::words::{Resistors, Word};
use crate::units::Voltage;

const ID: &str = "wiring";

const MILLI: f64 = 1000.0;

/// The sheet; none where nothing is lit or no resistor is known.
pub(super) fn sheet(job: &Job<'_>) -> Option<Sheet> {
    let lamps = job.design.lamps.as_ref()?;
    let groups = lamps.groups.as_ref().ok()?;
    let orders = lamps.orders.as_deref().ok();
    let files = table(groups, orders, " ");
    let table = table(groups, orders, ", ");
    let unit = job.unit();
    let back = table.desk(
        "wiring-back",
        unit,
        &[
            View::column("group", "group").strong(),
            View::column("lamps", "lamps"),
            View::column("drop_v", "drop"),
            View::column("resistor_exact_ohm", "exact"),
            View::column("resistor_ohm", "resistor"),
            View::column("current_fresh_ma", "fresh"),
            View::column("current_ma", "nominal"),
            View::column("current_low_ma", "low"),
            View::column("resistor_mw", "heat, fresh"),
        ],
    );
    let resistors = table.bench(
        "wiring-resistors",
        unit,
        &[
            View::column("group", "group").strong(),
            View::column("resistor_ohm", "resistor").main(),
            View::Tick("fitted".to_owned()),
            View::WriteIn("measured Ω".to_owned()),
            View::column("current_low_ma", at(job, |circuit| circuit.supply_low.get())),
            View::column("current_ma", at(job, |circuit| circuit.supply.get())).strong(),
            View::column("current_fresh_ma", at(job, |circuit| circuit.supply_fresh.get())),
            View::WriteIn("measured mA".to_owned()),
        ],
    );
    Some(Sheet {
        id: ID,
        title: "Wiring",
        kind: "bench sheet",
        read_first: "Group by group, hole to hole, + first. Nothing is potted before every lamp has lit.".to_owned(),
        datum: "hole numbers, seen from the BACK",
        station: Station::Solder,
        caution: None,
        data: data(job, groups),
        views: vec![ways(job, groups, orders), resistors, lamp_boxes(job), back],
        tables: vec![files],
        drawings: drawings(job),
        holds: holds(groups),
        settings: Vec::new(),
        unit,
    })
}

fn drawings(job: &Job<'_>) -> Vec<(&'static str, crate::drawing::Drawing)> {
    let circuit = figures::lamp_circuit(job).ok().map(|drawing| ("lamp-circuit", drawing));
    let map = figures::lamp_map(job).ok().map(|drawing| ("lamp-map", drawing));
    circuit.into_iter().chain(map).collect()
}

fn lamps_of(orders: Option<&[Vec<usize>]>, group: usize) -> Option<&[usize]> {
    Some(orders?.get(group)?)
}

fn numbers(lamps: &[usize], between: &str) -> String {
    lamps.iter().map(ToString::to_string).collect::<Vec<_>>().join(between)
}

/// The heading of a current: the battery's voltage that it is expected at.
fn at(job: &Job<'_>, supply: impl Fn(&LampCircuit) -> Known<Voltage>) -> String {
    let volts = job.model.circuit.as_ref().and_then(|circuit| supply(circuit).ok());
    volts.map_or_else(|| "open".to_owned(), |volts| format!("at {}\u{a0}V", rounding::fixed(volts.to_volts(), 1)))
}

fn table(groups: &[GroupCircuit], orders: Option<&[Vec<usize>]>, between: &str) -> Table {
    let mut table = Table::new(
        ID,
        &[
            ("group", Kind::Count),
            ("lamps", Kind::Words),
            ("drop_v", Kind::Figure("V", 2)),
            ("resistor_exact_ohm", Kind::Figure("Ω", 1)),
            ("resistor_ohm", Kind::Figure("Ω", 0)),
            ("current_ma", Kind::Figure("mA", 2)),
            ("current_fresh_ma", Kind::Figure("mA", 2)),
            ("current_low_ma", Kind::Figure("mA", 2)),
            ("resistor_mw", Kind::Figure("mW", 1)),
        ],
    );
    for (index, group) in groups.iter().enumerate() {
        table.row(vec![
            (index + 1).into(),
            lamps_of(orders, index).map_or(Cell::Waits, |lamps| numbers(lamps, between).into()),
            group.drop.into(),
            group.exact_resistor.into(),
            group.resistor.into(),
            (group.current * MILLI).into(),
            (group.current_fresh * MILLI).into(),
            (group.current_low * MILLI).into(),
            (group.heat * MILLI).into(),
        ]);
    }
    table
}

/// Each group's way in words: `feed 1 → + 1 − → + 2 − → return`.
fn ways(job: &Job<'_>, groups: &[GroupCircuit], orders: Option<&[Vec<usize>]>) -> Named {
    let mut table = Table::new(ID, &[("group", Kind::Count), ("way", Kind::Words)]);
    for index in 0..groups.len() {
        let way = lamps_of(orders, index).map_or(Cell::Waits, |lamps| {
            let stations = lamps.iter().map(|lamp| format!("+\u{a0}{lamp}\u{a0}−")).collect::<Vec<_>>().join(" → ");
            format!("feed\u{a0}{} → {stations} → return", index + 1).into()
        });
        table.row(vec![(index + 1).into(), way]);
    }
    table.bench(
        ID,
        job.unit(),
        &[
            View::column("group", "group").strong(),
            View::column("way", "from → to, hole numbers").strong(),
            View::Tick("dry".to_owned()),
            View::Tick("before pot".to_owned()),
            View::Tick("after pot".to_owned()),
            View::Tick("after glue".to_owned()),
        ],
    )
}

/// A row for each lamp: its own forward voltage, as measured.
fn lamp_boxes(job: &Job<'_>) -> Named {
    let mut table = Table::new("wiring-lamps", &[("lamp", Kind::Count), ("fret", Kind::Count), ("side", Kind::Words)]);
    for marker in job.design.markers.as_deref().unwrap_or_default() {
        table.row(vec![
            marker.number.into(),
            marker.fret.into(),
            marker.side.map_or("centre", crate::spec::words::Side::word).into(),
        ]);
    }
    table.bench(
        "wiring-lamps",
        job.unit(),
        &[
            View::column("lamp", "lamp").strong(),
            View::column("fret", "fret"),
            View::column("side", "side"),
            View::WriteIn("forward V, measured".to_owned()),
            View::Tick("lights".to_owned()),
            View::Tick("+ marked".to_owned()),
        ],
    )
}

fn data(job: &Job<'_>, groups: &[GroupCircuit]) -> Data {
    let mut data = Data::new();
    let milliamperes = |current: f64| rounding::fixed(current * MILLI, 2);
    data.insert("groups", groups.len().into());
    data.insert("lamps_out", job.lamps_out_for_radiusing().into());
    data.insert("all_nominal", milliamperes(total_current(groups)).into());
    data.insert("all_fresh", milliamperes(groups.iter().map(|group| group.current_fresh).sum()).into());
    data.insert("all_low", milliamperes(groups.iter().map(|group| group.current_low).sum()).into());
    let bridged = groups.first().and_then(|group| group.current_bridged);
    if let Some(current) = bridged.filter(|_| groups.iter().all(|group| group.current_bridged == bridged)) {
        data.insert("bridged", milliamperes(current).into());
    }
    if let Some(circuit) = &job.model.circuit {
        let volts = |volts: f64| rounding::fixed(volts, 1);
        if let (Ok(supply), Ok(fresh), Ok(low)) =
            (circuit.supply.get(), circuit.supply_fresh.get(), circuit.supply_low.get())
        {
            data.insert("supply", volts(supply.to_volts()).into());
            data.insert("fresh", volts(fresh.to_volts()).into());
            data.insert("low", volts(low.to_volts()).into());
        }
        if let Ok(place) = circuit.resistors.get() {
            data.insert("resistors", place.as_word().into());
            data.insert("in_board", (place == Resistors::Board).into());
        }
        if let Ok(series) = circuit.series.get() {
            data.insert("series", series.as_word().into());
        }
        if let Some(Ok(switch)) = circuit.switch.as_ref().map(crate::model::Sourced::get) {
            data.insert("switch", Value::Quoted(switch));
        }
        if let Ok(Some(hours)) = battery_hours(circuit, groups) {
            data.insert("hours", rounding::fixed(hours, 0).into());
        }
    }
    if let Some(Ok(lamps)) = job.design.lamps.as_ref().map(|lamps| lamps.wires.as_ref()) {
        data.insert("wire_m", rounding::fixed(lamps.length() / 1000.0, 2).into());
    }
    data
}

/// Each group's current.
fn holds(groups: &[GroupCircuit]) -> Vec<Hold> {
    let mut holds = vec![Hold {
        step: "dry-test",
        what: "every lamp lights, the right groups together".to_owned(),
        nominal: None,
        low: None,
        high: None,
        unit: "",
    }];
    holds.extend(groups.iter().enumerate().map(|(index, group)| {
        let (low, high) = group.dry_range;
        Hold {
            step: "dry-test",
            what: format!("group {} alone, current in its own feed", index + 1),
            nominal: Some(group.current * MILLI),
            low: Some(low * MILLI),
            high: Some(high * MILLI),
            unit: "mA",
        }
    }));
    holds
}
