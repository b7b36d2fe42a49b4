//! Files that are no commission, or one that was damaged on its way: the program names the file, ends as documented,
//! and leaves the packet that was whole before.

use crate::support::Shop;

const SMALL: &str = include_str!("../specs/T-211-windowsill.toml");
const SHOP: &str = include_str!("../specs/shop.toml");
const PATH: &str = "specs/spoiled.toml";

/// A shop whose one commission holds these bytes.
fn shop(bytes: impl AsRef<[u8]>) -> Shop {
    Shop::new().with("specs/shop.toml", SHOP).with(PATH, bytes)
}

/// Texts and bytes in none of which a commission can be read, each with a name.
fn broken() -> Vec<(&'static str, Vec<u8>)> {
    let text = |text: String| text.into_bytes();
    let wide = SMALL.encode_utf16();
    vec![
        ("empty", Vec::new()),
        ("a mark of byte order alone", vec![0xef, 0xbb, 0xbf]),
        ("too long", text(format!("{SMALL}\n# {}", "x".repeat(20 << 20)))),
        ("10,000 arrays deep", text(format!("{SMALL}\n[deep]\nvalue = {}{}", "[".repeat(10_000), "]".repeat(10_000)))),
        ("10,000 tables deep", text(format!("{SMALL}\n[a{}]\n", ".a".repeat(10_000)))),
        ("10,000 inline tables deep", text(format!("{SMALL}\n[deep]\nvalue = {}", "{ a = ".repeat(10_000)))),
        ("binary", (0..4096_u32).map(|at| at.wrapping_mul(0x9e37_79b9).to_be_bytes()[0]).collect()),
        ("UTF-16, low byte first", wide.clone().flat_map(u16::to_le_bytes).collect()),
        ("UTF-16, high byte first", [0xfe, 0xff].into_iter().chain(wide.flat_map(u16::to_be_bytes)).collect()),
        ("carriage returns alone", text(SMALL.replace('\n', "\r"))),
        ("a zero byte", text(SMALL.replacen("title", "ti\0tle", 1))),
        ("a byte that is no text", [SMALL.as_bytes(), b"\n# \xff\n"].concat()),
        ("a key twice", text(SMALL.replacen("[commission]\n", "[commission]\ntitle = \"One\"\n", 1))),
        ("a table twice", text(format!("{SMALL}\n[commission]\n"))),
    ]
}

#[test]
fn a_file_that_is_no_commission_is_an_error_that_names_it() {
    for (name, bytes) in broken() {
        let shop = shop(&bytes);
        let run = shop.run(&["check", PATH, "--format", "short"]);
        assert_eq!(run.status, 1, "{name}: {}{}", run.out, run.err);
        let said = format!("{}{}", run.out, run.err);
        assert!(said.contains(&format!("{PATH}:")) && said.contains("error SPEC-"), "{name}: {said}");
        assert!(said.lines().count() < 60, "{name}: one fault is told in few lines: {said}");
        assert!(said.len() < 20_000, "{name}: and in few words: {} bytes", said.len());
    }
}

#[test]
fn a_commission_cut_off_anywhere_never_breaks_the_program() {
    let mut refused = 0;
    for end in (0..SMALL.len()).step_by(211) {
        let run = shop(&SMALL.as_bytes()[..end]).run(&["check", PATH]);
        assert!(matches!(run.status, 0 | 1), "cut at byte {end}: {}: {}", run.status, run.err);
        if run.status == 1 {
            refused += 1;
            assert!(format!("{}{}", run.out, run.err).contains(PATH), "cut at byte {end}: {}", run.err);
        }
    }
    assert!(refused > 5, "{refused} cuts were refused");
}

#[test]
fn a_broken_file_leaves_the_packet_that_was_whole() {
    let shop = shop(SMALL);
    assert_eq!(shop.run(&["build", PATH]).status, 0);
    let packet = shop.files("packets/T-211");
    let mut seen = 0;
    assert!(packet.iter().any(|(path, _)| path == "packet.pdf"), "a packet was built");
    for (name, bytes) in [
        ("a key of another shop", SMALL.replacen("[scale]\n", "[scale]\nlenght = \"1 m\"\n", 1).into_bytes()),
        ("an absurd scale", SMALL.replacen("[scale]\n", "[scale]\nlength = nan\n", 1).into_bytes()),
    ]
    .into_iter()
    .chain(broken())
    {
        shop.write(PATH, &bytes);
        let run = shop.run(&["build", PATH]);
        assert_eq!(run.status, 1, "{name}: {}{}", run.out, run.err);
        let mut kept = shop.files("packets/T-211");
        let marked = kept.iter().any(|(path, _)| path == "NOT-CURRENT.txt");
        kept.retain(|(path, _)| path != "NOT-CURRENT.txt");
        assert!(kept == packet, "{name}: the last whole packet is kept");
        assert!(marked, "{name}: it is marked, whether or not the number can be read: {run:?}");
        seen += 1;
        // The mark goes, so that the next file has to set its own.
        shop.write(PATH, SMALL);
        assert_eq!(shop.run(&["build", PATH]).status, 0, "{name}: mended");
        assert!(shop.files("packets/T-211") == packet, "{name}: mended, the mark is gone");
    }
    assert!(seen > 10, "{seen} broken files");
    let folders = shop.files("packets").iter().all(|(path, _)| path.starts_with("T-211/"));
    assert!(folders, "nothing else was left behind");
}

#[test]
fn a_folder_without_commissions_and_a_path_that_is_no_file_are_told_apart() {
    let shop = Shop::new().with("notes/a.txt", "no commission").with("folder.toml/b.txt", "none either");
    for arguments in [["check", "notes"], ["build", "notes"]] {
        let run = shop.run(&arguments);
        assert_eq!(run.status, 2, "{arguments:?}: {}", run.err);
        assert!(run.err.contains("notes"), "{arguments:?}: {}", run.err);
    }
    let run = shop.run(&["sheet", "folder.toml", "taper"]);
    assert!(run.status == 2 && run.err.contains("folder.toml"), "{run:?}");
    let run = shop.run(&["check", "gone.toml"]);
    assert!(run.status == 3 && run.err.contains("gone.toml"), "{run:?}");
    assert!(!shop.path("packets").exists(), "nothing was written");
}

/// Found by the fuzz target: a list's header that breaks off in a letter of several bytes was pointed at as far as the
/// middle of that letter.
#[test]
fn a_header_that_breaks_off_in_a_letter_is_pointed_at_whole() {
    let file = "number = 1\n\n[[wood]\u{fffd}\u{fffd}   = \"e\"\n[[wood]é = 1\n[boardé\n";
    for name in ["K.toml", "shop.toml"] {
        let shop = Shop::new().with("K.toml", include_str!("specs/lit-seven.toml")).with(name, file);
        for format in ["human", "short", "json"] {
            let run = shop.run(&["check", "K.toml", "--format", format]);
            assert_eq!(run.status, 1, "{name} {format}: {}", run.err);
            assert!(!run.err.contains("panicked"), "{name} {format}: {}", run.err);
        }
    }
    let mut sources = kerfbook::source::Sources::default();
    let id = sources.add(kerfbook::source::SourceFile::new("shop.toml", file));
    let mut report = kerfbook::diag::Report::default();
    kerfbook::spec::read_shop(&sources, id, &mut report);
    assert!(report.has_errors());
    for finding in report.findings() {
        for label in finding.primary.iter().chain(&finding.related) {
            assert!(file.get(label.span.start..label.span.end).is_some(), "{finding:?}");
        }
    }
}
