//! Which parts make up the outside size of a piece: a chain of parts that touch, from one side to the other.

use super::Term;
use super::find::{cut_off, depth_off, thickness_off};
use crate::base::{Axis, Length, Solid};
use crate::model::{Model, Part, PartId, PieceId, Shape, Shop};

/// What goes into the outside size of a piece along an axis, each as often as it makes the piece larger. Empty when no chain of
/// touching parts reaches from one side to the other.
pub(super) fn across(model: &Model, shop: &Shop, piece: PieceId, axis: Axis) -> Vec<Term> {
    let parts: Vec<PartId> = model.parts_of(piece).map(|(id, _)| id).collect();
    of_parts(model, shop, &parts, axis)
}

/// The same, of parts that make a frame: two that are mitred at both ends reach from point to point by themselves, and a panel that
/// floats in grooves sets no size.
pub(super) fn of_frame(model: &Model, shop: &Shop, parts: &[PartId], axis: Axis) -> Vec<Term> {
    let whole = parts.iter().map(|&id| model.part(id).solid).reduce(|a, b| a.hull(&b));
    let spans = |part: &Part| {
        let is_mitred =
            |end| part.features.iter().any(|cut| matches!(cut.shape, Shape::Bevel { end: at, .. } if at == end));
        whole.is_some_and(|whole| part.solid.size(axis).same_size(whole.size(axis)))
            && is_mitred(axis.low())
            && is_mitred(axis.high())
    };
    if let Some(part) = parts.iter().map(|&id| model.part(id)).find(|part| spans(part)) {
        return vec![cut_off(shop, &part.name, 1)];
    }
    let floats = |id: &PartId| model.joints.iter().any(|joint| joint.member == *id && joint.joint == "groove");
    let stiff: Vec<PartId> = parts.iter().copied().filter(|id| !floats(id)).collect();
    of_parts(model, shop, &stiff, axis)
}

fn of_parts(model: &Model, shop: &Shop, parts: &[PartId], axis: Axis) -> Vec<Term> {
    let mut terms: Vec<Term> = Vec::new();
    let Some(chain) = shortest(model, parts, axis) else { return terms };
    for (place, &id) in chain.iter().enumerate() {
        let part = model.part(id);
        if part.thickness == axis {
            let term = thickness_off(&part.stock, 1);
            match terms.iter_mut().find(|known| known.of == term.of) {
                Some(known) => known.times += 1,
                None => terms.push(term),
            }
        } else {
            terms.push(cut_off(shop, &part.name, 1));
        }
        if let Some(&next) = chain.get(place + 1)
            && seated(model, id, next, axis)
        {
            let shallow = if part.thickness == axis { id } else { next };
            terms.push(depth_off(shop, &model.part(shallow).name, -1));
        }
    }
    terms
}

/// The shortest chain of touching parts, the first at the low side and the last at the high side.
fn shortest(model: &Model, parts: &[PartId], axis: Axis) -> Option<Vec<PartId>> {
    let (low, high) = (axis.low(), axis.high());
    let parts: Vec<(PartId, Solid)> = parts.iter().map(|&id| (id, model.part(id).placed)).collect();
    let ends = parts.iter().map(|(_, solid)| (solid.face(low), solid.face(high)));
    let (from, to) = ends.reduce(|a, b| (a.0.min(b.0), a.1.max(b.1)))?;
    let mut before: Vec<Option<usize>> = vec![None; parts.len()];
    let mut reached: Vec<usize> = (0..parts.len()).filter(|&i| parts[i].1.face(low).same_size(from)).collect();
    let mut known: Vec<bool> = (0..parts.len()).map(|i| reached.contains(&i)).collect();
    let mut next = 0;
    while let Some(&at) = reached.get(next) {
        next += 1;
        let (_, solid) = parts[at];
        if solid.face(high).same_size(to) {
            let chain = std::iter::successors(Some(at), |&i| before[i]).map(|i| parts[i].0);
            let mut chain: Vec<PartId> = chain.collect();
            chain.reverse();
            return Some(chain);
        }
        for (i, (_, other)) in parts.iter().enumerate() {
            if !known[i] && other.face(low).same_size(solid.face(high)) && beside(&solid, other, axis) {
                known[i] = true;
                before[i] = Some(at);
                reached.push(i);
            }
        }
    }
    None
}

/// Whether two solids stand in each other's way along an axis.
fn beside(a: &Solid, b: &Solid, axis: Axis) -> bool {
    axis.others().into_iter().all(|other| {
        let (low, high) = (other.low(), other.high());
        a.face(high).min(b.face(high)) - a.face(low).max(b.face(low)) > Length::SAME_SIZE
    })
}

/// Whether one of two neighbours is seated on the floor of a cut in the other, so that the depth of the cut counts.
fn seated(model: &Model, a: PartId, b: PartId, axis: Axis) -> bool {
    let floor = |member: PartId, target: PartId| {
        let solid = model.part(member).solid;
        model.part(target).features.iter().any(|feature| {
            let joint = model.joints.get(feature.joint.0 as usize);
            matches!(feature.shape, Shape::Channel { .. } | Shape::Step { .. })
                && feature.face.axis() == axis
                && joint.is_some_and(|joint| joint.member == member)
                && feature.solid.face(feature.face.opposite()).same_size(solid.face(feature.face.opposite()))
        })
    };
    floor(a, b) || floor(b, a)
}
