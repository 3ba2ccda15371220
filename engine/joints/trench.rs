//! Where a groove, dado or rabbet is cut: how deep, how wide and from where to where.

use super::channel::{FIT, Trench};
use super::contact::Contact;
use super::{ByUnit, Work, tongue};
use crate::base::{Axis, Face, Length, Ratio, Solid, Unit};
use crate::diag::Finding;
use crate::model::{JointUse, PartId};

pub(super) fn cut_solid(
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

/// The two sides of what goes into the trench: the member's faces, or those of the tongue that a rabbet leaves of it.
pub(super) fn sides(work: &Work<'_>, joint: &JointUse) -> Result<[Length; 2], Finding> {
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

// Common practice, no source: half an inch of solid edge hides a stopped cut behind a face frame or a lipping.
pub(super) const STOP_AT: ByUnit = ByUnit::new((1, 2), 12_000);

/// The axis that the trench runs along: along the member's edge.
pub(super) fn run_axis(work: &Work<'_>, member: PartId, face: Face) -> Axis {
    let thickness = work.model.part(member).thickness;
    let [a, b] = face.axis().others();
    if a == thickness { b } else { a }
}

/// How far a cut ends before a face of its part.
pub(super) fn gap(cut: &Solid, part: &Solid, face: Face) -> Length {
    let gap = part.face(face) - cut.face(face);
    if face.is_high() { gap } else { -gap }
}

/// The side of the target that the trench lies nearer to.
pub(super) fn open_side(part: Solid, cut: &Solid, across: Axis) -> Face {
    let below = cut.face(across.low()) - part.face(across.low());
    let above = part.face(across.high()) - cut.face(across.high());
    if above < below { across.high() } else { across.low() }
}

pub(super) fn within_across(cut: &Solid, part: &Solid, across: Axis) -> bool {
    let axis = across.index();
    cut.low[axis] >= part.low[axis] && cut.high[axis] <= part.high[axis] && !cut.is_empty()
}
