//! Layer 6: the papers that a job gives, one file a format.

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

/// t
pub const ALL: &[Paper] = &[];
