//! Spline: a strip of other stock let into both faces of a mitre, square to them.

use super::bring::{add_glue, add_hardware};
use super::{Work, channel, tongue, trench};
use crate::base::{Axis, Face, Length, Ratio, Solid, Unit};
use crate::diag::Finding;
use crate::joints::contact::square_mm;
use crate::model::{Feature, HardwareKind, JointId, JointUse, PartId, Setting, Shape};

// Common practice, no source: less wood beside a slot splits away.
const WALL: Length = Length::from_inch(1, 8);

/// A corner that is mitred.
#[derive(Clone, Copy)]
pub(super) struct Mitred {
    /// The part that is fitted, and the part it meets.
    pub parts: [PartId; 2],
    /// The end of each that lies at the corner.
    pub ends: [Face; 2],
    /// What both share there.
    pub shared: Solid,
    /// The axis that the mitre runs along without a slope.
    pub along: Axis,
}

/// A spline with its slots.
pub(super) struct Spline {
    item: String,
    width: Length,
    length: Length,
    /// How wide a slot is, and how deep it goes into each part, square to the mitre.
    slot: Length,
    depth: Length,
    /// From the inner edge of the mitre to the middle of the slot; none in a flat frame, where it lies in mid thickness.
    from: Option<Length>,
}

/// The spline that a recipe asks for.
pub(super) fn spline(work: &Work<'_>, joint: &JointUse, corner: Mitred) -> Result<Option<Spline>, Finding> {
    let Some(stock) = joint.options.stock("spline") else {
        let Some(idle) = ["width", "fit"].into_iter().find(|key| joint.options.get(key).is_some()) else {
            return Ok(None);
        };
        let message = format!("mitre: `{idle}` has no effect without a spline");
        let hint = format!("name its stock, spline: stock(\"1/4 birch plywood\"), or leave `{idle}` out");
        return Err(Finding::error("option-without-effect", message).hint(hint));
    };
    let print = work.printing();
    let slot = stock.thickness() + work.fit(joint, channel::FIT);
    let wide = corner.shared.size(corner.ends[0].axis());
    let is_flat = corner.parts.iter().all(|&part| work.model.part(part).thickness == corner.along);
    // The mitred face is the square root of two as long as the part is wide: 140/99 is just below, 99/70 just above.
    let face = scaled(wide, (140, 99));
    let from = (!is_flat).then(|| tongue::share(work, face, (1, 3)));
    let most_slot = match from {
        None => corner.shared.size(corner.along) - WALL * 2,
        Some(from) => (from - WALL) * 2,
    };
    let name = work.model.full_name(joint.member);
    let misfit = |message: String, hint: String| Err(Finding::error("spline-misfits", message).hint(hint));
    if slot > most_slot || !slot.is_positive() {
        return misfit(
            format!(
                "mitre: a slot {} wide for a spline of {} leaves too little wood beside it in the mitre of `{name}`",
                print.length(slot),
                stock.name
            ),
            format!("keep {} on both sides: use a spline up to {} thick", print.length(WALL), print.length(most_slot)),
        );
    }
    let most_depth = from.map_or(wide.half(), |from| face - from - slot.half() - WALL);
    let usual = match print.unit {
        Unit::Inch => Length::from_inch(3, 4),
        Unit::Millimetre => Length::from_mm(18),
    };
    let usual = usual.min(trench::on_the_rule(most_depth * 2, print.unit));
    let width = tongue::positive(work, joint, "width", usual)?;
    let depth = Length::from_nm((width.nm() + 1) / 2);
    if depth > most_depth {
        return misfit(
            format!(
                "mitre: a spline {} wide goes {} into each part, and the mitre of `{name}` has room for {}",
                print.length(width),
                print.length(depth),
                print.length(most_depth)
            ),
            format!("give a `width` up to {}; {} is usual", print.length(most_depth * 2), print.length(usual)),
        );
    }
    let length = if is_flat { up_the_rule(work, scaled(wide, (99, 70))) } else { corner.shared.size(corner.along) };
    let item = format!("spline of {}, {} wide", stock.name, print.length(width));
    Ok(Some(Spline { item, width, length, slot, depth, from }))
}

