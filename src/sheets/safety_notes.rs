//! `safety-notes`: the hazards of this commission, by station; no lamps, no solder.

use super::hazards::{self, Hazard};
use super::{Data, Job, Kind, Named, Sheet, Station, Table, Value, View};
use crate::catalog;
use crate::rounding;

const ID: &str = "safety-notes";

/// The sheet; every commission has one.
pub(super) fn sheet(job: &Job<'_>) -> Option<Sheet> {
    let hazards = hazards::hazards(job);
    let mut data = Data::new();
    let listing = hazards::board_wood(job).and_then(catalog::Wood::listing);
    data.insert("listed", listing.is_some().into());
    if let (Some(listing), Ok(wood)) = (listing, job.model.board.wood.get()) {
        data.insert("wood", Value::Quoted(wood.name));
        data.insert("taxon", listing.taxon.as_str().into());
        data.insert("appendix", listing.appendix.as_str().into());
        data.insert("prompt", Value::Prose(catalog::LISTING_PROMPT.to_owned()));
    }
    Some(Sheet {
        id: ID,
        title: "Safety notes",
        kind: "notes",
        read_first:
            "Read before the first cut. Your own law, the makers' sheets and what belongs in licensed hands go before this page."
                .to_owned(),
        datum: "",
        station: Station::Everywhere,
        caution: None,
        data,
        tables: Vec::new(),
        views: vec![notes(job, &hazards), dust_limits(job), noise_limits(job)],
        drawings: Vec::new(),
        holds: Vec::new(),
        settings: Vec::new(),
        unit: job.unit(),
    })
}

fn notes(job: &Job<'_>, hazards: &[Hazard]) -> Named {
    let mut table = Table::new(
        ID,
        &[
            ("station", Kind::Words),
            ("of", Kind::Words),
            ("does", Kind::Words),
            ("wear", Kind::Words),
            ("check", Kind::Words),
        ],
    );
    for hazard in hazards {
        let stations: Vec<&str> = hazard.stations.iter().map(|station| station.word()).collect();
        table.row(vec![
            stations.join(", ").into(),
            hazard.of.into(),
            hazard.does.as_str().into(),
            hazard.wear.into(),
            hazard.check.into(),
        ]);
    }
    let views = table.bench(
        ID,
        job.unit(),
        &[
            View::column("station", "at"),
            View::column("of", "hazard").strong(),
            View::column("does", "what it does"),
            View::column("wear", "wear, keep away"),
            View::column("check", "check"),
            View::Tick("read".to_owned()),
        ],
    );
    // What to wear and to check goes with the hazard, which a stamp covers; better words for it move no stamp.
    Named { prose: &[3, 4], ..views }
}

fn dust_limits(job: &Job<'_>) -> Named {
    let mut table = Table::new(
        "dust-limits",
        &[
            ("rule", Kind::Words),
            ("woods", Kind::Words),
            ("limit", Kind::Figure("mg/m³", 1)),
            ("means", Kind::Words),
            ("source", Kind::Words),
        ],
    );
    for limit in catalog::dust_limits() {
        table.row(vec![
            limit.rule.as_str().into(),
            limit.woods.as_str().into(),
            limit.milligrams_per_cubic_metre.into(),
            limit.means.as_str().into(),
            limit.source.as_str().into(),
        ]);
    }
    table.desk(
        "dust-limits",
        job.unit(),
        &[
            View::column("rule", "rule").strong(),
            View::column("woods", "woods"),
            View::column("limit", "limit"),
            View::column("means", "means"),
            View::column("source", "published in"),
        ],
    )
}

/// One row a rule, its levels and hours side by side.
fn noise_limits(job: &Job<'_>) -> Named {
    let mut table = Table::new("noise-limits", &[("rule", Kind::Words), ("limits", Kind::Words)]);
    let mut rules: Vec<&str> = catalog::noise_limits().iter().map(|limit| limit.rule.as_str()).collect();
    rules.dedup();
    for rule in rules {
        let limits: Vec<String> = catalog::noise_limits()
            .iter()
            .filter(|limit| limit.rule == rule)
            .map(|limit| {
                let minutes = limit.hours * 60.0;
                let time = if minutes < 60.0 {
                    format!("{}\u{a0}min", rounding::fixed(minutes, 0))
                } else {
                    format!("{}\u{a0}h", rounding::fixed(limit.hours, 1).trim_end_matches(".0"))
                };
                format!("{}\u{a0}dB(A): {time}", rounding::fixed(limit.level, 0))
            })
            .collect();
        table.row(vec![rule.into(), limits.join(" · ").into()]);
    }
    table.desk(
        "noise-limits",
        job.unit(),
        &[
            View::column("rule", "rule").strong(),
            View::column("limits", "how long an unprotected ear may stand it in a day"),
        ],
    )
}
