//! Building whole packets with the program: what lies in the folder afterwards, whatever happened before.

use std::collections::BTreeSet;
use std::fs;
use std::path::Path;
use std::process::{Command, Stdio};
use std::time::Duration;

use sha2::{Digest, Sha256};

use crate::support::Shop;

/// Three of the demo shop's commissions and its shop file, below `specs/`: a lit one, an open one, a flat one.
fn demo() -> Shop {
    let shop = Shop::new();
    for entry in fs::read_dir(Path::new(env!("CARGO_MANIFEST_DIR")).join("specs")).unwrap() {
        let path = entry.unwrap().path();
        let name = path.file_name().unwrap().to_str().unwrap();
        if name == "shop.toml" || NUMBERS.iter().any(|number| name.starts_with(number)) {
            shop.write(&format!("specs/{name}"), fs::read(&path).unwrap());
        }
    }
    shop
}

/// Their numbers.
const NUMBERS: [&str; 3] = ["T-204", "T-207", "T-211"];

/// The file of a number.
fn spec(shop: &Shop, number: &str) -> String {
    let mut names: Vec<_> = shop.files("specs").into_iter().map(|(name, _)| name).collect();
    names.retain(|name| name.starts_with(number));
    assert_eq!(names.len(), 1, "{number}");
    format!("specs/{}", names[0])
}

/// Whether what lies there is a whole packet: every file of the manifest with its digest, and no other.
fn assert_whole(packet: &Path) {
    let manifest: serde_json::Value = serde_json::from_slice(&fs::read(packet.join("manifest.json")).unwrap()).unwrap();
    let files = manifest["files"].as_array().unwrap();
    assert!(files.iter().any(|file| file["path"] == "packet.pdf"), "{}", packet.display());
    for file in files {
        let bytes = fs::read(packet.join(file["path"].as_str().unwrap())).unwrap();
        let digest: String = Sha256::digest(&bytes).iter().map(|byte| format!("{byte:02x}")).collect();
        assert!(file["digest"].as_str().unwrap().contains(&digest), "{}: {file}", packet.display());
    }
}

#[test]
fn a_folder_of_commissions_becomes_a_folder_of_packets() {
    let shop = demo();
    let run = shop.run(&["build", "specs"]);
    assert_eq!(run.status, 0, "{}", run.err);
    assert_eq!(run.out.lines().count(), NUMBERS.len(), "{}", run.out);
    for number in NUMBERS {
        assert!(run.out.contains(&format!("{}: packets/{number}: ", spec(&shop, number))), "{}", run.out);
        assert_whole(&shop.path("packets").join(number));
        let files: BTreeSet<String> =
            shop.files(&format!("packets/{number}")).into_iter().map(|(name, _)| name).collect();
        for name in ["packet.pdf", "packet.json", "manifest.json", "tables/fret-table.csv", "tables/fret-wire.csv"] {
            assert!(files.contains(name), "{number}: {name}");
        }
        assert!(files.iter().any(|name| name.starts_with("drawings/") && name.ends_with(".svg")), "{number}");
    }
    assert_eq!(fs::read_dir(shop.path("packets")).unwrap().count(), NUMBERS.len(), "and nothing is left beside them");
    assert_eq!(fs::read_dir(shop.path("")).unwrap().count(), 2, "nothing outside is touched");
}

#[test]
fn the_same_bytes_come_out_of_every_run_in_any_order() {
    let shop = demo();
    let files: Vec<String> = NUMBERS.iter().rev().map(|number| spec(&shop, number)).collect();
    shop.run(&["build", "specs", "--out", "first"]);
    let mut arguments = vec!["build", "--out", "second"];
    arguments.extend(files.iter().map(String::as_str));
    shop.run(&arguments);
    for number in NUMBERS {
        shop.run(&["build", &spec(&shop, number), "--out", "third"]);
    }
    let first = shop.files("first");
    assert!(first.len() > 30);
    assert!(first == shop.files("second"), "the order of the command line");
    assert!(first == shop.files("third"), "one by one");
}

