//! Ruin and recreate over the trees of all sheets: some parts are taken out and put back elsewhere, again and again, with
//! less cost allowed than the best plan has, until all parts find a place.

use super::effort::Dice;
use super::setup::{Setup, fits, has_many_alike};
use super::tree::{Frame, Kind, Place, Taste, Tree};
use std::collections::BTreeSet;

/// Sheets with what lies on them, and the parts that have found no place yet.
#[derive(Clone, Debug, Default)]
pub(super) struct State {
    pub trees: Vec<Tree>,
    pub loose: Vec<u32>,
    pub loose_area: i64,
}

/// What a search works on; frames may be more than the sheets have, for sheets of which a part is to be left over.
pub(super) struct Shop<'a> {
    pub kinds: &'a [Kind],
    pub frames: &'a [Frame],
    /// For each frame, which sheet it is.
    pub sheet_of: &'a [usize],
    pub costs: &'a [i64],
    pub limits: &'a [u32],
}

impl Shop<'_> {
    pub fn cost(&self, state: &State) -> i64 {
        state.trees.iter().map(|tree| self.costs[self.sheet_of[tree.frame]]).sum()
    }

    fn used(&self, state: &State, sheet: usize) -> u32 {
        let used = state.trees.iter().filter(|tree| self.sheet_of[tree.frame] == sheet).count();
        u32::try_from(used).unwrap_or(u32::MAX)
    }
}

/// The order in which loose parts are put in, the dearest first.
fn key(order: u8, kind: &Kind, dice: &mut Dice) -> i64 {
    match order {
        0 => kind.area,
        1 => kind.width.max(kind.height),
        2 => kind.width,
        3 => kind.height,
        4 => kind.width + kind.height,
        5 => kind.width.min(kind.height),
        _ => i64::try_from(dice.next() >> 2).unwrap_or(0),
    }
}

/// The best place over all open sheets, with the sheet and how the part lies.
fn best_place(
    shop: &Shop,
    trees: &mut [Tree],
    at: u32,
    taste: Taste,
    mut blink: impl FnMut() -> bool,
) -> Option<(usize, bool, Place)> {
    let wanted = &shop.kinds[at as usize];
    let mut best = None;
    let mut limit = i64::MAX;
    for (sheet, tree) in trees.iter_mut().enumerate() {
        if tree.free < wanted.area {
            continue;
        }
        for turned in [false, true] {
            if turned && !wanted.turns {
                continue;
            }
            let frame = &shop.frames[tree.frame];
            if let Some((place, dislike)) = tree.best_place(frame, (at, wanted), turned, taste, limit, &mut blink) {
                limit = dislike;
                best = Some((sheet, turned, place));
            }
        }
    }
    best
}

/// A plan in one pass: parts in order, each to the best place, a new sheet when there is none.
pub(super) fn construct(shop: &Shop, parts: &[u32], order: u8, taste: Taste, policy: usize, dice: &mut Dice) -> State {
    let mut state = State::default();
    let mut queue: Vec<(i64, u32)> =
        parts.iter().map(|&kind| (key(order, &shop.kinds[kind as usize], dice), kind)).collect();
    queue.sort_by(|a, b| b.cmp(a));
    let mut used = vec![0_u32; shop.limits.len()];
    // The first sheets are full before long; a long list would look at each of them again and again.
    let smallest = queue.iter().map(|&(_, kind)| shop.kinds[kind as usize].area).min().unwrap_or(0);
    let mut begun = 0;
    for (_, kind) in queue {
        let wanted = &shop.kinds[kind as usize];
        begun += state.trees[begun..].iter().take_while(|tree| tree.free < smallest).count();
        let mut found = best_place(shop, &mut state.trees[begun..], kind, taste, || false)
            .map(|(sheet, turned, place)| (begun + sheet, turned, place));
        if found.is_none() {
            let open = (0..shop.limits.len())
                .filter(|&sheet| used[sheet] < shop.limits[sheet] && fits(wanted, &shop.frames[sheet]))
                .min_by_key(|&sheet| {
                    let (cost, area) = (i128::from(shop.costs[sheet]), i128::from(shop.frames[sheet].area.max(1)));
                    match policy {
                        0 => (cost * 1_000_000_000 / area, -area),
                        1 => (cost, -area),
                        2 => (-area, cost),
                        _ => (i128::from(sheet != policy - 3), cost),
                    }
                });
            if let Some(sheet) = open {
                used[sheet] += 1;
                state.trees.push(Tree::new(sheet, shop.frames));
                let last = state.trees.len() - 1;
                found = best_place(shop, &mut state.trees[last..], kind, taste, || false)
                    .map(|(_, turned, place)| (last, turned, place));
            }
        }
        if let Some((at, turned, place)) = found {
            let tree = &mut state.trees[at];
            tree.insert(&shop.frames[tree.frame], shop.kinds, kind, turned, place);
        } else {
            state.loose.push(kind);
            state.loose_area += wanted.area;
        }
    }
    state.trees.retain(|tree| !tree.is_empty());
    state
}

