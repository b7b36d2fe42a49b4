//! The full-size patterns of a packet as printed: right to a thousandth, proved by bars, and by which stamps they hold.

use kerfbook::packet::Packet;
use kerfbook::packet::{InputFile, Inputs, Options, Templates, compile};
use kerfbook::source::{SourceFile, Sources};
use kurbo::Point;

use super::mirror::{packet, rows};
use super::{pdf, tiles};

/// The packet of a commission with the demo shop, changed.
fn changed(commission: &str, shop: impl Fn(&str) -> String) -> Packet {
    let mut sources = Sources::default();
    let mut input =
        |path: &str, text: String| InputFile { id: sources.add(SourceFile::new(path, text)), path: path.to_owned() };
    let commission = input("commission.toml", commission.to_owned());
    let shop = input("shop.toml", shop(include_str!("../specs/shop.toml")));
    let inputs = Inputs { sources, commission, shop: Some(shop), issues: None, templates: Templates::default() };
    let compiled = compile(&inputs, &Options::default());
    compiled.packet.unwrap_or_else(|| panic!("{:?}", compiled.report))
}

/// The words of each page in one line.
fn words(packet: &Packet, path: &str) -> Vec<String> {
    let file = pdf::read(packet.file(path).unwrap());
    let page = |page: &_| pdf::texts(page).join(" ").replace('\u{a0}', " ");
    file.pages().iter().map(page).collect()
}

/// How far up the page the level lines of some length lie, millimetres, each once.
fn heights(lines: &[(Point, Point)], at_least: f64) -> Vec<f64> {
    let is_level =
        |(one, other): &&(Point, Point)| (one.y - other.y).abs() < 1e-6 && (one.x - other.x).abs() > at_least;
    let mut heights: Vec<f64> = lines.iter().filter(is_level).map(|(one, _)| one.y).collect();
    heights.sort_by(f64::total_cmp);
    heights.dedup_by(|one, other| (*one - *other).abs() < 1e-4);
    heights
}

#[test]
fn slots_are_as_far_apart_on_paper_as_the_fret_table_says() {
    // Right-handed on A4, bound and in inches on Letter, left-handed: a straight scale, so that slots lie level on a
    // tile that is turned up the page.
    for name in ["T-204-lantern-street.toml", "T-218-short-crossing.toml", "T-221-other-hand.toml"] {
        let packet = packet(name, if name.starts_with("T-221") { "left" } else { "right" });
        let frets: Vec<f64> =
            rows(&packet, "tables/fret-table.csv").iter().map(|row| row["from_nut_mm"].parse().unwrap()).collect();
        let pages = tiles::lines(packet.file("full-size.pdf").unwrap());
        let mut seen = vec![false; frets.len()];
        for (page, words) in pages.iter().zip(words(&packet, "full-size.pdf")).skip(1) {
            if !words.contains("Face · tile") {
                continue;
            }
            let heights = heights(page, 25.0);
            let has = |y: f64| heights.iter().any(|height| (height - y).abs() < 0.001);
            // Where x = 0 would lie on this page: a slot's two sides are level lines, and so must be all those of the
            // tile at their distances. What fits most slots is the tile's place.
            let zeros = heights.iter().flat_map(|height| frets.iter().map(move |x| height - x));
            let fits = |zero: f64| {
                let sides = |x: f64| [-1.0, 1.0].map(|side| zero + x + side * 0.55 / 2.0);
                frets.iter().map(|x| sides(*x).into_iter().all(has)).collect::<Vec<bool>>()
            };
            let count = |fit: &Vec<bool>| fit.iter().filter(|is| **is).count();
            let half = 0.55 / 2.0;
            let best = zeros.flat_map(|zero| [fits(zero - half), fits(zero + half)]).max_by_key(count).unwrap();
            if count(&best) < 3 {
                // A tile of the blank beyond the last slot.
                continue;
            }
            seen.iter_mut().zip(best).for_each(|(seen, is)| *seen |= is);
        }
        let missing: Vec<usize> = (0..seen.len()).filter(|index| !seen[*index]).collect();
        assert!(missing.is_empty(), "{name}: rows {missing:?} of the fret table are on no tile at their place");
    }
}

#[test]
fn the_first_page_says_in_numbers_why_paper_is_not_for_slots() {
    // Worked by hand: 0.3 % of 509.43 mm to fret 25 of 666.75 mm is 1.5283 mm; 1200 log2 of the sounding length over
    // the same less that is 16.90 cents.
    let packet = changed(include_str!("specs/lit-seven.toml"), str::to_owned);
    for page in words(&packet, "full-size.pdf") {
        assert!(page.contains("puts fret 25 off by 1.53 mm, 16.9 cents"), "{page}");
    }
}

#[test]
fn every_tile_tells_the_stamps_of_its_sheets_as_the_cover_has_them() {
    let packet = packet("T-204-lantern-street.toml", "right");
    let manifest: serde_json::Value = serde_json::from_slice(packet.file("manifest.json").unwrap()).unwrap();
    let stamp = |id: &str| {
        let sheets = manifest["sheets"].as_array().unwrap();
        let sheet = sheets.iter().find(|sheet| sheet["sheet"] == id).unwrap();
        format!("{id} {}", sheet["stamp"].as_str().unwrap())
    };
    let pages = words(&packet, "full-size.pdf");
    let mut tiles = 0;
    for (title, sheets) in [
        ("Face · tile", ["fret-table", "taper", "drilling-chart"].as_slice()),
        ("Taper · tile", &["taper"]),
        ("BACK · tile", &["drilling-chart", "lamp-seats", "routing-map"]),
    ] {
        for page in pages.iter().filter(|page| page.contains(title)) {
            let page = page.split_whitespace().collect::<Vec<_>>().join(" ");
            let plain = |text: String| text.split_whitespace().collect::<Vec<_>>().join(" ");
            assert!(page.contains("DRAFT") && page.contains("Right-handed".to_uppercase().as_str()), "{title}");
            for sheet in sheets {
                assert!(page.contains(&plain(stamp(sheet))), "{title} lacks {}: {page}", stamp(sheet));
            }
            tiles += 1;
        }
    }
    assert!(tiles >= 9, "{tiles}");
    let roll = words(&packet, "full-size-roll.pdf");
    assert_eq!(roll.len(), 1);
    assert!(roll[0].contains(&stamp("routing-map").replace('\u{a0}', " ")), "{roll:?}");
}

