//! Two parts lie against one another, and no joint holds the one to the other.

use std::collections::{BTreeMap, BTreeSet};

use super::{Check, MOST, Subject};
use crate::base::{Axis, Length, Solid};
use crate::diag::Finding;
use crate::model::{PartId, PieceId};
use crate::proof::Proved;
use crate::proof::index::Index;

/// The check.
pub(super) const CHECK: Check = Check {
    code: "no-joint-between",
    summary: "a part lies against another, and no joint is asked for between them",
    why: "A part that is placed up to another is most often meant to be held there, and a joint that was forgotten brings no glue and no \
          screws. Where a third part is joined to both, as the front of a drawer box is to its sides and to the drawer front, they are \
          held, and nothing is said, unless in one piece the end of a part has nothing else to bear on. Pieces that are built by themselves meet as wholes: one joint between a plinth and its case \
          is enough. Nothing is said of a part that says why it is loose, nor of one that moves past the other.",
    source: "integer geometry; a thousandth of a millimetre is allowed",
    run,
};

fn run(subject: Subject<'_>, findings: &mut Vec<Finding>) {
    let model = subject.model;
    let mut pairs = touching(subject.proof);
    pairs.sort_unstable();
    let mut told: BTreeMap<[String; 2], (usize, PartId, Over)> = BTreeMap::new();
    for (a, b, over) in pairs {
        told.entry([model.full_name(a), model.full_name(b)]).or_insert((0, b, over)).0 += 1;
    }
    let print = model.printing;
    for ([a, b], (count, part, over)) in told {
        if findings.len() >= MOST {
            return;
        }
        let often = if count > 1 { format!(", {count} times") } else { String::new() };
        let over = over.map(|(axis, size)| format!("{} {}", print.length(size), axis.run_name())).join(" and ");
        findings.push(
            Finding::note(
                CHECK.code,
                format!("`{a}` lies against `{b}` over {over}, and no joint is asked for between them{often}"),
            )
            .at(model.part(part).at.clone())
            .hint("hold it there with `butt`, or leave it as it is where others hold both")
            .source(CHECK.source),
        );
    }
}

/// The two sizes of the rectangle over which two parts touch.
type Over = [(Axis, Length); 2];

/// Pairs of parts that touch, stand still or move together, and have no joint.
fn touching(proof: &Proved<'_>) -> Vec<(PartId, PartId, Over)> {
    let model = proof.model;
    let skin = Length::SAME_SIZE;
    let grown = |solid: &Solid| Solid::new(solid.low.map(|at| at - skin), solid.high.map(|at| at + skin));
    let mut joined: BTreeSet<(PartId, PartId)> = model
        .joints
        .iter()
        .flat_map(|joint| joint.into.iter().map(|&into| (joint.member.min(into), joint.member.max(into))))
        .collect();
    // What rests on a cleat is carried there, and so at the upright that the cleat is fixed to.
    for (load, on) in model.holds.iter().filter_map(|hold| Some((hold.part, hold.to?))) {
        if joined.insert((load.min(on), load.max(on))) {
            let fixed = model.joints.iter().filter(|joint| joint.member == on).flat_map(|joint| &joint.into);
            joined.extend(fixed.map(|&upright| (load.min(upright), load.max(upright))).collect::<Vec<_>>());
        }
    }
    let mut moved_by: Vec<Vec<usize>> = vec![Vec::new(); model.parts.len()];
    for (motion, body) in proof.bodies().iter().enumerate() {
        for part in &body.parts {
            moved_by[part.0 as usize].push(motion);
        }
    }
    let mut beside: Vec<Vec<PartId>> = vec![Vec::new(); model.parts.len()];
    for &(a, b) in &joined {
        beside[a.0 as usize].push(b);
        beside[b.0 as usize].push(a);
    }
    let piece = |part: PartId| model.part(part).piece;
    let pieces: BTreeSet<(PieceId, PieceId)> = joined
        .iter()
        .flat_map(|&(a, b)| [(piece(a), piece(b)), (piece(b), piece(a))])
        .filter(|(a, b)| a != b)
        .collect();
    let material = proof.material();
    let ids: Vec<PartId> = model.part_ids().map(|(id, _)| id).collect();
    let index = Index::new(model.parts.iter().map(|part| grown(&part.solid)).collect());
    let mut found = Vec::new();
    index.pairs(|a, b| {
        let (one, other) = (model.parts[a].piece, model.parts[b].piece);
        let is_loose = model.parts[a].loose.is_some() || model.parts[b].loose.is_some();
        let is_joined = joined.contains(&(ids[a], ids[b]));
        let is_held = beside[a].iter().any(|part| beside[b].contains(part));
        if is_loose || is_joined || pieces.contains(&(one, other)) || moved_by[a] != moved_by[b] {
            return;
        }
        // A back that holds sides and shelf does not carry the shelf at its ends.
        let [first, second] = [a, b].map(|at| model.parts[at].length_axis());
        let counts = |axis: Axis| !is_held || (one == other && (axis == first || axis == second));
        let lie = |one: &Solid, other: &Solid| {
            let axis = meeting(one, other).filter(|axis| counts(*axis))?;
            Some(axis.others().map(|axis| (axis, shared(one, other, axis))))
        };
        // Of parts that touch in several places the largest is told.
        let places =
            material.solids[a].iter().flat_map(|one| material.solids[b].iter().filter_map(|other| lie(one, other)));
        let area = |over: &Over| over.iter().map(|(_, size)| i128::from(size.nm())).product::<i128>();
        if let Some(over) = places.max_by_key(area) {
            found.push((ids[a], ids[b], over));
        }
    });
    found
}

