//! Something turns, and nothing is there that it hangs by.

use super::{Check, Subject};
use crate::diag::Finding;
use crate::model::{HardwareKind, Model, PartId, Way};

/// The check.
pub(super) const CHECK: Check = Check {
    code: "no-hinges",
    summary: "a door or a lid turns, and no hinges are asked for",
    why: "`swing` and `lift` say how something turns, so that its way can be proved; hinges with their borings, and their line on the \
          bill, come from `hinge` or `hardware`. Hinges of `hardware` that name no part count for all that turns.",
    source: "common practice, no source",
    run,
};

fn run(subject: Subject<'_>, findings: &mut Vec<Finding>) {
    let model = subject.model;
    for (motion, body) in model.motions.iter().zip(subject.proof.bodies()) {
        let Way::Turn(turn) = motion.way else { continue };
        if is_hung(model, &body.parts) {
            continue;
        }
        let name = model.moving_name(motion.moving);
        let message = format!(
            "`{name}` turns by {} degrees on its {}, and no hinges are asked for",
            turn.degrees,
            turn.hinged.name()
        );
        findings.push(
            Finding::note(CHECK.code, message)
                .at(motion.at.clone())
                .hint("add `hinge` with the part that it hangs on, #{ to: side }; or name other hinges with `hardware`")
                .source(CHECK.source),
        );
    }
}

/// Whether a hinge, bored or bought, is on one of these parts.
fn is_hung(model: &Model, parts: &[PartId]) -> bool {
    let bored = model.hinges.iter().map(|&id| model.joint(id));
    let mut bored = bored.flat_map(|joint| joint.into.iter().chain([&joint.member]));
    let mut bought = model.hardware.iter().filter(|used| used.kind == HardwareKind::Hinge);
    bored.any(|part| parts.contains(part)) || bought.any(|used| used.part.is_none_or(|part| parts.contains(&part)))
}

#[cfg(test)]
mod tests {
    use super::super::bench::{add, found, job, join, sheet};
    use super::*;
    use crate::base::Face;
    use crate::model::{Motion, Moving, Options, Turn};

    #[test]
    fn a_door_hangs_on_its_own_hinges() {
        // Two doors before two sides; each may have its hinges.
        let told = |hinged: [bool; 2]| {
            let mut model = job();
            let ply = sheet(12);
            for (at, hinged) in [(0, hinged[0]), (600, hinged[1])] {
                let side = add(&mut model, Model::ROOT, "side", &ply, [at, 0, 0], [at + 12, 192, 480]);
                let door = add(&mut model, Model::ROOT, "door", &ply, [at, -12, 0], [at + 240, 0, 480]);
                let turn = Turn { hinged: Face::Left, opens: Face::Front, line: Face::Front, degrees: 95 };
                let (moving, way) = (Moving::Part(door), Way::Turn(turn));
                model.motions.push(Motion { moving, way, behind: vec![], with_open: vec![], opening: None, at: None });
                if hinged {
                    join(&mut model, "hinge", door, &[side], Options::new());
                }
            }
            found(model, &CHECK)
        };
        assert_eq!([told([true, true]).len(), told([true, false]).len(), told([false, false]).len()], [0, 1, 2]);
        assert!(told([true, false])[0].message.contains("turns by 95 degrees on its left"));
    }
}
