//! A shop of its own for each test: a folder, files in it, and the program run in it.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};

use tempfile::TempDir;

/// A temporary folder with commission files.
pub(crate) struct Shop {
    folder: TempDir,
}

/// What a run of the program gave.
#[derive(Debug)]
pub(crate) struct Run {
    /// Exit status.
    pub(crate) status: i32,
    /// What stood on the standard output.
    pub(crate) out: String,
    /// What stood on the standard error.
    pub(crate) err: String,
}

impl Shop {
    /// An empty folder.
    pub(crate) fn new() -> Self {
        Self { folder: TempDir::new().unwrap() }
    }

    /// Writes a file, with the folders it needs.
    #[must_use]
    pub(crate) fn with(self, path: &str, text: impl AsRef<[u8]>) -> Self {
        self.write(path, text);
        self
    }

    /// Writes a file, with the folders it needs.
    pub(crate) fn write(&self, path: &str, text: impl AsRef<[u8]>) {
        let path = self.path(path);
        fs::create_dir_all(path.parent().unwrap()).unwrap();
        fs::write(path, text).unwrap();
    }

    /// A path in the folder.
    pub(crate) fn path(&self, path: &str) -> PathBuf {
        self.folder.path().join(path)
    }

    /// Every file below a folder with its content, sorted by path.
    pub(crate) fn files(&self, folder: &str) -> Vec<(String, Vec<u8>)> {
        let root = self.path(folder);
        let mut files = Vec::new();
        collect(&root, &root, &mut files);
        files.sort();
        files
    }

    /// Runs the program in the folder: no colour, no terminal.
    pub(crate) fn run(&self, arguments: &[&str]) -> Run {
        let output = Command::new(env!("CARGO_BIN_EXE_kerfbook"))
            .args(arguments)
            .current_dir(self.folder.path())
            .env_remove("NO_COLOR")
            .stdin(Stdio::null())
            .output()
            .unwrap();
        let text = |bytes: &[u8]| String::from_utf8(bytes.to_vec()).unwrap();
        Run { status: output.status.code().unwrap(), out: text(&output.stdout), err: text(&output.stderr) }
    }
}

fn collect(root: &Path, folder: &Path, files: &mut Vec<(String, Vec<u8>)>) {
    let Ok(entries) = fs::read_dir(folder) else { return };
    for entry in entries.map(Result::unwrap) {
        let path = entry.path();
        if path.is_dir() {
            collect(root, &path, files);
        } else {
            let name = path.strip_prefix(root).unwrap().to_string_lossy().replace('\\', "/");
            files.push((name, fs::read(&path).unwrap()));
        }
    }
}
