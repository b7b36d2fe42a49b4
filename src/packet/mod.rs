//! From sources to a packet: what goes in, what comes out. Files have names and bytes here; `cli` puts them on disk.

mod bind;
mod compile;
mod examine;
mod record;

use crate::diag::Report;
use crate::source::{FileId, Sources, Span};
use crate::spec::words::Paper;

pub use bind::blocks;
pub use compile::{check, compile};
pub use examine::{Examined, examine};

/// What one packet is compiled from.
#[derive(Debug, Clone)]
pub struct Inputs {
    /// The texts, under the names that messages print.
    pub sources: Sources,
    /// The commission file.
    pub commission: InputFile,
    /// The shop file, if there is one.
    pub shop: Option<InputFile>,
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
    /// The packet; none where the report has errors, or where only findings were asked for.
    pub packet: Option<Packet>,
}

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
