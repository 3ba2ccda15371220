//! What groove, dado and rabbet share: an edge of the member grows into a trench of the target.

use super::bearing::{Housed, housed};
use super::bring::{add_glue, add_step, named};
use super::contact::{Contact, contact, square_mm};
use super::tongue::{self, Tongue};
use super::trench::{STOP_AT, cut_solid, depth, open_side, run_axis, sides};
use super::{ByUnit, Work};
use crate::base::{Face, Length, Printing, Solid};
use crate::diag::Finding;
use crate::model::{Feature, Hold, JointId, JointUse, Kind, OptionSpec, Part, PartId, Setting, Shape, Stage};

/// What tells the three trenches apart.
#[derive(Clone, Copy, Debug)]
pub(super) struct Trench {
    /// The joint's name.
    pub name: &'static str,
    /// The depth when none is given, as a share of the target's thickness.
    pub depth: (i64, i64),
    /// The clearance at the end of the tongue when none is given.
    pub clearance: ByUnit,
    /// Whether it is glued when the recipe does not say.
    pub glued: bool,
    /// Whether the trench is open to the edge of the target beyond the member.
    pub open: bool,
}

/// A default in words, and the reason for it.
pub(super) type Usual = (&'static str, &'static str);

/// The options that the three share, with the defaults in words.
pub(super) const fn options(depth: Usual, clearance: Usual, glue: Usual) -> [OptionSpec; 7] {
    [
        OptionSpec::must("into", Kind::Parts, "the part or parts that are cut"),
        OptionSpec::may("depth", Kind::Length, depth.0, "how deep the cut goes").because(depth.1),
        OptionSpec::may("clearance", Kind::Length, clearance.0, "room left between the edge and the floor of the cut")
            .because(clearance.1),
        OptionSpec::may("fit", Kind::Fit, "\"snug\"", "how much wider than the panel was measured the cut is")
            .because("common practice, no source: a cut as wide as the panel was measured closes under a clamp"),
        OptionSpec::may(
            "stop",
            Kind::Faces,
            "none: it runs through",
            "the ends of the cut part at which it stops short",
        )
        .because("common practice, no source: a saw cuts from end to end"),
        OptionSpec::may(
            "stop_at",
            Kind::Length,
            "1/2 in, or 12 mm in a metric job",
            "how far from those ends it stops",
        )
        .because(
            "common practice, no source: half an inch of solid edge hides the cut behind a face frame or a lipping",
        ),
        OptionSpec::may("glue", Kind::YesNo, glue.0, "whether it is glued").because(glue.1),
    ]
}

/// What the three refuse.
pub(super) const REFUSES: &[&str] = &[
    "banded-edge-in-cut",
    "broad-face-in-cut",
    "cut-beside-part",
    "cut-through",
    "cut-without-depth",
    "fit-too-loose",
    "joint-needs-contact",
    "stop-beside-the-cut",
    "stop-beyond-the-cut",
];

/// The settings that the three imply.
pub(super) const SETS: &str = "Fence: from the nearer edge of the cut part to the near wall of the cut (of a rabbet, to \
                               its shoulder), measured over a band where there is one. Blade height: the depth. The passes \
                               that the shop's kerf takes for the width are told beside the fence. Stop, where the cut is stopped: how far \
                               before the edge it ends.";

// Common practice, no source: a cut as wide as the panel was measured closes under a clamp.
pub(super) const FIT: &str = "snug";

/// Lets the member's edges grow by the depth less the clearance.
pub(super) fn grow(work: &mut Work<'_>, id: JointId, trench: Trench) -> Result<(), Finding> {
    let joint = work.joint(id);
    for &target in &joint.into {
        let touch = edge_contact(work, &joint, target, trench)?;
        let depth = depth(work, &joint, target, touch.face, trench)?;
        sides(work, &joint)?;
        let clearance = joint.options.length("clearance").unwrap_or(work.usual(trench.clearance));
        refuse_band(work, &joint, touch.face)?;
        work.grow(id, joint.member, touch.face, depth - clearance);
    }
    Ok(())
}

