//! Groove: a trench along the grain that holds the edge of a panel.

use super::channel::{self, Trench};
use super::{ByUnit, Joint, Work};
use crate::diag::Finding;
use crate::model::JointId;

/// The trench of a groove.
pub(super) const TRENCH: Trench = Trench {
    name: "groove",
    // Common practice, no source: a bottom's groove is half as deep as the side is thick.
    depth: (1, 2),
    // Common practice, no source: a thirty-second (a millimetre) at each edge lets a panel drop in and the corners pull tight.
    clearance: ByUnit::new((1, 32), 1_000),
    glued: false,
    open: false,
};

/// The groove.
pub(super) const GROOVE: Joint = Joint {
    name: "groove",
    summary: "a trench along a part that holds the edge of a panel",
    target: "into",
    options: &channel::options(
        (
            "half the thickness of the part that is cut",
            "common practice, no source: half the side holds the panel and leaves the side strong enough",
        ),
        (
            "1/32 in, or 1 mm in a metric job, at each edge",
            "common practice, no source: the panel drops in and the corners of the box can be pulled tight",
        ),
        ("no", "common practice, no source: a panel that is held on all sides needs none, and solid wood must move"),
    ),
    about: "The panel's edge grows by the depth less the clearance, and each part named in `into` gets a trench as wide as \
            the panel was measured, along its whole length unless it is stopped. Choose it for drawer bottoms and backs: the \
            panel keeps the box square and needs no glue.",
    source: "common practice, no source",
    refuses: channel::REFUSES,
    changes: "The panel grows at each edge that goes in by the depth less the clearance. The parts that are cut keep their size.",
    leaves: "A `groove` in each part named in `into`, as wide as the panel was measured and the fit; where it is stopped, a \
             `notch` at each corner of the panel.",
    needs: "Nothing, or glue on the walls and the floor of the cut when `glue` is true.",
    sets: channel::SETS,
    promises: "The edge stands between both walls with the fit, and before the floor with the clearance.",
    assembly: "Slide the bottom into the grooves of each side, without glue.",
    example: r#"let ply = stock("1/2 birch plywood");
let thin = stock("1/4 birch plywood");
let left = part("side", #{ stock: ply, left: 0.inch, front: 0.inch, depth: 18.inch, bottom: 0.inch, height: 4.inch });
let right = part("side", #{ stock: ply, right: 16.inch, front: 0.inch, depth: 18.inch, bottom: 0.inch, height: 4.inch });
let floor = part("bottom", #{ stock: thin, left: left.right, right: right.left, front: 0.inch, depth: 18.inch, bottom: (1/4).inch });
groove(floor, #{ into: [left, right] });
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