#[test]
fn an_unchanged_packet_is_not_touched() {
    let shop = demo();
    shop.run(&["build", "specs"]);
    let modified = || fs::metadata(shop.path("packets/T-204/packet.pdf")).unwrap().modified().unwrap();
    let before = modified();
    std::thread::sleep(Duration::from_millis(20));
    let run = shop.run(&["build", "specs"]);
    assert_eq!(run.out.matches(" files, unchanged").count(), NUMBERS.len(), "{}", run.out);
    assert_eq!(modified(), before);
}

#[test]
fn errors_in_one_commission_stop_only_that_one() {
    let shop = demo();
    shop.run(&["build", "specs"]);
    let (broken, good) = (spec(&shop, "T-204"), spec(&shop, "T-211"));
    let text = fs::read_to_string(shop.path(&broken)).unwrap();
    let packet = shop.files("packets/T-204");
    shop.write(&broken, text.replace("[scale]\n", "[scale]\nlenght = \"1 m\"\n"));
    let other = fs::read_to_string(shop.path(&good)).unwrap();
    shop.write(&good, other.replace("title    = \"", "title    = \"New "));

    let run = shop.run(&["build", "specs"]);
    assert_eq!(run.status, 1);
    assert!(run.err.contains("error[SPEC-01]"), "{}", run.err);
    assert!(run.err.contains("packets/T-204 IS NOT CURRENT"), "it says so loudly: {}", run.err);
    assert!(run.out.contains(&format!("{broken}: not built: 1 error")), "{}", run.out);
    assert!(run.out.contains(&format!("{good}: packets/T-211: ")), "{}", run.out);
    assert_whole(&shop.path("packets/T-211"));
    let mark = fs::read_to_string(shop.path("packets/T-204/NOT-CURRENT.txt")).unwrap();
    assert!(mark.starts_with("THIS PACKET IS NOT CURRENT") && mark.contains("error SPEC-01: "), "{mark}");
    let mut kept = shop.files("packets/T-204");
    kept.retain(|(name, _)| name != "NOT-CURRENT.txt");
    assert!(kept == packet, "the last whole packet is kept");

    shop.write(&broken, text);
    assert_eq!(shop.run(&["build", "specs"]).status, 0);
    assert!(shop.files("packets/T-204") == packet, "and the mark goes away");
}

#[test]
fn a_commission_that_never_was_right_leaves_no_folder() {
    let shop = demo();
    let broken = spec(&shop, "T-204");
    shop.write(&broken, "[commission]\nnumber = \"T-204\"\n");
    assert_eq!(shop.run(&["build", "specs"]).status, 1);
    assert!(!shop.path("packets/T-204").exists());
    assert_whole(&shop.path("packets/T-207"));
}

#[test]
fn an_output_folder_that_cannot_be_written_is_the_machines_fault() {
    let shop = demo().with("taken", "a file").with("packets/T-207/notes.txt", "not a packet");
    let run = shop.run(&["build", "specs", "--out", "taken"]);
    assert_eq!(run.status, 3);
    assert!(run.err.contains("taken: the output folder cannot be made"), "{}", run.err);
    let run = shop.run(&["build", "specs"]);
    assert_eq!(run.status, 3);
    assert!(run.err.contains("packets/T-207: the packet cannot be written: a folder lies there"), "{}", run.err);
    assert_whole(&shop.path("packets/T-204"));
    assert_eq!(shop.files("packets/T-207").len(), 1);
    assert_eq!(shop.run(&["build", "specs", "--force"]).status, 0);
    assert_whole(&shop.path("packets/T-207"));
}

#[test]
fn a_number_cannot_lead_out_of_the_folder() {
    let shop = demo();
    let file = spec(&shop, "T-204");
    let text = fs::read_to_string(shop.path(&file)).unwrap();
    for (number, folder) in [("../../T-204", "-..-T-204"), ("/T-204", "-T-204"), ("a/../../b", "a-..-..-b")] {
        shop.write(&file, text.replace("\"T-204\"", &format!("\"{number}\"")));
        assert_eq!(shop.run(&["build", &file, "--out", "out/packets"]).status, 0, "{number}");
        assert_whole(&shop.path("out/packets").join(folder));
    }
    assert_eq!(fs::read_dir(shop.path("out")).unwrap().count(), 1);
    assert_eq!(fs::read_dir(shop.path("")).unwrap().count(), 2);
}

