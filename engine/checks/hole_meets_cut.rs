//! A pocket, a screw or the slot of a biscuit meets a groove, a dado, a rabbet, another screw, or comes out of the part.

use super::{Check, MOST, Subject};
use crate::base::{Axis, Face, Length, Solid};
use crate::diag::Finding;
use crate::model::{Feature, Model, PartId, Shape};

/// The check.
pub(super) const CHECK: Check = Check {
    code: "hole-meets-cut",
    summary: "a pocket hole, a screw or the slot of a biscuit meets a groove, another hole or a face of its part",
    why: "A pocket that opens into a groove lets the panel's edge meet a screw, a screw in a groove holds nothing, and two screws \
          in one place cannot be driven; nor does a biscuit or a loose tenon hold in air. Each hole is taken as the cuboid that holds it, which errs on the safe side by less \
          than its own width.",
    source: "common practice, no source",
    run,
};

fn run(subject: Subject<'_>, findings: &mut Vec<Finding>) {
    let model = subject.model;
    for (id, part) in model.part_ids() {
        let is_hole = |feature: &&Feature| holds_hardware(model, id, feature);
        let bores: Vec<&Feature> = part.features.iter().filter(is_hole).collect();
        for (index, bore) in bores.iter().enumerate() {
            if findings.len() >= MOST {
                return;
            }
            let cuts = part.features.iter().filter(|feature| !is_hole(feature));
            let later = bores[index + 1..].iter().copied();
            for other in cuts.chain(later) {
                let Some(both) = bore.solid.overlap(&other.solid).filter(|_| !same_screw(bore, other)) else {
                    continue;
                };
                let print = model.printing;
                let (by, axis) = least(&both);
                let along = bore.face.axis().others().map(|axis| {
                    let from = bore.solid.low[axis.index()] - part.solid.low[axis.index()];
                    format!("{} from its {}", print.length(from + bore.solid.size(axis).half()), axis.low().name())
                });
                findings.push(
                    Finding::error(
                        CHECK.code,
                        format!(
                            "in `{}`, the {} {} meets a {}: they share {} {}",
                            model.full_name(id),
                            bore.name,
                            along.join(", "),
                            other.name,
                            print.length(by),
                            axis.run_name()
                        ),
                    )
                    .at(model.joint(bore.joint).at.clone())
                    .hint(format!(
                        "move one of them {} {}: change `edge_distance`, `count` or `drill` of the joint, or move the cut",
                        print.length(by),
                        axis.run_name()
                    ))
                    .source(CHECK.source),
                );
            }
            let out = |face: Face| {
                let over = bore.solid.face(face) - part.solid.face(face);
                (if face.is_high() { over } else { -over }, face)
            };
            if !bore.solid.within(&part.solid)
                && let Some((by, face)) = Face::ALL.map(out).into_iter().max()
            {
                let by = model.printing.length(by);
                let message =
                    format!("a {} comes out of `{}`, by {by} at its {}", bore.name, model.full_name(id), face.name());
                findings.push(
                    Finding::error(CHECK.code, message)
                        .at(model.joint(bore.joint).at.clone())
                        .hint("use a shorter screw, or a larger `edge_distance`")
                        .source(CHECK.source),
                );
            }
        }
    }
}

/// The axis along which two things that share space are parted by the least, and how much that is.
fn least(both: &Solid) -> (Length, Axis) {
    Axis::ALL.map(|axis| (both.size(axis), axis)).into_iter().min().unwrap_or((Length::ZERO, Axis::X))
}

/// Whether a cut is for a screw, a pin, a biscuit or a loose tenon: a mortise is where no part goes into it.
fn holds_hardware(model: &Model, part: PartId, cut: &Feature) -> bool {
    match cut.shape {
        Shape::Bore(_) | Shape::Screw { .. } => true,
        Shape::Mortise { .. } => {
            let member = model.joint(cut.joint).member;
            member == part || model.part(member).solid.overlap(&cut.solid).is_none()
        }
        _ => false,
    }
}

/// A screw that leaves a pocket and the pocket itself belong together.
fn same_screw(a: &Feature, b: &Feature) -> bool {
    a.joint == b.joint && a.face == b.face && a.solid == b.solid
}

