//! Gaps between fronts that are not alike.

use std::collections::BTreeMap;

use super::{Check, MOST, Subject};
use crate::base::{Axis, Face, Length, Solid};
use crate::diag::Finding;
use crate::model::{Front, FrontStyle, Model, OpeningId};

/// The check.
pub(super) const CHECK: Check = Check {
    code: "reveal-uneven",
    summary: "the gaps between the fronts of an opening, or round its inset fronts, are not alike",
    why: "The eye sees a gap that is half as wide again as its neighbour. Gaps above and below fronts are compared with each other, \
          and so are those beside them; of inset fronts also those to the opening. Let the gaps share what is there with `split`, \
          or say `uneven: true` where it is meant.",
    source: "common practice, no source; a thousandth of a millimetre is allowed",
    run,
};

fn run(subject: Subject<'_>, findings: &mut Vec<Finding>) {
    let model = subject.model;
    let print = model.printing;
    let mut banks: BTreeMap<OpeningId, Vec<&Front>> = BTreeMap::new();
    for front in &model.fronts {
        banks.entry(front.opening).or_default().push(front);
    }
    for (opening, fronts) in banks {
        if findings.len() >= MOST {
            return;
        }
        if model.uneven.contains(&opening) {
            continue;
        }
        for axis in [Axis::X, Axis::Z] {
            let gaps = gaps(model, &fronts, axis);
            let (Some(least), Some(most)) =
                (gaps.iter().min_by_key(|gap| gap.size), gaps.iter().max_by_key(|gap| gap.size))
            else {
                continue;
            };
            let differ = most.size - least.size;
            // Closed gaps are told as such.
            if differ <= Length::SAME_SIZE || !least.size.is_positive() {
                continue;
            }
            findings.push(
                Finding::warning(
                    CHECK.code,
                    format!(
                        "gaps of the fronts of `{}` differ by {}: {} {}, and {} {}",
                        model.opening(opening).name,
                        print.length(differ),
                        print.length(least.size),
                        least.place,
                        print.length(most.size),
                        most.place
                    ),
                )
                .at(most.of.at.clone())
                .hint("let `split` share the gaps out evenly, or say `uneven: true` in `front_of`")
                .source(CHECK.source),
            );
        }
    }
}

struct Gap<'a> {
    size: Length,
    place: String,
    of: &'a Front,
}

/// The gaps between fronts of one opening along an axis, and of inset ones those at its ends.
fn gaps<'a>(model: &Model, fronts: &[&'a Front], axis: Axis) -> Vec<Gap<'a>> {
    let solid = |front: &Front| front.solid(model);
    let mut gaps = Vec::new();
    // Many fronts in one opening are a slip that other checks tell; what is looked at in pairs ends soon.
    for (at, front) in fronts.iter().enumerate().take(MOST) {
        let own = solid(front);
        let name = front.name(model);
        let neighbour = |face: Face| {
            let beyond = fronts.iter().enumerate().filter(|(other, _)| *other != at).filter_map(|(_, other)| {
                let there = solid(other);
                let gap = gap_at(&own, &there, face);
                (gap >= Length::ZERO && abreast(&own, &there, axis)).then_some((gap, *other))
            });
            beyond.min_by_key(|(gap, _)| *gap)
        };
        if let Some((size, other)) = neighbour(axis.high()) {
            let place = format!("between `{name}` and `{}`", other.name(model));
            gaps.push(Gap { size, place, of: front });
        }
        if front.style == FrontStyle::Inset {
            let opening = model.opening(front.opening);
            for face in [axis.low(), axis.high()].into_iter().filter(|&face| neighbour(face).is_none()) {
                let inside = opening.solid.face(face) - own.face(face);
                let size = if face.is_high() { inside } else { -inside };
                gaps.push(Gap { size, place: format!("at the {} of `{name}`", face.name()), of: front });
            }
        }
    }
    gaps
}

/// How far a neighbour begins beyond a face.
fn gap_at(own: &Solid, other: &Solid, face: Face) -> Length {
    let apart = other.face(face.opposite()) - own.face(face);
    if face.is_high() { apart } else { -apart }
}

/// Whether two fronts stand in one plane and overlap as seen along the axis.
fn abreast(a: &Solid, b: &Solid, axis: Axis) -> bool {
    axis.others()
        .into_iter()
        .all(|other| a.face(other.low()) < b.face(other.high()) && b.face(other.low()) < a.face(other.high()))
}

#[cfg(test)]
mod tests {
    use super::super::bench::{add, bay, found, job, s, sheet};
    use super::*;

    /// Two inset fronts with 2/16 in all round and between them; the upper one raised by so many micrometres.
    fn bank(raised: i64, uneven: bool) -> Vec<Finding> {
        let mut model = job();
        let opening = bay(&mut model, [s(320), s(320), s(326)]);
        let ply = sheet(12);
        let lower = add(&mut model, Model::ROOT, "front", &ply, [2, 0, 2], [318, 12, 162]);
        let upper = add(&mut model, Model::ROOT, "front", &ply, [2, 0, 164], [318, 12, 324]);
        model.part_mut(upper).placed.low[2] += Length::from_um(raised);
        for part in [lower, upper] {
            model.fronts.push(Front { part, rest: vec![], opening, style: FrontStyle::Inset, at: None });
        }
        if uneven {
            model.uneven.push(opening);
        }
        found(model, &CHECK)
    }

    #[test]
    fn the_outline_of_a_framed_door_counts() {
        // An inset door of two stiles and two rails with 2/16 in all round, moved to the right by so many micrometres.
        let build = |moved: i64| {
            let mut model = job();
            let opening = bay(&mut model, [s(320), s(320), s(480)]);
            let ply = sheet(12);
            let door = model.add_piece("door", None);
            model.place(door, Model::ROOT, [Length::from_um(moved), Length::ZERO, Length::ZERO]);
            let parts = [
                ([2, 0, 2], [34, 12, 478]),
                ([286, 0, 2], [318, 12, 478]),
                ([34, 0, 2], [286, 12, 34]),
                ([34, 0, 446], [286, 12, 478]),
            ]
            .map(|(low, high)| add(&mut model, door, "stile or rail", &ply, low, high));
            let [part, rest @ ..] = parts;
            model.fronts.push(Front { part, rest: rest.to_vec(), opening, style: FrontStyle::Inset, at: None });
            found(model, &CHECK)
        };
        // What goes to the one side is missing at the other: half a thousandth makes one.
        assert_eq!((build(0).len(), build(1).len()), (0, 1));
        assert!(build(1_588)[0].message.contains("at the left of `door`"), "{:?}", build(1_588));
    }

    #[test]
    fn gaps_are_alike_to_a_thousandth() {
        assert_eq!((bank(0, false).len(), bank(1, false).len(), bank(2, false).len()), (0, 0, 1));
        let told = &bank(1_588, false)[0];
        assert!(told.message.contains("differ by 1/16\""), "{told}");
        assert_eq!(bank(1_588, true), vec![]);
    }
}
