//! What filling in a template costs, reckoned before it starts: steps, not time, so that the answer is the same anywhere.

use std::collections::BTreeMap;

use tera::{Context, Value};

use super::SheetData;
use super::language::{Outline, Step};

/// The most steps that a template may take: a thousand times what the built-in ones do, and a fraction of a second.
pub(super) const MOST_STEPS: u64 = 1_000_000;

/// Whether filling in a template with this data takes no more than [`MOST_STEPS`].
pub(super) fn is_bearable(name: &str, outlines: &BTreeMap<String, Outline>, data: &SheetData) -> bool {
    let longest = data.longest.max(1);
    let mut reckoning = Reckoning { outlines, context: &data.context, longest, steps: 0, variables: Vec::new() };
    reckoning.add(name, 1);
    reckoning.steps <= MOST_STEPS
}

struct Reckoning<'a> {
    outlines: &'a BTreeMap<String, Outline>,
    context: &'a Context,
    /// The length of the longest list or text in the data.
    longest: u64,
    steps: u64,
    /// The variables of the loops that are open.
    variables: Vec<String>,
}

impl Reckoning<'_> {
    /// Adds the steps of a template that is filled in so many times.
    fn add(&mut self, name: &str, times: u64) {
        let Some(Outline { steps, .. }) = self.outlines.get(name) else { return };
        let mut loops: Vec<(u64, usize)> = Vec::new();
        let mut times = times;
        for step in steps {
            // Templates that include each other on and on are refused by Tera; a tree of them ends here.
            self.steps = self.steps.saturating_add(times);
            if self.steps > MOST_STEPS {
                return;
            }
            match step {
                Step::Plain => {}
                Step::For(names, path) => {
                    loops.push((times, self.variables.len()));
                    times = times.saturating_mul(self.length(path).max(1));
                    self.variables.extend(names.iter().cloned());
                }
                Step::EndFor => {
                    if let Some((outside, known)) = loops.pop() {
                        times = outside;
                        self.variables.truncate(known);
                    }
                }
                Step::Include(inner, _) => self.add(inner, times),
            }
        }
    }

    /// How often a loop over a path runs at most.
    fn length(&self, path: &[String]) -> u64 {
        match path {
            [name] if !self.variables.contains(name) => self.context.get(name).map_or(self.longest, own_length),
            _ => self.longest,
        }
    }
}

/// The length of a list, a map or a text: Tera loops over each.
fn own_length(value: &Value) -> u64 {
    value.len().map_or(1, |length| u64::try_from(length).unwrap_or(u64::MAX))
}

/// The greatest length of a value and all that it holds.
pub(super) fn longest(value: &Value) -> u64 {
    let within = value.as_array().into_iter().flatten().map(longest);
    let below = value.as_map().into_iter().flat_map(|map| map.values()).map(longest);
    within.chain(below).max().unwrap_or(0).max(own_length(value))
}
