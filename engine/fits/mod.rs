//! Layer 3: how far a fit may be off when plywood is not its name and nobody cuts to zero.
//!
//! A fit is a gap: the room between a box and its opening, a panel and its groove, a front and its opening. The gap as drawn is
//! exact. Here each size that goes into it gets the range in which it will really lie, and the gap gets what follows: the worst
//! case both ways, the likely range, and the share of pieces that are expected to fit.

mod chain;
mod find;
mod sum;
mod words;

pub use find::all;
pub use sum::Spread;
pub use words::{Kin, kin};

use crate::base::Length;
use crate::model::PartId;

/// What is fitted into what.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum FitKind {
    /// A box between its slides: the gap is the room at both sides together.
    BoxInOpening,
    /// A dry panel in its groove: the gap is across its thickness.
    PanelInGroove,
    /// A glued shelf or divider in its dado: the gap is across its thickness.
    ShelfInDado,
    /// An inset front between the sides of its opening: the gap is both reveals together.
    FrontAcross,
    /// Inset fronts between floor and ceiling of their opening: the gap is all reveals together.
    FrontsUp,
}

impl FitKind {
    /// The fit in words.
    pub const fn name(self) -> &'static str {
        match self {
            Self::BoxInOpening => "box between its slides",
            Self::PanelInGroove => "panel in its groove",
            Self::ShelfInDado => "part in its dado or rabbet",
            Self::FrontAcross => "inset front, side to side",
            Self::FrontsUp => "inset fronts, floor to ceiling",
        }
    }
}

/// A size that goes into a gap, and how far it may be off.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct Term {
    /// What may be off.
    pub of: Source,
    /// How often the size goes into the gap: below zero where a larger size makes the gap smaller.
    pub times: i64,
    /// The furthest that it may be below what is drawn; zero or less.
    pub low: Length,
    /// The furthest that it may be above what is drawn; zero or more.
    pub high: Length,
}

/// What may be off.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub enum Source {
    /// The thickness of a stock, by its name and the thickness that the job is drawn with. One sheet is off everywhere alike,
    /// so that two thicknesses in one gap do not even out.
    Thickness(String, Length),
    /// A part cut to length or width, by the part's name.
    Cut(String),
    /// The depth of the cut that a part is seated in.
    Depth(String),
    /// The width of a groove, dado or rabbet.
    Trench(String),
    /// An opening as it was read or built, by its name.
    Opening(String),
}

/// One gap, what it may be, and what goes into it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Fit {
    /// What is fitted into what.
    pub kind: FitKind,
    /// What it is about: a box, a panel, a front.
    pub of: String,
    /// The part that the recipe line is told from.
    pub part: PartId,
    /// The gap as drawn.
    pub nominal: Length,
    /// The least gap at which it works.
    pub least: Length,
    /// The largest gap at which it works.
    pub most: Length,
    /// What goes into it.
    pub terms: Vec<Term>,
}

impl Fit {
    /// Whether another fit is the same but for what it is called: the same gap, from the same causes.
    pub fn is_like(&self, other: &Self) -> bool {
        let cause = |term: &Term| {
            let stock = match &term.of {
                Source::Thickness(stock, _) => Some(stock.clone()),
                _ => None,
            };
            (std::mem::discriminant(&term.of), stock, term.times, term.low, term.high)
        };
        let same = |a: Length, b: Length| a.same_size(b);
        self.kind == other.kind
            && same(self.nominal, other.nominal)
            && same(self.least, other.least)
            && same(self.most, other.most)
            && self.terms.iter().map(cause).eq(other.terms.iter().map(cause))
    }

    /// The term that moves the gap most, and how far off its size is then. A size that may be off as far either way is taken to
    /// be off towards the nearer end of what works.
    pub fn matters_most(&self) -> Option<(&Term, Length)> {
        let tight = self.nominal - self.least < self.most - self.nominal;
        let widest = self.terms.iter().rev().max_by_key(|term| (term.high - term.low) * term.times.abs())?;
        let harmful = if (widest.times > 0) == tight { widest.low } else { widest.high };
        let further = if widest.low.abs() > widest.high { widest.low } else { widest.high };
        let off = if widest.low.abs() == widest.high { harmful } else { further };
        (off != Length::ZERO).then_some((widest, off))
    }
}
