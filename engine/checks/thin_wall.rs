//! Too little wood is left between a cut and the next one, or a face of its part.

use std::collections::BTreeMap;

use super::{Check, MOST, Subject};
use crate::base::{Face, Length};
use crate::diag::Finding;
use crate::model::{Feature, Material, Model, Part, PartId, Shape};
use crate::proof::walls::{Wall, thinner_than};

/// The check.
pub(super) const CHECK: Check = Check {
    code: "thin-wall",
    summary: "a cut or a hole leaves too little wood before the next one, or before a face of its part",
    why: "Wood that is left thin beside a groove breaks out as it is cut or when the joint is driven home; under a cut it shows \
          through or gives way. Solid wood and plywood keep 3 mm, MDF, particleboard and hardboard, which crumble at an edge, \
          4.5 mm; round holes and screws, and under them, 1/32 in (0.8 mm). What is left is measured on the finished part, from cut \
          to cut, whatever joint each belongs to. Holes are taken as the cuboid that holds them.",
    source: "common practice, no source",
    run,
};

// Common practice, no source: an eighth of an inch, or three millimetres, stands the chisel and the clamp.
const SOUND: Length = Length::from_mm(3);
// Common practice, no source: boards of fibres and chips crumble where half as much again would hold.
const CRUMBLY: Length = Length::from_um(4_500);
// Common practice, no source: what must stay between the tip of a screw, or a drill, and the far face.
const SKIN: Length = Length::from_inch(1, 32);

fn run(subject: Subject<'_>, findings: &mut Vec<Finding>) {
    let model = subject.model;
    for (id, part) in model.part_ids() {
        let least = least(&part.stock.material);
        // Rows of holes have the same wall many times: the thinnest of them is told.
        let mut thinnest: BTreeMap<_, Wall> = BTreeMap::new();
        for wall in thinner_than(part, least.max(SKIN)) {
            let is_hole = |at: usize| is_hole(&part.features[at]);
            let all_wood = !is_hole(wall.cut) && wall.beyond.is_none_or(|at| !is_hole(at));
            if !all_wood && wall.thickness >= SKIN {
                continue;
            }
            let of = |at: usize| (part.features[at].name, part.features[at].joint);
            let key = (of(wall.cut), wall.side, wall.beyond.map(of));
            let known = thinnest.entry(key).or_insert(wall);
            if wall.thickness < known.thickness {
                *known = wall;
            }
        }
        for wall in thinnest.values() {
            if findings.len() >= MOST {
                return;
            }
            findings.push(told(model, (id, part), wall, least));
        }
    }
}

/// What must be left beside a cut.
pub(super) fn least(material: &Material) -> Length {
    match material {
        Material::Mdf | Material::Particleboard | Material::Hardboard => CRUMBLY,
        _ => SOUND,
    }
}

fn is_hole(feature: &Feature) -> bool {
    matches!(feature.shape, Shape::Bore(_) | Shape::Screw { .. })
}

fn told(model: &Model, (id, part): (PartId, &Part), wall: &Wall, least: Length) -> Finding {
    let print = model.printing;
    let name = |cut: &Feature| {
        let joint = model.joint(cut.joint);
        if joint.member == id {
            format!("the {}", cut.name)
        } else {
            format!("the {} for `{}`", cut.name, model.full_name(joint.member))
        }
    };
    let cut = &part.features[wall.cut];
    let beyond = wall.beyond.map(|at| &part.features[at]);
    let least = if is_hole(cut) || beyond.is_some_and(is_hole) { SKIN } else { least };
    let place = match beyond {
        Some(beyond) => name(beyond),
        None => format!("the {} of `{}`", wall.side.name(), model.full_name(id)),
    };
    let message = format!(
        "in `{}`, {} leaves only {} of {} before {place}; {} is the least",
        model.full_name(id),
        name(cut),
        print.length(wall.thickness),
        part.stock.name,
        print.length(least)
    );
    let missing = print.length(least - wall.thickness);
    let hint = if wall.side == cut.face.opposite() {
        format!("make it {missing} less deep, or the part thicker")
    } else {
        format!("move one of them {missing} {}, or make it narrower", apart(wall.side))
    };
    Finding::warning(CHECK.code, message).at(model.joint(cut.joint).at.clone()).hint(hint).source(CHECK.source)
}

/// The way from one another.
fn apart(side: Face) -> &'static str {
    match side {
        Face::Left | Face::Right => "across",
        Face::Front | Face::Back => "front to back",
        Face::Bottom | Face::Top => "up or down",
    }
}

