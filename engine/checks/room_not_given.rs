//! A pull or the plates of hinges take no room, because nobody said how much, and something is within their reach.

use super::{Check, Subject};
use crate::base::{Face, Length, Solid};
use crate::diag::Finding;
use crate::model::{HardwareKind, Model, Moving, PartId, StandsOut, Way};
use crate::proof::bodies::Body;
use crate::proof::index::Index;
use crate::proof::travel::{Thing, ways_with};

/// The check.
pub(super) const CHECK: Check = Check {
    code: "room-not-given",
    summary: "a pull or the plates of hinges are not measured, and something is where they may stand",
    why: "What is not given takes no room in the proof: `stands_out` of a pull, `plate_height` of hinges. Where something stands or moves \
          within 1-5/8 in (40 mm) of a front that has such a pull, away from its hinges, or within 3/4 in (20 mm) of such plates, closed or on \
          a way, the note says so once for a job. With the figures of their makers' sheets it is proved.",
    source: "common practice, no source: how far usual pulls and plates stand out",
    run,
};

// Common practice, no source: most pulls and knobs stand out less.
const PULL: Length = Length::from_mm(40);
// Common practice, no source: most plates with their arms stand out less.
const PLATE: Length = Length::from_mm(20);
// Common practice, no source: a plate and its arm reach so far beyond the plate's screws.
const PLATE_BEYOND: Length = Length::from_mm(20);
/// More than this many are told as a number.
const NAMED: usize = 3;

fn run(subject: Subject<'_>, findings: &mut Vec<Finding>) {
    let model = subject.model;
    if model.motions.is_empty() {
        return;
    }
    let bodies = subject.proof.bodies();
    // What stands out, and of plates the door that hangs on them: the hinge lets that pass.
    let (mut assumed, mut doors) = (pulls(model, bodies), Vec::new());
    doors.resize(assumed.len(), None);
    for (plate, door) in plates(model) {
        assumed.push(plate);
        doors.push(Some(door));
    }
    let hangs = |at: usize, body: &Body| doors[at].is_some_and(|door| body.parts.binary_search(&door).is_ok());
    if assumed.is_empty() {
        return;
    }
    let mut met: Vec<(usize, String)> = Vec::new();
    let mut note = |at: usize, what: String| {
        if !met.iter().any(|(known, _)| assumed[*known].part == assumed[at].part) {
            met.push((at, what));
        }
    };
    let known = model.stands_out.len();
    let is_assumed = |thing: Thing| match thing {
        Thing::StandsOut(at) => at.checked_sub(known),
        _ => None,
    };
    for (at, part) in closed(subject, bodies, &assumed) {
        if bodies.iter().any(|body| hangs(at, body) && body.parts.binary_search(&part).is_ok())
            || doors[at] == Some(part)
        {
            continue;
        }
        note(at, format!("`{}`", model.full_name(part)));
    }
    for meeting in ways_with(subject.proof, &assumed).meetings {
        let (own, other) = (is_assumed(meeting.own), is_assumed(meeting.other));
        if let Some(at) = own.or(other).filter(|at| !hangs(*at, &bodies[meeting.motion])) {
            let thing = if own.is_some() { meeting.other } else { meeting.own };
            note(at, name(model, thing, &assumed));
        }
    }
    if met.is_empty() {
        return;
    }
    let mut told: Vec<String> = met
        .iter()
        .map(|(at, other)| {
            let one = &assumed[*at];
            format!("the {} on `{}` may meet {other}", one.what, model.full_name(one.part))
        })
        .collect();
    told.sort_unstable();
    told.dedup();
    let more = told.len().saturating_sub(NAMED);
    told.truncate(NAMED);
    let more = if more > 0 { format!(", and {more} more") } else { String::new() };
    let message = format!(
        "how far some hardware stands out is not given, so that its room is not proved: {}{more}",
        told.join(", ")
    );
    let at = met.first().and_then(|(at, _)| assumed[*at].at.clone());
    findings.push(
        Finding::note(CHECK.code, message)
            .at(at)
            .hint("give `stands_out` in `hardware` and `plate_height` in `hinge`, by their makers' sheets; or choose what stands out less")
            .source(CHECK.source),
    );
}

