//! Dado: a trench across the grain that carries the end of a shelf or divider.

use super::channel::{self, Trench};
use super::{Joint, Work};
use crate::base::Length;
use crate::diag::Finding;
use crate::model::JointId;

const TRENCH: Trench = Trench {
    name: "dado",
    // Common practice, no source: a third of the side carries a shelf and leaves the side two thirds of its strength.
    depth: (1, 3),
    clearance: Length::ZERO,
    glued: true,
    open: false,
};

/// The dado.
pub(super) const DADO: Joint = Joint {
    name: "dado",
    summary: "a trench across a part that carries the end of a shelf or divider",
    target: "into",
    options: &channel::options("a third of the thickness of the part that is cut", "none", "yes"),
    about: "The shelf's end grows by the depth, and each part named in `into` gets a trench as wide as the shelf was \
            measured. Stopped (`stop: \"front\"`), the cut ends before that edge and the shelf's tongue is notched to match. \
            Choose it where a shelf carries weight: the wood carries it, not the screws.",
    source: "common practice, no source",
    grow,
    cut,
    drill: |_, _| Ok(()),
};

fn grow(work: &mut Work<'_>, id: JointId) -> Result<(), Finding> {
    channel::grow(work, id, TRENCH)
}

fn cut(work: &mut Work<'_>, id: JointId) -> Result<(), Finding> {
    channel::cut(work, id, TRENCH)
}
