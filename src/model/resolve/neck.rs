//! `[neck]`, `[body]` and the audio side.

use super::resolver::{Places, Resolver, mapped, needed, shown, unsaid};
use crate::model::{Body, BodyHole, Key, Missing, Neck, Origin, Pocket, PocketShape, Screw, Sourced, Why};
use crate::spec::Spec;
use crate::spec::entry::{Entry, value_of};
use crate::spec::leaf::Saying;
use crate::spec::size::HoleDepth;
use crate::spec::tables::{HoleTable, PocketTable, ScrewTable};
use crate::spec::words::PlaceAlong;
use crate::units::{Angle, Length};

/// The least wood left under a pocket of the body. Common practice, no source.
const FLOOR_MIN: Length = Length::mm(3.0);

impl Resolver<'_> {
    pub(super) fn neck(&mut self, spec: &Spec) -> Option<Neck> {
        let table = value_of(&spec.neck)?;
        if table.wood.is_some() {
            self.wood("neck.wood", &table.wood, &table.density);
        }
        // A neck lies flat unless somebody says how it leans; the record lists it where a height hangs on it.
        let leans = value_of(&spec.setup).is_some_and(|setup| setup.bridge_height.is_some());
        let level = Angle::radians(0.0);
        let angle = if leans && table.heel_thickness.is_some() {
            self.or_built_in("neck.angle", &table.angle, level)
        } else {
            self.or_unused("neck.angle", &table.angle, level)
        };
        Some(Neck {
            thickness_1: self.optional("neck.thickness_1", &table.thickness_1),
            thickness_12: self.optional("neck.thickness_12", &table.thickness_12),
            heel_thickness: self.optional("neck.heel_thickness", &table.heel_thickness),
            pocket_width: self.optional("neck.pocket_width", &table.pocket_width),
            angle,
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
                span: row.header,
            })
        };
        let value = written
            .value
            .and_then(|rows| rows.iter().map(screw).collect::<Result<_, Why>>().map_err(|why| Missing { key, why }));
        Sourced { value, key, origin: written.origin, written: written.written }
    }

    /// The body with its pockets and holes.
    pub(super) fn body(&mut self, spec: &Spec, places: Places) -> Option<Body> {
        let table = value_of(&spec.body)?;
        if table.wood.is_some() {
            self.wood("body.wood", &table.wood, &table.density);
        }
        let pockets = value_of(&table.pocket).into_iter().flatten().enumerate();
        let pockets = pockets.filter_map(|(index, row)| self.pocket(index + 1, row, places)).collect();
        let holes = value_of(&table.hole).into_iter().flatten().enumerate();
        let holes = holes.filter_map(|(index, row)| self.hole(index + 1, row, places)).collect();
        Some(Body { thickness: self.optional("body.thickness", &table.thickness), pockets, holes })
    }

    /// A pocket; none where its name, face or purpose could not be read, which has its finding.
    fn pocket(&mut self, number: usize, row: &PocketTable, places: Places) -> Option<Pocket> {
        let x = self.place_in_row("body.pocket.x", &format!("body.pocket[{number}].x"), &row.x, places);
        if row.floor_min.is_none() {
            let floor = shown(FLOOR_MIN.says());
            self.add(format!("body.pocket[{number}].floor_min"), floor, Origin::BuiltIn);
        }
        let shape = match &row.diameter {
            Some(diameter) => PocketShape::Round(self.given("body.pocket.diameter", diameter)),
            None => {
                let taper = "body.pocket.taper";
                let follows = self.optional(taper, &row.taper).map(|written| mapped(written, |_| true));
                PocketShape::Straight {
                    length: self.required("body.pocket.length", &row.length),
                    width: self.required("body.pocket.width", &row.width),
                    follows_neck: follows.unwrap_or_else(|| unsaid(taper, false)),
                }
            }
        };
        Some(Pocket {
            number,
            name: value_of(&row.name)?.clone(),
            holds: *value_of(&row.holds)?,
            pickup: self.optional("body.pocket.pickup", &row.pickup),
            face: *value_of(&row.face)?,
            x,
            y: self.required("body.pocket.y", &row.y),
            shape,
            corner: self.optional("body.pocket.corner", &row.corner),
            depth: self.required("body.pocket.depth", &row.depth),
            floor_min: self.optional("body.pocket.floor_min", &row.floor_min),
        })
    }

    /// A place along in a row of a list: what is wrong with it is told with the row's number.
    fn place_in_row(
        &mut self,
        key: Key,
        numbered: &str,
        entry: &Option<Entry<PlaceAlong>>,
        places: Places,
    ) -> Sourced<PlaceAlong> {
        let mut place = self.required(key, entry);
        if let Some(entry) = entry
            && !self.is_there(numbered, entry, places)
        {
            place.value = Err(Missing::faulty(key));
        }
        place
    }

    /// A hole; none where its name or face could not be read, which has its finding.
    fn hole(&mut self, number: usize, hole: &HoleTable, places: Places) -> Option<BodyHole> {
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
            number,
            name: name?,
            face: face?,
            x,
            y: self.required("body.hole.y", &hole.y),
            diameter: self.required("body.hole.diameter", &hole.diameter),
            depth,
        })
    }

    /// The names of the pickups.
    pub(super) fn pickups(&self, spec: &Spec) -> Sourced<Vec<String>> {
        let key = "electronics.pickup";
        let rows = value_of(&spec.electronics).and_then(|electronics| electronics.pickup.as_ref());
        let Some(rows) = rows else { return unsaid(key, Vec::new()) };
        let written = self.given(key, rows);
        let value = written.value.and_then(|rows| {
            let names = rows.iter().map(|row| needed(&row.name)).collect::<Result<_, Why>>();
            names.map_err(|why| Missing { key, why })
        });
        Sourced { value, key, origin: written.origin, written: written.written }
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
