//! The lamps' circuit as a ladder: supply at the left, a rung for each group, the return at the right.

use kurbo::{Point, Rect, Vec2};

use super::Job;
use crate::drawing::{
    Drawing, Fill, Importance, Label, Layer, Lettering, Pen, Scaling, Side as DrawingSide, Tip, outline,
};
use crate::model::{Known, Missing};
use crate::rounding::fixed;
use crate::spec::words::Resistors;

/// Millimetres from rung to rung.
const RUNG: f64 = 13.0;
/// Length and height of a resistor's box (IEC 60617).
const RESISTOR: (f64, f64) = (11.0, 3.6);
/// Half the size of a lamp's arrowhead.
const LAMP: f64 = 2.0;
/// From a lamp's middle to its + and −, along the wire and below it, and the half of their strokes.
const SIGN: (f64, f64) = (4.6, 2.6);
const ARM: f64 = 1.1;
/// From lamp to lamp.
const LAMP_PITCH: f64 = 20.0;

/// The ladder of groups, each with its resistor, its lamps by hole number from + to −, and its current.
///
/// # Errors
/// With the key that the groups wait for; `lamp.pattern` when the board is not lit.
pub fn lamp_circuit(job: &Job<'_>) -> Known<Drawing> {
    let nothing = Missing::faulty("lamp.pattern");
    let (Some(lamps), Some(circuit)) = (&job.design.lamps, &job.model.circuit) else { return Err(nothing) };
    let groups = lamps.groups.as_ref().map_err(|missing| *missing)?;
    let supply = circuit.supply.get()?.to_volts();
    let numbers = lamp_numbers(job, groups.iter().map(|group| group.lamps));
    let mut drawing = Drawing::new("Lamp circuit", description(groups.len(), &numbers));
    drawing.scaling = Scaling::Scheme;
    let most = numbers.iter().map(Vec::len).max().unwrap_or(0);
    let right = 24.0 + RESISTOR.0 + 12.0 + LAMP_PITCH * count(most);
    let bottom = -RUNG * count(groups.len().saturating_sub(1));
    rails(&mut drawing, right, bottom, supply);
    if circuit.resistors.get() == Ok(Resistors::Cavity) {
        cavity(&mut drawing, bottom);
    }
    for (index, (group, lamps)) in groups.iter().zip(&numbers).enumerate() {
        let rung = Rung { y: -RUNG * count(index), right };
        rung.wire(&mut drawing);
        let name = Label::new(Point::new(0.0, rung.y), format!("group {}", index + 1));
        drawing.label(name.toward(DrawingSide::Left).importance(Importance::High).lettering(Lettering::STRONG));
        let value = group.resistor.map_or_else(|| "dark".to_owned(), |ohm| format!("{} Ω", figure(ohm)));
        rung.resistor(&mut drawing, 12.0, value);
        for (place, number) in lamps.iter().enumerate() {
            rung.lamp(&mut drawing, 24.0 + RESISTOR.0 + 6.0 + LAMP_PITCH * count(place), *number);
        }
        let current = Label::new(Point::new(right, rung.y), format!("{} mA", fixed(group.current * 1000.0, 2)));
        drawing.label(current.toward(DrawingSide::Right).importance(Importance::High));
    }
    Ok(drawing)
}

/// Each group's lamps from + to −, as the wires reach them; in their own order where the wires are not known.
fn lamp_numbers(job: &Job<'_>, sizes: impl Iterator<Item = usize>) -> Vec<Vec<usize>> {
    let wires = job.design.lamps.as_ref().and_then(|lamps| lamps.wires.as_ref().ok());
    let mut next = 1;
    sizes
        .enumerate()
        .map(|(index, size)| {
            let own: Vec<usize> = (next..next + size).collect();
            next += size;
            wires.and_then(|wires| wires.groups.get(index)).map_or(own, |group| group.lamps.clone())
        })
        .collect()
}

fn description(groups: usize, numbers: &[Vec<usize>]) -> String {
    let each: Vec<String> = numbers
        .iter()
        .enumerate()
        .map(|(index, lamps)| {
            let lamps: Vec<String> = lamps.iter().map(usize::to_string).collect();
            format!("group {}: lamps {} from plus to minus", index + 1, lamps.join(", "))
        })
        .collect();
    format!(
        "{groups} groups in parallel between plus and the common return, each with its resistor; {}.",
        each.join("; ")
    )
}

