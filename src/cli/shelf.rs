//! The output folder: whole packets in, never half a one.
//!
//! A new packet is written beside the old one as `.NAME.new` and exchanged with it by name, in one step where the
//! system can exchange two names, else in two renames. What a killed run left is healed by the next:
//!
//! | left behind                   | means                                          | healed by                |
//! |-------------------------------|------------------------------------------------|--------------------------|
//! | `.NAME.new`                   | half a new packet, or the old one, exchanged   | removing it              |
//! | `.NAME.old` and `NAME`        | the swap was done                              | removing `.NAME.old`     |
//! | `.NAME.old` without `NAME`    | killed between the two renames                 | giving it its name back  |
//!
//! A packet's name never begins with a dot, so the three cannot meet another packet. Nothing outside the folder is
//! touched: links in it are neither followed nor written through. What somebody else put into a packet's folder
//! stays there.

use std::collections::{BTreeMap, BTreeSet};
use std::fs::{self, File, TryLockError};
use std::io::{self, ErrorKind};
use std::path::{Component, Path, PathBuf};

use super::files::Fault;
use crate::packet::Packet;

/// The mark in a packet that is not current.
pub(super) const NOT_CURRENT: &str = "NOT-CURRENT.txt";

/// The list of a packet's files, in the packet.
const MANIFEST: &str = "manifest.json";

/// The sheets asked for with `--only` and `--reprint`.
const PARTS: [&str; 2] = ["only.pdf", "reprint.pdf"];

/// The output folder, opened for one run.
#[derive(Debug)]
pub(super) struct Shelf {
    folder: PathBuf,
    force: bool,
    /// Holds the folder against a second run; the system lets go when this run ends, however it ends.
    _lock: Option<File>,
}

/// What became of a packet.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Put {
    /// It was not there before, or another state of it.
    Written,
    /// It was there, byte for byte.
    Unchanged,
}

impl Shelf {
    /// Opens the output folder, making it if need be; waits while another run has it.
    ///
    /// # Errors
    /// A folder that cannot be made or is not one.
    pub(super) fn open(folder: &Path, force: bool) -> Result<Self, Fault> {
        fs::create_dir_all(folder).map_err(|error| Fault::new(folder, "the output folder cannot be made", &error))?;
        // Not every system locks folders; there two runs at once are on their own.
        let lock = File::open(folder).ok().filter(|file| match file.try_lock() {
            Ok(()) => true,
            Err(TryLockError::WouldBlock) => file.lock().is_ok(),
            Err(TryLockError::Error(_)) => false,
        });
        Ok(Self { folder: folder.to_owned(), force, _lock: lock })
    }

    /// Where a packet lies.
    pub(super) fn place(&self, name: &str) -> PathBuf {
        self.folder.join(name)
    }

    /// Whether a packet of that commission lies there, healing what a killed run left of it.
    ///
    /// # Errors
    /// What the system refuses.
    pub(super) fn holds(&self, name: &str, number: &str) -> Result<bool, Fault> {
        self.heal(name).map_err(|error| self.fault(name, "cannot be healed", &error))?;
        Ok(matches!(self.occupant(name, number)?, Occupant::Packet(_)))
    }

    /// The packets that were made from a commission file of that name, by their folders, in order.
    ///
    /// # Errors
    /// What the system refuses.
    pub(super) fn made_from(&self, file: &str) -> Result<Vec<String>, Fault> {
        let unreadable = |error: &io::Error| Fault::new(&self.folder, "the output folder cannot be listed", error);
        let mut folders = Vec::new();
        for entry in fs::read_dir(&self.folder).map_err(|error| unreadable(&error))? {
            let entry = entry.map_err(|error| unreadable(&error))?;
            let is_folder = entry.file_type().is_ok_and(|kind| kind.is_dir());
            folders.extend(
                entry.file_name().to_str().filter(|name| is_folder && !name.starts_with('.')).map(str::to_owned),
            );
        }
        folders.sort();
        folders.retain(|name| self.source(name).is_some_and(|source| source == file));
        Ok(folders)
    }

