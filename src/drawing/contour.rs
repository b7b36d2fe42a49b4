//! Exact outlines: corners joined by straight pieces and true arcs, and what back ends make of them.
//!
//! An arc is told by its bulge: the tangent of a quarter of the angle it sweeps, plus when it turns anticlockwise.
//! Everything here is sums, products and square roots, so every machine finds the same bits.

use kurbo::{BezPath, PathEl, Point, Rect, Vec2};

use super::outline::bounds;

/// A corner of a contour and the bulge of the piece that leaves it; 0 is straight.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Corner {
    /// Where it is.
    pub at: Point,
    /// Tangent of a quarter of the angle the next piece sweeps, plus when anticlockwise.
    pub bulge: f64,
}

/// A run of straight pieces and arcs.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Contour {
    /// The corners in order; the last one's bulge counts only if the contour is closed.
    pub corners: Vec<Corner>,
    /// Whether the last corner is joined to the first.
    pub closed: bool,
}

/// Bulge of the largest arc that one cubic draws: 30 degrees, off by less than a ten-millionth of the radius.
const ONE_CUBIC: f64 = 0.131_652_497_587_395_83;

impl Contour {
    /// An open run of straight pieces.
    pub fn open(points: &[Point]) -> Self {
        Self { corners: points.iter().map(|at| Corner { at: *at, bulge: 0.0 }).collect(), closed: false }
    }

    /// A closed polygon.
    pub fn closed(points: &[Point]) -> Self {
        Self { closed: true, ..Self::open(points) }
    }

    /// What a round tool of this radius covers whose middle goes round a convex polygon (its corners anticlockwise), or
    /// from one point to another: straight walls, and an arc about each corner.
    pub fn around(middles: &[Point], radius: f64) -> Self {
        let next = |index: usize| middles[(index + 1) % middles.len()];
        let outward = |index: usize| {
            let run = next(index) - middles[index];
            right(run) / run.hypot2().sqrt()
        };
        let mut corners = Vec::with_capacity(2 * middles.len());
        for index in 0..middles.len() {
            let at = next(index);
            let (arriving, leaving) = (outward(index), outward((index + 1) % middles.len()));
            let dot = arriving.dot(leaving).clamp(-1.0, 1.0);
            // Sine and cosine of half the angle between the walls; the tangent of a quarter of it follows.
            let (sine, cosine) = (((1.0 - dot) / 2.0).sqrt(), f64::midpoint(1.0, dot).sqrt());
            corners.push(Corner { at: at + arriving * radius, bulge: sine / (1.0 + cosine) });
            corners.push(Corner { at: at + leaving * radius, bulge: 0.0 });
        }
        Self { corners, closed: true }
    }

    /// The pieces: from, to, bulge.
    pub fn pieces(&self) -> impl Iterator<Item = (Point, Point, f64)> + '_ {
        let next = self.corners.iter().skip(1).chain(self.corners.first().filter(|_| self.closed));
        self.corners.iter().zip(next).map(|(from, to)| (from.at, to.at, from.bulge))
    }

    /// The same as a path: arcs of at most 30 degrees as cubics.
    pub fn path(&self) -> BezPath {
        let mut path = BezPath::new();
        let Some(first) = self.corners.first() else { return path };
        path.move_to(first.at);
        for (from, to, bulge) in self.pieces() {
            arc_into(&mut path, from, to, bulge);
        }
        if self.closed {
            path.close_path();
        }
        path
    }

    /// The box round it, arcs included, if it has a corner.
    pub fn bounds(&self) -> Option<Rect> {
        let corners = bounds(self.corners.iter().map(|corner| corner.at));
        corners.map(|corners| {
            self.pieces().filter(|(.., bulge)| *bulge != 0.0).fold(corners, |bounds, (from, to, bulge)| {
                let mut arc = BezPath::new();
                arc.move_to(from);
                arc_into(&mut arc, from, to, bulge);
                bounds.union(kurbo::Shape::bounding_box(&arc))
            })
        })
    }

    /// The contours of a path, one for each of its runs. A cubic that draws an arc becomes that arc; any other curve
    /// becomes straight pieces within `tolerance`.
    pub fn of_path(path: &BezPath, tolerance: f64) -> Vec<Self> {
        let mut runs: Vec<Self> = Vec::new();
        for element in path.iter() {
            match element {
                PathEl::MoveTo(at) => runs.push(Self::open(&[at])),
                PathEl::ClosePath => {
                    if let Some(run) = runs.last_mut() {
                        run.close();
                    }
                }
                PathEl::LineTo(to) => extend(&mut runs, 0.0, to),
                PathEl::QuadTo(_, to) | PathEl::CurveTo(_, _, to) => {
                    let Some(from) = runs.last().and_then(|run| run.corners.last()).map(|corner| corner.at) else {
                        continue;
                    };
                    let arc = match element {
                        PathEl::CurveTo(one, two, to) => bulge_of(from, one, two, to),
                        _ => None,
                    };
                    if let Some(bulge) = arc {
                        extend(&mut runs, bulge, to);
                    } else {
                        let curve: BezPath = [PathEl::MoveTo(from), element].into_iter().collect();
                        for piece in super::outline::straight_pieces(&curve, tolerance) {
                            extend(&mut runs, 0.0, piece.p1);
                        }
                    }
                }
            }
        }
        runs.retain(|run| run.corners.len() > 1);
        runs
    }

    /// The circle that a closed run of arcs is, if it is one.
    pub fn circle(&self) -> Option<(Point, f64)> {
        if !self.closed || self.corners.len() < 2 {
            return None;
        }
        let mut arcs = self.pieces().map(|(from, to, bulge)| centre_and_radius(from, to, bulge));
        let (centre, radius) = arcs.next()??;
        let same = |arc: Option<(Point, f64)>| {
            arc.is_some_and(|(other, size)| (other - centre).hypot2() < NEAR && (size - radius).abs() < 1e-6)
        };
        let turns: f64 = self.corners.iter().map(|corner| corner.bulge.signum()).sum();
        let one_way = (turns.abs() - self.corners.len() as f64).abs() < 0.5;
        (one_way && arcs.all(same)).then_some((centre, radius))
    }

    /// Joins the last corner to the first; one that lies on it already goes.
    fn close(&mut self) {
        self.closed = true;
        if let (Some(first), Some(last)) = (self.corners.first(), self.corners.last())
            && self.corners.len() > 2
            && (first.at - last.at).hypot2() < NEAR
        {
            self.corners.pop();
        }
    }
}

