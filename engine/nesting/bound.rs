//! Lower bounds on cost: no plan is cheaper.
//!
//! All of them weigh parts. A *scale* in one dimension gives each length a weight such that what fits into the sheet's
//! width weighs no more than a figure F; with a second scale for heights and a figure G, the products of weights of parts
//! that fit into one sheet add up to no more than F·G (Fekete and Schepers, "A general framework for bounds for
//! higher-dimensional orthogonal packing problems", 2004). Scales come from dual feasible functions (after the survey
//! of Clautiaux, Alves and Valério de Carvalho, 2010) and from the duals of a linear programme over one-dimensional
//! fillings (the bar relaxation of Scheithauer, 1999), in turn for one dimension and the other.
//!
//! The figures F and G of a scale are found by an exact knapsack, and everything that decides is whole numbers.

use super::knapsack::{Choice, Filling, fill};
use super::lp::{Column, Master};
use super::setup::{Piece, Setup, fits_so};
use super::tree::Frame;
use std::cell::Cell;
use std::collections::BTreeMap;

/// One part kind in one way to lie.
#[derive(Clone, Copy)]
struct Lying {
    kind: usize,
    width: i64,
    height: i64,
}

/// Weights for every way to lie, by place in the list.
type Scale = Vec<i64>;

/// What fills a room: how long it is, and how often each way to lie is used.
type Filled = (i64, Vec<(usize, u32)>);

/// The largest weight that a scale may give, so that sums of products stay within `i128`.
const UNIT: i64 = 1 << 30;

pub(super) struct Bounds<'s, 'p> {
    setup: &'s Setup<'p>,
    pieces: Vec<Piece>,
    ways: Vec<Lying>,
    pub best: i64,
    /// The pairs of scales that said most, best first.
    good: Vec<(i64, Scale, Scale)>,
    /// The pairs that linear programmes begin with, and which of them comes next, twice each.
    starts: Vec<(Scale, Scale)>,
    next: usize,
    /// The work that fillings and programmes have taken, in entries of a table.
    spent: Cell<u64>,
    /// What fills a height and what fills a width, found for any weights: how long it is, and how often each way to lie is used.
    fillings: [Vec<Filled>; 2],
}

impl<'s, 'p> Bounds<'s, 'p> {
    /// The bounds that take no time to speak of: area and dual feasible functions.
    pub fn new(setup: &'s Setup<'p>) -> Self {
        let pieces = setup.pieces(true);
        let mut ways = Vec::new();
        for (kind, piece) in pieces.iter().enumerate() {
            for turned in [false, true] {
                let (width, height) = if turned { (piece.height, piece.width) } else { (piece.width, piece.height) };
                let fits = |(frame, &limit): (&Frame, &u32)| {
                    let can_be_cut = |kind: usize| fits_so(&setup.kinds[kind], frame, turned);
                    limit > 0 && width <= frame.width && height <= frame.height && piece.kind.is_none_or(can_be_cut)
                };
                if (!turned || piece.turns) && setup.frames.iter().zip(&setup.limits).any(fits) {
                    ways.push(Lying { kind, width, height });
                }
            }
        }
        let mut bounds = Self {
            setup,
            pieces,
            ways,
            best: 0,
            good: Vec::new(),
            starts: Vec::new(),
            next: 0,
            spent: Cell::new(0),
            fillings: [const { Vec::new() }; 2],
        };
        bounds.by_functions();
        bounds.best = bounds.best.max(bounds.dearest());
        bounds
    }

    /// Whatever else: each part comes out of some sheet, at best the cheapest that it goes into.
    fn dearest(&self) -> i64 {
        let cheapest = |kind: usize| {
            let goes_into = |at: usize| {
                let frame = &self.setup.frames[at];
                let is_in = |way: &Lying| way.kind == kind && way.width <= frame.width && way.height <= frame.height;
                self.setup.limits[at] > 0 && self.ways.iter().any(is_in)
            };
            (0..self.setup.frames.len()).filter(|&at| goes_into(at)).map(|at| self.setup.costs[at]).min()
        };
        (0..self.pieces.len()).filter_map(cheapest).max().unwrap_or(0)
    }

