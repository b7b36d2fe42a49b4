//! Lettering of a plan: every text stands clear of lines and of other texts, or is not written.
//!
//! In: a plan whose lines are all drawn, texts with the places that would do, the best first. Out: the same plan with
//! its texts. A pattern is looked at from arm's length and cut out, so letters are large and lie within the outline.

use kurbo::{BezPath, Line, Point, Rect, Vec2};

use super::{Edition, Job, number};
use crate::drawing::outline::straight_pieces;
use crate::drawing::{Anchor, Item, Layer, Lettering, Pen, Plan, TextBox};
use crate::geom::Convex;
use crate::lettering::{Face, MM_PER_POINT};

/// Ordinary letters: capitals 2.5 mm high, the least that ISO 3098 names for drawings (from memory).
pub(super) const PLAIN: Lettering = Lettering { face: Face::Regular, size: 10.0 };
/// What no one may miss.
pub(super) const STRONG: Lettering = Lettering { face: Face::Bold, size: 10.0 };
/// Where the plain ones find no room, and for stamps.
pub(super) const SMALL: Lettering = Lettering { face: Face::Regular, size: 7.5 };

/// A size between [`STRONG`] and [`SMALL`], points.
const MIDDLING: f64 = 8.5;
/// The least that can be read, points.
const LEAST: f64 = 7.0;

/// White between a text and the next line or text, millimetres.
const CLEAR: f64 = 0.6;
/// From baseline to baseline, in sizes of letters.
const PITCH: f64 = 1.3;
/// Height of letters over the baseline and depth of tails below it, in sizes of letters.
const ASCENT: f64 = 0.77;
/// See [`ASCENT`].
const TAIL: f64 = 0.24;
/// From place to place where a free one is looked for, millimetres.
const STEP: f64 = 2.5;
/// Longest text of a file that is lettered on a pattern, in characters.
const LONGEST: usize = 28;

/// A quarter turn clockwise: the text reads downward, and level on a tile, which lies up its page.
pub(super) const ACROSS: Vec2 = Vec2::new(0.0, -1.0);
/// A quarter turn anticlockwise: the text reads upward.
pub(super) const UPWARD: Vec2 = Vec2::new(0.0, 1.0);
/// The text reads to the right.
pub(super) const LEVEL: Vec2 = Vec2::new(1.0, 0.0);

/// A plan that is being lettered.
pub(super) struct Lettered {
    plan: Plan,
    texts: Vec<TextBox>,
    lines: Vec<(Rect, Line)>,
}

impl Lettered {
    /// Takes a plan whose lines are all drawn.
    pub(super) fn over(plan: Plan) -> Self {
        let mut lettered = Self { plan, texts: Vec::new(), lines: Vec::new() };
        for mark in &lettered.plan.marks {
            match mark.item() {
                Item::Path { outline, stroke, .. } => {
                    let half_pen = stroke.map_or(0.0, |stroke| stroke.width / 2.0);
                    let piece = |line: Line| (Rect::from_points(line.p0, line.p1).inflate(half_pen, half_pen), line);
                    lettered.lines.extend(straight_pieces(&outline, 0.05).into_iter().map(piece));
                }
                Item::Text(text) => lettered.texts.push(TextBox::of(&text)),
            }
        }
        lettered
    }

    /// Draws what lies behind everything else: a line that gives way to the texts written so far.
    pub(super) fn behind(&mut self, layer: Layer, [from, to]: [Point; 2], pen: Pen) {
        self.plan.line_round(layer, Line::new(from, to), pen, &self.texts);
    }

    /// Hatches an area, which gives way to the texts written so far.
    pub(super) fn hatch_behind(&mut self, area: &BezPath, angle: f64, pitch: f64) {
        self.plan.hatch(area, angle, pitch, &self.texts);
    }

    /// The plan.
    pub(super) fn done(self) -> Plan {
        self.plan
    }

    /// Writes a text on the first of some middles where it stands clear; tells whether there was one.
    pub(super) fn write(
        &mut self,
        text: &str,
        lettering: Lettering,
        along: Vec2,
        middles: impl IntoIterator<Item = Point>,
    ) -> bool {
        self.write_at(text, lettering, along, middles).is_some()
    }

    /// As [`Self::write`], and tells the middle of the place.
    pub(super) fn write_at(
        &mut self,
        text: &str,
        lettering: Lettering,
        along: Vec2,
        middles: impl IntoIterator<Item = Point>,
    ) -> Option<Point> {
        let place = middles
            .into_iter()
            .map(|middle| TextBox::centred(text, lettering, middle, along))
            .find(|place| self.is_clear(place))?;
        self.set(text, lettering, place);
        Some(place.centre)
    }

