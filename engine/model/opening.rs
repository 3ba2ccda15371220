//! Openings as measured, and the fronts that cover or fill them.

use super::{Model, OpeningId, PartId, PieceId};
use crate::base::{Axis, Length, Solid};
use crate::diag::At;

/// The space that a bank, a door or a shelf goes into.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Opening {
    /// What it is called.
    pub name: String,
    /// The piece whose coordinates it is written in.
    pub piece: PieceId,
    /// The largest cuboid that fits and stands level: the smallest reading each way, less what the lean takes. Its front plane is where the face frame or the case ends.
    pub solid: Solid,
    /// Every width that was read.
    pub widths: Vec<Length>,
    /// Every height that was read.
    pub heights: Vec<Length>,
    /// The diagonals that were read, if they were.
    pub diagonals: Option<Diagonals>,
    /// How far the readings may differ before it is worth a finding.
    pub limit: Length,
    /// The recipe line that made it.
    pub at: Option<At>,
}

/// The two diagonals of an opening, read in its front plane.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Diagonals {
    /// From the lower left corner to the upper right one.
    pub rising: Length,
    /// From the upper left corner to the lower right one.
    pub falling: Length,
}

impl Diagonals {
    /// How far the sides of an opening lean to the right over their height; below zero to the left. Rounded away from zero.
    ///
    /// A floor of width w, sides of length h that lean by x and stand v high: the upper corners are at (x, v) and (w + x, v), so
    /// rising² = (w + x)² + v² and falling² = (w - x)² + v², and the difference of the squares is 4 w x.
    pub fn lean(self, width: Length) -> Length {
        let square = |length: Length| i128::from(length.nm()).pow(2);
        let difference = square(self.rising) - square(self.falling);
        let four_w = 4 * i128::from(width.nm()).max(1);
        let up = (difference.abs() + four_w - 1) / four_w;
        let lean = Length::from_nm(i64::try_from(up).unwrap_or(i64::MAX));
        if difference < 0 { -lean } else { lean }
    }

    /// The root of the mean of the squares of both. In a parallelogram it is the diagonal of a true rectangle with the same sides.
    pub fn mean(self) -> Length {
        let square = |length: Length| u128::from(length.nm().unsigned_abs()).pow(2);
        let mean = u128::midpoint(square(self.rising), square(self.falling)).isqrt();
        Length::from_nm(i64::try_from(mean).unwrap_or(i64::MAX))
    }
}

/// How high sides of this length stand that lean by `lean` over it, rounded down; `None` when they would lie flat.
pub fn plumb_height(side: Length, lean: Length) -> Option<Length> {
    let square = |length: Length| u128::from(length.nm().unsigned_abs()).pow(2);
    let rest = square(side).checked_sub(square(lean)).filter(|rest| *rest > 0)?;
    i64::try_from(rest.isqrt()).ok().map(Length::from_nm)
}

impl Opening {
    /// How far its sides lean to the right over their height, by the diagonals; nothing when none were read.
    pub fn lean(&self) -> Length {
        let width = self.widths.iter().min().copied().unwrap_or(Length::ZERO);
        self.diagonals.map_or(Length::ZERO, |diagonals| diagonals.lean(width))
    }

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
    /// The part; of a frame round a panel, the first of its parts.
    pub part: PartId,
    /// The other parts that make the front, as the stiles and rails of a door do.
    pub rest: Vec<PartId>,
    /// Its opening.
    pub opening: OpeningId,
    /// How it meets it.
    pub style: FrontStyle,
    /// The recipe line that said so.
    pub at: Option<At>,
}

impl Front {
    /// The cuboid round all of it.
    pub fn solid(&self, model: &Model) -> Solid {
        let all = self.rest.iter().map(|&part| model.part(part).solid);
        all.fold(model.part(self.part).solid, |around, solid| around.hull(&solid))
    }

    /// What it is called: its part, or the piece that is made of its parts.
    pub fn name(&self, model: &Model) -> String {
        let piece = model.common_piece(self.rest.iter().copied().chain([self.part]));
        if self.rest.is_empty() || piece == Model::ROOT {
            model.full_name(self.part)
        } else {
            model.piece(piece).name.clone()
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_lean_by_hand() {
        // A floor 40 wide and sides that lean 2 to the right and stand 30 high: rising² = 42² + 30² = 2664, falling² = 38² + 30² =
        // 2344; in nanometres, with ten thousand of them for each unit, the roots are whole enough: 516139.5 and 484148.7.
        let diagonals = Diagonals { rising: Length::from_nm(516_140), falling: Length::from_nm(484_149) };
        let lean = diagonals.lean(Length::from_nm(400_000));
        assert!((lean.nm() - 20_000).abs() <= 1, "{lean:?}");
        let other = Diagonals { rising: diagonals.falling, falling: diagonals.rising };
        assert_eq!(other.lean(Length::from_nm(400_000)), -lean);
        // The side is as long as the root of 30² + 2² = 904, and stands 30 high again.
        let side = Length::from_nm(300_666);
        assert!((plumb_height(side, Length::from_nm(20_000)).unwrap().nm() - 300_000).abs() <= 1);
        // The mean of the squares is (2664 + 2344)/2 = 2504 = 40² + 904: the diagonal of 40 by the length of the side.
        assert!((diagonals.mean().nm() - 500_400).abs() <= 1, "{:?}", diagonals.mean());
        assert_eq!(plumb_height(side, side), None);
    }
}
