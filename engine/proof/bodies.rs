//! What moves together: a piece with all its parts, and what is fixed to them.

use crate::base::{Axis, Length, Solid};
use crate::model::{Model, OpeningId, PartId};

/// The parts that one motion moves.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Body {
    /// Its parts, in the order of the model.
    pub parts: Vec<PartId>,
    /// A joint that holds one of its parts to one that stands still: the part that moves, and the other.
    pub fixed: Option<(PartId, PartId)>,
}

/// What each motion of a model moves, in the order of its motions.
///
/// A part that is joined to what moves, and to nothing that stands still, moves with it: the front of a drawer, the pull rail
/// of a door. What stands still is held by the room, touches the sides of the opening, or is joined to something else that moves.
pub fn bodies(model: &Model) -> Vec<Body> {
    if model.motions.is_empty() {
        return Vec::new();
    }
    let owners = owners(model);
    let joined = joined(model);
    let carried = carried(model, &owners, &joined);
    let mut bodies: Vec<Body> = vec![Body { parts: Vec::new(), fixed: None }; model.motions.len()];
    let moves = |part: PartId, motion: usize| {
        owners[part.0 as usize].contains(&motion) || carried[part.0 as usize].contains(&motion)
    };
    for (id, _) in model.part_ids() {
        for &motion in owners[id.0 as usize].iter().chain(&carried[id.0 as usize]) {
            bodies[motion].parts.push(id);
        }
    }
    for &(a, b) in &joined {
        for part in [a, b] {
            for &motion in owners[part.0 as usize].iter().chain(&carried[part.0 as usize]) {
                let other = if part == a { b } else { a };
                if !moves(other, motion) && bodies[motion].fixed.is_none() {
                    bodies[motion].fixed = Some((part, other));
                }
            }
        }
    }
    bodies
}

/// The motions whose own piece or part each part is, by part.
fn owners(model: &Model) -> Vec<Vec<usize>> {
    use std::collections::HashMap;

    use crate::model::Moving;

    let by_moving: HashMap<Moving, usize> =
        model.motions.iter().enumerate().map(|(at, motion)| (motion.moving, at)).collect();
    model
        .part_ids()
        .map(|(id, part)| {
            let pieces = std::iter::successors(Some(part.piece), |&piece| model.piece(piece).parent);
            let of_pieces = pieces.filter_map(|piece| by_moving.get(&Moving::Piece(piece)).copied());
            by_moving.get(&Moving::Part(id)).copied().into_iter().chain(of_pieces).collect()
        })
        .collect()
}

/// Pairs of parts that a joint holds rigidly together; one that lets its part turn does not.
fn joined(model: &Model) -> Vec<(PartId, PartId)> {
    let is_hinge = |at: usize| model.hinges.iter().any(|hinge| hinge.0 as usize == at);
    let rigid = model.joints.iter().enumerate().filter(|(at, _)| !is_hinge(*at)).map(|(_, joint)| joint);
    rigid.flat_map(|joint| joint.into.iter().map(|&target| (joint.member, target))).collect()
}

/// For each part that is no motion's own, the motions that it moves with.
fn carried(model: &Model, owners: &[Vec<usize>], joined: &[(PartId, PartId)]) -> Vec<Vec<usize>> {
    let count = model.parts.len();
    let mut group: Vec<usize> = (0..count).collect();
    let is_own = |part: PartId| !owners[part.0 as usize].is_empty();
    for &(a, b) in joined.iter().filter(|(a, b)| !is_own(*a) && !is_own(*b)) {
        let (a, b) = (root(&mut group, a.0 as usize), root(&mut group, b.0 as usize));
        group[a] = b;
    }
    let mut still = vec![false; count];
    for hold in model.holds.iter().filter(|hold| hold.to.is_none() && !is_own(hold.part)) {
        still[root(&mut group, hold.part.0 as usize)] = true;
    }
    // The motions by which a group is moved; all of them must agree, the innermost may be fixed in the outer one.
    let mut by: Vec<Option<Vec<usize>>> = vec![None; count];
    for &(a, b) in joined {
        let (own, other) = match (is_own(a), is_own(b)) {
            (true, false) => (a, b),
            (false, true) => (b, a),
            _ => continue,
        };
        let at = root(&mut group, other.0 as usize);
        let motions = &owners[own.0 as usize];
        by[at] = Some(match by[at].take() {
            None => motions.clone(),
            Some(known) => known.into_iter().filter(|motion| motions.contains(motion)).collect(),
        });
    }
    for (part, of) in (0..count).zip(&model.parts) {
        let at = root(&mut group, part);
        let Some(motions) = &by[at] else { continue };
        let beside = |&motion: &usize| model.motions[motion].opening.is_some_and(|id| beside(model, id, &of.solid));
        if owners[part].is_empty() && motions.iter().any(beside) {
            still[at] = true;
        }
    }
    (0..count)
        .map(|part| {
            let at = root(&mut group, part);
            if owners[part].is_empty() && !still[at] { by[at].clone().unwrap_or_default() } else { Vec::new() }
        })
        .collect()
}

/// Whether a part stands beside, under or over an opening, up to its very edge.
fn beside(model: &Model, opening: OpeningId, part: &Solid) -> bool {
    let space = model.opening(opening).solid;
    [Axis::X, Axis::Z].into_iter().any(|axis| {
        let touches = [axis.low(), axis.high()]
            .into_iter()
            .any(|face| (space.face(face) - part.face(face.opposite())).abs() <= Length::SAME_SIZE);
        touches && axis.others().into_iter().all(|other| overlap(&space, part, other))
    })
}

fn overlap(a: &Solid, b: &Solid, axis: Axis) -> bool {
    a.face(axis.low()) < b.face(axis.high()) && b.face(axis.low()) < a.face(axis.high())
}

fn root(group: &mut [usize], mut index: usize) -> usize {
    while group[index] != index {
        group[index] = group[group[index]];
        index = group[index];
    }
    index
}
