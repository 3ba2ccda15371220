//! Layer 4: checks. Each is named for the fault it finds and lives in a file that tells its whole story.

use crate::diag::Finding;
use crate::model::{Model, Shop};

/// What a check looks at: the settled model with its joints made, and the shop.
#[derive(Clone, Copy, Debug)]
pub struct Subject<'a> {
    /// The job.
    pub model: &'a Model,
    /// The shop.
    pub shop: &'a Shop,
}

/// One check.
#[derive(Clone, Copy, Debug)]
pub struct Check {
    /// The code of its findings.
    pub code: &'static str,
    /// The fault, in one line.
    pub summary: &'static str,
    /// Why it matters, and how it is worked out.
    pub why: &'static str,
    /// The standard, handbook or practice that it rests on.
    pub source: &'static str,
    /// Looks for the fault.
    pub run: fn(Subject<'_>, &mut Vec<Finding>),
}
