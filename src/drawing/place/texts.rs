//! Finds a place for every text, the most important first, and mends where a later one is shut out.
//!
//! Method: greedy choice by price among many places; a place is open if the text touches no text and no line, and
//! its leader runs through no text. A text that finds none may push one less important text to another place.
//! If that fails too it becomes a ringed number in the key.

use kurbo::{Line, Point, Rect, Vec2};

use super::choices::{self, Choice};
use super::finish;
use super::key::{RING, ring_length};
use super::layout::{Layout, to_paper};
use super::linear::RowedLinear;
use super::marks::{self, PlacedMarks};
use crate::drawing::annotation::{AngleBetween, Annotation, Label, LineName, Note, Round, Tip};
use crate::drawing::item::Item;
use crate::drawing::obstacles::{FIXED, Obstacles, Owner, SHAPES};
use crate::drawing::outline::encloses;
use crate::drawing::picture::KeyEntry;
use crate::drawing::scale::Scale;
use crate::drawing::style::{Importance, Layer, Lettering};
use crate::drawing::textbox::TextBox;
use crate::drawing::{Drawing, Room, hatch};

/// Room between two texts.
const TEXT_CLEAR: f64 = 0.6;
/// Room between a text and a line's middle.
const LINE_CLEAR: f64 = 0.6;
/// Nearer than this a line disturbs a text.
const LINE_NEAR: f64 = 1.4;
/// Room between a leader and a text it passes.
const LEADER_CLEAR: f64 = 0.6;
/// How far beyond what is reserved labels may stray, in millimetres: sideways, and up or down.
const STRAY: Vec2 = Vec2::new(30.0, 22.0);

/// What a text belongs to.
#[derive(Clone, Copy)]
pub(super) enum Subject<'a> {
    Linear(&'a RowedLinear<'a>),
    Label(&'a Label),
    LineName(&'a LineName),
    Note(&'a Note),
    Round(&'a Round),
    Angle(&'a AngleBetween),
}

/// A drawing with all its texts placed, about its own zero point.
pub(super) struct Written {
    pub(super) items: Vec<(Layer, Item)>,
    pub(super) key: Vec<KeyEntry>,
}

/// A subject with the place found for it.
pub(super) struct Placed<'a> {
    pub(super) subject: Subject<'a>,
    pub(super) choice: Option<Choice>,
    /// Its number in the key, if it stands there.
    pub(super) number: Option<usize>,
}

impl<'a> Subject<'a> {
    pub(super) fn text(&self) -> &'a str {
        match self {
            Self::Linear(rowed) => &rowed.asked.text,
            Self::Label(label) => &label.text,
            Self::LineName(name) => &name.text,
            Self::Note(note) => &note.text,
            Self::Round(round) => &round.text,
            Self::Angle(angle) => &angle.text,
        }
    }

    pub(super) fn lettering(&self) -> Lettering {
        match self {
            Self::Linear(rowed) => rowed.asked.lettering,
            Self::Label(label) => label.lettering,
            Self::LineName(name) => name.lettering,
            Self::Note(note) => note.lettering,
            Self::Round(round) => round.lettering,
            Self::Angle(_) => Lettering::NORMAL,
        }
    }

    /// Rank in the queue: dimensions have few places, so they come first.
    fn rank(&self) -> (bool, Importance) {
        match self {
            Self::Linear(_) | Self::Angle(_) => (true, Importance::Utmost),
            Self::Label(label) => (false, label.importance),
            Self::LineName(name) => (false, name.importance),
            Self::Note(note) => (false, note.importance),
            Self::Round(round) => (false, round.importance),
        }
    }

    fn size(&self) -> Vec2 {
        match self {
            Self::Note(note) => choices::note_size(note),
            _ => choices::text_size(self.text(), self.lettering()),
        }
    }

    fn choices(&self, size: Vec2, layout: &Layout<'_>) -> Vec<Choice> {
        let mut found = match self {
            Self::Linear(rowed) => choices::beside_dimension(rowed, size),
            Self::Label(label) => choices::round_point(label, size, layout.factors),
            Self::LineName(name) => choices::along_line(name, size, layout),
            Self::Note(note) => choices::in_margin(note, layout),
            Self::Round(round) => choices::round_circle(round, size, layout.factors),
            Self::Angle(angle) => choices::round_angle(angle, size, layout.factors),
        };
        found.sort_by(|one, two| one.price.total_cmp(&two.price));
        found
    }

    /// The point a leader would lead to, the clear radius round it and how the leader ends.
    fn anchor(&self, factors: Scale) -> (Point, f64, Tip) {
        match self {
            Self::Linear(rowed) => (rowed.ends[0].midpoint(rowed.ends[1]), 0.0, Tip::Plain),
            Self::Label(label) => {
                (to_paper(label.at, factors), label.clear * factors.along.max(factors.across), label.tip)
            }
            Self::LineName(name) => (to_paper(name.from.midpoint(name.to), factors), 0.0, Tip::Arrow),
            Self::Note(_) => (Point::ZERO, 0.0, Tip::Plain),
            Self::Round(round) => {
                let way = round.toward.first().copied().unwrap_or(Vec2::new(0.8, 0.6));
                (to_paper(round.centre + marks::unit(way) * round.radius, factors), 0.0, Tip::Arrow)
            }
            Self::Angle(angle) => (to_paper(angle.vertex, factors), 0.0, Tip::Plain),
        }
    }
}

/// Places all texts of a drawing.
pub(super) fn write(drawing: &Drawing, layout: &Layout<'_>, room: Room) -> Written {
    let shapes = marks::on_paper(drawing, layout.factors);
    let subjects = subjects(drawing, layout);
    let mut desk = Desk::new(layout, &shapes, frame(layout.reserved, room), subjects);
    desk.place_all();
    finish::items(layout, shapes, desk.placed)
}

/// Everything with a text, the first to be placed first.
fn subjects<'a>(drawing: &'a Drawing, layout: &'a Layout<'a>) -> Vec<Subject<'a>> {
    let written = drawing.annotations.iter().filter_map(|annotation| match annotation {
        Annotation::Label(label) => Some(Subject::Label(label)),
        Annotation::LineName(name) => Some(Subject::LineName(name)),
        Annotation::Note(note) => Some(Subject::Note(note)),
        Annotation::Round(round) => Some(Subject::Round(round)),
        Annotation::Angle(angle) => Some(Subject::Angle(angle)),
        Annotation::Linear(_) | Annotation::Ordinates(_) | Annotation::NameRow(_) => None,
    });
    let mut subjects: Vec<Subject<'a>> = layout.linears.iter().map(Subject::Linear).chain(written).collect();
    subjects.sort_by_key(|subject| std::cmp::Reverse(subject.rank()));
    subjects
}

