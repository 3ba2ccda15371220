//! Cuboids, their faces and axes: all the geometry that a fit needs.

use super::Length;

/// The three axes of a piece: x to the right, y from front to back, z up.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Axis {
    /// Left to right.
    X,
    /// Front to back.
    Y,
    /// Bottom to top.
    Z,
}

impl Axis {
    /// All three, in order.
    pub const ALL: [Self; 3] = [Self::X, Self::Y, Self::Z];

    /// The axis's place in a [`Point`].
    pub const fn index(self) -> usize {
        self as usize
    }

    /// The two other axes, in order.
    pub const fn others(self) -> [Self; 2] {
        match self {
            Self::X => [Self::Y, Self::Z],
            Self::Y => [Self::X, Self::Z],
            Self::Z => [Self::X, Self::Y],
        }
    }

    /// The face at the low end of the axis.
    pub const fn low(self) -> Face {
        match self {
            Self::X => Face::Left,
            Self::Y => Face::Front,
            Self::Z => Face::Bottom,
        }
    }

    /// The face at the high end of the axis.
    pub const fn high(self) -> Face {
        match self {
            Self::X => Face::Right,
            Self::Y => Face::Back,
            Self::Z => Face::Top,
        }
    }

    /// How a maker says the size along this axis: `width`, `depth` or `height`.
    pub const fn size_name(self) -> &'static str {
        match self {
            Self::X => "width",
            Self::Y => "depth",
            Self::Z => "height",
        }
    }

    /// How a maker says that something runs along this axis: `across`, `front to back` or `up`.
    pub const fn run_name(self) -> &'static str {
        match self {
            Self::X => "across",
            Self::Y => "front to back",
            Self::Z => "up",
        }
    }
}

/// One of the six faces of a part or piece, named as seen from the front.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Face {
    /// Low x.
    Left,
    /// High x.
    Right,
    /// Low y.
    Front,
    /// High y.
    Back,
    /// Low z.
    Bottom,
    /// High z.
    Top,
}

impl Face {
    /// All six, by axis, low before high.
    pub const ALL: [Self; 6] = [Self::Left, Self::Right, Self::Front, Self::Back, Self::Bottom, Self::Top];

    /// The axis that the face looks along.
    pub const fn axis(self) -> Axis {
        match self {
            Self::Left | Self::Right => Axis::X,
            Self::Front | Self::Back => Axis::Y,
            Self::Bottom | Self::Top => Axis::Z,
        }
    }

    /// Whether the face is at the high end of its axis.
    pub const fn is_high(self) -> bool {
        matches!(self, Self::Right | Self::Back | Self::Top)
    }

    /// The face that looks the other way.
    #[must_use]
    pub const fn opposite(self) -> Self {
        if self.is_high() { self.axis().low() } else { self.axis().high() }
    }

    /// The face's name in recipes and papers.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Left => "left",
            Self::Right => "right",
            Self::Front => "front",
            Self::Back => "back",
            Self::Bottom => "bottom",
            Self::Top => "top",
        }
    }

    /// The face of a name, if it is one of the six.
    pub fn from_name(name: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|face| face.name() == name)
    }
}

/// A position or a shift: x, y, z.
pub type Point = [Length; 3];

/// A cuboid from its low corner to its high corner.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Solid {
    /// The left, front, bottom corner.
    pub low: Point,
    /// The right, back, top corner.
    pub high: Point,
}

impl Solid {
    /// The cuboid between two corners.
    pub const fn new(low: Point, high: Point) -> Self {
        Self { low, high }
    }

    /// The position of a face along its axis.
    pub const fn face(&self, face: Face) -> Length {
        let axis = face.axis().index();
        if face.is_high() { self.high[axis] } else { self.low[axis] }
    }

    /// Moves one face to a position.
    pub fn set_face(&mut self, face: Face, position: Length) {
        let axis = face.axis().index();
        if face.is_high() {
            self.high[axis] = position;
        } else {
            self.low[axis] = position;
        }
    }

    /// The same cuboid with one face moved outwards by `by` (inwards when it is negative).
    #[must_use]
    pub fn grown(mut self, face: Face, by: Length) -> Self {
        let position = self.face(face);
        self.set_face(face, if face.is_high() { position + by } else { position - by });
        self
    }

