//! Takes one piece apart, from the last that goes in to the first.

use std::collections::BinaryHeap;
use std::ops::Range;

use super::index::{Present, meet};
use super::order::{Ground, Locked};
use crate::base::{Face, Length, Solid};
use crate::model::{Moving, PartId, PieceId};

/// What a piece is put together from.
pub(super) struct Level<'a> {
    ground: &'a Ground<'a>,
    items: Vec<Item>,
    /// By part of the level: the part, its item, and parts of the level that it cannot leave one way, for the slope of a dovetail.
    parts: Vec<PartId>,
    item_of: Vec<usize>,
    clings: Vec<Vec<(usize, Face)>>,
    bounds: Solid,
    steps: usize,
}

impl<'a> Level<'a> {
    pub fn new(ground: &'a mut Ground<'_>, piece: PieceId, parts: &[(Moving, PartId)], steps: usize) -> Self {
        let mut items: Vec<Item> = Vec::new();
        let mut item_of = Vec::with_capacity(parts.len());
        for (at, &(moving, part)) in parts.iter().enumerate() {
            let known = match moving {
                Moving::Part(_) => None,
                Moving::Piece(inner) => Some(ground.item_of_piece[inner.0 as usize])
                    .filter(|&item| items.get(item).is_some_and(|item| item.moving == moving)),
            };
            let item = known.unwrap_or_else(|| {
                if let Moving::Piece(inner) = moving {
                    ground.item_of_piece[inner.0 as usize] = items.len();
                }
                let slides = ground.slides.get(&moving).copied();
                items.push(Item { moving, parts: Vec::new(), slides, place: usize::MAX });
                items.len() - 1
            });
            items[item].parts.push(at);
            item_of.push(item);
            ground.part_at[part.0 as usize] = at;
        }
        let ground = &*ground;
        let parts: Vec<PartId> = parts.iter().map(|(_, part)| *part).collect();
        let at_level = |part: PartId| Some(ground.part_at[part.0 as usize]).filter(|&at| parts.get(at) == Some(&part));
        places(&mut items, &ground.steps[piece.0 as usize], |part| at_level(part).map(|at| item_of[at]));
        let clings = |part: &PartId| ground.clings[part.0 as usize].iter();
        let clings =
            parts.iter().map(|part| clings(part).filter_map(|&(other, way)| Some((at_level(other)?, way))).collect());
        let bounds = parts.iter().map(|part| ground.model.part(*part).solid).reduce(|a, b| a.hull(&b));
        let bounds = bounds.unwrap_or(Solid::new([Length::ZERO; 3], [Length::ZERO; 3]));
        Self { items, clings: clings.collect(), parts, item_of, bounds, steps, ground }
    }

    /// The order in which the piece goes together, what goes in as one, and what is locked.
    pub fn solve(&mut self) -> (Vec<Moving>, Vec<Range<usize>>, Vec<Locked>) {
        let mut groups = Vec::new();
        let mut locked = Vec::new();
        let all: Vec<usize> = (0..self.items.len()).collect();
        let order = if all.len() < 2 { all } else { self.order_of(all, 0, &mut groups, &mut locked) };
        (order.into_iter().map(|at| self.items[at].moving).collect(), groups, locked)
    }

    /// How many pairs of cuboids may still be looked at.
    pub fn steps_left(&self) -> usize {
        self.steps
    }

    /// The order in which a set of items goes together, all of them or those that move as one. `from` is how many go in before them.
    fn order_of(
        &mut self,
        set: Vec<usize>,
        from: usize,
        groups: &mut Vec<Range<usize>>,
        locked: &mut Vec<Locked>,
    ) -> Vec<usize> {
        let mut left = Left::new(self, set);
        // From the last that goes in to the first; what goes in as one is put in order by itself.
        let mut backwards: Vec<Taken> = Vec::new();
        let mut held = None;
        loop {
            self.take_out(&mut left, &mut backwards);
            if left.count == 0 {
                break;
            }
            let group = if self.steps == 0 { None } else { self.group(&mut left) };
            if let Some(group) = group {
                for &at in &group {
                    left.take(at, self);
                }
                backwards.push(Taken::Group(group.iter().map(|&at| left.set[at]).collect()));
            } else {
                if self.steps > 0 {
                    held = self.locked(&left);
                }
                let mut rest: Vec<usize> = left.all().map(|at| left.set[at]).collect();
                rest.sort_by_key(|&item| std::cmp::Reverse(self.items[item].place));
                backwards.extend(rest.into_iter().map(Taken::One));
                break;
            }
        }
        let mut first = from + left.set.len();
        drop(left);
        let mut order: Vec<usize> = Vec::new();
        for taken in backwards {
            match taken {
                Taken::One(item) => {
                    first -= 1;
                    order.push(item);
                }
                Taken::Group(group) => {
                    first -= group.len();
                    groups.push(first..first + group.len());
                    order.extend(self.order_of(group, first, groups, locked).into_iter().rev());
                }
            }
        }
        locked.extend(held);
        order.reverse();
        order
    }

