//! A convex outline whose corners are rounded, as a round tool leaves them.

use super::{Circle, Convex, Line, Point};

/// A polygon with rounded corners, or a circle: all that lies within a radius of a core.
#[derive(Debug, Clone, PartialEq)]
pub struct Rounded {
    polygon: Convex,
    core: Convex,
    radius: f64,
}

impl Rounded {
    /// A polygon whose corners have a radius; one that the polygon has no room for is made smaller until it fits.
    pub fn polygon(polygon: Convex, corner: f64) -> Self {
        let mut radius = corner.max(0.0);
        let mut core = inset(&polygon, radius);
        // Where the core shrinks to a line, as in a slot with round ends, a hair less keeps it a polygon.
        let mut less = 1.0 - 1e-9;
        while core.is_empty() && radius > 0.0 {
            radius = if radius < 1e-9 { 0.0 } else { radius * less };
            core = inset(&polygon, radius);
            less = 0.9;
        }
        Self { polygon, core, radius }
    }

    /// A circle.
    pub fn circle(circle: Circle) -> Self {
        Self { polygon: Convex::default(), core: Convex::new(vec![circle.centre]), radius: circle.radius }
    }

    /// Distance of a point from the outline; 0 or less inside.
    pub fn distance_to(&self, point: Point) -> f64 {
        self.core.distance_to(point) - self.radius
    }

    /// Least distance between two outlines; 0 or less where they meet.
    pub fn distance_between(&self, other: &Self) -> f64 {
        self.core.distance_between(&other.core) - self.radius - other.radius
    }

    /// Whether it holds another one whole.
    pub fn holds(&self, other: &Self) -> bool {
        const NEAR: f64 = 1e-9;
        let mut corners = other.core.corners().iter();
        if self.radius >= other.radius {
            corners.all(|corner| self.core.distance_to(*corner) <= self.radius - other.radius + NEAR)
        } else {
            // The other's corners are rounder than its own: where it clears the walls, it clears the corners.
            let clears =
                |wall: Line| corners.clone().all(|corner| wall.signed_distance(*corner) >= other.radius - NEAR);
            !self.polygon.is_empty() && walls(&self.polygon).all(clears)
        }
    }
}

/// The walls as endless lines, the inside on their left.
fn walls(polygon: &Convex) -> impl Iterator<Item = Line> + '_ {
    polygon.edges().filter(|edge| edge.length() > 0.0).map(|edge| Line::through(edge.start, edge.end))
}

/// What lies at least a distance inside every wall.
fn inset(polygon: &Convex, distance: f64) -> Convex {
    walls(polygon).fold(polygon.clone(), |rest, wall| rest.left_of(&wall.offset(distance)))
}

#[cfg(test)]
mod tests {
    use approx::assert_relative_eq;

    use super::*;

    fn square(x: f64, y: f64, side: f64, corner: f64) -> Rounded {
        Rounded::polygon(Convex::rectangle(x, y, x + side, y + side), corner)
    }

    #[test]
    fn straight_walls_keep_their_distance_and_corners_gain() {
        let here = square(0.0, 0.0, 10.0, 2.0);
        assert_relative_eq!(here.distance_between(&square(13.0, 5.0, 10.0, 3.0)), 3.0, epsilon = 1e-12);
        // Corner to corner: the centres of the arcs are (8, 8) and (15, 15).
        let across = here.distance_between(&square(12.0, 12.0, 10.0, 3.0));
        assert_relative_eq!(across, libm::hypot(7.0, 7.0) - 5.0, epsilon = 1e-12);
    }

    #[test]
    fn circles_are_as_far_as_their_rims() {
        let round = |x: f64, y: f64, d: f64| Rounded::circle(Circle::with_diameter(Point::new(x, y), d));
        assert_relative_eq!(round(0.0, 0.0, 4.0).distance_between(&round(6.0, 8.0, 6.0)), 5.0, epsilon = 1e-12);
        assert_relative_eq!(round(13.0, 5.0, 4.0).distance_between(&square(0.0, 0.0, 10.0, 2.0)), 1.0, epsilon = 1e-12);
        assert!(round(5.0, 5.0, 4.0).distance_between(&square(0.0, 0.0, 10.0, 2.0)) < 0.0);
        assert!(round(0.0, 0.0, 6.0).holds(&round(0.0, 1.0, 4.0)));
        assert!(!round(0.0, 0.0, 6.0).holds(&round(0.0, 1.1, 4.0)));
    }

    #[test]
    fn a_corner_that_has_no_room_leaves_the_walls_where_they_are() {
        let slot = Rounded::polygon(Convex::rectangle(0.0, 0.0, 40.0, 10.0), 5.0);
        assert_relative_eq!(slot.distance_between(&square(43.0, 0.0, 10.0, 0.0)), 3.0, epsilon = 1e-7);
        let too_round = Rounded::polygon(Convex::rectangle(0.0, 0.0, 40.0, 10.0), 9.0);
        assert_relative_eq!(too_round.distance_between(&square(0.0, 12.0, 10.0, 0.0)), 2.0, epsilon = 1e-7);
        let nothing = Rounded::polygon(Convex::default(), 3.0);
        assert!(nothing.distance_between(&slot).is_infinite());
    }

    #[test]
    fn one_holds_another_where_walls_and_corners_do() {
        let outer = square(0.0, 0.0, 20.0, 3.0);
        assert!(outer.holds(&square(0.0, 0.0, 20.0, 3.0)), "the same twice");
        assert!(outer.holds(&square(0.0, 0.0, 20.0, 5.0)), "rounder corners, the same walls");
        assert!(!outer.holds(&square(0.0, 0.0, 20.0, 1.0)), "a sharp corner stands out of a round one");
        assert!(outer.holds(&square(5.0, 5.0, 10.0, 0.0)));
        assert!(!outer.holds(&square(15.0, 5.0, 10.0, 4.0)));
    }
}
