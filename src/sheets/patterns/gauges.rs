//! Gauge strips: card that is put into a cut and tells by its shoulders whether the cut is as deep as its sheet says.
//!
//! One strip a depth. Its lower tongue is as long as the least depth that passes: its shoulders must touch. Its upper
//! tongue is as long as the greatest: there they must not. A knife is no better than a tenth of a millimetre; a strip
//! finds a wrong stop, a forgotten skim, two stops mixed up.

use super::lettered::{Lettered, pitch, short};
use super::{Edition, Job, Kind, Pattern, number};
use crate::drawing::{Layer, Lettering, Pen, Plan};
use crate::geom::Point;
use crate::lettering::Face;
use crate::model::Known;
use crate::sheets::{CutDepth, drilling_chart, lamp_seats, routing_map, slot_depth};

/// Widest tongue, millimetres.
const TONGUE: f64 = 12.0;
/// Shoulder on each side of a tongue, at the least, millimetres.
const SHOULDER: f64 = 14.0;
/// By how much a tongue is narrower than the bore that it goes into, millimetres.
const PLAY: f64 = 0.3;
/// The thickest card that a tongue for a bore is thought of, millimetres: its four corners must clear the round wall.
const CARD: f64 = 0.8;
/// What a tongue rests on beside the hole through a bore's floor, at the least, millimetres: it must not drop in.
const REST: f64 = 0.1;

/// What is to be read first, and the rest.
const HEADING: Lettering = Lettering { face: Face::Bold, size: 8.5 };
/// See [`HEADING`].
const LINE: Lettering = Lettering { face: Face::Regular, size: 7.5 };

/// A strip for each depth of the packet whose limits are known.
///
/// # Errors
/// Never: a depth that is open has no strip.
pub(super) fn gauges(job: &Job<'_>, edition: &Edition) -> Known<Vec<Pattern>> {
    let depths = [
        (slot_depth::ID, slot_depth::depths(job)),
        (lamp_seats::ID, lamp_seats::depths(job)),
        (routing_map::ID, routing_map::depths(job)),
        (drilling_chart::ID, drilling_chart::depths(job)),
    ];
    let strips = depths.into_iter().flat_map(|(sheet, depths)| {
        let strip = move |depth: CutDepth| Some(strip(job, edition, sheet, &depth, tongue(&depth)?));
        depths.into_iter().filter(|depth| depth.low > 0.0).filter_map(strip)
    });
    Ok(strips.collect())
}

/// How wide a depth's tongue is, millimetres; none where it could drop into the hole through the floor instead of
/// resting beside it, pushed to one side by all the play it has.
fn tongue(depth: &CutDepth) -> Option<f64> {
    let Some(bore) = depth.bore else { return Some(TONGUE) };
    let clear = (bore * bore - CARD * CARD).max(0.0).sqrt().min(bore - PLAY);
    let width = TONGUE.min(clear);
    let rests = depth.through.is_none_or(|through| (width - through) / 2.0 - (bore - width) / 2.0 >= REST);
    (width > 0.0 && rests).then_some(width)
}

fn strip(job: &Job<'_>, edition: &Edition, sheet: &'static str, depth: &CutDepth, tongue: f64) -> Pattern {
    let (what, nominal) = (&depth.what, job.length_with_unit(depth.nominal));
    let mut plan = Plan::new(
        format!("Gauge strip, {what} {nominal}"),
        "A strip with shoulders, to be cut out: its lower tongue must go in up to the shoulders, its upper one must not.",
    );
    let mut lines = vec![(format!("{what} {nominal}"), HEADING)];
    if !depth.places.is_empty() {
        lines.push((short(&depth.places), LINE));
    }
    let draft = edition.draft.as_ref().map_or_else(String::new, |draft| format!(" · {draft}"));
    lines.push((format!("{}{draft}", short(&number(job))), HEADING));
    let sheets = [sheet];
    lines.extend(edition.stamps(&sheets).map(|(title, stamp)| (format!("{title} {stamp}"), LINE)));
    if let Some(high) = depth.high {
        lines.insert(0, (format!("NO-GO {}: shoulders must NOT touch", job.length(high)), HEADING));
    }
    lines.push((format!("GO {}: shoulders must touch", job.length(depth.low)), HEADING));

    let widest = lines.iter().map(|(text, lettering)| lettering.width(text)).fold(0.0, f64::max);
    let tongue = tongue / 2.0;
    let half = (widest / 2.0 + 2.0).max(tongue + SHOULDER);
    let height = lines.iter().map(|(_, lettering)| pitch(*lettering)).sum::<f64>() + 2.0;
    let mut corners =
        vec![(-half, 0.0), (-tongue, 0.0), (-tongue, -depth.low), (tongue, -depth.low), (tongue, 0.0), (half, 0.0)];
    corners.push((half, height));
    if let Some(high) = depth.high {
        corners.extend([(tongue, height), (tongue, height + high), (-tongue, height + high), (-tongue, height)]);
    }
    corners.push((-half, height));
    let corners: Vec<Point> = corners.into_iter().map(Point::from).collect();
    plan.polygon(Layer::Outline, &corners, Pen::Thin);
    let mut lettered = Lettered::over(plan);
    lettered.put_lines(&lines, 0.0, height - 1.0);
    Pattern {
        id: format!("gauge-{}", depth.name),
        title: format!("Gauge strip, {what} {nominal}"),
        plan: lettered.done(),
        along_board: false,
        datum: "the tongue's middle",
        sheets: edition.present(&sheets),
        kind: Kind::Gauge,
    }
}