/// Square of the distance below which two points are one: a millionth of a millimetre.
const NEAR: f64 = 1e-12;

/// Adds a piece to the last run; one of no length is left out.
fn extend(runs: &mut [Contour], bulge: f64, to: Point) {
    let Some(run) = runs.last_mut() else { return };
    if let Some(last) = run.corners.last_mut()
        && (last.at - to).hypot2() > NEAR
    {
        last.bulge = bulge;
        run.corners.push(Corner { at: to, bulge: 0.0 });
    }
}

/// A vector turned a quarter to the right.
fn right(of: Vec2) -> Vec2 {
    Vec2::new(of.y, -of.x)
}

/// Draws a piece on from where the path is.
fn arc_into(path: &mut BezPath, from: Point, to: Point, bulge: f64) {
    let chord = to - from;
    if bulge == 0.0 {
        path.line_to(to);
    } else if bulge.abs() > ONE_CUBIC {
        let middle = from + chord * 0.5 + right(chord) * (bulge / 2.0);
        let half = bulge / (1.0 + (1.0 + bulge * bulge).sqrt());
        arc_into(path, from, middle, half);
        arc_into(path, middle, to, half);
    } else {
        // The chord turned by half the angle, times (1 + b²)/3: a control's usual distance, 4/3·tan of a quarter.
        let (along, aside) = (chord * ((1.0 - bulge * bulge) / 3.0), right(chord) * (2.0 * bulge / 3.0));
        path.curve_to(from + along + aside, to - along + aside, to);
    }
}

/// The bulge of the arc that a cubic draws by the usual rule, if it draws one.
fn bulge_of(from: Point, one: Point, two: Point, to: Point) -> Option<f64> {
    let (chord, leave, arrive) = (to - from, one - from, to - two);
    let (length, reach) = (chord.hypot2().sqrt(), leave.hypot2().sqrt());
    let tangent = leave.cross(chord) / (reach * length + leave.dot(chord));
    let expected = length * (1.0 + tangent * tangent) / 3.0;
    let mirrored = (leave.dot(chord) - arrive.dot(chord)).abs() + (leave.cross(chord) + arrive.cross(chord)).abs();
    let is_arc = length > 0.0
        && reach > 0.0
        && tangent.abs() > 1e-9
        && (reach - expected).abs() < 1e-6 * length
        && mirrored < 1e-6 * length * reach;
    is_arc.then_some(tangent)
}

/// The middle and radius of a piece, if it is an arc.
pub fn centre_and_radius(from: Point, to: Point, bulge: f64) -> Option<(Point, f64)> {
    if bulge == 0.0 {
        return None;
    }
    let chord = to - from;
    let radius = chord.hypot2().sqrt() * (1.0 + bulge * bulge) / (4.0 * bulge.abs());
    let centre = from + chord * 0.5 - right(chord) * ((1.0 - bulge * bulge) / (4.0 * bulge));
    Some((centre, radius))
}

