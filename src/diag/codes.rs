//! The one table of codes: what each finding is called, how grave it is, and its limit.
//!
//! A code is never used again for something else. A limit is a default: shop file and commission may
//! change it by its code, with the reason.

use super::Severity;

/// A stable code, FAMILY-NN.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Code(&'static str);

impl Code {
    /// The code as it is printed.
    pub const fn as_str(self) -> &'static str {
        self.0
    }

    /// The family, before the hyphen.
    pub fn family(self) -> &'static str {
        self.0.split('-').next().unwrap_or(self.0)
    }

    /// The code's row in the table.
    ///
    /// # Panics
    /// Never: only the table makes codes.
    pub fn row(self) -> &'static Row {
        CODES.iter().find(|row| row.code == self).expect("only the table makes codes")
    }

    /// Finds a code by what somebody typed, capitals or not.
    pub fn find(text: &str) -> Option<Self> {
        CODES.iter().map(|row| row.code).find(|code| code.0.eq_ignore_ascii_case(text.trim()))
    }
}

impl std::fmt::Display for Code {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(self.0)
    }
}

/// One row: a code and what holds for it everywhere.
#[derive(Debug)]
pub struct Row {
    /// The code.
    pub code: Code,
    /// The gravest it can be.
    pub severity: Severity,
    /// What is looked at, in a few words.
    pub title: &'static str,
    /// The limit, where the finding is one number against another.
    pub limit: Option<Limit>,
    /// The page that `explain` prints.
    pub page: &'static str,
}

/// Bounds of an error, of a warning and of a note, in the unit named.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Limit {
    /// Outside these it is an error.
    pub error: Bounds,
    /// Outside these it is a warning.
    pub warning: Bounds,
    /// Outside these it is worth a note.
    pub note: Bounds,
    /// The unit of the bounds: "mm", "°", "%", or "" for a bare number.
    pub unit: &'static str,
}

/// The least and the most that pass; both count as inside.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Bounds {
    /// The least that passes.
    pub least: Option<f64>,
    /// The most that passes.
    pub most: Option<f64>,
}

const NONE: Bounds = Bounds { least: None, most: None };

const fn at_least(value: f64) -> Bounds {
    Bounds { least: Some(value), most: None }
}

const fn at_most(value: f64) -> Bounds {
    Bounds { least: None, most: Some(value) }
}

const fn within(least: f64, most: f64) -> Bounds {
    Bounds { least: Some(least), most: Some(most) }
}

const fn limit(error: Bounds, warning: Bounds, unit: &'static str) -> Option<Limit> {
    Some(Limit { error, warning, note: NONE, unit })
}

/// A limit that stops nothing.
const fn noted(note: Bounds, warning: Bounds, unit: &'static str) -> Option<Limit> {
    Some(Limit { error: NONE, warning, note, unit })
}

