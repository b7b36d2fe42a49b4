//! Text of a commission or shop file is data: whatever stands in every free text at once, it comes out as it went in,
//! and steers nothing in any file of the packet.

use std::collections::BTreeSet;
use std::sync::LazyLock;

use kerfbook::packet::{InputFile, Inputs, Options, Packet, Templates, compile};
use kerfbook::source::{SourceFile, Sources};
use kerfbook::spec::leaf::{Leaf, Leaves, Says};
use kerfbook::spec::{read, read_shop};

use crate::support::Shop;

/// Texts that some reader of some file would act on: spreadsheets, browsers, typesetters, template engines, drawing
/// programs, shells, terminals.
const HOSTILE: &[&str] = &[
    "=HYPERLINK(\"file:///etc/passwd\",\"a\")",
    "+1+1",
    "-2+3",
    "@SUM(1,1)",
    "\t=1+1",
    "a\r=1+1",
    "a\n=1+1\n@b",
    "{{ 7 * 191 }}{{ lengths }}",
    "{% for a in range(end=9999) %}x{% endfor %}{% if",
    "{# gone #}{% raw %}",
    "<script>alert(1)</script><img src=x onerror=alert(1)>",
    "</text></svg></title>]]><!-- -->",
    "&amp;&#60;&lt;&nope;&",
    "\" onload=\"x' `y`",
    "**strong** _em_ `code` ~~gone~~ \\",
    "# heading\n\n- item\n\n> quote\n\n---",
    "| a | b |\n|---|---|\n| 1 | 2 |",
    "```table fret-table\n```\n```figure board\n```",
    "[link](javascript:alert(1)) ![picture](x) <http://a>",
    "\\input{secret} $\\frac{a}{b}$ % ~ \\\\",
    "%%c %%d \\P {\\fArial|b1;x} \\S1/2; ^J %<\\AcVar>%",
    "a\n0\nLINE\n8\n0\n",
    "\u{202e}desrever\u{202c}\u{2066}\u{200f}\u{feff}",
    "\u{0}\u{1}\u{7}\u{8}\u{1b}[31m\u{7f}\u{85}\u{9b}",
    "../../../outside",
    "C:\\CON ..",
    "~/$(touch x)`touch y`;|&",
    "e\u{301}\u{301}\u{301}\u{301} \u{1d11e} \u{10ffff} \u{e000} \u{fffd} 漢字",
    "wwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwwww",
];

/// A commission with every free text there is: `§title§` stands for the hostile text and a word of its own, so that
/// what must be different or the same stays so.
const COMMISSION: &str = r#"
[commission]
number = §number§
title = §title§
customer = §customer§
serial = §serial§
drawn_by = §hand§
[scale]
length = "25 1/2 in"
[frets]
count = 24
[wire]
pattern = §wire§
[slots]
blade = §blade§
under_tang = "0.2 mm"
[radius]
board = "16 in"
[taper]
width_nut = "43 mm"
width_end = "57.5 mm"
end_at = "last fret"
past_last = "10 mm"
[board]
wood = §wood§
thickness = "7.2 mm"
blank = { length = "520 mm", width = "66 mm", thickness = "7.8 mm" }
[markers]
kind = "lit"
single = [3, 5, 7]
double = [12, 24]
inset = "2/5 half-width"
side = { dot = "2 mm", depth = "2.5 mm" }
[lamp]
pattern = §lamp§
[channels]
margin = "4 mm"
width = "3 mm"
depth = "2.1 mm"
exit_past = "3.5 mm"
exit_y = "11 mm bass"
exit_hole = "4 mm"
[electronics.lamps]
supply = "9 V"
supply_fresh = "9.6 V"
supply_low = "7 V"
in_series = 3
resistors = "cavity"
resistor_rating = "0.125 W"
switch = §switch§
chemistry = §chemistry§
hookup = "0.7 mm"
hookup_awg = 30
[[electronics.pickup]]
name = §pickup§
kind = §coil§
place = "560 mm"
leads = 4
[[electronics.control]]
name = §volume§
kind = §potentiometer§
taper = §log§
[electronics.output]
kind = §jack§
name = §output§
[strings]
spread_nut = "36 mm"
spread_saddle = "52.5 mm"
set = §set§
[neck]
wood = §neckwood§
[body]
wood = §bodywood§
[[body.pocket]]
name = §pocket§
holds = "pickup"
pickup = §pickup§
face = "front"
x = "560 mm"
y = "0 mm"
length = "90 mm"
width = "40 mm"
depth = "18 mm"
[[body.hole]]
name = §post§
face = "front"
x = "640 mm"
y = "40 mm bass"
diameter = "10 mm"
depth = "20 mm"
[finish]
coats = [{ what = §oil§, where = §where§, grit = 320 }]
[[materials]]
what = §extra§
quantity = 2
unit = §each§
papers = §papers§
[[waiver]]
code = "TAPER-02"
place = §place§
why = §why§
by = §by§
date = "2026-03-14"
[tolerances]
"slot position" = { value = "0.15 mm", why = §reason§ }
"#;

