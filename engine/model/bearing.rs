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
    /// Where the face is, in the whole job. A flat one has no size along the face's axis, a slope fills a cuboid from edge to edge.
    pub area: Solid,
    /// How the face lies, and on what.
    pub lies: Lies,
    /// The room between both along the face's axis, nothing where they touch.
    pub room: Length,
    /// The joint that promises it.
    pub joint: JointId,
}

/// How a face lies on another.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Lies {
    /// Square to its axis, on the material of the other part.
    Flat,
    /// On a slope of the other part, as a mitre does and the side of a tail: it looks towards `leans` as well, and runs through the
    /// cuboid from the edge between its face and the side away from `leans` to the edge opposite to that.
    Slope {
        /// The other way that it looks.
        leans: Face,
    },
    /// Flat, on a pin that stands out of a hole of the other part.
    Pin {
        /// How deep the hole must be for the pin.
        deep: Length,
        /// How far the pin stands out.
        out: Length,
    },
}
