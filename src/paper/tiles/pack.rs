//! Packing: tiles beside each other in shelves, each on the first page that has room for it.

use kurbo::Size;

use super::cut::Tile;

/// White between tiles, millimetres.
const GAP: f64 = 4.0;

/// A tile's place on its page, from the window's upper left corner, millimetres, y down.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Placed {
    pub(super) tile: usize,
    pub(super) x: f64,
    pub(super) top: f64,
}

/// Tiles beside each other: as high as the highest of them.
struct Shelf {
    top: f64,
    height: f64,
    width: f64,
}

impl Shelf {
    fn end(&self) -> f64 {
        self.top + self.height
    }
}

/// A page with what lies on it.
#[derive(Default)]
struct Page {
    placed: Vec<Placed>,
    shelves: Vec<Shelf>,
}

impl Page {
    /// Puts a tile beside others, or below them on a shelf of its own; whether there is room for it. Only the lowest
    /// shelf may still grow higher.
    fn take(&mut self, index: usize, tile: &Tile, room: Size) -> bool {
        let lowest = self.shelves.len().wrapping_sub(1);
        let below = self.shelves.last().map_or(0.0, |shelf| shelf.end() + GAP);
        let fits = |top: f64| top + tile.height <= room.height + ROUNDING;
        let beside = self.shelves.iter_mut().enumerate().find(|(number, shelf)| {
            let high = tile.height <= shelf.height || (*number == lowest && fits(shelf.top));
            high && shelf.width + GAP + tile.width <= room.width + ROUNDING
        });
        if let Some((_, shelf)) = beside {
            self.placed.push(Placed { tile: index, x: shelf.width + GAP, top: shelf.top });
            shelf.width += GAP + tile.width;
            shelf.height = shelf.height.max(tile.height);
            return true;
        }
        // What is higher than any page still needs one.
        let room_below = self.shelves.is_empty() || fits(below);
        if room_below {
            self.placed.push(Placed { tile: index, x: 0.0, top: below });
            self.shelves.push(Shelf { top: below, height: tile.height, width: tile.width });
        }
        room_below
    }
}

/// The tiles of each page.
pub(super) fn on_pages(tiles: &[Tile], room: Size) -> Vec<Vec<Placed>> {
    let mut pages: Vec<Page> = Vec::new();
    for (index, tile) in tiles.iter().enumerate() {
        if !pages.iter_mut().any(|page| page.take(index, tile, room)) {
            let mut page = Page::default();
            page.take(index, tile, room);
            pages.push(page);
        }
    }
    pages.into_iter().map(|page| page.placed).collect()
}

/// What sums of millimetres may be off by.
const ROUNDING: f64 = 1e-6;

/// The height that tiles take when packed into a width.
pub(super) fn height(tiles: &[Tile], placed: &[Placed]) -> f64 {
    placed.iter().map(|placed| placed.top + tiles[placed.tile].height).fold(0.0, f64::max)
}
