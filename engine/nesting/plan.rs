//! What is answered: a tree of cuts for each sheet, and what it is worth.

use super::problem::{Axis, Problem, Saw, Sheet};
use std::collections::BTreeSet;

/// What becomes of a rectangle.
#[derive(Clone, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Node {
    /// It is a part, exactly.
    Part {
        /// Which item of the problem.
        item: usize,
        /// Whether it lies turned by a quarter.
        turned: bool,
    },
    /// It is left over and large enough to keep, by the rule of its sheet.
    Offcut,
    /// It is left over.
    Waste,
    /// It is cut in two, from edge to edge.
    Cut {
        /// The axis that the cut divides.
        across: Axis,
        /// The size of the first piece along that axis: what the fence or stop is set to.
        at: i64,
        /// The first piece, at the lower end of the axis.
        first: Box<Node>,
        /// What is left behind the kerf; `None` when the blade takes all of it.
        rest: Option<Box<Node>>,
    },
}

/// How sheets of one kind are cut.
#[derive(Clone, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Layout {
    /// Which sheet of the problem.
    pub sheet: usize,
    /// How many sheets are cut like this.
    pub copies: u32,
    /// What becomes of the sheet once its edges are trimmed.
    pub root: Node,
}

/// How all parts are cut.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Plan {
    /// The sheets, equal ones together.
    pub layouts: Vec<Layout>,
}

impl Plan {
    /// How many sheets are used.
    pub fn sheets(&self) -> u64 {
        self.layouts.iter().map(|layout| u64::from(layout.copies)).sum()
    }
}

/// What a plan is worth; the lesser is the better one: money first, then large offcuts, then few settings, then few
/// cuts.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Score {
    /// Cost of the sheets.
    pub cost: i64,
    /// Worth of the offcuts that are kept, in the same unit.
    pub offcuts: i64,
    /// How many different fence and stop settings the cuts need, edge trimming apart. A size is one setting for rips
    /// and one for crosscuts.
    pub settings: u32,
    /// How many cuts are made, edge trimming included.
    pub cuts: u32,
}

impl Score {
    fn key(&self) -> (i64, i64, u32, u32) {
        (self.cost, -self.offcuts, self.settings, self.cuts)
    }

    /// Measures a plan of this problem.
    pub fn of(problem: &Problem, plan: &Plan) -> Self {
        let mut score = Self { cost: 0, offcuts: 0, settings: 0, cuts: 0 };
        let mut settings = BTreeSet::new();
        for layout in &plan.layouts {
            let Some(sheet) = problem.sheets.get(layout.sheet) else { continue };
            let copies = i64::from(layout.copies);
            score.cost += copies * sheet.cost;
            let trims = [sheet.trim.left, sheet.trim.right, sheet.trim.bottom, sheet.trim.top];
            let mut cuts = u32::try_from(trims.iter().filter(|&&trim| trim > 0).count()).unwrap_or(0);
            let mut open = vec![(&layout.root, sheet.usable())];
            while let Some((node, (width, height))) = open.pop() {
                match node {
                    Node::Part { .. } | Node::Waste => {}
                    Node::Offcut => score.offcuts += copies * worth(sheet, width, height),
                    Node::Cut { across, at, first, rest } => {
                        cuts += 1;
                        settings.insert((*across == sheet.rip_across(), *at));
                        let along = if *across == Axis::X { width } else { height };
                        let piece = |size: i64| if *across == Axis::X { (size, height) } else { (width, size) };
                        open.push((first, piece(*at)));
                        if let Some(rest) = rest {
                            open.push((rest, piece(along - at - problem.saw.kerf_across(*across))));
                        }
                    }
                }
            }
            score.cuts += layout.copies * cuts;
        }
        score.settings = u32::try_from(settings.len()).unwrap_or(u32::MAX);
        score
    }
}

impl PartialOrd for Score {
    fn partial_cmp(&self, other: &Self) -> Option<std::cmp::Ordering> {
        Some(self.cmp(other))
    }
}

impl Ord for Score {
    fn cmp(&self, other: &Self) -> std::cmp::Ordering {
        self.key().cmp(&other.key())
    }
}

/// Whether a rest of this size is kept: it is large enough for the rule of its sheet, and wide enough for the saw.
pub fn kept(sheet: &Sheet, saw: &Saw, width: i64, height: i64) -> bool {
    let keep = &sheet.keep;
    let short = keep.short.max(saw.narrowest).max(1);
    keep.worth > 0 && width.min(height) >= short && width.max(height) >= keep.long
}

/// What an offcut of this size is worth: the square of its share of the sheet's area, in the sheet's unit of cost.
pub fn worth(sheet: &Sheet, width: i64, height: i64) -> i64 {
    const WHOLE: i128 = 1_000_000;
    let area = |w: i64, h: i64| i128::from(w) * i128::from(h);
    let share = area(width, height) * WHOLE / area(sheet.width, sheet.height).max(1);
    i64::try_from(i128::from(sheet.keep.worth) * share * share / (WHOLE * WHOLE)).unwrap_or(0)
}