/// Across which axis two cuboids touch with a face: an edge or a corner is no face.
fn meeting(a: &Solid, b: &Solid) -> Option<Axis> {
    Axis::ALL.into_iter().find(|&axis| {
        let meets = [axis.low(), axis.high()].into_iter().any(|face| a.face(face).same_size(b.face(face.opposite())));
        meets && axis.others().into_iter().all(|other| shared(a, b, other) > Length::SAME_SIZE)
    })
}

/// How far two cuboids lie beside each other along an axis.
fn shared(a: &Solid, b: &Solid, axis: Axis) -> Length {
    a.face(axis.high()).min(b.face(axis.high())) - a.face(axis.low()).max(b.face(axis.low()))
}

#[cfg(test)]
mod tests {
    use super::super::bench::{add, found, job, join, sheet};
    use super::*;
    use crate::model::{Model, Options};

    /// Two sides with a shelf between them that is joined to the left one only, so many micrometres short of the right one.
    fn shelf(short: i64, back: bool, loose: bool) -> Vec<Finding> {
        let mut model = job();
        let ply = sheet(12);
        let left = add(&mut model, Model::ROOT, "left side", &ply, [0, 0, 0], [12, 160, 320]);
        let right = add(&mut model, Model::ROOT, "right side", &ply, [300, 0, 0], [312, 160, 320]);
        let shelf = add(&mut model, Model::ROOT, "shelf", &ply, [12, 0, 100], [300, 160, 112]);
        model.part_mut(shelf).placed.high[0] -= Length::from_um(short);
        model.part_mut(shelf).loose = loose.then(|| "a test".to_owned());
        join(&mut model, "dado", shelf, &[left], Options::new());
        if back {
            let back = add(&mut model, Model::ROOT, "back", &sheet(4), [0, 160, 0], [312, 164, 320]);
            join(&mut model, "butt", back, &[left, right, shelf], Options::new());
        }
        found(model, &CHECK)
    }

    #[test]
    fn a_forgotten_joint_is_told_where_parts_touch() {
        // A thousandth of a millimetre counts as touching, two do not.
        assert_eq!([0, 1, 2].map(|short| shelf(short, false, false).len()), [1, 1, 0]);
        let told = &shelf(0, false, false)[0];
        assert!(told.message.starts_with("`right side` lies against `shelf` over "), "{told}");
    }

    #[test]
    fn what_a_third_part_holds_or_is_loose_is_not_told() {
        // A back holds both, and yet nothing carries the shelf at its right end.
        assert_eq!(shelf(0, true, false).len(), 1);
        // A stiffener lies flat on the side, and the back holds both.
        let mut model = job();
        let ply = sheet(12);
        let side = add(&mut model, Model::ROOT, "side", &ply, [0, 0, 0], [12, 160, 320]);
        let flat = add(&mut model, Model::ROOT, "stiffener", &ply, [12, 0, 0], [24, 160, 320]);
        let back = add(&mut model, Model::ROOT, "back", &sheet(4), [0, 160, 0], [24, 164, 320]);
        join(&mut model, "butt", back, &[side, flat], Options::new());
        assert_eq!(found(model, &CHECK), vec![]);
        assert_eq!(shelf(0, false, true), vec![]);
    }

    #[test]
    fn what_rests_on_a_cleat_is_carried_at_its_upright() {
        // A shelf between two sides, on cleats of both or of one.
        let told = |cleats: usize| {
            let mut model = job();
            let ply = sheet(12);
            let shelf = add(&mut model, Model::ROOT, "shelf", &ply, [12, 0, 100], [300, 160, 112]);
            for (at, (low, inner)) in [(0, 12), (300, 288)].into_iter().enumerate() {
                let side = add(&mut model, Model::ROOT, "side", &ply, [low, 0, 0], [low + 12, 160, 320]);
                if at < cleats {
                    let cleat = add(&mut model, Model::ROOT, "cleat", &ply, [inner, 16, 84], [inner + 12, 144, 100]);
                    let carries = Options::new().with("carries", crate::model::Value::Parts(vec![shelf]));
                    join(&mut model, "cleat", cleat, &[side], carries);
                }
            }
            found(model, &CHECK).len()
        };
        assert_eq!([1, 2].map(told), [1, 0]);
    }

    #[test]
    fn pieces_meet_as_wholes() {
        // A case on a plinth of two rails, of which one, both or none is joined to it.
        let build = |joints: usize| {
            let mut model = job();
            let ply = sheet(12);
            let floor = add(&mut model, Model::ROOT, "floor", &ply, [0, 0, 0], [320, 160, 12]);
            let plinth = model.add_piece("plinth", None);
            model.place(plinth, Model::ROOT, [Length::ZERO; 3]);
            for (at, front) in [0, 148].into_iter().enumerate() {
                let rail = add(&mut model, plinth, "rail", &ply, [0, front, -64], [320, front + 12, 0]);
                if at < joints {
                    join(&mut model, "butt", rail, &[floor], Options::new());
                }
            }
            found(model, &CHECK).len()
        };
        // Both rails have one name, and so are told once.
        assert_eq!([0, 1, 2].map(build), [1, 0, 0]);
    }

    #[test]
    fn an_edge_is_no_face() {
        // Two blocks whose faces overlap by a thousandth, and by two.
        let build = |more: i64| {
            let mut model = job();
            let ply = sheet(12);
            add(&mut model, Model::ROOT, "a", &ply, [0, 0, 0], [12, 160, 320]);
            let other = add(&mut model, Model::ROOT, "b", &ply, [12, 160, 0], [24, 320, 320]);
            model.part_mut(other).placed.low[1] -= Length::from_um(more);
            found(model, &CHECK).len()
        };
        assert_eq!([0, 1, 2].map(build), [0, 0, 1]);
    }
}
