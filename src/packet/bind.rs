//! Sheets to pages: each filled in from its template, framed, set, numbered and bound.

use super::compile::hand_badge;
use super::fill::set;
use super::print;
use crate::design::order::OrderOfWork;
use crate::emit::pdf::Document;
use crate::paper::{Bookmark, Composition, Field, Frame, Head, Inlines, Paper, Symbol, TitleBlock, Volume, compose};
use crate::shared;
use crate::sheets::patterns::{self, Edition, Pattern};
use crate::sheets::stamp::Stamp;
use crate::sheets::{History, Job, PageRange, Sheet, cover};
use crate::template::{Engine, TemplateError};
use crate::units::WorkingUnit;

/// The title block's field for the letter of the issue.
pub(super) const ISSUE: &str = "Issue";

/// Pages of most covers: the list of sheets and what is open, then the governing numbers.
const USUAL_COVER: usize = 2;

/// A packet's sheets, set and bound.
pub(super) struct Bound {
    /// The sheets in packet order, the cover first.
    pub(super) sheets: Vec<Sheet>,
    /// The stamp of each sheet, in the same order; the cover's is the packet's.
    pub(super) stamps: Vec<Stamp>,
    /// The stamp over all sheets' stamps.
    pub(super) stamp: Stamp,
    /// Each sheet's pages, from 1.
    pub(super) pages: Vec<PageRange>,
    /// The whole packet.
    pub(super) document: Document,
    /// The sheets that the shop does not print.
    pub(super) left_out: Vec<LeftOut>,
    /// Each sheet's text, set in pages.
    pub(super) compositions: Vec<Composition>,
    /// Each sheet before it was set.
    pub(super) set: Vec<crate::paper::Sheet>,
}

/// A sheet that the shop does not print; its figures are in the packet's files all the same.
pub(super) struct LeftOut {
    /// The sheet.
    pub(super) sheet: Sheet,
    /// Its stamp.
    pub(super) stamp: Stamp,
    composition: Composition,
    set: crate::paper::Sheet,
}

/// A sheet before and after it is set in pages.
type Composed = (crate::paper::Sheet, Composition);

/// The most pages of one sheet where the shop has templates of its own: far beyond what the longest of ours takes.
const MOST_PAGES: usize = 60;

/// Sets and binds the sheets; the cover is made last, since it lists the others with their pages.
///
/// # Errors
/// Every template that does not fit its sheet; none of the built-in ones, for a test fills in each for every demo
/// commission, and with each of their values open.
pub(super) fn bind(
    engine: &Engine,
    job: &Job<'_>,
    history: &History<'_>,
    mut sheets: Vec<Sheet>,
    paper: Paper,
) -> Result<Bound, Vec<TemplateError>> {
    let printed = print::settle(&mut sheets, &job.model.shop.sheets);
    let mut stamps: Vec<Stamp> = sheets.iter().map(|sheet| sheet.stamp(job)).collect();
    let stamp = history.stamp.clone();
    let total = printed + 1;
    let frame = |sheet: &Sheet, stamp: &Stamp, number: usize| {
        let wording = Wording {
            valid_if: "this stamp stands on the current cover",
            number: if number > total { "not in the packet".to_owned() } else { format!("{number} / {total}") },
            stamp: stamp.to_string(),
            symbol: stamp.to_string(),
        };
        frame(job, history, sheet, wording, paper)
    };
    let composed = |sheet: &Sheet, frame: &Frame| -> Result<Composed, Vec<TemplateError>> {
        let set = set(engine, job, sheet, frame)?;
        let composition = compose(&set);
        match composition.page_count() {
            pages if pages > MOST_PAGES && engine.has_own() => {
                Err(vec![engine.too_many_pages(sheet.id, pages, MOST_PAGES)])
            }
            _ => Ok((set, composition)),
        }
    };
    let made = shared::in_order(sheets.len(), |index| {
        let frame = frame(&sheets[index], &stamps[index], index + 2);
        composed(&sheets[index], &frame)
    });
    let (mut set_sheets, mut compositions, mut faults) = (Vec::new(), Vec::new(), Vec::new());
    for made in made {
        match made {
            Ok((set, composition)) => {
                set_sheets.push(set);
                compositions.push(composition);
            }
            Err(errors) => faults.extend(errors),
        }
    }
    let counts: Vec<usize> = compositions.iter().take(printed).map(Composition::page_count).collect();
    // The cover's own length shifts the pages it lists, but no figure's width shifts the cover's length.
    let set_cover = |cover_pages: usize| -> Result<(Sheet, Composed), Vec<TemplateError>> {
        let own = page_ranges(cover_pages, &counts).into_iter().skip(1).map(Some);
        let pages: Vec<Option<PageRange>> = own.chain(std::iter::repeat(None)).take(sheets.len()).collect();
        let cover = cover::sheet(job, history, &sheets, &stamps, &pages);
        let frame = frame(&cover, &stamp, 1);
        let composed = composed(&cover, &frame)?;
        Ok((cover, composed))
    };
    let guess = set_cover(USUAL_COVER).and_then(|guess| match guess.1.1.page_count() {
        USUAL_COVER => Ok(guess),
        pages => set_cover(pages),
    });
    let (cover, (cover_set, cover_composition)) = match guess {
        Ok(cover) if faults.is_empty() => cover,
        made => return Err(each_once(faults, made.err().unwrap_or_default())),
    };
    let left_out = (sheets.split_off(printed).into_iter().zip(stamps.split_off(printed)))
        .zip(compositions.split_off(printed).into_iter().zip(set_sheets.split_off(printed)))
        .map(|((sheet, stamp), (composition, set))| LeftOut { sheet, stamp, composition, set })
        .collect();
    let pages = page_ranges(cover_composition.page_count(), &counts);
    sheets.insert(0, cover);
    stamps.insert(0, stamp.clone());
    set_sheets.insert(0, cover_set);
    compositions.insert(0, cover_composition);
    let document = Document {
        title: format!("{} {}", number(job), title(job)),
        author: job.model.shop.name.clone().unwrap_or_default(),
        subject: "Build packet".to_owned(),
        creator: format!("kerfbook {}", env!("CARGO_PKG_VERSION")),
        language: "en".to_owned(),
        ..Document::default()
    };
    let mut bound = Bound { sheets, stamps, stamp, pages, document, left_out, compositions, set: set_sheets };
    let left_out: Vec<&str> = bound.left_out.iter().map(|out| out.sheet.id).collect();
    bound.document = bound.document_of(|sheet| !left_out.contains(&sheet.id));
    Ok(bound)
}

