//! Solid wood that cannot move.

use super::{Check, MOST, Subject};
use crate::base::{Axis, Face, Length, Solid};
use crate::diag::Finding;
use crate::model::{HardwareKind, JointUse, Material, Model, Part, PartId, Shape};
use crate::physics::{self, Movement, Sawn};

/// The check.
pub(super) const CHECK: Check = Check {
    code: "wood-movement",
    summary: "solid wood is held so that it cannot swell and shrink, or has no room for it",
    why: "A board swells and shrinks across its grain with the air of the year, along it hardly at all, and sheets hardly at all. Glue and \
          screws that hold it over a width to something that stays as it is make it split or cup; a panel without room in its grooves \
          breaks its frame open, and one that shrinks out of them drops. The movement is the width, times the coefficient of the wood \
          sawn flat, times the change of moisture between the driest and the dampest air of the shop file. Where a width is held, \
          3 mm (1/8 in) of it are let pass; in grooves, the room at both edges together must be as much as the movement, and the \
          tongues at both edges longer together than it.",
    source: "Wood Handbook (FPL-GTR-190), chapter 13 and Table 13-5; moisture by Simpson (FPL-RN-0268); the 3 mm are common practice, no \
             source",
    run,
};

// Common practice, no source: so much is taken up by the give of glue, screws and wood in joints that last.
const LET_PASS: Length = Length::from_mm(3);

fn run(subject: Subject<'_>, findings: &mut Vec<Finding>) {
    let model = subject.model;
    for (index, joint) in model.joints.iter().enumerate() {
        for &target in &joint.into {
            if findings.len() >= MOST {
                return;
            }
            if is_fast(model, joint) {
                for (wood, other) in [(joint.member, target), (target, joint.member)] {
                    findings.extend(held(subject, joint, wood, other));
                }
            }
        }
        findings.extend(in_grooves(subject, index, joint));
    }
}

/// Whether glue or screws hold the joint. Both go onto the bill with the line of their joint and the part that is fitted.
fn is_fast(model: &Model, joint: &JointUse) -> bool {
    model.hardware.iter().any(|used| {
        matches!(used.kind, HardwareKind::Glue | HardwareKind::Screw)
            && used.part == Some(joint.member)
            && used.at == joint.at
    })
}

/// The axis along which a part of solid wood moves: across its grain, in its width.
fn restless(part: &Part) -> Option<Axis> {
    let is_wood = matches!(part.stock.material, Material::Wood(_));
    (is_wood && part.grain.is_some()).then(|| part.width_axis())
}

/// A width of wood that is held fast to something that does not move with it.
fn held(subject: Subject<'_>, joint: &JointUse, wood: PartId, other: PartId) -> Option<Finding> {
    let model = subject.model;
    let (part, beside) = (model.part(wood), model.part(other));
    let axis = restless(part)?;
    // Wood beside wood moves with it when both are broad the same way.
    if restless(beside) == Some(axis) {
        return None;
    }
    let width = meeting(&part.placed, &beside.placed, axis)?;
    let moves = physics::movement(&part.stock, width, Sawn::Flat, subject.shop)?;
    if moves.mm <= LET_PASS.mm_f64() {
        return None;
    }
    let print = model.printing;
    let (name, against) = (model.full_name(wood), model.full_name(other));
    let message = format!(
        "`{name}` is held fast to `{against}` over {} across its grain; it moves {} there in a year{}",
        print.length(width),
        print.length(physics::rounded_up(moves.mm, print)),
        taken_for(&moves)
    );
    let hint = "hold it at one edge and let the rest slide (buttons, slotted holes: then write `loose` with the reason), let its grain run the \
                other way, or use a sheet";
    Some(Finding::warning(CHECK.code, message).at(joint.at.clone()).hint(hint).source(CHECK.source))
}

