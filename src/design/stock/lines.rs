//! The lines of the list, each derived from the value it follows from; the commission's own lines last.

use super::price::{find, is_counted, put_on_shelf, resistor};
use super::sizes::{looked_for, part, plain, ruled};
use super::{Line, Name, Shelf};
use crate::design::board::outline::TRIM_ALLOWANCE;
use crate::design::board::wire;
use crate::design::{Design, LampDesign};
use crate::model::{ExtraMaterial, Known, Lamp, LampCircuit, Missing, Model, Sourced, StockKind};

/// Wire left in the cavity at the end of each feed and of the return, millimetres. Common practice, no source.
const TAIL: f64 = 80.0;

const MM_PER_METRE: f64 = 1000.0;

/// All lines of a commission.
pub fn lines(model: &Model, design: &Design) -> Vec<Line> {
    let mut lines = vec![blank(model, design), fret_wire(model, design)];
    lines.extend(binding(model, design));
    lines.extend(dots(model, design));
    if let (Some(lamp), Some(circuit), Some(lamps)) = (&model.lamp, &model.circuit, &design.lamps) {
        lines.push(lamp_line(model, design, lamp));
        lines.push(hookup(model, lamps, circuit));
        lines.extend(resistors(model, lamps, circuit));
        lines.push(epoxy(model, lamps));
        lines.push(battery(circuit));
        lines.extend(switch(circuit));
    }
    for own in &model.materials {
        match lines.iter_mut().find(|line| line.what.words() == own.what) {
            Some(line) => override_line(line, own),
            None => lines.push(own_line(own)),
        }
    }
    lines
}

fn piece(what: &str, size: String, from: &'static str, quantity: Known<f64>) -> Line {
    Line {
        what: Name::Ours(what.to_owned()),
        size,
        from,
        quantity,
        unit: "piece".to_owned(),
        waste: 0.0,
        at_least: 0.0,
        shelf: Shelf::default(),
        papers: None,
    }
}

/// Length, width and thickness of the blank: as written, or what the board needs, a little larger.
///
/// # Errors
/// With the key that is open or cannot be used.
pub(super) fn blank_size(model: &Model, design: &Design) -> Known<[f64; 3]> {
    let length = model
        .board
        .blank_length
        .as_ref()
        .map_or_else(|| design.needed_length.map(|needed| looked_for(model, needed + TRIM_ALLOWANCE)), Sourced::mm);
    let width = design.blank_width.map(|width| match &model.board.blank_width {
        Some(_) => width,
        None => looked_for(model, width),
    });
    let thickness = model
        .board
        .blank_thickness
        .as_ref()
        .map_or_else(|| Ok(model.board.thickness.mm()? + model.slots.skim.mm()?), Sourced::mm);
    Ok([length?, width?, thickness?])
}

/// The board's wood: one piece of the blank's size, taken from what the shop keeps it as.
fn blank(model: &Model, design: &Design) -> Line {
    let size = blank_size(model, design).map(|size| ruled(model, &size));
    let wood = model.board.wood.get();
    let stock = wood.as_ref().ok().and_then(|wood| model.shop.woods.iter().find(|stock| stock.wood.id == wood.id));
    let mut line = piece("board", size.unwrap_or_default(), "board.wood", wood.as_ref().map(|_| 1.0).map_err(|m| *m));
    if let Ok(wood) = wood {
        line.what = Name::Written(format!("{}, for the board", wood.name));
    }
    match stock.map(|stock| (stock, stock.unit.as_deref().unwrap_or("piece"))) {
        Some((stock, unit)) if is_counted(unit) => {
            unit.clone_into(&mut line.unit);
            line.shelf = Shelf { unit_price: stock.price, on_shelf: stock.on_shelf, ..Shelf::default() };
        }
        _ => {}
    }
    if let Some(stock) = stock {
        line.shelf.bin.clone_from(&stock.bin);
        line.shelf.unpriced = stock.price.is_none().then_some(stock.span);
    }
    line
}

