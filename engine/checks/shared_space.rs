//! Two parts claim the same space.

use super::{Check, MOST, Subject};
use crate::base::{Axis, Length, Solid};
use crate::diag::Finding;
use crate::model::{Feature, Model, PartId, Shape};
use crate::proof::index::Index;

/// The check.
pub(super) const CHECK: Check = Check {
    code: "shared-space",
    summary: "two parts claim the same space",
    why: "Where two cuboids overlap, the material of one must have been cut away by a joint. What is left of the overlap after the \
          cuts of both parts is material that would have to be in two places. Nor may a part, or what stands out of one (a pull, the \
          plate of a hinge), be where an obstacle stands, or another part's pull or plate.",
    source: "integer geometry; a thousandth of a millimetre is allowed",
    run,
};

fn run(subject: Subject<'_>, findings: &mut Vec<Finding>) {
    let model = subject.model;
    let index = Index::new(model.parts.iter().map(|part| part.solid).collect());
    let ids: Vec<PartId> = model.part_ids().map(|(id, _)| id).collect();
    let mut faults: Vec<(PartId, PartId, Solid)> = Vec::new();
    let mut budget = MOST_STEPS;
    index.pairs(|a, b| {
        if faults.len() < MOST
            && budget > 0
            && let Some(rest) = claimed_twice(model, ids[a], ids[b], &mut budget)
        {
            faults.push((ids[a], ids[b], rest));
        }
    });
    faults.sort_by_key(|(a, b, _)| (*a, *b));
    for (a, b, rest) in faults {
        findings.push(told(model, a, b, &rest));
    }
    for (own, other, rest) in beside_parts(model, &index, &mut budget) {
        findings.push(meets(model, own, other, &rest));
    }
    if budget == 0 {
        findings.push(
            Finding::error(CHECK.code, "the parts overlap, and are cut, in more ways than can be proved to fit")
                .hint("draw them in several jobs")
                .source(CHECK.source),
        );
    }
}

/// Cuboids looked at before the proof is given up: thousands of times what a large job takes.
const MOST_STEPS: usize = 5_000_000;

/// The largest cuboid that both parts still claim once the cuts of both are taken away.
fn claimed_twice(model: &Model, a: PartId, b: PartId, budget: &mut usize) -> Option<Solid> {
    // The two halves of a bevelled corner belong to the two parts of its joint; against any other part the cut counts for nothing.
    let counts = |cut: &&Feature| {
        let joint = model.joint(cut.joint);
        let of = |part: PartId| joint.member == part || joint.into.contains(&part);
        !matches!(cut.shape, Shape::Bevel { .. }) || (of(a) && of(b))
    };
    let both = model.part(a).solid.overlap(&model.part(b).solid)?;
    let cuts = model.part(a).features.iter().chain(&model.part(b).features);
    let mut left = vec![both];
    let mut next = Vec::new();
    for cut in cuts.filter(|cut| cut.solid.overlap(&both).is_some()).filter(counts) {
        *budget = budget.saturating_sub(left.len());
        if *budget == 0 {
            return None;
        }
        next.clear();
        for solid in &left {
            solid.less_into(&cut.solid, &mut next);
        }
        std::mem::swap(&mut left, &mut next);
    }
    largest(left)
}

fn told(model: &Model, a: PartId, b: PartId, rest: &Solid) -> Finding {
    let print = model.printing;
    let sizes = Axis::ALL.map(|axis| print.length(rest.size(axis))).join(" x ");
    let (size, axis) =
        Axis::ALL.map(|axis| (rest.size(axis), axis)).into_iter().min().unwrap_or((Length::ZERO, Axis::X));
    Finding::error(
        CHECK.code,
        format!(
            "`{}` and `{}` both claim the same {sizes} (width x depth x height)",
            model.full_name(a),
            model.full_name(b)
        ),
    )
    .at(model.part(b).at.clone().or_else(|| model.part(a).at.clone()))
    .hint(format!("move one of them {} {}, or let a joint cut it", print.length(size), axis.run_name()))
    .source(CHECK.source)
}

/// What takes room and is no part, by its place in the model.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Extra {
    StandsOut(usize),
    Obstacle(usize),
}

/// What an [`Extra`] shares space with.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Met {
    Part(PartId),
    Extra(Extra),
}

