//! The face at full size: blank, finished outline, slots as wide as the saw cuts them, markers.

use kurbo::Vec2;

use super::lettered::{ACROSS, LEVEL, Lettered, PLAIN, SMALL, STRONG, steps};
use super::{Edition, Job, Kind, Pattern};
use crate::design::board::edges::Edges;
use crate::design::board::layout::StationLine;
use crate::design::board::slots::Slot;
use crate::design::hole_diameter;
use crate::drawing::plan::Level;
use crate::drawing::{Layer, Lettering, Pen, Plan};
use crate::geom::{Convex, Point};
use crate::model::Known;
use crate::sheets::figures::view::{View, edge_name, side_name};
use crate::sheets::figures::words::{squared_end_name, zero_line_name};
use crate::spec::words::Side;

/// The sheets whose figures it shows.
const SHEETS: [&str; 3] = ["fret-table", "taper", "drilling-chart"];

/// How far the cross at a hole's middle reaches past its rim, millimetres.
pub(super) const PAST_RIM: f64 = 1.2;

/// The pattern of the face, seen from above.
///
/// # Errors
/// With the key that the scale, the squared end or the edges wait for.
pub(super) fn face(job: &Job<'_>, edition: &Edition) -> Known<Vec<Pattern>> {
    let design = job.design;
    let layout = design.layout.as_ref().map_err(|missing| *missing)?;
    let outline = design.outline.as_ref().map_err(|missing| *missing)?;
    let slots = design.slots.as_ref().map_err(|missing| *missing)?;
    let edges = design.edges?;
    let view = View::front(job.hand());
    let mut plan =
        Plan::new("Face", "The face of the board at full size: outline, slots, zero line, centreline, markers.");

    let blank = blank(job);
    if let Some(blank) = &blank {
        plan.polygon(Layer::Neighbours, &view.polygon(blank), Pen::Neighbour);
    }
    plan.polygon(Layer::Outline, &view.polygon(&outline.area), Pen::Visible);
    let square = StationLine { x: outline.squared_end, slant: 0.0 };
    binding(job, &mut plan, &view, &edges, [&square, &outline.end])?;
    let reach = blank.as_ref().unwrap_or(&outline.area).corners().iter().map(|corner| corner.x);
    let far = reach.fold(outline.end.x, f64::max);
    plan.line(Layer::Centre, view.at(Point::new(square.x, 0.0)), view.at(Point::new(far, 0.0)), Pen::Centre);
    let zero = layout.zero_line();
    if zero != square && !slots.iter().any(|(fret, _)| *fret == 0) {
        let [bass, treble] = Side::BOTH.map(|side| view.at(edges.on(side).meets(&zero, 0.0)));
        plan.line(Layer::Centre, bass, treble, Pen::Thin);
    }
    let known: Vec<Slot> = slots.iter().filter_map(|(_, slot)| slot.ok()).collect();
    for slot in &known {
        draw_slot(job, &mut plan, &view, slot, &edges)?;
    }
    holes(job, &mut plan, &view);

    let mut lettered = Lettered::over(plan);
    number_slots(job, &mut lettered, &view, &known);
    number_markers(job, &mut lettered, &view);
    let inset = 3.0 + job.model.board.binding.mm()?;
    name_edges(&mut lettered, &view, &edges, inset, (square.x, outline.end.x));
    if let Some(blank) = &blank {
        name_blank(&mut lettered, &view, &edges, blank, &["blank's edge", "blank"]);
    }
    let beside = [outline.squared_end - 2.6].map(|x| Point::new(x, 0.0));
    lettered.write(&squared_end_name(job, layout, outline), SMALL, ACROSS, beside);
    if zero != square {
        name_line(&mut lettered, &view, &zero, zero_line_name(job), edges.wider_half(zero.x));
    }
    name_line(&mut lettered, &view, &outline.end, "END", edges.wider_half(outline.end.x));
    let area = Convex::new(view.polygon(&outline.area));
    lettered.sign(job, edition, &["FACE"], &SHEETS, &area);
    Ok(vec![Pattern {
        id: "pattern-face".to_owned(),
        title: "Face".to_owned(),
        plan: lettered.done(),
        along_board: true,
        datum: "the zero line",
        sheets: edition.present(&SHEETS),
        kind: Kind::Board,
    }])
}

