//! `strings`: the set as it is tuned, and what it pulls.

use super::{Data, Job, Kind, Sheet, Station, Table, Value, View, table};
use crate::design::board::strings::tuned;
use crate::model::Known;

const ID: &str = "strings";

/// The sheet; none while the set is open.
pub(super) fn sheet(job: &Job<'_>) -> Option<Sheet> {
    let strings = tuned(job.model, &job.design.layout).ok()?;
    let mut set = Table::new(
        ID,
        &[
            ("string", Kind::Count),
            ("note", Kind::Words),
            ("hz", Kind::Figure("Hz", 2)),
            ("gauge_mm", Kind::Length),
            ("weight_g_per_m", Kind::Figure("g/m", 3)),
            ("weighed", Kind::Words),
            ("length_mm", Kind::Length),
            ("tension_n", Kind::Force),
        ],
    );
    for string in &strings {
        set.row(vec![
            string.number.into(),
            super::Cell::Quoted(string.note.clone()),
            string.frequency.into(),
            string.gauge.into(),
            string.weight.into(),
            if string.weight_is_stand_in { "stand-in" } else { "weighed" }.into(),
            string.length.into(),
            string.tension.into(),
        ]);
    }
    let unit = job.unit();
    let bench = set.bench(
        ID,
        unit,
        &[
            View::column("string", "string").strong(),
            View::column("note", "note").main(),
            View::column("hz", "tune to"),
            View::column("gauge_mm", "gauge").strong(),
            View::other("gauge_mm", "gauge"),
            View::Tick("on".to_owned()),
            View::column("weight_g_per_m", "weight"),
            View::column("weighed", "how known"),
            View::column("length_mm", "length"),
            View::column("tension_n", "tension"),
        ],
    );
    let total: Known<f64> = strings.iter().map(|string| string.tension).sum();
    let mut data = Data::new();
    data.insert("strings", strings.len().into());
    data.insert("stand_ins", strings.iter().any(|string| string.weight_is_stand_in).into());
    if let Ok(total) = total {
        data.insert("total", table::force(total, unit, 0).into());
        data.insert("force_unit", Value::Prose(table::force_word(unit).to_owned()));
    }
    Some(Sheet {
        id: ID,
        title: "Strings",
        kind: "bench sheet",
        read_first:
            "String 1 is the highest. Put them on in pairs from the outside, so that the neck is pulled straight."
                .to_owned(),
        datum: "",
        station: Station::Bench,
        caution: None,
        data,
        views: vec![bench],
        tables: vec![set],
        drawings: Vec::new(),
        holds: Vec::new(),
        settings: Vec::new(),
        unit,
    })
}
