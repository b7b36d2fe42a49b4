//! A placed drawing: finished marks on paper, and the test that nothing in it collides.

use kurbo::{Line, Point, Rect, Shape as _};

use super::item::{Fill, Item, Text};
use super::outline::{encloses, straight_pieces};
use super::scale::Scale;
use super::style::Layer;
use super::textbox::TextBox;

/// Marks of one meaning.
#[derive(Debug, Clone, PartialEq)]
pub struct LayerItems {
    /// The meaning.
    pub layer: Layer,
    /// The marks, from the bottom up.
    pub items: Vec<Item>,
}

/// A text that found no room at its place and stands in the key under a number.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct KeyEntry {
    /// The number in the ring.
    pub number: usize,
    /// The text; where not even the number found room, it says so.
    pub text: String,
    /// Whether the number stands at its place.
    pub marked: bool,
}

/// A placed drawing; millimetres on paper from its bottom left corner.
#[derive(Debug, Clone, PartialEq)]
pub struct Picture {
    /// Width on paper.
    pub width: f64,
    /// Height on paper.
    pub height: f64,
    /// The marks by layer, from the bottom up; layers without marks are left out.
    pub layers: Vec<LayerItems>,
    /// The title printed over it.
    pub title: String,
    /// What it shows, in words.
    pub alt: String,
    /// The scale; `None` for a scheme, which has none.
    pub scale: Option<Scale>,
    /// Millimetres on paper for one of the drawing's own, each way, scheme or not.
    pub factors: Scale,
    /// Where the drawing's own zero point stands on the paper; it may lie outside the picture.
    pub origin: Point,
    /// What the key under the drawing says (it is among the marks too).
    pub key: Vec<KeyEntry>,
}

/// A fault in a picture.
#[derive(Debug, Clone, PartialEq)]
pub enum Conflict {
    /// Two texts lie over each other.
    TextOverText {
        /// One.
        one: String,
        /// The other.
        other: String,
        /// Where the first stands.
        at: Point,
    },
    /// A line runs through a text, or a black area lies under it.
    LineThroughText {
        /// The text.
        text: String,
        /// The layer of the line.
        layer: Layer,
        /// Where the text stands.
        at: Point,
    },
    /// A mark reaches out of the picture.
    OutsidePicture {
        /// What it is: the text, or the layer's name.
        what: String,
        /// The box it takes.
        bounds: Rect,
    },
}

/// How deep two boxes may reach into each other before it counts, in millimetres: rounding, not sight.
const SLACK: f64 = 0.05;

impl Picture {
    /// All marks from the bottom up.
    pub fn items(&self) -> impl Iterator<Item = &Item> {
        self.layers.iter().flat_map(|layer| layer.items.iter())
    }

    /// All texts.
    pub fn texts(&self) -> impl Iterator<Item = &Text> {
        self.items().filter_map(|item| match item {
            Item::Text(text) => Some(text),
            Item::Path { .. } => None,
        })
    }

    /// Everything that collides: text with text, any line with any text, anything with the picture's edge.
    ///
    /// It knows nothing of how the marks were placed or to whom they belong: a leader through its own text and a
    /// hatch line under a text count as well.
    pub fn conflicts(&self) -> Vec<Conflict> {
        let texts: Vec<(&Text, TextBox)> = self.texts().map(|text| (text, TextBox::of(text).grown(-SLACK))).collect();
        let mut found = Vec::new();
        for (index, (text, place)) in texts.iter().enumerate() {
            for (other, other_place) in &texts[index + 1..] {
                if place.overlaps(other_place) {
                    found.push(Conflict::TextOverText {
                        one: text.text.clone(),
                        other: other.text.clone(),
                        at: text.at,
                    });
                }
            }
        }
        for layer in &self.layers {
            for item in &layer.items {
                let bounds = match item {
                    Item::Text(text) => TextBox::of(text).bounds(),
                    Item::Path { outline, stroke, fill } => {
                        let pieces = straight_pieces(outline, 0.02);
                        let half_pen = stroke.map_or(0.0, |stroke| stroke.width / 2.0);
                        self.texts_struck(&pieces, half_pen, *fill, layer.layer, &texts, &mut found);
                        outline.bounding_box().inflate(half_pen, half_pen)
                    }
                };
                let inside = bounds.x0 >= -SLACK
                    && bounds.y0 >= -SLACK
                    && bounds.x1 <= self.width + SLACK
                    && bounds.y1 <= self.height + SLACK;
                if !inside {
                    let what = match item {
                        Item::Text(text) => text.text.clone(),
                        Item::Path { .. } => layer.layer.name().to_owned(),
                    };
                    found.push(Conflict::OutsidePicture { what, bounds });
                }
            }
        }
        found
    }

    fn texts_struck(
        &self,
        pieces: &[Line],
        half_pen: f64,
        fill: Option<Fill>,
        layer: Layer,
        texts: &[(&Text, TextBox)],
        found: &mut Vec<Conflict>,
    ) {
        for (text, place) in texts {
            let drawn = half_pen > 0.0 || fill == Some(Fill::Black);
            let struck = drawn && pieces.iter().any(|piece| place.grown(half_pen).is_crossed_by(*piece));
            let under = fill == Some(Fill::Black) && !text.white && encloses(pieces, place.centre);
            if struck || under {
                found.push(Conflict::LineThroughText { text: text.text.clone(), layer, at: text.at });
            }
        }
    }
}
