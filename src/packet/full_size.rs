//! `full-size.pdf`: the patterns at 1 : 1 on ordinary paper, behind a page that says how they are proved; and the same
//! on one long page.

use std::fmt::Write;

use super::bind::{self, Bound, Wording};
use super::fill;
use crate::emit::pdf::Document;
use crate::paper::tiles::{self, Piece, Ruler, Stretch};
use crate::paper::{Frame, Paper, Volume, compose};
use crate::sheets::patterns::{Kind, Pattern};
use crate::sheets::{History, Job, full_size};
use crate::template::{Engine, TemplateError};
use crate::units::{MM_PER_INCH, WorkingUnit};

/// The files of the patterns: in tiles on ordinary paper, and all on one long page.
pub(super) const TILED: &str = "full-size.pdf";
/// See [`TILED`].
pub(super) const ROLL: &str = "full-size-roll.pdf";

/// The patterns on ordinary paper, and all of them on one page for a roll, each with its file's name; nothing where
/// there is no pattern.
///
/// # Errors
/// A shop's own template of the first page that does not fit it.
pub(super) fn documents(
    engine: &Engine,
    job: &Job<'_>,
    history: &History<'_>,
    bound: &Bound,
    paper: Paper,
    patterns: &[Pattern],
) -> Result<Vec<(&'static str, Document)>, Vec<TemplateError>> {
    if patterns.is_empty() {
        return Ok(Vec::new());
    }
    let stamps: Vec<String> = patterns.iter().map(|pattern| stamps(bound, pattern)).collect();
    let pieces: Vec<Piece> =
        patterns.iter().zip(&stamps).map(|(pattern, stamps)| piece(job, pattern, stamps)).collect();
    let stretch = stretch(job);
    let guide = |first: usize, tiled: Option<&tiles::Tiled>| {
        let places = tiled.map(tiles::Tiled::places).unwrap_or_default();
        full_size::guide(job, patterns, &stamps, &places, stretch, first)
    };
    let frame = |sheet: &crate::sheets::Sheet| frame(job, history, sheet, bound, paper);
    let usual = frame(&guide(2, None));
    let tiled = tiles::tile(&pieces, &usual, stretch);
    // The guide's own length shifts the pages it tells; it is one page unless there are very many pieces.
    let mut first = 2;
    let mut sheet = guide(first, Some(&tiled));
    let mut composition = compose(&fill::set(engine, job, &sheet, &usual)?);
    if composition.page_count() + 1 != first {
        first = composition.page_count() + 1;
        sheet = guide(first, Some(&tiled));
        composition = compose(&fill::set(engine, job, &sheet, &usual)?);
    }
    let mut volume = Volume::default();
    let count = tiled.page_count() + first - 1;
    volume.append_of(&composition, &usual, 1, count);
    tiled.append_to(&mut volume, "tiles", &usual, (first - 1, count));
    let about = |volume: Volume, title: &str| Document {
        title: format!("{} {title}", bound.document.title),
        subject: title.to_owned(),
        volume,
        bookmarks: Vec::new(),
        ..bound.document.clone()
    };
    let roll = about(tiles::roll(&pieces, &usual), "Full-size patterns, roll");
    Ok(vec![(TILED, about(volume, "Full-size patterns")), (ROLL, roll)])
}

/// What a printer that is off needs; nothing where its bars are not measured.
fn stretch(job: &Job<'_>) -> Stretch {
    let Some([x, y]) = &job.model.shop.bar_measured else { return Stretch::NONE };
    match (x.mm(), y.mm()) {
        (Ok(x), Ok(y)) => Stretch { x: BAR / x, y: BAR / y },
        _ => Stretch::NONE,
    }
}

/// What the bars of a print that is right measure, millimetres.
const BAR: f64 = 100.0;

fn frame(job: &Job<'_>, history: &History<'_>, sheet: &crate::sheets::Sheet, bound: &Bound, paper: Paper) -> Frame {
    let wording = Wording {
        valid_if: "every stamp on it stands on the current cover",
        number: "–".to_owned(),
        stamp: "on each tile".to_owned(),
        symbol: bound.stamp.to_string(),
    };
    let mut frame = bind::frame(job, history, sheet, wording, paper);
    frame.head.bound_in = "full-size";
    frame.head.is_whole = true;
    frame.head.units = "Scale 1\u{a0}:\u{a0}1. The bars must measure 100.0\u{a0}mm and 4\u{a0}in".into();
    frame
}

/// The stamps of the sheets that a pattern is drawn from, as they stand on the cover.
fn stamps(bound: &Bound, pattern: &Pattern) -> String {
    let mut text = String::new();
    for (sheet, stamp) in bound.all_stamped() {
        if pattern.sheets.contains(&sheet.id) {
            let gap = if text.is_empty() { "" } else { " · " };
            // Writing to a string cannot fail.
            let _ = write!(text, "{gap}{}\u{a0}{}", sheet.id, stamp.to_string().replace(' ', "\u{a0}"));
        }
    }
    text
}

fn piece(job: &Job<'_>, pattern: &Pattern, stamps: &str) -> Piece {
    // The bench counts along the board from its squared end, as every sheet does; only files count from the zero line.
    let ruler = |origin: f64| {
        let (unit, millimetres, step, figures) = match job.unit() {
            WorkingUnit::Millimetre => ("mm", 1.0, 10.0, 5),
            WorkingUnit::Inch => ("in", MM_PER_INCH, 0.25, 4),
        };
        Ruler { datum: "the squared end".to_owned(), origin, unit, millimetres, step, figures }
    };
    let squared_end = job.design.squared_end.ok().filter(|_| pattern.along_board);
    Piece {
        title: pattern.title.clone(),
        note: stamps.to_owned(),
        plan: pattern.plan.clone(),
        ruler: squared_end.map(ruler),
        lengthwise: pattern.kind == Kind::Board,
    }
}
