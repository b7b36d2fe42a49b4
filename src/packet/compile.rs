//! The one way through: sources to findings, and without errors on to the packet.

use super::bind::{self, Bound};
use super::examine::{Examined, examine};
use super::templates::filler;
use super::{Compiled, Inputs, Options, PROGRAM, Packet, PacketFile, Standing};
use super::{full_size, record, screen};
use crate::checks::range::{self, DIMENSIONS, Range};
use crate::diag::Report;
use crate::drawing::Plan;
use crate::emit;
use crate::paper::Paper;
use crate::shared;
use crate::sheets::difference::Difference;
use crate::sheets::patterns::Pattern;
use crate::sheets::{self, History, Job, Sheet};
use crate::source::Span;
use crate::spec::words::Word;
use crate::template::{Engine, TemplateError};

/// Checks one commission: its findings, its number and how it stands to its issues; no packet.
pub fn check(inputs: &Inputs) -> Compiled {
    carry_on(inputs, examine(inputs), |engine, job, history, sheets| {
        // The built-in templates fit every sheet; whether the shop's own do is known when the sheets are set.
        if inputs.templates.are_own() {
            let ranges = ranges(job);
            let paper = paper(job, &Options::default());
            let bound = bind::bind(engine, &Job { ranges: &ranges, ..*job }, history, sheets, paper)?;
            full_size::documents(engine, job, history, &bound, paper, &bound.patterns(job, history))?;
        }
        Ok(None)
    })
}

/// Compiles one commission: its findings and, if none of them is an error, its packet.
pub fn compile(inputs: &Inputs, options: &Options) -> Compiled {
    carry_on(inputs, examine(inputs), |engine, job, history, sheets| {
        packet(inputs, options, engine, job, history, sheets).map(Some)
    })
}

/// Makes the sheets of a commission without errors, holds them against its issues, and makes what is wanted of them.
fn carry_on(
    inputs: &Inputs,
    examined: Examined,
    make: impl FnOnce(&Engine, &Job<'_>, &History<'_>, Vec<Sheet>) -> Result<Option<Packet>, Vec<TemplateError>>,
) -> Compiled {
    let Examined { mut report, number, found, issues } = examined;
    let engine = filler(inputs);
    let Some((model, design, outcome)) = found.filter(|_| !report.has_errors()) else {
        return Compiled { report, number, template_faults: engine.err().unwrap_or_default(), ..Compiled::default() };
    };
    let job =
        Job { model: &model, design: &design, findings: report.findings(), left_out: &outcome.left_out, ranges: &[] };
    let mut sheets = sheets::make(&job);
    let history = History::of(&job, &sheets, &issues);
    let moved = sheets::moved_alone(&history, PROGRAM).map(|finding| {
        let file = inputs.issues.as_ref().map(|file| Span { file: file.id, start: 0, end: 0 });
        finding.at(file)
    });
    let mut findings = Report::default();
    findings.extend(report.findings().iter().cloned().chain(moved));
    findings.sort();
    let job = Job { findings: findings.findings(), ..job };
    let of_history = sheets::of_history(&job, &history);
    let notices = of_history.iter().map(|sheet| (sheet.id.to_owned(), sheet.stamp(&job).to_string())).collect();
    sheets.extend(of_history);
    sheets::in_packet_order(&mut sheets);
    let made = engine.and_then(|engine| make(&engine, &job, &history, sheets));
    let (packet, template_faults) = made.map_or_else(|faults| (None, faults), |packet| (packet, Vec::new()));
    let (is_issued, stamp, reprint) = (!history.is_draft(), history.stamp.to_string(), sheets_to_reprint(&history));
    let now = history.now;
    report = findings;
    let standing = Some(Standing { issues, now, stamp, is_issued, notices, reprint });
    Compiled { report, number, standing, template_faults, packet }
}

/// The paper that is asked for, by the command line first.
fn paper(job: &Job<'_>, options: &Options) -> Paper {
    options.paper.or_else(|| job.model.commission.paper.get().ok()).unwrap_or(Paper::A4)
}

/// How far each dimension may go.
fn ranges(job: &Job<'_>) -> Vec<Range> {
    let ranges = shared::in_order(DIMENSIONS.len(), |index| range::of(job.model, DIMENSIONS[index]));
    ranges.into_iter().flatten().collect()
}

