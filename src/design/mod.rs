//! The computed instrument: every number of the board and its lamps, from the resolved model.
//!
//! Each part is known or says which key it waits for; what does not depend on an open value is computed all the
//! same. Pure functions; the frame is described in [`board`].

pub mod board;
pub mod body;
pub mod formula;
pub mod formulas;
pub mod lamps;
pub mod neck;
pub mod needs;
pub mod order;
pub mod stock;
pub mod tolerances;

use board::edges::Edges;
use board::face::Face;
use board::layout::{Layout, Spreads};
use board::markers::{Clearance, Marker, SideDot};
use board::outline::{Outline, blank_width, needed_length, squared_end};
use board::slot_depths::SlotDepths;
use board::slots::Slot;
use board::wire::WirePiece;
use body::UnderBoard;
use lamps::channels::ChannelMap;
use lamps::circuit::GroupCircuit;
use lamps::potting::Potting;
use lamps::seats::Seat;
use lamps::wires::{WiredLamp, Wires};
use neck::{NeckDesign, OnBoard};

use crate::geom::Convex;
use crate::model::{Known, Model};
use crate::spec::words::{Hand, MarkerKind};

/// Everything that is computed of one commission.
#[derive(Debug, Clone)]
pub struct Design {
    /// The player's hand.
    pub hand: Known<Hand>,
    /// The scale laid out.
    pub layout: Known<Layout>,
    /// The squared end, along the centreline from the zero line: 0 or less.
    pub squared_end: Known<f64>,
    /// Where the board ends on the centreline.
    pub end: Known<f64>,
    /// The tapered edges.
    pub edges: Known<Edges>,
    /// The outline of the finished board.
    pub outline: Known<Outline>,
    /// Width of the blank.
    pub blank_width: Known<f64>,
    /// Length of blank the board needs, squared end to far corner, before any allowance.
    pub needed_length: Known<f64>,
    /// The face.
    pub face: Known<Face>,
    /// The spreads of the strings.
    pub spreads: Known<Spreads>,
    /// Each fret's slot.
    pub slots: Known<Vec<(usize, Known<Slot>)>>,
    /// The slots' depths.
    pub depths: Known<SlotDepths>,
    /// The markers on the face.
    pub markers: Known<Vec<Marker>>,
    /// The dots in the bass edge.
    pub side_dots: Known<Vec<SideDot>>,
    /// The pieces of fret wire.
    pub wire: Known<Vec<WirePiece>>,
    /// The lamps; none where the markers are not lit.
    pub lamps: Option<LampDesign>,
    /// The rod's slot seen from above, where the neck is written.
    pub rod: Known<Option<Convex>>,
    /// The neck; none where none is written.
    pub neck: Option<NeckDesign>,
}

/// What is computed of the lamps.
#[derive(Debug, Clone)]
pub struct LampDesign {
    /// Each lamp's seat.
    pub seats: Known<Vec<Seat>>,
    /// The map of the channels.
    pub map: Known<ChannelMap>,
    /// The lamps of each group in the order of the current, + to −, by number.
    pub orders: Known<Vec<Vec<usize>>>,
    /// The wires in the channels.
    pub wires: Known<Wires>,
    /// The circuit, group by group.
    pub groups: Known<Vec<GroupCircuit>>,
    /// The epoxy.
    pub potting: Known<Potting>,
    /// Share of the back left as glue face, in hundredths.
    pub glue_face: Known<f64>,
}

impl Design {
    /// Computes the whole design.
    pub fn of(model: &Model) -> Self {
        let layout = Layout::of(model);
        let with_layout = layout.as_ref().map_err(|missing| *missing);
        let edges = with_layout.and_then(|layout| Edges::of(model, layout));
        let squared_end = with_layout.and_then(|layout| squared_end(model, layout, edges.as_ref().ok()));
        let end = with_layout.and_then(|layout| board::edges::end_place(model, layout));
        let outline = with_layout.and_then(|layout| Outline::of(model, layout, &edges?));
        let blank_width = with_layout.and_then(|layout| blank_width(model, layout, edges.as_ref().ok()));
        let needed_length = with_layout
            .and_then(|layout| needed_length(model, layout, outline.as_ref().map_err(|missing| *missing)?, &edges?));
        let face = with_layout.and_then(|layout| Face::of(model, layout));
        let slots = with_layout.and_then(|layout| board::slots::slots(model, layout, &edges?));
        let with_slots = slots.as_deref().map_err(|missing| *missing);
        let depths = with_slots.map(|slots| SlotDepths::of(model, &face, slots));
        let markers = with_layout.and_then(|layout| board::markers::markers(model, layout, &edges));
        let side_dots = with_layout.and_then(|layout| board::markers::side_dots(model, layout, &edges?));
        let wire = with_slots.and_then(|slots| Ok(board::wire::pieces(model, slots, &edges?, &face)));
        let rod = outline
            .as_ref()
            .map_err(|missing| *missing)
            .and_then(|outline| lamps::glue_face::rod_slot(model.neck.as_ref(), outline));
        let mut design = Self {
            hand: model.commission.hand.get(),
            layout,
            squared_end,
            end,
            edges,
            outline,
            blank_width,
            needed_length,
            face,
            spreads: Spreads::of(model),
            slots,
            depths,
            markers,
            side_dots,
            wire,
            lamps: None,
            rod,
            neck: None,
        };
        design.lamps = LampDesign::of(model, &design);
        let layout = design.layout.as_ref().map_err(|missing| *missing);
        let (edges, squared_end, end) = (design.edges, design.squared_end, design.end);
        design.neck = NeckDesign::of(model, OnBoard { layout, edges, end, squared_end });
        design
    }

