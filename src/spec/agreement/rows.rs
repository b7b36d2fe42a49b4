//! `[setup]`, and the rows of the lists that belong to no part.

use super::Judge;
use crate::diag::codes;
use crate::spec::entry::value_of;
use crate::spec::tables::{ActionTable, Spec};

impl Judge<'_> {
    pub(super) fn setup(&mut self, spec: &Spec) {
        let Some(setup) = value_of(&spec.setup) else { return };
        let actions = [("setup.action_1", &setup.action_1), ("setup.action_12", &setup.action_12)];
        for (path, action) in actions {
            let action: Option<&ActionTable> = value_of(action);
            if let Some(action) = action {
                self.missing(codes::SPEC_08, path, action.header, action.missing());
            }
        }
        if let Some(heights) = &setup.bridge_height
            && let Some(list) = heights.value()
        {
            let figures: Vec<f64> =
                list.iter().filter_map(|entry| entry.value().map(|height| height.to_mm())).collect();
            let help = Some("write the lowest and the highest setting: [\"10 mm\", \"16 mm\"]".to_owned());
            if list.len() != 2 {
                let message = format!("`setup.bridge_height` has {} figures and needs two", list.len());
                self.say(codes::SPEC_06, "setup.bridge_height", heights.span, message, help);
            } else if figures.len() == 2 && figures[0] > figures[1] {
                let message = "`setup.bridge_height`: the lowest setting is above the highest".to_owned();
                self.say(codes::SPEC_06, "setup.bridge_height", heights.span, message, help);
            }
        }
    }

    /// Rows of the lists that belong to no part.
    pub(super) fn rows(&mut self, spec: &Spec) {
        if let Some(coats) = value_of(&spec.finish).and_then(|finish| value_of(&finish.coats)) {
            for (index, coat) in coats.iter().enumerate() {
                self.missing(codes::SPEC_02, &format!("finish.coats[{}]", index + 1), coat.header, coat.missing());
            }
        }
        for (index, line) in value_of(&spec.materials).into_iter().flatten().enumerate() {
            self.missing(codes::SPEC_02, &format!("materials[{}]", index + 1), line.header, line.missing());
        }
        for (index, waiver) in value_of(&spec.waiver).into_iter().flatten().enumerate() {
            self.missing(codes::SPEC_02, &format!("waiver[{}]", index + 1), waiver.header, waiver.missing());
        }
    }
}
