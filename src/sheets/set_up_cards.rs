//! `set-up-cards`: one card for each number that a machine is set to, and the sizes of the jigs, each with the stamp
//! of the sheet it comes from: a changed number sends its card and its jig to the bin with that sheet.

use super::{Cell, Data, Job, Kind, MachineSetting, Named, Sheet, Station, Table, Value, View};
use crate::design::board::edges::Edge;
use crate::design::needs;
use crate::design::order::OrderOfWork;
use crate::rounding;
use crate::spec::words::{Method, Side};

pub(crate) const ID: &str = "set-up-cards";

/// The name of a card's origin, and the heading of a jig's: the sheet they follow, with its stamp.
pub(super) const FROM: &str = "source";
/// See [`FROM`].
pub(super) const SOURCE: &str = "sheet and stamp";

/// The sheet; none where no machine is set to anything.
pub(super) fn sheet(job: &Job<'_>, sheets: &[Sheet]) -> Option<Sheet> {
    let order = OrderOfWork::of(job.model, job.design);
    let open = needs::open_values(job.model);
    let mut cards: Vec<(&MachineSetting, String, String)> = Vec::new();
    for sheet in sheets.iter().filter(|sheet| !sheet.settings.is_empty()) {
        let source = format!("{} · stamp {}", sheet.title, sheet.stamp(job));
        let waits: Vec<&str> =
            open.iter().filter(|open| order.waits_on(open, sheet.id)).map(|open| open.key.as_str()).collect();
        let wait = if waits.is_empty() { String::new() } else { format!("WAIT for {}", waits.join(", ")) };
        cards.extend(sheet.settings.iter().map(|setting| (setting, source.clone(), wait.clone())));
    }
    if cards.is_empty() {
        return None;
    }
    cards.sort_by_key(|(setting, ..)| setting.station);
    let list = cards
        .iter()
        .map(|(setting, source, wait)| {
            Data::from([
                ("station", Value::from(setting.station.word())),
                ("label", setting.label.as_str().into()),
                ("value", setting.value.as_str().into()),
                ("unit", setting.unit.as_str().into()),
                ("tolerance", setting.tolerance.as_str().into()),
                ("wait", wait.as_str().into()),
                ("noted", (!setting.note.is_empty()).into()),
                ("note", Value::Quoted(setting.note.clone())),
                (FROM, source.as_str().into()),
            ])
        })
        .collect::<Vec<_>>();
    let mut data = Data::new();
    // Two cards side by side: a card that stands alone in its row is still a card.
    let rows: Vec<Data> = list.chunks(2).map(|pair| Data::from([("cards", Value::from(pair.to_vec()))])).collect();
    data.insert("rows", rows.into());
    let jigs = jigs(job, sheets);
    data.insert("has_jigs", (!jigs.rows.is_empty()).into());
    Some(Sheet {
        id: ID,
        title: "Set-up cards",
        kind: "cards",
        read_first: "Cut apart, one at each machine. A card whose stamp is not on the cover goes into the bin."
            .to_owned(),
        datum: "",
        station: Station::Everywhere,
        caution: None,
        data,
        tables: Vec::new(),
        views: vec![jigs_at_bench(job, &jigs)],
        drawings: Vec::new(),
        holds: Vec::new(),
        settings: Vec::new(),
        unit: job.unit(),
    })
}

/// The jigs that the sheets made so far call for, with their sizes as printed.
fn jigs(job: &Job<'_>, sheets: &[Sheet]) -> Table {
    let mut table = Table::new("jigs", &["jig", "size", "source"].map(|key| (key, Kind::Words)));
    let mut add = |jig: String, size: String, id: &str| {
        if let Some(sheet) = sheets.iter().find(|sheet| sheet.id == id) {
            // A stamp is read as one thing: it stays on its line.
            let stamp = sheet.stamp(job).as_str().replace(' ', "\u{a0}");
            table.row(vec![jig.into(), size.into(), format!("{} · {stamp}", sheet.title).into()]);
        }
    };
    if let Some((first, last)) = stop_strip(job, sheets) {
        let size = format!("first stop {first}, last {last}");
        add("stop strip, one stop a slot".to_owned(), size, "fret-table");
    }
    for (edge, size) in taper_sleds(job) {
        add(format!("taper sled{edge}"), size, "taper");
    }
    for setting in settings_of(sheets, "radius", Station::Sander) {
        let size = format!("{}\u{a0}{}", setting.value, setting.unit);
        add(format!("cradle for the face, {}", setting.label), size, "radius");
    }
    for (id, station) in [("slot-depth", Station::Saw), ("lamp-seats", Station::Drill)] {
        let no_depth = [super::slot_depth::KERF, super::lamp_seats::COUNTERBORE];
        for setting in settings_of(sheets, id, station).filter(|setting| !no_depth.contains(&setting.label.as_str())) {
            let size = format!("{}\u{a0}{}", setting.value, job.unit_word());
            add(format!("depth block, {}", setting.label), size, id);
        }
    }
    if let Some(pieces) = table_of(sheets, "fret-wire").map(|table| table.rows.len()) {
        add("numbered fret block".to_owned(), format!("{pieces} holes"), "fret-wire");
    }
    table
}

