//! Finds a thing on the shop's shelf by what it is and how large it is.

use super::{Line, Name, Shelf};
use crate::model::{Known, Missing, Model, SAME_SIZE, Sourced, StockItem, StockKind};
use crate::units::{Length, MM_PER_INCH, Power};

/// Puts a line on the shelf of a stock item: under the item's name, counted in the unit that the shop sells it in.
///
/// Where that unit cannot be reckoned from the line's own, neither price nor number of the shelf say anything here:
/// only the bin is kept.
pub(super) fn put_on_shelf(line: &mut Line, item: &StockItem) {
    line.what = Name::Written(item.what.clone());
    let factor = item.unit.as_deref().map_or(Some(1.0), |unit| units_in(&line.unit, unit));
    match (factor, &item.unit) {
        (Some(factor), unit) => {
            line.quantity = line.quantity.map(|quantity| quantity * factor);
            line.at_least *= factor;
            if let Some(unit) = unit {
                line.unit.clone_from(unit);
            }
            line.shelf = Shelf { unit_price: item.price, on_shelf: item.on_shelf, ..Shelf::default() };
        }
        (None, _) => line.shelf = Shelf::default(),
    }
    line.shelf.bin.clone_from(&item.bin);
    line.shelf.unpriced = item.price.is_none().then_some(item.span);
}

/// How many of a unit one of another makes; none where they measure different things.
fn units_in(own: &str, other: &str) -> Option<f64> {
    let (own, other) = (own.trim().to_lowercase(), other.trim().to_lowercase());
    if own == other {
        return Some(1.0);
    }
    let (own_kind, own_size) = measure(&own)?;
    let (other_kind, other_size) = measure(&other)?;
    (own_kind == other_kind).then(|| own_size / other_size)
}

/// What a unit measures, and its size among the units of its kind; none for a count of things.
fn measure(unit: &str) -> Option<(char, f64)> {
    Some(match unit {
        "m" | "metre" | "metres" | "meter" | "meters" => ('l', 1.0),
        "cm" => ('l', 0.01),
        "mm" => ('l', 0.001),
        "in" | "inch" | "inches" => ('l', MM_PER_INCH / 1000.0),
        "ft" | "foot" | "feet" => ('l', MM_PER_INCH * 12.0 / 1000.0),
        "yd" | "yard" | "yards" => ('l', MM_PER_INCH * 36.0 / 1000.0),
        "ml" => ('v', 1.0),
        "cl" => ('v', 10.0),
        "l" | "litre" | "litres" | "liter" | "liters" => ('v', 1000.0),
        "piece" | "pieces" | "pcs" => ('n', 1.0),
        _ => return None,
    })
}

/// Whether wood sold in this unit is sold by the piece, billet, board: not by length, volume or weight.
pub(super) fn is_counted(unit: &str) -> bool {
    let unit = unit.trim().to_lowercase();
    let is_amount =
        matches!(unit.as_str(), "kg" | "g" | "lb" | "m2" | "m²" | "m3" | "m³" | "bf" | "board foot" | "board feet");
    !is_amount && measure(&unit).is_none_or(|(kind, _)| kind == 'n')
}

/// The item of a kind with the id of the pattern, else the first whose sizes are those asked for.
pub(super) fn find<'a>(
    model: &'a Model,
    kind: StockKind,
    pattern: Option<&Sourced<String>>,
    sizes: &[(&str, Known<Length>)],
) -> Option<&'a StockItem> {
    let of_kind = || model.shop.stock.iter().filter(move |item| item.kind == kind);
    let by_id = pattern.and_then(|pattern| pattern.get().ok()).and_then(|id| of_kind().find(|item| item.id == id));
    by_id.or_else(|| of_kind().find(|item| fits(item, sizes)))
}

/// Whether an item states a size and none that differs from what is asked for.
fn fits(item: &StockItem, sizes: &[(&str, Known<Length>)]) -> bool {
    let mut stated = sizes.iter().filter_map(|(key, wanted)| {
        let (_, own) = item.sizes.iter().find(|(own, _)| own == key)?;
        Some((own.to_mm(), wanted.map(Length::to_mm)))
    });
    let mut any = false;
    let all = stated.all(|(own, wanted)| {
        any = true;
        wanted.is_ok_and(|wanted: f64| (own - wanted).abs() <= SAME_SIZE)
    });
    any && all
}

/// The first resistor rated for at least what is asked for, or any where nothing is asked for.
pub(super) fn resistor(model: &Model, rating: Option<Known<Power>>) -> Option<&StockItem> {
    let wanted = rating.unwrap_or(Err(Missing::faulty("electronics.lamps.resistor_rating"))).ok();
    model.shop.stock.iter().filter(|item| item.kind == StockKind::Resistor).find(|item| match (item.rating, wanted) {
        (Some(own), Some(wanted)) => own.to_watts() >= wanted.to_watts() * (1.0 - 1e-9),
        _ => true,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn units_of_one_kind_are_reckoned_over() {
        assert_eq!(units_in("piece", "Piece"), Some(1.0));
        assert_eq!(units_in("ml", "l"), Some(0.001));
        // The foot of 1959: 0.3048 m.
        assert!((units_in("m", "ft").unwrap() * 0.3048 - 1.0).abs() < 1e-12);
    }

    #[test]
    fn units_that_measure_different_things_are_not() {
        assert_eq!(units_in("m", "roll"), None);
        assert_eq!(units_in("stick", "m"), None);
        assert_eq!(units_in("ml", "piece"), None);
    }

    #[test]
    fn a_billet_is_counted_and_a_board_foot_is_not() {
        assert!(is_counted("billet") && is_counted("piece"));
        assert!(!is_counted("board foot") && !is_counted("kg") && !is_counted("m"));
    }
}
