//! Quantities: what a builder writes with a unit, held so that no two kinds can be mixed.
//!
//! They guard the border between the commission file and the model. Inside `geom` and `design` lengths
//! are plain 64-bit millimetres (volts, amperes, ohms likewise), so that formulas read as formulas.

/// Millimetres in an inch: exact, by the international inch of 1959 (NIST SP 811, appendix B).
pub const MM_PER_INCH: f64 = 25.4;

macro_rules! quantity {
    ($(#[$doc:meta])* $name:ident, $base:ident, $to:ident, $kind:literal) => {
        $(#[$doc])*
        #[derive(Debug, Clone, Copy, PartialEq, PartialOrd, Default)]
        pub struct $name(f64);

        impl $name {
            /// Makes the quantity from a figure in its base unit.
            pub const fn $base(value: f64) -> Self {
                Self(value)
            }

            /// Gives the figure in the base unit.
            pub const fn $to(self) -> f64 {
                self.0
            }
        }

        impl Quantity for $name {
            const KIND: &'static str = $kind;

            fn from_base(value: f64) -> Self {
                Self(value)
            }

            fn base(self) -> f64 {
                self.0
            }
        }
    };
}

/// What all quantities share: a name for messages and a figure in the base unit.
pub trait Quantity: Copy {
    /// The kind in the words of a message: "a length".
    const KIND: &'static str;

    /// Makes the quantity from a figure in its base unit.
    fn from_base(value: f64) -> Self;

    /// The figure in the base unit.
    fn base(self) -> f64;
}

quantity! {
    /// A length; base unit the millimetre.
    Length, mm, to_mm, "a length"
}
quantity! {
    /// An angle; base unit the radian.
    Angle, radians, to_radians, "an angle"
}
quantity! {
    /// A voltage; base unit the volt.
    Voltage, volts, to_volts, "a voltage"
}
quantity! {
    /// A current; base unit the ampere.
    Current, amperes, to_amperes, "a current"
}
quantity! {
    /// A resistance; base unit the ohm.
    Resistance, ohms, to_ohms, "a resistance"
}
quantity! {
    /// A power; base unit the watt.
    Power, watts, to_watts, "a power"
}
quantity! {
    /// The charge of a battery; base unit the ampere-hour.
    Charge, ampere_hours, to_ampere_hours, "a capacity"
}
quantity! {
    /// A mass per length; base unit the gram per metre.
    LinearDensity, grams_per_metre, to_grams_per_metre, "a weight per length"
}
quantity! {
    /// A mass per volume; base unit the kilogram per cubic metre.
    Density, kilograms_per_cubic_metre, to_kilograms_per_cubic_metre, "a density"
}
quantity! {
    /// A span of time; base unit the minute.
    Duration, minutes, to_minutes, "a time"
}
quantity! {
    /// A share of a whole; base unit one (8.4 % is 0.084).
    Share, parts, to_parts, "a share"
}

impl Length {
    /// Makes a length from inches.
    pub const fn inches(value: f64) -> Self {
        Self(value * MM_PER_INCH)
    }

    /// Gives the length in inches.
    pub const fn to_inches(self) -> f64 {
        self.0 / MM_PER_INCH
    }
}

impl Angle {
    /// Makes an angle from degrees.
    pub const fn degrees(value: f64) -> Self {
        Self(value.to_radians())
    }

    /// Gives the angle in degrees.
    pub const fn to_degrees(self) -> f64 {
        self.0.to_degrees()
    }
}

/// The working unit of the sheets (`print_in`).
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum WorkingUnit {
    /// Millimetres.
    #[default]
    Millimetre,
    /// Inches, decimal, with thousandths.
    Inch,
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_inch_is_exactly_25_4_millimetres() {
        // NIST SP 811, appendix B.
        assert!((Length::inches(1.0).to_mm() - 25.4).abs() < 1e-15);
        assert!((Length::mm(25.4).to_inches() - 1.0).abs() < 1e-15);
    }
}
