//! What the output folder promises, against a real file system.

use tempfile::TempDir;

use super::*;
use crate::packet::PacketFile;

fn packet(files: &[(&str, &str)]) -> Packet {
    let mut list: Vec<_> = files.iter().map(|(path, _)| format!("{{\"path\": \"{path}\"}}")).collect();
    list.sort();
    let manifest = format!("{{\"commission\": \"K-1\", \"files\": [{}]}}", list.join(", "));
    let files = files.iter().copied().chain([(MANIFEST, manifest.as_str())]);
    Packet { files: files.map(|(path, text)| PacketFile { path: path.to_owned(), bytes: text.into() }).collect() }
}

fn shelf(folder: &TempDir) -> Shelf {
    Shelf::open(&folder.path().join("packets"), false).unwrap()
}

/// Everything below the output folder, sorted.
fn lies(folder: &TempDir) -> Vec<String> {
    let mut files = BTreeMap::new();
    list(&folder.path().join("packets"), "", &mut files).unwrap();
    files.into_keys().collect()
}

fn read(folder: &TempDir, path: &str) -> String {
    fs::read_to_string(folder.path().join("packets").join(path)).unwrap()
}

#[test]
fn a_packet_takes_the_place_of_its_last_state_whole() {
    let folder = TempDir::new().unwrap();
    let shelf = shelf(&folder);
    let first = packet(&[("packet.pdf", "one"), ("tables/taper.csv", "t"), ("tables/potting.csv", "p")]);
    assert_eq!(shelf.put("K-1", "K-1", &first), Ok(Put::Written));
    let second = packet(&[("packet.pdf", "two"), ("tables/taper.csv", "t")]);
    assert_eq!(shelf.put("K-1", "K-1", &second), Ok(Put::Written));
    assert_eq!(lies(&folder), ["K-1/manifest.json", "K-1/packet.pdf", "K-1/tables/taper.csv"]);
    assert_eq!(read(&folder, "K-1/packet.pdf"), "two");
}

#[test]
fn an_unchanged_packet_is_left_alone_and_an_unchanged_file_is_linked() {
    let folder = TempDir::new().unwrap();
    let shelf = shelf(&folder);
    let modified = |path: &str| fs::metadata(shelf.place("K-1").join(path)).unwrap().modified().unwrap();
    shelf.put("K-1", "K-1", &packet(&[("packet.pdf", "one"), ("tables/taper.csv", "t")])).unwrap();
    let before = (modified("packet.pdf"), modified("tables/taper.csv"));
    std::thread::sleep(std::time::Duration::from_millis(20));
    let same = packet(&[("packet.pdf", "one"), ("tables/taper.csv", "t")]);
    assert_eq!(shelf.put("K-1", "K-1", &same), Ok(Put::Unchanged));
    assert_eq!((modified("packet.pdf"), modified("tables/taper.csv")), before);
    shelf.put("K-1", "K-1", &packet(&[("packet.pdf", "two"), ("tables/taper.csv", "t")])).unwrap();
    assert_ne!(modified("packet.pdf"), before.0);
    assert_eq!(modified("tables/taper.csv"), before.1);
}

#[test]
fn what_a_killed_run_left_is_healed() {
    let old = packet(&[("packet.pdf", "old")]);
    let new = packet(&[("packet.pdf", "new")]);
    let folder = TempDir::new().unwrap();
    let shelf = shelf(&folder);
    // Killed while writing: half a new packet beside the old one.
    shelf.put("K-1", "K-1", &old).unwrap();
    fs::create_dir_all(shelf.beside("K-1", "new").join("tables")).unwrap();
    assert_eq!(shelf.put("K-1", "K-1", &new), Ok(Put::Written));
    // Killed between two renames: the old packet has lost its name.
    fs::rename(shelf.place("K-1"), shelf.beside("K-1", "old")).unwrap();
    fs::create_dir(shelf.beside("K-1", "new")).unwrap();
    assert_eq!(shelf.holds("K-1", "K-1"), Ok(true), "the last packet is back");
    assert_eq!(read(&folder, "K-1/packet.pdf"), "new");
    // Killed before the old one was taken away.
    fs::create_dir(shelf.beside("K-1", "old")).unwrap();
    assert_eq!(shelf.put("K-1", "K-1", &old), Ok(Put::Written));
    assert_eq!(lies(&folder), ["K-1/manifest.json", "K-1/packet.pdf"]);
}

#[test]
fn without_an_exchange_two_renames_do() {
    let folder = TempDir::new().unwrap();
    let shelf = shelf(&folder);
    shelf.put("K-1", "K-1", &packet(&[("packet.pdf", "old")])).unwrap();
    let fresh = shelf.beside("K-1", "new");
    shelf.write("K-1", &fresh, &packet(&[("packet.pdf", "new")]), &BTreeMap::new()).unwrap();
    shelf.swap_by_renaming("K-1", &fresh).unwrap();
    assert_eq!(lies(&folder), ["K-1/manifest.json", "K-1/packet.pdf"]);
    assert_eq!(read(&folder, "K-1/packet.pdf"), "new");
}

#[test]
fn a_packet_that_is_not_current_says_so_until_the_next_good_one() {
    let folder = TempDir::new().unwrap();
    let shelf = shelf(&folder);
    let good = packet(&[("packet.pdf", "one")]);
    shelf.put("K-1", "K-1", &good).unwrap();
    shelf.mark_not_current("K-1", "because").unwrap();
    assert_eq!(lies(&folder), ["K-1/NOT-CURRENT.txt", "K-1/manifest.json", "K-1/packet.pdf"]);
    assert_eq!(read(&folder, "K-1/NOT-CURRENT.txt"), "because");
    assert_eq!(shelf.put("K-1", "K-1", &good), Ok(Put::Written));
    assert_eq!(lies(&folder), ["K-1/manifest.json", "K-1/packet.pdf"]);
}

