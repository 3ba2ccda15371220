//! Groove: a trench along the grain that holds the edge of a panel.

use super::channel::{self, Trench};
use super::{Joint, Work};
use crate::base::Length;
use crate::diag::Finding;
use crate::model::JointId;

const TRENCH: Trench = Trench {
    name: "groove",
    // Common practice, no source: a bottom's groove is half as deep as the side is thick.
    depth: (1, 2),
    // Common practice, no source: a thirty-second at each edge lets a panel drop in and the corners pull tight.
    clearance: Length::from_inch(1, 32),
    glued: false,
    open: false,
};

/// The groove.
pub(super) const GROOVE: Joint = Joint {
    name: "groove",
    summary: "a trench along a part that holds the edge of a panel",
    target: "into",
    options: &channel::options("half the thickness of the part that is cut", "1/32 in (0.8 mm) at each edge", "no"),
    about: "The panel's edge grows by the depth less the clearance, and each part named in `into` gets a trench as wide as \
            the panel was measured, along its whole length unless it is stopped. Choose it for drawer bottoms and backs: the \
            panel keeps the box square and needs no glue.",
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
