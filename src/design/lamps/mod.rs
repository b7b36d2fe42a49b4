//! The lamps: seats bored from the back, channels for their wires, the circuit, and the epoxy that holds them.
//!
//! The frame is the board's: x along, y across toward the treble side, heights from the back.

pub mod channels;
pub mod circuit;
pub mod glue_face;
pub mod potting;
pub mod seats;
pub mod wires;
