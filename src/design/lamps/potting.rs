//! How much epoxy the channels and seats take.

use super::channels::ChannelMap;
use super::seats::Seat;
use super::wires::Wires;
use crate::design::board::markers::Marker;
use crate::design::formulas::{epoxy_mix, net_volume, round_area};
use crate::geom::Circle;
use crate::model::{Channels, Known, Lamp, LampCircuit};

/// Volumes in cubic millimetres.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Potting {
    /// All channels.
    pub channels: f64,
    /// The seats beyond what the channels open of them.
    pub seats: f64,
    /// The lamps' flanges.
    pub flanges: f64,
    /// The wire.
    pub wire: f64,
    /// What is poured.
    pub net: f64,
    /// What is mixed, in millilitres.
    pub mix: f64,
}

impl Potting {
    /// The volumes.
    ///
    /// # Errors
    /// With the key that is open or cannot be used.
    pub fn of(
        (lamp, channels, circuit): (&Lamp, &Channels, &LampCircuit),
        map: &ChannelMap,
        markers: &[Marker],
        seats: &[Seat],
        wires: &Wires,
        allowance: f64,
    ) -> Known<Self> {
        let (depth, counterbore) = (channels.depth.mm()?, lamp.counterbore.mm()?);
        let flange = round_area(lamp.flange.mm()?) * lamp.flange_height.mm()?;
        let mut in_seats = 0.0;
        let mut in_flanges = 0.0;
        for (marker, seat) in markers.iter().zip(seats) {
            let circle = Circle::with_diameter(marker.middle?, counterbore);
            let bored = seat.seat?;
            in_seats += circle.area() * bored - open_area(map, marker.fret, &circle) * bored.min(depth);
            in_flanges += flange;
        }
        let in_channels = map.area() * depth;
        let wire = round_area(circuit.hookup.mm()?) * wires.length();
        let net = net_volume(in_channels, in_seats, in_flanges, wire);
        Ok(Self {
            channels: in_channels,
            seats: in_seats,
            flanges: in_flanges,
            wire,
            net,
            mix: epoxy_mix(net, allowance),
        })
    }
}

/// The part of a counterbore that its cross channel and the side channels open already.
pub fn open_area(map: &ChannelMap, fret: usize, circle: &Circle) -> f64 {
    let cross = map.cross(fret).map(|cross| cross.strip.outline());
    let mut open = cross.as_ref().map_or(0.0, |cross| circle.area_within(cross));
    for side in &map.sides {
        let side = side.outline();
        open += circle.area_within(&side);
        if let Some(cross) = &cross {
            open -= circle.area_within(&side.shared_with(cross));
        }
    }
    open
}
