//! A panel is too big or too small for its grooves.

use super::{Check, Subject};
use crate::base::{Axis, Face, Length};
use crate::diag::Finding;
use crate::model::{Feature, Part, Shape};

/// The check.
pub(super) const CHECK: Check = Check {
    code: "panel-misfits-groove",
    summary: "a panel presses on the floor of its groove, is thicker than it, or barely reaches into it",
    why: "A panel that is too big keeps the corners of a box open; one that is too small drops out when the sides bow. The edge \
          must stay off the floor of the groove and reach at least half its depth.",
    source: "common practice, no source: at least half the depth of the groove is engaged",
    run,
};

fn run(subject: Subject<'_>, findings: &mut Vec<Finding>) {
    let model = subject.model;
    let print = model.printing;
    for (id, joint) in model.joints.iter().enumerate() {
        let panel = model.part(joint.member);
        for &target in &joint.into {
            let part = model.part(target);
            let has_own = part.features.iter().any(|cut| cut.joint.0 as usize == id);
            for groove in part.features.iter().filter(|cut| takes_in(cut, id, panel, has_own)) {
                let inward = groove.face.opposite();
                let mouth = groove.solid.face(groove.face);
                // A cut that opens beside the panel, as the slot of a bridle does, has no edge of it to hold.
                if !panel.placed.face(inward).same_size(mouth) {
                    continue;
                }
                let depth = groove.depth();
                // What the panel's edge was thinned by is not there any more.
                let mut beyond = panel.solid;
                beyond.set_face(groove.face, mouth);
                if let Some(along) = groove.shape.along() {
                    beyond.set_face(along.low(), groove.solid.face(along.low()));
                    beyond.set_face(along.high(), groove.solid.face(along.high()));
                }
                let tongue = panel.material().iter().filter_map(|left| left.overlap(&beyond)).reduce(|a, b| a.hull(&b));
                let reach = tongue.map_or(Length::ZERO, |tongue| tongue.size(inward.axis()));
                let width = groove.solid.size(panel.thickness);
                let thick = tongue.map_or(Length::ZERO, |tongue| tongue.size(panel.thickness)) - width;
                let fault = if reach - depth > Length::SAME_SIZE {
                    format!("is {} too big for", print.length(reach - depth))
                } else if depth.half() - reach > Length::SAME_SIZE {
                    format!("reaches only {} into", print.length(reach))
                } else if thick > Length::SAME_SIZE {
                    format!("is {} too thick for", print.length(thick))
                } else {
                    continue;
                };
                findings.push(
                    Finding::error(
                        CHECK.code,
                        format!(
                            "`{}` {fault} the {} in `{}`, which is {} deep",
                            model.full_name(joint.member),
                            groove.name,
                            model.full_name(target),
                            print.length(depth)
                        ),
                    )
                    .at(joint.at.clone())
                    .hint("change the `clearance` or `fit` of the joint; leave them out for the usual")
                    .source(CHECK.source),
                );
            }
        }
    }
}

/// Whether a cut takes in what grew of a part for a joint: the groove or mortise of that joint, or the groove of a panel in which a stub
/// tenon stands.
fn takes_in(cut: &Feature, joint: usize, member: &Part, has_own: bool) -> bool {
    let is_own = cut.joint.0 as usize == joint;
    let inward = cut.face.opposite();
    let grew = |beyond: Length| if inward.is_high() { beyond } else { -beyond };
    match cut.shape {
        Shape::Channel { .. } if is_own => true,
        Shape::Mortise { .. } => is_own && cut.name == "mortise" && grows_towards(member, inward),
        Shape::Channel { along, .. } if !has_own => {
            // The end of the member stands in it, and is no wider than it is long.
            let tongue = grew(member.solid.face(inward) - cut.solid.face(cut.face)).is_positive();
            let lies = along != inward.axis()
                && cut.solid.face(along.low()) <= member.placed.face(along.low())
                && member.placed.face(along.high()) <= cut.solid.face(along.high());
            let across = Axis::ALL.into_iter().find(|axis| *axis != along && *axis != inward.axis());
            let within = across.is_some_and(|axis| {
                axis == member.thickness
                    && cut.solid.face(axis.low()) >= member.placed.face(axis.low())
                    && cut.solid.face(axis.high()) <= member.placed.face(axis.high())
            });
            tongue && lies && within && grows_towards(member, inward)
        }
        _ => false,
    }
}

/// Whether a joint let a part grow there.
fn grows_towards(part: &Part, face: Face) -> bool {
    !part.solid.face(face).same_size(part.placed.face(face))
}

#[cfg(test)]
mod tests {
    use super::super::bench::{add, found, job, join, sheet};
    use super::*;
    use crate::model::{Model, Options, Value};

    fn with_clearance(clearance: Length) -> Vec<Finding> {
        let mut model = job();
        let side = add(&mut model, Model::ROOT, "side", &sheet(8), [0, 0, 0], [8, 320, 64]);
        let bottom = add(&mut model, Model::ROOT, "bottom", &sheet(4), [8, 0, 4], [160, 320, 8]);
        join(&mut model, "groove", bottom, &[side], Options::new().with("clearance", Value::Length(clearance)));
        found(model, &CHECK)
    }

    #[test]
    fn a_groove_half_the_side_deep_takes_the_panel_with_room() {
        // The side is 1/2 in, so the groove is 1/4 deep: half of it, 1/8, must be reached.
        assert!(with_clearance(Length::from_inch(1, 32)).is_empty());
        assert!(with_clearance(Length::from_inch(1, 8)).is_empty());
        assert!(with_clearance(Length::ZERO).is_empty());
    }

    #[test]
    fn a_thousandth_too_much_either_way_is_told() {
        let small = with_clearance(Length::from_inch(1, 8) + Length::from_um(2));
        assert!(small[0].message.contains("reaches only"), "{}", small[0]);
        let big = with_clearance(Length::from_um(-2));
        assert!(big[0].message.contains("too big"), "{}", big[0]);
    }
}
