//! The lamps' circuit: ELEC-01 to -05, -07, -09, -10 and -12. Battery and wire have their own file.

use super::bench::{Bench, Lit};
use super::input::{Input, trimmed};
use super::place::Place;
use super::tally::Tally;
use crate::design::formulas::{group_drop, share_for_resistor};
use crate::design::lamps::circuit::{GroupCircuit, brightest_and_dimmest, groups_of};
use crate::diag::Severity;
use crate::diag::codes::{self, Bounds, Limit};
use crate::rounding;
use crate::spec::words::{Resistors, Series, Word};

/// What a resistor still needs across it when the battery counts as flat, volts. Common practice, no source.
const LEFT_FOR_THE_RESISTOR: f64 = 0.5;

/// The share of a lamp's most current above which it ages. Common practice, no source.
const EASY_ON_THE_LAMP: f64 = 0.8;

pub(super) fn groups<'a>(bench: &Bench<'a>, tally: &mut Tally<'a>) -> Option<(Lit<'a>, &'a [GroupCircuit])> {
    let lit = bench.lit()?;
    Some((lit, tally.known(lit.design.groups.as_deref().map_err(|missing| *missing))?))
}

/// ELEC-12: a group has a lamp at least, and no more than there are.
pub(super) fn group_size<'a>(bench: &Bench<'a>, tally: &mut Tally<'a>) {
    let Some(lit) = bench.lit() else { return };
    let in_series = &lit.circuit.in_series;
    let Some(size) = tally.known(in_series.get()) else { return };
    let Some(lamps) = tally.known(bench.design.markers.as_deref().map_err(|missing| *missing)).map(<[_]>::len) else {
        return;
    };
    let message = match usize::try_from(size) {
        Ok(0) => "no lamps to a group: at least 1".to_owned(),
        Ok(wanted) if wanted <= lamps => return,
        _ => format!("{size} lamps to a group, but the board has {lamps}"),
    };
    let fault = tally.fault(Place::Whole, message).input(in_series);
    fault.advise(if lamps > 0 { format!("1 to {lamps} lamps to a group") } else { "mark a fret first".to_owned() });
}

/// ELEC-07: the supply falls from fresh over nominal to low.
pub(super) fn order_of_supplies<'a>(bench: &Bench<'a>, tally: &mut Tally<'a>) {
    let Some(circuit) = bench.model.circuit.as_ref() else { return };
    let (low, nominal, fresh) = (&circuit.supply_low, &circuit.supply, &circuit.supply_fresh);
    let volts = |voltage: crate::units::Voltage| voltage.to_volts();
    let nominal_volts = tally.known(nominal.get()).map(volts);
    let low_volts = tally.known(low.get()).map(volts);
    let fresh_volts = tally.known(fresh.get()).map(volts);
    let Some(at) = nominal_volts else { return };
    if let Some(low_volts) = low_volts.filter(|low| *low >= at) {
        let message =
            format!("a low battery, {} V, must be lower than the nominal {} V", trimmed(low_volts), trimmed(at));
        let advice = "supply_low is what an empty battery still gives: below the nominal";
        tally.fault(Place::Whole, message).input(low).input(nominal).advise(advice);
    }
    if let Some(fresh_volts) = fresh_volts.filter(|fresh| *fresh < at) {
        let message =
            format!("a fresh battery, {} V, cannot be lower than the nominal {} V", trimmed(fresh_volts), trimmed(at));
        let advice = "supply_fresh is what a new battery gives: the nominal or more";
        tally.fault(Place::Whole, message).input(fresh).input(nominal).advise(advice);
    }
}

