//! Butt: one part ends at the face of another, held by glue, screws, dowels, biscuits or loose tenons.

use super::bearing::lies_on;
use super::bring;
use super::contact::contact;
use super::fasteners::{self, Layout};
use super::pockets;
use super::{Joint, Work, loose};
use crate::base::Length;
use crate::diag::Finding;
use crate::model::{Hold, JointId, JointUse, Kind, OptionSpec, Stage};

const WAYS: &[&str] = &["glue", "screws", "pocket screws", "dowels", "biscuits", "loose tenons"];
const BISCUITS: &[&str] = &["0", "10", "20"];

/// The butt joint.
pub(super) const BUTT: Joint = Joint {
    name: "butt",
    summary: "one part against the face of another, with glue, screws, pocket screws, dowels, biscuits or loose tenons",
    target: "to",
    options: &[
        OptionSpec::must("to", Kind::Parts, "the part or parts that it meets"),
        OptionSpec::may("with", Kind::Choice(WAYS), "\"glue\"", "what holds it")
            .because("common practice, no source: what is least seen"),
        OptionSpec::may("glue", Kind::YesNo, "yes, but no under screws through a broad face", "whether it is glued")
            .because("common practice, no source: what is screwed face to face is meant to come off again"),
        OptionSpec::may(
            "drill",
            Kind::Face,
            "the broad face that is not shown",
            "the face of the first part that pocket holes are drilled into",
        )
        .because("common practice, no source: pockets are hidden behind what is seen"),
        OptionSpec::may(
            "count",
            Kind::Count,
            "1 under 1-1/4 in, 2 up to 3 in, then one more each 6 in; 2 or 4 through a broad face",
            "how many screws in each joint",
        )
        .because("common practice, no source: one screw lets a part turn, and 6 in between two keeps an edge closed"),
        OptionSpec::may(
            "edge_distance",
            Kind::Length,
            "a quarter of the joint's height, at most 3/4 in, or 20 mm in a metric job",
            "from the end of the joint to the first screw's centre",
        )
        .because("common practice, no source: nearer to an end the wood splits"),
        OptionSpec::may(
            "spacing",
            Kind::Length,
            "6 in, or 150 mm in a metric job",
            "the most between two screws, when no `count` is given",
        )
        .because("common practice, no source: it keeps an edge closed"),
        OptionSpec::may("screw", Kind::Length, "the longest that stays inside", "the length of the screws").because(
            "common practice, no source, but that two thirds of a screw belong in the second piece (SEEN: ary.com, wood \
             screw sizes)",
        ),
        OptionSpec::may("dowel", Kind::Length, "the thickest sold up to half the end", "the diameter of the dowels")
            .because("common practice, no source: a third to a half of the thickness"),
        OptionSpec::may("biscuit", Kind::Choice(BISCUITS), "the largest that stays inside", "the number of the biscuits")
            .because("common practice, from memory: the three usual sizes"),
        OptionSpec::may("tenon", Kind::Length, "the next cutter from a third of the end", "the thickness of the loose tenons")
            .because("common practice, no source: a third of the thickness, as for a tenon"),
    ],
    about: "Neither part changes its size. Pocket holes are drilled into the first part at 15 degrees and their screws go into \
            the face of the others; plain screws go through the parts named in `to` into the first. The number of screws \
            follows from the height of the joint and their length from both thicknesses, so that none comes out of a face. \
            Dowels, biscuits and loose tenons stand in the middle of the end, in holes of both parts that face each other.",
    source: "common practice, no source",
    refuses: &["edge-too-thin-for-screws", "fastener-leaves-part", "joint-needs-contact", "no-end-for-dowels", "no-screw-fits", "option-without-effect", "pocket-in-broad-face", "pocket-in-edge", "pocket-leaves-part", "screw-comes-through", "screw-too-short", "screws-misplaced", "too-thin-for-dowels", "too-thin-for-pockets", "wrong-count"],
    changes: "None.",
    leaves: "With pocket screws a `pocket hole` for each in the first part; with screws a `screw hole` in the parts named in \
             `to` and a `pilot hole` in the first; a `dowel hole`, `biscuit slot` or `mortise` in both for each dowel, biscuit \
             or loose tenon; with glue none.",
    needs: "Glue for the area of the contact; the screws with their length and gauge, or the dowels, biscuits or loose tenons.",
    sets: "Depth stop for dowel holes, slots and mortises. For screws none: holes are marked out by the distances in the sentence for assembly, or set on a drilling jig by its maker's \
           instructions.",
    promises: "The end or edge lies on the other part over all of the contact.",
    assembly: "Glue and pocket-screw the rail to each stile: 2 screws 1-1/4\" at each, 1/2\" from each end; pockets in its back.",
    example: r#"let maple = stock("3/4 hard maple board");
let left = part("stile", #{ stock: maple, left: 0.inch, width: 2.inch, front: 0.inch, bottom: 0.inch, height: 30.inch, grain: "up" });
let right = part("stile", #{ stock: maple, right: 24.inch, width: 2.inch, front: 0.inch, bottom: 0.inch, height: 30.inch, grain: "up" });
let rail = part("rail", #{ stock: maple, left: left.right, right: right.left, front: 0.inch, top: 30.inch, height: 2.inch, grain: "across" });
butt(rail, #{ to: [left, right], with: "pocket screws", drill: "back" });
"#,
    grow: |_, _| Ok(()),
    cut: |_, _| Ok(()),
    drill,
};

fn drill(work: &mut Work<'_>, id: JointId) -> Result<(), Finding> {
    let joint = work.joint(id);
    let way = joint.options.text("with").unwrap_or("glue");
    if way == "glue" {
        refuse_screw_options(&joint)?;
    }
    refuse_other_ways(&joint, way)?;
    let mut screws: Option<Layout> = None;
    let mut glued = false;
    for &target in &joint.into {
        let touch = contact(work, "butt", joint.member, target)?;
        let face_to_face = touch.face.axis() == work.model.part(joint.member).thickness
            && touch.face.axis() == work.model.part(target).thickness;
        if way == "screws" && face_to_face {
            refuse_line_options(&joint)?;
        }
        let glue_here = joint.options.yes("glue").unwrap_or(way != "screws" || !face_to_face);
        match way {
            "pocket screws" => screws = Some(pockets::pocket_screws(work, id, &joint, target, &touch)?),
            "screws" => screws = Some(fasteners::screws(work, id, &joint, target, &touch)?),
            "glue" => {}
            _ => screws = Some(loose::loose(work, id, &joint, target, &touch, way)?),
        }
        if glue_here {
            glued = true;
            bring::add_glue(work, &joint, touch.square_mm());
        }
        lies_on(work, id, ("contact", joint.member, target), (touch.face, touch.area), Length::ZERO);
        work.model.holds.push(Hold { part: joint.member, to: Some(target) });
    }
    let print = work.printing();
    let said = bring::named(work, &joint);
    let each = if joint.into.len() > 1 { " at each" } else { "" };
    let text = match screws {
        Some(layout) if !way.ends_with("screws") => {
            let glue = if glued { "glue" } else { "push" };
            let one = if layout.count == 1 { way.trim_end_matches('s') } else { way };
            format!("{glue} {} to {} with {} {one}{each}, {}.", said.member, said.targets, layout.count, layout.places)
        }
        Some(layout) => {
            let verb = if way == "screws" { "screw" } else { "pocket-screw" };
            let glue = if glued { "glue and " } else { "" };
            let screw = if layout.count == 1 { "screw" } else { "screws" };
            let screws = format!("{} {screw} {}{each}", layout.count, print.length(layout.length));
            format!("{glue}{verb} {} to {}: {screws}, {}.", said.member, said.targets, layout.places)
        }
        None => format!("glue {} to {} and clamp until the glue holds.", said.member, said.targets),
    };
    bring::add_step(work, &joint, Stage::Build, &said, &text);
    Ok(())
}

/// What belongs to one way to hold a joint says nothing of another.
fn refuse_other_ways(joint: &JointUse, way: &str) -> Result<(), Finding> {
    let owners = [("dowel", "dowels"), ("biscuit", "biscuits"), ("tenon", "loose tenons")];
    let other = owners.into_iter().find(|&(key, owner)| way != owner && joint.options.get(key).is_some());
    let screw = (joint.options.get("screw").is_some() && !way.ends_with("screws")).then_some(("screw", "screws"));
    let Some((key, owner)) = other.or(screw) else { return Ok(()) };
    let message = format!("butt: `{key}` has no effect with {way}");
    Err(Finding::error("option-without-effect", message).hint(format!("write with: \"{owner}\", or leave `{key}` out")))
}

/// Glue has no screws to count or space. A recipe that leaves it to its maker what holds a joint gives the `edge_distance` for
/// every way, so that option alone may stand beside a glue that is asked for.
fn refuse_screw_options(joint: &JointUse) -> Result<(), Finding> {
    let chosen = joint.options.get("with").is_some();
    let idle = ["count", "spacing", "screw", "edge_distance"]
        .into_iter()
        .find(|&key| joint.options.get(key).is_some() && !(chosen && key == "edge_distance"));
    let Some(key) = idle else { return Ok(()) };
    Err(Finding::error(
        "option-without-effect",
        format!("butt: `{key}` has no effect, because glue alone holds the joint"),
    )
    .hint(format!("write with: \"screws\" or with: \"pocket screws\", or leave `{key}` out")))
}

/// On a broad face screws stand in rows that fill it.
fn refuse_line_options(joint: &JointUse) -> Result<(), Finding> {
    let Some(key) = ["spacing", "edge_distance"].into_iter().find(|key| joint.options.get(key).is_some()) else {
        return Ok(());
    };
    let message = format!("butt: `{key}` has no effect through a broad face, where screws stand in even rows");
    Err(Finding::error("option-without-effect", message).hint(format!("give `count`, or leave `{key}` out")))
}
