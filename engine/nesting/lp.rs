//! A linear programme that grows: cover each row at least so often, at least cost, by columns that are found on the
//! way (the revised simplex method with a dense inverse, after Gilmore and Gomory's use of it, 1961 and 1963).
//!
//! Its floating numbers never decide what is true: bounds are taken from its duals by whole numbers elsewhere, and
//! plans are checked as always.

const TINY: f64 = 1e-9;

/// What a look at a column counts as, in multiplications.
const A_LOOK: u64 = 10;

/// How much a row's demand may be raised to tell it from the others.
pub(super) const STIR: f64 = 2e-5;

fn stirred(demand: &[f64]) -> Vec<f64> {
    // Multiples of the golden section spread evenly and never repeat.
    let little = |row: u32| STIR * (0.1 + (f64::from(row) * 0.618_033_988_749_895).fract());
    (0_u32..).zip(demand).map(|(row, &demand)| demand + if demand > 0.0 { little(row) } else { 0.0 }).collect()
}

/// A way to cover rows.
#[derive(Clone, Debug)]
pub(super) struct Column {
    pub entries: Vec<(usize, f64)>,
    pub cost: f64,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Basic {
    Column(usize),
    /// A row is covered more often than asked.
    Surplus(usize),
    /// A row is covered by nothing, at a price that is never worth it.
    Bare(usize),
}

/// A state of the programme to come back to.
pub(super) struct Solved {
    demand: Vec<f64>,
    asked: Vec<f64>,
    basis: Vec<Basic>,
    inverse: Vec<f64>,
    level: Vec<f64>,
    duals: Vec<f64>,
    since: usize,
}

pub(super) struct Master {
    rows: usize,
    pub columns: Vec<Column>,
    /// The columns that may enter.
    open: Vec<usize>,
    demand: Vec<f64>,
    /// The demand with a little more on each row, a different little on each: with equal demands too many bases are
    /// equally good and the method would walk on the spot.
    asked: Vec<f64>,
    bare: Vec<f64>,
    basis: Vec<Basic>,
    /// Row by row.
    inverse: Vec<f64>,
    level: Vec<f64>,
    pub duals: Vec<f64>,
    since: usize,
    /// Where the search for a candidate goes on.
    next: usize,
    /// Work done, in multiplications.
    pub steps: u64,
}

impl Master {
    /// `bare` is the price of leaving a row uncovered. A negative demand is a limit on what columns take from a row
    /// with negative entries.
    pub fn new(demand: Vec<f64>, bare: Vec<f64>) -> Self {
        let rows = demand.len();
        let basis: Vec<Basic> = (0..rows)
            .map(|row| if demand[row].is_sign_positive() { Basic::Bare(row) } else { Basic::Surplus(row) })
            .collect();
        let mut master = Self {
            rows,
            columns: Vec::new(),
            open: Vec::new(),
            asked: stirred(&demand),
            demand,
            bare,
            basis,
            inverse: Vec::new(),
            level: Vec::new(),
            duals: Vec::new(),
            since: 0,
            next: 0,
            steps: 0,
        };
        master.rebuild();
        master
    }

    pub fn objective(&self) -> f64 {
        self.demand.iter().zip(&self.duals).map(|(demand, dual)| demand * dual).sum()
    }

    /// The columns in use with how often each is used.
    pub fn used(&self) -> impl Iterator<Item = (usize, f64)> + '_ {
        self.basis.iter().zip(&self.level).filter_map(|(basic, &level)| match basic {
            Basic::Column(at) if level > TINY => Some((*at, level)),
            _ => None,
        })
    }

    fn cost(&self, basic: Basic) -> f64 {
        match basic {
            Basic::Column(at) => self.columns[at].cost,
            Basic::Surplus(_) => 0.0,
            Basic::Bare(row) => self.bare[row],
        }
    }

