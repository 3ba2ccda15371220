//! From the programme's fractions to sheets: a way to cut that it uses most is settled on, better ways are looked for
//! for what is left, and so on. Where what is left would cost too much, the dive goes back a step and settles on another.

use super::{Pattern, Patterns, Way, approx, may_be_cut, shape_of, take, whole};
use crate::nesting::effort::Dice;
use crate::nesting::one_sheet::Offer;
use crate::nesting::search::{Shop, State};
use crate::nesting::tree::Tree;

/// How often better ways are looked for before the first step, and before each later one.
const LOOKS_AT_FIRST: u32 = 25;
const LOOKS: u32 = 3;

/// Attempts on one sheet to better it.
const ATTEMPTS: u32 = 15;

/// What such an attempt counts as, in steps of a table.
const AN_ATTEMPT: u64 = 10_000;

/// How often a dive goes back at most.
const MOST_BACK: u32 = 30;

/// A step of a dive, to be able to go back.
struct Step {
    taken: usize,
    barred: usize,
    left: Vec<u32>,
    choice: usize,
}

impl Patterns<'_, '_> {
    /// Sheets cut as the programme says, one way after the other, until what is left is not much. What is not cut by them
    /// is loose.
    pub fn dive(&mut self, shop: &Shop, goal: i64, dice: &mut Dice, halt: &dyn Fn() -> bool) -> State {
        let mut left: Vec<u32> = self.pieces.iter().map(|piece| piece.needed).collect();
        let mut taken: Vec<usize> = Vec::new();
        let mut barred: Vec<usize> = Vec::new();
        let mut steps: Vec<Step> = Vec::new();
        let mut deepest: (i64, Vec<usize>) = (0, Vec::new());
        let mut back = 0;
        let end = approx(1 + i64::try_from(dice.below(4)).unwrap_or(0));
        let dearest = approx(self.setup.costs.iter().copied().max().unwrap_or(1).max(1));
        self.master.settle();
        let solved = self.master.solved();
        while !halt() {
            self.ask(&left, &taken, &barred);
            self.sharpen(shop, &left, if steps.is_empty() { LOOKS_AT_FIRST } else { LOOKS }, dice, halt);
            let spent: i64 = taken.iter().map(|&at| shop.costs[self.known_ways[at].frame]).sum();
            let value = self.master.objective();
            if approx(spent) + value > approx(goal) + 1e-6 {
                // Now and then two steps at once, as the fault may lie further back.
                if dice.once_in(4) && steps.len() > 1 {
                    steps.pop();
                }
                back += 1;
                let Some(step) = steps.pop().filter(|_| back < MOST_BACK) else { break };
                taken.truncate(step.taken);
                barred.truncate(step.barred);
                barred.push(step.choice);
                left = step.left;
                continue;
            }
            if spent >= deepest.0 {
                deepest = (spent, taken.clone());
            }
            if value <= end * dearest {
                break;
            }
            let before = (taken.len(), left.clone());
            let Some(choice) = self.settle_on_most_used(&mut left, &mut taken, dice) else { break };
            steps.push(Step { taken: before.0, barred: barred.len(), left: before.1, choice });
        }
        let costs = self.known_ways.iter().map(|pattern| approx(self.setup.costs[pattern.frame]));
        self.master.go_back(solved, costs);
        self.spent += std::mem::take(&mut self.master.steps);
        self.state_of(&deepest.1, shop, goal)
    }

    /// Settles on the way that is used most, or now and then on another of the most used, and on all that are used a
    /// whole number of times. Tells the first of them.
    fn settle_on_most_used(&self, left: &mut [u32], taken: &mut Vec<usize>, dice: &mut Dice) -> Option<usize> {
        let mut used: Vec<(usize, f64)> = self.master.used().collect();
        used.sort_by(|a, b| b.1.total_cmp(&a.1).then(a.0.cmp(&b.0)));
        let first = if dice.once_in(3) { dice.below(used.len().clamp(1, 10)) } else { 0 };
        let mut choice = None;
        for at in std::iter::once(first).chain(0..used.len()) {
            let Some(&(pattern, level)) = used.get(at) else { break };
            let times = whole(level + 1e-4);
            for _ in 0..if choice.is_none() { times.max(1) } else { times } {
                if self.settle_on(pattern, left, taken) && choice.is_none() {
                    choice = Some(pattern);
                }
            }
        }
        choice
    }

    fn settle_on(&self, pattern: usize, left: &mut [u32], taken: &mut Vec<usize>) -> bool {
        let way = &self.known_ways[pattern];
        let used = taken.iter().filter(|&&at| self.known_ways[at].frame == way.frame).count();
        let limit = self.setup.limits[way.frame];
        let is_there = way.is_within(left) && u32::try_from(used).is_ok_and(|used| used < limit);
        if is_there {
            way.counts.iter().for_each(|&(piece, count)| left[piece] -= count);
            taken.push(pattern);
        }
        is_there
    }