    /// Takes out, one by one, what comes free; of several, what the recipe fits last.
    ///
    /// What is not free waits for one that is in its way, so that all that is free is among `left.next` at any time.
    fn take_out(&mut self, left: &mut Left, backwards: &mut Vec<Taken>) {
        while let Some((_, at)) = left.next.pop() {
            if !left.there[at] {
                continue;
            }
            let mut free = false;
            for nth in 0..self.items[left.set[at]].ways().len() {
                let Held { by, part } = left.held[at][nth];
                if by.is_some_and(|by| left.there[by]) {
                    continue;
                }
                let way = self.items[left.set[at]].ways()[nth];
                // Parts that were free to go are free still.
                let found = self.in_the_way(left, at, way, part, |_, _| true);
                if self.steps == 0 {
                    return;
                }
                let Some((part, other)) = found else {
                    free = true;
                    break;
                };
                left.held[at][nth] = Held { by: Some(other), part };
                left.waiting[other].push(at);
            }
            if free {
                backwards.push(Taken::One(left.set[at]));
                left.take(at, self);
            }
        }
    }

    /// What is in the way of an item, of all that is left: the first of which `enough` says so, and which part of the item it
    /// holds. `enough` is told the other item and by how much. Parts before `from` are not looked at.
    fn in_the_way(
        &mut self,
        left: &Left,
        item: usize,
        way: Face,
        from: usize,
        mut enough: impl FnMut(usize, Length) -> bool,
    ) -> Option<(usize, usize)> {
        let mut found = None;
        let mut steps = self.steps;
        let limit = self.bounds.face(way);
        let swept = |solid: &Solid| {
            let mut swept = *solid;
            swept.set_face(way, limit);
            swept
        };
        let own = &self.items[left.set[item]].parts;
        for (nth, &part) in own.iter().enumerate().skip(from) {
            let other = |part: usize| left.find(self.item_of[part]).filter(|&other| other != item);
            let mut clung = self.clings[part].iter().filter(|(_, face)| *face == way).map(|(part, _)| *part);
            if let Some(other) = clung.find_map(other)
                && enough(other, Length::ZERO)
            {
                return Some((nth, other));
            }
            let id = self.parts[part];
            let around = swept(&self.ground.model.part(id).solid);
            let stopped = left.present.others(&around, item, way, |place| {
                let (other, skinned) = (left.owners[place], &self.ground.skinned[left.parts[place].0 as usize]);
                for own in self.ground.material[id.0 as usize].iter().map(swept) {
                    for there in skinned {
                        steps = steps.saturating_sub(1);
                        if steps == 0 {
                            return true;
                        }
                        if !there.is_empty() && meet(&own, there) {
                            let [a, b] = way.axis().others();
                            let by = own.overlap(there).map_or(Length::ZERO, |both| both.size(a).min(both.size(b)));
                            if enough(other, by + Length::SAME_SIZE) {
                                found = Some((nth, other));
                                return true;
                            }
                        }
                    }
                }
                false
            });
            if stopped {
                break;
            }
        }
        self.steps = steps;
        found
    }

