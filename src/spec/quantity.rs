//! Quantities with their units, as a builder writes them.
//!
//! In: the text of a value and the dimension wanted. Out: the figure in the base unit, or the fault with the
//! code that it has. Units are compared exactly, with the common slips listed; `mW` and `MW` never meet.

use super::figure::{Unreadable, split_figure};
use crate::units::{
    Angle, Charge, Current, Density, Duration, Length, LinearDensity, Power, Quantity, Resistance, Share, Voltage,
};

/// A dimension of the commission file.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Dimension {
    /// Base unit mm.
    Length,
    /// Base unit radian.
    Angle,
    /// Base unit V.
    Voltage,
    /// Base unit A.
    Current,
    /// Base unit ohm.
    Resistance,
    /// Base unit W.
    Power,
    /// Base unit Ah.
    Charge,
    /// Base unit g/m.
    LinearDensity,
    /// Base unit kg/m3.
    Density,
    /// Base unit minute.
    Duration,
    /// Base unit one.
    Share,
    /// Base unit N; only in limits.
    Force,
}

impl Dimension {
    /// The kind in the words of a message.
    pub const fn kind(self) -> &'static str {
        match self {
            Self::Length => Length::KIND,
            Self::Angle => Angle::KIND,
            Self::Voltage => Voltage::KIND,
            Self::Current => Current::KIND,
            Self::Resistance => Resistance::KIND,
            Self::Power => Power::KIND,
            Self::Charge => Charge::KIND,
            Self::LinearDensity => LinearDensity::KIND,
            Self::Density => Density::KIND,
            Self::Duration => Duration::KIND,
            Self::Share => Share::KIND,
            Self::Force => "a force",
        }
    }

    /// The units in which a builder writes it, for messages.
    pub const fn units(self) -> &'static str {
        match self {
            Self::Length => "mm or in",
            Self::Angle => "deg",
            Self::Voltage => "V",
            Self::Current => "mA or A",
            Self::Resistance => "ohm or kohm",
            Self::Power => "W or mW",
            Self::Charge => "mAh or Ah",
            Self::LinearDensity => "g/m",
            Self::Density => "kg/m3",
            Self::Duration => "min or h",
            Self::Share => "%",
            Self::Force => "N",
        }
    }

    /// The unit that a message puts behind a bare figure.
    pub const fn usual_unit(self) -> &'static str {
        match self {
            Self::Length => "mm",
            Self::Current => "mA",
            Self::Resistance => "ohm",
            Self::Power => "W",
            Self::Charge => "mAh",
            Self::Duration => "min",
            Self::Angle | Self::Voltage | Self::LinearDensity | Self::Density | Self::Share | Self::Force => {
                self.units()
            }
        }
    }

    /// The greatest magnitude in the base unit that is taken for meant: far above anything built.
    const fn most(self) -> f64 {
        match self {
            // A kilometre of stick, a hundred turns, ten thousand per cent.
            Self::Length => 1e6,
            Self::Angle => 628.4,
            Self::Share => 100.0,
            _ => 1e9,
        }
    }
}

/// A quantity whose dimension the reader knows from its type.
pub trait Measure: Quantity {
    /// Its dimension.
    const DIMENSION: Dimension;
}

macro_rules! measures {
    ($($name:ident),*) => {
        $(impl Measure for $name {
            const DIMENSION: Dimension = Dimension::$name;
        })*
    };
}
measures!(Length, Angle, Voltage, Current, Resistance, Power, Charge, LinearDensity, Density, Duration, Share);

