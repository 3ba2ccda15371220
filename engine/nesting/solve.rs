//! From problem to verified plan: constructions, bounds, then search, with the best plan and bound always in hand.

use super::bound::Bounds;
use super::effort::{Dice, Effort};
use super::fault::Fault;
use super::lay::plan_of;
use super::plan::{Plan, Score};
use super::problem::Problem;
use super::search::{Chain, Shop, State, construct, fill_up, parts_of};
use super::setup::Setup;
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
}

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
    let mut work = effort.work;
    let parts = parts_of(&setup);
    let mut bounds = Bounds::new(&setup);
    let mut best: Option<State> = None;
    let better = |state: &State, best: &Option<State>| {
        let key = |state: &State| (state.loose_area, shop.cost(state));
        best.as_ref().is_none_or(|best| key(state) < key(best))
    };
    let policies = if setup.frames.len() > 1 { 3 + setup.frames.len() } else { 1 };
    'all: for order in [0, 1, 3, 2, 4] {
        for rule in [0, 2, 3] {
            for policy in 0..policies {
                let taste = Taste { rule, growth: 16 };
                let state = construct(&shop, &parts, order, taste, policy, &mut dice);
                if better(&state, &best) {
                    best = Some(state);
                }
                let done = best.as_ref().is_some_and(|best| best.loose.is_empty() && shop.cost(best) <= bounds.best);
                if done || (effort.stop)() {
                    break 'all;
                }
            }
        }
    }
    let mut best = best.unwrap_or_default();
    let mut slice = 500;
    let mut chain: Option<Chain> = None;
    while work > 0 && !(effort.stop)() && !(best.loose.is_empty() && shop.cost(&best) <= bounds.best) {
        let chain_now = chain.get_or_insert_with(|| begin(&shop, &best, &mut dice));
        let attempts = slice.min(work);
        work -= attempts;
        if !chain_now.state.trees.is_empty() && chain_now.run(&shop, &mut dice, attempts, effort.stop) {
            best = std::mem::take(&mut chain_now.state);
            best.trees.retain(|tree| !tree.is_empty());
            chain = None;
            continue;
        }
        bounds.by_bars(shop.cost(&best), &effort.stop);
        slice = (slice * 2).min(100_000);
    }
    let lower = bounds.best;
    if !best.loose.is_empty() {
        let mut left = vec![0_u32; problem.items.len()];
        for &kind in &best.loose {
            for member in setup.members[kind as usize].iter().flat_map(|(row, _)| row).take(1) {
                left[member.item] += 1;
            }
        }
        let left = left.into_iter().enumerate().filter(|&(_, count)| count > 0).collect();
        return Err(Fault::ShortOfStock { left });
    }
    let trees = best.trees.iter().map(|tree| (sheet_of[tree.frame], tree));
    let plan = plan_of(&setup, &setup.frames, trees);
    verify(problem, &plan).map_err(Fault::Engine)?;
    let score = Score::of(problem, &plan);
    Ok(Outcome { proven: score.cost <= lower, plan, score, bound: lower })
}

/// The search for a plan that costs less than the best: it gives back the emptiest sheets until the cost is below.
fn begin(shop: &Shop, best: &State, dice: &mut Dice) -> Chain {
    let whole = best.loose.is_empty();
    let goal = if whole { shop.cost(best) - 1 } else { i64::MAX };
    let mut state = best.clone();
    while shop.cost(&state) > goal {
        let Some(at) = (0..state.trees.len()).max_by_key(|&at| state.trees[at].free) else { break };
        let tree = state.trees.swap_remove(at);
        for kind in tree.kinds() {
            state.loose_area += shop.kinds[kind as usize].area;
            state.loose.push(kind);
        }
    }
    fill_up(shop, &mut state, goal, dice);
    Chain::new(state, goal)
}
