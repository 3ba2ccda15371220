//! Whether the faces that a joint lays against one another are there, once every joint is cut.
//!
//! The rectangle of a bearing is parted by the edges of all material that is near it. Over each cell of it the last material of
//! the part and the first of the other are looked up, and the room between them is compared with the room that was promised.

use super::index::meet;
use super::material::{Material, is_open};
use crate::base::{Axis, Face, Length, Solid};
use crate::model::{Bearing, Feature, JointId, Model, PartId, Shape};

/// What became of a bearing.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Kept {
    /// Its whole area in square nanometres, less what cuts of joints between the same two parts take, which is meant.
    pub whole: i128,
    /// How much of it bears as promised.
    pub bears: i128,
    /// What another joint's cut took away: the largest of such losses.
    pub lost: Option<Lost>,
    /// A room that is not what was asked, though no other joint's cut is there. Where nothing stands opposite there is none: a cut
    /// without a wall breaks out, and is told as that.
    pub room: Option<Length>,
}

/// What a cut takes of a bearing.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Lost {
    /// The part that is cut.
    pub part: PartId,
    /// The place of the cut among its features.
    pub feature: usize,
    /// All that is lost to that cut, in square nanometres.
    pub area: i128,
    /// The rectangle around it.
    pub around: Solid,
}

/// Works out what is left of a bearing.
pub fn kept(model: &Model, material: &Material, bearing: &Bearing) -> Kept {
    let axes = bearing.face.axis().others();
    let own = beside(&material.solids[bearing.part.0 as usize], &bearing.area, axes);
    let other = beside(&material.solids[bearing.against.0 as usize], &bearing.area, axes);
    let cuts = cuts_near(model, bearing);
    let edges =
        axes.map(|axis| edges(&bearing.area, axis, own.iter().chain(&other).chain(cuts.iter().map(|cut| &cut.solid))));
    let mut kept = Kept::default();
    let mut losses: Vec<Lost> = Vec::new();
    for first in edges[0].windows(2) {
        for second in edges[1].windows(2) {
            let mut cell = bearing.area;
            for (axis, span) in axes.into_iter().zip([first, second]) {
                cell.low[axis.index()] = span[0];
                cell.high[axis.index()] = span[1];
            }
            // A sliver as thin as the tolerance decides nothing.
            if axes.into_iter().any(|axis| cell.size(axis) <= Length::SAME_SIZE) {
                continue;
            }
            let area = axes.into_iter().map(|axis| i128::from(cell.size(axis).nm())).product::<i128>();
            let room = room(bearing.face, &cell, &own, &other);
            let bears = room.is_some_and(|room| (room - bearing.room).abs() <= Length::SAME_SIZE);
            if !bears && let Some(cut) = cuts.iter().find(|cut| covers(&cut.solid, &cell, axes)) {
                if !is_between(model, cut.joint, bearing) {
                    kept.whole += area;
                    lose(&mut losses, cut, cell, area);
                }
                continue;
            }
            kept.whole += area;
            if bears {
                kept.bears += area;
            } else {
                kept.room = room.or(kept.room);
            }
        }
    }
    kept.lost = losses.into_iter().max_by_key(|lost| lost.area);
    kept
}

/// A cut of another joint that takes away what is just behind one of the two faces.
struct Cut {
    part: PartId,
    feature: usize,
    joint: JointId,
    solid: Solid,
}

fn cuts_near(model: &Model, bearing: &Bearing) -> Vec<Cut> {
    let behind = |face: Face, by: Length| {
        let depth = Length::SAME_SIZE * 2;
        let mut slab = bearing.area.grown(bearing.face, by);
        slab.set_face(bearing.face.opposite(), slab.face(bearing.face));
        slab.grown(face, depth)
    };
    let sides = [
        (bearing.part, behind(bearing.face.opposite(), Length::ZERO)),
        (bearing.against, behind(bearing.face, bearing.room)),
    ];
    sides
        .into_iter()
        .flat_map(|(part, slab)| {
            let features = model.part(part).features.iter().enumerate();
            features
                .filter(move |(_, cut)| is_other(bearing, cut) && is_open(cut) && meet(&cut.solid, &slab))
                .map(move |(feature, cut)| Cut { part, feature, joint: cut.joint, solid: cut.solid })
        })
        .collect()
}

/// Whether a cut is of another joint, or is a mortise or slot of a butt joint for what is let into both its parts: that takes its own
/// place out of the contact.
fn is_other(bearing: &Bearing, cut: &Feature) -> bool {
    cut.joint != bearing.joint || (bearing.what == "contact" && matches!(cut.shape, Shape::Mortise { .. }))
}

/// Whether a joint works on both parts of a bearing, as that of a panel does which runs round the corner of its frame.
fn is_between(model: &Model, joint: JointId, bearing: &Bearing) -> bool {
    let joint = model.joint(joint);
    let works_on = |part: PartId| joint.member == part || joint.into.contains(&part);
    works_on(bearing.part) && works_on(bearing.against)
}

/// Material over or under a rectangle.
fn beside(material: &[Solid], area: &Solid, axes: [Axis; 2]) -> Vec<Solid> {
    let over = |solid: &&Solid| {
        axes.into_iter().all(|axis| {
            solid.face(axis.low()) < area.face(axis.high()) && area.face(axis.low()) < solid.face(axis.high())
        })
    };
    material.iter().filter(over).copied().collect()
}

/// Where the rectangle is parted along an axis.
fn edges<'a>(area: &Solid, axis: Axis, solids: impl Iterator<Item = &'a Solid>) -> Vec<Length> {
    let (low, high) = (area.face(axis.low()), area.face(axis.high()));
    let within = solids.flat_map(|solid| [solid.face(axis.low()), solid.face(axis.high())]);
    let mut edges: Vec<Length> = within.filter(|&edge| edge > low && edge < high).chain([low, high]).collect();
    edges.sort_unstable();
    edges.dedup();
    edges
}

fn covers(solid: &Solid, cell: &Solid, axes: [Axis; 2]) -> bool {
    axes.into_iter().all(|axis| {
        solid.face(axis.low()) <= cell.face(axis.low()) && cell.face(axis.high()) <= solid.face(axis.high())
    })
}

/// The room between both parts over a cell, seen the way that the face looks; none where one of them has nothing there.
fn room(face: Face, cell: &Solid, own: &[Solid], other: &[Solid]) -> Option<Length> {
    let axes = face.axis().others();
    let along = |solid: &Solid, face: Face| if face.is_high() { solid.face(face) } else { -solid.face(face) };
    let near = |solid: &Solid| {
        let position = solid.face(face.opposite());
        if face.is_high() { position } else { -position }
    };
    let plane = along(cell, face);
    let skin = Length::SAME_SIZE;
    let own = own.iter().filter(|solid| covers(solid, cell, axes) && near(solid) < plane - skin);
    let from = own.map(|solid| along(solid, face)).max()?;
    let other = other.iter().filter(|solid| covers(solid, cell, axes) && along(solid, face) > plane + skin);
    let upto = other.map(near).min()?;
    Some(upto - from)
}

fn lose(losses: &mut Vec<Lost>, cut: &Cut, cell: Solid, area: i128) {
    match losses.iter_mut().find(|lost| lost.part == cut.part && lost.feature == cut.feature) {
        Some(lost) => {
            lost.area += area;
            lost.around = lost.around.hull(&cell);
        }
        None => losses.push(Lost { part: cut.part, feature: cut.feature, area, around: cell }),
    }
}
