//! One home for each formula: the number, the printed formula and its named inputs come from the same tokens.
//!
//! [`formulas!`](crate::design::formula) makes a plain function of each and lists it; asking what a formula
//! looks like costs nothing when nobody asks. Lengths in millimetres, angles in radians, volts, amperes, ohms.

/// A formula as it is printed, with what it takes and gives.
#[derive(Debug, Clone, Copy)]
pub struct Formula {
    /// Its name: the function's.
    pub name: &'static str,
    /// What it says, in a sentence.
    pub says: &'static str,
    /// Its inputs by name, each with its unit.
    pub inputs: &'static [(&'static str, &'static str)],
    /// The unit of its value.
    pub unit: &'static str,
    /// The right-hand side as written.
    pub expression: &'static str,
    /// Gives the value for inputs in the order named.
    pub evaluate: fn(&[f64]) -> f64,
}

impl Formula {
    /// The right-hand side as it is printed: `tang + room + drop`, `length · 2^(−fret ÷ steps)`.
    pub fn printed(&self) -> String {
        self.expression
            .replace("exp2(", "2^(")
            .replace("sqrt(", "√(")
            .replace("PI", "π")
            .replace(" * ", " · ")
            .replace(" - ", " − ")
            .replace("(-", "(−")
            .replace(".0", "")
            .replace('_', " ")
    }
}

macro_rules! formulas {
    ($($(#[doc = $says:literal])+ $name:ident($($input:ident: $unit:literal),* $(,)?) -> $out:literal = $body:expr;)*) => {
        $($(#[doc = $says])+
        pub fn $name($($input: f64),*) -> f64 {
            $body
        })*

        /// The formulas of this file, in order.
        pub const FORMULAS: &[$crate::design::formula::Formula] = &[$($crate::design::formula::Formula {
            name: stringify!($name),
            says: concat!($($says),+),
            inputs: &[$((stringify!($input), $unit)),*],
            unit: $out,
            expression: stringify!($body),
            evaluate: |values| {
                let mut values = values.iter().copied();
                $(let $input = values.next().unwrap_or(f64::NAN);)*
                $name($($input),*)
            },
        }),*];
    };
}

pub(crate) use formulas;