    /// What a pair of scales proves, given the most that each kind of sheet can hold of it.
    fn proves(&self, upright: &[i64], flat: &[i64], most: impl Fn(usize) -> (i64, i64)) -> i64 {
        let mut total = 0_i128;
        let mut at = 0;
        while at < self.ways.len() {
            let kind = self.ways[at].kind;
            let mut least = i128::MAX;
            while at < self.ways.len() && self.ways[at].kind == kind {
                least = least.min(i128::from(upright[at]) * i128::from(flat[at]));
                at += 1;
            }
            total += least * i128::from(self.pieces[kind].needed);
        }
        self.price(total, &most)
    }

    /// The least cost of sheets that together hold a weight of `total`.
    fn price(&self, total: i128, most: &impl Fn(usize) -> (i64, i64)) -> i64 {
        let sheets: Vec<(i128, i128, u32)> = (0..self.setup.frames.len())
            .map(|sheet| {
                let (width, height) = most(sheet);
                (i128::from(width) * i128::from(height), i128::from(self.setup.costs[sheet]), self.setup.limits[sheet])
            })
            .filter(|&(weight, _, limit)| weight > 0 && limit > 0)
            .collect();
        least_cost(total, sheets)
    }

    fn offer(&mut self, bound: i64, upright: Scale, flat: Scale) {
        self.best = self.best.max(bound);
        self.good.push((bound, upright, flat));
        self.good.sort_by_key(|entry| -entry.0);
        self.good.truncate(12);
    }

    /// The largest usable width and height of any sheet.
    fn largest(&self) -> (i64, i64) {
        let frames = || self.setup.frames.iter().zip(&self.setup.limits).filter(|&(_, &limit)| limit > 0);
        let width = frames().map(|(frame, _)| frame.width).max().unwrap_or(0);
        let height = frames().map(|(frame, _)| frame.height).max().unwrap_or(0);
        (width, height)
    }

    fn by_functions(&mut self) {
        let (width, height) = self.largest();
        let widths: Vec<i64> = self.ways.iter().map(|way| way.width).collect();
        let heights: Vec<i64> = self.ways.iter().map(|way| way.height).collect();
        let (upright, flat) = (scales(width, &widths), scales(height, &heights));
        let frames = &self.setup.frames;
        // A dual feasible function for the largest sheet holds for a smaller one too; the area itself is exact there.
        for (first, (one, whole_one)) in upright.iter().enumerate() {
            for (second, (two, whole_two)) in flat.iter().enumerate() {
                let most = |sheet: usize| {
                    let wide = if first == 0 { frames[sheet].width } else { *whole_one };
                    let high = if second == 0 { frames[sheet].height } else { *whole_two };
                    (wide, high)
                };
                let bound = self.proves(one, two, most);
                let last = self.good.last().map_or(0, |entry| entry.0);
                if bound > last || self.good.len() < 4 {
                    self.offer(bound, one.clone(), two.clone());
                }
            }
        }
    }

    /// Improves one of the best pairs of scales by linear programmes, one dimension after the other, until `enough` is
    /// reached, the work is more than a table of so many entries takes, or `stop` says so. Returns the work that it took.
    pub fn by_bars(&mut self, enough: i64, allowed: u64, stop: &dyn Fn() -> bool) -> u64 {
        let before = self.spent.get();
        self.improve(enough, &|this| this.spent.get() - before > allowed || stop());
        self.spent.get() - before
    }

    fn improve(&mut self, enough: i64, stop: &dyn Fn(&Self) -> bool) {
        if self.starts.is_empty() && self.next == 0 {
            self.starts = self.good.iter().take(6).map(|(_, a, b)| (a.clone(), b.clone())).collect();
        }
        let Some((upright, flat)) = self.starts.get(self.next / 2).cloned() else { return };
        let mut is_upright = self.next.is_multiple_of(2);
        let (mut one, mut two) = (upright, flat);
        let mut last = 0.0;
        for _ in 0..6 {
            if self.best >= enough || stop(self) {
                return;
            }
            let fixed = if is_upright { &two } else { &one };
            let Some((scale, value)) = self.best_scale(is_upright, &fixed.clone(), stop) else {
                if stop(self) {
                    return;
                }
                break;
            };
            if is_upright {
                one = scale;
            } else {
                two = scale;
            }
            let bound = self.exact(&one, &two);
            self.best = self.best.max(bound);
            if value < last * 1.001 {
                break;
            }
            last = value;
            is_upright = !is_upright;
        }
        self.next += 1;
    }

