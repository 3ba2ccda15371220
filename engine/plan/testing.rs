//! Models for the tests of this folder, built by native calls.

use std::sync::Arc;

use crate::base::{Axis, Face, Length, Printing, Solid};
use crate::catalog;
use crate::model::{Bore, Feature, JointId, Model, Part, PieceId, Shape, Stock};

/// `n/d` of an inch.
pub(super) fn inch(n: i64, d: i64) -> Length {
    Length::from_inch(n, d)
}

/// The catalog's stock.
pub(super) fn stock(name: &str) -> Arc<Stock> {
    catalog::stock(name).unwrap()
}

/// A cuboid between two corners.
pub(super) fn solid(low: [Length; 3], high: [Length; 3]) -> Solid {
    Solid::new(low, high)
}

/// A trench in `part`: `solid` is what is removed.
pub(super) fn channel(name: &'static str, face: Face, along: Axis, solid: Solid) -> Feature {
    Feature { name, shape: Shape::Channel { along, stopped: false }, solid, face, joint: JointId(0) }
}

/// A step along an edge of `part`.
pub(super) fn step(name: &'static str, face: Face, along: Axis, solid: Solid) -> Feature {
    Feature { name, shape: Shape::Step { along, stopped: false }, solid, face, joint: JointId(0) }
}

/// A hole.
pub(super) fn bore(name: &'static str, face: Face, solid: Solid) -> Feature {
    let bore = Bore { diameter: Length::from_inch(3, 8), pocket: true };
    Feature { name, shape: Shape::Bore(bore), solid, face, joint: JointId(0) }
}

/// A drawer box of 1/2 in plywood, 20 in deep: sides over the whole depth, front and back between them in rabbets of 1/4 in, and
/// a 1/4 in bottom in grooves 1/4 in deep, 1/4 in up. Its zero corner is its left, front, bottom corner.
pub(super) fn drawer(model: &mut Model, name: &str, width: Length, height: Length) -> PieceId {
    let piece = model.add_piece(name, None);
    model.place(piece, Model::ROOT, [Length::ZERO; 3]);
    let (o, t, q, depth) = (Length::ZERO, inch(1, 2), inch(1, 4), inch(20, 1));
    let ply = stock("1/2 birch plywood");
    let sheet = stock("1/4 birch plywood");
    for (low, inner, groove) in [(o, Face::Right, t - q), (width - t, Face::Left, width - t)] {
        let mut side = Part::new("side", piece, ply.clone(), solid([low, o, o], [low + t, depth, height]));
        side.features.push(channel("groove", inner, Axis::Y, solid([groove, o, q], [groove + q, depth, q + q])));
        for (front, back) in [(o, t), (depth - t, depth)] {
            let removed = solid([groove, front, o], [groove + q, back, height]);
            side.features.push(step("rabbet", inner, Axis::Z, removed));
        }
        model.add_part(side);
    }
    for (part, front, inner, groove) in [("front", o, Face::Back, q), ("back", depth - t, Face::Front, depth - t)] {
        let body = solid([q, front, o], [width - q, front + t, height]);
        let mut part = Part::new(part, piece, ply.clone(), body);
        let removed = solid([q, groove, q], [width - q, groove + q, q + q]);
        part.features.push(channel("groove", inner, Axis::X, removed));
        model.add_part(part);
    }
    let body = solid([q, q, q], [width - q, depth - q, q + q]);
    model.add_part(Part::new("bottom", piece, sheet, body));
    piece
}

/// A job of drawers, each given by its name, width and height.
pub(super) fn drawers(boxes: &[(&str, Length, Length)]) -> Model {
    let mut model = Model::new("bank", Printing::default());
    for &(name, width, height) in boxes {
        drawer(&mut model, name, width, height);
    }
    model
}
