//! One commission on its way to paper: what every sheet is made from.

use super::table;
use crate::checks::range::Range;
use crate::design::Design;
use crate::design::board::slot_depths::SlotDepth;
use crate::design::tolerances::{self, Tolerance};
use crate::diag::{Code, Diagnostic};
use crate::model::{Key, Known, Model};
use crate::rounding;
use crate::spec::words::{Cut, Hand, NutAt, PrintIn};
use crate::units::{MM_PER_INCH, WorkingUnit};

/// What a sheet is made from.
#[derive(Debug, Clone, Copy)]
pub struct Job<'a> {
    /// The commission, resolved.
    pub model: &'a Model,
    /// Its numbers.
    pub design: &'a Design,
    /// What was found: warnings, notes and waived errors.
    pub findings: &'a [Diagnostic],
    /// The checks that could not be made, with the keys that they wait for.
    pub left_out: &'a [(Code, Vec<Key>)],
    /// What the checks leave of the lengths that several of them pull at.
    pub ranges: &'a [Range],
}

impl Job<'_> {
    /// The working unit.
    pub fn unit(&self) -> WorkingUnit {
        match self.model.commission.print_in.get() {
            Ok(PrintIn::Inch) => WorkingUnit::Inch,
            _ => WorkingUnit::Millimetre,
        }
    }

    /// The hand.
    pub fn hand(&self) -> Hand {
        self.model.commission.hand.get().unwrap_or(Hand::Right)
    }

    /// The working unit in millimetres.
    pub(super) fn unit_length(&self) -> f64 {
        match self.unit() {
            WorkingUnit::Millimetre => 1.0,
            WorkingUnit::Inch => MM_PER_INCH,
        }
    }

    /// The working unit's sign.
    pub fn unit_word(&self) -> &'static str {
        table::unit_word(self.unit())
    }

    /// A length in the working unit, without its sign.
    pub fn length(&self, millimetres: f64) -> String {
        table::length(millimetres, self.unit())
    }

    /// A length in the working unit with its sign, kept on one line.
    pub fn length_with_unit(&self, millimetres: f64) -> String {
        format!("{}\u{a0}{}", self.length(millimetres), self.unit_word())
    }

    /// A length in the other unit with its sign, kept on one line.
    pub fn other_length(&self, millimetres: f64) -> String {
        let other = table::other(self.unit());
        format!("{}\u{a0}{}", table::length(millimetres, other), table::unit_word(other))
    }

    /// The frets that lie under some strings only: no part of the sled's sequence.
    pub fn partial_frets(&self) -> Vec<usize> {
        let partial = self.model.frets.partial.get().unwrap_or_default();
        partial.iter().filter_map(|one| usize::try_from(one.fret).ok()).collect()
    }

    /// Whether a fret stands at the zero line.
    pub fn has_zero_fret(&self) -> bool {
        self.model.frets.nut_at.get() == Ok(NutAt::ZeroFret)
    }

    /// Whether the board's face is domed already when it is slotted, bored and routed.
    pub fn is_worked_domed(&self) -> bool {
        let radiused_first = matches!(self.model.slots.cut.get(), Ok(Cut::AfterRadiusing | Cut::FollowingRadius));
        radiused_first && self.design.face.is_ok_and(|face| !face.is_flat())
    }

    /// Whether lamps that were tested in the board come out again before its face is radiused; a flat one never is.
    pub fn lamps_out_for_radiusing(&self) -> bool {
        let radiused = !self.design.face.is_ok_and(|face| face.is_flat());
        radiused && self.model.lamp.is_some() && self.model.slots.cut.get() == Ok(Cut::BeforeRadiusing)
    }

    /// What is still to come off the face once it is slotted, millimetres; none where nothing is.
    pub fn skim_to_come(&self) -> Option<f64> {
        self.model.slots.skim.mm().ok().filter(|skim| *skim > 0.0)
    }

    /// The step of a machine's setting, in millimetres.
    pub fn setting_step(&self) -> f64 {
        rounding::setting_step(self.unit())
    }

    /// A depth rounded up to what a machine is set to, in millimetres.
    pub fn set_up(&self, millimetres: f64) -> f64 {
        rounding::up(millimetres, self.setting_step())
    }

    /// A depth rounded down to what a machine is set to, in millimetres.
    pub fn set_down(&self, millimetres: f64) -> f64 {
        rounding::down(millimetres, self.setting_step())
    }

    /// Wood under a slot that is cut to what the blade is set to: less than its own figure by what rounding up takes.
    pub(super) fn wood_under_as_set(&self, row: &SlotDepth) -> Known<f64> {
        let setting = row.setting?;
        Ok(row.wood_under? - (self.set_up(setting) - setting))
    }

    /// The size of a bit or cutter.
    pub(super) fn tool(&self, millimetres: f64) -> table::ToolSize {
        table::tool(millimetres, self.unit())
    }

    /// A tolerance by its name.
    pub fn tolerance(&self, name: &'static str) -> Tolerance {
        tolerances::tolerance(self.model, name)
    }

    /// A tolerance as it stands beside a setting: `±0.10` or `+0.10 −0.00`.
    pub fn tolerance_text(&self, name: &'static str) -> String {
        self.plus_minus(self.tolerance(name))
    }

    fn plus_minus(&self, Tolerance { under, over }: Tolerance) -> String {
        if (under - over).abs() < rounding::ON_STEP {
            format!("±{}", self.length(over))
        } else {
            format!("+{} −{}", self.length(over), self.length(under))
        }
    }

    /// Half of a tolerance that holds for a whole width, as it stands beside one half of it; rounded down, so that two
    /// halves within it make a width within it.
    pub fn half_tolerance_text(&self, name: &'static str) -> String {
        let step = match self.unit() {
            WorkingUnit::Millimetre => 0.01,
            WorkingUnit::Inch => MM_PER_INCH / 1000.0,
        };
        let Tolerance { under, over } = self.tolerance(name);
        let [under, over] = [under, over].map(|side| rounding::down(side / 2.0, step));
        self.plus_minus(Tolerance { under, over })
    }

    /// The two ends of something across, each toward the treble side: `32.30 either side of the centreline`,
    /// `30.10 bass and 32.30 treble of the centreline`.
    pub(super) fn across_both(&self, bass: f64, treble: f64) -> String {
        let [one, other] = [bass, treble].map(|end| self.length(end.abs()));
        if bass < 0.0 && treble > 0.0 && one == other {
            format!("{one} either side of the centreline")
        } else {
            format!("{} and {} of the centreline", self.across(bass), self.across(treble))
        }
    }

    /// A place across by its distance toward the treble side, the side named: `17.69 bass`, `0.00`.
    pub fn across(&self, toward_treble: f64) -> String {
        let distance = self.length(toward_treble.abs());
        if toward_treble.abs() < rounding::ON_STEP {
            distance
        } else {
            format!("{distance} {}", if toward_treble < 0.0 { "bass" } else { "treble" })
        }
    }
}
