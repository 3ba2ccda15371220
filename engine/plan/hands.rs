//! Parts of one row that are mirror images of each other: a maker who cuts them all alike has half of them wrong.

use crate::base::{Axis, Face, Length, Solid};
use crate::model::{Feature, Part, Shape};

/// How many parts are as the first one is, and how many are its mirror image.
///
/// A part that can be turned over to be the other is no mirror image: the four turns of a cuboid that keep its axes count as
/// equal, the four mirrorings do not.
pub(super) fn hands<'a>(mut parts: impl Iterator<Item = &'a Part>) -> (i64, i64) {
    let Some(first) = parts.next() else { return (0, 0) };
    let (mut alike, mut mirrored) = (1, 0);
    let mut look = None;
    // Most parts stand as one that was looked at before, only elsewhere.
    let mut known: Vec<(&Part, bool)> = vec![(first, false)];
    for part in parts {
        let is_mirrored = known.iter().find(|(other, _)| is_shifted(other, part)).map(|&(_, is_mirrored)| is_mirrored);
        let is_mirrored = is_mirrored.unwrap_or_else(|| {
            let is_mirrored = is_mirror_image(look.get_or_insert_with(|| Look::of(first)), &Look::of(part));
            if known.len() < 8 {
                known.push((part, is_mirrored));
            }
            is_mirrored
        });
        if is_mirrored {
            mirrored += 1;
        } else {
            alike += 1;
        }
    }
    (alike, mirrored)
}

/// Whether one part is the other at another place, feature by feature.
fn is_shifted(a: &Part, b: &Part) -> bool {
    let shift: [Length; 3] = std::array::from_fn(|n| b.solid.low[n] - a.solid.low[n]);
    let same_place = |a: &Solid, b: &Solid| {
        (0..3).all(|n| (a.low[n] + shift[n]).same_size(b.low[n]) && (a.high[n] + shift[n]).same_size(b.high[n]))
    };
    a.features.len() == b.features.len()
        && a.bands.len() == b.bands.len()
        && a.show == b.show
        && same_place(&a.solid, &b.solid)
        && a.bands.iter().zip(&b.bands).all(|(a, b)| a.edge == b.edge)
        && a.features
            .iter()
            .zip(&b.features)
            .all(|(a, b)| a.name == b.name && a.shape == b.shape && same_place(&a.solid, &b.solid))
}

/// What is done to a part, seen from its middle along its own length, width and thickness, as a right-handed system.
struct Look {
    /// Cuts, bands and the show face.
    cuts: Vec<Mark>,
    /// Holes.
    holes: Vec<Mark>,
}

struct Mark {
    what: &'static str,
    /// Twice the way from the middle of the part to the middle of the mark.
    middle: [Length; 3],
    size: [Length; 3],
}

type Signs = [i64; 3];

const TURNS: [Signs; 4] = [[1, 1, 1], [1, -1, -1], [-1, 1, -1], [-1, -1, 1]];
const MIRRORINGS: [Signs; 4] = [[-1, 1, 1], [1, -1, 1], [1, 1, -1], [-1, -1, -1]];

fn is_mirror_image(a: &Look, b: &Look) -> bool {
    let with_holes = |signs: &Signs| matches(&a.cuts, &b.cuts, *signs) && matches(&a.holes, &b.holes, *signs);
    let without = |signs: &Signs| matches(&a.cuts, &b.cuts, *signs);
    if TURNS.iter().any(with_holes) {
        return false;
    }
    // Holes that match in no way were drilled for other neighbours; then only the cuts can tell.
    MIRRORINGS.iter().any(with_holes) || (!TURNS.iter().any(without) && MIRRORINGS.iter().any(without))
}

fn matches(a: &[Mark], b: &[Mark], signs: Signs) -> bool {
    a.len() == b.len()
        && a.iter().all(|mark| {
            b.iter().any(|other| {
                mark.what == other.what
                    && (0..3).all(|axis| {
                        (mark.middle[axis] * signs[axis] - other.middle[axis]).abs() <= Length::SAME_SIZE * 2
                            && mark.size[axis].same_size(other.size[axis])
                    })
            })
        })
}

/// The cuboid that stands for a feature: of one with a slope, the part towards its wide side, so that a slope that is turned
/// round is told from one that is not.
fn heart(feature: &Feature) -> Solid {
    let mut solid = feature.solid;
    let mut halve = |towards: Face| {
        let half = solid.size(towards.axis()).half();
        solid = solid.grown(towards.opposite(), -half);
    };
    match feature.shape {
        Shape::Bevel { end, .. } => {
            halve(end);
            halve(feature.face);
        }
        Shape::Dovetail { wide, .. } => halve(wide),
        _ => {}
    }
    solid
}

impl Look {
    fn of(part: &Part) -> Self {
        let axes = [part.length_axis(), part.width_axis(), part.thickness];
        // Length, width and thickness are a left-handed system when an odd number of swaps leads from x, y, z to them.
        let odd =
            matches!(axes, [Axis::X, Axis::Z, Axis::Y] | [Axis::Y, Axis::X, Axis::Z] | [Axis::Z, Axis::Y, Axis::X]);
        let hand = [1, 1, if odd { -1 } else { 1 }];
        let mark = |what: &'static str, solid: &Solid| Mark {
            what,
            middle: std::array::from_fn(|i| {
                let n = axes[i].index();
                (solid.low[n] + solid.high[n] - part.solid.low[n] - part.solid.high[n]) * hand[i]
            }),
            size: axes.map(|axis| solid.size(axis)),
        };
        let on_face = |face: Face| {
            let mut solid = part.solid;
            solid.set_face(face.opposite(), part.solid.face(face));
            solid
        };
        let (mut cuts, mut holes) = (Vec::new(), Vec::new());
        for feature in &part.features {
            let marks = match feature.shape {
                Shape::Bore(_) => &mut holes,
                Shape::Screw { .. } => continue,
                _ => &mut cuts,
            };
            marks.push(mark(feature.name, &heart(feature)));
        }
        cuts.extend(part.bands.iter().map(|band| mark("band", &on_face(band.edge))));
        cuts.extend(part.show.map(|face| mark("show face", &on_face(face))));
        Self { cuts, holes }
    }
}
