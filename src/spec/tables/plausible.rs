//! What a length of each key can plausibly be, in millimetres: to tell when somebody wrote the wrong unit.
//!
//! Wide on purpose: a full-size bass and the smallest four-string both lie inside. What is outside may still be meant;
//! only when the same figure in the other unit lies inside, or of what is far outside the figure with its point moved, is
//! anything said. Common practice, no source. A length that
//! may be nothing at all counts from zero, or from the least that is not nothing.

/// Key, least and most.
const PLAUSIBLE: &[(&str, f64, f64)] = &[
    ("scale.length", 250.0, 1100.0),
    ("scale.bass", 250.0, 1100.0),
    ("scale.treble", 250.0, 1100.0),
    ("frets.behind_nut", 2.0, 80.0),
    ("wire.crown_width", 0.8, 4.5),
    ("wire.crown_height", 0.4, 2.5),
    ("wire.tang_depth", 0.7, 4.0),
    ("wire.tang_width", 0.25, 1.1),
    ("wire.barb_width", 0.3, 1.6),
    ("wire.overhang", 0.0, 20.0),
    ("wire.stick", 45.0, 3000.0),
    ("slots.kerf", 0.25, 1.5),
    ("slots.under_tang", 0.0, 2.0),
    ("slots.skim", 0.0, 2.0),
    ("radius.board", 110.0, 2500.0),
    ("radius.nut", 110.0, 2500.0),
    ("radius.end", 110.0, 2500.0),
    ("radius.end_at", 50.0, 1100.0),
    ("taper.width_nut", 20.0, 110.0),
    ("taper.width_end", 25.0, 140.0),
    ("taper.end_at", 50.0, 1100.0),
    ("taper.string_to_edge_nut", 0.8, 15.0),
    ("taper.string_to_edge_end", 0.8, 15.0),
    ("taper.string_to_edge_nut_treble", 0.8, 15.0),
    ("taper.string_to_edge_end_treble", 0.8, 15.0),
    ("taper.past_last", 1.0, 100.0),
    ("board.thickness", 2.0, 15.0),
    ("board.blank.length", 150.0, 1500.0),
    ("board.blank.width", 30.0, 300.0),
    ("board.blank.thickness", 2.0, 30.0),
    ("board.binding", 0.3, 8.0),
    ("board.tang_gap", 0.02, 3.0),
    ("markers.inset", 2.0, 60.0),
    ("markers.dot", 0.8, 15.0),
    ("markers.dot_depth", 0.5, 8.0),
    ("markers.side.dot", 0.5, 6.0),
    ("markers.side.depth", 0.5, 12.0),
    ("lamp.hole", 0.8, 12.0),
    ("lamp.lens", 0.8, 12.0),
    ("lamp.lens_height", 0.8, 15.0),
    ("lamp.flange", 0.8, 15.0),
    ("lamp.flange_height", 0.15, 6.0),
    ("lamp.lead_bend", 0.15, 8.0),
    ("lamp.counterbore", 1.0, 20.0),
    ("lamp.proud", 0.01, 1.0),
    ("lamp.sand_limit", 0.05, 2.0),
    ("channels.margin", 1.0, 25.0),
    ("channels.width", 0.5, 15.0),
    ("channels.depth", 0.4, 10.0),
    ("channels.exit_past", 0.8, 80.0),
    ("channels.exit_y", 0.0, 70.0),
    ("channels.exit_hole", 1.0, 20.0),
    ("electronics.lamps.hookup", 0.15, 4.0),
    ("electronics.pickup.place", 50.0, 1300.0),
    ("strings.spread_nut", 15.0, 100.0),
    ("strings.spread_saddle", 20.0, 150.0),
    ("strings.set.gauge", 0.12, 5.0),
    ("setup.action_1.treble", 0.05, 2.5),
    ("setup.action_1.bass", 0.05, 2.5),
    ("setup.action_12.treble", 0.3, 8.0),
    ("setup.action_12.bass", 0.3, 8.0),
    ("setup.relief", 0.01, 1.5),
    ("setup.saddle_travel", 0.8, 40.0),
    ("setup.bridge_height", 0.8, 80.0),
    ("neck.rod_width", 1.5, 20.0),
    ("neck.rod_depth", 2.0, 25.0),
    ("neck.rod_length", 80.0, 1000.0),
    ("neck.rod_end_gap", 0.0, 150.0),
    ("neck.thickness_1", 8.0, 45.0),
    ("neck.thickness_12", 8.0, 50.0),
    ("neck.heel_thickness", 4.0, 120.0),
    ("neck.pocket_width", 25.0, 140.0),
    ("neck.screws.x", 50.0, 1300.0),
    ("neck.screws.y", 0.0, 70.0),
    ("neck.screws.diameter", 1.0, 15.0),
    ("neck.screws.depth", 2.0, 120.0),
    ("body.thickness", 10.0, 200.0),
    ("body.pocket.x", 50.0, 1500.0),
    ("body.pocket.y", 0.0, 300.0),
    ("body.pocket.length", 4.0, 500.0),
    ("body.pocket.width", 4.0, 400.0),
    ("body.pocket.diameter", 4.0, 300.0),
    ("body.pocket.corner", 0.5, 60.0),
    ("body.pocket.depth", 0.8, 180.0),
    ("body.pocket.floor_min", 0.5, 60.0),
    ("body.hole.x", 50.0, 1500.0),
    ("body.hole.y", 0.0, 300.0),
    ("body.hole.diameter", 0.8, 80.0),
    ("body.hole.depth", 0.8, 500.0),
    ("tools.saw_depth", 1.0, 80.0),
    ("tools.blades.kerf", 0.25, 1.5),
    ("tools.bits", 0.3, 60.0),
    ("tools.cutters", 0.4, 80.0),
    ("tools.cutter_reach", 2.0, 150.0),
    ("tools.radius_blocks", 110.0, 2500.0),
    ("tools.billet_saw", 0.3, 10.0),
    ("epoxy.pour_depth", 0.8, 100.0),
    ("wood.billet.length", 100.0, 4000.0),
    ("wood.billet.width", 25.0, 1000.0),
    ("wood.billet.thickness", 4.0, 200.0),
    ("print.bar_measured.x", 80.0, 120.0),
    ("print.bar_measured.y", 80.0, 120.0),
];

