//! The blank end on at one place: what the radius leaves, and the edge heights that say when to stop.

use core::f64::consts::FRAC_PI_4;

use super::super::taper::plane_to;
use super::Job;
use super::section::{Slice, across_dimension, finish_section};
use super::view::Section;
use crate::design::board::layout::StationLine;
use crate::drawing::{Drawing, Label, Layer, Lettering, Linear, Pen, Side as DrawingSide, Tip, outline};
use crate::model::{Known, Missing};
use crate::spec::words::Side;

/// The section at a fret (0: the zero line), square to the centreline, dimensioned for radiusing, seen from the saddle
/// toward the nut.
///
/// The blank is radiused before it is tapered, so it is the blank that is drawn, with the taper lines on it; the board
/// itself where the blank's width is open.
///
/// # Errors
/// With the key that the radius, the thickness or the edges wait for; `frets.count` when there is no such fret.
pub fn radius_section(job: &Job<'_>, fret: usize) -> Known<Drawing> {
    let layout = job.design.layout.as_ref().map_err(|missing| *missing)?;
    let line = layout.fret(fret).ok_or(Missing::faulty("frets.count"))?;
    let station = StationLine { x: line.x, slant: 0.0 };
    let board = Slice::at(job, station)?;
    let slice = match job.design.blank_width {
        Ok(width) => board.through_blank(width),
        Err(_) => board,
    };
    let section = Section::new(job.hand());
    let place = if fret == 0 { "the nut".to_owned() } else { format!("fret {fret}") };
    let description = format!(
        "The blank cut through at {place}: the radiused face, its height over the back at the edges and at the taper lines."
    );
    let mut drawing = Drawing::new(format!("Radiused blank at {place}"), description);
    drawing.remark = "seen from the saddle toward the nut".to_owned();
    let (bass, treble) = (-slice.half(Side::Bass), slice.half(Side::Treble));
    let mut corners = vec![section.at(bass, 0.0)];
    corners.extend(slice.face_between(bass, treble).into_iter().map(|(across, height)| section.at(across, height)));
    corners.push(section.at(treble, 0.0));
    let area = outline::polygon(&corners);
    drawing.hatch(area.clone(), FRAC_PI_4, 2.2);
    drawing.path(Layer::Outline, area, Pen::Visible);
    slice.faces(job, &mut drawing, &section);
    slice.radius(job, &mut drawing, &section);
    slice.height_dimensions(job, &mut drawing, &section, section.right());
    stop_height(job, &mut drawing, &section, &slice);
    taper_lines(job, &mut drawing, &section, &slice, line.x)?;
    drawing.dimension(across_dimension(job, &section, bass, treble));
    finish_section(&mut drawing, &section, &slice);
    Ok(drawing)
}

/// The height that says when to stop, at the other edge too: both are alike.
fn stop_height(job: &Job<'_>, drawing: &mut Drawing, section: &Section, slice: &Slice) {
    let side = section.left();
    let across = side.toward_treble() * slice.half(side);
    let (foot, edge) = (section.at(across, 0.0), slice.face(across));
    let height = Linear::outside(foot, section.at(across, edge), DrawingSide::Left, job.length(edge));
    drawing.dimension(height.lettering(Lettering::STRONG));
}

/// The lines to which the board is tapered later, with the height of the face there, which is no height to stop at, and the
/// distance from the centreline.
fn taper_lines(job: &Job<'_>, drawing: &mut Drawing, section: &Section, slice: &Slice, place: f64) -> Known<()> {
    for side in Side::BOTH {
        let across = side.toward_treble() * plane_to(job, side, place)?;
        if across.abs() >= slice.half(side) {
            continue;
        }
        let (foot, top) = (section.at(across, 0.0), section.at(across, slice.face(across)));
        drawing.line(Layer::Neighbours, foot, top, Pen::Hidden);
        if side == section.left() {
            let text = format!("taper line, {} high", job.length(slice.face(across)));
            drawing.label(Label::new(top, text).tip(Tip::Dot).toward(DrawingSide::Top));
        } else {
            let text = job.length(across.abs());
            drawing.dimension(Linear::outside(section.at(0.0, 0.0), foot, DrawingSide::Bottom, text));
        }
    }
    Ok(())
}
