//! What shelves and drawers are to carry, as the recipe said it.

use std::fmt;

use super::{PartId, PieceId};
use crate::base::Ratio;
use crate::diag::At;

/// A load, in the words of the recipe.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Load {
    /// What carries it.
    pub on: Bearer,
    /// How much, in `unit`s.
    pub amount: Ratio,
    /// What the amount counts.
    pub unit: LoadUnit,
    /// What it is: `books`.
    pub of: Option<String>,
    /// The recipe line that said so.
    pub at: Option<At>,
}

/// What carries a load.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Bearer {
    /// A part, spread evenly over it: a shelf.
    Part(PartId),
    /// A piece, spread evenly over its floor: a drawer.
    Piece(PieceId),
}

/// What the amount of a load counts.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LoadUnit {
    /// Kilograms in all.
    Kilograms,
    /// Pounds in all.
    Pounds,
    /// Kilograms on each square metre.
    KilogramsPerSquareMetre,
    /// Pounds on each square foot.
    PoundsPerSquareFoot,
    /// Kilograms on each metre of shelf.
    KilogramsPerMetre,
    /// Pounds on each foot of shelf.
    PoundsPerFoot,
}

impl LoadUnit {
    /// All of them, with the option that gives each and its sign in papers.
    pub const ALL: [(Self, &'static str, &'static str); 6] = [
        (Self::Kilograms, "kg", "kg"),
        (Self::Pounds, "lb", "lb"),
        (Self::KilogramsPerSquareMetre, "kg_per_m2", "kg/m2"),
        (Self::PoundsPerSquareFoot, "lb_per_ft2", "lb/ft2"),
        (Self::KilogramsPerMetre, "kg_per_m", "kg/m"),
        (Self::PoundsPerFoot, "lb_per_ft", "lb/ft"),
    ];

    /// Its sign in papers.
    pub fn sign(self) -> &'static str {
        Self::ALL.into_iter().find(|(unit, ..)| *unit == self).map_or("", |(.., sign)| sign)
    }
}

impl fmt::Display for Load {
    /// `20 kg of books`, `40 lb/ft2`.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let thousandths = (self.amount * Ratio::from_integer(1_000)).round().to_integer();
        let digits = format!("{}.{:03}", thousandths / 1_000, thousandths % 1_000);
        write!(f, "{} {}", digits.trim_end_matches('0').trim_end_matches('.'), self.unit.sign())?;
        self.of.as_ref().map_or(Ok(()), |of| write!(f, " of {of}"))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_load_is_told_as_it_was_given() {
        let load = |amount, unit, of: Option<&str>| {
            let of = of.map(str::to_owned);
            Load { on: Bearer::Part(PartId(0)), amount, unit, of, at: None }.to_string()
        };
        assert_eq!(load(Ratio::from_integer(20), LoadUnit::Kilograms, Some("books")), "20 kg of books");
        assert_eq!(load(Ratio::new(25, 2), LoadUnit::PoundsPerSquareFoot, None), "12.5 lb/ft2");
        assert_eq!(load(Ratio::new(1, 3), LoadUnit::Pounds, None), "0.333 lb");
    }
}
