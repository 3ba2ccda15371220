//! Why there is no plan.

use super::verify::Broken;
use std::fmt;

/// Why no plan was returned.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Fault {
    /// A sheet or board kind, by its place in the problem, makes no sense.
    Sheet {
        /// Its place in the problem.
        sheet: usize,
        /// What about it.
        what: &'static str,
    },
    /// An item makes no sense.
    Item {
        /// Its place in the problem.
        item: usize,
        /// What about it.
        what: &'static str,
    },
    /// The saw's figures make no sense.
    Saw,
    /// There are more than a hundred thousand parts.
    TooMany,
    /// An item (or the matched set that it belongs to) cannot be cut out of any of the sheets or boards.
    TooLarge {
        /// Its place in the problem.
        item: usize,
    },
    /// An item is narrower than the narrowest piece that the saw may cut off.
    TooNarrow {
        /// Its place in the problem.
        item: usize,
    },
    /// The stock that is there was not enough for these items, by place in the problem and count, in the best plan
    /// that was found. That no plan exists is not proved by this.
    ShortOfStock {
        /// What found no place.
        left: Vec<(usize, u32)>,
    },
    /// The engine made a plan that its verifier refuses. This is a fault of the engine, never of the problem.
    Engine(Broken),
}

impl fmt::Display for Fault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Sheet { sheet, what } => write!(f, "stock {sheet}: its {what} makes no sense"),
            Self::Item { item, what } => write!(f, "item {item}: its {what} makes no sense"),
            Self::Saw => write!(f, "the saw's figures make no sense"),
            Self::TooMany => write!(f, "there are more than a hundred thousand parts"),
            Self::TooLarge { item } => write!(f, "item {item} cannot be cut out of any stock that is there"),
            Self::TooNarrow { item } => write!(f, "item {item} is narrower than the saw may cut"),
            Self::ShortOfStock { left } => {
                let parts: u64 = left.iter().map(|&(_, count)| u64::from(count)).sum();
                write!(f, "the stock is not enough: {parts} parts found no place")
            }
            Self::Engine(broken) => write!(f, "the engine made a plan that cannot be cut: {broken}"),
        }
    }
}

impl std::error::Error for Fault {}
