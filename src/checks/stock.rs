//! Stock: STOCK-01 and -07.

use super::bench::Bench;
use super::input::Input;
use super::place::Place;
use super::remedy::Remedy;
use super::tally::{Tally, at_least};

/// STOCK-01: the board comes out of the blank.
pub(super) fn blank<'a>(bench: &Bench<'a>, tally: &mut Tally<'a>) {
    let board = &bench.model.board;
    if let Some(length) = &board.blank_length {
        let spare = length.mm().and_then(|length| Ok(length - bench.design.needed_length?));
        tally
            .measure("the blank is {} longer than the board")
            .below_nothing("the blank is {} shorter than the board")
            .reading(Place::Whole, spare)
            .input(length)
            .input(&bench.model.taper.past_last)
            .remedy(Remedy::slope(length, 1.0, "a blank of {} or longer"));
    }
    if let Some(thickness) = &board.blank_thickness {
        let skim = &bench.model.slots.skim;
        let spare = thickness.mm().and_then(|blank| Ok(blank - board.thickness.mm()? - skim.mm()?));
        tally
            .compare(at_least(0.0, "mm"), "the blank is {} thicker than the board with its skim")
            .below_nothing("the blank is {} thinner than the board with its skim")
            .reading(Place::Whole, spare)
            .input(thickness)
            .input(&board.thickness)
            .input(skim)
            .remedy(Remedy::slope(thickness, 1.0, "a blank of {} or thicker"));
    }
}

/// STOCK-07: waste is a share of what is used.
pub(super) fn waste<'a>(bench: &Bench<'a>, tally: &mut Tally<'a>) {
    for line in &bench.model.materials {
        let Some(waste) = line.waste else { continue };
        tally
            .measure(format!("{}: a waste of {{}}", line.what.replace(['{', '}'], "")))
            .reading(Place::Whole, Ok(waste.to_parts() * 100.0))
            .input(Input::line("materials.waste", line.span));
    }
}
