//! PDF: pages of marks in, the bytes of a file out. PDF 1.7 (ISO 32000-1), tagged, printed at 100 %.
//!
//! `printpdf` makes document and pages; what it lacks is put in afterwards: the content itself (its lists of
//! operations cost ten times the time), fonts as subsets with exact widths, structure, nested bookmarks, page labels,
//! viewer's preferences, an identifier from the digest.
//! Nothing comes from a clock or a counter: the same document gives the same bytes, in whatever order documents
//! are made.

mod content;
mod fonts;
mod structure;

use std::cell::RefCell;
use std::collections::BTreeMap;

use flate2::{Compress, Compression, FlushCompress, Status};
use lopdf::{Dictionary, Object, ObjectId, SaveOptions, Stream, StringFormat, dictionary};
use printpdf::{Mm, PdfDocument, PdfPage, PdfSaveOptions};
use sha2::{Digest, Sha256};

use crate::lettering::MM_PER_POINT;
use crate::paper::{Bookmark, Page, Volume};
use crate::shared;
use fonts::Fonts;

/// What a PDF file is made from.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Document {
    /// Its title, shown in the viewer's title bar.
    pub title: String,
    /// Who answers for it; may be empty.
    pub author: String,
    /// What it is about; may be empty.
    pub subject: String,
    /// The program that made it, with its version.
    pub creator: String,
    /// The language of its text, as of RFC 5646: `en`.
    pub language: String,
    /// The pages.
    pub volume: Volume,
    /// The bookmarks.
    pub bookmarks: Vec<Bookmark>,
    /// A label for each page, as a viewer shows it; fewer or none: plain numbers.
    pub labels: Vec<String>,
}

/// Objects to one compressed object stream.
const OBJECTS_TO_A_STREAM: usize = 2000;
/// What stands in the identifier's place until it is known.
const MARK: &[u8; 16] = b"identifier: none";
/// Deflate's level: half the time of level 6 for a file a tenth larger.
const LEVEL: u32 = 2;

/// Writes a document as PDF.
pub fn pdf(document: &Document) -> Vec<u8> {
    let pages = &document.volume.pages;
    let fonts = Fonts::of(pages);
    let contents = shared::in_order(pages.len(), |index| {
        let content = content::of(&pages[index], &document.volume.elements, &fonts);
        let mut stream = Stream::new(Dictionary::new(), content.stream);
        compress(&mut stream);
        (stream, content.stretches)
    });
    let (streams, stretches): (Vec<_>, Vec<_>) = contents.into_iter().unzip();
    let mut file = blank(pages);
    let page_ids: Vec<ObjectId> = file.get_pages().into_values().collect();
    fill_in(&mut file, &fonts, streams, &page_ids);
    add_links(&mut file, document, &page_ids);
    structure::add(&mut file, &document.volume.elements, &stretches, &page_ids);
    let outline = add_bookmarks(&mut file, &document.bookmarks, pages, &page_ids);
    complete_catalog(&mut file, document, outline);
    finish(file, document)
}

/// A document of blank pages.
fn blank(pages: &[Page]) -> lopdf::Document {
    // Sizes pass through single precision: 215.9 mm comes back as 612.0 pt to a ten-thousandth.
    let set = |page: &Page| PdfPage::new(Mm(single(page.width)), Mm(single(page.height)), Vec::new());
    let mut made = PdfDocument::new("");
    made.pages = pages.iter().map(set).collect();
    let options = PdfSaveOptions { optimize: false, secure: true, subset_fonts: false, image_optimization: None };
    let mut file = made.to_lopdf_document(&options, &mut Vec::new());
    file.version = "1.7".to_owned();
    file
}

/// Gives the blank pages their content and one dictionary of fonts, and drops what stood in their place.
fn fill_in(file: &mut lopdf::Document, fonts: &Fonts, contents: Vec<Stream>, page_ids: &[ObjectId]) {
    let called = fonts.add_to(file);
    let resources = file.add_object(dictionary! { "Font" => called });
    for (content, id) in contents.into_iter().zip(page_ids) {
        let stream = file.add_object(content);
        let page = file.get_object_mut(*id).and_then(Object::as_dict_mut).expect("the crate writes its pages");
        page.set("Contents", stream);
        page.set("Resources", resources);
    }
    file.prune_objects();
}

#[allow(clippy::cast_possible_truncation, reason = "the file's numbers are single; points are far from its range")]
fn single(value: f64) -> f32 {
    value as f32
}

