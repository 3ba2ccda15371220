//! Layer 3: the physics of wood: how damp it is, how far it moves, what it weighs, how it sags, when a piece tips.
//!
//! Pure functions of sizes that are final. Here, and only here, numbers float: what they tell is a judgement of a size and
//! never a size to cut. They use `+ - * /` alone, so that every machine comes to the same digits.

mod drawers;
mod mass;
mod moisture;
mod movement;
mod sag;
mod spans;
mod tipping;

pub use drawers::{Drawer, drawers, in_kg};
pub use mass::{GRAVITY, Mass, POUND, density, floor, of_load, of_part, weight_text};
pub use moisture::{Season, equilibrium, season};
pub use movement::{Movement, Sawn, change, change_beyond, movement, rounded_up, wood_unknown};
pub use sag::{Beam, PSI, Stiffness, stiffness};
pub use spans::{Span, Ties, spans};
pub use tipping::{Balance, CHILD, Stand, stand, tips};