/// Over how much of an axis two parts meet; nothing where one only ends at the other along that axis.
fn meeting(a: &Solid, b: &Solid, axis: Axis) -> Option<Length> {
    let low = a.face(axis.low()).max(b.face(axis.low()));
    let high = a.face(axis.high()).min(b.face(axis.high()));
    Some(high - low).filter(|width| width.is_positive())
}

/// A panel whose both edges across the grain lie in trenches of one joint.
fn in_grooves(subject: Subject<'_>, index: usize, joint: &JointUse) -> Option<Finding> {
    let model = subject.model;
    let panel = model.part(joint.member);
    let axis = restless(panel)?;
    let at_edge = |edge: Face| edge_in_trench(model, index, joint, panel, edge);
    let (low, high) = (at_edge(axis.low())?, at_edge(axis.high())?);
    let (room, tongues) = (low.0 + high.0, low.1 + high.1);
    let width = panel.solid.size(axis);
    let moves = physics::movement(&panel.stock, width, Sawn::Flat, subject.shop)?;
    let print = model.printing;
    let needed = physics::rounded_up(moves.mm, print);
    let (name, taken) = (model.full_name(joint.member), taken_for(&moves));
    let (message, hint) = if moves.mm > (room + Length::SAME_SIZE).mm_f64() {
        (
            format!(
                "`{name}` is {} wide across its grain and moves {} in a year{taken}; its grooves leave {} in all",
                print.length(width),
                print.length(needed),
                print.length(room.max(Length::ZERO))
            ),
            format!(
                "give the joint a clearance of `movement(stock, width) / 2` and grooves that are deeper by it, {} at each edge; or use a sheet",
                print.length(needed.half())
            ),
        )
    } else if moves.mm > (tongues + Length::SAME_SIZE).mm_f64() {
        (
            format!(
                "`{name}` shrinks by up to {} in a year{taken} and reaches only {} into its grooves in all: it can drop out",
                print.length(needed),
                print.length(tongues)
            ),
            "make the grooves deeper, the panel narrower, or use a sheet".to_owned(),
        )
    } else {
        return None;
    };
    Some(Finding::warning(CHECK.code, message).at(joint.at.clone()).hint(hint).source(CHECK.source))
}

/// The room before an edge of the panel and the length of its tongue, in the deepest trench of the joint that the edge lies in.
fn edge_in_trench(model: &Model, index: usize, joint: &JointUse, panel: &Part, edge: Face) -> Option<(Length, Length)> {
    let outward = |from: Length, to: Length| if edge.is_high() { to - from } else { from - to };
    let trenches = joint.into.iter().flat_map(|&target| &model.part(target).features).filter(|feature| {
        feature.joint.0 as usize == index
            && matches!(feature.shape, Shape::Channel { .. })
            && feature.face == edge.opposite()
    });
    let edge_at = panel.solid.face(edge);
    trenches
        .map(|trench| (outward(edge_at, trench.solid.face(edge)), outward(trench.solid.face(edge.opposite()), edge_at)))
        .filter(|(_, tongue)| tongue.is_positive())
        .min()
}

/// The wood whose figures were used where they are not the stock's own.
fn taken_for(moves: &Movement) -> String {
    if moves.known { String::new() } else { format!(" if it moves like {}", moves.wood) }
}

#[cfg(test)]
mod tests {
    use super::super::bench::{add, found, job, join, sheet};
    use super::*;
    use crate::model::{Options, Stock, StockForm, Value};

    fn maple() -> Stock {
        let form = StockForm::Board { widths: Vec::new(), lengths: Vec::new() };
        Stock::new("maple", Material::Wood("hard maple".into()), form, Length::from_inch(3, 4))
    }

    /// A top of hard maple with its grain across, screwed to the top edges of a plywood side that is a number of sixteenths deep.
    fn top_on_side(deep: i64, grain: Axis) -> Model {
        let mut model = job();
        let side = add(&mut model, Model::ROOT, "side", &sheet(12), [0, 0, 0], [12, deep, 320]);
        let top = add(&mut model, Model::ROOT, "top", &maple(), [0, 0, 320], [480, deep, 332]);
        model.part_mut(top).grain = Some(grain);
        join(&mut model, "butt", top, &[side], Options::new());
        model
    }

