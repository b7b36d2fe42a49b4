//! Whole commissions resolved: where each value comes from, and what is not there.

use super::*;
use crate::model::{BoardRadius, Inset, Missing, Origin, Resolved, ResolvedValue, TaperEdges, Why};
use crate::source::{FileId, SourceFile, Sources};
use crate::units::{Length, Share};

/// A lit commission; figures invented.
const LIT: &str = r#"format = 1
[commission]
number = "T-1"
title = "Lit"
[scale]
length = "25 1/2 in"
[frets]
count = 22
[wire]
pattern = "house wire"
crown_height = "1.1 mm"
[slots]
blade = "A"
[radius]
board = "12 in"
[taper]
width_nut = "43 mm"
width_end = "56 mm"
end_at = "fret 22"
[board]
wood = "bog oak"
density = "900 kg/m3"
thickness = "7 mm"
[markers]
kind = "lit"
[lamp]
pattern = "3 mm domed"
forward = "2.9 V"
current = "3 mA"
[channels]
width = "3 mm"
depth = "2 mm"
exit_past = "3 mm"
exit_y = "12 mm bass"
exit_hole = "5 mm"
[electronics.lamps]
supply = "9 V"
supply_fresh = "9.6 V"
supply_low = "7 V"
in_series = 2
resistors = "cavity"
hookup = "0.7 mm"
[strings]
spread_nut = "36 mm"
spread_saddle = "52 mm"
set = "light six"
"#;

const SHOP: &str = r#"[tools]
blades = [{ name = "A", kerf = "0.58 mm" }]
bits = ["3.1 mm", "1/8 in"]
[epoxy]
allowance = "30 %"
[[wood]]
id = "elm"
density = "560 kg/m3"
[[stock]]
id = "house wire"
kind = "wire"
crown_width = "2.4 mm"
crown_height = "1.3 mm"
tang_depth = "1.7 mm"
tang_width = "0.50 mm"
barb_width = "0.75 mm"
[[strings]]
id = "light six"
set = [
  { note = "E4", gauge = "0.010 in", kind = "plain" },
  { note = "E2", gauge = "0.046 in", kind = "wound", weight = "6.8 g/m" },
]
[defaults.channels]
margin = "5 mm"
[defaults.wire]
tang_depth = "9 mm"
stick = "24 in"
[limits]
"CHAN-01" = { warning = "2 mm", why = "soft woods" }
"FRET-01" = { error = ["250 mm", "1 m"], why = "short and long ones" }
"CHAN-06" = { error = "50 %", why = "stiff wire" }
[tolerances]
"slot position" = { value = "0.15 mm", why = "the sled" }
"#;

struct Resolution {
    model: Option<Model>,
    findings: Vec<String>,
}

fn resolution(commission: &str, shop: Option<&str>) -> Resolution {
    let mut sources = Sources::default();
    let file = sources.add(SourceFile::new("test.toml", commission));
    let shop_file = shop.map(|text| sources.add(SourceFile::new("shop.toml", text)));
    let mut report = Report::default();
    let written = spec::read(&sources, file, &mut report);
    let shop = shop_file.map(|file| spec::read_shop(&sources, file, &mut report));
    let model = resolve(&written, shop.as_ref(), &mut report);
    report.sort();
    let line = |finding: &crate::diag::Diagnostic| {
        let span = finding.primary.as_ref().expect("every finding has its place").span;
        let line = sources.range(span).0.line;
        let help: String = finding.help.iter().map(|help| format!(" | {help}")).collect();
        format!("{line} {} {}: {}{help}", finding.code, finding.place, finding.message)
    };
    Resolution { model, findings: report.findings().iter().map(line).collect() }
}

fn sound(commission: &str, shop: Option<&str>) -> Model {
    let Resolution { model, findings } = resolution(commission, shop);
    assert_eq!(findings, Vec::<String>::new());
    model.unwrap()
}