macro_rules! codes {
    ($($name:ident $code:literal $severity:ident $title:literal $limit:expr;)*) => {
        $(#[doc = concat!($code, ": ", $title, ".")] pub const $name: Code = Code($code);)*

        /// Every code, family by family.
        pub static CODES: &[Row] = &[$(Row {
            code: $name,
            severity: Severity::$severity,
            title: $title,
            limit: $limit,
            page: include_str!(concat!("pages/", $code, ".md")),
        }),*];
    };
}

codes! {
    SPEC_01 "SPEC-01" Error "unknown table or key" None;
    SPEC_02 "SPEC-02" Error "required key or table missing" None;
    SPEC_03 "SPEC-03" Error "a quantity without a unit" None;
    SPEC_04 "SPEC-04" Error "wrong kind of unit" None;
    SPEC_05 "SPEC-05" Error "a value that cannot be read" None;
    SPEC_06 "SPEC-06" Error "wrong word, list, date or whole number" None;
    SPEC_07 "SPEC-07" Error "two at once that exclude or contradict each other" None;
    SPEC_08 "SPEC-08" Error "half of a set" None;
    SPEC_09 "SPEC-09" Error "zero or negative where more is needed" None;
    SPEC_10 "SPEC-10" Warning "plausible only in the other unit, or with the point moved" None;
    SPEC_11 "SPEC-11" Warning "a fraction of an inch that no rule has" None;
    SPEC_12 "SPEC-12" Error "not TOML" None;
    SPEC_13 "SPEC-13" Error "a commission number used twice in one run" None;
    SPEC_14 "SPEC-14" Error "an empty number, title or name" None;
    SPEC_16 "SPEC-16" Error "an override without its reason, or of nothing" None;
    SPEC_18 "SPEC-18" Error "lamps written down, but the markers are not lit" None;
    SPEC_19 "SPEC-19" Error "a place, blade or set that is not there" None;
    SPEC_20 "SPEC-20" Note "a waiver that waives nothing" None;
    SPEC_21 "SPEC-21" Warning "a template that takes no template's place" None;
    FRET_01 "FRET-01" Error "scale length" limit(within(300.0, 950.0), NONE, "mm");
    FRET_02 "FRET-02" Error "number of frets" limit(within(1.0, 36.0), NONE, "");
    FRET_03 "FRET-03" Error "room between the last two crowns" limit(at_least(1.5), at_least(3.0), "mm");
    FRET_04 "FRET-04" Error "wood beyond the last slot" limit(at_least(2.0), at_least(4.0), "mm");
    FRET_05 "FRET-05" Error "bass scale shorter than treble" None;
    FRET_06 "FRET-06" Error "square fret outside the board" None;
    FRET_07 "FRET-07" Error "slant of the steepest line" limit(at_most(25.0), at_most(18.0), "°");
    FRET_08 "FRET-08" Error "room between two slots inside the blank, kerf taken off" limit(at_least(3.0), NONE, "mm");
    FRET_09 "FRET-09" Warning "bass scale longer than the treble scale" limit(NONE, at_most(63.5), "mm");
    FRET_10 "FRET-10" Error "wood behind the zero line" limit(at_least(6.5), NONE, "mm");
    FRET_11 "FRET-11" Error "partial frets" None;
    FRET_12 "FRET-12" Note "partial frets are not in the sled's sequence" None;
    FRET_13 "FRET-13" Warning "band in tune at the last fret against the stop" None;
    FRET_14 "FRET-14" Error "the fret table's own check" None;
    FRET_15 "FRET-15" Warning "board past the neck's pocket" limit(NONE, at_most(20.0), "mm");
    FRET_16 "FRET-16" Note "other divisions than twelve" None;
    FRET_17 "FRET-17" Error "steps to the octave" limit(within(5.0, 72.0), NONE, "");
    FRET_18 "FRET-18" Note "inner strings against slanted frets" noted(at_most(0.05), NONE, "mm");
    WIRE_01 "WIRE-01" Error "grip of the barb in the kerf" limit(at_least(0.05), at_least(0.10), "mm");
    WIRE_02 "WIRE-02" Error "tang wider than the kerf" limit(at_most(0.05), at_most(0.0), "mm");
    WIRE_03 "WIRE-03" Warning "kerf wider than the tang" limit(NONE, at_most(0.10), "mm");
    WIRE_04 "WIRE-04" Warning "overhang of the fret wire" limit(NONE, at_least(2.0), "mm");
    WIRE_05 "WIRE-05" Error "stick shorter than the longest piece" limit(at_least(1.0), NONE, "mm");
    WIRE_06 "WIRE-06" Warning "height of the crown after levelling" limit(NONE, at_least(0.8), "mm");
    WIRE_07 "WIRE-07" Note "slanted fret flatter than the board's radius" noted(at_most(5.0), NONE, "%");
    WIRE_08 "WIRE-08" Error "barb narrower than the tang" limit(at_least(0.0), NONE, "mm");
    WIRE_09 "WIRE-09" Error "fret wire that nobody knows" None;
    SLOT_01 "SLOT-01" Error "room under the tang" limit(at_least(0.05), at_least(0.10), "mm");
    SLOT_03 "SLOT-03" Error "wood under the slot" limit(at_least(1.0), at_least(1.5), "mm");
    SLOT_04 "SLOT-04" Warning "share of the board that the slots cut through" limit(NONE, at_most(0.70), "");
    SLOT_06 "SLOT-06" Error "deepest cut against the saw" None;
    SLOT_07 "SLOT-07" Warning "slot left open under the tang" noted(at_most(1.2), at_most(2.3), "mm");
    SLOT_08 "SLOT-08" Error "skim still to come off the face" limit(within(0.0, 1.0), NONE, "mm");
    SLOT_09 "SLOT-09" Error "binding and the gap of the nipped tang" limit(within(0.8, 4.0), NONE, "mm");
    SLOT_10 "SLOT-10" Warning "skim left when slots are cut after radiusing" limit(NONE, at_most(0.3), "mm");
    RADIUS_01 "RADIUS-01" Error "radius too tight for the width" None;
    RADIUS_02 "RADIUS-02" Warning "radius that is not usual" limit(NONE, within(184.0, 508.0), "mm");
    RADIUS_03 "RADIUS-03" Error "height of the edge" limit(at_least(2.5), at_least(3.0), "mm");
    RADIUS_04 "RADIUS-04" Warning "hump under an outer string" limit(NONE, at_most(0.08), "mm");
    RADIUS_05 "RADIUS-05" Warning "cone tighter at its end than at the nut" None;
    RADIUS_06 "RADIUS-06" Note "no block of this radius on the shelf" None;
    RADIUS_07 "RADIUS-07" Warning "wood to come off the edge" limit(NONE, at_most(3.0), "mm");
    TAPER_01 "TAPER-01" Warning "board that does not widen" None;
    TAPER_02 "TAPER-02" Error "outer string to the edge" limit(at_least(2.5), at_least(3.0), "mm");
    TAPER_03 "TAPER-03" Error "blank wider than the board" limit(at_least(2.0), at_least(6.0), "mm");
    TAPER_04 "TAPER-04" Warning "half angle of the taper" limit(NONE, within(0.2, 2.0), "°");
    MARK_01 "MARK-01" Error "marker at a fret that is not there" None;
    MARK_02 "MARK-02" Error "a fret marked twice" None;
    MARK_03 "MARK-03" Error "hole to slot" limit(at_least(0.8), at_least(1.5), "mm");
    MARK_04 "MARK-04" Error "hole to edge" limit(at_least(3.0), at_least(4.0), "mm");
    MARK_05 "MARK-05" Error "between the holes of a pair" limit(at_least(3.0), NONE, "mm");
    MARK_06 "MARK-06" Warning "fret 9 or fret 10 marked" None;
    MARK_07 "MARK-07" Note "no octave marked" None;
    MARK_08 "MARK-08" Error "what is left of a dot at its rim" limit(at_least(0.8), NONE, "mm");
    MARK_09 "MARK-09" Error "wood under a dot" limit(at_least(1.5), NONE, "mm");
    MARK_10 "MARK-10" Error "side dot to the side channel" limit(at_least(1.0), NONE, "mm");
    MARK_11 "MARK-11" Error "pair past the centreline" None;
    MARK_12 "MARK-12" Error "side dot against the edge" limit(at_most(0.6), NONE, "");
    MARK_13 "MARK-13" Error "side dot to slot" limit(at_least(0.0), at_least(0.5), "mm");
    MARK_14 "MARK-14" Warning "hole to the binding's joint" limit(NONE, at_least(1.0), "mm");
    LAMP_01 "LAMP-01" Error "room for the leads behind the flange" limit(at_least(0.3), at_least(0.6), "mm");
    LAMP_02 "LAMP-02" Error "wood above the flange" limit(at_least(2.0), at_least(2.5), "mm");
    LAMP_03 "LAMP-03" Error "counterbore wider than the flange" limit(at_least(0.2), NONE, "mm");
    LAMP_04 "LAMP-04" Error "most to be sanded off a lens" limit(at_most(1.0), at_most(0.6), "mm");
    LAMP_05 "LAMP-05" Warning "one setting against each lamp's own seat" limit(NONE, at_most(0.1), "mm");
    LAMP_06 "LAMP-06" Error "seat inside the board" limit(at_least(1.0), NONE, "mm");
    LAMP_07 "LAMP-07" Error "counterbore to slot" limit(at_least(0.5), at_least(1.0), "mm");
    LAMP_08 "LAMP-08" Error "play of the lens in its hole" limit(within(0.03, 0.20), NONE, "mm");
    LAMP_09 "LAMP-09" Warning "no such bit in the drawer" None;
    LAMP_10 "LAMP-10" Error "a lamp that nobody knows" None;
    LAMP_11 "LAMP-11" Warning "lens proud of the face" limit(NONE, at_least(0.05), "mm");
    LAMP_12 "LAMP-12" Error "lamp current above its most" None;
    LAMP_13 "LAMP-13" Error "counterbore not wider than the hole" None;
    LAMP_14 "LAMP-14" Warning "a wire that crosses under the leads" limit(NONE, at_least(0.3), "mm");
    CHAN_01 "CHAN-01" Error "wood between slot and channel" limit(at_least(1.0), at_least(1.5), "mm");
    CHAN_02 "CHAN-02" Error "channel's wall to slot" limit(at_least(1.0), at_least(1.5), "mm");
    CHAN_03 "CHAN-03" Error "side channel to the edge" limit(at_least(3.0), at_least(4.0), "mm");
    CHAN_04 "CHAN-04" Error "side channel to the binding" limit(at_least(2.5), NONE, "mm");
    CHAN_05 "CHAN-05" Error "wires in the depth of a channel" None;
    CHAN_06 "CHAN-06" Error "fill of the fullest channel" limit(at_most(60.0), at_most(45.0), "%");
    CHAN_07 "CHAN-07" Error "side channel to the rod" limit(at_least(2.0), NONE, "mm");
    CHAN_08 "CHAN-08" Error "wires through the exit hole" limit(at_most(60.0), at_most(45.0), "%");
    CHAN_09 "CHAN-09" Error "exit hole to the rod" limit(at_least(2.0), NONE, "mm");
    CHAN_10 "CHAN-10" Error "screw to exit hole or channel" limit(at_least(3.0), NONE, "mm");
    CHAN_11 "CHAN-11" Error "wood past the end channel" limit(at_least(2.0), NONE, "mm");
    CHAN_12 "CHAN-12" Error "glue face left" limit(at_least(60.0), at_least(70.0), "%");
    CHAN_13 "CHAN-13" Warning "no such cutter in the drawer" None;
    CHAN_14 "CHAN-14" Error "wood over the side channel at its outer wall" limit(at_least(2.5), NONE, "mm");
    CHAN_15 "CHAN-15" Error "wood between two cross channels" limit(at_least(2.0), NONE, "mm");
    CHAN_16 "CHAN-16" Error "exit outside the side channels" None;
    CHAN_17 "CHAN-17" Error "a lamp that no channel leads to the exit" None;
    CHAN_18 "CHAN-18" Error "exit hole to the board's end" limit(at_least(3.0), NONE, "mm");
    CHAN_19 "CHAN-19" Warning "exit hole against the body's wire hole" None;
    CHAN_20 "CHAN-20" Warning "sliver between a pair's seat and the side channel" limit(NONE, at_least(1.0), "mm");
    ELEC_01 "ELEC-01" Error "lamps in a group against the supply" None;
    ELEC_02 "ELEC-02" Error "current on a fresh battery" None;
    ELEC_03 "ELEC-03" Warning "supply left for the resistor" limit(NONE, at_least(15.0), "%");
    ELEC_04 "ELEC-04" Error "heat in a resistor" limit(at_most(50.0), NONE, "%");
    ELEC_05 "ELEC-05" Warning "difference between the groups' currents" limit(NONE, at_most(15.0), "%");
    ELEC_06 "ELEC-06" Warning "hours that the battery lasts" limit(NONE, at_least(20.0), "h");
    ELEC_07 "ELEC-07" Error "order of low, nominal and fresh supply" None;
    ELEC_08 "ELEC-08" Warning "lithium without a word of its protection" None;
    ELEC_09 "ELEC-09" Warning "resistors in the board" None;
    ELEC_10 "ELEC-10" Error "no switch" None;
    ELEC_11 "ELEC-11" Warning "supply lost in the wire" limit(NONE, at_most(2.0), "%");
    ELEC_12 "ELEC-12" Error "lamps to a group" None;
    ELEC_13 "ELEC-13" Warning "hook-up wire thinner than its bare copper" limit(NONE, at_least(0.0), "mm");
    POT_01 "POT-01" Warning "batch of epoxy, in millilitres for each minute it can be poured" limit(NONE, at_most(1.0), "");
    POT_02 "POT-02" Warning "depth of a pour" None;
    NECK_01 "NECK-01" Error "rod's slot longer than the board" limit(at_most(0.0), NONE, "mm");
    NECK_02 "NECK-02" Error "wood under the rod" limit(at_least(2.5), at_least(3.0), "mm");
    NECK_03 "NECK-03" Error "screw's tip to the glue face" limit(at_least(1.5), NONE, "mm");
    NECK_04 "NECK-04" Error "neck's pocket against the board's end" limit(at_most(0.2), NONE, "mm");
    NECK_06 "NECK-06" Warning "angle of the neck" limit(NONE, within(0.0, 4.0), "°");
    NECK_07 "NECK-07" Warning "height of the strings at the bridge" None;
    NECK_08 "NECK-08" Warning "neck thinner at the twelfth fret than at the first" None;
    NECK_09 "NECK-09" Warning "gap at the mouth of the neck's pocket" limit(NONE, at_most(0.5), "mm");
    BODY_01 "BODY-01" Error "floor left under a pocket" limit(at_least(3.0), NONE, "mm");
    BODY_02 "BODY-02" Error "pocket under the board's end" limit(at_least(2.0), NONE, "mm");
    BODY_03 "BODY-03" Error "wall between two pockets" limit(at_least(3.0), NONE, "mm");
    BODY_04 "BODY-04" Error "wood between the floors of two pockets" limit(at_least(3.0), NONE, "mm");
    BODY_05 "BODY-05" Error "corner that no cutter makes" None;
    BODY_06 "BODY-06" Error "a pickup that is not there" None;
    BODY_07 "BODY-07" Warning "room for the battery" limit(NONE, at_most(0.0), "mm");
    BODY_08 "BODY-08" Error "depth through the body" None;
    STRING_02 "STRING-02" Warning "tension of a string" limit(NONE, within(38.0, 165.0), "N");
    STRING_03 "STRING-03" Warning "hardest pull against the slackest" limit(NONE, at_most(1.7), "");
    STRING_04 "STRING-04" Warning "pull of all strings" limit(NONE, at_most(900.0), "N");
    STRING_05 "STRING-05" Error "least gap between two strings at the nut" limit(at_least(0.0), at_least(5.0), "mm");
    STRING_06 "STRING-06" Warning "travel of a saddle behind the scale line" limit(NONE, at_least(6.0), "mm");
    STRING_07 "STRING-07" Warning "lower string not heavier" None;
    STRING_08 "STRING-08" Error "spread at the saddle less than at the nut" None;
    STRING_10 "STRING-10" Warning "weight of a string against its gauge" limit(NONE, within(0.45, 1.2), "");
    STRING_11 "STRING-11" Warning "action at the twelfth fret lower than at the first" None;
    STOCK_01 "STOCK-01" Error "blank against what is needed" limit(at_least(0.0), at_least(10.0), "mm");
    STOCK_02 "STOCK-02" Warning "moisture of the board's wood" limit(NONE, within(6.0, 10.0), "%");
    STOCK_03 "STOCK-03" Warning "listed species without papers" None;
    STOCK_04 "STOCK-04" Error "a wood that nobody knows" None;
    STOCK_05 "STOCK-05" Warning "a line of the shop file without a price" None;
    STOCK_06 "STOCK-06" Note "boards out of the billet" noted(at_least(2.0), NONE, "");
    STOCK_07 "STOCK-07" Error "waste" limit(within(0.0, 100.0), NONE, "%");
    PRINT_01 "PRINT-01" Error "bars of a test print that no printer is off by" limit(within(97.0, 103.0), NONE, "mm");
    ORDER_10 "ORDER-10" Warning "figures that moved though nothing decided has" None;
    ORDER_11 "ORDER-11" Error "an issues file that contradicts itself" None;
}