    /// A line that leads from a text to what it names.
    pub(super) fn lead(&mut self, from: Point, to: Point) {
        self.plan.line(Layer::Text, from, to, Pen::Thin);
        self.lines.push((Rect::from_points(from, to), Line::new(from, to)));
    }

    /// Writes lines under one another, about the same x, where room was left for them below a height.
    pub(super) fn put_lines(&mut self, lines: &[(String, Lettering)], x: f64, mut top: f64) {
        for (text, lettering) in lines {
            let em = lettering.size * MM_PER_POINT;
            // The baseline, not the middle: a tail would lift its line.
            let at = Point::new(x, top - ASCENT * em - (PITCH - ASCENT - TAIL) / 2.0 * em);
            self.plan.text(at, text, *lettering, Anchor::Middle, 0.0);
            self.texts.extend(self.plan.marks.last().and_then(|mark| match mark.item() {
                Item::Text(text) => Some(TextBox::of(&text)),
                Item::Path { .. } => None,
            }));
            top -= pitch(*lettering);
        }
    }

    /// Writes lines under one another where they find room within an outline, the nearest to its low end of x.
    pub(super) fn write_within(&mut self, lines: &[(String, Lettering)], outline: &Convex) -> bool {
        let width = lines.iter().map(|(text, lettering)| lettering.width(text)).fold(0.0, f64::max);
        let height = height(lines);
        let Some(bounds) = crate::drawing::outline::bounds(outline.corners().iter().copied()) else { return false };
        let free = |middle: Point| {
            let place = TextBox::upright(Rect::from_center_size(middle, (width, height)));
            let corners = place.grown(CLEAR).corners();
            corners.into_iter().all(|corner| outline.contains(corner)) && self.is_clear(&place)
        };
        let Some(middle) = grid(bounds.inflate(-width / 2.0, -height / 2.0)).find(|middle| free(*middle)) else {
            return false;
        };
        self.put_lines(lines, middle.x, middle.y + height / 2.0);
        true
    }