/// The table whose keys each size of the stock has, by the stock's key.
const STOCK: &[&str] = &["wire", "lamp", "electronics.lamps"];

/// The least and the most that a length of a key can plausibly be, in millimetres.
///
/// The key as a message writes it: `strings.set[3].gauge`, also of the shop file: `defaults.channels.width`,
/// `stock[2].tang_depth`.
pub(crate) fn plausible(key: &str) -> Option<(f64, f64)> {
    let whole: String = key.split('[').map(|part| part.split_once(']').map_or(part, |(_, rest)| rest)).collect();
    let key = whole.strip_prefix("defaults.").unwrap_or(&whole);
    let of = |key: &str| PLAUSIBLE.iter().find(|(own, ..)| *own == key).map(|(_, least, most)| (*least, *most));
    match key.strip_prefix("stock.") {
        Some(size) => STOCK.iter().find_map(|table| of(&format!("{table}.{size}"))),
        None => of(key),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::diag::Report;
    use crate::source::{SourceFile, Sources};
    use crate::spec::leaf::{Leaf, Leaves, Says};

    #[test]
    fn every_length_of_both_files_has_its_range() {
        let mut sources = Sources::default();
        let mut leaves: Vec<Leaf> = Vec::new();
        let mut report = Report::default();
        let every = sources.add(SourceFile::new("a.toml", include_str!("../tests/every-key.toml")));
        let spec = crate::spec::read(&sources, every, &mut report);
        let every = sources.add(SourceFile::new("shop.toml", include_str!("../tests/every-shop-key.toml")));
        let shop = crate::spec::read_shop(&sources, every, &mut report);
        let span = spec.header;
        spec.leaves("", span, &mut leaves);
        shop.leaves("", span, &mut leaves);
        let lengths = leaves.iter().filter(|leaf| match &leaf.says {
            Says::Figure(_, unit) => *unit == "mm",
            Says::Words(words) => words.ends_with(" bass") || words.ends_with(" treble"),
            _ => false,
        });
        let mut held = 0;
        for leaf in lengths {
            assert!(plausible(&leaf.key).is_some(), "{}", leaf.key);
            held += 1;
        }
        assert!(held > 90, "{held}");
    }

    #[test]
    fn each_key_stands_once_with_its_least_under_its_most() {
        for (index, (key, least, most)) in PLAUSIBLE.iter().enumerate() {
            assert!(least < most, "{key}");
            assert!(PLAUSIBLE[..index].iter().all(|(other, ..)| other != key), "{key} stands twice");
        }
    }

    #[test]
    fn a_key_is_found_by_the_name_that_a_message_gives_it() {
        assert_eq!(plausible("strings.set[3].gauge"), plausible("strings.set.gauge"));
        assert_eq!(plausible("strings[2].set[3].gauge"), plausible("strings.set.gauge"));
        assert_eq!(plausible("defaults.channels.width"), plausible("channels.width"));
        assert_eq!(plausible("stock[1].tang_depth"), plausible("wire.tang_depth"));
        assert_eq!(plausible("stock[1].hookup"), plausible("electronics.lamps.hookup"));
        assert!(plausible("stock[1].hookup").is_some());
        assert_eq!(plausible("markers.kind"), None);
        assert_eq!(plausible("[]]["), None);
    }
}