/// Every spelling of a unit, its dimension, and what one is in the base unit.
///
/// Inch: international inch (NIST SP 811). Pound-force 4.4482216 N (NIST SP 811, appendix B).
const UNITS: &[(&[&str], Dimension, f64)] = &[
    (&["mm", "MM", "millimetre", "millimetres", "millimeter", "millimeters"], Dimension::Length, 1.0),
    (&["cm", "CM", "centimetre", "centimetres", "centimeter", "centimeters"], Dimension::Length, 10.0),
    (&["m", "metre", "metres", "meter", "meters"], Dimension::Length, 1000.0),
    (&["in", "IN", "In", "in.", "inch", "inches", "Inch", "Inches", "\"", "″", "”"], Dimension::Length, 25.4),
    (&["deg", "degree", "degrees", "°"], Dimension::Angle, std::f64::consts::PI / 180.0),
    (&["V", "v", "volt", "volts", "Volt", "Volts"], Dimension::Voltage, 1.0),
    (&["mV"], Dimension::Voltage, 0.001),
    (&["A", "amp", "amps", "ampere", "amperes"], Dimension::Current, 1.0),
    (&["mA", "ma", "milliamp", "milliamps"], Dimension::Current, 0.001),
    (&["µA", "μA", "uA"], Dimension::Current, 0.000_001),
    (&["Ah"], Dimension::Charge, 1.0),
    (&["mAh", "mah"], Dimension::Charge, 0.001),
    (&["ohm", "ohms", "Ohm", "Ohms", "Ω", "Ω"], Dimension::Resistance, 1.0),
    (&["kohm", "kohms", "kOhm", "kOhms", "kΩ", "kΩ"], Dimension::Resistance, 1000.0),
    (&["Mohm", "Mohms", "MOhm", "MΩ", "MΩ"], Dimension::Resistance, 1_000_000.0),
    (&["W", "w", "watt", "watts", "Watt", "Watts"], Dimension::Power, 1.0),
    (&["mW"], Dimension::Power, 0.001),
    (&["g/m"], Dimension::LinearDensity, 1.0),
    (&["kg/m"], Dimension::LinearDensity, 1000.0),
    (&["kg/m3", "kg/m³", "kg/m^3"], Dimension::Density, 1.0),
    (&["g/cm3", "g/cm³", "g/cm^3"], Dimension::Density, 1000.0),
    (&["s", "sec", "second", "seconds"], Dimension::Duration, 1.0 / 60.0),
    (&["min", "minute", "minutes"], Dimension::Duration, 1.0),
    (&["h", "hour", "hours"], Dimension::Duration, 60.0),
    (&["d", "day", "days"], Dimension::Duration, 1440.0),
    (&["%", "percent", "per cent"], Dimension::Share, 0.01),
    (&["N", "newton", "newtons"], Dimension::Force, 1.0),
    (&["lbf"], Dimension::Force, 4.448_221_6),
];

/// What a unit's spelling means: its dimension and what one is in the base unit.
pub(crate) fn unit(spelling: &str) -> Option<(Dimension, f64)> {
    let spelling = spelling.split_whitespace().collect::<Vec<_>>().join(" ");
    // A space round the slash of "g / m" is nothing to stumble over.
    let spelling = spelling.replace(" / ", "/");
    UNITS.iter().find(|(spellings, ..)| spellings.contains(&spelling.as_str())).map(|(_, kind, one)| (*kind, *one))
}

/// What is the matter with a quantity.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum Fault {
    /// No unit behind the figure.
    NoUnit(f64),
    /// A unit of another kind, as written.
    WrongKind(String),
    /// It cannot be read, and why.
    Unreadable(Unreadable),
}

/// Reads a figure with a unit, of whatever dimension.
pub(crate) fn any_quantity(text: &str) -> Result<(Dimension, f64), Fault> {
    let (figure, rest) = split_figure(text).map_err(Fault::Unreadable)?;
    if rest.is_empty() {
        return Err(Fault::NoUnit(figure));
    }
    let Some((dimension, one)) = unit(rest) else {
        return Err(Fault::Unreadable(unknown_unit(rest)));
    };
    let value = figure * one;
    if !value.is_finite() || value.abs() > dimension.most() {
        return Err(Fault::Unreadable("it is far larger than anything that is built".to_owned()));
    }
    if value != 0.0 && value.abs() < 1e-9 {
        return Err(Fault::Unreadable("it is smaller than anything that can be made".to_owned()));
    }
    Ok((dimension, value))
}

/// Reads a quantity of one kind; gives the figure in its base unit.
pub(crate) fn quantity<T: Measure>(text: &str) -> Result<T, Fault> {
    let (dimension, value) = any_quantity(text)?;
    if dimension == T::DIMENSION {
        Ok(T::from_base(value))
    } else {
        let unit = split_figure(text).map_or("", |(_, rest)| rest);
        Err(Fault::WrongKind(unit.to_owned()))
    }
}

fn unknown_unit(spelling: &str) -> Unreadable {
    let shown: String = spelling.chars().take(24).collect();
    if shown.chars().any(|c| c.is_ascii_digit()) && unit(spelling).is_none() {
        return format!("`{shown}` behind the figure cannot be read");
    }
    let known = UNITS.iter().map(|(spellings, ..)| spellings[0]);
    match super::nearest::nearest(&shown, known) {
        Some(near) => format!("`{shown}` is not a unit; did you mean `{near}`?"),
        None => format!("`{shown}` is not a unit"),
    }
}

/// A price in the shop's currency.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct Price(pub f64);

/// What is the matter with a price.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum PriceFault {
    /// Something stands behind the figure.
    WithUnit(String),
    /// It cannot be read, and why.
    Unreadable(Unreadable),
}

/// Reads a price: a figure that stands without a unit.
pub(crate) fn price(text: &str) -> Result<Price, PriceFault> {
    let (figure, rest) = split_figure(text).map_err(PriceFault::Unreadable)?;
    if !rest.is_empty() {
        return Err(PriceFault::WithUnit(rest.to_owned()));
    }
    if figure > 1e9 {
        return Err(PriceFault::Unreadable("it is far larger than anything that is bought".to_owned()));
    }
    Ok(Price(figure))
}

