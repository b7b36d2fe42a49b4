//! What this edition needs of `[neck]`, `[body]` and the audio side.

use super::resolver::{Places, Resolver, mapped, needed, shown, unsaid};
use crate::model::{BodyHole, Missing, Neck, Origin, Screw, Sourced, Why};
use crate::spec::Spec;
use crate::spec::entry::{Entry, value_of};
use crate::spec::leaf::Saying;
use crate::spec::size::HoleDepth;
use crate::spec::tables::{HoleTable, ScrewTable};
use crate::units::Length;

/// The least wood left under a pocket of the body. Common practice, no source.
const FLOOR_MIN: Length = Length::mm(3.0);

impl Resolver<'_> {
    pub(super) fn neck(&mut self, spec: &Spec) -> Option<Neck> {
        let table = value_of(&spec.neck)?;
        if table.wood.is_some() {
            self.wood("neck.wood", &table.wood, &table.density);
        }
        Some(Neck {
            rod_width: self.optional("neck.rod_width", &table.rod_width),
            rod_depth: self.optional("neck.rod_depth", &table.rod_depth),
            rod_length: self.optional("neck.rod_length", &table.rod_length),
            rod_end_gap: self.optional("neck.rod_end_gap", &table.rod_end_gap),
            screws: self.screws(&table.screws),
        })
    }

    fn screws(&mut self, entry: &Option<Entry<Vec<ScrewTable>>>) -> Sourced<Vec<Screw>> {
        let key = "neck.screws";
        let Some(entry) = entry else { return unsaid(key, Vec::new()) };
        let written = self.given(key, entry);
        let screw = |row: &ScrewTable| {
            Ok(Screw {
                x: needed(&row.x)?,
                y: needed(&row.y)?,
                diameter: needed(&row.diameter)?,
                depth: needed(&row.depth)?,
            })
        };
        let value = written
            .value
            .and_then(|rows| rows.iter().map(screw).collect::<Result<_, Why>>().map_err(|why| Missing { key, why }));
        Sourced { value, key, origin: written.origin, written: written.written }
    }

    /// The body's holes; its pockets are looked at for places that are not there.
    pub(super) fn body(&mut self, spec: &Spec, places: Places) -> Vec<BodyHole> {
        let Some(table) = value_of(&spec.body) else { return Vec::new() };
        if table.wood.is_some() {
            self.wood("body.wood", &table.wood, &table.density);
        }
        for (index, pocket) in value_of(&table.pocket).into_iter().flatten().enumerate() {
            if let Some(x) = &pocket.x {
                self.is_there(&format!("body.pocket[{}].x", index + 1), x, places);
            }
            if pocket.floor_min.is_none() {
                let floor = shown(FLOOR_MIN.says());
                self.add(format!("body.pocket[{}].floor_min", index + 1), floor, Origin::BuiltIn);
            }
        }
        let holes = value_of(&table.hole).into_iter().flatten();
        holes.filter_map(|hole| self.hole(hole, places)).collect()
    }

    /// A hole; none where its name or face could not be read, which has its finding.
    fn hole(&mut self, hole: &HoleTable, places: Places) -> Option<BodyHole> {
        let name = value_of(&hole.name).cloned();
        let face = value_of(&hole.face).copied();
        let x = self.place("body.hole.x", &hole.x, places);
        let depth = self.required("body.hole.depth", &hole.depth);
        let depth = match depth.value {
            Ok(HoleDepth::Through) => None,
            Ok(HoleDepth::Of(length)) => Some(mapped(depth, |_| length)),
            Err(missing) => {
                Some(Sourced { value: Err(missing), key: depth.key, origin: depth.origin, written: depth.written })
            }
        };
        Some(BodyHole {
            name: name?,
            face: face?,
            x,
            y: self.required("body.hole.y", &hole.y),
            diameter: self.required("body.hole.diameter", &hole.diameter),
            depth,
        })
    }

    /// Pickups at places that are not there.
    pub(super) fn audio(&mut self, spec: &Spec, places: Places) {
        let pickups = value_of(&spec.electronics).and_then(|electronics| value_of(&electronics.pickup));
        for (index, pickup) in pickups.into_iter().flatten().enumerate() {
            if let Some(place) = &pickup.place {
                self.is_there(&format!("electronics.pickup[{}].place", index + 1), place, places);
            }
        }
    }
}