/// The lit commission with one part changed.
fn changed(from: &str, to: &str) -> Resolution {
    assert!(LIT.contains(from), "{from}");
    resolution(&LIT.replacen(from, to, 1), Some(SHOP))
}

fn value<'m>(model: &'m Model, key: &str) -> &'m Resolved {
    let mut found = model.values.iter().filter(|value| value.key == key);
    let value = found.next().unwrap_or_else(|| panic!("{key} is not among the values"));
    assert!(found.next().is_none(), "{key} is there twice");
    value
}

#[test]
fn written_goes_before_pattern_and_pattern_before_the_shops_default() {
    let wire = sound(LIT, Some(SHOP)).wire;
    assert_eq!(wire.crown_height.mm(), Ok(1.1));
    assert!(matches!(wire.crown_height.origin, Origin::Commission(_)));
    assert_eq!(wire.tang_depth.mm(), Ok(1.7), "the commission's own pattern, not the default of 9 mm");
    assert!(matches!(&wire.tang_depth.origin, Origin::ShopRow { id, .. } if id == "house wire"));
    assert_eq!(wire.stick.mm(), Ok(24.0 * 25.4), "the pattern does not say it");
    assert!(matches!(wire.stick.origin, Origin::ShopDefault(span) if span.file == FileId(1)));
    assert_eq!((wire.overhang.mm(), wire.overhang.origin), (Ok(3.0), Origin::BuiltIn));
}

#[test]
fn a_default_size_goes_before_a_default_pattern() {
    let commission = LIT.replace("pattern = \"house wire\"\n", "");
    let shop = SHOP.replace("tang_depth = \"9 mm\"", "pattern = \"house wire\"\ntang_depth = \"1.6 mm\"");
    let wire = sound(&commission, Some(&shop)).wire;
    assert_eq!(wire.tang_depth.mm(), Ok(1.6));
    assert_eq!(wire.tang_width.mm(), Ok(0.5));
}

#[test]
fn the_catalogue_supplies_a_lamp_and_says_so() {
    let lamp = sound(LIT, Some(SHOP)).lamp.unwrap();
    // The row "3 mm domed" of the built-in lamps.
    assert_eq!(lamp.lens_height.mm(), Ok(4.3));
    let catalogue = Origin::Catalogue { table: "lamps", id: "3 mm domed".to_owned() };
    assert_eq!(lamp.lens_height.origin, catalogue);
    assert_eq!(lamp.lens_shape.value, Ok(crate::catalog::LensShape::Domed));
    assert_eq!(lamp.max_current.unwrap().origin, catalogue);
    assert_eq!(lamp.proud.mm(), Ok(0.1));
}

#[test]
fn blade_set_and_wood_come_from_the_shop() {
    let model = sound(LIT, Some(SHOP));
    assert_eq!(model.slots.kerf.mm(), Ok(0.58));
    assert!(matches!(&model.slots.kerf.origin, Origin::ShopRow { id, .. } if id == "A"));
    let set = model.strings.set.get().unwrap();
    assert_eq!(
        set.iter().map(|string| (string.note.as_str(), string.semitone)).collect::<Vec<_>>(),
        [("E4", 64), ("E2", 40)]
    );
    let wood = model.board.wood.get().unwrap();
    assert_eq!((wood.name.as_str(), wood.density.unwrap().to_kilograms_per_cubic_metre()), ("bog oak", 900.0));
    let bit = &model.shop.tools.bits[1];
    assert_eq!((bit.written.as_str(), bit.size), ("1/8 in", Length::inches(0.125)));
    assert_eq!((model.shop.epoxy.mix, model.shop.epoxy.allowance), ((2.0, 1.0), Share::parts(0.3)));
    assert_eq!(model.shop.stock[0].sizes.len(), 5);
}

