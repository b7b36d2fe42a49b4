//! Full size on ordinary paper: plans cut into tiles that overlap, packed on pages, with bars to prove the print by.
//!
//! In: [`Piece`]s, plans in millimetres of the thing itself. Out: [`Tiled`], pages of a [`Frame`] whose tiles say what
//! they are, where they lie and by which stamps they hold, or one long page for a roll. Cut at a seam, laid cross on
//! cross, the tiles are the plan again. A printer known to be off is corrected by [`Stretch`]. No word of the trade
//! here.

mod bars;
mod cut;
mod pack;
mod page;
mod seam;

use kurbo::Rect;

use super::frame::Frame;
use super::page::{Element, Page};
use super::volume::Volume;
use crate::drawing::Plan;
use crate::rounding;
use cut::Tile;

/// A plan to be printed at full size.
#[derive(Debug, Clone, PartialEq)]
pub struct Piece {
    /// What it is; printed over every tile.
    pub title: String,
    /// By what it holds; printed over every tile.
    pub note: String,
    /// The plan.
    pub plan: Plan,
    /// The ruler along it; none for a plan that has no datum of its own.
    pub ruler: Option<Ruler>,
    /// Whether it is laid up the page whatever its size.
    pub lengthwise: bool,
}

/// A ruler along the foot of each tile.
#[derive(Debug, Clone, PartialEq)]
pub struct Ruler {
    /// Where it is counted from: `the squared end`.
    pub datum: String,
    /// The plan's x there, millimetres.
    pub origin: f64,
    /// The unit's sign.
    pub unit: &'static str,
    /// Millimetres in the unit.
    pub millimetres: f64,
    /// From tick to tick, in the unit.
    pub step: f64,
    /// Every so many ticks have their figure.
    pub figures: usize,
}

impl Ruler {
    /// Millimetres from tick to tick.
    fn pitch(&self) -> f64 {
        self.step * self.millimetres
    }

    /// A place of the plan as the ruler counts it, in its unit, from its beginning on.
    fn reading(&self, x: f64) -> String {
        let decimals = if self.step < 1.0 { 2 } else { 1 };
        rounding::fixed(((x - self.origin) / self.millimetres).max(0.0), decimals)
    }
}

/// By how much a drawing is stretched so that a printer which is off prints it right; 1 for a true printer.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Stretch {
    /// Along the paper's short side.
    pub x: f64,
    /// Along its long side.
    pub y: f64,
}

impl Stretch {
    /// Nothing to correct.
    pub const NONE: Self = Self { x: 1.0, y: 1.0 };
}

/// Pieces cut into tiles and packed on pages.
#[derive(Debug, Clone)]
pub struct Tiled {
    tiles: Vec<Tile>,
    elements: Vec<Element>,
    pages: Vec<Vec<pack::Placed>>,
    stretch: Stretch,
    window: Rect,
}

/// Where a tile came to lie.
#[derive(Debug, Clone, PartialEq)]
pub struct TilePlace {
    /// Its piece, from 0.
    pub piece: usize,
    /// Which of the piece's tiles, from 0, and how many there are.
    pub tile: (usize, usize),
    /// The page, from 0.
    pub page: usize,
    /// The stretch of the plan that it shows, in millimetres of the plan.
    pub area: Rect,
    /// The seams across its length that it is cut at, in millimetres of the plan.
    pub seams: Vec<f64>,
    /// The plan's lower left corner, shown where on the page: a function of the plan's place.
    map: cut::Map,
}

impl TilePlace {
    /// Where a place of the plan lies on the page, millimetres from its lower left corner.
    pub fn on_page(&self, at: kurbo::Point) -> kurbo::Point {
        self.map.at(at)
    }
}

/// Cuts pieces into tiles for pages of a frame, and packs them.
pub fn tile(pieces: &[Piece], frame: &Frame, stretch: Stretch) -> Tiled {
    let window = page::window(frame.body(None));
    let (tiles, elements) = cut::tiles(pieces, stretch, Some(window.size()));
    let pages = pack::on_pages(&tiles, window.size());
    Tiled { tiles, elements, pages, stretch, window }
}

/// All pieces whole on one page, as long as the longest of them, for a printer with paper on a roll.
pub fn roll(pieces: &[Piece], frame: &Frame) -> Volume {
    page::roll(pieces, frame)
}

impl Tiled {
    /// How many pages there are.
    pub fn page_count(&self) -> usize {
        self.pages.len()
    }

    /// Where each tile lies.
    pub fn places(&self) -> Vec<TilePlace> {
        let on_page = |(page, placed): (usize, &Vec<pack::Placed>)| {
            placed.iter().map(|placed| self.place(page, placed)).collect::<Vec<_>>()
        };
        self.pages.iter().enumerate().flat_map(on_page).collect()
    }

    fn place(&self, page: usize, placed: &pack::Placed) -> TilePlace {
        let tile = &self.tiles[placed.tile];
        let corner = (self.window.x0 + placed.x, self.window.y1 - placed.top - tile.height);
        TilePlace {
            piece: tile.piece,
            tile: tile.number,
            page,
            area: tile.area,
            seams: tile.seams.clone(),
            map: tile.map.moved(corner),
        }
    }

    /// Draws the pages within a frame and binds them in after others as one sheet. Pages are numbered from `first`
    /// of `count`.
    pub fn append_to(&self, volume: &mut Volume, name: &str, frame: &Frame, (first, count): (usize, usize)) {
        let pages: Vec<Page> =
            (0..self.pages.len()).map(|index| page::draw(self, index, frame, (first + index, count))).collect();
        volume.append_pages(name, pages, &self.elements);
    }
}
