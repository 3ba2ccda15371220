//! A shelf sags.

use super::{Check, MOST, Subject};
use crate::base::{Axis, Length, Printing, Unit};
use crate::catalog;
use crate::diag::Finding;
use crate::model::{Bearer, Load, Model, Part, PartId};
use crate::physics::{self, Beam, POUND, Stiffness, Ties};

/// The check.
pub(super) const CHECK: Check = Check {
    code: "shelf-sag",
    summary: "a shelf would sag more than a 144th of its span",
    why: "A part is looked at when the recipe gives it a `load`, or when it lies flat and is called a shelf: then 40 lb/ft2 (195 \
          kg/m2) are assumed, and no more than 200 lb (91 kg) on it. It is reckoned as a beam that rests on its supports, \
          5 w L^4 / (384 E I) over the clear span between them: the parts that joints tie it to and that begin below it, or its own \
          ends when it rests on pins. A shelf in dados is reckoned the same. Its own weight, a lipping and a back that it is screwed \
          to are not counted; the first makes it sag a little more, the others less. The load of a board or sheet that lies for years \
          may make it sag half as much again.",
    source: "Architectural Woodwork Standards (2009), 1.2.21 and 4.4.14.10: L/144, 40 lb/ft2, not over 200 lb on any shelf; stiffness \
             from the Wood Handbook (FPL-GTR-190); creep from mdf-info.eu, mdf-shelves-and-storage-units",
    run,
};

// SEEN: Architectural Woodwork Standards (2009), 1.2.21.
const LIMIT: f64 = 144.0;
const ASSUMED: f64 = 40.0 * POUND / (304.8 * 304.8);
const MOST_ASSUMED: f64 = 200.0 * POUND;

fn run(subject: Subject<'_>, findings: &mut Vec<Finding>) {
    let model = subject.model;
    let mut loads: Vec<Vec<&Load>> = vec![Vec::new(); model.parts.len()];
    for load in &model.loads {
        if let Bearer::Part(part) = load.on {
            loads[part.0 as usize].push(load);
        }
    }
    let mut in_drawer = vec![false; model.parts.len()];
    for id in physics::drawers(model).iter().flat_map(|drawer| &drawer.parts) {
        in_drawer[id.0 as usize] = true;
    }
    let ties = Ties::of(model);
    for (id, part) in model.part_ids() {
        let loads = &loads[id.0 as usize];
        let is_shelf = part.thickness == Axis::Z && !in_drawer[id.0 as usize] && is_called_shelf(&part.name);
        if findings.len() >= MOST {
            return;
        }
        if !loads.is_empty() || is_shelf {
            findings.extend(judge(model, &ties, id, part, loads));
        }
    }
}

/// Whether a name has the word shelf in it.
pub(super) fn is_called_shelf(name: &str) -> bool {
    name.split(|c: char| !c.is_alphabetic()).any(|word| word.eq_ignore_ascii_case("shelf"))
}

