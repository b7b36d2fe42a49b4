//! How far the face rises, under an outer string, over the straight line from the nut to the last fret.
//!
//! The strings spread toward the saddle. Over one radius they run out onto steeper wood, so that the face under an
//! outer string is a little hollow-backed; only a cone whose radius grows as the strings' spread does is straight
//! under each of them. In: spreads, scale, face. Out: millimetres of height. Method: the drop of the face along the
//! string is convex, so the greatest height over the chord is found by narrowing a stretch that holds it.

use super::edges::outer_string;
use super::face::Face;
use super::layout::{Layout, Spreads};
use crate::spec::words::Side;

/// Each turn leaves two thirds of the stretch: after these the height is exact to the last digits.
const TURNS: usize = 80;

/// The hump under the outer string of a side, from the nut to the last fret; 0 on a flat board, NaN where the face
/// has no circle.
pub fn hump(layout: &Layout, spreads: Spreads, face: &Face, side: Side) -> f64 {
    let drop = |place: f64| face.drop(place, outer_string(layout, spreads, side, place));
    let run = layout.run(side);
    let (nut, last) = (run.at(0.0), run.at(layout.share(layout.last())));
    let (at_nut, at_last) = (drop(nut), drop(last));
    let over = |place: f64| at_nut + (at_last - at_nut) * (place - nut) / (last - nut) - drop(place);
    let (mut from, mut to) = (nut, last);
    for _ in 0..TURNS {
        let third = (to - from) / 3.0;
        if over(from + third) < over(to - third) {
            from += third;
        } else {
            to -= third;
        }
    }
    over(f64::midpoint(from, to))
}

/// The radius at a place that would leave no hump: it grows from the nut's as the strings' spread does.
pub fn radius_without_hump(layout: &Layout, spreads: Spreads, radius_at_nut: f64, place: f64) -> f64 {
    let spread = |place: f64| Side::BOTH.map(|side| outer_string(layout, spreads, side, place)).iter().sum::<f64>();
    radius_at_nut * spread(place) / spread(0.0)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::design::board::layout::tests::straight;

    fn of(layout: &Layout, (nut, saddle): (f64, f64), face: Face) -> f64 {
        let spreads = Spreads { nut, saddle };
        let [bass, treble] = Side::BOTH.map(|side| hump(layout, spreads, &face, side));
        assert!((bass - treble).abs() < 1e-12, "the two sides of a straight scale are alike");
        bass
    }

    #[test]
    fn one_radius_humps_by_the_worked_heights() {
        // Worked by a second program that looks at 10,000 places along the string; no published source.
        let seven = of(&straight(666.75, 25), (41.5, 63.0), Face::One(355.6));
        assert!((seven - 0.0239).abs() < 5e-5, "{seven}");
        let five = of(&straight(889.0, 22), (41.0, 76.0), Face::One(508.0));
        assert!((five - 0.0392).abs() < 5e-5, "{five}");
    }

    #[test]
    fn a_cone_that_grows_as_the_strings_spread_is_straight_under_them() {
        // Worked: 14 in at the nut and 63 over 41.5 times as much at the saddle.
        let (layout, spreads) = (straight(666.75, 25), Spreads { nut: 41.5, saddle: 63.0 });
        let at_saddle = radius_without_hump(&layout, spreads, 355.6, 666.75);
        assert!((at_saddle - 539.8265).abs() < 5e-5, "{at_saddle}");
        let cone = Face::Cone { at_nut: 355.6, at_end: at_saddle, end_place: 666.75 };
        assert!(of(&layout, (41.5, 63.0), cone).abs() < 1e-12);
        assert!(of(&layout, (41.5, 63.0), Face::Flat).abs() < f64::EPSILON);
    }
}
