//! Fonts: the glyphs that a document uses, as subsets, with exact widths and the way back to characters.

use std::collections::{BTreeMap, BTreeSet};

use lopdf::Object;
use printpdf::{FontId, FontMetrics, ParsedFont, PdfFont};
use sha2::{Digest, Sha256};
use subsetter::GlyphRemapper;

use super::single;
use crate::drawing::Item;
use crate::lettering::Face;
use crate::paper::Page;

/// The fonts of a document, by face.
pub(super) struct Fonts {
    faces: BTreeMap<Face, Subset>,
}

struct Subset {
    /// With the tag that marks a subset, six letters from the digest of its glyphs.
    name: String,
    program: Vec<u8>,
    /// For each character used, the one that stands for its glyph, and the glyph in the subset.
    characters: BTreeMap<char, (char, u16)>,
    /// Advances in ems, by glyph of the subset.
    advances: BTreeMap<u16, f64>,
    face: Face,
}

impl Fonts {
    /// Gathers what the pages use.
    pub(super) fn of(pages: &[Page]) -> Self {
        let mut used: BTreeMap<Face, BTreeSet<char>> = BTreeMap::new();
        for mark in pages.iter().flat_map(|page| &page.marks) {
            if let Item::Text(text) = &mark.item {
                used.entry(text.face).or_default().extend(text.text.chars());
            }
        }
        Self { faces: used.into_iter().map(|(face, characters)| (face, Subset::of(face, &characters))).collect() }
    }

    /// The name under which pages call a face.
    pub(super) fn id(face: Face) -> FontId {
        FontId(match face {
            Face::Regular => "regular".to_owned(),
            Face::Bold => "bold".to_owned(),
            Face::Condensed => "condensed".to_owned(),
            Face::CondensedBold => "condensed-bold".to_owned(),
        })
    }

    /// A text as it is to be shown: characters without a glyph as the replacement sign, and one character for
    /// each glyph, so that every glyph leads back to one character.
    pub(super) fn shown(&self, face: Face, text: &str) -> String {
        let Some(subset) = self.faces.get(&face) else { return String::new() };
        text.chars().filter_map(|c| subset.characters.get(&c)).map(|(shown, _)| *shown).collect()
    }

    pub(super) fn resources(&self) -> BTreeMap<FontId, PdfFont> {
        self.faces.iter().map(|(face, subset)| (Self::id(*face), PdfFont::new(subset.parsed()))).collect()
    }

    /// Puts right what the crate rounds or guesses: widths to a thousandth of a thousandth, height of capitals.
    pub(super) fn correct(&self, file: &mut lopdf::Document) {
        let by_name: BTreeMap<&[u8], &Subset> =
            self.faces.values().map(|subset| (subset.name.as_bytes(), subset)).collect();
        for object in file.objects.values_mut() {
            let Ok(font) = object.as_dict_mut() else { continue };
            let name = font.get(b"BaseFont").or_else(|_| font.get(b"FontName")).and_then(Object::as_name);
            let Some(subset) = name.ok().and_then(|name| by_name.get(name)) else { continue };
            if font.has(b"FontName") {
                font.set("CapHeight", Object::Real(single((subset.face.font().capital_height() * 1000.0).round())));
            } else if let Ok(descendants) = font.get_mut(b"DescendantFonts").and_then(Object::as_array_mut) {
                for descendant in descendants.iter_mut().filter_map(|one| one.as_dict_mut().ok()) {
                    descendant.set("W", subset.widths());
                }
            }
        }
    }
}

impl Subset {
    fn of(face: Face, used: &BTreeSet<char>) -> Self {
        let tables = face.font().tables();
        let mut remapper = GlyphRemapper::new();
        let mut first: BTreeMap<u16, char> = BTreeMap::new();
        let mut characters = BTreeMap::new();
        let mut advances = BTreeMap::new();
        let fallback = tables.glyph_index(char::REPLACEMENT_CHARACTER).unwrap_or_default();
        for used in used {
            let c = used;
            // A space that does not break looks, and is found, like any other.
            let c = if *c == '\u{a0}' { &' ' } else { c };
            let known = tables.glyph_index(*c).filter(|glyph| glyph.0 != 0);
            let glyph = known.unwrap_or(fallback);
            let new = remapper.remap(glyph.0);
            let standing = if known.is_some() { *c } else { char::REPLACEMENT_CHARACTER };
            let shown = *first.entry(new).or_insert(standing);
            characters.insert(*used, (shown, new));
            let advance = f64::from(tables.glyph_hor_advance(glyph).unwrap_or(0)) / f64::from(tables.units_per_em());
            advances.insert(new, advance);
        }
        let whole = face.font().bytes();
        let program = subsetter::subset(whole, 0, &remapper).unwrap_or_else(|_| whole.to_vec());
        let name = format!("{}+{}", tag(&program), family(face));
        Self { name, program, characters, advances, face }
    }

    fn parsed(&self) -> ParsedFont {
        let tables = self.face.font().tables();
        let glyphs = self.characters.values().map(|(shown, glyph)| (u32::from(*shown), *glyph)).collect();
        let metrics = FontMetrics { ascent: tables.ascender(), descent: tables.descender() };
        let mut parsed = ParsedFont::with_glyph_data(
            self.program.clone(),
            0,
            Some(self.name.clone()),
            glyphs,
            BTreeMap::new(),
            tables.units_per_em(),
            metrics,
        );
        let bounds = tables.global_bounding_box();
        parsed.pdf_font_metrics.x_min = bounds.x_min;
        parsed.pdf_font_metrics.y_min = bounds.y_min;
        parsed.pdf_font_metrics.x_max = bounds.x_max;
        parsed.pdf_font_metrics.y_max = bounds.y_max;
        parsed.pdf_font_metrics.us_weight_class = tables.weight().to_number();
        parsed
    }

    /// The array of widths, in thousandths of an em.
    fn widths(&self) -> Vec<Object> {
        let width = |advance: &f64| Object::Real(single((advance * 1e6).round() / 1e3));
        let mut widths = Vec::new();
        let mut run: Vec<Object> = Vec::new();
        let mut start = 0;
        for (glyph, advance) in &self.advances {
            if !run.is_empty() && usize::from(*glyph) != usize::from(start) + run.len() {
                widths.extend([i64::from(start).into(), std::mem::take(&mut run).into()]);
            }
            if run.is_empty() {
                start = *glyph;
            }
            run.push(width(advance));
        }
        if !run.is_empty() {
            widths.extend([i64::from(start).into(), run.into()]);
        }
        widths
    }
}

/// The family's name as the font has it.
fn family(face: Face) -> &'static str {
    match face {
        Face::Regular => "DejaVuSans",
        Face::Bold => "DejaVuSans-Bold",
        Face::Condensed => "DejaVuSansCondensed",
        Face::CondensedBold => "DejaVuSansCondensed-Bold",
    }
}

/// Six capitals from a digest (ISO 32000-1, 9.6.4).
fn tag(program: &[u8]) -> String {
    Sha256::digest(program).iter().take(6).map(|byte| char::from(b'A' + byte % 26)).collect()
}
