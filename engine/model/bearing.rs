//! Faces that joints lay against one another: what a joint promises of the finished parts.

use super::{JointId, PartId};
use crate::base::{Face, Length, Solid};

/// A face of one part that a joint lays against another part, or before it with the room that was asked for.
///
/// Joints state it from what they were told. Whether it came true is worked out from what is left of both parts once every joint
/// is made, so that a cut of another joint that takes the wall of a groove or the cheek of a tongue away is found.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Bearing {
    /// What bears, in the trade's word: `tongue`, `end`, `tenon`.
    pub what: &'static str,
    /// The part whose face it is.
    pub part: PartId,
    /// The part that it bears on.
    pub against: PartId,
    /// Which way the face looks.
    pub face: Face,
    /// Where the face is, in the whole job; it has no size along the face's axis.
    pub area: Solid,
    /// The room between both, nothing where they touch.
    pub room: Length,
    /// The joint that promises it.
    pub joint: JointId,
}