fn jigs_at_bench(job: &Job<'_>, jigs: &Table) -> Named {
    jigs.bench(
        "jigs",
        job.unit(),
        &[
            View::column("jig", "jig").strong(),
            View::column("size", "size"),
            View::column("source", SOURCE),
            View::Tick("made".to_owned()),
            View::WriteIn("proved".to_owned()),
        ],
    )
}

fn settings_of<'a>(sheets: &'a [Sheet], id: &'a str, station: Station) -> impl Iterator<Item = &'a MachineSetting> {
    let sheet = sheets.iter().find(|sheet| sheet.id == id);
    sheet.into_iter().flat_map(|sheet| &sheet.settings).filter(move |setting| setting.station == station)
}

fn table_of<'a>(sheets: &'a [Sheet], id: &str) -> Option<&'a Table> {
    sheets.iter().find(|sheet| sheet.id == id)?.tables.first()
}

/// The first and the last stop, where straight slots are cut by one.
fn stop_strip(job: &Job<'_>, sheets: &[Sheet]) -> Option<(String, String)> {
    if job.model.slots.method.get() != Ok(Method::Stop) || job.design.layout.as_ref().is_ok_and(|layout| layout.fan) {
        return None;
    }
    let table = table_of(sheets, "fret-table")?;
    let stop = table.index("stop_mm");
    let text = |row: &Vec<Cell>| match row[stop] {
        Cell::Figure(stop) => Some(job.length_with_unit(stop)),
        _ => None,
    };
    // Partial frets have none.
    let mut stops = table.rows.iter().filter_map(text);
    let first = stops.next()?;
    Some((first.clone(), stops.next_back().unwrap_or(first)))
}

/// The sleds that hold the taper's angle: one where both edges are alike, else one for each edge.
fn taper_sleds(job: &Job<'_>) -> Vec<(&'static str, String)> {
    let (Ok(edges), Ok(outline)) = (&job.design.edges, &job.design.outline) else { return Vec::new() };
    let size = |edge: Edge| {
        let degrees = rounding::fixed(edge.taper().to_degrees(), 3);
        let (near, far) = (outline.squared_end, outline.end.x);
        let opens = job.length_with_unit(edge.half(far) - edge.half(near));
        format!("{degrees}°: {opens} over {}", job.length_with_unit(far - near))
    };
    let [bass, treble] = Side::BOTH.map(|side| size(edges.on(side)));
    if bass == treble { vec![("", bass)] } else { vec![(", bass edge", bass), (", treble edge", treble)] }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::design::Design;
    use crate::diag::Report;
    use crate::model::resolve;
    use crate::source::{SourceFile, Sources};
    use crate::spec;
    use crate::units::WorkingUnit;

    /// Asks something of the sheets of a changed sample commission.
    fn with_sheets<T>(text: &str, ask: impl FnOnce(&Job<'_>, &[Sheet]) -> T) -> T {
        let mut sources = Sources::default();
        let mut report = Report::default();
        let file = sources.add(SourceFile::new("sample.toml", text));
        let written = spec::read(&sources, file, &mut report);
        let model = resolve::resolve(&written, None, &mut report).unwrap();
        assert!(!report.has_errors(), "{:?}", report.findings());
        let design = Design::of(&model);
        let job = Job { model: &model, design: &design, findings: &[], left_out: &[], ranges: &[] };
        let sheets = crate::sheets::make(&job);
        ask(&job, &sheets)
    }

    fn jigs_of(text: &str) -> Vec<String> {
        with_sheets(text, |job, sheets| {
            let words = |cell: &Cell| crate::sheets::table::printed(cell, Kind::Words, WorkingUnit::Millimetre);
            jigs(job, sheets).rows.iter().map(|row| words(&row[0])).collect()
        })
    }

    const LIT: &str = include_str!("../diag/pages/_lit.toml");

    #[test]
    fn a_jig_is_listed_for_each_sheet_that_calls_for_one() {
        let jigs = jigs_of(LIT);
        for jig in ["stop strip, one stop a slot", "taper sled", "numbered fret block", "depth block, slot depth"] {
            assert!(jigs.iter().any(|own| own == jig), "{jig}: {jigs:?}");
        }
        assert!(jigs.iter().any(|jig| jig.starts_with("depth block, seat, STOP A")), "{jigs:?}");
    }

    #[test]
    fn a_card_carries_the_stamp_of_its_own_sheet() {
        with_sheets(LIT, |job, sheets| {
            let cards = sheets.iter().find(|sheet| sheet.id == ID).unwrap();
            let Value::List(rows) = &cards.data["rows"] else { panic!() };
            let mut seen = 0;
            for row in rows {
                let Value::List(cards) = &row["cards"] else { panic!() };
                for card in cards {
                    let Value::Words(source) = &card["source"] else { panic!() };
                    let own = |sheet: &&Sheet| *source == format!("{} · stamp {}", sheet.title, sheet.stamp(job));
                    let sheet = sheets.iter().find(own).unwrap();
                    let is_its = |setting: &MachineSetting| card["value"] == setting.value.as_str().into();
                    assert!(sheet.settings.iter().any(is_its), "{source}");
                    seen += 1;
                }
            }
            assert_eq!(seen, sheets.iter().map(|sheet| sheet.settings.len()).sum::<usize>());
        });
    }
}
