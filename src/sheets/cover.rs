//! `cover`: what the packet holds, what must be initialled, what is still open.
//!
//! A print is good as long as its stamp stands here. The cover is made last, when all other sheets have their
//! pages; its own stamp is the packet's.

use super::difference::Difference;
use super::stamp::Stamp;
use super::{History, Job, Kind, Named, PageRange, Sheet, Station, Table, View, figures};
use crate::checks::range::Bound;
use crate::design::needs;
use crate::design::order::OrderOfWork;
use crate::diag::{Diagnostic, Severity};
use crate::drawing::Drawing;
use crate::model::{Origin, ResolvedValue};
use crate::rounding;
use crate::sheets::{Cell, Data};

/// The cover's identifier.
pub const ID: &str = "cover";

/// Values that a draft is told to differ in; the sheet of the changes lists all.
const CHANGES_TOLD: usize = 4;

/// The cover for the other sheets, their stamps and their pages, and for the commission's issues.
///
/// A sheet without pages is not in the packet: a print of it, from elsewhere, is judged by its stamp all the same.
pub fn sheet(
    job: &Job<'_>,
    history: &History<'_>,
    sheets: &[Sheet],
    stamps: &[Stamp],
    pages: &[Option<PageRange>],
) -> Sheet {
    let unit = job.unit();
    let warnings: Vec<&Diagnostic> = of(job, Severity::Warning);
    let notes: Vec<&Diagnostic> = of(job, Severity::Note);
    let mut views = vec![sheet_list(job, sheets, stamps, pages), numbers(job), defaults(job)];
    let mut data = Data::new();
    data.insert("warnings", (!warnings.is_empty()).into());
    data.insert("notes", (!notes.is_empty()).into());
    data.insert("draft", history.is_draft().into());
    data.insert("left_out", (!job.left_out.is_empty()).into());
    data.insert("issues", (!history.issues.is_empty()).into());
    if !history.issues.is_empty() {
        views.push(issues(job, history));
    }
    let limits = limits(job);
    data.insert("ranges", (!job.ranges.is_empty()).into());
    data.insert("limits", limits.is_some().into());
    views.extend(limits);
    let open = needs::open_values(job.model);
    data.insert("open", (!open.is_empty()).into());
    if let Some(customer) = job.model.commission.customer.as_ref().and_then(|customer| customer.get().ok()) {
        data.insert("customer", super::Value::Quoted(customer));
    } else {
        data.insert("customer", "–".into());
    }
    if !warnings.is_empty() {
        views.push(finding_list("cover-warnings", &warnings).bench(
            "cover-warnings",
            unit,
            &[
                View::column("code", "code"),
                View::column("finding", "accepted only with initials"),
                View::WriteIn("initials".to_owned()),
            ],
        ));
    }
    if !notes.is_empty() {
        views.push(finding_list("cover-notes", &notes).desk(
            "cover-notes",
            unit,
            &[View::column("code", "code"), View::column("finding", "note")],
        ));
    }
    if !open.is_empty() {
        let mut table =
            Table::new("cover-open", &[("value", Kind::Words), ("waits", Kind::Words), ("before", Kind::Words)]);
        let order = OrderOfWork::of(job.model, job.design);
        for open in open {
            let waits = open.waits_in_words();
            table.row(vec![open.key.into(), waits.into(), order.told(open.before).into()]);
        }
        views.push(table.bench(
            "cover-open",
            unit,
            &[
                View::column("value", "still open").strong(),
                View::column("waits", "what waits for it"),
                View::column("before", "must be known before"),
            ],
        ));
    }
    views.extend(ranges(job));
    if !job.left_out.is_empty() {
        let mut table =
            Table::new("cover-left-out", &[("code", Kind::Words), ("what", Kind::Words), ("key", Kind::Words)]);
        for (code, keys) in job.left_out {
            table.row(vec![code.as_str().into(), code.row().title.into(), keys.join(", ").into()]);
        }
        views.push(table.desk(
            "cover-left-out",
            unit,
            &[View::column("code", "code"), View::column("what", "not checked"), View::column("key", "waits for")],
        ));
    }
    Sheet {
        id: ID,
        title: "Cover",
        kind: "cover",
        read_first: "A print is good while its stamp stands on this page. Any other print: into the bin.".to_owned(),
        datum: "",
        station: Station::Office,
        caution: None,
        data,
        tables: Vec::new(),
        views,
        drawings: drawings(job),
        holds: Vec::new(),
        settings: Vec::new(),
        unit,
    }
}

