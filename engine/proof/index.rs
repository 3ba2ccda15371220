//! Finds the cuboids that meet a space without looking at all of them.

use std::ops::Range;

use crate::base::{Axis, Face, Length, Solid};

/// Cuboids in a tree of halves: what meets a space is found in about as many steps as the tree is deep.
#[derive(Clone, Debug, Default)]
pub struct Index {
    solids: Vec<Solid>,
    /// The places of the cuboids, sorted so that each node has a run of them; and the cuboids in that order, so that those that are
    /// looked at together lie together.
    order: Vec<usize>,
    sorted: Vec<Solid>,
    nodes: Vec<Node>,
}

#[derive(Clone, Copy, Debug)]
struct Node {
    around: Solid,
    first: usize,
    count: usize,
    /// The place of the second half; the first half follows its node. None for a leaf.
    second: Option<usize>,
}

impl Node {
    /// Where its cuboids come in the order.
    fn run(&self) -> Range<usize> {
        self.first..self.first + self.count
    }
}

/// Fewer cuboids than this are looked at one by one.
const LEAF: usize = 4;

impl Index {
    /// An index of cuboids, which keep their places in the list.
    pub fn new(solids: Vec<Solid>) -> Self {
        let nodes = Vec::with_capacity(solids.len());
        let mut index = Self { order: (0..solids.len()).collect(), solids, sorted: Vec::new(), nodes };
        if !index.solids.is_empty() {
            index.grow(0, index.solids.len());
        }
        index.sorted = index.order.iter().map(|&place| index.solids[place]).collect();
        index
    }

    /// Calls `visit` with the place of each cuboid that shares volume with `space`, until it says that it has seen enough by
    /// giving `true`. Gives whether it did.
    pub fn any(&self, space: &Solid, mut visit: impl FnMut(usize) -> bool) -> bool {
        !self.nodes.is_empty() && self.any_below(0, space, &mut visit)
    }

    fn any_below(&self, at: usize, space: &Solid, visit: &mut impl FnMut(usize) -> bool) -> bool {
        let node = &self.nodes[at];
        if !meet(&node.around, space) {
            return false;
        }
        match node.second {
            Some(second) => self.any_below(at + 1, space, visit) || self.any_below(second, space, visit),
            None => node.run().any(|at| meet(&self.sorted[at], space) && visit(self.order[at])),
        }
    }

    /// Every pair of cuboids that share volume, the lower place first, in no order that means anything.
    pub fn pairs(&self, mut visit: impl FnMut(usize, usize)) {
        for (place, solid) in self.solids.iter().enumerate() {
            self.any(solid, |other| {
                if other > place {
                    visit(place, other);
                }
                false
            });
        }
    }

    fn grow(&mut self, first: usize, count: usize) {
        let run = &mut self.order[first..first + count];
        let solids = &self.solids;
        let around = run.iter().map(|&place| solids[place]).reduce(|a, b| a.hull(&b));
        let Some(around) = around else { return };
        let at = self.nodes.len();
        self.nodes.push(Node { around, first, count, second: None });
        if count <= LEAF {
            return;
        }
        let longest = Axis::ALL.into_iter().max_by_key(|&axis| around.size(axis)).unwrap_or(Axis::X).index();
        let middle = |place: &usize| solids[*place].low[longest] + solids[*place].high[longest];
        run.select_nth_unstable_by_key(count / 2, |place| (middle(place), *place));
        self.grow(first, count / 2);
        self.nodes[at].second = Some(self.nodes.len());
        self.grow(first + count / 2, count - count / 2);
    }
}

/// Cuboids that belong to somebody and are taken away one by one.
///
/// Each node knows whose cuboids are left in it, so that a search passes by what has gone and what is the asker's own.
#[derive(Clone, Debug)]
pub(super) struct Present {
    index: Index,
    /// By cuboid: where it comes in the order of the index, and its leaf.
    places: Vec<(usize, usize)>,
    /// In the order of the index: whom a cuboid belongs to, none once it is taken away.
    owners: Vec<Option<usize>>,
    /// By node: the lowest and the highest owner of what is left in it, none when nothing is; and the node above.
    owned: Vec<Option<(usize, usize)>>,
    above: Vec<usize>,
}

impl Present {
    /// Cuboids that are all there, each with its owner.
    pub fn new(solids: Vec<Solid>, owners: &[usize]) -> Self {
        let index = Index::new(solids);
        let mut above = vec![0; index.nodes.len()];
        let mut places = vec![(0, 0); owners.len()];
        for (at, node) in index.nodes.iter().enumerate() {
            match node.second {
                Some(second) => [above[at + 1], above[second]] = [at; 2],
                None => node.run().for_each(|own| places[index.order[own]] = (own, at)),
            }
        }
        let owned = vec![None; index.nodes.len()];
        let owners = index.order.iter().map(|&place| Some(owners[place])).collect();
        let mut present = Self { index, places, owners, owned, above };
        // What is below a node comes after it.
        for at in (0..present.owned.len()).rev() {
            present.look_again(at);
        }
        present
    }

    /// Takes a cuboid away.
    pub fn take(&mut self, place: usize) {
        let (own, mut at) = self.places[place];
        self.owners[own] = None;
        loop {
            self.look_again(at);
            if at == 0 {
                break;
            }
            at = self.above[at];
        }
    }

