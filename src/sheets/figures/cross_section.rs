//! The board cut through at one fret: flat face, finished face, slot, channels, rod, and the wood between.

use core::f64::consts::FRAC_PI_4;

use kurbo::BezPath;

use super::Job;
use super::section::{Slice, across_dimension, finish_section};
use super::view::Section;
use crate::design::board::slots::Slot;
use crate::drawing::{Drawing, Importance, Label, Layer, Lettering, Linear, Pen, Side as DrawingSide, Tip, outline};
use crate::model::{Known, Missing};
use crate::rounding;
use crate::spec::words::{Cut, Side};

/// The cross-section at the fret whose slot needs the greatest depth, seen from the saddle toward the nut.
///
/// Where several need the same, at the widest of them.
///
/// # Errors
/// With the key that the slot's depth, the thickness or the edges wait for.
pub fn cross_section(job: &Job<'_>) -> Known<Drawing> {
    let depths = job.design.depths.as_ref().map_err(|missing| *missing)?;
    let slots = job.design.slots.as_ref().map_err(|missing| *missing)?;
    let deepest = depths.deepest?;
    let needs_most: Vec<usize> = depths
        .rows
        .iter()
        .filter(|row| row.own.is_ok_and(|own| deepest - own < rounding::ON_STEP))
        .map(|row| row.fret)
        .collect();
    let length = |fret: usize| {
        slots.iter().find(|(of, _)| *of == fret).and_then(|(_, slot)| slot.ok()).map_or(0.0, |slot| slot.cut.length())
    };
    let widest = needs_most.iter().copied().max_by(|one, two| length(*one).total_cmp(&length(*two)));
    let fret = widest.ok_or(Missing::faulty("frets.count"))?;
    let what = if needs_most.len() > 1 { "the widest" } else { "the deepest slot" };
    let drawing = cross_section_at(job, fret)?;
    Ok(Drawing { title: format!("Section at fret {fret}, {what}"), ..drawing })
}

/// The same at any fret.
///
/// # Errors
/// With the key that is open, or `frets.count` when there is no such fret.
pub fn cross_section_at(job: &Job<'_>, fret: usize) -> Known<Drawing> {
    let cut = SlotCut::of(job, fret)?;
    let slice = Slice::at(job, cut.slot.line)?;
    let section = Section::new(job.hand());
    let mut drawing = Drawing::new(format!("Section at fret {fret}"), description(job, fret));
    drawing.remark = "seen from the saddle toward the nut".to_owned();
    if cut.slot.line.slant != 0.0 {
        drawing.remark.push_str("; cut along the slanted slot");
    }
    let lower = lower_end(&section, &slice, &cut);
    let channels = channels(job, &cut, &slice)?;
    wood(&mut drawing, &section, &slice, &cut, &channels);
    slice.faces(job, &mut drawing, &section);
    slice.rod(job, &mut drawing, &section);
    let left = section.left();
    depth_dimensions(job, &mut drawing, &section, &slice, &cut, lower);
    binding(job, &mut drawing, &section, &slice, &cut)?;
    slice.height_dimensions(job, &mut drawing, &section, lower);
    channel_dimensions(job, &mut drawing, &section, &slice, &cut, &channels)?;
    let ends = [slice.half(left), slice.half(section.right())];
    drawing.dimension(across_dimension(job, &section, ends[0] * sign(left), ends[1] * sign(section.right())));
    slot_label(&mut drawing, &section, &slice, &cut);
    finish_section(&mut drawing, &section, &slice);
    Ok(drawing)
}

fn sign(side: Side) -> f64 {
    side.toward_treble()
}

fn description(job: &Job<'_>, fret: usize) -> String {
    let cut = match job.model.slots.cut.get() {
        Ok(Cut::AfterRadiusing) => "cut after radiusing, bottom straight",
        Ok(Cut::FollowingRadius) => "its bottom following the radius",
        _ => "cut while the board is flat",
    };
    format!(
        "The board cut through at fret {fret}, back down: the slot, {cut}, the channels under it and the wood left."
    )
}

/// A slot with the depth that is set.
struct SlotCut {
    slot: Slot,
    /// The setting as printed, in millimetres.
    set: f64,
    /// Top the depth counts from, over the back.
    from: f64,
    follows: bool,
    /// Wood under the bottom as it is set.
    wood_under: Known<f64>,
}

