//! Lengths on boards: the problem in one dimension and its plan.

use super::fault::Fault;
use super::problem::{LARGEST, MOST_PARTS, counted};

/// One kind of board.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Board {
    /// Raw length.
    pub length: i64,
    /// How many there are; `None` when any number can be had.
    pub count: Option<u32>,
    /// What one costs, in any unit of money that is whole.
    pub cost: i64,
    /// What is taken off its near end, the kerf included.
    pub trim_start: i64,
    /// What is taken off its far end, the kerf included.
    pub trim_end: i64,
}

impl Board {
    /// A board of which any number can be had for 1 each, with nothing trimmed.
    pub fn new(length: i64) -> Self {
        Self { length, count: None, cost: 1, trim_start: 0, trim_end: 0 }
    }

    /// The length once both ends are trimmed.
    pub fn usable(&self) -> i64 {
        self.length - self.trim_start - self.trim_end
    }
}

/// One length to be cut.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Stick {
    /// Finished length.
    pub length: i64,
    /// How many are needed, at least 1.
    pub count: u32,
}

/// Lengths to be cut out of boards. All sizes are whole numbers of one unit.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Boards {
    /// The kinds of board that can be used.
    pub stock: Vec<Board>,
    /// What is needed.
    pub items: Vec<Stick>,
    /// How wide the blade cuts.
    pub kerf: i64,
}

impl Boards {
    /// A raw problem, the shape in which problems are published: one board of unlimited number, items as length,
    /// copies.
    pub fn raw(length: i64, items: &[[i64; 2]], kerf: i64) -> Result<Self, Fault> {
        let items = items
            .iter()
            .enumerate()
            .map(|(at, &[length, copies])| {
                let count = counted(copies, at)?;
                Ok(Stick { length, count })
            })
            .collect::<Result<_, Fault>>()?;
        let problem = Self { stock: vec![Board::new(length)], items, kerf };
        problem.check()?;
        Ok(problem)
    }

    /// Refuses what is no problem at all: sizes that are not positive or too large, no copies.
    pub fn check(&self) -> Result<(), Fault> {
        let side = |size: i64| (1..=LARGEST).contains(&size);
        for (at, board) in self.stock.iter().enumerate() {
            let trims = [board.trim_start, board.trim_end];
            if !side(board.length) || trims.iter().any(|trim| !(0..=LARGEST).contains(trim)) {
                return Err(Fault::Sheet { sheet: at, what: "size" });
            }
            if !(0..=LARGEST).contains(&board.cost) {
                return Err(Fault::Sheet { sheet: at, what: "cost" });
            }
        }
        for (at, item) in self.items.iter().enumerate() {
            if !side(item.length) {
                return Err(Fault::Item { item: at, what: "size" });
            }
            if item.count == 0 {
                return Err(Fault::Item { item: at, what: "count" });
            }
        }
        let parts: u64 = self.items.iter().map(|item| u64::from(item.count)).sum();
        if !(0..=LARGEST).contains(&self.kerf) {
            return Err(Fault::Saw);
        }
        if parts > MOST_PARTS {
            return Err(Fault::TooMany);
        }
        Ok(())
    }
}

/// How boards of one kind are cut.
#[derive(Clone, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct BoardLayout {
    /// Which board of the problem.
    pub stock: usize,
    /// How many boards are cut like this.
    pub copies: u32,
    /// The items, in the order in which they are cut off.
    pub items: Vec<usize>,
    /// What is left at the end, behind the last kerf.
    pub left: i64,
}

/// How all lengths are cut.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct BoardPlan {
    /// The boards, equal ones together.
    pub layouts: Vec<BoardLayout>,
}

impl BoardPlan {
    /// How many boards are used.
    pub fn boards(&self) -> u64 {
        self.layouts.iter().map(|layout| u64::from(layout.copies)).sum()
    }

    /// What they cost.
    pub fn cost(&self, problem: &Boards) -> i64 {
        let cost = |layout: &BoardLayout| {
            i64::from(layout.copies) * problem.stock.get(layout.stock).map_or(0, |board| board.cost)
        };
        self.layouts.iter().map(cost).sum()
    }
}
