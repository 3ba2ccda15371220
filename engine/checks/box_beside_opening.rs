//! The box stands beside its opening, or too near to one side of it.

use super::{Check, Hung, Subject};
use crate::base::{Axis, Length};
use crate::diag::Finding;

/// The check.
pub(super) const CHECK: Check = Check {
    code: "box-beside-opening",
    summary: "a drawer box does not stand in its opening with the room that its slides need at each side",
    why: "A box of the right width still binds when it is placed nearer to one side: each side needs the slides' clearance. Its \
          floor and its top must lie within the opening.",
    source: "common practice, no source",
    run,
};

fn run(subject: Subject<'_>, findings: &mut Vec<Finding>) {
    let print = subject.model.printing;
    for Hung { used, fit, bounds, opening, name } in subject.hung() {
        let inside = |axis: Axis| {
            [
                bounds.face(axis.low()) - opening.solid.face(axis.low()),
                opening.solid.face(axis.high()) - bounds.face(axis.high()),
            ]
        };
        let space = &opening.name;
        let told = |message: String, hint: String| {
            Finding::error(CHECK.code, message).at(used.at.clone()).hint(hint).source(CHECK.source)
        };
        let [below, above] = inside(Axis::Z);
        if below.min(above) < -Length::SAME_SIZE {
            let (out, where_to) = if below < above { (below, "below") } else { (above, "above") };
            findings.push(told(
                format!("the box `{name}` stands {} {where_to} `{space}`", print.length(-out)),
                "place it between the floor and the top of the opening; an opening stands at 0 unless `left`, `front` and `bottom` say otherwise".into(),
            ));
        }
        // A box of the wrong width is told by its own check; here it is the place that counts.
        let [left, right] = inside(Axis::X);
        let width_fits = left + right >= fit.slides.clearance * 2 - Length::SAME_SIZE;
        if width_fits && left.min(right) < fit.slides.clearance - Length::SAME_SIZE {
            findings.push(told(
                format!(
                    "the box `{name}` has {} at its left and {} at its right in `{space}`; its slides need {} at each",
                    print.length(left),
                    print.length(right),
                    print.length(fit.slides.clearance)
                ),
                format!(
                    "place it {} further {}",
                    print.length((right - left).abs().half()),
                    if left < right { "right" } else { "left" }
                ),
            ));
        }
    }
}
