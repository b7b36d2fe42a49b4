//! The instrument as the commission asks for it, table by table in the order of the commission file.

use super::{Body, Channels, Known, Lamp, LampCircuit, Markers, Neck, Resolved, Setup, Shop, Sourced};
use crate::source::Span;
use crate::spec::words::{
    Cut, EndCut, Hand, Measured, Method, NutAt, Paper, PlaceAlong, PrintIn, Sequence, Setting, Spacing, StringKind,
};
use crate::units::{Density, Length, LinearDensity, Share};

/// A whole commission, resolved.
#[derive(Debug, Clone)]
pub struct Model {
    /// `[commission]`.
    pub commission: Commission,
    /// `[parts]`.
    pub parts: Parts,
    /// `[scale]`.
    pub scale: Scale,
    /// `[frets]`.
    pub frets: Frets,
    /// `[wire]`.
    pub wire: Wire,
    /// `[slots]`.
    pub slots: Slots,
    /// `[radius]`.
    pub radius: Radius,
    /// `[taper]`.
    pub taper: Taper,
    /// `[board]`.
    pub board: Board,
    /// `[markers]`; none: no markers.
    pub markers: Option<Markers>,
    /// `[lamp]`; only with lit markers.
    pub lamp: Option<Lamp>,
    /// `[channels]`; only with lit markers.
    pub channels: Option<Channels>,
    /// `[electronics.lamps]`; only with lit markers.
    pub circuit: Option<LampCircuit>,
    /// `[strings]`.
    pub strings: Strings,
    /// `[setup]`; none: not written.
    pub setup: Option<Setup>,
    /// `[neck]`; none: not in this packet.
    pub neck: Option<Neck>,
    /// `[body]`; none: not in this packet.
    pub body: Option<Body>,
    /// The names of the pickups, `[[electronics.pickup]]`.
    pub pickups: Sourced<Vec<String>>,
    /// `[[materials]]`.
    pub materials: Vec<ExtraMaterial>,
    /// `[[waiver]]`.
    pub waivers: Vec<Waiver>,
    /// `[limits]`: shop file first, commission after it.
    pub limits: Vec<LimitOverride>,
    /// `[tolerances]`: shop file first, commission after it.
    pub tolerances: Vec<ToleranceOverride>,
    /// What the shop file says.
    pub shop: Shop,
    /// Every resolved value, in the order of the commission file.
    pub values: Vec<Resolved>,
}

/// `[commission]`.
#[derive(Debug, Clone)]
pub struct Commission {
    /// The number, unique among the files of one run.
    pub number: Sourced<String>,
    /// The title.
    pub title: Sourced<String>,
    /// Who ordered it.
    pub customer: Option<Sourced<String>>,
    /// The serial number.
    pub serial: Option<Sourced<String>>,
    /// When it is due, ISO 8601.
    pub due: Option<Sourced<String>>,
    /// Who drew the commission up.
    pub drawn_by: Option<Sourced<String>>,
    /// The player's hand.
    pub hand: Sourced<Hand>,
    /// Board or neck first.
    pub sequence: Sourced<Sequence>,
    /// The working unit.
    pub print_in: Sourced<PrintIn>,
    /// The paper.
    pub paper: Sourced<Paper>,
}

/// `[parts]`: which making of each part this is.
#[derive(Debug, Clone)]
pub struct Parts {
    /// The board.
    pub board: Sourced<u32>,
    /// The neck.
    pub neck: Sourced<u32>,
    /// The body.
    pub body: Sourced<u32>,
}

/// `[scale]`.
#[derive(Debug, Clone)]
pub struct Scale {
    /// One length or two.
    pub length: ScaleLength,
    /// Along what the two are measured.
    pub measured: Sourced<Measured>,
    /// Equal steps to the octave.
    pub divisions: Sourced<u32>,
}

/// A four-string instrument of a shorter scale than this, in millimetres, is a small one. Common practice, no source.
const SMALL_SCALE: f64 = 550.0;

impl Scale {
    /// The scale, of a fan the bass scale.
    pub const fn longest(&self) -> &Sourced<Length> {
        match &self.length {
            ScaleLength::One(length) => length,
            ScaleLength::Fan { bass, .. } => bass,
        }
    }

