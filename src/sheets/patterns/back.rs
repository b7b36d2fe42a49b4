//! The back at full size, turned over about its long axis: channels as the cutter leaves them, seats, exit, rod, screws.

use super::face::{PAST_RIM, cross, name_edges, write_round};
use super::lettered::{LEVEL, Lettered, SMALL, STRONG, steps};
use super::{Edition, Job, Kind, Pattern};
use crate::design::lamps::channels::ChannelMap;
use crate::drawing::plan::Level;
use crate::drawing::{Contour, Layer, Lettering, Pen, Plan};
use crate::geom::{Convex, Line, Point, Segment, Vec2};
use crate::model::{Known, Missing};
use crate::sheets::figures::PieceNames;
use crate::sheets::figures::view::View;
use crate::sheets::routing_map::piece_names;

/// The sheets whose figures it shows.
const SHEETS: [&str; 4] = ["routing-map", "lamp-seats", "drilling-chart", "taper"];

/// The pattern of the back; none where nothing is routed into it.
///
/// # Errors
/// With the key that the outline or the map of the channels waits for.
pub(super) fn back(job: &Job<'_>, edition: &Edition) -> Known<Vec<Pattern>> {
    let design = job.design;
    let (Some(lamps), Some(channels)) = (&design.lamps, &job.model.channels) else { return Ok(Vec::new()) };
    let map = lamps.map.as_ref().map_err(|missing| *missing)?;
    let outline = design.outline.as_ref().map_err(|missing| *missing)?;
    let edges = design.edges?;
    let view = View::back(job.hand());
    let mut plan =
        Plan::new("Back", "The BACK of the board at full size: channels, seats, exit; the slots behind dashed.");

    plan.polygon(Layer::Outline, &view.polygon(&outline.area), Pen::Visible);
    let ends = [outline.squared_end, outline.end.x].map(|x| view.at(Point::new(x, 0.0)));
    plan.line(Layer::Centre, ends[0], ends[1], Pen::Centre);
    let level = channels.depth.mm().map_or(Layer::Pockets.into(), |depth| Level::deep(Layer::Pockets, depth));
    for contour in channel_walls(map) {
        plan.contour(level, view.contour(&contour), Pen::Visible);
    }
    seats(job, &mut plan, &view);
    let exit = view.at(map.exit.centre);
    // The neck's hole: no cut in the board for a bit or a machine to find.
    plan.circle(Layer::Hidden, exit, map.exit.radius, Pen::Hidden);
    if let Ok(Some(rod)) = &design.rod {
        plan.polygon(Layer::Hidden, &view.polygon(rod), Pen::Hidden);
    }
    for screw in job.model.neck.iter().filter_map(|neck| neck.screws.get().ok()).flatten() {
        let at = Point::new(screw.x.to_mm(), screw.y.toward_treble());
        plan.circle(Layer::Hidden, view.at(at), screw.diameter.to_mm() / 2.0, Pen::Hidden);
    }

    let mut lettered = Lettered::over(plan);
    let names = piece_names(job).ok_or(Missing::faulty("channels.width"))?;
    let margin = channels.margin.mm()?;
    // First: no one may miss it.
    name_exit(&mut lettered, &view, map, &names.exit);
    name_edges(&mut lettered, &view, &edges, (margin / 2.0).max(1.6), (outline.squared_end, outline.end.x));
    name_pieces(&mut lettered, &view, map, &names);
    number_lamps(job, &mut lettered, &view);
    if let Ok(Some(rod)) = &design.rod
        && let Some(bounds) = crate::drawing::outline::bounds(view.polygon(rod))
    {
        let along = steps(bounds.x0 + 10.0, bounds.x1, 5.0);
        let beside = along.flat_map(|x| [bounds.y0 - 2.2, bounds.y1 + 2.2].map(|y| Point::new(x, y)));
        lettered.write("rod below", SMALL, LEVEL, beside);
    }
    let area = Convex::new(view.polygon(&outline.area));
    let bass_at = format!("at the {}", view.bass_edge_at());
    lettered.write_within(&[("BACK".to_owned(), Lettering::LARGE)], &area);
    lettered.sign(job, edition, &["bass edge", &bass_at], &SHEETS, &area);
    for slot in design.slots.iter().flatten().filter_map(|(_, slot)| slot.ok()) {
        lettered.behind(Layer::Hidden, view.stretch(&slot.cut), Pen::Hidden);
    }
    Ok(vec![Pattern {
        id: "pattern-back".to_owned(),
        title: "BACK".to_owned(),
        plan: lettered.done(),
        along_board: true,
        datum: "the zero line",
        sheets: edition.present(&SHEETS),
        kind: Kind::Board,
    }])
}

