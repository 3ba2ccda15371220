//! What joints at a corner share: box joint and dovetail the corner where the end of the member meets the end of the target, half-lap
//! and mitre the place where one crosses the other.

use super::contact::{Contact, contact};
use super::{Work, tongue};
use crate::base::{Axis, Face, Length, Solid};
use crate::diag::Finding;
use crate::joints::spread::Stretch;
use crate::model::{JointUse, PartId};

// Common practice, no source: thinner fingers and pins break out of ply and solid wood alike.
pub(super) const LEAST_FINGER: Length = Length::from_inch(1, 8);

/// A corner of two parts.
#[derive(Clone, Copy)]
pub(super) struct Corner {
    /// The member's end that looks at the target.
    pub face: Face,
    /// The end of the target that is flush with the member.
    pub end: Face,
    /// The axis along the corner.
    pub run: Axis,
    /// Where the corner lies along it.
    pub on: Stretch,
}

/// Where the member crosses a target: as both were placed, or once the member has grown across the whole of it.
#[derive(Clone, Copy)]
pub(super) struct Crossing {
    /// Where the member was placed up to the target; none where both cross as they were placed.
    pub touch: Option<Contact>,
    /// The member with what it grows.
    pub whole: Solid,
    /// What both share.
    pub shared: Solid,
}

impl Crossing {
    /// The face at which the member grows, and by how much.
    pub(super) fn reach(&self, work: &Work<'_>, target: PartId) -> Option<(Face, Length)> {
        self.touch.map(|touch| (touch.face, work.model.part(target).placed.size(touch.face.axis())))
    }
}

/// Finds where the member crosses a target.
pub(super) fn crossing(work: &Work<'_>, joint: &JointUse, target: PartId) -> Result<Crossing, Finding> {
    let (member, part) = (work.model.part(joint.member).placed, work.model.part(target).placed);
    if let Some(shared) = member.overlap(&part) {
        return Ok(Crossing { touch: None, whole: member, shared });
    }
    let touch = contact(work, joint.joint, joint.member, target)?;
    let whole = member.grown(touch.face, part.size(touch.face.axis()));
    let shared = whole.overlap(&part).unwrap_or(touch.area);
    Ok(Crossing { touch: Some(touch), whole, shared })
}

/// Finds the corner; its outer faces must be flush, and the member must not be higher than the target.
pub(super) fn corner(work: &Work<'_>, joint: &JointUse, target: PartId) -> Result<Corner, Finding> {
    let touch = tongue::edge_contact(work, joint, target)?;
    let print = work.printing();
    let (member, other) = (work.model.part(joint.member), work.model.part(target));
    let (name, other_name) = (work.model.full_name(joint.member), work.model.full_name(target));
    let across = member.thickness;
    let run = tongue::width_axis(work, joint.member, touch.face);
    let off = |message: String, hint: String| Err(Finding::error("corner-not-flush", message).hint(hint));
    if touch.face.axis() != other.thickness {
        return off(
            format!(
                "{}: `{name}` meets an edge of `{other_name}`; a corner is made where it meets a broad face",
                joint.joint
            ),
            "exchange the two parts, or place the first up to the face of the other".to_owned(),
        );
    }
    let beyond =
        |face: Face| (other.placed.face(face) - member.placed.face(face)) * if face.is_high() { 1 } else { -1 };
    let end = [across.low(), across.high()].into_iter().min_by_key(|&face| beyond(face).abs()).unwrap_or(across.low());
    if beyond(end).abs() > Length::SAME_SIZE {
        return off(
            format!(
                "{}: at the {} `{name}` and `{other_name}` are {} out of flush",
                joint.joint,
                end.name(),
                print.length(beyond(end).abs())
            ),
            format!("end `{other_name}` flush with the {} of `{name}`", end.name()),
        );
    }
    for face in [run.low(), run.high()] {
        if beyond(face) < -Length::SAME_SIZE {
            return off(
                format!(
                    "{}: `{name}` stands {} beyond `{other_name}` at the {}",
                    joint.joint,
                    print.length(-beyond(face)),
                    face.name()
                ),
                format!("make `{name}` no higher than `{other_name}`"),
            );
        }
    }
    Ok(Corner { face: touch.face, end, run, on: Stretch::of(&member.placed, run) })
}

/// What the member loses from `low` to `high` along the corner, once it has grown by `depth`.
pub(super) fn in_member(
    work: &Work<'_>,
    joint: &JointUse,
    corner: Corner,
    depth: Length,
    (low, high): (Length, Length),
) -> Solid {
    let part = work.model.part(joint.member);
    let mut solid = part.placed;
    solid.set_face(corner.face.opposite(), part.placed.face(corner.face));
    solid.set_face(corner.face, part.placed.face(corner.face));
    let mut solid = solid.grown(corner.face, depth);
    solid.low[corner.run.index()] = low;
    solid.high[corner.run.index()] = high;
    solid
}

/// Refuses fingers, pins or tails that would break.
pub(super) fn refuse_thin(
    work: &Work<'_>,
    joint: &JointUse,
    what: &str,
    width: Length,
    hint: &str,
) -> Result<(), Finding> {
    if width >= LEAST_FINGER {
        return Ok(());
    }
    let print = work.printing();
    let message = format!(
        "{}: {what} {} wide would break; {} is the least",
        joint.joint,
        print.length(width),
        print.length(LEAST_FINGER)
    );
    Err(Finding::error("corner-too-weak", message).hint(hint.to_owned()))
}
