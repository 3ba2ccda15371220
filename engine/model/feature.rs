//! Material that is taken out of a part. Papers look at features, never at the joint that left them.

use super::JointId;
use crate::base::{Axis, Face, Length, Solid};

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

    /// The run and the width of a channel or step: the axis along it, and its size across.
    pub fn width(&self) -> Option<(Axis, Length)> {
        let along = match self.shape {
            Shape::Channel { along, .. } | Shape::Step { along, .. } => along,
            Shape::Bore(_) | Shape::Screw { .. } => return None,
        };
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
    /// A hole that is drilled.
    Bore(Bore),
    /// The room that a screw takes up where nothing is drilled for it.
    Screw {
        /// Its diameter.
        diameter: Length,
    },
}

/// A drilled hole.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Bore {
    /// Its diameter at the face.
    pub diameter: Length,
    /// Whether it runs at the shallow angle of a pocket hole.
    pub pocket: bool,
}