    /// Writes within an outline what a pattern says of itself: what it is, for which commission, by which stamps.
    pub(super) fn sign(
        &mut self,
        job: &Job<'_>,
        edition: &Edition,
        what: &[&str],
        sheets: &[&'static str],
        outline: &Convex,
    ) {
        let mut own: Vec<(String, Lettering)> = what.iter().map(|line| ((*line).to_owned(), STRONG)).collect();
        let corners = outline.corners().iter().copied();
        let room = crate::drawing::outline::bounds(corners).map_or(0.0, |bounds| bounds.width()) - 4.0 * CLEAR;
        let number = broken(&short(&number(job)), STRONG, room);
        own.extend(number.into_iter().chain(edition.draft.clone()).map(|line| (line, STRONG)));
        if !self.write_within(&own, outline) {
            own.iter_mut().for_each(|(_, lettering)| lettering.size = SMALL.size);
            if !self.write_within(&own, outline) {
                for line in own {
                    self.write_within(&[line], outline);
                }
            }
        }
        for (title, stamp) in edition.stamps(sheets) {
            // On a small board smaller letters, one line in a long gap, find room where the usual ones do not.
            let inside = [SMALL, Lettering { size: LEAST, ..SMALL }].into_iter().any(|lettering| {
                let line = |text: String| (text, lettering);
                self.write_within(&[line(title.to_owned()), line(stamp.to_owned())], outline)
                    || self.write_within(&[line(format!("{title} {stamp}"))], outline)
            });
            if !inside {
                self.write_below(&format!("{title} {stamp}"), outline);
            }
        }
    }

    /// Writes a line below the outline, where nothing else stands: a stamp must be somewhere.
    fn write_below(&mut self, text: &str, outline: &Convex) {
        let Some(bounds) = crate::drawing::outline::bounds(outline.corners().iter().copied()) else { return };
        let from = bounds.x0 + SMALL.width(text) / 2.0;
        let rows = steps(4.0, 60.0, 2.0).map(|below| bounds.y0 - below);
        let places = rows.flat_map(|y| steps(from, bounds.x1.max(from), 4.0).map(move |x| Point::new(x, y)));
        self.write(text, SMALL, LEVEL, places);
    }

    fn set(&mut self, text: &str, lettering: Lettering, place: TextBox) {
        let at = place.baseline(text, lettering);
        self.plan.text(at, text, lettering, Anchor::Middle, libm::atan2(place.along.y, place.along.x));
        self.texts.push(place);
    }

    fn is_clear(&self, place: &TextBox) -> bool {
        let own = place.grown(CLEAR);
        let bounds = own.bounds();
        let near = |other: &Rect| {
            other.x0 <= bounds.x1 && bounds.x0 <= other.x1 && other.y0 <= bounds.y1 && bounds.y0 <= other.y1
        };
        !self.texts.iter().any(|text| own.overlaps(text))
            && !self.lines.iter().any(|(reach, line)| near(reach) && own.is_crossed_by(*line))
    }
}

/// From line to line, millimetres.
pub(super) fn pitch(lettering: Lettering) -> f64 {
    PITCH * lettering.size * MM_PER_POINT
}

/// Places within a rectangle: column by column from its low x, each from the middle outward.
fn grid(area: Rect) -> impl Iterator<Item = Point> {
    let rows = steps(0.0, area.height() / 2.0, STEP).flat_map(|off| [off, -off]).map(move |off| area.center().y + off);
    let columns = steps(area.x0, area.x1, STEP);
    let is_there = area.x0 <= area.x1 && area.y0 <= area.y1;
    columns.filter(move |_| is_there).flat_map(move |x| rows.clone().map(move |y| Point::new(x, y)))
}

/// From one place to another by steps, the last not beyond it; no more than a pattern as long as a door has room for.
pub(super) fn steps(from: f64, to: f64, step: f64) -> impl Iterator<Item = f64> + Clone {
    (0..1000_u32).map(move |index| from + f64::from(index) * step).take_while(move |at| *at <= to)
}

/// A text in lines that are no wider than the room: in smaller letters, then broken between words, then wherever it is
/// full, for a number has no words.
pub(super) fn fitted(text: &str, lettering: Lettering, room: f64) -> Vec<(String, Lettering)> {
    let sizes = [lettering.size, MIDDLING, SMALL.size].into_iter().filter(|size| *size <= lettering.size);
    let letterings: Vec<Lettering> = sizes.map(|size| Lettering { size, ..lettering }).collect();
    if let Some(lettering) = letterings.iter().find(|lettering| lettering.width(text) <= room) {
        return vec![(text.to_owned(), *lettering)];
    }
    let least = Lettering { size: SMALL.size, ..lettering };
    broken(text, least, room).into_iter().map(|line| (line, least)).collect()
}

/// See [`fitted`].
fn broken(text: &str, lettering: Lettering, room: f64) -> Vec<String> {
    let mut lines = vec![String::new()];
    for sign in text.chars() {
        let Some(line) = lines.last_mut() else { break };
        let longer = format!("{line}{sign}");
        if line.is_empty() || lettering.width(&longer) <= room {
            *line = longer;
            continue;
        }
        let rest = line.rfind(' ').map(|space| line.split_off(space).trim_start().to_owned());
        lines.push(format!("{}{sign}", rest.unwrap_or_default()).trim_start().to_owned());
    }
    lines
}

/// What a pattern says of itself in plain rows no wider than the room: what it is, for which commission, by which stamps.
pub(super) fn own_rows(
    job: &Job<'_>,
    edition: &Edition,
    what: &[String],
    sheets: &[&'static str],
    room: f64,
) -> Vec<(String, Lettering)> {
    let draft = edition.draft.as_ref().map_or_else(String::new, |draft| format!(" · {draft}"));
    let whose = format!("{}{draft}", short(&number(job)));
    let less = Lettering { size: MIDDLING, ..STRONG };
    let rows = what.iter().chain([&whose]).enumerate();
    let strong = rows.flat_map(|(row, text)| fitted(text, if row == 0 { STRONG } else { less }, room));
    // A stamp is never broken: it is compared as a whole.
    let stamps = edition.stamps(sheets).flat_map(|(title, stamp)| {
        let line = format!("{title} {stamp}");
        let whole = SMALL.width(&line) <= room;
        let lines = if whole { vec![line] } else { vec![title.to_owned(), stamp.to_owned()] };
        lines.into_iter().map(|line| (line, SMALL)).collect::<Vec<_>>()
    });
    strong.chain(stamps).collect()
}

/// How high some rows are, millimetres.
pub(super) fn height(rows: &[(String, Lettering)]) -> f64 {
    rows.iter().map(|(_, lettering)| pitch(*lettering)).sum()
}

/// A text of a file, no longer than a pattern has room for.
pub(super) fn short(text: &str) -> String {
    let mut kept: String = text.chars().take(LONGEST).collect();
    if kept.len() < text.len() {
        kept.push('…');
    }
    kept
}
