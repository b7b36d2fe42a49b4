//! How deep each slot is cut, and what wood that leaves.
//!
//! In: slot ends, radius, tang, room under it, skim, thickness. Out: own depth, set depth, wood under the slot.
//! The slots are cut before or after the face is radiused; the bottom is straight or follows the radius.

use super::face::Face;
use super::slots::Slot;
use crate::design::formulas::{following_slot_depth, straight_slot_depth, wood_under_following, wood_under_straight};
use crate::model::{Known, Model};
use crate::spec::words::{Cut, Setting, Side};

/// One slot's depth.
#[derive(Debug, Clone, PartialEq)]
pub struct SlotDepth {
    /// The fret.
    pub fret: usize,
    /// The face's radius where the fret crosses the centreline; infinite if flat.
    pub radius: Known<f64>,
    /// How far the face drops at the slot's bass and treble end.
    pub drops: Known<[f64; 2]>,
    /// This slot's own need, before rounding up.
    pub own: Known<f64>,
    /// What the blade is set for, before rounding up.
    pub setting: Known<f64>,
    /// Wood between the slot's bottom and the back, at its lowest.
    pub wood_under: Known<f64>,
}

/// The depths of all slots.
#[derive(Debug, Clone, PartialEq)]
pub struct SlotDepths {
    /// In the order of the slots.
    pub rows: Vec<SlotDepth>,
    /// The deepest own need, before rounding up.
    pub deepest: Known<f64>,
    /// The fret that asks for it.
    pub deepest_fret: Known<usize>,
}

impl SlotDepths {
    /// Depths for the slots.
    pub fn of(model: &Model, face: &Known<Face>, slots: &[(usize, Known<Slot>)]) -> Self {
        let mut rows: Vec<SlotDepth> = slots.iter().map(|(fret, slot)| own_depth(model, face, *fret, slot)).collect();
        let deepest = deepest(&rows);
        for row in &mut rows {
            row.setting = model.slots.setting.get().and_then(|setting| match setting {
                Setting::One => deepest.map(|(_, depth)| depth),
                Setting::Each => row.own,
            });
            row.wood_under = wood_under(model, row);
        }
        Self { rows, deepest: deepest.map(|(_, depth)| depth), deepest_fret: deepest.map(|(fret, _)| fret) }
    }

    /// The depth of a fret's slot.
    pub fn fret(&self, fret: usize) -> Option<&SlotDepth> {
        self.rows.iter().find(|row| row.fret == fret)
    }
}

fn own_depth(model: &Model, face: &Known<Face>, fret: usize, slot: &Known<Slot>) -> SlotDepth {
    let radius = slot.and_then(|slot| face.map(|face| face.radius(slot.line.x)));
    let drops = slot.and_then(|slot| {
        let face = (*face)?;
        Ok(Side::BOTH.map(|side| {
            let end = slot.cut_end(side);
            face.drop(end.x, end.y)
        }))
    });
    let own = (|| {
        let slots = &model.slots;
        let (tang, room, skim) = (model.wire.tang_depth.mm()?, slots.under_tang.mm()?, slots.skim.mm()?);
        Ok(match slots.cut.get()? {
            Cut::FollowingRadius => {
                // The depth itself needs no radius, but a slot that is not known has none.
                (*slot)?;
                following_slot_depth(tang, room, skim)
            }
            Cut::BeforeRadiusing | Cut::AfterRadiusing => {
                let [bass, treble] = drops?;
                straight_slot_depth(tang, room, bass.max(treble), skim)
            }
        })
    })();
    let open = own;
    SlotDepth { fret, radius, drops, own, setting: open, wood_under: open }
}

/// The deepest own need; waits as long as any slot's does.
fn deepest(rows: &[SlotDepth]) -> Known<(usize, f64)> {
    let mut deepest: Option<(usize, f64)> = None;
    for row in rows {
        let own = row.own?;
        if deepest.is_none_or(|(_, depth)| own > depth) {
            deepest = Some((row.fret, own));
        }
    }
    deepest.ok_or(crate::model::Missing::faulty("frets.count"))
}

fn wood_under(model: &Model, row: &SlotDepth) -> Known<f64> {
    let (thickness, skim) = (model.board.thickness.mm()?, model.slots.skim.mm()?);
    Ok(match model.slots.cut.get()? {
        Cut::FollowingRadius => {
            let [bass, treble] = row.drops?;
            row.own?;
            wood_under_following(thickness, bass.max(treble), model.wire.tang_depth.mm()?, model.slots.under_tang.mm()?)
        }
        Cut::BeforeRadiusing | Cut::AfterRadiusing => wood_under_straight(thickness, skim, row.setting?),
    })
}
