//! The lamps' circuit: ELEC-01, -02, -04, -07, -10 and -12.

use super::bench::{Bench, Lit};
use super::input::{Input, trimmed};
use super::place::Place;
use super::tally::Tally;
use crate::design::lamps::circuit::GroupCircuit;
use crate::diag::Severity;
use crate::diag::codes::{Bounds, Limit};

/// What a resistor still needs across it when the battery counts as flat, volts. Common practice, no source.
const LEFT_FOR_THE_RESISTOR: f64 = 0.5;

/// The share of a lamp's most current above which it ages. Common practice, no source.
const EASY_ON_THE_LAMP: f64 = 0.8;

fn groups<'a>(bench: &Bench<'a>, tally: &mut Tally<'a>) -> Option<(Lit<'a>, &'a [GroupCircuit])> {
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
    tally.fault(Place::Whole, message).input(in_series);
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
        tally.fault(Place::Whole, message).input(low).input(nominal);
    }
    if let Some(fresh_volts) = fresh_volts.filter(|fresh| *fresh < at) {
        let message =
            format!("a fresh battery, {} V, cannot be lower than the nominal {} V", trimmed(fresh_volts), trimmed(at));
        tally.fault(Place::Whole, message).input(fresh).input(nominal);
    }
}

/// ELEC-01: the supply lights a full group, and still does when it is low.
pub(super) fn group_drop<'a>(bench: &Bench<'a>, tally: &mut Tally<'a>) {
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
    let fits =
        (1..full.lamps).rev().find(|lamps| f64::from(u32::try_from(*lamps).unwrap_or(u32::MAX)) * forward < holds);
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

/// ELEC-02: a fresh battery does not drive more through a lamp than it bears.
pub(super) fn fresh_current<'a>(bench: &Bench<'a>, tally: &mut Tally<'a>) {
    let Some((lit, groups)) = groups(bench, tally) else { return };
    let lamp = lit.lamp;
    let Some(most) = &lamp.max_current else { return };
    let Some(bears) = tally.known(most.get()).map(|current| current.to_amperes() * 1000.0) else { return };
    let at_most = |most: f64| Bounds { least: None, most: Some(most) };
    let limit = Limit { error: at_most(bears), warning: at_most(EASY_ON_THE_LAMP * bears), unit: "mA" };
    let by = lamp.pattern.as_ref();
    tally
        .compare(limit, "{} on a fresh battery")
        .readings(
            groups.iter().enumerate().map(|(index, group)| (Place::Group(index + 1), Ok(group.current_fresh * 1000.0))),
        )
        .input(Input::from(&lamp.current).or_by(by))
        .input(Input::from(most).or_by(by))
        .input(&lit.circuit.supply_fresh)
        .advise("a smaller current");
}

/// ELEC-04: no resistor turns more than half of what it may into heat.
pub(super) fn heat<'a>(bench: &Bench<'a>, tally: &mut Tally<'a>) {
    let Some((lit, groups)) = groups(bench, tally) else { return };
    let Some(rating) = &lit.circuit.resistor_rating else { return };
    let Some(bears) = tally.known(rating.get()).map(crate::units::Power::to_watts) else { return };
    let share = |group: &GroupCircuit| Ok(100.0 * group.heat / bears);
    tally
        .measure("its resistor gets {} of the heat it may have")
        .readings(groups.iter().enumerate().map(|(index, group)| (Place::Group(index + 1), share(group))))
        .input(rating)
        .input(&lit.circuit.supply_fresh)
        .advise("resistors of a higher rating, or a smaller current");
}

/// ELEC-10: the lamps can be switched off.
pub(super) fn switch<'a>(bench: &Bench<'a>, tally: &mut Tally<'a>) {
    let Some(lit) = bench.lit() else { return };
    if lit.circuit.switch.is_none() {
        tally
            .fault(Place::Whole, "no switch: the lamps would empty the battery in the case")
            .input(Input::unwritten("electronics.lamps.switch"))
            .input(&lit.circuit.supply)
            .advise("say what switches them: `switch = \"push-pull on the tone control\"`");
    }
}
