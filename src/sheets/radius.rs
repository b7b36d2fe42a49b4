//! `radius`: the block, and the edge heights at which to stop.

use super::taper::plane_to;
use super::{Data, Hold, Job, Kind, MachineSetting, Sheet, Station, Table, Value, View, figures, slot_depth};
use crate::design::board::face::Face;
use crate::model::Known;
use crate::spec::words::Side;

const ID: &str = "radius";

/// How near to the height the wood is left before the finer grits, millimetres. Common practice, no source.
const LEFT_PROUD: f64 = 0.3;

/// The sheet; none while the radius is open, and for a flat board, whose face is only levelled.
pub(super) fn sheet(job: &Job<'_>) -> Option<Sheet> {
    let face = job.design.face.ok().filter(|face| !face.is_flat())?;
    let table = table(job, &face)?;
    let unit = job.unit();
    let views = [
        View::column("station", "at").strong(),
        View::column("from_end_mm", "from the squared end"),
        View::column("blank_edge_height_mm", "stop: blank's edge").main(),
        View::column("taper_line_height_mm", "at the taper line").strong(),
        View::column("taper_line_across_mm", "taper line from the centreline"),
        View::WriteIn("bass".to_owned()),
        View::WriteIn("treble".to_owned()),
    ];
    let bench = table.bench(ID, unit, &views);
    let stops = table.knows("blank_edge_height_mm") || table.knows("taper_line_height_mm");
    let last = job.design.layout.as_ref().ok()?.last();
    Some(Sheet {
        id: ID,
        title: "Radius",
        kind: "bench sheet",
        read_first: if stops {
            "Work to the edge heights, both edges alike. Stop when they are reached: wood does not come back."
        } else {
            "The heights to stop at are OPEN. Do not start."
        }
        .to_owned(),
        datum: "the BACK",
        station: Station::Sander,
        caution: None,
        data: data(job, &face, stops),
        views: vec![bench],
        tables: vec![table],
        drawings: figures::radius_section(job, last)
            .ok()
            .map(|drawing| ("radius-section", drawing))
            .into_iter()
            .collect(),
        holds: holds(job, &face),
        settings: settings(job, &face),
        unit,
    })
}

/// The stations where the height is witnessed.
pub(super) fn stations(job: &Job<'_>) -> Option<Vec<(String, f64)>> {
    let layout = job.design.layout.as_ref().ok()?;
    let octave = usize::try_from(layout.divisions).ok()?;
    let mut stations = vec![("nut".to_owned(), 0.0)];
    if octave < layout.last() {
        stations.push((format!("fret {octave}"), layout.fret(octave)?.x));
    }
    stations.push((format!("fret {}", layout.last()), layout.last_line().x));
    Some(stations)
}

/// Height of the finished board's edge, binding included.
fn finished_height(job: &Job<'_>, face: &Face, place: f64) -> Known<f64> {
    Ok(job.model.board.thickness.mm()? - face.drop(place, job.design.edges?.wider_half(place)))
}

/// The line that is scribed for the taper, from the centreline, on the wider side: where the wood will end, without the
/// binding.
fn taper_line(job: &Job<'_>, place: f64) -> Known<f64> {
    Ok(plane_to(job, Side::Bass, place)?.max(plane_to(job, Side::Treble, place)?))
}

/// Height of the face at that line.
fn line_height(job: &Job<'_>, face: &Face, place: f64) -> Known<f64> {
    Ok(job.model.board.thickness.mm()? - face.drop(place, taper_line(job, place)?))
}

/// Height of the blank's own edge: both orders of work radius before they taper, so this is the edge that is there.
/// None where the blank is so wide that the face runs out at its back before the edge.
fn blank_height(job: &Job<'_>, face: &Face, place: f64) -> Known<Option<f64>> {
    let height = job.model.board.thickness.mm()? - face.drop(place, job.design.blank_width? / 2.0);
    Ok(Some(height).filter(|height| *height > 0.0))
}

fn table(job: &Job<'_>, face: &Face) -> Option<Table> {
    let mut table = Table::new(
        ID,
        &[
            ("station", Kind::Words),
            ("x_mm", Kind::Length),
            ("from_end_mm", Kind::Length),
            ("radius_mm", Kind::Length),
            ("edge_height_mm", Kind::Length),
            ("blank_edge_height_mm", Kind::Length),
            ("taper_line_across_mm", Kind::Length),
            ("taper_line_height_mm", Kind::Length),
        ],
    );
    for (name, place) in stations(job)? {
        table.row(vec![
            name.into(),
            place.into(),
            job.design.squared_end.map(|end| place - end).into(),
            face.radius(place).into(),
            finished_height(job, face, place).into(),
            blank_height(job, face, place).into(),
            taper_line(job, place).into(),
            line_height(job, face, place).into(),
        ]);
    }
    Some(table)
}

