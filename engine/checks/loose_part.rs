//! A part that nothing holds.

use std::collections::BTreeSet;

use super::{Check, MOST, Subject};
use crate::base::{Face, Length, Solid};
use crate::diag::Finding;
use crate::model::{Model, PartId};
use crate::proof::order::to;

/// The check.
pub(super) const CHECK: Check = Check {
    code: "loose-part",
    summary: "no joint and no hardware holds a part to the rest of the job",
    why: "A joint that was forgotten brings no screws, no glue and no groove, and the part falls off. Every part must be held, by \
          way of others, to the first part of the job or to what the job hangs in.",
    source: "common practice, no source",
    run,
};

fn run(subject: Subject<'_>, findings: &mut Vec<Finding>) {
    let model = subject.model;
    if model.parts.len() < 2 {
        return;
    }
    // The last place stands for what the job hangs in: the room, or a measured opening.
    let room = model.parts.len();
    let mut group: Vec<usize> = (0..=room).collect();
    for hold in &model.holds {
        let a = root(&mut group, hold.part.0 as usize);
        let b = root(&mut group, hold.to.map_or(room, |part| part.0 as usize));
        group[a] = b;
    }
    let mut anchored = vec![root(&mut group, room)];
    if let Some(first) = (0..room).find(|&i| model.parts[i].loose.is_none()) {
        anchored.push(root(&mut group, first));
    }
    let mut told: Vec<usize> = Vec::new();
    for (index, part) in model.parts.iter().enumerate() {
        if findings.len() >= MOST {
            return;
        }
        let own = root(&mut group, index);
        if part.loose.is_some() || anchored.contains(&own) || told.contains(&own) {
            continue;
        }
        let together: Vec<usize> = (0..room).filter(|&other| root(&mut group, other) == own).collect();
        if together.iter().any(|&other| model.parts[other].loose.is_some()) {
            continue;
        }
        told.push(own);
        let name = model.full_name(PartId(u32::try_from(index).unwrap_or(0)));
        let group: BTreeSet<usize> = together.into_iter().collect();
        let what = match group.len() {
            1 => format!("nothing holds `{name}`"),
            count => format!("nothing holds `{name}` and the {} parts joined to it", count - 1),
        };
        let (near, cure) = nearest(model, &part.solid, &group);
        let message = format!("{what}{near}");
        findings.push(
            Finding::warning(CHECK.code, message)
                .at(part.at.clone())
                .hint(format!("{cure}give it a joint, or say why it is loose: `loose: \"rests on shelf pins\"`"))
                .source(CHECK.source),
        );
    }
}

/// What is nearest to a part of all that is not joined to it, in words: how far it is and which way, and what that asks for.
fn nearest(model: &Model, part: &Solid, group: &BTreeSet<usize>) -> (String, String) {
    let apart = |other: &Solid| {
        let gaps = Face::ALL.map(|face| (gap(part, other, face), face));
        gaps.into_iter().max().unwrap_or((Length::ZERO, Face::Left))
    };
    let others = model.part_ids().enumerate().filter(|(at, _)| !group.contains(at));
    let Some((id, (gap, face))) =
        others.map(|(_, (id, other))| (id, apart(&other.solid))).min_by_key(|(id, (gap, _))| (*gap, *id))
    else {
        return Default::default();
    };
    let (other, by) = (model.full_name(id), model.printing.length(gap.max(Length::ZERO)));
    let way = to(face);
    if gap > Length::SAME_SIZE {
        (format!("; `{other}` is nearest, {by} {way}"), format!("place it {by} further {way}, up to `{other}`, and "))
    } else {
        (format!("; it touches `{other}`, with {by} between them {way}, and no joint holds both"), String::new())
    }
}

/// The distance from a face outwards to another part; below zero when that begins before the face.
fn gap(part: &Solid, other: &Solid, face: Face) -> Length {
    let distance = other.face(face.opposite()) - part.face(face);
    if face.is_high() { distance } else { -distance }
}

fn root(group: &mut [usize], mut index: usize) -> usize {
    while group[index] != index {
        group[index] = group[group[index]];
        index = group[index];
    }
    index
}

#[cfg(test)]
mod tests {
    use super::super::bench::{add, found, job, join, sheet};
    use super::*;
    use crate::model::{Model, Options};

    #[test]
    fn a_part_without_a_joint_is_loose_unless_it_says_why() {
        let build = |joined: bool, reason: Option<&str>| {
            let mut model = job();
            let ply = sheet(12);
            let side = add(&mut model, Model::ROOT, "side", &ply, [0, 0, 0], [12, 160, 320]);
            let shelf = add(&mut model, Model::ROOT, "shelf", &ply, [12, 0, 100], [300, 160, 112]);
            model.part_mut(shelf).loose = reason.map(str::to_owned);
            if joined {
                join(&mut model, "dado", shelf, &[side], Options::new());
            }
            found(model, &CHECK)
        };
        assert!(build(true, None).is_empty());
        assert!(build(false, Some("rests on shelf pins")).is_empty());
        let findings = build(false, None);
        assert_eq!(findings.len(), 1);
        assert!(findings[0].message.contains("`shelf`"));
    }
}