    fn each_entry(&self, basic: Basic, mut each: impl FnMut(usize, f64)) {
        match basic {
            Basic::Column(at) => self.columns[at].entries.iter().for_each(|&(row, value)| each(row, value)),
            Basic::Surplus(row) => each(row, -1.0),
            Basic::Bare(row) => each(row, 1.0),
        }
    }

    /// What a candidate saves for each time that it is used; positive when it is worth entering.
    fn gain(&self, basic: Basic) -> f64 {
        let mut worth = -self.cost(basic);
        self.each_entry(basic, |row, value| worth += self.duals[row] * value);
        worth
    }

    /// Works out inverse, levels and duals afresh from the basis.
    fn rebuild(&mut self) {
        let n = self.rows;
        let mut matrix = vec![0.0; n * n];
        for (at, &basic) in self.basis.iter().enumerate() {
            self.each_entry(basic, |row, value| matrix[row * n + at] = value);
        }
        let mut inverse = vec![0.0; n * n];
        for at in 0..n {
            inverse[at * n + at] = 1.0;
        }
        for column in 0..n {
            let pivot = (column..n)
                .max_by(|&a, &b| matrix[a * n + column].abs().total_cmp(&matrix[b * n + column].abs()))
                .unwrap_or(column);
            if matrix[pivot * n + column].abs() < 1e-12 {
                continue;
            }
            if pivot != column {
                for k in 0..n {
                    matrix.swap(pivot * n + k, column * n + k);
                    inverse.swap(pivot * n + k, column * n + k);
                }
            }
            let scale = 1.0 / matrix[column * n + column];
            for k in 0..n {
                matrix[column * n + k] *= scale;
                inverse[column * n + k] *= scale;
            }
            for row in 0..n {
                let factor = matrix[row * n + column];
                if row == column || factor == 0.0 {
                    continue;
                }
                for k in 0..n {
                    matrix[row * n + k] -= factor * matrix[column * n + k];
                    inverse[row * n + k] -= factor * inverse[column * n + k];
                }
            }
        }
        self.inverse = inverse;
        self.since = 0;
        self.steps += (n * n * n) as u64;
        self.derive();
    }

    fn derive(&mut self) {
        let n = self.rows;
        self.level = (0..n).map(|at| (0..n).map(|row| self.inverse[at * n + row] * self.asked[row]).sum()).collect();
        let mut duals = vec![0.0; n];
        for (at, &basic) in self.basis.iter().enumerate() {
            let cost = self.cost(basic);
            if cost != 0.0 {
                for (dual, value) in duals.iter_mut().zip(&self.inverse[at * n..]) {
                    *dual += cost * value;
                }
            }
        }
        self.duals = duals;
    }

    fn direction(&self, basic: Basic) -> Vec<f64> {
        let n = self.rows;
        let mut direction = vec![0.0; n];
        self.each_entry(basic, |row, value| {
            for (at, step) in direction.iter_mut().enumerate() {
                *step += value * self.inverse[at * n + row];
            }
        });
        direction
    }

    fn pivot(&mut self, leaves: usize, enters: Basic, direction: &[f64], gain: f64) {
        let n = self.rows;
        let scale = 1.0 / direction[leaves];
        let step = self.level[leaves] * scale;
        for k in 0..n {
            self.inverse[leaves * n + k] *= scale;
        }
        let (before, rest) = self.inverse.split_at_mut(leaves * n);
        let (own, after) = rest.split_at_mut(n);
        for (at, row) in before.chunks_exact_mut(n).chain(after.chunks_exact_mut(n)).enumerate() {
            let factor = direction[if at < leaves { at } else { at + 1 }];
            if factor != 0.0 {
                for (value, &by) in row.iter_mut().zip(&*own) {
                    *value -= factor * by;
                }
            }
        }
        for (dual, &by) in self.duals.iter_mut().zip(&*own) {
            *dual -= gain * by;
        }
        for (at, level) in self.level.iter_mut().enumerate() {
            *level -= step * direction[at];
        }
        self.level[leaves] = step;
        self.basis[leaves] = enters;
        self.since += 1;
        self.steps += (n * n) as u64;
        if self.since >= 500 {
            self.rebuild();
        }
    }

