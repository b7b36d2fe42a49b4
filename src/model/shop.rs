//! What is true of the shop and not of one instrument, resolved.

use super::{Sourced, Wood};
use crate::source::Span;
use crate::units::{Duration, Length, Power, Share};

/// The shop file, resolved; everything is optional, and no shop file is needed.
#[derive(Debug, Clone, Default)]
pub struct Shop {
    /// The shop's name.
    pub name: Option<String>,
    /// Lines of its letterhead.
    pub letterhead: Vec<String>,
    /// Currency of its prices.
    pub currency: Option<String>,
    /// Which sheets are printed, in which order; empty: all.
    pub sheets: Vec<String>,
    /// What the 100 mm bars of a test print measure, along the paper's short side and its long one.
    pub bar_measured: Option<[Sourced<Length>; 2]>,
    /// Tools.
    pub tools: Tools,
    /// Epoxy.
    pub epoxy: Epoxy,
    /// Woods on the rack.
    pub woods: Vec<StockWood>,
    /// Stock in the drawers.
    pub stock: Vec<StockItem>,
}

/// `[tools]`.
#[derive(Debug, Clone, Default)]
pub struct Tools {
    /// Deepest cut of the slotting saw.
    pub saw_depth: Option<Length>,
    /// Bits, by diameter.
    pub bits: Vec<Tool>,
    /// Cutters, by diameter.
    pub cutters: Vec<Tool>,
    /// Radius blocks, by radius.
    pub radius_blocks: Vec<Tool>,
    /// Lost to each cut of the saw that makes blanks from a billet.
    pub billet_saw: Option<Length>,
}

/// A tool that is known by its size.
#[derive(Debug, Clone, PartialEq)]
pub struct Tool {
    /// Its size.
    pub size: Length,
    /// The size as written: `1/8 in`.
    pub written: String,
    /// Where it is written.
    pub span: Span,
}

/// Sizes of tools and stock this near are one size: half of the last place that a drawer is labelled with, in
/// millimetres. Common practice, no source.
pub const SAME_SIZE: f64 = 0.005;

/// A block whose radius is this near is the block: 14 in and 356 mm are one. Millimetres. Common practice, no source.
const SAME_BLOCK: f64 = 1.0;

impl Tool {
    /// Whether a block is one of a radius, in millimetres.
    pub fn is_block_of(&self, radius: f64) -> bool {
        self.off(radius) <= SAME_BLOCK
    }

    /// How far its size is from another, in millimetres.
    fn off(&self, size: f64) -> f64 {
        (self.size.to_mm() - size).abs()
    }
}

impl Tools {
    /// The radius block that comes nearest to a radius in millimetres; none where the shop lists none.
    pub fn nearest_block(&self, radius: f64) -> Option<&Tool> {
        self.radius_blocks.iter().min_by(|one, other| one.off(radius).total_cmp(&other.off(radius)))
    }
}

/// `[epoxy]`.
#[derive(Debug, Clone, PartialEq)]
pub struct Epoxy {
    /// Parts of A to parts of B by volume.
    pub mix: (f64, f64),
    /// Time it can be poured.
    pub pot_life: Option<Sourced<Duration>>,
    /// Time until it may be worked.
    pub cure: Option<Duration>,
    /// The maker's deepest pour.
    pub pour_depth: Option<Sourced<Length>>,
    /// Share added for what stays in cup and syringe.
    pub allowance: Share,
}

impl Default for Epoxy {
    fn default() -> Self {
        Self { mix: (2.0, 1.0), pot_life: None, cure: None, pour_depth: None, allowance: Share::parts(0.25) }
    }
}

/// A wood on the rack.
#[derive(Debug, Clone)]
pub struct StockWood {
    /// The wood.
    pub wood: Wood,
    /// Length, width and thickness of the billet it is sold in, where all three are written.
    pub billet: Option<[Length; 3]>,
    /// Price of a unit in the shop's currency.
    pub price: Option<f64>,
    /// The unit it is sold in.
    pub unit: Option<String>,
    /// How many are there.
    pub on_shelf: Option<f64>,
    /// Where.
    pub bin: Option<String>,
    /// Where it is written.
    pub span: Span,
}

/// What an item of stock is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum StockKind {
    /// Fret wire.
    Wire,
    /// Lamps.
    Lamp,
    /// Hook-up wire.
    Hookup,
    /// Resistors.
    Resistor,
    /// Epoxy.
    Epoxy,
    /// Anything else, by its word.
    Other,
}

/// An item of stock.
#[derive(Debug, Clone)]
pub struct StockItem {
    /// Its id.
    pub id: String,
    /// What it is, as printed.
    pub what: String,
    /// Its kind.
    pub kind: StockKind,
    /// Sizes, by the commission file's keys; lengths only.
    pub sizes: Vec<(String, Length)>,
    /// The rating of a resistor.
    pub rating: Option<Power>,
    /// The unit it is sold in.
    pub unit: Option<String>,
    /// Price of a unit in the shop's currency.
    pub price: Option<f64>,
    /// How many are there.
    pub on_shelf: Option<f64>,
    /// Where.
    pub bin: Option<String>,
    /// Where it is written.
    pub span: Span,
}