/// ELEC-01: the supply lights a full group, and still does when it is low.
pub(super) fn supply_lights<'a>(bench: &Bench<'a>, tally: &mut Tally<'a>) {
    let Some((lit, groups)) = groups(bench, tally) else { return };
    let (lamp, circuit) = (lit.lamp, lit.circuit);
    let known = (|| Ok((lamp.forward.get()?, circuit.supply.get()?, circuit.supply_low.get()?)))();
    let Some((forward, supply, low)) = tally.known(known) else { return };
    let (forward, supply, low) = (forward.to_volts(), supply.to_volts(), low.to_volts());
    let Some(full) = groups.iter().copied().reduce(|most, group| if group.lamps > most.lamps { group } else { most })
    else {
        return;
    };
    let sum = format!("{} × {} V = {} V", full.lamps, trimmed(forward), trimmed(full.drop));
    let (severity, message, holds) = if full.drop >= supply {
        (Severity::Error, format!("{sum}: never lights on {} V", trimmed(supply)), supply)
    } else if full.drop >= low - LEFT_FOR_THE_RESISTOR {
        let message = format!("{sum}: dark before the battery is down to {} V", trimmed(low));
        (Severity::Warning, message, low - LEFT_FOR_THE_RESISTOR)
    } else {
        return;
    };
    let fits = most_lamps(forward, |drop| drop < holds, full.lamps);
    let fault = tally.fault_of(severity, Place::Whole, message);
    fault
        .input(&circuit.in_series)
        .input(Input::from(&lamp.forward).or_by(lamp.pattern.as_ref()))
        .input(if severity == Severity::Error { &circuit.supply } else { &circuit.supply_low });
    fault.advise(match fits {
        Some(lamps) => format!("{lamps} or fewer lamps to a group"),
        None => "a higher supply: not even one lamp lights on this one".to_owned(),
    });
}

/// The most lamps to a group, fewer than there are now, whose drop suits.
fn most_lamps(forward: f64, suits: impl Fn(f64) -> bool, now: usize) -> Option<usize> {
    let drop = |lamps: usize| group_drop(f64::from(u32::try_from(lamps).unwrap_or(u32::MAX)), forward);
    (1..now).rev().find(|lamps| suits(drop(*lamps)))
}

/// ELEC-03: enough of the supply is left for the resistor that the brightness does not swing with the battery.
pub(super) fn left_for_resistor<'a>(bench: &Bench<'a>, tally: &mut Tally<'a>) {
    let Some((lit, groups)) = groups(bench, tally) else { return };
    let (lamp, circuit) = (lit.lamp, lit.circuit);
    let known = (|| Ok((lamp.forward.get()?.to_volts(), circuit.supply.get()?.to_volts())))();
    let Some((forward, supply)) = tally.known(known) else { return };
    let least = bench.limits.of_code(codes::ELEC_03).and_then(|limit| limit.warning.least).unwrap_or(0.0);
    let measure = tally.measure("{} of the supply is left for its resistor");
    measure
        .below_nothing("its lamps need {} more than the supply")
        .readings(groups.iter().enumerate().map(|(index, group)| (Place::Group(index + 1), Ok(group.for_resistor))))
        .input(&circuit.in_series)
        .input(Input::from(&lamp.forward).or_by(lamp.pattern.as_ref()))
        .input(&circuit.supply);
    let most = groups.iter().map(|group| group.lamps).max().unwrap_or(0);
    let drop = groups.iter().map(|group| group.drop).fold(0.0, f64::max);
    if let Some(lamps) = most_lamps(forward, |drop| share_for_resistor(supply, drop) >= least, most) {
        measure.advise(format!("{lamps} or fewer lamps to a group"));
    }
    if least < 100.0 {
        let volts = rounding::up(drop / (1.0 - least / 100.0), 0.1);
        measure.advise(format!("a supply of {} V or more", trimmed(volts)));
    }
}

/// ELEC-05: no group is much dimmer than another.
pub(super) fn alike<'a>(bench: &Bench<'a>, tally: &mut Tally<'a>) {
    let Some((lit, groups)) = groups(bench, tally) else { return };
    let circuit = lit.circuit;
    let Some((brightest, dimmest, difference)) = brightest_and_dimmest(groups) else { return };
    let current =
        |index: usize| format!("group {} gets {} mA", index + 1, rounding::fixed(groups[index].current * 1000.0, 2));
    let most = bench.limits.of_code(codes::ELEC_05).and_then(|limit| limit.warning.most).unwrap_or(0.0);
    let lamps = groups.iter().map(|group| group.lamps).sum();
    let evens_out = |series: &Series| {
        let groups = groups_of(lit.lamp, circuit, lamps, *series);
        groups.is_ok_and(|groups| brightest_and_dimmest(&groups).is_some_and(|(.., difference)| difference <= most))
    };
    let says = format!("{}, {}: {{}} less", current(brightest), current(dimmest));
    let measure = tally.measure(says);
    measure.reading(Place::Whole, Ok(difference)).input(&circuit.series).input(&circuit.in_series);
    match [Series::E12, Series::E24, Series::E96].iter().find(|series| evens_out(series)) {
        Some(series) => measure.advise(format!("resistors of the series {}", series.as_word())),
        None => measure.advise("as many lamps in each group"),
    };
}

