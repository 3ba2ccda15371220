//! A cut comes out of its part at a face where it should have a wall.

use std::collections::BTreeSet;

use super::thin_wall::least;
use super::{Check, MOST, Subject};
use crate::base::Length;
use crate::diag::Finding;
use crate::proof::walls::breaks_out;

/// The check.
pub(super) const CHECK: Check = Check {
    code: "breaks-out",
    summary: "a groove, a mortise or a hole comes out of its part at a face where it should have a wall",
    why: "A groove or dado holds by both its walls, a rabbet by its shoulder, a mortise and a hole by the wood all round. Where one of \
          these lies at the very edge of its part there is no such wall: the cut breaks out, and what is in it slides off.",
    source: "integer geometry; a thousandth of a millimetre is allowed",
    run,
};

fn run(subject: Subject<'_>, findings: &mut Vec<Finding>) {
    let model = subject.model;
    let print = model.printing;
    for (id, part) in model.part_ids() {
        let mut told: BTreeSet<_> = BTreeSet::new();
        for cut in &part.features {
            for face in breaks_out(part, cut) {
                // Of a row of holes one is told.
                if !told.insert((cut.name, cut.joint, face)) {
                    continue;
                }
                if findings.len() >= MOST {
                    return;
                }
                let joint = model.joint(cut.joint);
                let own = joint.member == id;
                let whose = if own { String::new() } else { format!(" for `{}`", model.full_name(joint.member)) };
                let over = cut.solid.face(face) - part.solid.face(face);
                let over = if face.is_high() { over } else { -over }.max(Length::ZERO);
                let message = format!(
                    "the {}{whose} comes out at the {} of `{}`, where it should have a wall: it ends {} beyond it",
                    cut.name,
                    face.name(),
                    model.full_name(id),
                    print.length(over)
                );
                let wall = print.length(over + least(&part.stock.material));
                findings.push(
                    Finding::error(CHECK.code, message)
                        .at(joint.at.clone())
                        .hint(format!(
                            "let `{}` go on beyond it, or move it {wall} away from there so that a wall stands, or use `rabbet` at an edge",
                            model.full_name(id)
                        ))
                        .source(CHECK.source),
                );
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::bench::{add, found, job, join, sheet};
    use super::*;
    use crate::base::Length;
    use crate::model::{Model, Options};

    #[test]
    fn a_dado_at_the_very_end_has_no_wall() {
        // A shelf flush with the top of a side, and so many micrometres below it. One is as good as flush.
        let build = |joint, below: i64| {
            let mut model = job();
            let ply = sheet(12);
            let side = add(&mut model, Model::ROOT, "side", &ply, [0, 0, 0], [12, 160, 320]);
            let top = add(&mut model, Model::ROOT, "top", &ply, [12, 0, 308], [300, 160, 320]);
            let placed = &mut model.part_mut(top).placed;
            placed.low[2] -= Length::from_um(below);
            placed.high[2] -= Length::from_um(below);
            join(&mut model, joint, top, &[side], Options::new());
            found(model, &CHECK)
        };
        assert_eq!((build("dado", 2).len(), build("dado", 1).len(), build("dado", 0).len()), (0, 1, 1));
        assert!(build("dado", 0)[0].message.contains("the dado for `top` comes out at the top of `side`"));
        assert_eq!(build("rabbet", 0), vec![]);
    }

    #[test]
    fn a_rabbet_as_wide_as_its_part_has_no_shoulder() {
        // A post 3/4 in thick against the edge of a rail that is as thick: the whole end is gone.
        let build = |thick: i64| {
            let mut model = job();
            let rail = add(&mut model, Model::ROOT, "rail", &sheet(12), [0, 0, 0], [160, 64, 12]);
            let panel = add(&mut model, Model::ROOT, "panel", &sheet(thick), [0, 64, 0], [160, 80, thick]);
            join(&mut model, "rabbet", panel, &[rail], Options::new());
            found(model, &CHECK)
        };
        assert_eq!(build(4), vec![]);
        assert_eq!(build(12).len(), 1);
    }
}