    /// The name of the commission file that a packet was made from, as its manifest says.
    fn source(&self, name: &str) -> Option<String> {
        let place = self.place(name);
        let is_file = fs::symlink_metadata(place.join(MANIFEST)).is_ok_and(|metadata| metadata.is_file());
        manifest_in(&place).filter(|_| is_file)?.source
    }

    /// Puts a packet in place of its last state, whole.
    ///
    /// # Errors
    /// What the system refuses, and a place that is taken by something else; the last packet is then left as it was.
    pub(super) fn put(&self, name: &str, number: &str, packet: &Packet) -> Result<Put, Fault> {
        let refuse = |error: &io::Error| self.fault(name, "the packet cannot be written", error);
        self.heal(name).map_err(|error| refuse(&error))?;
        let old = match self.occupant(name, number)? {
            Occupant::Nothing => BTreeMap::new(),
            Occupant::Packet(files) => files,
            Occupant::Other(_) if self.force => BTreeMap::new(),
            Occupant::Other(what) => {
                let place = self.place(name);
                return Err(Fault(format!(
                    "{}: the packet cannot be written: {what}; move it away, or say --force to replace it",
                    place.display()
                )));
            }
        };
        if self.is_same(name, packet, &old) {
            return Ok(Put::Unchanged);
        }
        let fresh = self.beside(name, "new");
        let written = self.write(name, &fresh, packet, &old).and_then(|()| self.swap(name, &fresh));
        if let Err(error) = written {
            // The last packet lies where it lay; what was begun goes away, or with the next run.
            let _ = remove(&fresh);
            return Err(refuse(&error));
        }
        Ok(Put::Written)
    }

    /// Lays the mark into a packet that is not current, in one step; the packet itself stays as it is.
    ///
    /// # Errors
    /// What the system refuses.
    pub(super) fn mark_not_current(&self, name: &str, why: &str) -> Result<(), Fault> {
        let mark = self.place(name).join(NOT_CURRENT);
        let is_file = fs::symlink_metadata(&mark).is_ok_and(|metadata| metadata.is_file());
        if is_file && fs::read(&mark).is_ok_and(|text| text == why.as_bytes()) {
            return Ok(());
        }
        let fresh = self.beside(name, "new");
        let laid =
            remove(&fresh).and_then(|()| write_new(&fresh, why.as_bytes())).and_then(|()| fs::rename(&fresh, &mark));
        laid.map_err(|error| {
            let _ = remove(&fresh);
            self.fault(name, "cannot be marked as not current", &error)
        })
    }

    /// A name beside the packet's that no packet can have.
    fn beside(&self, name: &str, what: &str) -> PathBuf {
        self.folder.join(format!(".{name}.{what}"))
    }

    fn fault(&self, name: &str, what: &str, error: &io::Error) -> Fault {
        Fault::new(&self.place(name), what, error)
    }

    /// Puts right what a killed run left.
    fn heal(&self, name: &str) -> io::Result<()> {
        let old = self.beside(name, "old");
        let is_folder = fs::symlink_metadata(&old).is_ok_and(|metadata| metadata.is_dir());
        if is_folder && !is_there(&self.place(name))? {
            fs::rename(&old, self.place(name))?;
        }
        remove(&old)?;
        remove(&self.beside(name, "new"))
    }

