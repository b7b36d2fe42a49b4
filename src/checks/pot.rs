//! Potting: POT-01 and -02.

use super::bench::Bench;
use super::place::Place;
use super::tally::{Tally, wants_at_most};
use crate::design::formulas::largest_batch;
use crate::rounding;

/// POT-01: what is mixed at once is poured before it sets.
pub(super) fn batch<'a>(bench: &Bench<'a>, tally: &mut Tally<'a>) {
    let (Some(lit), Some(pot_life)) = (bench.lit(), &bench.model.shop.epoxy.pot_life) else { return };
    let Some(poured) = bench.limits.of_code(tally.code).and_then(|limit| limit.warning.most) else { return };
    let known = (|| {
        let potting = lit.design.potting.as_ref().map_err(|missing| *missing)?;
        Ok((potting.mix, pot_life.get()?.to_minutes()))
    })();
    let Some((mix, minutes)) = tally.known(known) else { return };
    let most = largest_batch(poured, minutes).max(0.0);
    let measure =
        tally.compare(wants_at_most(most, "ml"), "{} of epoxy in one batch, more than is poured in its pot life");
    measure.reading(Place::Whole, Ok(mix)).input(pot_life).input(&lit.channels.depth);
    measure.advise(if most > 0.0 {
        let batches = rounding::fixed(rounding::up(mix / most, 1.0), 0);
        format!("mix it in {batches} batches, one after the other")
    } else {
        "an epoxy with a longer pot life".to_owned()
    });
}

/// POT-02: no pour is deeper than the maker of the epoxy allows.
pub(super) fn pour_depth<'a>(bench: &Bench<'a>, tally: &mut Tally<'a>) {
    let (Some(lit), Some(deepest)) = (bench.lit(), &bench.model.shop.epoxy.pour_depth) else { return };
    let depth = &lit.channels.depth;
    let Some(most) = tally.known(deepest.mm()) else { return };
    let seats = tally.known(lit.design.seats.as_deref().map_err(|missing| *missing));
    let measure = tally.compare(wants_at_most(most, "mm"), "epoxy would stand {} deep, more than one pour may");
    measure.reading(Place::Whole, depth.mm());
    for seat in seats.into_iter().flatten() {
        measure.reading(Place::Lamp(seat.lamp, seat.fret), seat.seat);
    }
    measure.input(depth).input(deepest).advise("pour in two layers, the second when the first has cooled");
}
