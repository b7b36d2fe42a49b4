//! What the board and its lamps take from the rack and the drawers: quantities, what is added for waste, what that
//! comes to, and where the shop has it.
//!
//! Waste by kind is common practice, no source: wood none (the blank has its own allowance), fret wire 10 % and whole
//! sticks, hook-up wire 20 %, lamps 10 % and two at least, resistors two of each value, binding 15 %; the epoxy's
//! allowance is in its mix already.

mod billet;
mod lines;
mod price;
mod sizes;

pub use billet::boards_from_billet;
pub use lines::lines;

use crate::model::{Key, Known};
use crate::source::Span;

/// One line of the list.
#[derive(Debug, Clone, PartialEq)]
pub struct Line {
    /// What it is.
    pub what: Name,
    /// Its size or kind, in words; may be empty.
    pub size: String,
    /// The key that it follows from.
    pub from: Key,
    /// How much is used, in its unit.
    pub quantity: Known<f64>,
    /// The unit it is counted and sold in.
    pub unit: String,
    /// Share added for waste.
    pub waste: f64,
    /// The least that is taken, whatever the waste comes to: spares, whole sticks.
    pub at_least: f64,
    /// How the shop has it.
    pub shelf: Shelf,
    /// The papers of a listed species, as the commission writes them.
    pub papers: Option<String>,
}

/// A line's name.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Name {
    /// Words of our own.
    Ours(String),
    /// From a commission or shop file.
    Written(String),
}

/// How the shop has a thing; each is empty where the shop file does not say.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Shelf {
    /// Price of a unit.
    pub unit_price: Option<f64>,
    /// How many are there.
    pub on_shelf: Option<f64>,
    /// Where.
    pub bin: Option<String>,
    /// The shop's row, where it names no price at all.
    pub unpriced: Option<Span>,
}

impl Name {
    /// The words.
    pub fn words(&self) -> &str {
        match self {
            Self::Ours(words) | Self::Written(words) => words,
        }
    }
}

impl Line {
    /// What is taken: the quantity with its waste, in whole units.
    ///
    /// # Errors
    /// With the key that the quantity waits for.
    pub fn take(&self) -> Known<f64> {
        let quantity = self.quantity?;
        Ok(crate::rounding::up(quantity * (1.0 + self.waste), 1.0).max(self.at_least))
    }

    /// What it costs, in the shop's currency, unrounded; none where the shop names no price.
    ///
    /// # Errors
    /// With the key that the quantity waits for.
    pub fn cost(&self) -> Known<Option<f64>> {
        let take = self.take()?;
        Ok(self.shelf.unit_price.map(|price| price * take))
    }
}

/// The sum of all lines that have a price and a quantity, unrounded.
pub fn total(lines: &[Line]) -> f64 {
    lines.iter().filter_map(|line| line.cost().ok().flatten()).sum()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn line(quantity: f64, waste: f64, at_least: f64) -> Line {
        Line {
            what: Name::Ours("wire".to_owned()),
            size: String::new(),
            from: "wire.stick",
            quantity: Ok(quantity),
            unit: "stick".to_owned(),
            waste,
            at_least,
            shelf: Shelf { unit_price: Some(1.9), ..Shelf::default() },
            papers: None,
        }
    }

    #[test]
    fn whole_units_are_taken_and_never_fewer_than_the_plan_needs() {
        assert_eq!(line(2.725, 0.10, 3.0).take(), Ok(3.0));
        assert_eq!(line(2.725, 0.10, 4.0).take(), Ok(4.0), "the cutting plan needs a fourth stick");
        assert_eq!(line(14.0, 0.10, 16.0).take(), Ok(16.0));
        assert_eq!(line(3.0, 0.0, 0.0).take(), Ok(3.0));
    }

    #[test]
    fn the_total_is_of_unrounded_lines() {
        let total = total(&[line(3.0, 0.0, 0.0), line(1.0, 0.0, 0.0)]);
        assert!((total - 4.0 * 1.9).abs() < 1e-12);
    }
}