    /// What lies where the packet shall lie.
    fn occupant(&self, name: &str, number: &str) -> Result<Occupant, Fault> {
        let place = self.place(name);
        let metadata = match fs::symlink_metadata(&place) {
            Ok(metadata) => metadata,
            Err(error) if error.kind() == ErrorKind::NotFound => return Ok(Occupant::Nothing),
            Err(error) => return Err(self.fault(name, "cannot be read", &error)),
        };
        if !metadata.is_dir() {
            return Ok(Occupant::Other("something that is not a folder lies there".to_owned()));
        }
        let mut files = BTreeMap::new();
        list(&place, "", &mut files).map_err(|error| self.fault(name, "cannot be listed", &error))?;
        if files.is_empty() {
            return Ok(Occupant::Nothing);
        }
        match manifest(&place, &files) {
            None => Ok(Occupant::Other("a folder lies there that is not a packet".to_owned())),
            Some(manifest) if manifest.commission != number => {
                Ok(Occupant::Other(format!("the packet of `{}` lies there", manifest.commission)))
            }
            Some(manifest) => {
                for (path, kind) in &mut files {
                    let ours = manifest.files.contains(path)
                        || [MANIFEST, NOT_CURRENT].iter().chain(&PARTS).any(|own| own == path);
                    match kind {
                        Kind::Foreign if ours => *kind = Kind::Ours,
                        Kind::Other => {
                            return Ok(Occupant::Other(format!("`{path}` in it is not a plain file")));
                        }
                        _ => {}
                    }
                }
                Ok(Occupant::Packet(files))
            }
        }
    }

    /// Whether the packet lies there already, byte for byte, without a mark on it.
    fn is_same(&self, name: &str, packet: &Packet, old: &BTreeMap<String, Kind>) -> bool {
        let ours = old.iter().filter(|(_, kind)| **kind == Kind::Ours).map(|(path, _)| path.as_str());
        let new: BTreeSet<_> = packet.files.iter().map(|file| file.path.as_str()).collect();
        ours.collect::<BTreeSet<_>>() == new
            && packet.files.iter().all(|file| holds(&self.place(name).join(&file.path), &file.bytes))
    }

    /// Writes a whole new folder; what has not changed, and what is not ours, is linked.
    fn write(&self, name: &str, fresh: &Path, packet: &Packet, old: &BTreeMap<String, Kind>) -> io::Result<()> {
        fs::create_dir(fresh)?;
        for file in &packet.files {
            assert!(is_plain(&file.path), "a packet names its files plainly: {}", file.path);
            let (from, to) = (self.place(name).join(&file.path), fresh.join(&file.path));
            fs::create_dir_all(to.parent().unwrap_or(fresh))?;
            let unchanged = old.contains_key(&file.path) && holds(&from, &file.bytes);
            if !unchanged || fs::hard_link(&from, &to).is_err() {
                write_new(&to, &file.bytes)?;
            }
        }
        for (path, _) in old.iter().filter(|(_, kind)| **kind == Kind::Foreign) {
            let (from, to) = (self.place(name).join(path), fresh.join(path));
            if !is_there(&to)? {
                fs::create_dir_all(to.parent().unwrap_or(fresh))?;
                fs::hard_link(&from, &to).or_else(|_| fs::copy(&from, &to).map(drop))?;
            }
        }
        Ok(())
    }

    /// Gives the new folder the packet's name, and takes the old one away.
    fn swap(&self, name: &str, fresh: &Path) -> io::Result<()> {
        let place = self.place(name);
        if !is_there(&place)? {
            return fs::rename(fresh, &place);
        }
        if exchange(fresh, &place).is_ok() {
            // The packet is in place: what cannot be removed now is removed by the next run.
            let _ = remove(fresh);
            return Ok(());
        }
        self.swap_by_renaming(name, fresh)
    }

    /// The swap in two renames, for systems that cannot exchange two names.
    fn swap_by_renaming(&self, name: &str, fresh: &Path) -> io::Result<()> {
        let place = self.place(name);
        let old = self.beside(name, "old");
        fs::rename(&place, &old)?;
        if let Err(error) = fs::rename(fresh, &place) {
            fs::rename(&old, &place)?;
            return Err(error);
        }
        let _ = remove(&old);
        Ok(())
    }
}

/// What lies where a packet shall lie.
#[derive(Debug)]
enum Occupant {
    /// Nothing, or an empty folder.
    Nothing,
    /// The last packet of that commission: its files by path.
    Packet(BTreeMap<String, Kind>),
    /// Something else, in words.
    Other(String),
}

