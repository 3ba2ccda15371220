//! A shelf lies on pins at one end only.

use std::collections::{BTreeMap, BTreeSet};

use super::{Check, Subject};
use crate::base::{Face, Length};
use crate::diag::Finding;
use crate::model::{JointId, JointUse, Model, PartId};

/// The check.
pub(super) const CHECK: Check = Check {
    code: "shelf-on-one-side",
    summary: "a shelf rests on pins at one end, and nothing carries the other",
    why: "`pin_holes` takes the parts whose pins carry a shelf: both sides are named, `pin_holes([left, right], #{ shelf: shelf })`, or it is \
          called for each. With pins on one side of its middle only, and no other joint, a shelf falls as soon as it is let go.",
    source: "plain statics",
    run,
};

fn run(subject: Subject<'_>, findings: &mut Vec<Finding>) {
    let model = subject.model;
    let mut shelves: BTreeMap<PartId, Vec<&JointUse>> = BTreeMap::new();
    // Shelves that are held in other ways, or whose pins could not be made: that is told by their joint.
    let mut beside: BTreeSet<PartId> = BTreeSet::new();
    let made: BTreeSet<JointId> = model.bearings.iter().map(|bearing| bearing.joint).collect();
    for (id, joint) in (0..).map(JointId).zip(&model.joints).filter(|(_, joint)| joint.joint == PINS) {
        for &shelf in &joint.into {
            shelves.entry(shelf).or_default().push(joint);
            if !made.contains(&id) {
                beside.insert(shelf);
            }
        }
    }
    let others = model.joints.iter().filter(|joint| joint.joint != PINS);
    beside.extend(others.flat_map(|joint| joint.into.iter().copied().chain([joint.member])));
    for (shelf, pins) in shelves.into_iter().filter(|(shelf, _)| !beside.contains(shelf)) {
        let Some((first, end_here)) = pins.iter().find_map(|joint| Some((*joint, end(model, shelf, joint.member)?)))
        else {
            continue;
        };
        if pins.iter().any(|joint| end(model, shelf, joint.member) != Some(end_here)) {
            continue;
        }
        let print = model.printing;
        let (name, side) = (model.full_name(shelf), model.full_name(first.member));
        let message = format!(
            "`{name}` rests on pins in `{side}`, at its {}, and nothing carries its {}, {} away",
            end_here.name(),
            end_here.opposite().name(),
            print.length(model.part(shelf).solid.size(end_here.axis()))
        );
        findings.push(
            Finding::warning(CHECK.code, message)
                .at(first.at.clone())
                .hint(format!(
                    "name the part at its {} too: `pin_holes([left, right], #{{ shelf: shelf }})`",
                    end_here.opposite().name()
                ))
                .source(CHECK.source),
        );
    }
}

/// The joint that carries shelves on pins.
const PINS: &str = "pin_holes";

/// The end of a shelf that a part stands at: the face that looks at it.
fn end(model: &Model, shelf: PartId, part: PartId) -> Option<Face> {
    let axis = model.part(part).thickness;
    let middle = |part: PartId| {
        let solid = &model.part(part).placed;
        solid.face(axis.low()) + solid.face(axis.high())
    };
    let off = middle(part) - middle(shelf);
    // A part in the very middle of a shelf carries both ends.
    (off.abs() > Length::SAME_SIZE * 2).then(|| if off.is_negative() { axis.low() } else { axis.high() })
}

#[cfg(test)]
mod tests {
    use super::super::bench::{add, found, job, join, sheet};
    use super::*;
    use crate::model::Options;

    #[test]
    fn a_shelf_rests_on_both_sides_or_is_held() {
        let told = |right: bool, cleat: bool| {
            let mut model = job();
            let ply = sheet(12);
            let sides = [(0, "left side"), (401, "right side")]
                .map(|(at, name)| add(&mut model, Model::ROOT, name, &ply, [at, 0, 0], [at + 12, 256, 640]));
            let shelf = add(&mut model, Model::ROOT, "shelf", &ply, [13, 0, 320], [400, 256, 332]);
            for (side, drilled) in sides.into_iter().zip([true, right]) {
                if drilled {
                    join(&mut model, "pin_holes", side, &[shelf], Options::new());
                }
            }
            if cleat {
                let back = add(&mut model, Model::ROOT, "back", &ply, [13, 256, 0], [400, 268, 640]);
                join(&mut model, "butt", shelf, &[back], Options::new());
            }
            found(model, &CHECK)
        };
        assert_eq!((told(true, false), told(false, true)), (vec![], vec![]));
        let alone = told(false, false);
        assert_eq!(alone.len(), 1, "{alone:?}");
        assert!(alone[0].message.contains("nothing carries its right, 24-3/16\" away"), "{}", alone[0]);
    }
}
