//! Casewright: recipes for case furniture, and the papers that a shop works from.
//!
//! A *recipe* (a Rhai script) and its inputs become a model of real parts with real joints; checks prove that the parts
//! fit; plans and papers are derived from the same model, so that they cannot disagree. See [`job`] for the whole way
//! through on one screen.
//!
//! ```
//! use casewright::job::{self, Order};
//! use casewright::model::Shop;
//! use casewright::script::{Workbench, on_script_thread};
//! use casewright::world::Memory;
//!
//! let papers = on_script_thread(|| {
//!     let bench = Workbench::new(Memory::new());
//!     let recipe = bench.open("drawer-box").expect("it is built in");
//!     let shop = Shop::default();
//!     let inputs = [("width".to_owned(), "16 7/8".to_owned())];
//!     let outcome = job::run(&bench, &recipe, Order { inputs: &inputs, units: None, shop: &shop });
//!     job::papers(&outcome).expect("its stock plan can be cut")
//! });
//! let cut_list = papers.iter().find(|paper| paper.file == "cut-list.csv").expect("every job has one");
//! // The front stands between two sides of 1/2 in: 16-7/8 less 1 is 15-7/8.
//! assert!(String::from_utf8_lossy(&cut_list.bytes).contains("front,1,1/2 birch plywood,0.5,15.875,5,"));
//! ```

pub mod base;
pub mod catalog;
pub mod checks;
pub mod diag;
pub mod drawing;
pub mod fits;
pub mod job;
pub mod joints;
pub mod model;
pub mod nesting;
pub mod papers;
pub mod physics;
pub mod plan;
pub mod proof;
pub mod script;
pub mod shop_file;
pub mod world;