/// The walls of all channels, seen from the front: the outer one, and the island between each two cross channels.
///
/// A round cutter runs from crossing to crossing: the outer corners are arcs about the crossings, as wide as the
/// cutter, and the corners of the islands are sharp.
fn channel_walls(map: &ChannelMap) -> Vec<Contour> {
    let radius = map.end.width / 2.0;
    let across: Vec<Segment> = map.crosses.iter().map(|cross| cross.strip.centre).chain([map.end.centre]).collect();
    let (Some(first), Some(last)) = (across.first(), across.last()) else { return Vec::new() };
    // An end channel that is counted from a slot before the last lamp lies among the cross channels: that is no ladder,
    // and each channel has its own walls.
    let in_order = |pair: &[Segment]| pair[0].start.x < pair[1].start.x && pair[0].end.x < pair[1].end.x;
    if !across.windows(2).all(in_order) {
        let sides = map.sides.iter().map(|side| {
            let past = side.direction() * radius;
            Segment::new(side.centre.start + past, side.centre.end - past)
        });
        return sides.chain(across).map(|run| Contour::around(&[run.start, run.end], radius)).collect();
    }
    let ring = |one: &Segment, other: &Segment| Convex::new(vec![one.start, other.start, other.end, one.end]);
    let outer = Contour::around(ring(first, last).corners(), radius);
    let islands = across.windows(2).map(|pair| {
        let middles = ring(&pair[0], &pair[1]);
        let inside = |rest: Convex, edge: Segment| rest.left_of(&Line::through(edge.start, edge.end).offset(radius));
        middles.edges().fold(middles.clone(), inside)
    });
    let islands = islands.filter(|island| !island.is_empty()).map(|island| Contour::closed(island.corners()));
    std::iter::once(outer).chain(islands).collect()
}

/// The counterbores by the depth they are bored to, the through holes, and a cross at each middle.
fn seats(job: &Job<'_>, plan: &mut Plan, view: &View) {
    let (Some(lamp), Some(lamps), Ok(markers)) = (&job.model.lamp, &job.design.lamps, &job.design.markers) else {
        return;
    };
    for marker in markers {
        let Ok(middle) = marker.middle.map(|middle| view.at(middle)) else { continue };
        let seat = lamps.seats.iter().flatten().find(|seat| seat.lamp == marker.number);
        let level = match seat.map(|seat| seat.seat) {
            Some(Ok(seat)) => Level::deep(Layer::Holes, job.set_down(seat)),
            _ => Layer::Holes.into(),
        };
        let mut reach: f64 = 0.0;
        for (size, level) in [(lamp.counterbore.mm(), level), (lamp.hole.mm(), Layer::Holes.into())] {
            if let Ok(size) = size {
                plan.circle(level, middle, size / 2.0, Pen::Thin);
                reach = reach.max(size / 2.0);
            }
        }
        cross(plan, middle, reach + PAST_RIM);
    }
}

