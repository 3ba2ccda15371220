//! Rabbet: a step along an edge that takes the edge of a back or the end of a front.

use super::channel::{self, Trench};
use super::{Joint, Work};
use crate::base::Length;
use crate::diag::Finding;
use crate::model::JointId;

const TRENCH: Trench = Trench {
    name: "rabbet",
    // Common practice, no source: half the thickness, so that both cheeks are alike.
    depth: (1, 2),
    clearance: Length::ZERO,
    glued: true,
    open: true,
};

/// The rabbet.
pub(super) const RABBET: Joint = Joint {
    name: "rabbet",
    summary: "a step along an edge that takes the edge of a back or the end of a front",
    target: "into",
    options: &channel::options("half the thickness of the part that is cut", "none", "yes"),
    about: "The member's edge grows by the depth, and each part named in `into` gets a step from the member's inner face out \
            to its nearer edge. Choose it for backs, which then show no edge from the side, and for box corners that are \
            stronger than a butt.",
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
