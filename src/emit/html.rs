//! The sheets as one HTML file for a tablet at the bench: made from the same blocks as the pages, in need of nothing
//! from outside, readable without its script, and keeping nothing that is typed.
//!
//! Every text goes through `escape::escaped`. A policy in the head allows only the style and the script written here,
//! each by its digest (Content Security Policy Level 3).

mod blocks;
mod sign;
mod table;

use sha2::{Digest, Sha256};

use super::escape::escaped;
use crate::paper::{self, Block, Composition};
use crate::shared;
use blocks::Writer;

const STYLE: &str = include_str!("html/style.css");
const SCRIPT: &str = include_str!("html/script.js");

/// What the file is made from.
#[derive(Debug, Clone)]
pub struct Document<'a> {
    /// Its title.
    pub title: &'a str,
    /// The program that made it, with its version.
    pub creator: &'a str,
    /// The language of its text, as of RFC 5646.
    pub language: &'a str,
    /// The path of the commission file, for the line that signs a step.
    pub commission: &'a str,
    /// What lies beside it for paper: the name of each file, and what it is.
    pub beside: &'a [(&'a str, &'a str)],
    /// The sheets in order.
    pub sheets: &'a [Sheet<'a>],
}

/// One sheet.
#[derive(Debug, Clone)]
pub struct Sheet<'a> {
    /// Name, frame and blocks, as they are set on paper too.
    pub set: &'a paper::Sheet,
    /// The same set in pages: its pictures are drawn already.
    pub composition: &'a Composition,
    /// Its stamp.
    pub stamp: String,
    /// What is measured and signed, step after step.
    pub measured: Vec<Measured>,
    /// The block on paper that holds the same, and whose place the boxes take; none: they stand at the end.
    pub in_place_of: Option<Block>,
}

/// A value to be measured before a step is signed; figures as printed, empty where there is none.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Measured {
    /// The step's word.
    pub step: String,
    /// The value's name in the line that signs.
    pub key: String,
    /// What is measured.
    pub what: String,
    /// What it should be.
    pub nominal: String,
    /// The lowest that passes.
    pub low: String,
    /// The highest that passes.
    pub high: String,
    /// The unit of the figures; empty where something is only looked at and ticked.
    pub unit: String,
}

/// Writes the file.
pub fn html(document: &Document<'_>) -> String {
    let sections = shared::in_order(document.sheets.len(), |index| section(document, index));
    let mut out = String::with_capacity(sections.iter().map(String::len).sum::<usize>() + 32_768);
    head(&mut out, document);
    opening(&mut out, document);
    out.push_str("<div id=\"sheets\" tabindex=\"-1\">\n");
    sections.iter().for_each(|section| out.push_str(section));
    out.push_str(&format!("</div>\n</main>\n<script>{SCRIPT}</script>\n</body>\n</html>\n"));
    out
}

fn head(out: &mut String, document: &Document<'_>) {
    out.push_str(&format!(
        "<!DOCTYPE html>\n<html lang=\"{}\">\n<head>\n<meta charset=\"utf-8\">\n\
         <meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; style-src 'sha256-{}'; \
         script-src 'sha256-{}'; base-uri 'none'; form-action 'none'\">\n\
         <meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n\
         <meta name=\"color-scheme\" content=\"light dark\">\n<meta name=\"generator\" content=\"{}\">\n\
         <title>{}</title>\n<style>{STYLE}</style>\n</head>\n",
        escaped(document.language),
        digest(STYLE),
        digest(SCRIPT),
        escaped(document.creator),
        escaped(document.title),
    ));
}