/// Cuts the slots of a spline into both parts, and brings it with its glue and settings.
pub(super) fn cut(work: &mut Work<'_>, id: JointId, corner: Mitred, spline: &Spline) -> Result<(), Finding> {
    let [own, other] = corner.ends;
    for (part, end, beside) in [(corner.parts[0], own, other), (corner.parts[1], other, own)] {
        let shape = Shape::Spline { end, width: spline.slot, depth: spline.depth };
        let solid = slot(corner, spline, end, beside);
        work.cut(part, Feature { name: "spline slot", shape, solid, face: beside.opposite(), joint: id })?;
        settings(work, corner, part, spline);
    }
    Ok(())
}

/// Brings a spline with its glue, once all parts are cut: it is as long as the parts that stand in its way leave it, such as a panel
/// whose corner lies in the grooves of its frame.
pub(super) fn bring(work: &mut Work<'_>, joint: &JointUse, corner: Mitred, spline: &Spline) -> Result<(), Finding> {
    let free = free_length(work, corner, spline)?;
    if joint.options.yes("glue").unwrap_or(true) {
        add_glue(work, joint, square_mm(free.length, spline.width * 2));
    }
    let cut = "cut it from offcuts, of solid wood with the grain across the joint";
    let note = free.beside.map_or_else(|| cut.to_owned(), |part| format!("{cut}; it ends before `{part}`"));
    add_hardware(work, joint, &spline.item, HardwareKind::Other, Some(free.length), 1, &note);
    Ok(())
}

// Common practice, no source: a spline over less than half of its mitre holds little.
const LEAST_SHARE: i64 = 2;

/// How long a spline may be, and the part that makes it shorter than its mitre.
struct Free {
    length: Length,
    beside: Option<String>,
}

/// Finds what stands in the slot of a spline, and how long that leaves it.
fn free_length(work: &Work<'_>, corner: Mitred, spline: &Spline) -> Result<Free, Finding> {
    let [own, other] = corner.ends;
    let slots = [slot(corner, spline, own, other), slot(corner, spline, other, own)];
    let in_slots = |solid: &Solid| slots.iter().any(|slot| slot.overlap(solid).is_some());
    let beside = work.model.part_ids().filter(|(id, part)| !corner.parts.contains(id) && in_slots(&part.solid));
    let whole = match spline.from {
        None => scaled(corner.shared.size(own.axis()), (99, 70)),
        Some(_) => spline.length,
    };
    // What is free, from the inner edge of the mitre in a flat frame, else along the mitre; and the part that took most of it.
    let (mut free, mut most) = ((Length::ZERO, whole), None);
    for (id, _) in beside {
        let room = room_of(work, corner, id);
        let reach = reach_along(corner, spline, &room);
        let left = match spline.from {
            None => (free.0.max(reach), free.1),
            Some(from) if reach > from - spline.slot.half() => longest_beside(corner, free, &room),
            Some(_) => continue,
        };
        if left != free {
            (free, most) = (left, Some(id));
        }
    }
    let Some(most) = most else { return Ok(Free { length: spline.length, beside: None }) };
    let left = free.1 - free.0;
    let print = work.printing();
    let [name, of, by] = [corner.parts[0], corner.parts[1], most].map(|part| work.model.full_name(part));
    if left * LEAST_SHARE < whole {
        let message = format!(
            "mitre: `{by}` stands in the slot of the spline between `{name}` and `{of}`: of {} it leaves {}",
            print.length(whole),
            print.length(left.max(Length::ZERO))
        );
        return Err(Finding::error("spline-misfits", message).hint(format!(
            "a spline holds over half of its mitre or more: keep `{by}` out of it with a shallower groove or one nearer to a face, make \
             the frame wider, or leave the spline out"
        )));
    }
    Ok(Free { length: trench::on_the_rule(left, print.unit), beside: Some(by) })
}

