//! What groove, dado and rabbet share: an edge of the member grows into a trench of the target.

use super::bearing::{Housed, housed};
use super::bring::{add_glue, add_step, named};
use super::contact::{Contact, contact, square_mm};
use super::tongue::{self, Tongue};
use super::{ByUnit, Work};
use crate::base::{Axis, Face, Length, Printing, Ratio, Solid, Unit};
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

// Common practice, no source: half an inch of solid edge hides a stopped cut behind a face frame or a lipping.
const STOP_AT: ByUnit = ByUnit::new((1, 2), 12_000);

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

/// The axis that the trench runs along: along the member's edge.
fn run_axis(work: &Work<'_>, member: PartId, face: Face) -> Axis {
    let thickness = work.model.part(member).thickness;
    let [a, b] = face.axis().others();
    if a == thickness { b } else { a }
}

/// How deep the trench is, as asked for or as is usual.
pub(super) fn depth(
    work: &Work<'_>,
    joint: &JointUse,
    target: PartId,
    face: Face,
    trench: Trench,
) -> Result<Length, Finding> {
    let there = work.model.part(target).placed.size(face.axis());
    let (share, of) = trench.depth;
    let exact = there.times(Ratio::new(share, of)).unwrap_or(there.half());
    let usual = on_the_rule(exact, work.printing().unit);
    let depth = joint.options.length("depth").unwrap_or(usual);
    let clearance = joint.options.length("clearance").unwrap_or(work.usual(trench.clearance));
    let print = work.printing();
    if depth >= there {
        return Err(Finding::error(
            "cut-through",
            format!(
                "{}: a depth of {} goes right through `{}`, which has {} there",
                trench.name,
                print.length(depth),
                work.model.full_name(target),
                print.length(there)
            ),
        )
        .hint(format!("give a `depth` below {}; {} is usual", print.length(there), print.length(usual))));
    }
    // Thin stock may take less than this where it keeps the rest.
    let least = LEAST_DEPTH.min(usual);
    if depth < least {
        return Err(Finding::error(
            "cut-without-depth",
            format!(
                "{}: a cut {} deep in `{}` holds nothing; {} is the least",
                trench.name,
                print.length(depth),
                work.model.full_name(target),
                print.length(least)
            ),
        )
        .hint(format!("leave `depth` out for {}", print.length(usual))));
    }
    if -clearance >= depth {
        return Err(Finding::error(
            "cut-without-depth",
            format!(
                "{}: with a clearance of {} `{}` would be driven through the floor of the cut",
                trench.name,
                print.length(clearance),
                work.model.full_name(joint.member)
            ),
        )
        .hint("give a `clearance` of nothing or a little more"));
    }
    if clearance >= depth {
        return Err(Finding::error(
            "cut-without-depth",
            format!(
                "{}: a clearance of {} leaves nothing of `{}` in a cut {} deep",
                trench.name,
                print.length(clearance),
                work.model.full_name(joint.member),
                print.length(depth)
            ),
        )
        .hint("give a smaller `clearance`"));
    }
    Ok(depth)
}

// Common practice, no source: an edge that goes in less than a millimetre slips out as the stock moves.
const LEAST_DEPTH: Length = Length::from_mm(1);

