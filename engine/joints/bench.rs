//! Small jobs for the joints' own tests.

use std::sync::Arc;

use super::{find, make};
use crate::base::{Axis, Length, Point, Printing, Solid};
use crate::diag::Finding;
use crate::model::{JointUse, Material, Model, Options, Part, PartId, Shop, Stock, StockForm, Value};

/// A job in inches that is being drawn.
pub(super) struct Bench(Model);

impl Bench {
    pub(super) fn new() -> Self {
        Self(Model::new("test job", Printing::default()))
    }

    /// Adds a part of board of a thickness, from corner to corner.
    pub(super) fn add(&mut self, name: &str, thickness: Length, low: Point, high: Point) -> PartId {
        let form = StockForm::Board { widths: Vec::new(), lengths: Vec::new() };
        let stock = Stock::new("test board", Material::Wood("maple".into()), form, thickness);
        self.0.add_part(Part::new(name, Model::ROOT, Arc::new(stock), Solid::new(low, high)))
    }

    /// Asks for a joint.
    pub(super) fn join(&mut self, joint: &'static str, member: PartId, into: &[PartId], options: Options) {
        let target = find(joint).unwrap().target;
        let options = options.with(target, Value::Parts(into.to_vec()));
        self.0.add_joint(JointUse { joint, member, into: into.to_vec(), options, at: None });
    }

    /// Makes the joints. The first fault is given back; without one no two parts may claim the same space, to a thousandth.
    pub(super) fn made(mut self) -> Result<Model, Finding> {
        self.0.settle();
        if let Some(finding) = make(&mut self.0, &Shop::default()).into_iter().next() {
            return Err(finding);
        }
        for (i, a) in self.0.parts.iter().enumerate() {
            for b in &self.0.parts[i + 1..] {
                let rest = a
                    .material()
                    .iter()
                    .flat_map(|x| b.material().iter().filter_map(|y| x.overlap(y)).collect::<Vec<_>>())
                    .find(|both| Axis::ALL.iter().all(|&axis| both.size(axis) > Length::SAME_SIZE));
                assert_eq!(rest, None, "`{}` and `{}` claim it both", a.name, b.name);
            }
        }
        Ok(self.0)
    }
}

/// A fraction of an inch.
pub(super) fn in_(count: i64, of: i64) -> Length {
    Length::from_inch(count, of)
}
