//! The key under a drawing: texts that found no room, by number.

use kurbo::{Point, Rect, Vec2};

use crate::drawing::item::{Anchor, Item, Text};
use crate::drawing::outline::rounded_rectangle;
use crate::drawing::picture::KeyEntry;
use crate::drawing::style::{Layer, Lettering, Pen};
use crate::drawing::textbox::TextBox;
use crate::lettering::Face;

/// Radius of the ring round a number.
pub(super) const RING: f64 = 2.0;
/// The number in the ring.
pub(super) const RING_LETTERING: Lettering = Lettering { face: Face::CondensedBold, size: 7.5 };
const LETTERING: Lettering = Lettering { face: Face::Regular, size: 8.5 };
const ROW: f64 = 5.0;
/// From the ring's left end to the text.
const INDENT: f64 = 6.4;
const BETWEEN: f64 = 6.0;
const ABOVE: f64 = 2.5;

/// Height the key takes.
pub(super) fn height(key: &[KeyEntry], width: f64) -> f64 {
    let rows = set(key, width).1;
    if rows == 0.0 { 0.0 } else { ABOVE + rows * ROW }
}

/// The key's marks, the top of its first row at y = 0.
pub(super) fn items(key: &[KeyEntry], width: f64) -> Vec<(Layer, Item)> {
    let mut items = Vec::new();
    for line in set(key, width).0 {
        let middle = Point::new(line.x, -(line.row + 0.5) * ROW);
        let mut from = middle;
        if let Some(number) = line.number {
            items.extend(ringed(number, middle + Vec2::new(0.2 + ring_length(number) / 2.0, 0.0)));
        }
        from.x += INDENT;
        items.push((Layer::Text, Item::Text(text(&line.text, LETTERING, from, Anchor::Start))));
    }
    items
}

/// A number in a ring about a point.
pub(super) fn ringed(number: usize, centre: Point) -> [(Layer, Item); 2] {
    let half = ring_length(number) / 2.0;
    let edge = Rect::new(centre.x - half, centre.y - RING, centre.x + half, centre.y + RING);
    let outline = rounded_rectangle(edge, RING);
    let ring = Item::Path { outline, stroke: Some(Pen::Thin.stroke()), fill: None };
    let number = text(&number.to_string(), RING_LETTERING, centre, Anchor::Middle);
    [(Layer::Text, ring), (Layer::Text, Item::Text(number))]
}

/// Length of the ring round a number: round for one figure, longer for more.
pub(super) fn ring_length(number: usize) -> f64 {
    (RING_LETTERING.width(&number.to_string()) + 1.8).max(2.0 * RING)
}

/// A level text whose height is centred on a point.
pub(super) fn text(text: &str, lettering: Lettering, at: Point, anchor: Anchor) -> Text {
    let place = TextBox::centred("0", lettering, at, Vec2::new(1.0, 0.0));
    Text {
        at: place.baseline("0", lettering),
        text: text.to_owned(),
        face: lettering.face,
        size: lettering.size,
        anchor,
        angle: 0.0,
        white: false,
    }
}

struct KeyLine {
    x: f64,
    row: f64,
    number: Option<usize>,
    text: String,
}

/// Entries side by side while they fit, long ones broken at words; and the number of rows.
fn set(key: &[KeyEntry], width: f64) -> (Vec<KeyLine>, f64) {
    let mut lines: Vec<KeyLine> = Vec::new();
    let (mut x, mut row) = (0.0, 0.0);
    for entry in key {
        let wanted = INDENT + LETTERING.width(&entry.text);
        if x > 0.0 && x + wanted > width {
            (x, row) = (0.0, row + 1.0);
        }
        let parts = broken(&entry.text, (width - INDENT).max(20.0));
        let last = parts.len().saturating_sub(1);
        for (index, part) in parts.into_iter().enumerate() {
            let number = (index == 0).then_some(entry.number);
            lines.push(KeyLine { x, row, number, text: part });
            if index < last {
                row += 1.0;
            }
        }
        if last > 0 {
            (x, row) = (0.0, row + 1.0);
        } else {
            x += wanted + BETWEEN;
        }
    }
    let rows = lines.last().map_or(0.0, |line| line.row + 1.0);
    (lines, rows)
}

fn broken(text: &str, width: f64) -> Vec<String> {
    let mut parts = vec![String::new()];
    for word in text.split_whitespace() {
        let last = parts.last_mut().expect("there is always one part");
        let longer = if last.is_empty() { word.to_owned() } else { format!("{last} {word}") };
        if last.is_empty() || LETTERING.width(&longer) <= width {
            *last = longer;
        } else {
            parts.push(word.to_owned());
        }
    }
    parts
}