fn drawings(job: &Job<'_>) -> Vec<(&'static str, Drawing)> {
    let outline = figures::board_outline(job).ok().map(|drawing| ("board-outline", drawing));
    let ranges = figures::allowed_ranges(job).map(|drawing| ("allowed-ranges", drawing));
    outline.into_iter().chain(ranges).collect()
}

fn of<'a>(job: &Job<'a>, severity: Severity) -> Vec<&'a Diagnostic> {
    job.findings.iter().filter(|finding| finding.severity == severity).collect()
}

fn finding_list(name: &'static str, findings: &[&Diagnostic]) -> Table {
    let mut table = Table::new(name, &[("code", Kind::Words), ("finding", Kind::Words)]);
    for finding in findings {
        // What would have to be otherwise is no advice any more where somebody has accepted it as it is.
        let help = finding.help.iter().filter(|_| !finding.is_waived);
        let words = std::iter::once(&finding.message).chain(help).cloned().collect::<Vec<_>>().join(" → ");
        table.row(vec![finding.code.as_str().into(), Cell::Quoted(words)]);
    }
    table
}

/// The sheets in the order of the work; those that go with no step come last, in packet order, and behind them those that
/// the packet has not.
fn sheet_list(job: &Job<'_>, sheets: &[Sheet], stamps: &[Stamp], pages: &[Option<PageRange>]) -> Named {
    let keys = ["step", "sheet", "stamp", "pages", "used_at"];
    let mut table = Table::new("cover-sheets", &keys.map(|key| (key, Kind::Words)));
    let order = OrderOfWork::of(job.model, job.design);
    let place = |sheet: &Sheet| order.of_sheet(sheet.id).iter().map(|(number, _)| *number).min().unwrap_or(usize::MAX);
    let mut listed: Vec<_> = sheets.iter().zip(stamps).zip(pages).collect();
    listed.sort_by_key(|((sheet, _), pages)| (pages.is_none(), place(sheet)));
    for ((sheet, stamp), pages) in listed {
        let range = match pages {
            None => "not in this packet".to_owned(),
            Some(PageRange { first, last }) if first == last => first.to_string(),
            Some(PageRange { first, last }) => format!("{first}–{last}"),
        };
        let mut steps: Vec<usize> = order.of_sheet(sheet.id).into_iter().map(|(number, _)| number).collect();
        steps.sort_unstable();
        let steps: Vec<String> = steps.iter().map(usize::to_string).collect();
        let steps = if steps.is_empty() { "–".to_owned() } else { steps.join(", ") };
        let (stamp, used_at) = (stamp.as_str(), sheet.station.word());
        table.row(vec![steps.into(), sheet.title.into(), stamp.into(), range.into(), used_at.into()]);
    }
    table.bench(
        "cover-sheets",
        job.unit(),
        &[
            View::column("step", "step"),
            View::column("sheet", "sheet").strong(),
            View::column("stamp", "stamp").strong(),
            View::column("pages", "pages"),
            View::column("used_at", "used at"),
            View::Tick("handed out".to_owned()),
        ],
    )
}

