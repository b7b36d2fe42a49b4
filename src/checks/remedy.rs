//! What would pass: the value of a key at which a check falls silent, from the way the check's figure follows it.

use super::input::InWords;
use crate::model::{Key, Sourced};
use crate::rounding;
use crate::units::{Length, MM_PER_INCH};

/// The step to which a passing value is printed, in millimetres.
pub(super) const STEP: f64 = 0.01;
/// The same where the value was written in inches, beside the millimetres, in inches.
pub(super) const INCH_STEP: f64 = 0.001;

/// One way to make a check pass: another value of one key, all others left alone.
#[derive(Debug, Clone, Copy)]
pub struct Remedy {
    key: Key,
    now: f64,
    follows: Follows,
    /// Whether the value was written in inches: then the one that passes is told in them too.
    in_inches: bool,
    words: &'static str,
}

/// How a check's figure follows the key.
#[derive(Debug, Clone, Copy)]
enum Follows {
    /// By so much for each millimetre.
    Slope(f64),
    /// By a power: twice the key, 2ᵖ times the figure.
    Power(f64),
    /// Inversely to the key and so much besides: twice both together, half the figure.
    InverseWith(f64),
}

/// A value of a key that would pass.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Passing {
    /// The key.
    pub key: Key,
    /// The value in millimetres, already rounded to the side that passes.
    pub millimetres: f64,
    /// The same in inches, rounded to the same side; none where the value was not written in them.
    pub inches: Option<f64>,
    /// What it would be: "a board of {} or thicker".
    words: &'static str,
}

impl Remedy {
    /// A key whose every millimetre moves the check's figure by `slope`.
    pub(super) fn slope(value: &Sourced<Length>, slope: f64, words: &'static str) -> Option<Self> {
        Self::new(value, Follows::Slope(slope), words)
    }

    /// The same for a key that holds a length among other things.
    pub(super) fn of_length(key: Key, now: Length, slope: f64, words: &'static str) -> Self {
        Self { key, now: now.to_mm(), follows: Follows::Slope(slope), in_inches: false, words }
    }

    /// A key whose `power` the check's figure is in proportion to.
    pub(super) fn power(value: &Sourced<Length>, power: f64, words: &'static str) -> Option<Self> {
        Self::new(value, Follows::Power(power), words)
    }

    /// A key that, together with `besides`, the check's figure is in inverse proportion to.
    pub(super) fn inverse(value: &Sourced<Length>, besides: f64, words: &'static str) -> Option<Self> {
        Self::new(value, Follows::InverseWith(besides), words)
    }

    fn new(value: &Sourced<Length>, follows: Follows, words: &'static str) -> Option<Self> {
        let now = value.mm().ok()?;
        let unit = value.written.trim_start_matches(|c: char| !c.is_alphabetic() && !"\"″”".contains(c)).to_lowercase();
        let in_inches = unit.starts_with("in") || unit.starts_with(['"', '″', '”']);
        Some(Self { key: value.key, now, follows, in_inches, words })
    }

    /// The value that brings the figure from where it is to where it passes; none where no length could.
    pub(super) fn passing(&self, figure: f64, target: f64) -> Option<Passing> {
        let exact = match self.follows {
            Follows::Slope(slope) => self.now + (target - figure) / slope,
            Follows::Power(power) => self.now * libm::pow(target / figure, 1.0 / power),
            Follows::InverseWith(besides) => (self.now + besides) * figure / target - besides,
        };
        let toward = if exact > self.now { rounding::up } else { rounding::down };
        let millimetres = toward(exact, STEP);
        let inches = self.in_inches.then(|| toward(exact / MM_PER_INCH, INCH_STEP));
        let passing = Passing { key: self.key, millimetres, inches, words: self.words };
        (exact.is_finite() && millimetres > 0.0).then_some(passing)
    }
}

impl Passing {
    /// The remedy in words.
    pub fn in_words(&self) -> String {
        let millimetres = Length::mm(self.millimetres).in_words();
        let value = match self.inches {
            Some(inches) => format!("{millimetres} ({} in)", rounding::fixed(inches, 3)),
            None => millimetres,
        };
        self.words.replacen("{}", &value, 1)
    }
}
