//! What waits for which value, and the step of the work before which it must be known: one declared table.
//!
//! The steps are those of the order of work, board first and neck first. A test opens each key in turn and holds
//! the table against what the sheets then leave out.

use crate::model::{Model, ResolvedValue, ScaleLength, TaperEdges};
use crate::spec::words::Sequence;

/// One row: a key, or all keys of a table that begin alike.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Need {
    /// The key, or its beginning when it ends in a dot or an underscore.
    pub key: &'static str,
    /// For which boards the row holds.
    pub when: When,
    /// The step that cannot start while it is open, board first.
    pub before: &'static str,
    /// The same, neck first.
    pub before_neck_first: &'static str,
    /// The sheets that leave something out, with what they leave out.
    pub waits: &'static [(&'static str, &'static str)],
}

/// For which boards a row holds.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum When {
    /// For all that no other row of the key is for.
    Always,
    /// For a fan, whose frets lie on its outer strings.
    Fan,
    /// For a board whose edges follow from the strings.
    EdgesFromStrings,
}

/// An open value as the cover lists it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct OpenValue {
    /// The key.
    pub key: String,
    /// The sheets that leave something out until it is known, with what they leave out.
    pub waits: Vec<(&'static str, &'static str)>,
    /// The step before which it must be known.
    pub before: &'static str,
}

impl OpenValue {
    /// What waits for it, in words.
    pub fn waits_in_words(&self) -> String {
        if self.waits.is_empty() {
            return "nothing on these sheets".to_owned();
        }
        self.waits.iter().map(|(sheet, what)| format!("{sheet}: {what}")).collect::<Vec<_>>().join("; ")
    }

    /// What a sheet that is there leaves out until it is known.
    pub fn left_out_on(&self, sheet: &str) -> Option<&'static str> {
        self.waits.iter().find(|(own, what)| *own == sheet && *what != WHOLE).map(|(_, what)| *what)
    }
}

type Waits = &'static [(&'static str, &'static str)];

/// Sheets that only a lit instrument has.
const LIT_ONLY: &[&str] = &["lamp-seats", "routing-map", "wiring", "potting"];

const WHOLE: &str = "the whole sheet";
const TO_THE_EDGES: &str = "outer strings to the board's edges";

const NOTHING: Waits = &[];
const EVERY_PLACE: Waits = &[
    ("fret-table", WHOLE),
    ("slot-depth", WHOLE),
    ("taper", WHOLE),
    ("drilling-chart", WHOLE),
    ("lamp-seats", WHOLE),
    ("routing-map", WHOLE),
    ("potting", WHOLE),
    ("radius", WHOLE),
    ("fret-wire", WHOLE),
    ("nut-and-saddle", TO_THE_EDGES),
    ("strings", "lengths, tension"),
    ("wiring", "length of wire"),
];
const SPREAD_OF_A_FAN: Waits = &[
    ("fret-table", WHOLE),
    ("slot-depth", WHOLE),
    ("taper", WHOLE),
    ("drilling-chart", WHOLE),
    ("lamp-seats", WHOLE),
    ("routing-map", WHOLE),
    ("potting", WHOLE),
    ("radius", WHOLE),
    ("fret-wire", WHOLE),
    ("nut-and-saddle", WHOLE),
    ("strings", "lengths, tension"),
    ("wiring", "length of wire"),
];
const EDGES: Waits = &[
    ("fret-table", "widths, slot ends"),
    ("slot-depth", WHOLE),
    ("taper", WHOLE),
    ("drilling-chart", "pairs, side dots, clear distances"),
    ("lamp-seats", "pairs"),
    ("routing-map", WHOLE),
    ("potting", WHOLE),
    ("radius", "heights at the taper line"),
    ("fret-wire", WHOLE),
    ("nut-and-saddle", TO_THE_EDGES),
    ("wiring", "length of wire"),
];
const SPREAD_OF_EDGES: Waits = &[
    ("fret-table", "widths, slot ends"),
    ("slot-depth", WHOLE),
    ("taper", WHOLE),
    ("drilling-chart", "pairs, side dots, clear distances"),
    ("lamp-seats", "pairs"),
    ("routing-map", WHOLE),
    ("potting", WHOLE),
    ("radius", "heights at the taper line"),
    ("fret-wire", WHOLE),
    ("nut-and-saddle", WHOLE),
    ("wiring", "length of wire"),
];
const RADIUS: Waits = &[
    ("slot-depth", "depths with a straight bottom"),
    ("taper", "edge heights"),
    ("drilling-chart", "heights of side dots"),
    ("lamp-seats", WHOLE),
    ("potting", WHOLE),
    ("radius", WHOLE),
    ("fret-wire", "bends"),
    ("routing-map", "wood to the slots"),
];
const THICKNESS: Waits = &[
    ("slot-depth", "wood under the slots"),
    ("taper", "edge heights"),
    ("drilling-chart", "heights of side dots"),
    ("lamp-seats", WHOLE),
    ("potting", WHOLE),
    ("radius", "heights"),
    ("routing-map", "wood to the slots"),
];
const BINDING: Waits = &[
    ("fret-table", "slot ends"),
    ("slot-depth", WHOLE),
    ("taper", "widths to plane to"),
    ("drilling-chart", "clear distances"),
    ("radius", "heights at the taper line"),
    ("fret-wire", WHOLE),
];
const MARKED: Waits = &[
    ("slot-depth", "wood to the channel"),
    ("drilling-chart", WHOLE),
    ("lamp-seats", WHOLE),
    ("routing-map", WHOLE),
    ("wiring", WHOLE),
    ("potting", WHOLE),
];
const SEATS: Waits = &[("lamp-seats", WHOLE), ("potting", WHOLE)];
const CHANNELS: Waits = &[
    ("slot-depth", "wood to the channel"),
    ("drilling-chart", "the exit hole"),
    ("routing-map", WHOLE),
    ("wiring", "length of wire"),
    ("potting", WHOLE),
];
const CHANNEL_DEPTH: Waits =
    &[("slot-depth", "wood to the channel"), ("routing-map", "fill, wood to the slots"), ("potting", WHOLE)];
