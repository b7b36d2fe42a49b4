//! How many boards come out of a billet of the shop's rack.
//!
//! In: the billet's and the blank's length, width and thickness, what the saw takes. Out: a count. The blank lies in
//! the billet as it grew: length along length, width across width.

use super::lines::blank_size;
use crate::design::Design;
use crate::design::formulas::pieces_in_billet;
use crate::model::{Known, Model};
use crate::rounding;
use crate::units::Length;

/// Boards out of the billet that the shop sells this wood in; none where the shop says nothing of one.
///
/// A saw of which nothing is said takes nothing, so that the count is rather too high than too low.
///
/// # Errors
/// With the key that is open or cannot be used.
pub fn boards_from_billet(model: &Model, design: &Design) -> Known<Option<f64>> {
    let wood = model.board.wood.get()?;
    let billet = model.shop.woods.iter().find(|stock| stock.wood.id == wood.id).and_then(|stock| stock.billet);
    let Some(billet) = billet else { return Ok(None) };
    let saw = model.shop.tools.billet_saw.map_or(0.0, Length::to_mm);
    Ok(Some(boards(billet.map(Length::to_mm), blank_size(model, design)?, saw)))
}

/// Whole blanks side by side, on top of each other and one behind the other.
fn boards(billet: [f64; 3], blank: [f64; 3], saw: f64) -> f64 {
    billet
        .into_iter()
        .zip(blank)
        .map(|(billet, blank)| rounding::down(pieces_in_billet(billet, blank, saw), 1.0))
        .product()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn same(a: f64, b: f64) -> bool {
        (a - b).abs() < f64::EPSILON
    }

    #[test]
    fn a_billet_yields_whole_blanks_only() {
        // Worked by hand: 2 across, 4 in the thickness, 1 along; no published source.
        assert!(same(boards([620.0, 160.0, 40.0], [540.0, 74.0, 8.0], 2.4), 8.0));
        assert!(same(boards([620.0, 160.0, 40.0], [630.0, 74.0, 8.0], 2.4), 0.0));
    }

    #[test]
    fn pieces_that_just_fit_with_the_saw_between_them_are_counted() {
        assert!(same(boards([500.0, 2.0 * 70.1 + 2.2, 7.0], [500.0, 70.1, 7.0], 2.2), 2.0));
        assert!(same(boards([500.0, 2.0 * 70.1 + 2.1, 7.0], [500.0, 70.1, 7.0], 2.2), 1.0));
    }
}