/// Whose a file in a packet's folder is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Kind {
    /// The packet's.
    Ours,
    /// A file that somebody else put there.
    Foreign,
    /// A link, a pipe, a device.
    Other,
}

/// What the manifest of a packet says.
struct Manifest {
    commission: String,
    /// The name of the commission file, the first of what was read.
    source: Option<String>,
    files: BTreeSet<String>,
}

fn manifest(packet: &Path, files: &BTreeMap<String, Kind>) -> Option<Manifest> {
    if files.get(MANIFEST) != Some(&Kind::Foreign) {
        return None;
    }
    manifest_in(packet)
}

fn manifest_in(packet: &Path) -> Option<Manifest> {
    let value: serde_json::Value = serde_json::from_slice(&fs::read(packet.join(MANIFEST)).ok()?).ok()?;
    let commission = value.get("commission")?.as_str()?.to_owned();
    let source = || value.get("inputs")?.as_array()?.first()?.get("path")?.as_str().map(str::to_owned);
    let source = source();
    let files = value.get("files")?.as_array()?.iter().filter_map(|file| file.get("path")?.as_str());
    Some(Manifest { commission, source, files: files.map(str::to_owned).collect() })
}

/// Lists what lies below a folder, by its path with forward slashes; links are listed and not followed.
fn list(folder: &Path, above: &str, files: &mut BTreeMap<String, Kind>) -> io::Result<()> {
    for entry in fs::read_dir(folder)? {
        let entry = entry?;
        let name = entry.file_name();
        let path = match above {
            "" => name.to_string_lossy().into_owned(),
            above => format!("{above}/{}", name.to_string_lossy()),
        };
        let kind = entry.file_type()?;
        if kind.is_dir() {
            list(&entry.path(), &path, files)?;
        } else {
            // A name that is not Unicode could not be found again by its path.
            let plain = kind.is_file() && name.to_str().is_some();
            files.insert(path, if plain { Kind::Foreign } else { Kind::Other });
        }
    }
    Ok(())
}

/// Whether a path names a file below a folder and nothing else.
fn is_plain(path: &str) -> bool {
    !path.is_empty() && Path::new(path).components().all(|part| matches!(part, Component::Normal(_)))
}

fn holds(path: &Path, bytes: &[u8]) -> bool {
    fs::metadata(path).is_ok_and(|metadata| metadata.len() == bytes.len() as u64)
        && fs::read(path).is_ok_and(|found| found == bytes)
}

fn is_there(path: &Path) -> io::Result<bool> {
    match fs::symlink_metadata(path) {
        Ok(_) => Ok(true),
        Err(error) if error.kind() == ErrorKind::NotFound => Ok(false),
        Err(error) => Err(error),
    }
}

/// Removes a folder, file or link, if it is there; never what a link leads to.
fn remove(path: &Path) -> io::Result<()> {
    match fs::symlink_metadata(path) {
        Ok(metadata) if metadata.is_dir() => fs::remove_dir_all(path),
        Ok(_) => fs::remove_file(path),
        Err(error) if error.kind() == ErrorKind::NotFound => Ok(()),
        Err(error) => Err(error),
    }
}

fn write_new(path: &Path, bytes: &[u8]) -> io::Result<()> {
    let mut file = File::create_new(path)?;
    io::Write::write_all(&mut file, bytes)
}

/// Exchanges two names in one step.
#[cfg(any(target_os = "linux", target_vendor = "apple"))]
fn exchange(one: &Path, other: &Path) -> io::Result<()> {
    use rustix::fs::{CWD, RenameFlags, renameat_with};
    Ok(renameat_with(CWD, one, CWD, other, RenameFlags::EXCHANGE)?)
}

/// Exchanges two names in one step: not here.
#[cfg(not(any(target_os = "linux", target_vendor = "apple")))]
fn exchange(_: &Path, _: &Path) -> io::Result<()> {
    Err(ErrorKind::Unsupported.into())
}

#[cfg(test)]
mod tests;
