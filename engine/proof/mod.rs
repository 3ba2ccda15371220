//! Layer 3: the proof that a job fits, as pure integer geometry on a settled model whose joints are made.
//!
//! [`index`] finds what is near, [`material`] what is left of a part, [`meets`] whether joints bear where they should, [`walls`]
//! what wood stands between cuts, [`bodies`] what moves together, [`travel`] whether its way is free, [`order`] in which order
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
pub mod travel;
mod turning;
pub mod walls;
