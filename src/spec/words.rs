//! The words of the commission file: each choice that a builder makes by a word.
//!
//! Spec and model share these types; the reader offers the words in its messages.

pub use crate::catalog::{LensShape, Series};
pub use crate::paper::Paper;

/// A choice that is written as one of a few words.
pub trait Word: Copy + Eq + 'static {
    /// Every word with its meaning, in the order in which messages offer them.
    const WORDS: &'static [(&'static str, Self)];

    /// The word as the commission file writes it.
    fn as_word(self) -> &'static str {
        Self::WORDS.iter().find(|(_, value)| *value == self).map_or("", |(word, _)| word)
    }
}

macro_rules! words {
    ($($(#[$doc:meta])* $name:ident { $($(#[$variant_doc:meta])* $variant:ident = $word:literal),* $(,)? })*) => {$(
        $(#[$doc])*
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub enum $name { $($(#[$variant_doc])* $variant),* }

        impl Word for $name {
            const WORDS: &'static [(&'static str, Self)] = &[$(($word, Self::$variant)),*];
        }
    )*};
}

words! {
    /// The player's hand.
    Hand {
        /// Bass side at minus y.
        Right = "right",
        /// Bass side at plus y; every sheet is drawn so.
        Left = "left",
    }
    /// Which part is made first.
    Sequence {
        /// The neck is fitted to the board.
        BoardFirst = "board first",
        /// The board is cut to the neck.
        NeckFirst = "neck first",
    }
    /// The working unit of the sheets.
    PrintIn {
        /// Millimetres.
        Millimetre = "mm",
        /// Decimal inches.
        Inch = "in",
    }
    /// Along what a fan's two scales are measured.
    Measured {
        /// Along the outer strings.
        AlongString = "along string",
        /// As projected on the centreline.
        AlongCentreline = "along centreline",
    }
    /// What stands at the zero line.
    NutAt {
        /// The squared end is the zero line; the nut sits before it.
        BoardEnd = "board end",
        /// The nut sits in a slot, with wood behind it.
        Slot = "slot",
        /// The strings leave from a fret.
        ZeroFret = "zero fret",
    }
    /// When the slots are cut, and along what their bottom runs.
    Cut {
        /// Into the flat face.
        BeforeRadiusing = "before radiusing",
        /// Into the radiused face, the bottom straight.
        AfterRadiusing = "after radiusing",
        /// Into the radiused face, the bottom parallel to it.
        FollowingRadius = "following the radius",
    }
    /// How many settings of the blade.
    Setting {
        /// One for all slots.
        One = "one",
        /// One for each slot.
        Each = "each",
    }
    /// How slots are placed.
    Method {
        /// Against a stop.
        Stop = "stop",
        /// By scribed lines.
        Scribed = "scribed",
    }
    /// How the board's far end is cut.
    EndCut {
        /// Square to the centreline.
        Square = "square",
        /// Parallel to the last fret.
        AlongLastFret = "along last fret",
    }
    /// What the face markers are.
    MarkerKind {
        /// Lamps shining through.
        Lit = "lit",
        /// Dots.
        Plain = "plain",
        /// None on the face.
        None = "none",
    }
    /// Whether each lamp has a seat of its own depth.
    Seats {
        /// Each at its own depth.
        Each = "each",
        /// All at the deepest.
        OneSetting = "one setting",
    }
    /// Where the lamps' resistors are.
    Resistors {
        /// In the cavity, where they can be changed.
        Cavity = "cavity",
        /// In the board, potted.
        Board = "board",
    }
    /// How strings are spread.
    Spacing {
        /// Equal clear gaps between neighbours.
        EqualGaps = "equal gaps",
        /// Equal distances between centres.
        EqualCentres = "equal centres",
    }
    /// What a string is made of.
    StringKind {
        /// Plain steel.
        Plain = "plain",
        /// Wound on steel.
        Wound = "wound",
        /// Plain nylon.
        Nylon = "nylon",
        /// Wound on nylon.
        WoundNylon = "wound nylon",
        /// Fluorocarbon.
        Fluorocarbon = "fluorocarbon",
        /// Gut.
        Gut = "gut",
    }
    /// What a pocket of the body holds.
    Holds {
        /// The neck's heel.
        Neck = "neck",
        /// A pickup.
        Pickup = "pickup",
        /// Controls.
        Controls = "controls",
        /// A battery.
        Battery = "battery",
        /// Anything else.
        Other = "other",
    }
    /// A face of the body.
    BodyFace {
        /// The front.
        Front = "front",
        /// The back.
        Back = "back",
    }
}

impl Word for LensShape {
    const WORDS: &'static [(&'static str, Self)] = &[("flat", Self::Flat), ("domed", Self::Domed)];
}

impl Word for Paper {
    const WORDS: &'static [(&'static str, Self)] = &[("a4", Self::A4), ("letter", Self::Letter)];
}

impl Word for Series {
    const WORDS: &'static [(&'static str, Self)] = &[("E12", Self::E12), ("E24", Self::E24), ("E96", Self::E96)];
}

/// A side of the instrument, as the commission file and every sheet name it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Side {
    /// Where the lowest string lies.
    Bass,
    /// Where the highest string lies.
    Treble,
}

impl Side {
    /// Both sides, bass first.
    pub const BOTH: [Self; 2] = [Self::Bass, Self::Treble];

    /// The word on paper.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Bass => "bass",
            Self::Treble => "treble",
        }
    }

    /// The sign of this side in the frame of the design, where plus points to the treble side of either hand.
    pub const fn toward_treble(self) -> f64 {
        match self {
            Self::Bass => -1.0,
            Self::Treble => 1.0,
        }
    }
}

impl Hand {
    /// Turns a place across counted toward the treble side into the signed y of the files' frame.
    pub fn y(self, toward_treble: f64) -> f64 {
        match self {
            Self::Right => toward_treble,
            // Adding zero keeps minus zero out of the files.
            Self::Left => 0.0 - toward_treble,
        }
    }
}

/// A place along the board, as written.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum PlaceAlong {
    /// The slot of a fret.
    Fret(u32),
    /// The last slot.
    LastFret,
    /// The board's far end on the centreline.
    BoardEnd,
    /// The saddle line.
    Saddle,
    /// The exit of the lamps' wires.
    Exit,
    /// A distance from the zero line.
    At(crate::units::Length),
}

/// A place across the board, as written: a side is named, never signed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum PlaceAcross {
    /// On the centreline.
    Centre,
    /// This far from the centreline on a side.
    Off(crate::units::Length, Side),
}

impl PlaceAcross {
    /// Millimetres from the centreline, plus toward the treble side.
    pub fn toward_treble(self) -> f64 {
        match self {
            Self::Centre => 0.0,
            Self::Off(distance, side) => side.toward_treble() * distance.to_mm(),
        }
    }
}

impl PlaceAlong {
    /// The place in words: "fret 12", "the board's end".
    pub fn words(self) -> String {
        match self {
            Self::Fret(number) => format!("fret {number}"),
            Self::LastFret => "the last fret".to_owned(),
            Self::BoardEnd => "the board's end".to_owned(),
            Self::Saddle => "the saddle".to_owned(),
            Self::Exit => "the exit".to_owned(),
            Self::At(length) => format!("{} mm", crate::rounding::fixed(length.to_mm(), 2)),
        }
    }
}
