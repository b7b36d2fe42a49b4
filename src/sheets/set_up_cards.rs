//! `set-up-cards`: one card for each number that a machine is set to, with the stamp of the sheet it comes from.

use super::{Data, Job, MachineSetting, Sheet, Station, Value};
use crate::spec::words::Side;

const ID: &str = "set-up-cards";

/// The sheet; none where no machine is set to anything.
pub(super) fn sheet(job: &Job<'_>, sheets: &[Sheet]) -> Option<Sheet> {
    let mut cards: Vec<(&MachineSetting, String)> = Vec::new();
    for sheet in sheets.iter().filter(|sheet| !sheet.settings.is_empty()) {
        let source = format!("{} · stamp {}", sheet.title, sheet.stamp(job));
        cards.extend(sheet.settings.iter().map(|setting| (setting, source.clone())));
    }
    if cards.is_empty() {
        return None;
    }
    cards.sort_by_key(|(setting, _)| setting.station);
    let list = cards
        .iter()
        .map(|(setting, source)| {
            Data::from([
                ("station", Value::from(setting.station.word())),
                ("label", setting.label.as_str().into()),
                ("value", setting.value.as_str().into()),
                ("unit", setting.unit.as_str().into()),
                ("tolerance", setting.tolerance.as_str().into()),
                ("note", Value::Quoted(setting.note.clone())),
                ("source", source.as_str().into()),
            ])
        })
        .collect::<Vec<_>>();
    let mut data = Data::new();
    // Two cards side by side: a card that stands alone in its row is still a card.
    let rows: Vec<Data> = list.chunks(2).map(|pair| Data::from([("cards", Value::from(pair.to_vec()))])).collect();
    data.insert("rows", rows.into());
    data.insert("unit", job.unit_word().into());
    if let Ok(edges) = job.design.edges {
        for (name, side) in [("taper_bass", Side::Bass), ("taper_treble", Side::Treble)] {
            data.insert(name, crate::rounding::fixed(edges.on(side).taper().to_degrees(), 2).into());
        }
    }
    Some(Sheet {
        id: ID,
        title: "Set-up cards",
        kind: "cards",
        read_first: "Cut apart, one at each machine. A card whose stamp is not on the cover goes into the bin."
            .to_owned(),
        datum: "",
        station: Station::Office,
        caution: None,
        data,
        tables: Vec::new(),
        views: Vec::new(),
        drawings: Vec::new(),
        holds: Vec::new(),
        settings: Vec::new(),
        unit: job.unit(),
    })
}