impl SlotCut {
    fn of(job: &Job<'_>, fret: usize) -> Known<Self> {
        let design = job.design;
        let depths = design.depths.as_ref().map_err(|missing| *missing)?;
        let row = depths.fret(fret).ok_or(Missing::faulty("frets.count"))?;
        let slots = design.slots.as_ref().map_err(|missing| *missing)?;
        let (_, slot) = slots.iter().find(|(of, _)| *of == fret).ok_or(Missing::faulty("frets.count"))?;
        Ok(Self {
            slot: (*slot)?,
            set: job.set_up(row.setting?),
            from: job.model.board.thickness.mm()? + job.model.slots.skim.mm()?,
            follows: job.model.slots.cut.get()? == Cut::FollowingRadius,
            wood_under: job.wood_under_as_set(row),
        })
    }

    /// Height of the slot's bottom over the back at a place across.
    fn bottom(&self, slice: &Slice, across: f64) -> f64 {
        self.from - self.set - if self.follows { slice.drop(across) } else { 0.0 }
    }

    /// The end of the cut on a side, its place across.
    fn end_on(&self, side: Side) -> f64 {
        self.slot.cut_end(side).y
    }

    fn ends(&self) -> [f64; 2] {
        [self.slot.cut.start.y, self.slot.cut.end.y]
    }
}

/// A side channel in the section: its two walls across, and its depth.
struct ChannelCut {
    side: Side,
    outer: f64,
    inner: f64,
    depth: f64,
    /// From the board's edge to the outer wall, square to the edge as the fence is set; on a slanted slot the places
    /// across lie closer or farther.
    margin: f64,
}

/// The side channels the section runs through; none where the board is not lit or the map is not known.
fn channels(job: &Job<'_>, cut: &SlotCut, slice: &Slice) -> Known<Vec<ChannelCut>> {
    let (Some(lamps), Some(channels)) = (&job.design.lamps, &job.model.channels) else { return Ok(Vec::new()) };
    let Ok(map) = &lamps.map else { return Ok(Vec::new()) };
    let depth = channels.depth.mm()?;
    let line = slice.station.line();
    Ok(Side::BOTH
        .into_iter()
        .filter(|side| map.side(*side).outline().distance_to_segment(&cut.slot.crown) <= 0.0)
        .filter_map(|side| {
            let wall = map.outer_wall(side).crossing(&line)?;
            let outer = wall.y;
            let margin = job.design.edges.ok()?.on(side).line().signed_distance(wall).abs();
            // The walls lie equally far from the channel's centreline.
            let centre = map.side(side).line().crossing(&line)?.y;
            Some(ChannelCut { side, outer, inner: 2.0 * centre - outer, depth, margin })
        })
        .collect())
}

/// The wood that is cut through, hatched: from the back, over the channels, to the slot's bottom or the face.
fn wood(drawing: &mut Drawing, section: &Section, slice: &Slice, cut: &SlotCut, channels: &[ChannelCut]) {
    let [bass, treble] = [-slice.half(Side::Bass), slice.half(Side::Treble)];
    let [from, to] = cut.ends();
    let mut top: Vec<(f64, f64)> = Vec::new();
    if from - bass > 1e-6 {
        top.extend(slice.face_between(bass, from));
    }
    top.extend(slice.steps(from, to).map(|across| (across, cut.bottom(slice, across))));
    if treble - to > 1e-6 {
        top.extend(slice.face_between(to, treble));
    }
    let mut corners: Vec<kurbo::Point> = top.into_iter().map(|(across, height)| section.at(across, height)).collect();
    let mut back = vec![(treble, 0.0)];
    let mut sorted: Vec<&ChannelCut> = channels.iter().collect();
    sorted.sort_by(|one, two| two.outer.total_cmp(&one.outer));
    for channel in sorted {
        let (far, near) = (channel.outer.max(channel.inner), channel.outer.min(channel.inner));
        back.extend([(far, 0.0), (far, channel.depth), (near, channel.depth), (near, 0.0)]);
    }
    back.push((bass, 0.0));
    corners.extend(back.into_iter().map(|(across, height)| section.at(across, height)));
    let area: BezPath = outline::polygon(&corners);
    drawing.hatch(area.clone(), FRAC_PI_4, 1.8);
    drawing.path(Layer::Outline, area, Pen::Visible);
}

/// The end whose figures stand on the drawing: the right one, but on a fan the one where less of the slot is left, which
/// the table tells.
fn lower_end(section: &Section, slice: &Slice, cut: &SlotCut) -> Side {
    let drop = |side: Side| slice.drop(cut.end_on(side));
    let (left, right) = (section.left(), section.right());
    let left_is_lower = cut.slot.reaches == [true, true] && drop(left) - drop(right) > rounding::ON_STEP;
    if left_is_lower { left } else { right }
}

