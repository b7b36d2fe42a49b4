//! Finds the largest type in which a table's columns fit its width, and the columns' widths in it.
//!
//! First the type shrinks a little and long text runs over more lines, then the narrow face, then smaller type;
//! only when nothing else is left are words broken. So a table is never wider than it may be.

use super::Column as Area;
use crate::lettering::{Face, MM_PER_POINT};
use crate::paper::table::{Align, Cell, Column, Place, Row, Table, Weight};
use crate::paper::text::{Inlines, Style, measure};

/// White at each side of a cell, millimetres.
pub(super) const PAD: f64 = 1.8;
/// Side of a box to tick, millimetres.
pub(super) const TICK: f64 = 3.8;

/// Text up to this width, millimetres, is broken only when nothing else helps.
const SHORT: f64 = 28.0;

/// A table's type and columns as they will be set.
#[derive(Debug, Clone)]
pub(super) struct Fit {
    pub(super) size: f64,
    pub(super) columns: Vec<FittedColumn>,
    /// From the left edge of the first to the right edge of the last column, millimetres.
    pub(super) width: f64,
}

/// A column as it will be set; millimetres.
#[derive(Debug, Clone)]
pub(super) struct FittedColumn {
    /// Left edge, from the table's left edge.
    pub(super) x: f64,
    pub(super) width: f64,
    pub(super) cell: Style,
    pub(super) heading: Style,
    pub(super) unit: Style,
    pub(super) align: Align,
    /// Whether its cells name their rows.
    pub(super) names_row: bool,
    /// Where decimal points stand, from the right edge of the column's text: the widest fraction there is.
    pub(super) fraction: f64,
}

impl FittedColumn {
    /// Left edge, width of the text within the column.
    pub(super) fn inner(&self) -> (f64, f64) {
        (self.x + PAD, (self.width - 2.0 * PAD).max(0.5))
    }
}

/// One try: type size, narrow face or not, over how many lines long text may run.
struct Try {
    size: f64,
    narrow: bool,
    lines: f64,
}

/// Tries from the best to the worst: bench tables keep 9 pt as long as they can, desk tables 7 pt, and neither is
/// larger than rows so many millimetres apart can hold.
fn tries(place: Place, row: f64) -> Vec<Try> {
    let of = |size, narrow, lines| Try { size, narrow, lines };
    let any = f64::INFINITY;
    let mut tries = match place {
        Place::Bench => vec![
            of(10.5, false, 2.0),
            of(10.0, false, 2.0),
            of(9.5, false, 3.0),
            of(9.0, false, 3.0),
            of(10.0, true, 3.0),
            of(9.5, true, 3.0),
            of(9.0, true, 4.0),
            of(9.0, true, any),
            of(8.5, true, any),
            of(8.0, true, any),
            of(7.5, true, any),
            of(7.0, true, any),
        ],
        Place::Desk => vec![
            of(8.5, false, 3.0),
            of(8.0, false, 3.0),
            of(7.5, false, 3.0),
            of(8.5, true, 3.0),
            of(8.0, true, 4.0),
            of(7.5, true, 4.0),
            of(7.0, true, 4.0),
            of(8.0, true, any),
            of(7.5, true, any),
            of(7.0, true, any),
        ],
    };
    tries.extend([6.5, 6.0, 5.5, 5.0].map(|size| of(size, true, any)));
    let least = tries.iter().map(|attempt| attempt.size).fold(f64::INFINITY, f64::min);
    let most = (row / (1.25 * MM_PER_POINT)).max(if place == Place::Desk { 7.0 } else { 9.0 });
    tries.retain(|attempt| attempt.size <= most || attempt.size <= least);
    tries
}

/// What a column asks for, in millimetres with its white.
struct Wish {
    natural: f64,
    least: f64,
    fraction: f64,
}