    /// Items that move as one past the others: the fewest that keep each other from no way but by themselves.
    fn group(&mut self, left: &mut Left) -> Option<Vec<usize>> {
        let mut best: Option<Vec<usize>> = None;
        let mut reached_from = vec![usize::MAX; left.set.len()];
        for (nth, way) in WAYS.into_iter().enumerate() {
            self.look_who_holds(left, nth, way);
            let holds = &left.holds[nth];
            let seeds: Vec<usize> = left.all().take(MOST_SEEDS).collect();
            for &seed in &seeds {
                let mark = nth * left.set.len() + seed;
                let mut reached = vec![seed];
                reached_from[seed] = mark;
                let mut at = 0;
                while at < reached.len() && reached.len() < left.count {
                    for &other in holds[reached[at]].iter().filter(|&&other| left.there[other]) {
                        if reached_from[other] != mark {
                            reached_from[other] = mark;
                            reached.push(other);
                        }
                    }
                    at += 1;
                }
                let may = reached.iter().all(|&at| self.items[left.set[at]].ways().contains(&way));
                if !may || reached.len() >= left.count {
                    continue;
                }
                // Whichever is fewer goes in as one; past each other they move the same.
                let fewer = reached.len().min(left.count - reached.len());
                if best.as_ref().is_none_or(|best| fewer < best.len()) {
                    let inside = fewer == reached.len();
                    best = Some(left.all().filter(|&at| (reached_from[at] == mark) == inside).collect());
                }
            }
        }
        best
    }

    /// Notes all that is in the way of each item; what has been noted before can only have become less.
    fn look_who_holds(&mut self, left: &mut Left, nth: usize, way: Face) {
        if !left.holds[nth].is_empty() {
            return;
        }
        let mut holds: Vec<Vec<usize>> = vec![Vec::new(); left.set.len()];
        let mut seen = vec![usize::MAX; left.set.len()];
        for item in left.all() {
            self.in_the_way(left, item, way, 0, |other, _| {
                if seen[other] != item {
                    seen[other] = item;
                    holds[item].push(other);
                }
                false
            });
        }
        left.holds[nth] = holds;
    }

    fn locked(&mut self, left: &Left) -> Option<Locked> {
        if left.all().any(|at| self.shares_space(left, at)) {
            return None;
        }
        let moving = |at: usize, level: &Self| level.items[left.set[at]].moving;
        // A single part is easier to move than a piece that is built already.
        let is_piece = |at: usize, level: &Self| matches!(moving(at, level), Moving::Piece(_));
        let mut least: Option<((usize, bool), usize, Blocks)> = None;
        for at in left.all() {
            let mut by = Blocks::new();
            for nth in 0..self.items[left.set[at]].ways().len() {
                let way = self.items[left.set[at]].ways()[nth];
                let mut worst: Option<(usize, Length)> = None;
                self.in_the_way(left, at, way, 0, |other, much| {
                    if worst.is_none_or(|(_, known)| much > known) {
                        worst = Some((other, much));
                    }
                    false
                });
                by.extend(worst.map(|(other, much)| (way, other, much)));
            }
            let mut others: Vec<usize> = by.iter().map(|(_, other, _)| *other).collect();
            others.sort_unstable();
            others.dedup();
            let rank = (others.len(), is_piece(at, self));
            if least.as_ref().is_none_or(|(known, _, _)| rank < *known) {
                least = Some((rank, at, by));
            }
        }
        let (_, held, by) = least?;
        Some(Locked {
            together: left.all().map(|at| moving(at, self)).collect(),
            held: moving(held, self),
            by: by.into_iter().map(|(way, other, much)| (way, moving(other, self), much)).collect(),
        })
    }

    fn shares_space(&self, left: &Left, at: usize) -> bool {
        self.items[left.set[at]].parts.iter().any(|&part| {
            let id = self.parts[part];
            left.present.others(&self.ground.model.part(id).solid, at, Face::Front, |place| {
                let skinned = &self.ground.skinned[left.parts[place].0 as usize];
                let own = &self.ground.material[id.0 as usize];
                own.iter().any(|own| skinned.iter().any(|there| !there.is_empty() && meet(own, there)))
            })
        })
    }
}

/// Which way an item cannot go, what is in its way there, and by how much.
type Blocks = Vec<(Face, usize, Length)>;

/// More than this many locked together are looked at from the first ones only.
const MOST_SEEDS: usize = 200;

struct Item {
    moving: Moving,
    /// The places of its parts in the level.
    parts: Vec<usize>,
    /// The one way that it may go, if it slides: a drawer goes in from the front only.
    slides: Option<Face>,
    /// What the recipe's own order says: the later it comes there, the sooner it is taken out.
    place: usize,
}