const DEPTH: Waits = &[("slot-depth", WHOLE), ("routing-map", "wood to the slots")];
const CIRCUIT: Waits = &[("wiring", WHOLE)];

const fn need(key: &'static str, before: &'static str, before_neck_first: &'static str, waits: Waits) -> Need {
    Need { key, when: When::Always, before, before_neck_first, waits }
}

/// The table. A key that is not in it holds nothing back on the sheets of this edition.
pub const NEEDS: &[Need] = &[
    need("scale.", "slots", "rod-slot", EVERY_PLACE),
    need(
        "frets.partial",
        "slots",
        "slots",
        &[
            ("fret-table", "slot ends"),
            ("slot-depth", WHOLE),
            ("drilling-chart", "clear distances"),
            ("fret-wire", WHOLE),
        ],
    ),
    need(
        "frets.behind_nut",
        "nut-end",
        "neck-taper",
        &[
            ("fret-table", "distances from the squared end"),
            ("taper", "places from the squared end"),
            ("drilling-chart", "places from the squared end"),
            ("radius", "places from the squared end"),
        ],
    ),
    need("wire.tang_depth", "slots", "slots", DEPTH),
    need("wire.overhang", "fret", "fret", &[("fret-wire", "pieces as cut")]),
    need("wire.stick", "fret", "fret", &[("fret-wire", "sticks")]),
    need(
        "wire.pattern",
        "slots",
        "slots",
        &[("slot-depth", WHOLE), ("routing-map", "wood to the slots"), ("fret-wire", "sticks")],
    ),
    need("wire.", "fret", "fret", NOTHING),
    need("slots.under_tang", "slots", "slots", DEPTH),
    need("slots.skim", "back", "back", DEPTH),
    need("slots.", "test-cut", "test-cut", &[("fret-table", "the stop"), ("drilling-chart", "clear distances")]),
    need("radius.", "slots", "slots", RADIUS),
    need("taper.past_last", "slots", "rod-slot", &[("taper", "the board's end"), ("routing-map", "the glue face")]),
    Need {
        key: "taper.past_last",
        when: When::EdgesFromStrings,
        before: "slots",
        before_neck_first: "rod-slot",
        waits: EDGES,
    },
    need("taper.", "slots", "neck-taper", EDGES),
    need("board.thickness", "back", "rod-slot", THICKNESS),
    need("board.binding", "slots", "neck-taper", BINDING),
    need("board.tang_gap", "fret", "fret", &[("fret-wire", "tangs")]),
    need("board.blank.width", "billet", "billet", &[("radius", "heights at the blank's edge")]),
    need("board.", "billet", "billet", NOTHING),
    need("markers.single", "layout", "layout", MARKED),
    need("markers.double", "layout", "layout", MARKED),
    need(
        "markers.inset",
        "layout",
        "layout",
        &[("drilling-chart", "pairs"), ("lamp-seats", "pairs"), ("routing-map", "the glue face"), ("potting", WHOLE)],
    ),
    need("markers.", "drill", "drill", &[("drilling-chart", "diameters, depths, clear distances")]),
    need("lamp.hole", "drill", "drill", &[("drilling-chart", "diameters, clear distances")]),
    need("lamp.forward", "dry-test", "dry-test", CIRCUIT),
    need("lamp.current", "dry-test", "dry-test", CIRCUIT),
    need("lamp.max_current", "dry-test", "dry-test", NOTHING),
    need("lamp.", "seats", "seats", SEATS),
    need("channels.depth", "channels", "channels", CHANNEL_DEPTH),
    need("channels.", "channels", "channels", CHANNELS),
    need("channels.exit_", "channels", "rod-slot", CHANNELS),
    need("electronics.lamps.hookup", "channels", "channels", &[("routing-map", "fill"), ("potting", WHOLE)]),
    need("electronics.lamps.capacity", "hand-over", "hand-over", &[("wiring", "hours")]),
    need("electronics.lamps.resistor_rating", "hand-over", "hand-over", NOTHING),
    need("electronics.lamps.", "dry-test", "dry-test", CIRCUIT),
    need("strings.spread_", "set-up", "set-up", &[("taper", "string to edge"), ("nut-and-saddle", WHOLE)]),
    Need {
        key: "strings.spread_",
        when: When::Fan,
        before: "slots",
        before_neck_first: "neck-taper",
        waits: SPREAD_OF_A_FAN,
    },
    Need {
        key: "strings.spread_",
        when: When::EdgesFromStrings,
        before: "slots",
        before_neck_first: "neck-taper",
        waits: SPREAD_OF_EDGES,
    },
    need("strings.set", "set-up", "set-up", &[("nut-and-saddle", WHOLE), ("strings", WHOLE)]),
    need("neck.rod_depth", "neck", "rod-slot", NOTHING),
    need("neck.rod_", "neck", "rod-slot", &[("routing-map", "the rod, the glue face")]),
    need("neck.wood", "neck", "neck-blank", NOTHING),
    need("neck.thickness_", "neck", "rod-slot", NOTHING),
    need("neck.heel_thickness", "neck", "heel", NOTHING),
    need("neck.angle", "neck", "heel", NOTHING),
    need("neck.pocket_width", "body", "heel", NOTHING),
    need("setup.", "set-up", "set-up", NOTHING),
    need("setup.action_", "neck", "heel", NOTHING),
    need("setup.bridge_height", "neck", "heel", NOTHING),
    need("body.", "body", "body", NOTHING),
    need("body.hole", "body", "body", &[("drilling-chart", "holes of the body")]),
    need("neck.screws", "neck", "heel", &[("drilling-chart", "screws")]),
];