/// What a part fills in the two parts of a corner: itself, and the room that its own joints cut for it there, in which it may move.
fn room_of(work: &Work<'_>, corner: Mitred, part: PartId) -> Solid {
    let solid = work.model.part(part).solid;
    let cuts = corner.parts.into_iter().flat_map(|id| &work.model.part(id).features);
    let own = cuts.filter(|cut| work.model.joint(cut.joint).member == part && cut.solid.overlap(&solid).is_some());
    // A groove lets it move into its depth; it may run on past the part, where nothing stands in it.
    own.fold(solid, |mut room, cut| {
        let deep = cut.face.opposite();
        let floor = cut.solid.face(deep);
        let further = if deep.is_high() { floor > room.face(deep) } else { floor < room.face(deep) };
        if further {
            room.set_face(deep, floor);
        }
        room
    })
}

/// How far along the mitre, from its inner edge outwards, a part reaches in the band that the spline fills.
fn reach_along(corner: Mitred, spline: &Spline, room: &Solid) -> Length {
    // From the inner edge towards each of the two ends, then along both sides of the band: the square root of two is 99/70 and a little less.
    let [a, b] = corner.ends.map(|end| {
        let (inner, at) = (corner.shared.face(end.opposite()), room.face(end));
        scaled(if end.is_high() { at - inner } else { inner - at }, (99, 70))
    });
    let aside = Length::from_nm((b - a).nm() / 2);
    let aside = aside.max(-spline.depth).min(spline.depth);
    (a + aside).min(b - aside)
}

/// The longer of the two stretches that a part leaves of a spline that runs along the height of a mitre.
fn longest_beside(corner: Mitred, (from, upto): (Length, Length), room: &Solid) -> (Length, Length) {
    let zero = corner.shared.face(corner.along.low());
    let [low, high] = [corner.along.low(), corner.along.high()].map(|face| room.face(face) - zero);
    let (before, after) = ((from, upto.min(low)), (from.max(high), upto));
    if after.1 - after.0 > before.1 - before.0 { after } else { before }
}

/// The cuboid that holds the slot in a part.
fn slot(corner: Mitred, spline: &Spline, end: Face, beside: Face) -> Solid {
    let mut solid = corner.shared;
    // What lies at 45 degrees reaches half the square root of two, just below 99/140, along both axes.
    let slope = |length: Length| scaled(length, (99, 140));
    let Some(from) = spline.from else {
        let middle = solid.low[corner.along.index()] + solid.size(corner.along).half();
        solid.low[corner.along.index()] = middle - spline.slot.half();
        solid.high[corner.along.index()] = middle + (spline.slot - spline.slot.half());
        return solid.grown(end.opposite(), slope(spline.depth));
    };
    let half = spline.slot.half();
    let (near, far) = (from - half, from + half);
    let spans = [(end, near - spline.depth, far), (beside, near, far + spline.depth)];
    for (face, low, high) in spans {
        let inner = corner.shared.face(face.opposite());
        let at = |distance: Length| if face.is_high() { inner + slope(distance) } else { inner - slope(distance) };
        solid.set_face(face.opposite(), at(low));
        solid.set_face(face, at(high));
    }
    solid
}

fn settings(work: &mut Work<'_>, corner: Mitred, part: PartId, spline: &Spline) {
    let print = work.printing();
    let kind = format!("spline slot {} wide, {} deep", print.length(spline.slot), print.length(spline.depth));
    let passes = channel::passes_note(spline.slot, work.shop.kerf, print);
    let (fence, from, how) = match spline.from {
        None => (
            (corner.shared.size(corner.along) - spline.slot).half(),
            "from the face to the near wall of the slot",
            "the part stands on its mitre in a jig at 45 degrees",
        ),
        Some(from) => (
            from - spline.slot.half(),
            "from the inner edge of the mitre to the near wall of the slot",
            "the blade is tilted to 45 degrees, square to the mitre",
        ),
    };
    let setting = |what, value, note: String| Setting { what, work: kind.clone(), value, note, part };
    let both = [
        setting("fence", fence, format!("{from}; {passes}")),
        setting("blade height", spline.depth, format!("{how}; try it on an offcut first")),
    ];
    work.model.settings.extend(both);
}

