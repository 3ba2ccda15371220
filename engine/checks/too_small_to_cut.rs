//! A part is smaller than what a saw leaves whole.

use super::{Check, Subject};
use crate::base::Length;
use crate::diag::Finding;

/// The check.
pub(super) const CHECK: Check = Check {
    code: "too-small-to-cut",
    summary: "a part is too short or too narrow to be cut",
    why: "A strip that is narrower than the saw's own cut cannot be held: it breaks, burns or is thrown. Below an eighth of an inch \
          (3 mm) no part is listed; such a size is most often a slip, or what is left over when others are subtracted.",
    source: "common practice, no source: an eighth of an inch, the cut of a usual blade",
    run,
};

// Common practice, no source: an eighth of an inch, and three millimetres where one works in these.
const LEAST: Length = Length::from_mm(3);

fn run(subject: Subject<'_>, findings: &mut Vec<Finding>) {
    let model = subject.model;
    let print = model.printing;
    for (id, part) in model.part_ids() {
        let [length, width] = [part.length_axis(), part.width_axis()].map(|axis| part.cut_size(axis));
        if length.min(width) >= LEAST - Length::SAME_SIZE {
            continue;
        }
        let what = if width < length { ("narrow", "wide") } else { ("short", "long") };
        findings.push(
            Finding::error(
                CHECK.code,
                format!(
                    "`{}` is too {} to be cut: it would be {} {}",
                    model.full_name(id),
                    what.0,
                    print.length(length.min(width)),
                    what.1
                ),
            )
            .at(part.at.clone())
            .hint(format!("look at the sizes that place it; {} is the least", print.length(LEAST)))
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
    fn a_strip_is_as_wide_as_a_blade_at_the_least() {
        // A strip 10 in long and 3 mm wide; a thousandth less counts as the same size, two thousandths less do not.
        let strip = |less: i64| {
            let mut model = job();
            let part = add(&mut model, Model::ROOT, "bead", &sheet(12), [0, 0, 0], [160, 0, 12]);
            model.part_mut(part).placed.high[1] = Length::from_mm(3) - Length::from_um(less);
            found(model, &CHECK)
        };
        assert_eq!([0, 1, 2].map(|less| strip(less).len()), [0, 0, 1]);
        let told = &strip(2)[0];
        assert!(told.message.contains("`bead` is too narrow to be cut"), "{told}");
    }
}
