//! A job without a single part.

use super::{Check, Subject};
use crate::diag::Finding;

/// The check.
pub(super) const CHECK: Check = Check {
    code: "no-parts",
    summary: "the recipe makes no parts, so that its papers are empty",
    why: "A recipe that only declares inputs, or only holds functions for other recipes to import, has nothing to cut. That is \
          right for a file of functions; where a job was meant, the call that builds it is missing.",
    source: "common practice, no source",
    run,
};

fn run(subject: Subject<'_>, findings: &mut Vec<Finding>) {
    if subject.model.parts.is_empty() {
        findings.push(
            Finding::warning(CHECK.code, "the recipe makes no parts, and its papers are empty")
                .hint("add a part, or call the function that builds the piece")
                .source(CHECK.source),
        );
    }
}

#[cfg(test)]
mod tests {
    use super::super::bench::{add, found, job, sheet};
    use super::*;
    use crate::model::Model;

    #[test]
    fn one_part_is_enough() {
        let mut model = job();
        assert_eq!(found(model.clone(), &CHECK).len(), 1);
        add(&mut model, Model::ROOT, "shelf", &sheet(12), [0, 0, 0], [300, 160, 12]);
        assert!(found(model, &CHECK).is_empty());
    }
}