    /// What a pair of scales proves when the most that a sheet holds of each is found by knapsack.
    fn exact(&self, upright: &[i64], flat: &[i64]) -> i64 {
        let mut known = [const { BTreeMap::new() }; 2];
        let mut heaviest = |is_upright: bool, scale: &[i64], room: i64| -> i64 {
            *known[usize::from(is_upright)].entry(room).or_insert_with(|| self.heaviest(is_upright, scale, room))
        };
        let frames = self.setup.frames.iter();
        let figures: Vec<(i64, i64)> =
            frames.map(|frame| (heaviest(true, upright, frame.width), heaviest(false, flat, frame.height))).collect();
        self.proves(upright, flat, |sheet| figures[sheet])
    }

    fn choices(&self, is_upright: bool, scale: &[i64]) -> Vec<Choice> {
        let length = |way: &Lying| if is_upright { way.width } else { way.height };
        let most = |way: &Lying| self.pieces[way.kind].needed;
        self.ways
            .iter()
            .zip(scale)
            .map(|(way, &worth)| Choice { length: length(way), worth, most: most(way) })
            .collect()
    }

    fn heaviest(&self, is_upright: bool, scale: &[i64], room: i64) -> i64 {
        self.fill(&self.choices(is_upright, scale), room).upper
    }

    fn fill(&self, choices: &[Choice], room: i64) -> Filling {
        let filling = fill(choices, room);
        self.spent.set(self.spent.get() + filling.steps);
        filling
    }

    /// The lengths of sheets in one dimension, each with what one of them may weigh in it when the scale in the other is fixed: the less
    /// it costs for what it holds there, the less. Where any number of some sheets can be had, these alone say what a part is worth.
    fn rooms(&self, is_upright: bool, fixed: &[i64]) -> Vec<(i64, f64)> {
        let setup = self.setup;
        let unlimited = setup.limits.contains(&u32::MAX);
        let counts = |limit: u32| if unlimited { limit == u32::MAX } else { limit > 0 };
        let sides = |frame: &Frame| if is_upright { (frame.width, frame.height) } else { (frame.height, frame.width) };
        let open = setup.frames.iter().zip(&setup.limits).zip(&setup.costs).filter(|((_, limit), _)| counts(**limit));
        let open: Vec<(i64, i64, i64)> =
            open.map(|((frame, _), &cost)| (sides(frame).0, sides(frame).1, cost)).collect();
        let alike = open.iter().all(|&(_, other, cost)| (other, cost) == (open[0].1, open[0].2));
        let mut rooms: Vec<(i64, f64)> = Vec::new();
        for (room, other, cost) in open {
            let holds = if alike { UNIT } else { self.heaviest(!is_upright, fixed, other) };
            if room <= 0 || holds <= 0 || cost <= 0 {
                continue;
            }
            let price = if alike { 1.0 } else { approx(cost) / approx(holds) };
            match rooms.iter_mut().find(|(own, _)| *own == room) {
                Some((_, least)) => *least = least.min(price),
                None => rooms.push((room, price)),
            }
        }
        let dearest = rooms.iter().map(|&(_, price)| price).fold(0.0, f64::max);
        for (_, price) in &mut rooms {
            *price /= dearest;
        }
        rooms
    }

