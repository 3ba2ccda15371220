//! A drawer slides along something with nothing between.

use super::{Check, Hung, MOST, Subject};
use crate::base::{Axis, Face, Length, Solid};
use crate::diag::Finding;
use crate::model::{Model, Moving, PartId, Way};
use crate::proof::index::Index;

/// The check.
pub(super) const CHECK: Check = Check {
    code: "drawer-rubs",
    summary: "a drawer on slides would rub along what is over, under or beside it",
    why: "A drawer on bought slides hangs free: what lies against it closed, or on its way out, rubs, and binds as soon as a cut is a hair \
          off or the wood swells. A gap of a thousandth of a millimetre is none. Drawers on runners that are made in the shop \
          slide on them, and are not looked at.",
    source: "common practice, no source; a thousandth of a millimetre is allowed",
    run,
};

fn run(subject: Subject<'_>, findings: &mut Vec<Finding>) {
    let model = subject.model;
    let material = subject.proof.material();
    let mut index = None;
    for Hung { fit, used, opening, bounds, .. } in subject.hung() {
        let moving = Moving::Piece(fit.carries);
        let found = model.motions.iter().zip(subject.proof.bodies()).find(|(motion, _)| motion.moving == moving);
        let Some((motion, body)) = found.filter(|_| !fit.slides.lengths.is_empty()) else { continue };
        let Way::Slide { out, travel } = motion.way else { continue };
        let index = index.get_or_insert_with(|| Index::new(model.parts.iter().map(|part| part.solid).collect()));
        let mut rubs: Option<(String, Face)> = None;
        for &own in &body.parts {
            let mut around = model.part(own).solid.grown(out, travel);
            for axis in out.axis().others() {
                around = around.grown(axis.low(), Length::SAME_SIZE * 2).grown(axis.high(), Length::SAME_SIZE * 2);
            }
            index.any(&around, |at| {
                let other = PartId(u32::try_from(at).unwrap_or(u32::MAX));
                if rubs.is_none() && body.parts.binary_search(&other).is_err() && !is_joined(model, own, other) {
                    let solids = &material.solids[own.0 as usize];
                    let mut meets =
                        solids.iter().flat_map(|own| material.solids[at].iter().map(move |there| (own, there)));
                    let face = meets.find_map(|(own, there)| rubbed(&own.grown(out, travel), there, out.axis()));
                    rubs = face.map(|face| (format!("`{}`", model.full_name(other)), face));
                }
                rubs.is_some()
            });
        }
        // An opening that was measured has a floor and a top, whether they are drawn or not.
        let beyond = [Face::Bottom, Face::Top].into_iter().find(|&face| {
            let gap = opening.solid.face(face) - bounds.face(face);
            (if face.is_high() { gap } else { -gap }).abs() <= Length::SAME_SIZE
        });
        rubs = rubs.or_else(|| beyond.map(|face| (format!("the {} of `{}`", face.name(), opening.name), face)));
        if let Some((what, face)) = rubs {
            let name = model.moving_name(moving);
            let message =
                format!("`{name}` would rub along {what}: there is nothing between them at its {}", face.name());
            findings.push(
                Finding::warning(CHECK.code, message)
                    .at(used.at.clone())
                    .hint("leave 1/16 in (1.5 mm) or more between them")
                    .source(CHECK.source),
            );
        }
        if findings.len() >= MOST {
            return;
        }
    }
}

/// The side of a way at which a cuboid lies against it, over more than an edge.
fn rubbed(way: &Solid, there: &Solid, along: Axis) -> Option<Face> {
    let shared = |axis: Axis| {
        way.face(axis.high()).min(there.face(axis.high())) - way.face(axis.low()).max(there.face(axis.low()))
    };
    let [a, b] = along.others();
    [(a, b), (b, a)]
        .into_iter()
        .flat_map(|(across, beside)| [(across.low(), beside), (across.high(), beside)])
        .find_map(|(face, beside)| {
            let touches = way.face(face).same_size(there.face(face.opposite()));
            let runs = shared(along) > Length::SAME_SIZE && shared(beside) > Length::SAME_SIZE;
            (touches && runs).then_some(face)
        })
}

fn is_joined(model: &Model, a: PartId, b: PartId) -> bool {
    model.joints.iter().any(|joint| {
        let of = |part| joint.member == part || joint.into.contains(&part);
        of(a) && of(b)
    })
}

#[cfg(test)]
mod tests {
    use super::super::bench::{add, bay, found, hang, job, s, sheet, slides};
    use super::*;
    use crate::model::Motion;

    /// A box 4 in high, 1/2 in over the floor of an opening 6 in high, and a rail over it, so many micrometres lower than it was.
    fn under_rail(lower: i64, up: i64) -> Vec<Finding> {
        let mut model = job();
        let drawer = model.add_piece("drawer", None);
        model.place(drawer, Model::ROOT, [s(8), Length::ZERO, s(up)]);
        add(&mut model, drawer, "front", &sheet(8), [0, 0, 0], [368, 320, 64]);
        let rail = add(&mut model, Model::ROOT, "rail", &sheet(12), [0, 0, 73], [384, 32, 85]);
        let placed = &mut model.part_mut(rail).placed;
        *placed = placed.shifted([Length::ZERO, Length::ZERO, -Length::from_um(lower)]);
        let opening = bay(&mut model, [s(384), s(352), s(96)]);
        hang(&mut model, drawer, opening, slides());
        let way = Way::Slide { out: Face::Front, travel: s(320) };
        let moving = Moving::Piece(drawer);
        model.motions.push(Motion { moving, way, behind: vec![], with_open: vec![], opening: Some(opening), at: None });
        found(model, &CHECK)
    }

    #[test]
    fn a_gap_of_a_thousandth_is_none() {
        // 8 + 64 = 72, and the rail begins at 73: 1/16 in is 1587.5 micrometres, so that 1585.5 lower leaves 2, and 1586.5 one.
        assert_eq!([0, 1_585, 1_587].map(|lower| under_rail(lower, 8).len()), [0, 0, 1]);
        let told = &under_rail(1_587, 8)[0];
        assert!(told.message.contains("would rub along `rail`"), "{told}");
        // On the floor of the opening.
        assert!(under_rail(0, 0)[0].message.contains("the bottom of `bay`"));
    }
}