/// The row that covers a key of a commission: one for its kind of board, else the longest that fits.
pub fn need_of(key: &str, model: &Model) -> Option<&'static Need> {
    let holds = |need: &&Need| match need.when {
        When::Always => true,
        When::Fan => matches!(model.scale.length, ScaleLength::Fan { .. }),
        When::EdgesFromStrings => matches!(model.taper.edges, TaperEdges::FromStrings { .. }),
    };
    NEEDS
        .iter()
        .filter(holds)
        .filter(
            |need| if need.key.ends_with(['.', '_']) { key.starts_with(need.key) } else { is_or_is_in(key, need.key) },
        )
        .max_by_key(|need| (need.key.len(), need.when != When::Always, need.when == When::Fan))
}

fn is_or_is_in(key: &str, whole: &str) -> bool {
    key.strip_prefix(whole).is_some_and(|rest| rest.is_empty() || rest.starts_with(['.', '[']))
}

/// The commission's open values in its own order, each with what waits for it.
pub fn open_values(model: &Model) -> Vec<OpenValue> {
    let neck_first = model.commission.sequence.get() == Ok(Sequence::NeckFirst);
    let open = model.values.iter().filter(|resolved| resolved.value == ResolvedValue::Open);
    open.map(|resolved| {
        let need = need_of(&resolved.key, model);
        let here = |(sheet, _): &&(&str, &str)| model.lamp.is_some() || !LIT_ONLY.contains(sheet);
        let waits = need.map_or(&[] as &[_], |need| need.waits);
        OpenValue {
            key: resolved.key.to_string(),
            waits: waits.iter().filter(here).copied().collect(),
            before: need.map_or("hand-over", |need| if neck_first { need.before_neck_first } else { need.before }),
        }
    })
    .collect()
}
