//! What the checks leave of the lengths that several of them pull at, as a bar for each with its value now.

use kurbo::{Point, Rect};

use super::Job;
use crate::checks::range::{Bound, Interval, Range};
use crate::drawing::{Drawing, Importance, Label, Layer, Lettering, Pen, Scaling, Side as DrawingSide, Tip};
use crate::rounding::fixed;

/// Length of a bar.
const BAR: f64 = 110.0;
/// Half its height, and that of the part without a warning.
const HALF: (f64, f64) = (1.2, 2.6);
/// Half the height of a tick.
const TICK: f64 = 0.8;
/// From bar to bar.
const PITCH: f64 = 24.0;
/// The part of what is shown that stays free at either end.
const MARGIN: f64 = 0.14;

/// The bars; none where the checks hold none of the lengths.
pub fn allowed_ranges(job: &Job<'_>) -> Option<Drawing> {
    let ranges: Vec<&Range> = job.ranges.iter().collect();
    if ranges.is_empty() {
        return None;
    }
    let told: Vec<String> = ranges.iter().map(|range| told(job, range)).collect();
    let mut drawing = Drawing::new("What the checks leave", format!("{}.", told.join("; ")));
    drawing.remark = "hatched: no warning; white: no error; the long mark: the value now".to_owned();
    drawing.scaling = Scaling::Scheme;
    let mut y = 0.0;
    for range in ranges {
        Row { job, range, y, scale: scale(job, range) }.draw(&mut drawing);
        y -= PITCH;
    }
    Some(drawing)
}

fn told(job: &Job<'_>, range: &Range) -> String {
    let end = |bound: Option<Bound>| bound.map_or_else(|| "open".to_owned(), |bound| job.length(bound.millimetres));
    let Interval { least, most } = range.without_warning;
    format!(
        "{}: {}, without a warning from {} to {}",
        range.dimension.name,
        job.length_with_unit(range.now),
        end(least),
        end(most)
    )
}

/// A bar's scale: the values at its ends and the step of its ticks, in units of the working unit.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Scale {
    least: f64,
    most: f64,
    step: f64,
}

/// Most steps that a bar's scale has: ticks further apart than the eye needs to count them.
const MOST_STEPS: f64 = 12.0;

/// A scale of round steps that holds all bounds and the value now, with some room at either end.
fn scale(job: &Job<'_>, range: &Range) -> Scale {
    let unit = job.unit_length();
    let intervals = [range.without_error, range.without_warning];
    let bounds = intervals.into_iter().flat_map(|interval| [interval.least, interval.most]).flatten();
    let values: Vec<f64> = bounds.map(|bound| bound.millimetres / unit).chain([range.now / unit]).collect();
    let least = values.iter().copied().fold(f64::INFINITY, f64::min);
    let most = values.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    let margin = (most - least).max(0.5 / unit) * MARGIN;
    let (least, most) = ((least - margin).max(0.0), most + margin);
    let steps = [0.01, 0.02, 0.05, 0.1, 0.2, 0.5, 1.0, 2.0, 5.0, 10.0, 20.0, 50.0];
    let step = steps.into_iter().find(|step| (most - least) / step <= MOST_STEPS).unwrap_or(100.0);
    Scale { least: (least / step).floor() * step, most: (most / step).ceil() * step, step }
}

struct Row<'a> {
    job: &'a Job<'a>,
    range: &'a Range,
    y: f64,
    scale: Scale,
}

impl Row<'_> {
    fn x(&self, millimetres: f64) -> f64 {
        let Scale { least, most, .. } = self.scale;
        (millimetres / self.job.unit_length() - least) / (most - least) * BAR
    }

    fn draw(&self, drawing: &mut Drawing) {
        self.ticks(drawing);
        self.bar(drawing, self.range.without_error, HALF.0, false);
        self.bar(drawing, self.range.without_warning, HALF.1, true);
        let now = self.x(self.range.now);
        drawing.line(
            Layer::Outline,
            Point::new(now, self.y - HALF.1 - 2.0),
            Point::new(now, self.y + HALF.1 + 2.0),
            Pen::Visible,
        );
        let label = Label::new(
            Point::new(now, self.y + HALF.1 + 2.0),
            format!("{}: {}", self.range.dimension.name, self.job.length_with_unit(self.range.now)),
        );
        let label = label.toward(DrawingSide::Top).tip(Tip::Plain);
        drawing.label(label.importance(Importance::High).lettering(Lettering::STRONG));
        for bound in ends(self.range) {
            let text = format!("{} {}", self.job.length(bound.millimetres), bound.code);
            let label = Label::new(Point::new(self.x(bound.millimetres), self.y - HALF.1), text);
            drawing.label(label.toward(DrawingSide::Bottom).tip(Tip::Plain));
        }
    }

    /// The line under the bars with its ticks; what its ends are, and how far apart the ticks.
    fn ticks(&self, drawing: &mut Drawing) {
        drawing.line(Layer::Outline, Point::new(0.0, self.y), Point::new(BAR, self.y), Pen::Thin);
        let Scale { least, most, step } = self.scale;
        let count = ((most - least) / step).round().max(1.0);
        let mut place = 0.0;
        while place <= count {
            let x = place / count * BAR;
            let (low, high) = (Point::new(x, self.y - TICK), Point::new(x, self.y + TICK));
            drawing.line(Layer::Outline, low, high, Pen::Thin);
            place += 1.0;
        }
        let decimals = if step < 0.1 { 2 } else { usize::from(step < 1.0) };
        let (unit, figure) = (self.job.unit_word(), |value: f64| fixed(value, decimals));
        let left = Label::new(Point::new(0.0, self.y), figure(least)).toward(DrawingSide::Left);
        let text = format!("{}\u{a0}{unit}, ticks {}", figure(most), figure(step));
        let right = Label::new(Point::new(BAR, self.y), text).toward(DrawingSide::Right);
        drawing.label(left.tip(Tip::Plain));
        drawing.label(right.tip(Tip::Plain));
    }

    /// A bar over what passes; nothing where nothing does.
    fn bar(&self, drawing: &mut Drawing, interval: Interval, half: f64, hatched: bool) {
        if interval.is_empty() {
            return;
        }
        let from = interval.least.map_or(0.0, |least| self.x(least.millimetres));
        let to = interval.most.map_or(BAR, |most| self.x(most.millimetres));
        let area = Rect::new(from, self.y - half, to, self.y + half);
        if hatched {
            drawing.hatch(kurbo::Shape::to_path(&area, 0.1), core::f64::consts::FRAC_PI_4, 1.6);
        }
        drawing.rounded_rectangle(Layer::Outline, area, 0.0, Pen::Visible);
    }
}

/// The bounds that are told: of the warning, and of the error where it is another.
fn ends(range: &Range) -> Vec<Bound> {
    let (error, warning) = (range.without_error, range.without_warning);
    let mut ends: Vec<Bound> = [warning.least, warning.most].into_iter().flatten().collect();
    for bound in [error.least, error.most].into_iter().flatten() {
        let told = ends.iter().any(|end| (end.millimetres - bound.millimetres).abs() < 1e-6);
        if !told {
            ends.push(bound);
        }
    }
    ends
}
