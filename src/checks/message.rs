//! Figures and limits in words: as many decimals as it takes to tell one from the other.

use super::input::trimmed;
use crate::diag::codes::{Bounds, Limit};
use crate::rounding::fixed;

/// More decimals than this say nothing at a bench.
const MOST_DECIMALS: usize = 9;

/// The fact with its figure, and the limit it violates: "… leaves 0.81 mm …; at least 1.0".
pub(super) fn fact(says: &str, value: f64, bounds: Bounds, bound: f64, unit: &'static str) -> String {
    format!("{}; {}", says.replacen("{}", &figure(value, bound, unit), 1), allowed(bounds, unit))
}

/// The fact of a figure below nothing, named without its sign: "… cuts 0.5 mm into …, 1.50 mm short of the 1.0 mm
/// wanted". Where nothing at all would pass, the fact says enough.
pub(super) fn fact_below(says: &str, value: f64, bounds: Bounds, bound: f64, unit: &'static str) -> String {
    let fact = says.replacen("{}", &figure(-value, bound, unit), 1);
    match bounds.least {
        Some(least) if least > 0.0 && same(least, bound) => {
            let wanted = with_unit(&limit_figure(bound, unit), unit);
            format!("{fact}, {} short of the {wanted} wanted", figure(bound - value, bound, unit))
        }
        Some(least) if least.abs() < f64::EPSILON => fact,
        _ => format!("{fact}; {}", allowed(bounds, unit)),
    }
}

/// A figure with its unit, printed apart from the bound.
fn figure(value: f64, bound: f64, unit: &'static str) -> String {
    let whole = |value: f64| value.fract().abs() < f64::EPSILON;
    let fewest = match unit {
        "" | "mA" | "W" if whole(value) => 0,
        "%" | "°" | "h" => 1,
        _ => 2,
    };
    let decimals =
        (fewest..MOST_DECIMALS).find(|decimals| fixed(value, *decimals) != fixed(bound, *decimals)).unwrap_or(fewest);
    with_unit(&fixed(value, decimals), unit)
}

/// A length for the middle of a sentence.
pub(super) fn millimetres(length: f64) -> String {
    with_unit(&trimmed(length), "mm")
}

/// A figure's text with its unit.
fn with_unit(figure: &str, unit: &str) -> String {
    match unit {
        "" => figure.to_owned(),
        "°" => format!("{figure}°"),
        _ => format!("{figure} {unit}"),
    }
}

/// What passes, in words.
fn allowed(bounds: Bounds, unit: &str) -> String {
    match (bounds.least, bounds.most) {
        (Some(least), Some(most)) => {
            format!("{} to {}", limit_figure(least, unit), with_unit(&limit_figure(most, unit), unit))
        }
        (Some(least), None) => format!("at least {}", limit_figure(least, unit)),
        (None, Some(most)) => format!("at most {}", limit_figure(most, unit)),
        (None, None) => String::new(),
    }
}

/// A limit as the trade writes it: small lengths with a decimal, so that nobody takes 1.0 mm for a count.
fn limit_figure(value: f64, unit: &str) -> String {
    let text = trimmed(value);
    if unit == "mm" && value.abs() < 10.0 && !text.contains('.') { format!("{text}.0") } else { text }
}

/// Which of a limit's bounds a remedy aims at: the mildest on that side, so that nothing is left to say.
pub(super) fn target(limit: Limit, violated: f64) -> f64 {
    let is_least = |bounds: Bounds| bounds.least.is_some_and(|least| same(least, violated));
    let least = [limit.error, limit.warning, limit.note].into_iter().any(is_least);
    let side = |bounds: Bounds| if least { bounds.least } else { bounds.most };
    side(limit.note).or(side(limit.warning)).or(side(limit.error)).unwrap_or(violated)
}

/// What a remedy aims at, where that is not the bound the message names: " (for 1.5 mm)".
pub(super) fn aim(named: f64, target: f64, unit: &str) -> String {
    if same(named, target) { String::new() } else { format!(" (for {})", with_unit(&limit_figure(target, unit), unit)) }
}

fn same(a: f64, b: f64) -> bool {
    (a - b).abs() <= f64::EPSILON * a.abs()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::diag::codes;

    #[test]
    fn a_figure_just_under_its_limit_is_not_printed_like_it() {
        let bounds = Bounds { least: Some(0.3), most: None };
        assert_eq!(fact("{} of room", 0.2999, bounds, 0.3, "mm"), "0.2999 mm of room; at least 0.3");
        assert_eq!(fact("{} of room", 0.2, bounds, 0.3, "mm"), "0.20 mm of room; at least 0.3");
    }

    #[test]
    fn a_figure_below_nothing_is_told_by_what_it_is_short_of() {
        let least = |least| Bounds { least: Some(least), most: None };
        let says = "the leads stand {} out of the back";
        assert_eq!(
            fact_below(says, -0.28, least(0.3), 0.3, "mm"),
            "the leads stand 0.28 mm out of the back, 0.58 mm short of the 0.3 mm wanted"
        );
        assert_eq!(fact_below("{} narrower", -0.02, least(0.0), 0.0, "mm"), "0.02 mm narrower");
    }

    #[test]
    fn counts_have_no_decimals_and_ranges_both_ends() {
        let bounds = Bounds { least: Some(1.0), most: Some(36.0) };
        assert_eq!(fact("{} frets", 40.0, bounds, 36.0, ""), "40 frets; 1 to 36");
        let bounds = Bounds { least: Some(300.0), most: Some(950.0) };
        assert_eq!(fact("scale {}", 35.0, bounds, 300.0, "mm"), "scale 35.00 mm; 300 to 950 mm");
    }

    #[test]
    fn a_remedy_aims_past_the_warning_too() {
        let limit = codes::CHAN_01.row().limit.unwrap();
        assert!((target(limit, 1.0) - 1.5).abs() < 1e-12);
        assert!((target(codes::CHAN_14.row().limit.unwrap(), 2.5) - 2.5).abs() < 1e-12);
    }
}