    /// Asks the programme for what is left; ways that cut more than that, or are barred, are too dear to be used.
    fn ask(&mut self, left: &[u32], taken: &[usize], barred: &[usize]) {
        let setup = self.setup;
        let mut demand: Vec<f64> = left.iter().map(|&count| f64::from(count)).collect();
        for (sheet, row) in self.limit_rows.iter().enumerate() {
            if row.is_some() {
                let used = taken.iter().filter(|&&at| self.known_ways[at].frame == sheet).count();
                let used = u32::try_from(used).unwrap_or(u32::MAX);
                demand.push(-f64::from(setup.limits[sheet].saturating_sub(used)));
            }
        }
        let dear = 10.0 * approx(setup.costs.iter().copied().max().unwrap_or(1).max(1));
        let price = |pattern: &Pattern| pattern.is_within(left).then(|| approx(setup.costs[pattern.frame]));
        let mut costs: Vec<Option<f64>> = self.known_ways.iter().map(price).collect();
        for &at in barred {
            costs[at] = None;
        }
        self.master.ask(demand, &costs, dear);
    }

    /// Betters the ways in use by a search on single sheets, so often or until that finds nothing.
    fn sharpen(&mut self, shop: &Shop, left: &[u32], looks: u32, dice: &mut Dice, halt: &dyn Fn() -> bool) {
        let mut there = vec![0; shop.kinds.len()];
        for (piece, &left) in self.pieces.iter().zip(left) {
            if let Some(kind) = piece.kind {
                there[kind] = left;
            }
        }
        for _ in 0..looks {
            if halt() {
                return;
            }
            let better = self.better_sheets(shop, &there, dice);
            if better.is_empty() {
                return;
            }
            for tree in &better {
                self.take_in(tree);
            }
            self.master.settle();
        }
    }

    /// Sheets that are worth more than they cost, one for each way in use at most.
    fn better_sheets(&mut self, shop: &Shop, there: &[u32], dice: &mut Dice) -> Vec<Tree> {
        let mut worth = vec![0.0; shop.kinds.len()];
        for (piece, &dual) in self.pieces.iter().zip(&self.master.duals) {
            if let Some(kind) = piece.kind {
                worth[kind] = dual.max(0.0);
            }
        }
        let offer = Offer { kinds: shop.kinds, frames: shop.frames, worth: &worth, there };
        let used: Vec<usize> = self.master.used().map(|(at, _)| at).collect();
        let mut better = Vec::new();
        for at in used {
            let Some(tree) = self.tree_of(at, &mut there.to_vec(), shop) else { continue };
            let limit = self.limit_rows[tree.frame].map_or(0.0, |row| self.master.duals[row]);
            let price = approx(self.setup.costs[tree.frame]) + limit;
            let (worth, tree) = offer.better(tree, dice, ATTEMPTS);
            self.spent += u64::from(ATTEMPTS) * AN_ATTEMPT;
            if worth > price + 1e-6 * price.max(1.0) {
                better.push(tree);
            }
        }
        better
    }

    fn state_of(&self, taken: &[usize], shop: &Shop, goal: i64) -> State {
        let mut left = self.setup.needed.clone();
        let mut state = State::default();
        let mut cost = 0;
        for &pattern in taken {
            cost += shop.costs[self.known_ways[pattern].frame];
            if cost <= goal {
                state.trees.extend(self.tree_of(pattern, &mut left, shop));
            }
        }
        for (kind, &count) in (0_u32..).zip(&left) {
            for _ in 0..count {
                state.loose.push(kind);
                state.loose_area += shop.kinds[kind as usize].area;
            }
        }
        state
    }

    /// A sheet cut so, as far as its parts are left; `None` when the saw cannot cut it.
    fn tree_of(&self, pattern: usize, left: &mut Vec<u32>, shop: &Shop) -> Option<Tree> {
        let Pattern { frame, nest, is_sheet, .. } = &self.known_ways[pattern];
        let mut rest = left.clone();
        let mut is_whole = true;
        let mut from_left = |way: usize| {
            let Way { piece, turned } = self.ways[way];
            let kind = self.pieces[piece].kind.filter(|&kind| take(&mut rest, kind));
            is_whole &= kind.is_some();
            Some((u32::try_from(kind?).unwrap_or(0), turned))
        };
        let shape = shape_of(nest, shop.kinds, &mut from_left)?;
        let can_be_cut = (*is_sheet && is_whole) || may_be_cut(&shape, &shop.frames[*frame]);
        can_be_cut.then(|| {
            *left = rest;
            Tree::of(&shape, *frame, shop.frames, shop.kinds)
        })
    }
}
