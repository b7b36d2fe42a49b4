//! The limits in force: the table's own, changed by the shop file, changed again by the commission.

use crate::diag::Code;
use crate::diag::codes::{Bounds, Limit};
use crate::model::{LimitOverride, Model};

/// A figure this near to a limit passes: far below what any tool can do, far above what arithmetic loses.
pub const NEAR_ENOUGH: f64 = 1e-9;

/// The limits that hold for one commission.
#[derive(Debug, Clone, Copy)]
pub struct Limits<'a> {
    overrides: &'a [LimitOverride],
}

impl<'a> Limits<'a> {
    /// The limits of a commission and its shop.
    pub fn of(model: &'a Model) -> Self {
        Self { overrides: &model.limits }
    }

    /// The limit of a code; none where the code has none in the table.
    pub fn of_code(&self, code: Code) -> Option<Limit> {
        Some(self.changed(code, code.row().limit?))
    }

    /// A limit that depends on more than the table can say, changed by whoever changed the code's.
    pub fn changed(&self, code: Code, built_in: Limit) -> Limit {
        // A bound that the table has not takes the side of the one that it has.
        let shaped = |own: Bounds, other: Bounds| if own == Bounds::default() { other } else { own };
        let Limit { error, warning, note, .. } = built_in;
        let error_shape = shaped(error, shaped(warning, note));
        let warning_shape = shaped(warning, shaped(error, note));
        let note_shape = shaped(note, shaped(warning, error));
        let mut limit = built_in;
        for change in self.changes(code) {
            if let Some(error) = change.error {
                limit.error = with_bound(limit.error, error_shape, error);
            }
            if let Some(warning) = change.warning {
                limit.warning = with_bound(limit.warning, warning_shape, warning);
            }
            if let Some(note) = change.note {
                limit.note = with_bound(limit.note, note_shape, note);
            }
        }
        limit
    }

    /// The overrides of a code, the shop's first.
    pub fn changes(&self, code: Code) -> impl Iterator<Item = &'a LimitOverride> + use<'a> {
        self.overrides.iter().filter(move |change| change.code == code)
    }
}

/// Puts a new bound where the limit has one. Of a limit with both, the one that the new figure is nearer to.
fn with_bound(bounds: Bounds, shape: Bounds, value: f64) -> Bounds {
    let is_most = match (shape.least, shape.most) {
        (None, Some(_)) => true,
        (Some(least), Some(most)) => value > f64::midpoint(least, most),
        (_, None) => false,
    };
    if is_most { Bounds { most: Some(value), ..bounds } } else { Bounds { least: Some(value), ..bounds } }
}

/// How far a figure is inside its bounds; minus: outside. Infinite where there is no bound; of what is not a number,
/// minus infinity: it never passes.
pub(super) fn slack(bounds: Bounds, value: f64) -> f64 {
    if value.is_nan() {
        return f64::NEG_INFINITY;
    }
    let above = bounds.least.map_or(f64::INFINITY, |least| value - least);
    let below = bounds.most.map_or(f64::INFINITY, |most| most - value);
    above.min(below)
}

/// Whether a figure is outside its bounds by more than counts. Not a number is outside.
pub(super) fn fails(bounds: Bounds, value: f64) -> bool {
    slack(bounds, value) < -NEAR_ENOUGH
}

/// The bound that a figure violates, or comes nearest to.
pub(super) fn nearest(bounds: Bounds, value: f64) -> Option<f64> {
    match (bounds.least, bounds.most) {
        (Some(least), Some(most)) => Some(if value - least < most - value { least } else { most }),
        (least, most) => least.or(most),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::diag::codes;
    use crate::source::{FileId, Span};

    fn change(code: Code, warning: Option<f64>, error: Option<f64>) -> LimitOverride {
        let span = Span { file: FileId(0), start: 0, end: 0 };
        LimitOverride { code, note: None, warning, error, why: "a reason".to_owned(), span }
    }

    #[test]
    fn the_commission_goes_before_the_shop_and_the_shop_before_the_table() {
        let code = codes::CHAN_01;
        let overrides = [change(code, Some(1.3), Some(1.1)), change(code, Some(1.2), None)];
        let limit = Limits { overrides: &overrides }.of_code(code).unwrap();
        assert_eq!((limit.error.least, limit.warning.least), (Some(1.1), Some(1.2)));
        let untouched = Limits { overrides: &overrides }.of_code(codes::CHAN_03).unwrap();
        assert_eq!(untouched, codes::CHAN_03.row().limit.unwrap());
    }

    #[test]
    fn of_two_bounds_the_nearer_one_is_changed() {
        let code = codes::FRET_01;
        let overrides = [change(code, None, Some(1100.0)), change(code, None, Some(250.0))];
        let limit = Limits { overrides: &overrides }.of_code(code).unwrap();
        assert_eq!((limit.error.least, limit.error.most), (Some(250.0), Some(1100.0)));
    }

    #[test]
    fn a_limit_that_only_warns_is_changed_on_the_side_that_it_has() {
        let most = |most| Bounds { least: None, most: Some(most) };
        let built_in = Limit { error: Bounds::default(), warning: most(1.7), note: Bounds::default(), unit: "" };
        let overrides = [change(codes::CHAN_01, Some(2.0), Some(3.0))];
        let limit = Limits { overrides: &overrides }.changed(codes::CHAN_01, built_in);
        assert_eq!((limit.warning, limit.error), (most(2.0), most(3.0)));
    }

    #[test]
    fn a_note_is_changed_on_the_side_that_the_limit_has() {
        let code = codes::SLOT_07;
        let overrides = [LimitOverride { note: Some(1.8), ..change(code, Some(2.5), None) }];
        let limit = Limits { overrides: &overrides }.of_code(code).unwrap();
        assert_eq!((limit.note.most, limit.warning.most, limit.error), (Some(1.8), Some(2.5), Bounds::default()));
        let overrides = [LimitOverride { note: Some(2.0), ..change(codes::CHAN_01, None, None) }];
        let limit = Limits { overrides: &overrides }.of_code(codes::CHAN_01).unwrap();
        assert_eq!(limit.note, Bounds { least: Some(2.0), most: None });
    }

    #[test]
    fn a_figure_on_its_limit_passes() {
        let bounds = Bounds { least: Some(1.0), most: None };
        assert!(!fails(bounds, 1.0 - 1e-10));
        assert!(fails(bounds, 1.0 - 1e-8));
        assert!(fails(bounds, f64::NAN));
    }
}