/// Millimetres as points with three decimals: 0.4 micrometres, finer than any printer and short in the file.
fn points(millimetres: f64) -> f32 {
    single((millimetres / MM_PER_POINT * 1000.0).round() / 1000.0)
}

fn add_links(file: &mut lopdf::Document, document: &Document, page_ids: &[ObjectId]) {
    for (page, id) in document.volume.pages.iter().zip(page_ids) {
        let link = |link: &crate::paper::Link| {
            let target = document.volume.sheet(&link.sheet)?;
            let height = document.volume.pages.get(target.first)?.height;
            let area = link.area;
            Some(Object::Dictionary(dictionary! {
                "Type" => "Annot",
                "Subtype" => "Link",
                "Rect" => [area.x0, area.y0, area.x1, area.y1].map(|at| Object::Real(points(at))).to_vec(),
                "Border" => vec![0.into(), 0.into(), 0.into()],
                "F" => 4,
                "Dest" => destination(*page_ids.get(target.first)?, height),
            }))
        };
        let links: Vec<Object> = page.links.iter().filter_map(link).collect();
        if let Ok(page) = file.get_object_mut(*id).and_then(Object::as_dict_mut) {
            page.remove(b"Annots");
            if !links.is_empty() {
                page.set("Annots", links);
            }
        }
    }
}

/// A place on a page, `top` millimetres above its lower edge, at the zoom that is set.
fn destination(page: ObjectId, top: f64) -> Vec<Object> {
    vec![page.into(), "XYZ".into(), Object::Null, Object::Real(points(top)), Object::Null]
}

/// Adds the bookmarks and gives their root; none without any.
fn add_bookmarks(
    file: &mut lopdf::Document,
    bookmarks: &[Bookmark],
    pages: &[Page],
    page_ids: &[ObjectId],
) -> Option<ObjectId> {
    if bookmarks.is_empty() {
        return None;
    }
    let root = file.new_object_id();
    let ids = add_level(file, bookmarks, root, pages, page_ids);
    let mut outline = dictionary! { "Type" => "Outlines", "Count" => count(bookmarks.len()) };
    tie(&mut outline, &ids);
    file.objects.insert(root, outline.into());
    Some(root)
}

/// One level of bookmarks; those under each are closed at first.
fn add_level(
    file: &mut lopdf::Document,
    bookmarks: &[Bookmark],
    parent: ObjectId,
    pages: &[Page],
    page_ids: &[ObjectId],
) -> Vec<ObjectId> {
    let ids: Vec<ObjectId> = bookmarks.iter().map(|_| file.new_object_id()).collect();
    for (index, bookmark) in bookmarks.iter().enumerate() {
        let mut entry = dictionary! { "Title" => text_string(&bookmark.title), "Parent" => parent };
        if let (Some(page), Some(id)) = (pages.get(bookmark.page), page_ids.get(bookmark.page)) {
            entry.set("Dest", destination(*id, bookmark.top.map_or(page.height, |top| top + 4.0)));
        }
        if index > 0 {
            entry.set("Prev", ids[index - 1]);
        }
        if let Some(next) = ids.get(index + 1) {
            entry.set("Next", *next);
        }
        if !bookmark.below.is_empty() {
            let below = add_level(file, &bookmark.below, ids[index], pages, page_ids);
            tie(&mut entry, &below);
            entry.set("Count", -count(bookmark.below.len()));
        }
        file.objects.insert(ids[index], entry.into());
    }
    ids
}

fn tie(parent: &mut Dictionary, children: &[ObjectId]) {
    if let (Some(first), Some(last)) = (children.first(), children.last()) {
        parent.set("First", *first);
        parent.set("Last", *last);
    }
}

fn count(number: usize) -> i64 {
    i64::try_from(number).expect("a document holds fewer things than an i64 counts")
}

/// A text for people: UTF-16 with its mark, as every viewer reads it.
fn text_string(text: &str) -> Object {
    let mut bytes = vec![0xfe, 0xff];
    bytes.extend(text.encode_utf16().flat_map(u16::to_be_bytes));
    Object::String(bytes, StringFormat::Hexadecimal)
}

