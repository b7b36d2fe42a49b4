//! Plane geometry: lines, segments, convex polygons, circles. No word of the trade.
//!
//! One unit is one millimetre, y up, angles in radians. Sines, roots and arcs go through `libm`, so that
//! every machine gets the same bits.

mod circle;
mod convex;
mod line;
mod rounded;
mod strip;

pub use circle::{Circle, sagitta};
pub use convex::Convex;
pub use kurbo::{Point, Vec2};
pub use line::{Line, Segment};
pub use rounded::Rounded;
pub use strip::Strip;
