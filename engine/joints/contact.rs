//! Where two parts meet.

use super::Work;
use crate::base::{Axis, Face, Length, Solid};
use crate::diag::Finding;
use crate::model::{Model, PartId};

/// The rectangle in which a member's face meets a target.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Contact {
    /// The member's face that looks at the target.
    pub face: Face,
    /// Where both touch: as the member along the face's axis it has no size.
    pub area: Solid,
}

impl Contact {
    /// The area of the contact in square millimetres, rounded down.
    pub fn square_mm(&self) -> i64 {
        let [a, b] = self.face.axis().others();
        square_mm(self.area.size(a), self.area.size(b))
    }
}

/// The area of a rectangle in square millimetres, rounded down.
pub(super) fn square_mm(a: Length, b: Length) -> i64 {
    i64::try_from(i128::from(a.nm()) * i128::from(b.nm()) / 1_000_000_000_000).unwrap_or(i64::MAX)
}

/// Finds where `member` touches `target`, as both were placed.
///
/// # Errors
/// The parts do not touch, or they share space already; the finding says by how much.
pub fn contact(work: &Work<'_>, joint: &str, member: PartId, target: PartId) -> Result<Contact, Finding> {
    let (a, b) = (work.model.part(member).placed, work.model.part(target).placed);
    for face in Face::ALL {
        let gap = gap_beyond(&a, &b, face);
        if gap.abs() > Length::SAME_SIZE {
            continue;
        }
        let mut area = a;
        let mut beside = true;
        for axis in face.axis().others() {
            area.low[axis.index()] = a.low[axis.index()].max(b.low[axis.index()]);
            area.high[axis.index()] = a.high[axis.index()].min(b.high[axis.index()]);
            beside &= area.size(axis).is_positive();
        }
        if beside {
            area.set_face(face.opposite(), a.face(face));
            return Ok(Contact { face, area });
        }
    }
    Err(apart(work.model, joint, member, target))
}

/// The distance from a face of `a` outwards to `b`; negative when `b` begins before the face.
pub(super) fn gap_beyond(a: &Solid, b: &Solid, face: Face) -> Length {
    let distance = b.face(face.opposite()) - a.face(face);
    if face.is_high() { distance } else { -distance }
}

fn apart(model: &Model, joint: &str, member: PartId, target: PartId) -> Finding {
    let (a, b) = (model.part(member).placed, model.part(target).placed);
    let (member, target) = (model.full_name(member), model.full_name(target));
    let print = model.printing;
    if let Some(both) = a.overlap(&b) {
        let (size, axis) =
            Axis::ALL.map(|axis| (both.size(axis), axis)).into_iter().min().unwrap_or((Length::ZERO, Axis::X));
        return Finding::error(
            "joint-needs-contact",
            format!(
                "{joint}: `{member}` already reaches {} into `{target}` {}, so there is no face to joint",
                print.length(size),
                axis.run_name()
            ),
        )
        .hint("place parts by what is seen: up to the face of the other part; the joint adds what goes into it");
    }
    let (gap, face) =
        Face::ALL.map(|face| (gap_beyond(&a, &b, face), face)).into_iter().max().unwrap_or((Length::ZERO, Face::Left));
    Finding::error(
        "joint-needs-contact",
        format!(
            "{joint}: `{member}` does not touch `{target}`; there is {} between its {} and `{target}`",
            print.length(gap),
            face.name()
        ),
    )
    .hint("place both so that they meet face to face; the joint adds what goes into the other part")
}