#[test]
fn wanted_sheets_come_in_a_file_of_their_own() {
    let shop = demo();
    let file = spec(&shop, "T-204");
    assert_eq!(shop.run(&["build", &file, "--only", "slot-depth,taper"]).status, 0);
    let only = fs::read(shop.path("packets/T-204/only.pdf")).unwrap();
    assert!(only.starts_with(b"%PDF-") && only.len() < fs::read(shop.path("packets/T-204/packet.pdf")).unwrap().len());
    shop.run(&["build", &file]);
    assert!(!shop.path("packets/T-204/only.pdf").exists(), "and goes with the next run");
}

#[test]
fn paper_on_the_command_line_goes_first() {
    let shop = demo();
    let file = spec(&shop, "T-204");
    shop.run(&["build", &file, "--paper", "letter"]);
    let letter = shop.files("packets/T-204");
    assert_eq!(shop.run(&["build", &file]).status, 0);
    let a4 = shop.files("packets/T-204");
    let stays = |files: &[(String, Vec<u8>)]| -> Vec<_> {
        files.iter().filter(|(name, _)| name.starts_with("tables/")).cloned().collect()
    };
    assert!(letter != a4 && stays(&letter) == stays(&a4), "the paper changes, the tables do not");
}

#[test]
fn a_sheet_is_shown_in_every_form() {
    let shop = demo();
    let file = spec(&shop, "T-204");
    let show = |form: &str| {
        let run = shop.run(&["sheet", &file, "fret-table", "--format", form]);
        assert_eq!(run.status, 0, "{form}: {}", run.err);
        run.out
    };
    let csv = show("csv");
    shop.run(&["build", &file]);
    assert_eq!(csv, fs::read_to_string(shop.path("packets/T-204/tables/fret-table.csv")).unwrap());
    let rows: serde_json::Value = serde_json::from_str(&show("json")).unwrap();
    let packet: serde_json::Value =
        serde_json::from_slice(&fs::read(shop.path("packets/T-204/packet.json")).unwrap()).unwrap();
    assert_eq!(rows, packet["tables"]["fret-table"]);
    let table = show("table");
    assert!(table.lines().next().unwrap().trim_start().starts_with("fret"), "{table}");
    assert_eq!(table.lines().count(), csv.lines().count());
    assert!(show("md").starts_with("| fret |"));
}

#[test]
fn a_run_that_is_killed_leaves_whole_packets() {
    let shop = demo();
    let file = spec(&shop, "T-204");
    let text = fs::read_to_string(shop.path(&file)).unwrap();
    assert_eq!(shop.run(&["build", &file]).status, 0);
    for round in 0_u64..24 {
        shop.write(&file, text.replace("Lantern Street", &format!("Lantern Street {round}")));
        let mut child = Command::new(env!("CARGO_BIN_EXE_kerfbook"))
            .args(["build", &file])
            .current_dir(shop.path(""))
            .stdout(Stdio::null())
            .stderr(Stdio::null())
            .spawn()
            .unwrap();
        // From long before the swap to after it, on machines fast and slow.
        std::thread::sleep(Duration::from_millis(round * 12));
        let _ = child.kill();
        child.wait().unwrap();
        let renamed = !shop.path("packets/T-204").exists();
        assert!(!renamed || shop.path("packets/.T-204.old").exists(), "round {round}: the packet is gone");
        if !renamed {
            assert_whole(&shop.path("packets/T-204"));
        }
    }
    assert_eq!(shop.run(&["build", &file]).status, 0);
    assert_whole(&shop.path("packets/T-204"));
    assert_eq!(fs::read_dir(shop.path("packets")).unwrap().count(), 1, "what was left is gone");
}
