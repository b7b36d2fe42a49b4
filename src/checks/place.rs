//! Where on the instrument a check looks, in the words of messages and waivers.

use std::fmt;

use crate::spec::words::Side;

/// A place that one check may find right and another wrong.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Place {
    /// The instrument as a whole, or the only one there is.
    Whole,
    /// The nut's line.
    Nut,
    /// The saddle's line.
    Saddle,
    /// A fret's slot.
    Fret(usize),
    /// The board's far end.
    BoardEnd,
    /// One edge of the board, or what runs along it.
    Side(Side),
    /// One edge, at the nut.
    SideAtNut(Side),
    /// One edge, at a fret.
    SideAtFret(Side, usize),
    /// A lamp by its number, and the fret it marks.
    Lamp(usize, usize),
    /// The hole of a plain marker by its number, and the fret it marks.
    Hole(usize, usize),
    /// The pair of markers at a fret.
    Pair(usize),
    /// The dot or dots in the edge at a fret.
    SideDot(usize),
    /// A side channel.
    SideChannel(Side),
    /// The cross channel under a lit fret.
    CrossChannel(usize),
    /// The end channel.
    EndChannel,
    /// A group of lamps, from 1.
    Group(usize),
    /// A screw of the heel, from 1.
    Screw(usize),
    /// A string, 1 the highest.
    String(usize),
    /// The neck's heel.
    Heel,
    /// A pocket of the body by its number in the file.
    Pocket(usize),
    /// Two pockets of the body.
    Pockets(usize, usize),
    /// A hole of the body by its number in the file.
    BodyHole(usize),
}

impl Place {
    /// What so many more of this kind are called: "1 more lamp", "6 more lamps".
    pub(super) fn noun(self, count: usize) -> String {
        let noun = match self {
            Self::Fret(_) => "fret",
            Self::Lamp(..) => "lamp",
            Self::Hole(..) => "hole",
            Self::Pair(_) => "pair",
            Self::SideDot(_) => "side dot",
            Self::SideChannel(_) | Self::CrossChannel(_) | Self::EndChannel => "channel",
            Self::Group(_) => "group",
            Self::Screw(_) => "screw",
            Self::String(_) => "string",
            Self::Pocket(_) | Self::Pockets(..) => "pocket",
            Self::BodyHole(_) => "hole",
            Self::Side(_) => "side",
            Self::Whole
            | Self::Nut
            | Self::Saddle
            | Self::BoardEnd
            | Self::Heel
            | Self::SideAtNut(_)
            | Self::SideAtFret(..) => "place",
        };
        if count == 1 { noun.to_owned() } else { format!("{noun}s") }
    }

    /// Whether a waiver's place, as somebody wrote it, names this place: `fret 25`, `lamp 13`.
    pub(super) fn is_named(self, written: &str) -> bool {
        let written = written.trim();
        let names = |words: String| words.eq_ignore_ascii_case(written);
        match self {
            Self::Whole => false,
            Self::Lamp(number, _) => names(format!("lamp {number}")) || names(self.to_string()),
            Self::Hole(number, _) => names(format!("hole {number}")) || names(self.to_string()),
            _ => names(self.to_string()),
        }
    }
}

impl fmt::Display for Place {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match *self {
            Self::Whole => Ok(()),
            Self::Nut => f.write_str("nut"),
            Self::Saddle => f.write_str("saddle"),
            Self::Fret(fret) => write!(f, "fret {fret}"),
            Self::BoardEnd => f.write_str("board's end"),
            Self::Heel => f.write_str("heel"),
            Self::Pocket(pocket) => write!(f, "pocket {pocket}"),
            Self::Pockets(one, other) => write!(f, "pockets {one} and {other}"),
            Self::BodyHole(hole) => write!(f, "hole {hole} of the body"),
            Self::Side(side) => write!(f, "{} side", side.word()),
            Self::SideAtNut(side) => write!(f, "{} side at the nut", side.word()),
            Self::SideAtFret(side, fret) => write!(f, "{} side at fret {fret}", side.word()),
            Self::Lamp(number, fret) => write!(f, "lamp {number} (fret {fret})"),
            Self::Hole(number, fret) => write!(f, "hole {number} (fret {fret})"),
            Self::Pair(fret) => write!(f, "pair at fret {fret}"),
            Self::SideDot(fret) => write!(f, "side dot at fret {fret}"),
            Self::SideChannel(side) => write!(f, "{} side channel", side.word()),
            Self::CrossChannel(fret) => write!(f, "cross channel at fret {fret}"),
            Self::EndChannel => f.write_str("end channel"),
            Self::Group(group) => write!(f, "group {group}"),
            Self::Screw(screw) => write!(f, "screw {screw}"),
            Self::String(string) => write!(f, "string {string}"),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_waiver_names_a_place_as_the_message_does() {
        assert!(Place::Fret(25).is_named(" Fret 25"));
        assert!(!Place::Fret(25).is_named("fret 2"));
        assert!(Place::Lamp(13, 24).is_named("lamp 13"));
        assert!(Place::SideAtNut(Side::Bass).is_named("bass side at the nut"));
        assert!(!Place::Whole.is_named(""));
    }
}
