//! Solid wood that cannot move.

use std::collections::{BTreeMap, BTreeSet};

use super::{Check, MOST, Subject};
use crate::base::{Axis, Face, Length, Solid};
use crate::diag::Finding;
use crate::model::{HardwareKind, JointUse, Material, Model, Part, PartId, Shape};
use crate::physics::{self, Movement, Sawn};

/// The check.
pub(super) const CHECK: Check = Check {
    code: "wood-movement",
    summary: "solid wood is held so that it cannot swell and shrink, or has no room for it",
    why: "A board swells and shrinks across its grain with the air of the year, along it hardly at all, and sheets hardly at all. \
          Glue and screws that hold it over a width to something that stays as it is make it split or cup; a panel without \
          room in its grooves breaks its frame open, and one that shrinks out of them drops. The movement is the width, times \
          the coefficient of the wood sawn flat, times the change of moisture between the driest and the dampest air of the \
          shop file. A width is held wherever it is glued, else between the outermost screws: 3 mm (1/8 in) of movement are \
          let pass. Boards that are glued edge to edge are one width. In grooves, the room at both edges together must be as much as the movement, and the tongues at both \
          edges together longer than it.",
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
            for (wood, other) in [(joint.member, target), (target, joint.member)] {
                findings.extend(held(subject, index, target, wood, other));
            }
        }
        findings.extend(in_grooves(subject, index, joint));
    }
    held_together(subject, findings);
}

/// Whether something of a kind holds the joint. It goes onto the bill with the line of its joint and the part that is fitted.
fn is_held_by(model: &Model, joint: &JointUse, kind: HardwareKind) -> bool {
    model.hardware.iter().any(|used| used.kind == kind && used.part == Some(joint.member) && used.at == joint.at)
}

/// The width along an axis over which a joint holds two parts fast: where they meet, when it is glued; between the outermost screws, when
/// only these hold it.
fn fast_over(model: &Model, index: usize, joint: &JointUse, target: PartId, axis: Axis) -> Option<Length> {
    let (low, high) = fast_between(model, index, joint, target, axis)?;
    Some(high - low)
}

/// Between which positions along an axis a joint holds two parts fast.
fn fast_between(model: &Model, index: usize, joint: &JointUse, target: PartId, axis: Axis) -> Option<(Length, Length)> {
    let (member, part) = (model.part(joint.member), model.part(target));
    let (low, high) = meeting(&member.placed, &part.placed, axis)?;
    if is_held_by(model, joint, HardwareKind::Glue) {
        return Some((low, high));
    }
    let screws = part
        .features
        .iter()
        .filter(|feature| feature.joint.0 as usize == index)
        .filter(|feature| matches!(feature.shape, Shape::Bore(_) | Shape::Screw { .. }))
        .map(|feature| (feature.solid.face(axis.low()) + feature.solid.face(axis.high())).half());
    let (first, last) = screws.fold(None, |ends: Option<(Length, Length)>, at| {
        Some(ends.map_or((at, at), |(first, last)| (first.min(at), last.max(at))))
    })?;
    is_held_by(model, joint, HardwareKind::Screw).then(|| (first.max(low), last.min(high)))
}

/// The axis along which a part of solid wood moves: across its grain, in its width.
fn restless(part: &Part) -> Option<Axis> {
    let is_wood = matches!(part.stock.material, Material::Wood(_));
    (is_wood && part.grain.is_some()).then(|| part.width_axis())
}