/// Fits a table into an area whose rows will be `row` millimetres apart at least.
pub(super) fn fit(table: &Table, area: Area, row: f64) -> Fit {
    let mut last = None;
    for attempt in tries(table.use_at, row) {
        let styles: Vec<[Style; 3]> = table.columns.iter().map(|column| styles(column, &attempt, row)).collect();
        let wishes: Vec<Wish> =
            (0..table.columns.len()).map(|index| wish(table, index, styles[index], attempt.lines)).collect();
        let least: f64 = wishes.iter().map(|wish| wish.least).sum();
        let fits = least <= area.width;
        last = Some((attempt.size, styles, wishes));
        if fits {
            break;
        }
    }
    let (size, styles, wishes) = last.expect("there are tries for every place");
    let widths = share(table, &wishes, area.width);
    let mut x = 0.0;
    let columns =
        table.columns.iter().zip(styles).zip(wishes.iter().zip(&widths)).map(|((column, styles), (wish, width))| {
            let [cell, heading, unit] = styles;
            // The first column, where it is set off: the number or the name of what the row tells.
            let names_row = x == 0.0 && column.weight == Weight::Strong;
            let (align, fraction) = (column.align, wish.fraction);
            let fitted = FittedColumn { x, width: *width, cell, heading, unit, align, names_row, fraction };
            x += width;
            fitted
        });
    let columns = columns.collect();
    Fit { size, columns, width: x }
}

/// Styles of a column's cells, heading and unit.
fn styles(column: &Column, attempt: &Try, row: f64) -> [Style; 3] {
    let face = |bold: bool| match (bold, attempt.narrow) {
        (false, false) => Face::Regular,
        (true, false) => Face::Bold,
        (false, true) => Face::Condensed,
        (true, true) => Face::CondensedBold,
    };
    let size = attempt.size;
    let cell = match column.weight {
        Weight::Plain => Style::new(face(false), size),
        Weight::Quiet => Style::new(Face::Condensed, (size - 1.0).max(size.min(8.5))),
        Weight::Strong => Style::new(face(true), size),
        // As large as the rows allow and the try leaves: 7 mm rows take 14 pt.
        Weight::Main => Style::new(face(true), (row * 2.05).min(size * 1.4).max(size)),
    };
    let small = (size * 0.88).min(9.0).max(size.min(7.5));
    let heading = Style { leading: 1.2, ..Style::new(face(column.weight != Weight::Quiet), small) };
    let unit = Style { leading: 1.2, ..Style::new(face(false), small) };
    [cell, heading, unit]
}

fn wish(table: &Table, index: usize, [cell, heading, unit]: [Style; 3], lines: f64) -> Wish {
    let column = &table.columns[index];
    let words: Inlines = column.heading.as_str().into();
    let (heading_natural, heading_word) = measure(&words, heading);
    let (unit_natural, _) = measure(&column.unit.as_str().into(), unit);
    // A heading may take three lines before it widens its column.
    let mut least = heading_word.max(heading_natural / 2.6).max(unit_natural);
    let mut natural = heading_word.max(heading_natural / 1.9).max(unit_natural);
    let (mut whole, mut fraction) = (0.0_f64, 0.0_f64);
    for row in &table.rows {
        let (Row::Cells(cells) | Row::Total(cells)) = row else { continue };
        match cells.get(index) {
            Some(Cell::Text(text)) if column.align == Align::Decimal => {
                let (left, right) = parted(text, cell);
                whole = whole.max(left);
                fraction = fraction.max(right);
            }
            Some(Cell::Text(text)) => {
                let (wide, word) = measure(text, cell);
                natural = natural.max(wide);
                let breaks = column.align == Align::Left && (wide > SHORT || lines.is_infinite());
                least = least.max(if breaks { word.max(wide / lines) } else { wide });
            }
            Some(Cell::Tick) => {
                natural = natural.max(TICK + 1.0);
                least = least.max(TICK + 1.0);
            }
            Some(Cell::WriteIn) => {
                natural = natural.max(24.0);
                least = least.max(18.0);
            }
            Some(Cell::Empty) | None => {}
        }
    }
    natural = natural.max(whole + fraction);
    least = least.max(whole + fraction);
    Wish { natural: natural.max(least) + 2.0 * PAD, least: least + 2.0 * PAD, fraction }
}

