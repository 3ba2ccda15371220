//! Casewright: recipes for case furniture, and the papers that a shop works from.
//!
//! A *recipe* (a Rhai script) and its inputs become a model of real parts with real joints; checks prove that the parts
//! fit; plans and papers are derived from the same model, so that they cannot disagree. See [`job`] for the whole way
//! through on one screen.

pub mod base;
pub mod catalog;
pub mod checks;
pub mod diag;
pub mod job;
pub mod joints;
pub mod model;
pub mod nesting;
pub mod papers;
pub mod plan;
pub mod script;
pub mod shop_file;
pub mod world;