#[test]
fn the_shops_wood_goes_before_the_catalogues() {
    let shop = format!("{SHOP}[[wood]]\nid = \"wenge\"\nname = \"our wenge\"\n");
    let commission = LIT.replace("wood = \"bog oak\"\ndensity = \"900 kg/m3\"", "wood = \"wenge\"");
    let wood = sound(&commission, Some(&shop)).board.wood.get().unwrap();
    assert_eq!(wood.name, "our wenge");
    assert_eq!(wood.density, crate::catalog::wood("wenge").map(|wood| wood.density), "the rack does not say it");
}

#[test]
fn every_default_used_is_listed_with_its_origin() {
    let model = sound(LIT, Some(SHOP));
    let listed: Vec<(String, ResolvedValue)> = model
        .values
        .iter()
        .filter(|value| value.origin == Origin::BuiltIn)
        .map(|value| (value.key.to_string(), value.value.clone()))
        .collect();
    let words = |key: &str, words: &str| (key.to_owned(), ResolvedValue::Words(words.to_owned()));
    let mm = |key: &str, figure| (key.to_owned(), ResolvedValue::Figure(figure, "mm"));
    let list = |key: &str, frets: &[&str]| {
        (key.to_owned(), ResolvedValue::List(frets.iter().map(|fret| (*fret).to_owned()).collect()))
    };
    assert_eq!(
        listed,
        [
            words("commission.hand", "right"),
            words("commission.sequence", "board first"),
            words("commission.print_in", "mm"),
            words("commission.paper", "a4"),
            ("parts.board".to_owned(), ResolvedValue::Count(1)),
            ("scale.divisions".to_owned(), ResolvedValue::Count(12)),
            words("frets.nut_at", "board end"),
            mm("wire.overhang", 3.0),
            mm("slots.under_tang", 0.2),
            words("slots.cut", "before radiusing"),
            words("slots.setting", "one"),
            mm("slots.skim", 0.0),
            words("slots.method", "stop"),
            mm("taper.past_last", 8.0),
            words("taper.end_cut", "square"),
            mm("board.binding", 0.0),
            list("markers.single", &["3", "5", "7", "9", "15", "17", "19", "21"]),
            list("markers.double", &["12"]),
            words("markers.inset", "1/3 half-width"),
            mm("lamp.proud", 0.1),
            words("lamp.seats", "each"),
            mm("lamp.sand_limit", 0.6),
            words("channels.exit_from", "last fret"),
            words("electronics.lamps.series", "E24"),
            words("strings.spacing", "equal gaps"),
            words("strings.spacing_saddle", "equal centres"),
            words("epoxy.mix", "2 : 1"),
        ]
    );
    assert_eq!(value(&model, "channels.margin").value, ResolvedValue::Figure(5.0, "mm"));
    assert!(matches!(value(&model, "channels.margin").origin, Origin::ShopDefault(_)));
    assert_eq!(value(&model, "wire.tang_depth").value, ResolvedValue::Figure(1.7, "mm"));
    assert!(matches!(value(&model, "strings.set[2].weight").origin, Origin::ShopRow { .. }));
}

#[test]
fn the_usual_markers_follow_size_frets_and_divisions() {
    let lists = |commission: &str| {
        let markers = sound(commission, Some(SHOP)).markers.unwrap();
        (markers.single.get().unwrap(), markers.double.get().unwrap())
    };
    let four = SHOP.replace("id = \"light six\"\nset = [\n", "id = \"light six\"\nset = [\n{ note = \"G4\", gauge = \"0.02 in\", kind = \"nylon\" }, { note = \"C4\", gauge = \"0.03 in\", kind = \"nylon\" },\n");
    let small = LIT.replace("25 1/2 in", "430 mm").replace("count = 22", "count = 15").replace("fret 22", "fret 15");
    let markers = sound(&small, Some(&four)).markers.unwrap();
    assert_eq!((markers.single.get().unwrap(), markers.double.get().unwrap()), (vec![5, 7, 10, 15], vec![12]));
    let (single, double) = lists(&small);
    assert_eq!((single, double), (vec![3, 5, 7, 9, 15], vec![12]), "two strings: not a small four-string");
    let one_written = LIT.replace("kind = \"lit\"", "kind = \"lit\"\ndouble = [12]");
    assert_eq!(lists(&one_written), (vec![], vec![12]));
    let nineteen = LIT.replace("[frets]", "divisions = 19\n[frets]");
    assert_eq!(lists(&nineteen), (vec![], vec![]));
}

