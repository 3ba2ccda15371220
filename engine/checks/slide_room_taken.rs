//! Something stands where a drawer's slides are to lie.

use super::{Check, Hung, MOST, Subject};
use crate::base::{Axis, Face, Length, Solid};
use crate::diag::Finding;
use crate::model::{Moving, PartId};
use crate::proof::index::Index;

/// The check.
pub(super) const CHECK: Check = Check {
    code: "slide-room-taken",
    summary: "something stands between a drawer box and the side of its opening, where its slides are to lie",
    why: "Between the box and each side of its opening slides take up all of the room that is left there, over their length and the \
          height of their member. A strip or a side that is drawn into that room, as when an opening is drawn wider than the case \
          round it, keeps them out, though nothing is in the way of the box itself. Runners that are made in the shop are parts of their own, \
          and are not looked at.",
    source: "integer geometry; a thousandth of a millimetre is allowed",
    run,
};

fn run(subject: Subject<'_>, findings: &mut Vec<Finding>) {
    let model = subject.model;
    let print = model.printing;
    let material = subject.proof.material();
    let mut index = None;
    for Hung { used, fit, bounds, opening, name } in subject.hung() {
        if fit.slides.lengths.is_empty() || !fit.slides.height.is_positive() || findings.len() >= MOST {
            continue;
        }
        let index = index.get_or_insert_with(|| Index::new(model.parts.iter().map(|part| part.solid).collect()));
        let moving = Moving::Piece(fit.carries);
        let body = model.motions.iter().zip(subject.proof.bodies()).find(|(motion, _)| motion.moving == moving);
        let moves = |part: PartId| {
            model.is_of(part, moving) || body.as_ref().is_some_and(|(_, body)| body.parts.binary_search(&part).is_ok())
        };
        for side in [Face::Left, Face::Right] {
            let Some(room) = beside(&bounds, &opening.solid, side, fit.slides.clearance + fit.slides.slack * 2) else {
                continue;
            };
            let mut there: Vec<(PartId, Solid)> = Vec::new();
            index.any(&room, |at| {
                let part = PartId(u32::try_from(at).unwrap_or(u32::MAX));
                if !moves(part) {
                    let solids = material.solids[at].iter().filter_map(|solid| solid.overlap(&room));
                    there.extend(solids.filter(fills).map(|both| (part, both)));
                }
                false
            });
            let high = fit.slides.height.min(bounds.size(Axis::Z));
            let free = free_height(&room, there.iter().map(|(_, solid)| solid));
            let widest = there.iter().max_by_key(|(part, solid)| (solid.size(Axis::X), std::cmp::Reverse(*part)));
            if let Some((part, solid)) = widest.filter(|_| high - free > Length::SAME_SIZE) {
                let message = format!(
                    "`{}` takes {} of the {} that the slides of `{name}` need at its {}, and leaves {} of height free for their {}",
                    model.full_name(*part),
                    print.length(solid.size(Axis::X)),
                    print.length(room.size(Axis::X)),
                    side.name(),
                    print.length(free),
                    print.length(high)
                );
                let hint = format!(
                    "move `{}` {} to the {}, or draw `{}` as wide as it is between what stands beside it, and the box by that",
                    model.full_name(*part),
                    print.length(solid.size(Axis::X)),
                    side.name(),
                    opening.name
                );
                findings.push(Finding::error(CHECK.code, message).at(used.at.clone()).hint(hint).source(CHECK.source));
            }
        }
    }
}

/// The room between a box and the side of its opening, over as much of its depth and height as both have. A box that is placed further away
/// than its slides are wide is told by its own check.
fn beside(bounds: &Solid, opening: &Solid, side: Face, most: Length) -> Option<Solid> {
    let mut room = *bounds;
    for axis in [Axis::Y, Axis::Z] {
        room.low[axis.index()] = room.low[axis.index()].max(opening.low[axis.index()]);
        room.high[axis.index()] = room.high[axis.index()].min(opening.high[axis.index()]);
    }
    room.set_face(side.opposite(), bounds.face(side));
    room.set_face(side, opening.face(side));
    (!room.is_empty() && room.size(Axis::X) <= most + Length::SAME_SIZE).then_some(room)
}

/// Whether what is there is more than a skin.
fn fills(solid: &Solid) -> bool {
    Axis::ALL.into_iter().all(|axis| solid.size(axis) > Length::SAME_SIZE)
}

/// The greatest height of a room that nothing stands in.
fn free_height<'a>(room: &Solid, there: impl Iterator<Item = &'a Solid>) -> Length {
    let (low, high) = (room.face(Face::Bottom), room.face(Face::Top));
    let mut taken: Vec<(Length, Length)> =
        there.map(|solid| (solid.face(Face::Bottom), solid.face(Face::Top))).collect();
    taken.sort_unstable();
    let mut free = Length::ZERO;
    let mut upto = low;
    for (from, to) in taken.into_iter().chain([(high, high)]) {
        free = free.max(from - upto);
        upto = upto.max(to);
    }
    free
}

#[cfg(test)]
mod tests {
    use super::super::bench::{add, bay, found, hang, job, s, sheet, slides};
    use super::*;
    use crate::model::Model;

    /// A box 23 in wide and 4 in high in an opening of 24 in, on slides 1-3/4 in high, and a strip 1/4 in thick on the left side of the
    /// opening from so far up.
    fn strip(up: i64, more: Length) -> Vec<Finding> {
        let mut model = job();
        let drawer = model.add_piece("drawer", None);
        model.place(drawer, Model::ROOT, [s(8), Length::ZERO, Length::ZERO]);
        add(&mut model, drawer, "front", &sheet(8), [0, 0, 0], [368, 320, 64]);
        let strip = add(&mut model, Model::ROOT, "strip", &sheet(4), [0, 0, up], [4, 320, 64]);
        model.part_mut(strip).placed.low[2] -= more;
        let opening = bay(&mut model, [s(384), s(352), s(80)]);
        hang(&mut model, drawer, opening, slides());
        found(model, &CHECK)
    }

    #[test]
    fn slides_need_their_height_beside_the_box() {
        // Slides 28/16 in high stand under a strip that begins there, and not under one a thousandth and a bit lower.
        let um = Length::from_um;
        assert_eq!([um(0), um(1), um(2)].map(|more| strip(28, more).len()), [0, 0, 1]);
        let told = &strip(0, um(0))[0];
        assert!(told.message.contains("`strip` takes 1/4\" of the 1/2\""), "{told}");
    }

    #[test]
    fn an_opening_wider_than_its_case_is_told_at_both_sides() {
        // Sides that stand so many micrometres in the opening.
        let build = |into: i64| {
            let mut model = job();
            let drawer = model.add_piece("drawer", None);
            model.place(drawer, Model::ROOT, [s(8), Length::ZERO, Length::ZERO]);
            add(&mut model, drawer, "front", &sheet(8), [0, 0, 0], [368, 320, 64]);
            for (low, at) in [(-12, 1), (384, -1)] {
                let side = add(&mut model, Model::ROOT, "side", &sheet(12), [low, 0, 0], [low + 12, 352, 80]);
                let placed = &mut model.part_mut(side).placed;
                *placed = placed.shifted([Length::from_um(into * at), Length::ZERO, Length::ZERO]);
            }
            let opening = bay(&mut model, [s(384), s(352), s(80)]);
            hang(&mut model, drawer, opening, slides());
            found(model, &CHECK).len()
        };
        assert_eq!([0, 1, 2].map(build), [0, 0, 2]);
    }
}