    /// What of the board a body is made to.
    pub fn under_board(&self) -> UnderBoard<'_> {
        let map = self.lamps.as_ref().map(|lamps| lamps.map.as_ref().map_err(|missing| *missing));
        UnderBoard {
            layout: self.layout.as_ref().map_err(|missing| *missing),
            edges: self.edges,
            end: self.end,
            exit: map.map(|map| map.map(|map| map.exit)),
        }
    }

    /// Clear wood round a marker's hole: of the lamp's hole if lit, of the dot if plain.
    ///
    /// # Errors
    /// With the key that is open or cannot be used.
    pub fn clearance(&self, model: &Model, marker: &Marker) -> Known<Clearance> {
        let layout = self.layout.as_ref().map_err(|missing| *missing)?;
        let slots = self.slots.as_deref().map_err(|missing| *missing)?;
        let diameter = hole_diameter(model)?;
        board::markers::clearance(marker, layout, slots, &self.edges?, model.slots.kerf.mm()?, diameter)
    }
}

/// Diameter of a marker's hole: the lamp's if lit, the dot's if plain.
///
/// # Errors
/// With the key that is open or cannot be used.
pub fn hole_diameter(model: &Model) -> Known<f64> {
    match (&model.lamp, model.markers.as_ref().and_then(|markers| markers.dot.as_ref())) {
        (Some(lamp), _) => lamp.hole.mm(),
        (None, Some(dot)) => dot.mm(),
        (None, None) => Err(crate::model::Missing::faulty("markers.dot")),
    }
}

impl LampDesign {
    fn of(model: &Model, design: &Design) -> Option<Self> {
        let lit = model.markers.as_ref().is_some_and(|markers| markers.kind.get() == Ok(MarkerKind::Lit));
        let (lamp, channels, circuit) = match (lit, &model.lamp, &model.channels, &model.circuit) {
            (true, Some(lamp), Some(channels), Some(circuit)) => (lamp, channels, circuit),
            _ => return None,
        };
        let markers = design.markers.as_deref().map_err(|missing| *missing);
        let seats = markers.map(|markers| lamps::seats::seats(model, lamp, markers, &design.face));
        let map = design
            .layout
            .as_ref()
            .map_err(|missing| *missing)
            .and_then(|layout| ChannelMap::of(model, channels, layout, &design.edges?));
        let with_map = map.as_ref().map_err(|missing| *missing);
        let wired = || -> Known<Vec<WiredLamp>> {
            let wired = |marker: &Marker| WiredLamp { number: marker.number, fret: marker.fret, side: marker.side };
            Ok(markers?.iter().map(wired).collect())
        };
        let in_series = || Ok(usize::try_from(circuit.in_series.get()?).unwrap_or(usize::MAX));
        let orders = wired().and_then(|lamps| Ok(lamps::wires::orders(&lamps, in_series()?)));
        let wires = with_map.and_then(|map| Ok(lamps::wires::run(map, &wired()?, in_series()?)));
        let groups = markers.and_then(|markers| lamps::circuit::groups(lamp, circuit, markers.len()));
        let potting = with_map.and_then(|map| {
            let (seats, wires) = (seats.as_deref().map_err(|m| *m)?, wires.as_ref().map_err(|m| *m)?);
            let allowance = model.shop.epoxy.allowance.to_parts();
            Potting::of((lamp, channels, circuit), map, markers?, seats, wires, allowance)
        });
        let glue_face = with_map.and_then(|map| {
            let outline = design.outline.as_ref().map_err(|missing| *missing)?;
            let rod = design.rod.as_ref().map_err(|missing| *missing)?;
            lamps::glue_face::glue_face_left(outline, map, markers?, lamp.counterbore.mm()?, rod.as_ref())
        });
        Some(Self { seats, map, orders, wires, groups, potting, glue_face })
    }
}