fn complete_catalog(file: &mut lopdf::Document, document: &Document, outline: Option<ObjectId>) {
    let labels = document.labels.iter().take(document.volume.pages.len()).enumerate();
    let labels: Vec<Object> = labels
        .flat_map(|(index, label)| [count(index).into(), Object::Dictionary(dictionary! { "P" => text_string(label) })])
        .collect();
    let catalog = file.catalog_mut().expect("the crate writes a catalogue");
    catalog.set("Version", "1.7");
    catalog.set("Lang", Object::string_literal(document.language.as_str()));
    catalog.set("PageLayout", "SinglePage");
    catalog.set("PageMode", if outline.is_some() { "UseOutlines" } else { "UseNone" });
    catalog.set(
        "ViewerPreferences",
        dictionary! { "PrintScaling" => "None", "PickTrayByPDFSize" => true, "DisplayDocTitle" => true },
    );
    if !labels.is_empty() {
        catalog.set("PageLabels", dictionary! { "Nums" => labels });
    }
    if let Some(outline) = outline {
        catalog.set("Outlines", outline);
    }
}

/// Writes who made what, compresses, gives the file an identifier from its digest, and writes it out.
fn finish(mut file: lopdf::Document, document: &Document) -> Vec<u8> {
    let mut about = Dictionary::new();
    let entries = [
        ("Title", &document.title),
        ("Author", &document.author),
        ("Subject", &document.subject),
        ("Creator", &document.creator),
        ("Producer", &document.creator),
    ];
    for (key, text) in entries {
        if !text.is_empty() {
            about.set(key, text_string(text));
        }
    }
    // In place of the crate's own, which carries dates and a mark of a standard it does not keep.
    match file.trailer.get(b"Info").and_then(Object::as_reference) {
        Ok(id) => drop(file.objects.insert(id, about.into())),
        Err(_) => file.trailer.set("Info", about),
    }
    for object in file.objects.values_mut() {
        if let Object::Stream(stream) = object {
            compress(stream);
        }
    }
    // Written with a mark in the identifier's place, which the digest of the file so marked then takes.
    let mark = Object::String(MARK.to_vec(), StringFormat::Hexadecimal);
    file.trailer.set("ID", vec![mark.clone(), mark]);
    let mut bytes = written(&mut file);
    let digest = Sha256::digest(&bytes);
    let (mark, id) = (hexadecimal(MARK), hexadecimal(&digest[..MARK.len()]));
    // It stands in the dictionary of the file's last object, so it is sought from the end.
    let mut end = bytes.len();
    for _ in 0..2 {
        let place = bytes[..end].windows(mark.len()).rposition(|window| window == mark);
        end = place.expect("the identifier was just written");
        bytes[end..end + id.len()].copy_from_slice(&id);
    }
    bytes
}

fn hexadecimal(bytes: &[u8]) -> Vec<u8> {
    bytes.iter().flat_map(|byte| format!("{byte:02X}").into_bytes()).collect()
}

/// Compresses a stream that is not yet.
fn compress(stream: &mut Stream) {
    thread_local! {
        // One compressor serves for all of a thread: making one costs more than a short stream.
        static DEFLATE: RefCell<Compress> = RefCell::new(Compress::new(Compression::new(LEVEL), true));
    }
    if stream.dict.has(b"Filter") {
        return;
    }
    let compressed = DEFLATE.with_borrow_mut(|deflate| deflated(&stream.content, deflate));
    if compressed.len() < stream.content.len() {
        stream.dict.set("Filter", "FlateDecode");
        stream.set_content(compressed);
    }
}

fn deflated(content: &[u8], deflate: &mut Compress) -> Vec<u8> {
    deflate.reset();
    let mut compressed = Vec::with_capacity(content.len() / 3 + 256);
    loop {
        let read = usize::try_from(deflate.total_in()).expect("a stream is shorter than memory");
        let status = deflate.compress_vec(&content[read..], &mut compressed, FlushCompress::Finish);
        if status.expect("compressing in memory does not fail") == Status::StreamEnd {
            return compressed;
        }
        compressed.reserve(compressed.capacity());
    }
}

fn written(file: &mut lopdf::Document) -> Vec<u8> {
    let options = SaveOptions::builder()
        .use_object_streams(true)
        .use_xref_streams(true)
        .max_objects_per_stream(OBJECTS_TO_A_STREAM)
        .compression_level(LEVEL)
        .build();
    let mut bytes = Vec::new();
    file.save_with_options(&mut bytes, options).expect("writing to memory does not fail");
    bytes
}

/// Which page shows which elements: for each stretch of marked content, its element.
type Stretches = Vec<crate::paper::ElementId>;

/// Elements by the pages and stretches that show them.
type Shown = BTreeMap<crate::paper::ElementId, Vec<(usize, usize)>>;
