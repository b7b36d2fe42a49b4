//! `sign-off`: every value that is measured before the work goes on, step by step.

use super::{Data, Hold, Job, Kind, Named, Sheet, Station, Table, View, lamp_seats, slot_depth};
use crate::design::order::OrderOfWork;

pub(crate) const ID: &str = "sign-off";

/// The sheet: the holds of all other sheets and of the steps that have none.
pub(super) fn sheet(job: &Job<'_>, sheets: &[Sheet]) -> Option<Sheet> {
    let mut holds: Vec<Hold> = sheets.iter().flat_map(|sheet| sheet.holds.iter().cloned()).collect();
    for own in own_holds(job) {
        if !holds.iter().any(|hold| hold.step == own.step && hold.what == own.what) {
            holds.push(own);
        }
    }
    let order = OrderOfWork::of(job.model, job.design);
    holds.sort_by_key(|hold| order.place(hold.step).unwrap_or(usize::MAX));
    let names = check_names(&holds);
    let bench = paper(job, &holds, &names);
    let mut data = Data::new();
    data.insert("count", holds.len().into());
    Some(Sheet {
        id: ID,
        title: "Sign-off",
        kind: "record",
        read_first: "A blank box is not a pass. No step goes on until its rows are signed.".to_owned(),
        datum: "",
        station: Station::Bench,
        caution: None,
        data,
        views: vec![bench],
        tables: vec![files(&holds, &names)],
        drawings: Vec::new(),
        holds: Vec::new(),
        settings: Vec::new(),
        unit: job.unit(),
    })
}

/// Holds of the board's and the lamps' steps that have no sheet of their own.
fn own_holds(job: &Job<'_>) -> Vec<Hold> {
    let mut holds = Vec::new();
    let tick = |step: &'static str, what: &str| Hold {
        step,
        what: what.to_owned(),
        nominal: None,
        low: None,
        high: None,
        unit: "",
    };
    let at_most = |step: &'static str, what: &str, most: f64| Hold {
        step,
        what: what.to_owned(),
        nominal: Some(0.0),
        low: None,
        high: Some(most),
        unit: "mm",
    };
    // Measured whether a figure is expected or not.
    let moisture = job.model.board.moisture.as_ref().and_then(|moisture| moisture.get().ok());
    holds.push(Hold {
        step: "billet",
        what: "moisture of the wood".to_owned(),
        nominal: moisture.map(|moisture| moisture.to_parts() * 100.0),
        low: None,
        high: None,
        unit: "%",
    });
    if let (Ok(thickness), Ok(skim)) = (job.model.board.thickness.mm(), job.model.slots.skim.mm()) {
        let tolerance = job.tolerance("thickness");
        let nominal = thickness + skim;
        let mut what = "thickness on the centreline".to_owned();
        if let Some(skim) = job.skim_to_come() {
            what = format!("{what}, with {} of skim still on", job.length_with_unit(skim));
        }
        // A board that passes here may still be too thick for its lamps: nobody is to read that as a contradiction.
        if job.model.lamp.is_some() && lamp_seats::REISSUE.0 < tolerance.over {
            let most = job.length_with_unit(nominal + lamp_seats::REISSUE.0);
            what = format!("{what}; above {most} the lamp seats are issued again");
        }
        holds.push(Hold {
            step: "back",
            what,
            nominal: Some(nominal),
            low: Some(nominal - tolerance.under),
            high: Some(nominal + tolerance.over),
            unit: "mm",
        });
    }
    holds.push(tick("back", "back flat along and across, marked BACK"));
    holds.push(at_most("nut-end", "squared end out of square, over the width", job.tolerance("slot squareness").over));
    if let Ok(kerf) = job.model.slots.kerf.mm() {
        let tolerance = job.tolerance("kerf");
        holds.push(Hold {
            step: "test-cut",
            what: "kerf in the offcut, by feeler".to_owned(),
            nominal: Some(kerf),
            low: Some(kerf - tolerance.under),
            high: Some(kerf + tolerance.over),
            unit: "mm",
        });
    }
    holds.push(tick("test-cut", "fret wire pressed into the trial slot: seats, holds, offcut not bent"));
    // A flat board has no sheet of its own for its face.
    holds.extend(slot_depth::left_after_radiusing(job));
    if job.model.lamp.is_some() {
        holds.push(tick("dry-test", "every lamp lights, the right groups together"));
        holds.push(tick("pot", "every lamp lights before the first pour"));
        holds.push(at_most("level", "back out of flat", job.tolerance("back flat after potting").over));
        holds.push(tick("level", "every lamp lights after levelling"));
    }
    holds
}

/// A name for each row that stays while the rows of its step stay: `slots-3`.
fn check_names(holds: &[Hold]) -> Vec<String> {
    let mut last = ("", 0);
    holds
        .iter()
        .map(|hold| {
            last = (hold.step, if last.0 == hold.step { last.1 + 1 } else { 1 });
            format!("{}-{}", last.0, last.1)
        })
        .collect()
}

fn files(holds: &[Hold], names: &[String]) -> Table {
    let mut table = Table::new(
        ID,
        &[
            ("check", Kind::Words),
            ("step", Kind::Words),
            ("what", Kind::Words),
            ("nominal", Kind::Figure("", 2)),
            ("low", Kind::Figure("", 2)),
            ("high", Kind::Figure("", 2)),
            ("unit", Kind::Words),
        ],
    );
    for (hold, name) in holds.iter().zip(names) {
        table.row(vec![
            name.as_str().into(),
            hold.step.into(),
            hold.what.as_str().into(),
            hold.nominal.into(),
            hold.low.into(),
            hold.high.into(),
            hold.unit.into(),
        ]);
    }
    table
}

fn paper(job: &Job<'_>, holds: &[Hold], names: &[String]) -> Named {
    let mut table = Table::new(
        ID,
        &[("check", Kind::Words), ("what", Kind::Words), ("nominal", Kind::Words), ("range", Kind::Words)],
    );
    for (hold, name) in holds.iter().zip(names) {
        table.row(vec![
            name.as_str().into(),
            hold.what.as_str().into(),
            hold.nominal_text(job).into(),
            hold.range_text(job).into(),
        ]);
    }
    table.bench(
        ID,
        job.unit(),
        &[
            View::column("check", "check").strong(),
            View::column("what", "what is measured"),
            View::column("nominal", "nominal").quiet(),
            View::column("range", "from … to").strong(),
            View::WriteIn("measured".to_owned()),
            View::WriteIn("ok, or: use, rework, reject".to_owned()),
            View::WriteIn("by, date".to_owned()),
        ],
    )
}
