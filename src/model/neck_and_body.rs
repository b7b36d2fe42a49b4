//! What the board is glued to and what is strung over it: set-up, neck and body.

use super::Sourced;
use crate::source::Span;
use crate::spec::words::{BodyFace, Holds, PlaceAcross, PlaceAlong};
use crate::units::{Angle, Length};

/// `[setup]`: how the strings lie.
#[derive(Debug, Clone)]
pub struct Setup {
    /// Action at the first fret.
    pub action_1: Option<Action>,
    /// Action at the twelfth.
    pub action_12: Option<Action>,
    /// How far a saddle can go behind the scale line.
    pub saddle_travel: Option<Sourced<Length>>,
    /// Height of the strings over the body at the saddle line, as the bridge can be set.
    pub bridge_height: Option<Sourced<BridgeHeight>>,
}

/// An action: from the crown of a fret to the string above it.
#[derive(Debug, Clone)]
pub struct Action {
    /// Under the highest string.
    pub treble: Sourced<Length>,
    /// Under the lowest.
    pub bass: Sourced<Length>,
}

/// What a bridge can be set to: strings above the body at the saddle line.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BridgeHeight {
    /// The lowest setting.
    pub lowest: Length,
    /// The highest setting.
    pub highest: Length,
}

/// `[neck]`.
#[derive(Debug, Clone)]
pub struct Neck {
    /// Width of the rod's slot.
    pub rod_width: Option<Sourced<Length>>,
    /// Depth of the rod's slot.
    pub rod_depth: Option<Sourced<Length>>,
    /// Length of the rod's slot; none: to the zero line.
    pub rod_length: Option<Sourced<Length>>,
    /// From the board's end to the rod's slot.
    pub rod_end_gap: Option<Sourced<Length>>,
    /// Board and neck together at the first fret.
    pub thickness_1: Option<Sourced<Length>>,
    /// Board and neck together at the twelfth.
    pub thickness_12: Option<Sourced<Length>>,
    /// Neck wood at the heel, without the board.
    pub heel_thickness: Option<Sourced<Length>>,
    /// Width of the neck's pocket at the board's end, where no body says it.
    pub pocket_width: Option<Sourced<Length>>,
    /// Angle of the neck to the body, plus when the head leans back; not written: none.
    pub angle: Sourced<Angle>,
    /// Screws through the heel.
    pub screws: Sourced<Vec<Screw>>,
}

/// A screw hole in the heel.
#[derive(Debug, Clone, PartialEq)]
pub struct Screw {
    /// From the zero line, millimetres along the centreline.
    pub x: Length,
    /// Place across.
    pub y: PlaceAcross,
    /// Diameter of the hole.
    pub diameter: Length,
    /// Depth into the heel from the body's side.
    pub depth: Length,
    /// Where it is written.
    pub span: Span,
}

/// `[body]`.
#[derive(Debug, Clone)]
pub struct Body {
    /// Thickness.
    pub thickness: Option<Sourced<Length>>,
    /// Pockets, in the order of the file; one without a name, a face or a purpose is not among them.
    pub pockets: Vec<Pocket>,
    /// Holes, in the order of the file; one without a name or a face is not among them.
    pub holes: Vec<BodyHole>,
}

impl Body {
    /// The pocket that holds the neck.
    pub fn neck_pocket(&self) -> Option<&Pocket> {
        self.pockets.iter().find(|pocket| pocket.holds == Holds::Neck)
    }
}

/// A pocket of the body; its place is that of its middle.
#[derive(Debug, Clone)]
pub struct Pocket {
    /// Its number in the file, from 1.
    pub number: usize,
    /// Its name.
    pub name: String,
    /// What it holds.
    pub holds: Holds,
    /// The pickup in it, by its name.
    pub pickup: Option<Sourced<String>>,
    /// The face it is cut from.
    pub face: BodyFace,
    /// Its place along.
    pub x: Sourced<PlaceAlong>,
    /// Its place across.
    pub y: Sourced<PlaceAcross>,
    /// Its shape.
    pub shape: PocketShape,
    /// Radius of its corners.
    pub corner: Option<Sourced<Length>>,
    /// Depth.
    pub depth: Sourced<Length>,
    /// The least wood to be left under it, where it asks for its own.
    pub floor_min: Option<Sourced<Length>>,
}

/// The shape of a pocket.
#[derive(Debug, Clone)]
pub enum PocketShape {
    /// Round, by its diameter.
    Round(Sourced<Length>),
    /// With straight sides.
    Straight {
        /// Along the centreline.
        length: Sourced<Length>,
        /// Across; at the board's end where the sides follow the neck.
        width: Sourced<Length>,
        /// Whether its sides follow the board's edges.
        follows_neck: Sourced<bool>,
    },
}

/// A hole in the body.
#[derive(Debug, Clone)]
pub struct BodyHole {
    /// Its number in the file, from 1.
    pub number: usize,
    /// Its name.
    pub name: String,
    /// The face it is bored from.
    pub face: BodyFace,
    /// Its place along.
    pub x: Sourced<PlaceAlong>,
    /// Its place across.
    pub y: Sourced<PlaceAcross>,
    /// Diameter.
    pub diameter: Sourced<Length>,
    /// Depth; none: through.
    pub depth: Option<Sourced<Length>>,
}
