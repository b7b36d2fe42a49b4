//! The shop file: what is true of the shop and not of one instrument.

use super::{
    BlankTable, BoardTable, BodyTable, ChannelsTable, CommissionTable, ElectronicsTable, FinishTable, FretsTable,
    LampTable, MarkersTable, NeckTable, PartsTable, QuoteTable, RadiusTable, ScaleTable, SetupTable, SlotsTable,
    StringTable, StringsTable, TaperTable, WireTable,
};
use crate::source::Span;
use crate::spec::entry::{Entry, Fill, value_of};
use crate::spec::overrides::Override;
use crate::spec::quantity::{Price, Ratio};
use crate::spec::reader::Least::{MoreThanZero, Zero};
use crate::spec::reader::TableReader;
use crate::spec::table::{Table, table};
use crate::spec::words::{Paper, PrintIn};
use crate::units::{Density, Duration, Length, Power, Share};

table! {
    /// A shop file as written.
    Shop {
        /// `[shop]`.
        shop: ShopTable => optional section(),
        /// `[print]`.
        print: PrintTable => optional section(),
        /// `[tools]`.
        tools: ToolsTable => optional section(),
        /// `[epoxy]`.
        epoxy: EpoxyTable => optional section(),
        /// `[[wood]]`.
        wood: Vec<WoodTable> => optional rows(),
        /// `[[stock]]`.
        stock: Vec<StockTable> => optional rows(),
        /// `[[strings]]`.
        strings: Vec<ShopStringsTable> => optional rows(),
        /// `[defaults]`.
        defaults: Defaults => optional section(),
        /// `[limits]`.
        limits: Vec<Override> => optional overrides(),
        /// `[tolerances]`.
        tolerances: Vec<Override> => optional overrides(),
    }
}

table! {
    /// `[shop]`.
    ShopTable {
        /// The shop's name.
        name: String => optional name(),
        /// Lines of its letterhead.
        letterhead: Vec<Entry<String>> => optional texts(),
        /// Currency of its prices.
        currency: String => optional name(),
        /// An hour at the bench.
        rate: Price => optional price(),
        /// The paper.
        paper: Paper => optional word(),
        /// The working unit.
        print_in: PrintIn => optional word(),
        /// Working hours of a day.
        hours_a_day: Duration => optional hours(),
        /// Share added to the cost.
        margin: Share => optional quantity(Zero),
        /// Share due when the customer agrees.
        deposit: Share => optional quantity(Zero),
        /// Tax.
        tax: Share => optional quantity(Zero),
    }
}

table! {
    /// `[print]`.
    PrintTable {
        /// The 100 mm bars of a test print, measured.
        bar_measured: BarsTable => optional group(),
        /// A folder of the shop's own templates.
        templates: String => optional name(),
        /// Which sheets are printed, in which order.
        sheets: Vec<Entry<String>> => optional names(),
    }
}

table! {
    /// The bars of a test print.
    BarsTable {
        /// Along the paper's short side.
        x: Length => required quantity(MoreThanZero),
        /// Along its long side.
        y: Length => required quantity(MoreThanZero),
    }
}

table! {
    /// `[tools]`.
    ToolsTable {
        /// Deepest cut of the slotting saw.
        saw_depth: Length => optional quantity(MoreThanZero),
        /// Slotting blades.
        blades: Vec<BladeTable> => optional tables(),
        /// Bits, by diameter.
        bits: Vec<Entry<Length>> => optional quantities(MoreThanZero),
        /// Cutters, by diameter.
        cutters: Vec<Entry<Length>> => optional quantities(MoreThanZero),
        /// How deep a cutter reaches.
        cutter_reach: Length => optional quantity(MoreThanZero),
        /// Radius blocks.
        radius_blocks: Vec<Entry<Length>> => optional quantities(MoreThanZero),
        /// Lost to each cut of the saw that makes blanks from a billet.
        billet_saw: Length => optional quantity(Zero),
    }
}

table! {
    /// A slotting blade.
    BladeTable {
        /// Its name.
        name: String => required name(),
        /// What it cuts, measured in a test cut.
        kerf: Length => required quantity(MoreThanZero),
    }
}

table! {
    /// `[epoxy]`.
    EpoxyTable {
        /// Part A to part B, by volume.
        mix: Ratio => optional ratio(),
        /// How long it can be poured.
        pot_life: Duration => optional quantity(MoreThanZero),
        /// How long until it may be worked.
        cure: Duration => optional quantity(MoreThanZero),
        /// The maker's deepest pour.
        pour_depth: Length => optional quantity(MoreThanZero),
        /// Share added for what stays in cup and syringe.
        allowance: Share => optional quantity(Zero),
    }
}

table! {
    /// `[[wood]]`.
    WoodTable {
        /// Its id.
        id: String => required name(),
        /// What it is called on the sheets; not written: its id.
        name: String => optional name(),
        /// Density.
        density: Density => optional quantity(MoreThanZero),
        /// The billet it is sold in.
        billet: BlankTable => optional group(),
        /// Price of a unit.
        price: Price => optional price(),
        /// The unit.
        unit: String => optional name(),
        /// How many are there.
        on_shelf: f64 => optional amount(),
        /// Where.
        bin: String => optional name(),
    }
}

table! {
    /// `[[strings]]`: a set of strings.
    ShopStringsTable {
        /// Its id.
        id: String => required name(),
        /// The strings, highest first.
        set: Vec<StringTable> => required tables(),
    }
}

