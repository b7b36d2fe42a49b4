//! Source files and places in them: what every finding points at.

use std::sync::Arc;

/// Which source of one run: the commission file, its shop file, a memory file.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct FileId(pub u16);

/// A stretch of bytes in one source file; `start <= end <=` the file's length.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Span {
    /// The file.
    pub file: FileId,
    /// First byte.
    pub start: usize,
    /// One past the last byte.
    pub end: usize,
}

/// One text that was read, under the name that messages print.
#[derive(Debug)]
pub struct SourceFile {
    name: String,
    text: String,
    line_starts: Vec<usize>,
}

/// A place for people: line and column, both counted from one; columns count characters.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Position {
    /// Line, from 1.
    pub line: usize,
    /// Column in characters, from 1.
    pub column: usize,
}

impl SourceFile {
    /// Takes a text and the name that messages print for it.
    pub fn new(name: impl Into<String>, text: impl Into<String>) -> Self {
        let text = text.into();
        let line_starts = std::iter::once(0).chain(text.match_indices('\n').map(|(at, _)| at + 1)).collect();
        Self { name: name.into(), text, line_starts }
    }

    /// The name that messages print.
    pub fn name(&self) -> &str {
        &self.name
    }

    /// The whole text.
    pub fn text(&self) -> &str {
        &self.text
    }

    /// Line and column of a byte; a byte past the end gives the end, one inside a character its start.
    pub fn position(&self, byte: usize) -> Position {
        let mut byte = byte.min(self.text.len());
        while !self.text.is_char_boundary(byte) {
            byte -= 1;
        }
        let line = self.line_starts.partition_point(|start| *start <= byte);
        let start = self.line_starts[line - 1];
        Position { line, column: self.text[start..byte].chars().count() + 1 }
    }
}

/// The sources of one run, by their [`FileId`].
#[derive(Debug, Clone, Default)]
pub struct Sources {
    files: Vec<Arc<SourceFile>>,
}

impl Sources {
    /// Adds a file and gives its id.
    ///
    /// # Panics
    /// With more than 65,535 files in one run: each commission's run has its own few.
    pub fn add(&mut self, file: SourceFile) -> FileId {
        let id = u16::try_from(self.files.len()).expect("a run holds few sources");
        self.files.push(Arc::new(file));
        FileId(id)
    }

    /// The file of an id that this collection gave out.
    pub fn get(&self, id: FileId) -> &SourceFile {
        &self.files[usize::from(id.0)]
    }

    /// Line and column of a span's first byte and of the byte after its last.
    pub fn range(&self, span: Span) -> (Position, Position) {
        let file = self.get(span.file);
        (file.position(span.start), file.position(span.end))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn columns_count_characters_not_bytes() {
        let file = SourceFile::new("a.toml", "x = 1\nµ = \"½\" # Ω\n");
        assert_eq!(file.position(6), Position { line: 2, column: 1 });
        assert_eq!(file.position(8), Position { line: 2, column: 2 });
        assert_eq!(file.position(7), Position { line: 2, column: 1 }, "inside a character");
        assert_eq!(file.position(9_999).line, 3);
    }
}
