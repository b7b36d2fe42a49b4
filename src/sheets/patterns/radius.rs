//! Radius gauges at full size: one that lies on the face and is the caul's line too, one that lies in block and caul.

use super::lettered::{self, Lettered};
use super::{Edition, Job, Kind, Pattern};
use crate::design::board::face::Face;
use crate::drawing::contour::Corner;
use crate::drawing::{Contour, Layer, Pen, Plan};
use crate::geom::{Point, sagitta};
use crate::model::Known;
use crate::sheets::radius::stations;

/// The sheet whose figures they show.
const SHEETS: [&str; 1] = ["radius"];

/// The mark at the middle of an arc, millimetres.
const MARK: f64 = 3.0;
/// White between it, the rows of text and the gauge's edge, millimetres.
const WHITE: f64 = 1.2;
/// Between the two gauges, millimetres.
const BETWEEN: f64 = 6.0;
/// How far a gauge reaches past the board's widest half, millimetres.
const PAST_EDGE: f64 = 4.0;
/// The half width of a gauge whose board's width is open, millimetres.
const HALF_WIDTH: f64 = 32.0;
/// The most of a radius that a gauge's half width takes: beyond it, card runs along the edge of the face.
const MOST: f64 = 0.9;

/// The gauges of every radius of the board: of a cone, at the stations of the radius sheet. A flat board has none.
///
/// # Errors
/// With the key that the face waits for.
pub(super) fn radii(job: &Job<'_>, edition: &Edition) -> Known<Vec<Pattern>> {
    let face = job.design.face?;
    let at_stations = || stations(job).unwrap_or_default().into_iter();
    Ok(match face {
        Face::Flat => Vec::new(),
        Face::One(radius) => vec![gauge(job, edition, radius, None)],
        Face::Cone { .. } => {
            at_stations().map(|(name, x)| gauge(job, edition, face.radius(x), Some((&name, x)))).collect()
        }
    })
}

/// Both gauges of one radius, at a station where that is not the board's only one.
fn gauge(job: &Job<'_>, edition: &Edition, radius: f64, station: Option<(&str, f64)>) -> Pattern {
    let widest = match (job.design.edges, job.design.end) {
        (Ok(edges), Ok(end)) => edges.wider_half(0.0).max(edges.wider_half(end)) + PAST_EDGE,
        _ => HALF_WIDTH,
    };
    let half = widest.min(MOST * radius);
    let drop = sagitta(radius, half);
    // The tangent of a quarter of the arc's angle is its height over half its chord.
    let bulge = drop / half;
    let title = match station {
        Some((station, _)) => format!("Radius gauges, {station}"),
        None => "Radius gauges".to_owned(),
    };
    let mut plan =
        Plan::new(title.clone(), "Two gauges of one radius at full size: for the face, and for block and caul.");
    let size = format!("R {} ({})", job.length_with_unit(radius), job.other_length(radius));
    // A cone is what its name says at one place only, and a gauge laid along a slanted fret shows light that is not there.
    let place = station.map(|(name, x)| match job.design.squared_end {
        Ok(end) => vec![
            format!("{} from the squared end", job.length_with_unit(x - end)),
            format!("on the centreline ({name})"),
        ],
        Err(_) => vec![name.to_owned()],
    });
    let rows = |use_of_it: &str, how: &str| {
        let what = [size.clone(), use_of_it.to_owned()].into_iter().chain(place.clone().unwrap_or_default());
        let what: Vec<String> = what.chain([how.to_owned()]).collect();
        lettered::own_rows(job, edition, &what, &SHEETS, 2.0 * (half - WHITE))
    };
    let on_face = rows("lies on the face", "lay it SQUARE to the centreline");
    let in_block = rows("lies in block or caul", "SQUARE to its length");
    let [card, card_below] = [&on_face, &in_block].map(|rows| MARK + lettered::height(rows) + 2.0 * WHITE);

    let corner = |x: f64, y: f64, bulge: f64| Corner { at: Point::new(x, y), bulge };
    let over =
        vec![corner(-half, -drop, -bulge), corner(half, -drop, 0.0), corner(half, card, 0.0), corner(-half, card, 0.0)];
    let rim = -BETWEEN - drop;
    let foot = rim.min(-BETWEEN - MARK) - card_below + MARK;
    let under =
        vec![corner(half, rim, bulge), corner(-half, rim, 0.0), corner(-half, foot, 0.0), corner(half, foot, 0.0)];
    for corners in [over, under] {
        plan.contour(Layer::Outline, Contour { corners, closed: true }, Pen::Visible);
    }
    for (apex, up) in [(0.0, 1.0), (-BETWEEN, -1.0)] {
        plan.line(Layer::Centre, Point::new(0.0, apex), Point::new(0.0, apex + MARK * up), Pen::Thin);
    }
    let mut lettered = Lettered::over(plan);
    lettered.put_lines(&on_face, 0.0, card - WHITE);
    lettered.put_lines(&in_block, 0.0, foot + WHITE + lettered::height(&in_block));
    let place = station.map_or_else(String::new, |(station, _)| format!("-{}", station.replace(' ', "-")));
    Pattern {
        id: format!("pattern-radius{place}"),
        title,
        plan: lettered.done(),
        along_board: false,
        datum: "the middle of the arc",
        sheets: edition.present(&SHEETS),
        kind: Kind::Piece,
    }
}
