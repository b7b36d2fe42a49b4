//! What a helper reads first on the pages of a whole packet: cautions, cards that are cut apart, page numbers. And what
//! somebody hears who has the pages read aloud.

use hayro_syntax::object::{Dict, Name, Object};

use crate::pdf;
use crate::support::Shop;

/// The lit demo commission's packet as a file.
fn packet() -> Vec<u8> {
    packet_of("T-204-lantern-street.toml")
}

/// A demo commission's packet as a file.
fn packet_of(name: &str) -> Vec<u8> {
    let from = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("specs");
    let mut shop = Shop::new();
    for file in ["shop.toml", name] {
        shop = shop.with(file, std::fs::read(from.join(file)).unwrap());
    }
    let run = shop.run(&["build", name]);
    assert_eq!(run.status, 0, "{}", run.err);
    std::fs::read(shop.path(&format!("packets/{}/packet.pdf", &name[..5]))).unwrap()
}

/// The texts of each page.
fn pages(packet: &[u8]) -> Vec<Vec<String>> {
    pdf::read(packet).pages().iter().map(pdf::texts).collect()
}

/// The pages of a sheet by its title, each as one text.
fn sheet(pages: &[Vec<String>], title: &str) -> Vec<String> {
    // Only the mark of a draft, hand and number are written before it.
    let own = pages.iter().filter(|page| page.iter().take(9).any(|text| text == title));
    own.map(|page| page.join("\n")).collect()
}

#[test]
fn every_page_tells_its_place_in_the_packet_and_every_card_whose_it_is() {
    let pages = pages(&packet());
    for (index, page) in pages.iter().enumerate() {
        let told = format!("T-204 · packet page {} of {}", index + 1, pages.len());
        assert!(page.contains(&told), "{told}: {page:?}");
    }
    let cards = sheet(&pages, "Set-up cards").join("\n");
    let marks = cards.matches("T-204 · RIGHT-HANDED · DRAFT").count();
    let (feet, bits) = (cards.matches(" · stamp ").count(), cards.matches("BIT for").count());
    assert!(marks > 8 && marks == feet, "{marks} marks, {feet} feet");
    // Lens, side dot, counterbore; each stop beside its bit.
    assert_eq!(bits, 3, "{cards}");
    assert_eq!(cards.matches("STOP for side dot").count(), 1, "{cards}");
}

#[test]
fn the_caution_stands_before_the_first_number() {
    let pages = pages(&packet());
    for (title, caution, number) in [
        ("Slot depth", "Glasses on", "Set the blade to"),
        ("Drilling chart", "glasses on", "BIT for"),
        ("Lamp seats", "mask on", "STOP A"),
        ("Routing map", "glasses on", "DEPTH, from the back"),
        ("Potting", "No skin contact", "Part A, resin"),
    ] {
        let page = sheet(&pages, title).remove(0).replace('\n', " ");
        let place = |words: &str| page.find(words).unwrap_or_else(|| panic!("{title}: {words} in {page}"));
        assert!(place(caution) < place(number), "{title}");
    }
}

/// Sheets are handed out one by one: whoever has this one must see what it does not say yet.
#[test]
fn what_is_not_decided_stands_on_each_sheet_that_leaves_something_out() {
    let pages = pages(&packet_of("T-207-ferry-bell.toml"));
    let told = |title: &str| sheet(&pages, title).join("\n");
    for title in ["Slot depth", "Taper", "Drilling chart", "Radius", "Sign-off", "Set-up cards"] {
        let text = told(title);
        assert!(text.contains("OPEN") && text.contains("board.thickness"), "{title}: {text}");
        assert!(text.replace('\u{a0}', " ").contains("step 3, the rod's slot"), "{title}: {text}");
    }
    for title in ["Fret table", "Fret wire"] {
        assert!(!told(title).contains("board.thickness"), "{title} leaves nothing out");
    }
    // Their steps come after the one that waits: nobody is to take a printed setting for leave to cut.
    for title in ["Slot depth", "Drilling chart", "Radius", "Set-up cards", "Materials list"] {
        assert!(told(title).contains("WAIT"), "{title}");
    }
    assert!(told("Set-up cards").contains("WAIT for board.thickness"));
    assert!(!told("Fret table").contains("WAIT"));
    let radius = told("Radius");
    assert!(radius.contains("Do not start") && !radius.contains("80 grit"), "{radius}");
    assert!(told("Drilling chart").contains("NOT YET"), "side dots without a height");
}