#[test]
fn open_stays_open_in_all_that_it_would_supply() {
    let open = LIT
        .replace("\"house wire\"", "\"open\"")
        .replace("blade = \"A\"", "blade = \"open\"")
        .replace("width_end = \"56 mm\"", "width_end = \"open\"")
        .replace("thickness = \"7 mm\"", "thickness = \"open\"\nblank = \"open\"")
        .replace("set = \"light six\"", "set = \"open\"")
        .replace("length = \"25 1/2 in\"", "length = \"open\"");
    let model = sound(&open, Some(SHOP));
    let open = |key| Missing { key, why: Why::Open };
    assert_eq!(model.wire.tang_depth.value, Err(open("wire.pattern")));
    assert_eq!(model.wire.stick.value, Err(open("wire.pattern")), "no default takes the place of open");
    assert_eq!(model.wire.crown_height.mm(), Ok(1.1));
    assert_eq!(model.slots.kerf.value, Err(open("slots.blade")));
    assert_eq!(model.board.thickness.value, Err(open("board.thickness")));
    assert_eq!(model.board.blank_width.unwrap().value, Err(open("board.blank.width")));
    assert_eq!(model.strings.set.get(), Err(open("strings.set")));
    assert_eq!(model.markers.unwrap().single.get(), Err(open("strings.set")));
    let TaperEdges::Widths { end, .. } = model.taper.edges else { panic!("by widths") };
    assert_eq!(end.value, Err(open("taper.width_end")));
    let listed = model.values.iter().filter(|value| value.value == ResolvedValue::Open);
    assert_eq!(
        listed.map(|value| value.key.as_ref()).collect::<Vec<_>>(),
        [
            "scale.length",
            "wire.pattern",
            "slots.blade",
            "taper.width_end",
            "board.thickness",
            "board.blank",
            "strings.set"
        ]
    );
}

#[test]
fn what_cannot_be_read_is_faulty_and_found_once() {
    let Resolution { model, findings } = changed("thickness = \"7 mm\"", "thickness = \"7\"");
    assert_eq!(findings.len(), 1, "{findings:?}");
    let model = model.unwrap();
    assert_eq!(model.board.thickness.value, Err(Missing::faulty("board.thickness")));
    assert_eq!(model.board.binding.mm(), Ok(0.0), "the rest of the table is there");
    let Resolution { model, findings } = changed("[radius]\nboard = \"12 in\"\n", "");
    assert_eq!(findings, ["1 SPEC-02 radius: the table `[radius]` is missing | write `[radius]` and its keys"]);
    assert!(matches!(model.unwrap().radius, crate::model::Radius::One(one) if one.value.is_err()));
    assert!(resolution("", None).model.is_none());
}

