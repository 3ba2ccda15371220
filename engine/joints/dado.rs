//! Dado: a trench across the grain that carries the end of a shelf or divider.

use super::channel::{self, Trench};
use super::{ByUnit, Joint, Work};
use crate::diag::Finding;
use crate::model::{JointId, Kind, OptionSpec};

const TRENCH: Trench = Trench {
    name: "dado",
    // Common practice, no source: a third of the side carries a shelf and leaves the side two thirds of its strength.
    depth: (1, 3),
    clearance: ByUnit::new((0, 1), 0),
    glued: true,
    open: false,
};

/// The options of a trench, and those of a tongue.
const OPTIONS: [OptionSpec; 9] = {
    let [into, depth, clearance, fit, stop, stop_at, glue] = channel::options(
        (
            "a third of the thickness of the part that is cut",
            "common practice, no source: it carries a shelf and leaves the side two thirds of its strength",
        ),
        ("none", "common practice, no source: the shelf sits on the floor of the cut, so that the width is certain"),
        ("yes", "common practice, no source: glue keeps a loaded shelf from drawing out"),
    );
    let tongue = OptionSpec::may(
        "tongue",
        Kind::Length,
        "none: the whole thickness goes in",
        "how thick the tongue is that a rabbet on one face leaves of the shelf's end",
    )
    .because(
        "common practice, no source: a plain dado carries more; the shoulder of a tongue hides an uneven thickness",
    );
    let rabbet = OptionSpec::may(
        "rabbet",
        Kind::Face,
        "the broad face that is not shown, else the top or the back",
        "the face of the shelf that is rabbeted for the tongue",
    )
    .because("common practice, no source: the shoulder lies where it is not seen");
    [into, depth, clearance, fit, stop, stop_at, glue, tongue, rabbet]
};

/// The dado.
pub(super) const DADO: Joint = Joint {
    name: "dado",
    summary: "a trench across a part that carries the end of a shelf or divider",
    target: "into",
    options: &OPTIONS,
    about: "The shelf's end grows by the depth, and each part named in `into` gets a trench as wide as the shelf was \
            measured. With `tongue`, a rabbet on one face thins the shelf's end and the trench is as wide as the tongue (a rabbeted \
            dado). Stopped (`stop: \"front\"`), the cut ends before that edge and the shelf's tongue is notched to match. \
            Choose it where a shelf carries weight: the wood carries it, not the screws.",
    source: "common practice, no source",
    refuses: &[
        "banded-edge-in-cut",
        "broad-face-in-cut",
        "cut-beside-part",
        "cut-through",
        "cut-without-depth",
        "fit-too-loose",
        "joint-needs-contact",
        "option-without-effect",
        "rabbet-in-edge",
        "stop-beside-the-cut",
        "stop-beyond-the-cut",
        "tongue-too-thick",
    ],
    changes: "The shelf grows at each end that goes in by the depth less the clearance. The parts that are cut keep their size.",
    leaves: "A `dado` in each part named in `into`, as wide as the shelf was measured and the fit; where it is stopped, a \
             `notch` at that corner of the shelf; with a tongue, a `rabbet` across \
             the shelf's end.",
    needs: "Glue on the walls and the floor of the cut, unless `glue` is false.",
    sets: channel::SETS,
    promises: "The edge, or its tongue, stands between both walls with the fit, and before the floor with the clearance.",
    assembly: "Glue the shelf into the dados of each side.",
    example: r#"let ply = stock("3/4 birch plywood");
let left = part("side", #{ stock: ply, left: 0.inch, front: 0.inch, depth: 11.inch, bottom: 0.inch, height: 30.inch });
let right = part("side", #{ stock: ply, right: 24.inch, front: 0.inch, depth: 11.inch, bottom: 0.inch, height: 30.inch });
let shelf = part("shelf", #{ stock: ply, left: left.right, right: right.left, front: 0.inch, depth: 11.inch, bottom: 10.inch });
dado(shelf, #{ into: [left, right], stop: "front" });
let top = part("top", #{ stock: ply, left: left.right, right: right.left, front: 0.inch, depth: 11.inch, top: 29.inch });
dado(top, #{ into: [left, right], tongue: (3/8).inch });
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
