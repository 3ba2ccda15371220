//! Layer 2: data rows, each with its source: common stock, hardware by its geometry, the thickness that standards allow, what woods
//! and panels weigh and how they bend and move.
//!
//! Names are generic trade words in a fixed order, so that a maker can guess them: the thickness first, then the material,
//! then the form. `docs/papers.md` describes the scheme under *Names of stock and hardware*.

mod hardware;
mod screws;
mod species;
mod stock;
mod tolerance;
mod woods;

pub use hardware::{hardware, hardware_names};
pub use screws::{
    Hardness, clearance_hole, lead_hole, metric_name, pocket_screw_lengths, root_diameter, screw_diameter,
    screw_lengths,
};
pub use species::{Species, species};
pub use stock::{sold_thickness, stock, stock_names};
pub use tolerance::{ThicknessTolerance, thickness_tolerance};
pub use woods::{Figure, Properties, properties, wood, woods};
