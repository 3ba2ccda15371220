//! Layer 7: the whole way through on one screen, used alike by `run`, `batch` and the REPL.

use crate::base::{Printing, Unit};
use crate::checks;
use crate::diag::{self, Finding};
use crate::joints;
use crate::model::{Input, Model, Shop};
use crate::papers;
use crate::plan::{self, Plan};
use crate::script::{Recipe, Workbench};

/// What a maker asks for: a recipe's inputs, and the shop that it is made in.
#[derive(Clone, Copy, Debug)]
pub struct Order<'a> {
    /// Inputs as they were typed, by name.
    pub inputs: &'a [(String, String)],
    /// The unit asked for; else the shop's, else the recipe's, else inches.
    pub units: Option<Unit>,
    /// The shop.
    pub shop: &'a Shop,
}

/// What came of it. A job with error findings has no plan, and so no papers.
#[derive(Clone, Debug)]
pub struct Outcome {
    /// The inputs that the recipe declared, with their values.
    pub inputs: Vec<Input>,
    /// How lengths are printed.
    pub printing: Printing,
    /// The model, as far as the recipe came to its end.
    pub model: Option<Model>,
    /// The lists, if nothing stops them.
    pub plan: Option<Plan>,
    /// Everything that the maker should know, errors first.
    pub findings: Vec<Finding>,
}

/// A paper that is ready to be written.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Written {
    /// Its file name.
    pub file: &'static str,
    /// Its bytes.
    pub bytes: Vec<u8>,
}

/// Runs a recipe: script, model, joints, checks, plan.
pub fn run(bench: &Workbench, recipe: &Recipe, order: Order<'_>) -> Outcome {
    let _ = (bench, recipe, order);
    unimplemented!()
}

/// The papers of a job that has a plan.
pub fn papers(outcome: &Outcome) -> Vec<Written> {
    let _ = outcome;
    unimplemented!()
}