/// Cuts the trench, and brings its setting, its hold and its sentence.
pub(super) fn cut(work: &mut Work<'_>, id: JointId, trench: Trench) -> Result<(), Finding> {
    let joint = work.joint(id);
    let glued = joint.options.yes("glue").unwrap_or(trench.glued);
    for &target in &joint.into {
        let touch = edge_contact(work, &joint, target, trench)?;
        let depth = depth(work, &joint, target, touch.face, trench)?;
        let cut = cut_solid(work, &joint, target, touch, depth, trench)?;
        settings(work, &joint, target, touch.face, &cut, trench);
        if joint.options.get("tongue").is_some() {
            let tongue = Tongue { face: touch.face, sides: sides(work, &joint)? };
            tongue::cheeks(work, id, &joint, &tongue, "rabbet")?;
            tongue::cheek_settings(work, &joint, &tongue, "rabbet");
        }
        let stopped = !joint.options.faces("stop").is_empty();
        if stopped {
            notch_member(work, id, &joint, target, touch.face, &cut)?;
        }
        let along = run_axis(work, joint.member, touch.face);
        bear(work, id, (target, &touch), &cut, trench)?;
        let shape = if trench.open { Shape::Step { along, stopped } } else { Shape::Channel { along, stopped } };
        let feature = Feature { name: trench.name, shape, solid: cut, face: touch.face.opposite(), joint: id };
        work.cut(target, feature)?;
        work.model.holds.push(Hold { part: joint.member, to: Some(target) });
        if glued {
            // Glue goes onto the walls as well as onto the floor of the trench.
            let walls = if trench.open { 1 } else { 2 };
            let wall = square_mm(depth, cut.size(along));
            add_glue(work, &joint, touch.square_mm() + walls * wall);
        }
    }
    let said = named(work, &joint);
    let (verb, dry) = if glued { ("glue", "") } else { ("slide", ", without glue") };
    let trenches = plural(trench.name, joint.into.len());
    let text = format!("{verb} {} into the {trenches} of {}{dry}.", said.member, said.targets);
    add_step(work, &joint, Stage::Build, &said, &text);
    Ok(())
}

fn plural(name: &str, count: usize) -> String {
    if count == 1 { name.to_owned() } else { format!("{name}s") }
}

/// The contact of an edge of the member with the target; its broad face cannot go into a trench.
fn edge_contact(work: &Work<'_>, joint: &JointUse, target: PartId, trench: Trench) -> Result<Contact, Finding> {
    let touch = contact(work, trench.name, joint.member, target)?;
    let member = work.model.part(joint.member);
    if touch.face.axis() == member.thickness {
        return Err(Finding::error(
            "broad-face-in-cut",
            format!(
                "{}: the {} of `{}` is its broad face; only an edge or end goes into a {}",
                trench.name,
                touch.face.name(),
                work.model.full_name(joint.member),
                trench.name
            ),
        )
        .hint("exchange the two parts, or use `butt`"));
    }
    Ok(touch)
}

/// Refuses an edge with a band on it.
pub(super) fn refuse_band(work: &Work<'_>, joint: &JointUse, face: Face) -> Result<(), Finding> {
    let member = work.model.part(joint.member);
    let Some(band) = member.band_on(face) else { return Ok(()) };
    Err(Finding::error(
        "banded-edge-in-cut",
        format!(
            "{}: the {} edge of `{}` is banded with {} and would go into the cut",
            joint.joint,
            face.name(),
            work.model.full_name(joint.member),
            band.stock.name
        ),
    )
    .hint("leave that edge without band"))
}

/// States that the member's edge, or its tongue, stands between the walls of the trench and before its floor.
fn bear(
    work: &mut Work<'_>,
    id: JointId,
    (target, touch): (PartId, &Contact),
    cut: &Solid,
    trench: Trench,
) -> Result<(), Finding> {
    let joint = work.joint(id);
    let member = work.model.part(joint.member);
    let (across, along) = (member.thickness, run_axis(work, joint.member, touch.face));
    let clearance = joint.options.length("clearance").unwrap_or(work.usual(trench.clearance));
    let mut tongue = touch.area.grown(touch.face, cut.size(touch.face.axis()) - clearance);
    for (face, side) in [across.low(), across.high()].into_iter().zip(sides(work, &joint)?) {
        tongue.set_face(face, side);
    }
    // A cut that is stopped holds only what is in it.
    tongue.low[along.index()] = tongue.low[along.index()].max(cut.low[along.index()]);
    tongue.high[along.index()] = tongue.high[along.index()].min(cut.high[along.index()]);
    let open = trench.open.then(|| open_side(work.model.part(target).solid, cut, across));
    let faces: Vec<Face> =
        [across.low(), across.high(), touch.face].into_iter().filter(|face| Some(*face) != open).collect();
    let what = if joint.options.get("tongue").is_some() { "tongue" } else { "edge" };
    housed(work, id, Housed { what, of: joint.member, into: target, tongue }, cut, &faces);
    Ok(())
}

