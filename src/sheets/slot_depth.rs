//! `slot-depth`: what the blade is set to, and what wood that leaves.

use super::{CutDepth, Data, Hold, Job, Kind, MachineSetting, Sheet, Station, Table, Value, View, figures};
use crate::design::board::slot_depths::SlotDepth;
use crate::design::formulas::slot_left_at_edge;
use crate::diag::codes;
use crate::model::Known;
use crate::rounding;
use crate::spec::words::{Cut, Setting, Side};

pub(super) const ID: &str = "slot-depth";

/// How much more than the tang must be left of a slot at its ends, millimetres. Common practice, no source.
const LEFT_OVER_TANG: f64 = 0.1;

/// The sheet; none while no slot's own depth is known.
pub(super) fn sheet(job: &Job<'_>) -> Option<Sheet> {
    let table = table(job)?;
    if !table.knows("depth_mm") {
        return None;
    }
    let unit = job.unit();
    let settings = settings(job);
    let bench = table.bench(
        "slot-depth",
        unit,
        &[
            View::column("fret", "fret").strong(),
            View::column("set_mm", "set the blade to").main(),
            View::Tick("cut".to_owned()),
            View::WriteIn("measured".to_owned()),
        ],
    );
    let back = table.desk(
        "slot-depth-back",
        unit,
        &[
            View::column("fret", "fret").strong(),
            View::column("radius_mm", "radius there"),
            View::column("sagitta_bass_mm", "drop at bass end"),
            View::column("sagitta_treble_mm", "drop at treble end"),
            View::column("depth_mm", "own need"),
            View::column("set_mm", "set"),
            View::column("left_at_ends_mm", "left at the ends"),
            View::column("wood_under_as_set_mm", "wood under"),
        ]
        .into_iter()
        .chain(job.model.lamp.is_some().then(|| View::column("to_channel_as_set_mm", "to the channel")))
        .collect::<Vec<_>>(),
    );
    Some(Sheet {
        id: ID,
        title: "Slot depth",
        kind: "bench sheet",
        read_first: read_first(job),
        datum: match job.model.slots.cut.get() {
            Ok(Cut::BeforeRadiusing) => "the flat face the sled rides on",
            Ok(Cut::AfterRadiusing) => "the top of the radiused face, on the centreline",
            _ => "the radiused face, everywhere along the slot",
        },
        station: Station::Saw,
        caution: None,
        data: data(job, &settings),
        views: vec![bench, back],
        tables: vec![table],
        drawings: figures::cross_section(job).ok().map(|drawing| ("cross-section", drawing)).into_iter().collect(),
        holds: holds(job),
        settings: cards(job, &settings),
        unit,
    })
}

/// One setting of the blade and the frets it is for.
struct BladeSetting {
    set: f64,
    frets: Vec<usize>,
}

/// The settings, deepest first, each with its frets.
fn settings(job: &Job<'_>) -> Vec<BladeSetting> {
    let Ok(depths) = &job.design.depths else { return Vec::new() };
    let mut settings: Vec<BladeSetting> = Vec::new();
    for row in &depths.rows {
        let Ok(set) = row.setting.map(|setting| job.set_up(setting)) else { continue };
        match settings.iter_mut().find(|known| (known.set - set).abs() < 1e-9) {
            Some(known) => known.frets.push(row.fret),
            None => settings.push(BladeSetting { set, frets: vec![row.fret] }),
        }
    }
    settings.sort_by(|a, b| b.set.total_cmp(&a.set));
    settings
}

/// Whether the board is never radiused.
fn stays_flat(job: &Job<'_>) -> bool {
    job.design.face.is_ok_and(|face| face.is_flat())
}

/// How much of a slot is left at its lower end once the face is radiused; in a radiused face, the tang's room.
fn left_at_ends(job: &Job<'_>, row: &SlotDepth) -> Known<f64> {
    let (set, skim) = (job.set_up(row.setting?), job.model.slots.skim.mm()?);
    let [bass, treble] = row.drops?;
    Ok(match job.model.slots.cut.get()? {
        Cut::FollowingRadius => slot_left_at_edge(set, skim, 0.0),
        Cut::BeforeRadiusing | Cut::AfterRadiusing => slot_left_at_edge(set, skim, bass.max(treble)),
    })
}

