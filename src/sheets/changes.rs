//! `changes`: which prints go into the bin, which stay on the wall, and what moved since the last issue.
//!
//! It lists the prints by the stamps they bear, so that whoever gathers them needs nothing else. There is one where
//! the commission differs from its last issue, or where that issue differs from the one before it.

use super::difference::{Difference, Moved, SheetDifference};
use super::{Cell, Data, History, Job, Kind, Named, Sheet, Station, Table, View};

/// The sheet's identifier.
pub const ID: &str = "changes";

/// Figures of one sheet that are listed on paper.
const LISTED: usize = 8;

/// Sheets that repeat the figures of others.
const REPEATING: [&str; 2] = ["sign-off", "set-up-cards"];

/// The sheet; none where nothing changed since anybody got a print.
pub(super) fn sheet(job: &Job<'_>, history: &History<'_>) -> Option<Sheet> {
    let before = history.before()?;
    let difference = Difference::between(&before.state, &history.now);
    if difference.is_nothing() {
        return None;
    }
    let bin = prints(job, history, "changes-bin", "into the bin", difference.to_the_bin().collect());
    let keep =
        prints(job, history, "changes-keep", "good as it is", difference.with(super::difference::Fate::Keep).collect());
    let new = prints(job, history, "changes-new", "print it", difference.to_print().collect());
    let values = moved(job, "changes-values", "value", &difference.values);
    let figures = figures(job, history, &difference);
    let mut data = Data::new();
    // The same list goes out with the draft and with the issue that it becomes: no letter comes into its stamp.
    data.insert("since", super::Value::Prose(before.letter.clone()));
    let mut views = Vec::new();
    for (flag, view) in [("bin", bin), ("keep", keep), ("new", new), ("values", values), ("figures", figures)] {
        let is_empty = view.table.rows.is_empty();
        data.insert(flag, (!is_empty).into());
        if !is_empty {
            views.push(view);
        }
    }
    Some(Sheet {
        id: ID,
        title: "Changes",
        kind: "notice",
        read_first: "Gather the prints under BIN first, by their stamps. Then hand out the new ones.".to_owned(),
        datum: "",
        station: Station::Office,
        caution: None,
        data,
        tables: Vec::new(),
        views,
        drawings: Vec::new(),
        holds: Vec::new(),
        settings: Vec::new(),
        unit: job.unit(),
    })
}

fn prints(
    job: &Job<'_>,
    history: &History<'_>,
    name: &'static str,
    tick: &str,
    sheets: Vec<&SheetDifference>,
) -> Named {
    let mut table = Table::new(name, &[("sheet", Kind::Words), ("was", Kind::Words), ("is", Kind::Words)]);
    for sheet in sheets {
        let cell = |stamp: &Option<String>| stamp.clone().map_or(Cell::Empty, Cell::Quoted);
        table.row(vec![Cell::Quoted(history.title(&sheet.sheet).to_owned()), cell(&sheet.was), cell(&sheet.is)]);
    }
    let mut columns = vec![View::Tick(tick.to_owned()), View::column("sheet", "sheet").strong()];
    columns.push(if name == "changes-new" {
        View::column("is", "stamp").strong()
    } else {
        View::column("was", "stamp on the print").strong()
    });
    table.bench(name, job.unit(), &columns)
}

fn moved(job: &Job<'_>, name: &'static str, heading: &str, moved: &[Moved]) -> Named {
    let mut table = Table::new(name, &[("what", Kind::Words), ("was", Kind::Words), ("is", Kind::Words)]);
    for moved in moved {
        let cell = |side: &Option<String>| Cell::Quoted(side.clone().unwrap_or_else(|| "–".to_owned()));
        table.row(vec![Cell::Quoted(moved.what.clone()), cell(&moved.was), cell(&moved.is)]);
    }
    let columns = [View::column("what", heading), View::column("was", "was"), View::column("is", "is").strong()];
    table.desk(name, job.unit(), &columns)
}

/// The figures that moved, sheet by sheet; `compare` tells those that are one too many.
fn figures(job: &Job<'_>, history: &History<'_>, difference: &Difference) -> Named {
    let mut all = Vec::new();
    for sheet in difference.to_print().filter(|sheet| !REPEATING.contains(&sheet.sheet.as_str())) {
        let name = history.title(&sheet.sheet);
        let listed = sheet.moved.iter().take(LISTED);
        all.extend(listed.map(|moved| Moved { what: format!("{name}: {}", moved.what), ..moved.clone() }));
        if let Some(more) = sheet.moved.len().checked_sub(LISTED).filter(|more| *more > 0) {
            all.push(Moved { what: format!("{name}: {more} more figures"), was: None, is: None });
        }
    }
    moved(job, "changes-figures", "figure", &all)
}
