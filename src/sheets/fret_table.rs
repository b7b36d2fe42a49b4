//! `fret-table`: where every slot lies, from the squared end.

use super::{Cell, Data, Hold, Job, Kind, Named, Sheet, Station, Table, Value, View, figures};
use crate::design::formulas::stop_for_slot;
use crate::model::{Known, Missing};
use crate::paper::Place;
use crate::spec::words::{Method, Side};

const ID: &str = "fret-table";

/// As many rows leave room on their page for what is measured; behind more, the drawing stands on its page.
const MOST_ROWS_BESIDE_HOLDS: usize = 17;

/// The sheet; none while the scale is open.
pub(super) fn sheet(job: &Job<'_>) -> Option<Sheet> {
    let table = table(job)?;
    let unit = job.unit();
    let by_stop = job.model.slots.method.get() == Ok(Method::Stop) && !is_fan(job) && table.knows("stop_mm");
    // What lies under some strings only is no part of the sled's sequence: it has a table of its own.
    let by_hand = job.partial_frets();
    let bench =
        table.view("fret-table", unit, Place::Bench, &bench_views(job, by_stop), |row| !is_one_of(row, &by_hand));
    let back = table.desk("fret-table-back", unit, &back_views(job));
    let mut views = vec![bench, back];
    let by_hand = partial_frets(job, &table);
    let mut data = data(job, by_stop);
    data.insert("partial", by_hand.is_some().into());
    if is_fan(job) || by_hand.is_some() || table.rows.len() > MOST_ROWS_BESIDE_HOLDS {
        data.insert("figure_in_front", Value::Prose("yes".to_owned()));
    }
    views.extend(by_hand);
    Some(Sheet {
        id: ID,
        title: "Fret table",
        kind: "bench sheet",
        read_first: "Measure every slot from the squared end. Never from the slot before.".to_owned(),
        datum: "the squared end",
        station: Station::Saw,
        caution: None,
        data,
        views,
        tables: vec![table],
        drawings: figures::board_front(job).ok().map(|drawing| ("board-front", drawing)).into_iter().collect(),
        holds: holds(job),
        settings: Vec::new(),
        unit,
    })
}

fn is_fan(job: &Job<'_>) -> bool {
    job.design.layout.as_ref().is_ok_and(|layout| layout.fan)
}

fn table(job: &Job<'_>) -> Option<Table> {
    let (model, design) = (job.model, job.design);
    let layout = design.layout.as_ref().ok()?;
    let hand = job.hand();
    let mut table = Table::new(
        ID,
        &[
            ("fret", Kind::Count),
            ("mark", Kind::Words),
            ("from_nut_mm", Kind::Length),
            ("gap_mm", Kind::Length),
            ("from_end_mm", Kind::Length),
            ("stop_mm", Kind::Length),
            ("width_mm", Kind::Length),
            ("band_mm", Kind::Length),
            ("bass_x_mm", Kind::Length),
            ("bass_y_mm", Kind::Across),
            ("treble_x_mm", Kind::Length),
            ("treble_y_mm", Kind::Across),
            ("angle_deg", Kind::Figure("°", 3)),
            ("blank_bass_mm", Kind::Length),
            ("blank_treble_mm", Kind::Length),
        ],
    );
    let marked = crate::design::board::markers::marked_frets(model, layout).unwrap_or_default();
    let by_hand = job.partial_frets();
    let first = usize::from(!job.has_zero_fret());
    for fret in first..=layout.last() {
        let line = layout.fret(fret)?;
        let from_end = design.squared_end.map(|end| line.x - end);
        let slot = design.slots.as_ref().map_err(|missing| *missing).and_then(|slots| {
            slots
                .iter()
                .find(|(of, _)| *of == fret)
                .map_or_else(|| Err(Missing::faulty("frets.count")), |(_, slot)| *slot)
        });
        let end = |side: Side| slot.map(|slot| if side == Side::Bass { slot.crown.start } else { slot.crown.end });
        let gap = fret.checked_sub(1).and_then(|before| layout.fret(before)).map(|before| line.x - before.x);
        let on_blank = |side: Side| -> Option<Known<f64>> {
            layout.fan.then(|| {
                let across = side.toward_treble() * design.blank_width? / 2.0;
                Ok(line.at(across) - design.squared_end?)
            })
        };
        table.row(vec![
            fret.into(),
            mark(&marked, fret).into(),
            line.x.into(),
            gap.into(),
            from_end.into(),
            (!by_hand.contains(&fret))
                .then(|| from_end.and_then(|from_end| Ok(stop_for_slot(from_end, model.slots.kerf.mm()?))))
                .into(),
            design.edges.map(|edges| edges.width(line.x)).into(),
            layout.band(fret).into(),
            end(Side::Bass).map(|end| end.x).into(),
            end(Side::Bass).map(|end| hand.y(end.y)).into(),
            end(Side::Treble).map(|end| end.x).into(),
            end(Side::Treble).map(|end| hand.y(end.y)).into(),
            line.angle().to_degrees().into(),
            on_blank(Side::Bass).into(),
            on_blank(Side::Treble).into(),
        ]);
    }
    Some(table)
}

