//! `[[materials]]`, `[[waiver]]`, `[limits]` and `[tolerances]`.

use crate::diag::codes::Limit;
use crate::model::{ExtraMaterial, LimitOverride, ToleranceOverride, Waiver};
use crate::spec::entry::{Entry, value_of};
use crate::spec::overrides::{Bound, Override, Target};
use crate::spec::quantity::Dimension;
use crate::spec::tables::{MaterialTable, WaiverTable};
use crate::spec::{Shop, Spec};
use crate::units::Length;

/// The lines that say what they are.
pub(super) fn materials(spec: &Spec) -> Vec<ExtraMaterial> {
    let line = |row: &MaterialTable| {
        Some(ExtraMaterial {
            what: value_of(&row.what)?.clone(),
            quantity: value_of(&row.quantity).copied(),
            unit: value_of(&row.unit).cloned(),
            price: value_of(&row.price).map(|price| price.0),
            waste: value_of(&row.waste).copied(),
            waste_span: row.waste.as_ref().map_or(row.header, |waste| waste.span),
            papers: value_of(&row.papers).cloned(),
            span: row.header,
        })
    };
    value_of(&spec.materials).into_iter().flatten().filter_map(line).collect()
}

/// The waivers that are whole; one that is not has its finding and waives nothing.
pub(super) fn waivers(spec: &Spec) -> Vec<Waiver> {
    let waiver = |row: &WaiverTable| {
        Some(Waiver {
            code: value_of(&row.code)?.clone(),
            place: value_of(&row.place)?.clone(),
            why: value_of(&row.why)?.clone(),
            by: value_of(&row.by)?.clone(),
            date: value_of(&row.date)?.to_string(),
            span: row.header,
        })
    };
    value_of(&spec.waiver).into_iter().flatten().filter_map(waiver).collect()
}

/// Every override, the shop's first.
fn overrides<'s>(spec: &'s Spec, shop: Option<&'s Shop>) -> impl Iterator<Item = &'s Override> {
    let of = |table: &'s Option<Entry<Vec<Override>>>| value_of(table).into_iter().flatten();
    let shops = shop.into_iter().flat_map(move |shop| of(&shop.limits).chain(of(&shop.tolerances)));
    shops.chain(of(&spec.limits)).chain(of(&spec.tolerances))
}

fn why(row: &Override) -> String {
    value_of(&row.why).cloned().unwrap_or_default()
}

/// The limits that are changed, shop first. A least and a most come as two, each for the bound it is nearer to.
pub(super) fn limits(spec: &Spec, shop: Option<&Shop>) -> Vec<LimitOverride> {
    let mut limits = Vec::new();
    for row in overrides(spec, shop) {
        let Target::Limit(code) = row.target else { continue };
        let Some(limit) = &code.row().limit else { continue };
        let note = figures(&row.note, limit);
        let warning = figures(&row.warning, limit);
        let error = figures(&row.error, limit);
        for index in 0..note.len().max(warning.len()).max(error.len()) {
            limits.push(LimitOverride {
                code,
                note: note.get(index).copied(),
                warning: warning.get(index).copied(),
                error: error.get(index).copied(),
                why: why(row),
                span: row.span,
            });
        }
    }
    limits
}

/// Bounds in the unit of their limit; one of another kind has its finding and is left out.
fn figures(entry: &Option<Entry<Vec<Bound>>>, limit: &Limit) -> Vec<f64> {
    let in_unit = |(dimension, figure): &Bound| match (dimension, limit.unit) {
        (Some(Dimension::Length), "mm") | (Some(Dimension::Force), "N") | (None, "") => Some(*figure),
        (Some(Dimension::Angle), "°") => Some(figure.to_degrees()),
        (Some(Dimension::Share), "%") => Some(figure * 100.0),
        (Some(Dimension::Duration), "h") => Some(figure / 60.0),
        _ => None,
    };
    value_of(entry).into_iter().flatten().filter_map(in_unit).collect()
}

/// The tolerances that are changed, shop first.
pub(super) fn tolerances(spec: &Spec, shop: Option<&Shop>) -> Vec<ToleranceOverride> {
    let tolerance = |row: &Override| {
        let Target::Tolerance(name) = row.target else { return None };
        let [(Some(Dimension::Length), millimetres)] = value_of(&row.value)?.as_slice() else { return None };
        Some(ToleranceOverride {
            name: name.to_owned(),
            value: Length::mm(*millimetres),
            why: why(row),
            span: row.span,
        })
    };
    overrides(spec, shop).filter_map(tolerance).collect()
}