    /// Whether the instrument is a small one: four strings, and a short scale.
    ///
    /// # Errors
    /// With the key that must be known to tell.
    pub fn is_small(&self, strings: &Strings) -> Known<bool> {
        let four = strings.set.value.as_ref().map(|set| set.len() == 4).map_err(|missing| *missing);
        match (four, self.longest().mm()) {
            (Ok(false), _) => Ok(false),
            (_, Ok(length)) if length >= SMALL_SCALE => Ok(false),
            (Ok(true), Ok(_)) => Ok(true),
            (Err(missing), _) | (_, Err(missing)) => Err(missing),
        }
    }
}

/// One scale, or the two of a fan.
#[derive(Debug, Clone)]
pub enum ScaleLength {
    /// Straight frets.
    One(Sourced<Length>),
    /// A fan.
    Fan {
        /// The bass scale.
        bass: Sourced<Length>,
        /// The treble scale.
        treble: Sourced<Length>,
        /// The fret that stands square; 0 is the nut.
        square_fret: Sourced<u32>,
    },
}

/// `[frets]`.
#[derive(Debug, Clone)]
pub struct Frets {
    /// The number of the last fret.
    pub count: Sourced<u32>,
    /// What stands at the zero line.
    pub nut_at: Sourced<NutAt>,
    /// From the zero line back to the squared end; with a nut in a slot or a zero fret.
    pub behind_nut: Option<Sourced<Length>>,
    /// Frets under some strings only.
    pub partial: Sourced<Vec<PartialFret>>,
}

/// One partial fret.
#[derive(Debug, Clone, PartialEq)]
pub struct PartialFret {
    /// The fret.
    pub fret: u32,
    /// The strings it lies under, 1 = highest.
    pub strings: Vec<u32>,
    /// Where it is written.
    pub span: Span,
}

/// `[wire]`: fret wire.
#[derive(Debug, Clone)]
pub struct Wire {
    /// The id of a pattern.
    pub pattern: Option<Sourced<String>>,
    /// Width of the crown.
    pub crown_width: Sourced<Length>,
    /// Height of the crown.
    pub crown_height: Sourced<Length>,
    /// Depth of the tang.
    pub tang_depth: Sourced<Length>,
    /// Thickness of the tang.
    pub tang_width: Sourced<Length>,
    /// Thickness over the barbs.
    pub barb_width: Sourced<Length>,
    /// Left over each edge before trimming.
    pub overhang: Sourced<Length>,
    /// Length sold.
    pub stick: Sourced<Length>,
}

/// `[slots]`.
#[derive(Debug, Clone)]
pub struct Slots {
    /// The shop's blade, by name.
    pub blade: Option<Sourced<String>>,
    /// Width of the cut: measured, or the blade's.
    pub kerf: Sourced<Length>,
    /// Room left under the tang.
    pub under_tang: Sourced<Length>,
    /// When and along what the slots are cut.
    pub cut: Sourced<Cut>,
    /// One setting or one each.
    pub setting: Sourced<Setting>,
    /// Still to come off the face after slotting.
    pub skim: Sourced<Length>,
    /// Stop or scribe.
    pub method: Sourced<Method>,
}

/// `[radius]`.
#[derive(Debug, Clone)]
pub enum Radius {
    /// One radius, or flat.
    One(Sourced<BoardRadius>),
    /// A cone.
    Cone {
        /// At x = 0.
        nut: Sourced<BoardRadius>,
        /// At `end_at`.
        end: Sourced<BoardRadius>,
        /// Where the second holds.
        end_at: Sourced<PlaceAlong>,
    },
}

/// A radius of the board's face.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum BoardRadius {
    /// No radius.
    Flat,
    /// A radius.
    Of(Length),
}

/// `[taper]`.
#[derive(Debug, Clone)]
pub struct Taper {
    /// By widths or from the strings.
    pub edges: TaperEdges,
    /// Wood beyond the last slot, along the centreline.
    pub past_last: Sourced<Length>,
    /// How the far end is cut.
    pub end_cut: Sourced<EndCut>,
}

/// How the edges are given.
#[derive(Debug, Clone)]
pub enum TaperEdges {
    /// Finished widths at x = 0 and at a place.
    Widths {
        /// At x = 0.
        nut: Sourced<Length>,
        /// At `end_at`.
        end: Sourced<Length>,
        /// Where.
        end_at: Sourced<PlaceAlong>,
    },
    /// From the outer strings' centres to the edges, at x = 0 and at the board's end.
    FromStrings {
        /// Bass, at x = 0.
        nut_bass: Sourced<Length>,
        /// Bass, at the board's end.
        end_bass: Sourced<Length>,
        /// Treble, at x = 0.
        nut_treble: Sourced<Length>,
        /// Treble, at the board's end.
        end_treble: Sourced<Length>,
    },
}

