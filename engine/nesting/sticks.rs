//! Boards: exact filling for a plan at once, column generation for the bound, diving for the optimum.
//!
//! The linear programme over all ways to fill a board (Gilmore and Gomory 1961) is solved by pricing with an exact
//! knapsack. Its value, worked out again in whole numbers from its duals, is the bound. A dive then settles on the
//! whole parts of its solution and on one more filling, asks the programme anew for what is left, and so on to the end;
//! later dives choose otherwise by the dice.
//!
//! Before the programme, some plans are made board by board with worths that are corrected from one to the next: these
//! find what the programme takes long to say where nearly all fillings are equally good.

use super::boards::{BoardLayout, BoardPlan, Boards};
use super::bound::least_cost;
use super::effort::{Dice, Effort};
use super::fault::Fault;
use super::knapsack::{Choice, fill, fill_past, fill_roughly};
use super::lp::{Column, Master};
use super::verify::verify_boards;
use std::collections::BTreeMap;
use std::iter;

/// A plan for boards, how good it is, and how good any plan could be.
#[derive(Clone, Debug)]
pub struct BoardOutcome {
    /// The best plan that was found. It has passed the verifier.
    pub plan: BoardPlan,
    /// What its boards cost.
    pub cost: i64,
    /// No plan costs less than this.
    pub bound: i64,
    /// Whether cost and bound meet, so that no cheaper plan exists.
    pub proven: bool,
}

/// How many attempts a dive counts as, so that boards and sheets share one measure of work.
const DIVE: u64 = 100;

/// The best plan for boards that this effort finds, verified.
///
/// # Errors
///
/// A [`Fault`] that says what makes no sense, what is too long, or what found no place on the boards that are there.
pub fn plan_boards(problem: &Boards, effort: &Effort) -> Result<BoardOutcome, Fault> {
    problem.check()?;
    let bench = Bench::new(problem)?;
    let mut best = bench.at_once();
    let mut bound = bench.bound_by_length();
    if best.short() || best.cost > bound {
        let mut diver = Diver::new(&bench, effort, best, bound);
        diver.run();
        (best, bound) = (diver.best, diver.bound);
    }
    if best.short() {
        return Err(Fault::ShortOfStock { left: bench.items_left(&best.left) });
    }
    let plan = bench.plan_of(&best);
    verify_boards(problem, &plan).map_err(Fault::Engine)?;
    let cost = plan.cost(problem);
    Ok(BoardOutcome { plan, cost, bound, proven: cost <= bound })
}

/// How often what a dive leaves is filled with stirred worths.
const FILLS: u32 = 6;

/// How many choices of kinds of boards the quick plans are made with.
const MOST_CHOICES: usize = 13;

/// How many plans are made by worths that are corrected from one to the next.
const CORRECTIONS: u32 = 6;

/// A board's kind with how many of each length are cut from it, and how often.
#[derive(Clone, Debug)]
struct Cutting {
    stock: usize,
    counts: Vec<u32>,
    copies: u32,
}

#[derive(Clone, Debug, Default)]
struct Answer {
    cuttings: Vec<Cutting>,
    cost: i64,
    left: Vec<u32>,
}

impl Answer {
    fn short(&self) -> bool {
        self.left.iter().any(|&count| count > 0)
    }
}

/// The problem with the kerf added to lengths, equal lengths merged, longest first.
struct Bench<'a> {
    problem: &'a Boards,
    lengths: Vec<i64>,
    needed: Vec<u32>,
    items: Vec<Vec<usize>>,
    rooms: Vec<i64>,
    limits: Vec<u32>,
    costs: Vec<i64>,
}

fn gcd(a: i64, b: i64) -> i64 {
    if b == 0 { a } else { gcd(b, a % b) }
}

