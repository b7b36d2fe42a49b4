//! What waits for which value, and the step of the work before which it must be known: one declared table.
//!
//! The steps are those of the order of work, board first and neck first. A test opens each key in turn and holds
//! the table against what the sheets then leave out.

use crate::model::{Model, ResolvedValue};
use crate::spec::words::Sequence;

/// One row: a key, or all keys of a table that begin alike.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Need {
    /// The key, or its beginning when it ends in a dot.
    pub key: &'static str,
    /// The step that cannot start while it is open, board first.
    pub before: &'static str,
    /// The same, neck first.
    pub before_neck_first: &'static str,
    /// The sheets that leave something out, with what they leave out.
    pub waits: &'static [(&'static str, &'static str)],
}

/// An open value as the cover lists it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct OpenValue {
    /// The key.
    pub key: String,
    /// What waits for it, in words.
    pub waits: String,
    /// The step before which it must be known.
    pub before: &'static str,
}

/// Sheets that only a lit instrument has.
const LIT_ONLY: &[&str] = &["lamp-seats", "routing-map", "wiring", "potting"];

const EVERY_PLACE: &[(&str, &str)] = &[
    ("fret-table", "the whole sheet"),
    ("slot-depth", "the whole sheet"),
    ("taper", "the whole sheet"),
    ("drilling-chart", "the whole sheet"),
    ("lamp-seats", "the whole sheet"),
    ("routing-map", "the whole sheet"),
    ("potting", "the whole sheet"),
    ("fret-wire", "the whole sheet"),
];
const EDGES: &[(&str, &str)] = &[
    ("fret-table", "widths, slot ends"),
    ("slot-depth", "the whole sheet"),
    ("taper", "widths"),
    ("drilling-chart", "pairs, clear distances"),
    ("lamp-seats", "pairs"),
    ("routing-map", "the whole sheet"),
    ("potting", "the whole sheet"),
    ("fret-wire", "the whole sheet"),
];
const RADIUS: &[(&str, &str)] = &[
    ("slot-depth", "depths with a straight bottom"),
    ("taper", "edge heights"),
    ("lamp-seats", "the whole sheet"),
    ("potting", "the whole sheet"),
    ("radius", "the whole sheet"),
    ("fret-wire", "bends"),
];
const LAMP: &[(&str, &str)] = &[("lamp-seats", "seats or what they leave"), ("potting", "the whole sheet")];
const CHANNELS: &[(&str, &str)] =
    &[("slot-depth", "wood to the channel"), ("routing-map", "the whole sheet"), ("potting", "the whole sheet")];
const CIRCUIT: &[(&str, &str)] = &[("wiring", "resistors and currents")];

const fn need(
    key: &'static str,
    before: &'static str,
    before_neck_first: &'static str,
    waits: &'static [(&'static str, &'static str)],
) -> Need {
    Need { key, before, before_neck_first, waits }
}

