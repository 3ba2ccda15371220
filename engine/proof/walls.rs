//! The wood that is left between a cut and the next cut, or the outside of its part.

use super::index::meet;
use crate::base::{Axis, Face, Length, Solid};
use crate::model::{Feature, Part, Shape};

/// Wood that stands between a cut and what is beyond it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Wall {
    /// The place of the cut among the features of its part.
    pub cut: usize,
    /// On which side of the cut the wall stands.
    pub side: Face,
    /// The place of the cut beyond it; none for the outside of the part.
    pub beyond: Option<usize>,
    /// How thick it is.
    pub thickness: Length,
}

/// Every wall of a part that is thinner than `most`, told once for two cuts. A mitre has no walls, and the sockets of dovetails slope:
/// their joint refuses those that are too thin.
pub fn thinner_than(part: &Part, most: Length) -> Vec<Wall> {
    let solids: Vec<Option<Solid>> = part
        .features
        .iter()
        .map(|cut| {
            cut.solid
                .overlap(&part.solid)
                .filter(|_| !matches!(cut.shape, Shape::Bevel { .. } | Shape::Dovetail { .. }))
        })
        .collect();
    let mut walls = Vec::new();
    for (at, solid) in solids.iter().enumerate() {
        let Some(solid) = solid else { continue };
        let around = Face::ALL.into_iter().fold(*solid, |around, face| around.grown(face, most));
        if around.within(&part.solid)
            && !solids.iter().enumerate().any(|(other, solid)| other != at && near(solid.as_ref(), &around))
        {
            continue;
        }
        let beside: Vec<(usize, &Solid)> = solids
            .iter()
            .enumerate()
            .filter_map(|(other, solid)| Some((other, solid.as_ref()?)))
            .filter(|(other, solid)| *other != at && meet(solid, &around))
            .collect();
        walls.extend(corner_to_corner(part, (at, solid), &beside, most));
        for side in Face::ALL {
            let outside = distance(side, solid.face(side), part.solid.face(side));
            let found = beside
                .iter()
                .map(|&(other, there)| (Some(other), distance(side, solid.face(side), there.face(side.opposite()))))
                .chain([(None, outside)]);
            for (beyond, thickness) in found {
                // Each pair of cuts is looked at from both sides.
                let is_second = beyond.is_some_and(|other| other < at);
                let is_thin = thickness > Length::SAME_SIZE && thickness < most;
                if is_thin && !is_second && stands(part, at, side, thickness, beyond, &beside) {
                    walls.push(Wall { cut: at, side, beyond, thickness });
                }
            }
        }
    }
    walls
}

/// Walls between two cuts that lie beside each other along two axes, as two grooves in opposite faces: from corner to corner. Of two
/// cuts that overlap along those axes the wall is straight, and told as such.
fn corner_to_corner(part: &Part, (at, solid): (usize, &Solid), beside: &[(usize, &Solid)], most: Length) -> Vec<Wall> {
    let apart = |there: &Solid, axis: Axis| {
        (there.face(axis.low()) - solid.face(axis.high())).max(solid.face(axis.low()) - there.face(axis.high()))
    };
    let skin = Length::SAME_SIZE;
    let between = |&(other, there): &(usize, &Solid)| {
        let gaps = Axis::ALL.map(|axis| (apart(there, axis), axis));
        let [(least, _), (less, _), (more, side)] = sorted(gaps);
        // They run beside each other along one axis, and are apart along the other two.
        if other < at || least >= -skin || less < -skin || more <= skin {
            return None;
        }
        let square = |length: Length| i128::from(length.nm().max(0)).pow(2);
        let thickness = square(less) + square(more);
        if thickness >= square(most) {
            return None;
        }
        // What is between both, a little into each so that it has a size where they meet in a plane.
        let mut wall = *solid;
        for axis in Axis::ALL {
            let (low, high) = if apart(there, axis) >= -skin {
                let ends = [
                    solid.face(axis.high()).min(there.face(axis.high())),
                    solid.face(axis.low()).max(there.face(axis.low())),
                ];
                (ends[0].min(ends[1]) - skin, ends[0].max(ends[1]) + skin)
            } else {
                (
                    solid.face(axis.low()).max(there.face(axis.low())),
                    solid.face(axis.high()).min(there.face(axis.high())),
                )
            };
            wall.low[axis.index()] = low;
            wall.high[axis.index()] = high;
        }
        // Where a third cut goes in, its own walls are told.
        let is_wood = wall.within(&part.solid)
            && !beside.iter().any(|&(third, cut)| third != other && meet(cut, &wall))
            && wall.less_all([solid, there]).iter().any(|left| left.size(side) > skin);
        let high = there.face(side.low()) >= solid.face(side.high());
        is_wood.then(|| Wall {
            cut: at,
            side: if high { side.high() } else { side.low() },
            beyond: Some(other),
            thickness: Length::from_nm(i64::try_from(thickness.cast_unsigned().isqrt()).unwrap_or(i64::MAX)),
        })
    };
    beside.iter().filter_map(between).collect()
}