impl<'a> Bench<'a> {
    fn new(problem: &'a Boards) -> Result<Self, Fault> {
        let mut merged: BTreeMap<i64, Vec<usize>> = BTreeMap::new();
        for (at, item) in problem.items.iter().enumerate() {
            merged.entry(-(item.length + problem.kerf)).or_default().push(at);
        }
        let unit = merged.keys().fold(0, |unit, length| gcd(unit, length.abs())).max(1);
        let lengths: Vec<i64> = merged.keys().map(|length| -length / unit).collect();
        let items: Vec<Vec<usize>> = merged.into_values().collect();
        let needed = items.iter().map(|row| row.iter().map(|&at| problem.items[at].count).sum()).collect();
        // What is more than whole units is of no use to any sum of lengths.
        let rooms: Vec<i64> = problem.stock.iter().map(|b| (b.usable() + problem.kerf).max(0) / unit).collect();
        let limits: Vec<u32> = problem.stock.iter().map(|board| board.count.unwrap_or(u32::MAX)).collect();
        let costs = problem.stock.iter().map(|board| board.cost).collect();
        for (row, &length) in items.iter().zip(&lengths) {
            if !rooms.iter().zip(&limits).any(|(&room, &limit)| limit > 0 && room >= length) {
                return Err(Fault::TooLarge { item: row.first().copied().unwrap_or(0) });
            }
        }
        Ok(Self { problem, lengths, needed, items, rooms, limits, costs })
    }

    fn bound_by_length(&self) -> i64 {
        let total = self.lengths.iter().zip(&self.needed).map(|(&l, &n)| i128::from(l) * i128::from(n)).sum();
        least_cost(total, self.weights(|stock| self.rooms[stock]))
    }

    /// Weight that a board of each kind can hold, its cost and how many there are.
    fn weights(&self, holds: impl Fn(usize) -> i64) -> Vec<(i128, i128, u32)> {
        (0..self.rooms.len())
            .map(|stock| (i128::from(holds(stock)), i128::from(self.costs[stock]), self.limits[stock]))
            .filter(|&(weight, _, limit)| weight > 0 && limit > 0)
            .collect()
    }

    /// The better of several quick plans.
    fn at_once(&self) -> Answer {
        let none = Answer { left: self.needed.clone(), ..Answer::default() };
        let mut best: Option<Answer> = None;
        let key = |answer: &Answer| (answer.short(), answer.cost);
        let kinds = self.rooms.len();
        // With every kind of board, then without one, then with one alone: a cheap offcut that saves no whole board is dear.
        let all = iter::once(vec![true; kinds]);
        let without_one = (0..kinds).map(|out| (0..kinds).map(|stock| stock != out).collect());
        let one_alone = (0..kinds).map(|own| (0..kinds).map(|stock| stock == own).collect());
        for on_hand in all.chain(without_one).chain(one_alone).take(if kinds > 1 { MOST_CHOICES } else { 1 }) {
            for longest_first in [true, false] {
                let answer = self.filled_with(none.clone(), &on_hand, longest_first, None);
                if best.as_ref().is_none_or(|best| key(&answer) < key(best)) {
                    best = Some(answer);
                }
            }
        }
        best.unwrap_or(none)
    }

    /// Fills board after board as full as it goes, long lengths before short ones.
    fn filled(&self, answer: Answer, longest_first: bool, stir: Option<&mut Dice>) -> Answer {
        self.filled_with(answer, &vec![true; self.rooms.len()], longest_first, stir)
    }

