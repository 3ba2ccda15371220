//! Rabbet: a step along an edge that takes the edge of a back or the end of a front.

use super::channel::{self, Trench};
use super::{ByUnit, Joint, Work};
use crate::diag::Finding;
use crate::model::JointId;

const TRENCH: Trench = Trench {
    name: "rabbet",
    // Common practice, no source: half the thickness, so that both cheeks are alike.
    depth: (1, 2),
    clearance: ByUnit::new((0, 1), 0),
    glued: true,
    open: true,
};

/// The rabbet.
pub(super) const RABBET: Joint = Joint {
    name: "rabbet",
    summary: "a step along an edge that takes the edge of a back or the end of a front",
    target: "into",
    options: &channel::options(
        (
            "half the thickness of the part that is cut",
            "common practice, no source: half the side is left to cover the edge that goes in",
        ),
        ("none", "common practice, no source: the back sits on the floor of the cut and squares the case"),
        ("yes", "common practice, no source: a rabbet holds by its glue"),
    ),
    about: "The member's edge grows by the depth, and each part named in `into` gets a step from the member's inner face out \
            to its nearer edge. Choose it for backs, which then show no edge from the side, and for box corners that are \
            stronger than a butt.",
    source: "common practice, no source",
    refuses: &[
        "banded-edge-in-cut",
        "broad-face-in-cut",
        "cut-beside-part",
        "cut-through",
        "cut-without-depth",
        "fit-too-loose",
        "joint-needs-contact",
        "rabbet-too-wide",
        "stop-beside-the-cut",
        "stop-beyond-the-cut",
    ],
    changes: "The member grows at each edge that goes in by the depth less the clearance. The parts that are cut keep their size.",
    leaves: "A `rabbet` in each part named in `into`, from the member's inner face out to the nearer edge; where it is stopped, \
             a `notch` at each corner of the member.",
    needs: "Glue on the shoulder and the floor of the cut, unless `glue` is false.",
    sets: channel::SETS,
    promises: "The edge lies on the wall with the fit, and before the floor with the clearance.",
    assembly: "Glue the back into the rabbets of each side.",
    example: r#"let ply = stock("3/4 birch plywood");
let thin = stock("1/4 birch plywood");
let left = part("side", #{ stock: ply, left: 0.inch, front: 0.inch, depth: 11.inch, bottom: 0.inch, height: 30.inch });
let right = part("side", #{ stock: ply, right: 24.inch, front: 0.inch, depth: 11.inch, bottom: 0.inch, height: 30.inch });
let back = part("back", #{ stock: thin, left: left.right, right: right.left, back: 11.inch, bottom: 0.inch, height: 30.inch });
rabbet(back, #{ into: [left, right] });
"#,
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