const SHOP: &str = r#"
[shop]
name = §shop§
letterhead = [§street§, §town§]
currency = §coin§
rate = "42.00"
[tools]
saw_depth = "6.5 mm"
blades = [{ name = §blade§, kerf = "0.55 mm" }]
bits = ["2 mm", "3.1 mm", "4 mm", "4.2 mm"]
cutters = ["3 mm"]
radius_blocks = ["16 in"]
[epoxy]
mix = "2 : 1"
pot_life = "25 min"
cure = "24 h"
[[wood]]
id = §wood§
name = §species§
billet = { length = "640 mm", width = "150 mm", thickness = "35 mm" }
price = "92.00"
unit = §billet§
on_shelf = 1
bin = §rack§
[[wood]]
id = §neckwood§
[[wood]]
id = §bodywood§
[[stock]]
id = §wire§
what = §fretwire§
kind = "wire"
crown_width = "2.4 mm"
crown_height = "1.2 mm"
tang_depth = "1.6 mm"
tang_width = "0.52 mm"
barb_width = "0.75 mm"
stick = "600 mm"
unit = §stick§
price = "2.10"
on_shelf = 30
bin = §drawer§
[[stock]]
id = §lamp§
what = §amber§
kind = "lamp"
hole = "3.1 mm"
lens = "3.0 mm"
lens_height = "3.8 mm"
flange = "3.9 mm"
flange_height = "1.0 mm"
lead_bend = "0.8 mm"
counterbore = "4.2 mm"
forward = "2.1 V"
current = "2.5 mA"
max_current = "20 mA"
unit = §piece§
[[stock]]
id = §thing§
kind = §other§
[[strings]]
id = §set§
set = [
  { note = "E4", gauge = "0.010 in", kind = "plain" },
  { note = "B3", gauge = "0.013 in", kind = "plain" },
  { note = "G3", gauge = "0.017 in", kind = "plain" },
  { note = "D3", gauge = "0.026 in", kind = "wound", weight = "2.2 g/m" },
  { note = "A2", gauge = "0.036 in", kind = "wound", weight = "4.2 g/m" },
  { note = "E2", gauge = "0.046 in", kind = "wound", weight = "6.9 g/m" },
]
"#;

/// Where the tables that hold free texts stand in a file; strings of a list by their first.
const TABLES: &[(&str, &str)] = &[
    ("BoardTable", "board"),
    ("CommissionTable", "commission"),
    ("LampCircuitTable", "electronics.lamps"),
    ("PickupTable", "electronics.pickup[1]"),
    ("ControlTable", "electronics.control[1]"),
    ("OutputTable", "electronics.output"),
    ("LampTable", "lamp"),
    ("CoatTable", "finish.coats[1]"),
    ("MaterialTable", "materials[1]"),
    ("WaiverTable", "waiver[1]"),
    ("NeckTable", "neck"),
    ("BodyTable", "body"),
    ("PocketTable", "body.pocket[1]"),
    ("HoleTable", "body.hole[1]"),
    ("ShopTable", "shop"),
    ("BladeTable", "tools.blades[1]"),
    ("WoodTable", "wood[1]"),
    ("ShopStringsTable", "strings[1]"),
    ("WireTable", "wire"),
    ("SlotsTable", "slots"),
];

