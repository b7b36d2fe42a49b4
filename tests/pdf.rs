//! The PDF file as another crate than its writer reads it.

use std::collections::BTreeMap;

use hayro_syntax::Pdf;
use hayro_syntax::content::ops::TypedInstruction;
use hayro_syntax::object::{Array, Dict, Name, Object, Stream};
use kerfbook::emit::pdf::{Document, pdf};
use kerfbook::lettering::Face;
use kerfbook::paper::{Block, Paper, Sheet, Volume, compose};

use super::sample;

pub(crate) fn read(bytes: &[u8]) -> Pdf {
    Pdf::new(bytes.to_vec()).unwrap()
}

fn catalog(file: &Pdf) -> Dict<'_> {
    file.xref().get::<Dict<'_>>(file.xref().root_id()).unwrap()
}

fn name(dict: &Dict<'_>, key: &str) -> String {
    dict.get::<Name<'_>>(key.as_bytes()).map(|name| name.as_str().to_owned()).unwrap_or_default()
}

/// Codes to characters, from a font's own table.
fn to_unicode(font: &Dict<'_>) -> BTreeMap<u16, String> {
    let stream = font.get::<Stream<'_>>(b"ToUnicode".as_slice()).unwrap();
    let table = String::from_utf8(stream.decoded_data().unwrap().to_vec()).unwrap();
    let code = |word: &str| u16::from_str_radix(word.trim_matches(['<', '>']), 16).unwrap();
    let text = |word: &str| {
        let digits = word.trim_matches(['<', '>']).as_bytes();
        let units = digits.chunks(4).map(|four| u16::from_str_radix(std::str::from_utf8(four).unwrap(), 16).unwrap());
        String::from_utf16(&units.collect::<Vec<_>>()).unwrap()
    };
    let mut map = BTreeMap::new();
    let mut within = "";
    for line in table.lines() {
        let words: Vec<&str> = line.split_whitespace().collect();
        match words.as_slice() {
            [.., "beginbfchar"] => within = "char",
            [.., "beginbfrange"] => within = "range",
            ["endbfchar" | "endbfrange"] => within = "",
            [one, to] if within == "char" => drop(map.insert(code(one), text(to))),
            [from, to, start] if within == "range" => {
                let first = start.trim_matches(['<', '>', '[', ']']);
                let first = u32::from_str_radix(first, 16).unwrap();
                for (offset, code) in (code(from)..=code(to)).enumerate() {
                    let c = char::from_u32(first + u32::try_from(offset).unwrap()).unwrap();
                    map.insert(code, c.to_string());
                }
            }
            _ => {}
        }
    }
    map
}

/// What a page shows, one string a text, in the order of the file.
pub(crate) fn texts(page: &hayro_syntax::page::Page<'_>) -> Vec<String> {
    let mut fonts: BTreeMap<String, BTreeMap<u16, String>> = BTreeMap::new();
    let mut font = String::new();
    let mut shown = Vec::new();
    let mut operations = page.typed_operations();
    while let Some(operation) = operations.next() {
        match operation {
            TypedInstruction::TextFont(set) => {
                font = set.0.as_str().to_owned();
                fonts.entry(font.clone()).or_insert_with(|| to_unicode(&page.resources().get_font(set.0).unwrap()));
            }
            TypedInstruction::ShowText(text) => shown.push(decoded(text.0.as_bytes(), &fonts[&font])),
            TypedInstruction::ShowTexts(array) => {
                for part in array.0.iter::<Object<'_>>() {
                    if let Object::String(text) = part {
                        shown.push(decoded(text.as_bytes(), &fonts[&font]));
                    }
                }
            }
            _ => {}
        }
    }
    shown
}

fn decoded(codes: &[u8], map: &BTreeMap<u16, String>) -> String {
    codes.chunks(2).map(|two| map[&u16::from_be_bytes([two[0], two[1]])].as_str()).collect()
}

#[test]
fn pages_have_the_size_of_the_paper() {
    // ISO 216: A4 is 210 mm by 297 mm; ASME Y14.1: size A is 8.5 in by 11 in; a point is 1/72 in.
    for (paper, width, height) in [(Paper::A4, 595.2756, 841.8898), (Paper::Letter, 612.0, 792.0)] {
        let bytes = pdf(&sample::document(paper, None));
        let file = read(&bytes);
        assert_eq!(file.pages().len(), 6);
        for page in file.pages().iter() {
            let media = page.media_box();
            assert!((media.x1 - media.x0 - width).abs() < 2e-4, "{media:?}");
            assert!((media.y1 - media.y0 - height).abs() < 2e-4, "{media:?}");
        }
    }
}

