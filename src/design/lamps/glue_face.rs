//! How much of the back is left to glue: channels, opened seats and the rod's slot taken off.

use super::channels::ChannelMap;
use super::potting::open_area;
use crate::design::board::markers::Marker;
use crate::design::board::outline::Outline;
use crate::geom::{Circle, Convex, Strip};
use crate::model::{Known, Neck};

/// The rod's slot under the board, seen from above; none where its width is not written.
///
/// It lies from the board's end, less the gap, back over its length, or to the zero line.
///
/// # Errors
/// With the key that is open or cannot be used.
pub fn rod_slot(neck: Option<&Neck>, outline: &Outline) -> Known<Option<Convex>> {
    let Some((neck, width)) = neck.and_then(|neck| Some((neck, neck.rod_width.as_ref()?))) else { return Ok(None) };
    let half = width.mm()? / 2.0;
    let gap = neck.rod_end_gap.as_ref().map_or(Ok(0.0), crate::model::Sourced::mm)?;
    let far = outline.end.x - gap;
    let near = match &neck.rod_length {
        Some(length) => far - length.mm()?,
        None => 0.0,
    };
    Ok(Some(Convex::rectangle(near, -half, far, half)))
}

/// Share of the back that is left as glue face, in hundredths.
///
/// # Errors
/// With the key that a marker's place waits for.
pub fn glue_face_left(
    outline: &Outline,
    map: &ChannelMap,
    markers: &[Marker],
    counterbore: f64,
    rod: Option<&Convex>,
) -> Known<f64> {
    let mut taken = map.area();
    let channels: Vec<Convex> = map
        .sides
        .iter()
        .map(Strip::outline)
        .chain(map.crosses.iter().map(|cross| Strip::new(cross.between_walls, map.end.width).outline()))
        .chain([Strip::new(map.end_between_walls, map.end.width).outline()])
        .collect();
    if let Some(rod) = rod {
        taken += rod.area() - channels.iter().map(|channel| channel.shared_with(rod).area()).sum::<f64>();
    }
    for marker in markers {
        let circle = Circle::with_diameter(marker.middle?, counterbore);
        taken += circle.area() - open_area(map, marker.fret, &circle);
        if let Some(rod) = rod {
            let both = circle.area_within(rod)
                - channels.iter().map(|channel| circle.area_within(&channel.shared_with(rod))).sum::<f64>();
            taken -= both;
        }
    }
    Ok(100.0 * (1.0 - taken / outline.area.area()))
}
