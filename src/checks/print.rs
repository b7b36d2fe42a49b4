//! The printer: PRINT-01.

use super::bench::Bench;
use super::place::Place;
use super::tally::Tally;

/// PRINT-01: the measured bars of a test print are off by no more than printers are.
pub(super) fn bars<'a>(bench: &Bench<'a>, tally: &mut Tally<'a>) {
    for bar in bench.model.shop.bar_measured.iter().flatten() {
        tally
            .measure("a bar of 100 mm measures {} on the test print")
            .reading(Place::Whole, bar.mm())
            .input(bar)
            .advise("print full-size.pdf at 100 %, without fitting it to the page, and measure its 100 mm bars")
            .advise(
                "a print that is off by more was scaled by the program that printed it: no figure here puts that right",
            );
    }
}
