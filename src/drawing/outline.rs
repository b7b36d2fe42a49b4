//! Plain shapes as paths, and paths as straight pieces.
//!
//! In: model or paper millimetres. Out: the same. No trigonometry and no library flattening, so that every
//! machine finds the same points to the last bit.

use kurbo::{BezPath, CubicBez, Line, ParamCurve, PathEl, Point, QuadBez, Rect, Vec2};

/// Control length of a cubic for a quarter circle of radius 1: 4/3·(√2 − 1), off by at most 0.027 % of the radius.
const QUARTER: f64 = 0.552_284_749_830_793_4;

/// A circle as four cubics, closed.
pub fn circle(centre: Point, radius: f64) -> BezPath {
    rounded_rectangle(Rect::new(centre.x - radius, centre.y - radius, centre.x + radius, centre.y + radius), radius)
}

/// A rectangle with quarter-circle corners, closed; the radius is held to half the shorter side.
pub fn rounded_rectangle(rectangle: Rect, radius: f64) -> BezPath {
    let Rect { x0, y0, x1, y1 } = rectangle.abs();
    let radius = radius.clamp(0.0, (x1 - x0).min(y1 - y0) / 2.0);
    let mut path = BezPath::new();
    if radius <= 0.0 {
        return polygon(&[Point::new(x0, y0), Point::new(x1, y0), Point::new(x1, y1), Point::new(x0, y1)]);
    }
    let back = radius * (1.0 - QUARTER);
    path.move_to((x0 + radius, y0));
    path.line_to((x1 - radius, y0));
    path.curve_to((x1 - back, y0), (x1, y0 + back), (x1, y0 + radius));
    path.line_to((x1, y1 - radius));
    path.curve_to((x1, y1 - back), (x1 - back, y1), (x1 - radius, y1));
    path.line_to((x0 + radius, y1));
    path.curve_to((x0 + back, y1), (x0, y1 - back), (x0, y1 - radius));
    path.line_to((x0, y0 + radius));
    path.curve_to((x0, y0 + back), (x0 + back, y0), (x0 + radius, y0));
    path.close_path();
    path
}

/// A closed polygon.
pub fn polygon(corners: &[Point]) -> BezPath {
    let mut path = polyline(corners);
    if !corners.is_empty() {
        path.close_path();
    }
    path
}

/// An open line through points.
pub fn polyline(points: &[Point]) -> BezPath {
    let mut path = BezPath::new();
    for (index, point) in points.iter().enumerate() {
        if index == 0 {
            path.move_to(*point);
        } else {
            path.line_to(*point);
        }
    }
    path
}

/// A path stretched about the origin, along and across each by its factor.
pub fn stretched(path: &BezPath, factors: Vec2) -> BezPath {
    mapped(path, |point| Point::new(point.x * factors.x, point.y * factors.y))
}

/// A path shifted.
pub fn shifted(path: &BezPath, shift: Vec2) -> BezPath {
    mapped(path, |point| point + shift)
}

/// A path whose points were each put elsewhere.
pub fn mapped(path: &BezPath, place: impl Fn(Point) -> Point) -> BezPath {
    path.iter()
        .map(|element| match element {
            PathEl::MoveTo(p) => PathEl::MoveTo(place(p)),
            PathEl::LineTo(p) => PathEl::LineTo(place(p)),
            PathEl::QuadTo(p, q) => PathEl::QuadTo(place(p), place(q)),
            PathEl::CurveTo(p, q, r) => PathEl::CurveTo(place(p), place(q), place(r)),
            PathEl::ClosePath => PathEl::ClosePath,
        })
        .collect()
}

