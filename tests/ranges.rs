//! The allowed range of a length, held against the checks themselves: just inside nothing is found, just outside
//! the check that is named.

use kerfbook::checks::range::{self, Bound, DIMENSIONS, Dimension, Range};
use kerfbook::checks::{self, Bench};
use kerfbook::design::Design;
use kerfbook::diag::{Code, Report, codes};
use kerfbook::model::{Model, resolve};
use kerfbook::source::{SourceFile, Sources};
use kerfbook::spec;

/// How far beside a bound is tried, in millimetres.
const BESIDE: f64 = 1e-6;

fn model(commission: &str, shop: Option<&str>) -> Model {
    let mut sources = Sources::default();
    let mut report = Report::default();
    let id = sources.add(SourceFile::new("commission.toml", commission));
    let written = spec::read(&sources, id, &mut report);
    let shop = shop.map(|text| {
        let id = sources.add(SourceFile::new("shop.toml", text));
        spec::read_shop(&sources, id, &mut report)
    });
    resolve::resolve(&written, shop.as_ref(), &mut report).expect("an instrument")
}

fn lit_seven() -> Model {
    model(include_str!("specs/lit-seven.toml"), None)
}

fn dimension(key: &str) -> Dimension {
    *DIMENSIONS.iter().find(|dimension| dimension.key == key).unwrap()
}

/// The demo commissions with their shop.
fn demos() -> Vec<(String, Model)> {
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/specs");
    let read = |path: &std::path::Path| std::fs::read_to_string(path).unwrap();
    let mut paths: Vec<_> = std::fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path()).collect();
    paths.sort();
    let shop = read(&std::path::Path::new(folder).join("shop.toml"));
    let is_commission = |text: &str| text.lines().any(|line| line.trim() == "[commission]");
    let texts = paths.iter().filter(|path| path.is_file()).map(|path| (path.display().to_string(), read(path)));
    texts.filter(|(_, text)| is_commission(text)).map(|(name, text)| (name, model(&text, Some(&shop)))).collect()
}

/// How far a code is inside its limits with another value of a length: to the error, and to the warning or error.
fn slack(model: &Model, key: &str, millimetres: f64, code: Code) -> (f64, f64) {
    let mut trial = model.clone();
    assert!(trial.try_length(key, millimetres), "{key}");
    let design = Design::of(&trial);
    let slack = checks::slack(code, &Bench::new(&trial, &design)).unwrap();
    (slack.error, slack.error.min(slack.warning))
}

/// Every bound of a range: whether it is the error's, which way out of it lies, and the bound.
fn bounds(range: &Range) -> Vec<(bool, f64, Bound)> {
    let ends = [
        (true, -1.0, range.without_error.least),
        (true, 1.0, range.without_error.most),
        (false, -1.0, range.without_warning.least),
        (false, 1.0, range.without_warning.most),
    ];
    ends.into_iter().filter_map(|(error, outward, bound)| Some((error, outward, bound?))).collect()
}

/// Just inside the check passes, just outside it fails.
fn holds_at_its_bounds(name: &str, model: &Model, range: &Range) -> usize {
    let key = range.dimension.key;
    let all = bounds(range);
    for (is_error, outward, bound) in &all {
        let at = |beside: f64| {
            let (error, any) = slack(model, key, bound.millimetres + outward * beside, bound.code);
            if *is_error { error } else { any }
        };
        let what = format!("{name}: {key} at {} by {}", bound.millimetres, bound.code);
        assert!(at(-BESIDE) >= 0.0, "{what}: just inside it fails by {}", -at(-BESIDE));
        assert!(at(BESIDE) < -1e-9, "{what}: just outside it passes by {}", at(BESIDE));
    }
    all.len()
}

#[test]
fn the_worked_thickness_has_its_worked_range() {
    // The range of the thickness as the worked lit seven-string states it, by its own arithmetic, without a source.
    let text = include_str!("specs/lit-seven.toml");
    // A blank thick enough to leave the neck its say; the one on the rack ends the range at its own 8 mm.
    let thicker = text.replacen("thickness = \"8 mm\"", "thickness = \"9 mm\"", 1);
    assert_ne!(text, thicker);
    let range = range::of(&model(&thicker, None), dimension("board.thickness")).unwrap();
    let near = |bound: Option<Bound>, millimetres: f64, code: Code| {
        let bound = bound.unwrap();
        assert_eq!(bound.code, code);
        assert!((bound.millimetres - millimetres).abs() < 0.000_051, "{} for {millimetres}", bound.millimetres);
    };
    near(range.without_error.least, 6.5383, codes::CHAN_01);
    near(range.without_warning.least, 7.0383, codes::CHAN_01);
    near(range.without_error.most, 8.3116, codes::NECK_02);
    near(range.without_warning.most, 7.8079, codes::NECK_02);
    assert!(range.without_warning.holds(7.4));
    let on_the_rack = range::of(&lit_seven(), dimension("board.thickness")).unwrap();
    near(on_the_rack.without_error.most, 8.0, codes::STOCK_01);
}

#[test]
fn every_bound_of_every_demo_passes_just_inside_and_fails_just_outside() {
    let mut tried = 0;
    for (name, model) in demos().into_iter().chain([("lit-seven".to_owned(), lit_seven())]) {
        for range in DIMENSIONS.iter().filter_map(|dimension| range::of(&model, *dimension)) {
            tried += holds_at_its_bounds(&name, &model, &range);
        }
    }
    assert!(tried > 40, "{tried} bounds");
}

#[test]
fn bounds_hold_from_whichever_side_they_are_sought() {
    // From a board far too thin, one far too thick, and one between, the same range is found.
    let model = lit_seven();
    let expected = range::of(&model, dimension("board.thickness")).unwrap();
    for thickness in [6.0, 6.6, 7.9, 9.0, 12.0] {
        let mut other = model.clone();
        other.try_length("board.thickness", thickness);
        let range = range::of(&other, dimension("board.thickness")).unwrap();
        holds_at_its_bounds(&format!("from {thickness}"), &other, &range);
        for ((_, _, one), (_, _, two)) in bounds(&expected).iter().zip(bounds(&range)) {
            assert!((one.millimetres - two.millimetres).abs() < 1e-6, "from {thickness}: {one:?} and {two:?}");
            assert_eq!(one.code, two.code, "from {thickness}");
        }
    }
}

#[test]
fn a_range_that_is_empty_is_told_once_with_what_opens_it() {
    let mut tight = lit_seven();
    // Deep channels ask for a thick board, which the rod's corner does not allow.
    tight.try_length("channels.depth", 3.2);
    let range = range::of(&tight, dimension("board.thickness")).unwrap();
    assert!(range.without_warning.is_empty(), "{range:?}");
    let design = Design::of(&tight);
    let findings = checks::run(&tight, &design).findings;
    let told: Vec<&String> =
        findings.iter().flat_map(|finding| &finding.help).filter(|help| help.contains("no board.thickness")).collect();
    let [told] = told.as_slice() else { panic!("{told:?}") };
    assert!(told.contains("CHAN-01 asks for 8.04 mm") && told.contains("NECK-02 for 7.80 mm"), "{told}");
    assert!(told.contains("what opens it: "), "{told}");
}

#[test]
fn a_length_that_is_open_has_no_range() {
    let text = include_str!("specs/lit-seven.toml");
    let line = text.lines().find(|line| line.starts_with("thickness ") || line.starts_with("thickness=")).unwrap();
    let open = model(&text.replacen(line, "thickness = \"open\"", 1), None);
    assert_eq!(range::of(&open, dimension("board.thickness")), None);
}