#[test]
fn names_that_are_not_there_are_answered_with_the_nearest() {
    let finding = |from: &str, to: &str| {
        let Resolution { findings, .. } = changed(from, to);
        assert_eq!(findings.len(), 1, "{findings:?}");
        findings[0].clone()
    };
    assert_eq!(
        finding("\"house wire\"", "\"hosue wire\""),
        "10 WIRE-09 wire.pattern: \"hosue wire\" is not fret wire of the shop's stock or the catalogue | did you mean \"house wire\"?"
    );
    assert_eq!(
        finding("\"3 mm domed\"", "\"3mm domed\""),
        "27 LAMP-10 lamp.pattern: \"3mm domed\" is not a lamp of the shop's stock or the catalogue | did you mean \"3 mm domed\"?"
    );
    assert_eq!(
        finding("blade = \"A\"", "blade = \"D\""),
        "13 SPEC-19 slots.blade: the shop has no blade \"D\" | did you mean \"A\"?"
    );
    assert_eq!(
        finding("\"light six\"", "\"heavy\""),
        "46 SPEC-19 strings.set: the shop has no set of strings \"heavy\" | there are light six"
    );
    assert_eq!(
        finding("\"fret 22\"", "\"fret 28\""),
        "19 SPEC-19 taper.end_at: `taper.end_at` = \"fret 28\": the last fret is 22 | write \"last fret\", or a fret that is there"
    );
    assert_eq!(
        finding("density = \"900 kg/m3\"\n", ""),
        "21 STOCK-04 board.wood: `board.wood` = \"bog oak\" is not in the catalogue or on the shop's rack, and has no density | write its board.density, as in \"870 kg/m3\", or a wood of the catalogue"
    );
}

#[test]
fn without_a_shop_file_a_blade_is_not_known() {
    let plain = LIT
        .replace("house wire", "medium")
        .replace("set = \"light six\"", "set = [{ note = \"E4\", gauge = \"0.01 in\", kind = \"plain\" }]");
    assert_eq!(
        resolution(&plain, None).findings,
        ["13 SPEC-19 slots.blade: there is no shop file that knows a blade \"A\""]
    );
}

#[test]
fn a_blade_and_a_kerf_that_disagree_are_found_at_the_second() {
    let Resolution { findings, .. } = changed("blade = \"A\"", "kerf = \"0.60 mm\"\nblade = \"A\"");
    assert_eq!(
        findings,
        [
            "14 SPEC-07 slots.blade: `slots.kerf` is 0.60 mm and the blade \"A\" cuts 0.58 mm | keep the kerf that a test cut gave, or the blade"
        ]
    );
    let agreed = changed("blade = \"A\"", "kerf = \"0.58 mm\"\nblade = \"A\"");
    assert_eq!(agreed.findings, Vec::<String>::new());
}

#[test]
fn sizes_that_nobody_says_are_missing() {
    assert_eq!(
        changed("pattern = \"house wire\"\ncrown_height = \"1.1 mm\"\n", "").findings,
        [
            "9 SPEC-02 wire.crown_width: `wire.crown_width` is missing | write it, or a pattern that says it",
            "9 SPEC-02 wire.crown_height: `wire.crown_height` is missing | write it, or a pattern that says it",
            "9 SPEC-02 wire.tang_width: `wire.tang_width` is missing | write it, or a pattern that says it",
            "9 SPEC-02 wire.barb_width: `wire.barb_width` is missing | write it, or a pattern that says it",
        ],
        "the tang's depth is a default of the shop"
    );
    assert_eq!(
        changed("pattern = \"3 mm domed\"\nforward = \"2.9 V\"\ncurrent = \"3 mA\"\n", "").findings,
        [
            "26 SPEC-02 lamp.pattern: `[lamp]` has neither a pattern nor sizes | write pattern = an id of the shop's stock or the catalogue, or hole, lens, lens_height, flange, flange_height, lead_bend, counterbore, forward, current"
        ]
    );
    assert_eq!(
        changed("forward = \"2.9 V\"\n", "").findings,
        ["26 SPEC-02 lamp.forward: `lamp.forward` is missing | the pattern \"3 mm domed\" does not say it"]
    );
}