/// The setting from the face it counts from, and what of the slot is left at an edge.
fn depth_dimensions(
    job: &Job<'_>,
    drawing: &mut Drawing,
    section: &Section,
    slice: &Slice,
    cut: &SlotCut,
    lower: Side,
) {
    // At the left where the slot reaches that edge, else at the right.
    let reaches = |side: Side| cut.slot.reaches[usize::from(side == Side::Treble)];
    let at_left = reaches(section.left()) || !reaches(section.right());
    let (side, row) = if at_left { (section.left(), DrawingSide::Left) } else { (section.right(), DrawingSide::Right) };
    let end = cut.end_on(side);
    let top = cut.from - if cut.follows { slice.drop(end) } else { 0.0 };
    let bottom = cut.bottom(slice, end);
    let ends = [section.at(end, top), section.at(end, bottom)];
    drawing.dimension(Linear::outside(ends[0], ends[1], row, job.length(cut.set)).lettering(Lettering::STRONG));
    let end = cut.end_on(lower);
    let (face, bottom) = (slice.face(end), cut.bottom(slice, end));
    let differs = (face - bottom - cut.set).abs() > rounding::ON_STEP;
    if differs && reaches(lower) {
        let ends = [section.at(end, face), section.at(end, bottom)];
        drawing.dimension(Linear::outside(ends[0], ends[1], section.row(lower), job.length(face - bottom)));
    }
}

/// The glue lines of a binding, which the slot does not cut.
fn binding(job: &Job<'_>, drawing: &mut Drawing, section: &Section, slice: &Slice, cut: &SlotCut) -> Known<()> {
    if job.model.board.binding.mm()? <= 0.0 {
        return Ok(());
    }
    for side in Side::BOTH {
        if cut.slot.reaches[usize::from(side == Side::Treble)] {
            let end = cut.end_on(side);
            drawing.line(Layer::Outline, section.at(end, cut.bottom(slice, end)), section.at(end, 0.0), Pen::Thin);
        }
    }
    let left = section.left();
    let middle = f64::midpoint(cut.end_on(left), sign(left) * slice.half(left));
    let label = Label::new(section.at(middle, slice.thickness * 0.2), "binding").toward(DrawingSide::Bottom);
    drawing.label(label.importance(Importance::High));
    Ok(())
}

/// Wood between slot and channel, and the channel's place.
fn channel_dimensions(
    job: &Job<'_>,
    drawing: &mut Drawing,
    section: &Section,
    slice: &Slice,
    cut: &SlotCut,
    channels: &[ChannelCut],
) -> Known<()> {
    let wood = wood_left(job, cut)?;
    for channel in channels {
        let middle = f64::midpoint(channel.outer, channel.inner);
        if let (true, Some(wood)) = (channel.side == section.right(), wood) {
            let bottom = cut.bottom(slice, channel.outer);
            drawing.dimension(Linear::near(
                section.at(middle, channel.depth),
                section.at(middle, bottom),
                DrawingSide::Left,
                4.0,
                job.length(wood),
            ));
            let edge = sign(channel.side) * slice.half(channel.side);
            drawing.dimension(Linear::outside(
                section.at(edge, 0.0),
                section.at(channel.outer, 0.0),
                DrawingSide::Bottom,
                job.length(channel.margin),
            ));
        } else {
            let inside = section.at(middle, channel.depth / 2.0);
            drawing.label(Label::new(inside, "channel").toward(DrawingSide::Bottom));
        }
    }
    Ok(())
}

/// Least wood between slot and channel as it is set, so that the heights drawn add up.
fn wood_left(job: &Job<'_>, cut: &SlotCut) -> Known<Option<f64>> {
    let (Some(lamps), Some(channels)) = (&job.design.lamps, &job.model.channels) else { return Ok(None) };
    let Ok(map) = &lamps.map else { return Ok(None) };
    map.wood_to_slot(job.model, channels, &cut.slot, cut.wood_under, &job.design.face)
}

fn slot_label(drawing: &mut Drawing, section: &Section, slice: &Slice, cut: &SlotCut) {
    let [from, to] = cut.ends();
    let across = from + (to - from) * 0.62;
    let at = section.at(across, cut.bottom(slice, across));
    drawing.label(Label::new(at, "slot bottom").tip(Tip::Plain).toward(DrawingSide::Top));
}
