//! What is left of a part once its joints are cut.

use crate::base::Solid;
use crate::model::{Feature, Model, Part, Shape};

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
            .parts
            .iter()
            .map(|part| {
                left_of(part).unwrap_or_else(|| {
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

fn left_of(part: &Part) -> Option<Vec<Solid>> {
    let mut left = vec![part.solid];
    for feature in part.features.iter().filter(|feature| is_open(feature)) {
        if left.iter().all(|solid| solid.overlap(&feature.solid).is_none()) {
            continue;
        }
        left = left.iter().flat_map(|solid| solid.less(&feature.solid)).collect();
        if left.len() > MOST_SOLIDS {
            return None;
        }
    }
    Some(left)
}