/// A width of wood that is held fast to something that does not move with it.
fn held(subject: Subject<'_>, index: usize, target: PartId, wood: PartId, other: PartId) -> Option<Finding> {
    let model = subject.model;
    let joint = &model.joints[index];
    let (part, beside) = (model.part(wood), model.part(other));
    let axis = restless(part)?;
    // Wood beside wood moves with it when both are broad the same way.
    if restless(beside) == Some(axis) {
        return None;
    }
    let width = fast_over(model, index, joint, target, axis)?;
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

/// Between which positions of an axis two parts meet; nothing where one only ends at the other along that axis.
fn meeting(a: &Solid, b: &Solid, axis: Axis) -> Option<(Length, Length)> {
    let low = a.face(axis.low()).max(b.face(axis.low()));
    let high = a.face(axis.high()).min(b.face(axis.high()));
    (high > low).then_some((low, high))
}

/// Boards that are glued edge to edge move as one board: what is held to several of them, by little to each, may hold them over a width
/// that moves too much.
fn held_together(subject: Subject<'_>, findings: &mut Vec<Finding>) {
    let model = subject.model;
    let mut panel: Vec<usize> = (0..model.parts.len()).collect();
    for joint in &model.joints {
        for &target in &joint.into {
            let (a, b) = (model.part(joint.member), model.part(target));
            let Some(axis) = restless(a).filter(|axis| restless(b) == Some(*axis)) else { continue };
            let edge_to_edge = meeting(&a.placed, &b.placed, axis).is_none();
            if edge_to_edge && is_held_by(model, joint, HardwareKind::Glue) {
                let (a, b) = (first_of(&panel, joint.member), first_of(&panel, target));
                let (low, high) = (a.min(b), a.max(b));
                panel[high] = low;
            }
        }
    }
    // By panel and what holds it: what is held.
    let mut fast: BTreeMap<(usize, PartId), Fast> = BTreeMap::new();
    for (index, joint) in model.joints.iter().enumerate() {
        for &target in &joint.into {
            for (wood, other) in [(joint.member, target), (target, joint.member)] {
                let Some(axis) = restless(model.part(wood)) else { continue };
                if restless(model.part(other)) == Some(axis) {
                    continue;
                }
                let Some((low, high)) = fast_between(model, index, joint, target, axis) else { continue };
                let place = (first_of(&panel, wood), other);
                let held = fast.entry(place).or_insert(Fast { joint: index, low, high, boards: BTreeSet::new() });
                (held.joint, held.low, held.high) = (index, held.low.min(low), held.high.max(high));
                held.boards.insert(wood);
            }
        }
    }
    for ((first, other), Fast { joint, low, high, boards }) in fast {
        let Some(&board) = boards.first().filter(|_| boards.len() > 1 && findings.len() < MOST) else { continue };
        let change = |width: Length| physics::movement(&model.part(board).stock, width, Sawn::Flat, subject.shop);
        // What holds one board over too much of its width is told already.
        let widest = boards.iter().filter_map(|board| {
            let part = model.part(*board);
            restless(part).map(|axis| part.placed.size(axis))
        });
        let Some(moves) = change(high - low) else { continue };
        let alone = widest.max().and_then(change).is_some_and(|alone| alone.mm > LET_PASS.mm_f64());
        if moves.mm <= LET_PASS.mm_f64() || (alone && is_told(findings, model, other)) {
            continue;
        }
        let print = model.printing;
        let count =
            (0..panel.len()).filter(|&at| first_of(&panel, PartId(u32::try_from(at).unwrap_or(0))) == first).count();
        let message = format!(
            "`{}` and {} are glued to one width and held fast to `{}` over {} across their grain; they move {} there in a year{}",
            model.full_name(board),
            if count == 2 { "the board beside it".to_owned() } else { format!("the {} boards beside it", count - 1) },
            model.full_name(other),
            print.length(high - low),
            print.length(physics::rounded_up(moves.mm, print)),
            taken_for(&moves)
        );
        let hint = "let it hold them in the middle only and slide elsewhere (screws in slotted holes: then write `loose` with the reason), or leave \
                    the boards unglued side by side";
        findings.push(
            Finding::warning(CHECK.code, message).at(model.joints[joint].at.clone()).hint(hint).source(CHECK.source),
        );
    }
}

/// What holds several boards of a panel fast.
struct Fast {
    /// The joint that was asked for last.
    joint: usize,
    /// Between which positions across their grain.
    low: Length,
    high: Length,
    boards: BTreeSet<PartId>,
}

/// The first board of the panel that a part belongs to; a part by itself is its own.
fn first_of(panel: &[usize], part: PartId) -> usize {
    let mut at = part.0 as usize;
    while panel[at] != at {
        at = panel[at];
    }
    at
}

/// Whether something was told already of what is held fast to a part.
fn is_told(findings: &[Finding], model: &Model, other: PartId) -> bool {
    let to = format!("held fast to `{}`", model.full_name(other));
    findings.iter().any(|finding| finding.message.contains(&to))
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

    /// Three boards of hard maple 4 in wide, edge to edge, glued or not, and a batten of ply glued across all of them.
    fn battened(glued: bool) -> Vec<Finding> {
        let mut model = job();
        let boards = [0, 64, 128].map(|left| {
            let board = add(&mut model, Model::ROOT, "board", &maple(), [left, 0, 0], [left + 64, 12, 480]);
            model.part_mut(board).grain = Some(Axis::Z);
            board
        });
        for pair in boards.windows(2) {
            let glue = Options::new().with("glue", Value::YesNo(glued));
            join(&mut model, "tongue_and_groove", pair[1], &[pair[0]], glue);
        }
        let batten = add(&mut model, Model::ROOT, "batten", &sheet(12), [0, 12, 80], [192, 24, 96]);
        join(&mut model, "butt", batten, &boards, Options::new());
        found(model, &CHECK)
    }

    #[test]
    fn boards_that_are_glued_to_one_width_move_as_one() {
        // Each board moves by a third of what all three do.
        assert_eq!(battened(false), vec![]);
        let told = battened(true);
        assert_eq!(told.len(), 1, "{told:?}");
        assert!(
            told[0]
                .message
                .contains("and the 2 boards beside it are glued to one width and held fast to `batten` over 12\""),
            "{}",
            told[0]
        );
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
    fn screws_hold_as_wide_as_they_stand() {
        let build = |way: &str, count: i64| {
            let mut model = top_on_side(320, Axis::X);
            model.joints.clear();
            let options = Options::new().with("with", Value::Text(way.into())).with("count", Value::Count(count));
            join(&mut model, "butt", PartId(0), &[PartId(1)], options);
            found(model, &CHECK).len()
        };
        // Two screws 3/4 in from each end of 20 in are 18.5 in apart; one alone lets the top move to both sides.
        assert_eq!(build("pocket screws", 2), 1);
        let mut free = top_on_side(320, Axis::X);
        free.joints.clear();
        let options = Options::new()
            .with("with", Value::Text("pocket screws".into()))
            .with("count", Value::Count(1))
            .with("glue", Value::YesNo(false));
        join(&mut free, "butt", PartId(0), &[PartId(1)], options);
        assert!(found(free, &CHECK).is_empty());
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