fn is_one_of(row: &[Cell], frets: &[usize]) -> bool {
    matches!(row[0], Cell::Count(fret) if usize::try_from(fret).is_ok_and(|fret| frets.contains(&fret)))
}

/// The partial frets: marked like the others, cut by hand from a place across to another.
fn partial_frets(job: &Job<'_>, frets: &Table) -> Option<Named> {
    let slots = job.design.slots.as_ref().map_err(|missing| *missing);
    let places: &[&'static str] = if is_fan(job) { &["blank_bass_mm", "blank_treble_mm"] } else { &["from_end_mm"] };
    let mut columns = vec![("fret", Kind::Count)];
    columns.extend(places.iter().map(|key| (*key, Kind::Length)));
    columns.extend([("bass", Kind::Words), ("treble", Kind::Words)]);
    let mut table = Table::new("partial-frets", &columns);
    let by_hand = job.partial_frets();
    for row in frets.rows.iter().filter(|row| is_one_of(row, &by_hand)) {
        // Its place along is known before the edges are; only where the cut stops waits for them.
        let slot = slots.and_then(|slots| {
            let own = slots.iter().find(|(fret, _)| row[0] == Cell::from(*fret));
            own.map_or(Err(Missing::faulty("frets.partial")), |(_, slot)| *slot)
        });
        let end = |side: Side| -> Cell {
            let words = slot.map(|slot| {
                let reaches = slot.reaches[usize::from(side == Side::Treble)];
                if reaches {
                    format!("the {} edge", side.word())
                } else {
                    format!("{} of the centreline", job.across(slot.cut_end(side).y))
                }
            });
            words.into()
        };
        let mut cells = vec![row[0].clone()];
        cells.extend(places.iter().map(|key| row[frets.index(key)].clone()));
        cells.extend([end(Side::Bass), end(Side::Treble)]);
        table.row(cells);
    }
    let mut views = vec![View::column("fret", "fret").strong()];
    views.extend(place_views(job));
    views.extend([
        View::column("bass", "stop the cut at").strong(),
        View::column("treble", "and at").strong(),
        View::Tick("marked".to_owned()),
        View::Tick("stop set".to_owned()),
        View::Tick("cut".to_owned()),
    ]);
    (!table.rows.is_empty()).then(|| table.bench("partial-frets", job.unit(), &views))
}

/// Where a fret is marked: on both edges of the blank, or once from the squared end.
fn place_views(job: &Job<'_>) -> Vec<View> {
    if is_fan(job) {
        vec![
            View::column("blank_bass_mm", "on the bass edge of the blank").main(),
            View::column("blank_treble_mm", "on the treble edge of the blank").main(),
        ]
    } else {
        vec![View::column("from_end_mm", "from the squared end").main()]
    }
}

/// The nut's line on a fan, where no slot of its own stands in the table: marked on both edges like a fret.
fn nut_line(job: &Job<'_>, data: &mut Data) {
    let Ok(layout) = &job.design.layout else { return };
    let (Ok(end), Ok(width)) = (job.design.squared_end, job.design.blank_width) else { return };
    if layout.fan && !job.has_zero_fret() {
        let on = |side: Side| job.length(layout.zero_line().at(side.toward_treble() * width / 2.0) - end);
        data.insert("nut_bass", on(Side::Bass).into());
        data.insert("nut_treble", on(Side::Treble).into());
    }
}

/// One dot for a single marker, two for a pair.
fn mark(marked: &[(usize, bool)], fret: usize) -> &'static str {
    match marked.iter().find(|(of, _)| *of == fret) {
        Some((_, true)) => "••",
        Some((_, false)) => "•",
        None => "",
    }
}

