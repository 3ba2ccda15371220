//! Stub tenon: the end of a rail as a short tongue in the groove that also holds the panel.

use super::bring::{add_glue, add_step, named};
use super::channel;
use super::tongue::{self, PanelGroove, Tongue};
use super::{ByUnit, Joint, Work};
use crate::base::{Face, Length};
use crate::diag::Finding;
use crate::joints::contact::square_mm;
use crate::model::{Hold, JointId, JointUse, Kind, OptionSpec, PartId, Stage};

/// The stub tenon.
pub(super) const STUB_TENON: Joint = Joint {
    name: "stub_tenon",
    summary: "a short tongue on the end of a rail, in the groove that holds the panel",
    target: "into",
    options: &[
        OptionSpec::must("into", Kind::Parts, "the stiles that the rail meets"),
        OptionSpec::may(
            "depth",
            Kind::Length,
            "as deep as the panel's groove, else 3/8 in (10 mm in a metric job), at most half the stile",
            "how deep the groove for the tenon is, where no panel has one cut",
        )
        .because("common practice, no source: the tenon fills the groove, so that one setting cuts both"),
        OptionSpec::may(
            "thickness",
            Kind::Length,
            "as the panel's groove is wide less the fit, else a third of the rail",
            "how thick the tenon is",
        )
        .because("common practice, no source: a third for the tenon and a third for each cheek of the groove"),
        OptionSpec::may(
            "clearance",
            Kind::Length,
            "1/32 in, or 1 mm in a metric job",
            "room left between the tenon and the floor of the groove",
        )
        .because("common practice, no source: a tenon that meets the floor keeps the shoulders open"),
        OptionSpec::may("fit", Kind::Fit, "\"snug\"", "how much wider than the tenon the groove is")
            .because("common practice, no source: it is pushed in by hand and holds before the glue does"),
        OptionSpec::may("glue", Kind::YesNo, "yes", "whether it is glued")
            .because("common practice, no source: the tenons hold the frame together, the panel stays dry"),
    ],
    about: "For a frame round a panel. Place the rail from stile to stile by its shoulders, and let the panel into both with \
            `groove`: each end of the rail grows by the depth of the panel's groove less the clearance, and is thinned to its \
            width, in line with it. Where no panel has a groove in the stile, one is cut for the tenon along the whole stile. \
            Choose it for cabinet doors and case frames round sheet panels that are glued in; where a frame has to carry \
            weight, or a panel of solid wood floats in it, use `tenon`.",
    source: "common practice, no source",
    refuses: &[
        "banded-edge-in-cut",
        "broad-face-in-cut",
        "cut-beside-part",
        "cut-through",
        "cut-without-depth",
        "fit-too-loose",
        "joint-needs-contact",
        "tenon-misfits-groove",
        "tongue-too-thick",
    ],
    changes: "The rail grows at each end by the depth of the groove less the clearance. The stiles keep their size.",
    leaves: "A `cheek` on each side of the rail's ends. In the stiles nothing where a panel's groove is there already, else a \
             `groove` along the whole stile.",
    needs: "Glue on both cheeks and the end of the tenon, unless `glue` is false.",
    sets: "For the cheeks: a stop at the length of the tenon, blade height at what each cheek loses, and the passes of the kerf \
           that clear it. For a groove of its own: fence and blade height.",
    promises: "Both sides of the tenon stand between the walls of the groove with the fit, and its end before the floor.",
    assembly: "Glue the rail's stub tenons into the grooves of each stile.",
    example: r#"let maple = stock("3/4 hard maple board");
let thin = stock("1/4 birch plywood");
let left = part("stile", #{ stock: maple, left: 0.inch, width: 2.inch, front: 0.inch, bottom: 0.inch, height: 24.inch, grain: "up" });
let right = part("stile", #{ stock: maple, right: 16.inch, width: 2.inch, front: 0.inch, bottom: 0.inch, height: 24.inch, grain: "up" });
let rails = [];
for bottom in [0.inch, 22.inch] {
    rails.push(part("rail", #{ stock: maple, left: left.right, right: right.left, front: 0.inch, bottom: bottom, height: 2.inch, grain: "across" }));
}
let panel = part("panel", #{ stock: thin, left: left.right, right: right.left, front: (1/4).inch, bottom: rails[0].top, top: rails[1].bottom });
groove(panel, #{ into: [left, right, rails[0], rails[1]], depth: (3/8).inch });
stub_tenon(rails, #{ into: [left, right] });
"#,
    grow,
    cut,
    drill: |_, _| Ok(()),
};

// Common practice, no source: three eighths hold a door frame, and half the stile is left.
const DEPTH: ByUnit = ByUnit::new((3, 8), 10_000);
// Common practice, no source.
const CLEARANCE: ByUnit = ByUnit::new((1, 32), 1_000);

/// A tenon with the cut that it goes into.
struct Fitted {
    tongue: Tongue,
    walls: [Length; 2],
    depth: Length,
    clearance: Length,
    /// Whether a panel's groove is the cut, or the tenon needs one of its own.
    has_groove: bool,
}

fn fitted(work: &Work<'_>, joint: &JointUse, target: PartId) -> Result<Fitted, Finding> {
    let touch = tongue::edge_contact(work, joint, target)?;
    let fit = work.fit(joint, channel::FIT);
    if let Some(groove) = tongue::panel_groove(work, joint, target, touch.face) {
        return in_groove(work, joint, touch.face, groove, fit);
    }
    let member = work.model.part(joint.member);
    let usual = tongue::share(work, member.placed.size(member.thickness), (1, 3));
    let thickness = tongue::thickness(work, joint, usual)?;
    let there = work.model.part(target).placed.size(touch.face.axis());
    let usual = work.usual(DEPTH).min(tongue::share(work, there, (1, 2)));
    let depth = tongue::positive(work, joint, "depth", usual)?;
    tongue::refuse_through(work, joint, target, touch.face, depth, usual)?;
    let tongue = Tongue::centred(work, joint.member, touch.face, thickness);
    let walls = tongue.housed(fit);
    tongue::refuse_beside(work, joint, target, walls)?;
    let clearance = tongue::clearance(work, joint, work.usual(CLEARANCE), depth)?;
    Ok(Fitted { tongue, walls, depth, clearance, has_groove: false })
}

/// The tenon that fills a panel's groove.
fn in_groove(
    work: &Work<'_>,
    joint: &JointUse,
    face: Face,
    groove: PanelGroove,
    fit: Length,
) -> Result<Fitted, Finding> {
    let print = work.printing();
    let width = groove.sides[1] - groove.sides[0];
    let thickness = tongue::thickness(work, joint, width - fit)?;
    let misfit = |message: String, hint: String| Err(Finding::error("tenon-misfits-groove", message).hint(hint));
    if thickness > width {
        return misfit(
            format!(
                "stub_tenon: a tenon {} thick does not go into the panel's groove, which is {} wide",
                print.length(thickness),
                print.length(width)
            ),
            "leave `thickness` out: the tenon is then made for the groove".to_owned(),
        );
    }
    if let Some(depth) = joint.options.length("depth").filter(|depth| !depth.same_size(groove.depth)) {
        return misfit(
            format!(
                "stub_tenon: a depth of {} is not that of the panel's groove, which is {} deep",
                print.length(depth),
                print.length(groove.depth)
            ),
            "give the `depth` to the panel's `groove` and leave it out here; for a longer tenon use `tenon`".to_owned(),
        );
    }
    let member = work.model.part(joint.member);
    let (low, high) = (member.placed.face(member.thickness.low()), member.placed.face(member.thickness.high()));
    if groove.sides[0] < low || groove.sides[1] > high {
        return misfit(
            format!(
                "stub_tenon: the panel's groove lies partly beside `{}`, so that no tenon of it can fill the groove",
                work.model.full_name(joint.member)
            ),
            "place the rail so that the panel lies within its thickness".to_owned(),
        );
    }
    let clearance = tongue::clearance(work, joint, work.usual(CLEARANCE), groove.depth)?;
    let middle = groove.sides[0] + (width - thickness).half();
    let tongue = Tongue { face, sides: [middle, middle + thickness] };
    Ok(Fitted { tongue, walls: groove.sides, depth: groove.depth, clearance, has_groove: true })
}

fn grow(work: &mut Work<'_>, id: JointId) -> Result<(), Finding> {
    tongue::grow(work, id, |work, joint, target| {
        let fitted = fitted(work, joint, target)?;
        Ok(Some((fitted.tongue.face, fitted.depth - fitted.clearance)))
    })
}

fn cut(work: &mut Work<'_>, id: JointId) -> Result<(), Finding> {
    let joint = work.joint(id);
    let glued = joint.options.yes("glue").unwrap_or(true);
    for &target in &joint.into {
        let fitted = fitted(work, &joint, target)?;
        tongue::cheeks(work, id, &joint, &fitted.tongue, "cheek")?;
        tongue::cheek_settings(work, &joint, &fitted.tongue, "cheeks");
        if !fitted.has_groove {
            tongue::own_groove(work, id, &joint, target, &fitted.tongue, fitted.walls, fitted.depth)?;
        }
        let touch = tongue::edge_contact(work, &joint, target)?;
        let depth = (fitted.depth, Some(fitted.clearance));
        tongue::bear(work, id, "tenon", target, (touch.area, &fitted.tongue), fitted.walls, depth);
        work.model.holds.push(Hold { part: joint.member, to: Some(target) });
        if glued {
            let member = work.model.part(joint.member);
            let wide = member.placed.size(tongue::width_axis(work, joint.member, fitted.tongue.face));
            add_glue(work, &joint, square_mm(wide, fitted.depth * 2 + fitted.tongue.thickness()));
        }
    }
    let said = named(work, &joint);
    let dry = if glued { "" } else { ", without glue" };
    let verb = if glued { "glue" } else { "push" };
    let grooves = if joint.into.len() == 1 { "groove" } else { "grooves" };
    let tenons = if joint.into.len() == 1 { "tenon" } else { "tenons" };
    let text = format!("{verb} {}'s stub {tenons} into the {grooves} of {}{dry}.", said.member, said.targets);
    add_step(work, &joint, Stage::Build, &said, &text);
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::super::bench::{Bench, in_};
    use super::*;
    use crate::model::{Feature, Model, Options, Value};

    /// Two stiles 2 in wide, a rail between them 12 in long, and a panel 1/4 in thick in all three.
    fn frame(options: Options) -> Result<Model, Finding> {
        let mut bench = Bench::new();
        let left = bench.add("stile", in_(3, 4), [in_(0, 1), in_(0, 1), in_(0, 1)], [in_(2, 1), in_(3, 4), in_(24, 1)]);
        let right =
            bench.add("stile", in_(3, 4), [in_(14, 1), in_(0, 1), in_(0, 1)], [in_(16, 1), in_(3, 4), in_(24, 1)]);
        let rail = bench.add("rail", in_(3, 4), [in_(2, 1), in_(0, 1), in_(0, 1)], [in_(14, 1), in_(3, 4), in_(2, 1)]);
        let panel =
            bench.add("panel", in_(1, 4), [in_(2, 1), in_(1, 4), in_(2, 1)], [in_(14, 1), in_(1, 2), in_(24, 1)]);
        bench.join("stub_tenon", rail, &[left, right], options);
        bench.join("groove", panel, &[left, right, rail], Options::new());
        bench.made()
    }

    #[test]
    fn the_tenon_fills_the_groove_of_the_panel() {
        // The groove is half of 2 in deep, so the rail is 12 + 2 x (1 - 1/32) in. Each cheek is 1/4 in deep.
        let model = frame(Options::new()).unwrap();
        let rail = &model.parts[2];
        assert_eq!(rail.solid.size(crate::base::Axis::X), in_(12, 1) + in_(31, 32) * 2);
        let cheeks: Vec<Length> = rail.features.iter().filter(|one| one.name == "cheek").map(Feature::depth).collect();
        assert_eq!(cheeks, [in_(1, 4); 4]);
        assert_eq!(model.parts[0].features.len(), 1, "one groove serves the panel and the tenon");
    }

    #[test]
    fn a_tenon_a_thousandth_too_thick_for_the_groove_is_refused() {
        let thick = |more: i64| {
            let options = Options::new().with("thickness", Value::Length(in_(1, 4) + Length::from_um(more)));
            frame(options).map(|_| ()).map_err(|finding| finding.code)
        };
        assert_eq!(thick(0), Ok(()));
        assert_eq!(thick(1), Err("tenon-misfits-groove"));
    }
}