#[test]
fn text_is_found_as_it_was_set() {
    let document = sample::document(Paper::A4, Some("DRAFT after B"));
    let bytes = pdf(&document);
    let file = read(&bytes);
    for (page, set) in file.pages().iter().zip(&document.volume.pages) {
        let as_set: Vec<String> = set
            .marks
            .iter()
            .filter_map(|mark| match &mark.item {
                kerfbook::drawing::Item::Text(text) => Some(text.text.clone()),
                kerfbook::drawing::Item::Path { .. } => None,
            })
            .collect();
        assert_eq!(texts(page), as_set);
    }
    let back = texts(&file.pages()[2]).join(" ");
    assert!(back.contains("½ of ⅛, Ø 3 ×"), "{back}");
    assert!(back.contains("4 °, 5 Ω, 7 µ, ≤ ≥ → ☐ ☑."), "{back}");
}

#[test]
fn a_character_without_a_glyph_reads_as_the_replacement_sign() {
    let frame = sample::frame(Paper::A4, "Test", "1 / 1", None);
    let sheet = Sheet { name: "a".to_owned(), frame, blocks: vec![Block::paragraph("a\u{1F3B8}b\u{a0}c")] };
    let mut volume = Volume::default();
    volume.append(&compose(&sheet), &sheet.frame);
    let bytes = pdf(&Document { volume, ..Document::default() });
    assert!(texts(&read(&bytes).pages()[0]).contains(&"a\u{FFFD}b c".to_owned()));
}

#[test]
fn the_same_document_gives_the_same_bytes_in_any_order() {
    let one = sample::document(Paper::A4, None);
    let other = sample::document(Paper::Letter, Some("DRAFT after B"));
    let first = (pdf(&one), pdf(&other));
    let second = (pdf(&other), pdf(&one));
    assert!(first.0 == second.1 && first.1 == second.0);
    assert_ne!(first.0, first.1);
    let made_elsewhere = std::thread::spawn(|| pdf(&sample::document(Paper::A4, None))).join().unwrap();
    assert!(first.0 == made_elsewhere);
}

#[test]
fn the_file_prints_at_full_size_and_keeps_no_clock() {
    let bytes = pdf(&sample::document(Paper::A4, None));
    let file = read(&bytes);
    assert_eq!(file.version(), hayro_syntax::PdfVersion::Pdf17);
    let catalog = catalog(&file);
    let preferences = catalog.get::<Dict<'_>>(b"ViewerPreferences".as_slice()).unwrap();
    assert_eq!(name(&preferences, "PrintScaling"), "None");
    assert_eq!(preferences.get::<bool>(b"PickTrayByPDFSize".as_slice()), Some(true));
    assert_eq!(preferences.get::<bool>(b"DisplayDocTitle".as_slice()), Some(true));
    let language = catalog.get::<hayro_syntax::object::String<'_>>(b"Lang".as_slice()).unwrap();
    assert_eq!(language.as_bytes(), b"en");
    let about = file.metadata();
    assert!(about.creation_date.is_none() && about.modification_date.is_none());
    for object in file.objects() {
        if let Object::Dict(dict) = object {
            assert!(!dict.contains_key(b"GTS_PDFXVersion".as_slice()));
        }
    }
}

#[test]
fn fonts_are_subsets_with_exact_widths() {
    let bytes = pdf(&sample::document(Paper::A4, None));
    assert!(bytes.len() < 130_000, "{} bytes", bytes.len());
    let file = read(&bytes);
    let page = &file.pages()[0];
    let mut checked = 0;
    for (key, face) in [("R", Face::Regular), ("B", Face::Bold), ("C", Face::Condensed)] {
        let font = page.resources().get_font(&Name::new_unescaped(key.as_bytes())).unwrap();
        let base = name(&font, "BaseFont");
        assert!(base.len() > 7 && base.as_bytes()[6] == b'+', "{base}");
        let characters = to_unicode(&font);
        let descendants = font.get::<Array<'_>>(b"DescendantFonts".as_slice()).unwrap();
        let descendant = descendants.iter::<Dict<'_>>().next().unwrap();
        let widths = descendant.get::<Array<'_>>(b"W".as_slice()).unwrap();
        let mut start = 0;
        for entry in widths.iter::<Object<'_>>() {
            match entry {
                Object::Number(number) => start = u16::try_from(number.as_i64()).unwrap(),
                Object::Array(run) => {
                    for (offset, width) in (0_u16..).zip(run.iter::<f64>()) {
                        let own =
                            face.width(&characters[&(start + offset)], 1000.0) / kerfbook::lettering::MM_PER_POINT;
                        assert!((width - own).abs() < 1e-3, "{width} {own}");
                        checked += 1;
                    }
                }
                _ => panic!("a number or a run"),
            }
        }
    }
    assert!(checked > 120, "{checked}");
}

