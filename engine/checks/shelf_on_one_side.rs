//! A shelf is carried at one end only.

use std::collections::{BTreeMap, BTreeSet};

use super::shelf_sag::is_called_shelf;
use super::{Check, MOST, Subject};
use crate::base::{Axis, Face, Length, Solid};
use crate::diag::Finding;
use crate::model::{Bearer, JointId, JointUse, Model, Part, PartId};
use crate::physics;

/// The check.
pub(super) const CHECK: Check = Check {
    code: "shelf-on-one-side",
    summary: "a shelf rests on pins, or is held, at one end, and nothing carries the other",
    why: "`pin_holes` takes the parts whose pins carry a shelf: both sides are named, `pin_holes([left, right], #{ shelf: shelf })`, or it is \
          called for each. With pins on one side of its middle only, and no other joint, a shelf falls as soon as it is let go. A shelf, or \
          what the recipe loads, that joints hold on one side of its middle only breaks out of them when it stands out further than it is \
          held along: a lever longer than its grip.",
    source: "plain statics",
    run,
};

fn run(subject: Subject<'_>, findings: &mut Vec<Finding>) {
    let model = subject.model;
    let mut shelves: BTreeMap<PartId, Vec<&JointUse>> = BTreeMap::new();
    // Shelves that are held in other ways, or whose pins could not be made: that is told by their joint.
    let mut beside: BTreeSet<PartId> = BTreeSet::new();
    let made: BTreeSet<JointId> = model.bearings.iter().map(|bearing| bearing.joint).collect();
    for (id, joint) in (0..).map(JointId).zip(&model.joints).filter(|(_, joint)| joint.joint == PINS) {
        for &shelf in &joint.into {
            shelves.entry(shelf).or_default().push(joint);
            if !made.contains(&id) {
                beside.insert(shelf);
            }
        }
    }
    let others = model.joints.iter().filter(|joint| joint.joint != PINS);
    beside.extend(others.flat_map(|joint| joint.into.iter().copied().chain([joint.member])));
    for (shelf, pins) in shelves.into_iter().filter(|(shelf, _)| !beside.contains(shelf)) {
        let Some((first, end_here)) = pins.iter().find_map(|joint| Some((*joint, end(model, shelf, joint.member)?)))
        else {
            continue;
        };
        if pins.iter().any(|joint| end(model, shelf, joint.member) != Some(end_here)) {
            continue;
        }
        let print = model.printing;
        let (name, side) = (model.full_name(shelf), model.full_name(first.member));
        let message = format!(
            "`{name}` rests on pins in `{side}`, at its {}, and nothing carries its {}, {} away",
            end_here.name(),
            end_here.opposite().name(),
            print.length(model.part(shelf).solid.size(end_here.axis()))
        );
        findings.push(
            Finding::warning(CHECK.code, message)
                .at(first.at.clone())
                .hint(format!(
                    "name the part at its {} too: `pin_holes([left, right], #{{ shelf: shelf }})`",
                    end_here.opposite().name()
                ))
                .source(CHECK.source),
        );
    }
    held_at_one_end(subject, findings);
}

/// Shelves, and what is loaded as one, that joints hold at one end and that stand out further than they are held along.
fn held_at_one_end(subject: Subject<'_>, findings: &mut Vec<Finding>) {
    let model = subject.model;
    let loaded: BTreeSet<PartId> = model
        .loads
        .iter()
        .filter_map(|load| if let Bearer::Part(part) = load.on { Some(part) } else { None })
        .collect();
    let drawers = physics::drawers(model);
    let in_drawer: BTreeSet<PartId> = drawers.iter().flat_map(|drawer| drawer.parts.iter().copied()).collect();
    let mut holders: BTreeMap<PartId, Vec<PartId>> = BTreeMap::new();
    for (part, to) in model.holds.iter().filter_map(|hold| Some((hold.part, hold.to?))) {
        holders.entry(part).or_default().push(to);
        holders.entry(to).or_default().push(part);
    }
    // A shelf on pins has been looked at, and one with a joint that could not be made is told by that.
    let made: BTreeSet<JointId> = model.bearings.iter().map(|bearing| bearing.joint).collect();
    let failed =
        (0..).map(JointId).zip(&model.joints).filter(|(id, joint)| joint.joint != "notch" && !made.contains(id));
    let mut beside: BTreeSet<PartId> =
        failed.flat_map(|(_, joint)| joint.into.iter().copied().chain([joint.member])).collect();
    beside.extend(model.joints.iter().filter(|joint| joint.joint == PINS).flat_map(|joint| joint.into.iter().copied()));
    for (shelf, holders) in holders.into_iter().filter(|(shelf, _)| !beside.contains(shelf)) {
        let part = model.part(shelf);
        let counts = part.thickness == Axis::Z
            && part.loose.is_none()
            && !in_drawer.contains(&shelf)
            && (loaded.contains(&shelf) || is_called_shelf(&part.name));
        // What stands on a shelf does not carry it.
        let holds = |other: &PartId| {
            model.part(*other).placed.face(Face::Bottom) < part.placed.face(Face::Top) - Length::SAME_SIZE
        };
        let holders: Vec<PartId> = holders.into_iter().filter(holds).collect();
        if findings.len() >= MOST || !counts || holders.is_empty() {
            continue;
        }
        for end in [Face::Left, Face::Right, Face::Front, Face::Back] {
            if let Some((free, along)) = stands_out(model, part, &holders, end) {
                findings.push(told_held(model, shelf, holders[0], end, [free, along]));
                break;
            }
        }
    }
}

