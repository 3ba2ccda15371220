//! The cups of a door are bored on another side than the one that it turns on.

use super::{Check, Subject};
use crate::base::{Face, Length};
use crate::diag::Finding;
use crate::model::{Feature, Model, Moving, PartId, Shape, Way};

/// The check.
pub(super) const CHECK: Check = Check {
    code: "hinged-elsewhere",
    summary: "hinges are bored on another side of a door than the one that it is said to turn on",
    why: "The way of a door is proved round the edge that `swing` names; its cups are bored by `hinge` at the edge next to what it hangs \
          on. Where the two differ the proof is about another door than the one that will be hung. The cups are looked for on the \
          finished door: they lie nearer to the edge that it turns on than to the one across, and in the face that does not lead.",
    source: "integer geometry",
    run,
};

fn run(subject: Subject<'_>, findings: &mut Vec<Finding>) {
    let model = subject.model;
    for (motion, body) in model.motions.iter().zip(subject.proof.bodies()) {
        let Way::Turn(turn) = motion.way else { continue };
        let leaf = body.parts.iter().map(|&part| model.part(part).solid).reduce(|a, b| a.hull(&b));
        let Some((leaf, (part, cup))) = leaf.zip(cup(model, &body.parts)) else { continue };
        let distance = |face: Face| {
            let middle = cup.solid.low[face.axis().index()] + cup.solid.size(face.axis()).half();
            (leaf.face(face) - middle).abs()
        };
        let (there, across) = (distance(turn.hinged), distance(turn.hinged.opposite()));
        let is_there = there <= across + Length::SAME_SIZE;
        let leads = cup.face == turn.opens;
        if is_there && !leads {
            continue;
        }
        let print = model.printing;
        let door = model.moving_name(motion.moving);
        let whose = if motion.moving == Moving::Part(part) {
            String::new()
        } else {
            format!(" in `{}`", model.full_name(part))
        };
        let (message, hint) = if is_there {
            (
                format!(
                    "`{door}` opens to the {}, and its cups are bored into that face{whose}, {} deep",
                    turn.opens.name(),
                    print.length(cup.depth())
                ),
                format!(
                    "write `opens: \"{}\"` in `swing`, or place what the door hangs on behind it",
                    cup.face.opposite().name()
                ),
            )
        } else {
            (
                format!(
                    "`{door}` turns on its {}, and its cups are bored{whose} {} from its {}",
                    turn.hinged.name(),
                    print.length(across),
                    turn.hinged.opposite().name()
                ),
                format!(
                    "write `hinged: \"{}\"` in `swing`, or hang it with `hinge` on the part at its {}",
                    turn.hinged.opposite().name(),
                    turn.hinged.name()
                ),
            )
        };
        findings.push(Finding::error(CHECK.code, message).at(motion.at.clone()).hint(hint).source(CHECK.source));
    }
}

/// The largest boring of a hinge in these parts: a cup.
fn cup<'a>(model: &'a Model, parts: &[PartId]) -> Option<(PartId, &'a Feature)> {
    let is_of_hinge = |cut: &&Feature| model.hinges.contains(&cut.joint) && matches!(cut.shape, Shape::Bore(_));
    let joined = |part: PartId| model.part(part).features.iter().filter(is_of_hinge).map(move |cut| (part, cut));
    let cups = parts.iter().flat_map(|&part| joined(part)).filter(|(part, cut)| model.joint(cut.joint).member == *part);
    cups.max_by_key(|(_, cut)| cut.solid.volume())
}

#[cfg(test)]
mod tests {
    use super::super::bench::{add, found, job, join, sheet};
    use super::*;
    use crate::model::{Motion, Options, Turn};

    /// A door so wide before a side at its left, and how it is said to turn.
    fn door(wide: Length, hinged: Face, opens: Face) -> Vec<Finding> {
        let mut model = job();
        let ply = sheet(12);
        let side = add(&mut model, Model::ROOT, "side", &ply, [0, 0, 0], [12, 192, 480]);
        let door = add(&mut model, Model::ROOT, "door", &ply, [0, -12, 0], [240, 0, 480]);
        model.part_mut(door).placed.high[0] = wide;
        let (moving, way) = (Moving::Part(door), Way::Turn(Turn { hinged, opens, line: opens, degrees: 95 }));
        model.motions.push(Motion { moving, way, behind: vec![], with_open: vec![], opening: None, at: None });
        join(&mut model, "hinge", door, &[side], Options::new());
        found(model, &CHECK)
    }

    #[test]
    fn cups_lie_at_the_edge_that_the_door_turns_on() {
        let wide = Length::from_inch(15, 1);
        assert_eq!(door(wide, Face::Left, Face::Front), vec![]);
        let told = &door(wide, Face::Right, Face::Front)[0];
        assert!(
            told.message.contains("turns on its right") && told.hint.as_ref().unwrap().contains("\"left\""),
            "{told}"
        );
        assert_eq!(door(wide, Face::Left, Face::Back).len(), 1);
    }

    #[test]
    fn cups_in_the_very_middle_tell_nothing() {
        // The middle of a cup is 22.5 mm from the left: in a door 45 mm wide it is as far from the right. It may be a thousandth nearer.
        let um = Length::from_um;
        let told = |more: i64| door(um(45_000 + more), Face::Right, Face::Front).len();
        assert_eq!([told(0), told(1), told(2)], [0, 0, 1]);
    }
}
