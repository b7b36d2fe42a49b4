//! The shop file: rows that lack what they must have, ids that stand twice.

use super::Judge;
use crate::diag::{Diagnostic, Report, Severity, codes};
use crate::spec::entry::value_of;
use crate::spec::tables::{Shop, ToolsTable};

/// Judges a shop file.
pub(crate) fn judge_shop(shop: &Shop, report: &mut Report) {
    let mut judge = Judge { report };
    if let Some(bars) = value_of(&shop.print).and_then(|print| value_of(&print.bar_measured)) {
        judge.missing(codes::SPEC_08, "print.bar_measured", bars.header, bars.missing());
    }
    if let Some(tools) = value_of(&shop.tools) {
        judge.blades(tools);
    }
    let woods = value_of(&shop.wood).map_or(&[] as &[_], Vec::as_slice);
    for (index, wood) in woods.iter().enumerate() {
        judge.missing(codes::SPEC_02, &format!("wood[{}]", index + 1), wood.header, wood.missing());
    }
    judge.names_once("wood", "id", woods.iter().map(|wood| wood.id.as_ref()));
    let stock = value_of(&shop.stock).map_or(&[] as &[_], Vec::as_slice);
    for (index, item) in stock.iter().enumerate() {
        judge.missing(codes::SPEC_02, &format!("stock[{}]", index + 1), item.header(), item.row.missing());
    }
    judge.names_once("stock", "id", stock.iter().map(|item| item.row.id.as_ref()));
    let sets = value_of(&shop.strings).map_or(&[] as &[_], Vec::as_slice);
    for (index, set) in sets.iter().enumerate() {
        let path = format!("strings[{}]", index + 1);
        judge.missing(codes::SPEC_02, &path, set.header, set.missing());
        if let Some(entry) = &set.set
            && let Some(list) = entry.value()
        {
            judge.string_list(&format!("{path}.set"), entry.span, list);
        }
    }
    judge.names_once("strings", "id", sets.iter().map(|set| set.id.as_ref()));
    judge.overrides(&shop.limits, "limits");
    judge.overrides(&shop.tolerances, "tolerances");
    judge.paper_twice(shop);
}

impl Judge<'_> {
    fn blades(&mut self, tools: &ToolsTable) {
        let blades = value_of(&tools.blades).map_or(&[] as &[_], Vec::as_slice);
        for (index, blade) in blades.iter().enumerate() {
            self.missing(codes::SPEC_02, &format!("tools.blades[{}]", index + 1), blade.header, blade.missing());
        }
        self.names_once("tools.blades", "name", blades.iter().map(|blade| blade.name.as_ref()));
    }

    /// Paper and unit may stand in `[shop]` and in `[defaults.commission]`; they must not disagree.
    fn paper_twice(&mut self, shop: &Shop) {
        let (Some(here), Some(defaults)) = (value_of(&shop.shop), value_of(&shop.defaults)) else { return };
        let Some(there) = value_of(&defaults.commission) else { return };
        let paper = match (&here.paper, &there.paper) {
            (Some(one), Some(other)) if one.value() != other.value() => Some(("paper", one.span, other.span)),
            _ => None,
        };
        let unit = match (&here.print_in, &there.print_in) {
            (Some(one), Some(other)) if one.value() != other.value() => Some(("print_in", one.span, other.span)),
            _ => None,
        };
        for (key, one, other) in [paper, unit].into_iter().flatten() {
            let (first, second) = (one.min(other), one.max(other));
            let place = if second == one { format!("shop.{key}") } else { format!("defaults.commission.{key}") };
            let message = format!("`shop.{key}` and `defaults.commission.{key}` disagree");
            let finding = Diagnostic::new(codes::SPEC_07, Severity::Error, place.clone(), message)
                .at(Some(second))
                .with(Some(first), place, "written first")
                .help("keep one of them");
            self.report.push(finding);
        }
    }
}
