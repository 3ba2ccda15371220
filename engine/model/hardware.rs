//! Hardware by its geometry, never by its brand.

use super::{OpeningId, PartId, PieceId};
use crate::base::Length;
use crate::diag::At;

/// How hardware is counted.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Unit {
    /// One by one.
    Each,
    /// Left and right together.
    Pair,
    /// By area, in square millimetres (glue).
    Area,
}

impl Unit {
    /// The word in the bill.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Each => "each",
            Self::Pair => "pair",
            Self::Area => "area",
        }
    }
}

/// What sort of hardware it is, and the sizes that matter for fit.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum HardwareClass {
    /// Slides that carry a drawer.
    Slides(Slides),
    /// Slides and runners whose clearances differ from maker to maker: the recipe gives them from the maker's sheet.
    SlidesBySheet,
    /// Anything that has only a size in words: pulls, hinges, shelf pins, screws, glue.
    Plain,
}

/// Slides by their geometry.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Slides {
    /// Room that each side needs between box and opening.
    pub clearance: Length,
    /// How much more than that a side may have.
    pub slack: Length,
    /// The lengths to be had, shortest first.
    pub lengths: Vec<Length>,
    /// The height of the slide's member.
    pub height: Length,
    /// Room that the box needs under it.
    pub under: Length,
    /// The load that a pair carries, in kilograms, as its maker states it.
    pub load_kg: i64,
}

/// The broad kinds that a recipe names.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum HardwareKind {
    /// Drawer slides and runners.
    Slides,
    /// Pulls and knobs.
    Pull,
    /// Hinges.
    Hinge,
    /// Shelf pins.
    ShelfPin,
    /// Screws of every sort.
    Screw,
    /// Glue.
    Glue,
    /// Anything else.
    Other,
}

/// An entry of the hardware catalog.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Hardware {
    /// Its name in recipes and bills.
    pub name: String,
    /// What kind it is.
    pub kind: HardwareKind,
    /// How it is counted.
    pub unit: Unit,
    /// Its geometry.
    pub class: HardwareClass,
    /// What to mind when it is fitted.
    pub note: String,
    /// Where its figures are from.
    pub source: &'static str,
}

/// Hardware at work in a job.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct HardwareUse {
    /// The bill's first column.
    pub item: String,
    /// What kind it is.
    pub kind: HardwareKind,
    /// The bill's size, where the item has one: a length, or a screw's gauge in `gauge`.
    pub size: Option<Length>,
    /// A screw's gauge.
    pub gauge: Option<u8>,
    /// How many, in `unit`s.
    pub quantity: i64,
    /// How it is counted.
    pub unit: Unit,
    /// What it is for: a piece or a part by name.
    pub purpose: String,
    /// What to mind.
    pub note: String,
    /// The slides' geometry with the box that they carry and the opening that they hang in.
    pub slides: Option<SlideFit>,
    /// The part it is fixed to, where there is one.
    pub part: Option<PartId>,
    /// The recipe line that made it.
    pub at: Option<At>,
}

/// Which box hangs on slides in which opening.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SlideFit {
    /// The slides.
    pub slides: Slides,
    /// The box that they carry.
    pub carries: PieceId,
    /// The opening that the box runs in.
    pub opening: OpeningId,
    /// The length chosen.
    pub length: Length,
    /// Room asked for behind the slide.
    pub room_behind: Length,
}
