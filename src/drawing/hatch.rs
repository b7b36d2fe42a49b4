//! Hatching: parallel lines clipped to an area and broken around texts.
//!
//! In: a closed path in paper millimetres (even-odd rule, so holes are left free), angle and pitch on paper.
//! Out: straight lines. Method: the area is turned so that the lines lie level, and each level line is cut
//! where it meets the boundary.

use kurbo::{BezPath, Line, Point, Vec2};

use super::outline::straight_pieces;
use super::textbox::{TextBox, across};

/// Room left free round a text, in millimetres.
const CLEAR: f64 = 0.7;
/// Shorter remains of a hatch line are not drawn.
const SHORTEST: f64 = 0.4;

/// The hatch lines of an area, at an angle in radians to the x axis, `pitch` apart.
pub(super) fn hatch_lines(area: &BezPath, angle: f64, pitch: f64) -> Vec<Line> {
    let along = Vec2::new(libm::cos(angle), libm::sin(angle));
    let up = across(along);
    let edges: Vec<(Vec2, Vec2)> = straight_pieces(area, 0.02)
        .iter()
        .map(|edge| (turned(edge.p0, along, up), turned(edge.p1, along, up)))
        .collect();
    let (low, high) = edges.iter().fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), (p, q)| {
        (low.min(p.y).min(q.y), high.max(p.y).max(q.y))
    });
    let mut lines = Vec::new();
    if !(low.is_finite() && high.is_finite() && pitch > 0.0) {
        return lines;
    }
    let mut step = (low / pitch).ceil();
    while step * pitch < high {
        let level = step * pitch;
        let mut meets: Vec<f64> = edges
            .iter()
            .filter(|(p, q)| (p.y > level) != (q.y > level))
            .map(|(p, q)| p.x + (level - p.y) / (q.y - p.y) * (q.x - p.x))
            .collect();
        meets.sort_by(f64::total_cmp);
        for pair in meets.chunks_exact(2) {
            let back = |x: f64| (along * x + up * level).to_point();
            lines.push(Line::new(back(pair[0]), back(pair[1])));
        }
        step += 1.0;
    }
    lines
}

fn turned(point: Point, along: Vec2, up: Vec2) -> Vec2 {
    let point = point.to_vec2();
    Vec2::new(point.dot(along), point.dot(up))
}

/// The lines with what lies under the boxes, and a little around them, taken out.
pub(super) fn broken_around(lines: &[Line], boxes: &[TextBox]) -> Vec<Line> {
    let mut kept = Vec::with_capacity(lines.len());
    for line in lines {
        let length = line.p0.distance(line.p1);
        let mut gaps: Vec<(f64, f64)> = boxes.iter().filter_map(|text| text.grown(CLEAR).covered_part(*line)).collect();
        gaps.sort_by(|one, two| one.0.total_cmp(&two.0));
        let mut from = 0.0;
        for (start, end) in gaps.into_iter().chain([(1.0, 1.0)]) {
            if (start - from) * length > SHORTEST {
                kept.push(Line::new(line.p0.lerp(line.p1, from), line.p0.lerp(line.p1, start)));
            }
            from = end.max(from);
        }
    }
    kept
}

#[cfg(test)]
mod tests {
    use kurbo::Rect;

    use super::super::outline::{circle, rounded_rectangle};
    use super::*;

    #[test]
    fn the_total_length_times_the_pitch_is_the_area() {
        let mut area = rounded_rectangle(Rect::new(-30.0, -10.0, 40.0, 25.0), 0.0);
        area.extend(circle(Point::new(5.0, 5.0), 8.0).iter());
        let length: f64 = hatch_lines(&area, 0.7, 0.05).iter().map(|line| line.p0.distance(line.p1)).sum();
        let expected = 70.0 * 35.0 - std::f64::consts::PI * 64.0;
        assert!((length * 0.05 - expected).abs() < 0.002 * expected, "{}", length * 0.05);
    }

    #[test]
    fn hatching_leaves_a_text_free() {
        let area = rounded_rectangle(Rect::new(0.0, 0.0, 50.0, 20.0), 0.0);
        let text = TextBox::upright(Rect::new(10.0, 5.0, 30.0, 9.0));
        let lines = broken_around(&hatch_lines(&area, 0.785, 2.0), &[text]);
        assert!(lines.len() > 10);
        assert!(lines.iter().all(|line| !text.grown(CLEAR - 0.01).is_crossed_by(*line)));
    }
}
