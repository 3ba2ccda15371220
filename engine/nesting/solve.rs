//! From problem to verified plan: constructions, bounds, then search, with the best plan and bound always in hand.

use super::bound::Bounds;
use super::effort::{Dice, Effort};
use super::fault::Fault;
use super::patterns::Patterns;
use super::plan::{Plan, Score};
use super::polish::{Pool, polish};
use super::problem::Problem;
use super::search::{Chain, Gathered, Shop, State, construct, fill_up, parts_of};
use super::setup::{Setup, has_many_alike};
use super::tree::Taste;
use super::verify::verify;

/// A plan, how good it is, and how good any plan could be.
#[derive(Clone, Debug)]
pub struct Outcome {
    /// The best plan that was found. It has passed the verifier.
    pub plan: Plan,
    /// What it is worth.
    pub score: Score,
    /// No plan costs less than this.
    pub bound: i64,
    /// Whether cost and bound meet, so that no cheaper plan exists.
    pub proven: bool,
    /// Plans of the same cost that are better in one other respect, verified too: fewer settings for smaller offcuts,
    /// for instance. At most eleven.
    pub neighbours: Vec<(Score, Plan)>,
}

/// How many attempts go into large offcuts once the money is settled.
const POLISH: u64 = 14_000;

/// The best plan that this effort finds, verified.
///
/// # Errors
///
/// A [`Fault`] that says what makes no sense, what cannot be cut, or what found no place on the stock that is there.
pub fn plan(problem: &Problem, effort: &Effort) -> Result<Outcome, Fault> {
    let setup = Setup::new(problem)?;
    let sheet_of: Vec<usize> = (0..setup.frames.len()).collect();
    let shop = Shop {
        kinds: &setup.kinds,
        frames: &setup.frames,
        sheet_of: &sheet_of,
        costs: &setup.costs,
        limits: &setup.limits,
    };
    let mut dice = Dice::new(effort.seed);
    let mut bounds = Bounds::new(&setup);
    let mut pool = Pool::default();
    let mut best = at_once(&setup, &shop, bounds.best, &mut pool, &mut dice, effort);
    let left = search(&setup, &shop, &mut best, &mut bounds, &mut dice, effort);
    if !best.loose.is_empty() {
        return Err(short_of_stock(problem, &setup, &best));
    }
    pool.offer(&setup, &setup.frames, &sheet_of, &best);
    polish(&setup, &shop, &best, &mut pool, &mut dice, effort, left.min(POLISH));
    let mut plans = pool.into_plans();
    for (_, plan) in &plans {
        verify(problem, plan).map_err(Fault::Engine)?;
    }
    if plans.is_empty() {
        // Nothing is needed.
        plans.push((Score::of(problem, &Plan::default()), Plan::default()));
    }
    let (score, plan) = plans.remove(0);
    plans.retain(|(other, _)| other.cost == score.cost);
    Ok(Outcome { proven: score.cost <= bounds.best, plan, score, bound: bounds.best, neighbours: plans })
}

fn is_better(shop: &Shop, state: &State, best: &State) -> bool {
    (state.loose_area, shop.cost(state)) < (best.loose_area, shop.cost(best))
}

/// The best of some plans that are each made in one pass.
fn at_once(setup: &Setup, shop: &Shop, bound: i64, pool: &mut Pool, dice: &mut Dice, effort: &Effort) -> State {
    let parts = parts_of(setup);
    let policies = if setup.frames.len() > 1 { 3 + setup.frames.len() } else { 1 };
    let mut best: Option<State> = None;
    let mut after = 0;
    for order in [0, 1, 3, 2, 4] {
        for rule in [0, 2, 3] {
            for policy in 0..policies {
                let state = construct(shop, &parts, order, Taste { rule, growth: 16 }, policy, dice);
                pool.offer(setup, shop.frames, shop.sheet_of, &state);
                if best.as_ref().is_none_or(|best| is_better(shop, &state, best)) {
                    best = Some(state);
                }
            }
            // Once the cost cannot be bettered, a few more are made for the sake of settings and offcuts.
            after += u32::from(best.as_ref().is_some_and(|best| best.loose.is_empty() && shop.cost(best) <= bound));
            if after > 3 || (effort.stop)() {
                return best.unwrap_or_default();
            }
        }
    }
    best.unwrap_or_default()
}

