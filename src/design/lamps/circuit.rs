//! The lamps' circuit: groups in parallel, each with its own resistor.
//!
//! Source: Ohm's law; preferred numbers of IEC 60063.

use crate::catalog::series;
use crate::design::formulas::{exact_resistor, group_current, group_drop, hours, resistor_heat};
use crate::model::{Known, Lamp, LampCircuit};

/// One group of lamps in series.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct GroupCircuit {
    /// How many lamps.
    pub lamps: usize,
    /// Voltage they take together.
    pub drop: f64,
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
}

/// The groups of `lamps` lamps.
///
/// # Errors
/// With the key that is open or cannot be used.
pub fn groups(lamp: &Lamp, circuit: &LampCircuit, lamps: usize) -> Known<Vec<GroupCircuit>> {
    let in_series = usize::try_from(circuit.in_series.get()?).unwrap_or(usize::MAX).max(1);
    let (forward, wanted) = (lamp.forward.get()?.to_volts(), lamp.current.get()?.to_amperes());
    let supply = circuit.supply.get()?.to_volts();
    let (fresh, low) = (circuit.supply_fresh.get()?.to_volts(), circuit.supply_low.get()?.to_volts());
    let preferred = circuit.series.get()?;
    let sizes = (0..lamps).step_by(in_series).map(|first| in_series.min(lamps - first));
    Ok(sizes
        .map(|size| {
            let drop = group_drop(f64::from(u32::try_from(size).unwrap_or(u32::MAX)), forward);
            let exact = exact_resistor(supply, drop, wanted);
            let resistor = series::next_up(exact, preferred);
            let current_at =
                |supply: f64| resistor.map_or(0.0, |resistor| group_current(supply, drop, resistor).max(0.0));
            let current_fresh = current_at(fresh);
            GroupCircuit {
                lamps: size,
                drop,
                exact_resistor: exact,
                resistor,
                current: current_at(supply),
                current_fresh,
                current_low: current_at(low),
                heat: resistor.map_or(0.0, |resistor| resistor_heat(current_fresh, resistor)),
            }
        })
        .collect())
}

impl GroupCircuit {
    /// The least and the most current, amperes, that a dry test passes on a battery of unknown charge: what a low
    /// battery drives, but never less than half the nominal (one lamp of another batch, or a wrong resistor); what a
    /// fresh one drives and a tenth more for the scatter of lamps and resistors. Common practice, no source.
    pub fn dry_range(&self) -> (f64, f64) {
        (self.current_low.max(self.current / 2.0), self.current_fresh * 1.1)
    }
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