fn judge(model: &Model, ties: &Ties, id: PartId, part: &Part, loads: &[&Load]) -> Option<Finding> {
    let name = model.full_name(id);
    let at = loads.first().map_or(&part.at, |load| &load.at).clone();
    let (long, wide) = physics::floor(&part.placed);
    let area = long * wide;
    let load = if loads.is_empty() {
        ASSUMED.min(MOST_ASSUMED / area)
    } else {
        loads.iter().map(|load| physics::of_load(load, long, wide)).sum::<f64>() / area
    };
    if load <= 0.0 {
        return None;
    }
    let judged: Vec<(Beam, Axis, Stiffness)> = physics::spans(model, ties, id)
        .into_iter()
        .filter_map(|span| {
            let stiffness = physics::stiffness(part, span.axis)?;
            let height = part.solid.size(Axis::Z).mm_f64();
            Some((
                Beam { span: span.clear.mm_f64(), height, elasticity: stiffness.elasticity, load },
                span.axis,
                stiffness,
            ))
        })
        .collect();
    // Held both ways, it sags no more than the stiffer way lets it.
    let stiffest = judged.into_iter().reduce(|a, b| if b.0.sag() < a.0.sag() { b } else { a });
    let Some((beam, axis, stiffness)) = stiffest else {
        let message =
            format!("how stiff {} is is not known, so that the sag of `{name}` is not judged", part.stock.name);
        let hint = "say its `material` where the stock is made, or keep to what its maker says";
        return Some(Finding::note(CHECK.code, message).at(at).hint(hint).source(CHECK.source));
    };
    let limit = beam.span / LIMIT;
    if beam.sag() <= limit {
        return None;
    }
    let print = model.printing;
    let size = |mm: f64| print.length(rule(mm, print));
    let under = match loads {
        [] => "the 40 lb/ft2 (195 kg/m2) that are assumed for a shelf".to_owned(),
        [one] => one.to_string(),
        several => format!("the {} loads on it", several.len()),
    };
    let across = if stiffness.across { ", across its grain" } else { "" };
    let message = format!(
        "`{name}` would sag {} under {under} over a clear span of {}{across}; the limit is {}, a 144th of the span, and the years may add \
         half as much again",
        size(beam.sag()),
        size(beam.span),
        size(limit)
    );
    Some(Finding::warning(CHECK.code, message).at(at).hint(cure(model, part, &beam, axis, loads)).source(CHECK.source))
}

/// A span that holds, or a thickness, or another material; and what else to say.
fn cure(model: &Model, part: &Part, beam: &Beam, axis: Axis, loads: &[&Load]) -> String {
    let print = model.printing;
    let step = match print.unit {
        Unit::Inch => Length::from_inch(1, 8),
        Unit::Millimetre => Length::from_mm(1),
    };
    let down = rule(beam.longest_span(LIMIT), print).to_nearest(step);
    let down = if down.mm_f64() > beam.longest_span(LIMIT) { down - step } else { down };
    let up = rule(beam.least_height(LIMIT), print).to_nearest(step);
    let up = if up.mm_f64() < beam.least_height(LIMIT) { up + step } else { up };
    let mut words = if down.is_positive() {
        format!(
            "keep the span {} to {} or less, or make it {} thick",
            axis.run_name(),
            print.length(down),
            print.length(up)
        )
    } else {
        format!("make it {} thick, or support it in between", print.length(up))
    };
    if catalog::properties(&part.stock.material).is_some_and(|material| material.also.is_empty()) {
        words += "; solid wood and a lipping on edge are stiffer";
    }
    if loads.is_empty() {
        words += "; if it carries less, say so with `load`";
    }
    words
}

/// A reckoned size as the shop's rule reads it: more digits would say more than the tables know.
fn rule(mm: f64, print: Printing) -> Length {
    // No size goes beyond the limit of lengths, whatever lies on a shelf.
    let um = (mm * 1_000.0).round().min(Length::LIMIT.mm_f64() * 1_000.0);
    let length = Length::from_um(num_traits::ToPrimitive::to_i64(&um).unwrap_or(0));
    length.to_nearest(match print.unit {
        Unit::Inch => Length::from_inch(1, print.denominator),
        Unit::Millimetre => Length::from_um(100),
    })
}

#[cfg(test)]
mod tests {
    use super::super::bench::{add, found, job, join, s, sheet};
    use super::*;
    use crate::base::{Ratio, Solid};
    use crate::model::{LoadUnit, Material, Options};

    /// A shelf of red oak, 3/4 in thick and 12 in deep, on dados in two sides that stand a number of nanometres apart.
    fn oak_shelf(clear: Length, name: &str) -> Model {
        let mut model = job();
        let mut oak = sheet(12);
        oak.material = Material::Wood("red oak".into());
        let left = add(&mut model, Model::ROOT, "side", &oak, [0, 0, 0], [12, 192, 640]);
        let shelf = add(&mut model, Model::ROOT, name, &oak, [12, 0, 320], [12 + 640, 192, 332]);
        let right = add(&mut model, Model::ROOT, "side", &oak, [652, 0, 0], [664, 192, 640]);
        model.part_mut(shelf).placed.high[0] = s(12) + clear;
        let side = &mut model.part_mut(right).placed;
        *side = Solid::new([s(12) + clear, side.low[1], side.low[2]], [s(24) + clear, side.high[1], side.high[2]]);
        join(&mut model, "dado", shelf, &[left, right], Options::new());
        model
    }