    #[test]
    fn a_top_that_is_glued_across_its_grain_is_told() {
        // From 30 to 65 % at 70 F the equation gives 6.170 and 11.958 %, 5.789 points: hard maple moves 0.00353 x 5.789 = 0.020434 of its
        // width, so 3 mm are reached at 146.8 mm: 92 sixteenths of an inch are 146.05 mm, 93 are 147.64 mm.
        assert!(found(top_on_side(92, Axis::X), &CHECK).is_empty());
        let findings = found(top_on_side(93, Axis::X), &CHECK);
        assert_eq!(findings.len(), 1);
        assert!(
            findings[0].message.starts_with("`top` is held fast to `side` over 5-13/16\" across its grain"),
            "{}",
            findings[0]
        );
        // Along its grain it does not move.
        assert!(found(top_on_side(320, Axis::Y), &CHECK).is_empty());
    }

    #[test]
    fn boards_that_move_together_may_be_glued() {
        let mut model = top_on_side(320, Axis::X);
        let side = model.part_mut(PartId(0));
        side.stock = std::sync::Arc::new(maple());
        side.grain = Some(Axis::Z);
        assert!(found(model.clone(), &CHECK).is_empty());
        model.part_mut(PartId(0)).grain = Some(Axis::Y);
        assert_eq!(found(model, &CHECK).len(), 1);
    }

    /// A panel of hard maple 20 in wide and a number of nanometres more, in grooves of two stiles.
    fn panel(more: i64, clearance: Length) -> Vec<Finding> {
        let mut model = job();
        let ply = sheet(12);
        let left = add(&mut model, Model::ROOT, "stile", &ply, [-48, 0, 0], [0, 12, 640]);
        let right = add(&mut model, Model::ROOT, "stile", &ply, [320, 0, 0], [368, 12, 640]);
        let panel = add(&mut model, Model::ROOT, "panel", &maple(), [0, 0, 0], [320, 12, 640]);
        let more = Length::from_nm(more);
        model.part_mut(panel).placed.high[0] += more;
        let stile = &mut model.part_mut(right).placed;
        (stile.low[0], stile.high[0]) = (stile.low[0] + more, stile.high[0] + more);
        model.part_mut(panel).grain = Some(Axis::Z);
        // Grooves of 3/4 in stock would leave no walls: the panel is taken as half as thick.
        let mut thin = maple();
        thin.named = Length::from_inch(1, 4);
        model.part_mut(panel).stock = std::sync::Arc::new(thin);
        model.part_mut(panel).placed.low[1] = Length::from_inch(1, 4);
        model.part_mut(panel).placed.high[1] = Length::from_inch(1, 2);
        let options = Options::new()
            .with("depth", Value::Length(Length::from_inch(1, 2)))
            .with("clearance", Value::Length(clearance));
        join(&mut model, "groove", panel, &[left, right], options);
        found(model, &CHECK)
    }

    #[test]
    fn a_panel_needs_room_in_its_grooves() {
        // 20 in and tongues of 1/4 in at each edge: 20.5 in, which moves 0.020434 of itself, 0.419 in: two clearances of 1/4 in are enough.
        assert!(panel(0, Length::from_inch(1, 4)).is_empty());
        let findings = panel(0, Length::from_inch(1, 32));
        assert_eq!(findings.len(), 1);
        assert!(findings[0].message.contains("its grooves leave 1/16\" in all"), "{}", findings[0]);
        // With 7/16 in of room at each edge, tongues of 1/16 in are 1/8 in together, and the panel shrinks out of them.
        let findings = panel(0, Length::from_inch(7, 16));
        assert!(findings[0].message.contains("can drop out"), "{}", findings[0]);
    }
}
