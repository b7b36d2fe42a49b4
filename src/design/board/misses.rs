//! By how much the inner strings of a fan miss their slanted frets.
//!
//! A straight fret divides exactly every string that keeps its share of the spread from nut to saddle. Where the
//! rules of spacing differ between nut and saddle the inner strings do not, and where both are equal gaps the
//! strings' thickness moves them a little. In: scale laid out, strings' places. Out: the greatest miss along a
//! string, in millimetres and, at its own worst place, in cents. Derived from the picture; no published source.

use super::layout::{Layout, fret_number};
use super::strings::StringPlaces;
use crate::design::formulas::{cents_off, share_of_scale};
use crate::geom::Point;

/// The greatest misses of all inner strings.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Misses {
    /// The string that misses farthest, 1 = highest.
    pub string: usize,
    /// The fret where it does.
    pub fret: usize,
    /// By how much, millimetres along the string.
    pub millimetres: f64,
    /// The most that any note of an inner string is off, cents.
    pub cents: f64,
}

/// The misses; none where there is no inner string.
pub fn misses(layout: &Layout, places: &StringPlaces) -> Option<Misses> {
    let mut worst: Option<Misses> = None;
    for string in 2..places.count() {
        let (start, end) = ends(layout, places, string)?;
        let run = end - start;
        let length = libm::hypot(run.x, run.y);
        for (fret, line) in layout.frets() {
            let share = share_of_scale(fret_number(fret), f64::from(layout.divisions));
            let exact = start + run * share;
            // Along the string from the exact place to the fret's line.
            let miss = (line.at(exact.y) - exact.x) * length / (run.x - line.slant * run.y);
            let cents = cents_off(length * (1.0 - share), miss).abs();
            let worst = worst.get_or_insert(Misses { string, fret, millimetres: 0.0, cents: 0.0 });
            worst.cents = worst.cents.max(cents);
            if miss.abs() > worst.millimetres {
                (worst.string, worst.fret, worst.millimetres) = (string, fret, miss.abs());
            }
        }
    }
    worst
}

/// Where a string crosses the zero line and the saddle's.
fn ends(layout: &Layout, places: &StringPlaces, string: usize) -> Option<(Point, Point)> {
    let (nut, saddle) = places.across(string, 0.0).zip(places.across(string, 1.0))?;
    Some((Point::new(layout.zero_line().at(nut), nut), Point::new(layout.saddle().at(saddle), saddle)))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::design::board::layout::tests::fan;

    /// Places across by hand: strings of these gauges, equal gaps or equal centres.
    fn places(nut: (f64, bool), saddle: (f64, bool), gauges: &[f64]) -> StringPlaces {
        let row = |(spread, gaps): (f64, bool)| {
            let between = |index: usize| f64::midpoint(gauges[index], gauges[index + 1]);
            let thick: f64 = (0..gauges.len() - 1).map(between).sum();
            let steps = gauges.len() - 1;
            let each = if gaps { spread - thick } else { spread } / fret_number(steps);
            let mut from_first = vec![0.0];
            for index in 0..steps {
                from_first.push(from_first[index] + each + if gaps { between(index) } else { 0.0 });
            }
            from_first.into_iter().map(|place| spread / 2.0 - place).collect()
        };
        StringPlaces { nut: row(nut), saddle: row(saddle) }
    }

    #[test]
    fn different_rules_at_the_ends_make_the_inner_strings_miss() {
        // Worked by a second program; no published source: about 0.1 mm on a light six, 0.3 mm and a good cent on a
        // five-string bass with thick strings.
        let six = [0.254, 0.3302, 0.4318, 0.6604, 0.9144, 1.1684];
        let layout = fan((660.0, 628.0), (36.0, 52.0), 7, 24);
        let light = misses(&layout, &places((36.0, true), (52.0, false), &six)).unwrap();
        assert!((light.millimetres - 0.1282).abs() < 5e-5 && (light.cents - 0.9369).abs() < 5e-5, "{light:?}");
        let five = [1.143, 1.651, 2.159, 2.667, 3.302];
        let layout = fan((889.0, 838.0), (44.0, 76.0), 7, 24);
        let thick = misses(&layout, &places((44.0, true), (76.0, false), &five)).unwrap();
        assert!((thick.millimetres - 0.2816).abs() < 5e-5 && (thick.cents - 1.4685).abs() < 5e-5, "{thick:?}");
        // Equal gaps at both ends leave about 0.1 mm with thick strings.
        let gaps = misses(&layout, &places((44.0, true), (76.0, true), &five)).unwrap();
        assert!((gaps.millimetres - 0.1186).abs() < 5e-5, "{gaps:?}");
    }

    #[test]
    fn equal_centres_at_both_ends_meet_every_fret() {
        let five = [1.143, 1.651, 2.159, 2.667, 3.302];
        let layout = fan((889.0, 838.0), (44.0, 76.0), 7, 24);
        let none = misses(&layout, &places((44.0, false), (76.0, false), &five)).unwrap();
        assert!(none.millimetres < 1e-9 && none.cents < 1e-8, "{none:?}");
        assert_eq!(misses(&layout, &places((44.0, false), (76.0, false), &five[..2])), None, "two outer strings");
    }
}
