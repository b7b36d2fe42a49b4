//! The allowed range of a length: every check that pulls at it, asked again with other values of it.
//!
//! No formula is written a second time: a bound is the root of the checks' own slack, found by asking them.

use super::{Bench, CHECKS, tally};
use crate::design::Design;
use crate::diag::Code;
use crate::model::{Key, Model};

/// A length that several checks pull at.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Dimension {
    /// The key that sets it.
    pub key: Key,
    /// Its name on paper.
    pub name: &'static str,
}

/// The lengths whose range is worth knowing: two checks or more pull each of them both ways.
pub static DIMENSIONS: &[Dimension] = &[
    Dimension { key: "board.thickness", name: "thickness of the board" },
    Dimension { key: "channels.depth", name: "depth of the channels" },
    Dimension { key: "channels.margin", name: "margin of the side channels" },
    Dimension { key: "lamp.lens_height", name: "height of the lens" },
    Dimension { key: "body.pocket.depth", name: "depth of the neck's pocket" },
];

/// Where a range ends, and the check that ends it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bound {
    /// The last value that passes, in millimetres, not rounded.
    pub millimetres: f64,
    /// The check that is tight there.
    pub code: Code,
}

/// The values that pass.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Interval {
    /// The least; none: no check asks for more.
    pub least: Option<Bound>,
    /// The most; none: no check asks for less.
    pub most: Option<Bound>,
}

/// What the checks leave of a length, all other values being what they are.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Range {
    /// The length.
    pub dimension: Dimension,
    /// Its value now, in millimetres.
    pub now: f64,
    /// Where no check that pulls at it finds an error.
    pub without_error: Interval,
    /// Where none finds an error or a warning.
    pub without_warning: Interval,
}

impl Interval {
    /// Whether nothing passes: the least that one check asks for is more than the most that another allows.
    pub fn is_empty(&self) -> bool {
        matches!((self.least, self.most), (Some(least), Some(most)) if least.millimetres > most.millimetres)
    }

    /// Whether a value lies in it.
    pub fn holds(&self, millimetres: f64) -> bool {
        self.least.is_none_or(|least| millimetres >= least.millimetres - EXACT)
            && self.most.is_none_or(|most| millimetres <= most.millimetres + EXACT)
    }
}

/// How near to its limit a bound is brought, in millimetres or the check's own unit.
const EXACT: f64 = 1e-9;
/// The step by which a pull is felt, in millimetres.
const STEP: f64 = 0.01;
/// A bound is sought between a part and a multiple of the value.
const REACH: f64 = 8.0;
/// Halvings of an interval until nothing is left of it.
const MOST_STEPS: usize = 80;

/// The range of a length; none where it is open, not written, or nothing pulls at it.
pub fn of(model: &Model, dimension: Dimension) -> Option<Range> {
    let now = model.length(dimension.key)?;
    let mut trial = Trial { model: model.clone(), key: dimension.key, checks: (0..CHECKS.len()).collect() };
    let (below, at, above) = (trial.ask(now - STEP), trial.ask(now), trial.ask(now + STEP));
    let pulls = pulls(&below, &at, &above);
    trial.checks.retain(|check| pulls.iter().any(|pull| pull.check == *check));
    let mut interval = |gravity: Gravity| Interval {
        least: trial.bound(&pulls, gravity, Way::Up, now),
        most: trial.bound(&pulls, gravity, Way::Down, now),
    };
    let (without_error, without_warning) = (interval(Gravity::Error), interval(Gravity::Any));
    let bounds = [without_warning.least, without_warning.most, without_error.least, without_error.most];
    bounds.iter().any(Option::is_some).then_some(Range { dimension, now, without_error, without_warning })
}

/// What counts as failing.
#[derive(Clone, Copy)]
enum Gravity {
    Error,
    Any,
}

/// Which way a check pushes a value.
#[derive(Clone, Copy, PartialEq)]
enum Way {
    Up,
    Down,
}

/// How far one measure of one check is inside its limits.
struct Felt {
    check: usize,
    measure: usize,
    error: f64,
    warning: f64,
}

impl Felt {
    fn slack(&self, gravity: Gravity) -> f64 {
        match gravity {
            Gravity::Error => self.error,
            Gravity::Any => self.error.min(self.warning),
        }
    }
}

/// A measure that a length moves, and the ways it pushes back.
struct Pull {
    check: usize,
    measure: usize,
    up: bool,
    down: bool,
}

