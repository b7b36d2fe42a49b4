//! One sheet as it is to be set: its template filled in, and around it what no template may leave out.

use std::collections::BTreeMap;

use serde::{Serialize, Serializer};

use super::bind::{ISSUE, number, title};
use super::templates::left_out;
use crate::design::needs::{self, OpenValue};
use crate::design::order::OrderOfWork;
use crate::diag::{Diagnostic, Severity};
use crate::paper::markdown::Parts;
use crate::paper::{Block, Cell, Column, Figure, Frame, Row, Table};
use crate::sheets::{Data, Hold, Job, Sheet, Value, concerns, cover, set_up_cards, sign_off};
use crate::spec::words::Word;
use crate::template::{Engine, FOOTER, Foreign, LETTERHEAD, SheetData, TemplateError};

/// The kind of a sheet that is cut apart.
const CARDS: &str = "cards";

/// The sheet as it is to be set in its frame.
///
/// # Errors
/// A template that does not fit it.
pub(super) fn set(
    engine: &Engine,
    job: &Job<'_>,
    sheet: &Sheet,
    frame: &Frame,
) -> Result<crate::paper::Sheet, Vec<TemplateError>> {
    let mut blocks = blocks(engine, job, sheet)?;
    if sheet.kind == CARDS {
        mark_cards(&mut blocks, frame);
    }
    Ok(crate::paper::Sheet { name: sheet.id.to_owned(), frame: frame.clone(), blocks })
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

/// A sheet as blocks: its caution first, its template filled in, then what the template must not leave out and the values
/// to be measured; the back last. The letterhead stands above the cover, the footer below every sheet.
///
/// # Errors
/// What a template asks for and the sheet has not, and every fault of the filled-in text.
pub fn blocks(engine: &Engine, job: &Job<'_>, sheet: &Sheet) -> Result<Vec<Block>, Vec<TemplateError>> {
    let drawings = sheet.drawings.iter();
    let parts = Parts {
        tables: sheet.views.iter().map(|view| (view.name.to_owned(), view.table.clone())).collect(),
        figures: drawings.map(|(name, drawing)| ((*name).to_owned(), Figure::new(drawing.clone()))).collect(),
        blocks: BTreeMap::new(),
    };
    let data = data(job, sheet);
    let mut blocks = engine.render(sheet.id, &data, &parts)?;
    // Below the number to set, above what is worked by: nobody starts without having seen it.
    let is_number = |block: &Block| matches!(block, Block::Settings(_));
    let back = blocks.iter().position(|block| matches!(block, Block::Back(_))).unwrap_or(blocks.len());
    let below = blocks.iter().take(back).position(is_number).map_or(0, |setting| setting + 1);
    let mut own = left_out(sheet, &blocks);
    let held = holds(job, &sheet.holds);
    // What is measured stands on one page with the drawing that says where, if that closes the front.
    let drawn = back.checked_sub(1).filter(|at| matches!(blocks.get(*at), Some(Block::Figure(_))));
    let from = drawn.filter(|_| own.is_empty() && !held.is_empty()).unwrap_or(back);
    let figure = blocks.get(from..back).unwrap_or_default();
    let measured: Vec<Block> = figure.iter().cloned().chain(held).collect();
    own.extend(if from < back { vec![Block::Group(measured)] } else { measured });
    blocks.splice(from..back, own);
    blocks.splice(below..below, warnings(job, sheet.id));
    // Above every number: some of them are not there.
    blocks.splice(0..0, still_open(job, sheet));
    // Before the first number: whoever has set a machine has it running.
    blocks.splice(0..0, sheet.caution.iter().map(|caution| Block::caution(caution.as_str())));
    if sheet.id == cover::ID {
        blocks.splice(0..0, engine.render_part(LETTERHEAD, &data, &parts)?);
    }
    blocks.extend(engine.render_part(FOOTER, &data, &parts)?);
    Ok(blocks)
}

/// All that a sheet's template may print or ask.
fn data(job: &Job<'_>, sheet: &Sheet) -> SheetData {
    let mut data = SheetData::default();
    for (name, value) in &sheet.data {
        data.set(*name, &Shown(value));
    }
    // A template may ask whether a drawing could be made: `{% if draws_board_front is defined %}`.
    for (name, _) in &sheet.drawings {
        data.set(format!("draws_{}", name.replace('-', "_")), &true);
    }
    data.set("job", &shown(&names(job, sheet)));
    data
}

/// What every template may print of its commission and shop, under `job`.
pub fn names(job: &Job<'_>, sheet: &Sheet) -> Data {
    let shop = &job.model.shop;
    let lines = shop.letterhead.iter().map(|line| Data::from([("line", Value::Quoted(line.clone()))]));
    Data::from([
        ("number", Value::Quoted(number(job))),
        ("title", Value::Quoted(title(job))),
        ("hand", job.hand().as_word().into()),
        ("unit", job.unit_word().into()),
        ("sheet", sheet.title.into()),
        ("shop", Value::Quoted(shop.name.clone().unwrap_or_default())),
        ("letterhead", Value::List(lines.collect())),
    ])
}

/// Values of the commission that are not decided, with what this sheet leaves out until they are: nobody is to take
/// what is there for all there is. Prose: the figures that come bring a stamp of their own.
fn still_open(job: &Job<'_>, sheet: &Sheet) -> Option<Block> {
    let order = OrderOfWork::of(job.model, job.design);
    let left_out = |open: &OpenValue| match sheet.id {
        sign_off::ID | set_up_cards::ID if open.waits.is_empty() => None,
        sign_off::ID => Some("the rows of what waits for it"),
        set_up_cards::ID => Some("cards; one that says WAIT is not used"),
        id => open.left_out_on(id),
    };
    let row = |open: OpenValue| {
        let what = left_out(&open)?;
        Some(vec![open.key.clone().into(), what.into(), order.told(open.before).into()].into())
    };
    let open = needs::open_values(job.model);
    let waits = open.iter().any(|open| order.waits_on(open, sheet.id));
    let rows: Vec<Row> = open.into_iter().filter_map(row).collect();
    let columns = vec![
        Column::text("OPEN").strong(),
        Column::text("left out here until it is known"),
        Column::text("must be known before"),
    ];
    if rows.is_empty() {
        return None;
    }
    let wait = waits.then(|| Block::caution(WAIT));
    let table = Table { columns, rows, ..Table::default() };
    Some(Block::Group(std::iter::once(table.into()).chain(wait).collect()))
}

/// What a sheet says whose steps come after the one that an open value must be known before.
const WAIT: &str = "WAIT. This sheet is worked after that step. Until the value is known its figures are for reading \
                    and for trial cuts in an offcut, not for the piece.";

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

/// The values to be measured, each with a line to write on.
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
