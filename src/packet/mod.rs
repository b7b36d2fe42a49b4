//! From sources to a packet: what goes in, what comes out. Files have names and bytes here; `cli` puts them on disk.

mod bind;
mod compile;
mod examine;
mod fill;
mod full_size;
mod print;
mod record;
mod rests;
pub mod salvage;
mod screen;
mod templates;

use crate::diag::Report;
use crate::source::{FileId, Sources, Span};
use crate::spec::date::Date;
use crate::spec::issues::{Issue, State, letter};
use crate::spec::words::Paper;
use crate::template::TemplateError;

pub use compile::{check, compile};
pub use examine::{Examined, examine};
pub use fill::{blocks, names};
pub use print::leads_within;
pub use templates::{TemplateFile, Templates};

/// What one packet is compiled from.
#[derive(Debug, Clone)]
pub struct Inputs {
    /// The texts, under the names that messages print.
    pub sources: Sources,
    /// The commission file.
    pub commission: InputFile,
    /// The shop file, if there is one.
    pub shop: Option<InputFile>,
    /// The issues file, if there is one.
    pub issues: Option<InputFile>,
    /// The shop's own templates.
    pub templates: Templates,
}

impl Inputs {
    /// Every file that the packet is compiled from.
    pub fn files(&self) -> impl Iterator<Item = &InputFile> {
        let templates = self.templates.files.iter().map(|template| &template.file);
        std::iter::once(&self.commission).chain(&self.shop).chain(&self.issues).chain(templates)
    }
}

/// One file that a packet is compiled from.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct InputFile {
    /// Its text among the sources.
    pub id: FileId,
    /// Its path from the commission's folder, with forward slashes: what the manifest says.
    pub path: String,
}

/// What the command line may ask of a packet.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Options {
    /// Paper that goes before the commission's.
    pub paper: Option<Paper>,
    /// Sheets that are also written into `only.pdf`; none: no such file.
    pub only: Vec<String>,
    /// Whether the sheets that differ from the last issue are also written into `reprint.pdf`.
    pub reprint: bool,
}

/// The number of a commission, as far as it could be read, and where it stands.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Number {
    /// As written.
    pub text: String,
    /// Where it is written.
    pub span: Option<Span>,
}

/// What came of one commission.
#[derive(Debug, Clone, Default)]
pub struct Compiled {
    /// Everything that was found.
    pub report: Report,
    /// The commission's number; none where it could not be read.
    pub number: Option<Number>,
    /// How the commission stands to its issues; none where the report has errors.
    pub standing: Option<Standing>,
    /// What is wrong with the shop's own templates.
    pub template_faults: Vec<TemplateError>,
    /// The packet; none where the report has errors, where a template is broken, or where only findings were asked for.
    pub packet: Option<Packet>,
}

/// How a commission stands to its issues.
#[derive(Debug, Clone, PartialEq)]
pub struct Standing {
    /// Its issues, the first first.
    pub issues: Vec<Issue>,
    /// The commission as it stands.
    pub now: State,
    /// The packet's stamp.
    pub stamp: String,
    /// Whether it is, as it stands, the last issue.
    pub is_issued: bool,
    /// The stamps of the sheets that only tell of the others, the cover apart.
    pub notices: Vec<(String, String)>,
    /// The sheets that `reprint.pdf` holds.
    pub reprint: Vec<String>,
}

impl Standing {
    /// The issue that the commission is, as it stands.
    pub fn issued(&self) -> Option<&Issue> {
        self.issues.last().filter(|_| self.is_issued)
    }

    /// What it is called: `issue B`, `DRAFT after B`, `DRAFT`.
    pub fn name(&self) -> String {
        match (self.is_issued, self.issues.last()) {
            (true, Some(last)) => format!("issue {}", last.letter),
            (false, Some(last)) => format!("DRAFT after {}", last.letter),
            (_, None) => "DRAFT".to_owned(),
        }
    }

    /// The issue that this commission would become on a day.
    pub fn next_issue(&self, date: Date, by: &str, changed: &str) -> Issue {
        Issue {
            letter: letter(self.issues.len()),
            date,
            by: by.trim().to_owned(),
            changed: changed.trim().to_owned(),
            program: PROGRAM.to_owned(),
            stamp: self.stamp.clone(),
            state: self.now.clone(),
        }
    }
}

/// This edition of the program.
pub const PROGRAM: &str = concat!("kerfbook ", env!("CARGO_PKG_VERSION"));

/// A whole packet.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Packet {
    /// Its files, in the order of their paths.
    pub files: Vec<PacketFile>,
}

/// One file of a packet.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PacketFile {
    /// Its path from the packet's folder, with forward slashes and no step upward.
    pub path: String,
    /// Its content.
    pub bytes: Vec<u8>,
}

impl Packet {
    /// The content of a file by its path.
    pub fn file(&self, path: &str) -> Option<&[u8]> {
        self.files.iter().find(|file| file.path == path).map(|file| file.bytes.as_slice())
    }
}
