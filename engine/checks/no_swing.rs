//! A door hangs on hinges, and nothing says how it turns.

use std::collections::BTreeSet;

use super::{Check, Subject};
use crate::diag::Finding;
use crate::model::JointId;

/// The check.
pub(super) const CHECK: Check = Check {
    code: "no-swing",
    summary: "a door hangs on hinges, and nothing says how it turns",
    why: "`hinge` bores a door and what it hangs on; `swing` says which way and how far the door turns, and only then is its way proved: \
          past the parts beside it, its neighbours, drawers and walls. A door that is made for a case that is not drawn is not looked at.",
    source: "common practice, no source",
    run,
};

fn run(subject: Subject<'_>, findings: &mut Vec<Finding>) {
    let model = subject.model;
    if model.hinges.is_empty() {
        return;
    }
    let mut moves = vec![false; model.parts.len()];
    for part in subject.proof.bodies().iter().flat_map(|body| &body.parts) {
        moves[part.0 as usize] = true;
    }
    // A hinge that could not be made is told by its joint.
    let made: BTreeSet<JointId> = model.bearings.iter().map(|bearing| bearing.joint).collect();
    for joint in model.hinges.iter().filter(|id| made.contains(id)).map(|&id| model.joint(id)) {
        let Some(case) = joint.into.first().filter(|_| !moves[joint.member.0 as usize]) else { continue };
        let name = model.full_name(joint.member);
        let message = format!(
            "`{name}` hangs on `{}`, and nothing says how it turns, so that its way is not proved",
            model.full_name(*case)
        );
        findings.push(
            Finding::note(CHECK.code, message)
                .at(joint.at.clone())
                .hint("add `swing` with the door, or the piece that it is, and the edge that its hinges are on: #{ hinged: \"left\" }")
                .source(CHECK.source),
        );
    }
}

#[cfg(test)]
mod tests {
    use super::super::bench::{add, found, job, join, sheet};
    use super::*;
    use crate::base::Face;
    use crate::model::{Model, Motion, Moving, Options, Turn, Way};

    #[test]
    fn a_door_on_a_case_is_said_to_swing() {
        let told = |swings: bool| {
            let mut model = job();
            let ply = sheet(12);
            let side = add(&mut model, Model::ROOT, "side", &ply, [0, 0, 0], [12, 192, 480]);
            let door = add(&mut model, Model::ROOT, "door", &ply, [1, -12, 0], [240, 0, 480]);
            join(&mut model, "hinge", door, &[side], Options::new());
            if swings {
                let way = Way::Turn(Turn { hinged: Face::Left, opens: Face::Front, line: Face::Front, degrees: 95 });
                let moving = Moving::Part(door);
                model.motions.push(Motion { moving, way, behind: vec![], with_open: vec![], opening: None, at: None });
            }
            found(model, &CHECK).len()
        };
        assert_eq!((told(false), told(true)), (1, 0));
    }
}