table! {
    /// What every row of the stock has.
    StockRow {
        /// Its id.
        id: String => required name(),
        /// What it is, as printed; not written: its id.
        what: String => optional name(),
        /// Its kind: wire, lamp, hookup, resistor, epoxy, or another word.
        kind: String => required name(),
        /// The unit it is sold in.
        unit: String => optional name(),
        /// Price of a unit.
        price: Price => optional price(),
        /// How many are there.
        on_shelf: f64 => optional amount(),
        /// Where.
        bin: String => optional name(),
    }
}

table! {
    /// Sizes of hook-up wire, by the keys of `[electronics.lamps]`.
    HookupSizes {
        /// Outside diameter.
        hookup: Length => optional quantity(MoreThanZero),
        /// Gauge number.
        hookup_awg: u32 => optional count(),
    }
}

table! {
    /// Sizes of a resistor, by the keys of `[electronics.lamps]`.
    ResistorSizes {
        /// What it may turn into heat.
        resistor_rating: Power => optional quantity(MoreThanZero),
    }
}

/// The sizes of a row of stock, by its kind.
#[derive(Debug, Clone, PartialEq)]
pub enum StockSizes {
    /// Fret wire, by the keys of `[wire]`.
    Wire(Box<WireTable>),
    /// A lamp, by the keys of `[lamp]`.
    Lamp(Box<LampTable>),
    /// Hook-up wire.
    Hookup(HookupSizes),
    /// A resistor.
    Resistor(ResistorSizes),
    /// A kind without sizes of its own.
    None,
}

/// `[[stock]]`.
#[derive(Debug, Clone, PartialEq)]
pub struct StockTable {
    /// Id, price, place.
    pub row: StockRow,
    /// The sizes of its kind.
    pub sizes: StockSizes,
}

impl Table for StockTable {
    const KEYS: &'static [&'static str] = &[
        "id",
        "what",
        "kind",
        "unit",
        "price",
        "on_shelf",
        "bin",
        "pattern",
        "crown_width",
        "crown_height",
        "tang_depth",
        "tang_width",
        "barb_width",
        "overhang",
        "stick",
        "hole",
        "lens",
        "lens_height",
        "lens_shape",
        "flange",
        "flange_height",
        "lead_bend",
        "counterbore",
        "proud",
        "forward",
        "current",
        "max_current",
        "seats",
        "sand_limit",
        "hookup",
        "hookup_awg",
        "resistor_rating",
    ];

    /// Asks for the sizes of the row's own kind only, so that a lamp's size in a row of wire is reported.
    fn read(reader: &mut TableReader<'_, '_>) -> Self {
        let row = StockRow::read(reader);
        let sizes = match value_of(&row.kind).map(String::as_str) {
            Some("wire") => StockSizes::Wire(Box::new(WireTable::read(reader))),
            Some("lamp") => StockSizes::Lamp(Box::new(LampTable::read(reader))),
            Some("hookup") => StockSizes::Hookup(HookupSizes::read(reader)),
            Some("resistor") => StockSizes::Resistor(ResistorSizes::read(reader)),
            Some(_) => StockSizes::None,
            None => {
                // The kind is not known, so nothing can be said against any of its sizes.
                reader.leave_the_rest();
                StockSizes::None
            }
        };
        Self { row, sizes }
    }
}

impl Fill for StockTable {}

impl StockTable {
    /// Where the row stands.
    pub fn header(&self) -> Span {
        self.row.header
    }
}

table! {
    /// `[defaults]`: any table and key of the commission file that one instrument may leave unsaid.
    Defaults {
        /// `[defaults.commission]`.
        commission: CommissionTable => optional section(),
        /// `[defaults.parts]`.
        parts: PartsTable => optional section(),
        /// `[defaults.scale]`.
        scale: ScaleTable => optional section(),
        /// `[defaults.frets]`.
        frets: FretsTable => optional section(),
        /// `[defaults.wire]`.
        wire: WireTable => optional section(),
        /// `[defaults.slots]`.
        slots: SlotsTable => optional section(),
        /// `[defaults.radius]`.
        radius: RadiusTable => optional section(),
        /// `[defaults.taper]`.
        taper: TaperTable => optional section(),
        /// `[defaults.board]`.
        board: BoardTable => optional section(),
        /// `[defaults.markers]`.
        markers: MarkersTable => optional section(),
        /// `[defaults.lamp]`.
        lamp: LampTable => optional section(),
        /// `[defaults.channels]`.
        channels: ChannelsTable => optional section(),
        /// `[defaults.electronics]`.
        electronics: ElectronicsTable => optional section(),
        /// `[defaults.strings]`.
        strings: StringsTable => optional section(),
        /// `[defaults.neck]`.
        neck: NeckTable => optional section(),
        /// `[defaults.setup]`.
        setup: SetupTable => optional section(),
        /// `[defaults.body]`.
        body: BodyTable => optional section(),
        /// `[defaults.finish]`.
        finish: FinishTable => optional section(),
        /// `[defaults.materials]`: completes each line.
        materials: Vec<super::MaterialTable> => optional rows(),
        /// `[defaults.quote]`.
        quote: QuoteTable => optional section(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_row_of_stock_knows_the_sizes_of_every_kind() {
        // Wire and lamp both have a pattern, their first key.
        let lamp = &LampTable::KEYS[1..];
        let kinds = [StockRow::KEYS, WireTable::KEYS, lamp, HookupSizes::KEYS, ResistorSizes::KEYS].concat();
        assert_eq!(StockTable::KEYS, kinds.as_slice());
    }
}
