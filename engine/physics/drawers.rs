//! The drawers of a job: what moves together, what it weighs and what lies in it.

use super::mass::POUND;
use super::mass::{self, Mass};
use crate::base::{Axis, Face, Length, Solid};
use crate::model::{Bearer, Load, Model, Moving, PartId, PieceId, SlideFit, Way};

/// A box on slides with all that is fixed to it.
#[derive(Clone, Debug)]
pub struct Drawer<'a> {
    /// Its place in the model's list of hardware.
    pub hardware: usize,
    /// Which slides it hangs on, and where.
    pub fit: &'a SlideFit,
    /// The box.
    pub piece: PieceId,
    /// All parts that move with it: the box, and what is held to the box, as its front is.
    pub parts: Vec<PartId>,
    /// The cuboid round the box alone.
    pub bounds: Solid,
    /// The side that it opens to.
    pub opens: Face,
    /// How far it comes out, in millimetres.
    pub travel: f64,
    /// What its parts weigh.
    pub own: Mass,
    /// What lies in it, in kilograms.
    pub load: f64,
    /// The loads as the recipe said them; empty when the load is assumed.
    pub loads: Vec<&'a Load>,
}

/// Pounds on each square foot of a drawer whose load the recipe does not tell.
// SEEN: fdmc-online.com, fdmc/march_2017: ANSI/KCMA A161.1 loads drawers with 15 lb/ft2.
pub const DRAWER_LOAD: f64 = 15.0;

/// Every drawer of a settled model whose joints are made.
pub fn drawers(model: &Model) -> Vec<Drawer<'_>> {
    let hung: Vec<(usize, &SlideFit)> =
        model.hardware.iter().enumerate().filter_map(|(index, used)| Some((index, used.slides.as_ref()?))).collect();
    let drawer_of = drawer_of_parts(model, &hung);
    let mut parts: Vec<Vec<PartId>> = vec![Vec::new(); hung.len()];
    for ((id, _), drawer) in model.part_ids().zip(&drawer_of) {
        if let Some(drawer) = drawer {
            parts[*drawer].push(id);
        }
    }
    hung.into_iter()
        .zip(parts)
        .filter_map(|((hardware, fit), parts)| {
            let bounds = model.bounds(fit.carries)?;
            let loads = loads(model, fit.carries);
            let assumed = DRAWER_LOAD * POUND * area(&bounds) / (304.8 * 304.8);
            let load = if loads.is_empty() { assumed } else { loads.iter().map(|load| in_kg(model, load)).sum() };
            let own = parts.iter().map(|&id| mass::of_part(model.part(id))).sum();
            let opens = opens_to(model, &parts, &bounds);
            let travel = travel(model, fit).mm_f64();
            Some(Drawer { hardware, fit, piece: fit.carries, parts, bounds, opens, travel, own, load, loads })
        })
        .collect()
}

/// For each part the drawer that it moves with: the one whose box it stands in, or the only one that joints tie it to.
fn drawer_of_parts(model: &Model, hung: &[(usize, &SlideFit)]) -> Vec<Option<usize>> {
    let mut of_piece: Vec<Option<usize>> = vec![None; model.pieces.len()];
    for (drawer, (_, fit)) in hung.iter().enumerate() {
        of_piece[fit.carries.0 as usize] = Some(drawer);
    }
    let of_box = |piece: PieceId| {
        std::iter::successors(Some(piece), |piece| model.piece(*piece).parent)
            .find_map(|piece| of_piece[piece.0 as usize])
    };
    let mut drawer_of: Vec<Option<usize>> = model.parts.iter().map(|part| of_box(part.piece)).collect();
    let mut group: Vec<usize> = (0..model.parts.len()).collect();
    for hold in &model.holds {
        if let Some(to) = hold.to {
            let (a, b) = (root(&mut group, hold.part.0 as usize), root(&mut group, to.0 as usize));
            group[a] = b;
        }
    }
    // What joints tie to one box moves with it; what they tie to two is a slip that other checks tell.
    let mut of_group: Vec<Option<usize>> = vec![None; group.len()];
    let mut torn = vec![false; group.len()];
    for (part, drawer) in drawer_of.iter().enumerate() {
        let own = root(&mut group, part);
        if let Some(drawer) = *drawer {
            torn[own] |= of_group[own].is_some_and(|other| other != drawer);
            of_group[own] = Some(drawer);
        }
    }
    for (part, drawer) in drawer_of.iter_mut().enumerate() {
        let own = root(&mut group, part);
        if drawer.is_none() && !torn[own] {
            *drawer = of_group[own];
        }
    }
    drawer_of
}

fn root(group: &mut [usize], mut index: usize) -> usize {
    while group[index] != index {
        group[index] = group[group[index]];
        index = group[index];
    }
    index
}

/// The loads on a piece and on what stands in it.
fn loads(model: &Model, piece: PieceId) -> Vec<&Load> {
    let stands_in = |load: &&Load| match load.on {
        Bearer::Piece(own) => model.stands_in(own, piece),
        Bearer::Part(part) => model.stands_in(model.part(part).piece, piece),
    };
    model.loads.iter().filter(stands_in).collect()
}

/// As far as the recipe lets it come out, which is the length of its slides unless it says otherwise.
fn travel(model: &Model, fit: &SlideFit) -> Length {
    let slides = model.motions.iter().filter(|motion| motion.moving == Moving::Piece(fit.carries));
    let out = slides.filter_map(|motion| match motion.way {
        Way::Slide { travel, .. } => Some(travel),
        Way::Turn(_) => None,
    });
    out.max().unwrap_or(fit.length)
}

/// The whole of a load in kilograms, on what carries it.
pub fn in_kg(model: &Model, load: &Load) -> f64 {
    let under = match load.on {
        Bearer::Piece(piece) => model.bounds(piece),
        Bearer::Part(part) => Some(model.part(part).placed),
    };
    under.map_or(0.0, |under| {
        let (long, wide) = mass::floor(&under);
        mass::of_load(load, long, wide)
    })
}

fn area(bounds: &Solid) -> f64 {
    bounds.size(Axis::X).mm_f64() * bounds.size(Axis::Y).mm_f64()
}

/// A drawer opens to the side on which something is fixed before its box, and to the front when nothing is.
fn opens_to(model: &Model, parts: &[PartId], bounds: &Solid) -> Face {
    let beyond = |behind: bool| -> Length {
        let reach = parts.iter().map(|&id| model.part(id).solid);
        if behind {
            reach.map(|solid| solid.high[1] - bounds.high[1]).max().unwrap_or(Length::ZERO)
        } else {
            reach.map(|solid| bounds.low[1] - solid.low[1]).max().unwrap_or(Length::ZERO)
        }
    };
    if beyond(true) > beyond(false) { Face::Back } else { Face::Front }
}
