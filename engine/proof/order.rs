//! The order in which a piece goes together: each part, or each piece that was built before, goes straight in along an axis.
//!
//! Worked backwards: what can be taken out, past all that is still there, goes in last. Taking something out never gets in the way
//! of the rest, so taking out whatever comes free finds an order wherever there is one. Where nothing comes free by itself,
//! several may move as one, as the two halves of a frame with its panel do; they are then a piece of their own.

use std::collections::HashMap;
use std::ops::Range;

use super::apart::Level;
use super::index::within_tolerance;
use super::material::Material;
use crate::base::{Face, Length, Solid};
use crate::model::{Model, Moving, PartId, PieceId, Shape, Stage, Way};

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
pub fn assemblies(model: &Model, material: &Material) -> Vec<Assembly> {
    let mut levels: Vec<Vec<(Moving, PartId)>> = vec![Vec::new(); model.pieces.len()];
    for (id, part) in model.part_ids() {
        let mut item = Moving::Part(id);
        let mut piece = Some(part.piece);
        while let Some(at) = piece {
            levels[at.0 as usize].push((item, id));
            item = Moving::Piece(at);
            piece = model.piece(at).parent;
        }
    }
    let mut ground = Ground::new(model, material);
    let mut steps = MOST_STEPS;
    let pieces = (0..).map(PieceId).zip(levels).filter(|(_, parts)| !parts.is_empty());
    pieces
        .map(|(piece, parts)| {
            let mut level = Level::new(&mut ground, piece, &parts, steps);
            let (order, groups, locked) = level.solve();
            steps = level.steps_left();
            Assembly { piece, order, groups, locked, complete: steps > 0 && ground.complete }
        })
        .collect()
}

/// Pairs of cuboids looked at before the proof is given up: a hundred times what a large job takes.
const MOST_STEPS: usize = 5_000_000;

/// What is the same for every piece of a model.
pub(super) struct Ground<'a> {
    pub model: &'a Model,
    /// By part: what it fills, and its material less its skin.
    pub material: &'a [Vec<Solid>],
    pub skinned: Vec<Vec<Solid>>,
    complete: bool,
    /// The one way out of what slides.
    pub slides: HashMap<Moving, Face>,
    /// By part: parts that it cannot leave one way.
    pub clings: Vec<Vec<(PartId, Face)>>,
    /// By piece: its steps, and the parts that they name.
    pub steps: Vec<Vec<(usize, &'a [PartId])>>,
    /// Where a part, and a piece, comes among those of the piece that is looked at.
    pub part_at: Vec<usize>,
    pub item_of_piece: Vec<usize>,
}

impl<'a> Ground<'a> {
    fn new(model: &'a Model, material: &'a Material) -> Self {
        let mut steps = vec![Vec::new(); model.pieces.len()];
        for (&at, named) in &model.step_parts {
            // What is drilled while it lies flat is not fitted by that.
            if let Some(step) = model.steps.get(at).filter(|step| step.stage != Stage::Parts) {
                steps[step.piece.0 as usize].push((at, named.as_slice()));
            }
        }
        let slides = model.motions.iter().map(|motion| match motion.way {
            Way::Slide { out, .. } => (motion.moving, Some(out)),
            Way::Turn(_) => (motion.moving, None),
        });
        // Of two motions of one thing the last one counts.
        let slides: HashMap<Moving, Option<Face>> = slides.collect();
        Self {
            model,
            skinned: material.solids.iter().map(|solids| solids.iter().map(within_tolerance).collect()).collect(),
            complete: material.complete,
            material: &material.solids,
            slides: slides.into_iter().filter_map(|(moving, out)| Some((moving, out?))).collect(),
            clings: clinging(model),
            steps,
            part_at: vec![usize::MAX; model.parts.len()],
            item_of_piece: vec![usize::MAX; model.pieces.len()],
        }
    }
}