fn scaled(length: Length, (n, d): (i64, i64)) -> Length {
    length.times(Ratio::new(n, d)).unwrap_or(length)
}

/// The next step of the rule that is not less.
fn up_the_rule(work: &Work<'_>, length: Length) -> Length {
    let step = match work.printing().unit {
        Unit::Inch => Length::from_inch(1, 16),
        Unit::Millimetre => Length::MM,
    };
    let nearest = length.to_nearest(step);
    if nearest < length { nearest + step } else { nearest }
}

#[cfg(test)]
mod tests {
    use std::sync::Arc;

    use super::super::bench::{Bench, in_};
    use super::*;
    use crate::model::{Material, Model, Options, Stock, StockForm, Value};

    fn splined() -> Options {
        let form = StockForm::Sheet { length: in_(96, 1), width: in_(48, 1) };
        let stock = Stock::new("thin ply", Material::Other, form, in_(1, 4));
        Options::new().with("spline", Value::Stock(Arc::new(stock)))
    }

    fn made(thickness: Length, boxes: [[[Length; 3]; 2]; 2]) -> Model {
        let mut bench = Bench::new();
        let [other, own] = boxes.map(|[low, high]| bench.add("part", thickness, low, high));
        bench.join("mitre", own, &[other], splined());
        bench.made().unwrap()
    }

    #[test]
    fn in_a_frame_the_slot_runs_in_mid_thickness() {
        // A frame 3/4 in thick and 2 in wide: 1/4 in each way of the slot; the spline 3/4 wide goes 3/8 into each mitre and, at
        // 45 degrees, 3/8 x 99/140 along the part beyond the corner. The mitre is 2.83 in long: a spline of 2-7/8.
        let zero = in_(0, 1);
        let model = made(
            in_(3, 4),
            [
                [[zero; 3], [in_(2, 1), in_(3, 4), in_(24, 1)]],
                [[in_(2, 1), zero, zero], [in_(14, 1), in_(3, 4), in_(2, 1)]],
            ],
        );
        let slot = &model.parts[1].features[1];
        let beyond = in_(2, 1) + in_(3, 8).times(Ratio::new(99, 140)).unwrap();
        assert_eq!((slot.solid.low, slot.solid.high), ([zero, in_(1, 4), zero], [beyond, in_(1, 2), in_(2, 1)]));
        assert_eq!(slot.shape, Shape::Spline { end: Face::Left, width: in_(1, 4), depth: in_(3, 8) });
        let spline = model.hardware.iter().find(|one| one.item.starts_with("spline")).unwrap();
        assert_eq!((spline.item.as_str(), spline.size), ("spline of thin ply, 3/4\" wide", Some(in_(23, 8))));
    }

