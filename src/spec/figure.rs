//! Figures as a builder writes them: `25`, `25.5`, `3/32`, `25 1/2`, `25-1/2`, `25½`.
//!
//! In: the text of a value. Out: the figure and what stands behind it (the unit), or in words why it cannot
//! be read. Generous with spaces and printed fractions; strict with what two people could read in two ways.

/// Why a figure cannot be read, ready to stand after the value in a message.
pub(crate) type Unreadable = String;

/// The printed fractions of Unicode.
const PRINTED: [(char, f64, f64); 20] = [
    ('½', 1.0, 2.0),
    ('⅓', 1.0, 3.0),
    ('⅔', 2.0, 3.0),
    ('¼', 1.0, 4.0),
    ('¾', 3.0, 4.0),
    ('⅕', 1.0, 5.0),
    ('⅖', 2.0, 5.0),
    ('⅗', 3.0, 5.0),
    ('⅘', 4.0, 5.0),
    ('⅙', 1.0, 6.0),
    ('⅚', 5.0, 6.0),
    ('⅐', 1.0, 7.0),
    ('⅛', 1.0, 8.0),
    ('⅜', 3.0, 8.0),
    ('⅝', 5.0, 8.0),
    ('⅞', 7.0, 8.0),
    ('⅑', 1.0, 9.0),
    ('⅒', 1.0, 10.0),
    ('↉', 0.0, 3.0),
    ('⅟', f64::NAN, f64::NAN),
];

/// Splits a text into its figure and the rest, which has no space around it.
///
/// # Errors
/// In words, when the text does not begin with a figure that can be read in one way only.
pub(crate) fn split_figure(text: &str) -> Result<(f64, &str), Unreadable> {
    read_figure(text).map(|figure| (figure.value, figure.rest))
}

/// A figure as it was read.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Figure<'t> {
    /// Its value.
    pub(crate) value: f64,
    /// What stands under its fraction; none without a fraction.
    pub(crate) under: Option<f64>,
    /// What stands behind it, without space around.
    pub(crate) rest: &'t str,
}

/// The same with what stands under its fraction.
///
/// # Errors
/// As [`split_figure`].
pub(crate) fn read_figure(text: &str) -> Result<Figure<'_>, Unreadable> {
    let mut cursor = Cursor { rest: text.trim(), under: None };
    let negative = cursor.take_any(&['-', '−']);
    if !negative {
        cursor.take_any(&['+']);
    }
    let sign = if negative { -1.0 } else { 1.0 };
    let Some(first) = cursor.number()? else {
        let (top, bottom) = cursor.printed_fraction()?.ok_or("there is no figure in it")?;
        return cursor.end(sign * top / bottom);
    };
    if cursor.take_slash() {
        return cursor.fraction_over(first).and_then(|share| cursor.end(sign * share));
    }
    let share = cursor.mixed_fraction(first)?;
    cursor.end(sign * (first.value + share))
}

/// A run of digits, and whether it had a decimal point.
#[derive(Clone, Copy)]
struct Number {
    value: f64,
    whole: bool,
}

struct Cursor<'t> {
    rest: &'t str,
    /// What stood under the fraction that was read.
    under: Option<f64>,
}

impl<'t> Cursor<'t> {
    fn take_any(&mut self, signs: &[char]) -> bool {
        match self.rest.strip_prefix(signs) {
            Some(rest) => {
                self.rest = rest.trim_start();
                true
            }
            None => false,
        }
    }

    /// The slash of a fraction, with or without spaces round it.
    fn take_slash(&mut self) -> bool {
        match self.rest.trim_start().strip_prefix(['/', '⁄', '∕']) {
            Some(rest) => {
                self.rest = rest.trim_start();
                true
            }
            None => false,
        }
    }

    /// Digits with at most one point.
    fn number(&mut self) -> Result<Option<Number>, Unreadable> {
        let length = self.rest.find(|c: char| !c.is_ascii_digit() && c != '.').unwrap_or(self.rest.len());
        let (digits, rest) = self.rest.split_at(length);
        if !digits.contains(|c: char| c.is_ascii_digit()) {
            return Ok(None);
        }
        let mut after = rest.chars();
        match (after.next(), after.next()) {
            (Some(','), Some(next)) if next.is_ascii_digit() => {
                let behind: String = rest[1..].chars().take_while(char::is_ascii_digit).take(12).collect();
                let whole: String = digits.chars().take(12).collect();
                // Three digits may be meant as thousands.
                let other = if behind.len() == 3 { format!(" or {whole}{behind}") } else { String::new() };
                return Err(format!("a comma can be misread: write {whole}.{behind}{other}"));
            }
            (Some('e' | 'E'), Some(next)) if next.is_ascii_digit() || next == '-' || next == '+' => {
                return Err("write the figure out, without a power of ten".to_owned());
            }
            (Some('_' | '\''), Some(next)) if next.is_ascii_digit() => {
                return Err("write the figure without marks between its digits".to_owned());
            }
            _ => {}
        }
        let value = digits.parse().map_err(|_| "a figure has at most one decimal point".to_owned())?;
        self.rest = rest;
        Ok(Some(Number { value, whole: !digits.contains('.') }))
    }

    fn printed_fraction(&mut self) -> Result<Option<(f64, f64)>, Unreadable> {
        let Some(sign) = self.rest.chars().next() else { return Ok(None) };
        let Some((_, top, bottom)) = PRINTED.iter().find(|(printed, ..)| *printed == sign) else { return Ok(None) };
        if top.is_nan() {
            return Err("write the fraction with a slash".to_owned());
        }
        self.rest = &self.rest[sign.len_utf8()..];
        self.under = Some(*bottom);
        Ok(Some((*top, *bottom)))
    }

