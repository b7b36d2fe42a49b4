//! The body: its pockets and holes as they lie under the board, in the board's own frame.
//!
//! In: pockets and holes as resolved, the board's edges and end, the lamps' exit. Out: outlines seen from the front,
//! millimetres; corners as the cutter leaves them.

use super::board::edges::{Edges, place_along};
use super::board::layout::Layout;
use crate::geom::{Circle, Convex, Point, Rounded};
use crate::model::{BodyHole, Key, Known, Missing, Pocket, PocketShape};
use crate::spec::words::{PlaceAlong, Side};

/// What of the board a body is made to.
#[derive(Debug, Clone, Copy)]
pub struct UnderBoard<'a> {
    /// The scale laid out.
    pub layout: Known<&'a Layout>,
    /// The tapered edges.
    pub edges: Known<Edges>,
    /// Where the board ends on the centreline.
    pub end: Known<f64>,
    /// The hole by which the lamps' wires leave; none: no lamps.
    pub exit: Option<Known<Circle>>,
}

/// A pocket seen from the front.
#[derive(Debug, Clone, PartialEq)]
pub struct PocketPlan {
    /// Its outline.
    pub outline: Rounded,
    /// Its wall nearest to the nut.
    pub near: f64,
    /// Its wall nearest to the tail.
    pub far: f64,
    /// How far it reaches from the centreline toward the treble side where it reaches least: minus, the bass side.
    pub bass: f64,
    /// How far it reaches from the centreline toward the treble side where it reaches most.
    pub treble: f64,
}

impl UnderBoard<'_> {
    /// A place along the body, from the zero line.
    ///
    /// # Errors
    /// With the key that is open or cannot be used; with `key` for an exit that is not there.
    pub fn along(&self, place: PlaceAlong, key: Key) -> Known<f64> {
        match place {
            PlaceAlong::Exit => Ok(self.exit.unwrap_or(Err(Missing::faulty(key)))?.centre.x),
            PlaceAlong::At(length) => Ok(length.to_mm()),
            place => place_along(place, self.layout?, self.end, key),
        }
    }

    /// The middle of a hole of the body.
    ///
    /// # Errors
    /// With the key that is open or cannot be used.
    pub fn hole(&self, hole: &BodyHole) -> Known<Point> {
        let x = self.along(hole.x.get()?, hole.x.key)?;
        Ok(Point::new(x, hole.y.get()?.toward_treble()))
    }

    /// A pocket's outline.
    ///
    /// # Errors
    /// With the key that is open or cannot be used.
    pub fn pocket(&self, pocket: &Pocket) -> Known<PocketPlan> {
        let middle = Point::new(self.along(pocket.x.get()?, pocket.x.key)?, pocket.y.get()?.toward_treble());
        match &pocket.shape {
            PocketShape::Round(diameter) => {
                let circle = Circle::with_diameter(middle, diameter.mm()?);
                Ok(PocketPlan {
                    outline: Rounded::circle(circle),
                    near: middle.x - circle.radius,
                    far: middle.x + circle.radius,
                    bass: middle.y - circle.radius,
                    treble: middle.y + circle.radius,
                })
            }
            PocketShape::Straight { length, width, follows_neck } => {
                let (length, width) = (length.mm()?, width.mm()?);
                let (near, far) = (middle.x - length / 2.0, middle.x + length / 2.0);
                let follows = follows_neck.get()?;
                let wall = |side: Side, x: f64| -> Known<f64> {
                    let half = if follows { self.half_along_neck(side, width, x)? } else { width / 2.0 };
                    Ok(middle.y + side.toward_treble() * half)
                };
                let corner = |side: Side, x: f64| Ok(Point::new(x, wall(side, x)?));
                let corners = [
                    corner(Side::Bass, near)?,
                    corner(Side::Bass, far)?,
                    corner(Side::Treble, far)?,
                    corner(Side::Treble, near)?,
                ];
                let radius = pocket.corner.as_ref().map_or(Ok(0.0), crate::model::Sourced::mm)?;
                Ok(PocketPlan {
                    outline: Rounded::polygon(Convex::new(corners.to_vec()), radius),
                    near,
                    far,
                    bass: corners[0].y.min(corners[1].y),
                    treble: corners[2].y.max(corners[3].y),
                })
            }
        }
    }

    /// Half width of a pocket whose sides follow the board's edges, its width being the one at the board's end.
    fn half_along_neck(&self, side: Side, width: f64, x: f64) -> Known<f64> {
        let edges = self.edges?;
        let spare = (width - edges.width(self.end?)) / 2.0;
        Ok((edges.on(side).half(x) + spare).max(0.0))
    }

    /// What a pocket with straight sides gapes beside the board at its mouth: bass, treble. None where its sides
    /// follow the board's edges, or where it is round.
    ///
    /// # Errors
    /// With the key that is open or cannot be used.
    pub fn mouth_gaps(&self, pocket: &Pocket) -> Known<Option<[f64; 2]>> {
        let PocketShape::Straight { follows_neck, .. } = &pocket.shape else { return Ok(None) };
        if follows_neck.get()? {
            return Ok(None);
        }
        let (plan, edges) = (self.pocket(pocket)?, self.edges?);
        let gap = |side: Side, wall: f64| side.toward_treble() * wall - edges.on(side).half(plan.near);
        Ok(Some([gap(Side::Bass, plan.bass), gap(Side::Treble, plan.treble)]))
    }
}