fn fret_wire(model: &Model, design: &Design) -> Line {
    let own = &model.wire;
    let sizes = [
        ("crown_width", own.crown_width.get()),
        ("crown_height", own.crown_height.get()),
        ("tang_depth", own.tang_depth.get()),
        ("tang_width", own.tang_width.get()),
        ("barb_width", own.barb_width.get()),
    ];
    let stock = find(model, StockKind::Wire, own.pattern.as_ref(), &sizes);
    let pieces = design.wire.as_ref().map_err(|missing| *missing);
    let used = pieces.and_then(|pieces| {
        let total = pieces.iter().try_fold(0.0, |sum, piece| Ok(sum + piece.cut?))?;
        Ok(total / own.stick.mm()?)
    });
    let sticks = pieces.and_then(|pieces| wire::sticks(pieces)).unwrap_or(0);
    let size = own.stick.mm().map(|stick| format!("sticks of {}", ruled(model, &[stick]))).unwrap_or_default();
    let mut line = piece("fret wire", size, "wire.stick", used);
    "stick".clone_into(&mut line.unit);
    line.waste = 0.10;
    line.at_least = count(sticks);
    if let Some(stock) = stock {
        put_on_shelf(&mut line, stock);
    }
    line
}

fn binding(model: &Model, design: &Design) -> Option<Line> {
    let thickness = model.board.binding.mm();
    if thickness.is_ok_and(|thickness| thickness <= 0.0) {
        return None;
    }
    let length = design.outline.as_ref().map_err(|missing| *missing).and_then(|outline| {
        thickness?;
        let run = outline.end_corners.iter().zip([design.edges?.bass, design.edges?.treble]);
        Ok(run.map(|(corner, edge)| (corner.x - outline.squared_end) / libm::cos(edge.taper())).sum::<f64>())
    });
    let size = thickness.map(|thickness| format!("{} thick", part(thickness))).unwrap_or_default();
    let mut line = piece("binding, both edges", size, "board.binding", length.map(|length| length / MM_PER_METRE));
    line.unit = "m".to_owned();
    line.waste = 0.15;
    Some(line)
}

/// Plain dots, and the rod that side dots are cut from.
fn dots(model: &Model, design: &Design) -> Vec<Line> {
    let mut lines = Vec::new();
    let Some(markers) = &model.markers else { return lines };
    if let (None, Some(dot)) = (&model.lamp, &markers.dot) {
        let number = design.markers.as_ref().map(|markers| count(markers.len())).map_err(|missing| *missing);
        let size = dot.mm().map(|dot| format!("{} across", part(dot))).unwrap_or_default();
        if number != Ok(0.0) {
            lines.push(piece("marker dots", size, "markers.dot", number));
        }
    }
    if let Some(side) = &markers.side {
        let number = design.side_dots.as_ref().map(|dots| count(dots.len())).map_err(|missing| *missing);
        let size = side.dot.mm().map(|dot| format!("{} across", part(dot))).unwrap_or_default();
        let length = number.and_then(|number| Ok(number * (side.depth.mm()? + 1.0) / MM_PER_METRE));
        let mut line = piece("rod for side dots", size, "markers.side", length);
        line.unit = "m".to_owned();
        if number != Ok(0.0) {
            lines.push(line);
        }
    }
    lines
}

fn lamp_line(model: &Model, design: &Design, lamp: &Lamp) -> Line {
    let sizes = [
        ("hole", lamp.hole.get()),
        ("lens", lamp.lens.get()),
        ("lens_height", lamp.lens_height.get()),
        ("flange", lamp.flange.get()),
        ("counterbore", lamp.counterbore.get()),
    ];
    let stock = find(model, StockKind::Lamp, lamp.pattern.as_ref(), &sizes);
    let number = design.markers.as_ref().map(|markers| count(markers.len())).map_err(|missing| *missing);
    let size = lamp.lens.mm().map(|lens| format!("lens {}", part(lens))).unwrap_or_default();
    let mut line = piece("lamps", size, "markers.single", number);
    line.waste = 0.10;
    line.at_least = number.map_or(0.0, |number| number + 2.0);
    if let Some(stock) = stock {
        put_on_shelf(&mut line, stock);
    }
    line
}

fn hookup(model: &Model, lamps: &LampDesign, circuit: &LampCircuit) -> Line {
    let stock = find(model, StockKind::Hookup, None, &[("hookup", circuit.hookup.get())]);
    let length = lamps
        .wires
        .as_ref()
        .map_err(|missing| *missing)
        .map(|wires| (wires.length() + TAIL * count(wires.through_exit())) / MM_PER_METRE);
    let size = circuit.hookup.mm().map(|wire| format!("{} over the insulation", part(wire))).unwrap_or_default();
    let mut line = piece("hook-up wire", size, "electronics.lamps.hookup", length);
    line.unit = "m".to_owned();
    line.waste = 0.20;
    if let Some(stock) = stock {
        put_on_shelf(&mut line, stock);
    }
    line
}

