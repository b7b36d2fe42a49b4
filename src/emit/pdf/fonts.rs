//! Fonts: the glyphs that a document uses, as subsets, with exact widths and the way back to characters
//! (ISO 32000-1, 9.7 to 9.10).

use std::collections::{BTreeMap, BTreeSet};

use lopdf::{Dictionary, Object, Stream, dictionary};
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
    face: Face,
    /// With the tag that marks a subset: six letters from its digest.
    name: String,
    program: Vec<u8>,
    /// Each character used, and its glyph in the subset.
    glyphs: BTreeMap<char, u16>,
    /// The same for the characters most used, by their code.
    at_hand: Vec<u16>,
    /// By glyph of the subset: its advance in ems, and the character it leads back to.
    meanings: BTreeMap<u16, (f64, char)>,
}

/// Characters below this one have their glyph at hand: Latin and Greek.
const AT_HAND: u32 = 0x400;
const HEXADECIMAL: &[u8; 16] = b"0123456789ABCDEF";

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
    pub(super) fn name(face: Face) -> &'static str {
        match face {
            Face::Regular => "R",
            Face::Bold => "B",
            Face::Condensed => "C",
            Face::CondensedBold => "D",
        }
    }

    /// Writes a text as codes of its glyphs, in hexadecimal.
    pub(super) fn write(&self, face: Face, text: &str, stream: &mut Vec<u8>) {
        let Some(subset) = self.faces.get(&face) else { return };
        for c in text.chars() {
            let code = subset.glyph(c);
            stream.extend([12, 8, 4, 0].map(|shift| HEXADECIMAL[usize::from(code >> shift & 0xF)]));
        }
    }

    /// Adds the fonts and gives the dictionary by which pages call them.
    pub(super) fn add_to(&self, file: &mut lopdf::Document) -> Dictionary {
        let mut called = Dictionary::new();
        for (face, subset) in &self.faces {
            called.set(Self::name(*face), subset.add_to(file));
        }
        called
    }
}

impl Subset {
    fn of(face: Face, used: &BTreeSet<char>) -> Self {
        let tables = face.font().tables();
        let mut remapper = GlyphRemapper::new();
        let mut glyphs = BTreeMap::new();
        let mut meanings = BTreeMap::new();
        for character in used {
            // A space that does not break looks, and is found, like any other.
            let c = if *character == '\u{a0}' { ' ' } else { *character };
            let known = tables.glyph_index(c).filter(|glyph| glyph.0 != 0);
            let shown = if known.is_some() { c } else { char::REPLACEMENT_CHARACTER };
            let glyph = known.or_else(|| tables.glyph_index(shown)).unwrap_or_default();
            let own = remapper.remap(glyph.0);
            let advance = f64::from(tables.glyph_hor_advance(glyph).unwrap_or(0)) / f64::from(tables.units_per_em());
            glyphs.insert(*character, own);
            // Where characters share a glyph, it leads back to the first of them.
            meanings.entry(own).or_insert((advance, shown));
        }
        let whole = face.font().bytes();
        let program = subsetter::subset(whole, 0, &remapper).unwrap_or_else(|_| whole.to_vec());
        let name = format!("{}+{}", tag(&program), family(face));
        let at_hand = (0..AT_HAND).filter_map(char::from_u32).map(|c| glyphs.get(&c).copied().unwrap_or(0)).collect();
        Self { face, name, program, glyphs, at_hand, meanings }
    }

    fn glyph(&self, c: char) -> u16 {
        let at_hand = self.at_hand.get(c as usize).copied();
        at_hand.unwrap_or_else(|| self.glyphs.get(&c).copied().unwrap_or(0))
    }

    /// Adds the font and all that hangs on it; gives the reference to it.
    fn add_to(&self, file: &mut lopdf::Document) -> Object {
        let tables = self.face.font().tables();
        let scale = 1000.0 / f64::from(tables.units_per_em());
        let scaled = |units: i16| Object::Real(single((f64::from(units) * scale).round()));
        let bounds = tables.global_bounding_box();
        let length = super::count(self.program.len());
        let program = file.add_object(Stream::new(dictionary! { "Length1" => length }, self.program.clone()));
        let bold = matches!(self.face, Face::Bold | Face::CondensedBold);
        let descriptor = file.add_object(dictionary! {
            "Type" => "FontDescriptor",
            "FontName" => self.name.as_str(),
            // Without serifs, letters of the common Latin set (9.8.2).
            "Flags" => 32,
            "FontBBox" => [bounds.x_min, bounds.y_min, bounds.x_max, bounds.y_max].map(scaled).to_vec(),
            "ItalicAngle" => 0,
            "Ascent" => scaled(tables.ascender()),
            "Descent" => scaled(tables.descender()),
            "CapHeight" => Object::Real(single((self.face.font().capital_height() * 1000.0).round())),
            // No font states the width of its stems; viewers use it only to stand in for a missing font.
            "StemV" => if bold { 160 } else { 90 },
            "FontFile2" => program,
        });
        let descendant = file.add_object(dictionary! {
            "Type" => "Font",
            "Subtype" => "CIDFontType2",
            "BaseFont" => self.name.as_str(),
            "CIDSystemInfo" => dictionary! {
                "Registry" => Object::string_literal("Adobe"),
                "Ordering" => Object::string_literal("Identity"),
                "Supplement" => 0,
            },
            "FontDescriptor" => descriptor,
            "CIDToGIDMap" => "Identity",
            "W" => self.widths(),
        });
        let back = file.add_object(Stream::new(Dictionary::new(), self.to_unicode().into_bytes()));
        let font = file.add_object(dictionary! {
            "Type" => "Font",
            "Subtype" => "Type0",
            "BaseFont" => self.name.as_str(),
            "Encoding" => "Identity-H",
            "DescendantFonts" => vec![descendant.into()],
            "ToUnicode" => back,
        });
        font.into()
    }

    /// The array of widths, in thousandths of an em, to a thousandth of that. Glyphs are numbered without a gap.
    fn widths(&self) -> Vec<Object> {
        let Some(first) = self.meanings.keys().next() else { return Vec::new() };
        let width = |(advance, _): &(f64, char)| Object::Real(single((advance * 1e6).round() / 1e3));
        vec![i64::from(*first).into(), self.meanings.values().map(width).collect::<Vec<_>>().into()]
    }

    /// The table that leads from codes back to characters (9.10.3).
    fn to_unicode(&self) -> String {
        let mut table = String::from(
            "/CIDInit /ProcSet findresource begin\n12 dict begin\nbegincmap\n\
             /CIDSystemInfo << /Registry (Adobe) /Ordering (UCS) /Supplement 0 >> def\n\
             /CMapName /Adobe-Identity-UCS def\n/CMapType 2 def\n\
             1 begincodespacerange\n<0000> <FFFF>\nendcodespacerange\n",
        );
        let meanings: Vec<(u16, char)> = self.meanings.iter().map(|(glyph, (_, c))| (*glyph, *c)).collect();
        // A hundred entries to a block at most.
        for block in meanings.chunks(100) {
            table.push_str(&format!("{} beginbfchar\n", block.len()));
            for (glyph, c) in block {
                let units: String = c.encode_utf16(&mut [0; 2]).iter().map(|unit| format!("{unit:04X}")).collect();
                table.push_str(&format!("<{glyph:04X}> <{units}>\n"));
            }
            table.push_str("endbfchar\n");
        }
        table.push_str("endcmap\nCMapName currentdict /CMap defineresource pop\nend\nend\n");
        table
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