#[test]
fn what_somebody_else_put_into_a_packet_stays() {
    let folder = TempDir::new().unwrap();
    let shelf = shelf(&folder);
    shelf.put("K-1", "K-1", &packet(&[("packet.pdf", "one"), ("only.pdf", "o")])).unwrap();
    fs::write(shelf.place("K-1").join("notes.txt"), "mine").unwrap();
    shelf.put("K-1", "K-1", &packet(&[("packet.pdf", "two")])).unwrap();
    assert_eq!(lies(&folder), ["K-1/manifest.json", "K-1/notes.txt", "K-1/packet.pdf"]);
    assert_eq!(read(&folder, "K-1/notes.txt"), "mine");
}

#[test]
fn a_folder_that_is_no_packet_of_this_commission_is_not_replaced() {
    let folder = TempDir::new().unwrap();
    let first = shelf(&folder);
    fs::create_dir(first.place("K-1")).unwrap();
    fs::write(first.place("K-1").join("precious.txt"), "mine").unwrap();
    let good = packet(&[("packet.pdf", "one")]);
    let fault = first.put("K-1", "K-1", &good).unwrap_err();
    assert!(fault.0.contains("a folder lies there that is not a packet"), "{}", fault.0);
    assert_eq!(lies(&folder), ["K-1/precious.txt"]);
    assert_eq!(first.holds("K-1", "K-1"), Ok(false));
    drop(first);
    let forced = Shelf::open(&folder.path().join("packets"), true).unwrap();
    assert_eq!(forced.put("K-1", "K-1", &good), Ok(Put::Written));
    assert_eq!(lies(&folder), ["K-1/manifest.json", "K-1/packet.pdf"]);
    drop(forced);
    let fault = shelf(&folder).put("K-1", "K:1", &good).unwrap_err();
    assert!(fault.0.contains("the packet of `K-1` lies there"), "{}", fault.0);
}

#[cfg(unix)]
#[test]
fn links_are_not_followed_out_of_the_folder() {
    use std::os::unix::fs::symlink;

    let folder = TempDir::new().unwrap();
    let outside = folder.path().join("outside");
    fs::create_dir(&outside).unwrap();
    fs::write(outside.join("precious.txt"), "mine").unwrap();
    let shelf = shelf(&folder);
    let good = packet(&[("packet.pdf", "one"), ("tables/taper.csv", "t")]);

    symlink(&outside, shelf.place("K-1")).unwrap();
    assert!(shelf.put("K-1", "K-1", &good).is_err(), "a link in the packet's place");
    fs::remove_file(shelf.place("K-1")).unwrap();

    symlink(&outside, shelf.beside("K-1", "new")).unwrap();
    symlink(&outside, shelf.beside("K-1", "old")).unwrap();
    assert_eq!(shelf.put("K-1", "K-1", &good), Ok(Put::Written), "links beside it");
    assert_eq!(fs::read_to_string(outside.join("precious.txt")).unwrap(), "mine");
    fs::remove_dir_all(shelf.place("K-1").join("tables")).unwrap();
    symlink(&outside, shelf.place("K-1").join("tables")).unwrap();
    assert!(shelf.put("K-1", "K-1", &good).is_err(), "a link in the packet");
    let forced = Shelf { folder: shelf.folder.clone(), force: true, _lock: None };
    assert_eq!(forced.put("K-1", "K-1", &good), Ok(Put::Written));
    assert_eq!(fs::read_dir(&outside).unwrap().count(), 1);
    assert_eq!(fs::read_to_string(outside.join("precious.txt")).unwrap(), "mine");
}

#[test]
fn a_packet_that_cannot_be_written_whole_leaves_the_last_one_whole() {
    let folder = TempDir::new().unwrap();
    let shelf = shelf(&folder);
    shelf.put("K-1", "K-1", &packet(&[("packet.pdf", "one")])).unwrap();
    // No system takes a file name this long: the write fails after packet.pdf has been written.
    let unwritable = "x".repeat(5000);
    let fault = shelf.put("K-1", "K-1", &packet(&[("packet.pdf", "two"), (&unwritable, "")])).unwrap_err();
    assert!(fault.0.contains("K-1: the packet cannot be written"), "{}", fault.0);
    assert_eq!(lies(&folder), ["K-1/manifest.json", "K-1/packet.pdf"], "nothing half is left either");
    assert_eq!(read(&folder, "K-1/packet.pdf"), "one");
}

#[test]
fn an_output_folder_that_is_a_file_is_refused() {
    let folder = TempDir::new().unwrap();
    let file = folder.path().join("packets");
    fs::write(&file, "mine").unwrap();
    let fault = Shelf::open(&file, false).unwrap_err();
    assert!(fault.0.contains("packets: the output folder cannot be made"), "{}", fault.0);
    assert_eq!(fs::read_to_string(&file).unwrap(), "mine");
}

#[test]
fn a_second_run_waits_for_the_first() {
    let folder = TempDir::new().unwrap();
    let first = shelf(&folder);
    let place = folder.path().join("packets");
    if File::open(&place).is_ok_and(|file| matches!(file.try_lock(), Err(TryLockError::WouldBlock))) {
        let waiting = std::thread::spawn(move || Shelf::open(&place, false).is_ok());
        std::thread::sleep(std::time::Duration::from_millis(30));
        assert!(!waiting.is_finished());
        drop(first);
        assert!(waiting.join().unwrap());
    }
}