/// All parts, one entry each.
pub(super) fn parts_of(setup: &Setup) -> Vec<u32> {
    (0_u32..).zip(&setup.needed).flat_map(|(kind, &count)| (0..count).map(move |_| kind)).collect()
}

/// What a state is worth, the less the better: the area that is loose, less something for free area that lies together
/// on one sheet, where more may find a place in the end than in as much that is spread over all of them.
fn value_of(shop: &Shop, state: &State) -> i64 {
    state.loose_area - state.trees.iter().map(|tree| together(shop, tree)).sum::<i64>()
}

/// Half of the free area for a sheet that is free, a quarter of that for one that is half free.
fn together(shop: &Shop, tree: &Tree) -> i64 {
    let free = i128::from(tree.free);
    i64::try_from(free * free / (2 * i128::from(shop.frames[tree.frame].area.max(1)))).unwrap_or(0)
}

/// Well used sheets that a search has come by, each choice of parts once.
#[derive(Default)]
pub(super) struct Gathered {
    seen: BTreeSet<(usize, Vec<u32>)>,
    fresh: Vec<Tree>,
}

impl Gathered {
    /// As many as a programme can choose among in little time.
    const MOST: usize = 6_000;

    fn gather(&mut self, shop: &Shop, state: &State) {
        for tree in &state.trees {
            let is_well_used = tree.free < shop.frames[tree.frame].area / 8;
            if is_well_used && self.seen.len() < Self::MOST {
                let mut parts: Vec<u32> = tree.kinds().collect();
                parts.sort_unstable();
                if self.seen.insert((tree.frame, parts)) {
                    self.fresh.push(tree.clone());
                }
            }
        }
    }

    /// Those that were not handed out before.
    pub fn fresh(&mut self) -> Vec<Tree> {
        std::mem::take(&mut self.fresh)
    }
}

/// How many attempts a search looks back. A short memory settles soon and leaves time to begin again from elsewhere, but
/// with many kinds of parts, each needed a few times, it settles too soon.
fn memory(shop: &Shop, state: &State) -> usize {
    let parts = state.loose.len() + state.trees.iter().map(|tree| tree.kinds().count()).sum::<usize>();
    let kinds = shop.kinds.len();
    if has_many_alike(parts as u64, kinds) { 50 } else { (2 * kinds).clamp(50, 300) }
}

/// A search that can be stopped and taken up again: late acceptance (Burke and Bykov, 2017) of what is worth no less than
/// the state of some attempts ago.
pub(super) struct Chain {
    pub state: State,
    /// What the state is worth.
    pub value: i64,
    goal: i64,
    history: Vec<i64>,
    turn: usize,
    kept: Vec<(usize, Tree)>,
    spare: Vec<Tree>,
    loose_before: Vec<u32>,
    queue: Vec<(i64, u32)>,
    /// Whether sheets may be given back for others.
    exchanges: bool,
}

