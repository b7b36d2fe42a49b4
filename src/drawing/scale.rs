//! Scales of drawings by ISO 5455 (from memory): 1, 2 or 5 times a power of ten, enlarged or reduced.

use std::sync::LazyLock;

use kurbo::Vec2;

/// How large a drawing is: millimetres on paper for a millimetre of the thing.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Scale {
    /// Along x.
    pub along: f64,
    /// Along y; differs from `along` only where a long thin thing is drawn wider than it is.
    pub across: f64,
}

/// How a drawing's scale is found.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub enum Scaling {
    /// The largest scale of ISO 5455 that fits; a step between where none comes near to what would fit.
    #[default]
    Standard,
    /// The same by the width alone, for what is long and thin: its figures take the height they need, even more than
    /// the room has.
    Width,
    /// This scale, whether it fits or not.
    Given(Scale),
    /// Each way its own scale, across never smaller than along nor more than five times as large.
    Stretched,
    /// As large as fits up to 1 : 1, and no scale is stated: for schemes.
    Scheme,
}

/// Full steps of ISO 5455, within a decade.
const STANDARD: [f64; 3] = [1.0, 2.0, 5.0];
/// Steps between them, for the exceptional case the standard allows.
const BETWEEN: [f64; 7] = [1.5, 2.5, 3.0, 3.5, 4.0, 6.0, 8.0];
/// Smaller than this nothing is drawn.
const SMALLEST: f64 = 0.01;
/// Below this share of what would fit, a step between is taken.
const LEAST_USE: f64 = 0.85;

impl Scale {
    /// The same scale both ways.
    pub const fn uniform(ratio: f64) -> Self {
        Self { along: ratio, across: ratio }
    }

    /// Whether it is the same both ways.
    pub fn is_uniform(self) -> bool {
        (self.along - self.across).abs() <= 1e-12 * self.along.abs()
    }

    /// Both factors as a vector.
    pub fn factors(self) -> Vec2 {
        Vec2::new(self.along, self.across)
    }

    /// As it is printed: `2 : 1`, `1 : 2.5`, or both ways with the distortion named.
    pub fn text(self) -> String {
        if self.is_uniform() {
            ratio_text(self.along)
        } else {
            format!("not to one scale: along {}, across {}", ratio_text(self.along), ratio_text(self.across))
        }
    }
}

fn ratio_text(ratio: f64) -> String {
    if ratio >= 1.0 { format!("{} : 1", plain(ratio)) } else { format!("1 : {}", plain(1.0 / ratio)) }
}

fn plain(value: f64) -> String {
    let text = format!("{value:.2}");
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}

/// All scales that may be chosen, the largest first: (ratio, is it a full step of the standard).
static CANDIDATES: LazyLock<Vec<(f64, bool)>> = LazyLock::new(|| {
    let mut ratios = vec![(SMALLEST, true)];
    for decade in [1.0, 10.0] {
        for (steps, full) in [(&STANDARD[..], true), (&BETWEEN[..], false)] {
            for step in steps {
                ratios.push((step * decade, full));
                ratios.push((1.0 / (step * decade), full));
            }
        }
    }
    ratios.sort_by(|one, two| two.0.total_cmp(&one.0));
    ratios.dedup_by(|one, two| (one.0 - two.0).abs() < 1e-12);
    ratios
});

/// The scale to take, given by how much of the room each exceeds it (0: it fits): the largest full step that fits,
/// unless it uses too little.
pub(crate) fn choose(excess: impl Fn(f64) -> f64) -> f64 {
    let ratios: Vec<f64> = CANDIDATES.iter().map(|(ratio, _)| *ratio).collect();
    let largest = largest_fitting(&ratios, excess);
    let full = CANDIDATES.iter().find(|(ratio, full)| *full && *ratio <= largest).map_or(SMALLEST, |(ratio, _)| *ratio);
    if full >= LEAST_USE * largest { full } else { largest }
}

/// The ratio of a scheme: in small steps, up to 1.
pub(crate) fn choose_scheme(excess: impl Fn(f64) -> f64) -> f64 {
    let ratios: Vec<f64> = (0..50).map(|step| 1.0 - f64::from(step) * 0.02).collect();
    largest_fitting(&ratios, excess)
}

/// The largest of some falling ratios that fits; where the smallest does not fit either, the largest of those that
/// exceed the room hardly more than the best.
fn largest_fitting(ratios: &[f64], excess: impl Fn(f64) -> f64) -> f64 {
    let (Some(first), Some(last)) = (ratios.first(), ratios.last()) else { return 1.0 };
    if excess(*last) <= 0.0 {
        // What is larger needs more room, so the border is found by halving.
        let too_large = ratios.partition_point(|ratio| excess(*ratio) > 0.0);
        return ratios.get(too_large).copied().unwrap_or(*last);
    }
    let all: Vec<f64> = ratios.iter().map(|ratio| excess(*ratio)).collect();
    let least = all.iter().copied().fold(f64::INFINITY, f64::min);
    let allowed = if least > 0.0 { least * 1.02 + 0.01 } else { 0.0 };
    ratios.iter().zip(&all).find(|(_, over)| **over <= allowed).map_or(*first, |(ratio, _)| *ratio)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Room for scales up to a ratio.
    fn up_to(most: f64) -> impl Fn(f64) -> f64 {
        move |ratio| (ratio / most - 1.0).max(0.0)
    }

    #[test]
    fn where_nothing_fits_the_least_excess_is_taken() {
        // Figures of one size at any scale: 3 in a room for 2, and more above 1 : 5.
        let excess = |ratio: f64| 0.5 + (ratio - 0.2).max(0.0);
        assert_eq!(Scale::uniform(choose(excess)).text(), "1 : 5");
    }

    #[test]
    fn the_largest_full_step_is_taken() {
        assert!((choose(up_to(2.2)) - 2.0).abs() < 1e-12);
        assert!((choose(up_to(0.21)) - 0.2).abs() < 1e-12);
        assert!((choose(up_to(5.5)) - 5.0).abs() < 1e-12);
    }

    #[test]
    fn a_step_between_is_taken_where_the_full_step_wastes_the_room() {
        assert_eq!(Scale::uniform(choose(up_to(0.401))).text(), "1 : 2.5");
        assert_eq!(Scale::uniform(choose(up_to(4.2))).text(), "4 : 1");
    }

    #[test]
    fn a_distorted_drawing_says_so() {
        let text = Scale { along: 0.4, across: 1.0 }.text();
        assert_eq!(text, "not to one scale: along 1 : 2.5, across 1 : 1");
    }
}