fn count(number: usize) -> f64 {
    f64::from(u32::try_from(number).unwrap_or(u32::MAX))
}

fn figure(ohm: f64) -> String {
    let text = fixed(ohm, 2);
    if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.').to_owned() } else { text }
}

/// The feed at the left and the return at the right.
fn rails(drawing: &mut Drawing, right: f64, bottom: f64, supply: f64) {
    let top = RUNG * 0.8;
    for (x, text) in [(0.0, format!("+ {} V, switched", figure(supply))), (right, "− common return".to_owned())] {
        drawing.line(Layer::Outline, Point::new(x, top), Point::new(x, bottom), Pen::Visible);
        drawing.ring(Layer::Outline, Point::new(x, top), 0.9);
        let label = Label::new(Point::new(x, top), text).clear_of(0.9).toward(DrawingSide::Top);
        drawing.label(label.importance(Importance::Utmost).lettering(Lettering::STRONG));
    }
}

/// What lies outside the board.
fn cavity(drawing: &mut Drawing, bottom: f64) {
    let (length, height) = RESISTOR;
    let zone = Rect::new(9.0, bottom - height, 15.0 + length, height + 3.5);
    drawing.rounded_rectangle(Layer::Neighbours, zone, 1.0, Pen::Neighbour);
    let at = Point::new(zone.center().x, zone.y0);
    drawing.label(
        Label::new(at, "in the cavity").tip(Tip::Plain).toward(DrawingSide::Bottom).importance(Importance::High),
    );
}

/// One group between the rails.
struct Rung {
    y: f64,
    right: f64,
}

impl Rung {
    fn wire(&self, drawing: &mut Drawing) {
        drawing.line(Layer::Outline, Point::new(0.0, self.y), Point::new(self.right, self.y), Pen::Thin);
        for x in [0.0, self.right] {
            drawing.dot(Layer::Outline, Point::new(x, self.y), 0.7);
        }
    }

    fn resistor(&self, drawing: &mut Drawing, from: f64, value: String) {
        let (length, height) = RESISTOR;
        let body = Rect::new(from, self.y - height / 2.0, from + length, self.y + height / 2.0);
        drawing.fill(Layer::Holes, outline::rounded_rectangle(body, 0.0), Fill::White);
        drawing.rounded_rectangle(Layer::Holes, body, 0.0, Pen::Visible);
        let middle = body.center();
        drawing.label(
            Label::new(middle, value).clear_of(height / 2.0).toward(DrawingSide::Top).importance(Importance::High),
        );
    }

    /// The sign of a light-emitting diode, the arrowhead from + to − (IEC 60617).
    fn lamp(&self, drawing: &mut Drawing, x: f64, number: usize) {
        let (y, s) = (self.y, LAMP);
        let head = [Point::new(x - s, y + s), Point::new(x - s, y - s), Point::new(x + s, y)];
        drawing.fill(Layer::Holes, outline::polygon(&head), Fill::Black);
        drawing.line(Layer::Holes, Point::new(x + s, y - s), Point::new(x + s, y + s), Pen::Visible);
        for side in [0.0, 1.6] {
            let from = Point::new(x - 0.2 + side, y + s + 0.3);
            let to = from + Vec2::new(1.5, 1.8);
            drawing.line(Layer::Holes, from, to, Pen::Thin);
        }
        let label = Label::new(Point::new(x, y), number.to_string()).clear_of(s + 0.7).toward(DrawingSide::Bottom);
        drawing.label(label.importance(Importance::High).lettering(Lettering::STRONG));
        // Drawn and not lettered: the signs are parts of the symbol, and one that strayed from its lamp would mislead.
        let (plus, minus) = (Point::new(x - SIGN.0, y - SIGN.1), Point::new(x + SIGN.0, y - SIGN.1));
        for (at, arm) in [(plus, (ARM, 0.0)), (plus, (0.0, ARM)), (minus, (ARM, 0.0))] {
            let arm = Vec2::from(arm);
            drawing.line(Layer::Holes, at - arm, at + arm, Pen::Visible);
        }
    }
}