#[cfg(test)]
mod tests {
    use super::super::bench::{add, found, job, join, s, sheet};
    use super::*;
    use crate::model::{Options, Value};

    /// A side of MDF or plywood 1/2 in thick with a bottom in its groove, so high above its lower edge, and so deep a groove.
    fn side(material: Material, up: Length, depth: Length) -> Vec<Finding> {
        let mut model = job();
        let mut stock = sheet(8);
        stock.material = material;
        let side = add(&mut model, Model::ROOT, "side", &stock, [0, 0, 0], [8, 320, 64]);
        let bottom = add(&mut model, Model::ROOT, "bottom", &sheet(4), [8, 0, 0], [160, 320, 4]);
        let placed = &mut model.part_mut(bottom).placed;
        placed.low[2] += up;
        placed.high[2] += up;
        join(&mut model, "groove", bottom, &[side], Options::new().with("depth", Value::Length(depth)));
        found(model, &CHECK)
    }

    #[test]
    fn a_wall_beside_a_groove_keeps_its_limit_to_a_thousandth() {
        let (mm, um) = (Length::from_mm, Length::from_um);
        for (material, least) in [(Material::HardwoodPlywood, mm(3)), (Material::Mdf, um(4_500))] {
            assert_eq!(side(material.clone(), least, s(4)), vec![], "{material:?}");
            let told = side(material, least - um(1), s(4));
            assert!(told.len() == 1 && told[0].message.contains("before the bottom of `side`"), "{told:?}");
        }
    }

    #[test]
    fn a_floor_keeps_its_limit_to_a_thousandth() {
        let (mm, um) = (Length::from_mm, Length::from_um);
        // 1/2 in is 12.7 mm: 9.7 mm deep leaves 3 mm.
        assert_eq!(side(Material::HardwoodPlywood, s(8), um(9_700)), vec![]);
        let told = side(Material::HardwoodPlywood, s(8), um(9_701));
        assert!(told.len() == 1 && told[0].message.contains("before the left of `side`"), "{told:?}");
        assert!(told[0].hint.as_ref().unwrap().contains("less deep"), "{}", told[0]);
        assert_eq!(side(Material::Mdf, s(8), mm(9)).len(), 1);
    }

    #[test]
    fn shelves_on_both_sides_of_a_divider_leave_wood_between() {
        // Dados from both sides, each a third of 3/4 in deep, leave 1/4 in; 5/16 + 5/16 leave 1/8 = 3.175 mm. Deeper ones by so much
        // more leave less than 3 mm.
        let build = |more: i64| {
            let mut model = job();
            let ply = sheet(12);
            let divider = add(&mut model, Model::ROOT, "divider", &ply, [160, 0, 0], [172, 160, 320]);
            for (name, low, high) in [("left", [0, 0, 100], [160, 160, 112]), ("right", [172, 0, 100], [320, 160, 112])]
            {
                let shelf = add(&mut model, Model::ROOT, name, &ply, low, high);
                let depth = s(5) + if name == "left" { Length::from_um(more) } else { Length::ZERO };
                join(&mut model, "dado", shelf, &[divider], Options::new().with("depth", Value::Length(depth)));
            }
            found(model, &CHECK)
        };
        assert_eq!(build(175), vec![]);
        let told = build(176);
        assert!(told.len() == 1 && told[0].message.contains("before the dado for `right`"), "{told:?}");
    }

    #[test]
    fn the_tip_of_a_screw_keeps_its_skin() {
        // Screws of 1 in through a cleat of 1/2 in go 1/2 in into a divider of 3/4 in. A dado behind them, 7/32 in deep, leaves 1/32.
        let build = |more: i64| {
            let mut model = job();
            let divider = add(&mut model, Model::ROOT, "divider", &sheet(12), [160, 0, 0], [172, 160, 320]);
            let cleat = add(&mut model, Model::ROOT, "cleat", &sheet(8), [152, 0, 96], [160, 160, 116]);
            let shelf = add(&mut model, Model::ROOT, "shelf", &sheet(12), [172, 0, 100], [320, 160, 112]);
            let depth = Length::from_inch(7, 32) + Length::from_um(more);
            join(&mut model, "dado", shelf, &[divider], Options::new().with("depth", Value::Length(depth)));
            let screws = Options::new().with("with", Value::Text("screws".into())).with("screw", Value::Length(s(16)));
            join(&mut model, "butt", divider, &[cleat], screws);
            found(model, &CHECK)
        };
        assert_eq!(build(0), vec![]);
        let told = build(1);
        assert!(told.len() == 1 && told[0].message.contains("the pilot hole"), "{told:?}");
    }
}
