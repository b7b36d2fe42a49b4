//! The board's end on at one place: what the radius leaves, and the edge heights that say when to stop.

use core::f64::consts::FRAC_PI_4;

use super::Job;
use super::section::{Slice, across_dimension, finish_section};
use super::view::Section;
use crate::drawing::{Drawing, Layer, Linear, Side as DrawingSide, outline};
use crate::model::{Known, Missing};
use crate::spec::words::Side;

/// The section at a fret (0: the zero line), dimensioned for radiusing, seen from the saddle toward the nut.
///
/// # Errors
/// With the key that the radius, the thickness or the edges wait for; `frets.count` when there is no such fret.
pub fn radius_section(job: &Job<'_>, fret: usize) -> Known<Drawing> {
    let layout = job.design.layout.as_ref().map_err(|missing| *missing)?;
    let slice = Slice::at(job, layout.fret(fret).ok_or(Missing::faulty("frets.count"))?)?;
    let section = Section::new(job.hand());
    let place = if fret == 0 { "the nut".to_owned() } else { format!("fret {fret}") };
    let description =
        format!("The board cut through at {place}: the finished face and the height of its edges over the back.");
    let mut drawing = Drawing::new(format!("Finished face at {place}"), description);
    drawing.remark = "seen from the saddle toward the nut".to_owned();
    let (bass, treble) = (-slice.half(Side::Bass), slice.half(Side::Treble));
    let mut corners = vec![section.at(bass, 0.0)];
    corners.extend(slice.face_between(bass, treble).into_iter().map(|(across, height)| section.at(across, height)));
    corners.push(section.at(treble, 0.0));
    let area = outline::polygon(&corners);
    drawing.hatch(area.clone(), FRAC_PI_4, 2.2);
    drawing.path(Layer::Outline, area, crate::drawing::Pen::Visible);
    slice.faces(job, &mut drawing, &section);
    slice.radius(job, &mut drawing, &section);
    slice.height_dimensions(job, &mut drawing, &section);
    let left = section.left();
    let across = left.toward_treble() * slice.half(left);
    drawing.dimension(Linear::outside(
        section.at(across, 0.0),
        section.at(across, slice.face(across)),
        DrawingSide::Left,
        job.length(slice.face(across)),
    ));
    drawing.dimension(across_dimension(job, &section, bass, treble));
    finish_section(&mut drawing, &section, &slice);
    Ok(drawing)
}
