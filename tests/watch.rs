//! `watch` from outside: each save is built, whatever way an editor saves.

use std::fs;
use std::io::{BufRead, BufReader};
use std::process::{Child, Command, Stdio};
use std::sync::mpsc::{Receiver, channel};
use std::time::Duration;

use crate::support::Shop;

const PLAIN: &str = include_str!("../src/diag/pages/_plain.toml");

/// Longer than any build takes on a busy machine.
const PATIENCE: Duration = Duration::from_secs(60);

/// A running watch and the lines it says; ended when dropped.
struct Watching {
    child: Child,
    lines: Receiver<String>,
}

impl Watching {
    fn of(shop: &Shop) -> Self {
        let mut child = Command::new(env!("CARGO_BIN_EXE_kerfbook"))
            .args(["watch", "specs"])
            .current_dir(shop.path("."))
            .stdin(Stdio::null())
            .stdout(Stdio::piped())
            .stderr(Stdio::null())
            .spawn()
            .unwrap();
        let out = child.stdout.take().unwrap();
        let (send, lines) = channel();
        std::thread::spawn(move || {
            for line in BufReader::new(out).lines().map_while(Result::ok) {
                if send.send(line).is_err() {
                    break;
                }
            }
        });
        Self { child, lines }
    }

    /// The next line that holds a word.
    fn next_with(&self, word: &str) -> String {
        loop {
            let line = self.lines.recv_timeout(PATIENCE).unwrap_or_else(|_| panic!("no line with `{word}` came"));
            if line.contains(word) {
                return line;
            }
        }
    }
}

impl Drop for Watching {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

#[test]
fn each_save_is_built_however_it_is_saved() {
    let shop = Shop::new().with("specs/a.toml", PLAIN);
    let watching = Watching::of(&shop);
    watching.next_with("packets/");
    let edited = |thickness: &str| PLAIN.replace("thickness = \"6.5 mm\"", &format!("thickness = \"{thickness}\""));
    // In place.
    shop.write("specs/a.toml", edited("6.6 mm"));
    assert!(!watching.next_with("packets/").contains("unchanged"));
    // By renaming a new file.
    shop.write("specs/a.toml~", edited("6.8 mm"));
    fs::rename(shop.path("specs/a.toml~"), shop.path("specs/a.toml")).unwrap();
    watching.next_with("packets/");
    // Removed and written anew.
    fs::remove_file(shop.path("specs/a.toml")).unwrap();
    std::thread::sleep(Duration::from_millis(50));
    shop.write("specs/a.toml", edited("7 mm"));
    watching.next_with("packets/");
    // Half a file, for long enough to be seen; then the whole.
    let whole = edited("7.2 mm");
    shop.write("specs/a.toml", &whole[..whole.len() / 2]);
    watching.next_with("not built");
    shop.write("specs/a.toml", &whole);
    watching.next_with("packets/");
    let record = shop.files("packets").into_iter().find(|(name, _)| name.ends_with("packet.json")).unwrap().1;
    let record: serde_json::Value = serde_json::from_slice(&record).unwrap();
    assert_eq!(record["values"]["board.thickness_mm"], 7.2);
    // The shop file counts as much.
    shop.write("specs/shop.toml", "[defaults.taper]\npast_last = \"9 mm\"\n");
    watching.next_with("packets/");
}
