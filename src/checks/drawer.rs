//! Tools that the shop has or has not: LAMP-09 and CHAN-13.

use super::bench::Bench;
use super::input::Input;
use super::message::millimetres;
use super::place::Place;
use super::tally::Tally;
use crate::diag::codes::{self, Bounds};
use crate::diag::{Code, Severity};
use crate::model::{Key, Lamp, SAME_SIZE, Sourced, Tool};
use crate::units::Length;

/// A kind of tool, and what is made with it.
struct Kind {
    key: Key,
    tool: &'static str,
    made: &'static str,
}

/// The size wanted, against the tools of a kind; `suits` says which other sizes would do. Without a list of the shop's
/// there is nothing to hold against.
fn has<'a>(
    tally: &mut Tally<'a>,
    kind: &Kind,
    tools: &'a [Tool],
    wanted: Input<'a>,
    size: &'a Sourced<Length>,
    suits: impl Fn(f64) -> bool,
) {
    if tools.is_empty() {
        return;
    }
    let Some(size) = tally.known(size.mm()) else { return };
    if tools.iter().any(|tool| (tool.size.to_mm() - size).abs() < SAME_SIZE) {
        return;
    }
    let (tool, shown) = (kind.tool, millimetres(size));
    let smaller = tools.iter().filter(|tool| tool.size.to_mm() < size);
    let smaller = smaller.max_by(|a, b| a.size.to_mm().total_cmp(&b.size.to_mm()));
    let larger = tools.iter().filter(|tool| tool.size.to_mm() > size);
    let larger = larger.min_by(|a, b| a.size.to_mm().total_cmp(&b.size.to_mm()));
    let nearest: Vec<&Tool> = smaller.into_iter().chain(larger).collect();
    let written: Vec<&str> = nearest.iter().map(|tool| tool.written.as_str()).collect();
    let are = if written.len() == 1 { "is" } else { "are" };
    let message = format!("no {tool} of {shown} in the drawer, next to it {are} {}", written.join(" and "));
    let fault = tally.fault_of(Severity::Warning, Place::Whole, message);
    fault.input(wanted);
    for tool in &nearest {
        fault.input(Input::line(kind.key, tool.span));
    }
    match nearest.iter().find(|tool| suits(tool.size.to_mm())) {
        Some(fits) => fault.advise(format!("{} of {}, or buy the {tool}", kind.made, millimetres(fits.size.to_mm()))),
        None => fault.advise(format!("buy a {tool} of {shown} before the trial cuts")),
    };
}

/// What a code's error allows.
fn allowed(bench: &Bench<'_>, code: Code) -> Bounds {
    bench.limits.of_code(code).map(|limit| limit.error).unwrap_or_default()
}

/// Whether a figure lies inside its bounds.
fn inside(bounds: Bounds, value: f64) -> bool {
    !super::limits::fails(bounds, value)
}

/// The bit in the drawer whose hole the lens goes into, the nearest to the hole that is written; none if none does.
pub(super) fn bit_for_the_lens<'a>(bench: &Bench<'a>, lamp: &Lamp) -> Option<&'a Tool> {
    let (hole, lens) = (lamp.hole.mm().ok()?, lamp.lens.mm().ok()?);
    let play = allowed(bench, codes::LAMP_08);
    let off = |tool: &Tool| (tool.size.to_mm() - hole).abs();
    let suits = bench.model.shop.tools.bits.iter().filter(|tool| inside(play, tool.size.to_mm() - lens));
    suits.min_by(|a, b| off(a).total_cmp(&off(b)))
}

/// LAMP-09: the shop has the bits for the lens and for its seat.
pub(super) fn bits<'a>(bench: &Bench<'a>, tally: &mut Tally<'a>) {
    let Some(lit) = bench.lit() else { return };
    let lamp = lit.lamp;
    let bits = bench.model.shop.tools.bits.as_slice();
    let by = |size: &'a Sourced<Length>| Input::from(size).or_by(lamp.pattern.as_ref());
    let hole = Kind { key: "tools.bits", tool: "bit", made: "a hole" };
    let play = allowed(bench, codes::LAMP_08);
    let lens_goes_in = |size: f64| lamp.lens.mm().is_ok_and(|lens| inside(play, size - lens));
    // Of a hole that the lens does not go into LAMP-08 says which bit would do.
    if lamp.hole.mm().map_or(true, lens_goes_in) {
        has(tally, &hole, bits, by(&lamp.hole), &lamp.hole, lens_goes_in);
    }
    let bore = Kind { made: "a counterbore", ..hole };
    let room = allowed(bench, codes::LAMP_03);
    let flange_goes_in = |size: f64| lamp.flange.mm().is_ok_and(|flange| inside(room, size - flange));
    has(tally, &bore, bits, by(&lamp.counterbore), &lamp.counterbore, flange_goes_in);
}

/// CHAN-13: the shop has the cutter for the channels.
pub(super) fn cutter<'a>(bench: &Bench<'a>, tally: &mut Tally<'a>) {
    let Some(lit) = bench.lit() else { return };
    let width = &lit.channels.width;
    let kind = Kind { key: "tools.cutters", tool: "cutter", made: "channels" };
    has(tally, &kind, &bench.model.shop.tools.cutters, Input::from(width), width, |_| true);
}
