//! Sheets to pages: each filled in from its template, framed, set, numbered and bound.

use std::collections::BTreeMap;

use serde::{Serialize, Serializer};

use super::compile::hand_badge;
use crate::design::order::OrderOfWork;
use crate::diag::{Diagnostic, Severity};
use crate::emit::pdf::Document;
use crate::paper::markdown::Parts;
use crate::paper::{
    Block, Bookmark, Cell, Column, Composition, Field, Figure, Frame, Head, Inlines, Paper, Row, Symbol, Table,
    TitleBlock, Volume, compose,
};

use crate::shared;
use crate::sheets::stamp::Stamp;
use crate::sheets::{Data, History, Hold, Job, PageRange, Sheet, Value, concerns, cover};
use crate::template::{Engine, Foreign, SheetData, TemplateError};
use crate::units::WorkingUnit;

/// The kind of a sheet that is cut apart.
const CARDS: &str = "cards";
/// The title block's field for the letter of the issue.
const ISSUE: &str = "Issue";

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
    /// Each sheet's text, set in pages.
    pub(super) compositions: Vec<Composition>,
    /// Each sheet before it was set.
    pub(super) set: Vec<crate::paper::Sheet>,
}

/// Sets and binds the sheets; the cover is made last, since it lists the others with their pages.
pub(super) fn bind(job: &Job<'_>, history: &History<'_>, mut sheets: Vec<Sheet>, paper: Paper) -> Bound {
    let engine = Engine::built_in();
    let mut stamps: Vec<Stamp> = sheets.iter().map(|sheet| sheet.stamp(job)).collect();
    let stamp = history.stamp.clone();
    let total = sheets.len() + 1;
    let frame = |sheet: &Sheet, stamp: &Stamp, number: usize| {
        let wording = Wording {
            valid_if: "this stamp stands on the current cover",
            number: format!("{number} / {total}"),
            stamp: stamp.to_string(),
            symbol: stamp.to_string(),
        };
        frame(job, history, sheet, wording, paper)
    };
    let made = shared::in_order(sheets.len(), |index| {
        let frame = frame(&sheets[index], &stamps[index], index + 2);
        let set = set(engine, job, &sheets[index], &frame);
        let composition = compose(&set);
        (set, composition)
    });
    let (mut set_sheets, mut compositions): (Vec<crate::paper::Sheet>, Vec<Composition>) = made.into_iter().unzip();
    let counts: Vec<usize> = compositions.iter().map(Composition::page_count).collect();
    // The cover's own length shifts the pages it lists, but no figure's width shifts the cover's length.
    let set_cover = |cover_pages: usize| {
        let cover = cover::sheet(job, history, &sheets, &stamps, &page_ranges(cover_pages, &counts)[1..]);
        let frame = frame(&cover, &stamp, 1);
        let set = set(engine, job, &cover, &frame);
        let composition = compose(&set);
        (cover, set, composition)
    };
    let guess = set_cover(USUAL_COVER);
    let cover_pages = guess.2.page_count();
    let (cover, cover_set, cover_composition) = if cover_pages == USUAL_COVER { guess } else { set_cover(cover_pages) };
    let pages = page_ranges(cover_pages, &counts);
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
    let mut bound = Bound { sheets, stamps, stamp, pages, document, compositions, set: set_sheets };
    bound.document = bound.document_of(|_| true);
    bound
}