    /// The same, with some kinds of boards only.
    fn filled_with(
        &self,
        mut answer: Answer,
        on_hand: &[bool],
        longest_first: bool,
        mut stir: Option<&mut Dice>,
    ) -> Answer {
        let mut used = self.used(&answer);
        while answer.short() {
            let mut best: Option<(i128, Cutting)> = None;
            for (stock, (&used, &limit)) in used.iter().zip(&self.limits).enumerate() {
                if used >= limit || !on_hand[stock] {
                    continue;
                }
                let counts = self.fullest(self.rooms[stock], &answer.left, longest_first, stir.as_deref_mut());
                let length: i64 = counts.iter().zip(&self.lengths).map(|(&n, &l)| i64::from(n) * l).sum();
                if length == 0 {
                    continue;
                }
                // Cost for each length that is cut; with the same cost the fuller one.
                let price = (i128::from(self.costs[stock]) * 1_000_000 + 1) * 1_000_000 / i128::from(length);
                if best.as_ref().is_none_or(|best| price < best.0) {
                    best = Some((price, Cutting { stock, counts, copies: 1 }));
                }
            }
            let Some((_, mut cutting)) = best else { break };
            let often = cutting.counts.iter().zip(&answer.left).filter(|&(&n, _)| n > 0).map(|(&n, &left)| left / n);
            let limit = self.limits[cutting.stock] - used[cutting.stock];
            cutting.copies = often.min().unwrap_or(1).min(limit).max(1);
            used[cutting.stock] += cutting.copies;
            self.put(&mut answer, cutting);
        }
        answer
    }

    /// Fills board after board by worths, then raises the worth of lengths that stood on boards with much waste: they
    /// should go first next time (sequential value correction, Mukhacheva and Zalgaller 1993).
    fn by_worth(&self, mut answer: Answer, worth: &mut [f64], dice: &mut Dice) -> Answer {
        let roomiest = approx(self.rooms.iter().copied().max().unwrap_or(1).max(1));
        let scale = 1e9 / roomiest;
        while answer.short() {
            let choices: Vec<Choice> = (0..self.lengths.len())
                .map(|at| Choice { length: self.lengths[at], worth: scaled(worth[at] * scale), most: answer.left[at] })
                .collect();
            let mut best: Option<(f64, Cutting)> = None;
            for (stock, &used) in self.used(&answer).iter().enumerate() {
                if used >= self.limits[stock] {
                    continue;
                }
                let filling = fill_roughly(&choices, self.rooms[stock], 4_000);
                let price = approx(self.costs[stock]) / approx(filling.worth.max(1));
                if filling.worth > 0 && best.as_ref().is_none_or(|best| price < best.0) {
                    best = Some((price, Cutting { stock, counts: filling.counts, copies: 1 }));
                }
            }
            let Some((_, cutting)) = best else { break };
            let filled: i64 = cutting.counts.iter().zip(&self.lengths).map(|(&n, &l)| i64::from(n) * l).sum();
            let waste = approx(self.rooms[cutting.stock]) / approx(filled.max(1));
            for (at, &count) in cutting.counts.iter().enumerate().filter(|&(_, &count)| count > 0) {
                let own = (approx(self.lengths[at]) / roomiest).powf(1.03) * roomiest * waste;
                let all = f64::from(self.needed[at] + answer.left[at]) / f64::from(count);
                let slow = (0.5 + approx(i64::try_from(dice.below(1000)).unwrap_or(0)) / 1000.0) * all;
                worth[at] = (slow * worth[at] + own) / (slow + 1.0);
            }
            self.put(&mut answer, cutting);
        }
        answer
    }

    fn used(&self, answer: &Answer) -> Vec<u32> {
        let mut used = vec![0; self.rooms.len()];
        for cutting in &answer.cuttings {
            used[cutting.stock] += cutting.copies;
        }
        used
    }

    fn put(&self, answer: &mut Answer, cutting: Cutting) {
        for (left, &count) in answer.left.iter_mut().zip(&cutting.counts) {
            *left = left.saturating_sub(count * cutting.copies);
        }
        answer.cost += self.costs[cutting.stock] * i64::from(cutting.copies);
        answer.cuttings.push(cutting);
    }

