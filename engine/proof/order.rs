//! The order in which a piece goes together: each part, or each piece that was built before, goes straight in along an axis.
//!
//! Worked backwards: what can be taken out, past all that is still there, goes in last. Taking something out never gets in the way
//! of the rest, so taking out whatever comes free finds an order wherever there is one. Where nothing comes free by itself,
//! several may move as one, as the two halves of a frame with its panel do; they are then a piece of their own.

use std::collections::{BTreeMap, BinaryHeap, HashMap};
use std::ops::Range;

use super::index::{Index, meet, within_tolerance};
use super::material::Material;
use crate::base::{Face, Length, Solid};
use crate::model::{Model, Moving, PartId, PieceId, Shape, Way};

/// How one piece goes together.
#[derive(Clone, Debug)]
pub struct Assembly {
    /// The piece.
    pub piece: PieceId,
    /// Its parts and the pieces in it, in the order in which they go in.
    pub order: Vec<Moving>,
    /// Runs of the order that are put together first and then go in as one.
    pub groups: Vec<Range<usize>>,
    /// What cannot be put together in any order.
    pub locked: Vec<Locked>,
    /// Whether the order was looked for to the end.
    pub complete: bool,
}

/// Things of which none can go in or out past the others.
#[derive(Clone, Debug)]
pub struct Locked {
    /// All of them.
    pub together: Vec<Moving>,
    /// The one that the fewest others hold.
    pub held: Moving,
    /// For each way out: what is in it, and by how much.
    pub by: Vec<(Face, Moving, Length)>,
}

/// Finds the order of every piece of a settled model, the job itself included. What shares space with something else has none, and
/// is not told of as locked.
pub fn assemblies(model: &Model) -> Vec<Assembly> {
    let material = Material::new(model);
    let mut levels: BTreeMap<PieceId, Vec<(Moving, PartId)>> = BTreeMap::new();
    for (id, part) in model.part_ids() {
        let mut item = Moving::Part(id);
        let mut piece = Some(part.piece);
        while let Some(at) = piece {
            levels.entry(at).or_default().push((item, id));
            item = Moving::Piece(at);
            piece = model.piece(at).parent;
        }
    }
    let mut steps = MOST_STEPS;
    let ways: HashMap<Moving, Way> = model.motions.iter().map(|motion| (motion.moving, motion.way)).collect();
    let clinging = clinging(model);
    levels
        .into_iter()
        .map(|(piece, parts)| {
            let mut level = Level::new(model, &material, &clinging, piece, parts, &ways, steps);
            let (order, groups, locked) = level.solve();
            steps = level.steps;
            let items = |places: Vec<usize>| places.into_iter().map(|at| level.items[at].moving).collect();
            Assembly { piece, order: items(order), groups, locked, complete: steps > 0 && material.complete }
        })
        .collect()
}

/// Pairs of cuboids looked at before the proof is given up: a hundred times what a large job takes.
const MOST_STEPS: usize = 5_000_000;
/// More than this many locked together are looked at from the first ones only.
const MOST_SEEDS: usize = 200;

struct Item {
    moving: Moving,
    /// The places of its parts in the level.
    parts: Vec<usize>,
    /// The ways that it may go: a drawer goes in from the front only.
    ways: Vec<Face>,
    /// What the recipe's own order says: the later it comes there, the sooner it is taken out.
    place: usize,
}

struct Level<'a> {
    items: Vec<Item>,
    /// By part of the level: its item, its material, the same less its skin.
    item_of: Vec<usize>,
    material: Vec<&'a [Solid]>,
    skinned: Vec<Vec<Solid>>,
    around: Vec<Solid>,
    /// By part of the level: parts that it cannot leave one way, for the slope of a dovetail.
    clings: Vec<Vec<(usize, Face)>>,
    index: Index,
    bounds: Solid,
    steps: usize,
}

type Solved = (Vec<usize>, Vec<Range<usize>>, Vec<Locked>);

