//! How far a shelf sags.

use super::mass::GRAVITY;
use crate::base::Axis;
use crate::catalog::{self, Figure};
use crate::model::{Material, Part};

/// One pound force on a square inch, in newtons on a square millimetre.
pub const PSI: f64 = super::mass::POUND * GRAVITY / (25.4 * 25.4);

/// A shelf that rests on two supports, seen as the beam that spans them. Sizes are in millimetres.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Beam {
    /// The clear span between the supports.
    pub span: f64,
    /// How high its section is: a shelf's thickness.
    pub height: f64,
    /// The modulus of elasticity along the span, in newtons on a square millimetre.
    pub elasticity: f64,
    /// The load in kilograms on each square millimetre as seen from above.
    pub load: f64,
}

impl Beam {
    /// The sag in the middle under an even load, for a beam that rests on its supports: 5 w L^4 / (384 E I).
    ///
    /// The breadth stands in the load and in the section alike, so that it cancels.
    // SEEN: woodengineering.com, e-modulus-of-elasticity-of-wood.
    pub fn sag(&self) -> f64 {
        let square = self.span * self.span;
        5.0 * self.load * GRAVITY * square * square / (384.0 * self.elasticity * self.section())
    }

    /// The longest span whose sag is no more than its `share`th part.
    pub fn longest_span(&self, share: f64) -> f64 {
        cube_root(384.0 * self.elasticity * self.section() / (5.0 * share * self.load * GRAVITY))
    }

    /// The height of section from which the sag is no more than the `share`th part of the span.
    pub fn least_height(&self, share: f64) -> f64 {
        self.span * cube_root(5.0 * share * self.load * GRAVITY * 12.0 / (384.0 * self.elasticity))
    }

    /// The second moment of area for each millimetre of breadth.
    fn section(&self) -> f64 {
        self.height * self.height * self.height / 12.0
    }
}

/// How stiff a part is along an axis.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stiffness {
    /// The modulus of elasticity, in newtons on a square millimetre.
    pub elasticity: f64,
    /// The table's figure and its source.
    pub figure: Figure,
    /// Whether the grain runs across the axis, where the material is weaker than the table says.
    pub across: bool,
}

// From memory: Wood Handbook, Table 5-1, has a twentieth to a tenth of the stiffness across the grain of wood.
const WOOD_ACROSS: f64 = 1.0 / 20.0;
// Common practice, no source: about half of the veneers of a sheet of plywood run the other way.
const PLYWOOD_ACROSS: f64 = 1.0 / 2.0;

/// The stiffness of a part along an axis, where the tables know its material.
pub fn stiffness(part: &Part, axis: Axis) -> Option<Stiffness> {
    let figure = catalog::properties(&part.stock.material)?.stiffness?;
    let across = part.grain.is_some_and(|grain| grain != axis);
    let weaker = match (&part.stock.material, across) {
        (Material::Wood(_), true) => WOOD_ACROSS,
        (_, true) => PLYWOOD_ACROSS,
        (_, false) => 1.0,
    };
    Some(Stiffness { elasticity: f64::from(figure.value) * 10_000.0 * PSI * weaker, figure, across })
}

/// The cube root by Newton's steps: a library's may differ in its last digit from machine to machine.
fn cube_root(of: f64) -> f64 {
    if !of.is_finite() || of <= 0.0 {
        return 0.0;
    }
    let mut root = of.max(1.0);
    for _ in 0..400 {
        let next = (2.0 * root + of / (root * root)) / 3.0;
        if (next - root).abs() <= root * 1e-15 {
            return next;
        }
        root = next;
    }
    root
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn spans_and_heights_answer_each_other() {
        let beam = Beam { span: 900.0, height: 18.0, elasticity: 7_000.0, load: 1.95e-4 };
        let longest = Beam { span: beam.longest_span(144.0), ..beam };
        assert!((longest.sag() - longest.span / 144.0).abs() < 1e-9);
        let thick = Beam { height: beam.least_height(144.0), ..beam };
        assert!((thick.sag() - 900.0 / 144.0).abs() < 1e-9);
    }

    #[test]
    fn cube_roots() {
        for (of, root) in [(27.0, 3.0), (1e9, 1e3), (0.001, 0.1), (1e-12, 1e-4), (0.0, 0.0)] {
            assert!((cube_root(of) - root).abs() < 1e-12 * root.max(1.0), "{of}");
        }
    }

    #[test]
    fn one_pound_on_a_square_inch() {
        // From memory: 6894.757 Pa.
        assert!((PSI - 0.006_894_757).abs() < 1e-9);
    }
}
