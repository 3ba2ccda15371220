//! Screws that no driver can reach, whichever of two parts is fitted first.

use std::collections::BTreeMap;

use super::{Check, MOST, Subject};
use crate::base::{Axis, Face, Length, Solid};
use crate::diag::Finding;
use crate::model::{JointId, Model, PartId, Shape};

/// The check.
pub(super) const CHECK: Check = Check {
    code: "screw-out-of-reach",
    summary: "two parts are screwed on from both sides of a third, each over the heads of the other's screws",
    why: "A screw through a part is driven from the face away from what it holds. Where another part is screwed on there in the same \
          way, at the same place, its screws go in under the first: whichever of both is fitted first covers the heads of the other's \
          screws. Two shelves at one height on both sides of a divider are the usual case.",
    source: "integer geometry; a thousandth of a millimetre is allowed",
    run,
};

fn run(subject: Subject<'_>, findings: &mut Vec<Finding>) {
    let model = subject.model;
    for (id, part) in model.part_ids() {
        // By joint: the face that its screws go in at, what they hold there, and the heads.
        let mut driven: BTreeMap<JointId, (Face, Vec<Solid>)> = BTreeMap::new();
        for cut in &part.features {
            let joint = model.joint(cut.joint);
            let is_head = matches!(cut.shape, Shape::Bore(_)) && cut.name == "screw hole";
            if is_head && cut.solid.face(cut.face).same_size(part.solid.face(cut.face)) && joint.member != id {
                driven.entry(cut.joint).or_insert((cut.face, Vec::new())).1.push(cut.solid);
            }
        }
        let joints: Vec<(&JointId, &(Face, Vec<Solid>))> = driven.iter().collect();
        for (at, (first, (face, heads))) in joints.iter().enumerate() {
            for (second, (other_face, other_heads)) in &joints[at + 1..] {
                if findings.len() >= MOST {
                    return;
                }
                let held = |joint: JointId| model.joint(joint).member;
                let (own, other) = (held(**first), held(**second));
                let covered = if *face == other_face.opposite() && own != other {
                    covers(model, id, other, *face, heads).zip(covers(model, id, own, *other_face, other_heads))
                } else {
                    None
                };
                findings.extend(covered.map(|(one, two)| told(model, id, [**first, **second], one.min(two))));
            }
        }
    }
}

/// Whether a part lies on some of the heads, and the least move along the face, one way or the other, that clears them all.
fn covers(model: &Model, through: PartId, over: PartId, face: Face, heads: &[Solid]) -> Option<(Length, Axis)> {
    let (through, over) = (model.part(through), model.part(over));
    if !over.placed.face(face.opposite()).same_size(through.solid.face(face)) {
        return None;
    }
    let skin = Length::SAME_SIZE;
    let axes = face.axis().others();
    let is_under = |head: &&Solid| {
        axes.into_iter().all(|axis| {
            over.placed.face(axis.low()) + skin < head.face(axis.high())
                && head.face(axis.low()) + skin < over.placed.face(axis.high())
        })
    };
    let all = heads.iter().filter(is_under).copied().reduce(|a, b| a.hull(&b))?;
    let ways = axes.into_iter().flat_map(|axis| {
        [all.face(axis.high()) - over.placed.face(axis.low()), over.placed.face(axis.high()) - all.face(axis.low())]
            .map(|by| (by, axis))
    });
    ways.min()
}

fn told(model: &Model, through: PartId, joints: [JointId; 2], (by, axis): (Length, Axis)) -> Finding {
    let [first, second] = joints.map(|joint| model.joint(joint));
    let (a, b) = (model.full_name(first.member), model.full_name(second.member));
    let through = model.full_name(through);
    let message = format!(
        "the screws through `{through}` into `{a}` go in where `{b}` lies, and those into `{b}` where `{a}` lies: whichever is fitted first \
         covers the screws of the other"
    );
    let hint = format!(
        "let one of them into `{through}` with `dado`, or move one of them {} {}, clear of the other's screws",
        model.printing.length(by),
        axis.run_name()
    );
    Finding::error(CHECK.code, message).at(second.at.clone()).hint(hint).source(CHECK.source)
}

#[cfg(test)]
mod tests {
    use super::super::bench::{add, found, job, join, sheet};
    use super::*;
    use crate::model::{Options, Value};

    /// Two shelves screwed on at both sides of a divider, one of them so much higher than the other.
    fn shelves(up: Length, with: &str) -> Vec<Finding> {
        let mut model = job();
        let ply = sheet(12);
        let divider = add(&mut model, Model::ROOT, "divider", &ply, [160, 0, 0], [172, 160, 320]);
        let a = add(&mut model, Model::ROOT, "shelf a", &ply, [0, 0, 100], [160, 160, 112]);
        let b = add(&mut model, Model::ROOT, "shelf b", &ply, [172, 0, 100], [320, 160, 112]);
        let placed = &mut model.part_mut(b).placed;
        *placed = placed.shifted([Length::ZERO, Length::ZERO, up]);
        for shelf in [a, b] {
            join(&mut model, "butt", shelf, &[divider], Options::new().with("with", Value::Text(with.into())));
        }
        found(model, &CHECK)
    }

    #[test]
    fn one_of_two_shelves_clears_the_screws_of_the_other() {
        // A shelf 3/4 in thick has its screws in the middle, 9.525 mm up. Their holes are as wide as gauge 8 is: 0.060 + 0.013 x 8 = 0.164 in,
        // 4.1656 mm, so that they reach 11.6078 up. A shelf that begins there, or a thousandth lower, is clear of them.
        let um = |um: i64| Length::from_nm(11_607_800) - Length::from_um(um);
        assert_eq!([0, 1, 2].map(|lower| shelves(um(lower), "screws").len()), [0, 0, 1]);
        let told = &shelves(Length::ZERO, "screws")[0];
        assert!(told.message.contains("through `divider` into `shelf a` go in where `shelf b` lies"), "{told}");
        assert_eq!(shelves(Length::ZERO, "dowels"), vec![]);
    }
}
