//! The tapered edges of the finished board, each side for itself, and where the far end is cut.
//!
//! In: widths at two places, or distances from the outer strings; wood past the last slot. Out: half widths as
//! straight lines h(x) = h₀ + k·x, the end line.

use super::layout::{Layout, Spreads, StationLine};
use crate::design::formulas::{half_width, inset_across};
use crate::geom::{Line, Point};
use crate::model::{Known, Missing, Model, TaperEdges};
use crate::spec::words::{EndCut, PlaceAlong, Side};

/// One tapered edge: h(x) = `at_zero` + `growth`·x from the centreline.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Edge {
    /// The side it is on.
    pub side: Side,
    /// Half width at x = 0.
    pub at_zero: f64,
    /// Growth for each millimetre along.
    pub growth: f64,
}

/// Both edges.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Edges {
    /// The bass edge.
    pub bass: Edge,
    /// The treble edge.
    pub treble: Edge,
}

impl Edge {
    /// Half width at a place.
    pub fn half(&self, place: f64) -> f64 {
        half_width(self.at_zero, self.growth, place)
    }

    /// Angle of the edge to the centreline, plus when it opens toward the saddle.
    pub fn taper(&self) -> f64 {
        libm::atan(self.growth)
    }

    /// The edge as an endless line toward the saddle.
    pub fn line(&self) -> Line {
        self.inset_line(0.0)
    }

    /// The line `inset` inside the edge, square to it; minus: outside.
    pub fn inset_line(&self, inset: f64) -> Line {
        let sign = self.side.toward_treble();
        Line::along(sign * (self.at_zero - inset_across(inset, self.taper())), sign * self.growth)
    }

    /// Where a line across meets the edge, `inset` inside it square to the edge.
    ///
    /// Solved exactly; NaN only for a line along the edge, which no fret is.
    pub fn meets(&self, station: &StationLine, inset: f64) -> Point {
        self.place_off_centre(station, self.half(station.x) - inset_across(inset, self.taper()), 1.0)
    }

    /// Where, on a line across, a place lies whose distance from the centreline is `share` of the growing half
    /// width, `half` being that distance where the line crosses the centreline.
    pub(crate) fn place_off_centre(&self, station: &StationLine, half: f64, share: f64) -> Point {
        let sign = self.side.toward_treble();
        let across = sign * half / (1.0 - sign * share * self.growth * station.slant);
        Point::new(station.at(across), across)
    }
}

impl Edges {
    /// Both edges.
    ///
    /// # Errors
    /// With the key that is open or cannot be used.
    pub fn of(model: &Model, layout: &Layout) -> Known<Self> {
        let end = end_place(model, layout);
        match &model.taper.edges {
            TaperEdges::Widths { nut, end: width_end, end_at } => {
                let place = place_along(end_at.get()?, layout, end, end_at.key)?;
                let (at_zero, at_end) = (nut.mm()? / 2.0, width_end.mm()? / 2.0);
                if place <= 0.0 {
                    return Err(Missing::faulty("taper.end_at"));
                }
                let growth = (at_end - at_zero) / place;
                let edge = |side| Edge { side, at_zero, growth };
                Ok(Self { bass: edge(Side::Bass), treble: edge(Side::Treble) })
            }
            TaperEdges::FromStrings { nut_bass, end_bass, nut_treble, end_treble } => {
                let (spreads, end) = (Spreads::of(model)?, end?);
                let edge = |side: Side, at_nut: f64, at_end: f64| {
                    let outer = |place: f64| outer_string(layout, spreads, side, place);
                    let at_zero = outer(0.0) + at_nut;
                    Edge { side, at_zero, growth: (outer(end) + at_end - at_zero) / end }
                };
                Ok(Self {
                    bass: edge(Side::Bass, nut_bass.mm()?, end_bass.mm()?),
                    treble: edge(Side::Treble, nut_treble.mm()?, end_treble.mm()?),
                })
            }
        }
    }

    /// The edge of a side.
    pub fn on(&self, side: Side) -> Edge {
        match side {
            Side::Bass => self.bass,
            Side::Treble => self.treble,
        }
    }

    /// Full width square to the centreline.
    pub fn width(&self, place: f64) -> f64 {
        self.bass.half(place) + self.treble.half(place)
    }

    /// The wider half width.
    pub fn wider_half(&self, place: f64) -> f64 {
        self.bass.half(place).max(self.treble.half(place))
    }
}

/// Distance of an outer string's centre from the centreline at a place along it.
pub fn outer_string(layout: &Layout, spreads: Spreads, side: Side, place: f64) -> f64 {
    spreads.at(layout.run(side).share_at(place)) / 2.0
}

/// Where the board ends on the centreline.
///
/// # Errors
/// With `taper.past_last` when that is open or cannot be used.
pub fn end_place(model: &Model, layout: &Layout) -> Known<f64> {
    Ok(layout.last_line().x + model.taper.past_last.mm()?)
}

/// The line of the board's end.
///
/// # Errors
/// With the key that is open or cannot be used.
pub fn end_line(model: &Model, layout: &Layout) -> Known<StationLine> {
    let slant = match model.taper.end_cut.get()? {
        EndCut::Square => 0.0,
        EndCut::AlongLastFret => layout.last_line().slant,
    };
    Ok(StationLine { x: end_place(model, layout)?, slant })
}

/// A place along the board in millimetres from the zero line, on the centreline.
///
/// # Errors
/// With `key` when the place is not on this board; with `taper.past_last` when the board's end waits for it.
pub fn place_along(place: PlaceAlong, layout: &Layout, end: Known<f64>, key: crate::model::Key) -> Known<f64> {
    let fret = |number: u32| {
        usize::try_from(number)
            .ok()
            .and_then(|number| layout.fret(number))
            .ok_or(Missing::faulty(key))
            .map(|line| line.x)
    };
    match place {
        PlaceAlong::Fret(number) => fret(number),
        PlaceAlong::LastFret => Ok(layout.last_line().x),
        PlaceAlong::BoardEnd => end,
        PlaceAlong::Saddle => Ok(layout.saddle().x),
        PlaceAlong::At(length) => Ok(length.to_mm()),
        PlaceAlong::Exit => Err(Missing::faulty(key)),
    }
}
