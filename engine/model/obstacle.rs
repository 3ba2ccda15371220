//! What stands where the piece will stand, and is none of it: a wall, a floor, an appliance.

use crate::base::{Length, Solid};
use crate::diag::At;

/// Something that is there already. Nothing of the piece may stand in it and nothing that moves may meet it; it is not built, cut,
/// bought or weighed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Obstacle {
    /// What it is called.
    pub name: String,
    /// What it fills, in the whole job.
    pub solid: Solid,
    /// The recipe line that said so.
    pub at: Option<At>,
}

impl Obstacle {
    /// How far a side reaches that the recipe does not tell: as far as any length does.
    pub const WITHOUT_END: Length = Length::LIMIT;
}
