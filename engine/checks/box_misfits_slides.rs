//! The box is too wide or too narrow for its slides.

use super::{Check, Hung, Subject};
use crate::base::{Axis, Length};
use crate::diag::Finding;

/// The check.
pub(super) const CHECK: Check = Check {
    code: "box-misfits-slides",
    summary: "a drawer box is too wide or too narrow for its slides in its opening",
    why: "Slides need the same room at each side. A box that is too wide does not go in or binds; one that is too narrow \
          pulls the slide's members apart. The opening's smallest width, less the box's outside width, less twice the \
          clearance, must lie between nothing and twice the slack that the slides allow.",
    source: "common practice, no source: 1/2 in at each side for side-mount slides, up to 1/32 in more; else the slide maker's sheet",
    run,
};

fn run(subject: Subject<'_>, findings: &mut Vec<Finding>) {
    let print = subject.model.printing;
    for Hung { used, fit, bounds, opening, name } in subject.hung() {
        let clearance = fit.slides.clearance;
        let width = bounds.size(Axis::X);
        let right = opening.width() - clearance * 2;
        let spare = right - width;
        let fault = if spare < -Length::SAME_SIZE {
            format!("is {} too wide", print.length(-spare))
        } else if spare > fit.slides.slack * 2 + Length::SAME_SIZE {
            format!("is {} too narrow", print.length(spare))
        } else {
            continue;
        };
        findings.push(
            Finding::error(
                CHECK.code,
                format!(
                    "the box `{name}` {fault} for its slides: it is {} wide in an opening of {}",
                    print.length(width),
                    print.length(opening.width())
                ),
            )
            .at(used.at.clone())
            .hint(format!("make it {} wide: the opening less twice {}", print.length(right), print.length(clearance)))
            .source(CHECK.source),
        );
    }
}

#[cfg(test)]
mod tests {
    use super::super::bench::{add, bay, found, hang, job, s, sheet, slides};
    use super::*;
    use crate::model::Model;

    /// A box of a width in nanometres more than 23 in, in an opening of 24 in, on slides of half an inch and 1/32 slack.
    fn bank(more: i64) -> Model {
        let mut model = job();
        let piece = model.add_piece("drawer", None);
        model.place(piece, Model::ROOT, [Length::ZERO; 3]);
        let part = add(&mut model, piece, "front", &sheet(8), [0, 0, 0], [23 * 16, 8, 64]);
        model.part_mut(part).placed.high[0] += Length::from_nm(more);
        let opening = bay(&mut model, [s(24 * 16), s(22 * 16), s(80)]);
        hang(&mut model, piece, opening, slides());
        model
    }

    #[test]
    fn a_box_an_inch_under_its_opening_fits() {
        // Common practice, no source: half an inch a side, so the box is one inch under its opening: 24 - 1 = 23.
        assert!(found(bank(0), &CHECK).is_empty());
        // 1/32 a side of slack: 1/16 in = 1 587 500 nm narrower still fits.
        assert!(found(bank(-1_587_500), &CHECK).is_empty());
    }

    #[test]
    fn a_hair_too_wide_or_narrow_is_told_with_how_much() {
        let wide = found(bank(3_175_000), &CHECK);
        assert!(wide[0].message.contains("1/8\" too wide"), "{}", wide[0]);
        assert!(wide[0].hint.as_ref().unwrap().contains("make it 23\" wide"));
        let narrow = found(bank(-1_587_500 - 2_000), &CHECK);
        assert!(narrow[0].message.contains("too narrow"), "{}", narrow[0]);
    }
}