    fn enter(&mut self, enters: Basic) -> bool {
        let direction = self.direction(enters);
        let mut leaves = None;
        let mut least = f64::INFINITY;
        for (at, &step) in direction.iter().enumerate() {
            if step > 1e-7 {
                let ratio = self.level[at].max(0.0) / step;
                let bare = matches!(self.basis[at], Basic::Bare(_));
                if ratio < least - 1e-10 || (ratio < least + 1e-10 && bare) {
                    least = ratio.min(least);
                    leaves = Some(at);
                }
            }
        }
        let Some(leaves) = leaves else { return false };
        let gain = self.gain(enters);
        self.pivot(leaves, enters, &direction, gain);
        true
    }

    /// Takes in a column, to be entered when the programme is settled.
    pub fn push(&mut self, column: Column) {
        self.open.push(self.columns.len());
        self.columns.push(column);
    }

    /// Takes in a column and enters it if it is worth it.
    pub fn add(&mut self, column: Column) -> bool {
        self.push(column);
        let basic = Basic::Column(self.columns.len() - 1);
        self.gain(basic) > TINY && self.enter(basic)
    }

    /// Enters what is known until nothing known is worth entering; the best of each handful is taken in turn.
    pub fn settle(&mut self) {
        const HANDFUL: usize = 128;
        let mut idle = 0;
        for _ in 0..40 * self.rows + 400 {
            let count = self.open.len() + self.rows;
            let mut best = (1e-7, None);
            while best.1.is_none() && idle < count {
                for _ in 0..HANDFUL {
                    self.next = if self.next + 1 < count { self.next + 1 } else { 0 };
                    let basic = match self.next.checked_sub(self.rows) {
                        Some(at) => Basic::Column(self.open[at]),
                        None => Basic::Surplus(self.next),
                    };
                    let gain = self.gain(basic);
                    if gain > best.0 {
                        best = (gain, Some(basic));
                    }
                }
                idle += HANDFUL;
                self.steps += A_LOOK * HANDFUL as u64;
            }
            match best.1 {
                Some(basic) if self.enter(basic) => idle = 0,
                _ => return,
            }
        }
    }

    /// Changes what is asked and repairs the levels (the dual simplex method), then changes what columns cost and
    /// settles. Columns without a cost cost `dear` and enter no more.
    pub fn ask(&mut self, demand: Vec<f64>, costs: &[Option<f64>], dear: f64) {
        self.asked = stirred(&demand);
        self.demand = demand;
        self.open.clear();
        self.open.extend((0..self.columns.len()).filter(|&at| costs[at].is_some()));
        self.derive();
        let n = self.rows;
        for _ in 0..10 * n + 100 {
            let Some(leaves) = (0..n).min_by(|&a, &b| self.level[a].total_cmp(&self.level[b])) else { return };
            if self.level[leaves] > -1e-7 {
                break;
            }
            let row: Vec<f64> = self.inverse[leaves * n..(leaves + 1) * n].to_vec();
            let mut best = (f64::INFINITY, None);
            let columns = self.open.iter().map(|&at| Basic::Column(at));
            let all = columns.chain((0..n).flat_map(|row| [Basic::Surplus(row), Basic::Bare(row)]));
            for basic in all {
                let mut step = 0.0;
                self.each_entry(basic, |at, value| step += row[at] * value);
                if step < -1e-7 {
                    let ratio = (-self.gain(basic)).max(0.0) / -step;
                    if ratio < best.0 {
                        best = (ratio, Some(basic));
                    }
                }
            }
            self.steps += A_LOOK * self.open.len() as u64;
            let Some(enters) = best.1 else { break };
            let direction = self.direction(enters);
            let gain = self.gain(enters);
            self.pivot(leaves, enters, &direction, gain);
        }
        for (column, &cost) in self.columns.iter_mut().zip(costs) {
            column.cost = cost.unwrap_or(dear);
        }
        self.derive();
        self.settle();
    }

