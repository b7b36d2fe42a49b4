//! The checks: what cannot be built, or ought not to be, found before wood is cut.
//!
//! In: the resolved instrument and its computed numbers. Out: findings, and which checks were left out because a
//! value is open. A check writes figures, places and limits into a [`tally::Tally`]; the message is made from
//! them afterwards, so that the same check also tells how far a value may go ([`slack`], [`passing`]).
//! One file a family, one function a code, one row in [`CHECKS`].

pub mod bench;
mod body;
mod chan;
mod chan_exit;
mod chan_wires;
mod conflict;
mod drawer;
mod elec;
mod elec_supply;
mod fret;
mod fret_fan;
mod fret_table;
mod idle_waivers;
pub mod input;
mod lamp;
pub mod limits;
mod mark;
mod mark_schedule;
mod message;
mod neck;
pub mod place;
mod pot;
mod print;
mod radius;
pub mod range;
pub mod remedy;
mod side_dot;
mod sliver;
mod slot;
mod stock;
mod string;
pub mod tally;
mod taper;
mod verdict;
mod wire;

pub use bench::Bench;
pub use remedy::Passing;
pub use tally::Slack;

use tally::Tally;

use crate::design::Design;
use crate::diag::codes;
use crate::diag::{Code, Diagnostic};
use crate::model::{Key, Model};

/// One row of the table of checks.
pub struct Check {
    /// The code it reports.
    pub code: Code,
    /// What it looks at.
    run: for<'a> fn(&Bench<'a>, &mut Tally<'a>),
    /// Codes that explain this one: where they found a place wrong, this check is silent about it. What follows from a
    /// value that cannot be meant needs no row here: `packet` looks at the commission again without that value.
    unless: &'static [Code],
}

const fn check(code: Code, run: for<'a> fn(&Bench<'a>, &mut Tally<'a>)) -> Check {
    Check { code, run, unless: &[] }
}

impl Check {
    const fn unless(self, unless: &'static [Code]) -> Self {
        Self { unless, ..self }
    }
}