    fn fullest(&self, room: i64, left: &[u32], longest_first: bool, stir: Option<&mut Dice>) -> Vec<u32> {
        let mut counts = vec![0; left.len()];
        let mut room = room;
        if longest_first {
            // The longest that is left has to go somewhere, and it is the hardest to place.
            if let Some(at) = (0..left.len()).find(|&at| left[at] > 0 && self.lengths[at] <= room) {
                counts[at] = 1;
                room -= self.lengths[at];
            }
        }
        let square = |length: i64| length * 1000 + length * 10 / self.lengths[0].max(1);
        let mut choices: Vec<Choice> = (0..left.len())
            .map(|at| Choice { length: self.lengths[at], worth: square(self.lengths[at]), most: left[at] - counts[at] })
            .collect();
        if let Some(dice) = stir {
            let spread = [4, 16, 64][dice.below(3)];
            for choice in &mut choices {
                choice.worth += choice.length * i64::try_from(dice.below(spread)).unwrap_or(0);
            }
        }
        for (count, more) in counts.iter_mut().zip(fill(&choices, room).counts) {
            *count += more;
        }
        counts
    }

    fn is_nearly_done(&self, answer: &Answer) -> bool {
        let left: i64 = self.lengths.iter().zip(&answer.left).map(|(&length, &n)| length * i64::from(n)).sum();
        left <= 12 * self.rooms.iter().copied().max().unwrap_or(0)
    }

    fn items_left(&self, left: &[u32]) -> Vec<(usize, u32)> {
        let rows = self.items.iter().zip(left).filter(|&(_, &count)| count > 0);
        rows.map(|(row, &count)| (row.first().copied().unwrap_or(0), count)).collect()
    }

    fn plan_of(&self, answer: &Answer) -> BoardPlan {
        let mut left: Vec<Vec<(usize, u32)>> =
            self.items.iter().map(|row| row.iter().map(|&at| (at, self.problem.items[at].count)).collect()).collect();
        let mut layouts: BTreeMap<(usize, Vec<usize>), u32> = BTreeMap::new();
        for cutting in &answer.cuttings {
            for _ in 0..cutting.copies {
                let mut items = Vec::new();
                for (row, &count) in left.iter_mut().zip(&cutting.counts) {
                    for _ in 0..count {
                        if let Some((item, left)) = row.iter_mut().find(|entry| entry.1 > 0) {
                            *left -= 1;
                            items.push(*item);
                        }
                    }
                }
                if !items.is_empty() {
                    *layouts.entry((cutting.stock, items)).or_default() += 1;
                }
            }
        }
        let layouts = layouts.into_iter().map(|((stock, items), copies)| {
            let usable = self.problem.stock[stock].usable();
            let cut = |left: i64, &item: &usize| (left - self.problem.items[item].length - self.problem.kerf).max(0);
            let left = items.iter().fold(usable, cut);
            BoardLayout { stock, copies, items, left }
        });
        BoardPlan { layouts: layouts.collect() }
    }
}

struct Diver<'d, 'a> {
    bench: &'d Bench<'a>,
    effort: &'d Effort<'d>,
    dice: Dice,
    master: Master,
    /// For each column, its board and counts.
    cuttings: Vec<(usize, Vec<u32>)>,
    /// The row that limits each kind of board.
    limit_rows: Vec<Option<usize>>,
    best: Answer,
    /// What the last dive settled on before it was given up.
    last: Vec<Cutting>,
    bound: i64,
    /// Costs of all boards are whole multiples of this.
    step: i64,
    /// Whole numbers for one unit of cost in duals.
    scale: f64,
}

#[allow(clippy::cast_precision_loss)]
fn approx(value: i64) -> f64 {
    value as f64
}

#[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
fn whole(value: f64) -> u32 {
    value.clamp(0.0, 1e9) as u32
}

#[allow(clippy::cast_possible_truncation)]
fn scaled(value: f64) -> i64 {
    value.clamp(0.0, 1e17) as i64
}

