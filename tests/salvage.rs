//! After a slip at the bench: what is offered has been tried, and what was cut stays cut.

use kerfbook::packet::salvage::{Change, Cost, changed, ways_out};
use kerfbook::packet::{InputFile, Inputs, Templates, examine};
use kerfbook::source::{SourceFile, Sources};

use crate::support::Shop;

const LIT: &str = include_str!("specs/lit-seven.toml");

fn inputs(text: &str) -> Inputs {
    let mut sources = Sources::default();
    let id = sources.add(SourceFile::new("lit-seven.toml", text));
    Inputs {
        sources,
        commission: InputFile { id, path: "lit-seven.toml".to_owned() },
        shop: None,
        issues: None,
        templates: Templates::default(),
    }
}

/// The commission with a value as it was cut.
fn slipped(key: &str, value: &str) -> (Inputs, Change) {
    let slip = Change::new(key, value);
    (changed(&inputs(LIT), std::slice::from_ref(&slip)), slip)
}

#[test]
fn whatever_is_offered_passes_and_leaves_the_slip_alone() {
    for (key, value) in [
        ("channels.depth", "3.2 mm"),
        ("board.thickness", "6.2 mm"),
        ("lamp.lens_height", "5.6 mm"),
        ("wire.tang_depth", "2.9 mm"),
        ("channels.margin", "2.5 mm"),
        ("radius.board", "4 in"),
    ] {
        let (cut, slip) = slipped(key, value);
        assert!(examine(&cut).report.has_errors(), "{slip}: nothing is wrong");
        let found = ways_out(&cut, std::slice::from_ref(&slip));
        assert!(found.tried > 20, "{slip}: {} tried", found.tried);
        for way in &found.ways {
            assert_ne!(way.change.key, key, "{slip}: what was cut is cut");
            let report = examine(&changed(&cut, std::slice::from_ref(&way.change))).report;
            assert!(!report.has_errors(), "{slip}: {} does not pass: {:?}", way.change, report.findings());
        }
        let order: Vec<(usize, Cost)> = found.ways.iter().map(|way| (way.warnings.len(), way.cost)).collect();
        assert!(order.is_sorted(), "{slip}: {order:?}");
    }
}

#[test]
fn a_channel_cut_too_deep_is_saved_by_a_thicker_board_or_shallower_slots() {
    let (cut, slip) = slipped("channels.depth", "3.2 mm");
    let found = ways_out(&cut, &[slip]);
    let keys: Vec<&str> = found.ways.iter().map(|way| way.change.key.as_str()).collect();
    // 7.4 − 3.3383 − 3.2 leaves 0.86 under the slot. Following the radius the middle keeps its wood.
    for key in ["board.thickness", "slots.cut"] {
        assert!(keys.contains(&key), "{key} is not among {keys:?}");
    }
}

#[test]
fn what_cannot_be_read_offers_nothing() {
    let (cut, slip) = slipped("channels.depth", "deep");
    assert_eq!(ways_out(&cut, &[slip]).tried, 0);
    let (cut, slip) = slipped("channels.dept", "3 mm");
    assert_eq!(ways_out(&cut, &[slip]).tried, 0);
}

#[test]
fn the_command_tells_the_ways_and_touches_no_file() {
    let shop = Shop::new().with("K.toml", LIT);
    let before = shop.files("");
    let run = shop.run(&["check", "K.toml", "--if", "channels.depth=3.2 mm"]);
    assert_eq!(run.status, 1, "{}", run.err);
    assert!(run.out.contains("with channels.depth = 3.2 mm: "), "{}", run.out);
    assert!(run.out.contains("One other change and it passes, the best first;"), "{}", run.out);
    assert!(run.out.contains("fill what was cut"), "{}", run.out);
    assert_eq!(before, shop.files(""));
    let wrong = shop.run(&["check", "K.toml", "--if", "channels.depth"]);
    assert_eq!(wrong.status, 2);
    assert!(wrong.err.contains("write the key, = and the value"), "{}", wrong.err);
}
