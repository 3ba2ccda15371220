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

#[cfg(test)]
mod tests {
    use super::super::bench::{add, bay, found, hang, job, s, sheet, slides};
    use super::*;
    use crate::model::Model;

    /// A box 22-1/2 in wide and 4 in high in an opening of 24 x 5, with its left, lower corner there.
    fn standing(left: Length, up: Length) -> Vec<Finding> {
        let mut model = job();
        let drawer = model.add_piece("drawer", None);
        model.place(drawer, Model::ROOT, [left, Length::ZERO, up]);
        add(&mut model, drawer, "front", &sheet(8), [0, 0, 0], [360, 8, 64]);
        let opening = bay(&mut model, [s(24 * 16), s(22 * 16), s(80)]);
        hang(&mut model, drawer, opening, slides());
        found(model, &CHECK)
    }

    #[test]
    fn each_side_keeps_the_room_of_its_slide() {
        let more = Length::from_um(2);
        // 1-1/2 in are left; from 1/2 at the left to 1/2 at the right it may stand anywhere.
        for left in [s(8), s(12), s(16)] {
            assert_eq!(standing(left, Length::ZERO), vec![], "{left:?}");
        }
        for (left, way) in [(s(8) - more, "right"), (s(16) + more, "left")] {
            let told = standing(left, Length::ZERO);
            assert!(told.len() == 1 && told[0].hint.as_ref().unwrap().ends_with(&format!("further {way}")), "{told:?}");
        }
    }

    #[test]
    fn a_box_stays_between_floor_and_top() {
        let more = Length::from_um(2);
        for up in [Length::ZERO, s(16)] {
            assert_eq!(standing(s(12), up), vec![], "{up:?}");
        }
        for (up, where_to) in [(-more, "below"), (s(16) + more, "above")] {
            let told = standing(s(12), up);
            assert!(told.len() == 1 && told[0].message.contains(where_to), "{told:?}");
        }
    }
}