/// Which way an item cannot go, what is in its way there, and by how much.
type Blocks = Vec<(Face, usize, Length)>;

impl<'a> Level<'a> {
    fn new(
        model: &Model,
        material: &'a Material,
        clinging: &[(PartId, PartId, Face)],
        piece: PieceId,
        parts: Vec<(Moving, PartId)>,
        ways: &HashMap<Moving, Way>,
        steps: usize,
    ) -> Self {
        let places = places(model, piece, &parts);
        let mut items: Vec<Item> = Vec::new();
        let mut known: HashMap<Moving, usize> = HashMap::new();
        let mut at_level: HashMap<PartId, usize> = HashMap::new();
        let mut item_of = Vec::with_capacity(parts.len());
        for (at, &(moving, part)) in parts.iter().enumerate() {
            let item = *known.entry(moving).or_insert_with(|| {
                let ways = match ways.get(&moving) {
                    Some(Way::Slide { out, .. }) => vec![*out],
                    _ => WAYS.to_vec(),
                };
                let place = places.get(&moving).copied().unwrap_or(usize::MAX);
                items.push(Item { moving, parts: Vec::new(), ways, place });
                items.len() - 1
            });
            items[item].parts.push(at);
            item_of.push(item);
            at_level.insert(part, at);
        }
        let material: Vec<&[Solid]> = parts.iter().map(|(_, part)| &*material.solids[part.0 as usize]).collect();
        let skinned = material.iter().map(|solids| solids.iter().map(within_tolerance).collect()).collect();
        let around: Vec<Solid> = parts.iter().map(|(_, part)| model.part(*part).solid).collect();
        let bounds = around
            .iter()
            .copied()
            .reduce(|a, b| a.hull(&b))
            .unwrap_or(Solid::new([Length::ZERO; 3], [Length::ZERO; 3]));
        let mut clings = vec![Vec::new(); parts.len()];
        for (part, other, way) in clinging {
            if let (Some(&part), Some(&other)) = (at_level.get(part), at_level.get(other)) {
                clings[part].push((other, *way));
            }
        }
        Self { items, item_of, material, skinned, index: Index::new(around.clone()), around, clings, bounds, steps }
    }

    fn solve(&mut self) -> Solved {
        let mut groups = Vec::new();
        let mut locked = Vec::new();
        let all: Vec<usize> = (0..self.items.len()).collect();
        let order = if all.len() < 2 { all } else { self.order_of(all, 0, &mut groups, &mut locked) };
        (order, groups, locked)
    }

    /// The order in which a set of items goes together, all of them or those that move as one. `from` is how many go in before them.
    fn order_of(
        &mut self,
        set: Vec<usize>,
        from: usize,
        groups: &mut Vec<Range<usize>>,
        locked: &mut Vec<Locked>,
    ) -> Vec<usize> {
        let mut there = vec![false; self.items.len()];
        for &item in &set {
            there[item] = true;
        }
        // From the last that goes in to the first.
        let mut backwards: Vec<usize> = Vec::with_capacity(set.len());
        loop {
            self.take_out(&mut there, &mut backwards);
            let left: Vec<usize> = set.iter().copied().filter(|&item| there[item]).collect();
            if left.is_empty() || self.steps == 0 {
                let mut left = left;
                left.sort_by_key(|&item| std::cmp::Reverse(self.items[item].place));
                backwards.extend(left);
                break;
            }
            if let Some(group) = self.group(&left, &there) {
                for &item in &group {
                    there[item] = false;
                }
                let first = from + left.len() - group.len();
                groups.push(first..first + group.len());
                let inner = self.order_of(group, first, groups, locked);
                backwards.extend(inner.into_iter().rev());
            } else {
                locked.extend(self.locked(&left, &there));
                let mut left = left;
                left.sort_by_key(|&item| std::cmp::Reverse(self.items[item].place));
                backwards.extend(left);
                break;
            }
        }
        backwards.reverse();
        backwards
    }

