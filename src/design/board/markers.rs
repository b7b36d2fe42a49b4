//! Where the markers lie on the face and in the edge, and how far they stay clear of slots and edges.

use super::edges::{Edge, Edges};
use super::layout::{Layout, StationLine};
use super::slots::Slot;
use crate::geom::{Point, Segment};
use crate::model::{Inset, Known, Missing, Model};
use crate::spec::words::{MarkerKind, Side};

/// Half the distance between the two dots of a pair in the edge, if the gap between the slots leaves room.
/// Common practice, no source.
const SIDE_PAIR: f64 = 3.5;

/// A marker on the face: single on the centreline, or one of a pair.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Marker {
    /// Its number, from 1, by fret and bass before treble; a lamp has the same number.
    pub number: usize,
    /// The fret it marks.
    pub fret: usize,
    /// The side it lies on; none for a single.
    pub side: Option<Side>,
    /// Its middle; waits for widths and inset where it is one of a pair.
    pub middle: Known<Point>,
}

/// Clear wood round a marker's hole.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Clearance {
    /// Rim to the nearer slot's wall.
    pub slot: f64,
    /// Rim to the nearer edge, square to the centreline.
    pub edge: f64,
}

/// A dot in the bass edge.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SideDot {
    /// The fret it marks.
    pub fret: usize,
    /// Its middle on the edge.
    pub middle: Point,
    /// Distance along the edge from its middle to the nearer slot's line.
    pub to_slot_line: f64,
    /// Which of a pair: −1 nearer the nut, 1 farther, 0 alone.
    pub of_pair: i8,
}

/// The frets that are marked, with whether each carries a pair, in order; frets not on the board are left out.
///
/// # Errors
/// With the key that is open or cannot be used.
pub fn marked_frets(model: &Model, layout: &Layout) -> Known<Vec<(usize, bool)>> {
    let Some(markers) = &model.markers else { return Ok(Vec::new()) };
    if markers.kind.get()? == MarkerKind::None {
        return Ok(Vec::new());
    }
    let on_board = |frets: Vec<u32>, pair: bool| {
        let last = layout.last();
        frets
            .into_iter()
            .filter_map(|fret| usize::try_from(fret).ok())
            .filter(move |fret| (1..=last).contains(fret))
            .map(move |fret| (fret, pair))
    };
    let mut frets: Vec<_> =
        on_board(markers.single.get()?, false).chain(on_board(markers.double.get()?, true)).collect();
    frets.sort_unstable();
    frets.dedup_by_key(|(fret, _)| *fret);
    Ok(frets)
}

/// The markers on the face, numbered.
///
/// # Errors
/// With the key that is open or cannot be used, when not even the frets are known.
pub fn markers(model: &Model, layout: &Layout, edges: &Known<Edges>) -> Known<Vec<Marker>> {
    let mut all = Vec::new();
    for (fret, pair) in marked_frets(model, layout)? {
        let Some(gap) = layout.gap_before(fret) else { continue };
        if pair {
            for side in Side::BOTH {
                let middle = edges.and_then(|edges| pair_place(model, &gap, &edges.on(side)));
                all.push(Marker { number: all.len() + 1, fret, side: Some(side), middle });
            }
        } else {
            let middle = Ok(Point::new(gap.x, 0.0));
            all.push(Marker { number: all.len() + 1, fret, side: None, middle });
        }
    }
    Ok(all)
}

/// One of a pair: inset from the tapered edge, on the line midway between its slots; solved in x and y together.
fn pair_place(model: &Model, gap: &StationLine, edge: &Edge) -> Known<Point> {
    let markers = model.markers.as_ref().ok_or(Missing::faulty("markers.inset"))?;
    Ok(match markers.inset.get()? {
        Inset::Length(inset) => edge.place_off_centre(gap, edge.half(gap.x) - inset.to_mm(), 1.0),
        Inset::HalfWidth(share) => {
            let rest = 1.0 - share;
            edge.place_off_centre(gap, rest * edge.half(gap.x), rest)
        }
    })
}

/// Clear wood round a hole of `diameter` at a marker's place.
pub fn clearance(
    marker: &Marker,
    layout: &Layout,
    slots: &[(usize, Known<Slot>)],
    edges: &Edges,
    kerf: f64,
    diameter: f64,
) -> Known<Clearance> {
    let middle = marker.middle?;
    let nearest = nearest_slot(middle, marker.fret, layout, slots)?;
    let to_edge = |side: Side| edges.on(side).half(middle.x) - side.toward_treble() * middle.y;
    let edge = Side::BOTH.map(to_edge).into_iter().fold(f64::INFINITY, f64::min);
    Ok(Clearance { slot: nearest - kerf / 2.0 - diameter / 2.0, edge: edge - diameter / 2.0 })
}

/// Distance from a place to the nearer of the two slot lines round a gap; a partial slot counts over its own length only.
///
/// # Errors
/// With the key that a partial slot waits for.
pub fn nearest_slot(place: Point, fret: usize, layout: &Layout, slots: &[(usize, Known<Slot>)]) -> Known<f64> {
    let mut nearest = f64::INFINITY;
    for number in [fret.saturating_sub(1), fret] {
        let slot = slots.iter().find(|(of, _)| *of == number).map(|(_, slot)| *slot).transpose()?;
        let distance = match (slot, layout.fret(number)) {
            (Some(slot), _) if slot.is_partial() => slot.cut.distance_to(place),
            (_, Some(line)) => line.line().signed_distance(place).abs(),
            (_, None) => f64::INFINITY,
        };
        nearest = nearest.min(distance);
    }
    Ok(nearest)
}

/// The dots in the bass edge, one for each marked fret, two where the face carries a pair.
///
/// # Errors
/// With the key that is open or cannot be used.
pub fn side_dots(model: &Model, layout: &Layout, edges: &Edges) -> Known<Vec<SideDot>> {
    if model.markers.as_ref().is_none_or(|markers| markers.side.is_none()) {
        return Ok(Vec::new());
    }
    let edge = edges.bass;
    let mut dots = Vec::new();
    for (fret, pair) in marked_frets(model, layout)? {
        let (Some(before), Some(at)) = (layout.fret(fret - 1), layout.fret(fret)) else { continue };
        let (from, to) = (edge.meets(&before, 0.0), edge.meets(&at, 0.0));
        let between = Segment::new(from, to);
        let gap = between.length();
        let middle = edge.meets(&before.midway(&at), 0.0);
        let apart = if pair { SIDE_PAIR.min(gap / 4.0) } else { 0.0 };
        for of_pair in if pair { [-1_i8, 1].as_slice() } else { [0].as_slice() } {
            let along = edge.line().direction * (f64::from(*of_pair) * apart);
            dots.push(SideDot { fret, middle: middle + along, to_slot_line: gap / 2.0 - apart, of_pair: *of_pair });
        }
    }
    Ok(dots)
}
