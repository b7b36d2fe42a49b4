//! From the design's frame to a drawing's: which side is at the top of a view, which at the left of a section.

use kurbo::BezPath;

use crate::design::board::layout::StationLine;
use crate::drawing::contour::Corner;
use crate::drawing::{self, Contour, outline};
use crate::geom::{Convex, Point, Segment};
use crate::spec::words::{Hand, Side};

/// A view of the board from above one of its faces, the nut at the left.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(in crate::sheets) struct View {
    /// What turns a place toward the treble side into the drawing's y.
    upward: f64,
}

impl View {
    /// The face, seen from above.
    pub(in crate::sheets) fn front(hand: Hand) -> Self {
        Self { upward: hand.y(1.0) }
    }

    /// The back: the board is turned over about its long axis, so the nut stays at the left and y changes sign.
    pub(in crate::sheets) fn back(hand: Hand) -> Self {
        Self { upward: -hand.y(1.0) }
    }

    /// A place of the design in the drawing.
    pub(in crate::sheets) fn at(&self, place: Point) -> Point {
        Point::new(place.x, self.upward * place.y)
    }

    /// The side of the drawing a side of the board lies on.
    pub(in crate::sheets) fn side(&self, side: Side) -> drawing::Side {
        if side.toward_treble() * self.upward > 0.0 { drawing::Side::Top } else { drawing::Side::Bottom }
    }

    /// The side of the board that lies at the top of the drawing.
    pub(in crate::sheets) fn top(&self) -> Side {
        if self.upward > 0.0 { Side::Treble } else { Side::Bass }
    }

    /// Where the bass edge lies on the page, in the word that all sheets and patterns say it with.
    pub(in crate::sheets) fn bass_edge_at(&self) -> &'static str {
        if self.top() == Side::Bass { "TOP" } else { "BOTTOM" }
    }

    /// A polygon of the design in the drawing.
    pub(in crate::sheets) fn polygon(&self, area: &Convex) -> Vec<Point> {
        area.corners().iter().map(|corner| self.at(*corner)).collect()
    }

    /// The same as a path.
    pub(in crate::sheets) fn area(&self, area: &Convex) -> BezPath {
        outline::polygon(&self.polygon(area))
    }

    /// A contour of the design in the drawing: where the view mirrors, an arc turns the other way.
    pub(in crate::sheets) fn contour(&self, contour: &Contour) -> Contour {
        let corner = |corner: &Corner| Corner { at: self.at(corner.at), bulge: self.upward * corner.bulge };
        Contour { corners: contour.corners.iter().map(corner).collect(), closed: contour.closed }
    }

    /// A stretch of the design in the drawing.
    pub(in crate::sheets) fn stretch(&self, stretch: &Segment) -> [Point; 2] {
        [self.at(stretch.start), self.at(stretch.end)]
    }
}

/// A section square to the centreline, seen from the saddle toward the nut: the bass side is at the left of a
/// right-handed board, at the right of a left-handed one.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(in crate::sheets) struct Section {
    rightward: f64,
}

impl Section {
    pub(in crate::sheets) fn new(hand: Hand) -> Self {
        Self { rightward: hand.y(1.0) }
    }

    /// A place across (toward the treble side) and a height over the back, in the drawing.
    pub(in crate::sheets) fn at(&self, across: f64, height: f64) -> Point {
        Point::new(self.rightward * across, height)
    }

    /// The board's side at the right of the drawing.
    pub(in crate::sheets) fn right(&self) -> Side {
        if self.rightward > 0.0 { Side::Treble } else { Side::Bass }
    }

    /// The margin of the drawing beside a side of the board.
    pub(in crate::sheets) fn row(&self, side: Side) -> drawing::Side {
        if side == self.right() { drawing::Side::Right } else { drawing::Side::Left }
    }

    /// The board's side at the left of the drawing.
    pub(in crate::sheets) fn left(&self) -> Side {
        if self.rightward > 0.0 { Side::Bass } else { Side::Treble }
    }
}

/// Name of a side's edge on a drawing.
pub(in crate::sheets) const fn edge_name(side: Side) -> &'static str {
    match side {
        Side::Bass => "BASS EDGE",
        Side::Treble => "TREBLE EDGE",
    }
}

/// Name of a side at the end of a section.
pub(in crate::sheets) const fn side_name(side: Side) -> &'static str {
    match side {
        Side::Bass => "BASS",
        Side::Treble => "TREBLE",
    }
}

/// Where a line across meets a place across.
pub(in crate::sheets) fn on_line(line: &StationLine, across: f64) -> Point {
    Point::new(line.at(across), across)
}

/// The parts of a stretch that lie outside all of some convex areas.
pub(in crate::sheets) fn outside_of(stretch: &Segment, areas: &[Convex]) -> Vec<Segment> {
    let mut covered: Vec<(f64, f64)> = areas.iter().filter_map(|area| covered_share(stretch, area)).collect();
    covered.sort_by(|one, two| one.0.total_cmp(&two.0));
    let mut parts = Vec::new();
    let mut from = 0.0_f64;
    for (start, end) in covered.into_iter().chain([(1.0, 1.0)]) {
        if (start - from) * stretch.length() > 1e-6 {
            let at = |share: f64| stretch.start.lerp(stretch.end, share);
            parts.push(Segment::new(at(from), at(start)));
        }
        from = from.max(end);
    }
    parts
}

/// The share of a stretch inside a convex area, if any: cut by each edge's half plane.
fn covered_share(stretch: &Segment, area: &Convex) -> Option<(f64, f64)> {
    if area.is_empty() {
        return None;
    }
    let (mut from, mut to) = (0.0_f64, 1.0_f64);
    for edge in area.edges().filter(|edge| edge.length() > 0.0) {
        let way = edge.end - edge.start;
        let here = way.cross(stretch.start - edge.start);
        let there = way.cross(stretch.end - edge.start);
        if here <= 0.0 && there <= 0.0 {
            return None;
        }
        if here < 0.0 {
            from = from.max(here / (here - there));
        } else if there < 0.0 {
            to = to.min(here / (here - there));
        }
    }
    (from < to).then_some((from, to))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_back_of_a_right_handed_board_has_its_bass_edge_at_the_top() {
        assert_eq!(View::back(Hand::Right).side(Side::Bass), drawing::Side::Top);
        assert_eq!(View::back(Hand::Left).side(Side::Bass), drawing::Side::Bottom);
        assert_eq!(View::front(Hand::Right).side(Side::Bass), drawing::Side::Bottom);
        assert_eq!(View::front(Hand::Left).side(Side::Bass), drawing::Side::Top);
    }

    #[test]
    fn turning_over_keeps_the_nut_at_the_left() {
        let place = Point::new(120.0, 13.0);
        let (front, back) = (View::front(Hand::Left).at(place), View::back(Hand::Left).at(place));
        assert_eq!((front.x, front.y), (120.0, -13.0));
        assert_eq!((back.x, back.y), (120.0, 13.0));
    }

    #[test]
    fn only_what_lies_outside_is_kept() {
        let stretch = Segment::new(Point::new(0.0, 0.0), Point::new(10.0, 0.0));
        let areas = [Convex::rectangle(2.0, -1.0, 4.0, 1.0), Convex::rectangle(3.0, -1.0, 5.0, 1.0)];
        let parts = outside_of(&stretch, &areas);
        let ends: Vec<(f64, f64)> = parts.iter().map(|part| (part.start.x, part.end.x)).collect();
        assert_eq!(ends.len(), 2);
        assert!((ends[0].1 - 2.0).abs() < 1e-12 && (ends[1].0 - 5.0).abs() < 1e-12);
    }
}