    /// The state of the moment, to come back to.
    pub fn solved(&self) -> Solved {
        Solved {
            demand: self.demand.clone(),
            asked: self.asked.clone(),
            basis: self.basis.clone(),
            inverse: self.inverse.clone(),
            level: self.level.clone(),
            duals: self.duals.clone(),
            since: self.since,
        }
    }

    /// Goes back to a state, where columns cost so much; all of them may enter.
    pub fn go_back(&mut self, to: Solved, costs: impl Iterator<Item = f64>) {
        let Solved { demand, asked, basis, inverse, level, duals, since } = to;
        (self.demand, self.asked, self.basis, self.since) = (demand, asked, basis, since);
        (self.inverse, self.level, self.duals) = (inverse, level, duals);
        self.columns.iter_mut().zip(costs).for_each(|(column, cost)| column.cost = cost);
        self.open = (0..self.columns.len()).collect();
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use microlp::{ComparisonOp, OptimizationDirection, Problem};
    use proptest::prelude::*;

    const BARE: f64 = 20.0;

    /// The same programme by a general solver, by its dual: the most that the demand is worth when no column is worth more
    /// than it costs and no row more than it costs to leave it bare.
    fn by_a_general_solver(demand: &[u32], columns: &[Column]) -> f64 {
        let mut problem = Problem::new(OptimizationDirection::Maximize);
        let rows: Vec<_> = demand.iter().map(|&demand| problem.add_var(f64::from(demand), (0.0, BARE))).collect();
        for column in columns {
            let entries: Vec<_> = column.entries.iter().map(|&(row, value)| (rows[row], value)).collect();
            problem.add_constraint(&entries[..], ComparisonOp::Le, column.cost);
        }
        problem
            .solve()
            .ok()
            .and_then(|outcome| outcome.into_solution().ok())
            .map_or(f64::NAN, |found| found.objective())
    }

    fn floats(demand: &[u32]) -> Vec<f64> {
        demand.iter().map(|&demand| f64::from(demand)).collect()
    }

    proptest! {
        /// By duality both values are the same, but for what demands are stirred by: 2.2e-5 on each of eight rows, each
        /// worth 20 at most.
        #[test]
        fn a_general_solver_finds_the_same_value(
            demand in prop::collection::vec(1_u32..30, 1..9),
            then in prop::collection::vec(1_u32..30, 8),
            columns in prop::collection::vec((prop::collection::vec(0_u32..5, 8), 1_u32..6), 1..25),
        ) {
            let mut master = Master::new(floats(&demand), vec![BARE; demand.len()]);
            for (counts, cost) in &columns {
                let used = (0..demand.len()).zip(counts).filter(|&(_, &count)| count > 0);
                let entries: Vec<(usize, f64)> = used.map(|(row, &count)| (row, f64::from(count))).collect();
                if !entries.is_empty() {
                    master.add(Column { entries, cost: f64::from(*cost) });
                }
            }
            master.settle();
            let wanted = by_a_general_solver(&demand, &master.columns);
            prop_assert!((master.objective() - wanted).abs() < 0.004, "{} and {wanted}", master.objective());
            // What is left bare costs the rest.
            let used: f64 = master.used().map(|(at, level)| level * master.columns[at].cost).sum();
            prop_assert!(used < wanted + 0.004);
            // The same again when something else is asked.
            let then = &then[..demand.len()];
            let costs: Vec<Option<f64>> = master.columns.iter().map(|column| Some(column.cost)).collect();
            let solved = master.solved();
            master.ask(floats(then), &costs, BARE);
            let wanted = by_a_general_solver(then, &master.columns);
            prop_assert!((master.objective() - wanted).abs() < 0.004, "then {} and {wanted}", master.objective());
            // And back.
            let before = by_a_general_solver(&demand, &master.columns);
            master.go_back(solved, costs.into_iter().flatten());
            prop_assert!((master.objective() - before).abs() < 0.004, "back {} and {before}", master.objective());
        }
    }
}
