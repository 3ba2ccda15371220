//! The linear programme over all ways to cut a sheet: a bound, and sheets to begin a search with.
//!
//! How often should each way to cut a sheet be used, if it need not be used a whole number of times (Gilmore and Gomory
//! 1965)? The ways are far too many to list, so they come one by one: those that are worth more than a sheet costs, by
//! the programme's duals, found by the exact table of [`Heaviest`]. What the table says of any duals is also a bound,
//! worked out in whole numbers: if no sheet can hold more than so much worth, so many sheets are needed.
//!
//! Kerf, sizes and turning are held here; stages, ways and the saw's limits are not, which only makes the bound lower.
//! The members of a matched set count one by one.

mod dive;

use crate::nesting::bound::least_cost;
use crate::nesting::heaviest::{Heaviest, Lying, MOST_WORTH, Nest};
use crate::nesting::lp::{Column, Master};
use crate::nesting::problem::Axis;
use crate::nesting::search::State;
use crate::nesting::setup::{Piece, Setup};
use crate::nesting::tree::{Frame, Kind, Shape, Tree};

/// The most steps that a round may take; some tenths of a second.
const MOST_STEPS: u64 = 1_000_000_000;

/// The most different pieces that a linear programme is asked about.
const MOST_PIECES: usize = 400;

/// Steps that are spent on the programme even when its bound cannot rise any more: what is nearly solved leaves better
/// ways to cut for the dives.
const CHEAP_STEPS: u64 = 8_000_000_000;

/// A piece in one way to lie.
#[derive(Clone, Copy)]
struct Way {
    piece: usize,
    turned: bool,
}

/// A way to cut a sheet.
struct Pattern {
    frame: usize,
    nest: Nest,
    /// How many of which pieces it cuts.
    counts: Vec<(usize, u32)>,
    /// Whether a search has made it, so that the saw can cut it.
    is_sheet: bool,
}

impl Pattern {
    fn is_within(&self, left: &[u32]) -> bool {
        self.counts.iter().all(|&(piece, count)| count <= left[piece])
    }
}

pub(super) struct Patterns<'s, 'p> {
    setup: &'s Setup<'p>,
    pieces: Vec<Piece>,
    ways: Vec<Way>,
    lying: Vec<Lying>,
    /// For each kind of sheet, its exact and its rough table, if there are any of it and its sizes are not too many. Where
    /// they are, the programme proves nothing, and ways to cut come from searches alone.
    tables: Vec<Option<(Heaviest, Heaviest)>>,
    master: Master,
    known_ways: Vec<Pattern>,
    limit_rows: Vec<Option<usize>>,
    /// The duals that gave the best bound, and the bound that they gave.
    centre: (f64, Vec<f64>),
    /// Whether the rough tables find nothing more at the duals of the moment.
    is_rough: bool,
    near: bool,
    /// No plan costs less than this.
    pub bound: i64,
    is_solved: bool,
    /// Sheets and free area of the plan that was learned from last.
    known: (usize, i64),
    /// Steps of tables that were made so far.
    pub spent: u64,
}

#[allow(clippy::cast_precision_loss)]
fn approx(value: i64) -> f64 {
    value as f64
}

#[allow(clippy::cast_possible_truncation)]
fn scaled(value: f64) -> i64 {
    value.clamp(0.0, approx(MOST_WORTH)) as i64
}

#[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
fn whole(value: f64) -> u32 {
    value.clamp(0.0, 1e9) as u32
}

impl<'s, 'p> Patterns<'s, 'p> {
    /// `None` when there are too many different pieces for a linear programme.
    pub fn new(setup: &'s Setup<'p>) -> Option<Self> {
        let pieces = setup.pieces(false);
        if pieces.len() > MOST_PIECES {
            return None;
        }
        let mut ways = Vec::new();
        let mut lying = Vec::new();
        for (at, piece) in pieces.iter().enumerate() {
            ways.push(Way { piece: at, turned: false });
            lying.push(Lying { width: piece.width, height: piece.height });
            if piece.turns {
                ways.push(Way { piece: at, turned: true });
                lying.push(Lying { width: piece.height, height: piece.width });
            }
        }
        let tables = tables_of(setup, &lying);
        let is_solved = tables.is_none();
        let tables = tables.unwrap_or_else(|| setup.frames.iter().map(|_| None).collect());
        let mut demand: Vec<f64> = pieces.iter().map(|piece| f64::from(piece.needed)).collect();
        let dearest = approx(setup.costs.iter().copied().max().unwrap_or(1).max(1));
        let mut limit_rows = vec![None; tables.len()];
        for (sheet, &limit) in setup.limits.iter().enumerate() {
            if limit != u32::MAX && limit > 0 {
                limit_rows[sheet] = Some(demand.len());
                demand.push(-f64::from(limit));
            }
        }
        let bare = vec![20.0 * dearest; demand.len()];
        let largest = setup.frames.iter().map(|frame| area(frame.width, frame.height)).fold(1.0, f64::max);
        let centre = pieces.iter().map(|piece| area(piece.width, piece.height) / largest * dearest).collect();
        Some(Self {
            setup,
            pieces,
            ways,
            lying,
            tables,
            master: Master::new(demand, bare),
            known_ways: Vec::new(),
            limit_rows,
            centre: (0.0, centre),
            is_rough: true,
            near: true,
            bound: 0,
            is_solved,
            known: (0, 0),
            spent: 0,
        })
    }