#[test]
fn an_exit_needs_lamps() {
    let plain = LIT[..LIT.find("[markers]").unwrap()].to_owned() + &LIT[LIT.find("[strings]").unwrap()..];
    let body = "[[body.hole]]\nname = \"wires\"\nface = \"front\"\nx = \"exit\"\ny = \"centre\"\ndiameter = \"6 mm\"\ndepth = \"through\"\n";
    let Resolution { findings, model } = resolution(&format!("{plain}{body}"), Some(SHOP));
    assert_eq!(
        findings,
        [
            "31 SPEC-19 body.hole.x: `body.hole.x` = \"exit\": there are no lamps, so no wires leave the board | write a length from the nut"
        ]
    );
    assert!(model.unwrap().markers.is_none());
    assert!(sound(&format!("{LIT}{body}"), Some(SHOP)).body.unwrap().holes[0].x.value.is_ok());
}

#[test]
fn later_tables_have_their_defaults_in_the_record() {
    let more = "[quote]\ntax = \"19 %\"\n[[body.pocket]]\nname = \"a\"\nholds = \"other\"\nface = \"back\"\nx = \"500 mm\"\ny = \"centre\"\ndiameter = \"30 mm\"\ndepth = \"20 mm\"\n";
    let model = sound(&format!("{LIT}{more}"), Some(SHOP));
    assert_eq!(value(&model, "body.pocket[1].floor_min").value, ResolvedValue::Figure(3.0, "mm"));
    assert_eq!(value(&model, "quote.deposit").origin, Origin::BuiltIn);
    assert!(matches!(value(&model, "quote.tax").origin, Origin::Commission(_)));
}

#[test]
fn limits_come_in_the_unit_of_their_check_shop_first() {
    let own = "[limits]\n\"CHAN-01\" = { error = \"1.2 mm\", why = \"this one is figured\" }\n";
    let model = sound(&format!("{LIT}{own}"), Some(SHOP));
    let shown: Vec<_> =
        model.limits.iter().map(|limit| (limit.code.as_str(), limit.warning, limit.error, limit.span.file)).collect();
    assert_eq!(
        shown,
        [
            ("CHAN-01", Some(2.0), None, FileId(1)),
            ("FRET-01", None, Some(250.0), FileId(1)),
            ("FRET-01", None, Some(1000.0), FileId(1)),
            ("CHAN-06", None, Some(50.0), FileId(1)),
            ("CHAN-01", None, Some(1.2), FileId(0)),
        ]
    );
    assert_eq!((model.tolerances[0].name.as_str(), model.tolerances[0].value), ("slot position", Length::mm(0.15)));
}

#[test]
fn a_cone_a_fan_and_edges_from_the_strings_are_told_apart() {
    let other = LIT
        .replace("length = \"25 1/2 in\"", "bass = \"690 mm\"\ntreble = \"665 mm\"\nsquare_fret = 7")
        .replace("board = \"12 in\"", "nut = \"10 in\"\nend = \"flat\"\nend_at = \"saddle\"")
        .replace(
            "width_nut = \"43 mm\"\nwidth_end = \"56 mm\"\nend_at = \"fret 22\"",
            "string_to_edge_nut = \"3 mm\"\nstring_to_edge_end = \"4 mm\"\nstring_to_edge_end_treble = \"5 mm\"",
        )
        .replace("kind = \"lit\"", "kind = \"lit\"\ninset = \"2/5 half-width\"");
    let model = sound(&other, Some(SHOP));
    assert!(
        matches!(&model.scale.length, crate::model::ScaleLength::Fan { square_fret, .. } if square_fret.value == Ok(7))
    );
    let crate::model::Radius::Cone { end, .. } = &model.radius else { panic!("a cone") };
    assert_eq!(end.value, Ok(BoardRadius::Flat));
    let TaperEdges::FromStrings { nut_treble, end_treble, .. } = &model.taper.edges else { panic!("from the strings") };
    assert_eq!((nut_treble.mm(), end_treble.mm()), (Ok(3.0), Ok(5.0)), "treble as bass where it is not written");
    assert_eq!(model.markers.unwrap().inset.value, Ok(Inset::HalfWidth(0.4)));
}
