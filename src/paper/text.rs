//! Running text: runs of characters in a manner, broken into lines of a given width.
//!
//! In: [`Inlines`], a [`Style`], a width in millimetres. Out: [`Line`]s of placed [`Piece`]s. Greedy breaking at
//! spaces; a word wider than the line is broken where it must be, so that nothing ever runs past its width.

use crate::lettering::{Face, MM_PER_POINT};

/// How a run of characters is set off.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Manner {
    /// As the text around it.
    #[default]
    Plain,
    /// Bold: what must not be missed.
    Strong,
    /// Narrow and lighter: an aside.
    Quiet,
}

/// Characters of one manner, perhaps a link.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Run {
    /// The characters. A line feed breaks the line.
    pub text: String,
    /// How they are set off.
    pub manner: Manner,
    /// The name of the sheet (see [`Sheet`](super::Sheet)) that a click leads to.
    pub link: Option<String>,
}

/// A stretch of running text. `"…".into()` makes a plain one.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Inlines(pub Vec<Run>);

impl Inlines {
    /// Adds a run.
    #[must_use]
    pub fn with(mut self, manner: Manner, text: impl Into<String>) -> Self {
        self.0.push(Run { text: text.into(), manner, link: None });
        self
    }

    /// Adds plain text.
    #[must_use]
    pub fn plain(self, text: impl Into<String>) -> Self {
        self.with(Manner::Plain, text)
    }

    /// Adds bold text.
    #[must_use]
    pub fn strong(self, text: impl Into<String>) -> Self {
        self.with(Manner::Strong, text)
    }

    /// Adds an aside.
    #[must_use]
    pub fn quiet(self, text: impl Into<String>) -> Self {
        self.with(Manner::Quiet, text)
    }

    /// Adds a link to another sheet, by its name.
    #[must_use]
    pub fn link(mut self, text: impl Into<String>, sheet: impl Into<String>) -> Self {
        self.0.push(Run { text: text.into(), manner: Manner::Plain, link: Some(sheet.into()) });
        self
    }

    /// Whether there is nothing to set.
    pub fn is_empty(&self) -> bool {
        self.0.iter().all(|run| run.text.is_empty())
    }

    /// How wide it runs on one line from a byte of its bare characters on, in millimetres.
    pub(crate) fn width(&self, style: Style, mut from: usize) -> f64 {
        let mut width = 0.0;
        for run in &self.0 {
            let skipped = from.min(run.text.len());
            from -= skipped;
            width += style.face_of(run.manner).width(&run.text[skipped..], style.size);
        }
        width
    }

    /// The bare characters.
    pub fn text(&self) -> String {
        self.0.iter().map(|run| run.text.as_str()).collect()
    }
}

impl From<&str> for Inlines {
    fn from(text: &str) -> Self {
        Self::default().plain(text)
    }
}

impl From<String> for Inlines {
    fn from(text: String) -> Self {
        Self::default().plain(text)
    }
}

/// Face, size in points and distance of baselines of a text.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Style {
    /// The face of plain runs.
    pub(crate) face: Face,
    /// Size in points.
    pub(crate) size: f64,
    /// From baseline to baseline, in ems.
    pub(crate) leading: f64,
}

impl Style {
    pub(crate) const fn new(face: Face, size: f64) -> Self {
        Self { face, size, leading: 1.32 }
    }

    /// From baseline to baseline, in millimetres.
    pub(crate) fn pitch(self) -> f64 {
        self.size * self.leading * MM_PER_POINT
    }

    /// From the top of a line to its baseline, in millimetres: the line's white is shared so that capitals
    /// stand in the middle of it.
    pub(crate) fn ascent(self) -> f64 {
        let capital = self.face.font().capital_height() * self.size * MM_PER_POINT;
        (self.pitch() + capital) / 2.0
    }

    fn face_of(self, manner: Manner) -> Face {
        match (manner, self.face) {
            (Manner::Plain, face) => face,
            (Manner::Strong, Face::Condensed | Face::CondensedBold) => Face::CondensedBold,
            (Manner::Strong, _) => Face::Bold,
            (Manner::Quiet, Face::Bold) => Face::Regular,
            (Manner::Quiet, _) => Face::Condensed,
        }
    }
}