    /// Takes out, one by one, what comes free; of several, what the recipe fits last.
    fn take_out(&mut self, there: &mut [bool], backwards: &mut Vec<usize>) {
        let mut next: BinaryHeap<(usize, usize)> =
            (0..self.items.len()).filter(|&item| there[item]).map(|item| (self.items[item].place, item)).collect();
        let mut held_by: Vec<[Option<usize>; 6]> = vec![[None; 6]; self.items.len()];
        let mut waiting: HashMap<usize, Vec<usize>> = HashMap::new();
        while let Some((_, item)) = next.pop() {
            if !there[item] {
                continue;
            }
            let mut free = false;
            for (at, way) in self.items[item].ways.clone().into_iter().enumerate() {
                if held_by[item][at].is_some_and(|held| there[held]) {
                    continue;
                }
                held_by[item][at] = self.in_the_way(item, way, there, |_, _| true);
                if self.steps == 0 {
                    return;
                }
                match held_by[item][at] {
                    None => {
                        free = true;
                        break;
                    }
                    Some(other) => waiting.entry(other).or_default().push(item),
                }
            }
            if free {
                there[item] = false;
                backwards.push(item);
                let woken = waiting.remove(&item).unwrap_or_default();
                next.extend(
                    woken.into_iter().filter(|&woken| there[woken]).map(|woken| (self.items[woken].place, woken)),
                );
            }
        }
    }