/// How far a shelf stands out from what holds it, all of which is on one side of its middle, if that is further than it is held along; and how
/// far it is.
fn stands_out(model: &Model, shelf: &Part, holders: &[PartId], end: Face) -> Option<(Length, Length)> {
    let (axis, own) = (end.axis(), &shelf.placed);
    let across = if axis == Axis::X { Axis::Y } else { Axis::X };
    let middle = own.face(axis.low()) + own.size(axis).half();
    let beyond = |other: &Solid| {
        let reach = other.face(end.opposite());
        if end.is_high() { reach - middle } else { middle - reach }
    };
    let solids: Vec<Solid> = holders.iter().map(|&other| model.part(other).placed).collect();
    if solids.iter().any(|other| beyond(other) < Length::ZERO) {
        return None;
    }
    let free = |other: &Solid| {
        let from = own.face(end.opposite());
        let upto = other.face(end.opposite());
        let way = if end.is_high() { upto - from } else { from - upto };
        way.min(own.size(axis))
    };
    let along = |other: &Solid| {
        other.face(across.high()).min(own.face(across.high())) - other.face(across.low()).max(own.face(across.low()))
    };
    let (free, along) = (solids.iter().map(free).min()?, solids.iter().map(along).max()?);
    (free - along > Length::SAME_SIZE).then_some((free, along))
}

fn told_held(model: &Model, shelf: PartId, by: PartId, end: Face, [free, along]: [Length; 2]) -> Finding {
    let print = model.printing;
    let message = format!(
        "`{}` is held at its {} only, by `{}`, over {}; nothing carries the {} that it stands out from there",
        model.full_name(shelf),
        end.name(),
        model.full_name(by),
        print.length(along),
        print.length(free)
    );
    let hint =
        format!("join it to something at its {} too, or let it lie on a cleat or on pins there", end.opposite().name());
    Finding::warning(CHECK.code, message).at(model.part(shelf).at.clone()).hint(hint).source(CHECK.source)
}

/// The joint that carries shelves on pins.
const PINS: &str = "pin_holes";

/// The end of a shelf that a part stands at: the face that looks at it.
fn end(model: &Model, shelf: PartId, part: PartId) -> Option<Face> {
    let axis = model.part(part).thickness;
    let middle = |part: PartId| {
        let solid = &model.part(part).placed;
        solid.face(axis.low()) + solid.face(axis.high())
    };
    let off = middle(part) - middle(shelf);
    // A part in the very middle of a shelf carries both ends.
    (off.abs() > Length::SAME_SIZE * 2).then(|| if off.is_negative() { axis.low() } else { axis.high() })
}

#[cfg(test)]
mod tests {
    use super::super::bench::{add, found, job, join, sheet};
    use super::*;
    use crate::model::Options;

    #[test]
    fn a_shelf_rests_on_both_sides_or_is_held() {
        let told = |right: bool, cleat: bool| {
            let mut model = job();
            let ply = sheet(12);
            let sides = [(0, "left side"), (401, "right side")]
                .map(|(at, name)| add(&mut model, Model::ROOT, name, &ply, [at, 0, 0], [at + 12, 256, 640]));
            let shelf = add(&mut model, Model::ROOT, "shelf", &ply, [13, 0, 320], [400, 256, 332]);
            for (side, drilled) in sides.into_iter().zip([true, right]) {
                if drilled {
                    join(&mut model, "pin_holes", side, &[shelf], Options::new());
                }
            }
            if cleat {
                let back = add(&mut model, Model::ROOT, "back", &ply, [13, 256, 0], [400, 268, 640]);
                join(&mut model, "butt", shelf, &[back], Options::new());
            }
            found(model, &CHECK)
        };
        assert_eq!((told(true, false), told(false, true)), (vec![], vec![]));
        let alone = told(false, false);
        assert_eq!(alone.len(), 1, "{alone:?}");
        assert!(alone[0].message.contains("nothing carries its right, 24-3/16\" away"), "{}", alone[0]);
    }

    #[test]
    fn a_shelf_held_at_one_end_stands_out_no_further_than_it_is_held() {
        // A shelf 12 in deep in a dado of a side, and so far out of it.
        let told = |wide: Length, name: &str| {
            let mut model = job();
            let ply = sheet(12);
            let side = add(&mut model, Model::ROOT, "side", &ply, [0, 0, 0], [12, 192, 640]);
            let shelf = add(&mut model, Model::ROOT, name, &ply, [12, 0, 320], [204, 192, 332]);
            model.part_mut(shelf).placed.high[0] += wide;
            join(&mut model, "dado", shelf, &[side], Options::new());
            found(model, &CHECK)
        };
        let um = Length::from_um;
        assert_eq!([0, 1, 2].map(|more| told(um(more), "shelf").len()), [0, 0, 1]);
        let long = told(Length::from_inch(12, 1), "shelf");
        assert!(long[0].message.contains("held at its left only, by `side`, over 12\""), "{}", long[0]);
        assert_eq!(told(Length::from_inch(12, 1), "stretcher"), vec![]);
    }
}
