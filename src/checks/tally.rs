//! What the checks write down: figures with their places and limits, and plain faults. No message yet.

use std::borrow::Cow;

use super::input::Input;
use super::limits::{self, Limits};
use super::place::Place;
use super::remedy::Remedy;
use crate::diag::codes::{Bounds, Limit};
use crate::diag::{Code, Severity};
use crate::model::{Key, Known};

/// What one check found.
pub struct Tally<'a> {
    pub(super) code: Code,
    limits: Limits<'a>,
    pub(super) measures: Vec<Measure<'a>>,
    pub(super) faults: Vec<Fault<'a>>,
    waits: Vec<Key>,
}

/// One figure at one place.
#[derive(Clone, Copy)]
pub(super) struct Reading<'a> {
    pub(super) place: Place,
    pub(super) value: f64,
    /// The key to point at, where it is another than the measure's.
    pub(super) key: Option<Input<'a>>,
}

/// Figures of one kind against one limit.
pub struct Measure<'a> {
    /// The fact, `{}` standing for the figure with its unit.
    pub(super) says: Cow<'static, str>,
    /// The same of a figure below nothing, which is then named without its sign.
    pub(super) below: Option<Cow<'static, str>>,
    pub(super) limit: Limit,
    pub(super) readings: Vec<Reading<'a>>,
    pub(super) inputs: Vec<Input<'a>>,
    pub(super) remedies: Vec<Remedy>,
    pub(super) advice: Vec<String>,
    waits: Vec<Key>,
}

/// A fault that is no figure against a limit.
pub struct Fault<'a> {
    pub(super) severity: Severity,
    pub(super) place: Place,
    pub(super) message: String,
    pub(super) inputs: Vec<Input<'a>>,
    pub(super) advice: Vec<String>,
}

/// How far the worst figure is inside its limits; minus: outside.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Slack {
    /// To the bound of the error; infinite without one.
    pub error: f64,
    /// To the bound of the warning; infinite without one.
    pub warning: f64,
}

impl<'a> Tally<'a> {
    pub(super) fn new(code: Code, limits: Limits<'a>) -> Self {
        Self { code, limits, measures: Vec::new(), faults: Vec::new(), waits: Vec::new() }
    }