/// The blank as it is written, its squared end on the board's; none where its length is not known.
pub(super) fn blank(job: &Job<'_>) -> Option<Convex> {
    let length = job.model.board.blank_length.as_ref()?.mm().ok()?;
    let (near, half) = (job.design.squared_end.ok()?, job.design.blank_width.ok()? / 2.0);
    Some(Convex::rectangle(near, -half, near + length, half))
}

/// Writes the first of some texts that finds room between the board and the edges of its blank, along each of them, else
/// past the board's end.
pub(super) fn name_blank(lettered: &mut Lettered, view: &View, edges: &Edges, blank: &Convex, texts: &[&str]) {
    let Some(bounds) = crate::drawing::outline::bounds(blank.corners().iter().copied()) else { return };
    let along = || steps(bounds.x0, bounds.x1, 2.0);
    for side in Side::BOTH {
        let within = |x: f64| {
            let outer = if side == Side::Treble { bounds.y1 } else { bounds.y0 };
            let inner = side.toward_treble() * edges.on(side).half(x);
            [outer - side.toward_treble() * 2.1, f64::midpoint(outer, inner)]
                .map(|across| view.at(Point::new(x, across)))
        };
        let clear = |text: &str| {
            let half = SMALL.width(text) / 2.0;
            let fits = move |x: &f64| bounds.x0 + half + 1.0 < *x && *x < bounds.x1 - half - 1.0;
            along().filter(fits).flat_map(within).collect::<Vec<_>>()
        };
        let _ = texts.iter().any(|text| lettered.write(text, SMALL, LEVEL, clear(text)));
    }
}

/// The inner faces of a binding, from the squared end to the board's end.
fn binding(job: &Job<'_>, plan: &mut Plan, view: &View, edges: &Edges, ends: [&StationLine; 2]) -> Known<()> {
    let binding = job.model.board.binding.mm()?;
    if binding > 0.0 {
        for side in Side::BOTH {
            let [near, far] = ends.map(|line| view.at(edges.on(side).meets(line, binding)));
            plan.line(Layer::Outline, near, far, Pen::Thin);
        }
    }
    Ok(())
}

/// A slot between its walls; its line alone where the width of the cut is open.
fn draw_slot(job: &Job<'_>, plan: &mut Plan, view: &View, slot: &Slot, edges: &Edges) -> Known<()> {
    let binding = job.model.board.binding.mm()?;
    match job.model.slots.kerf.mm() {
        Ok(kerf) if kerf > 0.0 => {
            let corners = walls(slot, edges, binding, kerf).map(|corner| view.at(corner));
            plan.polygon(Layer::Slots, &corners, Pen::Hatching);
        }
        _ => {
            let [bass, treble] = view.stretch(&slot.cut);
            plan.line(Layer::Slots, bass, treble, Pen::Thin);
        }
    }
    Ok(())
}

/// The corners of a slot: bass and treble end of the wall toward the nut, then treble and bass end of the other.
///
/// A wall ends where it meets the edge itself, so that the slot's middle ends where the table has it.
fn walls(slot: &Slot, edges: &Edges, binding: f64, kerf: f64) -> [Point; 4] {
    let angle = slot.line.angle();
    let end = |side: Side, off: f64| {
        if slot.reaches[usize::from(side == Side::Treble)] {
            edges.on(side).meets(&slot.line.farther(off / libm::cos(angle)), binding)
        } else {
            slot.cut_end(side) + Vec2::new(libm::cos(angle), -libm::sin(angle)) * off
        }
    };
    let half = kerf / 2.0;
    [end(Side::Bass, -half), end(Side::Treble, -half), end(Side::Treble, half), end(Side::Bass, half)]
}

/// The markers' holes, each with a cross at its middle; what waits for a value is left out.
fn holes(job: &Job<'_>, plan: &mut Plan, view: &View) {
    let Ok(markers) = &job.design.markers else { return };
    let diameter = hole_diameter(job.model);
    let depth = job.model.markers.as_ref().and_then(|markers| markers.dot_depth.as_ref()?.mm().ok());
    let level = match (&job.model.lamp, depth) {
        (None, Some(depth)) => Level::deep(Layer::Holes, depth),
        _ => Layer::Holes.into(),
    };
    for middle in markers.iter().filter_map(|marker| marker.middle.ok()) {
        let radius = diameter.unwrap_or(0.0) / 2.0;
        if radius > 0.0 {
            plan.circle(level, view.at(middle), radius, Pen::Thin);
        }
        cross(plan, view.at(middle), radius + PAST_RIM);
    }
}

