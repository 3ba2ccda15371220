//! Material that is taken out of a part. Papers look at features, never at the joint that left them.

use super::JointId;
use crate::base::{Axis, Face, Length, Ratio, Solid};

/// Material removed from one part.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Feature {
    /// The trade's word: `groove`, `dado`, `rabbet`, `pocket hole`, `screw hole`.
    pub name: &'static str,
    /// How it is shaped.
    pub shape: Shape,
    /// The cuboid that holds all of the removed material, in the whole job.
    pub solid: Solid,
    /// The face that the tool enters.
    pub face: Face,
    /// The joint that asked for it.
    pub joint: JointId,
}

impl Feature {
    /// How deep the tool goes in from its face.
    pub fn depth(&self) -> Length {
        self.solid.size(self.face.axis())
    }

    /// The run and the width of a cut that has one: the axis along it, and its size across.
    pub fn width(&self) -> Option<(Axis, Length)> {
        let along = self.shape.along()?;
        let across = Axis::ALL.into_iter().find(|&axis| axis != along && axis != self.face.axis())?;
        Some((across, self.solid.size(across)))
    }
}

/// The shape of a feature.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Shape {
    /// A trench with two walls.
    Channel {
        /// The axis that it runs along.
        along: Axis,
        /// Whether it ends before an edge of the part.
        stopped: bool,
    },
    /// A step along an edge: a trench with one wall.
    Step {
        /// The axis that it runs along.
        along: Axis,
        /// Whether it ends before an edge of the part.
        stopped: bool,
    },
    /// A slot with wood on all four sides, blind or through: a mortise, or the slot for a loose tenon or a biscuit.
    Mortise {
        /// The axis that it is long along.
        along: Axis,
    },
    /// A plane from edge to edge of the cuboid, as at a mitre. Of the cuboid, the half that touches both the feature's face
    /// and `end` is taken; the other half stays.
    Bevel {
        /// The axis that the plane runs along without a slope.
        along: Axis,
        /// The end of the part that is taken.
        end: Face,
    },
    /// A slot square to a bevelled end, for a spline. Its cuboid holds all of it, and some that stays.
    Spline {
        /// The end of the part that is bevelled.
        end: Face,
        /// From wall to wall.
        width: Length,
        /// How deep it goes, square to the bevel.
        depth: Length,
    },
    /// The room between two tails, or between two pins. It fills its cuboid at the face named by `wide`; towards the opposite
    /// face each of its two sides comes in by `slope` times the distance.
    Dovetail {
        /// The axis that its sides run straight along.
        along: Axis,
        /// The slope of a side: 1/8 is one across to eight along.
        slope: Ratio,
        /// The face of the cuboid at which it is widest.
        wide: Face,
    },
    /// A hole that is drilled.
    Bore(Bore),
    /// The room that a screw takes up where nothing is drilled for it.
    Screw {
        /// Its diameter.
        diameter: Length,
    },
}

impl Shape {
    /// The axis that a cut runs along; a hole and a slot at 45 degrees have none.
    pub const fn along(self) -> Option<Axis> {
        match self {
            Self::Channel { along, .. }
            | Self::Step { along, .. }
            | Self::Mortise { along }
            | Self::Bevel { along, .. }
            | Self::Dovetail { along, .. } => Some(along),
            Self::Spline { .. } | Self::Bore(_) | Self::Screw { .. } => None,
        }
    }
}

/// A drilled hole.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Bore {
    /// Its diameter at the face.
    pub diameter: Length,
    /// Whether it runs at the shallow angle of a pocket hole.
    pub pocket: bool,
}
