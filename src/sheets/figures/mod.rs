//! The drawings of the board and its lamps: from the design to a drawing, one file a figure.
//!
//! In: the commission and its numbers. Out: a drawing in the thing's own millimetres, true to geometry, or the key
//! it waits for. Views have the nut at the left; a left-handed board is drawn left-handed; a view of the back is
//! turned over about the long axis. Sections are seen from the saddle toward the nut.

mod allowed_ranges;
mod board_back;
mod board_front;
mod cross_section;
mod drilled_face;
mod lamp_circuit;
mod lamp_map;
mod lamp_section;
mod radius_section;
mod section;
mod taper_outline;
pub(super) mod view;
pub(super) mod words;

pub use allowed_ranges::allowed_ranges;
pub use board_back::{PieceNames, board_back};
pub use board_front::{board_front, board_outline};
pub use cross_section::{cross_section, cross_section_at};
pub(super) use drilled_face::{Bored, drilled_face};
pub use lamp_circuit::lamp_circuit;
pub use lamp_map::lamp_map;
pub use lamp_section::lamp_section;
pub use radius_section::radius_section;
pub use taper_outline::taper_outline;

use super::Job;
