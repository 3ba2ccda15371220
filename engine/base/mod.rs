//! Layer 0: lengths, exact ratios, how they are read and printed, cuboids and part marks.

mod length;
mod marks;
pub mod memory;
mod notation;
mod solid;

pub use length::{Length, OutOfRange, Ratio, Unit};
pub use marks::mark;
pub use notation::{NotationError, Printing, decimal_inches, decimal_mm, parse_length, parse_ratio};
pub use solid::{Axis, Face, Point, Solid};
