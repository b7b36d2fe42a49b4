//! Typefaces and how wide a text runs in them: the one place that reads a font's tables.
//!
//! Text sizes are in points everywhere; widths come back in millimetres.

use std::sync::LazyLock;

use ttf_parser::Face as FontFace;

/// Millimetres in a typographic point (1/72 in).
pub const MM_PER_POINT: f64 = 25.4 / 72.0;

/// The faces of the packet. All figures in them are of one width, so columns of figures align.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Face {
    /// Body text.
    Regular,
    /// Headings, settings, what is read first.
    Bold,
    /// Captions, long tables.
    Condensed,
    /// Narrow headings.
    CondensedBold,
}

/// A face's outlines and measures.
pub struct Font {
    bytes: &'static [u8],
    face: FontFace<'static>,
    units_per_em: f64,
    /// Advances of the characters most used, in ems: looking one up in the font's tables is slow.
    advances: Vec<f64>,
    capital_height: f64,
}

/// Characters below this one have their advance at hand: Latin and Greek.
const AT_HAND: u32 = 0x400;

static FONTS: LazyLock<[Font; 4]> = LazyLock::new(|| {
    [
        Font::new(dejavu::sans::regular()),
        Font::new(dejavu::sans::bold()),
        Font::new(dejavu::sans_condensed::regular()),
        Font::new(dejavu::sans_condensed::bold()),
    ]
});

impl Face {
    /// All faces.
    pub const ALL: [Self; 4] = [Self::Regular, Self::Bold, Self::Condensed, Self::CondensedBold];

    /// The font behind the face.
    pub fn font(self) -> &'static Font {
        &FONTS[self as usize]
    }

    /// How wide a text runs, in millimetres, set in `size` points. A missing glyph counts as the replacement box.
    pub fn width(self, text: &str, size: f64) -> f64 {
        let font = self.font();
        text.chars().map(|c| font.advance(c)).sum::<f64>() * size * MM_PER_POINT
    }
}

impl Font {
    fn new(bytes: &'static [u8]) -> Self {
        let face = FontFace::parse(bytes, 0).expect("the embedded fonts are whole");
        let units_per_em = f64::from(face.units_per_em());
        let mut font = Self { bytes, face, units_per_em, advances: Vec::new(), capital_height: 0.0 };
        let looked_up = |code| char::from_u32(code).map_or(0.0, |character| font.looked_up_advance(character));
        font.advances = (0..AT_HAND).map(looked_up).collect();
        let flat = font.face.glyph_index('H').and_then(|glyph| font.face.glyph_bounding_box(glyph));
        font.capital_height = f64::from(flat.map_or(0, |bounds| bounds.y_max)) / units_per_em;
        font
    }

    /// The whole font file.
    pub fn bytes(&self) -> &'static [u8] {
        self.bytes
    }

    /// The parsed tables.
    pub fn tables(&self) -> &FontFace<'static> {
        &self.face
    }

    /// Advance of a character in ems.
    pub fn advance(&self, character: char) -> f64 {
        let at_hand = self.advances.get(character as usize);
        at_hand.copied().unwrap_or_else(|| self.looked_up_advance(character))
    }

    fn looked_up_advance(&self, character: char) -> f64 {
        let glyph = self.face.glyph_index(character).unwrap_or_default();
        f64::from(self.face.glyph_hor_advance(glyph).unwrap_or(0)) / self.units_per_em
    }

    /// Height of a capital in ems: of the letter H, since these fonts do not state it.
    pub fn capital_height(&self) -> f64 {
        self.capital_height
    }
}
