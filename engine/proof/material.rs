//! What is left of a part once its joints are cut.

use crate::base::Solid;
use crate::model::{Feature, Model, Part, PartId, Shape};

/// The material of every part, as cuboids that do not overlap.
#[derive(Clone, Debug, Default)]
pub struct Material {
    /// By part, in the order of the model.
    pub solids: Vec<Vec<Solid>>,
    /// Whether every part was worked out; a part with more cuts than can mean anything is taken whole.
    pub complete: bool,
}

impl Material {
    /// Works out the material of every part of a model.
    pub fn new(model: &Model) -> Self {
        let mut complete = true;
        let solids = model
            .part_ids()
            .map(|(id, part)| {
                left_of(part, |cut| takes(model, id, cut)).unwrap_or_else(|| {
                    complete = false;
                    vec![part.solid]
                })
            })
            .collect();
        Self { solids, complete }
    }
}

/// Whether a feature lets another part in: holes are filled by a screw, a dowel or a hinge, the slot of a spline by that.
pub fn is_open(feature: &Feature) -> bool {
    !matches!(feature.shape, Shape::Bore(_) | Shape::Screw { .. } | Shape::Spline { .. })
}

/// More cuboids than the deepest box joint leaves, and few enough to be looked at in pairs.
const MOST_SOLIDS: usize = 5_000;

/// Whether a cut takes its whole cuboid out of a part. The two wedges of a mitred corner fill it together, and move together: it is
/// taken as that of the part that was fitted, so that nothing else passes through.
fn takes(model: &Model, part: PartId, feature: &Feature) -> bool {
    is_open(feature) && (!matches!(feature.shape, Shape::Bevel { .. }) || model.joint(feature.joint).member != part)
}

/// What is left of a part whose mitres are not cut yet; all of it, where it has more cuts than can mean anything.
pub(super) fn before_mitres(part: &Part) -> Vec<Solid> {
    let takes = |cut: &Feature| is_open(cut) && !matches!(cut.shape, Shape::Bevel { .. });
    left_of(part, takes).unwrap_or_else(|| vec![part.solid])
}

fn left_of(part: &Part, takes: impl Fn(&Feature) -> bool) -> Option<Vec<Solid>> {
    let mut left = vec![part.solid];
    let mut next = Vec::new();
    for feature in part.features.iter().filter(|feature| takes(feature)) {
        if left.iter().all(|solid| solid.overlap(&feature.solid).is_none()) {
            continue;
        }
        next.clear();
        for solid in &left {
            solid.less_into(&feature.solid, &mut next);
        }
        std::mem::swap(&mut left, &mut next);
        if left.len() > MOST_SOLIDS {
            return None;
        }
    }
    Some(left)
}