    /// Takes over a bound, and the sheets of a plan as ways to cut.
    pub fn learn(&mut self, bound: i64, state: &State) {
        self.bound = self.bound.max(bound);
        let key = (state.trees.len(), state.trees.iter().map(|tree| tree.free).sum());
        if std::mem::replace(&mut self.known, key) == key {
            return;
        }
        state.trees.iter().for_each(|tree| self.take_in(tree));
    }

    /// Takes in a sheet that a search has found as a way to cut.
    pub fn take_in(&mut self, tree: &Tree) {
        if let Some(nest) = self.nest_of(tree)
            && let Some(column) = self.know(tree.frame, nest, true)
        {
            self.master.push(column);
        }
    }

    fn nest_of(&self, tree: &Tree) -> Option<Nest> {
        let way_of = |kind: u32, turned: bool| {
            let is_it = |way: &Way| self.pieces[way.piece].kind == Some(kind as usize) && way.turned == turned;
            self.ways.iter().position(is_it)
        };
        nest_of(&tree.shape()?, &way_of)
    }

    fn add(&mut self, frame: usize, nest: Nest) -> bool {
        self.know(frame, nest, false).is_some_and(|column| self.master.add(column))
    }

    fn know(&mut self, frame: usize, nest: Nest, is_sheet: bool) -> Option<Column> {
        let counts = self.counts(&nest).into_iter().enumerate().filter(|&(_, count)| count > 0);
        let counts: Vec<(usize, u32)> = counts.collect();
        let mut entries: Vec<(usize, f64)> = counts.iter().map(|&(at, count)| (at, f64::from(count))).collect();
        if entries.is_empty() {
            return None;
        }
        if let Some(row) = self.limit_rows[frame] {
            entries.push((row, -1.0));
        }
        self.known_ways.push(Pattern { frame, nest, counts, is_sheet });
        Some(Column { entries, cost: approx(self.setup.costs[frame]) })
    }

    fn counts(&self, nest: &Nest) -> Vec<u32> {
        let mut counts = vec![0; self.pieces.len()];
        count(nest, &mut |way| counts[self.ways[way].piece] += 1);
        counts
    }

    /// Whether more rounds can raise the bound.
    pub fn can_rise(&self) -> bool {
        // The programme's value only falls: once it is not above the bound, it has no more to prove.
        !self.is_solved && self.master.objective() > approx(self.bound) + 1e-9
    }

    /// Whether more rounds can better the bound, or the ways to cut at little cost.
    fn is_open(&self) -> bool {
        self.can_rise() || (!self.is_solved && self.spent + self.steps() <= CHEAP_STEPS)
    }

    /// Brings in ways to cut until so many steps are made, or until the bound is enough or cannot rise any more.
    pub fn advance(&mut self, enough: i64, steps: u64, stop: &dyn Fn() -> bool) {
        let end = self.spent + steps;
        let round = self.steps();
        if steps < round || !self.is_open() {
            return;
        }
        while self.spent + round <= end && self.bound < enough && self.is_open() && !stop() {
            self.round();
        }
    }

    /// Steps of a round.
    fn steps(&self) -> u64 {
        self.tables.iter().flatten().map(|(exact, _)| exact.steps()).sum()
    }

    /// Weights at which to look for a way to cut: near the best duals so far (Wentges 1997), or the duals themselves.
    fn duals(&self, pull: f64) -> Vec<f64> {
        let both = self.centre.1.iter().zip(&self.master.duals);
        both.map(|(centre, dual)| pull * centre + (1.0 - pull) * dual.max(0.0)).collect()
    }

