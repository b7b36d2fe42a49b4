//! Strips for nut and saddle at full size: where each string crosses, as wide as it is, and the board's edges.
//!
//! Seen from the saddle toward the nut. The strip's upper edge is laid along the nut or the saddle; on a fan that is
//! along the slant, so the strip is as long as the slant is.

use super::lettered::{self, LEVEL, Lettered, SMALL, STRONG, UPWARD};
use super::{Edition, Job, Kind, Pattern};
use crate::design::board::layout::StationLine;
use crate::design::board::strings::StringPlaces;
use crate::design::formulas::along_slant;
use crate::drawing::{Layer, Pen, Plan};
use crate::geom::{Convex, Point};
use crate::model::{Known, Missing};
use crate::sheets::figures::view::{Section, side_name};
use crate::spec::words::Side;

/// The sheets whose figures the nut's strip shows.
const AT_NUT: [&str; 2] = ["nut-and-saddle", "taper"];
/// The sheet whose figures the saddle's strip shows.
const AT_SADDLE: [&str; 1] = ["nut-and-saddle"];

/// How far a string's own width is drawn down from the strip's edge, and its middle below that, millimetres.
const STRING: f64 = 5.0;
/// See [`STRING`].
const MIDDLE: f64 = 9.0;
/// Strip beyond the outer strings where no edge of the board ends it, millimetres.
const BEYOND: f64 = 9.0;
/// The row at the strip's foot that names its ends, millimetres.
const ENDS: f64 = 5.6;
/// Two figures beside each other need this much, millimetres; strings that lie closer have theirs in two rows.
const APART: f64 = 3.6;

/// The strips of nut and saddle.
///
/// # Errors
/// With the key that the scale or the strings wait for.
pub(super) fn strips(job: &Job<'_>, edition: &Edition) -> Known<Vec<Pattern>> {
    let layout = job.design.layout.as_ref().map_err(|missing| *missing)?;
    let places = StringPlaces::of(job.model)?;
    let zero = layout.zero_line();
    let edges = job.design.edges.map(|edges| Side::BOTH.map(|side| edges.on(side).meets(&zero, 0.0).y)).ok();
    let nut_sheets: &[&'static str] = if edges.is_some() { &AT_NUT } else { &AT_SADDLE };
    Ok(vec![
        strip(job, edition, "nut", (&places.nut, zero, edges), nut_sheets)?,
        strip(job, edition, "saddle", (&places.saddle, layout.saddle(), None), &AT_SADDLE)?,
    ])
}

/// A strip along a line that the strings cross at these places, string 1 first, between the board's edges where it has
/// some there: all toward the treble side.
fn strip(
    job: &Job<'_>,
    edition: &Edition,
    name: &'static str,
    (places, line, edges): (&[f64], StationLine, Option<[f64; 2]>),
    sheets: &[&'static str],
) -> Known<Pattern> {
    let set = job.model.strings.set.get()?;
    let faulty = Missing::faulty("strings.set");
    let (first, last) = places.first().zip(places.last()).ok_or(faulty)?;
    let section = Section::new(job.hand());
    // Along the slant from string 1, its treble side at the right of a right-handed strip.
    let along = |across: f64| section.at(along_slant(across - first, line.angle()), 0.0).x;
    let figures: Vec<(usize, f64, String)> = (1..)
        .zip(places)
        .map(|(number, place)| (number, along(*place), job.length(along_slant(first - place, line.angle()))))
        .map(|(number, x, figure)| (number, x, format!("{number}:\u{a0}{figure}")))
        .collect();
    let longest = figures.iter().map(|(.., text)| SMALL.width(text)).fold(0.0, f64::max);
    let close = figures.windows(2).any(|pair| (pair[0].1 - pair[1].1).abs() < APART);
    let ends = edges.map_or([*last, *first].map(along), |edges| edges.map(along));
    let beyond = if edges.is_some() { 0.0 } else { BEYOND };
    let (left, right) = (ends[0].min(ends[1]) - beyond, ends[0].max(ends[1]) + beyond);

    let what = [name.to_uppercase(), format!("from string 1, {}", job.unit_word())];
    let rows = lettered::own_rows(job, edition, &what, sheets, right - left - 3.0);
    let foot = -(MIDDLE + (longest + 2.0) * if close { 2.0 } else { 1.0 } + lettered::height(&rows) + ENDS + 2.0);

    let description = format!("A strip for the {name} at full size: each string's middle and width.");
    let mut plan = Plan::new(format!("Strip for the {name}"), description);
    let strip = Convex::rectangle(left, foot, right, 0.0);
    plan.polygon(Layer::Outline, strip.corners(), Pen::Visible);
    for ((_, x, _), string) in figures.iter().zip(&set) {
        let half = string.gauge.to_mm() / 2.0;
        let width = Convex::rectangle(x - half, -STRING, x + half, 0.0);
        plan.polygon(Layer::Slots, width.corners(), Pen::Hatching);
        plan.line(Layer::Centre, Point::new(*x, -STRING), Point::new(*x, -MIDDLE), Pen::Thin);
    }
    let mut lettered = Lettered::over(plan);
    for (_, x, text) in &figures {
        let half = SMALL.width(text) / 2.0;
        let rows = [0.0, 1.0].map(|row| Point::new(*x, -MIDDLE - 1.2 - half - row * (longest + 2.0)));
        lettered.write(text, SMALL, UPWARD, rows);
    }
    for (side, x, away) in [(section.left(), left, 1.0), (section.right(), right, -1.0)] {
        let word = side_name(side);
        let middle = Point::new(x + away * (STRONG.width(word) / 2.0 + 1.2), foot + 2.8);
        lettered.write(word, STRONG, LEVEL, [middle]);
    }
    lettered.put_lines(&rows, f64::midpoint(left, right), foot + ENDS + lettered::height(&rows));
    Ok(Pattern {
        id: format!("pattern-{name}"),
        title: format!("Strip for the {name}"),
        plan: lettered.done(),
        along_board: false,
        datum: "string 1",
        sheets: edition.present(sheets),
        kind: Kind::Piece,
    })
}
