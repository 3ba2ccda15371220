//! One sheet that holds as much worth as can be found: a small search of its own on a single tree, for weights that a
//! linear programme gives. It keeps what the tables of [`super::heaviest`] cannot: that no part is there more often than
//! it is left, and all that a saw may not do.

use super::effort::Dice;
use super::tree::{Frame, Kind, Taste, Tree};

/// What a search on one sheet works with.
pub(super) struct Offer<'a> {
    pub kinds: &'a [Kind],
    pub frames: &'a [Frame],
    /// What one part of each kind is worth.
    pub worth: &'a [f64],
    /// How many of each kind there are, those on the sheet among them.
    pub there: &'a [u32],
}

/// A sheet, what it is worth, and how many of each kind are not on it.
#[derive(Clone)]
struct Filled {
    tree: Tree,
    worth: f64,
    rest: Vec<u32>,
}

impl Offer<'_> {
    /// The sheet of the most worth that so many attempts find, and its worth, beginning with this one: some of it is
    /// taken out, and filled up with what is worth most.
    pub fn better(&self, tree: Tree, dice: &mut Dice, attempts: u32) -> (f64, Tree) {
        let mut rest = self.there.to_vec();
        for kind in tree.kinds() {
            rest[kind as usize] = rest[kind as usize].saturating_sub(1);
        }
        let mut now = Filled { worth: self.worth_of(&tree), tree, rest };
        let mut best = (now.worth, now.tree.clone());
        let mut next = now.clone();
        let mut order = Vec::new();
        for attempt in 0..attempts {
            if attempt.is_multiple_of(8) {
                self.put_in_order(&mut order, dice);
            }
            next.tree.copy_from(&now.tree);
            next.rest.copy_from_slice(&now.rest);
            self.thin_out(&mut next, dice);
            self.fill(&mut next, &order, dice);
            next.worth = self.worth_of(&next.tree);
            if next.worth >= now.worth - 1e-9 || (next.worth > 0.97 * now.worth && dice.once_in(20)) {
                std::mem::swap(&mut now, &mut next);
                if now.worth > best.0 + 1e-9 {
                    best = (now.worth, now.tree.clone());
                }
            }
        }
        best
    }

    fn worth_of(&self, tree: &Tree) -> f64 {
        tree.kinds().map(|kind| self.worth[kind as usize]).sum()
    }

    /// The kinds that are worth anything, the best first: by worth, by worth for its area, or between the two, each
    /// with some luck.
    fn put_in_order(&self, order: &mut Vec<(f64, u32)>, dice: &mut Dice) {
        let by = dice.below(3);
        order.clear();
        for (kind, &worth) in (0_u32..).zip(self.worth).filter(|(_, worth)| **worth > 1e-9) {
            let luck = 1.0 + f64::from(u32::try_from(dice.below(1000)).unwrap_or(0)) / 2500.0;
            #[allow(clippy::cast_precision_loss)]
            let area = self.kinds[kind as usize].area.max(1) as f64;
            let key = match by {
                0 => worth,
                1 => worth / area,
                _ => worth / area.sqrt(),
            };
            order.push((luck * key, kind));
        }
        order.sort_by(|a, b| b.0.total_cmp(&a.0).then(a.1.cmp(&b.1)));
    }

    fn thin_out(&self, filled: &mut Filled, dice: &mut Dice) {
        let frame = &self.frames[filled.tree.frame];
        let mut taken = Vec::new();
        for _ in 0..=dice.below(3) {
            if !filled.tree.is_empty() {
                let at = dice.below(filled.tree.len());
                filled.tree.remove(frame, self.kinds, at, &mut taken);
            }
        }
        filled.tree.refresh(frame);
        for kind in taken {
            filled.rest[kind as usize] += 1;
        }
    }

    fn fill(&self, filled: &mut Filled, order: &[(f64, u32)], dice: &mut Dice) {
        let Filled { tree, rest, .. } = filled;
        let frame = &self.frames[tree.frame];
        let taste = Taste { rule: u8::try_from(dice.below(5)).unwrap_or(0), growth: [2, 8, 16, 32][dice.below(4)] };
        let mut blink = dice.blink(16);
        for &(_, kind) in order {
            let wanted = &self.kinds[kind as usize];
            while rest[kind as usize] > 0 && wanted.area <= tree.free {
                let mut found = None;
                let mut limit = i64::MAX;
                for turned in [false, true].into_iter().filter(|&turned| !turned || wanted.turns) {
                    if let Some((place, dislike)) =
                        tree.best_place(frame, (kind, wanted), turned, taste, limit, &mut blink)
                    {
                        limit = dislike;
                        found = Some((turned, place));
                    }
                }
                let Some((turned, place)) = found else { break };
                tree.insert(frame, self.kinds, kind, turned, place);
                rest[kind as usize] -= 1;
            }
        }
    }
}