/// The radii to be set up, each with where it holds.
fn radii(job: &Job<'_>, face: &Face) -> Vec<(String, f64)> {
    match *face {
        Face::Flat => Vec::new(),
        Face::One(radius) => vec![("Block".to_owned(), radius)],
        Face::Cone { at_nut, at_end, end_place } => {
            let from_end = job.design.squared_end.map(|end| job.length(end_place - end)).unwrap_or_default();
            vec![
                ("At the nut".to_owned(), at_nut),
                (format!("At {from_end}\u{a0}{} from the squared end", job.unit_word()), at_end),
            ]
        }
    }
}

/// The shop's own block of a radius, as the shop file writes it.
fn own_block(job: &Job<'_>, radius: f64) -> Option<String> {
    let nearest = job.model.shop.tools.nearest_block(radius);
    nearest.filter(|block| block.is_block_of(radius)).map(|block| block.written.clone())
}

fn data(job: &Job<'_>, face: &Face, stops: bool) -> Data {
    let mut data = Data::new();
    data.insert("unit", job.unit_word().into());
    data.insert("cone", matches!(face, Face::Cone { .. }).into());
    data.insert("left_proud", job.length(LEFT_PROUD).into());
    data.insert("stops", stops.into());
    if let Some(skim) = job.skim_to_come() {
        data.insert("skim", job.length(skim).into());
    }
    data.insert("lamps_out", job.lamps_out_for_radiusing().into());
    data.insert("lit", job.model.lamp.is_some().into());
    data.insert("zero_fret", job.has_zero_fret().into());
    data.insert("bound", job.model.board.is_bound().into());
    data.insert("gauge", job.length(job.tolerance("radius").over).into());
    let list = radii(job, face)
        .into_iter()
        .map(|(label, radius)| {
            Data::from([
                ("label", Value::from(label)),
                ("radius", job.length(radius).into()),
                ("other", job.other_length(radius).into()),
                ("block", own_block(job, radius).map_or_else(|| Value::from(""), Value::Quoted)),
            ])
        })
        .collect::<Vec<_>>();
    data.insert("radii", list.into());
    data
}

fn holds(job: &Job<'_>, face: &Face) -> Vec<Hold> {
    let (height, light) = (job.tolerance("thickness"), job.tolerance("radius"));
    let mut holds: Vec<Hold> = stations(job)
        .unwrap_or_default()
        .into_iter()
        .filter_map(|(name, place)| {
            // Where the blank's edge is not known or not left, the taper line scribed on it is all there is to stop at.
            let (edge, nominal) = match blank_height(job, face, place) {
                Ok(Some(nominal)) => ("blank's edge", nominal),
                Ok(None) | Err(_) => ("board at the taper line", line_height(job, face, place).ok()?),
            };
            Some(Hold {
                step: "radius",
                what: format!("{name}, height of the {edge}"),
                nominal: Some(nominal),
                low: Some(nominal - height.under),
                high: Some(nominal + height.over),
                unit: "mm",
            })
        })
        .collect();
    holds.extend(slot_depth::left_after_radiusing(job));
    holds.push(Hold {
        step: "radius",
        what: "light under the gauge, laid square to the centreline".to_owned(),
        nominal: None,
        low: None,
        high: Some(light.over),
        unit: "mm",
    });
    holds
}

/// A card for the block, and one for the caul that presses the frets in.
fn settings(job: &Job<'_>, face: &Face) -> Vec<MachineSetting> {
    let radii = radii(job, face);
    let one = radii.len() == 1;
    let card = |station: Station, what: &str, (label, radius): &(String, f64)| MachineSetting {
        station,
        label: if one { format!("radius of the {what}") } else { format!("{what}, {}", label.to_lowercase()) },
        value: job.length(*radius),
        unit: job.unit_word().to_owned(),
        tolerance: String::new(),
        note: job.other_length(*radius),
    };
    let blocks = radii.iter().map(|radius| card(Station::Sander, "block", radius));
    let cauls = radii.iter().map(|radius| card(Station::Press, "caul", radius));
    blocks.chain(cauls).collect()
}
