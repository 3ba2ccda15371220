//! Finds the cuboids that meet a space without looking at all of them.

use crate::base::{Axis, Length, Solid};

/// Cuboids in a tree of halves: what meets a space is found in about as many steps as the tree is deep.
#[derive(Clone, Debug, Default)]
pub struct Index {
    solids: Vec<Solid>,
    /// The places of the cuboids, sorted so that each node has a run of them.
    order: Vec<usize>,
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

/// Fewer cuboids than this are looked at one by one.
const LEAF: usize = 4;

impl Index {
    /// An index of cuboids, which keep their places in the list.
    pub fn new(solids: Vec<Solid>) -> Self {
        let mut index = Self { order: (0..solids.len()).collect(), solids, nodes: Vec::new() };
        if !index.solids.is_empty() {
            index.grow(0, index.solids.len());
        }
        index
    }

    /// Calls `visit` with the place of each cuboid that shares volume with `space`, until it says that it has seen enough by
    /// giving `true`. Gives whether it did.
    pub fn any(&self, space: &Solid, mut visit: impl FnMut(usize) -> bool) -> bool {
        let mut next = vec![0];
        while let Some(at) = next.pop() {
            let Some(node) = self.nodes.get(at) else { break };
            if !meet(&node.around, space) {
                continue;
            }
            match node.second {
                Some(second) => next.extend([second, at + 1]),
                None => {
                    for &place in &self.order[node.first..node.first + node.count] {
                        if meet(&self.solids[place], space) && visit(place) {
                            return true;
                        }
                    }
                }
            }
        }
        false
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
    }
}