/// What stands out of a part, or stands there already, and has a part or another such thing in its space.
fn beside_parts(model: &Model, parts: &Index, budget: &mut usize) -> Vec<(Extra, Met, Solid)> {
    let stands_out = model.stands_out.iter().enumerate();
    let mut extras: Vec<(Extra, Solid)> = stands_out
        .flat_map(|(at, one)| one.solids(model).into_iter().map(move |solid| (Extra::StandsOut(at), solid)))
        .collect();
    extras.extend(model.obstacles.iter().enumerate().map(|(at, one)| (Extra::Obstacle(at), one.solid)));
    let fixed_to = |extra: Extra| match extra {
        Extra::StandsOut(at) => Some(model.stands_out[at].part),
        Extra::Obstacle(_) => None,
    };
    let among = Index::new(extras.iter().map(|&(_, solid)| solid).collect());
    let ids: Vec<PartId> = model.part_ids().map(|(id, _)| id).collect();
    let mut found: Vec<(Extra, Met, Solid)> = Vec::new();
    for (place, (own, solid)) in extras.iter().enumerate() {
        let mut met = |other: Met, left: Vec<Solid>| {
            let known = found.iter().any(|(known, with, _)| known == own && *with == other);
            if let Some(rest) = largest(left).filter(|_| !known) {
                found.push((*own, other, rest));
            }
            found.len() >= MOST
        };
        let stop = parts.any(solid, |at| {
            let Some(both) = model.part(ids[at]).solid.overlap(solid).filter(|_| fixed_to(*own) != Some(ids[at]))
            else {
                return false;
            };
            let cuts = model.part(ids[at]).features.iter().map(|cut| &cut.solid);
            *budget = budget.saturating_sub(model.part(ids[at]).features.len() + 1);
            *budget == 0 || met(Met::Part(ids[at]), both.less_all(cuts))
        });
        let stop = stop
            || among.any(solid, |at| {
                let (other, there) = extras[at];
                // Two obstacles may stand in one place: a wall and a pipe in it. What is on one part was put there together.
                let apart = at > place && fixed_to(*own) != fixed_to(other);
                apart && there.overlap(solid).is_some_and(|both| met(Met::Extra(other), vec![both]))
            });
        if stop {
            break;
        }
    }
    found
}

fn meets(model: &Model, own: Extra, other: Met, rest: &Solid) -> Finding {
    let print = model.printing;
    let name = |extra: Extra| match extra {
        Extra::StandsOut(at) => {
            let one = &model.stands_out[at];
            format!("the {} on `{}`", one.what, model.full_name(one.part))
        }
        Extra::Obstacle(at) => format!("`{}`", model.obstacles[at].name),
    };
    let line = |extra: Extra| match extra {
        Extra::StandsOut(at) => model.stands_out[at].at.clone(),
        Extra::Obstacle(at) => model.obstacles[at].at.clone(),
    };
    // What is built is told first, at its own line: it is what will be moved.
    let (first, second, at) = match (own, other) {
        (Extra::Obstacle(_), Met::Part(part)) => {
            (format!("`{}`", model.full_name(part)), name(own), model.part(part).at.clone())
        }
        (_, Met::Part(part)) => (name(own), format!("`{}`", model.full_name(part)), line(own)),
        (_, Met::Extra(extra)) => (name(own), name(extra), line(own).or_else(|| line(extra))),
    };
    let sizes = Axis::ALL.map(|axis| print.length(rest.size(axis))).join(" x ");
    let (size, axis) =
        Axis::ALL.map(|axis| (rest.size(axis), axis)).into_iter().min().unwrap_or((Length::ZERO, Axis::X));
    Finding::error(CHECK.code, format!("{first} and {second} both claim the same {sizes} (width x depth x height)"))
        .at(at)
        .hint(format!("move {first} {} {}", print.length(size), axis.run_name()))
        .source(CHECK.source)
}

/// The largest of these cuboids that is more than a touch.
fn largest(left: Vec<Solid>) -> Option<Solid> {
    left.into_iter()
        .filter(|rest| Axis::ALL.iter().all(|&axis| rest.size(axis) > Length::SAME_SIZE))
        .max_by_key(Solid::volume)
}

#[cfg(test)]
mod tests {
    use super::super::bench::{add, found, job, join, s, sheet};
    use super::*;
    use crate::base::Face;
    use crate::model::{Obstacle, Options, StandsOut};

    #[test]
    fn a_case_stands_before_its_wall_to_a_thousandth() {
        let build = |more: i64| {
            let mut model = job();
            add(&mut model, Model::ROOT, "back", &sheet(12), [0, 148, 0], [320, 160, 480]);
            let mut solid = Solid::new([-Obstacle::WITHOUT_END; 3], [Obstacle::WITHOUT_END; 3]);
            solid.low[1] = s(160) - Length::from_um(more);
            model.obstacles.push(Obstacle { name: "wall".into(), solid, at: None });
            found(model, &CHECK)
        };
        assert_eq!([0, 1, 2].map(|more| build(more).len()), [0, 0, 1]);
        // 1/4 in of a back 20 in wide and 30 in high.
        let told = &build(6_350)[0];
        assert!(told.message.contains("`back` and `wall` both claim the same 20\" x 1/4\" x 30\""), "{told}");
        assert!(told.hint.as_ref().unwrap().contains("move `back` 1/4\" front to back"), "{told}");
    }