/// Where the trench stops, the member's tongue has to be cut back.
fn notch_member(
    work: &mut Work<'_>,
    id: JointId,
    joint: &JointUse,
    target: PartId,
    face: Face,
    cut: &Solid,
) -> Result<(), Finding> {
    let part = work.model.part(target).solid;
    let member = work.model.part(joint.member);
    let along = member.thickness;
    let sides = sides(work, joint)?;
    let mut whole = member.solid;
    whole.set_face(along.low(), sides[0]);
    whole.set_face(along.high(), sides[1]);
    let Some(tongue) = whole.overlap(&part) else { return Ok(()) };
    for solid in tongue.less(cut) {
        let shape = Shape::Step { along, stopped: false };
        work.cut(joint.member, Feature { name: "notch", shape, solid, face, joint: id })?;
    }
    Ok(())
}

fn settings(work: &mut Work<'_>, joint: &JointUse, target: PartId, face: Face, cut: &Solid, trench: Trench) {
    let part = work.model.part(target);
    let across = work.model.part(joint.member).thickness;
    let (depth, width) = (cut.size(face.axis()), cut.size(across));
    let below = cut.face(across.low()) - part.solid.face(across.low());
    let above = part.solid.face(across.high()) - cut.face(across.high());
    let (near, edge) = if above < below { (above, across.high()) } else { (below, across.low()) };
    // A step reaches the edge, so that its other wall, the shoulder, is what the fence sets.
    let (fence, wall) = if trench.open { (near + width, "the shoulder") } else { (near, "the near wall of the cut") };
    let print = work.printing();
    let work_name = format!("{} {} wide, {} deep", trench.name, print.length(width), print.length(depth));
    let passes_note = passes_note(width, work.shop.kerf, print);
    let banded = over_band(part, edge);
    let fence_note = format!("from the {} edge{banded} to {wall}; {passes_note}", edge.name());
    let setting = |what, value, note| Setting { what, work: work_name.clone(), value, note, part: target };
    let mut all = vec![
        setting("fence", fence, fence_note),
        setting("blade height", depth, "try it on an offcut first".to_owned()),
    ];
    for &stop in joint.options.faces("stop") {
        let short = joint.options.length("stop_at").unwrap_or(work.usual(STOP_AT));
        let note = format!("from the {} edge; square the end that the cutter leaves round", stop.name());
        all.push(setting("stop", short, note));
    }
    work.model.settings.extend(all);
}

/// What is said where an edge that a fence runs along carries a band.
pub(super) fn over_band(part: &Part, edge: Face) -> &'static str {
    match part.band_on(edge) {
        Some(band) if band.taken_off => ", measured over its band,",
        Some(_) => ", measured from the core without its band,",
        None => "",
    }
}

/// The passes that make a cut, in words.
pub(super) fn passes_note(width: Length, kerf: Length, print: Printing) -> String {
    match passes(width, kerf) {
        0 => format!("narrower than the {} kerf: use a thinner blade or a router", print.length(kerf)),
        1 => format!("one pass of the {} kerf", print.length(kerf)),
        n => format!("{n} passes of the {} kerf, or a dado set", print.length(kerf)),
    }
}

/// How many passes of a kerf make a cut of a width; none when the blade is wider than the cut.
pub(super) fn passes(width: Length, kerf: Length) -> i64 {
    if !kerf.is_positive() || width < kerf {
        return 0;
    }
    (width.nm() + kerf.nm() - 1) / kerf.nm()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_quarter_inch_takes_two_passes_of_an_eighth() {
        // Common practice, no source: two passes of an eighth-inch kerf make a groove for a quarter-inch panel.
        let eighth = Length::from_inch(1, 8);
        assert_eq!(passes(Length::from_inch(1, 4), eighth), 2);
        assert_eq!(passes(Length::from_inch(7, 32), eighth), 2);
        assert_eq!(passes(Length::from_inch(1, 8), eighth), 1);
        assert_eq!(passes(Length::from_inch(1, 16), eighth), 0);
    }
}