/// Betters the plan until it is proven or the effort is spent; returns the work that is left.
fn search(setup: &Setup, shop: &Shop, best: &mut State, bounds: &mut Bounds, dice: &mut Dice, effort: &Effort) -> u64 {
    let mut work = effort.work;
    let mut slice = 500;
    let mut round = 0;
    let several = shop.limits.len() > 1;
    let parts = setup.parts();
    let enough = enough(parts);
    let mut chain: Option<Chain> = None;
    // Attempts since it was last seen whether the search comes on, and what it was worth then.
    let (mut made, mut before) = (0, 0);
    let mut programme: Option<Programme> = None;
    let mut gathered = Gathered::default();
    while work > 0 && !(effort.stop)() && !(best.loose.is_empty() && shop.cost(best) <= bounds.best) {
        let is_new = chain.is_none();
        let now = chain.get_or_insert_with(|| begin(shop, best, round, dice));
        if is_new {
            (made, before) = (0, now.value);
        }
        let attempts = slice.min(work);
        work -= attempts;
        if !now.state.trees.is_empty() && now.gather(shop, dice, attempts, &mut gathered, effort.stop) {
            *best = std::mem::take(&mut now.state);
            best.trees.retain(|tree| !tree.is_empty());
            chain = None;
            continue;
        }
        made += attempts;
        let mut is_stuck = false;
        if made >= enough {
            is_stuck = now.value >= before - before.abs() / 20;
            (made, before) = (0, now.value);
        }
        work = work.saturating_sub(bounds.by_bars(shop.cost(best), A_PAIR, &effort.stop) / STEPS);
        let programme = programme.get_or_insert_with(|| Programme::new(setup));
        if programme.better(shop, best, bounds, dice, attempts, &mut gathered, &mut work, effort.stop) {
            chain = None;
            continue;
        }
        slice = (slice * 2).min(programme.turn.max(5_000));
        round += 1;
        let again_with_others = several && round % 4 != 3;
        if again_with_others {
            // Other sheets may do what these do not: begin again with others, the sooner the fewer parts there are to place.
            chain = None;
            slice = slice.min((20 * parts * parts).clamp(500, 4_000));
        } else if is_stuck {
            // What the programme has left to place may be placed where this search is at its end, unless the dive is of before
            // the last better plan and its sheets cost too much by now.
            let goal = shop.cost(best) - 1;
            let failed = programme.failed.take().filter(|state| shop.cost(state) <= goal);
            chain = failed.map(|state| Chain::new(shop, state, goal));
        }
    }
    work
}

/// Attempts after which a search that has not come far is at its end: the more parts, the longer its memory has to be, and
/// the longer it takes to move each of them.
fn enough(parts: u64) -> u64 {
    parts.saturating_mul(2 * parts).clamp(16_000, 250_000)
}

/// Steps of a table that take as long as one attempt.
const STEPS: u64 = 20_000;

/// The most work on one pair of scales of the bounds, in steps of a table.
const A_PAIR: u64 = 200_000_000;

/// Attempts that are made to place what a dive leaves, on fresh sheets first and then on all of them.
const AFTER_DIVE: u64 = ON_FRESH_SHEETS + ON_ALL_SHEETS;
const ON_FRESH_SHEETS: u64 = 5_000;
const ON_ALL_SHEETS: u64 = 1_000;

/// The linear programme over ways to cut, and when it has its turn.
struct Programme<'s, 'p> {
    patterns: Option<Patterns<'s, 'p>>,
    /// Attempts of the search between two turns.
    turn: u64,
    /// Attempts of the search since its last turn.
    waited: u64,
    /// Where the last dive came to, with parts that found no place.
    failed: Option<State>,
}

impl<'s, 'p> Programme<'s, 'p> {
    fn new(setup: &'s Setup<'p>) -> Self {
        // Where parts are needed again and again, the programme is soon the better half; where there are several kinds of
        // sheets, the search does well by itself to begin with.
        let turn = match (has_many_alike(setup.parts(), setup.kinds.len()), setup.frames.len()) {
            (true, _) => 3_000,
            (false, 1) => 20_000,
            (false, _) => 16_000,
        };
        Self { patterns: Patterns::new(setup), turn, waited: 0, failed: None }
    }

