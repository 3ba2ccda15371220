//! Screws go into the edge of a panel that splits.

use super::{Check, MOST, Subject};
use crate::diag::Finding;
use crate::model::{Material, Shape};

/// The check.
pub(super) const CHECK: Check = Check {
    code: "screws-in-panel-edge",
    summary: "screws go into the edge of MDF or particleboard",
    why: "These panels are weakest in the middle of their thickness: a screw driven into an edge opens it like a book. Drill the pilot to \
          the full root of the screw and deeper than it goes, keep well away from the ends, clamp the faces, and let glue, dowels or \
          a dado carry the load. No figure of a standard was found for it, so this is a note.",
    source: "common practice, no source",
    run,
};

fn run(subject: Subject<'_>, findings: &mut Vec<Finding>) {
    let model = subject.model;
    for (id, part) in model.part_ids() {
        let splits = matches!(part.stock.material, Material::Mdf | Material::Particleboard);
        // A pilot hole or a screw that enters through an edge; a pocket hole is drilled from a broad face.
        let screw = part.features.iter().find(|feature| {
            let bites = match feature.shape {
                Shape::Screw { .. } => true,
                Shape::Bore(_) => feature.name == "pilot hole",
                _ => false,
            };
            bites && feature.face.axis() != part.thickness
        });
        let Some(screw) = screw.filter(|_| splits) else { continue };
        if findings.len() >= MOST {
            return;
        }
        let message = format!("screws go into an edge of `{}`, which is {}", model.full_name(id), part.stock.name);
        let at = model.joints.get(screw.joint.0 as usize).and_then(|joint| joint.at.clone());
        findings.push(
            Finding::note(CHECK.code, message)
                .at(at.or_else(|| part.at.clone()))
                .hint("drill the pilots to the screw's root and stay away from the ends; a dado or dowels with glue hold better")
                .source(CHECK.source),
        );
    }
}

#[cfg(test)]
mod tests {
    use super::super::bench::{add, found, job, join, sheet};
    use super::*;
    use crate::model::{Model, Options, Value};

    #[test]
    fn an_edge_of_fibreboard_is_told_and_plywood_is_not() {
        let build = |material: Material| {
            let mut model = job();
            let mut stock = sheet(12);
            stock.material = material;
            let side = add(&mut model, Model::ROOT, "side", &stock, [0, 0, 0], [12, 160, 320]);
            let shelf = add(&mut model, Model::ROOT, "bottom", &stock, [12, 0, 0], [320, 160, 12]);
            join(&mut model, "butt", shelf, &[side], Options::new().with("with", Value::Text("screws".into())));
            found(model, &CHECK)
        };
        assert!(build(Material::HardwoodPlywood).is_empty());
        let findings = build(Material::Mdf);
        assert_eq!(findings.len(), 1);
        assert!(findings[0].message.contains("`bottom`"), "{}", findings[0]);
    }
}