/// A stretch of one line in one face.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Piece {
    /// From the line's left end, millimetres.
    pub(crate) x: f64,
    pub(crate) width: f64,
    pub(crate) text: String,
    pub(crate) face: Face,
    pub(crate) link: Option<String>,
}

/// A line as broken.
#[derive(Debug, Clone, PartialEq, Default)]
pub(crate) struct Line {
    pub(crate) pieces: Vec<Piece>,
    pub(crate) width: f64,
}

impl Line {
    /// Adds characters in the manner of a run, going on with the last piece where that is of the same kind.
    fn push(&mut self, text: &str, face: Face, link: Option<&String>, size: f64) {
        let width = face.width(text, size);
        match self.pieces.last_mut() {
            Some(last) if last.face == face && last.link.as_ref() == link => {
                last.text.push_str(text);
                last.width += width;
            }
            _ => self.pieces.push(Piece { x: self.width, width, text: text.to_owned(), face, link: link.cloned() }),
        }
        self.width += width;
    }

    fn append(&mut self, other: Self, size: f64) {
        for piece in other.pieces {
            self.push(&piece.text, piece.face, piece.link.as_ref(), size);
        }
    }
}

/// Makes characters that would hide or turn text harmless: a tab becomes a space; other controls, and marks that
/// turn the direction of writing, become the replacement sign; what has no width and no meaning on paper is dropped.
pub fn harmless(text: &str) -> String {
    text.chars()
        .filter_map(|c| match c {
            '\n' => Some('\n'),
            '\t' | '\u{2028}' | '\u{2029}' | '\u{85}' | '\u{b}' | '\u{c}' => Some(' '),
            '\u{ad}' | '\u{200b}' | '\u{200c}' | '\u{200d}' | '\u{2060}' | '\u{feff}' | '\r' => None,
            '\u{200e}' | '\u{200f}' | '\u{61c}' | '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}' => {
                Some(char::REPLACEMENT_CHARACTER)
            }
            c if c.is_control() || ('\u{e000}'..='\u{f8ff}').contains(&c) => Some(char::REPLACEMENT_CHARACTER),
            c => Some(c),
        })
        .collect()
}

/// Breaks a text into lines no wider than `width` millimetres. No text: no line.
pub(crate) fn wrap(inlines: &Inlines, style: Style, width: f64) -> Vec<Line> {
    let mut breaker =
        Breaker { style, width, lines: Vec::new(), line: Line::default(), word: Line::default(), space: None };
    for run in &inlines.0 {
        let face = style.face_of(run.manner);
        let mut word = String::new();
        for c in harmless(&run.text).chars() {
            match c {
                ' ' | '\n' => {
                    breaker.word.push(&std::mem::take(&mut word), face, run.link.as_ref(), style.size);
                    breaker.end_word();
                    if c == '\n' {
                        breaker.end_line();
                    } else {
                        breaker.space = Some(face);
                    }
                }
                _ => word.push(c),
            }
        }
        if !word.is_empty() {
            breaker.word.push(&word, face, run.link.as_ref(), style.size);
        }
    }
    breaker.end_word();
    if !breaker.line.pieces.is_empty() {
        breaker.end_line();
    }
    breaker.lines
}

struct Breaker {
    style: Style,
    width: f64,
    lines: Vec<Line>,
    line: Line,
    word: Line,
    /// A space waits between the line and the word, in this face.
    space: Option<Face>,
}

impl Breaker {
    fn end_line(&mut self) {
        self.lines.push(std::mem::take(&mut self.line));
        self.space = None;
    }

