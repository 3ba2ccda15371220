//! Cleat: a strip that is glued and screwed to an upright, and carries a shelf, a bottom or a top.

use super::bearing::lies_on;
use super::bring::{self, Named};
use super::contact::{Contact, contact};
use super::fasteners::{self, Drive, Layout, Rows, ScrewRow};
use super::spread::{SCREWS, Stretch, spread};
use super::{Joint, Work};
use crate::base::{Axis, Face, Length};
use crate::diag::Finding;
use crate::model::{Hold, JointId, JointUse, Kind, OptionSpec, PartId, Stage, Step};

const WAYS: &[&str] = &["rest", "glue", "screws"];

/// The cleat.
pub(super) const CLEAT: Joint = Joint {
    name: "cleat",
    summary: "a strip glued and screwed to an upright, that carries a shelf, a bottom or a top",
    target: "to",
    options: &[
        OptionSpec::must("to", Kind::Parts, "the upright that it is fixed to, or several in one line"),
        OptionSpec::may("carries", Kind::Parts, "nothing", "what lies on it: the shelf, bottom or top")
            .because("common practice, no source: cleats also hold a case to a wall, and carry what is not drawn"),
        OptionSpec::may("with", Kind::Choice(WAYS), "\"rest\"", "what holds that to it, besides its weight")
            .because("common practice, no source: a shelf on cleats can be lifted out, and solid wood can move"),
        OptionSpec::may("glue", Kind::YesNo, "yes", "whether the cleat is glued to the upright")
            .because("common practice, no source: glue carries, the screws clamp it"),
        OptionSpec::may(
            "count",
            Kind::Count,
            "1 under 1-1/4 in of length, 2 up to 3 in, then one more each 6 in",
            "how many screws in each upright",
        )
        .because("common practice, no source: one screw lets a strip turn, and 6 in between two keeps it closed"),
        OptionSpec::may("edge_distance", Kind::Length, "a quarter of the length, at most 3/4 in (20 mm in a metric job)", "from its ends to the first screw")
            .because("common practice, no source: nearer to an end the wood splits"),
        OptionSpec::may("spacing", Kind::Length, "6 in, or 150 mm in a metric job", "the most between two screws, when no `count` is given")
            .because("common practice, no source: it keeps the strip closed"),
        OptionSpec::may("screw", Kind::Length, "the longest that stays inside", "the length of the screws").because(
            "common practice, no source, but that two thirds of a screw belong in the second piece (SEEN: ary.com, wood \
             screw sizes)",
        ),
    ],
    about: "Place the strip with a side against the upright and its top where the shelf comes; neither changes its size. Screws \
            go through the strip into the upright, in a line along the middle of it. What it `carries` must lie on its top, by \
            half an inch or more away from the upright. Choose it where a shelf or top has to come out again, and where a dado \
            would weaken a side. Along the end of a board of solid wood, across its grain, leave out the glue and let the \
            screws give way to the wood.",
    source: "common practice, no source",
    refuses: &[
        "bearing-too-narrow",
        "cleat-misplaced",
        "edge-too-thin-for-screws",
        "joint-needs-contact",
        "no-screw-fits",
        "option-without-effect",
        "screw-comes-through",
        "screw-too-short",
        "screws-misplaced",
        "wrong-count",
    ],
    changes: "None.",
    leaves: "A `screw hole` in the cleat and a `pilot hole` in the upright for each screw; with `with: \"screws\"` the same in the \
             cleat and in what it carries.",
    needs: "Screws with their length and gauge; glue for the contact with the upright, unless `glue` is false, and with what it \
            carries when it is glued.",
    sets: "None: holes are marked out by the distances in the sentence for assembly.",
    promises: "The cleat lies against the part that it is fastened to, and what it carries lies on it.",
    assembly: "Glue and screw the cleat to the side: 2 screws 1-1/4\", 3/4\" from each end; the shelf rests on it.",
    example: r#"let ply = stock("3/4 birch plywood");
let maple = stock("3/4 hard maple board");
let left = part("side", #{ stock: ply, left: 0.inch, front: 0.inch, depth: 11.inch, bottom: 0.inch, height: 30.inch });
let right = part("side", #{ stock: ply, right: 24.inch, front: 0.inch, depth: 11.inch, bottom: 0.inch, height: 30.inch });
let shelf = part("shelf", #{ stock: ply, left: left.right, right: right.left, front: 0.inch, depth: 11.inch, bottom: 12.inch });
let near = part("cleat", #{ stock: maple, left: left.right, front: 1.inch, depth: 9.inch, top: shelf.bottom, height: 1.inch });
let far = part("cleat", #{ stock: maple, right: right.left, front: 1.inch, depth: 9.inch, top: shelf.bottom, height: 1.inch });
cleat(near, #{ to: left, carries: shelf });
cleat(far, #{ to: right, carries: shelf, with: "screws" });
"#,
    grow: |_, _| Ok(()),
    cut: |_, _| Ok(()),
    drill,
};

// Common practice, no source: what lies on less slips off when the upright bows.
const LEAST_BEARING: Length = Length::from_inch(1, 2);

fn drill(work: &mut Work<'_>, id: JointId) -> Result<(), Finding> {
    let joint = work.joint(id);
    let carried = joint.options.parts("carries").to_vec();
    if carried.is_empty() && joint.options.get("with").is_some() {
        let message = "cleat: `with` has no effect on a cleat that carries nothing";
        return Err(Finding::error("option-without-effect", message)
            .hint("name what lies on it, carries: shelf, or leave `with` out"));
    }
    let glued = joint.options.yes("glue").unwrap_or(true);
    let mut layout = None;
    for &target in &joint.into {
        let touch = contact(work, joint.joint, joint.member, target)?;
        refuse_level(work, &joint, target, touch.face)?;
        layout = Some(screwed(work, id, &joint, (joint.member, target), &touch)?);
        if glued {
            bring::add_glue(work, &joint, touch.square_mm());
        }
        lies_on(work, id, ("contact", joint.member, target), (touch.face, touch.area), Length::ZERO);
        work.model.holds.push(Hold { part: joint.member, to: Some(target) });
        for &load in &carried {
            refuse_narrow(work, &joint, load, touch.face)?;
        }
    }
    let way = joint.options.text("with").unwrap_or("rest");
    let mut up = None;
    for &load in &carried {
        let touch = contact(work, joint.joint, joint.member, load)?;
        match way {
            "screws" => up = Some(screwed(work, id, &joint, (joint.member, load), &touch)?),
            "glue" => bring::add_glue(work, &joint, touch.square_mm()),
            _ => {}
        }
        lies_on(work, id, ("contact", joint.member, load), (touch.face, touch.area), Length::ZERO);
        work.model.holds.push(Hold { part: load, to: Some(joint.member) });
    }
    say(work, &joint, &carried, glued, (layout, up));
    Ok(())
}

/// Drives a line of screws through a part into another, along the middle of their contact.
fn screwed(
    work: &mut Work<'_>,
    id: JointId,
    joint: &JointUse,
    (through, into): (PartId, PartId),
    touch: &Contact,
) -> Result<Layout, Finding> {
    let [a, b] = touch.face.axis().others();
    let (run, across) = if touch.area.size(b) > touch.area.size(a) { (b, a) } else { (a, b) };
    let centres = spread(work, joint, SCREWS, Stretch::of(&touch.area, run))?;
    let rows = Rows::Line([ScrewRow { run, centres, across: (across, Stretch::of(&touch.area, across).middle()) }]);
    let drive = Drive { through, into, face: touch.face.opposite(), area: touch.area };
    fasteners::driven(work, id, joint, drive, rows)
}

/// Refuses a strip that lies on or under what it should hang on.
fn refuse_level(work: &Work<'_>, joint: &JointUse, target: PartId, face: Face) -> Result<(), Finding> {
    if face.axis() != Axis::Z {
        return Ok(());
    }
    let (name, target) = (work.model.full_name(joint.member), work.model.full_name(target));
    let message =
        format!("cleat: `{name}` meets `{target}` with its {}, and a cleat is fixed to an upright", face.name());
    Err(Finding::error("cleat-misplaced", message)
        .hint(format!("name the upright in `to` and `{target}` in `carries`")))
}

/// Refuses what does not lie on the strip, or lies on too little of it.
fn refuse_narrow(work: &Work<'_>, joint: &JointUse, load: PartId, upright: Face) -> Result<(), Finding> {
    let touch = contact(work, joint.joint, joint.member, load)?;
    let print = work.printing();
    let (name, load) = (work.model.full_name(joint.member), work.model.full_name(load));
    if touch.face != Face::Top {
        let message = format!("cleat: `{load}` meets the {} of `{name}` and does not lie on it", touch.face.name());
        let hint = format!("end `{name}` at the underside of `{load}`");
        return Err(Finding::error("cleat-misplaced", message).hint(hint));
    }
    let bearing = touch.area.size(upright.axis());
    if bearing >= LEAST_BEARING {
        return Ok(());
    }
    let message = format!("cleat: `{load}` lies on only {} of `{name}` and would slip off", print.length(bearing));
    let hint =
        format!("let it lie on {} or more: make `{name}` thicker, or `{load}` longer", print.length(LEAST_BEARING));
    Err(Finding::error("bearing-too-narrow", message).hint(hint))
}

fn say(
    work: &mut Work<'_>,
    joint: &JointUse,
    carried: &[PartId],
    glued: bool,
    (layout, up): (Option<Layout>, Option<Layout>),
) {
    let print = work.printing();
    let said = bring::named(work, joint);
    let loads = bring::named(work, &JointUse { into: carried.to_vec(), ..joint.clone() });
    let line = |layout: &Layout| {
        let screw = if layout.count == 1 { "screw" } else { "screws" };
        format!("{} {screw} {}, {}", layout.count, print.length(layout.length), layout.places)
    };
    let Named { place, member, targets } = said;
    let glue = if glued { "glue and " } else { "" };
    let each = if joint.into.len() > 1 { " (in each)" } else { "" };
    let mut text = format!("{glue}screw {member} to {targets}");
    if let Some(layout) = &layout {
        text += &format!(": {}{each}", line(layout));
    }
    text += &match (carried, &up, joint.options.text("with")) {
        ([], ..) => ".".to_owned(),
        (_, Some(up), _) => format!("; then screw it to {}: {}.", loads.targets, line(up)),
        (_, _, Some("glue")) => format!("; glue {} onto it.", loads.targets),
        ([_], ..) => format!("; {} rests on it.", loads.targets),
        _ => format!("; {} rest on it.", loads.targets),
    };
    let parts = joint.into.iter().copied().chain([joint.member]).chain(carried.iter().copied());
    let piece = work.model.common_piece(parts);
    work.model.steps.push(Step { piece, stage: Stage::Build, text: bring::sentence(&place, &text) });
}

#[cfg(test)]
mod tests {
    use super::super::bench::{Bench, in_};
    use super::*;
    use crate::model::{Model, Options, Value};

    /// A side 3/4 in thick, a cleat 1 in high and so thick, 10 in long, against it, and a shelf that lies on it.
    fn shelf(thick: Length, from_side: Length, options: Options) -> Result<Model, Finding> {
        let mut bench = Bench::new();
        let zero = in_(0, 1);
        let side = bench.add("side", in_(3, 4), [zero; 3], [in_(3, 4), in_(12, 1), in_(30, 1)]);
        let low = [in_(3, 4), in_(1, 1), in_(9, 1)];
        let strip = bench.add("cleat", thick, low, [in_(3, 4) + thick, in_(11, 1), in_(10, 1)]);
        let low = [in_(3, 4) + from_side, zero, in_(10, 1)];
        let shelf = bench.add("shelf", in_(3, 4), low, [in_(20, 1), in_(12, 1), in_(43, 4)]);
        bench.join("cleat", strip, &[side], options.with("carries", Value::Parts(vec![shelf])));
        bench.made()
    }

    #[test]
    fn screws_go_through_the_cleat_into_the_side() {
        // A cleat of 3/4 in and a side of 3/4: 1-1/4 in screws bite 1/2 in. Of 10 in, 8-1/2 lie between the outer two: three.
        let model = shelf(in_(3, 4), in_(0, 1), Options::new()).unwrap();
        let (side, strip) = (&model.parts[0].features, &model.parts[1].features);
        assert_eq!((side.len(), strip.len(), model.parts[2].features.len()), (3, 3, 0));
        assert_eq!((side[0].name, strip[0].name), ("pilot hole", "screw hole"));
        assert_eq!((side[0].solid.low[0], side[0].solid.high[0]), (in_(1, 4), in_(3, 4)));
        assert_eq!(model.hardware[0].size, Some(in_(5, 4)));
        assert_eq!(model.holds.len(), 2);
        assert!(model.steps[0].text.ends_with("the shelf rests on it."), "{}", model.steps[0].text);
    }

    #[test]
    fn a_shelf_lies_on_half_an_inch_and_not_a_thousandth_less() {
        let code = |more: i64| {
            let from_side = in_(1, 4) + Length::from_um(more);
            shelf(in_(3, 4), from_side, Options::new()).map_or_else(|finding| finding.code, |_| "none")
        };
        assert_eq!((code(0), code(1)), ("none", "bearing-too-narrow"));
    }
}