/// ELEC-02: a fresh battery does not drive more through a lamp than it bears.
pub(super) fn fresh_current<'a>(bench: &Bench<'a>, tally: &mut Tally<'a>) {
    let Some((lit, groups)) = groups(bench, tally) else { return };
    let lamp = lit.lamp;
    let Some(most) = &lamp.max_current else { return };
    let Some(bears) = tally.known(most.get()).map(|current| current.to_amperes() * 1000.0) else { return };
    let at_most = |most: f64| Bounds { least: None, most: Some(most) };
    let limit = Limit {
        error: at_most(bears),
        warning: at_most(EASY_ON_THE_LAMP * bears),
        note: Bounds::default(),
        unit: "mA",
    };
    let by = lamp.pattern.as_ref();
    // The resistor is never smaller than the exact one, so the fresh current never more than its share of the wanted.
    let supplies = lit.circuit.supply.get().and_then(|supply| Ok((supply.to_volts(), lit.circuit.supply_fresh.get()?)));
    let easy = supplies.map(|(supply, fresh)| {
        let lights = groups.iter().filter(|group| group.resistor.is_some());
        let share = lights.map(|group| (supply - group.drop) / (fresh.to_volts() - group.drop));
        rounding::down(EASY_ON_THE_LAMP * bears * share.fold(f64::INFINITY, f64::min), 0.1)
    });
    let measure = tally.compare(limit, "{} on a fresh battery");
    measure
        .readings(
            groups.iter().enumerate().map(|(index, group)| (Place::Group(index + 1), Ok(group.current_fresh * 1000.0))),
        )
        .input(Input::from(&lamp.current).or_by(by))
        .input(Input::from(most).or_by(by))
        .input(&lit.circuit.supply_fresh);
    if let Some(easy) = easy.ok().filter(|easy| *easy > 0.0) {
        measure.advise(format!("a current of {} mA or less", trimmed(easy)));
    }
}

/// ELEC-04: no resistor turns more than half of what it may into heat.
pub(super) fn heat<'a>(bench: &Bench<'a>, tally: &mut Tally<'a>) {
    let Some((lit, groups)) = groups(bench, tally) else { return };
    let Some(rating) = &lit.circuit.resistor_rating else { return };
    let Some(bears) = tally.known(rating.get()).map(crate::units::Power::to_watts) else { return };
    let share = |group: &GroupCircuit| Ok(100.0 * group.heat / bears);
    let most = bench.limits.of_code(codes::ELEC_04).and_then(|limit| limit.error.most).unwrap_or(100.0);
    let hottest = groups.iter().map(|group| group.heat).fold(0.0, f64::max);
    let enough = rounding::up(100.0 * hottest / most, 0.001);
    tally
        .measure("its resistor gets {} of the heat it may have")
        .readings(groups.iter().enumerate().map(|(index, group)| (Place::Group(index + 1), share(group))))
        .input(rating)
        .input(&lit.circuit.supply_fresh)
        .advise(format!("resistors for {} W or more, or a smaller current", trimmed(enough)));
}

/// ELEC-09: the resistors lie where they can be changed.
pub(super) fn resistors<'a>(bench: &Bench<'a>, tally: &mut Tally<'a>) {
    let Some(lit) = bench.lit() else { return };
    let resistors = &lit.circuit.resistors;
    if tally.known(resistors.get()) == Some(Resistors::Board) {
        tally
            .fault_of(
                Severity::Warning,
                Place::Whole,
                "the resistors lie in the board, under epoxy: none can be changed once it is potted",
            )
            .input(resistors)
            .advise("resistors in the cavity: `resistors = \"cavity\"`");
    }
}

/// ELEC-10: the lamps can be switched off.
pub(super) fn switch<'a>(bench: &Bench<'a>, tally: &mut Tally<'a>) {
    let Some(lit) = bench.lit() else { return };
    if lit.circuit.switch.is_none() {
        tally
            .fault(Place::Whole, "no switch: the lamps would empty the battery in the case")
            .input(Input::line("electronics.lamps.switch", lit.circuit.header))
            .advise("say what switches them: `switch = \"push-pull on the tone control\"`");
    }
}
