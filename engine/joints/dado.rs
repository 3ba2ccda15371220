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
    options: &channel::options(
        (
            "a third of the thickness of the part that is cut",
            "common practice, no source: it carries a shelf and leaves the side two thirds of its strength",
        ),
        ("none", "common practice, no source: the shelf sits on the floor of the cut, so that the width is certain"),
        ("yes", "common practice, no source: glue keeps a loaded shelf from drawing out"),
    ),
    about: "The shelf's end grows by the depth, and each part named in `into` gets a trench as wide as the shelf was \
            measured. Stopped (`stop: \"front\"`), the cut ends before that edge and the shelf's tongue is notched to match. \
            Choose it where a shelf carries weight: the wood carries it, not the screws.",
    source: "common practice, no source",
    refuses: channel::REFUSES,
    changes: "The shelf grows at each end that goes in by the depth less the clearance. The parts that are cut keep their size.",
    leaves: "A `dado` in each part named in `into`, as wide as the shelf was measured and the fit; where it is stopped, a \
             `notch` at that corner of the shelf.",
    needs: "Glue on the walls and the floor of the cut, unless `glue` is false.",
    sets: channel::SETS,
    assembly: "Glue the shelf into the dados of each side.",
    example: r#"let ply = stock("3/4 birch plywood");
let left = part("side", #{ stock: ply, left: 0.inch, front: 0.inch, depth: 11.inch, bottom: 0.inch, height: 30.inch });
let right = part("side", #{ stock: ply, right: 24.inch, front: 0.inch, depth: 11.inch, bottom: 0.inch, height: 30.inch });
let shelf = part("shelf", #{ stock: ply, left: left.right, right: right.left, front: 0.inch, depth: 11.inch, bottom: 10.inch });
dado(shelf, #{ into: [left, right], stop: "front" });
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
