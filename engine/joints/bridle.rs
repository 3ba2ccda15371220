//! Bridle: an open mortise and tenon, at a corner or where a rail runs on through a fork.

use super::bearing::{Housed, housed};
use super::bring::add_glue;
use super::contact::{Contact, square_mm};
use super::tongue::{self, Tongue};
use super::{Joint, Work, channel};
use crate::base::{Axis, Face, Length, Solid};
use crate::diag::Finding;
use crate::model::{Feature, Hold, JointId, JointUse, Kind, OptionSpec, PartId, Setting, Shape};

/// The bridle.
pub(super) const BRIDLE: Joint = Joint {
    name: "bridle",
    summary: "an open mortise and tenon: at a corner, or a fork over a part that runs on",
    target: "into",
    options: &[
        OptionSpec::must("into", Kind::Parts, "the parts that are slotted, or that the fork straddles"),
        OptionSpec::may("thickness", Kind::Length, "a third of the first part", "how thick the tongue is")
            .because("common practice, no source: a third for the tongue and a third for each side of the slot"),
        OptionSpec::may("fit", Kind::Fit, "\"snug\"", "how much wider than the tongue the slot is")
            .because("common practice, no source: it holds by its cheeks, so they must touch"),
        OptionSpec::may("glue", Kind::YesNo, "yes", "whether it is glued")
            .because("common practice, no source: nothing but glue keeps it from sliding out"),
    ],
    about: "Place the first part by its shoulders, up to the edge of the other; it grows across the whole of it. At the end of the \
            other part that part is slotted and the first gets a tongue as wide as it is; away from the end the first is forked \
            and the other loses a cheek on both faces, so that it runs on between them. Choose it for frames that are seen on \
            edge, for trestles, and where a tenon would have too little wood at the end.",
    source: "common practice, no source",
    refuses: &[
        "banded-edge-in-cut",
        "broad-face-in-cut",
        "cut-beside-part",
        "cut-without-depth",
        "fit-too-loose",
        "joint-needs-contact",
        "joint-not-flat",
        "tongue-too-thick",
    ],
    changes: "The first part grows at each end by the whole width of the other. The other keeps its size.",
    leaves: "At a corner a `cheek` on each side of the first part's end and a `slot` in the end of the other; as a fork a `slot` in \
             the first part's end and a `cheek` on both faces of the other.",
    needs: "Glue on both cheeks, unless `glue` is false.",
    sets: "Stop: the length of the tongue or fork. Blade height: what each cheek loses. Fence: from the nearer face to the slot, with \
           the passes of the kerf, and the depth of the slot.",
    promises: "Both sides of the tongue bear on the walls of the fork, and at a corner those of the other part as well.",
    assembly: "Glue the rail's tongue into the slot of each stile.",
    example: r#"let maple = stock("3/4 hard maple board");
let left = part("stile", #{ stock: maple, left: 0.inch, width: 2.inch, front: 0.inch, bottom: 0.inch, height: 24.inch, grain: "up" });
let right = part("stile", #{ stock: maple, right: 16.inch, width: 2.inch, front: 0.inch, bottom: 0.inch, height: 24.inch, grain: "up" });
let top = part("rail", #{ stock: maple, left: left.right, right: right.left, front: 0.inch, top: 24.inch, height: 2.inch, grain: "across" });
let post = part("post", #{ stock: maple, left: 7.inch, width: 2.inch, front: 0.inch, top: top.bottom, height: 12.inch, grain: "up" });
bridle(top, #{ into: [left, right] });
bridle(post, #{ into: top });
"#,
    grow,
    cut,
    drill: |_, _| Ok(()),
};

struct Fitted {
    touch: Contact,
    run: Axis,
    tongue: Tongue,
    walls: [Length; 2],
    /// The end of the target that the slot is open to; none where the first part is forked.
    corner: Option<Face>,
}

fn fitted(work: &Work<'_>, joint: &JointUse, target: PartId) -> Result<Fitted, Finding> {
    tongue::refuse_not_flat(work, joint, target)?;
    let touch = tongue::edge_contact(work, joint, target)?;
    let run = tongue::width_axis(work, joint.member, touch.face);
    let member = work.model.part(joint.member);
    let usual = tongue::share(work, member.placed.size(member.thickness), (1, 3));
    let thickness = tongue::thickness(work, joint, usual)?;
    let tongue = Tongue::centred(work, joint.member, touch.face, thickness);
    let walls = tongue.housed(work.fit(joint, channel::FIT));
    tongue::refuse_beside(work, joint, target, walls)?;
    let part = work.model.part(target).placed;
    let flush = |end: &Face| part.face(*end).same_size(touch.area.face(*end));
    let corner = [run.low(), run.high()].into_iter().find(flush);
    Ok(Fitted { touch, run, tongue, walls, corner })
}

fn grow(work: &mut Work<'_>, id: JointId) -> Result<(), Finding> {
    tongue::grow(work, id, |work, joint, target| {
        let face = fitted(work, joint, target)?.touch.face;
        Ok(Some((face, work.model.part(target).placed.size(face.axis()))))
    })
}

fn cut(work: &mut Work<'_>, id: JointId) -> Result<(), Finding> {
    let joint = work.joint(id);
    let glued = joint.options.yes("glue").unwrap_or(true);
    let mut forked = false;
    for &target in &joint.into {
        let fitted = fitted(work, &joint, target)?;
        if let Some(end) = fitted.corner {
            corner(work, id, &joint, target, &fitted, end)?;
        } else {
            forked = true;
            fork(work, id, &joint, target, &fitted)?;
        }
        work.model.holds.push(Hold { part: joint.member, to: Some(target) });
        if glued {
            let across = work.model.part(target).placed.size(fitted.touch.face.axis());
            add_glue(work, &joint, square_mm(fitted.touch.area.size(fitted.run), across * 2));
        }
    }
    tongue::say(work, &joint, |said| {
        let (verb, dry) = if glued { ("glue", "") } else { ("push", ", without glue") };
        if forked {
            format!("{verb} {}'s fork over {}{dry}.", said.member, said.targets)
        } else {
            format!("{verb} {}'s tongue into the slot of {}{dry}.", said.member, said.targets)
        }
    });
    Ok(())
}

/// The member's tongue in a slot that is open at the end of the target.
fn corner(
    work: &mut Work<'_>,
    id: JointId,
    joint: &JointUse,
    target: PartId,
    fitted: &Fitted,
    end: Face,
) -> Result<(), Finding> {
    tongue::cheeks(work, id, joint, &fitted.tongue, "cheek")?;
    tongue::cheek_settings(work, joint, &fitted.tongue, "cheeks");
    let across = work.model.part(target).placed.size(fitted.touch.face.axis());
    tongue::bear(work, id, "tongue", target, (fitted.touch.area, &fitted.tongue), fitted.walls, (across, None));
    let axis = work.model.part(joint.member).thickness;
    let mut solid = work.model.part(target).solid;
    solid.set_face(axis.low(), fitted.walls[0]);
    solid.set_face(axis.high(), fitted.walls[1]);
    solid.set_face(end.opposite(), fitted.touch.area.face(end.opposite()));
    slot(work, id, target, (axis, fitted.touch.face.axis()), solid, end)
}

/// The member's fork over a target that runs on.
fn fork(work: &mut Work<'_>, id: JointId, joint: &JointUse, target: PartId, fitted: &Fitted) -> Result<(), Finding> {
    let (face, run) = (fitted.touch.face, fitted.run);
    let member = work.model.part(joint.member);
    let axis = member.thickness;
    let mut solid = member.solid;
    solid.set_face(face.opposite(), member.placed.face(face));
    solid.set_face(axis.low(), fitted.walls[0]);
    solid.set_face(axis.high(), fitted.walls[1]);
    slot(work, id, joint.member, (axis, run), solid, face)?;
    let held = |sides: [Length; 2]| {
        let mut held = fitted.touch.area.grown(face, work.model.part(target).placed.size(face.axis()));
        held.set_face(axis.low(), sides[0]);
        held.set_face(axis.high(), sides[1]);
        held
    };
    let (tongue, cut) = (held(fitted.tongue.sides), held(fitted.walls));
    let housed_there = Housed { what: "tongue", of: target, into: joint.member, tongue };
    housed(work, id, housed_there, &cut, &[axis.low(), axis.high()]);
    let part = work.model.part(target);
    let print = work.printing();
    let mut settings = Vec::new();
    let mut cheeks = Vec::new();
    for (open, side) in [(axis.low(), fitted.tongue.sides[0]), (axis.high(), fitted.tongue.sides[1])] {
        let mut solid = part.solid;
        solid.set_face(open.opposite(), side);
        for end in [run.low(), run.high()] {
            solid.set_face(end, fitted.touch.area.face(end));
        }
        let shape = Shape::Channel { along: face.axis(), stopped: false };
        let width = solid.size(run);
        let kind = format!("cheek {} wide, {} deep", print.length(width), print.length(solid.size(axis)));
        let note = format!("from the {} face; {}", open.name(), channel::passes_note(width, work.shop.kerf, print));
        settings.push(Setting { what: "blade height", work: kind, value: solid.size(axis), note, part: target });
        cheeks.push(Feature { name: "cheek", shape, solid, face: open, joint: id });
    }
    work.model.settings.extend(settings);
    cheeks.into_iter().try_for_each(|cheek| work.cut(target, cheek))
}

/// A slot that is open at an end, with its settings.
fn slot(
    work: &mut Work<'_>,
    id: JointId,
    part: PartId,
    (across, along): (Axis, Axis),
    solid: Solid,
    end: Face,
) -> Result<(), Finding> {
    let whole = work.model.part(part).solid;
    let print = work.printing();
    let width = solid.size(across);
    let near = solid.face(across.low()) - whole.face(across.low());
    let far = whole.face(across.high()) - solid.face(across.high());
    let kind = format!("slot {} wide, {} deep", print.length(width), print.length(solid.size(end.axis())));
    let note = format!("from the nearer face; {}", channel::passes_note(width, work.shop.kerf, print));
    let deep = "stand the part on end in a jig that holds it, or saw by hand".to_owned();
    work.model.settings.extend([
        Setting { what: "fence", work: kind.clone(), value: near.min(far), note, part },
        Setting { what: "blade height", work: kind, value: solid.size(end.axis()), note: deep, part },
    ]);
    let shape = Shape::Channel { along, stopped: false };
    work.cut(part, Feature { name: "slot", shape, solid, face: end, joint: id })
}

#[cfg(test)]
mod tests {
    use super::super::bench::{Bench, in_};
    use super::*;
    use crate::model::{Model, Options, Value};

    /// A stile 2 in wide and 24 in high with a rail 2 in high, `up` above its lower end.
    fn frame(up: Length, options: Options) -> Result<Model, Finding> {
        let mut bench = Bench::new();
        let stile = bench.add("stile", in_(3, 4), [in_(0, 1); 3], [in_(2, 1), in_(3, 4), in_(24, 1)]);
        let rail = bench.add("rail", in_(3, 4), [in_(2, 1), in_(0, 1), up], [in_(14, 1), in_(3, 4), up + in_(2, 1)]);
        bench.join("bridle", rail, &[stile], options);
        bench.made()
    }

    #[test]
    fn at_a_corner_the_other_part_is_slotted() {
        // A third of 3/4 is 1/4: the slot is 1/4 wide and 2 in deep, the cheeks lose 1/4 each, the rail grows 2 in.
        let model = frame(in_(0, 1), Options::new()).unwrap();
        let [slot] = &model.parts[0].features[..] else { panic!("{:?}", model.parts[0].features) };
        assert_eq!((slot.face, slot.depth(), slot.solid.size(Axis::Y)), (Face::Bottom, in_(2, 1), in_(1, 4)));
        assert_eq!(model.parts[1].solid.size(Axis::X), in_(14, 1));
        assert_eq!(model.parts[1].features.len(), 2);
    }

    #[test]
    fn a_thousandth_from_the_end_still_counts_as_a_corner() {
        let slotted = |up: i64| frame(Length::from_um(up), Options::new()).unwrap().parts[0].features[0].name;
        assert_eq!((slotted(1), slotted(2)), ("slot", "cheek"));
    }

    #[test]
    fn a_tongue_as_thick_as_the_part_is_refused() {
        let thick = |less: i64| {
            let options = Options::new().with("thickness", Value::Length(in_(3, 4) - Length::from_um(less)));
            frame(in_(0, 1), options).map(|_| ()).map_err(|finding| finding.code)
        };
        assert_eq!((thick(2), thick(0)), (Ok(()), Err("tongue-too-thick")));
    }
}
