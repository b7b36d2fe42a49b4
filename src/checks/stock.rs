//! Stock: STOCK-01 to -03 and -05 to -07.

use super::bench::Bench;
use super::input::Input;
use super::place::Place;
use super::remedy::Remedy;
use super::tally::{Tally, at_least};
use crate::catalog;
use crate::design::stock;
use crate::diag::Severity;

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

/// STOCK-02: the wood is as dry as the rooms it will live in.
pub(super) fn moisture<'a>(bench: &Bench<'a>, tally: &mut Tally<'a>) {
    let Some(moisture) = &bench.model.board.moisture else { return };
    let percent = moisture.get().map(|share| share.to_parts() * 100.0);
    tally
        .measure("the board's wood holds {} of moisture")
        .reading(Place::Whole, percent)
        .input(moisture)
        .advise("let it rest in the shop's own climate until the meter says so");
}

/// STOCK-03: a listed species has its papers.
pub(super) fn papers<'a>(bench: &Bench<'a>, tally: &mut Tally<'a>) {
    let model = bench.model;
    let Some(wood) = tally.known(model.board.wood.get()) else { return };
    let Some(listing) = catalog::wood_named(&wood.id, &wood.name).and_then(catalog::Wood::listing) else { return };
    // The papers may stand at the derived line, or at a line of the commission's own that names the wood.
    let (id, name) = (wood.id.to_lowercase(), wood.name.to_lowercase());
    let has_papers = model.materials.iter().any(|line| {
        let what = line.what.to_lowercase();
        line.papers.as_ref().is_some_and(|papers| !papers.trim().is_empty())
            && (what.contains(&id) || what.contains(&name))
    });
    if has_papers {
        return;
    }
    let message = format!(
        "{} is a listed species, {}, appendix {}: no papers are named",
        wood.name, listing.taxon, listing.appendix
    );
    tally
        .fault_of(Severity::Warning, Place::Whole, message)
        .input(&model.board.wood)
        .advise(format!("a line of [[materials]], what = \"{}, for the board\", with its papers", wood.name))
        .advise(catalog::LISTING_PROMPT);
}

/// STOCK-05: what is taken from the shelf has a price.
pub(super) fn priced<'a>(bench: &Bench<'a>, tally: &mut Tally<'a>) {
    let shop = &bench.model.shop;
    let prices_at_all =
        shop.stock.iter().any(|item| item.price.is_some()) || shop.woods.iter().any(|wood| wood.price.is_some());
    if !prices_at_all {
        // A shop that names no price at all reckons elsewhere.
        return;
    }
    let mut rows: Vec<(String, Input<'a>)> = Vec::new();
    for line in stock::lines(bench.model, bench.design) {
        let Some(span) = line.shelf.unpriced.filter(|_| line.shelf.unit_price.is_none()) else { continue };
        let key = if line.from == "board.wood" { "wood.price" } else { "stock.price" };
        if !rows.iter().any(|(what, _)| what == line.what.words()) {
            rows.push((line.what.words().to_owned(), Input::line(key, span)));
        }
    }
    if rows.is_empty() {
        return;
    }
    let names: Vec<&str> = rows.iter().map(|(what, _)| what.as_str()).collect();
    let message = format!("the shop file has no price for: {}", names.join("; "));
    let fault = tally.fault_of(Severity::Warning, Place::Whole, message);
    for (_, input) in rows {
        fault.input(input);
    }
    fault.advise("write its price: until then the total is too low");
}

/// STOCK-06: the billet has a second board in it, should the first one be spoilt.
pub(super) fn second_board<'a>(bench: &Bench<'a>, tally: &mut Tally<'a>) {
    let board = &bench.model.board;
    let Some(Some(boards)) = tally.known(stock::boards_from_billet(bench.model, bench.design)) else { return };
    tally
        .measure("boards of this size out of the shop's billet: {}")
        .reading(Place::Whole, Ok(boards))
        .input(Input::unwritten("board.blank"))
        .input_if(board.blank_length.as_ref())
        .input_if(board.blank_width.as_ref())
        .input_if(board.blank_thickness.as_ref())
        .input(&board.thickness)
        .advise(if boards < 1.0 {
            "the blank does not come out of this billet: another piece, or a smaller blank"
        } else {
            "a smaller blank, or a larger billet"
        });
}

/// STOCK-07: waste is a share of what is used.
pub(super) fn waste<'a>(bench: &Bench<'a>, tally: &mut Tally<'a>) {
    for line in &bench.model.materials {
        let Some(waste) = line.waste else { continue };
        tally
            .measure(format!("{}: a waste of {{}}", line.what.replace(['{', '}'], "")))
            .reading(Place::Whole, Ok(waste.to_parts() * 100.0))
            .input(Input::line("materials.waste", line.waste_span))
            .advise("what is lost of it in cutting, as a share of what is used: \"10 %\" buys 1.1 times as much");
    }
}
