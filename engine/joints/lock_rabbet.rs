//! Lock rabbet: the corner of a drawer, a tongue on the front in a dado of the side.

use super::bring::{add_glue, add_step, named};
use super::contact::square_mm;
use super::tongue::{self, Tongue};
use super::{ByUnit, Joint, Work, channel};
use crate::base::{Face, Length};
use crate::diag::Finding;
use crate::model::{Feature, Hold, JointId, JointUse, Kind, OptionSpec, PartId, Setting, Shape, Stage};

/// The lock rabbet.
pub(super) const LOCK_RABBET: Joint = Joint {
    name: "lock_rabbet",
    summary: "a drawer's corner: a tongue on the end of the front in a dado near the end of the side",
    target: "into",
    options: &[
        OptionSpec::must("into", Kind::Parts, "the sides, that get the dado"),
        OptionSpec::may("thickness", Kind::Length, "half the front", "how thick the tongue is")
            .because("common practice, no source: the tongue and the wood of the side beyond it are then alike"),
        OptionSpec::may("depth", Kind::Length, "half the side", "how deep the dado is")
            .because("common practice, no source: half the side is left to hold the corner"),
        OptionSpec::may(
            "clearance",
            Kind::Length,
            "1/64 in, or 0.5 mm in a metric job",
            "room left between the tongue and the floor of the dado",
        )
        .because("common practice, no source: the shoulder closes before the tongue meets the floor"),
        OptionSpec::may("fit", Kind::Fit, "\"snug\"", "how much wider than the tongue the dado is")
            .because("common practice, no source: the tongue goes in by hand and holds before the glue does"),
        OptionSpec::may("glue", Kind::YesNo, "yes", "whether it is glued")
            .because("common practice, no source: the dado holds against a pull, glue against the rest"),
    ],
    about: "Place the front (or the back) between the sides, flush with their ends. Its ends grow by the depth of the dado less \
            the clearance and get a rabbet on the outer face, so that a tongue is left at the inner face; the side's end fills \
            the rabbet. A pull on the front then meets wood, not glue. Choose it for drawer boxes that are made on the saw alone.",
    source: "common practice, no source",
    refuses: &[
        "banded-edge-in-cut",
        "broad-face-in-cut",
        "corner-too-weak",
        "cut-through",
        "cut-without-depth",
        "fit-too-loose",
        "joint-needs-contact",
        "tongue-too-thick",
    ],
    changes: "The front grows at each end by the depth of the dado less the clearance. The sides keep their size.",
    leaves: "A `rabbet` on the outer face of each end of the front, and a `dado` across each side.",
    needs: "Glue on the tongue and the shoulder, unless `glue` is false.",
    sets: "For the dado: fence from the end of the side to its near wall, blade height at its depth. For the rabbet: a stop at \
           the length of the tongue, blade height at what the front loses. The passes of the kerf are told beside them.",
    promises: "The tongue stands between both walls of the dado with the fit, and before its floor.",
    assembly: "Glue the front's tongues into the dados of each side.",
    example: r#"let ply = stock("1/2 birch plywood");
let left = part("side", #{ stock: ply, left: 0.inch, front: 0.inch, depth: 18.inch, bottom: 0.inch, height: 4.inch });
let right = part("side", #{ stock: ply, right: 16.inch, front: 0.inch, depth: 18.inch, bottom: 0.inch, height: 4.inch });
let front = part("front", #{ stock: ply, left: left.right, right: right.left, front: 0.inch, bottom: 0.inch, height: 4.inch });
lock_rabbet(front, #{ into: [left, right] });
"#,
    grow,
    cut,
    drill: |_, _| Ok(()),
};

// Common practice, no source.
const CLEARANCE: ByUnit = ByUnit::new((1, 64), 500);
// Common practice, no source: less of the side beyond the dado splits off along its grain.
const LEAST_WOOD: Length = Length::from_inch(1, 8);

/// A tongue with the dado that it goes into.
struct Corner {
    tongue: Tongue,
    /// The low and the high wall of the dado, along the front's thickness.
    walls: [Length; 2],
    depth: Length,
    clearance: Length,
    /// The end of the side that the dado is near.
    end: Face,
    /// How much of the side is left beyond the dado.
    wood: Length,
}

fn corner(work: &Work<'_>, joint: &JointUse, target: PartId) -> Result<Corner, Finding> {
    let touch = tongue::edge_contact(work, joint, target)?;
    let member = work.model.part(joint.member);
    let side = work.model.part(target);
    let axis = member.thickness;
    let usual = tongue::share(work, member.placed.size(axis), (1, 2));
    let thickness = tongue::thickness(work, joint, usual)?;
    let there = side.placed.size(touch.face.axis());
    let usual = tongue::share(work, there, (1, 2));
    let depth = tongue::positive(work, joint, "depth", usual)?;
    tongue::refuse_through(work, joint, target, touch.face, depth, usual)?;
    let clearance = tongue::clearance(work, joint, work.usual(CLEARANCE).min(depth.half()), depth)?;
    let below = member.placed.face(axis.low()) - side.placed.face(axis.low());
    let above = side.placed.face(axis.high()) - member.placed.face(axis.high());
    // The tongue stands at the inner face, so that the side keeps wood beyond the dado.
    let (end, sides) = if below <= above {
        let inner = member.placed.face(axis.high());
        (axis.low(), [inner - thickness, inner])
    } else {
        let inner = member.placed.face(axis.low());
        (axis.high(), [inner, inner + thickness])
    };
    let tongue = Tongue { face: touch.face, sides };
    let walls = tongue.housed(work.fit(joint, channel::FIT));
    let wood = if end.is_high() { side.placed.face(end) - walls[1] } else { walls[0] - side.placed.face(end) };
    if wood < LEAST_WOOD {
        let print = work.printing();
        return Err(Finding::error(
            "corner-too-weak",
            format!(
                "lock_rabbet: beyond the dado only {} of `{}` is left, which splits off",
                print.length(wood),
                work.model.full_name(target),
            ),
        )
        .hint(format!(
            "keep {}: give a smaller `thickness`, a thicker `{}`, or place it further in",
            print.length(LEAST_WOOD),
            work.model.full_name(joint.member)
        )));
    }
    Ok(Corner { tongue, walls, depth, clearance, end, wood })
}

fn grow(work: &mut Work<'_>, id: JointId) -> Result<(), Finding> {
    tongue::grow(work, id, |work, joint, target| {
        let corner = corner(work, joint, target)?;
        Ok(Some((corner.tongue.face, corner.depth - corner.clearance)))
    })
}

fn cut(work: &mut Work<'_>, id: JointId) -> Result<(), Finding> {
    let joint = work.joint(id);
    let glued = joint.options.yes("glue").unwrap_or(true);
    for &target in &joint.into {
        let corner = corner(work, &joint, target)?;
        let face = corner.tongue.face;
        tongue::cheeks(work, id, &joint, &corner.tongue, "rabbet")?;
        tongue::cheek_settings(work, &joint, &corner.tongue, "rabbet");
        let member = work.model.part(joint.member);
        let (axis, run) = (member.thickness, tongue::width_axis(work, joint.member, face));
        let side = work.model.part(target);
        let mut solid = side.solid;
        let mouth = side.placed.face(face.opposite());
        solid.set_face(face.opposite(), mouth);
        solid.set_face(face, mouth);
        let mut solid = solid.grown(face, corner.depth);
        solid.set_face(axis.low(), corner.walls[0]);
        solid.set_face(axis.high(), corner.walls[1]);
        let wide = member.placed.size(run);
        let shape = Shape::Channel { along: run, stopped: false };
        work.cut(target, Feature { name: "dado", shape, solid, face: face.opposite(), joint: id })?;
        settings(work, target, &corner);
        let touch = tongue::edge_contact(work, &joint, target)?;
        let depth = (corner.depth, Some(corner.clearance));
        tongue::bear(work, id, "tongue", target, (touch.area, &corner.tongue), corner.walls, depth);
        work.model.holds.push(Hold { part: joint.member, to: Some(target) });
        if glued {
            add_glue(work, &joint, square_mm(wide, corner.depth * 2 + member_thickness(work, &joint)));
        }
    }
    let said = named(work, &joint);
    let (verb, dry) = if glued { ("glue", "") } else { ("push", ", without glue") };
    let several = if joint.into.len() == 1 { "" } else { "s" };
    let text = format!("{verb} {}'s tongue{several} into the dado{several} of {}{dry}.", said.member, said.targets);
    add_step(work, &joint, Stage::Build, &said, &text);
    Ok(())
}

fn member_thickness(work: &Work<'_>, joint: &JointUse) -> Length {
    let part = work.model.part(joint.member);
    part.placed.size(part.thickness)
}

fn settings(work: &mut Work<'_>, target: PartId, corner: &Corner) {
    let print = work.printing();
    let width = corner.walls[1] - corner.walls[0];
    let name = format!("dado {} wide, {} deep", print.length(width), print.length(corner.depth));
    let passes = channel::passes_note(width, work.shop.kerf, print);
    let fence = format!("from the {} end to the near wall of the dado; {passes}", corner.end.name());
    let setting = |what, value, note| Setting { what, work: name.clone(), value, note, part: target };
    let both = [
        setting("fence", corner.wood, fence),
        setting("blade height", corner.depth, "try it on an offcut first".to_owned()),
    ];
    work.model.settings.extend(both);
}

#[cfg(test)]
mod tests {
    use super::super::bench::{Bench, in_};
    use super::*;
    use crate::base::Axis;
    use crate::model::{Model, Options, Value};

    /// A front 1/2 in thick between sides of 1/2 in, 15 in apart.
    fn drawer(options: Options) -> Result<Model, Finding> {
        let mut bench = Bench::new();
        let zero = in_(0, 1);
        let left = bench.add("side", in_(1, 2), [zero; 3], [in_(1, 2), in_(18, 1), in_(4, 1)]);
        let right = bench.add("side", in_(1, 2), [in_(31, 2), zero, zero], [in_(16, 1), in_(18, 1), in_(4, 1)]);
        let front = bench.add("front", in_(1, 2), [in_(1, 2), zero, zero], [in_(31, 2), in_(1, 2), in_(4, 1)]);
        bench.join("lock_rabbet", front, &[left, right], options);
        bench.made()
    }

    #[test]
    fn the_tongue_stands_at_the_inner_face() {
        // Dados 1/4 in deep; the tongues reach 1/4 - 1/64 = 15/64 in: 15 + 30/64 in from end to end.
        let model = drawer(Options::new()).unwrap();
        let front = &model.parts[2];
        assert_eq!(front.solid.size(Axis::X), in_(15, 1) + in_(30, 64));
        assert_eq!(front.features.len(), 2);
        assert_eq!((front.features[0].solid.low[1], front.features[0].solid.high[1]), (in_(0, 1), in_(1, 4)));
        let dado = &model.parts[0].features[0].solid;
        assert_eq!((dado.low, dado.high), ([in_(1, 4), in_(1, 4), in_(0, 1)], [in_(1, 2), in_(1, 2), in_(4, 1)]));
    }

    #[test]
    fn a_tongue_that_leaves_the_side_a_thousandth_too_little_is_refused() {
        // 1/2 in less a tongue of 3/8 leaves 1/8.
        let with = |name, length: Length, more: i64| {
            let options = Options::new().with(name, Value::Length(length + Length::from_um(more)));
            drawer(options).map_or_else(|finding| finding.code, |_| "none")
        };
        assert_eq!(with("thickness", in_(3, 8), 0), "none");
        assert_eq!(with("thickness", in_(3, 8), 1), "corner-too-weak");
        assert_eq!(with("depth", in_(1, 2), -1), "none");
        assert_eq!(with("depth", in_(1, 2), 0), "cut-through");
    }
}
