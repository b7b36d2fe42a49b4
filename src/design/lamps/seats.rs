//! Each lamp's seat: how deep its counterbore is bored from the back, and what room and wood that leaves.

use crate::design::board::face::Face;
use crate::design::board::markers::Marker;
use crate::design::formulas::{dummy_reading, lamp_seat, lead_room, most_sanded, wood_above_flange};
use crate::model::{Known, Lamp, Model};
use crate::spec::words::{LensShape, Seats};

/// One lamp's seat.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Seat {
    /// The lamp, numbered like its marker.
    pub lamp: usize,
    /// The fret it marks.
    pub fret: usize,
    /// The seat over the back, before rounding down.
    pub seat: Known<f64>,
    /// The seat that the lamp would have by itself: another where all share one setting.
    pub own: Known<f64>,
    /// Room for the leads behind the flange.
    pub lead_room: Known<f64>,
    /// Wood above the flange at its thinnest.
    pub wood_above: Known<f64>,
    /// Most that is sanded off its lens.
    pub most_sanded: Known<f64>,
    /// What a dummy lamp in the flat blank reads over the face; minus: below it.
    pub dummy: Known<f64>,
}

/// The seats of all lamps in order.
pub fn seats(model: &Model, lamp: &Lamp, markers: &[Marker], face: &Known<Face>) -> Vec<Seat> {
    let own: Vec<Known<f64>> = markers.iter().map(|marker| own_seat(model, lamp, marker, face)).collect();
    let deepest = own
        .iter()
        .try_fold(f64::NEG_INFINITY, |deepest, seat| seat.as_ref().map(|seat| deepest.max(*seat)).map_err(|m| *m));
    markers
        .iter()
        .zip(&own)
        .map(|(marker, own)| {
            let seat = lamp.seats.get().and_then(|seats| match seats {
                Seats::Each => *own,
                Seats::OneSetting => deepest,
            });
            Seat {
                lamp: marker.number,
                fret: marker.fret,
                seat,
                own: *own,
                lead_room: seat.and_then(|seat| Ok(lead_room(seat, lamp.flange_height.mm()?, lamp.lead_bend.mm()?))),
                wood_above: seat.and_then(|seat| {
                    let place = marker.middle?;
                    let rim = place.y.abs() + lamp.counterbore.mm()? / 2.0;
                    let drop = (*face)?.drop(place.x, rim);
                    Ok(wood_above_flange(model.board.thickness.mm()?, drop, seat))
                }),
                most_sanded: seat.and_then(|seat| {
                    let place = marker.middle?;
                    let low = place.y.abs() + lens_reach(lamp)?;
                    let drop = (*face)?.drop(place.x, low);
                    Ok(most_sanded(seat, lamp.lens_height.mm()?, model.board.thickness.mm()?, drop))
                }),
                dummy: seat.and_then(|seat| {
                    let (height, thickness) = (lamp.lens_height.mm()?, model.board.thickness.mm()?);
                    Ok(dummy_reading(seat, height, thickness, model.slots.skim.mm()?))
                }),
            }
        })
        .collect()
}

/// The seat a lamp needs by itself: its lens reaches the face on the side where the face is highest.
fn own_seat(model: &Model, lamp: &Lamp, marker: &Marker, face: &Known<Face>) -> Known<f64> {
    let place = marker.middle?;
    let high = (place.y.abs() - lens_reach(lamp)?).max(0.0);
    let drop = (*face)?.drop(place.x, high);
    Ok(lamp_seat(model.board.thickness.mm()?, drop, lamp.proud.mm()?, lamp.lens_height.mm()?))
}

/// How far from its axis the lens must reach the face: its radius, or only its crest if it is domed.
fn lens_reach(lamp: &Lamp) -> Known<f64> {
    Ok(match lamp.lens_shape.get()? {
        LensShape::Flat => lamp.lens.mm()? / 2.0,
        LensShape::Domed => 0.0,
    })
}
