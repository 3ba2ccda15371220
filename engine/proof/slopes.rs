//! Planes at a slope: the face of a mitre, the side of a tail.

use crate::base::{Axis, Face, Length, Point, Solid};
use crate::model::{Feature, Shape};

/// A plane that runs through a cuboid, from the edge between `face` and the side away from `leans` to the edge opposite to that. The
/// wood is behind it: it looks towards both.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Slope {
    pub solid: Solid,
    pub face: Face,
    pub leans: Face,
}

impl Slope {
    /// The slopes that a cut leaves in its part.
    pub fn left_by(cut: &Feature) -> Vec<Self> {
        match cut.shape {
            Shape::Bevel { end, .. } => vec![Self { solid: cut.solid, face: end, leans: cut.face }],
            Shape::Dovetail { along, slope, wide } => {
                let Some(across) = Axis::ALL.into_iter().find(|axis| *axis != along && *axis != wide.axis()) else {
                    return Vec::new();
                };
                let rise = cut.solid.size(wide.axis()).times(slope).unwrap_or(Length::ZERO);
                // What stands on each side of the room comes in where that is narrow.
                let side = |side: Face| {
                    let mut solid = cut.solid;
                    solid.set_face(side.opposite(), cut.solid.face(side));
                    Self { solid: solid.grown(side.opposite(), rise), face: side.opposite(), leans: wide }
                };
                vec![side(across.low()), side(across.high())]
            }
            _ => Vec::new(),
        }
    }

    /// The axis along which it does not slope.
    pub fn along(&self) -> Axis {
        let slopes = |axis: &Axis| *axis == self.face.axis() || *axis == self.leans.axis();
        Axis::ALL.into_iter().find(|axis| !slopes(axis)).unwrap_or(Axis::X)
    }

    /// Where it is along the axis of `face`, at a position along that of `leans`.
    pub fn at(&self, place: Length) -> Length {
        let (from, upto) = (self.solid.face(self.leans.opposite()), self.solid.face(self.leans));
        let (near, far) = (self.solid.face(self.face), self.solid.face(self.face.opposite()));
        let run = i128::from((upto - from).nm());
        if run == 0 {
            return near;
        }
        let (way, rise) = (i128::from((place - from).nm()), i128::from((far - near).nm()));
        let (product, run) = if run < 0 { (-way * rise, -run) } else { (way * rise, run) };
        near + Length::from_nm(i64::try_from((product + run / 2).div_euclid(run)).unwrap_or(0))
    }

    /// The same plane, told from the other of the two ways that it looks.
    pub const fn turned(&self) -> Self {
        Self { solid: self.solid, face: self.leans, leans: self.face }
    }

    /// How much of a rectangle lies beyond the plane, where its cut takes the wood. The rectangle is given by its corners, in turn; its
    /// area is that seen along the third axis, in square nanometres.
    pub fn takes(&self, corners: [Point; 4], axes: [Axis; 2]) -> i128 {
        let beyond = |point: &Point| {
            let from = |face: Face| {
                let (at, zero) = (point[face.axis().index()], self.solid.face(face.opposite()));
                i128::from(if face.is_high() { at - zero } else { zero - at }.nm())
            };
            let size = |face: Face| i128::from(self.solid.size(face.axis()).nm());
            from(self.face) * size(self.leans) + from(self.leans) * size(self.face) - size(self.face) * size(self.leans)
        };
        let mut left: Vec<Point> = Vec::with_capacity(6);
        for nth in 0..4 {
            let (here, next) = (corners[nth], corners[(nth + 1) % 4]);
            let (own, other) = (beyond(&here), beyond(&next));
            if own >= 0 {
                left.push(here);
            }
            if (own > 0 && other < 0) || (own < 0 && other > 0) {
                left.push(std::array::from_fn(|axis| {
                    let way = i128::from((next[axis] - here[axis]).nm());
                    let share = (way * own.abs()).div_euclid(own.abs() + other.abs());
                    here[axis] + Length::from_nm(i64::try_from(share).unwrap_or(0))
                }));
            }
        }
        let Some((first, rest)) = left.split_first() else { return 0 };
        let spot = |point: &Point, axis: Axis| i128::from((point[axis.index()] - first[axis.index()]).nm());
        let [a, b] = axes;
        let twice = rest
            .windows(2)
            .map(|pair| spot(&pair[0], a) * spot(&pair[1], b) - spot(&pair[1], a) * spot(&pair[0], b))
            .sum::<i128>();
        twice.abs() / 2
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::base::Ratio;
    use crate::model::JointId;

    fn mm(mm: i64) -> Length {
        Length::from_mm(mm)
    }

    fn cut(shape: Shape, face: Face, high: [i64; 3]) -> Feature {
        Feature { name: "cut", shape, solid: Solid::new([mm(0); 3], high.map(mm)), face, joint: JointId(0) }
    }

    #[test]
    fn a_mitre_runs_from_corner_to_corner() {
        // The left end of a rail is taken off from below: its long point is at the bottom, where x is 0.
        let mitre = Slope::left_by(&cut(Shape::Bevel { along: Axis::Y, end: Face::Left }, Face::Top, [60, 20, 60]))[0];
        assert_eq!((mitre.along(), mitre.face, mitre.leans), (Axis::Y, Face::Left, Face::Top));
        // At the bottom it is at the left, at the top at the right.
        assert_eq!([0, 15, 60].map(|z| mitre.at(mm(z))), [mm(0), mm(15), mm(60)]);
        assert_eq!(mitre.turned().at(mm(15)), mm(15));
        // Of a square of 20 in its corner at the top left, all is taken; of one on the diagonal half; of one below it nothing.
        let square = |x: i64, z: i64| {
            let spot = |x: i64, z: i64| [mm(x), mm(0), mm(z)];
            [spot(x, z), spot(x + 20, z), spot(x + 20, z + 20), spot(x, z + 20)]
        };
        let taken = |x, z| mitre.takes(square(x, z), [Axis::X, Axis::Z]) / 1_000_000_000_000;
        assert_eq!([taken(0, 40), taken(20, 20), taken(40, 0)], [400, 200, 0]);
        // Its corner 10 below the diagonal: all but a triangle of 10 by 10.
        assert_eq!([taken(20, 30), taken(30, 20)], [350, 50]);
    }

    #[test]
    fn a_socket_leaves_two_slopes() {
        // A room 40 wide at the front and 24 long, 1 in 8: each side comes in by 3.
        let shape = Shape::Dovetail { along: Axis::X, slope: Ratio::new(1, 8), wide: Face::Front };
        let [low, high] = Slope::left_by(&cut(shape, Face::Back, [12, 24, 40]))[..] else { panic!("two sides") };
        assert_eq!((low.face, low.leans, high.face), (Face::Top, Face::Front, Face::Bottom));
        assert_eq!([0, 8, 24].map(|y| low.at(mm(y))), [mm(0), mm(1), mm(3)]);
        assert_eq!([0, 8, 24].map(|y| high.at(mm(y))), [mm(40), mm(39), mm(37)]);
    }
}