/// Widths of a number before its decimal point (or after its last digit, if it has none) and from there on.
pub(super) fn parted(text: &Inlines, style: Style) -> (f64, f64) {
    let plain = text.text();
    let whole = plain.find('.').or_else(|| {
        let first = plain.find(|c: char| c.is_ascii_digit())?;
        let digits = plain[first..].find(|c: char| !c.is_ascii_digit()).unwrap_or(plain.len() - first);
        Some(first + digits)
    });
    let width = |from: usize| text.width(style, from);
    let fraction = whole.map_or(0.0, width);
    (width(0) - fraction, fraction)
}

/// Widths of columns that have at least what they need: words get what is over first, since every broken line costs
/// the whole row; boxes to write in and the like get the rest.
fn share_scarce(table: &Table, wishes: &[Wish], over: f64) -> Vec<f64> {
    let of_words = |index: usize| {
        let has_text = |row: &Row| matches!(row, Row::Cells(cells) if matches!(cells.get(index), Some(Cell::Text(_))));
        table.columns[index].align == Align::Left && table.rows.iter().any(has_text)
    };
    let wanted = |words: bool| {
        let asking = wishes.iter().enumerate().filter(|(index, _)| of_words(*index) == words);
        asking.map(|(_, wish)| wish.natural - wish.least).sum::<f64>()
    };
    let (by_words, by_others) = (wanted(true), wanted(false));
    let to_words = (over / by_words.max(1e-9)).min(1.0);
    let to_others = ((over - to_words * by_words) / by_others.max(1e-9)).clamp(0.0, 1.0);
    let width = |(index, wish): (usize, &Wish)| {
        wish.least + (wish.natural - wish.least) * if of_words(index) { to_words } else { to_others }
    };
    wishes.iter().enumerate().map(width).collect()
}

/// Shares the width out among columns that fit; millimetres.
fn share(table: &Table, wishes: &[Wish], width: f64) -> Vec<f64> {
    let natural: f64 = wishes.iter().map(|wish| wish.natural).sum();
    let least: f64 = wishes.iter().map(|wish| wish.least).sum();
    if least > width {
        return wishes.iter().map(|wish| wish.least * width / least).collect();
    }
    if natural > width {
        return share_scarce(table, wishes, width - least);
    }
    let mut widths: Vec<f64> = wishes.iter().map(|wish| wish.natural).collect();
    let mut spare = width - natural;
    // Lines to write on gain most by room, then every column as much as the eye can still cross.
    let is_written = |index: &usize| {
        table.rows.iter().any(|row| matches!(row, Row::Cells(cells) if cells.get(*index) == Some(&Cell::WriteIn)))
    };
    let written: Vec<usize> = (0..widths.len()).filter(is_written).collect();
    for index in &written {
        let gain = (38.0 - widths[*index]).clamp(0.0, spare / (written.len() as f64));
        widths[*index] += gain;
    }
    spare = width - widths.iter().sum::<f64>();
    let most = match table.use_at {
        Place::Bench => 17.0,
        Place::Desk => 9.0,
    };
    let gain = (spare / widths.len().max(1) as f64).min(most);
    widths.iter_mut().for_each(|width| *width += gain);
    spare = width - widths.iter().sum::<f64>();
    let lefts = (0..widths.len()).filter(|index| table.columns[*index].align == Align::Left);
    if let Some(widest) = lefts.max_by(|one, other| wishes[*one].natural.total_cmp(&wishes[*other].natural))
        && wishes[widest].natural > 30.0
    {
        widths[widest] += spare;
    }
    widths
}