/// Keys whose text is none of the writer's own words, or that stand elsewhere, and why.
const EXCUSED: &[(&str, &str)] = &[
    ("waiver[1].code", "the code of a check"),
    ("print.templates", "a folder, which only the command line reads"),
    ("print.sheets[1]", "names of sheets"),
];

/// Every key that takes a free text, by the declarations of the tables.
fn free_texts() -> BTreeSet<String> {
    let folder = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("src/spec/tables");
    let mut keys = BTreeSet::new();
    for file in std::fs::read_dir(folder).unwrap() {
        let text = std::fs::read_to_string(file.unwrap().path()).unwrap();
        for table in text.split("table! {").skip(1) {
            let declared = table.lines().map(str::trim).filter(|line| !line.starts_with('/'));
            let mut name = "";
            for line in declared {
                if let Some(own) = line.strip_suffix(" {") {
                    name = own;
                }
                let Some((field, holds)) = line.split_once(':') else { continue };
                if !["String ", "Vec<Entry<String>> "].iter().any(|text| holds.trim_start().starts_with(text)) {
                    continue;
                }
                let key = field.split('"').nth(1).unwrap_or(field);
                let key = if holds.contains("Vec<") { format!("{key}[1]") } else { key.to_owned() };
                let places = match name {
                    "StockRow" => vec!["stock[1]", "stock[3]"],
                    "PrintTable" => vec!["print"],
                    _ => vec![TABLES.iter().find(|(table, _)| *table == name).unwrap_or_else(|| panic!("{name}")).1],
                };
                // One kind of stock is free, the others are words.
                let place = if key == "kind" && name == "StockRow" { places[1] } else { places[0] };
                keys.insert(format!("{place}.{key}"));
            }
        }
    }
    keys
}

fn quoted(text: &str) -> String {
    let mut out = String::from("\"");
    for character in text.chars() {
        match character {
            '"' | '\\' => out.extend(['\\', character]),
            _ if character.is_control() => out.push_str(&format!("\\u{:04x}", u32::from(character))),
            _ => out.push(character),
        }
    }
    out + "\""
}

fn filled(text: &str, hostile: &str) -> String {
    let parts = text.split('§').enumerate();
    parts.map(|(at, part)| if at % 2 == 0 { part.to_owned() } else { quoted(&format!("{hostile} {part}")) }).collect()
}

/// What a reader of the files gets of a text: the reader takes the blanks at its ends away.
fn said(hostile: &str, word: &str) -> String {
    format!("{hostile} {word}").trim().to_owned()
}

fn inputs(hostile: &str) -> Inputs {
    let mut sources = Sources::default();
    let mut input = |name: &str, text: &str| {
        let id = sources.add(SourceFile::new(name, filled(text, hostile)));
        InputFile { id, path: name.to_owned() }
    };
    let (commission, shop) = (input("hostile.toml", COMMISSION), input("shop.toml", SHOP));
    Inputs { sources, commission, shop: Some(shop), issues: None, templates: Templates::default() }
}

/// The packet of each hostile text, made once for all tests.
fn packets() -> &'static [(&'static str, Packet)] {
    static PACKETS: LazyLock<Vec<(&str, Packet)>> = LazyLock::new(|| {
        let packet = |hostile: &&'static str| {
            let compiled = compile(&inputs(hostile), &Options::default());
            assert!(!compiled.report.has_errors(), "{hostile:?}: {:#?}", compiled.report);
            (*hostile, compiled.packet.unwrap())
        };
        HOSTILE.iter().map(packet).collect()
    });
    &PACKETS
}

