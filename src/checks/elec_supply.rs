//! Battery and hook-up wire: ELEC-06, -08, -11 and -13.

use super::bench::Bench;
use super::elec::groups;
use super::input::trimmed;
use super::message::millimetres;
use super::place::Place;
use super::remedy::Remedy;
use super::tally::Tally;
use crate::catalog::awg;
use crate::design::lamps::circuit::{battery_hours, lost_in_wire, total_current};
use crate::diag::Severity;
use crate::diag::codes;
use crate::rounding;

/// ELEC-06: the battery lasts for more than a few evenings.
pub(super) fn hours<'a>(bench: &Bench<'a>, tally: &mut Tally<'a>) {
    let Some((lit, groups)) = groups(bench, tally) else { return };
    let Some(capacity) = &lit.circuit.capacity else { return };
    let Some(Some(hours)) = tally.known(battery_hours(lit.circuit, groups)) else { return };
    let least = bench.limits.of_code(codes::ELEC_06).and_then(|limit| limit.warning.least).unwrap_or(0.0);
    let milliamperes = total_current(groups) * 1000.0;
    let enough = rounding::up(least * milliamperes, 1.0);
    tally
        .measure(format!("the battery lasts {{}} at {} mA", rounding::fixed(milliamperes, 2)))
        .reading(Place::Whole, Ok(hours))
        .input(capacity)
        .input(&lit.circuit.in_series)
        .advise(format!("a battery of {} mAh or more", trimmed(enough)))
        .advise("or more lamps to a group, or a smaller current");
}

/// ELEC-08: where the battery is lithium, somebody has thought of what protects it.
pub(super) fn lithium<'a>(bench: &Bench<'a>, tally: &mut Tally<'a>) {
    let Some(lit) = bench.lit() else { return };
    let Some(chemistry) = &lit.circuit.chemistry else { return };
    let Some(words) = tally.known(chemistry.get()) else { return };
    if is_lithium(&words) && !speaks_of_protection(&words) {
        tally
            .fault_of(
                Severity::Warning,
                Place::Whole,
                "a lithium battery, and no word of what protects it: a pinched wire can set it on fire",
            )
            .input(chemistry)
            .advise("name the protection: `chemistry = \"lithium, protected cell\"` or \"lithium, fused\"");
    }
}

/// The words of a text in small letters, hyphens taken out.
fn words_of(text: &str) -> Vec<String> {
    let text = text.to_lowercase().replace('-', "");
    text.split(|c: char| !c.is_alphanumeric()).filter(|word| !word.is_empty()).map(str::to_owned).collect()
}

/// Whether a chemistry is one of lithium's, by its name or its usual short ones.
fn is_lithium(chemistry: &str) -> bool {
    let words = words_of(chemistry);
    let named = |word: &String| ["lithium", "liion", "lipo", "lifepo"].iter().any(|name| word.starts_with(name));
    let spaced = |pair: &[String]| pair[0] == "li" && ["ion", "po", "polymer"].contains(&pair[1].as_str());
    words.iter().any(named) || words.windows(2).any(spaced)
}

/// Whether a text speaks of a protection or a fuse, and not of its absence.
fn speaks_of_protection(chemistry: &str) -> bool {
    let words = words_of(chemistry);
    words.iter().enumerate().any(|(index, word)| {
        let protects = word.starts_with("protect") || word.starts_with("fuse");
        let before = index.checked_sub(1).map(|before| words[before].as_str());
        protects && !before.is_some_and(|before| ["no", "not", "without", "un", "non"].contains(&before))
    })
}

/// ELEC-11: the wire takes no more than a trace of the supply.
pub(super) fn lost_in_the_wire<'a>(bench: &Bench<'a>, tally: &mut Tally<'a>) {
    let Some((lit, groups)) = groups(bench, tally) else { return };
    let Some(gauge) = &lit.circuit.hookup_awg else { return };
    let Some(wires) = tally.known(lit.design.wires.as_ref().map_err(|missing| *missing)) else { return };
    let Some(number) = tally.known(gauge.get()) else { return };
    let length = wires.length();
    let most = bench.limits.of_code(codes::ELEC_11).and_then(|limit| limit.warning.most).unwrap_or(0.0);
    let lost = |number: u32| lost_in_wire(lit.circuit, groups, number, length);
    let says = format!("{} mm of wire, gauge {number}, lose {{}} of the supply", rounding::fixed(length, 0));
    let measure = tally.measure(says);
    measure.reading(Place::Whole, lost(number)).input(gauge).input(&lit.circuit.supply);
    if let Some(thick) = (0..number).rev().find(|number| lost(*number).is_ok_and(|lost| lost <= most)) {
        measure.advise(format!("wire of gauge {thick} or thicker"));
    }
}

/// ELEC-13: the wire over its insulation is not thinner than its bare copper.
pub(super) fn thicker_than_bare<'a>(bench: &Bench<'a>, tally: &mut Tally<'a>) {
    let Some(lit) = bench.lit() else { return };
    let hookup = &lit.circuit.hookup;
    let Some(gauge) = &lit.circuit.hookup_awg else { return };
    let Some((over, number)) = tally.known(hookup.mm().and_then(|over| Ok((over, gauge.get()?)))) else { return };
    let bare = awg::bare_diameter_mm(number);
    let copper = format!("the bare copper of gauge {number}, {}", millimetres(bare));
    let measure = tally.measure(format!("over its insulation the wire is {{}} thicker than {copper}"));
    measure
        .below_nothing(format!("over its insulation the wire is {{}} thinner than {copper}"))
        .reading(Place::Whole, Ok(over - bare))
        .input(hookup)
        .input(gauge)
        .remedy(Remedy::slope(hookup, 1.0, "wire of {} or thicker over its insulation"));
    if let Some(thin) = (number..=*awg::GAUGES.end()).find(|number| awg::bare_diameter_mm(*number) <= over) {
        measure.advise(format!("or is it gauge {thin}, or a higher number?"));
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lithium_is_known_by_its_names() {
        for chemistry in ["lithium", "Li-ion", "LiPo, 2 cells", "li-po", "Li ion 18650", "LiFePO4", "lithium, primary"]
        {
            assert!(is_lithium(chemistry), "{chemistry}");
        }
        for chemistry in ["alkaline", "nickel-metal hydride", "zinc-carbon", "", "list of ions", "li"] {
            assert!(!is_lithium(chemistry), "{chemistry}");
        }
    }

    #[test]
    fn a_word_of_protection_is_not_a_word_against_it() {
        for chemistry in ["lithium, protected", "Li-ion with protection board", "LiPo, fused 500 mA", "li-ion, a fuse"]
        {
            assert!(speaks_of_protection(chemistry), "{chemistry}");
        }
        for chemistry in ["lithium", "lithium, unprotected", "Li-ion, no protection", "LiPo, not protected", "un-fused"]
        {
            assert!(!speaks_of_protection(chemistry), "{chemistry}");
        }
    }
}