    /// An item that is in the way of another one, of those that are there: the first of which `enough` says so. It is told the
    /// other item and by how much.
    fn in_the_way(
        &mut self,
        item: usize,
        way: Face,
        there: &[bool],
        mut enough: impl FnMut(usize, Length) -> bool,
    ) -> Option<usize> {
        let mut found = None;
        let mut steps = self.steps;
        let swept = |solid: &Solid| {
            let mut swept = *solid;
            swept.set_face(way, self.bounds.face(way));
            swept
        };
        let other_item = |part: usize| Some(self.item_of[part]).filter(|&other| other != item && there[other]);
        for &part in &self.items[item].parts {
            let clung = self.clings[part].iter().find(|(other, face)| *face == way && other_item(*other).is_some());
            if let Some(&(other, _)) = clung
                && enough(self.item_of[other], Length::ZERO)
            {
                return Some(self.item_of[other]);
            }
            let stopped = self.index.any(&swept(&self.around[part]), |other| {
                let Some(place) = other_item(other) else { return false };
                for own in self.material[part].iter().map(swept) {
                    for there in &self.skinned[other] {
                        steps = steps.saturating_sub(1);
                        if steps == 0 {
                            return true;
                        }
                        if !there.is_empty() && meet(&own, there) {
                            let [a, b] = way.axis().others();
                            let by = own.overlap(there).map_or(Length::ZERO, |both| both.size(a).min(both.size(b)));
                            if enough(place, by + Length::SAME_SIZE) {
                                found = Some(place);
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
    fn group(&mut self, left: &[usize], there: &[bool]) -> Option<Vec<usize>> {
        let mut best: Option<Vec<usize>> = None;
        for way in WAYS {
            let mut holds: HashMap<usize, Vec<usize>> = HashMap::new();
            for &item in left {
                let mut by = Vec::new();
                self.in_the_way(item, way, there, |other, _| {
                    if !by.contains(&other) {
                        by.push(other);
                    }
                    false
                });
                holds.insert(item, by);
            }
            for &seed in left.iter().take(MOST_SEEDS) {
                let mut reached = vec![seed];
                let mut at = 0;
                while at < reached.len() && reached.len() < left.len() {
                    for &other in &holds[&reached[at]] {
                        if !reached.contains(&other) {
                            reached.push(other);
                        }
                    }
                    at += 1;
                }
                let may = reached.iter().all(|&item| self.items[item].ways.contains(&way));
                if !may || reached.len() >= left.len() {
                    continue;
                }
                // Whichever is fewer goes in as one; past each other they move the same.
                let others: Vec<usize> = left.iter().copied().filter(|item| !reached.contains(item)).collect();
                let fewer = if others.len() < reached.len() { others } else { reached };
                if best.as_ref().is_none_or(|best| fewer.len() < best.len()) {
                    best = Some(fewer);
                }
            }
        }
        best
    }

    fn locked(&mut self, left: &[usize], there: &[bool]) -> Option<Locked> {
        if left.iter().any(|&item| self.shares_space(item, there)) {
            return None;
        }
        // A single part is easier to move than a piece that is built already.
        let is_piece = |item: usize, level: &Self| matches!(level.items[item].moving, Moving::Piece(_));
        let mut least: Option<((usize, bool), usize, Blocks)> = None;
        for &item in left {
            let mut by = Blocks::new();
            for way in self.items[item].ways.clone() {
                let mut worst: Option<(usize, Length)> = None;
                self.in_the_way(item, way, there, |other, much| {
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
            let rank = (others.len(), is_piece(item, self));
            if least.as_ref().is_none_or(|(known, _, _)| rank < *known) {
                least = Some((rank, item, by));
            }
        }
        let (_, held, by) = least?;
        Some(Locked {
            together: left.iter().map(|&item| self.items[item].moving).collect(),
            held: self.items[held].moving,
            by: by.into_iter().map(|(way, other, much)| (way, self.items[other].moving, much)).collect(),
        })
    }

    fn shares_space(&self, item: usize, there: &[bool]) -> bool {
        self.items[item].parts.iter().any(|&part| {
            self.index.any(&self.around[part], |other| {
                let place = self.item_of[other];
                place != item
                    && there[place]
                    && self.material[part]
                        .iter()
                        .any(|own| self.skinned[other].iter().any(|there| !there.is_empty() && meet(own, there)))
            })
        })
    }
}

/// The ways out, those first that a maker would try first.
const WAYS: [Face; 6] = [Face::Front, Face::Top, Face::Back, Face::Left, Face::Right, Face::Bottom];

/// Where the items of a piece come in the recipe's own steps: where they are fitted, else where they are first named.
fn places(model: &Model, piece: PieceId, parts: &[(Moving, PartId)]) -> HashMap<Moving, usize> {
    let item: HashMap<PartId, Moving> = parts.iter().map(|&(moving, part)| (part, moving)).collect();
    let mut places: HashMap<Moving, usize> = HashMap::new();
    let steps =
        || model.step_parts.iter().filter(|(step, _)| model.steps.get(**step).is_some_and(|s| s.piece == piece));
    for (step, named) in steps() {
        if let Some(moving) = named.first().and_then(|part| item.get(part)) {
            places.entry(*moving).or_insert(step + 1);
        }
    }
    for (step, named) in steps() {
        for moving in named.iter().skip(1).filter_map(|part| item.get(part)) {
            places.entry(*moving).or_insert(*step);
        }
    }
    places
}

/// Parts that cannot leave another one way, because the room between its tails or pins is narrower there.
fn clinging(model: &Model) -> Vec<(PartId, PartId, Face)> {
    let mut found = Vec::new();
    for (id, part) in model.part_ids() {
        for feature in &part.features {
            let Shape::Dovetail { wide, .. } = feature.shape else { continue };
            let joint = model.joint(feature.joint);
            for &other in joint.into.iter().chain([&joint.member]).filter(|&&other| other != id) {
                if model.part(other).solid.overlap(&feature.solid).is_some() {
                    found.push((other, id, wide.opposite()));
                    found.push((id, other, wide));
                }
            }
        }
    }
    found.sort_unstable();
    found.dedup();
    found
}

/// How a maker says that something goes one way.
pub const fn to(face: Face) -> &'static str {
    match face {
        Face::Left => "to the left",
        Face::Right => "to the right",
        Face::Front => "forwards",
        Face::Back => "back",
        Face::Bottom => "down",
        Face::Top => "up",
    }
}
