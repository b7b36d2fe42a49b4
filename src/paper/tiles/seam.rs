//! Where the seams lie: as few as the room allows, at whole steps of the ruler, away from what should not be cut.

use kurbo::Rect;

use crate::drawing::outline::straight_pieces;
use crate::drawing::plan::Figure;
use crate::drawing::{Item, Layer, Plan};

/// How far neighbouring tiles overlap, millimetres: wide enough to glue, and for a cross on either side of the seam.
pub(super) const OVERLAP: f64 = 16.0;
/// White beside a seam that is as good as more, millimetres.
const ENOUGH: f64 = 4.0;
/// How closely a curve is followed, millimetres.
const FLAT: f64 = 0.05;

/// The stretches along x, or along y, that a seam had better not run through: texts, circles, lines that run with it
/// rather than across it, and short ones.
pub(super) fn in_the_way(plan: &Plan, along_y: bool) -> Vec<(f64, f64)> {
    let turned = |bounds: Rect| if along_y { (bounds.y0, bounds.y1) } else { (bounds.x0, bounds.x1) };
    let mut stretches = Vec::new();
    for mark in plan.marks.iter().filter(|mark| mark.level.layer != Layer::Hatching) {
        match (&mark.figure, mark.item()) {
            (Figure::Contour(_), Item::Path { outline, .. }) => {
                let pieces = straight_pieces(&outline, FLAT);
                let bounds = pieces.into_iter().map(|piece| Rect::from_points(piece.p0, piece.p1));
                let extent = |bounds: Rect| {
                    if along_y { (bounds.height(), bounds.width()) } else { (bounds.width(), bounds.height()) }
                };
                let counts = |bounds: &Rect| {
                    let (across, with) = extent(*bounds);
                    across < with || across < OVERLAP
                };
                stretches.extend(bounds.filter(counts).map(turned));
            }
            (figure, _) => stretches.extend(figure.bounds().map(turned)),
        }
    }
    stretches
}

/// Where a stretch is cut so that no tile is longer than the room: as few times as can be, at whole steps from an
/// origin, each within its reach where it lies farthest from what is in the way.
pub(super) fn seams(
    (low, high): (f64, f64),
    room: f64,
    (origin, step): (f64, f64),
    in_the_way: &[(f64, f64)],
) -> Vec<f64> {
    let step_before = |x: f64| ((x - origin) / step + ROUNDING).floor();
    let mut latest = Vec::new();
    let mut from = low;
    // A page has room for several steps; a room that has not would never end.
    while high - from > room && room > OVERLAP + 2.0 * step {
        let seam = origin + step_before(from + room - OVERLAP / 2.0) * step;
        latest.push(seam);
        from = seam - OVERLAP / 2.0;
    }
    // No seam so early that the tiles after it would not reach the end.
    let mut earliest = vec![0.0; latest.len()];
    let mut to = high;
    for seam in earliest.iter_mut().rev() {
        *seam = to - room + OVERLAP / 2.0;
        to = *seam + OVERLAP / 2.0;
    }
    let mut seams: Vec<f64> = Vec::with_capacity(latest.len());
    for earliest in earliest {
        let from = seams.last().map_or(low, |seam| seam - OVERLAP / 2.0);
        let last = step_before(from + room - OVERLAP / 2.0);
        let first = ((earliest - origin) / step - ROUNDING).ceil().min(last);
        let reach = (0..1000).map(|back| last - f64::from(back)).take_while(|index| *index >= first);
        let places = reach.map(|index| origin + index * step);
        // Of equal ones the latest: it leaves the next tile shortest.
        let best = places.map(|at| (at, clearance(at, in_the_way))).reduce(|best, next| {
            let less_cut = next.1.0.cmp(&best.1.0).then(best.1.1.total_cmp(&next.1.1));
            if less_cut.is_lt() { next } else { best }
        });
        seams.extend(best.map(|(at, _)| at));
    }
    seams
}

/// What sums of millimetres may be off by, in steps.
const ROUNDING: f64 = 1e-9;

/// How many of what is in the way some seams cut.
pub(super) fn cut(seams: &[f64], in_the_way: &[(f64, f64)]) -> usize {
    seams.iter().map(|seam| clearance(*seam, in_the_way).0).sum()
}

/// How much a seam cuts, and how far it is from the rest, as far as that matters.
fn clearance(at: f64, in_the_way: &[(f64, f64)]) -> (usize, f64) {
    let distances = in_the_way.iter().map(|(low, high)| (low - at).max(at - high).max(0.0));
    let cut = distances.clone().filter(|distance| *distance <= 0.0).count();
    (cut, distances.filter(|distance| *distance > 0.0).fold(ENOUGH, f64::min))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_seam_moves_off_a_line_and_adds_no_tile() {
        let free = seams((0.0, 330.0), 178.0, (0.0, 10.0), &[]);
        assert_eq!(free, vec![170.0]);
        // A line at 190 and a text from 168 to 184: the next step that is clear of both lies at 160.
        assert_eq!(seams((0.0, 330.0), 200.0, (0.0, 10.0), &[(189.5, 190.5), (168.0, 184.0)]), vec![160.0]);
        // No step in reach is free: what is cut least.
        let reach = seams((0.0, 330.0), 178.0, (0.0, 10.0), &[(165.0, 175.0), (155.0, 172.0), (158.0, 162.0)]);
        assert_eq!(reach.len(), 1);
    }

    #[test]
    fn seams_lie_at_whole_steps_from_the_origin_and_reach_the_end() {
        for length in [200.0, 333.0, 501.0, 750.0] {
            let (low, high, room) = (-15.86, -15.86 + length, 180.0);
            let slots: Vec<(f64, f64)> = (0..40).map(|index| 13.7 * f64::from(index)).map(|x| (x, x + 0.5)).collect();
            let own = seams((low, high), room, (-15.86, 10.0), &slots);
            assert_eq!(own.len(), seams((low, high), room, (-15.86, 10.0), &[]).len(), "{length}");
            let from = std::iter::once(low).chain(own.iter().map(|seam| seam - OVERLAP / 2.0));
            let to = own.iter().map(|seam| seam + OVERLAP / 2.0).chain([high]);
            assert!(from.zip(to).all(|(from, to)| to - from <= room + 1e-9), "{length}: {own:?}");
            for seam in own {
                assert!((((seam + 15.86) / 10.0).round() * 10.0 - seam - 15.86).abs() < 1e-9);
            }
        }
    }
}