/// The issues, the last first: it is the one that counts.
fn issues(job: &Job<'_>, history: &History<'_>) -> Named {
    let keys = ["letter", "date", "by", "changed", "stamp"];
    let mut table = Table::new("cover-issues", &keys.map(|key| (key, Kind::Words)));
    if history.is_draft() {
        let letter = history.draft_mark().unwrap_or_default();
        let changed = Cell::Quoted(changed_since(history));
        table.row(vec![letter.into(), Cell::Empty, Cell::Empty, changed, history.stamp.as_str().into()]);
    }
    for issue in history.issues.iter().rev() {
        table.row(vec![
            Cell::Quoted(issue.letter.clone()),
            issue.date.to_string().into(),
            Cell::Quoted(issue.by.clone()),
            Cell::Quoted(issue.changed.clone()),
            Cell::Quoted(issue.stamp.clone()),
        ]);
    }
    table.desk(
        "cover-issues",
        job.unit(),
        &[
            View::column("letter", "issue").strong(),
            View::column("date", "date"),
            View::column("by", "by"),
            View::column("changed", "what changed"),
            View::column("stamp", "stamp of the packet"),
        ],
    )
}

/// What is decided otherwise than in the last issue: `markers.dot: 6 mm, now 5 mm`.
fn changed_since(history: &History<'_>) -> String {
    let Some(last) = history.before() else { return String::new() };
    let moved = Difference::between(&last.state, &history.now).values;
    let told = moved.iter().map(|moved| {
        let side = |side: &Option<String>| side.clone().unwrap_or_else(|| "–".to_owned());
        format!("{}: {}, now {}", moved.what, side(&moved.was), side(&moved.is))
    });
    let mut told: Vec<String> = told.collect();
    let more = told.len().saturating_sub(CHANGES_TOLD);
    told.truncate(CHANGES_TOLD);
    if more > 0 {
        told.push(format!("and {more} more"));
    }
    told.join("; ")
}

/// The numbers that govern all the others, in both units.
fn numbers(job: &Job<'_>) -> Named {
    let design = job.design;
    let mut table = Table::new("cover-numbers", &[("number", Kind::Words), ("figure_mm", Kind::Length)]);
    let mut line = |what: &str, figure: crate::model::Known<f64>| table.row(vec![what.into(), figure.into()]);
    line("scale on the centreline", design.layout.as_ref().map(|layout| layout.scale).map_err(|m| *m));
    line("squared end to zero line", design.squared_end.map(|end| 0.0 - end));
    let end = design.outline.as_ref().map_err(|m| *m);
    line("squared end to board's end", end.map(|outline| outline.end.x - outline.squared_end));
    line("width at the zero line", design.edges.map(|edges| edges.width(0.0)));
    line("width at the board's end", end.and_then(|outline| Ok(design.edges?.width(outline.end.x))));
    line("finished thickness", job.model.board.thickness.mm());
    line("deepest slot, before rounding up", design.depths.as_ref().map_err(|m| *m).and_then(|depths| depths.deepest));
    line("width of the blank", design.blank_width);
    table.desk(
        "cover-numbers",
        job.unit(),
        &[
            View::column("number", "number"),
            View::column("figure_mm", "figure").strong(),
            View::other("figure_mm", "other unit"),
        ],
    )
}