    fn round(&mut self) {
        self.master.settle();
        let needed: Vec<u32> = self.pieces.iter().map(|piece| piece.needed).collect();
        if self.is_rough {
            // The rough tables prove nothing, so they are asked at the duals themselves.
            let duals = self.duals(0.0);
            self.is_rough = self.enrich(duals, &needed);
            return;
        }
        let duals = self.duals(match (self.near, self.centre.0 > 0.0) {
            (false, _) => 0.0,
            (true, false) => 1.0,
            (true, true) => 0.8,
        });
        let (worth, scale) = self.weights(&duals, &needed);
        let (holds, found) = self.look(true, &worth);
        self.prove(&worth, scale, &holds, duals);
        // Ways that cut more than is needed give the better bound; what is needed of them is a way to cut too.
        let mut better = self.add_all(found.clone(), &needed);
        better |= self.add_all(found, &vec![u32::MAX; needed.len()]);
        if self.centre.0 + 1e-6 >= self.master.objective() || !(better || self.near) {
            self.is_solved = true;
        }
        self.near = better;
        self.is_rough = better;
    }

    /// Brings in what the rough tables find for what is left; false when that is nothing.
    fn enrich(&mut self, mut duals: Vec<f64>, left: &[u32]) -> bool {
        let mut better = false;
        for _ in 0..3 {
            let (worth, _) = self.weights(&duals, left);
            let (_, found) = self.look(false, &worth);
            // What the best way takes more often than it is left is worth less when it is looked for again.
            let mut over = false;
            if let Some((_, nest)) = found.first() {
                for ((dual, &count), &left) in duals.iter_mut().zip(&self.counts(nest)).zip(left) {
                    if count > left && left > 0 {
                        *dual *= f64::from(left) / f64::from(count);
                        over = true;
                    }
                }
            }
            better |= self.add_all(found, left);
            if !over {
                break;
            }
        }
        better
    }

    /// Whole weights, as large as the tables can hold, and how many of them one unit of cost is.
    fn weights(&self, duals: &[f64], left: &[u32]) -> (Vec<i64>, f64) {
        let densest = self.pieces.iter().zip(duals).map(|(piece, dual)| dual / area(piece.width, piece.height));
        let densest = densest.fold(1e-30, f64::max);
        let frames = self.setup.frames.iter();
        let largest = frames.map(|frame| area(frame.width, frame.height)).fold(1.0, f64::max);
        let scale = approx(MOST_WORTH) / (densest * largest * 1.001);
        let worth = |(dual, &left): (&f64, &u32)| if left > 0 { scaled(dual * scale) } else { 0 };
        (duals.iter().zip(left).map(worth).collect(), scale)
    }

    /// The most that each kind of sheet holds of these weights, and ways to cut that hold so much or little less.
    fn look(&mut self, exactly: bool, worth: &[i64]) -> (Vec<i64>, Vec<(usize, Nest)>) {
        let lying: Vec<i64> = self.ways.iter().map(|way| worth[way.piece]).collect();
        let mut holds = vec![0; self.tables.len()];
        let mut found = Vec::new();
        for (frame, tables) in self.tables.iter_mut().enumerate() {
            let Some((exact, rough)) = tables else { continue };
            let table = if exactly { exact } else { rough };
            self.spent += table.steps();
            holds[frame] = table.weigh(&self.lying, &lying);
            found.extend(table.nests(&self.lying, &lying, 6).into_iter().map(|nest| (frame, nest)));
        }
        (holds, found)
    }

    /// The bound that these weights give when sheets hold no more of them than that.
    fn prove(&mut self, worth: &[i64], scale: f64, holds: &[i64], duals: Vec<f64>) {
        let setup = self.setup;
        let total = self.pieces.iter().zip(worth).map(|(piece, &w)| i128::from(w) * i128::from(piece.needed)).sum();
        let weights = (0..holds.len())
            .map(|at| (i128::from(holds[at]), i128::from(setup.costs[at]), setup.limits[at]))
            .filter(|&(weight, _, limit)| weight > 0 && limit > 0);
        self.bound = self.bound.max(least_cost(total, weights.collect()));
        let wanted: f64 = duals.iter().zip(&self.pieces).map(|(dual, piece)| dual * f64::from(piece.needed)).sum();
        let share = |(&holds, &cost): (&i64, &i64)| approx(holds) / scale / approx(cost.max(1));
        let says = wanted / holds.iter().zip(&setup.costs).map(share).fold(1e-9, f64::max);
        if says > self.centre.0 {
            self.centre = (says, duals);
        }
    }

