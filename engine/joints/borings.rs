//! The borings of a cup hinge: its sizes, what they ask of the door and its case, and where each stands.

use super::hung::Lie;
use super::{ByUnit, Work, tongue};
use crate::base::{Axis, Face, Length, Solid};
use crate::diag::Finding;
use crate::model::{JointUse, PartId};

/// The sizes of a hinge.
pub(super) struct Sizes {
    pub cup: Length,
    pub cup_depth: Length,
    pub cup_distance: Length,
    pub cup_screws: Length,
    pub cup_screw_offset: Length,
    pub plate_distance: Length,
    pub plate_screws: Length,
    pub plate_hole: Length,
    pub plate_depth: Length,
}

pub(super) fn sizes(work: &Work<'_>, joint: &JointUse) -> Result<Sizes, Finding> {
    let size = |option, usual| tongue::positive(work, joint, option, usual);
    Ok(Sizes {
        cup: size("cup", CUP)?,
        cup_depth: size("cup_depth", work.usual(CUP_DEPTH))?,
        cup_distance: size("cup_distance", CUP_DISTANCE)?,
        cup_screws: size("cup_screws", CUP_SCREWS)?,
        cup_screw_offset: size("cup_screw_offset", CUP_SCREW_OFFSET)?,
        plate_distance: size("plate_distance", PLATE_DISTANCE)?,
        plate_screws: size("plate_screws", PLATE_SCREWS)?,
        plate_hole: size("plate_hole", PLATE_HOLE)?,
        plate_depth: size("plate_depth", PLATE_DEPTH)?,
    })
}

// Common practice, no source, all of them: the hinge maker's sheet goes before them.
pub(super) const CUP: Length = Length::from_mm(35);
const CUP_DEPTH: ByUnit = ByUnit::new((1, 2), 13_000);
const CUP_DISTANCE: Length = Length::from_mm(5);
const CUP_SCREWS: Length = Length::from_mm(45);
const CUP_SCREW_OFFSET: Length = Length::from_um(9_500);
const CUP_SCREW_HOLE: Length = Length::from_um(2_500);
const CUP_SCREW_DEPTH: Length = Length::from_mm(10);
const PLATE_DISTANCE: Length = Length::from_mm(37);
const PLATE_SCREWS: Length = Length::from_mm(32);
const PLATE_HOLE: Length = Length::from_mm(5);
const PLATE_DEPTH: Length = Length::from_mm(12);
// Common practice, no source: less under a cup shows on the face of the door.
const SKIN: Length = Length::from_mm(2);
// Common practice, no source: less wood beside a cup breaks out.
pub(super) const WALL: Length = Length::from_mm(3);

pub(super) type Boring = (&'static str, PartId, Length, Solid, Face);

/// Everything that is bored for the hinge at a height.
pub(super) fn borings(
    (member, door): (PartId, &Solid),
    case: Option<&(PartId, Solid)>,
    lie: &Lie,
    sizes: &Sizes,
    at: Length,
) -> Vec<Boring> {
    let inwards = lie.edge.opposite();
    let into = |solid: &Solid, face: Face, middles: [(Axis, Length); 2], diameter: Length, depth: Length| {
        let mut hole = *solid;
        for (axis, middle) in middles {
            hole.low[axis.index()] = middle - diameter.half();
            hole.high[axis.index()] = middle + (diameter - diameter.half());
        }
        hole.set_face(face.opposite(), solid.face(face));
        hole.grown(face.opposite(), depth)
    };
    let from_edge = |distance: Length| {
        let edge = door.face(lie.edge);
        if inwards.is_high() { edge + distance } else { edge - distance }
    };
    let across = lie.edge.axis();
    let middle = sizes.cup_distance + sizes.cup.half();
    let cup = into(door, lie.inside, [(across, from_edge(middle)), (Axis::Z, at)], sizes.cup, sizes.cup_depth);
    let mut all = vec![("hinge cup", member, sizes.cup, cup, lie.inside)];
    let screw_line = from_edge(middle + sizes.cup_screw_offset);
    let plates = lie.from + sizes.plate_distance * if lie.inside.is_high() { 1 } else { -1 };
    for way in [-1, 1] {
        let height = at + sizes.cup_screws.half() * way;
        let screw = into(door, lie.inside, [(across, screw_line), (Axis::Z, height)], CUP_SCREW_HOLE, CUP_SCREW_DEPTH);
        all.push(("cup screw hole", member, CUP_SCREW_HOLE, screw, lie.inside));
        let Some((target, case)) = case else { continue };
        let height = at + sizes.plate_screws.half() * way;
        let middles = [(lie.inside.axis(), plates), (Axis::Z, height)];
        let plate = into(case, inwards, middles, sizes.plate_hole, sizes.plate_depth);
        all.push(("plate hole", *target, sizes.plate_hole, plate, inwards));
    }
    all
}

/// Refuses a door that the cups would come through or break out of.
pub(super) fn refuse_door(work: &Work<'_>, joint: &JointUse, lie: &Lie, sizes: &Sizes) -> Result<(), Finding> {
    let print = work.printing();
    let door = work.model.part(joint.member);
    let name = work.model.full_name(joint.member);
    let thick = door.placed.size(door.thickness);
    let deepest = sizes.cup_depth.max(CUP_SCREW_DEPTH);
    if deepest > thick - SKIN {
        return Err(Finding::error(
            "cup-comes-through",
            format!(
                "hinge: cups {} deep leave only {} of `{name}`, which is {} thick, and show on its face",
                print.length(deepest),
                print.length((thick - deepest).max(Length::ZERO)),
                print.length(thick)
            ),
        )
        .hint(format!(
            "keep {} behind them: use a thicker door, or hinges with shallower cups (`cup_depth`)",
            print.length(SKIN)
        )));
    }
    let wide = door.placed.size(lie.edge.axis());
    let inner = sizes.cup_distance + sizes.cup.max(sizes.cup.half() + sizes.cup_screw_offset + CUP_SCREW_HOLE);
    if sizes.cup_distance < WALL || inner > wide - WALL {
        return Err(Finding::error(
            "cup-beside-stile",
            format!(
                "hinge: cups of {}, {} from the edge, take {} of `{name}`, which is {} wide there",
                print.length(sizes.cup),
                print.length(sizes.cup_distance),
                print.length(inner),
                print.length(wide)
            ),
        )
        .hint(format!(
            "keep {} of wood on both sides of a cup: use a wider stile, or another `cup_distance`",
            print.length(WALL)
        )));
    }
    Ok(())
}

pub(super) fn off_case(work: &Work<'_>, target: PartId, sizes: &Sizes) -> Finding {
    let print = work.printing();
    Finding::error(
        "plate-misses-case",
        format!(
            "hinge: holes for a plate, {} back and {} deep, do not lie within `{}`",
            print.length(sizes.plate_distance),
            print.length(sizes.plate_depth),
            work.model.full_name(target)
        ),
    )
    .hint("hang the door on a part that reaches behind it over its whole height, or give the `plate_distance` and `plate_depth` of the hinge maker's sheet")
}