/// Every check; causes before their consequences.
pub static CHECKS: &[Check] = &[
    check(codes::FRET_01, fret::scale_length),
    check(codes::FRET_02, fret::count),
    check(codes::FRET_05, fret_fan::bass_is_longer).unless(&[codes::FRET_01]),
    check(codes::FRET_06, fret_fan::square_fret).unless(&[codes::FRET_02]),
    check(codes::FRET_17, fret::divisions),
    check(codes::FRET_14, fret_table::obeys_its_laws),
    check(codes::FRET_03, fret::last_gap),
    check(codes::FRET_04, fret::wood_past_last),
    check(codes::FRET_07, fret_fan::slant),
    check(codes::FRET_08, fret_fan::slots_apart),
    check(codes::FRET_10, fret::behind_nut),
    check(codes::FRET_11, fret::partial),
    check(codes::FRET_09, fret_fan::scales_apart),
    check(codes::FRET_12, fret::partial_by_hand).unless(&[codes::FRET_11]),
    check(codes::FRET_13, fret::accuracy),
    check(codes::FRET_16, fret::steps),
    check(codes::FRET_18, fret_fan::inner_strings),
    check(codes::RADIUS_01, radius::wide_enough),
    check(codes::WIRE_08, wire::barb),
    check(codes::WIRE_01, wire::grip).unless(&[codes::WIRE_08]),
    check(codes::WIRE_02, wire::wedge),
    check(codes::WIRE_05, wire::stick),
    check(codes::WIRE_03, wire::loose).unless(&[codes::WIRE_01]),
    check(codes::WIRE_04, wire::overhang),
    check(codes::WIRE_06, wire::crown),
    check(codes::WIRE_07, wire::ellipse).unless(&[codes::FRET_07]),
    check(codes::SLOT_01, slot::room_under_tang),
    check(codes::SLOT_08, slot::skim),
    check(codes::SLOT_03, slot::wood_under),
    check(codes::SLOT_06, slot::saw_depth),
    check(codes::SLOT_09, slot::binding),
    check(codes::SLOT_04, slot::share_cut_through).unless(&[codes::SLOT_03]),
    check(codes::SLOT_07, slot::open_under_tang),
    check(codes::SLOT_10, slot::skim_after_radiusing),
    check(codes::RADIUS_03, radius::edge_height),
    check(codes::RADIUS_02, radius::usual),
    check(codes::RADIUS_05, radius::backward),
    check(codes::RADIUS_04, radius::hump),
    check(codes::RADIUS_06, radius::block),
    check(codes::RADIUS_07, radius::taken_off),
    check(codes::TAPER_02, taper::string_to_edge),
    check(codes::TAPER_03, taper::blank_width),
    check(codes::TAPER_01, taper::widens),
    check(codes::TAPER_04, taper::half_angle),
    check(codes::MARK_01, mark::fret_is_there),
    check(codes::MARK_02, mark::marked_once),
    check(codes::MARK_11, mark::past_centre),
    check(codes::MARK_03, mark::hole_to_slot),
    check(codes::MARK_04, mark::hole_to_edge),
    check(codes::MARK_05, mark::between_pair).unless(&[codes::MARK_11]),
    check(codes::MARK_06, mark_schedule::nine_or_ten),
    check(codes::MARK_07, mark_schedule::octave),
    check(codes::MARK_14, mark::hole_to_binding).unless(&[codes::MARK_11, codes::MARK_04]),
    check(codes::MARK_08, mark::dot_left),
    check(codes::MARK_09, mark::under_dot),
    check(codes::MARK_10, side_dot::to_channel),
    check(codes::MARK_12, side_dot::against_edge),
    check(codes::MARK_13, side_dot::to_slot),
    check(codes::LAMP_13, lamp::seat_round_hole),
    check(codes::LAMP_03, lamp::counterbore).unless(&[codes::LAMP_13]),
    check(codes::LAMP_06, lamp::seat_inside),
    check(codes::LAMP_01, lamp::lead_room).unless(&[codes::LAMP_06]),
    check(codes::LAMP_02, lamp::wood_above).unless(&[codes::LAMP_06]),
    check(codes::LAMP_04, lamp::sanded_off),
    check(codes::LAMP_05, lamp::one_setting),
    check(codes::LAMP_07, lamp::counterbore_to_slot).unless(&[codes::MARK_03]),
    check(codes::LAMP_08, lamp::play),
    check(codes::LAMP_09, drawer::bits),
    check(codes::LAMP_11, lamp::proud),
    check(codes::LAMP_12, lamp::current),
    check(codes::LAMP_14, lamp::wire_under_leads).unless(&[codes::LAMP_06, codes::LAMP_01]),
    check(codes::CHAN_03, chan::margin),
    check(codes::CHAN_04, chan::to_binding).unless(&[codes::CHAN_03]),
    check(codes::CHAN_14, chan::over_side_channel),
    check(codes::CHAN_01, chan::slot_to_channel),
    check(codes::CHAN_02, chan::wall_to_slot),
    check(codes::CHAN_15, chan::between_crosses),
    check(codes::ELEC_12, elec::group_size).unless(&[codes::FRET_02]),
    check(codes::CHAN_05, chan_wires::layers),
    check(codes::CHAN_06, chan_wires::fill),
    check(codes::CHAN_08, chan_wires::exit_fill),
    check(codes::CHAN_07, chan::to_rod),
    check(codes::CHAN_16, chan_exit::exit_between).unless(&[codes::CHAN_07]),
    check(codes::CHAN_09, chan_exit::exit_to_rod),
    check(codes::CHAN_10, chan_exit::screws),
    check(codes::CHAN_11, chan_exit::past_end_channel),
    check(codes::CHAN_18, chan_exit::exit_to_end),
    check(codes::CHAN_12, chan::glue_face),
    check(codes::CHAN_13, drawer::cutter),
    check(codes::CHAN_20, sliver::beside_channel),
    check(codes::CHAN_17, chan_exit::lamp_is_reached).unless(&[codes::MARK_04]),
    check(codes::ELEC_07, elec::order_of_supplies),
    check(codes::ELEC_01, elec::supply_lights),
    check(codes::ELEC_03, elec::left_for_resistor).unless(&[codes::ELEC_01]),
    check(codes::ELEC_05, elec::alike).unless(&[codes::ELEC_01]),
    check(codes::ELEC_02, elec::fresh_current),
    check(codes::ELEC_04, elec::heat),
    check(codes::ELEC_06, elec_supply::hours),
    check(codes::ELEC_08, elec_supply::lithium),
    check(codes::ELEC_09, elec::resistors),
    check(codes::ELEC_10, elec::switch),
    check(codes::ELEC_11, elec_supply::lost_in_the_wire),
    check(codes::ELEC_13, elec_supply::thicker_than_bare),
    check(codes::POT_01, pot::batch),
    check(codes::POT_02, pot::pour_depth).unless(&[codes::LAMP_06]),
    check(codes::NECK_01, neck::rod_room),
    check(codes::NECK_02, neck::under_rod),
    check(codes::NECK_03, neck::screw_tips),
    check(codes::NECK_04, neck::pocket_width),
    check(codes::NECK_06, neck::angle),
    check(codes::NECK_07, neck::height_at_bridge),
    check(codes::NECK_08, neck::grows_thicker),
    check(codes::NECK_09, neck::mouth),
    check(codes::FRET_15, body::overhang),
    check(codes::CHAN_19, body::wire_hole).unless(&[codes::CHAN_09, codes::CHAN_16]),
    check(codes::BODY_06, body::pickup_is_there),
    check(codes::BODY_08, body::through),
    check(codes::BODY_01, body::floors).unless(&[codes::BODY_08]),
    check(codes::BODY_02, body::under_the_board),
    check(codes::BODY_03, body::walls),
    check(codes::BODY_04, body::between_floors),
    check(codes::BODY_05, body::corners),
    check(codes::BODY_07, body::battery),
    check(codes::STRING_08, string::spreads),
    check(codes::STRING_05, string::gap_at_nut),
    check(codes::STRING_10, string::weight),
    check(codes::STRING_07, string::heavier_downward),
    check(codes::STRING_02, string::tension),
    check(codes::STRING_03, string::tension_ratio),
    check(codes::STRING_04, string::tension_of_all),
    check(codes::STRING_06, string::saddle_travel),
    check(codes::STRING_11, string::action_rises),
    check(codes::STOCK_01, stock::blank),
    check(codes::STOCK_02, stock::moisture),
    check(codes::STOCK_03, stock::papers),
    check(codes::STOCK_05, stock::priced),
    check(codes::STOCK_06, stock::second_board).unless(&[codes::STOCK_01]),
    check(codes::STOCK_07, stock::waste),
    check(codes::PRINT_01, print::bars),
];

