//! Something that should move is joined to what stands still.

use std::sync::Arc;

use super::{Check, Subject};
use crate::base::{Length, Printing};
use crate::diag::Finding;
use crate::model::{JointUse, Motion, PartId, Way};
use crate::proof::bodies::Body;
use crate::proof::order::to;

/// The check.
pub(super) const CHECK: Check = Check {
    code: "moving-part-fixed",
    summary: "a drawer, a door or a lid is joined to something that does not move with it",
    why: "What is joined to a drawer moves with it, such as its front. A joint to the case, to the frame round its opening or to \
          another drawer would hold it for good. Hinges are the one joint that lets a part move.",
    source: "common practice, no source",
    run,
};

fn run(subject: Subject<'_>, findings: &mut Vec<Finding>) {
    let model = subject.model;
    for (motion, body) in model.motions.iter().zip(subject.proof.bodies()) {
        let Some((own, other)) = body.fixed else {
            findings.extend(takes_all(subject, motion, body));
            continue;
        };
        let joint = model.joints.iter().find(|joint| {
            let of = |part| joint.member == part || joint.into.contains(&part);
            of(own) && of(other)
        });
        findings.push(
            Finding::error(
                CHECK.code,
                format!(
                    "`{}` should {}, and its `{}` is joined to `{}`, which does not move with it",
                    model.moving_name(motion.moving),
                    moves(motion.way, model.printing),
                    model.part(own).name,
                    model.full_name(other)
                ),
            )
            .at(joint.and_then(|joint| joint.at.clone()).or_else(|| motion.at.clone()))
            .hint("leave that joint out, or join the part to something that moves with it")
            .source(CHECK.source),
        );
    }
}

/// A leaf that would take everything there is along, a part behind it too, so that nothing stands that it could turn away from.
fn takes_all(subject: Subject<'_>, motion: &Motion, body: &Body) -> Option<Finding> {
    let model = subject.model;
    let Way::Turn(turn) = motion.way else { return None };
    if body.parts.len() < model.parts.len() {
        return None;
    }
    let inner = turn.opens.opposite();
    let (own, carried): (Vec<PartId>, Vec<PartId>) =
        body.parts.iter().partition(|part| model.is_of(**part, motion.moving));
    let leaf = own.iter().map(|part| model.part(*part).placed).reduce(|a, b| a.hull(&b))?;
    let joined = |a: PartId, b: PartId| {
        let both = |joint: &&Arc<JointUse>| {
            let of = |part| joint.member == part || joint.into.contains(&part);
            of(a) && of(b)
        };
        model.joints.iter().find(both)
    };
    let behind = |part: PartId| {
        let gap = model.part(part).placed.face(turn.opens) - leaf.face(inner);
        (if inner.is_high() { gap } else { -gap }) >= -Length::SAME_SIZE
    };
    let (joint, own, other) = carried
        .into_iter()
        .filter(|part| behind(*part))
        .find_map(|part| own.iter().find_map(|own| Some((joined(*own, part)?, *own, part))))?;
    let message = format!(
        "`{}` should {}, and its `{}` is joined to `{}` behind it, so that all there is would turn with it",
        model.moving_name(motion.moving),
        moves(motion.way, model.printing),
        model.part(own).name,
        model.full_name(other)
    );
    Some(
        Finding::error(CHECK.code, message)
            .at(joint.at.clone().or_else(|| motion.at.clone()))
            .hint("leave that joint out and hang it with `hinge`; what does turn with it goes into one piece, and `swing` takes the piece")
            .source(CHECK.source),
    )
}

/// How something should move, in words.
fn moves(way: Way, print: Printing) -> String {
    match way {
        Way::Slide { out, travel } => format!("come {} {}", print.length(travel), to(out)),
        Way::Turn(turn) => format!("turn by {} degrees", turn.degrees),
    }
}

#[cfg(test)]
mod tests {
    use super::super::bench::{add, found, job, join, s, sheet};
    use super::*;
    use crate::base::{Face, Length, Solid};
    use crate::model::{Hold, Model, Motion, Moving, Opening, Options, Turn, Way};

    /// Two boxes with applied fronts in one opening between two sides; the upper front may be glued to the left side.
    fn bank(glued: bool) -> Model {
        let mut model = job();
        let ply = sheet(12);
        let side = add(&mut model, Model::ROOT, "side", &ply, [-12, 0, 0], [0, 320, 480]);
        let opening = model.add_opening(Opening {
            name: "bay".into(),
            piece: Model::ROOT,
            solid: Solid::new([Length::ZERO; 3], [s(384), s(320), s(480)]),
            widths: vec![],
            heights: vec![],
            diagonals: None,
            limit: Length::ZERO,
            at: None,
        });
        for number in 0..2 {
            let up = number * 200;
            let drawer = model.add_piece("drawer", None);
            model.place(drawer, Model::ROOT, [Length::ZERO; 3]);
            let inner = add(&mut model, drawer, "front", &ply, [8, 0, up], [376, 12, up + 100]);
            let applied = add(&mut model, Model::ROOT, "applied front", &ply, [-8, -12, up], [392, 0, up + 150]);
            join(&mut model, "butt", applied, &[inner], Options::new());
            let way = Way::Slide { out: Face::Front, travel: s(300) };
            let opening = Some(opening);
            let moving = Moving::Piece(drawer);
            model.motions.push(Motion { moving, way, behind: vec![], with_open: vec![], opening, at: None });
            if glued && number == 1 {
                join(&mut model, "butt", side, &[applied], Options::new());
            }
        }
        model
    }

    #[test]
    fn a_hinge_lets_a_door_turn_and_glue_does_not() {
        let build = |joint| {
            let mut model = job();
            let ply = sheet(12);
            let side = add(&mut model, Model::ROOT, "side", &ply, [0, 0, 0], [12, 192, 480]);
            let door = add(&mut model, Model::ROOT, "door", &ply, [1, -12, 0], [240, 0, 480]);
            // The side is fixed to the wall.
            model.holds.push(Hold { part: side, to: None });
            join(&mut model, joint, door, &[side], Options::new());
            let turn = Turn { hinged: Face::Left, opens: Face::Front, line: Face::Front, degrees: 95 };
            let (moving, way) = (Moving::Part(door), Way::Turn(turn));
            model.motions.push(Motion { moving, way, behind: vec![], with_open: vec![], opening: None, at: None });
            found(model, &CHECK).len()
        };
        assert_eq!((build("hinge"), build("butt")), (0, 1));
    }

    #[test]
    fn a_door_that_would_take_its_case_along_is_told() {
        let mut model = job();
        let ply = sheet(12);
        let door = add(&mut model, Model::ROOT, "door", &ply, [0, -12, 0], [240, 0, 480]);
        let side = add(&mut model, Model::ROOT, "side", &ply, [228, 0, 0], [240, 192, 480]);
        join(&mut model, "butt", door, &[side], Options::new());
        let turn = Turn { hinged: Face::Left, opens: Face::Front, line: Face::Front, degrees: 95 };
        let (moving, way) = (Moving::Part(door), Way::Turn(turn));
        model.motions.push(Motion { moving, way, behind: vec![], with_open: vec![], opening: None, at: None });
        let found = found(model, &CHECK);
        assert!(found[0].message.contains("joined to `side` behind it, so that all there is would turn"), "{found:?}");
    }

    #[test]
    fn fronts_move_and_sides_do_not() {
        assert_eq!(found(bank(false), &CHECK), vec![]);
        let told = found(bank(true), &CHECK);
        assert!(told.len() == 1 && told[0].message.contains("`front` is joined to `applied front`"), "{told:?}");
    }
}
