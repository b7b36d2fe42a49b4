//! The lamps' circuit: groups in parallel, each with its own resistor.
//!
//! Source: Ohm's law; preferred numbers of IEC 60063.

use crate::catalog::{awg, series};
use crate::design::formulas::{
    difference_of_currents, exact_resistor, group_current, group_drop, hours, resistor_heat, share_for_resistor,
    share_lost_in_wire,
};
use crate::model::{Known, Lamp, LampCircuit};
use crate::spec::words::Series;

/// One group of lamps in series.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct GroupCircuit {
    /// How many lamps.
    pub lamps: usize,
    /// Voltage they take together.
    pub drop: f64,
    /// Share of the nominal supply left for its resistor, in hundredths; below zero in the dark.
    pub for_resistor: f64,
    /// The exact resistor; zero or less: the group stays dark.
    pub exact_resistor: f64,
    /// The preferred number at or above it; none in the dark.
    pub resistor: Option<f64>,
    /// Current at the nominal supply, amperes; 0 in the dark.
    pub current: f64,
    /// Current on a fresh battery.
    pub current_fresh: f64,
    /// Current on a low battery.
    pub current_low: f64,
    /// Heat in the resistor on a fresh battery, watts.
    pub heat: f64,
    /// The current with one lamp of the group bridged, amperes, at the nominal supply; none of a lamp alone, whose
    /// resistor then takes all.
    pub current_bridged: Option<f64>,
    /// The least and the most current, amperes, that a dry test passes on a battery that shows no less than the
    /// nominal and no more than the fresh voltage under load: lamps and resistor at the far ends of their tolerances.
    pub dry_range: (f64, f64),
}

/// How far a lamp's forward voltage may lie from that of its batch, volts. Common practice, no source.
const FORWARD_SCATTER: f64 = 0.1;

/// The groups of `lamps` lamps.
///
/// # Errors
/// With the key that is open or cannot be used.
pub fn groups(lamp: &Lamp, circuit: &LampCircuit, lamps: usize) -> Known<Vec<GroupCircuit>> {
    groups_of(lamp, circuit, lamps, circuit.series.get()?)
}

/// The groups of `lamps` lamps with resistors of another series.
///
/// # Errors
/// With the key that is open or cannot be used.
pub fn groups_of(lamp: &Lamp, circuit: &LampCircuit, lamps: usize, preferred: Series) -> Known<Vec<GroupCircuit>> {
    let in_series = usize::try_from(circuit.in_series.get()?).unwrap_or(usize::MAX).max(1);
    let (forward, wanted) = (lamp.forward.get()?.to_volts(), lamp.current.get()?.to_amperes());
    let supply = circuit.supply.get()?.to_volts();
    let (fresh, low) = (circuit.supply_fresh.get()?.to_volts(), circuit.supply_low.get()?.to_volts());
    let sizes = (0..lamps).step_by(in_series).map(|first| in_series.min(lamps - first));
    Ok(sizes
        .map(|size| {
            let drop = group_drop(f64::from(u32::try_from(size).unwrap_or(u32::MAX)), forward);
            let exact = exact_resistor(supply, drop, wanted);
            let resistor = series::next_up(exact, preferred);
            let current_at =
                |supply: f64| resistor.map_or(0.0, |resistor| group_current(supply, drop, resistor).max(0.0));
            let current_fresh = current_at(fresh);
            let scatter = FORWARD_SCATTER * f64::from(u32::try_from(size).unwrap_or(u32::MAX));
            let off = preferred.tolerance();
            let least = |resistor: f64| group_current(supply, drop + scatter, resistor * (1.0 + off));
            let most = |resistor: f64| group_current(fresh, drop - scatter, resistor * (1.0 - off));
            GroupCircuit {
                lamps: size,
                drop,
                for_resistor: share_for_resistor(supply, drop),
                exact_resistor: exact,
                resistor,
                current: current_at(supply),
                current_fresh,
                current_low: current_at(low),
                current_bridged: resistor
                    .filter(|_| size > 1)
                    .map(|resistor| group_current(supply, drop - forward, resistor)),
                heat: resistor.map_or(0.0, |resistor| resistor_heat(current_fresh, resistor)),
                dry_range: resistor
                    .map_or((0.0, 0.0), |resistor| (least(resistor).max(current_at(supply) / 2.0), most(resistor))),
            }
        })
        .collect())
}

/// All lamps' current together at the nominal supply, amperes.
pub fn total_current(groups: &[GroupCircuit]) -> f64 {
    groups.iter().map(|group| group.current).sum()
}

/// Hours a battery lasts; none where its capacity is not written.
///
/// # Errors
/// With the capacity's key when it is open or cannot be used.
pub fn battery_hours(circuit: &LampCircuit, groups: &[GroupCircuit]) -> Known<Option<f64>> {
    let Some(capacity) = &circuit.capacity else { return Ok(None) };
    let current = total_current(groups);
    let capacity = capacity.get()?.to_ampere_hours();
    Ok((current > 0.0).then(|| hours(capacity, current)))
}

/// The brightest and the dimmest group, by their index, and how much less the dimmest gets, in hundredths; none where
/// a group stays dark, or where there is none.
pub fn brightest_and_dimmest(groups: &[GroupCircuit]) -> Option<(usize, usize, f64)> {
    let by_current = |a: &usize, b: &usize| groups[*a].current.total_cmp(&groups[*b].current);
    let dimmest = (0..groups.len()).min_by(by_current).filter(|index| groups[*index].current > 0.0)?;
    // Of equals the first, as a reader counts.
    let brightest = (0..groups.len()).rev().max_by(by_current)?;
    let difference = difference_of_currents(groups[brightest].current, groups[dimmest].current);
    Some((brightest, dimmest, difference))
}

/// Share of the nominal supply that is lost in the wire, in hundredths: all the current through all of a `length` in
/// millimetres, the wire taken as solid copper of a gauge.
///
/// # Errors
/// With the supply's key when it is open or cannot be used.
pub fn lost_in_wire(circuit: &LampCircuit, groups: &[GroupCircuit], gauge: u32, length: f64) -> Known<f64> {
    let supply = circuit.supply.get()?.to_volts();
    Ok(share_lost_in_wire(total_current(groups), awg::ohm_per_metre(gauge), length, supply))
}
