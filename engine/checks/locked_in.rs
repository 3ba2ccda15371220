//! A piece that cannot be put together in any order.

use super::{Check, Subject};
use crate::diag::Finding;
use crate::model::{Model, Moving, PieceId};
use crate::proof::order::{Locked, to};

/// The check.
pub(super) const CHECK: Check = Check {
    code: "locked-in",
    summary: "there is no order in which a piece goes together",
    why: "Every part, and every piece that is built by itself before, must go straight in along an axis without passing through \
          another; drawers go in from where they come out. The order is looked for backwards: what can be taken out goes in last. \
          A panel whose grooves run all round goes in before the last joint is closed; into a frame that is a piece of its own, \
          and so glued already, it does not. Screws, dowels and the holes for them are left out; the slope of a dovetail is not.",
    source: "integer geometry; a thousandth of a millimetre is allowed",
    run,
};

fn run(subject: Subject<'_>, findings: &mut Vec<Finding>) {
    let model = subject.model;
    let assemblies = subject.proof.assemblies();
    for assembly in assemblies {
        findings.extend(assembly.locked.iter().map(|locked| told(model, assembly.piece, locked)));
    }
    if assemblies.iter().any(|assembly| !assembly.complete) {
        findings.push(
            Finding::error(CHECK.code, "more parts hold each other than can be taken apart")
                .hint("draw the pieces in several jobs")
                .source(CHECK.source),
        );
    }
}

fn told(model: &Model, piece: PieceId, locked: &Locked) -> Finding {
    let print = model.printing;
    let name = |moving: Moving| format!("`{}`", model.moving_name(moving));
    let ways: Vec<String> = locked
        .by
        .iter()
        .map(|(way, other, by)| format!("{} by {} of {}", to(*way), print.length(*by), name(*other)))
        .collect();
    let message = format!(
        "`{}` cannot be put together: {} is held {}",
        model.piece(piece).name,
        name(locked.held),
        ways.join(", ")
    );
    let built = locked.by.iter().map(|(_, other, _)| *other).find(|other| matches!(other, Moving::Piece(_)));
    let hint = match built {
        Some(other) => format!(
            "{} is built by itself before: make {} one of its parts, so that it goes in before the last joint is closed, or let \
             its cut run out at an edge",
            name(other),
            name(locked.held)
        ),
        None => {
            "let one of the cuts run out at an edge, or place what locks them with a joint that goes in straight".into()
        }
    };
    let at = match locked.held {
        Moving::Part(part) => model.part(part).at.clone(),
        Moving::Piece(piece) => model.piece(piece).at.clone(),
    };
    Finding::error(CHECK.code, message).at(at).hint(hint).source(CHECK.source)
}

#[cfg(test)]
mod tests {
    use super::super::bench::{add, found, job, join, sheet};
    use super::*;
    use crate::base::Length;
    use crate::model::Options;

    /// A frame of four round a panel in grooves. The frame may be built before, without its panel.
    fn door(frame_first: bool) -> Model {
        let mut model = job();
        let (ply, thin) = (sheet(12), sheet(4));
        let frame = if frame_first { model.add_piece("frame", None) } else { Model::ROOT };
        if frame_first {
            model.place(frame, Model::ROOT, [Length::ZERO; 3]);
        }
        let left = add(&mut model, frame, "stile", &ply, [0, 0, 0], [32, 12, 320]);
        let right = add(&mut model, frame, "stile", &ply, [224, 0, 0], [256, 12, 320]);
        let lower = add(&mut model, frame, "rail", &ply, [32, 0, 0], [224, 12, 32]);
        let upper = add(&mut model, frame, "rail", &ply, [32, 0, 288], [224, 12, 320]);
        join(&mut model, "butt", lower, &[left, right], Options::new());
        let panel = add(&mut model, Model::ROOT, "panel", &thin, [32, 4, 32], [224, 8, 288]);
        join(&mut model, "groove", panel, &[left, right, lower, upper], Options::new());
        join(&mut model, "butt", upper, &[left, right], Options::new());
        model
    }

    #[test]
    fn a_panel_goes_into_its_frame_before_that_is_closed() {
        assert_eq!(found(door(false), &CHECK), vec![]);
        let told = found(door(true), &CHECK);
        assert_eq!(told.len(), 1, "{told:?}");
        assert!(told[0].message.contains("forwards by") && told[0].message.contains("of `frame`"), "{}", told[0]);
        assert!(told[0].hint.as_ref().unwrap().contains("make `panel` one of its parts"), "{}", told[0]);
    }

    #[test]
    fn a_part_passes_by_a_thousandth_and_not_by_two() {
        // A case of four walls that is built already, closed behind, with a lip in front that leaves a mouth as wide as the slab.
        let build = |more: i64| {
            let mut model = job();
            let ply = sheet(12);
            let case = model.add_piece("case", None);
            model.place(case, Model::ROOT, [Length::ZERO; 3]);
            for (low, high) in [
                ([-12, 0, 0], [0, 160, 160]),
                ([160, 0, 0], [172, 160, 160]),
                ([0, 0, -12], [160, 160, 0]),
                ([0, 0, 160], [160, 160, 172]),
                ([-12, 160, -12], [172, 172, 172]),
            ] {
                add(&mut model, case, "wall", &ply, low, high);
            }
            let lip = add(&mut model, case, "lip", &ply, [-12, -12, -12], [20, 0, 172]);
            model.part_mut(lip).placed.high[0] += Length::from_um(more);
            add(&mut model, Model::ROOT, "slab", &ply, [20, 40, 40], [140, 52, 120]);
            found(model, &CHECK)
        };
        assert_eq!((build(0).len(), build(1).len(), build(2).len()), (0, 0, 1));
        let told = &build(25_400)[0];
        assert!(told.message.contains("`slab` is held forwards by 1\""), "{told}");
    }

    #[test]
    fn tails_leave_across_the_front_and_no_other_way() {
        // A side with tails goes onto its front from the left; a stop that is built onto the front stands beside its way.
        let build = |joint: &'static str, more: i64| {
            let mut model = job();
            let ply = sheet(12);
            let built = model.add_piece("front", None);
            model.place(built, Model::ROOT, [Length::ZERO; 3]);
            let front = add(&mut model, built, "front", &ply, [0, 0, 0], [256, 12, 64]);
            let stop = add(&mut model, built, "stop", &ply, [-64, 172, 0], [-32, 184, 64]);
            model.part_mut(stop).placed.low[1] -= Length::from_um(more);
            let side = add(&mut model, Model::ROOT, "side", &ply, [0, 12, 0], [12, 172, 64]);
            join(&mut model, joint, side, &[front], Options::new());
            found(model, &CHECK).len()
        };
        assert_eq!([build("dovetail", 0), build("dovetail", 1), build("dovetail", 2)], [0, 0, 1]);
        // Without tails it goes in from behind.
        assert_eq!(build("butt", 2), 0);
    }
}