impl Chain {
    /// Attempts between two looks at the sheets that it has come by.
    const GATHER: u64 = 500;

    /// Begins with this state; the sheets may cost no more than `goal`.
    pub fn new(shop: &Shop, state: State, goal: i64) -> Self {
        let value = value_of(shop, &state);
        Self {
            history: vec![value; memory(shop, &state)],
            state,
            value,
            goal,
            turn: 0,
            kept: Vec::new(),
            spare: Vec::new(),
            loose_before: Vec::new(),
            queue: Vec::new(),
            exchanges: true,
        }
    }

    /// The same, but these very sheets are kept.
    pub fn on_these_sheets(shop: &Shop, state: State) -> Self {
        Self { exchanges: false, ..Self::new(shop, state, i64::MAX) }
    }

    /// The same as `run`, and gathers the sheets that it comes by.
    pub fn gather(
        &mut self,
        shop: &Shop,
        dice: &mut Dice,
        attempts: u64,
        gathered: &mut Gathered,
        halt: &dyn Fn() -> bool,
    ) -> bool {
        let mut left = attempts;
        while left > 0 && !halt() {
            let some = left.min(Self::GATHER);
            left -= some;
            if self.run(shop, dice, some, halt) {
                return true;
            }
            gathered.gather(shop, &self.state);
        }
        false
    }

    /// Makes so many attempts at most; true when all parts have a place.
    pub fn run(&mut self, shop: &Shop, dice: &mut Dice, attempts: u64, halt: &dyn Fn() -> bool) -> bool {
        let several = self.exchanges && shop.limits.len() > 1;
        for made in 0..attempts {
            if self.state.loose.is_empty() {
                return true;
            }
            if made.is_multiple_of(16) && halt() {
                return false;
            }
            self.turn += 1;
            let exchange = several && dice.once_in(50);
            self.attempt(shop, dice, exchange);
        }
        self.state.loose.is_empty()
    }

    fn attempt(&mut self, shop: &Shop, dice: &mut Dice, exchange: bool) {
        let current = self.value;
        let Self { state, kept, spare, queue, .. } = self;
        let loose_area = state.loose_area;
        self.loose_before.clone_from(&state.loose);
        let all_before = exchange.then(|| state.clone());
        kept.clear();
        if exchange {
            change_sheets(shop, state, self.goal, dice);
        } else {
            ruin(shop, state, dice, kept, spare);
        }
        let taste = Taste { rule: u8::try_from(dice.below(5)).unwrap_or(0), growth: [2, 8, 16, 32][dice.below(4)] };
        recreate(shop, state, taste, dice, queue, kept, spare, exchange);
        let value = if exchange {
            value_of(shop, state)
        } else {
            let gains = kept.iter().map(|(at, old)| together(shop, &state.trees[*at]) - together(shop, old));
            current + (state.loose_area - loose_area) - gains.sum::<i64>()
        };
        let slot = self.turn % self.history.len();
        if state.loose.is_empty() || value <= self.history[slot] || value <= current {
            self.value = value;
            spare.extend(kept.drain(..).map(|(_, tree)| tree));
        } else if let Some(before) = all_before {
            *state = before;
        } else {
            for (at, tree) in kept.drain(..) {
                spare.push(std::mem::replace(&mut state.trees[at], tree));
            }
            state.loose.clone_from(&self.loose_before);
            state.loose_area = loose_area;
        }
        self.history[slot] = self.history[slot].min(self.value);
    }
}

/// Keeps a sheet as it was, once, before it is changed.
fn keep(trees: &[Tree], at: usize, kept: &mut Vec<(usize, Tree)>, spare: &mut Vec<Tree>) {
    if kept.iter().any(|&(other, _)| other == at) {
        return;
    }
    let copy = if let Some(mut copy) = spare.pop() {
        copy.copy_from(&trees[at]);
        copy
    } else {
        trees[at].clone()
    };
    kept.push((at, copy));
}