    /// The best scale in one dimension when the other is fixed, with the programme's value.
    fn best_scale(&mut self, is_upright: bool, fixed: &[i64], stop: &dyn Fn(&Self) -> bool) -> Option<(Scale, f64)> {
        let rooms = self.rooms(is_upright, fixed);
        // A kind with weight 0 in one way to lie weighs nothing whatever the other scale says.
        let mut rows: Vec<usize> = vec![usize::MAX; self.pieces.len()];
        let mut weights: Vec<f64> = Vec::new();
        let mut demand = Vec::new();
        let mut at = 0;
        while at < self.ways.len() {
            let kind = self.ways[at].kind;
            let end = at + self.ways[at..].iter().take_while(|way| way.kind == kind).count();
            if fixed[at..end].iter().all(|&weight| weight > 0) {
                rows[kind] = demand.len();
                let weight = approx(fixed[at]) / approx(UNIT);
                weights.push(weight);
                demand.push(weight * f64::from(self.pieces[kind].needed));
            }
            at = end;
        }
        if demand.is_empty() {
            return None;
        }
        // How much of its row a way to lie covers: 1 for the first, in proportion for the other.
        let share = |at: usize| {
            let row = rows[self.ways[at].kind];
            (row != usize::MAX).then(|| (row, weights[row] / (approx(fixed[at]) / approx(UNIT))))
        };
        let bare: Vec<f64> = (0..demand.len())
            .map(|row| {
                let shares = (0..self.ways.len()).filter_map(share).filter(|&(own, _)| own == row);
                4.0 / shares.map(|(_, share)| share).fold(f64::INFINITY, f64::min).min(1.0)
            })
            .collect();
        let mut master = Master::new(demand, bare);
        let scaled = |duals: &[f64]| -> Scale {
            (0..self.ways.len())
                .map(|at| share(at).map_or(0, |(row, share)| whole(duals[row].max(0.0) * share * approx(UNIT))))
                .collect()
        };
        // Single kinds first: a start that covers every row.
        for at in 0..self.ways.len() {
            if let Some((row, share)) = share(at) {
                let length = if is_upright { self.ways[at].width } else { self.ways[at].height };
                for &(room, cost) in &rooms {
                    let most = (room / length).min(i64::from(self.pieces[self.ways[at].kind].needed));
                    if most > 0 {
                        master.add(Column { entries: vec![(row, approx(most) * share)], cost });
                    }
                }
            }
        }
        for (room, counts) in &self.fillings[usize::from(is_upright)] {
            let entries = entries_of(counts, &share);
            let cost = rooms.iter().find(|(own, _)| own == room);
            if let Some(&(_, cost)) = cost.filter(|_| !entries.is_empty()) {
                master.add(Column { entries, cost });
            }
        }
        for _ in 0..2000 {
            master.settle();
            self.spent.set(self.spent.get() + std::mem::take(&mut master.steps));
            if stop(self) {
                return None;
            }
            let scale = scaled(&master.duals);
            let mut better = false;
            for &(room, cost) in &rooms {
                let filling = self.fill(&self.choices(is_upright, &scale), room);
                if approx(filling.worth) <= approx(UNIT) * cost * (1.0 + 1e-6) {
                    continue;
                }
                let used = filling.counts.iter().enumerate().filter(|&(_, &count)| count > 0);
                let counts: Vec<(usize, u32)> = used.map(|(at, &count)| (at, count)).collect();
                let entries = entries_of(&counts, &share);
                self.fillings[usize::from(is_upright)].push((room, counts));
                better |= master.add(Column { entries, cost });
            }
            if !better {
                return Some((scale, master.objective()));
            }
        }
        None
    }
}

/// What a filling covers of each row.
fn entries_of(counts: &[(usize, u32)], share: &impl Fn(usize) -> Option<(usize, f64)>) -> Vec<(usize, f64)> {
    let mut entries: Vec<(usize, f64)> = Vec::new();
    for &(at, count) in counts {
        let Some((row, share)) = share(at) else { continue };
        match entries.iter_mut().find(|entry| entry.0 == row) {
            Some(entry) => entry.1 += f64::from(count) * share,
            None => entries.push((row, f64::from(count) * share)),
        }
    }
    entries
}

/// Sizes and weights as floating numbers, for the linear programme only.
#[allow(clippy::cast_precision_loss)]
fn approx(value: i64) -> f64 {
    value as f64
}

#[allow(clippy::cast_possible_truncation)]
fn whole(value: f64) -> i64 {
    value.min(1e15) as i64
}