/// Faults, each once: what all sheets share is found with each of them.
fn each_once(faults: Vec<TemplateError>, more: Vec<TemplateError>) -> Vec<TemplateError> {
    let mut told: Vec<TemplateError> = Vec::new();
    for fault in faults.into_iter().chain(more) {
        if !told.contains(&fault) {
            told.push(fault);
        }
    }
    told
}

impl Bound {
    /// The document of the sheets that are wanted, in packet order, those that the shop does not print behind the others.
    pub(super) fn document_of(&self, wanted: impl Fn(&Sheet) -> bool) -> Document {
        let mut volume = Volume::default();
        let mut bookmarks: Vec<Bookmark> = Vec::new();
        let all = self.pages.last().map_or(0, |range| range.last);
        let bound = self.compositions.iter().zip(&self.set);
        for ((sheet, range), (composition, set)) in self.sheets.iter().zip(&self.pages).zip(bound) {
            if !wanted(sheet) {
                continue;
            }
            volume.append_of(composition, &set.frame, range.first, all);
            bookmarks.extend(volume.sheets.last().map(|bound| bound.bookmark(sheet.title)));
        }
        for LeftOut { sheet, composition, set, .. } in self.left_out.iter().filter(|out| wanted(&out.sheet)) {
            volume.append(composition, &set.frame);
            bookmarks.extend(volume.sheets.last().map(|bound| bound.bookmark(sheet.title)));
        }
        Document { volume, bookmarks, ..self.document.clone() }
    }

    /// The patterns at full size. Those of sheets that the shop does not print are among them: the cover has their
    /// stamps too.
    pub(super) fn patterns(&self, job: &Job<'_>, history: &History<'_>) -> Vec<Pattern> {
        patterns::all(job, &Edition::of(history.draft_mark(), self.all_stamped()))
    }

    /// All sheets with their stamps, those that the shop does not print behind the others.
    pub(super) fn all_stamped(&self) -> impl Iterator<Item = (&Sheet, &Stamp)> {
        self.sheets.iter().zip(&self.stamps).chain(self.left_out.iter().map(|out| (&out.sheet, &out.stamp)))
    }

    /// All sheets, those that the shop does not print behind the others.
    pub(super) fn all_sheets(&self) -> impl Iterator<Item = &Sheet> {
        self.sheets.iter().chain(self.left_out.iter().map(|out| &out.sheet))
    }
}