/// `[board]`.
#[derive(Debug, Clone)]
pub struct Board {
    /// The wood.
    pub wood: Sourced<Wood>,
    /// Finished thickness on the centreline.
    pub thickness: Sourced<Length>,
    /// Length of the blank, where written.
    pub blank_length: Option<Sourced<Length>>,
    /// Width of the blank; not written: from the widest board.
    pub blank_width: Option<Sourced<Length>>,
    /// Thickness of the blank, where written.
    pub blank_thickness: Option<Sourced<Length>>,
    /// Thickness of the binding; 0: unbound.
    pub binding: Sourced<Length>,
    /// How far a nipped tang stops short of the binding.
    pub tang_gap: Sourced<Length>,
    /// Moisture of the wood.
    pub moisture: Option<Sourced<Share>>,
}

impl Board {
    /// Whether the board has a binding; not while that is open.
    pub fn is_bound(&self) -> bool {
        self.binding.mm().is_ok_and(|binding| binding > 0.0)
    }
}

/// A wood, from the shop's rack, the catalogue, or by its density alone.
#[derive(Debug, Clone, PartialEq)]
pub struct Wood {
    /// The id or name as written.
    pub id: String,
    /// The name on paper.
    pub name: String,
    /// Density, where known.
    pub density: Option<Density>,
}

/// `[strings]`.
#[derive(Debug, Clone)]
pub struct Strings {
    /// Outer to outer at the nut, centres, square to the centreline.
    pub spread_nut: Sourced<Length>,
    /// The same at the saddle.
    pub spread_saddle: Sourced<Length>,
    /// The rule at the nut.
    pub spacing: Sourced<Spacing>,
    /// The rule at the saddle.
    pub spacing_saddle: Sourced<Spacing>,
    /// The strings, highest first.
    pub set: Sourced<Vec<InstrumentString>>,
}

/// One string.
#[derive(Debug, Clone, PartialEq)]
pub struct InstrumentString {
    /// The note: `E4`.
    pub note: String,
    /// Its number in the usual count of semitones, A4 = 69.
    pub semitone: i32,
    /// Diameter.
    pub gauge: Length,
    /// What it is made of.
    pub kind: StringKind,
    /// Weight per length, where weighed.
    pub weight: Option<LinearDensity>,
    /// Where it is written: in the commission, or in the shop's set.
    pub span: Span,
}

/// A line of `[[materials]]`.
#[derive(Debug, Clone)]
pub struct ExtraMaterial {
    /// What, as printed; the name of a derived line overrides that line.
    pub what: String,
    /// How many, where decided.
    pub quantity: Option<f64>,
    /// In what unit.
    pub unit: Option<String>,
    /// Price of one unit in the shop's currency.
    pub price: Option<f64>,
    /// Share added for waste.
    pub waste: Option<Share>,
    /// Where the waste is written; the line's own place without one.
    pub waste_span: Span,
    /// Papers at hand for listed species.
    pub papers: Option<String>,
    /// Where it is written.
    pub span: Span,
}

/// A line of `[[waiver]]`: a named person accepts an error.
#[derive(Debug, Clone)]
pub struct Waiver {
    /// The code.
    pub code: String,
    /// The key or place it is accepted for.
    pub place: String,
    /// Why.
    pub why: String,
    /// Who.
    pub by: String,
    /// When, ISO 8601.
    pub date: String,
    /// Where it is written.
    pub span: Span,
}

/// A limit of the shop or the commission.
#[derive(Debug, Clone)]
pub struct LimitOverride {
    /// The code.
    pub code: crate::diag::Code,
    /// The bound of the note, in the unit of the code's limit.
    pub note: Option<f64>,
    /// The bound of the warning, in the unit of the code's limit.
    pub warning: Option<f64>,
    /// The bound of the error, in the unit of the code's limit.
    pub error: Option<f64>,
    /// The reason given.
    pub why: String,
    /// Where it is written.
    pub span: Span,
}

/// A tolerance of the shop or the commission.
#[derive(Debug, Clone)]
pub struct ToleranceOverride {
    /// The tolerance's name: "slot position".
    pub name: String,
    /// The value.
    pub value: Length,
    /// The reason given.
    pub why: String,
    /// Where it is written.
    pub span: Span,
}