fn ruin(shop: &Shop, state: &mut State, dice: &mut Dice, kept: &mut Vec<(usize, Tree)>, spare: &mut Vec<Tree>) {
    let sheets = 1 + dice.below(3.min(state.trees.len()));
    let before = state.loose.len();
    for _ in 0..sheets {
        let at = dice.below(state.trees.len());
        let size = state.trees[at].len();
        if size == 0 {
            continue;
        }
        keep(&state.trees, at, kept, spare);
        let tree = &mut state.trees[at];
        let frame = &shop.frames[tree.frame];
        let times = 1 + dice.below(4);
        for _ in 0..times {
            if tree.is_empty() {
                break;
            }
            let at = dice.below(tree.len());
            tree.remove(frame, shop.kinds, at, &mut state.loose);
        }
        tree.refresh(frame);
    }
    state.loose_area += state.loose[before..].iter().map(|&kind| shop.kinds[kind as usize].area).sum::<i64>();
}

/// Gives some sheets back and takes others, within the cost and what is there.
fn change_sheets(shop: &Shop, state: &mut State, goal: i64, dice: &mut Dice) {
    let before = state.loose.len();
    for _ in 0..=dice.below(2) {
        if !state.trees.is_empty() {
            let at = dice.below(state.trees.len());
            let tree = state.trees.swap_remove(at);
            state.loose.extend(tree.kinds());
        }
    }
    state.loose_area += state.loose[before..].iter().map(|&kind| shop.kinds[kind as usize].area).sum::<i64>();
    fill_up(shop, state, goal, dice);
}

/// Takes new sheets at random while the cost allows.
pub(super) fn fill_up(shop: &Shop, state: &mut State, goal: i64, dice: &mut Dice) {
    let mut cost = shop.cost(state);
    let mut area: i64 = state.trees.iter().map(|tree| tree.free).sum();
    while area < 2 * state.loose_area.max(1) {
        let open: Vec<usize> = (0..shop.limits.len())
            .filter(|&sheet| {
                let there = shop.frames[sheet].width > 0 && shop.used(state, sheet) < shop.limits[sheet];
                there && cost.saturating_add(shop.costs[sheet]) <= goal
            })
            .collect();
        if open.is_empty() {
            return;
        }
        let sheet = open[dice.below(open.len())];
        state.trees.push(Tree::new(sheet, shop.frames));
        cost += shop.costs[sheet];
        area += shop.frames[sheet].area;
    }
}

#[allow(clippy::too_many_arguments)]
fn recreate(
    shop: &Shop,
    state: &mut State,
    taste: Taste,
    dice: &mut Dice,
    queue: &mut Vec<(i64, u32)>,
    kept: &mut Vec<(usize, Tree)>,
    spare: &mut Vec<Tree>,
    whole: bool,
) {
    let order = u8::try_from(dice.below(8)).unwrap_or(0);
    queue.clear();
    for &kind in &state.loose {
        queue.push((key(order, &shop.kinds[kind as usize], dice), kind));
    }
    queue.sort_unstable_by(|a, b| b.cmp(a));
    // Now and then two neighbours change places.
    for at in 1..queue.len() {
        if dice.once_in(6) {
            queue.swap(at - 1, at);
        }
    }
    state.loose.clear();
    let mut blink = dice.blink(64);
    let mut failed = u32::MAX;
    for &(_, kind) in queue.iter() {
        let found = if failed == kind { None } else { best_place(shop, &mut state.trees, kind, taste, &mut blink) };
        if let Some((at, turned, place)) = found {
            if !whole {
                keep(&state.trees, at, kept, spare);
            }
            let tree = &mut state.trees[at];
            tree.insert(&shop.frames[tree.frame], shop.kinds, kind, turned, place);
        } else {
            failed = kind;
            state.loose.push(kind);
        }
    }
    state.loose_area = state.loose.iter().map(|&kind| shop.kinds[kind as usize].area).sum();
}