    #[test]
    fn the_span_of_the_table_holds_and_a_hair_more_does_not() {
        // 40 lb/ft2 on northern red oak of 1 820 000 psi and 3/4 in, by inches of depth: w = 40/144 lb/in, I = 0.421875/12 in4, and
        // L = (384 E I / (5 x 144 x w))^(1/3) = (384 x 1820000 x 0.03515625 / 200)^(1/3) = 122850^(1/3) = 49.711674 in = 1262.67652 mm.
        let holds = Length::from_um(1_262_676);
        assert!(found(oak_shelf(holds, "shelf"), &CHECK).is_empty());
        let findings = found(oak_shelf(holds + Length::from_um(1), "adjustable shelf"), &CHECK);
        assert_eq!(findings.len(), 1);
        assert!(findings[0].message.contains("over a clear span of 49-23/32"), "{}", findings[0]);
        assert!(findings[0].hint.as_ref().unwrap().contains("to 49-5/8\" or less"), "{}", findings[0]);
        // What is not a shelf is not judged unless something is put on it.
        assert!(found(oak_shelf(holds * 2, "stretcher"), &CHECK).is_empty());
    }

    #[test]
    fn a_stated_load_counts_in_place_of_the_assumed_one() {
        let build = |pounds: i64| {
            let mut model = oak_shelf(s(48 * 16), "stretcher");
            let (on, amount) = (Bearer::Part(PartId(1)), Ratio::from_integer(pounds));
            model.loads.push(Load { on, amount, unit: LoadUnit::Pounds, of: None, at: None });
            found(model, &CHECK)
        };
        // On 48 in: w = 384 E I / (720 L^3) = 24570000 / (720 x 110592) = 0.308566 lb/in for each inch of depth; on 12 x 48 in that is
        // 177.73 lb.
        assert!(build(177).is_empty());
        let findings = build(178);
        assert!(findings[0].message.contains("under 178 lb over a clear span of 48\""), "{}", findings[0]);
    }

    #[test]
    fn a_support_in_the_middle_halves_the_span() {
        let mut model = oak_shelf(s(80 * 16), "shelf");
        let ply = sheet(12);
        let divider = add(&mut model, Model::ROOT, "divider", &ply, [640, 0, 0], [652, 192, 320]);
        join(&mut model, "butt", divider, &[PartId(1)], Options::new());
        assert!(found(model.clone(), &CHECK).is_empty());
        // What stands on the shelf carries nothing.
        let mut upside_down = oak_shelf(s(80 * 16), "shelf");
        let divider = add(&mut upside_down, Model::ROOT, "divider", &ply, [640, 0, 332], [652, 192, 640]);
        join(&mut upside_down, "butt", divider, &[PartId(1)], Options::new());
        assert_eq!(found(upside_down, &CHECK).len(), 1);
    }

    #[test]
    fn across_the_grain_a_board_is_weak_and_what_is_not_known_is_not_judged() {
        let mut model = oak_shelf(s(30 * 16), "shelf");
        model.part_mut(PartId(1)).grain = Some(Axis::Y);
        // A twentieth of the stiffness: 49.71 x (1/20)^(1/3) = 18.31 in.
        let findings = found(model, &CHECK);
        assert!(findings[0].message.contains("across its grain"), "{}", findings[0]);
        assert!(findings[0].hint.as_ref().unwrap().contains("to 18-1/4\" or less"), "{}", findings[0]);
        let mut odd = oak_shelf(s(30 * 16), "shelf");
        let mut stock = sheet(12);
        stock.material = Material::Other;
        odd.part_mut(PartId(1)).stock = std::sync::Arc::new(stock);
        assert_eq!(found(odd, &CHECK)[0].severity, crate::diag::Severity::Note);
    }
}