    /// The frame, with a panel in grooves so deep in both parts, and the spline's length.
    fn round_a_panel(deep: Length, front: Length) -> Result<Length, &'static str> {
        let zero = in_(0, 1);
        let mut bench = Bench::new();
        let stile = bench.add("stile", in_(3, 4), [zero; 3], [in_(2, 1), in_(3, 4), in_(24, 1)]);
        let rail = bench.add("rail", in_(3, 4), [in_(2, 1), zero, zero], [in_(14, 1), in_(3, 4), in_(2, 1)]);
        let panel =
            bench.add("panel", in_(1, 4), [in_(2, 1), front, in_(2, 1)], [in_(14, 1), front + in_(1, 4), in_(24, 1)]);
        bench.join("mitre", rail, &[stile], splined());
        let grooved = Options::new().with("depth", Value::Length(deep));
        bench.join("groove", panel, &[stile, rail], grooved.with("clearance", Value::Length(in_(1, 16))));
        let model = bench.made().map_err(|finding| finding.code)?;
        Ok(model.hardware.iter().find(|one| one.item.starts_with("spline")).and_then(|one| one.size).unwrap())
    }

    #[test]
    fn a_spline_ends_before_the_corner_of_a_panel() {
        // Grooves 3/8 in deep meet 3/8 x 1.414 = 0.530 in from the inner corner, of a mitre of 2.829: 2.298 is left, 2-9/32 on the rule.
        assert_eq!(round_a_panel(in_(3, 8), in_(1, 4)), Ok(in_(73, 32)));
        // Half of the mitre is left by grooves an inch deep, and a thousandth less than that is refused.
        assert!(round_a_panel(in_(1, 1), in_(1, 4)).is_ok());
        assert_eq!(round_a_panel(in_(1, 1) + Length::from_um(1), in_(1, 4)), Err("spline-misfits"));
    }

    #[test]
    fn a_floor_across_a_plinth_leaves_the_longer_end() {
        // Boards 3/4 in thick and 3 in high: slots from 7/32 to 15/32 in along the mitre and 3/8 to each side. A floor in grooves 1/4 in
        // deep reaches 1/4 x 1.414 = 0.354 in, past 7/32; from 1/2 to 3/4 in up it leaves 2-1/4 of 3 in.
        let zero = in_(0, 1);
        let build = |up: Length, deep: Length| {
            let mut bench = Bench::new();
            let front = bench.add("front", in_(3, 4), [zero; 3], [in_(20, 1), in_(3, 4), in_(3, 1)]);
            let side = bench.add("side", in_(3, 4), [zero, in_(3, 4), zero], [in_(3, 4), in_(12, 1), in_(3, 1)]);
            let low = [in_(3, 4), in_(3, 4), up];
            let floor = bench.add("floor", in_(1, 4), low, [in_(20, 1), in_(12, 1), up + in_(1, 4)]);
            bench.join("mitre", side, &[front], splined());
            let options = Options::new().with("depth", Value::Length(deep)).with("clearance", Value::Length(zero));
            bench.join("groove", floor, &[front, side], options.with("fit", Value::Length(zero)));
            let model = bench.made().map_err(|finding| finding.code)?;
            Ok(model.hardware.iter().find(|one| one.item.starts_with("spline")).and_then(|one| one.size).unwrap())
        };
        assert_eq!(build(in_(1, 2), in_(1, 4)), Ok(in_(9, 4)));
        // Grooves 1/8 in deep end before the slot.
        assert_eq!(build(in_(1, 2), in_(1, 8)), Ok(in_(3, 1)));
        // In the middle it leaves 1-3/8 on each side, less than half.
        assert_eq!(build(in_(11, 8), in_(1, 4)), Err("spline-misfits"));
    }

    #[test]
    fn round_a_plinth_it_lies_nearer_the_inside() {
        // Boards 3/4 in thick: the mitre is 1.06 in long, a third of it down to 1/32 is 11/32; the slot 1/4 wide begins 7/32 and
        // ends 15/32 from the inner edge, and goes 3/8 in: from (7/32 - 3/8) to 15/32, and from 7/32 to 27/32, by 99/140.
        let zero = in_(0, 1);
        let model = made(
            in_(3, 4),
            [
                [[zero; 3], [in_(20, 1), in_(3, 4), in_(3, 1)]],
                [[zero, in_(3, 4), zero], [in_(3, 4), in_(12, 1), in_(3, 1)]],
            ],
        );
        let slot = &model.parts[1].features[1].solid;
        let by = |n: i64| in_(n, 32).times(Ratio::new(99, 140)).unwrap();
        // The board's end is its front; the inner corner is at 3/4 in from the left and from the front.
        assert_eq!((slot.low[1], slot.high[1]), (in_(3, 4) - by(15), in_(3, 4) + by(5)));
        assert_eq!((slot.low[0], slot.high[0]), (in_(3, 4) - by(27), in_(3, 4) - by(7)));
        assert_eq!((slot.low[2], slot.high[2]), (zero, in_(3, 1)));
    }
}