fn text<'a>(packet: &'a Packet, path: &str) -> &'a str {
    std::str::from_utf8(packet.file(path).unwrap_or_else(|| panic!("no {path}"))).unwrap()
}

#[test]
fn the_sample_has_every_free_text_there_is() {
    let inputs = inputs("hostile");
    let mut report = kerfbook::diag::Report::default();
    let spec = read(&inputs.sources, inputs.commission.id, &mut report);
    let shop = read_shop(&inputs.sources, inputs.shop.as_ref().unwrap().id, &mut report);
    let mut leaves: Vec<Leaf> = Vec::new();
    spec.leaves("", spec.header, &mut leaves);
    shop.leaves("", shop.header, &mut leaves);
    for (index, stock) in shop.stock.iter().filter_map(|entry| entry.value()).flatten().enumerate() {
        stock.row.leaves(&format!("stock[{}]", index + 1), stock.row.header, &mut leaves);
    }
    let is_hostile = |key: &str| {
        leaves
            .iter()
            .any(|leaf| leaf.key == key && matches!(&leaf.says, Says::Words(words) if words.starts_with("hostile ")))
    };
    let keys = free_texts();
    assert!(keys.len() > 45, "{keys:?}");
    let missing: Vec<&String> =
        keys.iter().filter(|key| !is_hostile(key) && !EXCUSED.iter().any(|(excused, _)| excused == key)).collect();
    assert!(missing.is_empty(), "{missing:?}\n{leaves:#?}");
}

#[test]
fn no_cell_of_a_table_is_a_formula() {
    for (hostile, packet) in packets() {
        let mut cells = 0;
        for file in packet.files.iter().filter(|file| file.path.ends_with(".csv")) {
            for row in csv::ReaderBuilder::new().has_headers(false).from_reader(file.bytes.as_slice()).records() {
                for cell in &row.unwrap_or_else(|error| panic!("{} of {hostile:?}: {error}", file.path)) {
                    let acts = cell.starts_with(['=', '+', '-', '@', '\t', '\r', '\n']);
                    assert!(!acts || cell.parse::<f64>().is_ok(), "{} of {hostile:?}: {cell:?}", file.path);
                    cells += usize::from(cell.contains(hostile.trim()));
                }
            }
        }
        assert!(cells > 0, "{hostile:?} stands in some table as it is");
    }
}

#[test]
fn every_drawing_is_sound_xml_and_says_what_was_written() {
    for (hostile, packet) in packets() {
        let drawings: Vec<_> = packet.files.iter().filter(|file| file.path.ends_with(".svg")).collect();
        assert!(drawings.len() > 8);
        for file in drawings {
            for event in xml::EventReader::new(file.bytes.as_slice()) {
                let event = event.unwrap_or_else(|error| panic!("{} of {hostile:?}: {error}", file.path));
                if let xml::reader::XmlEvent::StartElement { name, attributes, .. } = event {
                    let known = ["svg", "title", "desc", "g", "path", "text", "tspan", "rect", "line", "circle"];
                    assert!(known.contains(&name.local_name.as_str()), "{}: <{}>", file.path, name.local_name);
                    let steers = |name: &str| name.starts_with("on") || name == "href";
                    assert!(attributes.iter().all(|one| !steers(&one.name.local_name)), "{}", file.path);
                }
            }
        }
    }
}

#[test]
fn the_sheets_on_the_screen_are_whole_and_nothing_acts() {
    for (hostile, packet) in packets() {
        let file = packet.files.iter().find(|file| file.path == "packet.html").expect("it is part of every packet");
        let text = String::from_utf8(file.bytes.clone()).unwrap();
        crate::html::assert_whole(&text);
        assert!(!text.contains("<!--") && !text.contains('\u{202e}'), "{hostile:?}");
    }
}

