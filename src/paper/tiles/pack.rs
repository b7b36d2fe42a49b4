//! Packing: tiles beside each other in shelves, in their order.

use kurbo::Size;

use super::cut::Tile;

/// White between tiles, millimetres.
const GAP: f64 = 5.0;

/// A tile's place on its page, from the window's upper left corner, millimetres, y down.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Placed {
    pub(super) tile: usize,
    pub(super) x: f64,
    pub(super) top: f64,
}

/// The tiles of each page. A shelf is as high as its highest tile; a page holds as many shelves as go on it.
pub(super) fn on_pages(tiles: &[Tile], room: Size) -> Vec<Vec<Placed>> {
    let mut pages: Vec<Vec<Placed>> = Vec::new();
    let (mut x, mut top, mut shelf) = (0.0, 0.0, 0.0);
    for (index, tile) in tiles.iter().enumerate() {
        let fits_beside = x + tile.width <= room.width + ROUNDING && top + tile.height <= room.height + ROUNDING;
        if pages.is_empty() || !(fits_beside || x == 0.0) {
            (x, top, shelf) = (0.0, top + shelf + GAP, 0.0);
            if pages.is_empty() || top + tile.height > room.height + ROUNDING {
                pages.push(Vec::new());
                top = 0.0;
            }
        }
        if let Some(page) = pages.last_mut() {
            page.push(Placed { tile: index, x, top });
        }
        x += tile.width + GAP;
        shelf = f64::max(shelf, tile.height);
    }
    pages
}

/// What sums of millimetres may be off by.
const ROUNDING: f64 = 1e-6;

/// The height that tiles take when packed into a width.
pub(super) fn height(tiles: &[Tile], placed: &[Placed]) -> f64 {
    placed.iter().map(|placed| placed.top + tiles[placed.tile].height).fold(0.0, f64::max)
}
