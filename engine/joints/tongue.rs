//! What stub tenon, tenon, bridle, tongued dado, and tongue and groove share: an end or edge of the member grows, and is thinned
//! to a tongue.

use super::bearing::{Housed, housed};
use super::bring::{Named, add_step, named};
use super::contact::{Contact, contact};
use super::{Work, channel, groove, trench};
use crate::base::{Axis, Face, Length, Ratio, Solid};
use crate::diag::Finding;
use crate::model::{Feature, JointId, JointUse, PartId, Setting, Shape, Stage};

/// A tongue on a face of the member, between two planes across the member's thickness.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Tongue {
    /// The member's face that it stands on.
    pub face: Face,
    /// Its lower and its upper side, along the member's thickness.
    pub sides: [Length; 2],
}

impl Tongue {
    /// A tongue of a thickness in the middle of the member.
    pub(super) fn centred(work: &Work<'_>, member: PartId, face: Face, thickness: Length) -> Self {
        let part = work.model.part(member);
        let axis = part.thickness;
        let low = part.placed.face(axis.low()) + (part.placed.size(axis) - thickness).half();
        Self { face, sides: [low, low + thickness] }
    }

    /// How thick it is.
    pub(super) fn thickness(&self) -> Length {
        self.sides[1] - self.sides[0]
    }

    /// The two sides of the cut that it goes into, with the fit shared by both walls.
    pub(super) fn housed(&self, fit: Length) -> [Length; 2] {
        let half = fit.half();
        [self.sides[0] - half, self.sides[1] + (fit - half)]
    }
}