fn page_ranges(cover: usize, counts: &[usize]) -> Vec<PageRange> {
    let mut first = 1;
    std::iter::once(&cover)
        .chain(counts)
        .map(|count| {
            let range = PageRange { first, last: first + count - 1 };
            first += count;
            range
        })
        .collect()
}

/// What the title block says of a sheet beside what the sheet knows itself.
pub(super) struct Wording {
    /// When a print is valid.
    pub(super) valid_if: &'static str,
    /// Which sheet of how many.
    pub(super) number: String,
    /// Its stamp, or where it stands.
    pub(super) stamp: String,
    /// The stamp that the symbol carries.
    pub(super) symbol: String,
}

/// What stands around a sheet's text.
pub(super) fn frame(job: &Job<'_>, history: &History<'_>, sheet: &Sheet, wording: Wording, paper: Paper) -> Frame {
    let commission = &job.model.commission;
    let drawn_by = commission.drawn_by.as_ref().and_then(|name| name.get().ok()).unwrap_or_default();
    let shop = job.model.shop.name.clone().unwrap_or_default();
    let unit = match job.unit() {
        WorkingUnit::Millimetre => "mm",
        WorkingUnit::Inch => "inches",
    };
    let draft = history.draft_mark();
    let issued = history.issued();
    let letter = issued.map_or("DRAFT", |issue| issue.letter.as_str());
    let date = issued.map_or_else(|| "–".to_owned(), |issue| issue.date.to_string());
    let symbol = Symbol::of(&format!("{} {} {letter} {}", number(job), sheet.id, wording.symbol));
    let datum = if sheet.datum.is_empty() {
        Inlines::default()
    } else {
        Inlines::default().plain("Measure from: ").strong(sheet.datum)
    };
    Frame {
        paper,
        head: Head {
            title: sheet.title.to_owned(),
            number: number(job),
            badge: hand_badge(job),
            read_first: sheet.read_first.as_str().into(),
            datum,
            order: order(job, sheet.id),
            units: format!(
                "All lengths in {} unless another unit stands beside them",
                if unit == "in" { "inches" } else { unit }
            )
            .into(),
            bound_in: "packet",
            is_whole: false,
        },
        title_block: TitleBlock {
            rows: vec![
                vec![
                    Field::new("Done by", "", 3.0),
                    Field::new("Checked by", "", 3.0),
                    Field::new("Date", "", 2.0),
                    Field::new("Valid only if", wording.valid_if, 5.0),
                ],
                vec![
                    Field::new("Shop", shop, 3.0),
                    Field::new("Document", sheet.kind, 2.2),
                    Field::new("Drawn by", drawn_by, 2.0),
                    Field::new("Approved by", "", 2.0),
                    Field::new(ISSUE, letter, 1.6).strong(),
                    Field::new("Date of issue", date, 1.6),
                ],
                vec![
                    Field::new("Commission", title(job), 3.2).strong(),
                    Field::new("Sheet", sheet.title, 2.4),
                    Field::new("Parts", parts(job), 2.4),
                    Field::new("Sheet no.", wording.number, 1.4),
                    Field::new("Stamp", wording.stamp, 3.0).strong(),
                ],
            ],
            symbol,
        },
        draft,
    }
}

/// Where a sheet's work stands among the steps, and what is done before it and after: a line for each of its steps.
fn order(job: &Job<'_>, sheet: &str) -> Inlines {
    let order = OrderOfWork::of(job.model, job.design);
    let mut steps = order.of_sheet(sheet);
    steps.sort_by_key(|(number, _)| *number);
    let mut line = Inlines::default();
    for (index, (number, step)) in steps.into_iter().enumerate() {
        let listed = |words: Vec<&str>| if words.is_empty() { "–".to_owned() } else { words.join(", ") };
        line = line
            .plain(if index == 0 { "" } else { "\n" })
            .strong(format!("Step {number} of {}, {}.", order.steps.len(), step.says))
            .plain(format!(" After: {}. ", listed(order.after(step).collect())))
            .plain(format!("Before: {}.", listed(order.before(step).collect())));
    }
    line
}

fn parts(job: &Job<'_>) -> String {
    job.model.parts.board.get().map_or_else(|_| "board".to_owned(), |board| format!("board {board}"))
}

pub(super) fn number(job: &Job<'_>) -> String {
    job.model.commission.number.get().unwrap_or_default()
}

pub(super) fn title(job: &Job<'_>) -> String {
    job.model.commission.title.get().unwrap_or_default()
}
