//! The board: where its frets lie, how wide and how curved it is, how deep its slots are.
//!
//! Frame of all design: x along the centreline from the zero line toward the saddle, y across, **plus toward
//! the treble side of either hand**, z up from the back. `Hand::y` turns y into the signed y of the files.
//! So a left-handed board is the mirror image of a right-handed one by construction. Millimetres throughout.

pub mod edges;
pub mod face;
pub mod hump;
pub mod layout;
pub mod markers;
pub mod misses;
pub mod outline;
pub mod slot_depths;
pub mod slots;
pub mod strings;
pub mod wire;
