//! Sets a drawing on paper: scale, rows of dimensions, texts, key, heading.
//!
//! Everything is laid out in millimetres on paper about the drawing's own zero point, and shifted to the
//! picture's corner at the end. First what has one place only (shapes, ordinates), then dimension lines in rows,
//! then the texts, each in the best of many places that is still free.

mod choices;
mod finish;
mod key;
mod layout;
mod linear;
mod marks;
mod ordinates;
mod texts;

use kurbo::Vec2;

use super::picture::Picture;
use super::scale::{self, Scale, Scaling};
use super::{Drawing, Room};
use layout::{Layout, Measures};

/// How often the key may grow and the drawing shrink for it.
const ATTEMPTS: usize = 4;
/// Most that a stretched drawing is wider than it is.
const MOST_STRETCH: f64 = 5.0;

pub(super) fn place(drawing: &Drawing, room: Room) -> Picture {
    let measures = Measures::of(drawing);
    let heading = finish::heading_height(drawing, room.width);
    let mut key_height = 0.0;
    for attempt in 1.. {
        let body = Room { height: room.height - heading - key_height, ..room };
        let factors = find_scale(drawing, &measures, body);
        let layout = Layout::at(drawing, &measures, factors);
        let written = texts::write(drawing, &layout, body);
        let needed = key::height(&written.key, room.width);
        if needed <= key_height || attempt == ATTEMPTS {
            return finish::finish(drawing, factors, written, room);
        }
        key_height = needed;
    }
    unreachable!("the last attempt returns")
}

/// The scale the drawing asks for, or the largest that fits.
fn find_scale(drawing: &Drawing, measures: &Measures, room: Room) -> Scale {
    let size = |factors: Scale| layout::size(drawing, measures, factors);
    let fits = |ratio: f64| {
        let size = size(Scale::uniform(ratio));
        size.x <= room.width && size.y <= room.height
    };
    match drawing.scaling {
        Scaling::Given(scale) => scale,
        Scaling::Standard => Scale::uniform(scale::choose(fits).unwrap_or(0.01)),
        Scaling::Scheme => Scale::uniform(largest_up_to_one(fits)),
        Scaling::Stretched => {
            let fits_at = |along: f64, across: f64| {
                let size: Vec2 = size(Scale { along, across });
                (size.x <= room.width, size.y <= room.height)
            };
            let along = scale::choose(|ratio| fits_at(ratio, ratio).0).unwrap_or(0.01);
            let across = scale::choose(|ratio| ratio <= along * MOST_STRETCH && fits_at(along, ratio).1);
            Scale { along, across: across.map_or(along, |across| across.max(along)) }
        }
    }
}

fn largest_up_to_one(fits: impl Fn(f64) -> bool) -> f64 {
    (0..=50).map(|step| 1.0 - f64::from(step) * 0.02).find(|ratio| *ratio > 0.0 && fits(*ratio)).unwrap_or(0.02)
}