#[test]
fn every_plan_keeps_its_groups_whole() {
    for (hostile, packet) in packets() {
        for file in packet.files.iter().filter(|file| file.path.ends_with(".dxf")) {
            let text = String::from_utf8(file.bytes.clone()).unwrap();
            let lines: Vec<&str> = text.lines().collect();
            assert_eq!(lines.len() % 2, 0, "{} of {hostile:?}", file.path);
            for (number, pair) in lines.chunks_exact(2).enumerate() {
                let group = pair[0].trim().parse::<u16>();
                assert!(
                    group.is_ok_and(|group| group <= 1071),
                    "{} of {hostile:?}, group {number}: {pair:?}",
                    file.path
                );
            }
            assert!(dxf::Drawing::load(&mut file.bytes.as_slice()).is_ok(), "{} of {hostile:?}", file.path);
        }
    }
}

#[test]
fn records_give_the_text_back_letter_for_letter() {
    for (hostile, packet) in packets() {
        let record: serde_json::Value = serde_json::from_str(text(packet, "packet.json")).unwrap();
        let mut words = Vec::new();
        gather(&record, &mut words);
        for key in ["number", "title", "customer", "switch", "extra"] {
            let wanted = said(hostile, key);
            assert!(words.contains(&wanted.as_str()), "{key} of {hostile:?}");
        }
        assert!(serde_json::from_str::<serde_json::Value>(text(packet, "manifest.json")).is_ok());
    }
}

fn gather<'a>(value: &'a serde_json::Value, words: &mut Vec<&'a str>) {
    match value {
        serde_json::Value::String(text) => words.push(text),
        serde_json::Value::Array(list) => list.iter().for_each(|one| gather(one, words)),
        serde_json::Value::Object(map) => map.values().for_each(|one| gather(one, words)),
        _ => {}
    }
}

/// What the sheets show of a text: blanks and line ends as one blank, without what has no width and no glyph.
fn letters(text: &str) -> String {
    text.chars().filter(|character| character.is_ascii_graphic()).collect()
}

#[test]
fn sheets_show_the_text_and_run_none_of_it() {
    for (hostile, packet) in packets() {
        let file = crate::pdf::read(packet.file("packet.pdf").unwrap());
        let shown: String = file.pages().iter().map(|page| letters(&crate::pdf::texts(page).concat())).collect();
        for key in ["title", "customer", "switch"] {
            // A title block has room for some sixty signs and cuts what is longer.
            let wanted: String = letters(&said(hostile, key)).chars().take(60).collect();
            assert!(shown.contains(&wanted), "{key} of {hostile:?}: {wanted}");
        }
        assert!(!shown.contains("1337"), "{hostile:?} was worked out");
    }
}

#[test]
fn no_text_leaves_the_folder_it_is_written_to() {
    for hostile in HOSTILE {
        let shop = Shop::new()
            .with("shop/specs/hostile.toml", filled(COMMISSION, hostile))
            .with("shop/specs/shop.toml", filled(SHOP, hostile));
        let run = shop.run(&["build", "shop/specs/hostile.toml", "--out", "shop/packets"]);
        assert_eq!(run.status, 0, "{hostile:?}: {}{}", run.out, run.err);
        let files = shop.files(".");
        let (packet, others): (Vec<_>, Vec<_>) = files.iter().partition(|(path, _)| path.starts_with("shop/packets/"));
        assert_eq!(others.len(), 2, "{hostile:?}: {others:?}");
        assert!(packet.len() > 20, "{hostile:?}");
        let plain = |part: &str| part.chars().all(|sign| sign.is_ascii_alphanumeric() || "-._".contains(sign));
        for (path, _) in packet {
            let parts: Vec<&str> = path.split('/').skip(3).collect();
            assert!(parts.iter().all(|part| plain(part)), "{hostile:?}: {path:?}");
        }
        let steers = |sign: char| (sign.is_control() && sign != '\n') || ('\u{202a}'..='\u{2069}').contains(&sign);
        assert!(!format!("{}{}", run.out, run.err).contains(steers), "{hostile:?} steers the terminal: {:?}", run.out);
    }
}
