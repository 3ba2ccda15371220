//! How a door lies on what it hangs on: before it or beside it, and with which edge.

use super::Work;
use super::contact::gap_beyond;
use super::spread::Stretch;
use crate::base::{Axis, Face, Length, Solid};
use crate::diag::Finding;
use crate::model::{JointUse, PartId};

/// How the door lies on the part that it hangs on.
pub(super) struct Lie {
    /// The door's face that the cups go into.
    pub inside: Face,
    /// The door's edge at the hinges.
    pub edge: Face,
    /// The hinge of the catalog, without its size.
    pub hinge: &'static str,
    /// The line of the plates is measured from here.
    pub from: Length,
}

impl Lie {
    pub(super) fn is_inset(&self) -> bool {
        self.hinge == INSET
    }
}

/// Which face and edge of the door are at the hinges, and whether it is overlaid or inset.
pub(super) fn lie(work: &Work<'_>, joint: &JointUse, target: PartId) -> Result<Lie, Finding> {
    if let Some(key) = ["hinged", "lies"].into_iter().find(|key| joint.options.get(key).is_some()) {
        let message = format!("hinge: `{key}` has no effect, because the part that is named in `to` tells it");
        return Err(
            Finding::error("option-without-effect", message).hint(format!("leave `{key}` out, or leave `to` out"))
        );
    }
    let (door, case) = (work.model.part(joint.member), work.model.part(target).placed);
    let axis = door.thickness;
    let (name, case_name) = (work.model.full_name(joint.member), work.model.full_name(target));
    let print = work.printing();
    let off = |message: String, hint: &str| Err(Finding::error("door-off-hinge", message).hint(hint.to_owned()));
    if axis == Axis::Z {
        return off(
            format!("hinge: `{name}` does not stand upright beside `{case_name}`"),
            "name the upright door first, and as `to` the part that it hangs on",
        );
    }
    let across = if axis == Axis::X { Axis::Y } else { Axis::X };
    let door = door.placed;
    let middle = |solid: &Solid| solid.low[across.index()] + solid.high[across.index()];
    let edge = if middle(&case) < middle(&door) { across.low() } else { across.high() };
    let is_near = |gap: Length| gap >= -Length::SAME_SIZE && gap <= MOST_GAP;
    let covered = Stretch {
        low: door.low[across.index()].max(case.low[across.index()]),
        high: door.high[across.index()].min(case.high[across.index()]),
    };
    for inside in [axis.high(), axis.low()] {
        let gap = gap_beyond(&door, &case, inside);
        if gap < -Length::SAME_SIZE {
            continue;
        }
        if !is_near(gap) || !covered.size().is_positive() {
            return off(
                format!("hinge: `{name}` does not lie on `{case_name}`: there is {} between them", print.length(gap)),
                "place the door so that its back lies on the front of the part that it hangs on, at most 1/4 in (6.35 mm) before it",
            );
        }
        let is_full = covered.size() * 2 > case.size(across);
        let hinge = if is_full { "cup hinge, full overlay" } else { "cup hinge, half overlay" };
        return Ok(Lie { inside, edge, hinge, from: case.face(inside.opposite()) });
    }
    let gap = gap_beyond(&door, &case, edge);
    if is_near(gap) && gap <= Length::SAME_SIZE {
        return off(
            format!("hinge: the {} of `{name}` touches `{case_name}`, and an inset door turns beside it", edge.name()),
            "leave a reveal between them, 1/16 in or 2 mm: without one the door rubs and does not open",
        );
    }
    if !is_near(gap) {
        return off(
            format!("hinge: there is {} between the {} of `{name}` and `{case_name}`", print.length(gap), edge.name()),
            "an inset door stands beside the part that it hangs on, with a reveal of at most 1/4 in (6.35 mm)",
        );
    }
    let beyond = |face: Face| (case.face(face) - door.face(face)) * if face.is_high() { 1 } else { -1 };
    let inside = if beyond(axis.high()) >= beyond(axis.low()) { axis.high() } else { axis.low() };
    Ok(Lie { inside, edge, hinge: INSET, from: door.face(inside) })
}

/// How a door lies on a case that is not drawn: as the recipe says.
pub(super) fn lie_alone(work: &Work<'_>, joint: &JointUse) -> Result<Lie, Finding> {
    let door = work.model.part(joint.member);
    let name = work.model.full_name(joint.member);
    if door.thickness == Axis::Z {
        return Err(Finding::error("door-off-hinge", format!("hinge: `{name}` lies flat; a door stands upright"))
            .hint("name the upright door first, and as `to` the part that it hangs on"));
    }
    let across = if door.thickness == Axis::X { Axis::Y } else { Axis::X };
    let Some(edge) = joint.options.face("hinged").filter(|face| face.axis() == across) else {
        return Err(Finding::error(
            "door-off-hinge",
            format!("hinge: nothing tells the edge of `{name}` that it hangs by"),
        )
        .hint(format!(
            "name what it hangs on with `to`, or write `hinged: \"{}\"` or `hinged: \"{}\"`",
            across.low().name(),
            across.high().name()
        )));
    };
    let inside = door.show.map_or(door.thickness.high(), Face::opposite);
    let hinge = match joint.options.text("lies") {
        Some("half overlay") => "cup hinge, half overlay",
        Some("inset") => INSET,
        _ => "cup hinge, full overlay",
    };
    Ok(Lie { inside, edge, hinge, from: door.placed.face(inside) })
}

/// The hinge of a door that stands beside what it hangs on.
const INSET: &str = "cup hinge, inset";
// Common practice, no source: a bumper behind an overlaid door, a reveal beside an inset one.
const MOST_GAP: Length = Length::from_inch(1, 4);