/// The paper texts may use: the room about the drawing, but not too far from it.
fn frame(reserved: Rect, room: Room) -> Rect {
    let spare_x = ((room.width - reserved.width()) / 2.0).clamp(0.0, STRAY.x);
    let spare_y = ((room.height - reserved.height()) / 2.0).clamp(0.0, STRAY.y);
    reserved.inflate(spare_x, spare_y)
}

/// The table the texts are laid on.
struct Desk<'a> {
    layout: &'a Layout<'a>,
    frame: Rect,
    obstacles: Obstacles,
    hatching: Obstacles,
    solids: Vec<Vec<Line>>,
    placed: Vec<Placed<'a>>,
    numbers: usize,
}

impl<'a> Desk<'a> {
    fn new(layout: &'a Layout<'a>, shapes: &PlacedMarks, frame: Rect, subjects: Vec<Subject<'a>>) -> Self {
        let mut obstacles = Obstacles::new(frame);
        let mut hatching = Obstacles::new(frame);
        for line in &shapes.lines {
            obstacles.add_line(*line, SHAPES);
        }
        for line in &shapes.hatching {
            hatching.add_line(*line, SHAPES);
        }
        for ordinates in &layout.ordinates {
            for piece in ordinates.obstacles() {
                obstacles.add_line(piece, FIXED);
            }
            for (.., place) in &ordinates.texts {
                obstacles.add_text(*place, FIXED);
            }
        }
        for subject in &subjects {
            match subject {
                Subject::Linear(rowed) => {
                    for line in layout.extensions(rowed).into_iter().chain([rowed.line()]) {
                        obstacles.add_line(line, FIXED);
                    }
                }
                Subject::Angle(angle) => {
                    for line in finish::angle_lines(angle, layout.factors) {
                        obstacles.add_line(line, FIXED);
                    }
                }
                _ => {}
            }
        }
        let placed = subjects.into_iter().map(|subject| Placed { subject, choice: None, number: None }).collect();
        Self { layout, frame, obstacles, hatching, solids: shapes.solids.clone(), placed, numbers: 0 }
    }

    fn place_all(&mut self) {
        for index in 0..self.placed.len() {
            let subject = self.placed[index].subject;
            let choices = subject.choices(subject.size(), self.layout);
            match self.best(&choices) {
                Some(choice) => self.put(index, choice),
                None => {
                    if !self.place_by_pushing(index, &choices) {
                        self.place_anywhere_or_number(index);
                    }
                }
            }
        }
    }