#[cfg(test)]
mod tests {
    use kurbo::Shape;

    use super::*;
    use crate::drawing::outline;

    /// A quarter circle about the origin, radius 10, anticlockwise: its bulge is tan 22.5 degrees = √2 − 1.
    fn quarter() -> Contour {
        let (start, end) = (Point::new(10.0, 0.0), Point::new(0.0, 10.0));
        let corner = |at, bulge| Corner { at, bulge };
        Contour { corners: vec![corner(start, 2.0_f64.sqrt() - 1.0), corner(end, 0.0)], closed: false }
    }

    #[test]
    fn an_arc_has_its_centre_its_radius_and_its_length() {
        let contour = quarter();
        let (from, to, bulge) = contour.pieces().next().unwrap();
        let (centre, radius) = centre_and_radius(from, to, bulge).unwrap();
        assert!((centre - Point::ZERO).hypot() < 1e-12 && (radius - 10.0).abs() < 1e-12);
        let length = contour.path().perimeter(1e-9);
        assert!((length - core::f64::consts::PI * 5.0).abs() < 1e-6, "{length}");
        for piece in outline::straight_pieces(&contour.path(), 1e-4) {
            assert!((piece.p1.to_vec2().hypot() - 10.0).abs() < 1e-5);
            assert!(piece.p1.x > -1e-9 && piece.p1.y > -1e-9, "the quarter between the axes, not the other one");
        }
    }

    #[test]
    fn a_clockwise_arc_bends_the_other_way() {
        let corner = |x, y, bulge| Corner { at: Point::new(x, y), bulge };
        let over = Contour { corners: vec![corner(-10.0, 0.0, -1.0), corner(10.0, 0.0, 0.0)], closed: false };
        let bounds = over.bounds().unwrap();
        assert!((bounds.y1 - 10.0).abs() < 1e-6 && bounds.y0.abs() < 1e-9, "{bounds:?}");
    }

    #[test]
    fn a_circle_and_a_rounded_pocket_are_found_again_in_their_paths() {
        let round = Contour::of_path(&outline::circle(Point::new(3.0, -2.0), 2.1), 0.01);
        let (centre, radius) = round[0].circle().unwrap();
        assert!((centre - Point::new(3.0, -2.0)).hypot() < 1e-9 && (radius - 2.1).abs() < 1e-9);
        let pocket = Contour::of_path(&outline::rounded_rectangle(Rect::new(0.0, 0.0, 70.0, 40.0), 3.0), 0.01);
        assert!(pocket[0].closed && pocket[0].circle().is_none());
        assert_eq!(pocket[0].corners.len(), 8);
        assert_eq!(pocket[0].corners.iter().filter(|corner| corner.bulge > 0.4).count(), 4);
    }

    #[test]
    fn what_a_round_tool_covers_has_its_perimeter_and_its_reach() {
        // A slot of 60 by 10 with round ends; round a square, the square's own perimeter and a whole circle.
        let slot = Contour::around(&[Point::ZERO, Point::new(50.0, 0.0)], 5.0);
        let bounds = slot.bounds().unwrap();
        assert!((bounds.width() - 60.0).abs() < 1e-6 && (bounds.height() - 10.0).abs() < 1e-6, "{bounds:?}");
        assert!(slot.corners.iter().filter(|corner| corner.bulge != 0.0).all(|c| (c.bulge - 1.0).abs() < 1e-12));
        let square = [(0.0, 0.0), (20.0, 0.0), (20.0, 20.0), (0.0, 20.0)].map(Point::from);
        let length = Contour::around(&square, 3.0).path().perimeter(1e-9);
        assert!((length - (80.0 + 6.0 * core::f64::consts::PI)).abs() < 1e-6, "{length}");
    }

    #[test]
    fn a_contour_survives_its_path() {
        let again = Contour::of_path(&quarter().path(), 0.01);
        // Four arcs of 22.5 degrees.
        assert_eq!(again[0].corners.len(), 5);
        for (from, to, bulge) in again[0].pieces() {
            let (centre, radius) = centre_and_radius(from, to, bulge).unwrap();
            assert!(centre.to_vec2().hypot() < 1e-9 && (radius - 10.0).abs() < 1e-9);
        }
    }

    #[test]
    fn a_curve_that_is_no_arc_becomes_straight_pieces() {
        let mut path = BezPath::new();
        path.move_to((0.0, 0.0));
        path.curve_to((10.0, 0.0), (0.0, 5.0), (10.0, 5.0));
        let contour = &Contour::of_path(&path, 0.01)[0];
        assert!(contour.corners.len() > 8);
        assert!(contour.corners.iter().all(|corner| corner.bulge == 0.0));
    }
}