#[test]
fn bookmarks_are_nested_and_lead_to_pages() {
    let bytes = pdf(&sample::document(Paper::A4, None));
    let file = read(&bytes);
    let outline = catalog(&file).get::<Dict<'_>>(b"Outlines".as_slice()).unwrap();
    let title = |entry: &Dict<'_>| {
        let text = entry.get::<hayro_syntax::object::String<'_>>(b"Title".as_slice()).unwrap();
        let units: Vec<u16> = text.as_bytes()[2..].chunks(2).map(|two| u16::from_be_bytes([two[0], two[1]])).collect();
        String::from_utf16(&units).unwrap()
    };
    let mut entry = outline.get::<Dict<'_>>(b"First".as_slice());
    let mut seen = Vec::new();
    while let Some(at) = entry {
        assert!(at.contains_key(b"Dest".as_slice()));
        let mut below = at.get::<Dict<'_>>(b"First".as_slice());
        let mut inner = Vec::new();
        while let Some(under) = below {
            inner.push(title(&under));
            below = under.get::<Dict<'_>>(b"Next".as_slice());
        }
        seen.push((title(&at), inner));
        entry = at.get::<Dict<'_>>(b"Next".as_slice());
    }
    let headings = vec!["Section at fret 25, the widest".to_owned(), "Prove it".to_owned()];
    let depth = ("depth".to_owned(), headings);
    assert_eq!(seen, [("positions".to_owned(), vec![]), depth, ("positions".to_owned(), vec![])]);
}

#[test]
fn a_link_leads_to_the_first_page_of_its_sheet() {
    let bytes = pdf(&sample::document(Paper::A4, None));
    let file = read(&bytes);
    let page = &file.pages()[2];
    let links = page.raw().get::<Array<'_>>(b"Annots".as_slice()).unwrap();
    let link = links.iter::<Dict<'_>>().next().unwrap();
    let target = link.get::<Array<'_>>(b"Dest".as_slice()).unwrap();
    let first = target.iter::<Dict<'_>>().next().unwrap();
    assert_eq!(first.obj_id(), file.pages()[0].raw().obj_id());
}

#[test]
fn every_marked_stretch_has_its_element_and_every_row_its_cells() {
    let bytes = pdf(&sample::document(Paper::A4, None));
    let file = read(&bytes);
    let tree = catalog(&file).get::<Dict<'_>>(b"StructTreeRoot".as_slice()).unwrap();
    let parents = tree.get::<Dict<'_>>(b"ParentTree".as_slice()).unwrap();
    let numbers: Vec<Object<'_>> = parents.get::<Array<'_>>(b"Nums".as_slice()).unwrap().iter().collect();
    for (index, page) in file.pages().iter().enumerate() {
        let Object::Array(owners) = &numbers[2 * index + 1] else { panic!("an array for each page") };
        let roles: Vec<String> = owners.iter::<Dict<'_>>().map(|owner| name(&owner, "S")).collect();
        let mut marked = Vec::new();
        let mut operations = page.typed_operations();
        while let Some(operation) = operations.next() {
            if let TypedInstruction::BeginMarkedContentWithProperties(begin) = operation {
                marked.push(begin.0.as_str().to_owned());
            }
        }
        assert_eq!(marked, roles, "page {index}");
    }
    let mut rows = 0;
    for object in file.objects() {
        if let Object::Dict(dict) = object
            && name(&dict, "S") == "TR"
        {
            rows += 1;
            let cells = dict.get::<Array<'_>>(b"K".as_slice()).unwrap().iter::<Dict<'_>>().count();
            assert_eq!(cells, 7);
        }
    }
    assert_eq!(rows, 26 + 31 + 62);
}