    /// What stands under a fraction whose top has been read.
    fn fraction_over(&mut self, top: Number) -> Result<f64, Unreadable> {
        let bottom = self.number()?.ok_or("there is nothing under the fraction")?;
        if !top.whole || !bottom.whole {
            return Err("a fraction has whole numbers above and below".to_owned());
        }
        if bottom.value == 0.0 {
            return Err("nothing can be divided by 0".to_owned());
        }
        if bottom.value > FINEST {
            return Err("the fraction is finer than anything that can be measured".to_owned());
        }
        self.under = Some(bottom.value);
        Ok(top.value / bottom.value)
    }

    /// The fraction behind a whole number: `25 1/2`, `25-1/2`, `25½`; zero when there is none.
    fn mixed_fraction(&mut self, whole: Number) -> Result<f64, Unreadable> {
        let spaced = self.rest.starts_with(char::is_whitespace);
        self.rest = self.rest.trim_start();
        if let Some((top, bottom)) = self.printed_fraction()? {
            return if whole.whole { Ok(top / bottom) } else { Err(DECIMAL_AND_FRACTION.to_owned()) };
        }
        let hyphen = match self.rest.strip_prefix('-') {
            Some(rest) if spaced || rest.starts_with(char::is_whitespace) => {
                return Err("a hyphen with spaces can be read as minus".to_owned());
            }
            Some(rest) => {
                self.rest = rest;
                true
            }
            None => false,
        };
        let Some(top) = self.number()? else {
            return if hyphen { Err("a fraction must follow the hyphen".to_owned()) } else { Ok(0.0) };
        };
        if !self.take_slash() {
            return Err("there are two figures in it".to_owned());
        }
        if !whole.whole {
            return Err(DECIMAL_AND_FRACTION.to_owned());
        }
        let share = self.fraction_over(top)?;
        if share >= 1.0 {
            return Err("the fraction behind a whole number must be less than 1".to_owned());
        }
        Ok(share)
    }

    fn end(&self, value: f64) -> Result<Figure<'t>, Unreadable> {
        let rest = self.rest.trim();
        if rest.starts_with(['/', '⁄', '∕']) {
            return Err("there are two fractions in it".to_owned());
        }
        Ok(Figure { value, under: self.under, rest })
    }
}

/// The greatest number under a fraction that is taken for meant.
const FINEST: f64 = 1e6;

const DECIMAL_AND_FRACTION: &str = "a decimal figure and a fraction do not go together";

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_figure_is_read_in_each_spelling_of_the_bench() {
        for (text, figure, rest) in [
            ("25 in", 25.0, "in"),
            ("25in", 25.0, "in"),
            ("  25.5   mm ", 25.5, "mm"),
            (".5 mm", 0.5, "mm"),
            ("25. mm", 25.0, "mm"),
            ("25 1/2 in", 25.5, "in"),
            ("25-1/2 in", 25.5, "in"),
            ("25½ in", 25.5, "in"),
            ("25 ½\u{a0}in", 25.5, "in"),
            ("½ in", 0.5, "in"),
            ("3/32 in", 0.09375, "in"),
            ("3 / 32 in", 0.09375, "in"),
            ("3⁄32 in", 0.09375, "in"),
            ("-1/2 deg", -0.5, "deg"),
            ("−1 1/2 deg", -1.5, "deg"),
            ("+2 deg", 2.0, "deg"),
            ("1/4 half-width", 0.25, "half-width"),
            ("007 mm", 7.0, "mm"),
            ("25", 25.0, ""),
        ] {
            let (read, left) = split_figure(text).unwrap();
            assert!((read - figure).abs() < 1e-12, "{text}: {read}");
            assert_eq!(left, rest, "{text}");
        }
    }

    #[test]
    fn what_could_be_read_in_two_ways_is_refused_in_plain_words() {
        for (text, why) in [
            ("5/0 in", "nothing can be divided by 0"),
            ("25 5/0 in", "nothing can be divided by 0"),
            ("25,5 mm", "a comma can be misread: write 25.5"),
            ("1,000 mm", "a comma can be misread: write 1.000 or 1000"),
            ("25 - 1/2 in", "a hyphen with spaces can be read as minus"),
            ("25- 1/2 in", "a hyphen with spaces can be read as minus"),
            ("25-3 mm", "there are two figures in it"),
            ("25 3 mm", "there are two figures in it"),
            ("25.5 1/2 in", "a decimal figure and a fraction do not go together"),
            ("25 3/2 in", "the fraction behind a whole number must be less than 1"),
            ("1/2/3 in", "there are two fractions in it"),
            ("1.5/2 in", "a fraction has whole numbers above and below"),
            ("25 1/99999999 in", "the fraction is finer than anything that can be measured"),
            ("1/ in", "there is nothing under the fraction"),
            ("1.2.3 mm", "a figure has at most one decimal point"),
            ("1e3 mm", "write the figure out, without a power of ten"),
            ("1_000 mm", "write the figure without marks between its digits"),
            ("NaN mm", "there is no figure in it"),
            ("inf mm", "there is no figure in it"),
            ("", "there is no figure in it"),
            (".", "there is no figure in it"),
            ("mm 5", "there is no figure in it"),
        ] {
            assert_eq!(split_figure(text).unwrap_err(), why, "{text}");
        }
    }

    #[test]
    fn no_text_makes_the_reader_panic() {
        let digits = "9".repeat(5_000);
        for text in ["½½", "25½½ in", "⅟4 in", "-", "+", "- 1 mm", "1 ½/2", "٣ mm", digits.as_str()] {
            let _ = split_figure(text);
        }
    }
}