#[test]
fn a_measured_printer_is_corrected_and_the_print_says_so() {
    let spec = include_str!("../specs/T-204-lantern-street.toml");
    let bars = "\n[print]\nbar_measured = { x = \"99.5 mm\", y = \"100.4 mm\" }\n";
    let corrected = changed(spec, |shop| format!("{shop}{bars}"));
    let usual = changed(spec, str::to_owned);
    let lines = |packet: &Packet| tiles::lines(packet.file("full-size.pdf").unwrap());
    let (corrected_lines, usual_lines) = (lines(&corrected), lines(&usual));
    let bar = |pages: &[Vec<(Point, Point)>], length: f64| {
        let long = |x: f64| (x.abs() - length).abs() < 0.001;
        let level =
            pages.last().unwrap().iter().any(|(one, other)| long(one.x - other.x) && (one.y - other.y).abs() < 1e-6);
        let upright =
            pages.last().unwrap().iter().any(|(one, other)| long(one.y - other.y) && (one.x - other.x).abs() < 1e-6);
        (level, upright)
    };
    assert_eq!(bar(&usual_lines, 100.0), (true, true));
    assert_eq!(bar(&corrected_lines, 100.0 * 100.0 / 99.5), (true, false));
    assert_eq!(bar(&corrected_lines, 100.0 * 100.0 / 100.4), (false, true));
    assert!(
        words(&corrected, "full-size.pdf")
            .last()
            .unwrap()
            .contains("stretched for this printer: x × 1.00503, y × 0.99602")
    );
    // The sheets are no patterns: they stay as they are.
    assert_eq!(corrected.file("packet.pdf"), usual.file("packet.pdf"));
}

#[test]
fn tiles_count_from_the_squared_end_as_the_fret_table_does() {
    // On the fan the squared end lies 15.86 mm before the zero line.
    for (name, count_in) in [("T-215-breakwater.toml", "mm"), ("T-218-short-crossing.toml", "in")] {
        let packet = packet(name, "right");
        let rows = rows(&packet, "tables/fret-table.csv");
        let figure = |row: &std::collections::BTreeMap<String, String>, key: &str| row[key].parse::<f64>().unwrap();
        let squared_end = figure(&rows[0], "from_nut_mm") - figure(&rows[0], "from_end_mm");
        assert!(squared_end < -3.0, "{name}");
        let pages = words(&packet, "full-size.pdf");
        let tiles: Vec<&String> = pages.iter().filter(|page| page.contains("Face · tile")).collect();
        assert!(tiles.len() >= 3, "{name}");
        let first = if count_in == "mm" { "0.0 … " } else { "0.00 … " };
        assert!(tiles[0].contains(&format!(" · {first}")), "{name}: {}", tiles[0]);
        for tile in tiles {
            assert!(tile.contains(&format!("{count_in} from the squared end")) && !tile.contains("from the zero line"));
        }
    }
    // The last slot of a straight board lies on paper at its table's figure from the ruler's own beginning.
    let packet = packet("T-218-short-crossing.toml", "right");
    let rows = rows(&packet, "tables/fret-table.csv");
    let from_end = rows[1]["from_end_mm"].parse::<f64>().unwrap();
    let lines = tiles::lines(packet.file("full-size.pdf").unwrap());
    let page = words(&packet, "full-size.pdf").iter().position(|page| page.contains("Face · tile 1 of")).unwrap();
    // Ticks are level, 3 mm where they carry a figure, and an inch apart; the lowest is the ruler's 0.
    let ticks: Vec<f64> = lines[page]
        .iter()
        .filter(|(one, other)| (one.y - other.y).abs() < 1e-6 && ((one.x - other.x).abs() - 3.0).abs() < 0.001)
        .map(|(one, _)| one.y)
        .collect();
    let zero = ticks.iter().copied().fold(f64::INFINITY, f64::min);
    let wall = |side: f64| {
        let at = zero + from_end + side * 0.55 / 2.0;
        heights(&lines[page], 25.0).iter().any(|height| (height - at).abs() < 0.001)
    };
    assert!(ticks.len() >= 4 && wall(-1.0) && wall(1.0), "{ticks:?} {from_end}");
}

/// The exit is a circle on the board's back that is bored in the neck alone: a nameless one invites the bit.
#[test]
fn the_wires_exit_is_never_drawn_without_its_name() {
    for name in ["T-204-lantern-street.toml", "T-215-breakwater.toml", "T-221-other-hand.toml"] {
        for hand in ["right", "left"] {
            let back = words(&packet(name, hand), "full-size.pdf");
            let named = back.iter().filter(|page| page.contains("BACK · tile") && page.contains("NECK ONLY")).count();
            assert!(named > 0, "{name}, {hand}: no tile of the back names the exit");
        }
    }
}