/// Lets the member grow into each target: at the face and by the length that a joint works out for it, if at all.
pub(super) fn grow(
    work: &mut Work<'_>,
    id: JointId,
    reach: impl Fn(&Work<'_>, &JointUse, PartId) -> Result<Option<(Face, Length)>, Finding>,
) -> Result<(), Finding> {
    let joint = work.joint(id);
    for &target in &joint.into {
        if let Some((face, by)) = reach(work, &joint, target)? {
            work.grow(id, joint.member, face, by);
        }
    }
    Ok(())
}

/// The contact of an end or edge of the member with a target; a broad face cannot be made a tongue.
pub(super) fn edge_contact(work: &Work<'_>, joint: &JointUse, target: PartId) -> Result<Contact, Finding> {
    let name = joint.joint;
    let touch = contact(work, name, joint.member, target)?;
    let member = work.model.part(joint.member);
    if touch.face.axis() == member.thickness {
        return Err(Finding::error(
            "broad-face-in-cut",
            format!(
                "{name}: the {} of `{}` is its broad face; only an edge or end can be made a tongue",
                touch.face.name(),
                work.model.full_name(joint.member)
            ),
        )
        .hint("exchange the two parts, or use `butt`"));
    }
    channel::refuse_band(work, joint, touch.face)?;
    Ok(touch)
}

/// The axis that the tongue is wide along.
pub(super) fn width_axis(work: &Work<'_>, member: PartId, face: Face) -> Axis {
    let thickness = work.model.part(member).thickness;
    let [a, b] = face.axis().others();
    if a == thickness { b } else { a }
}

/// A size that the recipe gives, or a usual one; it must be more than nothing.
pub(super) fn positive(work: &Work<'_>, joint: &JointUse, option: &str, usual: Length) -> Result<Length, Finding> {
    let asked = joint.options.length(option).unwrap_or(usual);
    if asked.is_positive() {
        return Ok(asked);
    }
    let message = format!("{}: the {option} must be more than nothing", joint.joint);
    let hint = format!("leave `{option}` out for {}", work.printing().length(usual));
    Err(Finding::error("cut-without-depth", message).hint(hint))
}

/// A share of a size, down to a step of the rule.
pub(super) fn share(work: &Work<'_>, size: Length, share: (i64, i64)) -> Length {
    let exact = size.times(Ratio::new(share.0, share.1)).unwrap_or(size);
    trench::on_the_rule(exact, work.printing().unit)
}

/// The room left at the end of a tongue; it must leave something of it.
pub(super) fn clearance(work: &Work<'_>, joint: &JointUse, usual: Length, depth: Length) -> Result<Length, Finding> {
    let clearance = joint.options.length("clearance").unwrap_or(usual);
    if clearance < depth && !clearance.is_negative() {
        return Ok(clearance);
    }
    let print = work.printing();
    Err(Finding::error(
        "cut-without-depth",
        format!(
            "{}: a clearance of {} in a cut {} deep cannot be",
            joint.joint,
            print.length(clearance),
            print.length(depth)
        ),
    )
    .hint(format!("give a `clearance` from nothing to less than {}", print.length(depth))))
}

/// The thickness of a tongue as asked for, or a third of the member; it must leave two cheeks to cut.
pub(super) fn thickness(work: &Work<'_>, joint: &JointUse, usual: Length) -> Result<Length, Finding> {
    thick_as(work, joint, "thickness", usual)
}

/// The thickness of a tongue by the option that gives it.
pub(super) fn thick_as(work: &Work<'_>, joint: &JointUse, option: &str, usual: Length) -> Result<Length, Finding> {
    let asked = positive(work, joint, option, usual)?;
    let part = work.model.part(joint.member);
    let there = part.placed.size(part.thickness);
    if asked < there {
        return Ok(asked);
    }
    let print = work.printing();
    Err(Finding::error(
        "tongue-too-thick",
        format!(
            "{}: a tongue {} thick leaves no shoulder on `{}`, which is {} thick",
            joint.joint,
            print.length(asked),
            work.model.full_name(joint.member),
            print.length(there)
        ),
    )
    .hint(format!("give a `{option}` below {}; {} is usual", print.length(there), print.length(usual))))
}

/// Refuses a cut as deep as the target, or deeper.
pub(super) fn refuse_through(
    work: &Work<'_>,
    joint: &JointUse,
    target: PartId,
    face: Face,
    depth: Length,
    usual: Length,
) -> Result<(), Finding> {
    let there = work.model.part(target).placed.size(face.axis());
    if depth < there {
        return Ok(());
    }
    let print = work.printing();
    Err(Finding::error(
        "cut-through",
        format!(
            "{}: a depth of {} goes right through `{}`, which has {} there",
            joint.joint,
            print.length(depth),
            work.model.full_name(target),
            print.length(there)
        ),
    )
    .hint(format!("give a `depth` below {}; {} is usual", print.length(there), print.length(usual))))
}

/// Refuses a tongue that would run out of the target across its thickness.
pub(super) fn refuse_beside(
    work: &Work<'_>,
    joint: &JointUse,
    target: PartId,
    sides: [Length; 2],
) -> Result<(), Finding> {
    let axis = work.model.part(joint.member).thickness;
    let part = work.model.part(target).placed;
    if sides[0] > part.face(axis.low()) && sides[1] < part.face(axis.high()) {
        return Ok(());
    }
    let (below, above) = (part.face(axis.low()) - sides[0], sides[1] - part.face(axis.high()));
    let (by, face) = if below >= above { (below, axis.low()) } else { (above, axis.high()) };
    let print = work.printing();
    let by = if by.is_positive() { format!("{} out of", print.length(by)) } else { "at".to_owned() };
    Err(Finding::error(
        "cut-beside-part",
        format!(
            "{}: the cut for `{}` would lie {by} the {} of `{}`",
            joint.joint,
            work.model.full_name(joint.member),
            face.name(),
            work.model.full_name(target)
        ),
    )
    .hint("move the member so that the tongue has wood on both sides, or make it thinner with `thickness`"))
}

/// Cuts the cheeks: what the member loses on both sides of its tongue. A side with nothing to lose has none.
pub(super) fn cheeks(
    work: &mut Work<'_>,
    id: JointId,
    joint: &JointUse,
    tongue: &Tongue,
    name: &'static str,
) -> Result<(), Finding> {
    let part = work.model.part(joint.member);
    let axis = part.thickness;
    let along = width_axis(work, joint.member, tongue.face);
    // The tongue begins where the maker placed the end: at the shoulder.
    let mut beyond = part.solid;
    beyond.set_face(tongue.face.opposite(), part.placed.face(tongue.face));
    for (face, side) in [(axis.low(), tongue.sides[0]), (axis.high(), tongue.sides[1])] {
        let mut solid = beyond;
        solid.set_face(face.opposite(), side);
        let is_there = work.model.part(joint.member).features.iter().any(|cut| cut.name == name && cut.solid == solid);
        if !solid.is_empty() && !is_there {
            let shape = Shape::Step { along, stopped: false };
            work.cut(joint.member, Feature { name, shape, solid, face, joint: id })?;
        }
    }
    Ok(())
}

/// The settings for the cheeks: how high the blade stands for each, and where the shoulder is.
pub(super) fn cheek_settings(work: &mut Work<'_>, joint: &JointUse, tongue: &Tongue, name: &str) {
    let part = work.model.part(joint.member);
    let axis = part.thickness;
    let reach = (part.solid.face(tongue.face) - part.placed.face(tongue.face)).abs();
    let depths = [tongue.sides[0] - part.solid.face(axis.low()), part.solid.face(axis.high()) - tongue.sides[1]];
    let print = work.printing();
    let kind = format!("{name} of a tongue {} thick, {} long", print.length(tongue.thickness()), print.length(reach));
    let passes = channel::passes_note(reach, work.shop.kerf, print);
    let setting = |what, value, note| Setting { what, work: kind.clone(), value, note, part: joint.member };
    let mut all = vec![setting("stop", reach, format!("from the end or edge to the shoulder; {passes}"))];
    let faces = [axis.low(), axis.high()];
    for (at, &depth) in depths.iter().enumerate().filter(|(_, depth)| depth.is_positive()) {
        if at == 1 && depths[0].same_size(depth) {
            continue;
        }
        let both = depths[0].same_size(depths[1]);
        let from = if both { "from both faces".to_owned() } else { format!("from the {} face", faces[at].name()) };
        all.push(setting("blade height", depth, format!("{from}; fit the tongue to its cut on an offcut first")));
    }
    work.model.settings.extend(all);
}

/// A groove along the whole target for a tongue, with its settings. Several tongues in one line share it.
pub(super) fn own_groove(
    work: &mut Work<'_>,
    id: JointId,
    joint: &JointUse,
    target: PartId,
    tongue: &Tongue,
    walls: [Length; 2],
    depth: Length,
) -> Result<(), Finding> {
    let face = tongue.face;
    let axis = work.model.part(joint.member).thickness;
    let part = work.model.part(target);
    let mut solid = part.solid;
    let mouth = part.placed.face(face.opposite());
    solid.set_face(face.opposite(), mouth);
    solid.set_face(face, mouth);
    let mut solid = solid.grown(face, depth);
    solid.set_face(axis.low(), walls[0]);
    solid.set_face(axis.high(), walls[1]);
    if part.features.iter().any(|other| other.solid == solid && other.name == "groove") {
        return Ok(());
    }
    let fence = (walls[0] - part.solid.face(axis.low())).min(part.solid.face(axis.high()) - walls[1]);
    let print = work.printing();
    let width = walls[1] - walls[0];
    let kind = format!("groove {} wide, {} deep", print.length(width), print.length(depth));
    let note = format!("from the nearer face; {}", channel::passes_note(width, work.shop.kerf, print));
    let setting = |what, value, note| Setting { what, work: kind.clone(), value, note, part: target };
    let settings =
        [setting("fence", fence, note), setting("blade height", depth, "try it on an offcut first".to_owned())];
    work.model.settings.extend(settings);
    let shape = Shape::Channel { along: width_axis(work, joint.member, face), stopped: false };
    work.cut(target, Feature { name: "groove", shape, solid, face: face.opposite(), joint: id })
}

/// States that a tongue bears with both its sides on the walls of its cut, and stands before its floor with some room; one that
/// comes through has no floor.
pub(super) fn bear(
    work: &mut Work<'_>,
    id: JointId,
    what: &'static str,
    target: PartId,
    (area, tongue): (Solid, &Tongue),
    walls: [Length; 2],
    (depth, room): (Length, Option<Length>),
) {
    let member = work.joint(id).member;
    let axis = work.model.part(member).thickness;
    let between = |sides: [Length; 2], reach: Length| {
        let mut solid = area.grown(tongue.face, reach);
        solid.set_face(axis.low(), sides[0]);
        solid.set_face(axis.high(), sides[1]);
        solid
    };
    let held =
        Housed { what, of: member, into: target, tongue: between(tongue.sides, depth - room.unwrap_or_default()) };
    let faces = [axis.low(), axis.high(), tongue.face];
    let faces = if room.is_some() { &faces[..] } else { &faces[..2] };
    housed(work, id, held, &between(walls, depth), faces);
}

/// A groove that holds a panel in a target, where the member holds the same panel.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct PanelGroove {
    /// Its walls, along the thickness of the frame.
    pub sides: [Length; 2],
    /// How deep it is.
    pub depth: Length,
}

