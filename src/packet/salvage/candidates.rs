//! The single changes that are tried when something went wrong at the bench.

use super::Change;
use crate::catalog;
use crate::checks::range::{self, DIMENSIONS};
use crate::checks::{Bench, passing};
use crate::design::Design;
use crate::diag::{Diagnostic, Severity};
use crate::model::{Model, Radius, StockKind};
use crate::rounding;
use crate::spec::Shop;
use crate::spec::entry::value_of;
use crate::units::WorkingUnit;

/// What kind of change, the cheapest at the bench first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Cost {
    /// Another setting of a machine, or the order of two steps.
    Setting,
    /// Another part from the drawer.
    Part,
    /// Another size of the wood or of what is cut into it.
    Size,
    /// Another instrument to the customer's hand.
    Feel,
}

/// A change to try.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Candidate {
    pub(super) change: Change,
    pub(super) cost: Cost,
}

/// Every change worth trying on an instrument with these findings.
pub(super) fn candidates(
    model: &Model,
    design: &Design,
    findings: &[Diagnostic],
    shop: Option<&Shop>,
) -> Vec<Candidate> {
    let mut all = Vec::new();
    let mut add = |key: &str, value: String, cost: Cost| {
        let candidate = Candidate { change: Change::new(key, value), cost };
        if !all.contains(&candidate) {
            all.push(candidate);
        }
    };
    for (key, value) in settings(model) {
        add(key, value.to_owned(), Cost::Setting);
    }
    for (key, value) in parts(model, shop) {
        add(key, value, Cost::Part);
    }
    for (key, millimetres) in lengths(model, design, findings) {
        let cost = if key.starts_with("slots.") || key == "lamp.proud" { Cost::Setting } else { Cost::Size };
        add(key, format!("{} mm", rounding::fixed(millimetres, 2)), cost);
    }
    if matches!(model.radius, Radius::One(_)) {
        let own = model.shop.tools.radius_blocks.iter().map(|block| block.written.clone());
        let common = catalog::radii().iter().map(|radius| radius.radius.clone()).chain(["flat".to_owned()]);
        own.chain(common).for_each(|radius| add("radius.board", radius, Cost::Feel));
    }
    if let Ok(count) = model.frets.count.get() {
        for fewer in 1..=2 {
            if count > fewer {
                add("frets.count", (count - fewer).to_string(), Cost::Feel);
            }
        }
    }
    all
}

/// What is set another way, or done in another order.
fn settings(model: &Model) -> Vec<(&'static str, &'static str)> {
    let mut all = vec![
        ("slots.setting", "each"),
        ("slots.setting", "one"),
        ("slots.cut", "before radiusing"),
        ("slots.cut", "after radiusing"),
        ("slots.cut", "following the radius"),
        ("taper.end_cut", "along last fret"),
        ("taper.end_cut", "square"),
    ];
    if model.lamp.is_some() {
        all.extend([("lamp.seats", "each"), ("lamp.seats", "one setting")]);
    }
    if model.circuit.is_some() {
        all.extend([("electronics.lamps.resistors", "cavity"), ("electronics.lamps.in_series", "1")]);
        all.extend([("electronics.lamps.in_series", "2"), ("electronics.lamps.in_series", "3")]);
        all.extend([("electronics.lamps.series", "E24"), ("electronics.lamps.series", "E96")]);
        all.extend([("electronics.lamps.resistor_rating", "0.25 W"), ("electronics.lamps.resistor_rating", "0.5 W")]);
    }
    all
}

/// Other wire, lamps and blades that the shop or the catalogue has.
fn parts(model: &Model, shop: Option<&Shop>) -> Vec<(&'static str, String)> {
    let in_stock = |kind: StockKind| {
        let rows = model.shop.stock.iter().filter(move |item| item.kind == kind);
        rows.map(|item| item.id.clone()).collect::<Vec<_>>()
    };
    let mut all: Vec<(&'static str, String)> =
        in_stock(StockKind::Wire).into_iter().map(|id| ("wire.pattern", id)).collect();
    all.extend(catalog::wires().iter().map(|wire| ("wire.pattern", wire.id.clone())));
    if model.lamp.is_some() {
        all.extend(in_stock(StockKind::Lamp).into_iter().map(|id| ("lamp.pattern", id)));
        all.extend(catalog::lamps().iter().map(|lamp| ("lamp.pattern", lamp.id.clone())));
    }
    let blades = shop.and_then(|shop| value_of(&shop.tools)).and_then(|tools| value_of(&tools.blades));
    let names = blades.into_iter().flatten().filter_map(|blade| value_of(&blade.name).cloned());
    all.extend(names.map(|name| ("slots.blade", name)));
    all
}

/// The lengths at which a check that found something would be content, and the ends of the ranges that miss the value.
fn lengths(model: &Model, design: &Design, findings: &[Diagnostic]) -> Vec<(&'static str, f64)> {
    let bench = Bench::new(model, design);
    let mut all: Vec<(&'static str, f64)> = Vec::new();
    let step = rounding::setting_step(WorkingUnit::Millimetre);
    for finding in findings.iter().filter(|finding| finding.severity != Severity::Note) {
        for way in passing(finding.code, &bench) {
            let more = model.length(way.key).is_none_or(|now| way.millimetres > now);
            let round = if more { rounding::up } else { rounding::down };
            all.push((way.key, round(way.millimetres, step)));
        }
    }
    for range in DIMENSIONS.iter().filter_map(|dimension| range::of(model, *dimension)) {
        for interval in [range.without_warning, range.without_error] {
            if interval.is_empty() || interval.holds(range.now) {
                continue;
            }
            let least = interval.least.filter(|least| range.now < least.millimetres);
            let most = interval.most.filter(|most| range.now > most.millimetres);
            let up = least.map(|least| rounding::up(least.millimetres, step));
            all.extend(
                up.or(most.map(|most| rounding::down(most.millimetres, step))).map(|at| (range.dimension.key, at)),
            );
        }
    }
    all.retain(|(_, millimetres)| *millimetres > 0.0);
    all
}
