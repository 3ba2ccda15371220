//! Layer 3: the proof that a job fits, as pure integer geometry on a settled model whose joints are made.
//!
//! [`index`] finds what is near, [`material`] what is left of a part, [`meets`] whether joints bear where they should, [`walls`]
//! what wood stands between cuts, [`mod@bodies`] what moves together, [`travel`] whether its way is free, [`order`] in which order
//! everything goes together, by taking each piece apart. One tolerance holds throughout: [`Length::SAME_SIZE`]. What stands in
//! the way is taken a thousandth of a millimetre smaller on every side, so that faces that touch do not meet.
//!
//! [`Length::SAME_SIZE`]: crate::base::Length::SAME_SIZE

mod apart;
pub mod bodies;
pub mod index;
pub mod material;
pub mod meets;
pub mod order;
mod slopes;
pub mod travel;
mod turning;
pub mod walls;

use std::cell::OnceCell;

use self::bodies::{Body, bodies};
use self::material::Material;
use self::meets::{Kept, all_kept};
use self::order::{Assembly, assemblies};
use crate::model::Model;

/// What is proved of a model whose joints are made. Each part of it is worked out when it is first asked for, and once.
#[derive(Debug)]
pub struct Proved<'a> {
    /// The settled model.
    pub model: &'a Model,
    material: OnceCell<Material>,
    kept: OnceCell<Vec<Kept>>,
    bodies: OnceCell<Vec<Body>>,
    assemblies: OnceCell<Vec<Assembly>>,
}

impl<'a> Proved<'a> {
    /// The proof of a model, of which nothing is worked out yet.
    pub const fn new(model: &'a Model) -> Self {
        Self {
            model,
            material: OnceCell::new(),
            kept: OnceCell::new(),
            bodies: OnceCell::new(),
            assemblies: OnceCell::new(),
        }
    }

    /// What is left of every part.
    pub fn material(&self) -> &Material {
        self.material.get_or_init(|| Material::new(self.model))
    }

    /// What became of every bearing, in the order of the model's bearings.
    pub fn kept(&self) -> &[Kept] {
        self.kept.get_or_init(|| all_kept(self.model, self.material()))
    }

    /// What each motion moves, in the order of the model's motions.
    pub fn bodies(&self) -> &[Body] {
        self.bodies.get_or_init(|| bodies(self.model))
    }

    /// The order in which every piece goes together.
    pub fn assemblies(&self) -> &[Assembly] {
        self.assemblies.get_or_init(|| assemblies(self.model, self.material()))
    }
}
