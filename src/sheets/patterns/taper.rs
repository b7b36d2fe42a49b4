//! The taper at full size: the wood as it is planed, with half widths at its stations; the offcut is hatched.

use core::f64::consts::FRAC_PI_4;

use super::face::{blank, name_blank, name_edges};
use super::lettered::{ACROSS, Lettered, SMALL};
use super::{Edition, Job, Kind, Pattern};
use crate::design::board::layout::StationLine;
use crate::drawing::{Layer, Pen, Plan};
use crate::geom::{Convex, Point};
use crate::model::{Known, Missing};
use crate::sheets::figures::view::View;
use crate::sheets::taper::{places, plane_to};
use crate::spec::words::Side;
use crate::units::WorkingUnit;

/// The sheets whose figures it shows.
const SHEETS: [&str; 1] = ["taper"];

/// Between the lines of the offcut's hatching, millimetres.
const HATCHING: f64 = 4.0;

/// The pattern of the taper, seen from above the face.
///
/// # Errors
/// With the key that the scale, the squared end or the edges wait for.
pub(super) fn taper(job: &Job<'_>, edition: &Edition) -> Known<Vec<Pattern>> {
    let design = job.design;
    let outline = design.outline.as_ref().map_err(|missing| *missing)?;
    let edges = design.edges?;
    let binding = job.model.board.binding.mm()?;
    let view = View::front(job.hand());
    let mut plan = Plan::new("Taper", "The tapered outline at full size, with half widths at its stations.");

    let square = StationLine { x: outline.squared_end, slant: 0.0 };
    let corner = |line: &StationLine, side: Side| edges.on(side).meets(line, binding);
    let wood = Convex::new(vec![
        corner(&square, Side::Bass),
        corner(&outline.end, Side::Bass),
        corner(&outline.end, Side::Treble),
        corner(&square, Side::Treble),
    ]);
    let blank = blank(job).or_else(|| {
        let half = design.blank_width.ok()? / 2.0;
        Some(Convex::rectangle(square.x, -half, outline.far_corner(), half))
    });
    let mut far = outline.end.x;
    if let Some(blank) = &blank {
        plan.polygon(Layer::Neighbours, &view.polygon(blank), Pen::Neighbour);
        far = blank.corners().iter().map(|corner| corner.x).fold(far, f64::max);
    }
    plan.polygon(Layer::Outline, &view.polygon(&wood), Pen::Visible);
    if binding > 0.0 {
        plan.polygon(Layer::Neighbours, &view.polygon(&outline.area), Pen::Neighbour);
    }
    plan.line(Layer::Centre, view.at(Point::new(square.x, 0.0)), view.at(Point::new(far, 0.0)), Pen::Centre);

    let stations = places(job).ok_or(Missing::faulty("scale.length"))?;
    let across = |side: Side, x: f64| Ok::<f64, Missing>(side.toward_treble() * plane_to(job, side, x)?);
    for station in &stations {
        let ends = [across(Side::Bass, station.x)?, across(Side::Treble, station.x)?];
        let [bass, treble] = ends.map(|across| view.at(Point::new(station.x, across)));
        plan.line(Layer::Dimensions, bass, treble, Pen::Thin);
    }
    let mut lettered = Lettered::over(plan);
    name_edges(&mut lettered, &view, &edges, 3.0 + binding, (square.x, outline.end.x));
    for station in &stations {
        for side in Side::BOTH {
            let across = across(side, station.x)?;
            let figure = job.length(across.abs());
            let places = [0.55, 0.4, 0.7]
                .into_iter()
                .flat_map(|share| [-2.0, 2.0].map(|off| view.at(Point::new(station.x + off, share * across))));
            lettered.write(&figure, SMALL, ACROSS, places);
        }
        let half = edges.wider_half(station.x);
        let places = [-0.5, 0.5, -0.3, 0.3, -0.7, 0.7, -0.24, 0.24]
            .into_iter()
            .flat_map(|share| [2.0, -2.0, 4.6, -4.6].map(|off| view.at(Point::new(station.x + off, share * half))));
        // The end is as far from the last fret as its figures need; its name is short, as on the drawing.
        let name = if station.x < outline.end.x { station.name.as_str() } else { "END" };
        lettered.write(name, SMALL, ACROSS, places);
    }
    if let Some(blank) = &blank {
        name_blank(&mut lettered, &view, &edges, blank, &["blank's edge", "blank"]);
        name_blank(&mut lettered, &view, &edges, blank, &["hatched: comes off", "comes off"]);
        let mut offcut = view.area(blank);
        offcut.extend(view.area(&wood));
        lettered.hatch_behind(&offcut, FRAC_PI_4, HATCHING);
    }
    let area = Convex::new(view.polygon(&wood));
    let unit = match job.unit() {
        WorkingUnit::Millimetre => "half widths in mm",
        WorkingUnit::Inch => "half widths in inches",
    };
    let mut what = vec!["TAPER", unit];
    if binding > 0.0 {
        what.push("without the binding");
    }
    lettered.sign(job, edition, &what, &SHEETS, &area);
    Ok(vec![Pattern {
        id: "pattern-taper".to_owned(),
        title: "Taper".to_owned(),
        plan: lettered.done(),
        along_board: true,
        datum: "the zero line",
        sheets: edition.present(&SHEETS),
        kind: Kind::Board,
    }])
}