impl Bound {
    /// The document of the sheets that are wanted, in packet order.
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
        Document { volume, bookmarks, ..self.document.clone() }
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

/// The sheet as it is to be set in its frame.
///
/// # Panics
/// Never with the built-in templates: a test fills in each for every demo commission, and with each of their values
/// open.
pub(super) fn set(engine: &Engine, job: &Job<'_>, sheet: &Sheet, frame: &Frame) -> crate::paper::Sheet {
    let mut blocks = blocks(engine, job, sheet).unwrap_or_else(|errors| {
        let told: Vec<String> = errors.iter().map(ToString::to_string).collect();
        panic!("a built-in template does not fit its sheet: {}", told.join("; "))
    });
    if sheet.kind == CARDS {
        mark_cards(&mut blocks, frame);
    }
    crate::paper::Sheet { name: sheet.id.to_owned(), frame: frame.clone(), blocks }
}

/// Writes on each card what the sheet that it is cut off says at its head: number, hand, and what print it is.
fn mark_cards(blocks: &mut [Block], frame: &Frame) {
    let print = frame.draft.clone().unwrap_or_else(|| {
        let fields = frame.title_block.rows.iter().flatten();
        fields.filter(|field| field.label == ISSUE).map(|field| format!("{ISSUE} {}", field.value)).collect()
    });
    let mark = [frame.head.number.as_str(), &frame.head.badge, &print].join(" · ");
    for block in blocks {
        if let Block::Settings(cards) = block {
            cards.iter_mut().for_each(|card| card.mark.clone_from(&mark));
        }
    }
}

/// A sheet as blocks: its template filled in, then the values to be measured; its caution first, the back last.
///
/// # Errors
/// What the template asks for and the sheet has not, and every fault of the filled-in text.
pub fn blocks(engine: &Engine, job: &Job<'_>, sheet: &Sheet) -> Result<Vec<Block>, Vec<TemplateError>> {
    let parts = Parts {
        tables: sheet.views.iter().map(|view| (view.name.to_owned(), view.table.clone())).collect(),
        figures: sheet
            .drawings
            .iter()
            .map(|(name, drawing)| ((*name).to_owned(), Figure::new(drawing.clone())))
            .collect(),
        blocks: BTreeMap::new(),
    };
    let mut data = SheetData::default();
    for (name, value) in &sheet.data {
        data.set(*name, &Shown(value));
    }
    // A template may ask whether a drawing could be made: `{% if draws_board_front is defined %}`.
    for (name, _) in &sheet.drawings {
        data.set(format!("draws_{}", name.replace('-', "_")), &true);
    }
    let mut blocks = engine.render(sheet.id, &data, &parts)?;
    // Below the number to set, above what is worked by: nobody starts without having seen it.
    let below = blocks.iter().position(|block| matches!(block, Block::Settings(_))).map_or(0, |setting| setting + 1);
    blocks.splice(below..below, warnings(job, sheet.id));
    let back = blocks.iter().position(|block| matches!(block, Block::Back(_))).unwrap_or(blocks.len());
    let own = holds(job, &sheet.holds);
    blocks.splice(back..back, own);
    // Before the first number: whoever has set a machine has it running.
    blocks.splice(0..0, sheet.caution.iter().map(|caution| Block::caution(caution.as_str())));
    Ok(blocks)
}

/// The values to be measured, each with a line to write on.
/// The warnings that concern a sheet, accepted errors among them, each to be initialled. Prose: no stamp covers it.
fn warnings(job: &Job<'_>, sheet: &str) -> Option<Block> {
    let here = |finding: &&Diagnostic| finding.severity == Severity::Warning && concerns(finding, sheet);
    let rows: Vec<Row> = job
        .findings
        .iter()
        .filter(here)
        .map(|finding| vec![finding.code.as_str().into(), finding.message.clone().into(), Cell::WriteIn].into())
        .collect();
    let columns =
        vec![Column::text("warning").strong(), Column::text("go on only with initials"), Column::text("initials")];
    (!rows.is_empty()).then(|| Block::Group(vec![Table { columns, rows, ..Table::default() }.into()]))
}

pub(super) fn holds(job: &Job<'_>, holds: &[Hold]) -> Vec<Block> {
    if holds.is_empty() {
        return Vec::new();
    }
    let table = Table {
        columns: vec![
            Column::centred("ok"),
            Column::text("measure"),
            Column::text("from … to").strong(),
            Column::text("measured"),
            Column::text("initials"),
        ],
        rows: holds
            .iter()
            .map(|hold| {
                vec![Cell::Tick, hold.what.clone().into(), hold.range_text(job).into(), Cell::WriteIn, Cell::WriteIn]
                    .into()
            })
            .collect(),
        ..Table::default()
    };
    vec![Block::Group(vec![Block::heading(2, "Hold: measure, write down, sign"), table.into()])]
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
            units: format!("All lengths in {unit} unless another unit stands beside them").into(),
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

fn number(job: &Job<'_>) -> String {
    job.model.commission.number.get().unwrap_or_default()
}

fn title(job: &Job<'_>) -> String {
    job.model.commission.title.get().unwrap_or_default()
}

/// A sheet's value as templates take it: what comes from a commission file goes in as foreign text.
struct Shown<'a>(&'a Value);

impl Serialize for Shown<'_> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        match self.0 {
            Value::Words(words) | Value::Prose(words) => serializer.serialize_str(words),
            Value::Quoted(text) => Foreign(text.clone()).serialize(serializer),
            Value::Flag(flag) => serializer.serialize_bool(*flag),
            Value::List(list) => serializer.collect_seq(list.iter().map(shown)),
        }
    }
}

fn shown(data: &Data) -> BTreeMap<&'static str, Shown<'_>> {
    data.iter().map(|(name, value)| (*name, Shown(value))).collect()
}