/// What the checks found.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Outcome {
    /// The findings, in the order of the table.
    pub findings: Vec<Diagnostic>,
    /// Checks that could not look at everything, with the keys they wait for.
    pub left_out: Vec<(Code, Vec<Key>)>,
    /// What was found and not told because another code explains it: the code that explains, and the one explained.
    pub held_back: Vec<(Code, Code)>,
}

/// Runs every check.
pub fn run(model: &Model, design: &Design) -> Outcome {
    let bench = Bench::new(model, design);
    let mut found = verdict::Found::default();
    let mut outcome = Outcome::default();
    let mut used = Vec::new();
    for check in CHECKS {
        let tally = tally_of(check, &bench);
        let verdict = verdict::judge(&bench, check, &tally, &mut found);
        outcome.findings.extend(verdict.findings);
        used.extend(verdict.used);
        outcome.held_back.extend(verdict.held_back.into_iter().map(|cause| (cause, check.code)));
        let waits = tally.waits();
        if !waits.is_empty() {
            outcome.left_out.push((check.code, waits));
        }
    }
    let idle = idle_waivers::idle(&model.waivers, &used, &outcome, |code| found.has(code));
    outcome.findings.extend(idle);
    conflict::explain(&bench, &mut outcome.findings);
    outcome
}

/// How far the instrument is inside a code's limit at its worst place; none where the code measures nothing here.
pub fn slack(code: Code, bench: &Bench<'_>) -> Option<Slack> {
    tally_of(row(code)?, bench).slack()
}

/// The values of single keys at which a code would fall silent, its worst place being what it is.
///
/// Each leaves all other values alone. Empty where the code has nothing to find, or no length would do.
pub fn passing(code: Code, bench: &Bench<'_>) -> Vec<Passing> {
    row(code).map_or_else(Vec::new, |check| verdict::passing(&tally_of(check, bench)))
}

fn row(code: Code) -> Option<&'static Check> {
    CHECKS.iter().find(|check| check.code == code)
}

fn tally_of<'a>(check: &Check, bench: &Bench<'a>) -> Tally<'a> {
    let mut tally = Tally::new(check.code, bench.limits);
    (check.run)(bench, &mut tally);
    tally
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn each_code_has_one_check_and_its_causes_stand_before_it() {
        for (index, check) in CHECKS.iter().enumerate() {
            let before = &CHECKS[..index];
            assert!(before.iter().all(|other| other.code != check.code), "{} stands twice", check.code);
            for cause in check.unless {
                assert!(before.iter().any(|other| other.code == *cause), "{cause} must stand before {}", check.code);
            }
        }
    }
}