    /// The same cuboid at another place.
    #[must_use]
    pub fn shifted(&self, by: Point) -> Self {
        let mut moved = *self;
        for (axis, &step) in by.iter().enumerate() {
            moved.low[axis] += step;
            moved.high[axis] += step;
        }
        moved
    }

    /// The size along an axis.
    pub fn size(&self, axis: Axis) -> Length {
        self.high[axis.index()] - self.low[axis.index()]
    }

    /// Whether it holds no material: some size is zero or less.
    pub fn is_empty(&self) -> bool {
        Axis::ALL.iter().any(|&axis| !self.size(axis).is_positive())
    }

    /// The volume in cubic nanometres, as far as it can be held: beyond five kilometres each way it stays at the largest number.
    pub fn volume(&self) -> i128 {
        if self.is_empty() {
            0
        } else {
            Axis::ALL.iter().fold(1, |volume: i128, &axis| volume.saturating_mul(i128::from(self.size(axis).nm())))
        }
    }

    /// What both cuboids hold, if anything.
    pub fn overlap(&self, other: &Self) -> Option<Self> {
        let mut both = *self;
        for axis in 0..3 {
            both.low[axis] = self.low[axis].max(other.low[axis]);
            both.high[axis] = self.high[axis].min(other.high[axis]);
        }
        (!both.is_empty()).then_some(both)
    }

    /// Whether this cuboid lies wholly within the other.
    pub fn within(&self, other: &Self) -> bool {
        (0..3).all(|axis| self.low[axis] >= other.low[axis] && self.high[axis] <= other.high[axis])
    }

    /// The smallest cuboid that holds both.
    #[must_use]
    pub fn hull(&self, other: &Self) -> Self {
        let mut all = *self;
        for axis in 0..3 {
            all.low[axis] = self.low[axis].min(other.low[axis]);
            all.high[axis] = self.high[axis].max(other.high[axis]);
        }
        all
    }

    /// What is left of this cuboid once `cut` is taken away: at most six cuboids that do not overlap.
    pub fn less(&self, cut: &Self) -> Vec<Self> {
        let mut left = Vec::new();
        self.less_into(cut, &mut left);
        left
    }

    /// The same, put behind what is in `left` already.
    pub fn less_into(&self, cut: &Self, left: &mut Vec<Self>) {
        let Some(cut) = self.overlap(cut) else {
            left.push(*self);
            return;
        };
        let mut rest = *self;
        for face in Face::ALL {
            let mut slab = rest;
            slab.set_face(face.opposite(), cut.face(face));
            if !slab.is_empty() {
                left.push(slab);
            }
            rest.set_face(face, cut.face(face));
        }
    }

    /// What is left of this cuboid once every one of `cuts` is taken away.
    pub fn less_all<'a>(&self, cuts: impl IntoIterator<Item = &'a Self>) -> Vec<Self> {
        let mut left = vec![*self];
        for cut in cuts {
            if left.is_empty() {
                break;
            }
            left = left.iter().flat_map(|solid| solid.less(cut)).collect();
        }
        left
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn solid() -> impl Strategy<Value = Solid> {
        (prop::array::uniform3(-20_i64..20), prop::array::uniform3(1_i64..20)).prop_map(|(low, size)| {
            let low = low.map(Length::from_nm);
            let high = std::array::from_fn(|axis| low[axis] + Length::from_nm(size[axis]));
            Solid::new(low, high)
        })
    }

    proptest! {
        #[test]
        fn cutting_keeps_the_books(whole in solid(), cut in solid()) {
            let left = whole.less(&cut);
            let removed = whole.overlap(&cut).map_or(0, |both| both.volume());
            prop_assert_eq!(left.iter().map(Solid::volume).sum::<i128>() + removed, whole.volume());
            for (i, a) in left.iter().enumerate() {
                prop_assert!(a.within(&whole) && a.overlap(&cut).is_none());
                prop_assert!(left[i + 1..].iter().all(|b| a.overlap(b).is_none()));
            }
        }
    }

    #[test]
    fn faces_and_axes_agree() {
        for face in Face::ALL {
            assert_eq!(face.opposite().opposite(), face);
            assert_eq!(Face::from_name(face.name()), Some(face));
            assert_eq!(if face.is_high() { face.axis().high() } else { face.axis().low() }, face);
        }
    }
}
