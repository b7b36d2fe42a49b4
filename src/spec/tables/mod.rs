//! The tables of the commission file, one declaration each.

mod board;
mod commission;
mod electronics;
mod lights;
mod money;
mod neck;
mod plausible;
mod scale;
mod shop;
mod strings;
mod wire;

pub use board::{BlankTable, BoardTable, RadiusTable, TaperTable};
pub use commission::{CommissionTable, PartsTable};
pub use electronics::{ControlTable, ElectronicsTable, LampCircuitTable, OutputTable, PickupTable};
pub use lights::{ChannelsTable, LampTable, MarkersTable, SideTable};
pub use money::{CoatTable, FinishTable, MaterialTable, QuoteTable, WaiverTable};
pub use neck::{BodyTable, HoleTable, NeckTable, PocketTable, ScrewTable};
pub(crate) use plausible::plausible;
pub use scale::{FretsTable, PartialTable, ScaleTable};
pub use shop::{
    BarsTable, BladeTable, Defaults, EpoxyTable, PrintTable, Shop, ShopStringsTable, ShopTable, StockSizes, StockTable,
    ToolsTable, WoodTable,
};
pub use strings::{ActionTable, SetupTable, StringSet, StringTable, StringsTable};
pub use wire::{SlotsTable, WireTable};

use super::overrides::Override;
use super::table::{Table, table};

table! {
    /// A commission file as written.
    Spec {
        /// The edition of the language.
        format: u32 => optional count(),
        /// `[commission]`.
        commission: CommissionTable => required section(),
        /// `[parts]`.
        parts: PartsTable => optional section(),
        /// `[scale]`.
        scale: ScaleTable => required section(),
        /// `[frets]`.
        frets: FretsTable => required section(),
        /// `[wire]`.
        wire: WireTable => required section(),
        /// `[slots]`.
        slots: SlotsTable => required section(),
        /// `[radius]`.
        radius: RadiusTable => required section(),
        /// `[taper]`.
        taper: TaperTable => required section(),
        /// `[board]`.
        board: BoardTable => required section(),
        /// `[markers]`.
        markers: MarkersTable => optional section(),
        /// `[lamp]`.
        lamp: LampTable => optional section(),
        /// `[channels]`.
        channels: ChannelsTable => optional section(),
        /// `[electronics]`.
        electronics: ElectronicsTable => optional section(),
        /// `[strings]`.
        strings: StringsTable => required section(),
        /// `[neck]`.
        neck: NeckTable => optional section(),
        /// `[setup]`.
        setup: SetupTable => optional section(),
        /// `[body]`.
        body: BodyTable => optional section(),
        /// `[finish]`.
        finish: FinishTable => optional section(),
        /// `[[materials]]`.
        materials: Vec<MaterialTable> => optional rows(),
        /// `[quote]`.
        quote: QuoteTable => optional section(),
        /// `[[waiver]]`.
        waiver: Vec<WaiverTable> => optional rows(),
        /// `[limits]`.
        limits: Vec<Override> => optional overrides(),
        /// `[tolerances]`.
        tolerances: Vec<Override> => optional overrides(),
    }
}

/// Each table with its keys, to tell a reader of a message where a key is at home.
pub(crate) const HOMES: &[(&str, &[&str])] = &[
    ("commission", CommissionTable::KEYS),
    ("parts", PartsTable::KEYS),
    ("scale", ScaleTable::KEYS),
    ("frets", FretsTable::KEYS),
    ("wire", WireTable::KEYS),
    ("slots", SlotsTable::KEYS),
    ("radius", RadiusTable::KEYS),
    ("taper", TaperTable::KEYS),
    ("board", BoardTable::KEYS),
    ("markers", MarkersTable::KEYS),
    ("lamp", LampTable::KEYS),
    ("channels", ChannelsTable::KEYS),
    ("electronics.lamps", LampCircuitTable::KEYS),
    ("strings", StringsTable::KEYS),
    ("neck", NeckTable::KEYS),
    ("setup", SetupTable::KEYS),
    ("body", BodyTable::KEYS),
    ("finish", FinishTable::KEYS),
    ("quote", QuoteTable::KEYS),
];
