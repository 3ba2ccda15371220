//! Layer 7: the whole way through on one screen, used alike by `run`, `batch` and the REPL.

use crate::checks;
use crate::diag::{Finding, has_errors};
use crate::joints;
use crate::model::{Model, Shop};
use crate::papers::{self, Subject};
use crate::plan::{self, Plan, WrongPlan};
use crate::proof::Proved;
use crate::script::{Recipe, Workbench};

pub use crate::script::Order;

/// What came of a recipe. A job with error findings has no plan, and so no papers.
#[derive(Clone, Debug)]
pub struct Outcome {
    /// The model, as far as the recipe came: its inputs are always there.
    pub model: Model,
    /// The lists, if nothing stops them.
    pub plan: Option<Plan>,
    /// Everything that the maker should know, errors first.
    pub findings: Vec<Finding>,
}

/// A paper that is ready to be written.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Written {
    /// Its file name.
    pub file: String,
    /// Its bytes.
    pub bytes: Vec<u8>,
}

/// Runs a recipe: script, then the rest of the way.
pub fn run(bench: &Workbench, recipe: &Recipe, order: Order<'_>) -> Outcome {
    let drawn = bench.run(recipe, order);
    if drawn.finished {
        build(drawn.model, drawn.findings, order.shop)
    } else {
        Outcome { model: drawn.model, plan: None, findings: in_order(drawn.findings) }
    }
}

/// Takes a settled model the rest of the way: joints, checks, plan.
pub fn build(mut model: Model, mut findings: Vec<Finding>, shop: &Shop) -> Outcome {
    findings.extend(joints::make(&mut model, shop));
    let proof = Proved::new(&model);
    findings.extend(checks::run(checks::Subject { model: &model, shop, proof: &proof }));
    let plan = (!has_errors(&findings)).then(|| plan::plan_of(&proof, shop));
    findings.extend(plan.iter().flat_map(|plan| plan.cutting.findings()));
    let plan = plan.filter(|_| !has_errors(&findings));
    Outcome { model, plan, findings: in_order(findings) }
}

/// The papers of a job; none for a job that has errors.
///
/// # Errors
///
/// When the engine made a stock plan that cannot be cut, which is a fault of ours: nothing may be written.
pub fn papers(outcome: &Outcome) -> Result<Vec<Written>, WrongPlan> {
    let Some(plan) = &outcome.plan else { return Ok(Vec::new()) };
    let subject = Subject { model: &outcome.model, plan, findings: &outcome.findings };
    Ok(papers::all(subject)?.into_iter().map(|(file, bytes)| Written { file, bytes }).collect())
}

/// Errors first, then warnings, then notes; each in the order of the recipe's lines.
fn in_order(mut findings: Vec<Finding>) -> Vec<Finding> {
    findings.sort_by(|a, b| (a.severity, &a.at).cmp(&(b.severity, &b.at)));
    findings.dedup();
    findings
}