fn sorted(mut gaps: [(Length, Axis); 3]) -> [(Length, Axis); 3] {
    gaps.sort_unstable();
    gaps
}

fn near(solid: Option<&Solid>, around: &Solid) -> bool {
    solid.is_some_and(|solid| meet(solid, around))
}

/// The faces at which a cut comes out of its part and should not: a groove keeps both its walls, a step its shoulder and its floor,
/// a hole the wood around it.
pub fn breaks_out(part: &Part, cut: &Feature) -> Vec<Face> {
    let Some(solid) = cut.solid.overlap(&part.solid) else { return Vec::new() };
    let comes_out = |face: &Face| distance(*face, solid.face(*face), part.solid.face(*face)) <= Length::SAME_SIZE;
    let floor = cut.face.opposite();
    let across = |along: Axis| {
        let [a, b] = cut.face.axis().others();
        let across = if a == along { b } else { a };
        [across.low(), across.high()]
    };
    match cut.shape {
        Shape::Channel { along, .. } => across(along).into_iter().chain([floor]).filter(comes_out).collect(),
        Shape::Step { along, .. } => {
            let sides = across(along);
            let no_shoulder = sides.iter().all(comes_out).then_some(sides[1]);
            no_shoulder.into_iter().chain(Some(floor).filter(comes_out)).collect()
        }
        Shape::Mortise { along } => {
            across(along).into_iter().chain([along.low(), along.high()]).filter(comes_out).collect()
        }
        Shape::Bore(bore) if !bore.pocket => {
            let [a, b] = cut.face.axis().others();
            [a.low(), a.high(), b.low(), b.high()].into_iter().filter(comes_out).collect()
        }
        Shape::Bore(_) | Shape::Screw { .. } | Shape::Bevel { .. } | Shape::Spline { .. } | Shape::Dovetail { .. } => {
            Vec::new()
        }
    }
}

/// How far it is from one position to another, seen the way that a face looks.
fn distance(face: Face, from: Length, upto: Length) -> Length {
    if face.is_high() { upto - from } else { from - upto }
}

/// Whether some of the wall is wood all through: no third cut has taken it.
fn stands(
    part: &Part,
    cut: usize,
    side: Face,
    thickness: Length,
    beyond: Option<usize>,
    beside: &[(usize, &Solid)],
) -> bool {
    let Some(solid) = part.features[cut].solid.overlap(&part.solid) else { return false };
    let mut wall = solid;
    wall.set_face(side.opposite(), solid.face(side));
    wall = wall.grown(side, thickness);
    if let Some((_, there)) = beside.iter().find(|(other, _)| Some(*other) == beyond) {
        for axis in side.axis().others() {
            wall.low[axis.index()] = wall.low[axis.index()].max(there.low[axis.index()]);
            wall.high[axis.index()] = wall.high[axis.index()].min(there.high[axis.index()]);
        }
        if wall.is_empty() {
            return false;
        }
    }
    // What goes into the wall at all takes all of it there: only what is wood all through counts.
    let taken: Vec<Solid> = beside
        .iter()
        .filter(|(_, there)| meet(there, &wall))
        .map(|(_, there)| {
            let mut there = **there;
            there.set_face(side, wall.face(side));
            there.set_face(side.opposite(), wall.face(side.opposite()));
            there
        })
        .collect();
    let is_wide = |left: &Solid| side.axis().others().into_iter().all(|axis| left.size(axis) > Length::SAME_SIZE);
    wall.less_all(&taken).iter().any(is_wide)
}
