//! Paths cut off at a rectangle, as scissors would: what is left are open runs, and nothing runs along the cut.
//!
//! Pieces that lie inside stay as they are; a curve that crosses the cut becomes straight pieces within `FLAT`.

use kurbo::{BezPath, Line, ParamCurve, PathSeg, Point, Rect, Shape};

use super::outline;

/// How near to a curve its straight pieces come where it is cut, in millimetres.
const FLAT: f64 = 0.000_2;

/// The part of a path inside a rectangle, its edge included; same unit and frame as the path.
pub fn clipped(path: &BezPath, area: Rect) -> BezPath {
    let mut out = Run { path: BezPath::new(), end: None };
    for segment in path.segments() {
        let bounds = segment.bounding_box();
        if contains(area, bounds) {
            out.add(segment);
        } else if bounds.x0 <= area.x1 && area.x0 <= bounds.x1 && bounds.y0 <= area.y1 && area.y0 <= bounds.y1 {
            match segment {
                PathSeg::Line(line) => out.add_line(line, area),
                curve => {
                    for line in outline::straight_pieces(&BezPath::from_path_segments([curve].into_iter()), FLAT) {
                        out.add_line(line, area);
                    }
                }
            }
        }
    }
    out.path
}

/// Whether a box lies inside another, edges included.
pub fn contains(area: Rect, inner: Rect) -> bool {
    area.x0 <= inner.x0 && inner.x1 <= area.x1 && area.y0 <= inner.y0 && inner.y1 <= area.y1
}

/// A path in the making, and where it stands.
struct Run {
    path: BezPath,
    end: Option<Point>,
}

impl Run {
    fn add(&mut self, segment: PathSeg) {
        if self.end != Some(segment.start()) {
            self.path.move_to(segment.start());
        }
        self.path.push(segment.as_path_el());
        self.end = Some(segment.end());
    }

    /// Adds what lies inside of a straight piece: its entry is the last of the four edges it comes in over, its exit
    /// the first it goes out over.
    fn add_line(&mut self, line: Line, area: Rect) {
        let (mut enter, mut leave) = (0.0_f64, 1.0_f64);
        let along = line.p1 - line.p0;
        let edges =
            [(along.x, area.x0 - line.p0.x, area.x1 - line.p0.x), (along.y, area.y0 - line.p0.y, area.y1 - line.p0.y)];
        for (step, low, high) in edges {
            if step == 0.0 {
                if low > 0.0 || high < 0.0 {
                    return;
                }
                continue;
            }
            let (first, second) = if step > 0.0 { (low / step, high / step) } else { (high / step, low / step) };
            enter = enter.max(first);
            leave = leave.min(second);
        }
        if enter < leave {
            let at = |t: f64| {
                if t <= 0.0 {
                    line.p0
                } else if t >= 1.0 {
                    line.p1
                } else {
                    line.eval(t)
                }
            };
            self.add(PathSeg::Line(Line::new(at(enter), at(leave))));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const AREA: Rect = Rect::new(0.0, 0.0, 10.0, 10.0);

    #[test]
    fn what_lies_inside_stays_and_what_lies_outside_goes() {
        let inside = outline::circle(Point::new(5.0, 5.0), 2.0);
        assert!(clipped(&inside, AREA).segments().eq(inside.segments()));
        assert!(clipped(&outline::circle(Point::new(20.0, 5.0), 2.0), AREA).is_empty());
        // Round the area without touching it: every corner of its box outside, and nothing of it inside.
        assert!(clipped(&outline::circle(Point::new(5.0, 5.0), 20.0), AREA).is_empty());
    }

    #[test]
    fn a_line_is_cut_at_the_edges_it_crosses() {
        let cut = clipped(&outline::polyline(&[Point::new(-5.0, 2.0), Point::new(15.0, 6.0)]), AREA);
        let PathSeg::Line(line) = cut.segments().next().unwrap() else { panic!("{cut:?}") };
        assert!((line.p0 - Point::new(0.0, 3.0)).hypot() < 1e-12 && (line.p1 - Point::new(10.0, 5.0)).hypot() < 1e-12);
    }

    #[test]
    fn a_closed_outline_leaves_open_runs_and_no_line_along_the_cut() {
        let square = outline::polygon(&[(5.0, 2.0), (15.0, 2.0), (15.0, 8.0), (5.0, 8.0)].map(Point::from));
        let cut = clipped(&square, AREA);
        assert!(
            cut.segments()
                .all(|segment| segment.bounding_box().x1 < 10.0 || (segment.start().y - segment.end().y).abs() < 1e-12)
        );
        assert_eq!(cut.segments().count(), 3);
    }

    #[test]
    fn a_cut_circle_keeps_its_radius() {
        let cut = clipped(&outline::circle(Point::new(10.0, 5.0), 4.0), AREA);
        for segment in cut.segments() {
            // The cubic itself is off by 0.027 % of the radius at most.
            assert!(((segment.eval(0.5) - Point::new(10.0, 5.0)).hypot() - 4.0).abs() < 0.0015, "{segment:?}");
            assert!(segment.bounding_box().x1 <= 10.0 + 1e-9);
        }
    }
}
