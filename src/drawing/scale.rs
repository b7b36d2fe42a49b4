//! Scales of drawings by ISO 5455 (from memory): 1, 2 or 5 times a power of ten, enlarged or reduced.

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
pub(crate) fn candidates() -> Vec<(f64, bool)> {
    let mut ratios = Vec::new();
    for decade in [1.0, 10.0] {
        for (steps, full) in [(&STANDARD[..], true), (&BETWEEN[..], false)] {
            for step in steps {
                ratios.push((step * decade, full));
                ratios.push((1.0 / (step * decade), full));
            }
        }
    }
    ratios.push((SMALLEST, true));
    ratios.sort_by(|one, two| two.0.total_cmp(&one.0));
    ratios.dedup_by(|one, two| (one.0 - two.0).abs() < 1e-12);
    ratios
}

/// The scale to take, given which ones fit: the largest full step, unless it uses too little.
///
/// The smallest where none fits.
pub(crate) fn choose(fits: &impl Fn(f64) -> bool) -> f64 {
    let all = candidates();
    let largest = all.iter().map(|(ratio, _)| *ratio).find(|ratio| fits(*ratio)).unwrap_or(SMALLEST);
    let full = all.iter().find(|(ratio, full)| *full && *ratio <= largest).map_or(SMALLEST, |(ratio, _)| *ratio);
    if full >= LEAST_USE * largest { full } else { largest }
}

/// The ratio of a scheme: in small steps, up to 1.
pub(crate) fn choose_scheme(fits: &impl Fn(f64) -> bool) -> f64 {
    (0..50).map(|step| 1.0 - f64::from(step) * 0.02).find(|ratio| fits(*ratio)).unwrap_or(0.02)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_largest_full_step_is_taken() {
        assert!((choose(&|ratio| ratio <= 2.2) - 2.0).abs() < 1e-12);
        assert!((choose(&|ratio| ratio <= 0.21) - 0.2).abs() < 1e-12);
        assert!((choose(&|ratio| ratio <= 5.5) - 5.0).abs() < 1e-12);
    }

    #[test]
    fn a_step_between_is_taken_where_the_full_step_wastes_the_room() {
        assert_eq!(Scale::uniform(choose(&|ratio| ratio <= 0.401)).text(), "1 : 2.5");
        assert_eq!(Scale::uniform(choose(&|ratio| ratio <= 4.2)).text(), "4 : 1");
    }

    #[test]
    fn a_distorted_drawing_says_so() {
        let text = Scale { along: 0.4, across: 1.0 }.text();
        assert_eq!(text, "not to one scale: along 1 : 2.5, across 1 : 1");
    }
}