    /// Takes in those ways to cut that the programme can use, without the parts of which so many are not needed.
    fn add_all(&mut self, found: Vec<(usize, Nest)>, left: &[u32]) -> bool {
        let mut better = false;
        for (frame, nest) in found {
            let mut left = left.to_vec();
            let Some(nest) = trimmed(&nest, &mut |way| take(&mut left, self.ways[way].piece)) else { continue };
            let counts = self.counts(&nest);
            let limit = self.limit_rows[frame].map_or(0.0, |row| self.master.duals[row]);
            let price = approx(self.setup.costs[frame]) + limit;
            let gain: f64 = self.master.duals.iter().zip(&counts).map(|(dual, &n)| dual * f64::from(n)).sum();
            better |= gain > price + 1e-6 * price.max(1.0) && self.add(frame, nest);
        }
        better
    }
}

/// The tables of all sheets; `None` where the sizes make too many different pieces.
fn tables_of(setup: &Setup, lying: &[Lying]) -> Option<Vec<Option<(Heaviest, Heaviest)>>> {
    let mut tables = Vec::new();
    let mut steps = 0;
    for (frame, &limit) in setup.frames.iter().zip(&setup.limits) {
        if limit == 0 || frame.width == 0 {
            tables.push(None);
            continue;
        }
        let exact = Heaviest::exact(frame.width, frame.height, lying)?;
        steps += exact.steps();
        if steps > MOST_STEPS {
            return None;
        }
        tables.push(Some((exact, Heaviest::rough(frame.width, frame.height, lying))));
    }
    Some(tables)
}

/// Takes one of what is left, if any is.
fn take(left: &mut [u32], at: usize) -> bool {
    let is_there = left[at] > 0;
    left[at] = left[at].saturating_sub(1);
    is_there
}

/// Whether the saw can cut a sheet so. Where a cut may be too long for it, that is not looked into.
fn may_be_cut(shape: &Shape, frame: &Frame) -> bool {
    let begins = match shape {
        Shape::Part { .. } => true,
        Shape::Row { axis, .. } => frame.begins[*axis as usize],
    };
    begins && shape.depth() <= frame.levels && frame.cuts() == [true, true]
}

/// What is left of a way to cut when only some parts of it are taken.
fn trimmed(nest: &Nest, take: &mut impl FnMut(usize) -> bool) -> Option<Nest> {
    match nest {
        Nest::Part(way) => take(*way).then_some(Nest::Part(*way)),
        Nest::Row(axis, pieces) => Nest::row(*axis, pieces.iter().filter_map(|piece| trimmed(piece, take)).collect()),
    }
}

fn nest_of(shape: &Shape, way_of: &impl Fn(u32, bool) -> Option<usize>) -> Option<Nest> {
    match shape {
        Shape::Part { kind, turned, .. } => way_of(*kind, *turned).map(Nest::Part),
        Shape::Row { axis, pieces, .. } => {
            let pieces: Option<Vec<Nest>> = pieces.iter().map(|piece| nest_of(piece, way_of)).collect();
            Some(Nest::Row(*axis, pieces?))
        }
    }
}

fn count(nest: &Nest, each: &mut impl FnMut(usize)) {
    match nest {
        Nest::Part(way) => each(*way),
        Nest::Row(_, pieces) => pieces.iter().for_each(|piece| count(piece, each)),
    }
}

/// The shape that a way to cut has when some of its parts are not taken.
fn shape_of(nest: &Nest, kinds: &[Kind], take: &mut impl FnMut(usize) -> Option<(u32, bool)>) -> Option<Shape> {
    match nest {
        Nest::Part(way) => {
            let (kind, turned) = take(*way)?;
            Some(Shape::Part { kind, turned, size: kinds[kind as usize].lying(turned) })
        }
        Nest::Row(axis, pieces) => {
            let mut row = Vec::new();
            for piece in pieces {
                match shape_of(piece, kinds, take) {
                    Some(Shape::Row { axis: own, pieces, .. }) if own == *axis => row.extend(pieces),
                    Some(piece) => row.push(piece),
                    None => {}
                }
            }
            if row.len() < 2 {
                return row.pop();
            }
            let sum = |side: fn((i64, i64)) -> i64| row.iter().map(|piece| side(piece.size())).sum::<i64>();
            let most = |side: fn((i64, i64)) -> i64| row.iter().map(|piece| side(piece.size())).max().unwrap_or(0);
            let size = match axis {
                Axis::X => (sum(|size| size.0), most(|size| size.1)),
                Axis::Y => (most(|size| size.0), sum(|size| size.1)),
            };
            Some(Shape::Row { axis: *axis, pieces: row, size })
        }
    }
}

fn area(width: i64, height: i64) -> f64 {
    approx(width) * approx(height)
}
