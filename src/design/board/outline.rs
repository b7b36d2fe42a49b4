//! The finished board's outline, its squared end (the datum of the bench) and the blank it is cut from.

use super::edges::{Edges, end_line};
use super::layout::{Layout, StationLine};
use crate::geom::{Convex, Point};
use crate::model::{Known, Model};
use crate::spec::words::{NutAt, Side};

/// Wood added to twice the wider half width when the blank's width is not written: 3 mm a side to plane.
/// Common practice, no source.
pub const BLANK_ALLOWANCE: f64 = 6.0;

/// Wood kept past the board's far corner when the blank's length is judged. Common practice, no source.
pub const TRIM_ALLOWANCE: f64 = 10.0;

/// How far the squared end of a fan stands clear of the slanted zero line at the blank's edge.
const CLEAR_OF_ZERO_LINE: f64 = 5.0;

/// The board from its squared end to its far end.
#[derive(Debug, Clone, PartialEq)]
pub struct Outline {
    /// The squared end: every bench figure along the board counts from it.
    pub squared_end: f64,
    /// The far end.
    pub end: StationLine,
    /// The corners of the far end, bass and treble.
    pub end_corners: [Point; 2],
    /// The finished board's outline.
    pub area: Convex,
}

impl Outline {
    /// The board's outline.
    ///
    /// # Errors
    /// With the key that is open or cannot be used.
    pub fn of(model: &Model, layout: &Layout, edges: &Edges) -> Known<Self> {
        let squared_end = squared_end(model, layout, Some(edges))?;
        let end = end_line(model, layout)?;
        let square = StationLine { x: squared_end, slant: 0.0 };
        let corner = |station: &StationLine, side: Side| edges.on(side).meets(station, 0.0);
        let end_corners = Side::BOTH.map(|side| corner(&end, side));
        let [near_bass, near_treble] = Side::BOTH.map(|side| corner(&square, side));
        let area = Convex::new(vec![near_bass, end_corners[0], end_corners[1], near_treble]);
        Ok(Self { squared_end, end, end_corners, area })
    }

    /// The corner of the far end that lies farther from the nut.
    pub fn far_corner(&self) -> f64 {
        self.end_corners[0].x.max(self.end_corners[1].x)
    }
}

/// Where the squared end lies, along the centreline from the zero line: 0 or less.
///
/// On a fan whose board ends at the zero line it needs the blank's width, and so the edges.
///
/// # Errors
/// With the key that is open or cannot be used.
pub fn squared_end(model: &Model, layout: &Layout, edges: Option<&Edges>) -> Known<f64> {
    match (model.frets.nut_at.get()?, &model.frets.behind_nut) {
        (NutAt::Slot | NutAt::ZeroFret, Some(behind)) => Ok(-behind.mm()?),
        (NutAt::Slot | NutAt::ZeroFret, None) => Err(crate::model::Missing::faulty("frets.behind_nut")),
        (NutAt::BoardEnd, _) if !layout.fan => Ok(0.0),
        (NutAt::BoardEnd, _) => {
            let width = blank_width(model, layout, edges)?;
            Ok(-(layout.zero_line().slant.abs() * width / 2.0 + CLEAR_OF_ZERO_LINE))
        }
    }
}

/// Width of the blank: as written, or twice the wider half of the widest board and an allowance.
///
/// # Errors
/// With the key that is open or cannot be used.
pub fn blank_width(model: &Model, layout: &Layout, edges: Option<&Edges>) -> Known<f64> {
    if let Some(width) = &model.board.blank_width {
        return width.mm();
    }
    let computed;
    let edges = match edges {
        Some(edges) => edges,
        None => {
            computed = Edges::of(model, layout)?;
            &computed
        }
    };
    Ok(2.0 * widest_half(model, layout, edges)? + BLANK_ALLOWANCE)
}

/// The wider half width where the board is widest: at its near end, at its far end on the centreline, or at the
/// far end's corners.
///
/// The near end is the squared end; on a fan whose board ends at the zero line, whose squared end itself waits for
/// this width, it is the zero line.
///
/// # Errors
/// With the key that is open or cannot be used.
pub fn widest_half(model: &Model, layout: &Layout, edges: &Edges) -> Known<f64> {
    let end = end_line(model, layout)?;
    let near = match (model.frets.nut_at.get()?, &model.frets.behind_nut) {
        (NutAt::Slot | NutAt::ZeroFret, Some(behind)) => -behind.mm()?,
        _ => 0.0,
    };
    let corners = Side::BOTH.map(|side| edges.on(side).meets(&end, 0.0).x);
    let places = [near, end.x, corners[0], corners[1]];
    Ok(places.into_iter().map(|place| edges.wider_half(place)).fold(f64::NEG_INFINITY, f64::max))
}

/// Length of blank the board needs, squared end to far corner.
///
/// Where the end follows the last fret of a fan, the far corner is the blank's.
///
/// # Errors
/// With the key that is open or cannot be used.
pub fn needed_length(model: &Model, layout: &Layout, outline: &Outline, edges: &Edges) -> Known<f64> {
    let slant = outline.end.slant.abs();
    let corner = if slant > 0.0 { slant * blank_width(model, layout, Some(edges))? / 2.0 } else { 0.0 };
    Ok(outline.end.x + corner - outline.squared_end)
}
