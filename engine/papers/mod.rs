//! Layer 6: the papers that a job gives, one file a format.

mod assembly;
mod cells;
mod cut_list;
mod cutting_plan;
mod edge_band;
mod fits;
mod hardware;
mod job_json;
mod job_stock;
mod offcuts;
mod settings;
mod sheets;
mod stock;
#[cfg(test)]
mod testing;

pub use cells::harmless;
pub use job_json::job_schema;

use crate::diag::Finding;
use crate::model::Model;
use crate::plan::{Plan, Search, WrongPlan};

/// What a paper is made from.
#[derive(Clone, Copy, Debug)]
pub struct Subject<'a> {
    /// The job.
    pub model: &'a Model,
    /// Its lists.
    pub plan: &'a Plan,
    /// Its warnings and notes.
    pub findings: &'a [Finding],
}

/// One kind of paper.
#[derive(Clone, Copy, Debug)]
pub struct Paper {
    /// The file that it is written to.
    pub file: &'static str,
    /// What it holds, in one line.
    pub summary: &'static str,
    /// Writes it.
    pub write: fn(Subject<'_>) -> Vec<u8>,
}

/// Every paper, in the order in which a shop takes them up.
pub const ALL: &[Paper] = &[
    cut_list::CUT_LIST,
    hardware::HARDWARE,
    edge_band::EDGE_BAND,
    stock::STOCK,
    cutting_plan::CUTTING_PLAN,
    offcuts::OFFCUTS,
    settings::SETTINGS,
    fits::FITS,
    assembly::ASSEMBLY,
    job_json::JOB_JSON,
];

/// Drawings: a paper that is as many files as it takes.
#[derive(Clone, Copy, Debug)]
pub struct Drawings {
    /// What its files are called, with a `N` where each has its number.
    pub file: &'static str,
    /// What they show, in one line.
    pub summary: &'static str,
    /// Writes them: each with its file name.
    pub write: fn(Subject<'_>) -> Vec<(String, Vec<u8>)>,
}

/// Every kind of drawing.
pub const DRAWINGS: &[Drawings] = &[sheets::SHEETS];

/// Whether a file is a drawing that Casewright wrote, by its name and its first bytes: one that a later run no longer makes
/// must not lie beside the new papers.
pub fn is_own_drawing(file: &str, bytes: &[u8]) -> bool {
    sheets::is_own(file, bytes)
}

/// Whether a file has the name of a drawing.
pub fn is_drawing_name(file: &str) -> bool {
    sheets::is_name(file)
}

/// Every file of a job, in the order in which a shop takes them up.
///
/// # Errors
///
/// When the engine made a stock plan that cannot be cut: then there is not one paper.
pub fn all(subject: Subject<'_>) -> Result<Vec<(String, Vec<u8>)>, WrongPlan> {
    subject.plan.cutting.lay_out(&Search::USUAL).map_err(WrongPlan::clone)?;
    let mut files: Vec<(String, Vec<u8>)> =
        ALL.iter().map(|paper| (paper.file.to_owned(), (paper.write)(subject))).collect();
    files.extend(DRAWINGS.iter().flat_map(|drawings| (drawings.write)(subject)));
    Ok(files)
}
