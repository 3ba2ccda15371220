//! Openings as measured, and the fronts that cover or fill them.

use super::{OpeningId, PartId, PieceId};
use crate::base::{Axis, Length, Solid};
use crate::diag::At;

/// The space that a bank, a door or a shelf goes into.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Opening {
    /// What it is called.
    pub name: String,
    /// The piece whose coordinates it is written in.
    pub piece: PieceId,
    /// The largest cuboid that fits: the smallest reading each way. Its front plane is where the face frame or the case ends.
    pub solid: Solid,
    /// Every width that was read.
    pub widths: Vec<Length>,
    /// Every height that was read.
    pub heights: Vec<Length>,
    /// How far the readings may differ before it is worth a finding.
    pub limit: Length,
    /// The recipe line that made it.
    pub at: Option<At>,
}

impl Opening {
    /// The width to build to: the smallest reading.
    pub fn width(&self) -> Length {
        self.solid.size(Axis::X)
    }

    /// The height to build to: the smallest reading.
    pub fn height(&self) -> Length {
        self.solid.size(Axis::Z)
    }

    /// The depth from its front plane to the back of the case.
    pub fn depth(&self) -> Length {
        self.solid.size(Axis::Y)
    }
}

/// How a front meets its opening.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum FrontStyle {
    /// It stands inside the opening, with a reveal all round.
    Inset,
    /// It lies on the face of the case and covers the opening's edges.
    Applied,
}

impl FrontStyle {
    /// The word in recipes and papers.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Inset => "inset",
            Self::Applied => "applied",
        }
    }
}

/// A front and the opening that it belongs to.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Front {
    /// The part.
    pub part: PartId,
    /// Its opening.
    pub opening: OpeningId,
    /// How it meets it.
    pub style: FrontStyle,
    /// The recipe line that said so.
    pub at: Option<At>,
}