/// Pulls on what moves, of which nobody said how far they stand out: over the whole front, since their place is not known either, of a leaf that turns
/// over the half away from its hinges.
fn pulls(model: &Model, bodies: &[Body]) -> Vec<StandsOut> {
    let unmeasured = model.hardware.iter().filter(|used| used.kind == HardwareKind::Pull);
    unmeasured
        .filter_map(|used| {
            let part = used.part?;
            if model.stands_out.iter().any(|one| one.part == part && one.what == used.item) {
                return None;
            }
            let (motion, body) =
                model.motions.iter().zip(bodies).find(|(_, body)| body.parts.binary_search(&part).is_ok())?;
            let solid = model.part(part).placed;
            let mut where_it_is = solid;
            if let Way::Turn(turn) = motion.way {
                let leaf = body.parts.iter().filter(|own| model.is_of(**own, motion.moving));
                let leaf = leaf.map(|own| model.part(*own).placed).reduce(|a, b| a.hull(&b))?;
                let axis = turn.hinged.axis();
                let middle = leaf.face(axis.low()) + leaf.size(axis).half();
                let mut half = solid;
                half.set_face(
                    turn.hinged,
                    if turn.hinged.is_high() {
                        solid.face(turn.hinged).min(middle)
                    } else {
                        solid.face(turn.hinged).max(middle)
                    },
                );
                where_it_is = half.overlap(&solid).unwrap_or(solid);
            }
            let face = model.part(part).show.unwrap_or(Face::Front);
            Some(over(used.item.clone(), part, (face, PULL), &where_it_is, &solid, used.at.clone()))
        })
        .collect()
}

/// The plates of hinges whose height nobody said, about the holes for their screws.
fn plates(model: &Model) -> Vec<(StandsOut, PartId)> {
    let mut all = Vec::new();
    for &id in &model.hinges {
        let joint = model.joint(id);
        let Some(&case) = joint.into.first().filter(|_| joint.options.get("plate_height").is_none()) else { continue };
        let part = model.part(case);
        let mut holes: Vec<(Face, Solid)> =
            part.features.iter().filter(|cut| cut.joint == id).map(|cut| (cut.face, cut.solid)).collect();
        holes.sort_by_key(|(_, solid)| solid.face(Face::Bottom));
        for pair in holes.chunks(2) {
            let Some((face, plate)) = pair.iter().copied().reduce(|(face, a), (_, b)| (face, a.hull(&b))) else {
                continue;
            };
            let plate = face
                .axis()
                .others()
                .into_iter()
                .fold(plate, |plate, axis| plate.grown(axis.low(), PLATE_BEYOND).grown(axis.high(), PLATE_BEYOND));
            let plate = plate.overlap(&part.placed).unwrap_or(part.placed);
            let plate = over("hinge plate".to_owned(), case, (face, PLATE), &plate, &part.placed, joint.at.clone());
            all.push((plate, joint.member));
        }
    }
    all
}

/// Something that stands out from a face over a place on it.
fn over(
    what: String,
    part: PartId,
    (face, by): (Face, Length),
    place: &Solid,
    on: &Solid,
    at: Option<crate::diag::At>,
) -> StandsOut {
    let axes = face.axis().others();
    StandsOut {
        what,
        part,
        face,
        by,
        size: axes.map(|axis| place.size(axis)),
        middle: axes.map(|axis| Some(place.face(axis.low()) + place.size(axis).half() - on.face(axis.low()))),
        count: 1,
        at,
    }
}

/// What stands already where something may stand out, while all is closed: parts that do not move with it.
fn closed(subject: Subject<'_>, bodies: &[Body], assumed: &[StandsOut]) -> Vec<(usize, PartId)> {
    let model = subject.model;
    let material = subject.proof.material();
    let index = Index::new(model.parts.iter().map(|part| part.solid).collect());
    let mut found = Vec::new();
    for (nth, one) in assumed.iter().enumerate() {
        for solid in one.solids(model) {
            index.any(&solid, |at| {
                let part = PartId(u32::try_from(at).unwrap_or(u32::MAX));
                let together = part == one.part
                    || bodies
                        .iter()
                        .any(|body| [part, one.part].iter().all(|part| body.parts.binary_search(part).is_ok()));
                let fills =
                    |both: Solid| crate::base::Axis::ALL.into_iter().all(|axis| both.size(axis) > Length::SAME_SIZE);
                if !together && material.solids[at].iter().filter_map(|there| there.overlap(&solid)).any(fills) {
                    found.push((nth, part));
                }
                false
            });
        }
    }
    found.sort_unstable();
    found
}

