//! The neck: its thickness, the wood it leaves under the rod, its heel, and how high it carries the strings.
//!
//! In: the resolved neck, the body's pocket for it, the board's places and widths. Out: millimetres. The back of the
//! neck is taken for a half-ellipse, as deep as its wood and on each side as wide as the board; the heel is flat.

use super::board::edges::Edges;
use super::board::layout::Layout;
use super::formulas::{
    action_beyond, height_at_bridge, rise_of_neck_angle, share_of_scale, wood_at_screw_tip, wood_under_rod,
    wood_under_rod_corner,
};
use crate::model::{Action, Known, Model, Neck, Pocket, Sourced};
use crate::spec::words::Side;
use crate::units::Length;

/// Where the neck's thickness is written.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum NeckPlace {
    /// At a fret: the first or the twelfth.
    Fret(u32),
    /// At the heel, under the board's end.
    Heel,
}

/// The neck at one place.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct NeckStation {
    /// Where.
    pub place: NeckPlace,
    /// From the zero line, along the centreline.
    pub x: Known<f64>,
    /// Width of the board there.
    pub width: Known<f64>,
    /// Thickness of neck and board together.
    pub thickness: Known<f64>,
    /// Wood between the rod's slot and the back; none where no rod is written.
    pub under_rod: Option<Known<UnderRod>>,
}

/// Wood between the rod's slot and the back of the neck.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct UnderRod {
    /// On the centreline.
    pub centre: f64,
    /// At the slot's corner, on the narrower side: the least.
    pub corner: f64,
    /// How much of a millimetre more neck comes to the corner.
    pub share: f64,
}

/// Everything that is computed of a neck.
#[derive(Debug, Clone, PartialEq)]
pub struct NeckDesign {
    /// The stations whose thickness is written, nut to heel.
    pub stations: Vec<NeckStation>,
    /// Wood between each screw's tip and the glue face; none where screws or heel are not written.
    pub screw_tips: Option<Known<Vec<f64>>>,
    /// What the board has over the rod's slot with its gap, squared end to board's end; none without a length.
    pub rod_room: Option<Known<f64>>,
    /// The strings over the body's face at the saddle line, on the centreline; none where heel, pocket or action is
    /// not written.
    pub height_at_bridge: Option<Known<f64>>,
}

/// What of the board a neck is made to.
#[derive(Debug, Clone, Copy)]
pub(super) struct OnBoard<'a> {
    pub(super) layout: Known<&'a Layout>,
    pub(super) edges: Known<Edges>,
    pub(super) end: Known<f64>,
    pub(super) squared_end: Known<f64>,
}

impl NeckDesign {
    /// The neck; none where none is written.
    pub(super) fn of(model: &Model, board: OnBoard<'_>) -> Option<Self> {
        let neck = model.neck.as_ref()?;
        let pocket = model.body.as_ref().and_then(crate::model::Body::neck_pocket);
        Some(Self {
            stations: stations(model, neck, board),
            screw_tips: screw_tips(neck),
            rod_room: rod_room(neck, board),
            height_at_bridge: height(model, neck, pocket, board),
        })
    }
}

/// The place of a fret by its number alone: the twelfth also on a board that ends before it.
fn fret_place(layout: &Layout, fret: u32) -> f64 {
    let share = share_of_scale(f64::from(fret), f64::from(layout.divisions));
    f64::midpoint(layout.bass.at(share), layout.treble.at(share))
}

