//! Sheets to the screen: the blocks that the pages are set from, with what is to be measured made into boxes to type in.

use super::PacketFile;
use super::bind::Bound;
use super::fill::holds;
use super::full_size;
use crate::emit::html::{self, Measured};
use crate::paper::Block;
use crate::rounding;
use crate::sheets::{Cell, Hold, Job, Sheet};

/// The sheet that gathers what is measured on all others and at the steps without a sheet.
const SIGN_OFF: &str = "sign-off";

/// What a packet may hold for paper beside the sheets, and what it is.
const FOR_PAPER: [(&str, &str); 2] = [
    (full_size::TILED, "patterns at 1:1 in tiles, to be printed at 100 % and measured before use"),
    (full_size::ROLL, "the same patterns on one long page, for a roll printer"),
];

/// The sheets as one file for a screen. `commission` is the path of the commission file, for the line that signs a
/// step; `files` are the packet's others, of which those for paper are named.
pub(super) fn screen(bound: &Bound, job: &Job<'_>, commission: &str, files: &[PacketFile]) -> String {
    let sheets: Vec<html::Sheet<'_>> = bound
        .sheets
        .iter()
        .zip(&bound.stamps)
        .zip(bound.set.iter().zip(&bound.compositions))
        .map(|((sheet, stamp), (set, composition))| {
            let (measured, in_place_of) = if sheet.id == SIGN_OFF {
                (gathered(job, sheet), sheet.views.first().map(|view| Block::Table(view.table.clone())))
            } else {
                (of_holds(job, &sheet.holds), holds(job, &sheet.holds).into_iter().next())
            };
            html::Sheet { set, composition, stamp: stamp.to_string(), measured, in_place_of }
        })
        .collect();
    let made = FOR_PAPER.into_iter().filter(|(name, _)| files.iter().any(|file| file.path == *name));
    let beside: Vec<_> =
        std::iter::once(("packet.pdf", "the same sheets, to be printed at 100 %")).chain(made).collect();
    html::html(&html::Document {
        title: &bound.document.title,
        creator: &bound.document.creator,
        language: &bound.document.language,
        commission,
        beside: &beside,
        sheets: &sheets,
    })
}

fn of_holds(job: &Job<'_>, holds: &[Hold]) -> Vec<Measured> {
    let of = |hold: &Hold| measured(job, hold.step, &hold.what, [hold.nominal, hold.low, hold.high], hold.unit);
    holds.iter().map(of).collect()
}

/// What is measured at every step, from the rows of the sheet that gathers it.
fn gathered(job: &Job<'_>, sheet: &Sheet) -> Vec<Measured> {
    let Some(table) = sheet.tables.iter().find(|table| table.name == SIGN_OFF) else { return Vec::new() };
    let place = |key: &str| table.columns.iter().position(|column| column.key == key);
    let words = |row: &[Cell], key: &str| match place(key).and_then(|index| row.get(index)) {
        Some(Cell::Words(words) | Cell::Quoted(words)) => words.clone(),
        _ => String::new(),
    };
    let figure = |row: &[Cell], key: &str| match place(key).and_then(|index| row.get(index)) {
        Some(Cell::Figure(figure)) => Some(*figure),
        _ => None,
    };
    table
        .rows
        .iter()
        .map(|row| {
            let figures = ["nominal", "low", "high"].map(|key| figure(row, key));
            measured(job, &words(row, "step"), &words(row, "what"), figures, &words(row, "unit"))
        })
        .collect()
}

/// Something to be measured, with its nominal, lowest and highest figure in base units.
fn measured(job: &Job<'_>, step: &str, what: &str, figures: [Option<f64>; 3], unit: &str) -> Measured {
    let is_length = unit == "mm";
    let text = |figure: Option<f64>| match figure {
        None => String::new(),
        Some(figure) if is_length => job.length(figure),
        Some(figure) => rounding::fixed(figure, 2),
    };
    let [nominal, low, high] = figures.map(text);
    let parts = what.split(|sign: char| !sign.is_ascii_alphanumeric()).filter(|part| !part.is_empty());
    Measured {
        step: step.to_owned(),
        key: parts.map(str::to_lowercase).collect::<Vec<_>>().join("_"),
        what: what.to_owned(),
        nominal,
        low,
        high,
        unit: if is_length { job.unit_word() } else { unit }.to_owned(),
    }
}
