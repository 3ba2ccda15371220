//! What a joint states about the faces that it lays against one another.

use super::Work;
use crate::base::{Face, Length, Solid};
use crate::model::{Bearing, JointId, Lies, PartId};

/// What goes into a cut: a tongue of one part, in another.
#[derive(Clone, Copy)]
pub(super) struct Housed {
    /// The trade's word for it.
    pub what: &'static str,
    /// The part that it belongs to.
    pub of: PartId,
    /// The part with the cut.
    pub into: PartId,
    /// As much of it as is in the cut.
    pub tongue: Solid,
}

/// States that a tongue bears on its cut with each of these faces, or stands before it with the room that is between both.
pub(super) fn housed(work: &mut Work<'_>, id: JointId, housed: Housed, cut: &Solid, faces: &[Face]) {
    for &face in faces {
        let room = cut.face(face) - housed.tongue.face(face);
        let room = if face.is_high() { room } else { -room };
        let mut area = housed.tongue;
        area.set_face(face.opposite(), area.face(face));
        lies_on(work, id, (housed.what, housed.of, housed.into), (face, area), room);
    }
}

/// States that a face of a part lies on another part, or before it with some room.
pub(super) fn lies_on(
    work: &mut Work<'_>,
    id: JointId,
    named: (&'static str, PartId, PartId),
    (face, area): (Face, Solid),
    room: Length,
) {
    state(work, id, named, (face, area, Lies::Flat), room);
}

/// States that a slope of a part lies on that of another. It looks two ways, and runs through the cuboid from edge to edge.
pub(super) fn slopes_on(
    work: &mut Work<'_>,
    id: JointId,
    named: (&'static str, PartId, PartId),
    [face, leans]: [Face; 2],
    area: Solid,
) {
    state(work, id, named, (face, area, Lies::Slope { leans }), Length::ZERO);
}

/// States that a face of a part lies on a pin, which stands so far out of a hole so deep.
pub(super) fn lies_on_pin(
    work: &mut Work<'_>,
    id: JointId,
    named: (&'static str, PartId, PartId),
    (face, area): (Face, Solid),
    [deep, out]: [Length; 2],
) {
    state(work, id, named, (face, area, Lies::Pin { deep, out }), Length::ZERO);
}

fn state(
    work: &mut Work<'_>,
    id: JointId,
    (what, part, against): (&'static str, PartId, PartId),
    (face, area, lies): (Face, Solid, Lies),
    room: Length,
) {
    let is_there = face.axis().others().into_iter().all(|axis| area.size(axis).is_positive());
    if is_there {
        work.model.bearings.push(Bearing { what, part, against, face, area, lies, room, joint: id });
    }
}