fn table(job: &Job<'_>) -> Option<Table> {
    let (model, design) = (job.model, job.design);
    let depths = design.depths.as_ref().ok()?;
    let slots = design.slots.as_ref().ok()?;
    let map = design.lamps.as_ref().map(|lamps| &lamps.map);
    let mut table = Table::new(
        ID,
        &[
            ("fret", Kind::Count),
            ("radius_mm", Kind::Length),
            ("sagitta_bass_mm", Kind::Length),
            ("sagitta_treble_mm", Kind::Length),
            ("depth_mm", Kind::Length),
            ("set_mm", Kind::Length),
            ("left_at_ends_mm", Kind::Length),
            ("wood_under_mm", Kind::Length),
            ("to_channel_mm", Kind::Length),
            ("wood_under_as_set_mm", Kind::Length),
            ("to_channel_as_set_mm", Kind::Length),
        ],
    );
    for (row, (_, slot)) in depths.rows.iter().zip(slots) {
        let to_channel = |wood_under: Known<f64>| {
            map.zip(model.channels.as_ref()).map(|(map, channels)| {
                let map = map.as_ref().map_err(|missing| *missing)?;
                map.wood_to_slot(model, channels, &(*slot)?, wood_under, &design.face)
            })
        };
        // Paper shows what is left by the figure that is set, so that its heights add up.
        let as_set = job.wood_under_as_set(row);
        table.row(vec![
            row.fret.into(),
            row.radius.into(),
            row.drops.map(|[bass, _]| bass).into(),
            row.drops.map(|[_, treble]| treble).into(),
            row.own.into(),
            row.setting.map(|setting| job.set_up(setting)).into(),
            left_at_ends(job, row).into(),
            row.wood_under.into(),
            to_channel(row.wood_under).into(),
            as_set.into(),
            to_channel(as_set).into(),
        ]);
    }
    Some(table)
}

fn read_first(job: &Job<'_>) -> String {
    let face = match job.model.slots.cut.get() {
        Ok(Cut::AfterRadiusing) => "The face is radiused first; the depth counts from its top.",
        Ok(Cut::FollowingRadius) => "The face is radiused first; the slot's bottom follows it.",
        _ => "The board is still flat; the depth counts from the flat face.",
    };
    match job.model.slots.setting.get() {
        Ok(Setting::Each) => format!("A setting for each slot. {face}"),
        _ => format!("One setting for all slots. {face}"),
    }
}

fn data(job: &Job<'_>, settings: &[BladeSetting]) -> Data {
    let mut data = Data::new();
    data.insert("unit", job.unit_word().into());
    data.insert("tolerance", job.tolerance_text("slot depth").into());
    data.insert("one_setting", (settings.len() == 1).into());
    let list = settings
        .iter()
        .map(|setting| {
            Data::from([
                ("set", Value::from(job.length(setting.set))),
                ("other", job.other_length(setting.set).into()),
                ("frets", frets_in_words(&setting.frets).into()),
            ])
        })
        .collect::<Vec<_>>();
    data.insert("settings", list.into());
    let partial = job.partial_frets();
    if !partial.is_empty() {
        data.insert("by_hand", frets_in_words(&partial).into());
    }
    if let Ok(kerf) = job.model.slots.kerf.mm() {
        data.insert("kerf", job.length(kerf).into());
    }
    if let Some(blade) = job.model.slots.blade.as_ref().and_then(|blade| blade.get().ok()) {
        data.insert("blade", Value::Quoted(blade));
    }
    if let (Some(deepest), Ok(tang)) = (settings.first(), job.model.wire.tang_depth.mm()) {
        // The offcut stays flat: there the tang stands off by all that the ends lose to the radius, too.
        data.insert("room_in_offcut", job.length(deepest.set - tang).into());
        data.insert("deepest_setting", job.length(deepest.set).into());
    }
    if let Some(open) = open_under_tang(job) {
        data.insert("open_under_tang", job.length(open).into());
        data.insert("bound", job.model.board.is_bound().into());
    }
    if let Some(cradle) = cradle(job) {
        data.insert("cradle", Value::Prose(cradle));
        data.insert("follows", (job.model.slots.cut.get() == Ok(Cut::FollowingRadius)).into());
    }
    if let Some(most) = levelling(job) {
        // Less than the tenth that cannot be put back.
        data.insert("levelling", job.length(rounding::down(most, job.setting_step())).into());
    }
    if let Some(skim) = job.skim_to_come() {
        data.insert("skim", job.length(skim).into());
    }
    data.insert("after_radiusing", (job.model.slots.cut.get() != Ok(Cut::BeforeRadiusing)).into());
    if let Some(row) = deepest_whole(job) {
        data.insert("deepest_fret", row.fret.into());
        if let (false, Ok(left)) = (stays_flat(job), left_at_ends(job, row)) {
            data.insert("left_at_ends", job.length(left).into());
        }
    }
    data
}