#[cfg(test)]
mod tests {
    use super::super::bench::{add, found, job, join, s, sheet};
    use super::*;
    use crate::model::{Options, Value};

    /// A drawer front between two sides, pocket-screwed, with a bottom in a groove at a height in sixteenths; and where the
    /// pockets are asked for.
    fn drawer(groove: i64, edge_distance: Option<i64>) -> Model {
        raised(groove, Length::ZERO, edge_distance)
    }

    /// The same, with the bottom so much higher.
    fn raised(groove: i64, more: Length, edge_distance: Option<i64>) -> Model {
        let mut model = job();
        let (half, quarter) = (sheet(8), sheet(4));
        let root = Model::ROOT;
        let left = add(&mut model, root, "side", &half, [0, 0, 0], [8, 320, 64]);
        let right = add(&mut model, root, "side", &half, [312, 0, 0], [320, 320, 64]);
        let front = add(&mut model, root, "front", &half, [8, 0, 0], [312, 8, 64]);
        let bottom = add(&mut model, root, "bottom", &quarter, [8, 8, groove], [312, 320, groove + 4]);
        let placed = &mut model.part_mut(bottom).placed;
        placed.low[2] += more;
        placed.high[2] += more;
        join(&mut model, "groove", bottom, &[left, right, front], Options::new());
        let mut options = Options::new()
            .with("with", Value::Text("pocket screws".into()))
            .with("drill", Value::Faces(vec![Face::Front]));
        if let Some(sixteenths) = edge_distance {
            options = options.with("edge_distance", Value::Length(s(sixteenths)));
        }
        join(&mut model, "butt", front, &[left, right], options);
        model
    }

    #[test]
    fn a_groove_a_quarter_inch_up_misses_the_pockets() {
        // The lower pocket's centre is 3/4 in up and it is 3/8 wide: 9/16 to 15/16. The groove takes 1/4 to 1/2.
        assert_eq!(found(drawer(4, Some(12)), &CHECK), vec![]);
    }

    #[test]
    fn a_groove_that_touches_a_pocket_is_free_of_it_and_no_further() {
        // From 5/16 to 9/16, where the lower pocket begins.
        assert_eq!(found(drawer(5, Some(12)), &CHECK), vec![]);
        let told = found(raised(5, Length::from_um(1), Some(12)), &CHECK);
        assert!(!told.is_empty() && told.iter().all(|finding| finding.message.contains("groove")), "{told:?}");
    }

    #[test]
    fn a_groove_across_a_biscuit_is_told_to_a_thousandth() {
        // Two boards of 3/4 edge to edge, 8 in wide and 40 long, with biscuits: their slots are 4 mm high, in the middle of 3/4 in.
        // A panel stands in a groove over them, whose floor is 7 mm in: 19.05 - 7 - (9.525 + 2) leave 0.525 mm.
        let build = |deeper: Length| {
            let mut model = job();
            let board = sheet(12);
            let left = add(&mut model, Model::ROOT, "board", &board, [0, 0, 0], [128, 640, 12]);
            let right = add(&mut model, Model::ROOT, "board", &board, [128, 0, 0], [256, 640, 12]);
            let panel = add(&mut model, Model::ROOT, "panel", &sheet(4), [120, 0, 12], [124, 640, 100]);
            join(&mut model, "butt", right, &[left], Options::new().with("with", Value::Text("biscuits".into())));
            let depth = Length::from_um(7_525) + deeper;
            join(&mut model, "groove", panel, &[left], Options::new().with("depth", Value::Length(depth)));
            found(model, &CHECK)
        };
        assert_eq!(build(Length::ZERO), vec![]);
        let told = build(Length::from_um(1));
        assert!(!told.is_empty() && told.iter().all(|finding| finding.message.contains("meets a groove")), "{told:?}");
    }

    #[test]
    fn a_groove_at_the_pocket_is_told() {
        // A groove from 1/2 to 3/4 overlaps 9/16 to 15/16, in the front and where the screw ends in the side. Left to themselves,
        // the screws go round it.
        assert_eq!(found(drawer(8, None), &CHECK), vec![]);
        let findings = found(drawer(8, Some(12)), &CHECK);
        assert!(!findings.is_empty());
        assert!(findings[0].message.contains("groove"), "{}", findings[0]);
        assert_eq!(s(9), Length::from_inch(9, 16));
    }
}