impl Item {
    /// The ways that it may go.
    fn ways(&self) -> &[Face] {
        self.slides.as_ref().map_or(&WAYS, std::slice::from_ref)
    }
}

/// What keeps an item from going one way.
#[derive(Clone, Copy, Default)]
struct Held {
    /// One that is in its way.
    by: Option<usize>,
    /// Which of its parts it holds; those before are free.
    part: usize,
}

/// A set of items of which some are taken out already. Each is known here by its place in the set.
struct Left {
    set: Vec<usize>,
    there: Vec<bool>,
    count: usize,
    /// By item of the level: its place in the set.
    place_of: Vec<usize>,
    present: Present,
    /// By cuboid of `present`: its part, and whose it is.
    parts: Vec<PartId>,
    owners: Vec<usize>,
    /// By item: its cuboids.
    cuboids: Vec<Range<usize>>,
    /// Those that may have come free, with their place in the recipe's order.
    next: BinaryHeap<(usize, usize)>,
    held: Vec<[Held; WAYS.len()]>,
    /// By item: those that it holds.
    waiting: Vec<Vec<usize>>,
    /// By way and item: all that held it when that was first asked; empty until then.
    holds: [Vec<Vec<usize>>; WAYS.len()],
}

impl Left {
    fn new(level: &Level<'_>, set: Vec<usize>) -> Self {
        let mut place_of = vec![usize::MAX; level.items.len()];
        let (mut parts, mut owners, mut cuboids) = (Vec::new(), Vec::new(), Vec::with_capacity(set.len()));
        for (at, &item) in set.iter().enumerate() {
            place_of[item] = at;
            let own = &level.items[item].parts;
            cuboids.push(parts.len()..parts.len() + own.len());
            parts.extend(own.iter().map(|&part| level.parts[part]));
            owners.extend(own.iter().map(|_| at));
        }
        let around = parts.iter().map(|&part| level.ground.model.part(part).solid).collect();
        Self {
            there: vec![true; set.len()],
            count: set.len(),
            place_of,
            present: Present::new(around, &owners),
            parts,
            owners,
            cuboids,
            next: set.iter().enumerate().map(|(at, &item)| (level.items[item].place, at)).collect(),
            held: vec![[Held::default(); WAYS.len()]; set.len()],
            waiting: vec![Vec::new(); set.len()],
            holds: Default::default(),
            set,
        }
    }

    /// Those that are left, in order.
    fn all(&self) -> impl Iterator<Item = usize> {
        (0..self.set.len()).filter(|&at| self.there[at])
    }

    /// An item of the level, if it is left.
    fn find(&self, item: usize) -> Option<usize> {
        self.there.get(self.place_of[item]).is_some_and(|there| *there).then(|| self.place_of[item])
    }

    /// Takes one out; whoever it held may be free.
    fn take(&mut self, at: usize, level: &Level<'_>) {
        self.there[at] = false;
        self.count -= 1;
        self.cuboids[at].clone().for_each(|place| self.present.take(place));
        let woken = std::mem::take(&mut self.waiting[at]);
        let woken = woken.into_iter().filter(|&woken| self.there[woken]);
        self.next.extend(woken.map(|woken| (level.items[self.set[woken]].place, woken)));
    }
}

/// What was taken out at once.
enum Taken {
    One(usize),
    /// Several that move as one.
    Group(Vec<usize>),
}

/// The ways out, those first that a maker would try first.
pub(super) const WAYS: [Face; 6] = [Face::Front, Face::Top, Face::Back, Face::Left, Face::Right, Face::Bottom];

/// Notes where the items of a piece come in the recipe's own steps: where they are fitted, else where they are first named.
fn places(items: &mut [Item], steps: &[(usize, &[PartId])], item_of: impl Fn(PartId) -> Option<usize>) {
    let mut note = |part: &PartId, place: usize| {
        if let Some(item) = item_of(*part).map(|item| &mut items[item])
            && item.place == usize::MAX
        {
            item.place = place;
        }
    };
    for (step, named) in steps {
        named.iter().take(1).for_each(|part| note(part, step + 1));
    }
    for (step, named) in steps {
        named.iter().skip(1).for_each(|part| note(part, *step));
    }
}