    /// Figures against the code's own limit.
    pub(super) fn measure(&mut self, says: impl Into<Cow<'static, str>>) -> &mut Measure<'a> {
        let limit = self.limits.of_code(self.code).expect("a code whose check measures has a limit in the table");
        self.against(limit, says)
    }

    /// Figures against a limit that takes another value into account; who changed the code's limit changed this one.
    pub(super) fn measure_against(&mut self, limit: Limit, says: impl Into<Cow<'static, str>>) -> &mut Measure<'a> {
        let limit = self.limits.changed(self.code, limit);
        self.against(limit, says)
    }

    /// Figures against another value of the commission, which no override of the code's limit touches.
    pub(super) fn compare(&mut self, limit: Limit, says: impl Into<Cow<'static, str>>) -> &mut Measure<'a> {
        self.against(limit, says)
    }

    fn against(&mut self, limit: Limit, says: impl Into<Cow<'static, str>>) -> &mut Measure<'a> {
        self.measures.push(Measure {
            says: says.into(),
            below: None,
            limit,
            readings: Vec::new(),
            inputs: Vec::new(),
            remedies: Vec::new(),
            advice: Vec::new(),
            waits: Vec::new(),
        });
        self.measures.last_mut().expect("one was just pushed")
    }

    /// A fault that stops the packet.
    pub(super) fn fault(&mut self, place: Place, message: impl Into<String>) -> &mut Fault<'a> {
        self.fault_of(Severity::Error, place, message)
    }

    /// A fault of a gravity.
    pub(super) fn fault_of(&mut self, severity: Severity, place: Place, message: impl Into<String>) -> &mut Fault<'a> {
        let (inputs, advice) = (Vec::new(), Vec::new());
        self.faults.push(Fault { severity, place, message: message.into(), inputs, advice });
        self.faults.last_mut().expect("one was just pushed")
    }

    /// Hands a value over, or notes the key that the check waits for.
    pub(super) fn known<T>(&mut self, value: Known<T>) -> Option<T> {
        match value {
            Ok(value) => Some(value),
            Err(missing) => {
                note(&mut self.waits, missing.key);
                None
            }
        }
    }

    /// The keys that some of the check waits for, each once.
    pub(super) fn waits(&self) -> Vec<Key> {
        let mut all = self.waits.clone();
        for key in self.measures.iter().flat_map(|measure| &measure.waits) {
            note(&mut all, key);
        }
        all
    }

    /// The least slack of all figures; none without a figure.
    pub(super) fn slack(&self) -> Option<Slack> {
        self.measures.iter().filter_map(least).reduce(Slack::or_worse)
    }
}

impl Slack {
    fn or_worse(self, other: Self) -> Self {
        Self { error: self.error.min(other.error), warning: self.warning.min(other.warning) }
    }
}

/// The least slack of one measure; none without a figure.
pub(super) fn least(measure: &Measure<'_>) -> Option<Slack> {
    let slacks = measure.readings.iter().map(|reading| Slack {
        error: limits::slack(measure.limit.error, reading.value),
        warning: limits::slack(measure.limit.warning, reading.value),
    });
    slacks.reduce(Slack::or_worse)
}

impl<'a> Measure<'a> {
    /// Says the fact in other words where the figure is below nothing: "cuts {} into" for "leaves −{} under".
    pub(super) fn below_nothing(&mut self, says: impl Into<Cow<'static, str>>) -> &mut Self {
        self.below = Some(says.into());
        self
    }

    /// Takes a figure, or notes the key that it waits for.
    pub(super) fn reading(&mut self, place: Place, value: Known<f64>) -> &mut Self {
        self.take(place, value, None)
    }

    /// Takes a figure that is another key's doing than the measure's.
    pub(super) fn reading_of(&mut self, key: impl Into<Input<'a>>, place: Place, value: Known<f64>) -> &mut Self {
        self.take(place, value, Some(key.into()))
    }

    /// Takes many.
    pub(super) fn readings(&mut self, readings: impl IntoIterator<Item = (Place, Known<f64>)>) -> &mut Self {
        for (place, value) in readings {
            self.take(place, value, None);
        }
        self
    }

    fn take(&mut self, place: Place, value: Known<f64>, key: Option<Input<'a>>) -> &mut Self {
        match value {
            Ok(value) => self.readings.push(Reading { place, value, key }),
            Err(missing) => note(&mut self.waits, missing.key),
        }
        self
    }

    /// The least at which nothing is left to say: the warning's, else the error's.
    pub(super) fn mildest_least(&self) -> Option<f64> {
        self.limit.warning.least.or(self.limit.error.least)
    }

    /// Names a value involved; the first is the one to point at.
    pub(super) fn input(&mut self, input: impl Into<Input<'a>>) -> &mut Self {
        self.inputs.push(input.into());
        self
    }

    /// Names a value involved, where it is written.
    pub(super) fn input_if<T>(&mut self, input: Option<&'a T>) -> &mut Self
    where
        Input<'a>: From<&'a T>,
    {
        self.inputs.extend(input.map(Input::from));
        self
    }

    /// Offers another value of a key.
    pub(super) fn remedy(&mut self, remedy: Option<Remedy>) -> &mut Self {
        self.remedies.extend(remedy);
        self
    }

    /// Advises what no single figure says.
    pub(super) fn advise(&mut self, advice: impl Into<String>) -> &mut Self {
        self.advice.push(advice.into());
        self
    }
}

impl<'a> Fault<'a> {
    /// Names a value involved; the first is the one to point at.
    pub(super) fn input(&mut self, input: impl Into<Input<'a>>) -> &mut Self {
        self.inputs.push(input.into());
        self
    }

    /// Advises what to do.
    pub(super) fn advise(&mut self, advice: impl Into<String>) -> &mut Self {
        self.advice.push(advice.into());
        self
    }
}

fn note(waits: &mut Vec<Key>, key: Key) {
    if !waits.contains(&key) {
        waits.push(key);
    }
}

/// A limit with an error's least only.
pub(super) const fn at_least(least: f64, unit: &'static str) -> Limit {
    Limit { error: Bounds { least: Some(least), most: None }, ..unlimited(unit) }
}

/// A limit with an error's most only.
pub(super) const fn at_most(most: f64, unit: &'static str) -> Limit {
    Limit { error: Bounds { least: None, most: Some(most) }, ..unlimited(unit) }
}

/// A limit with a warning's least only.
pub(super) const fn wants_at_least(least: f64, unit: &'static str) -> Limit {
    Limit { warning: Bounds { least: Some(least), most: None }, ..unlimited(unit) }
}

/// A limit with a warning's most only.
pub(super) const fn wants_at_most(most: f64, unit: &'static str) -> Limit {
    Limit { warning: Bounds { least: None, most: Some(most) }, ..unlimited(unit) }
}

const fn unlimited(unit: &'static str) -> Limit {
    const NONE: Bounds = Bounds { least: None, most: None };
    Limit { error: NONE, warning: NONE, note: NONE, unit }
}