/// The least cost of sheets (weight, cost, how many there are) that together hold a weight of `total`, as the linear
/// programme has it, rounded up to what costs of these sheets can add up to.
pub(super) fn least_cost(total: i128, mut sheets: Vec<(i128, i128, u32)>) -> i64 {
    // The cheapest for its weight first; compared by products, so no fraction is needed.
    sheets.sort_by(|a, b| less_per_weight(*a, *b));
    let mut left = total;
    let mut cost = 0_i128;
    for &(weight, price, limit) in &sheets {
        if left <= 0 {
            break;
        }
        let whole = left / weight;
        if limit != u32::MAX && whole >= i128::from(limit) {
            cost += price * i128::from(limit);
            left -= weight * i128::from(limit);
        } else {
            // This kind is enough for all that is left; the last of them counts in part.
            cost += price * whole;
            let part = left - whole * weight;
            cost += mul_div_up(price, part, weight);
            left = 0;
        }
    }
    let step = sheets.iter().fold(0, |step, sheet| gcd(step, sheet.1)).max(1);
    let cost = (cost + step - 1) / step * step;
    i64::try_from(cost).unwrap_or(i64::MAX)
}

fn less_per_weight(a: (i128, i128, u32), b: (i128, i128, u32)) -> std::cmp::Ordering {
    match (a.1.checked_mul(b.0), b.1.checked_mul(a.0)) {
        (Some(one), Some(two)) => one.cmp(&two),
        _ => (a.1 * (b.0 >> 40)).cmp(&(b.1 * (a.0 >> 40))),
    }
}

/// price * part / weight, rounded up, for part < weight.
fn mul_div_up(price: i128, part: i128, weight: i128) -> i128 {
    match price.checked_mul(part) {
        Some(product) => (product + weight - 1) / weight,
        // Rounded down where the product is out of range: the bound stays true.
        None => price * (part >> 40) / ((weight >> 40) + 1),
    }
}

fn gcd(a: i128, b: i128) -> i128 {
    if b == 0 { a } else { gcd(b, a % b) }
}

/// Dual feasible functions for a room and these lengths, as weights with the most that fits into the room. The first
/// is the length itself.
fn scales(room: i64, lengths: &[i64]) -> Vec<(Scale, i64)> {
    const EACH: usize = 24;
    let mut found: Vec<(Scale, i64)> = vec![(lengths.to_vec(), room)];
    let mut marks: Vec<i64> = lengths
        .iter()
        .flat_map(|&length| [length, room - length + 1])
        .filter(|&mark| mark > 0 && 2 * mark <= room)
        .collect();
    marks.sort_unstable();
    marks.dedup();
    let every = marks.len().div_ceil(EACH).max(1);
    for &mark in marks.iter().step_by(every) {
        // All that is longer than the rest beside a mark counts as the whole, all that is shorter than the mark as
        // nothing.
        let cut = |length: i64| {
            if length > room - mark {
                room
            } else if length >= mark {
                length
            } else {
                0
            }
        };
        found.push((lengths.iter().map(|&length| cut(length)).collect(), room));
        // How many marks fit, counted from the other side for what is longer than half.
        let fit = room / mark;
        let count = |length: i64| match (2 * length).cmp(&room) {
            std::cmp::Ordering::Greater => 2 * (fit - (room - length) / mark),
            std::cmp::Ordering::Equal => fit,
            std::cmp::Ordering::Less => 2 * (length / mark),
        };
        found.push((lengths.iter().map(|&length| count(length)).collect(), 2 * fit));
    }
    for parts in 2..=12_i64 {
        // Steps of a whole number of parts; exact multiples keep their length.
        let step = |length: i64| {
            let product = i128::from(length) * i128::from(parts + 1);
            let steps = if product % i128::from(room) == 0 {
                i128::from(length) * i128::from(parts)
            } else {
                product / i128::from(room) * i128::from(room)
            };
            i64::try_from(steps).unwrap_or(0)
        };
        found.push((lengths.iter().map(|&length| step(length)).collect(), room * parts));
    }
    // Half and more: at most one of them.
    found.push((lengths.iter().map(|&length| i64::from(2 * length > room)).collect(), 1));
    found.sort_by(|a, b| (a.1 != room, &a.0).cmp(&(b.1 != room, &b.0)));
    found.dedup();
    let identity = found.iter().position(|(scale, _)| scale == lengths).unwrap_or(0);
    found.swap(0, identity);
    found
}