fn packet(
    inputs: &Inputs,
    options: &Options,
    engine: &Engine,
    job: &Job<'_>,
    history: &History<'_>,
    sheets: Vec<Sheet>,
) -> Result<Packet, Vec<TemplateError>> {
    let ranges = ranges(job);
    let job = &Job { ranges: &ranges, ..*job };
    let paper = paper(job, options);
    let bound = bind::bind(engine, job, history, sheets, paper)?;
    let patterns = bound.patterns(job, history);
    // The document takes as long as all other files together: each on a thread of its own.
    let (document, files) = shared::both(
        || emit::pdf::pdf(&bound.document),
        || -> Result<Vec<PacketFile>, Vec<TemplateError>> {
            let record =
                PacketFile { path: "packet.json".to_owned(), bytes: record::packet_json(inputs, job, history, &bound) };
            let mut files = tables_and_drawings(&bound);
            files.extend(pattern_files(&patterns));
            let full_size = full_size::documents(engine, job, history, &bound, paper, &patterns)?;
            let file =
                |(path, document): (&str, _)| PacketFile { path: path.to_owned(), bytes: emit::pdf::pdf(&document) };
            files.extend(full_size.into_iter().map(file));
            files.push(record);
            let screen = screen::screen(&bound, job, &inputs.commission.path, &files).into_bytes();
            files.push(PacketFile { path: "packet.html".to_owned(), bytes: screen });
            Ok(files)
        },
    );
    let mut files = files?;
    files.push(PacketFile { path: "packet.pdf".to_owned(), bytes: document });
    if !options.only.is_empty() {
        let document = bound.only(&options.only);
        files.push(PacketFile { path: "only.pdf".to_owned(), bytes: emit::pdf::pdf(&document) });
    }
    if let Some(document) = bound.reprint(history).filter(|_| options.reprint) {
        files.push(PacketFile { path: "reprint.pdf".to_owned(), bytes: emit::pdf::pdf(&document) });
    }
    files.sort_by(|a, b| a.path.cmp(&b.path));
    let manifest = record::manifest_json(inputs, job, history, &bound, &files);
    files.push(PacketFile { path: "manifest.json".to_owned(), bytes: manifest });
    files.sort_by(|a, b| a.path.cmp(&b.path));
    Ok(Packet { files })
}

/// The sheets to be printed anew by those who have the prints of the issue before; none where no figure moved.
fn sheets_to_reprint(history: &History<'_>) -> Vec<String> {
    let Some(before) = history.before() else { return Vec::new() };
    let difference = Difference::between(&before.state, &history.now);
    let stale: Vec<String> = difference.to_print().map(|sheet| sheet.sheet.clone()).collect();
    if stale.is_empty() {
        return stale;
    }
    [sheets::cover::ID, sheets::changes::ID].map(str::to_owned).into_iter().chain(stale).collect()
}

/// The tables and drawings of all sheets; a drawing that two sheets show is one file.
fn tables_and_drawings(bound: &Bound) -> Vec<PacketFile> {
    let mut files: Vec<PacketFile> = Vec::new();
    for sheet in bound.all_sheets() {
        for table in &sheet.tables {
            let path = format!("tables/{}.csv", table.name);
            files.push(PacketFile { path, bytes: emit::csv::csv(table) });
        }
        for (name, drawing) in &sheet.drawings {
            let path = format!("drawings/{name}.svg");
            if files.iter().any(|file| file.path == path) {
                continue;
            }
            let picture = drawing.place(DRAWING_ROOM);
            files.push(PacketFile { path, bytes: emit::svg::svg(&picture, &drawing.title).into_bytes() });
            // A scheme has no millimetres of its own to be written in.
            if let Some(plan) = Plan::of_picture(&picture) {
                let path = format!("drawings/{name}.dxf");
                files.push(PacketFile { path, bytes: emit::dxf::dxf(&plan).into_bytes() });
            }
        }
    }
    files
}

/// Each pattern as SVG and as DXF, one unit a millimetre.
fn pattern_files(patterns: &[Pattern]) -> Vec<PacketFile> {
    let files = shared::in_order(patterns.len(), |index| {
        let pattern = &patterns[index];
        let svg = emit::svg::svg(
            &pattern.plan.picture(PATTERN_MARGIN),
            &format!("{}; x from {}", pattern.title, pattern.datum),
        );
        [("svg", svg), ("dxf", emit::dxf::dxf(&pattern.plan))].map(|(kind, text)| PacketFile {
            path: format!("drawings/{}.{kind}", pattern.id),
            bytes: text.into_bytes(),
        })
    });
    files.into_iter().flatten().collect()
}

/// White round a pattern in a file of its own, millimetres.
const PATTERN_MARGIN: f64 = 3.0;

/// The room a drawing gets in a file of its own: a landscape A3 sheet's drawing space, in millimetres (ISO 5457).
const DRAWING_ROOM: crate::drawing::Room = crate::drawing::Room { width: 390.0, height: 277.0 };

impl Bound {
    /// A document of some sheets only, in packet order; those that the shop does not print come last.
    fn only(&self, ids: &[String]) -> emit::pdf::Document {
        self.document_of(|sheet| ids.iter().any(|id| id == sheet.id))
    }

    /// A document of what must be printed anew by those who have the prints of the issue before: the cover, the list
    /// of changes, and each sheet whose stamp is another; none where nothing moved.
    fn reprint(&self, history: &History<'_>) -> Option<emit::pdf::Document> {
        let stale = sheets_to_reprint(history);
        (!stale.is_empty()).then(|| self.document_of(|sheet| stale.iter().any(|id| id == sheet.id)))
    }
}

/// The word of a hand as the badge of each sheet.
pub(super) fn hand_badge(job: &Job<'_>) -> String {
    format!("{}-HANDED", job.hand().as_word().to_uppercase())
}
