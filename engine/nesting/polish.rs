//! When the money is settled: one large offcut rather than many small ones, and the plans next to the best one.

use super::effort::{Dice, Effort};
use super::lay::plan_of;
use super::plan::{Plan, Score};
use super::problem::{Axis, Problem};
use super::search::{Chain, Shop, State};
use super::setup::Setup;
use super::tree::{FREE_LEVELS, Frame, Tree};

/// Plans of the least cost that was found, none of which another one beats in offcuts, settings and cuts at once.
#[derive(Default)]
pub(super) struct Pool {
    plans: Vec<(Score, Plan)>,
}

impl Pool {
    /// Takes in the plan that a state stands for.
    pub fn offer(&mut self, setup: &Setup, frames: &[Frame], sheet_of: &[usize], state: &State) {
        // What costs more than another one is not worth drawing up.
        let used = state.trees.iter().filter(|tree| !tree.is_empty());
        let cost: i64 = used.map(|tree| setup.costs[sheet_of[tree.frame]]).sum();
        if !state.loose.is_empty() || self.plans.first().is_some_and(|(best, _)| best.cost < cost) {
            return;
        }
        let plan = plan_of(setup, frames, state.trees.iter().map(|tree| (sheet_of[tree.frame], tree)));
        let score = Score::of(setup.problem, &plan);
        let beats = |a: &Score, b: &Score| {
            a.cost < b.cost
                || a.cost == b.cost && a.offcuts >= b.offcuts && a.settings <= b.settings && a.cuts <= b.cuts
        };
        if self.plans.iter().any(|(own, _)| beats(own, &score)) {
            return;
        }
        self.plans.retain(|(own, _)| !beats(&score, own));
        self.plans.push((score, plan));
        self.plans.sort_by_key(|(score, _)| *score);
        self.plans.truncate(12);
    }

    /// All plans, the best one first.
    pub fn into_plans(self) -> Vec<(Score, Plan)> {
        self.plans
    }
}

/// Tries to free as much as possible of one sheet in one piece.
pub(super) fn polish(
    setup: &Setup,
    shop: &Shop,
    best: &State,
    pool: &mut Pool,
    dice: &mut Dice,
    effort: &Effort,
    work: u64,
) {
    // The emptiest sheet whose rest would be kept has the most to give.
    let worth = |tree: &&Tree| setup.problem.sheets[shop.sheet_of[tree.frame]].keep.worth > 0;
    let Some(emptiest) = best.trees.iter().filter(worth).max_by_key(|tree| tree.free).map(|tree| tree.frame) else {
        return;
    };
    let Some(at) =
        (0..best.trees.len()).filter(|&at| best.trees[at].frame == emptiest).max_by_key(|&at| best.trees[at].free)
    else {
        return;
    };
    for axis in [Axis::X, Axis::Y] {
        let whole = &shop.frames[emptiest];
        if !may_be_left(setup.problem, shop.sheet_of[emptiest], whole, axis) {
            continue;
        }
        let (along, across) = if axis == Axis::X { (whole.width, whole.height) } else { (whole.height, whole.width) };
        // From the area of what must lie on it up to the whole sheet, halving in between.
        let used = i128::from(whole.area - best.trees[at].free) * i128::from(along) / i128::from(whole.area.max(1));
        let mut least = i64::try_from(used).unwrap_or(0).max(1);
        let mut most = along;
        let mut state = best.clone();
        for _ in 0..7 {
            let size = least + (most - least) / 2;
            if size <= least || size >= most || (effort.stop)() {
                break;
            }
            let mut frames = shop.frames.to_vec();
            let mut sheet_of = shop.sheet_of.to_vec();
            frames.push(shrunk(whole, axis, size, across));
            sheet_of.push(shop.sheet_of[emptiest]);
            let smaller = Shop { frames: &frames, sheet_of: &sheet_of, ..*shop };
            let mut begun = state.clone();
            let tree = std::mem::replace(&mut begun.trees[at], Tree::new(frames.len() - 1, &frames));
            begun.loose.extend(tree.kinds());
            begun.loose_area = begun.loose.iter().map(|&kind| shop.kinds[kind as usize].area).sum();
            let mut chain = Chain::on_these_sheets(&smaller, begun);
            if chain.run(&smaller, dice, work / 14, effort.stop) {
                pool.offer(setup, &frames, &sheet_of, &chain.state);
                state = chain.state;
                most = size;
                // Its frame is the last one again next time; until then it stands for the whole sheet.
                state.trees[at].frame = emptiest;
            } else {
                least = size;
            }
        }
    }
}

/// Whether the first cut of a sheet may be the one that frees the rest along this axis.
fn may_be_left(problem: &Problem, sheet: usize, frame: &Frame, axis: Axis) -> bool {
    let there = &problem.sheets[sheet];
    frame.cuts()[axis as usize] && problem.saw.may_begin(there, axis) && frame.levels > 1
}

/// The sheet without its rest. The cut that frees the rest is one stage.
fn shrunk(whole: &Frame, axis: Axis, size: i64, across: i64) -> Frame {
    let (width, height) = if axis == Axis::X { (size, across) } else { (across, size) };
    let area = i128::from(whole.area) * i128::from(size)
        / i128::from(if axis == Axis::X { whole.width } else { whole.height });
    let levels = if whole.levels == FREE_LEVELS { FREE_LEVELS } else { whole.levels - 1 };
    Frame {
        width,
        height,
        area: i64::try_from(area).unwrap_or(0),
        begins: [true, true],
        longest: whole.longest,
        levels,
    }
}
