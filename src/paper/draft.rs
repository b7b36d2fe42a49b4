//! The mark of a draft: a band across the head of the sheet, and letters along the filing edge.
//!
//! Both lie outside the text, so that a draft reads as well as an issued sheet, on a tired copier too; the letters
//! stay in sight when sheets are filed or stacked.

use std::f64::consts::FRAC_PI_2;

use kurbo::Rect;

use super::set::fitting;
use super::sketch::Sketch;
use super::text::harmless;
use crate::drawing::{Anchor, Fill, Item, Text};
use crate::lettering::{Face, MM_PER_POINT};

/// Draws the band at the top of the frame and the letters to its left.
pub(crate) fn draw(sketch: &mut Sketch, text: &str, frame: Rect, band: f64) {
    let text = harmless(text).replace('\n', " ");
    sketch.fill(Rect::new(frame.x0, frame.y1 - band, frame.x1, frame.y1), Fill::Black);
    let size = fitting(&text, Face::Bold, 11.0, frame.width() / 3.0 - 6.0);
    let baseline = frame.y1 - band / 2.0 - Face::Bold.font().capital_height() * size * MM_PER_POINT / 2.0;
    for part in [0.17, 0.5, 0.83] {
        let at = (frame.x0 + frame.width() * part, baseline).into();
        let text =
            Text { at, text: text.clone(), face: Face::Bold, size, anchor: Anchor::Middle, angle: 0.0, white: true };
        sketch.item(Item::Text(text), None);
    }
    let size = fitting(&text, Face::Bold, 26.0, frame.height() / 2.0 - 10.0);
    let capital = Face::Bold.font().capital_height() * size * MM_PER_POINT;
    let x = (frame.x0 + capital) / 2.0 + 1.5;
    for part in [0.25, 0.75] {
        let at = (x, frame.y0 + frame.height() * part).into();
        let text = Text {
            at,
            text: text.clone(),
            face: Face::Bold,
            size,
            anchor: Anchor::Middle,
            angle: FRAC_PI_2,
            white: false,
        };
        sketch.item(Item::Text(text), None);
    }
}
