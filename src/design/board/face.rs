//! The face of the board: flat, one radius, or a cone.

use super::edges::{end_place, place_along};
use super::layout::Layout;
use crate::design::formulas::cone_radius;
use crate::geom::sagitta;
use crate::model::{BoardRadius, Known, Missing, Model, Radius};

/// The face; a flat one has an infinite radius.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Face {
    /// Flat.
    Flat,
    /// One radius everywhere.
    One(f64),
    /// A cone: linear along x through both, and on beyond them.
    Cone {
        /// Radius at x = 0.
        at_nut: f64,
        /// Radius at `end_place`.
        at_end: f64,
        /// Where the second radius holds.
        end_place: f64,
    },
}

impl Face {
    /// The face of the board.
    ///
    /// # Errors
    /// With the key that is open or cannot be used.
    pub fn of(model: &Model, layout: &Layout) -> Known<Self> {
        match &model.radius {
            Radius::One(radius) => Ok(match radius.get()? {
                BoardRadius::Flat => Self::Flat,
                BoardRadius::Of(length) => Self::One(length.to_mm()),
            }),
            Radius::Cone { nut, end, end_at } => match (nut.get()?, end.get()?) {
                (BoardRadius::Flat, BoardRadius::Flat) => Ok(Self::Flat),
                (BoardRadius::Of(nut), BoardRadius::Of(end)) => {
                    let place = place_along(end_at.get()?, layout, end_place(model, layout), end_at.key)?;
                    if place <= 0.0 {
                        return Err(Missing::faulty("radius.end_at"));
                    }
                    Ok(Self::Cone { at_nut: nut.to_mm(), at_end: end.to_mm(), end_place: place })
                }
                _ => Err(Missing::faulty("radius.end")),
            },
        }
    }

    /// The radius at a place along the centreline; infinite on a flat board.
    pub fn radius(&self, place: f64) -> f64 {
        match *self {
            Self::Flat => f64::INFINITY,
            Self::One(radius) => radius,
            Self::Cone { at_nut, at_end, end_place } => cone_radius(at_nut, at_end, place, end_place),
        }
    }

    /// How far the face has dropped below its top at a place; NaN where the circle does not reach.
    pub fn drop(&self, place: f64, across: f64) -> f64 {
        sagitta(self.radius(place), across)
    }

    /// How far across the face drops by a height; infinite on a flat board, the radius where it never drops so far.
    pub fn reach(&self, place: f64, height: f64) -> f64 {
        let radius = self.radius(place);
        if radius.is_finite() {
            libm::sqrt(height.min(radius) * 2.0_f64.mul_add(radius, -height.min(radius)))
        } else {
            radius
        }
    }

    /// Whether the board stays flat.
    pub fn is_flat(&self) -> bool {
        matches!(self, Self::Flat)
    }
}
