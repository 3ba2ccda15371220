//! Layer 6: the papers that a job gives, one file a format.

mod assembly;
mod cells;
mod cut_list;
mod edge_band;
mod fits;
mod hardware;
mod job_json;
mod settings;
mod stock;
#[cfg(test)]
mod testing;

pub use cells::harmless;
pub use job_json::job_schema;

use crate::diag::Finding;
use crate::model::Model;
use crate::plan::Plan;

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
    settings::SETTINGS,
    fits::FITS,
    assembly::ASSEMBLY,
    job_json::JOB_JSON,
];