/// One line for each value, smallest first, with two spares.
fn resistors(model: &Model, lamps: &LampDesign, circuit: &LampCircuit) -> Vec<Line> {
    let rating = circuit.resistor_rating.as_ref().map(Sourced::get);
    let stock = resistor(model, rating);
    let size = rating
        .and_then(Result::ok)
        .map(|rating| format!("{}\u{a0}W or more", plain(rating.to_watts(), 3)))
        .unwrap_or_default();
    let line = |value: Option<f64>, quantity: Known<f64>| {
        let mut line = piece("resistor", size.clone(), "electronics.lamps.series", quantity);
        line.at_least = quantity.map_or(0.0, |quantity| quantity + 2.0);
        if let Some(stock) = stock {
            put_on_shelf(&mut line, stock);
        }
        // Each value is a line of its own, under a name of its own.
        if let Some(value) = value {
            let name = format!("{}, {}", line.what.words(), ohms(value));
            line.what = match line.what {
                Name::Ours(_) => Name::Ours(name),
                Name::Written(_) => Name::Written(name),
            };
        }
        line
    };
    let groups = match &lamps.groups {
        Ok(groups) => groups,
        Err(missing) => return vec![line(None, Err(*missing))],
    };
    let mut values: Vec<(f64, f64)> = Vec::new();
    for resistor in groups.iter().filter_map(|group| group.resistor) {
        match values.iter_mut().find(|(value, _)| value.total_cmp(&resistor).is_eq()) {
            Some((_, number)) => *number += 1.0,
            None => values.push((resistor, 1.0)),
        }
    }
    values.sort_by(|a, b| a.0.total_cmp(&b.0));
    values.into_iter().map(|(value, number)| line(Some(value), Ok(number))).collect()
}

/// A resistance as it is written on a drawer: `470 Ω`, `1.1 kΩ`.
pub(crate) fn ohms(value: f64) -> String {
    let (figure, unit) = if value < 1000.0 { (value, "Ω") } else { (value / 1000.0, "kΩ") };
    format!("{}\u{a0}{unit}", plain(figure, 2))
}

fn epoxy(model: &Model, lamps: &LampDesign) -> Line {
    let stock = model.shop.stock.iter().find(|item| item.kind == StockKind::Epoxy);
    let mix = lamps.potting.as_ref().map(|potting| potting.mix).map_err(|missing| *missing);
    let mut line = piece("epoxy, both parts", String::new(), "channels.depth", mix);
    line.unit = "ml".to_owned();
    if let Some(stock) = stock {
        put_on_shelf(&mut line, stock);
    }
    line
}

fn battery(circuit: &LampCircuit) -> Line {
    let supply = circuit.supply.get().map(|supply| plain(supply.to_volts(), 2));
    let kind = circuit.chemistry.as_ref().and_then(|kind| kind.get().ok());
    let size = supply.map(|supply| format!("{supply} V")).unwrap_or_default();
    let mut line = piece("battery", size, "electronics.lamps.supply", circuit.supply.get().map(|_| 1.0));
    if let Some(kind) = kind {
        line.what = Name::Written(format!("battery, {kind}"));
    }
    line
}

fn switch(circuit: &LampCircuit) -> Option<Line> {
    let switch = circuit.switch.as_ref()?;
    let words = switch.get();
    let mut line =
        piece("switch", String::new(), "electronics.lamps.switch", words.as_ref().map(|_| 1.0).map_err(|m| *m));
    if let Ok(words) = words {
        line.what = Name::Written(words);
    }
    Some(line)
}

/// The commission's own word goes before what is derived; a unit only with the quantity that is counted in it.
fn override_line(line: &mut Line, own: &ExtraMaterial) {
    if let Some(quantity) = own.quantity {
        line.quantity = Ok(quantity);
        line.at_least = 0.0;
        if let Some(unit) = &own.unit {
            line.unit.clone_from(unit);
        }
    }
    if let Some(waste) = own.waste {
        line.waste = waste.to_parts();
    }
    if own.price.is_some() {
        line.shelf.unit_price = own.price;
    }
    line.papers.clone_from(&own.papers);
}

fn own_line(own: &ExtraMaterial) -> Line {
    Line {
        what: Name::Written(own.what.clone()),
        size: String::new(),
        from: "materials",
        quantity: own.quantity.ok_or(Missing::open("materials.quantity")),
        unit: own.unit.clone().unwrap_or_else(|| "piece".to_owned()),
        waste: own.waste.map_or(0.0, crate::units::Share::to_parts),
        at_least: 0.0,
        shelf: Shelf { unit_price: own.price, ..Shelf::default() },
        papers: own.papers.clone(),
    }
}

fn count(number: usize) -> f64 {
    f64::from(u32::try_from(number).unwrap_or(u32::MAX))
}
