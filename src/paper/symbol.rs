//! A two-dimensional symbol that a camera reads (ISO/IEC 18004), as vectors.

use kurbo::{BezPath, Rect, Shape};
use qrcodegen::{QrCode, QrCodeEcc};

use super::sketch::Sketch;
use crate::drawing::{Fill, Item};

/// A symbol as rows of squares, dark or light, without the white around it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Symbol {
    rows: Vec<Vec<bool>>,
}

/// The white that the standard asks for around the symbol, in squares (ISO/IEC 18004, from memory).
const QUIET: usize = 4;

impl Symbol {
    /// The symbol of a short text; none if the text is longer than a symbol can hold (some 2,300 bytes).
    ///
    /// A quarter of it may be dirty and it still reads (level Q), or as much as its size allows.
    pub fn of(text: &str) -> Option<Self> {
        let code = [QrCodeEcc::Quartile, QrCodeEcc::Medium, QrCodeEcc::Low]
            .into_iter()
            .find_map(|level| QrCode::encode_text(text, level).ok())?;
        let size = code.size();
        let row = |y| (0..size).map(|x| code.get_module(x, y)).collect();
        Some(Self { rows: (0..size).map(row).collect() })
    }

    /// Squares along a side.
    pub fn size(&self) -> usize {
        self.rows.len()
    }

    /// Draws it with its white into a square.
    pub(crate) fn draw(&self, sketch: &mut Sketch, area: Rect) {
        let step = area.width().min(area.height()) / (self.size() + 2 * QUIET) as f64;
        let (left, top) = (area.x0 + QUIET as f64 * step, area.y1 - QUIET as f64 * step);
        let mut outline = BezPath::new();
        for (y, row) in self.rows.iter().enumerate() {
            let mut x = 0;
            // Neighbours in a row are one piece, so that no hairline parts them on paper.
            for run in row.chunk_by(|one, other| one == other) {
                if run[0] {
                    let (x0, x1) = (left + x as f64 * step, left + (x + run.len()) as f64 * step);
                    let (y0, y1) = (top - (y + 1) as f64 * step, top - y as f64 * step);
                    outline.extend(Rect::new(x0, y0, x1, y1).path_elements(0.1));
                }
                x += run.len();
            }
        }
        sketch.item(Item::Path { outline, stroke: None, fill: Some(Fill::Black) }, None);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_stamp_fits_a_small_symbol() {
        // Version 1 has 21 squares to a side (ISO/IEC 18004, from memory).
        assert_eq!(Symbol::of("2FWD80HVN").unwrap().size(), 21);
    }
}
