//! Sizes and places that may be written in more than one way: a radius, an inset, a depth, a place.
//!
//! In: the text of a value. Out: what it says, or the fault with the code that it has.

use super::figure::split_figure;
use super::quantity::{Fault, quantity};
use super::words::{PlaceAcross, PlaceAlong, Side};
use crate::units::Length;

/// A radius of the board's face, as written.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum WrittenRadius {
    /// The word "flat".
    Flat,
    /// A radius.
    Of(Length),
}

/// How far in from the edge the holes of a pair lie.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Inset {
    /// A length, in from the tapered edge.
    Length(Length),
    /// A part of the half width there: 0.25 for `1/4 half-width`.
    PartOfHalfWidth(f64),
}

/// How deep a hole goes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum HoleDepth {
    /// Through.
    Through,
    /// This deep.
    Of(Length),
}

/// What the sides of a pocket follow: the word "neck" says the board's edges.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct PocketTaper;

/// Small letters and single spaces: how words and places are compared.
pub(crate) fn tidy(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ").to_lowercase()
}

/// Reads "flat" or a length.
pub(crate) fn radius(text: &str) -> Result<WrittenRadius, Fault> {
    if tidy(text) == "flat" { Ok(WrittenRadius::Flat) } else { quantity(text).map(WrittenRadius::Of) }
}

/// Reads "through" or a length.
pub(crate) fn hole_depth(text: &str) -> Result<HoleDepth, Fault> {
    if tidy(text) == "through" { Ok(HoleDepth::Through) } else { quantity(text).map(HoleDepth::Of) }
}

/// Reads a length or a part of the half width.
pub(crate) fn inset(text: &str) -> Result<Inset, Fault> {
    let (figure, rest) = split_figure(text).map_err(Fault::Unreadable)?;
    match tidy(rest).as_str() {
        "half-width" | "half width" | "of the half-width" | "of the half width" if figure.abs() < 1e6 => {
            Ok(Inset::PartOfHalfWidth(figure))
        }
        _ => quantity(text).map(Inset::Length),
    }
}

/// Which places along a key takes beside fret, last fret, board end, saddle, exit and a length.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Along {
    /// Any of them.
    Anywhere,
    /// A slot of the board: `last slot`, `fret 25`.
    Slot,
}

/// Reads a place along the board.
pub(crate) fn place_along(text: &str, along: Along) -> Result<PlaceAlong, Fault> {
    let tidied = tidy(text);
    let place = match tidied.as_str() {
        "last fret" => Some(PlaceAlong::LastFret),
        "last slot" => Some(PlaceAlong::LastFret),
        "board end" | "board's end" | "end of the board" => Some(PlaceAlong::BoardEnd),
        "saddle" => Some(PlaceAlong::Saddle),
        "exit" => Some(PlaceAlong::Exit),
        _ => None,
    };
    let place = match place {
        Some(place) => place,
        None => match tidied.strip_prefix("fret") {
            Some(number) if !number.is_empty() => PlaceAlong::Fret(fret_number(number)?),
            _ if tidied.starts_with(|c: char| c.is_alphabetic()) => {
                let names = ["last fret", "board end", "saddle", "exit"];
                let near = super::nearest::nearest(&tidied, names);
                let near = near.map_or(String::new(), |name| format!("; did you mean \"{name}\"?"));
                return Err(Fault::Unreadable(format!("it is not a place along the board{near}")));
            }
            _ => PlaceAlong::At(quantity(text)?),
        },
    };
    if along == Along::Slot && !matches!(place, PlaceAlong::LastFret | PlaceAlong::Fret(_)) {
        return Err(Fault::Unreadable("it must be a slot: \"last slot\" or \"fret 25\"".to_owned()));
    }
    Ok(place)
}

fn fret_number(text: &str) -> Result<u32, Fault> {
    let unreadable = || Fault::Unreadable("the number of the fret cannot be read: write \"fret 12\"".to_owned());
    let digits = text.trim();
    if digits.is_empty() || digits.len() > 6 || !digits.bytes().all(|byte| byte.is_ascii_digit()) {
        return Err(unreadable());
    }
    digits.parse().map_err(|_| unreadable())
}

/// Reads a place across: `13 mm bass`, `16 mm treble`, `centre`.
pub(crate) fn place_across(text: &str) -> Result<PlaceAcross, Fault> {
    let tidied = tidy(text);
    if matches!(tidied.as_str(), "centre" | "center" | "centreline" | "centerline") {
        return Ok(PlaceAcross::Centre);
    }
    let sides = [("bass", Side::Bass), ("treble", Side::Treble)];
    let sided = sides.iter().find_map(|(word, side)| {
        let distance = strip_word(text.trim(), word)?;
        Some((distance, *side))
    });
    let Some((distance, side)) = sided else {
        return match quantity::<Length>(text) {
            Ok(length) if length.to_mm() == 0.0 => Ok(PlaceAcross::Centre),
            Ok(_) => Err(Fault::Unreadable("it does not say which side: add \"bass\" or \"treble\"".to_owned())),
            Err(Fault::Unreadable(_)) if tidied.starts_with(|c: char| c.is_alphabetic()) => Err(Fault::Unreadable(
                "it is not a place across: write \"13 mm bass\", \"16 mm treble\" or \"centre\"".to_owned(),
            )),
            Err(fault) => Err(fault),
        };
    };
    let distance: Length = quantity(distance)?;
    if distance.to_mm() < 0.0 {
        return Err(Fault::Unreadable("a side is named, so the distance has no sign".to_owned()));
    }
    Ok(if distance.to_mm() == 0.0 { PlaceAcross::Centre } else { PlaceAcross::Off(distance, side) })
}