    #[test]
    fn a_plate_and_a_closed_drawer_share_nothing() {
        // A plate 1/2 in out of a side, and a box with that room beside it, a thousandth less, and two.
        let build = |more: i64, pulls: usize| {
            let mut model = job();
            let ply = sheet(12);
            let side = add(&mut model, Model::ROOT, "side", &ply, [-12, 0, 0], [0, 320, 480]);
            let drawer = add(&mut model, Model::ROOT, "drawer", &ply, [8, 0, 0], [20, 320, 480]);
            model.part_mut(drawer).placed.low[0] -= Length::from_um(more);
            let plate = |part, face| StandsOut {
                what: "plate".into(),
                part,
                face,
                by: s(8),
                size: [s(16), s(32)],
                middle: [None, None],
                count: 1,
                at: None,
            };
            model.stands_out.push(plate(side, Face::Right));
            for _ in 0..pulls {
                model.stands_out.push(plate(drawer, Face::Left));
            }
            found(model, &CHECK)
        };
        assert_eq!([0, 1, 2].map(|more| build(more, 0).len()), [0, 0, 1]);
        assert!(build(2, 0)[0].message.contains("the plate on `side` and `drawer`"));
        // Something on the drawer meets the plate as well; what is on the drawer together does not count.
        assert_eq!(build(0, 2).len(), 2);
    }

    #[test]
    fn a_tongue_in_its_dado_shares_nothing() {
        let mut model = job();
        let ply = sheet(12);
        let side = add(&mut model, Model::ROOT, "side", &ply, [0, 0, 0], [12, 160, 320]);
        let shelf = add(&mut model, Model::ROOT, "shelf", &ply, [12, 0, 100], [300, 160, 112]);
        join(&mut model, "dado", shelf, &[side], Options::new());
        assert_eq!(found(model, &CHECK), vec![]);
    }

    #[test]
    fn an_end_in_two_dados_grows_once() {
        // A divider up to two stretchers: its upper end goes a quarter of an inch into both, not half an inch.
        let mut model = job();
        let ply = sheet(12);
        let divider = add(&mut model, Model::ROOT, "divider", &ply, [100, 0, 0], [112, 320, 400]);
        let front = add(&mut model, Model::ROOT, "stretcher", &ply, [0, 0, 400], [300, 64, 412]);
        let rear = add(&mut model, Model::ROOT, "stretcher", &ply, [0, 256, 400], [300, 320, 412]);
        join(&mut model, "dado", divider, &[front], Options::new());
        join(&mut model, "dado", divider, &[rear], Options::new());
        assert_eq!(found(model.clone(), &CHECK), vec![]);
        crate::joints::make(&mut model, &crate::model::Shop::default());
        assert_eq!(model.part(divider).solid.high[2], Length::from_inch(404, 16));
    }

    #[test]
    fn a_mitred_corner_belongs_to_its_two_parts_alone() {
        // A block behind the corner of a stile and a rail: a thousandth into it is touching, two are not, for either of them.
        let build = |more: i64| {
            let mut model = job();
            let ply = sheet(12);
            let stile = add(&mut model, Model::ROOT, "stile", &ply, [0, 0, 0], [32, 12, 320]);
            let rail = add(&mut model, Model::ROOT, "rail", &ply, [32, 0, 0], [224, 12, 32]);
            join(&mut model, "mitre", rail, &[stile], Options::new());
            let block = add(&mut model, Model::ROOT, "block", &ply, [0, 12, 0], [32, 24, 32]);
            model.part_mut(block).placed.low[1] -= Length::from_um(more);
            found(model, &CHECK).len()
        };
        assert_eq!([build(0), build(1), build(2)], [0, 0, 2]);
    }

    #[test]
    fn parts_in_one_place_are_told_with_how_much() {
        let build = |left: i64, more: i64| {
            let mut model = job();
            let ply = sheet(12);
            add(&mut model, Model::ROOT, "side", &ply, [0, 0, 0], [12, 160, 320]);
            let shelf = add(&mut model, Model::ROOT, "shelf", &ply, [left, 0, 100], [300, 160, 112]);
            model.part_mut(shelf).placed.low[0] -= Length::from_um(more);
            found(model, &CHECK)
        };
        assert!(build(12, 0).is_empty());
        assert!(build(12, 1).is_empty());
        assert_eq!(build(12, 2).len(), 1);
        let findings = build(10, 0);
        assert!(findings[0].message.contains("1/8\" x 10\" x 3/4\""), "{}", findings[0]);
    }
}
