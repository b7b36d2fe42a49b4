//! `[electronics]`: the lamps' circuit, and the audio side.

use crate::spec::reader::Least::{Any, MoreThanZero};
use crate::spec::size::Along;
use crate::spec::table::table;
use crate::spec::words::{PlaceAlong, Resistors, Series};
use crate::units::{Charge, Length, Power, Resistance, Voltage};

table! {
    /// `[electronics]`.
    ElectronicsTable {
        /// The lamps' circuit.
        lamps: LampCircuitTable => optional section(),
        /// Pickups.
        pickup: Vec<PickupTable> => optional rows(),
        /// Controls.
        control: Vec<ControlTable> => optional rows(),
        /// The output.
        output: OutputTable => optional section(),
    }
}

table! {
    /// `[electronics.lamps]`.
    LampCircuitTable {
        /// Nominal supply.
        supply: Voltage => required quantity(MoreThanZero),
        /// Supply of a fresh battery.
        supply_fresh: Voltage => required quantity(MoreThanZero),
        /// Supply at which the battery counts as flat.
        supply_low: Voltage => required quantity(MoreThanZero),
        /// What the battery holds.
        capacity: Charge => optional quantity(MoreThanZero),
        /// Lamps to a group, filled in lamp order.
        in_series: u32 => required count(),
        /// Where the resistors are.
        resistors: Resistors => required word(),
        /// What a resistor may turn into heat.
        resistor_rating: Power => optional quantity(MoreThanZero),
        /// The series of preferred values.
        series: Series => optional word(),
        /// The switch, in words.
        switch: String => optional name(),
        /// Outside diameter of the hook-up wire.
        hookup: Length => required quantity(MoreThanZero),
        /// Its gauge number.
        hookup_awg: u32 => optional count(),
        /// The battery's chemistry, in words.
        chemistry: String => optional name(),
    }
}

table! {
    /// `[[electronics.pickup]]`.
    PickupTable {
        /// Its name.
        name: String => required name(),
        /// What it is, in words.
        kind: String => optional name(),
        /// Its middle, along the centreline; from its pocket if there is one.
        place: PlaceAlong => optional along(Along::Anywhere, Any),
        /// How many leads it has.
        leads: u32 => optional count(),
    }
}

table! {
    /// `[[electronics.control]]`.
    ControlTable {
        /// Its name.
        name: String => required name(),
        /// Volume, tone, switch, or another in words.
        kind: String => optional name(),
        /// Its resistance.
        value: Resistance => optional quantity(MoreThanZero),
        /// Its taper, in words.
        taper: String => optional name(),
    }
}

table! {
    /// `[electronics.output]`.
    OutputTable {
        /// What it is, in words.
        kind: String => optional name(),
        /// What it is called on the sheets.
        name: String => optional name(),
    }
}