impl<'d, 'a> Diver<'d, 'a> {
    fn new(bench: &'d Bench<'a>, effort: &'d Effort<'d>, best: Answer, bound: i64) -> Self {
        let mut demand: Vec<f64> = bench.needed.iter().map(|&count| f64::from(count)).collect();
        let dearest = bench.costs.iter().copied().max().unwrap_or(1).max(1);
        let mut bare = vec![20.0 * approx(dearest); demand.len()];
        let mut limit_rows = vec![None; bench.rooms.len()];
        for (stock, &limit) in bench.limits.iter().enumerate() {
            if limit != u32::MAX {
                limit_rows[stock] = Some(demand.len());
                demand.push(-f64::from(limit));
                bare.push(20.0 * approx(dearest));
            }
        }
        // A demand of exactly -0 would read as a demand, not as a limit; boards of which there are none never enter.
        let master = Master::new(demand, bare);
        let step = bench.costs.iter().fold(0, |step, &cost| gcd(step, cost)).max(1);
        let scale = approx(1 << 40) / approx(dearest);
        Self {
            bench,
            effort,
            dice: Dice::new(effort.seed),
            master,
            cuttings: Vec::new(),
            limit_rows,
            best,
            last: Vec::new(),
            bound,
            step,
            scale,
        }
    }

    fn done(&self) -> bool {
        (!self.best.short() && self.best.cost <= self.bound) || (self.effort.stop)()
    }

    fn run(&mut self) {
        for cutting in self.best.cuttings.clone() {
            self.add(cutting.stock, cutting.counts);
        }
        let needed = self.bench.needed.clone();
        for at in 0..needed.len() {
            for stock in 0..self.bench.rooms.len() {
                let fit = self.bench.rooms[stock] / self.bench.lengths[at];
                let mut counts = vec![0; needed.len()];
                counts[at] = u32::try_from(fit).unwrap_or(u32::MAX).min(needed[at]);
                if counts[at] > 0 {
                    self.add(stock, counts);
                }
            }
        }
        let mut worth: Vec<f64> = self.bench.lengths.iter().map(|&length| approx(length)).collect();
        for _ in 0..CORRECTIONS {
            if self.done() {
                return;
            }
            let none = Answer { left: needed.clone(), ..Answer::default() };
            let answer = self.bench.by_worth(none, &mut worth, &mut self.dice);
            self.offer(answer);
        }
        if !self.generate(&needed, true, usize::MAX) {
            return;
        }
        let dives = self.effort.work.div_ceil(DIVE);
        for dive in 0..dives {
            if self.done() {
                return;
            }
            self.dive(dive);
        }
    }

    fn add(&mut self, stock: usize, counts: Vec<u32>) -> bool {
        let mut entries: Vec<(usize, f64)> =
            counts.iter().enumerate().filter(|&(_, &n)| n > 0).map(|(at, &n)| (at, f64::from(n))).collect();
        if let Some(row) = self.limit_rows[stock] {
            entries.push((row, -1.0));
        }
        self.cuttings.push((stock, counts));
        self.master.add(Column { entries, cost: approx(self.bench.costs[stock]) })
    }

