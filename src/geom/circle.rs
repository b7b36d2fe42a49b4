//! Circles: the height of a segment, and the area a circle shares with a convex polygon.

use core::f64::consts::PI;

use super::line::cross;
use super::{Convex, Point, Vec2};

/// A circle.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Circle {
    /// Its centre.
    pub centre: Point,
    /// Its radius.
    pub radius: f64,
}

/// How far a circle of `radius` has dropped below its top at `offset` from its axis: R − √(R² − y²).
///
/// Exact for every |offset| ≤ radius, an infinite radius (a flat face) gives 0, and NaN comes back where the
/// circle does not reach. Written as y²/(R + √(R² − y²)), which loses no digits for large radii.
/// Source: height of a circular segment, any handbook; check values in the tests.
pub fn sagitta(radius: f64, offset: f64) -> f64 {
    if radius.is_infinite() {
        return 0.0;
    }
    offset * offset / (radius + libm::sqrt(radius * radius - offset * offset))
}

impl Circle {
    /// A circle by its diameter.
    pub fn with_diameter(centre: Point, diameter: f64) -> Self {
        Self { centre, radius: diameter / 2.0 }
    }

    /// Its area.
    pub fn area(&self) -> f64 {
        PI * self.radius * self.radius
    }

    /// The area it shares with a convex polygon: exact, by sectors and triangles edge by edge.
    pub fn area_within(&self, polygon: &Convex) -> f64 {
        polygon.edges().map(|edge| self.fan(edge.start - self.centre, edge.end - self.centre)).sum::<f64>().max(0.0)
    }

    /// Signed area of the circle within the triangle from its centre over one edge.
    fn fan(&self, a: Vec2, b: Vec2) -> f64 {
        let r2 = self.radius * self.radius;
        let span = b - a;
        let (square, half, offset) = (span.hypot2(), a.dot(span), a.hypot2() - r2);
        if square == 0.0 {
            return 0.0;
        }
        let root = half * half - square * offset;
        if root <= 0.0 {
            return self.sector(a, b);
        }
        let root = libm::sqrt(root);
        let (enter, leave) = ((-half - root) / square, (-half + root) / square);
        if leave <= 0.0 || enter >= 1.0 {
            return self.sector(a, b);
        }
        let (from, to) = (a + span * enter.max(0.0), a + span * leave.min(1.0));
        self.sector(a, from) + cross(from, to) / 2.0 + self.sector(to, b)
    }

    /// Signed area of the circle's sector between two directions.
    fn sector(&self, a: Vec2, b: Vec2) -> f64 {
        self.radius * self.radius * libm::atan2(cross(a, b), a.dot(b)) / 2.0
    }
}

#[cfg(test)]
mod tests {
    use approx::assert_relative_eq;

    use super::*;

    #[test]
    fn sagitta_agrees_with_published_examples() {
        // Printed worked examples of an arc-height calculator (bit1024.com): radius 10, chord 12; radius 15, chord 20.
        assert_relative_eq!(sagitta(10.0, 6.0), 2.0, epsilon = 1e-12);
        assert_relative_eq!(sagitta(15.0, 10.0), 3.82, epsilon = 5e-3);
        // Half-angle form, computed to 30 digits: radius 7.25 in, chord 43 and 56 mm.
        assert_relative_eq!(sagitta(184.15, 21.5), 1.259_397_453_013, epsilon = 1e-12);
        assert_relative_eq!(sagitta(184.15, 28.0), 2.141_147_193_330, epsilon = 1e-12);
    }

    #[test]
    fn a_flat_face_drops_nowhere_and_a_circle_too_small_says_so() {
        assert_relative_eq!(sagitta(f64::INFINITY, 30.0), 0.0);
        assert!(sagitta(20.0, 30.0).is_nan());
    }

    #[test]
    fn segments_of_the_unit_circle_agree_with_the_handbook_table() {
        // Layout of the table "Segments of Circles for Radius = 1" of Machinery's Handbook (known from memory):
        // 90 degrees: height 0.29289, area 0.28540; 60 degrees: height 0.13397.
        assert_relative_eq!(sagitta(1.0, libm::sqrt(2.0) / 2.0), 0.29289, epsilon = 5e-6);
        assert_relative_eq!(sagitta(1.0, 0.5), 0.13397, epsilon = 5e-6);
        let circle = Circle { centre: Point::ORIGIN, radius: 1.0 };
        let beyond = Convex::rectangle(libm::sqrt(0.5), -5.0, 5.0, 5.0);
        assert_relative_eq!(circle.area_within(&beyond), 0.28540, epsilon = 5e-6);
    }

    #[test]
    fn the_part_over_a_channel_is_the_closed_form() {
        // Counterbore of 4.2 over a channel of 3: 2(κ√(r² − κ²) + r²·asin(κ/r)), κ = w/2.
        let (r, k) = (2.1, 1.5);
        let circle = Circle::with_diameter(Point::new(100.0, 3.0), 2.0 * r);
        let channel = Convex::rectangle(100.0 - k, -40.0, 100.0 + k, 40.0);
        let expected = 2.0 * (k * libm::sqrt(r * r - k * k) + r * r * libm::asin(k / r));
        assert_relative_eq!(circle.area_within(&channel), expected, epsilon = 1e-12);
        assert_relative_eq!(circle.area_within(&channel), 11.4263, epsilon = 5e-5);
        assert_relative_eq!(
            circle.area_within(&Convex::rectangle(0.0, -90.0, 400.0, 90.0)),
            circle.area(),
            epsilon = 1e-9
        );
        assert_relative_eq!(circle.area_within(&Convex::rectangle(0.0, -90.0, 50.0, 90.0)), 0.0);
    }
}