fn stations(model: &Model, neck: &Neck, board: OnBoard<'_>) -> Vec<NeckStation> {
    let at_fret = |fret: u32, thickness: &Sourced<Length>| {
        let x = board.layout.map(|layout| fret_place(layout, fret));
        NeckStation {
            place: NeckPlace::Fret(fret),
            x,
            width: x.and_then(|x| Ok(board.edges?.width(x))),
            thickness: thickness.mm(),
            under_rod: neck.rod_depth.as_ref().map(|depth| {
                let (edges, x) = (board.edges?, x?);
                under_rod(
                    model,
                    thickness.mm()?,
                    depth.mm()?,
                    rod_width(neck)?,
                    Side::BOTH.map(|side| edges.on(side).half(x)),
                )
            }),
        }
    };
    let first = neck.thickness_1.as_ref().map(|thickness| at_fret(1, thickness));
    let twelfth = neck.thickness_12.as_ref().map(|thickness| at_fret(12, thickness));
    let heel = neck.heel_thickness.as_ref().map(|heel| {
        let x = board.end;
        NeckStation {
            place: NeckPlace::Heel,
            x,
            width: x.and_then(|x| Ok(board.edges?.width(x))),
            thickness: heel.mm().and_then(|heel| Ok(heel + model.board.thickness.mm()?)),
            under_rod: neck.rod_depth.as_ref().map(|depth| {
                let wood = wood_under_rod(heel.mm()?, 0.0, depth.mm()?);
                Ok(UnderRod { centre: wood, corner: wood, share: 1.0 })
            }),
        }
    });
    first.into_iter().chain(twelfth).chain(heel).collect()
}

/// Width of the rod's slot; a rod without a width is judged on the centreline.
fn rod_width(neck: &Neck) -> Known<f64> {
    neck.rod_width.as_ref().map_or(Ok(0.0), Sourced::mm)
}

fn under_rod(model: &Model, thickness: f64, depth: f64, width: f64, halves: [f64; 2]) -> Known<UnderRod> {
    let board = model.board.thickness.mm()?;
    let half = halves[0].min(halves[1]);
    let corner = |neck: f64, depth: f64| wood_under_rod_corner(neck, half, width, depth);
    Ok(UnderRod {
        centre: wood_under_rod(thickness, board, depth),
        corner: corner(thickness - board, depth),
        share: corner(1.0, 0.0),
    })
}

fn screw_tips(neck: &Neck) -> Option<Known<Vec<f64>>> {
    let heel = neck.heel_thickness.as_ref()?;
    let tips = || -> Known<Vec<f64>> {
        let (heel, screws) = (heel.mm()?, neck.screws.get()?);
        Ok(screws.iter().map(|screw| wood_at_screw_tip(heel, screw.depth.to_mm())).collect())
    };
    Some(tips())
}

fn rod_room(neck: &Neck, board: OnBoard<'_>) -> Option<Known<f64>> {
    let length = neck.rod_length.as_ref()?;
    let gap = neck.rod_end_gap.as_ref().map_or(Ok(0.0), Sourced::mm);
    Some(board.end.and_then(|end| Ok(end - board.squared_end? - length.mm()? - gap?)))
}

fn height(model: &Model, neck: &Neck, pocket: Option<&Pocket>, board: OnBoard<'_>) -> Option<Known<f64>> {
    let (heel, pocket) = (neck.heel_thickness.as_ref()?, pocket?);
    let setup = model.setup.as_ref()?;
    let (first, twelfth) = (setup.action_1.as_ref()?, setup.action_12.as_ref()?);
    let height = || -> Known<f64> {
        let (layout, end) = (board.layout?, board.end?);
        let (x_1, x_12, saddle) = (fret_place(layout, 1), fret_place(layout, 12), layout.saddle().x);
        let action = action_beyond(middle(twelfth)?, middle(first)?, saddle - x_12, x_12 - x_1);
        let rise = rise_of_neck_angle(saddle - end, neck.angle.get()?.to_radians());
        let (thickness, crown) = (model.board.thickness.mm()?, model.wire.crown_height.mm()?);
        Ok(height_at_bridge(heel.mm()?, pocket.depth.mm()?, thickness, crown, rise, action))
    };
    Some(height())
}

/// An action on the centreline.
fn middle(action: &Action) -> Known<f64> {
    Ok(f64::midpoint(action.bass.mm()?, action.treble.mm()?))
}