/// The radius of the cradle in which a domed face lies at the saw; none for a flat one.
fn cradle(job: &Job<'_>) -> Option<String> {
    if stays_flat(job) || job.model.slots.cut.get() == Ok(Cut::BeforeRadiusing) {
        return None;
    }
    let rows = &job.design.depths.as_ref().ok()?.rows;
    let (near, far) = (rows.first()?.radius.ok()?, rows.last()?.radius.ok()?);
    let [near_words, far_words] = [near, far].map(|radius| job.length_with_unit(radius));
    let same = (near - far).abs() < rounding::ON_STEP;
    Some(if same { far_words } else { format!("{near_words} at fret 1, {far_words} at the last") })
}

/// How far the slots stay open under the tang on the centreline, by the deepest setting, where SLOT-07 has found that
/// worth a word.
pub(super) fn open_under_tang(job: &Job<'_>) -> Option<f64> {
    job.findings.iter().find(|finding| finding.code == codes::SLOT_07)?;
    let deepest = job.set_up(job.design.depths.as_ref().ok()?.deepest.ok()?);
    Some(slot_left_at_edge(deepest, job.model.slots.skim.mm().ok()?, 0.0) - job.model.wire.tang_depth.mm().ok()?)
}

/// Where a slot ends across: on the taper lines, but for a partial slot's inner end.
fn ends_across(job: &Job<'_>, fret: usize) -> Option<String> {
    let (_, slot) = job.design.slots.as_ref().ok()?.iter().find(|(of, _)| *of == fret)?;
    let slot = slot.ok()?;
    Some(job.across_both(slot.cut_end(Side::Bass).y, slot.cut_end(Side::Treble).y))
}

/// Frets as they are read aloud: `1 to 5, 7`.
pub(super) fn frets_in_words(frets: &[usize]) -> String {
    let mut runs: Vec<(usize, usize)> = Vec::new();
    for fret in frets {
        match runs.last_mut() {
            Some((_, last)) if *last + 1 == *fret => *last = *fret,
            _ => runs.push((*fret, *fret)),
        }
    }
    let words: Vec<String> = runs
        .iter()
        .map(|(first, last)| match last - first {
            0 => first.to_string(),
            1 => format!("{first}, {last}"),
            _ => format!("{first} to {last}"),
        })
        .collect();
    words.join(", ")
}

fn holds(job: &Job<'_>) -> Vec<Hold> {
    let (Ok(depths), Ok(layout)) = (&job.design.depths, &job.design.layout) else { return Vec::new() };
    let tolerance = job.tolerance("slot depth");
    let octave = usize::try_from(layout.divisions).unwrap_or(usize::MAX);
    let mut frets = vec![1, octave, layout.last()];
    frets.sort_unstable();
    frets.dedup();
    let mut holds: Vec<Hold> = frets
        .into_iter()
        .filter_map(|fret| Some((fret, job.set_up(depths.fret(fret)?.setting.ok()?))))
        .map(|(fret, set)| Hold {
            step: "slots",
            what: format!("fret {fret}, depth of the slot"),
            nominal: Some(set),
            low: Some(set - tolerance.under),
            high: Some(set + tolerance.over),
            unit: "mm",
        })
        .collect();
    if cut_before_radiusing(job) != Some(true) && !stays_flat(job) {
        holds.extend(left(job, "slots", "slot left where the taper lines will be"));
    }
    holds
}