fn name(model: &Model, thing: Thing, assumed: &[StandsOut]) -> String {
    match thing {
        Thing::Part(part) => {
            let piece = model.part(part).piece;
            let moves = model.motions.iter().any(|motion| motion.moving == Moving::Piece(piece));
            if moves { format!("`{}`", model.piece(piece).name) } else { format!("`{}`", model.full_name(part)) }
        }
        Thing::StandsOut(at) => {
            let known = model.stands_out.len();
            let one = if at < known { &model.stands_out[at] } else { &assumed[at - known] };
            format!("the {} on `{}`", one.what, model.full_name(one.part))
        }
        Thing::Obstacle(at) => format!("`{}`", model.obstacles[at].name),
    }
}

#[cfg(test)]
mod tests {
    use super::super::bench::{add, found, job, join, s, sheet};
    use super::*;
    use crate::model::{HardwareUnit, HardwareUse, Motion, Obstacle, Options, Turn, Value};

    /// A drawer front with a pull that comes out 10 in, and a wall so far before it when it is open; its figures may be given.
    fn drawer(apart: Length, given: bool) -> Vec<Finding> {
        let mut model = job();
        let drawer = model.add_piece("drawer", None);
        model.place(drawer, Model::ROOT, [Length::ZERO; 3]);
        let front = add(&mut model, drawer, "front", &sheet(12), [0, 0, 0], [320, 12, 80]);
        let (moving, way) = (Moving::Piece(drawer), Way::Slide { out: Face::Front, travel: s(160) });
        model.motions.push(Motion { moving, way, behind: vec![], with_open: vec![], opening: None, at: None });
        let mut wall = Solid::new([-Length::LIMIT; 3], [Length::LIMIT; 3]);
        wall.set_face(Face::Back, -s(160) - apart);
        model.obstacles.push(Obstacle { name: "wall".into(), solid: wall, at: None });
        model.hardware.push(HardwareUse {
            item: "pull".into(),
            kind: HardwareKind::Pull,
            size: None,
            gauge: None,
            quantity: 1,
            unit: HardwareUnit::Each,
            purpose: "drawer".into(),
            note: String::new(),
            slides: None,
            part: Some(front),
            at: None,
        });
        if given {
            let pull = over(
                "pull".into(),
                front,
                (Face::Front, s(2)),
                &model.part(front).placed,
                &model.part(front).placed,
                None,
            );
            model.stands_out.push(pull);
        }
        found(model, &CHECK)
    }

    #[test]
    fn a_pull_of_no_known_size_is_told_where_something_is_near() {
        // 40 mm are looked at, to a thousandth.
        let um = Length::from_um;
        assert_eq!([0, 1, 2].map(|less| drawer(PULL - um(less), false).len()), [0, 0, 1]);
        let told = &drawer(s(16), false)[0];
        assert!(told.message.contains("the pull on `drawer / front` may meet `wall`"), "{told}");
        assert_eq!(drawer(s(16), true), vec![]);
    }

    #[test]
    fn a_shelf_before_a_plate_of_no_known_height_is_told() {
        let told = |gap: Length, options: Options| {
            let mut model = job();
            let ply = sheet(12);
            let side = add(&mut model, Model::ROOT, "side", &ply, [0, 0, 0], [12, 192, 480]);
            let door = add(&mut model, Model::ROOT, "door", &ply, [1, -12, 0], [240, 0, 480]);
            // The lower hinge is 4 in from the end of the door.
            let shelf = add(&mut model, Model::ROOT, "shelf", &ply, [12, 0, 60], [240, 192, 72]);
            model.part_mut(shelf).placed.low[0] += gap;
            let way = Way::Turn(Turn { hinged: Face::Left, opens: Face::Front, line: Face::Front, degrees: 90 });
            model.motions.push(Motion {
                moving: Moving::Part(door),
                way,
                behind: vec![],
                with_open: vec![],
                opening: None,
                at: None,
            });
            join(&mut model, "hinge", door, &[side], options);
            found(model, &CHECK).len()
        };
        let um = Length::from_um;
        assert_eq!([0, 1, 2].map(|less| told(PLATE - um(less), Options::new())), [0, 0, 1]);
        assert_eq!(told(um(0), Options::new().with("plate_height", Value::Length(s(12)))), 0);
    }
}