    /// Calls `visit` with the place of each cuboid of anyone but `owner` that shares volume with `space`, about in the order in
    /// which something that goes `way` comes to them, until it says that it has seen enough by giving `true`. Gives whether it did.
    pub fn others(&self, space: &Solid, owner: usize, way: Face, mut visit: impl FnMut(usize) -> bool) -> bool {
        !self.owned.is_empty() && self.others_below(0, space, owner, way, &mut visit)
    }

    fn others_below(
        &self,
        at: usize,
        space: &Solid,
        owner: usize,
        way: Face,
        visit: &mut impl FnMut(usize) -> bool,
    ) -> bool {
        let node = &self.index.nodes[at];
        if self.owned[at].is_none_or(|owned| owned == (owner, owner)) || !meet(&node.around, space) {
            return false;
        }
        let Some(second) = node.second else {
            return node.run().any(|at| {
                let other = self.owners[at].is_some_and(|other| other != owner);
                other && meet(&self.index.sorted[at], space) && visit(self.index.order[at])
            });
        };
        let [near, far] = if self.starts_before(second, at + 1, way) { [second, at + 1] } else { [at + 1, second] };
        self.others_below(near, space, owner, way, visit) || self.others_below(far, space, owner, way, visit)
    }

    /// Whether one node is reached before another one by something that goes `way`.
    fn starts_before(&self, one: usize, other: usize, way: Face) -> bool {
        let [one, other] = [one, other].map(|at| self.index.nodes[at].around.face(way.opposite()));
        if way.is_high() { one < other } else { one > other }
    }

    /// Works out anew what is left in a node, from what is left right below it.
    fn look_again(&mut self, at: usize) {
        let node = &self.index.nodes[at];
        let both = |a: (Solid, usize, usize), b: (Solid, usize, usize)| (a.0.hull(&b.0), a.1.min(b.1), a.2.max(b.2));
        let left = if let Some(second) = node.second {
            let below = |at: usize| self.owned[at].map(|(low, high)| (self.index.nodes[at].around, low, high));
            below(at + 1).into_iter().chain(below(second)).reduce(both)
        } else {
            let left = |at: usize| self.owners[at].map(|owner| (self.index.sorted[at], owner, owner));
            node.run().filter_map(left).reduce(both)
        };
        self.owned[at] = left.map(|(_, low, high)| (low, high));
        if let Some((around, ..)) = left {
            self.index.nodes[at].around = around;
        }
    }
}

/// Whether two cuboids share volume.
pub(super) fn meet(a: &Solid, b: &Solid) -> bool {
    (0..3).all(|axis| a.low[axis] < b.high[axis] && b.low[axis] < a.high[axis])
}

/// What stands in the way, without the skin that the tolerance allows.
pub(super) fn within_tolerance(solid: &Solid) -> Solid {
    let skin = Length::SAME_SIZE;
    Solid::new(solid.low.map(|low| low + skin), solid.high.map(|high| high - skin))
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn solid() -> impl Strategy<Value = Solid> {
        (prop::array::uniform3(-50_i64..50), prop::array::uniform3(1_i64..30)).prop_map(|(low, size)| {
            let low = low.map(Length::from_nm);
            Solid::new(low, std::array::from_fn(|axis| low[axis] + Length::from_nm(size[axis])))
        })
    }

    proptest! {
        #[test]
        fn finds_what_looking_at_all_of_them_finds(solids in prop::collection::vec(solid(), 0..60), space in solid()) {
            let index = Index::new(solids.clone());
            let mut found = Vec::new();
            index.any(&space, |place| { found.push(place); false });
            found.sort_unstable();
            let all: Vec<usize> = (0..solids.len()).filter(|&i| solids[i].overlap(&space).is_some()).collect();
            prop_assert_eq!(found, all);
            let mut pairs = Vec::new();
            index.pairs(|a, b| pairs.push((a, b)));
            pairs.sort_unstable();
            let all: Vec<(usize, usize)> = (0..solids.len())
                .flat_map(|a| (a + 1..solids.len()).map(move |b| (a, b)))
                .filter(|&(a, b)| solids[a].overlap(&solids[b]).is_some())
                .collect();
            prop_assert_eq!(pairs, all);
        }

        #[test]
        fn what_is_left_is_found_and_nothing_else(
            owned in prop::collection::vec((solid(), 0_usize..6), 1..60),
            taken in prop::collection::vec(any::<prop::sample::Index>(), 0..60),
            space in solid(),
        ) {
            let (solids, owners): (Vec<Solid>, Vec<usize>) = owned.iter().copied().unzip();
            let mut present = Present::new(solids.clone(), &owners);
            let mut there = vec![true; solids.len()];
            for place in taken.iter().map(|place| place.index(solids.len())) {
                present.take(place);
                there[place] = false;
            }
            for way in Face::ALL {
                let mut found = Vec::new();
                present.others(&space, 2, way, |place| { found.push(place); false });
                found.sort_unstable();
                let is_other = |place: usize| there[place] && owners[place] != 2;
                let all: Vec<usize> =
                    (0..solids.len()).filter(|&at| is_other(at) && solids[at].overlap(&space).is_some()).collect();
                prop_assert_eq!(found, all);
            }
        }
    }
}