    fn end_word(&mut self) {
        let mut word = std::mem::take(&mut self.word);
        word.pieces.retain(|piece| !piece.text.is_empty());
        if word.pieces.is_empty() {
            return;
        }
        let size = self.style.size;
        let space = self.space.take().filter(|_| !self.line.pieces.is_empty());
        let gap = space.map_or(0.0, |face| face.width(" ", size));
        if self.line.width + gap + word.width > self.width + SLACK && space.is_some() {
            self.end_line();
        } else if let Some(face) = space {
            // The space belongs to the piece before it, so that copied text keeps it.
            let (face, link) = self.line.pieces.last().map_or((face, None), |last| (last.face, last.link.clone()));
            self.line.push(" ", face, link.as_ref(), size);
        }
        if self.line.width + word.width <= self.width + SLACK {
            self.line.append(word, size);
        } else {
            self.break_word(&word);
        }
    }

    /// A word wider than a line: as many characters as fit, line by line.
    fn break_word(&mut self, word: &Line) {
        for piece in &word.pieces {
            for c in piece.text.chars() {
                let wide = piece.face.width(c.encode_utf8(&mut [0; 4]), self.style.size);
                if self.line.width + wide > self.width + SLACK && !self.line.pieces.is_empty() {
                    self.end_line();
                }
                self.line.push(c.encode_utf8(&mut [0; 4]), piece.face, piece.link.as_ref(), self.style.size);
            }
        }
    }
}

/// Widths that differ by less than this, in millimetres, count as alike: sums of advances are not exact.
const SLACK: f64 = 1e-6;

/// The width of the widest line if nothing is broken, and of the widest word, in millimetres.
pub(crate) fn measure(inlines: &Inlines, style: Style) -> (f64, f64) {
    let lines = wrap(inlines, style, f64::INFINITY);
    let natural = lines.iter().map(|line| line.width).fold(0.0, f64::max);
    let mut word: f64 = 0.0;
    for line in &lines {
        // A word may run over several pieces; a piece may hold several words.
        let mut running = 0.0;
        for piece in &line.pieces {
            let mut parts = piece.text.split(' ').peekable();
            while let Some(part) = parts.next() {
                running += piece.face.width(part, style.size);
                word = word.max(running);
                if parts.peek().is_some() {
                    running = 0.0;
                }
            }
        }
    }
    (natural, word)
}

#[cfg(test)]
mod tests {
    use super::*;

    const STYLE: Style = Style::new(Face::Regular, 10.0);

    fn lines(inlines: &Inlines, width: f64) -> Vec<String> {
        let text = |line: &Line| line.pieces.iter().map(|piece| piece.text.as_str()).collect();
        wrap(inlines, STYLE, width).iter().map(text).collect()
    }

    #[test]
    fn no_line_is_wider_than_asked_and_no_character_is_lost() {
        let text = "Measure every slot from the squared end; averyveryverylongwordthatfitsnowhere goes on.";
        for width in [4.0, 12.0, 30.0, 61.5, 200.0] {
            let broken = wrap(&text.into(), STYLE, width);
            assert!(broken.iter().all(|line| line.width <= width + 1e-6), "{width}");
            let together: String = lines(&text.into(), width).concat();
            assert_eq!(together.replace(' ', ""), text.replace(' ', ""));
        }
    }

    #[test]
    fn a_word_of_two_manners_is_not_parted() {
        let inlines = Inlines::default().plain("one ").strong("two").plain(", three");
        assert_eq!(lines(&inlines, 13.0), ["one ", "two,", "three"].map(str::trim));
    }

    #[test]
    fn a_line_feed_breaks_and_spaces_do_not_pile_up() {
        assert_eq!(lines(&"one   two\nthree ".into(), 100.0), ["one two", "three"]);
    }

    #[test]
    fn marks_that_turn_or_hide_text_are_harmless() {
        assert_eq!(harmless("a\u{202e}b\u{7}c\td\u{200b}e"), "a\u{fffd}b\u{fffd}c de");
    }

    #[test]
    fn the_widest_word_may_span_runs() {
        let (_, apart) = measure(&"ab cd".into(), STYLE);
        let (_, joined) = measure(&Inlines::default().plain("a a").strong("bc d"), STYLE);
        assert!((apart - Face::Regular.width("ab", 10.0)).abs() < 1e-9);
        assert!((joined - Face::Regular.width("a", 10.0) - Face::Bold.width("bc", 10.0)).abs() < 1e-9);
    }
}
