//! Tongue and groove: an edge of one board as a tongue in a groove of the next.

use super::bring::add_glue;
use super::contact::square_mm;
use super::tongue::{self, Tongue};
use super::{ByUnit, Joint, Work};
use crate::base::Length;
use crate::diag::Finding;
use crate::model::{Hold, JointId, JointUse, Kind, OptionSpec, PartId};

/// The tongue and groove.
pub(super) const TONGUE_AND_GROOVE: Joint = Joint {
    name: "tongue_and_groove",
    summary: "the edge of one board as a tongue in a groove of the next",
    target: "into",
    options: &[
        OptionSpec::must("into", Kind::Parts, "the part or parts that get the groove"),
        OptionSpec::may(
            "depth",
            Kind::Length,
            "3/8 in, or 10 mm in a metric job, at most half of the part that is cut",
            "how deep the groove is",
        )
        .because("common practice, no source: boards that shrink apart still hide the gap"),
        OptionSpec::may("thickness", Kind::Length, "a third of the first part", "how thick the tongue is")
            .because("common practice, no source: a third for the tongue and a third for each wall of the groove"),
        OptionSpec::may(
            "clearance",
            Kind::Length,
            "1/32 in, or 1 mm in a metric job",
            "room left between the tongue and the floor of the groove",
        )
        .because("common practice, no source: the faces meet before the tongue does"),
        OptionSpec::may("fit", Kind::Fit, "\"sliding\"", "how much wider than the tongue the groove is")
            .because("common practice, no source: boards are slid together, and move"),
        OptionSpec::may("glue", Kind::YesNo, "no", "whether it is glued")
            .because("common practice, no source: backs and linings of boards move across their width"),
    ],
    about: "Place the boards edge to edge by their faces, without the tongue. The first part grows by the depth less the \
            clearance and is thinned to a tongue in the middle of its thickness; the other gets a groove along its whole length. \
            Choose it for backs and linings of solid boards that move, unglued, or glued to keep the faces of a top level.",
    source: "common practice, no source",
    refuses: &[
        "banded-edge-in-cut",
        "broad-face-in-cut",
        "cut-beside-part",
        "cut-through",
        "cut-without-depth",
        "fit-too-loose",
        "joint-needs-contact",
        "tongue-too-thick",
    ],
    changes: "The first part grows by the depth of the groove less the clearance. The other keeps its size.",
    leaves: "A `cheek` on each side of the first part's edge, a `groove` along the other.",
    needs: "Nothing, or glue on the tongue when `glue` is true.",
    sets: "Stop: the length of the tongue. Blade height: what each cheek loses. For the groove the fence from the nearer face and \
           the blade height, with the passes of the kerf.",
    promises: "Both sides of the tongue stand between the walls of the groove with the fit, and its edge before the floor with the clearance.",
    assembly: "Slide the board's tongue into the groove of the board, without glue.",
    example: r#"let oak = stock("3/4 white oak board");
let first = part("board", #{ stock: oak, left: 0.inch, width: 4.inch, front: 0.inch, bottom: 0.inch, height: 30.inch, grain: "up" });
let next = part("board", #{ stock: oak, left: first.right, width: 4.inch, front: 0.inch, bottom: 0.inch, height: 30.inch, grain: "up" });
tongue_and_groove(next, #{ into: first });
"#,
    grow,
    cut,
    drill: |_, _| Ok(()),
};

// Common practice, no source: see the options.
const DEPTH: ByUnit = ByUnit::new((3, 8), 10_000);
const CLEARANCE: ByUnit = ByUnit::new((1, 32), 1_000);
const FIT: &str = "sliding";

fn fitted(work: &Work<'_>, joint: &JointUse, target: PartId) -> Result<(Tongue, Length, Length), Finding> {
    let touch = tongue::edge_contact(work, joint, target)?;
    let member = work.model.part(joint.member);
    let usual = tongue::share(work, member.placed.size(member.thickness), (1, 3));
    let thickness = tongue::thickness(work, joint, usual)?;
    let there = work.model.part(target).placed.size(touch.face.axis());
    let usual = work.usual(DEPTH).min(tongue::share(work, there, (1, 2)));
    let depth = tongue::positive(work, joint, "depth", usual)?;
    tongue::refuse_through(work, joint, target, touch.face, depth, usual)?;
    let clearance = tongue::clearance(work, joint, work.usual(CLEARANCE).min(depth.half()), depth)?;
    let tongue = Tongue::centred(work, joint.member, touch.face, thickness);
    tongue::refuse_beside(work, joint, target, tongue.housed(work.fit(joint, FIT)))?;
    Ok((tongue, depth, clearance))
}

fn grow(work: &mut Work<'_>, id: JointId) -> Result<(), Finding> {
    tongue::grow(work, id, |work, joint, target| {
        let (tongue, depth, clearance) = fitted(work, joint, target)?;
        Ok(Some((tongue.face, depth - clearance)))
    })
}

fn cut(work: &mut Work<'_>, id: JointId) -> Result<(), Finding> {
    let joint = work.joint(id);
    let glued = joint.options.yes("glue").unwrap_or(false);
    for &target in &joint.into {
        let (tongue, depth, clearance) = fitted(work, &joint, target)?;
        tongue::cheeks(work, id, &joint, &tongue, "cheek")?;
        tongue::cheek_settings(work, &joint, &tongue, "cheeks");
        let walls = tongue.housed(work.fit(&joint, FIT));
        tongue::own_groove(work, id, &joint, target, &tongue, walls, depth)?;
        let touch = tongue::edge_contact(work, &joint, target)?;
        tongue::bear(work, id, "tongue", target, (touch.area, &tongue), walls, (depth, Some(clearance)));
        work.model.holds.push(Hold { part: joint.member, to: Some(target) });
        if glued {
            let member = work.model.part(joint.member);
            let long = member.placed.size(tongue::width_axis(work, joint.member, tongue.face));
            add_glue(work, &joint, square_mm(long, depth * 2 + tongue.thickness()));
        }
    }
    let grooves = if joint.into.len() == 1 { "groove" } else { "grooves" };
    tongue::say(work, &joint, |said| {
        let (verb, dry) = if glued { ("glue", "") } else { ("slide", ", without glue") };
        format!("{verb} {}'s tongue into the {grooves} of {}{dry}.", said.member, said.targets)
    });
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::super::bench::{Bench, in_};
    use super::*;
    use crate::base::Axis;
    use crate::model::{Model, Options, Value};

    fn boards(options: Options) -> Result<Model, Finding> {
        let mut bench = Bench::new();
        let first = bench.add("first", in_(3, 4), [in_(0, 1); 3], [in_(4, 1), in_(3, 4), in_(30, 1)]);
        let next = bench.add("next", in_(3, 4), [in_(4, 1), in_(0, 1), in_(0, 1)], [in_(8, 1), in_(3, 4), in_(30, 1)]);
        bench.join("tongue_and_groove", next, &[first], options);
        bench.made()
    }

    #[test]
    fn the_tongue_is_a_third_thick_and_leaves_room() {
        // 4 + 3/8 - 1/32 in wide; the groove is 1/4 in and the sliding fit of 0.2 mm wide.
        let model = boards(Options::new()).unwrap();
        assert_eq!(model.parts[1].solid.size(Axis::X), in_(4, 1) + in_(11, 32));
        let groove = &model.parts[0].features[0];
        assert_eq!((groove.depth(), groove.solid.size(Axis::Y)), (in_(3, 8), in_(1, 4) + Length::from_um(200)));
    }

    #[test]
    fn a_groove_may_leave_a_thousandth_and_not_less() {
        let deep = |less: i64| {
            let options = Options::new().with("depth", Value::Length(in_(4, 1) - Length::from_um(less)));
            boards(options).map(|_| ()).map_err(|finding| finding.code)
        };
        assert_eq!(deep(1), Ok(()));
        assert_eq!(deep(0), Err("cut-through"));
    }
}
