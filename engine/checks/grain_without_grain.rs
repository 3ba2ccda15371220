//! A grain direction was asked for where the stock has no grain.

use super::{Check, Subject};
use crate::diag::Finding;

/// The check.
pub(super) const CHECK: Check = Check {
    code: "grain-without-grain",
    summary: "a grain direction is asked for and the stock has no grain",
    why: "It does no harm to the part, but it often means that another stock was meant: MDF where plywood was drawn.",
    source: "common practice, no source",
    run,
};

fn run(subject: Subject<'_>, findings: &mut Vec<Finding>) {
    for (id, part) in subject.model.part_ids() {
        if part.grain_asked && !part.stock.grain {
            let name = subject.model.full_name(id);
            findings.push(
                Finding::warning(
                    CHECK.code,
                    format!("`{name}` asks for a grain direction, and {} has no grain", part.stock.name),
                )
                .at(part.at.clone())
                .hint("leave `grain` out, or choose a stock that has one")
                .source(CHECK.source),
            );
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::bench::{add, found, job, sheet};
    use super::*;
    use crate::model::Model;

    #[test]
    fn only_stock_without_grain_is_told() {
        for (grain, count) in [(true, 0), (false, 1)] {
            let mut model = job();
            let mut stock = sheet(12);
            stock.grain = grain;
            let part = add(&mut model, Model::ROOT, "shelf", &stock, [0, 0, 0], [160, 80, 12]);
            model.part_mut(part).grain_asked = true;
            assert_eq!(found(model, &CHECK).len(), count);
        }
    }
}
