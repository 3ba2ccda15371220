//! Layer 1: findings. Values only; the terminal and the JSON paper decide how they look.

pub mod codes;
mod suggest;

use std::fmt;
use std::sync::Arc;

pub use suggest::{did_you_mean, nearest};

/// How much a finding weighs.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Severity {
    /// The job has no papers until it is mended.
    Error,
    /// The papers are written, and the maker should look.
    Warning,
    /// Worth knowing.
    Note,
}

impl Severity {
    /// The word that a finding begins with.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Error => "error",
            Self::Warning => "warning",
            Self::Note => "note",
        }
    }
}

/// A place in a recipe, shop file or job table. Lines and columns count from 1; a column counts characters.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct At {
    /// The file as its user names it.
    pub file: Arc<str>,
    /// The line.
    pub line: u32,
    /// The column of the first character.
    pub column: u32,
    /// How many characters it spans; 0 when only the start is known.
    pub span: u32,
}

impl At {
    /// A place of which only the start is known.
    pub fn new(file: impl Into<Arc<str>>, line: u32, column: u32) -> Self {
        Self { file: file.into(), line, column, span: 0 }
    }
}

impl fmt::Display for At {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}:{}:{}", self.file, self.line, self.column)
    }
}

/// Something that the maker should know: what, where, and what to do.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Finding {
    /// The stable name of the fault, in lower-case words joined by dashes; `casewright explain CODE` tells its story.
    pub code: &'static str,
    /// How much it weighs.
    pub severity: Severity,
    /// What is wrong, in one sentence without a full stop.
    pub message: String,
    /// Where.
    pub at: Option<At>,
    /// The calls that led there, innermost first.
    pub through: Vec<At>,
    /// What to do about it.
    pub hint: Option<String>,
    /// The standard, handbook or practice that the finding rests on.
    pub source: Option<&'static str>,
}

impl Finding {
    /// A finding that stops the papers.
    pub fn error(code: &'static str, message: impl Into<String>) -> Self {
        Self::new(Severity::Error, code, message)
    }

    /// A finding that travels with the papers.
    pub fn warning(code: &'static str, message: impl Into<String>) -> Self {
        Self::new(Severity::Warning, code, message)
    }

    /// A finding that is only worth knowing.
    pub fn note(code: &'static str, message: impl Into<String>) -> Self {
        Self::new(Severity::Note, code, message)
    }

    fn new(severity: Severity, code: &'static str, message: impl Into<String>) -> Self {
        Self { code, severity, message: message.into(), at: None, through: Vec::new(), hint: None, source: None }
    }

    /// The finding with its place.
    #[must_use]
    pub fn at(mut self, at: Option<At>) -> Self {
        self.at = at;
        self
    }

    /// The finding with what to do about it.
    #[must_use]
    pub fn hint(mut self, hint: impl Into<String>) -> Self {
        self.hint = Some(hint.into());
        self
    }

    /// The finding with what to do about it, where something is known.
    #[must_use]
    pub fn maybe_hint(mut self, hint: Option<String>) -> Self {
        self.hint = hint.or(self.hint);
        self
    }

    /// The finding with what it rests on.
    #[must_use]
    pub fn source(mut self, source: &'static str) -> Self {
        self.source = Some(source);
        self
    }
}

impl fmt::Display for Finding {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}[{}]: {}", self.severity.name(), self.code, self.message)?;
        if let Some(at) = &self.at {
            write!(f, "\n  --> {at}")?;
        }
        for at in &self.through {
            write!(f, "\n  by way of {at}")?;
        }
        if let Some(hint) = &self.hint {
            write!(f, "\n  hint: {hint}")?;
        }
        if let Some(source) = self.source {
            write!(f, "\n  source: {source}")?;
        }
        Ok(())
    }
}

/// Whether any of the findings stops the papers.
pub fn has_errors(findings: &[Finding]) -> bool {
    findings.iter().any(|finding| finding.severity == Severity::Error)
}