    /// The cheapest open choice; they come sorted by their own price.
    fn best(&self, choices: &[Choice]) -> Option<Choice> {
        let mut best: Option<(f64, &Choice)> = None;
        for choice in choices {
            if best.is_some_and(|(price, _)| choice.price >= price) {
                break;
            }
            if let Ok(price) = self.price(choice)
                && best.is_none_or(|(least, _)| price < least)
            {
                best = Some((price, choice));
            }
        }
        best.map(|(_, choice)| choice.clone())
    }

    /// What a choice costs here, or who is in its way.
    fn price(&self, choice: &Choice) -> Result<f64, Vec<Owner>> {
        let bounds = choice.place.bounds().inflate(0.2, 0.2);
        let inside = self.frame.contains_rect(bounds)
            && choice.leader.iter().all(|point| self.frame.inflate(0.1, 0.1).contains(*point));
        let blackened = self.solids.iter().any(|solid| encloses(solid, choice.place.centre));
        if !inside || blackened {
            return Err(vec![SHAPES]);
        }
        let mut blockers = self.obstacles.texts_over(&choice.place.grown(TEXT_CLEAR));
        blockers.extend(self.obstacles.lines_through(&choice.place.grown(LINE_CLEAR)));
        for piece in choice.pieces() {
            blockers.extend(self.obstacles.texts_through(piece, LEADER_CLEAR));
        }
        if !blockers.is_empty() {
            return Err(blockers);
        }
        let near = self.obstacles.lines_through(&choice.place.grown(LINE_NEAR)).len();
        let hatched = !self.hatching.lines_through(&choice.place).is_empty();
        let mut price = choice.price + count(near) * 0.5 + if hatched { 2.5 } else { 0.0 };
        for (index, piece) in choice.pieces().enumerate() {
            // What it starts from is not crossed.
            let from = if index == 0 { 0.8 / piece.p0.distance(piece.p1).max(0.8) } else { 0.0 };
            let piece = Line::new(piece.p0.lerp(piece.p1, from), piece.p1);
            for owner in self.obstacles.lines_across(piece) {
                price += if owner == SHAPES { 2.0 } else { 6.0 };
            }
        }
        Ok(price)
    }

    fn put(&mut self, index: usize, choice: Choice) {
        self.obstacles.add_text(choice.place, index);
        for piece in choice.pieces() {
            self.obstacles.add_line(piece, index);
        }
        self.placed[index].choice = Some(choice);
    }

    /// Pushes one text that may be moved to another of its places, if that opens a place for this one.
    fn place_by_pushing(&mut self, index: usize, choices: &[Choice]) -> bool {
        for choice in choices.iter().take(60) {
            let Err(mut blockers) = self.price(choice) else { continue };
            blockers.sort_unstable();
            blockers.dedup();
            let [blocker] = blockers[..] else { continue };
            if blocker >= index || self.placed[blocker].number.is_some() {
                continue;
            }
            let pushed = self.placed[blocker].subject;
            let Some(before) = self.placed[blocker].choice.take() else { continue };
            self.obstacles.remove(blocker);
            if self.price(choice).is_ok() {
                self.put(index, choice.clone());
                if let Some(other) = self.best(&pushed.choices(pushed.size(), self.layout)) {
                    self.put(blocker, other);
                    return true;
                }
                self.obstacles.remove(index);
                self.placed[index].choice = None;
            }
            self.put(blocker, before);
        }
        false
    }

    fn place_anywhere_or_number(&mut self, index: usize) {
        let subject = self.placed[index].subject;
        let (at, clear, tip) = subject.anchor(self.layout.factors);
        let anywhere = |size: Vec2| {
            let mut found = choices::anywhere(at, clear, tip, size, self.frame);
            if matches!(subject, Subject::Note(_)) {
                found.iter_mut().for_each(|choice| (choice.leader, choice.end) = (Vec::new(), choices::End::Nothing));
            }
            found.sort_by(|one, two| one.price.total_cmp(&two.price));
            found
        };
        // What must be read at its place may stand farther off; the rest is easier read in the key.
        if subject.rank().1 >= Importance::High
            && let Some(choice) = self.best(&anywhere(subject.size()))
        {
            self.put(index, choice);
            return;
        }
        self.numbers += 1;
        self.placed[index].number = Some(self.numbers);
        let ring = Vec2::new(ring_length(self.numbers), 2.0 * RING) + Vec2::new(0.3, 0.3);
        let near = subject.choices(ring, self.layout);
        if let Some(choice) = self.best(&near).or_else(|| self.best(&anywhere(ring))) {
            self.put(index, choice);
        }
    }
}

fn count(number: usize) -> f64 {
    f64::from(u32::try_from(number).unwrap_or(u32::MAX))
}

/// Hatch lines broken around the given texts.
pub(super) fn hatching_clear_of(shapes: &PlacedMarks, texts: &[TextBox]) -> Vec<Line> {
    hatch::broken_around(&shapes.hatching, texts)
}
