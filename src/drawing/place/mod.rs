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
/// Height for labels where the height is not given.
const LABELS_ABOVE_AND_BELOW: f64 = 16.0;
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
        let written = texts::write(drawing, &layout, taken(drawing, &layout, body));
        let needed = key::height(&written.key, room.width);
        if needed <= key_height || attempt == ATTEMPTS {
            return finish::finish(drawing, factors, written, room);
        }
        key_height = needed;
    }
    unreachable!("the last attempt returns")
}

/// The room texts may use: what was offered, or what a drawing takes that goes by its width alone.
fn taken(drawing: &Drawing, layout: &Layout<'_>, room: Room) -> Room {
    let needed = layout.reserved.height() + LABELS_ABOVE_AND_BELOW;
    match drawing.scaling {
        Scaling::Width => Room { height: room.height.max(needed), ..room },
        _ => room,
    }
}

/// The scale the drawing asks for, or the largest that fits; where none fits, the one that exceeds the room least.
fn find_scale(drawing: &Drawing, measures: &Measures, room: Room) -> Scale {
    let excess = |factors: Scale| {
        let size = layout::size(drawing, measures, factors);
        Vec2::new((size.x / room.width - 1.0).max(0.0), (size.y / room.height - 1.0).max(0.0))
    };
    let over = |ratio: f64| {
        let excess = excess(Scale::uniform(ratio));
        excess.x + excess.y
    };
    match drawing.scaling {
        Scaling::Given(scale) => scale,
        Scaling::Standard => Scale::uniform(scale::choose(over)),
        Scaling::Width => Scale::uniform(scale::choose(|ratio| excess(Scale::uniform(ratio)).x)),
        Scaling::Scheme => Scale::uniform(scale::choose_scheme(over)),
        Scaling::Stretched => {
            let along = scale::choose(|ratio| excess(Scale::uniform(ratio)).x);
            let across = scale::choose(|ratio| {
                let too_wide = if ratio > along * MOST_STRETCH { 1.0 } else { 0.0 };
                too_wide + excess(Scale { along, across: ratio.max(along) }).y
            });
            Scale { along, across: across.max(along) }
        }
    }
}