/// The bar that stays in sight, what the file is, and the list of sheets.
fn opening(out: &mut String, document: &Document<'_>) {
    out.push_str("<body>\n<a class=\"skip\" href=\"#sheets\">To the sheets</a>\n<header class=\"bar\">\n");
    if let Some(first) = document.sheets.first() {
        let frame = &first.set.frame;
        let badges = [&frame.head.number, &frame.head.badge].into_iter().chain(&frame.draft);
        let badges: Vec<String> = badges.map(|badge| format!("<b>{}</b>", escaped(badge))).collect();
        out.push_str(&format!("<p class=\"badge\">{}</p>\n", badges.join(" ")));
    }
    out.push_str(&format!(
        "<a href=\"#contents\">All sheets</a>\n\
         <button type=\"button\" id=\"light\" aria-pressed=\"false\" hidden>Dark</button>\n</header>\n\
         <main>\n<h1>{}</h1>\n<p>Nothing that is typed or ticked here is kept. The line under what is measured signs a step; the \
         signed file is the only record.</p>\n",
        escaped(document.title)
    ));
    if !document.beside.is_empty() {
        out.push_str("<p>For paper, in the same folder:</p>\n<ul>\n");
        for (name, what) in document.beside {
            out.push_str(&format!("<li><b>{}</b>: {}</li>\n", escaped(name), escaped(what)));
        }
        out.push_str("</ul>\n");
    }
    out.push_str(
        "<nav id=\"contents\" aria-labelledby=\"contents--title\">\n<h2 id=\"contents--title\">Sheets</h2>\n<ol>\n",
    );
    for sheet in document.sheets {
        out.push_str(&format!(
            "<li><a href=\"#{}\">{}</a> <span class=\"stamp\">{}</span></li>\n",
            escaped(&sheet.set.name),
            escaped(&sheet.set.frame.head.title),
            escaped(&sheet.stamp)
        ));
    }
    out.push_str("</ol>\n</nav>\n");
}

fn section(document: &Document<'_>, index: usize) -> String {
    let Some(sheet) = document.sheets.get(index) else { return String::new() };
    let (name, head) = (escaped(&sheet.set.name), &sheet.set.frame.head);
    let mut writer = Writer::new(sheet);
    writer.put(&format!(
        "<section id=\"{name}\" class=\"sheet\" aria-labelledby=\"{name}--title\">\n<header>\n\
         <p class=\"badge\"><b>{}</b> <b>{}</b></p>\n<h2 id=\"{name}--title\">{}</h2>\n",
        escaped(&head.number),
        escaped(&head.badge),
        escaped(&head.title)
    ));
    if let Some(draft) = &sheet.set.frame.draft {
        writer.put(&format!("<p class=\"draft\">{}</p>\n", escaped(draft)));
    }
    for (class, text) in
        [("first", &head.read_first), ("datum", &head.datum), ("units", &head.units), ("order", &head.order)]
    {
        if !text.is_empty() {
            writer.wrapped(&format!("<p class=\"{class}\">"), text, "</p>\n");
        }
    }
    writer.put("</header>\n");
    let held = sheet.in_place_of.as_ref();
    // It may close a group, with the drawing that says where to measure.
    let beside = |block: &Block| match block {
        Block::Group(parts) => {
            parts.split_last().filter(|(last, _)| Some(*last) == held).map(|(_, others)| others.to_vec())
        }
        _ => None,
    };
    let place = sheet.set.blocks.iter().position(|block| Some(block) == held || beside(block).is_some());
    let (before, after) = sheet.set.blocks.split_at(place.unwrap_or(sheet.set.blocks.len()));
    writer.blocks(before);
    writer.blocks(&after.first().and_then(beside).unwrap_or_default());
    writer.measured(&sheet.measured, document.commission);
    writer.blocks(after.get(1..).unwrap_or_default());
    writer.put("<dl class=\"title-block\">\n");
    for field in sheet.set.frame.title_block.rows.iter().flatten().filter(|field| !field.value.is_empty()) {
        let (label, value) = (escaped(&field.label), escaped(&field.value));
        writer.put(&format!("<div><dt>{label}</dt><dd>{value}</dd></div>\n"));
    }
    writer.put("</dl>\n</section>\n");
    writer.out
}

/// SHA-256 (FIPS 180-4) in base 64 (RFC 4648, section 4).
fn digest(text: &str) -> String {
    const SIGNS: &[u8; 64] = b"ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
    let mut out = String::with_capacity(44);
    for three in Sha256::digest(text.as_bytes()).chunks(3) {
        let bits = (0..3).fold(0_usize, |bits, place| bits << 8 | usize::from(three.get(place).copied().unwrap_or(0)));
        for place in 0..4 {
            let sign = SIGNS[bits >> (18 - 6 * place) & 63];
            out.push(if place <= three.len() { char::from(sign) } else { '=' });
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    /// NIST's example for FIPS 180-4, "abc": ba7816bf …, turned into base 64 with another program.
    #[test]
    fn the_digest_is_that_of_the_standard() {
        assert_eq!(digest("abc"), "ungWv48Bz+pBQUDeXa4iI7ADYaOWF3qctBD/YfIAFa0=");
    }
}