/// Where each range ends, what is found beyond it, and which check ends it, in words.
fn ranges(job: &Job<'_>) -> Option<Named> {
    let mut table = Table::new(
        "cover-ranges",
        &[
            ("length", Kind::Words),
            ("now", Kind::Length),
            ("end", Kind::Words),
            ("bound", Kind::Length),
            ("beyond", Kind::Words),
            ("by", Kind::Words),
        ],
    );
    for range in job.ranges {
        let (warning, error) = (range.without_warning, range.without_error);
        // Where the error begins at once, there is no warning before it.
        let warns = |bound: Option<Bound>, last: Option<Bound>| {
            bound.filter(|bound| last.is_none_or(|last| (last.millimetres - bound.millimetres).abs() > 1e-6))
        };
        let ends = [
            ("at least", warns(warning.least, error.least), "warning"),
            ("at least", error.least, "error"),
            ("at most", warns(warning.most, error.most), "warning"),
            ("at most", error.most, "error"),
        ];
        let known = ends.into_iter().filter_map(|(end, bound, beyond)| Some((end, bound?, beyond)));
        for (index, (end, bound, beyond)) in known.enumerate() {
            let (length, now) =
                if index == 0 { (range.dimension.name.into(), range.now.into()) } else { (Cell::Empty, Cell::Empty) };
            let by = format!("{} ({})", bound.code.row().title, bound.code);
            table.row(vec![length, now, end.into(), bound.millimetres.into(), beyond.into(), by.into()]);
        }
    }
    let views = [
        View::column("length", "length").strong(),
        View::column("now", "now"),
        View::column("end", "may be"),
        View::column("bound", "bound").strong(),
        View::column("beyond", "else"),
        View::column("by", "what is tight there"),
    ];
    (!table.rows.is_empty()).then(|| table.desk("cover-ranges", job.unit(), &views))
}

/// The limits that the shop or the commission changed, each with its reason.
fn limits(job: &Job<'_>) -> Option<Named> {
    let mut table = Table::new(
        "cover-limits",
        &[("code", Kind::Words), ("what", Kind::Words), ("limit", Kind::Words), ("why", Kind::Words)],
    );
    for change in &job.model.limits {
        let unit = change.code.row().limit.map_or("", |limit| limit.unit);
        let bounds = [("note", change.note), ("warning", change.warning), ("error", change.error)];
        let told = bounds.into_iter().filter_map(|(word, bound)| Some(format!("{word} {}\u{a0}{unit}", short(bound?))));
        let told = told.collect::<Vec<_>>().join(", ");
        table.row(vec![
            change.code.as_str().into(),
            change.code.row().title.into(),
            told.into(),
            Cell::Quoted(change.why.clone()),
        ]);
    }
    let views = [
        View::column("code", "code"),
        View::column("what", "limit of"),
        View::column("limit", "is now"),
        View::column("why", "because"),
    ];
    (!table.rows.is_empty()).then(|| table.desk("cover-limits", job.unit(), &views))
}

/// The values that nobody wrote for this commission, and where they came from.
fn defaults(job: &Job<'_>) -> Named {
    let mut table =
        Table::new("cover-defaults", &[("key", Kind::Words), ("value", Kind::Words), ("from", Kind::Words)]);
    for resolved in &job.model.values {
        let from = match &resolved.origin {
            Origin::BuiltIn => "built in".to_owned(),
            Origin::ShopDefault(_) => "the shop's defaults".to_owned(),
            Origin::ShopRow { id, .. } => format!("the shop's “{id}”"),
            Origin::Catalogue { table, id } => format!("catalogue {table}, “{id}”"),
            Origin::Commission(_) | Origin::Nowhere => continue,
        };
        let value = match &resolved.value {
            ResolvedValue::Figure(figure, "mm") => job.length_with_unit(*figure),
            ResolvedValue::Figure(figure, "") => format!("{}\u{a0}%", rounding::fixed(figure * 100.0, 1)),
            ResolvedValue::Figure(figure, unit) => format!("{}\u{a0}{unit}", short(*figure)),
            ResolvedValue::Count(count) => count.to_string(),
            ResolvedValue::Words(words) => words.clone(),
            ResolvedValue::List(list) => list.join(" "),
            ResolvedValue::Open => "open".to_owned(),
        };
        table.row(vec![resolved.key.to_string().into(), Cell::Quoted(value), Cell::Quoted(from)]);
    }
    table.desk(
        "cover-defaults",
        job.unit(),
        &[View::column("key", "value"), View::column("value", "is"), View::column("from", "from")],
    )
}

/// A figure with as many decimals as it has, four at most.
fn short(figure: f64) -> String {
    let text = rounding::fixed(figure, 4);
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}