/// A place across without the word of its side; any other text as it is.
pub(crate) fn strip_side(text: &str) -> &str {
    [Side::Bass, Side::Treble].iter().find_map(|side| strip_word(text, side.word())).map_or(text, str::trim)
}

/// Takes a word off the end or the beginning of a text.
fn strip_word<'t>(text: &'t str, word: &str) -> Option<&'t str> {
    let cut = text.len().checked_sub(word.len())?;
    if text.get(cut..).is_some_and(|end| end.eq_ignore_ascii_case(word)) {
        return text.get(..cut).map(str::trim_end);
    }
    if text.get(..word.len()).is_some_and(|start| start.eq_ignore_ascii_case(word)) {
        return text.get(word.len()..).map(str::trim_start);
    }
    None
}

#[cfg(test)]
mod tests {
    use super::*;

    fn why<T: std::fmt::Debug>(result: Result<T, Fault>) -> String {
        match result {
            Err(Fault::Unreadable(why)) => why,
            other => panic!("{other:?}"),
        }
    }

    #[test]
    fn places_along_are_words_frets_or_lengths() {
        let along = |text| place_along(text, Along::Anywhere);
        assert_eq!(along("fret 12"), Ok(PlaceAlong::Fret(12)));
        assert_eq!(along("Fret  12"), Ok(PlaceAlong::Fret(12)));
        assert_eq!(along("last fret"), Ok(PlaceAlong::LastFret));
        assert_eq!(along("board end"), Ok(PlaceAlong::BoardEnd));
        assert_eq!(along("18 in"), Ok(PlaceAlong::At(Length::inches(18.0))));
        assert_eq!(along("12"), Err(Fault::NoUnit(12.0)));
        assert_eq!(why(along("sadle")), "it is not a place along the board; did you mean \"saddle\"?");
        assert_eq!(why(along("fret twelve")), "the number of the fret cannot be read: write \"fret 12\"");
        assert_eq!(why(along("fret 1.5")), "the number of the fret cannot be read: write \"fret 12\"");
        assert_eq!(place_along("last slot", Along::Slot), Ok(PlaceAlong::LastFret));
        assert_eq!(why(place_along("saddle", Along::Slot)), "it must be a slot: \"last slot\" or \"fret 25\"");
    }

    #[test]
    fn places_across_name_their_side() {
        assert_eq!(place_across("13 mm bass"), Ok(PlaceAcross::Off(Length::mm(13.0), Side::Bass)));
        assert_eq!(place_across("1/2 in Treble"), Ok(PlaceAcross::Off(Length::mm(12.7), Side::Treble)));
        assert_eq!(place_across("bass 13 mm"), Ok(PlaceAcross::Off(Length::mm(13.0), Side::Bass)));
        assert_eq!(place_across("centre"), Ok(PlaceAcross::Centre));
        assert_eq!(place_across("0 mm bass"), Ok(PlaceAcross::Centre));
        assert_eq!(why(place_across("13 mm")), "it does not say which side: add \"bass\" or \"treble\"");
        assert_eq!(why(place_across("-13 mm")), "it does not say which side: add \"bass\" or \"treble\"");
        assert_eq!(why(place_across("-13 mm bass")), "a side is named, so the distance has no sign");
        assert_eq!(place_across("13 bass"), Err(Fault::NoUnit(13.0)));
        let nowhere = "it is not a place across: write \"13 mm bass\", \"16 mm treble\" or \"centre\"";
        assert_eq!(why(place_across("left")), nowhere);
    }

    #[test]
    fn a_radius_may_be_flat_and_an_inset_a_part_of_the_half_width() {
        assert_eq!(radius("Flat"), Ok(WrittenRadius::Flat));
        assert_eq!(radius("14 in"), Ok(WrittenRadius::Of(Length::mm(355.599_999_999_999_97))));
        assert_eq!(inset("2/5 half-width"), Ok(Inset::PartOfHalfWidth(0.4)));
        assert_eq!(inset("¼ half width"), Ok(Inset::PartOfHalfWidth(0.25)));
        assert_eq!(inset("11 mm"), Ok(Inset::Length(Length::mm(11.0))));
        assert_eq!(inset("1/4"), Err(Fault::NoUnit(0.25)));
        assert_eq!(hole_depth("through"), Ok(HoleDepth::Through));
    }
}
