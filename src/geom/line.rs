//! Endless lines and segments: crossings, distances, offsets. In: points in millimetres. Out: the same.

use super::{Point, Vec2};

/// An endless line through a point, with a direction of length one.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Line {
    /// A point on the line.
    pub origin: Point,
    /// The direction, of length one.
    pub direction: Vec2,
}

/// A stretch of a line between two points.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Segment {
    /// One end.
    pub start: Point,
    /// The other end.
    pub end: Point,
}

/// Length of a vector without overflow between.
fn length(vector: Vec2) -> f64 {
    libm::hypot(vector.x, vector.y)
}

/// Twice the area of the triangle that two vectors span; positive if the second lies to the left of the first.
pub(super) fn cross(a: Vec2, b: Vec2) -> f64 {
    a.x * b.y - a.y * b.x
}

impl Line {
    /// The line through a point with a direction of any length but zero.
    pub fn new(origin: Point, direction: Vec2) -> Self {
        Self { origin, direction: direction / length(direction) }
    }

    /// The line through two different points.
    pub fn through(a: Point, b: Point) -> Self {
        Self::new(a, b - a)
    }

    /// The line x = a + m·y.
    pub fn across(a: f64, m: f64) -> Self {
        Self::new(Point::new(a, 0.0), Vec2::new(m, 1.0))
    }

    /// The line y = b + k·x.
    pub fn along(b: f64, k: f64) -> Self {
        Self::new(Point::new(0.0, b), Vec2::new(1.0, k))
    }

    /// Where two lines cross; none if they are parallel to within rounding.
    pub fn crossing(&self, other: &Self) -> Option<Point> {
        let turn = cross(self.direction, other.direction);
        if turn.abs() < 1e-12 {
            return None;
        }
        let along = cross(other.origin - self.origin, other.direction) / turn;
        Some(self.origin + self.direction * along)
    }

    /// Distance of a point, positive to the left of the direction.
    pub fn signed_distance(&self, point: Point) -> f64 {
        cross(self.direction, point - self.origin)
    }

    /// The parallel line this far to the left of the direction (negative: to the right).
    pub fn offset(&self, distance: f64) -> Self {
        let left = Vec2::new(-self.direction.y, self.direction.x);
        Self { origin: self.origin + left * distance, direction: self.direction }
    }
}

impl Segment {
    /// The stretch between two points.
    pub const fn new(start: Point, end: Point) -> Self {
        Self { start, end }
    }

    /// Its length.
    pub fn length(&self) -> f64 {
        length(self.end - self.start)
    }

    /// Its middle.
    pub fn middle(&self) -> Point {
        self.start.midpoint(self.end)
    }

    /// Least distance from a point to the stretch.
    pub fn distance_to(&self, point: Point) -> f64 {
        let span = self.end - self.start;
        let square = span.hypot2();
        if square == 0.0 {
            return length(point - self.start);
        }
        let share = ((point - self.start).dot(span) / square).clamp(0.0, 1.0);
        length(point - (self.start + span * share))
    }

    /// Least distance between two stretches; zero where they cross or touch.
    pub fn distance_between(&self, other: &Self) -> f64 {
        if self.crosses(other) {
            return 0.0;
        }
        [
            self.distance_to(other.start),
            self.distance_to(other.end),
            other.distance_to(self.start),
            other.distance_to(self.end),
        ]
        .into_iter()
        .fold(f64::INFINITY, f64::min)
    }

    /// Whether two stretches have a point in common, ends included; parallel ones do not count.
    pub fn crosses(&self, other: &Self) -> bool {
        let (a, b) = (self.end - self.start, other.end - other.start);
        let turn = cross(a, b);
        if turn == 0.0 {
            return false;
        }
        let gap = other.start - self.start;
        let (along_self, along_other) = (cross(gap, b) / turn, cross(gap, a) / turn);
        (0.0..=1.0).contains(&along_self) && (0.0..=1.0).contains(&along_other)
    }
}

#[cfg(test)]
mod tests {
    use approx::assert_relative_eq;

    use super::*;

    #[test]
    fn a_crossing_lies_on_both_lines() {
        let (across, edge) = (Line::across(38.0187, 0.148_967), Line::along(24.25, 0.016));
        let point = across.crossing(&edge).unwrap();
        assert_relative_eq!(across.signed_distance(point), 0.0, epsilon = 1e-12);
        assert_relative_eq!(edge.signed_distance(point), 0.0, epsilon = 1e-12);
        assert!(Line::across(1.0, 0.2).crossing(&Line::across(2.0, 0.2)).is_none());
    }

    #[test]
    fn distances_are_to_the_stretch_not_to_the_endless_line() {
        let stretch = Segment::new(Point::new(0.0, 0.0), Point::new(0.0, 10.0));
        assert_relative_eq!(stretch.distance_to(Point::new(3.0, 14.0)), 5.0);
        assert_relative_eq!(stretch.distance_to(Point::new(3.0, 4.0)), 3.0);
        let other = Segment::new(Point::new(3.0, 14.0), Point::new(9.0, 14.0));
        assert_relative_eq!(stretch.distance_between(&other), 5.0);
        let crossing = Segment::new(Point::new(-1.0, 5.0), Point::new(1.0, 5.0));
        assert_relative_eq!(stretch.distance_between(&crossing), 0.0);
    }

    #[test]
    fn an_offset_keeps_its_distance() {
        let line = Line::along(3.0, 0.5);
        assert_relative_eq!(line.signed_distance(line.offset(4.5).origin), 4.5, epsilon = 1e-12);
    }
}