/// A usual depth as a blade can be set to it: down to 1/32 in or half a millimetre, where that leaves something.
// Common practice, no source.
pub(super) fn on_the_rule(depth: Length, unit: Unit) -> Length {
    let step = match unit {
        Unit::Inch => Length::from_inch(1, 32),
        Unit::Millimetre => Length::from_um(500),
    };
    let nearest = depth.to_nearest(step);
    let below = if nearest > depth { nearest - step } else { nearest };
    if below.is_positive() { below } else { depth }
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

fn cut_solid(
    work: &Work<'_>,
    joint: &JointUse,
    target: PartId,
    touch: Contact,
    depth: Length,
    trench: Trench,
) -> Result<Solid, Finding> {
    let member = work.model.part(joint.member);
    let part = work.model.part(target);
    let fit = work.fit(joint, FIT);
    let across = member.thickness;
    let along = run_axis(work, joint.member, touch.face);
    let mut cut = part.solid;
    // From the face that the member meets, inwards.
    cut.set_face(touch.face.opposite(), part.placed.face(touch.face.opposite()));
    cut.set_face(touch.face, part.placed.face(touch.face.opposite()));
    cut = cut.grown(touch.face, depth);
    // Across: the member's own thickness with the fit shared by both walls.
    let (low, high) = (across.low(), across.high());
    let half_fit = fit.half();
    let sides = sides(work, joint)?;
    cut.set_face(low, sides[0] - half_fit);
    cut.set_face(high, sides[1] + (fit - half_fit));
    if trench.open {
        let open = open_side(part.solid, &cut, across);
        let beyond = gap(&cut, &part.solid, open);
        if beyond > MOST_SET_IN {
            let print = work.printing();
            let (name, of) = (work.model.full_name(joint.member), work.model.full_name(target));
            return Err(Finding::error(
                "rabbet-too-wide",
                format!(
                    "{}: `{name}` stands {} in from the {} edge of `{of}`, and its cut would take all of that: {} wide",
                    trench.name,
                    print.length(beyond),
                    open.name(),
                    print.length(cut.size(across) + beyond)
                ),
            )
            .hint(format!(
                "place `{name}` at the edge, or up to {} in from it to scribe; further in use `dado` or `groove`",
                print.length(MOST_SET_IN)
            )));
        }
        cut.set_face(open, part.solid.face(open));
    }
    for &stop in joint.options.faces("stop") {
        if stop.axis() != along {
            return Err(Finding::error(
                "stop-beside-the-cut",
                format!(
                    "{}: the cut in `{}` runs {}, so it cannot stop at its {}",
                    trench.name,
                    work.model.full_name(target),
                    along.run_name(),
                    stop.name()
                ),
            )
            .hint(format!("stop it at \"{}\" or \"{}\"", along.low().name(), along.high().name())));
        }
        let short = joint.options.length("stop_at").unwrap_or(work.usual(STOP_AT));
        cut = cut.grown(stop, -short);
        let print = work.printing();
        if short.is_negative() {
            return Err(Finding::error(
                "stop-beyond-the-cut",
                format!("{}: a `stop_at` of {} lies outside the part", trench.name, print.length(short)),
            )
            .hint(format!("leave `stop_at` out for {}", print.length(work.usual(STOP_AT)))));
        }
        if !cut.size(along).is_positive() {
            return Err(Finding::error(
                "stop-beyond-the-cut",
                format!(
                    "{}: stopped {} from the {}, nothing is left of the cut in `{}`",
                    trench.name,
                    print.length(short),
                    stop.name(),
                    work.model.full_name(target)
                ),
            )
            .hint(format!("give a smaller `stop_at`, or leave it out for {}", print.length(work.usual(STOP_AT)))));
        }
    }
    if !within_across(&cut, &part.solid, across) {
        return Err(Finding::error(
            "cut-beside-part",
            format!(
                "{}: the cut for `{}` would run out of `{}` at its edge",
                trench.name,
                work.model.full_name(joint.member),
                work.model.full_name(target)
            ),
        )
        .hint(if trench.open {
            "place the member so that its whole edge meets the part"
        } else {
            "use `rabbet` at an edge"
        }));
    }
    Ok(cut)
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

/// The two sides of what goes into the trench: the member's faces, or those of the tongue that a rabbet leaves of it.
fn sides(work: &Work<'_>, joint: &JointUse) -> Result<[Length; 2], Finding> {
    let member = work.model.part(joint.member);
    let axis = member.thickness;
    let whole = [member.solid.face(axis.low()), member.solid.face(axis.high())];
    if joint.options.get("tongue").is_none() {
        if joint.options.get("rabbet").is_some() {
            let message = format!("{}: `rabbet` has no effect without a tongue", joint.joint);
            let hint = "give the thickness of the tongue as well: tongue: (3/8).inch";
            return Err(Finding::error("option-without-effect", message).hint(hint));
        }
        return Ok(whole);
    }
    let usual = tongue::share(work, member.placed.size(axis), (1, 2));
    let thick = tongue::thick_as(work, joint, "tongue", usual)?;
    let face = joint.options.face("rabbet").unwrap_or_else(|| member.show.map_or(axis.high(), Face::opposite));
    if face.axis() != axis {
        let message = format!(
            "{}: the {} of `{}` is an edge, and the tongue is cut on a broad face",
            joint.joint,
            face.name(),
            work.model.full_name(joint.member)
        );
        let hint = format!("write rabbet: \"{}\" or rabbet: \"{}\"", axis.low().name(), axis.high().name());
        return Err(Finding::error("rabbet-in-edge", message).hint(hint));
    }
    Ok(if face.is_high() { [whole[0], whole[0] + thick] } else { [whole[1] - thick, whole[1]] })
}

// Common practice, no source: what is set in by up to two inches leaves an edge to scribe to a wall; more weakens the part for nothing.
const MOST_SET_IN: Length = Length::from_inch(2, 1);

/// How far a cut ends before a face of its part.
fn gap(cut: &Solid, part: &Solid, face: Face) -> Length {
    let gap = part.face(face) - cut.face(face);
    if face.is_high() { gap } else { -gap }
}

/// The side of the target that the trench lies nearer to.
fn open_side(part: Solid, cut: &Solid, across: Axis) -> Face {
    let below = cut.face(across.low()) - part.face(across.low());
    let above = part.face(across.high()) - cut.face(across.high());
    if above < below { across.high() } else { across.low() }
}

fn within_across(cut: &Solid, part: &Solid, across: Axis) -> bool {
    let axis = across.index();
    cut.low[axis] >= part.low[axis] && cut.high[axis] <= part.high[axis] && !cut.is_empty()
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