    /// Adds columns until the programme is solved for these demands, or so many rounds are over. At the root its duals
    /// give the bound. False when it was stopped.
    ///
    /// At the root, columns are sought not at the duals of the moment, which jump about, but near the duals that gave
    /// the best bound so far (Wentges, "Weighted Dantzig-Wolfe decomposition", 1997); the first of those are lengths.
    fn generate(&mut self, left: &[u32], root: bool, rounds: usize) -> bool {
        let bench = self.bench;
        let roomiest = approx(bench.rooms.iter().copied().max().unwrap_or(1).max(1));
        let dearest = approx(bench.costs.iter().copied().max().unwrap_or(1));
        let mut centre: Vec<f64> = bench.lengths.iter().map(|&l| approx(l) / roomiest * dearest).collect();
        let mut centre_says = 0.0;
        let mut near = root;
        for round in 0..rounds {
            self.master.settle();
            if (self.effort.stop)() {
                return false;
            }
            let pull = match (near, round) {
                (true, 0) => 1.0,
                (true, _) => 0.85,
                (false, _) => 0.0,
            };
            let duals: Vec<f64> = centre
                .iter()
                .zip(&self.master.duals)
                .map(|(centre, dual)| pull * centre + (1.0 - pull) * dual.max(0.0))
                .collect();
            let worth: Vec<i64> = duals.iter().map(|dual| scaled(dual * self.scale)).collect();
            let choices: Vec<Choice> = (0..left.len())
                .map(|at| Choice { length: bench.lengths[at], worth: worth[at], most: left[at] })
                .collect();
            let mut better = false;
            let mut holds = vec![0; bench.rooms.len()];
            for (stock, held) in holds.iter_mut().enumerate() {
                if bench.limits[stock] == 0 {
                    continue;
                }
                let limit = self.limit_rows[stock].map_or(0.0, |row| self.master.duals[row].max(0.0));
                let price = (approx(bench.costs[stock]) + limit) * self.scale * (1.0 + 1e-7);
                // A dive need not be sure that it has the best column; the bound must be.
                let filling = fill_past(&choices, bench.rooms[stock], if root { scaled(price) + 1 } else { 0 });
                *held = filling.upper;
                let hard = filling.is_hard;
                better |= self.add_if_better(stock, filling.counts);
                if left.len() > 40 && (root || hard) {
                    better |= self.add_more(&choices, stock);
                }
            }
            if root {
                let total: i128 =
                    worth.iter().zip(&bench.needed).map(|(&worth, &n)| i128::from(worth) * i128::from(n)).sum();
                self.bound = self.bound.max(least_cost(total, bench.weights(|stock| holds[stock])));
                if self.done() {
                    return false;
                }
                let wanted: f64 = duals.iter().zip(&bench.needed).map(|(dual, &n)| dual * f64::from(n)).sum();
                let share = |(&holds, &cost): (&i64, &i64)| approx(holds) / self.scale / approx(cost.max(1));
                let says = wanted / holds.iter().zip(&bench.costs).map(share).fold(1e-9, f64::max);
                if says > centre_says {
                    centre_says = says;
                    centre = duals;
                }
            }
            // The programme's value only falls: once it is not above the bound, it has no more to prove.
            if root && self.master.objective() <= approx(self.bound) + 1e-9 {
                return true;
            }
            if !better {
                if !near {
                    return true;
                }
                near = false;
            } else if root {
                near = true;
            }
        }
        true
    }

    /// Takes in a column if the programme can use it at its duals of the moment.
    fn add_if_better(&mut self, stock: usize, counts: Vec<u32>) -> bool {
        let limit = self.limit_rows[stock].map_or(0.0, |row| self.master.duals[row]);
        let worth = |(dual, &n): (&f64, &u32)| dual * f64::from(n);
        let gain: f64 = self.master.duals.iter().zip(&counts).map(worth).sum();
        let price = approx(self.bench.costs[stock]) + limit;
        gain > price + 1e-7 * price.max(1.0) && self.add(stock, counts)
    }

    /// One round of pricing brings in a column for each length that is worth one.
    fn add_more(&mut self, choices: &[Choice], stock: usize) -> bool {
        let room = self.bench.rooms[stock];
        let mut better = false;
        let mut rest = choices.to_vec();
        for at in 0..choices.len() {
            let own = choices[at];
            if own.most == 0 || own.length > room {
                continue;
            }
            rest[at].most -= 1;
            let filling = fill_roughly(&rest, room - own.length, 60);
            rest[at].most += 1;
            let mut counts = filling.counts;
            counts[at] += 1;
            better |= self.add_if_better(stock, counts);
        }
        better
    }