/// Parts of one thing to parts of another: `2 : 1`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Ratio {
    /// Parts of the first.
    pub first: f64,
    /// Parts of the second.
    pub second: f64,
}

/// Reads a proportion such as `2 : 1` or `100:45`.
pub(crate) fn ratio(text: &str) -> Result<Ratio, Unreadable> {
    let (first, second) = text.split_once(':').ok_or("a proportion has a colon between its parts")?;
    let part = |text: &str| match split_figure(text)? {
        (figure, "") if figure > 0.0 && figure <= 1e6 => Ok(figure),
        (_, "") => Err("both parts of a proportion must be more than zero".to_owned()),
        (_, rest) => Err(format!("`{}` does not belong into a proportion", rest.chars().take(24).collect::<String>())),
    };
    Ok(Ratio { first: part(first)?, second: part(second)? })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn each_unit_gives_its_base() {
        let base = |text: &str| any_quantity(text).unwrap();
        for (text, dimension, value) in [
            ("25 1/2 in", Dimension::Length, 647.7),
            ("25½″", Dimension::Length, 647.7),
            ("25.5\"", Dimension::Length, 647.7),
            ("3/32 inch", Dimension::Length, 2.381_25),
            ("628.5 mm", Dimension::Length, 628.5),
            ("62.85 cm", Dimension::Length, 628.5),
            ("1.5 deg", Dimension::Angle, 0.026_179_938_779_914_945),
            ("9 V", Dimension::Voltage, 9.0),
            ("4 mA", Dimension::Current, 0.004),
            ("0.02 A", Dimension::Current, 0.02),
            ("350 mAh", Dimension::Charge, 0.35),
            ("470 ohm", Dimension::Resistance, 470.0),
            ("470 Ω", Dimension::Resistance, 470.0),
            ("500 kohm", Dimension::Resistance, 500_000.0),
            ("0.125 W", Dimension::Power, 0.125),
            ("125 mW", Dimension::Power, 0.125),
            ("1/8 W", Dimension::Power, 0.125),
            ("6.9 g/m", Dimension::LinearDensity, 6.9),
            ("30 min", Dimension::Duration, 30.0),
            ("24 h", Dimension::Duration, 1440.0),
            ("3 days", Dimension::Duration, 4320.0),
            ("8.4 %", Dimension::Share, 0.084),
            ("8.4%", Dimension::Share, 0.084),
            ("870 kg/m3", Dimension::Density, 870.0),
            ("0.87 g/cm³", Dimension::Density, 870.0),
            ("900 N", Dimension::Force, 900.0),
        ] {
            let (read_dimension, read) = base(text);
            assert_eq!(read_dimension, dimension, "{text}");
            assert!((read - value).abs() <= 1e-12 * value.abs().max(1.0), "{text}: {read}");
        }
    }

    #[test]
    fn the_fault_of_a_quantity_is_named() {
        assert_eq!(quantity::<Length>("26.25"), Err(Fault::NoUnit(26.25)));
        assert_eq!(quantity::<Voltage>("2.9 mm"), Err(Fault::WrongKind("mm".to_owned())));
        let unreadable = |text: &str| match quantity::<Length>(text) {
            Err(Fault::Unreadable(why)) => why,
            other => panic!("{text}: {other:?}"),
        };
        assert_eq!(unreadable("25 inn"), "`inn` is not a unit; did you mean `in`?");
        assert_eq!(unreadable("25 furlong"), "`furlong` is not a unit");
        assert_eq!(unreadable("5 in 3 mm"), "`in 3 mm` behind the figure cannot be read");
        assert_eq!(unreadable("99999999 mm"), "it is far larger than anything that is built");
        assert_eq!(unreadable("0.0000000000001 mm"), "it is smaller than anything that can be made");
        let digits = format!("{} mm", "9".repeat(400));
        assert_eq!(unreadable(&digits), "it is far larger than anything that is built");
    }

    #[test]
    fn a_megawatt_is_not_a_milliwatt() {
        assert_eq!(unit("mW"), Some((Dimension::Power, 0.001)));
        assert_eq!(unit("MW"), None);
        assert_eq!(unit("mohm"), None);
    }

    #[test]
    fn a_price_stands_alone_and_a_mix_has_two_parts() {
        assert_eq!(price("3.50"), Ok(Price(3.5)));
        assert_eq!(price("3.50 EUR"), Err(PriceFault::WithUnit("EUR".to_owned())));
        assert_eq!(ratio("2 : 1"), Ok(Ratio { first: 2.0, second: 1.0 }));
        assert_eq!(ratio("100:45"), Ok(Ratio { first: 100.0, second: 45.0 }));
        assert_eq!(ratio("2 : 0").unwrap_err(), "both parts of a proportion must be more than zero");
        assert_eq!(ratio("2").unwrap_err(), "a proportion has a colon between its parts");
    }
}