/// The measures that a step either way moves.
fn pulls(below: &[Felt], at: &[Felt], above: &[Felt]) -> Vec<Pull> {
    let same = |felt: &Felt, other: &&Felt| felt.check == other.check && felt.measure == other.measure;
    at.iter()
        .filter_map(|felt| {
            let low = below.iter().find(|other| same(felt, other))?;
            let high = above.iter().find(|other| same(felt, other))?;
            // Where a limit is two-sided, one side of the step may rise and the other fall.
            let slopes =
                [(low, felt), (felt, high)].map(|(from, to)| [to.error - from.error, to.warning - from.warning]);
            let slopes = slopes.as_flattened();
            let (up, down) = (slopes.iter().any(|slope| *slope > EXACT), slopes.iter().any(|slope| *slope < -EXACT));
            (up || down).then_some(Pull { check: felt.check, measure: felt.measure, up, down })
        })
        .collect()
}

/// An instrument in which one length is tried.
struct Trial {
    model: Model,
    key: Key,
    /// The checks that are asked.
    checks: Vec<usize>,
}

impl Trial {
    /// What each measure makes of a value. Measures without a limit or without a figure feel nothing.
    fn ask(&mut self, millimetres: f64) -> Vec<Felt> {
        self.model.try_length(self.key, millimetres);
        let design = Design::of(&self.model);
        let bench = Bench::new(&self.model, &design);
        let mut all = Vec::new();
        for check in &self.checks {
            let tally = super::tally_of(&CHECKS[*check], &bench);
            let slacks = tally.measures.iter().enumerate().filter_map(|(index, of)| Some((index, tally::least(of)?)));
            all.extend(slacks.map(|(measure, slack)| Felt {
                check: *check,
                measure,
                error: slack.error,
                warning: slack.warning,
            }));
        }
        all
    }

    /// The least slack of the measures that push one way, and whose it is.
    fn worst(&mut self, pulls: &[Pull], gravity: Gravity, way: Way, millimetres: f64) -> Option<(f64, usize)> {
        let pushes = |pull: &&Pull| if way == Way::Up { pull.up } else { pull.down };
        let felt = self.ask(millimetres);
        let felt = felt.iter().filter(|felt| {
            pulls.iter().filter(pushes).any(|pull| pull.check == felt.check && pull.measure == felt.measure)
        });
        felt.map(|felt| (felt.slack(gravity), felt.check))
            .filter(|(slack, _)| *slack < f64::INFINITY)
            .min_by(|one, other| one.0.total_cmp(&other.0))
    }

    /// The value at which the checks that push one way are just content.
    fn bound(&mut self, pulls: &[Pull], gravity: Gravity, way: Way, now: f64) -> Option<Bound> {
        let (start, _) = self.worst(pulls, gravity, way, now)?;
        // Toward where they fail, if they pass now; toward where they pass, if they fail.
        let outward = if way == Way::Up { -1.0 } else { 1.0 };
        let direction = if start >= 0.0 { outward } else { -outward };
        let (mut near, mut far) = ((now, start), (now, start));
        let mut step = if start.is_finite() { start.abs().max(STEP) } else { STEP };
        while (far.1 >= 0.0) == (start >= 0.0) {
            near = far;
            let next = far.0 + direction * step;
            if next <= now / REACH || next > now * REACH {
                return None;
            }
            far = (next, self.worst(pulls, gravity, way, next)?.0);
            step *= 2.0;
        }
        let (mut pass, mut fail) = if near.1 >= 0.0 { (near, far) } else { (far, near) };
        for turn in 0..MOST_STEPS {
            if pass.1 <= EXACT * 0.1 || (pass.0 - fail.0).abs() <= f64::EPSILON * now {
                break;
            }
            // A straight line meets its root at once; a bend is halved every third time, so that the search ends.
            let straight = pass.0 + (fail.0 - pass.0) * pass.1 / (pass.1 - fail.1);
            let between = (pass.0.min(fail.0)..=pass.0.max(fail.0)).contains(&straight);
            let usable = turn % 3 < 2 && between;
            let middle = if usable { straight } else { f64::midpoint(pass.0, fail.0) };
            let slack = self.worst(pulls, gravity, way, middle)?.0;
            // On the limit by less than counts is on it.
            if slack >= -EXACT * 0.1 {
                pass = (middle, slack.max(0.0));
            } else {
                fail = (middle, slack);
            }
        }
        let (_, check) = self.worst(pulls, gravity, way, pass.0)?;
        Some(Bound { millimetres: pass.0, code: CHECKS[check].code })
    }
}