/// What is left of the deepest slot once a face that was slotted flat is radiused, or levelled where it stays flat:
/// measured then.
pub(super) fn left_after_radiusing(job: &Job<'_>) -> Option<Hold> {
    cut_before_radiusing(job).filter(|before| *before)?;
    let what = if stays_flat(job) {
        "slot left after levelling the face"
    } else {
        "slot left after radiusing at the taper lines"
    };
    left(job, "radius", what)
}

/// How much of a board that stays flat may be taken off when its face is levelled, millimetres.
fn levelling(job: &Job<'_>) -> Option<f64> {
    let hold = left_after_radiusing(job).filter(|_| stays_flat(job))?;
    Some(hold.nominal? - hold.low?)
}

/// Whether the slots are cut in the flat face; none while that is open.
fn cut_before_radiusing(job: &Job<'_>) -> Option<bool> {
    job.model.slots.cut.get().ok().map(|cut| cut == Cut::BeforeRadiusing)
}

/// Which of some frets are cut by hand, in brackets: ` (32 to 34 by hand)`.
fn by_hand(job: &Job<'_>, frets: &[usize]) -> String {
    let partial = job.partial_frets();
    let own: Vec<usize> = frets.iter().copied().filter(|fret| partial.contains(fret)).collect();
    if own.is_empty() { String::new() } else { format!(" ({} by hand, not in the sled)", frets_in_words(&own)) }
}

/// The slot that needs most of those that run from edge to edge.
fn deepest_whole<'a>(job: &Job<'a>) -> Option<&'a SlotDepth> {
    let partial = job.partial_frets();
    let whole = job.design.depths.as_ref().ok()?.rows.iter().filter(|row| !partial.contains(&row.fret));
    let needs = whole.filter_map(|row| Some((row.own.ok()?, row)));
    needs.max_by(|one, other| one.0.total_cmp(&other.0)).map(|(_, row)| row)
}

/// What must be left at its ends of the slot that needs most. The blank is still wider than the
/// board and its own edges lower: what counts is where the board will end.
fn left(job: &Job<'_>, step: &'static str, what: &str) -> Option<Hold> {
    let deepest = deepest_whole(job)?;
    let (left, tang) = (left_at_ends(job, deepest).ok()?, job.model.wire.tang_depth.mm().ok()?);
    let place = ends_across(job, deepest.fret).filter(|_| !stays_flat(job));
    let place = place.map(|place| format!(", {place}")).unwrap_or_default();
    Some(Hold {
        step,
        what: format!("fret {}, {what}{place}", deepest.fret),
        nominal: Some(left),
        low: Some(tang + LEFT_OVER_TANG),
        high: None,
        unit: "mm",
    })
}

/// The depths that a strip can prove: one for each setting of the blade.
pub(super) fn depths(job: &Job<'_>) -> Vec<CutDepth> {
    let depth = |setting: &BladeSetting| CutDepth {
        places: match setting.frets.as_slice() {
            [fret] => format!("fret {fret}"),
            frets => format!("frets {}", frets_in_words(frets)),
        },
        ..CutDepth::new(job, "slot depth", setting.set, Some("slot depth"))
    };
    settings(job).iter().map(depth).collect()
}

/// What the card of the blade's own width says.
pub(super) const KERF: &str = "kerf";

/// A card for the blade and one for each of its depths.
fn cards(job: &Job<'_>, settings: &[BladeSetting]) -> Vec<MachineSetting> {
    let slots = &job.model.slots;
    let blade = slots.blade.as_ref().and_then(|blade| blade.get().ok()).unwrap_or_default();
    let kerf = slots.kerf.mm().ok().map(|kerf| MachineSetting {
        station: Station::Saw,
        label: KERF.to_owned(),
        value: job.length(kerf),
        unit: job.unit_word().to_owned(),
        tolerance: job.tolerance_text("kerf"),
        note: blade,
    });
    let in_cradle = cradle(job).map(|radius| format!(" · face in the cradle, radius {radius}")).unwrap_or_default();
    let depths = settings.iter().map(|setting| MachineSetting {
        station: Station::Saw,
        label: "slot depth".to_owned(),
        value: job.length(setting.set),
        unit: job.unit_word().to_owned(),
        tolerance: job.tolerance_text("slot depth"),
        note: format!("frets {}{}{in_cradle}", frets_in_words(&setting.frets), by_hand(job, &setting.frets)),
    });
    kerf.into_iter().chain(depths).collect()
}