/// A thin cross at a middle.
pub(super) fn cross(plan: &mut Plan, middle: Point, reach: f64) {
    for arm in [Vec2::new(reach, 0.0), Vec2::new(0.0, reach)] {
        plan.line(Layer::Centre, middle - arm, middle + arm, Pen::Thin);
    }
}

/// The number of each slot beside it, in one row along the lower edge where there is room.
fn number_slots(job: &Job<'_>, lettered: &mut Lettered, view: &View, slots: &[Slot]) {
    let kerf = job.model.slots.kerf.mm().unwrap_or(0.0);
    let lower = Side::BOTH.into_iter().filter(|side| *side != view.top());
    let sides: Vec<Side> = lower.chain([view.top()]).collect();
    for slot in slots {
        let text = slot.fret.to_string();
        let choices = |lettering: Lettering| {
            let sides = sides.clone();
            // Half the text, the wall, some white, and what the slant takes over the text's height.
            let off = lettering.width(&text) / 2.0 + kerf / 2.0 + 0.8 + 1.6 * slot.line.slant.abs();
            sides.into_iter().flat_map(move |side| {
                [3.0, 5.0, 7.5, 10.0].into_iter().flat_map(move |inset| {
                    let across = slot.cut_end(side).y - side.toward_treble() * inset;
                    [-off, off].into_iter().map(move |off| view.at(Point::new(slot.line.at(across) + off, across)))
                })
            })
        };
        let _ =
            lettered.write(&text, PLAIN, LEVEL, choices(PLAIN)) || lettered.write(&text, SMALL, LEVEL, choices(SMALL));
    }
}

/// The number of each marker's hole beside it.
fn number_markers(job: &Job<'_>, lettered: &mut Lettered, view: &View) {
    let Ok(markers) = &job.design.markers else { return };
    let radius = hole_diameter(job.model).unwrap_or(0.0) / 2.0 + PAST_RIM;
    for marker in markers {
        let Ok(middle) = marker.middle else { continue };
        let what = if job.model.lamp.is_some() { "lamp" } else { "dot" };
        write_round(
            lettered,
            view.at(middle),
            radius,
            &[&format!("{what} {}", marker.number), &marker.number.to_string()],
        );
    }
}

/// Writes the first of some texts that finds room round a hole: above, below, or at a corner of its cross.
pub(super) fn write_round(lettered: &mut Lettered, middle: Point, radius: f64, texts: &[&str]) -> bool {
    texts.iter().any(|text| {
        let (half, up) = (SMALL.width(text) / 2.0 + 1.0, radius + 2.2);
        let offsets = [(half, 2.2), (-half, 2.2), (half, -2.2), (-half, -2.2), (0.0, up), (0.0, -up)];
        let beside = radius + half;
        let offsets = offsets.into_iter().chain([(beside, 2.2), (-beside, 2.2), (beside, -2.2), (-beside, -2.2)]);
        lettered.write(text, SMALL, LEVEL, offsets.map(|(x, y)| middle + Vec2::new(x, y)))
    })
}

/// Names both edges inside the outline, where between two slots there is room for the words.
pub(super) fn name_edges(lettered: &mut Lettered, view: &View, edges: &Edges, inset: f64, (near, far): (f64, f64)) {
    for side in Side::BOTH {
        let places = || {
            [0.0, 3.5, 7.0].into_iter().flat_map(move |more| {
                steps(near, far, 2.0).map(move |x| {
                    let across = side.toward_treble() * (edges.on(side).half(x) - inset - more);
                    view.at(Point::new(x, across))
                })
            })
        };
        let names =
            [(edge_name(side), STRONG), (edge_name(side), SMALL), (side_name(side), STRONG), (side_name(side), SMALL)];
        for (name, lettering) in names {
            if lettered.write(name, lettering, LEVEL, places()) {
                break;
            }
        }
    }
}

/// Names a line across beside it.
fn name_line(lettered: &mut Lettered, view: &View, line: &StationLine, name: &str, half: f64) {
    for lettering in [STRONG, SMALL] {
        let off = 2.4 + lettering.width(name) / 2.0 * line.slant.abs();
        let places = [0.45, -0.45, 0.3, -0.3, 0.6, -0.6].into_iter().flat_map(|share| {
            let across = share * half;
            [-off, off].map(|off| view.at(Point::new(line.at(across) + off, across)))
        });
        if lettered.write(name, lettering, ACROSS, places) {
            return;
        }
    }
}
