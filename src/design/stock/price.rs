//! Finds a thing on the shop's shelf by what it is and how large it is.

use super::Shelf;
use crate::model::{Known, Missing, Model, Sourced, StockItem, StockKind};
use crate::units::{Length, Power};

/// Sizes this near are one size, millimetres.
const SAME_SIZE: f64 = 0.005;

/// The shelf of a stock item.
pub(super) fn shelf(item: &StockItem) -> Shelf {
    Shelf { unit_price: item.price, on_shelf: item.on_shelf, bin: item.bin.clone() }
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