/// The table. A key that is not in it holds nothing back on the sheets of this edition.
pub const NEEDS: &[Need] = &[
    need("scale.", "slots", "rod-slot", EVERY_PLACE),
    need(
        "frets.partial",
        "slots",
        "slots",
        &[("slot-depth", "depths"), ("fret-wire", "pieces"), ("fret-table", "slot ends")],
    ),
    need(
        "frets.behind_nut",
        "nut-end",
        "neck-taper",
        &[("fret-table", "distances from the squared end"), ("taper", "places from the squared end")],
    ),
    need("wire.tang_depth", "slots", "slots", &[("slot-depth", "the whole sheet")]),
    need("wire.tang_width", "test-cut", "test-cut", &[("slot-depth", "the wedge")]),
    need("wire.barb_width", "test-cut", "test-cut", &[("slot-depth", "the grip")]),
    need("wire.", "fret", "fret", &[("fret-wire", "pieces")]),
    need("slots.under_tang", "slots", "slots", &[("slot-depth", "the whole sheet")]),
    need("slots.skim", "back", "back", &[("slot-depth", "the whole sheet")]),
    need("slots.", "test-cut", "test-cut", &[("fret-table", "the stop"), ("drilling-chart", "clear distances")]),
    need("radius.", "slots", "slots", RADIUS),
    need("taper.past_last", "slots", "rod-slot", EDGES),
    need("taper.", "slots", "neck-taper", EDGES),
    need(
        "board.thickness",
        "back",
        "rod-slot",
        &[
            ("slot-depth", "wood under, wood to the channel"),
            ("taper", "edge heights"),
            ("lamp-seats", "the whole sheet"),
            ("potting", "the whole sheet"),
            ("radius", "edge heights"),
        ],
    ),
    need("board.binding", "slots", "neck-taper", &[("slot-depth", "the whole sheet"), ("fret-wire", "tangs")]),
    need("board.tang_gap", "fret", "fret", &[("fret-wire", "tangs")]),
    need(
        "board.blank.width",
        "billet",
        "billet",
        &[("fret-table", "marks on the blank"), ("radius", "heights at the blank's edge")],
    ),
    need("board.", "billet", "billet", &[("materials-list", "the blank")]),
    need(
        "markers.single",
        "layout",
        "layout",
        &[
            ("drilling-chart", "the whole sheet"),
            ("lamp-seats", "the whole sheet"),
            ("routing-map", "the whole sheet"),
            ("wiring", "the whole sheet"),
            ("potting", "the whole sheet"),
        ],
    ),
    need(
        "markers.double",
        "layout",
        "layout",
        &[
            ("drilling-chart", "the whole sheet"),
            ("lamp-seats", "the whole sheet"),
            ("routing-map", "the whole sheet"),
            ("wiring", "the whole sheet"),
            ("potting", "the whole sheet"),
        ],
    ),
    need(
        "markers.inset",
        "layout",
        "layout",
        &[("drilling-chart", "pairs"), ("lamp-seats", "pairs"), ("potting", "the whole sheet")],
    ),
    need("markers.side", "side-dots", "side-dots", &[("drilling-chart", "side dots")]),
    need("markers.", "drill", "drill", &[("drilling-chart", "diameters, depths, clear distances")]),
    need("lamp.hole", "drill", "drill", &[("drilling-chart", "diameters, clear distances")]),
    need("lamp.forward", "dry-test", "dry-test", CIRCUIT),
    need("lamp.current", "dry-test", "dry-test", CIRCUIT),
    need("lamp.", "seats", "seats", LAMP),
    need(
        "channels.depth",
        "channels",
        "channels",
        &[("slot-depth", "wood to the channel"), ("routing-map", "fill"), ("potting", "the whole sheet")],
    ),
    need("channels.exit_", "channels", "rod-slot", CHANNELS),
    need("channels.", "channels", "channels", CHANNELS),
    need(
        "electronics.lamps.hookup",
        "channels",
        "channels",
        &[("routing-map", "fill"), ("potting", "the whole sheet")],
    ),
    need("electronics.lamps.capacity", "hand-over", "hand-over", &[("wiring", "hours")]),
    need("electronics.lamps.", "dry-test", "dry-test", CIRCUIT),
    need("strings.spread_", "set-up", "set-up", &[("taper", "string to edge")]),
    need("strings.", "set-up", "set-up", &[]),
    need("neck.rod_", "neck", "rod-slot", &[("routing-map", "the rod band")]),
    need("neck.screws", "neck", "heel", &[("drilling-chart", "screws")]),
];

/// The row that covers a key: the longest that fits.
pub fn need_of(key: &str) -> Option<&'static Need> {
    NEEDS
        .iter()
        .filter(
            |need| if need.key.ends_with(['.', '_']) { key.starts_with(need.key) } else { is_or_is_in(key, need.key) },
        )
        .max_by_key(|need| need.key.len())
}

fn is_or_is_in(key: &str, whole: &str) -> bool {
    key.strip_prefix(whole).is_some_and(|rest| rest.is_empty() || rest.starts_with(['.', '[']))
}

/// The commission's open values in its own order, each with what waits for it.
pub fn open_values(model: &Model) -> Vec<OpenValue> {
    let neck_first = model.commission.sequence.get() == Ok(Sequence::NeckFirst);
    model
        .values
        .iter()
        .filter(|resolved| resolved.value == ResolvedValue::Open)
        .map(|resolved| {
            let need = need_of(&resolved.key);
            let waits = need.map_or_else(String::new, |need| {
                let here = need.waits.iter().filter(|(sheet, _)| model.lamp.is_some() || !LIT_ONLY.contains(sheet));
                here.map(|(sheet, what)| format!("{sheet}: {what}")).collect::<Vec<_>>().join("; ")
            });
            let before = need.map_or("hand-over", |need| if neck_first { need.before_neck_first } else { need.before });
            let waits = if waits.is_empty() { "nothing on these sheets".to_owned() } else { waits };
            OpenValue { key: resolved.key.to_string(), waits, before }
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_longest_row_that_fits_wins() {
        assert_eq!(need_of("wire.tang_depth").unwrap().key, "wire.tang_depth");
        assert_eq!(need_of("wire.stick").unwrap().key, "wire.");
        assert_eq!(need_of("markers.side.dot").unwrap().key, "markers.side");
        assert_eq!(need_of("channels.exit_y").unwrap().key, "channels.exit_");
        assert!(need_of("finish.coats").is_none());
    }
}
