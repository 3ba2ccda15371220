//! When a piece with drawers tips.
//!
//! Plain physics of moments about the edge that the piece would tip over, with these assumptions: the job is one rigid body on a level,
//! hard floor, held by nothing; a drawer comes out by the length
//! of its slides, or as far as the recipe lets it; a load lies evenly in its drawer; shelves are
//! empty; hardware weighs nothing. A carpet, a sloping floor or a running child make it worse.

use super::drawers::{Drawer, drawers};
use super::mass::{self, POUND};
use crate::base::{Axis, Face, Length, Solid};
use crate::model::Model;

/// How a job with drawers stands.
#[derive(Clone, Debug)]
pub struct Stand<'a> {
    /// Its drawers.
    pub drawers: Vec<Drawer<'a>>,
    /// Its outside height.
    pub height: Length,
    /// For each side that drawers open to, how it stands when they are.
    pub balances: Vec<Balance>,
}

/// How a job stands when drawers of one side are open. Moments are in kilograms times millimetres; below nothing it tips.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Balance {
    /// The side that the drawers open to.
    pub side: Face,
    /// The drawer whose opening comes nearest to tipping it, by its place in [`Stand::drawers`].
    pub worst: usize,
    /// What is left when that drawer is open with its load, and the others are shut and empty.
    pub one_open: f64,
    /// The weight on the front edge of that open drawer that tips it then, in kilograms.
    pub edge: f64,
    /// What is left when all drawers of the side are open with their loads, and the others are shut and empty.
    pub all_open: f64,
}

/// The weight of the child that the law's tests of clothing storage stand for.
// SEEN: 15 U.S.C. 2056f(c)(2), "children up to 60 pounds". It is used here as a weight that may hang on a drawer, and not as that test.
pub const CHILD: f64 = 60.0 * POUND;

/// How a settled job stands; nothing for a job without drawers, or without a case at least half as deep as they are.
pub fn stand(model: &Model) -> Option<Stand<'_>> {
    let drawers = drawers(model);
    let mut moves = vec![false; model.parts.len()];
    for id in drawers.iter().flat_map(|drawer| &drawer.parts) {
        moves[id.0 as usize] = true;
    }
    let fixed: Vec<_> = model.parts.iter().zip(&moves).filter(|(_, moves)| !**moves).map(|(part, _)| part).collect();
    if drawers.is_empty() || fixed.is_empty() {
        return None;
    }
    // Drawers of a case that is there already, and is not drawn, cannot be judged: a face frame alone is no case.
    let deepest = drawers.iter().map(|drawer| drawer.bounds.size(Axis::Y)).max().unwrap_or(Length::ZERO);
    let bounds = fixed.iter().map(|part| part.solid).reduce(|a, b| a.hull(&b))?;
    if bounds.size(Axis::Y) * 2 < deepest {
        return None;
    }
    // What reaches the floor carries the piece.
    let feet = fixed.iter().map(|part| part.solid).filter(|solid| solid.low[2] - bounds.low[2] <= Length::SAME_SIZE);
    let base = feet.reduce(|a, b| a.hull(&b))?;
    let mut balances = Vec::new();
    for side in [Face::Front, Face::Back] {
        // Distances from the edge it would tip over, inwards.
        let inward = |y: f64| match side {
            Face::Back => base.high[1].mm_f64() - y,
            _ => y - base.low[1].mm_f64(),
        };
        let case: f64 = fixed.iter().map(|part| mass::of_part(part).kg * inward(middle(&part.solid))).sum();
        let shut = |drawer: &Drawer<'_>| -> f64 {
            drawer
                .parts
                .iter()
                .map(|&id| mass::of_part(model.part(id)).kg * inward(middle(&model.part(id).solid)))
                .sum()
        };
        let empty = case + drawers.iter().map(shut).sum::<f64>();
        // What opening a drawer with its load takes away.
        let opened = |drawer: &Drawer<'_>| {
            drawer.load * (inward(middle(&drawer.bounds)) - drawer.travel) - drawer.own.kg * drawer.travel
        };
        let of_side = || drawers.iter().enumerate().filter(|(_, drawer)| drawer.opens == side);
        // A weight on the edge of a drawer turns with how far that edge stands out before the base.
        let on_edge = |drawer: &Drawer<'_>, left: f64| {
            let lever = drawer.travel - inward(front_edge(model, drawer));
            if lever > 0.0 { left / lever } else { f64::INFINITY }
        };
        let each: Vec<(usize, f64, f64)> = of_side()
            .map(|(index, drawer)| {
                let left = empty + opened(drawer);
                (index, left, on_edge(drawer, left))
            })
            .collect();
        // The drawer whose own load tips it, and where none does the one that takes the least weight on its edge.
        let by_load = each.iter().copied().reduce(|a, b| if b.1 < a.1 { b } else { a });
        let by_edge = each.iter().copied().reduce(|a, b| if b.2 < a.2 { b } else { a });
        let Some((worst, one_open, edge)) = by_load.filter(|one| one.1 < 0.0).or(by_edge) else { continue };
        balances.push(Balance {
            side,
            worst,
            one_open,
            edge,
            all_open: empty + of_side().map(|(_, drawer)| opened(drawer)).sum::<f64>(),
        });
    }
    Some(Stand {
        height: model.parts.iter().map(|part| part.solid).reduce(|a, b| a.hull(&b))?.size(Axis::Z),
        drawers,
        balances,
    })
}

/// Whether a settled job tips when its drawers are open, or with a child's weight on the edge of one.
pub fn tips(model: &Model) -> bool {
    stand(model).is_some_and(|stand| {
        stand.balances.iter().any(|balance| balance.one_open < 0.0 || balance.edge < CHILD || balance.all_open < 0.0)
    })
}

/// Where the middle of a solid lies from front to back, in millimetres.
fn middle(solid: &Solid) -> f64 {
    f64::midpoint(solid.low[1].mm_f64(), solid.high[1].mm_f64())
}

/// The outermost edge of a shut drawer on the side that it opens to.
fn front_edge(model: &Model, drawer: &Drawer<'_>) -> f64 {
    let solids = drawer.parts.iter().map(|&id| model.part(id).solid);
    let edge = match drawer.opens {
        Face::Back => solids.map(|solid| solid.high[1]).max(),
        _ => solids.map(|solid| solid.low[1]).min(),
    };
    edge.unwrap_or(Length::ZERO).mm_f64()
}
