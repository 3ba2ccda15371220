//! The story of every finding that does not come from a check: `casewright explain CODE` prints it.

/// A code and its story.
#[derive(Clone, Copy, Debug)]
pub struct Code {
    /// The code.
    pub code: &'static str,
    /// The fault, in one line.
    pub summary: &'static str,
    /// Why it is a fault and what to do.
    pub about: &'static str,
}