/// The groove in the target for a panel that the member holds as well, on the face where the two meet.
pub(super) fn panel_groove(work: &Work<'_>, joint: &JointUse, target: PartId, face: Face) -> Option<PanelGroove> {
    let axis = work.model.part(joint.member).thickness;
    let ids = work.grooves.get(&target)?;
    ids.iter().filter(|id| !work.failed[id.0 as usize]).find_map(|&id| {
        let grooved = work.joint(id);
        let panel = work.model.part(grooved.member);
        if panel.thickness != axis || !grooved.into.contains(&joint.member) || !grooved.options.faces("stop").is_empty()
        {
            return None;
        }
        let touch = contact(work, joint.joint, grooved.member, target).ok().filter(|touch| touch.face == face)?;
        let depth = trench::depth(work, &grooved, target, touch.face, groove::TRENCH).ok()?;
        let fit = work.fit(&grooved, channel::FIT);
        let [low, high] = [panel.placed.face(axis.low()), panel.placed.face(axis.high())];
        Some(PanelGroove { sides: [low - fit.half(), high + (fit - fit.half())], depth })
    })
}

/// Says how the joint is put together, and in which piece.
pub(super) fn say(work: &mut Work<'_>, joint: &JointUse, words: impl FnOnce(&Named) -> String) {
    let said = named(work, joint);
    let text = words(&said);
    add_step(work, joint, Stage::Build, &said, &text);
}

/// Refuses parts whose thicknesses do not lie the same way.
pub(super) fn refuse_not_flat(work: &Work<'_>, joint: &JointUse, target: PartId) -> Result<(), Finding> {
    let (member, part) = (work.model.part(joint.member), work.model.part(target));
    if member.thickness == part.thickness {
        return Ok(());
    }
    Err(Finding::error(
        "joint-not-flat",
        format!(
            "{}: `{}` and `{}` do not lie in one plane: the thickness of one runs {}, that of the other {}",
            joint.joint,
            work.model.full_name(joint.member),
            work.model.full_name(target),
            member.thickness.run_name(),
            part.thickness.run_name()
        ),
    )
    .hint("turn one of them so that both lie flat, or use `dado` or `tenon`"))
}