#[test]
fn a_slanted_end_is_told_where_it_meets_the_planed_edges() {
    let pages = pages(&packet_of("T-215-breakwater.toml"));
    let taper = sheet(&pages, "Taper").remove(0).replace('\n', " ");
    // By hand: the end crosses the centreline at 536.37 and slants as the last fret does, 13.29°: half widths of 37.33
    // and 37.04 mm times its tangent, 0.2362, are 8.82 and 8.75.
    for place in ["545.18", "527.62", "only scribe"] {
        assert!(taper.contains(place), "{place}: {taper}");
    }
    let held = sheet(&pages, "Taper").join(" ").replace('\n', " ");
    assert!(held.contains("before the end is cut"), "{held}");
    let wire = sheet(&pages, "Fret wire").remove(0);
    assert!(wire.contains("388.90") && wire.contains("482.68"), "each fret's own bend: {wire}");
}

/// Levelling a flat board takes from its slots; nothing else would notice.
#[test]
fn a_flat_board_is_measured_again_once_its_face_is_levelled() {
    let pages = pages(&packet_of("T-211-windowsill.toml"));
    let told = |title: &str| sheet(&pages, title).join(" ").replace(['\n', '\u{a0}'], " ");
    // The setting, 1.50, less the tang of 1.30 and a tenth.
    assert!(told("Slot depth").contains("takes no more than 0.10 mm"), "{}", told("Slot depth"));
    let signed = told("Sign-off");
    assert!(signed.contains("slot left after levelling the face 1.50 1.40 or more"), "{signed}");
    assert!(!told("Fret wire").contains("bent"), "a straight wire is not bent");
}

#[test]
fn partial_frets_stay_out_of_the_sled() {
    let pages = pages(&packet_of("T-224-nineteen-bells.toml"));
    let told = |title: &str| sheet(&pages, title).join(" ").replace(['\n', '\u{a0}'], " ");
    assert!(told("Slot depth").contains("Frets 32 to 34 are partial"));
    let cards = told("Set-up cards");
    assert!(cards.contains("frets 1 to 34 (32 to 34 by hand, not in the sled)"), "{cards}");
    // The last straight slot, fret 31 at 440.22.
    assert!(cards.contains("stop strip") && cards.contains("last 439.95"), "{cards}");
    let radius = told("Radius");
    assert!(radius.contains("fret 31, slot left after radiusing at the taper lines"), "{radius}");
}

/// The hole of the wires is the neck's: bored through the board's face it would be a hole in the finished instrument.
#[test]
fn the_wires_exit_is_never_bored_through_the_boards_face() {
    let pages = pages(&packet());
    let chart = sheet(&pages, "Drilling chart").join("\n");
    assert!(chart.contains("neck only, never the board"), "{chart}");
    let map = sheet(&pages, "Routing map").join("\n").replace('\n', " ");
    assert!(map.contains("Piece 14") && map.contains("never bore through its face"), "{map}");
}

/// ISO 32000-1, 14.8.5.7: a table's heading cells say whether they head a column or a row.
#[test]
fn columns_and_rows_of_tables_have_their_headings() {
    let bytes = packet();
    let file = pdf::read(&bytes);
    let word = |dict: &Dict<'_>, key: &str| {
        dict.get::<Name<'_>>(key.as_bytes()).map(|name| name.as_str().to_owned()).unwrap_or_default()
    };
    let (mut columns, mut rows, mut figures) = (0, 0, 0);
    for object in file.objects() {
        let Object::Dict(dict) = object else { continue };
        match word(&dict, "S").as_str() {
            "TH" => {
                let scope = word(&dict.get::<Dict<'_>>(b"A".as_slice()).unwrap(), "Scope");
                assert!(scope == "Column" || scope == "Row", "{scope}");
                if scope == "Row" { rows += 1 } else { columns += 1 }
            }
            "Figure" => {
                assert!(dict.get::<hayro_syntax::object::String<'_>>(b"Alt".as_slice()).is_some());
                figures += 1;
            }
            _ => {}
        }
    }
    assert!(columns > 100 && rows > 100 && figures > 8, "{columns} columns, {rows} rows, {figures} figures");
}