/// The straight pieces of a path, curves within `tolerance`; closing pieces included.
pub fn straight_pieces(path: &BezPath, tolerance: f64) -> Vec<Line> {
    let mut pieces = Vec::new();
    let (mut first, mut last) = (Point::ZERO, Point::ZERO);
    let to = |pieces: &mut Vec<Line>, last: &mut Point, next: Point| {
        if *last != next {
            pieces.push(Line::new(*last, next));
        }
        *last = next;
    };
    for element in path.iter() {
        match element {
            PathEl::MoveTo(point) => (first, last) = (point, point),
            PathEl::LineTo(point) => to(&mut pieces, &mut last, point),
            PathEl::QuadTo(control, end) => {
                let curve = QuadBez::new(last, control, end);
                let bend = (last.to_vec2() - control.to_vec2() * 2.0 + end.to_vec2()).hypot() / 4.0;
                let steps = steps_for(bend, tolerance);
                for step in 1..=steps {
                    to(&mut pieces, &mut last, curve.eval(f64::from(step) / f64::from(steps)));
                }
            }
            PathEl::CurveTo(one, two, end) => {
                let curve = CubicBez::new(last, one, two, end);
                // The chord of a cubic cut into n equal parameter steps strays by at most the larger second
                // difference times 6/8 over n squared.
                let bend = (last.to_vec2() - one.to_vec2() * 2.0 + two.to_vec2()).hypot();
                let other = (one.to_vec2() - two.to_vec2() * 2.0 + end.to_vec2()).hypot();
                let steps = steps_for(0.75 * bend.max(other), tolerance);
                for step in 1..=steps {
                    to(&mut pieces, &mut last, curve.eval(f64::from(step) / f64::from(steps)));
                }
            }
            PathEl::ClosePath => to(&mut pieces, &mut last, first),
        }
    }
    pieces
}

fn steps_for(bend: f64, tolerance: f64) -> u32 {
    let needed = (bend / tolerance).sqrt();
    (1..64).find(|steps| f64::from(*steps) >= needed).unwrap_or(64)
}

/// The box round some points, if there are any.
pub fn bounds(points: impl IntoIterator<Item = Point>) -> Option<Rect> {
    points.into_iter().fold(None, |bounds: Option<Rect>, point| {
        Some(match bounds {
            None => Rect::from_points(point, point),
            Some(bounds) => bounds.union_pt(point),
        })
    })
}

/// Whether a point lies inside closed pieces, by the even-odd rule.
pub fn encloses(pieces: &[Line], point: Point) -> bool {
    let crossings = pieces
        .iter()
        .filter(|line| (line.p0.y > point.y) != (line.p1.y > point.y))
        .filter(|line| {
            let share = (point.y - line.p0.y) / (line.p1.y - line.p0.y);
            line.p0.x + share * (line.p1.x - line.p0.x) > point.x
        })
        .count();
    crossings % 2 == 1
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_circle_stays_within_its_stated_error() {
        for piece in straight_pieces(&circle(Point::new(3.0, -2.0), 10.0), 0.001) {
            let radius = (piece.p0 - Point::new(3.0, -2.0)).hypot();
            assert!((radius - 10.0).abs() < 10.0 * 0.00028, "{radius}");
            let middle = piece.p0.midpoint(piece.p1) - Point::new(3.0, -2.0);
            assert!((middle.hypot() - 10.0).abs() < 0.004, "{}", middle.hypot());
        }
    }

    #[test]
    fn a_closed_path_ends_where_it_began() {
        let pieces = straight_pieces(&rounded_rectangle(Rect::new(0.0, 0.0, 8.0, 4.0), 1.0), 0.01);
        assert_eq!(pieces.first().unwrap().p0, pieces.last().unwrap().p1);
        for pair in pieces.windows(2) {
            assert_eq!(pair[0].p1, pair[1].p0);
        }
    }

    #[test]
    fn inside_and_outside_are_told_apart() {
        let pieces = straight_pieces(&circle(Point::ZERO, 5.0), 0.01);
        assert!(encloses(&pieces, Point::new(3.0, 3.0)));
        assert!(!encloses(&pieces, Point::new(4.0, 4.0)));
    }
}