    /// From the whole problem down to nothing left, or to where the programme says that it will be no better.
    fn dive(&mut self, number: u64) {
        let bench = self.bench;
        let mut answer = Answer { left: bench.needed.clone(), ..Answer::default() };
        // Most dives keep the beginning of the one before and go another way from there.
        let keep = if self.dice.once_in(4) { 0 } else { self.dice.below(self.last.len() + 1) };
        for cutting in self.last.drain(..).take(keep) {
            bench.put(&mut answer, cutting);
        }
        let mut depth = 0;
        let mut strays = number > 0;
        loop {
            self.last.clone_from(&answer.cuttings);
            self.ask(&answer);
            let rounds = if depth == 0 { 200 } else { 60 };
            if !self.generate(&answer.left, false, rounds) {
                return;
            }
            let goal = if self.best.short() { f64::INFINITY } else { approx(self.best.cost - self.step) };
            if approx(answer.cost) + self.master.objective() > goal + 1e-6 {
                return;
            }
            let before = answer.cuttings.len();
            let mut used: Vec<(usize, f64)> = self.master.used().collect();
            for &(column, level) in &used {
                let copies = whole(level + 1e-4);
                self.take(&mut answer, column, copies);
            }
            for (_, level) in &mut used {
                *level = (*level + 1e-4).fract();
            }
            used.sort_by(|a, b| b.1.total_cmp(&a.1).then(a.0.cmp(&b.0)));
            // The first dive follows the programme; later ones stray more or less.
            let stray = strays || (number > 0 && self.dice.once_in(4));
            strays = false;
            let first = if stray { self.dice.below(used.len().min(10)) } else { 0 };
            let mut taken = answer.cuttings.len() > before;
            for at in iter::once(first).chain(0..used.len()) {
                let Some(&(column, level)) = used.get(at) else { break };
                if taken && level < 0.92 {
                    if at == first && level > 0.6 {
                        self.take(&mut answer, column, 1);
                    }
                    continue;
                }
                taken |= self.take(&mut answer, column, 1);
            }
            // Only the end of a dive is worth a try by hand: most of its boards are settled, and few are left to fill.
            if bench.is_nearly_done(&answer) {
                self.offer(bench.filled(answer.clone(), true, None));
                for _ in 0..FILLS {
                    if self.done() {
                        return;
                    }
                    let answer = bench.filled(answer.clone(), true, Some(&mut self.dice));
                    self.offer(answer);
                }
            }
            if self.done() || !answer.short() || !taken {
                return;
            }
            depth += 1;
        }
    }

    /// Settles on a cutting if all of it is still needed; false when it is not.
    fn take(&self, answer: &mut Answer, column: usize, copies: u32) -> bool {
        let (stock, counts) = &self.cuttings[column];
        let often = counts.iter().zip(&answer.left).filter(|&(&n, _)| n > 0).map(|(&n, &left)| left / n);
        let used = self.bench.used(answer)[*stock];
        let copies = often.min().unwrap_or(0).min(copies).min(self.bench.limits[*stock].saturating_sub(used));
        if copies == 0 {
            return false;
        }
        self.bench.put(answer, Cutting { stock: *stock, counts: counts.clone(), copies });
        true
    }

    fn offer(&mut self, answer: Answer) {
        let key = |answer: &Answer| (answer.short(), answer.cost);
        if key(&answer) < key(&self.best) {
            self.best = answer;
        }
    }

    /// Asks the programme for what is left; columns that cut more than that are too dear to be used.
    fn ask(&mut self, answer: &Answer) {
        let bench = self.bench;
        let mut demand: Vec<f64> = answer.left.iter().map(|&count| f64::from(count)).collect();
        let used = bench.used(answer);
        for (stock, row) in self.limit_rows.iter().enumerate() {
            if row.is_some() {
                demand.push(-f64::from(bench.limits[stock] - used[stock]));
            }
        }
        let dear = 10.0 * approx(bench.costs.iter().copied().max().unwrap_or(1).max(1));
        let costs: Vec<Option<f64>> = self
            .cuttings
            .iter()
            .map(|(stock, counts)| {
                let proper = counts.iter().zip(&answer.left).all(|(&count, &left)| count <= left);
                proper.then(|| approx(bench.costs[*stock]))
            })
            .collect();
        self.master.ask(demand, &costs, dear);
    }
}