    /// Raises the bound, then dives for a better plan; true when there is one.
    #[allow(clippy::too_many_arguments)]
    fn better(
        &mut self,
        shop: &Shop,
        best: &mut State,
        bounds: &mut Bounds,
        dice: &mut Dice,
        attempts: u64,
        gathered: &mut Gathered,
        work: &mut u64,
        halt: &(dyn Fn() -> bool + Sync),
    ) -> bool {
        let Some(patterns) = &mut self.patterns else { return false };
        self.waited += attempts;
        if !best.loose.is_empty() || self.waited < self.turn {
            return false;
        }
        let waited = std::mem::take(&mut self.waited);
        let spent = patterns.spent;
        let allowed = waited.min(*work).saturating_mul(STEPS);
        patterns.learn(bounds.best, best);
        gathered.fresh().iter().for_each(|tree| patterns.take_in(tree));
        patterns.advance(shop.cost(best), allowed, halt);
        bounds.best = bounds.best.max(patterns.bound);
        let mut found = false;
        if shop.cost(best) > bounds.best && *work > AFTER_DIVE && !halt() {
            let goal = shop.cost(best) - 1;
            let state = patterns.dive(shop, goal, dice, halt);
            *work -= AFTER_DIVE;
            let (state, is_whole) = place_what_is_left(shop, state, goal, dice, gathered, halt);
            found = is_whole;
            if found {
                *best = state;
                best.trees.retain(|tree| !tree.is_empty());
            } else {
                self.failed = Some(state);
            }
        }
        *work = work.saturating_sub((patterns.spent - spent) / STEPS);
        found
    }
}

/// Places what a dive leaves: on fresh sheets alone, which is a small problem of its own, then on all sheets together.
fn place_what_is_left(
    shop: &Shop,
    mut state: State,
    goal: i64,
    dice: &mut Dice,
    gathered: &mut Gathered,
    halt: &dyn Fn() -> bool,
) -> (State, bool) {
    let settled = state.trees.len();
    fill_up(shop, &mut state, goal, dice);
    let trees = state.trees.split_off(settled);
    if !trees.is_empty() {
        let fresh = State { trees, loose: std::mem::take(&mut state.loose), loose_area: state.loose_area };
        let mut chain = Chain::on_these_sheets(shop, fresh);
        chain.gather(shop, dice, ON_FRESH_SHEETS, gathered, halt);
        state.trees.extend(chain.state.trees);
        (state.loose, state.loose_area) = (chain.state.loose, chain.state.loose_area);
    }
    if state.trees.is_empty() {
        return (state, false);
    }
    let mut chain = Chain::new(shop, state, goal);
    let is_whole = chain.gather(shop, dice, ON_ALL_SHEETS, gathered, halt);
    (chain.state, is_whole)
}

/// The search for a plan that costs less than the best: it gives back the emptiest sheets, or any in every other round,
/// until the cost is below.
fn begin(shop: &Shop, best: &State, round: u32, dice: &mut Dice) -> Chain {
    let whole = best.loose.is_empty();
    let goal = if whole { shop.cost(best) - 1 } else { i64::MAX };
    let mut state = best.clone();
    while shop.cost(&state) > goal {
        let Some(emptiest) = (0..state.trees.len()).max_by_key(|&at| state.trees[at].free) else { break };
        let at = if round.is_multiple_of(2) { emptiest } else { dice.below(state.trees.len()) };
        let tree = state.trees.swap_remove(at);
        for kind in tree.kinds() {
            state.loose_area += shop.kinds[kind as usize].area;
            state.loose.push(kind);
        }
    }
    fill_up(shop, &mut state, goal, dice);
    // Sheets that would do may look worse than others until all parts lie on them.
    if round % 4 < 2 { Chain::new(shop, state, goal) } else { Chain::on_these_sheets(shop, state) }
}

fn short_of_stock(problem: &Problem, setup: &Setup, best: &State) -> Fault {
    let mut left = vec![0_u32; problem.items.len()];
    for &kind in &best.loose {
        for member in setup.members[kind as usize].iter().flat_map(|(row, _)| row).take(1) {
            left[member.item] += 1;
        }
    }
    Fault::ShortOfStock { left: left.into_iter().enumerate().filter(|&(_, count)| count > 0).collect() }
}