fn bench_views(job: &Job<'_>, by_stop: bool) -> Vec<View> {
    let mut views = vec![View::column("fret", "fret").strong(), View::column("mark", "mark")];
    if by_stop {
        // What is set is the stop; the place is what is measured afterwards.
        views.push(View::column("from_end_mm", "from the squared end").strong());
        views.push(View::column("stop_mm", "stop").main());
    } else {
        views.extend(place_views(job));
    }
    views.push(View::Tick("marked".to_owned()));
    views.push(View::Tick("cut".to_owned()));
    views.push(View::WriteIn("measured".to_owned()));
    if !is_fan(job) {
        views.push(View::other("from_end_mm", "from the squared end"));
    }
    views
}

fn back_views(job: &Job<'_>) -> Vec<View> {
    let mut views = vec![
        View::column("fret", "fret").strong(),
        View::column("from_nut_mm", "from the zero line"),
        View::column("gap_mm", "gap before"),
        View::Fraction { key: "from_end_mm", heading: "squared end, 1/64 + rest".to_owned() },
        View::column("width_mm", "width there"),
        View::column("band_mm", "±1.5 cents band"),
        View::column("bass_x_mm", "bass end, from zero line"),
        View::column("bass_y_mm", "bass end, from centre"),
        View::column("treble_x_mm", "treble end, from zero line"),
        View::column("treble_y_mm", "treble end, from centre"),
    ];
    if is_fan(job) {
        views.push(View::column("angle_deg", "angle"));
    }
    views
}

fn data(job: &Job<'_>, by_stop: bool) -> Data {
    let mut data = Data::new();
    let Ok(layout) = &job.design.layout else { return data };
    data.insert("fan", layout.fan.into());
    data.insert("by_stop", by_stop.into());
    data.insert("scale", job.length(layout.scale).into());
    data.insert("scale_other", job.other_length(layout.scale).into());
    data.insert("unit", job.unit_word().into());
    data.insert("last", layout.last().into());
    data.insert("each_within", job.tolerance_text("slot position").into());
    if let Ok(end) = job.design.squared_end {
        data.insert("behind_zero", job.length(0.0 - end).into());
        data.insert("zero_line_is_end", (end.abs() < 1e-9).into());
    }
    if let Ok(kerf) = job.model.slots.kerf.mm() {
        data.insert("kerf", job.length(kerf).into());
        data.insert("half_kerf", super::table::size(kerf / 2.0 / job.unit_length()).into());
    }
    nut_line(job, &mut data);
    if let Ok(width) = job.design.blank_width {
        data.insert("blank_width", job.length(width).into());
        // Only a fan is marked from it: the stamp of a straight table does not hang on it.
        if layout.fan {
            data.insert("half_blank", job.length(width / 2.0).into());
        }
    }
    data
}

fn holds(job: &Job<'_>) -> Vec<Hold> {
    let (Ok(layout), Ok(end)) = (&job.design.layout, job.design.squared_end) else { return Vec::new() };
    let octave = usize::try_from(layout.divisions).unwrap_or(usize::MAX);
    let tolerance = job.tolerance("slot position");
    let mut frets = vec![1, octave, layout.last()];
    frets.sort_unstable();
    frets.dedup();
    // The lines of a fan lie differently at every place across.
    let on = if layout.fan { ", on the centreline" } else { "" };
    frets
        .into_iter()
        .filter_map(|fret| Some((fret, layout.fret(fret)?.x - end)))
        .map(|(fret, place)| Hold {
            step: "slots",
            what: format!("fret {fret}, squared end to the slot's middle{on}"),
            nominal: Some(place),
            low: Some(place - tolerance.under),
            high: Some(place + tolerance.over),
            unit: "mm",
        })
        .collect()
}
