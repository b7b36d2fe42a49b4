//! Convex polygons: clipping, area, what two share.

use super::line::cross;
use super::{Line, Point, Segment};

/// A convex polygon, its corners anticlockwise; fewer than three corners: nothing.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Convex {
    corners: Vec<Point>,
}

impl Convex {
    /// Takes the corners of a convex polygon in either sense.
    pub fn new(mut corners: Vec<Point>) -> Self {
        if double_area(&corners) < 0.0 {
            corners.reverse();
        }
        Self { corners }
    }

    /// An upright rectangle between two corners.
    pub fn rectangle(x0: f64, y0: f64, x1: f64, y1: f64) -> Self {
        Self::new(vec![Point::new(x0, y0), Point::new(x1, y0), Point::new(x1, y1), Point::new(x0, y1)])
    }

    /// The corners, anticlockwise.
    pub fn corners(&self) -> &[Point] {
        &self.corners
    }

    /// The edges, anticlockwise.
    pub fn edges(&self) -> impl Iterator<Item = Segment> + '_ {
        let count = self.corners.len();
        (0..count).map(move |index| Segment::new(self.corners[index], self.corners[(index + 1) % count]))
    }

    /// The area.
    pub fn area(&self) -> f64 {
        double_area(&self.corners) / 2.0
    }

    /// Whether it has no area.
    pub fn is_empty(&self) -> bool {
        self.corners.len() < 3
    }

    /// What lies to the left of a line.
    #[must_use]
    pub fn left_of(&self, line: &Line) -> Self {
        let mut corners = Vec::with_capacity(self.corners.len() + 1);
        for edge in self.edges() {
            let (here, there) = (line.signed_distance(edge.start), line.signed_distance(edge.end));
            if here >= 0.0 {
                corners.push(edge.start);
            }
            if (here > 0.0 && there < 0.0) || (here < 0.0 && there > 0.0) {
                corners.push(edge.start.lerp(edge.end, here / (here - there)));
            }
        }
        if corners.len() < 3 { Self::default() } else { Self { corners } }
    }

    /// What two polygons share.
    #[must_use]
    pub fn shared_with(&self, other: &Self) -> Self {
        other
            .edges()
            .filter(|edge| edge.length() > 0.0)
            .fold(self.clone(), |rest, edge| rest.left_of(&Line::through(edge.start, edge.end)))
    }

    /// Whether a point lies inside or on the border.
    pub fn contains(&self, point: Point) -> bool {
        !self.is_empty() && self.edges().all(|edge| cross(edge.end - edge.start, point - edge.start) >= 0.0)
    }

    /// Least distance from a point outside to the polygon; 0 inside.
    pub fn distance_to(&self, point: Point) -> f64 {
        if self.contains(point) {
            return 0.0;
        }
        self.edges().map(|edge| edge.distance_to(point)).fold(f64::INFINITY, f64::min)
    }

    /// Least distance from a stretch to the polygon; 0 where they meet.
    pub fn distance_to_segment(&self, segment: &Segment) -> f64 {
        if self.contains(segment.start) || self.contains(segment.end) {
            return 0.0;
        }
        self.edges().map(|edge| edge.distance_between(segment)).fold(f64::INFINITY, f64::min)
    }

    /// Least distance between two polygons; 0 where they share a point.
    pub fn distance_between(&self, other: &Self) -> f64 {
        let holds_other = other.corners.first().is_some_and(|corner| self.contains(*corner));
        if holds_other {
            return 0.0;
        }
        self.edges().map(|edge| other.distance_to_segment(&edge)).fold(f64::INFINITY, f64::min)
    }
}

fn double_area(corners: &[Point]) -> f64 {
    let next = corners.iter().cycle().skip(1);
    corners.iter().zip(next).map(|(a, b)| cross(a.to_vec2(), b.to_vec2())).sum()
}

#[cfg(test)]
mod tests {
    use approx::assert_relative_eq;

    use super::*;

    #[test]
    fn two_rectangles_share_their_overlap() {
        let (a, b) = (Convex::rectangle(0.0, 0.0, 10.0, 4.0), Convex::rectangle(8.0, -1.0, 20.0, 3.0));
        assert_relative_eq!(a.shared_with(&b).area(), 6.0);
        assert_relative_eq!(b.shared_with(&a).area(), 6.0);
        assert!(a.shared_with(&Convex::rectangle(11.0, 0.0, 12.0, 1.0)).area().abs() < 1e-12);
    }

    #[test]
    fn polygons_apart_are_as_far_as_their_nearest_points() {
        let square = Convex::rectangle(0.0, 0.0, 10.0, 10.0);
        assert_relative_eq!(square.distance_between(&Convex::rectangle(13.0, 14.0, 20.0, 20.0)), 5.0);
        assert_relative_eq!(square.distance_between(&Convex::rectangle(4.0, -9.0, 6.0, -2.0)), 2.0);
        assert_relative_eq!(square.distance_between(&Convex::rectangle(2.0, 2.0, 3.0, 3.0)), 0.0);
        assert_relative_eq!(Convex::rectangle(2.0, 2.0, 3.0, 3.0).distance_between(&square), 0.0);
        assert_relative_eq!(square.distance_between(&Convex::rectangle(-5.0, 4.0, 15.0, 5.0)), 0.0);
    }

    #[test]
    fn corners_may_come_in_either_sense() {
        let clockwise = Convex::new(vec![Point::new(0.0, 0.0), Point::new(0.0, 2.0), Point::new(3.0, 0.0)]);
        assert_relative_eq!(clockwise.area(), 3.0);
        assert!(clockwise.contains(Point::new(0.5, 0.5)));
        assert!(!clockwise.contains(Point::new(2.0, 2.0)));
    }
}
