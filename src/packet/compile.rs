//! The one way through: sources to findings, and without errors on to the packet.

use super::bind::{self, Bound};
use super::examine::{Examined, examine};
use super::record;
use super::{Compiled, Inputs, Options, Packet, PacketFile};
use crate::emit;
use crate::paper::Paper;
use crate::shared;
use crate::sheets::{self, Job};
use crate::spec::words::Word;

/// Checks one commission: its findings and its number, no packet.
pub fn check(inputs: &Inputs) -> Compiled {
    let Examined { report, number, .. } = examine(inputs);
    Compiled { report, number, packet: None }
}

/// Compiles one commission: its findings and, if none of them is an error, its packet.
pub fn compile(inputs: &Inputs, options: &Options) -> Compiled {
    let Examined { report, number, found } = examine(inputs);
    let packet = found.filter(|_| !report.has_errors()).map(|(model, design, outcome)| {
        let job = Job { model: &model, design: &design, findings: report.findings(), left_out: &outcome.left_out };
        packet(inputs, options, &job)
    });
    Compiled { report, number, packet }
}

fn packet(inputs: &Inputs, options: &Options, job: &Job<'_>) -> Packet {
    let paper = options.paper.or_else(|| job.model.commission.paper.get().ok()).unwrap_or(Paper::A4);
    let bound = bind::bind(job, sheets::make(job), paper);
    // The document takes as long as all other files together: each on a thread of its own.
    let (document, mut files) = shared::both(
        || emit::pdf::pdf(&bound.document),
        || {
            let record = PacketFile { path: "packet.json".to_owned(), bytes: record::packet_json(inputs, job, &bound) };
            let mut files = tables_and_drawings(&bound);
            files.push(record);
            files
        },
    );
    files.push(PacketFile { path: "packet.pdf".to_owned(), bytes: document });
    if !options.only.is_empty() {
        let document = bound.only(&options.only);
        files.push(PacketFile { path: "only.pdf".to_owned(), bytes: emit::pdf::pdf(&document) });
    }
    files.sort_by(|a, b| a.path.cmp(&b.path));
    let manifest = record::manifest_json(inputs, job, &bound, &files);
    files.push(PacketFile { path: "manifest.json".to_owned(), bytes: manifest });
    files.sort_by(|a, b| a.path.cmp(&b.path));
    Packet { files }
}

/// The tables and drawings of all sheets; a drawing that two sheets show is one file.
fn tables_and_drawings(bound: &Bound) -> Vec<PacketFile> {
    let mut files: Vec<PacketFile> = Vec::new();
    for sheet in &bound.sheets {
        for table in &sheet.tables {
            let path = format!("tables/{}.csv", table.name);
            files.push(PacketFile { path, bytes: emit::csv::csv(table) });
        }
        for (name, drawing) in &sheet.drawings {
            let path = format!("drawings/{name}.svg");
            if files.iter().all(|file| file.path != path) {
                let svg = emit::svg::svg(&drawing.place(DRAWING_ROOM), &drawing.title);
                files.push(PacketFile { path, bytes: svg.into_bytes() });
            }
        }
    }
    files
}

/// The room a drawing gets in a file of its own: a landscape A3 sheet's drawing space, in millimetres (ISO 5457).
const DRAWING_ROOM: crate::drawing::Room = crate::drawing::Room { width: 390.0, height: 277.0 };

impl Bound {
    /// A document of some sheets only, in packet order.
    fn only(&self, ids: &[String]) -> emit::pdf::Document {
        self.document_of(|sheet| ids.iter().any(|id| id == sheet.id))
    }
}

/// The word of a hand as the badge of each sheet.
pub(super) fn hand_badge(job: &Job<'_>) -> String {
    format!("{}-HANDED", job.hand().as_word().to_uppercase())
}