/// By part: parts that it cannot leave one way, because the room between its tails or pins is narrower there.
fn clinging(model: &Model) -> Vec<Vec<(PartId, Face)>> {
    let mut found = vec![Vec::new(); model.parts.len()];
    for (id, part) in model.part_ids() {
        for feature in &part.features {
            let Shape::Dovetail { wide, .. } = feature.shape else { continue };
            let joint = model.joint(feature.joint);
            for &other in joint.into.iter().chain([&joint.member]).filter(|&&other| other != id) {
                if model.part(other).solid.overlap(&feature.solid).is_some() {
                    found[other.0 as usize].push((id, wide.opposite()));
                    found[id.0 as usize].push((other, wide));
                }
            }
        }
    }
    for one in &mut found {
        one.sort_unstable();
        one.dedup();
    }
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

#[cfg(test)]
mod tests {
    use std::sync::Arc;

    use proptest::prelude::*;

    use super::super::apart::WAYS;
    use super::super::index::meet;
    use super::*;
    use crate::base::Printing;
    use crate::model::{Part, Stage, Step, Stock, StockForm};

    /// Blocks of up to 3 x 3 x 3 mm on a grid, and the order in which the recipe would fit them.
    fn job(blocks: &[([i64; 3], [i64; 3])], fitted: &[prop::sample::Index]) -> Model {
        let mm = Length::from_mm;
        let mut model = Model::new("blocks", Printing::default());
        let form = StockForm::Sheet { length: mm(2_440), width: mm(1_220) };
        let stock = Arc::new(Stock::new("block", crate::model::Material::Other, form, mm(1)));
        for (low, size) in blocks {
            let solid = Solid::new(low.map(mm), std::array::from_fn(|axis| mm(low[axis] + size[axis])));
            model.add_part(Part::new("block", Model::ROOT, stock.clone(), solid));
        }
        model.settle();
        for (at, part) in fitted.iter().enumerate() {
            model.steps.push(Step { piece: Model::ROOT, stage: Stage::Build, text: String::new() });
            model.step_parts.insert(at, vec![id(part.index(blocks.len()))]);
        }
        model
    }

    fn id(at: usize) -> PartId {
        PartId(u32::try_from(at).unwrap())
    }

    /// Whether some go out as one past others, each looked at against each.
    fn free(model: &Model, going: &[Moving], staying: &[Moving]) -> bool {
        let solid = |moving: &Moving| match moving {
            Moving::Part(part) => model.part(*part).solid,
            Moving::Piece(_) => panic!("there are no pieces here"),
        };
        WAYS.into_iter().any(|way| {
            going.iter().all(|one| {
                let mut swept = solid(one);
                swept.set_face(way, if way.is_high() { Length::from_mm(100) } else { Length::from_mm(-100) });
                staying.iter().all(|other| !meet(&swept, &within_tolerance(&solid(other))))
            })
        })
    }

    /// Goes through an order from its end: what goes in as one first as one, then by itself.
    fn holds(model: &Model, order: &[Moving], groups: &[Range<usize>], from: usize) -> Result<(), TestCaseError> {
        let mut end = order.len();
        while end > 0 {
            let whole = 0..order.len();
            let group = groups.iter().map(|group| group.start.wrapping_sub(from)..group.end.wrapping_sub(from));
            let group = group.filter(|group| group.end == end && *group != whole).max_by_key(ExactSizeIterator::len);
            let start = group.as_ref().map_or(end - 1, |group| group.start);
            prop_assert!(free(model, &order[start..end], &order[..start]), "{:?}", &order[start..end]);
            if group.is_some() {
                holds(model, &order[start..end], groups, from + start)?;
            }
            end = start;
        }
        Ok(())
    }

    proptest! {
        #[test]
        fn what_comes_out_first_is_what_looking_at_all_pairs_finds(
            blocks in prop::collection::vec((prop::array::uniform3(0_i64..12), prop::array::uniform3(1_i64..4)), 2..40),
            fitted in prop::collection::vec(any::<prop::sample::Index>(), 0..20),
        ) {
            let model = job(&blocks, &fitted);
            let found = assemblies(&model, &Material::new(&model)).remove(0);
            let place = |at: usize| {
                let step = model.step_parts.iter().find(|(_, parts)| parts.contains(&id(at)));
                step.map_or(usize::MAX, |(step, _)| step + 1)
            };
            let mut left: Vec<(usize, usize)> = (0..blocks.len()).map(|at| (place(at), at)).collect();
            left.sort_unstable();
            let moving = |&(_, at): &(usize, usize)| Moving::Part(id(at));
            let mut taken = Vec::new();
            while let Some(at) = (0..left.len()).rev().find(|&at| {
                let others: Vec<Moving> = left.iter().filter(|one| **one != left[at]).map(moving).collect();
                free(&model, &[moving(&left[at])], &others)
            }) {
                taken.push(moving(&left.remove(at)));
            }
            let backwards: Vec<Moving> = found.order.iter().rev().copied().take(taken.len()).collect();
            prop_assert_eq!(backwards, taken);
        }

        #[test]
        fn an_order_without_locks_goes_together(
            places in prop::collection::btree_set(prop::array::uniform3(0_i64..4), 2..40),
            sizes in prop::collection::vec(prop::array::uniform3(1_i64..4), 40),
        ) {
            // Blocks in a grid of 3 mm, each moved within its cell by nothing, so that they touch and do not overlap.
            let blocks: Vec<_> = places.iter().map(|place| place.map(|at| 3 * at)).zip(sizes).collect();
            let model = job(&blocks, &[]);
            let found = assemblies(&model, &Material::new(&model)).remove(0);
            prop_assert!(found.complete && found.order.len() == blocks.len());
            if found.locked.is_empty() {
                holds(&model, &found.order, &found.groups, 0)?;
            }
        }
    }
}
