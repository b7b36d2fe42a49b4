//! A strip: all that lies within half a width of a stretch, cut off square at its ends. A routed channel.

use super::{Convex, Line, Point, Segment, Vec2};

/// A stretch with a width.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Strip {
    /// The centreline.
    pub centre: Segment,
    /// The full width.
    pub width: f64,
}

impl Strip {
    /// Makes a strip; the centreline must have a length.
    pub const fn new(centre: Segment, width: f64) -> Self {
        Self { centre, width }
    }

    /// The direction of the centreline, of length one.
    pub fn direction(&self) -> Vec2 {
        Line::through(self.centre.start, self.centre.end).direction
    }

    /// The centreline as an endless line.
    pub fn line(&self) -> Line {
        Line::through(self.centre.start, self.centre.end)
    }

    /// The two long walls, left of the direction first.
    pub fn walls(&self) -> [Segment; 2] {
        let direction = self.direction();
        let left = Vec2::new(-direction.y, direction.x) * (self.width / 2.0);
        [left, -left].map(|off| Segment::new(self.centre.start + off, self.centre.end + off))
    }

    /// The area it covers.
    pub fn area(&self) -> f64 {
        self.centre.length() * self.width
    }

    /// Its outline, ends square.
    pub fn outline(&self) -> Convex {
        let [left, right] = self.walls();
        Convex::new(vec![left.start, right.start, right.end, left.end])
    }

    /// Least distance from a point to the outline; 0 inside.
    pub fn distance_to(&self, point: Point) -> f64 {
        self.outline().distance_to(point)
    }
}

#[cfg(test)]
mod tests {
    use approx::assert_relative_eq;

    use super::*;

    #[test]
    fn a_strip_covers_length_times_width() {
        let strip = Strip::new(Segment::new(Point::new(1.0, 2.0), Point::new(4.0, 6.0)), 3.0);
        assert_relative_eq!(strip.area(), 15.0, epsilon = 1e-12);
        assert_relative_eq!(strip.outline().area(), 15.0, epsilon = 1e-12);
        assert_relative_eq!(strip.distance_to(Point::new(1.0 - 0.8 * 5.0, 2.0 + 0.6 * 5.0)), 3.5, epsilon = 1e-12);
    }
}
