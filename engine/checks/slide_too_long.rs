//! The slides are longer than the opening is deep, or than their box.

use super::{Check, Hung, Subject};
use crate::base::{Axis, Length};
use crate::diag::Finding;

/// The check.
pub(super) const CHECK: Check = Check {
    code: "slide-too-long",
    summary: "slides are longer than the depth they hang in or the box they carry",
    why: "A slide that reaches the back of the case keeps the drawer from closing. The length of the slides and the room asked \
          for behind them must go into the depth of the opening, and the box must be at least as deep as its slides.",
    source: "common practice, no source",
    run,
};

fn run(subject: Subject<'_>, findings: &mut Vec<Finding>) {
    let print = subject.model.printing;
    for Hung { used, fit, bounds, opening, name } in subject.hung() {
        let depth = opening.depth();
        let over = fit.length + fit.room_behind - depth;
        if over > Length::SAME_SIZE {
            let behind = if fit.room_behind.is_positive() {
                format!(" with {} behind them", print.length(fit.room_behind))
            } else {
                String::new()
            };
            findings.push(
                Finding::error(
                    CHECK.code,
                    format!(
                        "the slides of `{name}` are {} long{behind}; the opening is {} deep, {} too little",
                        print.length(fit.length),
                        print.length(depth),
                        print.length(over)
                    ),
                )
                .at(used.at.clone())
                .hint("choose the next shorter slides, or keep less room behind them")
                .source(CHECK.source),
            );
        }
        let box_depth = bounds.size(Axis::Y);
        let short = fit.length - box_depth;
        if short > Length::SAME_SIZE {
            findings.push(
                Finding::error(
                    CHECK.code,
                    format!(
                        "the slides of `{name}` are {} long and its box only {} deep, {} too little",
                        print.length(fit.length),
                        print.length(box_depth),
                        print.length(short)
                    ),
                )
                .at(used.at.clone())
                .hint("make the box as deep as its slides are long")
                .source(CHECK.source),
            );
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::bench::{add, bay, found, hang, job, s, sheet, slides};
    use super::*;
    use crate::diag::Finding;
    use crate::model::{Model, Slides};

    /// A box 20 in deep in an opening 22 in deep, on slides of a length.
    fn on_slides(length: Length, room_behind: Length) -> Vec<Finding> {
        let mut model = job();
        let drawer = model.add_piece("drawer", None);
        model.place(drawer, Model::ROOT, [Length::ZERO; 3]);
        add(&mut model, drawer, "side", &sheet(8), [8, 0, 0], [16, 320, 64]);
        let opening = bay(&mut model, [s(24 * 16), s(22 * 16), s(80)]);
        hang(&mut model, drawer, opening, Slides { lengths: vec![length], ..slides() });
        model.hardware[0].slides.as_mut().unwrap().room_behind = room_behind;
        found(model, &CHECK)
    }

    #[test]
    fn slides_as_long_as_their_box_and_as_the_room_before_the_back() {
        let more = Length::from_um(2);
        assert_eq!(on_slides(s(320), s(32)), vec![]);
        // Two thousandths more than the depth, and than the one micrometre within which sizes are the same.
        let told = on_slides(s(320), s(32) + more);
        assert!(told.len() == 1 && told[0].message.contains("opening is 22\" deep"), "{told:?}");
        let told = on_slides(s(320) + more, Length::ZERO);
        assert!(told.len() == 1 && told[0].message.contains("its box only 20\" deep"), "{told:?}");
    }
}
