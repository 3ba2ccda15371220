//! Spline: a strip of other stock let into both faces of a mitre, square to them.

use super::fasteners::{add_glue, add_hardware};
use super::{Work, channel, tongue};
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
    let usual = usual.min(channel::on_the_rule(most_depth * 2, print.unit));
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
pub(super) fn cut(
    work: &mut Work<'_>,
    id: JointId,
    joint: &JointUse,
    corner: Mitred,
    spline: &Spline,
) -> Result<(), Finding> {
    let [own, other] = corner.ends;
    for (part, end, beside) in [(corner.parts[0], own, other), (corner.parts[1], other, own)] {
        let shape = Shape::Spline { end, width: spline.slot, depth: spline.depth };
        let solid = slot(corner, spline, end, beside);
        work.cut(part, Feature { name: "spline slot", shape, solid, face: beside.opposite(), joint: id })?;
        settings(work, corner, part, spline);
    }
    if joint.options.yes("glue").unwrap_or(true) {
        add_glue(work, joint, square_mm(spline.length, spline.width * 2));
    }
    let note = "cut it from offcuts, of solid wood with the grain across the joint";
    add_hardware(work, joint, &spline.item, HardwareKind::Other, Some(spline.length), 1, note);
    Ok(())
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
