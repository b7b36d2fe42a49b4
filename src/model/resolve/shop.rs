//! The shop as the sheets use it. What the shop left open or could not be read is not there.

use super::resolver::{Resolver, shown};
use crate::catalog;
use crate::model::{self, Epoxy, Origin, Sourced, StockItem, StockKind, StockWood, Tool, Tools, Wood};
use crate::spec::entry::{Entry, value_of};
use crate::spec::leaf::{Leaves, Saying, Says};
use crate::spec::quantity::Ratio;
use crate::spec::tables::{BlankTable, EpoxyTable, Shop, StockSizes, StockTable, WoodTable};
use crate::units::Length;

/// The shop of a commission; `potted` says whether its epoxy is used, so that its defaults are listed.
pub(super) fn shop(resolver: &mut Resolver<'_>, potted: bool) -> model::Shop {
    let shop = resolver.shop;
    let epoxy = epoxy(resolver, shop.and_then(|shop| value_of(&shop.epoxy)), potted);
    let Some(shop) = shop else { return model::Shop { epoxy, ..model::Shop::default() } };
    let named = value_of(&shop.shop);
    model::Shop {
        name: named.and_then(|table| value_of(&table.name).cloned()),
        letterhead: named.map_or_else(Vec::new, |table| texts(&table.letterhead)),
        currency: named.and_then(|table| value_of(&table.currency).cloned()),
        sheets: value_of(&shop.print).map_or_else(Vec::new, |print| texts(&print.sheets)),
        bar_measured: bar_measured(resolver, shop),
        tools: tools(shop),
        epoxy,
        woods: value_of(&shop.wood).into_iter().flatten().filter_map(wood).collect(),
        stock: value_of(&shop.stock).into_iter().flatten().filter_map(item).collect(),
    }
}

fn texts(entry: &Option<Entry<Vec<Entry<String>>>>) -> Vec<String> {
    value_of(entry).into_iter().flatten().filter_map(|text| text.value().cloned()).collect()
}

fn bar_measured(resolver: &mut Resolver<'_>, shop: &Shop) -> Option<[Sourced<Length>; 2]> {
    let bars = value_of(&value_of(&shop.print)?.bar_measured)?;
    let x = resolver.optional("print.bar_measured.x", &bars.x)?;
    Some([x, resolver.optional("print.bar_measured.y", &bars.y)?])
}

fn tools(shop: &Shop) -> Tools {
    let Some(table) = value_of(&shop.tools) else { return Tools::default() };
    let sizes = |entry: &Option<Entry<Vec<Entry<Length>>>>| {
        let size =
            |size: &Entry<Length>| Some(Tool { size: *size.value()?, written: size.written.clone(), span: size.span });
        value_of(entry).into_iter().flatten().filter_map(size).collect()
    };
    Tools {
        saw_depth: value_of(&table.saw_depth).copied(),
        bits: sizes(&table.bits),
        cutters: sizes(&table.cutters),
        radius_blocks: sizes(&table.radius_blocks),
        billet_saw: value_of(&table.billet_saw).copied(),
    }
}

fn epoxy(resolver: &mut Resolver<'_>, table: Option<&EpoxyTable>, potted: bool) -> Epoxy {
    let usual = Epoxy::default();
    let mix = table.and_then(|table| value_of(&table.mix)).map(|mix| (mix.first, mix.second));
    let allowance = table.and_then(|table| value_of(&table.allowance)).copied();
    if potted && mix.is_none() {
        let ratio = Ratio { first: usual.mix.0, second: usual.mix.1 };
        resolver.add("epoxy.mix", shown(ratio.says()), Origin::BuiltIn);
    }
    if potted && allowance.is_none() {
        resolver.add("epoxy.allowance", shown(usual.allowance.says()), Origin::BuiltIn);
    }
    Epoxy {
        mix: mix.unwrap_or(usual.mix),
        pot_life: table.and_then(|table| resolver.optional("epoxy.pot_life", &table.pot_life)),
        cure: table.and_then(|table| value_of(&table.cure)).copied(),
        pour_depth: table.and_then(|table| resolver.optional("epoxy.pour_depth", &table.pour_depth)),
        allowance: allowance.unwrap_or(usual.allowance),
    }
}

fn wood(row: &WoodTable) -> Option<StockWood> {
    let id = value_of(&row.id)?.clone();
    let listed = catalog::wood(&id);
    let name = value_of(&row.name).cloned().or_else(|| listed.map(|wood| wood.name.clone()));
    Some(StockWood {
        wood: Wood {
            name: name.unwrap_or_else(|| id.clone()),
            density: value_of(&row.density).copied().or_else(|| listed.map(|wood| wood.density)),
            id,
        },
        billet: value_of(&row.billet).and_then(billet),
        price: value_of(&row.price).map(|price| price.0),
        unit: value_of(&row.unit).cloned(),
        on_shelf: value_of(&row.on_shelf).copied(),
        bin: value_of(&row.bin).cloned(),
        span: row.header,
    })
}

/// A billet with all its sizes.
fn billet(sizes: &BlankTable) -> Option<[Length; 3]> {
    Some([*value_of(&sizes.length)?, *value_of(&sizes.width)?, *value_of(&sizes.thickness)?])
}

fn item(table: &StockTable) -> Option<StockItem> {
    let row = &table.row;
    let id = value_of(&row.id)?.clone();
    let kind = match value_of(&row.kind)?.as_str() {
        "wire" => StockKind::Wire,
        "lamp" => StockKind::Lamp,
        "hookup" => StockKind::Hookup,
        "resistor" => StockKind::Resistor,
        "epoxy" => StockKind::Epoxy,
        _ => StockKind::Other,
    };
    let mut leaves = Vec::new();
    let mut rating = None;
    match &table.sizes {
        StockSizes::Wire(sizes) => sizes.leaves("", row.header, &mut leaves),
        StockSizes::Lamp(sizes) => sizes.leaves("", row.header, &mut leaves),
        StockSizes::Hookup(sizes) => sizes.leaves("", row.header, &mut leaves),
        StockSizes::Resistor(sizes) => rating = value_of(&sizes.resistor_rating).copied(),
        StockSizes::None => {}
    }
    let sizes = leaves.into_iter().filter_map(|leaf| match leaf.says {
        Says::Figure(millimetres, "mm") => Some((leaf.key, Length::mm(millimetres))),
        _ => None,
    });
    Some(StockItem {
        what: value_of(&row.what).cloned().unwrap_or_else(|| id.clone()),
        id,
        kind,
        sizes: sizes.collect(),
        rating,
        unit: value_of(&row.unit).cloned(),
        price: value_of(&row.price).map(|price| price.0),
        on_shelf: value_of(&row.on_shelf).copied(),
        bin: value_of(&row.bin).cloned(),
        span: row.header,
    })
}
