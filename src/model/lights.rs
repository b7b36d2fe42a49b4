//! The markers and lamps as the commission asks for them: `[markers]`, `[lamp]`, `[channels]`,
//! `[electronics.lamps]`.

use super::Sourced;
use crate::source::Span;
use crate::spec::words::{LensShape, MarkerKind, PlaceAcross, PlaceAlong, Resistors, Seats, Series};
use crate::units::{Charge, Current, Length, Power, Voltage};

/// `[markers]`.
#[derive(Debug, Clone)]
pub struct Markers {
    /// Lit, plain or none.
    pub kind: Sourced<MarkerKind>,
    /// Frets with one marker.
    pub single: Sourced<Vec<u32>>,
    /// Frets with a pair.
    pub double: Sourced<Vec<u32>>,
    /// How far in from the edge a pair lies.
    pub inset: Sourced<Inset>,
    /// Diameter of a plain dot.
    pub dot: Option<Sourced<Length>>,
    /// Depth of a plain dot.
    pub dot_depth: Option<Sourced<Length>>,
    /// Dots in the bass edge.
    pub side: Option<SideDots>,
}

/// How far in from the tapered edge.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Inset {
    /// A length, square to the centreline.
    Length(Length),
    /// A share of the half width.
    HalfWidth(f64),
}

/// Side dots.
#[derive(Debug, Clone)]
pub struct SideDots {
    /// Diameter.
    pub dot: Sourced<Length>,
    /// Depth.
    pub depth: Sourced<Length>,
}

/// `[lamp]`.
#[derive(Debug, Clone)]
pub struct Lamp {
    /// The id of a pattern.
    pub pattern: Option<Sourced<String>>,
    /// Through hole.
    pub hole: Sourced<Length>,
    /// Diameter of the lens.
    pub lens: Sourced<Length>,
    /// Flange seat to lens top.
    pub lens_height: Sourced<Length>,
    /// Flat or domed.
    pub lens_shape: Sourced<LensShape>,
    /// Diameter of the flange.
    pub flange: Sourced<Length>,
    /// Height of the flange.
    pub flange_height: Sourced<Length>,
    /// Room the bent leads take behind the flange.
    pub lead_bend: Sourced<Length>,
    /// Diameter of the counterbore.
    pub counterbore: Sourced<Length>,
    /// Left above the face for sanding.
    pub proud: Sourced<Length>,
    /// Forward voltage.
    pub forward: Sourced<Voltage>,
    /// Wanted current.
    pub current: Sourced<Current>,
    /// The most current, where written.
    pub max_current: Option<Sourced<Current>>,
    /// Each at its own depth or all at one.
    pub seats: Sourced<Seats>,
    /// The most that may be sanded off the lens.
    pub sand_limit: Sourced<Length>,
}

/// `[channels]`.
#[derive(Debug, Clone)]
pub struct Channels {
    /// Outer wall of a side channel to the tapered edge.
    pub margin: Sourced<Length>,
    /// Width.
    pub width: Sourced<Length>,
    /// Depth from the back.
    pub depth: Sourced<Length>,
    /// The slot from which the end channel is counted.
    pub exit_from: Sourced<PlaceAlong>,
    /// From there to the end channel, along the centreline.
    pub exit_past: Sourced<Length>,
    /// Where across the wires leave.
    pub exit_y: Sourced<PlaceAcross>,
    /// Diameter of the hole they leave by.
    pub exit_hole: Sourced<Length>,
}

/// `[electronics.lamps]`.
#[derive(Debug, Clone)]
pub struct LampCircuit {
    /// Where its table begins.
    pub header: Span,
    /// Nominal supply.
    pub supply: Sourced<Voltage>,
    /// Supply of a fresh battery.
    pub supply_fresh: Sourced<Voltage>,
    /// Supply at which it counts as flat.
    pub supply_low: Sourced<Voltage>,
    /// What the battery holds.
    pub capacity: Option<Sourced<Charge>>,
    /// Lamps to a group.
    pub in_series: Sourced<u32>,
    /// Where the resistors are.
    pub resistors: Sourced<Resistors>,
    /// What a resistor may turn into heat.
    pub resistor_rating: Option<Sourced<Power>>,
    /// The series of preferred numbers.
    pub series: Sourced<Series>,
    /// The switch, in words.
    pub switch: Option<Sourced<String>>,
    /// Outside diameter of the hook-up wire.
    pub hookup: Sourced<Length>,
    /// Its gauge number.
    pub hookup_awg: Option<Sourced<u32>>,
    /// The battery's chemistry, in words.
    pub chemistry: Option<Sourced<String>>,
}