/// The number of each piece of the routing map beside it.
fn name_pieces(lettered: &mut Lettered, view: &View, map: &ChannelMap, names: &PieceNames) {
    let across = map.crosses.iter().map(|cross| (cross.line, cross.strip)).chain([(map.end_line, map.end)]);
    for ((line, strip), name) in across.zip(names.crosses.iter().chain([&names.end])) {
        let reach = strip.centre.end.y.min(-strip.centre.start.y);
        write_piece(lettered, name, |text, lettering| {
            // Half the text, the wall, some white, and what the slant takes over the text's height.
            let off = lettering.width(text) / 2.0
                + strip.width / 2.0 / libm::cos(line.angle())
                + 0.9
                + 1.6 * line.slant.abs();
            [0.45, -0.45, 0.3, -0.3, 0.6, -0.6, 0.75, -0.75]
                .into_iter()
                .flat_map(move |share| [-off, off].map(|off| Point::new(line.at(share * reach) + off, share * reach)))
                .map(|at| view.at(at))
                .collect()
        });
    }
    for (strip, name) in map.sides.iter().zip(&names.sides) {
        write_piece(lettered, name, |_, _| {
            let inward = -strip.centre.start.y.signum();
            let off = strip.width / 2.0 + 2.6;
            (4..60)
                .map(|step| strip.centre.start.lerp(strip.centre.end, f64::from(step) / 64.0))
                .map(|at| view.at(at + Vec2::new(0.0, inward * off)))
                .collect()
        });
    }
}

/// Says at the wires' exit that it is the neck's hole: beside it, or where there is room with a line that leads to it.
fn name_exit(lettered: &mut Lettered, view: &View, map: &ChannelMap, number: &str) {
    let (exit, radius) = (view.at(map.exit.centre), map.exit.radius);
    let number = format!("{number}, NECK ONLY");
    let full = format!("{number}: do not bore");
    // Text, letters, and how far off it may stand, millimetres: near and short goes before far and whole.
    for (text, lettering, reach) in [
        (full.as_str(), STRONG, 20.0),
        (&full, SMALL, 20.0),
        (&number, STRONG, 20.0),
        (&number, SMALL, 20.0),
        ("NECK ONLY", SMALL, 20.0),
        (&number, SMALL, 90.0),
        ("NECK ONLY", SMALL, 90.0),
    ] {
        let half = lettering.width(text) / 2.0;
        // Toward the nut, the nearest first; across, from the exit's own height outward.
        let places = steps(radius + 3.0, reach, 1.0)
            .flat_map(|off| [0.0, 2.0, -2.0, 4.0, -4.0, 6.0, -6.0].map(|up| exit + Vec2::new(-off - half, up)));
        if let Some(middle) = lettered.write_at(text, lettering, LEVEL, places) {
            let from = middle + Vec2::new(half + 0.6, 0.0);
            lettered.lead(from, exit - (exit - from).normalize() * radius);
            return;
        }
    }
}

/// Writes a piece's number with its word where there is room for it, else the number alone.
fn write_piece(lettered: &mut Lettered, number: &str, places: impl Fn(&str, Lettering) -> Vec<Point>) {
    let word = format!("piece {number}");
    for (text, lettering) in [(word.as_str(), STRONG), (&word, SMALL), (number, STRONG), (number, SMALL)] {
        if lettered.write(text, lettering, LEVEL, places(text, lettering)) {
            return;
        }
    }
}

/// The number of each lamp beside its seat.
fn number_lamps(job: &Job<'_>, lettered: &mut Lettered, view: &View) {
    let (Some(lamp), Ok(markers)) = (&job.model.lamp, &job.design.markers) else { return };
    let radius = lamp.counterbore.mm().or(lamp.hole.mm()).unwrap_or(0.0) / 2.0 + PAST_RIM;
    for marker in markers {
        let Ok(middle) = marker.middle else { continue };
        write_round(
            lettered,
            view.at(middle),
            radius,
            &[&format!("lamp {}", marker.number), &marker.number.to_string()],
        );
    }
}
