//! Hinge: cups bored into a door and holes for the plates in the part that it hangs on.

use super::bearing::lies_on;
use super::borings::{CUP, Sizes, WALL, borings, off_case, refuse_door, sizes};
use super::bring::{add_hardware, named, sentence};
use super::channel::over_band;
use super::contact::gap_beyond;
use super::hung::{Lie, lie, lie_alone};
use super::spread::{Sort, Stretch, in_line, keep_clear, refuse_count};
use super::{Joint, Work, tongue};
use crate::base::{Axis, Face, Length};
use crate::diag::Finding;
use crate::model::{
    Bore, Feature, HardwareKind, Hold, JointId, JointUse, Kind, OptionSpec, PartId, Setting, Shape, Stage, StandsOut,
    Step,
};

const BY_SHEET: &str =
    "common practice, no source: usual figures of cup hinges; the hinge maker's sheet goes before them";

const LIES: &[&str] = &["full overlay", "half overlay", "inset"];

/// The borings for cup hinges.
pub(super) const HINGE: Joint = Joint {
    name: "hinge",
    summary: "cup hinges: cups bored into a door, and holes for their plates in the side that it hangs on",
    target: "to",
    options: &[
        OptionSpec::may("to", Kind::Part, "nothing: only the cups are bored", "the side, divider or stile that the door hangs on")
            .because("common practice, no source: doors are made for cases that stand already"),
        OptionSpec::may("hinged", Kind::Face, "the edge nearest to `to`", "the edge that the hinges are on, where no `to` is named")
            .because("what is drawn tells the edge"),
        OptionSpec::may("lies", Kind::Choice(LIES), "as it lies on `to`; else \"full overlay\"", "how the door lies, where no `to` is named")
            .because("common practice, no source: doors that cover the edge of their case are the usual ones"),
        OptionSpec::may("count", Kind::Count, "2 up to 35 in (890 mm) of height, then one more each 24 in (610 mm)", "how many hinges")
            .because("common practice, no source: for a door of usual weight; a heavy one takes more, by the hinge maker's sheet"),
        OptionSpec::may(
            "edge_distance",
            Kind::Length,
            "4 in, or 100 mm in a metric job, at most a quarter of the door's height",
            "from the ends of the door to the middles of the outer hinges",
        )
        .because("common practice, no source: near the ends they hold the door flat"),
        OptionSpec::may("cup", Kind::Length, "35 mm", "the diameter of the cups").because(BY_SHEET),
        OptionSpec::may("cup_depth", Kind::Length, "1/2 in, or 13 mm in a metric job", "how deep the cups are bored").because(BY_SHEET),
        OptionSpec::may("cup_distance", Kind::Length, "5 mm", "from the edge of the door to the rim of the cup").because(BY_SHEET),
        OptionSpec::may("cup_screws", Kind::Length, "45 mm", "between the two screws beside a cup, along the door").because(BY_SHEET),
        OptionSpec::may("cup_screw_offset", Kind::Length, "9.5 mm", "from the middle of the cup to the line of its screws, inwards")
            .because(BY_SHEET),
        OptionSpec::may(
            "plate_distance",
            Kind::Length,
            "37 mm",
            "from the front of the side, or from the back of an inset door, to the line of the plates' screws",
        )
        .because(BY_SHEET),
        OptionSpec::may("plate_screws", Kind::Length, "32 mm", "between the two screws of a plate").because(BY_SHEET),
        OptionSpec::may("plate_hole", Kind::Length, "5 mm", "the diameter of the holes for the plates").because(BY_SHEET),
        OptionSpec::may("plate_depth", Kind::Length, "12 mm", "how deep the holes for the plates are").because(BY_SHEET),
        OptionSpec::may(
            "plate_height",
            Kind::Length,
            "not looked at",
            "how far the plates with their arms stand out from what the door hangs on: no drawer behind the door may meet them",
        )
        .because("differs from hinge to hinge: the hinge maker's sheet"),
    ],
    about: "The first part is the door, or the hinge stile of a framed door; `to` names what it hangs on. A door that lies in \
            front of that part is overlaid, one that stands beside it is inset, and the hinges are named by that. The cups go \
            into the inner face of the door at the edge nearest to that part, the plates onto its inner face, both at the same \
            heights and clear of what is cut there. With `plate_height` they take room there: a drawer or tray behind the door that would \
            meet them is found, closed or on its way. Without `to`, for a case that stands already, only the cups are bored, at the \
            edge that `hinged` names. Hinge makers differ: give the sizes of your hinge's sheet.",
    source: BY_SHEET,
    refuses: &[
        "cup-beside-stile",
        "cup-comes-through",
        "cut-without-depth",
        "door-off-hinge",
        "option-without-effect",
        "plate-misses-case",
        "wrong-count",
    ],
    changes: "None.",
    leaves: "In the door for each hinge a `hinge cup` and two `cup screw hole`s; in the part it hangs on two `plate hole`s.",
    needs: "Cup hinges with their plates: full overlay, half overlay or inset, by how the door lies.",
    sets: "Fence: from the door's edge to the middle of the cup, and from the front of the side to the plates' line. Depth stop: \
           the depths of cup and plate holes.",
    promises: "At each hinge the door lies before the part that it hangs on, or an inset one beside it, with the room that it is drawn \
               with. That cups and plate holes keep the wood around them is proved by `hole-meets-cut` and `breaks-out`.",
    assembly: "Fit 2 hinges to the door and the side: 4\" from each end; cups in its back.",
    example: r#"let ply = stock("3/4 birch plywood");
let side = part("side", #{ stock: ply, left: 0.inch, front: 0.inch, depth: 12.inch, bottom: 0.inch, height: 30.inch });
let door = part("door", #{ stock: ply, left: (1/16).inch, width: 15.inch, back: side.front, bottom: 0.inch, height: 30.inch, show: "front" });
hinge(door, #{ to: side });
"#,
    grow: |work, id| {
        work.model.hinges.push(id);
        Ok(())
    },
    cut: |_, _| Ok(()),
    drill,
};
// Common practice, no source.
const TWO_TO: Length = Length::from_inch(35, 1);
const ONE_MORE_EACH: Length = Length::from_inch(24, 1);

fn drill(work: &mut Work<'_>, id: JointId) -> Result<(), Finding> {
    let joint = work.joint(id);
    // `to` takes one part, or none.
    let target = joint.into.first().copied();
    let lie = match target {
        Some(target) => lie(work, &joint, target)?,
        None => lie_alone(work, &joint)?,
    };
    let sizes = sizes(work, &joint)?;
    refuse_door(work, &joint, &lie, &sizes)?;
    let door = work.model.part(joint.member).placed;
    let case = target.map(|target| (target, work.model.part(target).placed));
    let holes = |at: Length| borings((joint.member, &door), case.as_ref(), &lie, &sizes, at);
    let on = Stretch::of(&door, Axis::Z);
    let mut centres = centres(work, &joint, on, &sizes)?;
    let sort = sort(&sizes);
    keep_clear(work, &joint, sort, on, &mut centres, |at| {
        Some(holes(at).into_iter().map(|(_, part, _, solid, _)| (part, solid)).collect())
    });
    for &at in &centres {
        for (name, part, diameter, solid, face) in holes(at) {
            if let Some((target, case)) = case.filter(|(target, _)| *target == part)
                && !solid.within(&case)
            {
                return Err(off_case(work, target, &sizes));
            }
            let shape = Shape::Bore(Bore { diameter, pocket: false });
            work.cut(part, Feature { name, shape, solid, face, joint: id })?;
        }
    }
    stand_out(work, &joint, &lie, &sizes, &centres)?;
    for &at in &centres {
        if let Some(target) = target {
            bear(work, id, target, &lie, Stretch { low: at - sort.least_edge, high: at + sort.least_edge });
        }
    }
    bring(work, &joint, target, &lie, &sizes, &centres);
    Ok(())
}

// Common practice, no source: a plate and its arm reach so far beyond the plate's screws, inwards, up and down.
const PLATE_BEYOND: Length = Length::from_mm(20);

/// Lets the plates, with the arms that lie on them, stand out from what the door hangs on, as far as the recipe says.
fn stand_out(
    work: &mut Work<'_>,
    joint: &JointUse,
    lie: &Lie,
    sizes: &Sizes,
    centres: &[Length],
) -> Result<(), Finding> {
    if joint.options.get("plate_height").is_none() {
        return Ok(());
    }
    let Some(&target) = joint.into.first() else {
        let message = "hinge: `plate_height` has no effect, because `to` does not name what the plates are on";
        let finding = Finding::error("option-without-effect", message);
        return Err(finding.hint("name the part that the door hangs on, or leave `plate_height` out"));
    };
    let by = tongue::positive(work, joint, "plate_height", PLATE_BEYOND)?;
    let case = work.model.part(target).placed;
    let (face, along) = (lie.edge.opposite(), lie.inside.axis());
    // From the plane that the plates are measured from: the arms reach it, and the door stands before it.
    let deep = sizes.plate_distance + PLATE_BEYOND;
    let middle = lie.from + deep.half() * if lie.inside.is_high() { 1 } else { -1 };
    let high = sizes.plate_screws + PLATE_BEYOND * 2;
    work.model.stands_out.extend(centres.iter().map(|&at| StandsOut {
        what: "hinge plate".to_owned(),
        part: target,
        face,
        by,
        size: [deep, high],
        middle: [Some(middle - case.face(along.low())), Some(at - case.face(Face::Bottom))],
        count: 1,
        at: joint.at.clone(),
    }));
    Ok(())
}

/// States that the door stands before the case, or beside it, with the room that it has as it is drawn, all along a hinge.
fn bear(work: &mut Work<'_>, id: JointId, target: PartId, lie: &Lie, on: Stretch) {
    let member = work.joint(id).member;
    let (door, case) = (work.model.part(member).solid, work.model.part(target).solid);
    let looks = if lie.is_inset() { lie.edge } else { lie.inside };
    let mut area = door;
    area.set_face(looks.opposite(), door.face(looks));
    for axis in looks.axis().others() {
        area.low[axis.index()] = area.low[axis.index()].max(case.low[axis.index()]);
        area.high[axis.index()] = area.high[axis.index()].min(case.high[axis.index()]);
    }
    area.low[Axis::Z.index()] = area.low[Axis::Z.index()].max(on.low);
    area.high[Axis::Z.index()] = area.high[Axis::Z.index()].min(on.high);
    let what = if lie.is_inset() { "edge at a hinge" } else { "back at a hinge" };
    lies_on(work, id, (what, member, target), (looks, area), gap_beyond(&door, &case, looks));
}

/// What stands at the middle of a hinge: the room that one takes up along the door.
fn sort(sizes: &Sizes) -> Sort {
    let room = sizes.cup.max(sizes.cup_screws).max(sizes.plate_screws) + WALL * 2;
    Sort { many: "hinges", least_edge: room.half(), apart: room, least_spacing: room }
}

fn centres(work: &Work<'_>, joint: &JointUse, on: Stretch, sizes: &Sizes) -> Result<Vec<Length>, Finding> {
    let print = work.printing();
    let sort = sort(sizes);
    let usual = match print.unit {
        crate::base::Unit::Inch => Length::from_inch(4, 1),
        crate::base::Unit::Millimetre => Length::from_mm(100),
    };
    let edge = joint.options.length("edge_distance").unwrap_or_else(|| usual.min(Length::from_nm(on.size().nm() / 4)));
    let beyond = (on.size() - TWO_TO).nm().max(0);
    let usual_count = 2 + (beyond + ONE_MORE_EACH.nm() - 1) / ONE_MORE_EACH.nm();
    let count = joint.options.count("count").unwrap_or(usual_count);
    refuse_count(joint, sort, count)?;
    let between = on.size() - edge * 2;
    if count < 2 || edge < sort.least_edge || between < sort.apart * (count - 1) {
        return Err(Finding::error(
            "wrong-count",
            format!(
                "hinge: {count} hinges {} from the ends cannot hang `{}`, which is {} high",
                print.length(edge),
                work.model.full_name(joint.member),
                print.length(on.size())
            ),
        )
        .hint(format!(
            "a door hangs on 2 or more, {} from its ends and {} apart at the least",
            print.length(sort.least_edge),
            print.length(sort.apart)
        )));
    }
    let mut centres = vec![on.low + edge];
    for step in between.split(usize::try_from(count - 1).unwrap_or(1)) {
        centres.push(centres.last().copied().unwrap_or(on.low) + step);
    }
    Ok(centres)
}

/// The hinges, the settings, the hold and the sentence.
fn bring(work: &mut Work<'_>, joint: &JointUse, target: Option<PartId>, lie: &Lie, sizes: &Sizes, centres: &[Length]) {
    let print = work.printing();
    let count = i64::try_from(centres.len()).unwrap_or(i64::MAX);
    let usual_cup = sizes.cup.same_size(CUP);
    let item = if usual_cup { format!("35 mm {}", lie.hinge) } else { lie.hinge.to_owned() };
    let note = "number by usual weight: check it, the cup and the plate by the hinge maker's sheet";
    add_hardware(work, joint, &item, HardwareKind::Hinge, (!usual_cup).then_some(sizes.cup), count, note);
    // The bit is sold by its millimetres everywhere.
    let bit = if usual_cup { "35 mm".to_owned() } else { print.length(sizes.cup) };
    let (cups, plates) = (format!("hinge cups {bit} wide"), "hinge plates".to_owned());
    let setting =
        |what, name: &String, value, note: String, part| Setting { what, work: name.clone(), value, note, part };
    let sheet = "check it by the hinge maker's sheet and on an offcut first";
    work.model.settings.extend([
        setting(
            "fence",
            &cups,
            sizes.cup_distance + sizes.cup.half(),
            format!("from the {} edge to the middle of the cup", lie.edge.name()),
            joint.member,
        ),
        setting("depth stop", &cups, sizes.cup_depth, sheet.to_owned(), joint.member),
    ]);
    if let Some(target) = target {
        // A fence runs along the edge of what is drilled, and an inset door's back is not there yet.
        let (edge, case) = (lie.inside.opposite(), work.model.part(target));
        let screws = lie.from + sizes.plate_distance * if lie.inside.is_high() { 1 } else { -1 };
        let fence = (screws - case.solid.face(edge)).abs();
        let note = format!("from the {} edge{} to the line of the screws", edge.name(), over_band(case, edge));
        work.model.settings.extend([
            setting("fence", &plates, fence, note, target),
            setting("depth stop", &plates, sizes.plate_depth, sheet.to_owned(), target),
        ]);
    }
    work.model.holds.push(Hold { part: joint.member, to: target });
    let on = Stretch::of(&work.model.part(joint.member).placed, Axis::Z);
    let said = named(work, joint);
    let heights = in_line(work, centres, on, Axis::Z);
    let on_case = target.map(|_| format!(" and {}", said.targets)).unwrap_or_default();
    let text = format!("fit {count} hinges to {}{on_case}: {heights}; cups in its {}.", said.member, lie.inside.name());
    let piece = work.model.common_piece([joint.member].into_iter().chain(target));
    work.model.steps.push(Step { piece, stage: Stage::Fit, text: sentence(&said.place, &text) });
}

#[cfg(test)]
mod tests {
    use super::super::bench::{Bench, in_};
    use super::*;
    use crate::base::Solid;
    use crate::model::{Model, Options, Value};

    fn mm(mm: i64) -> Length {
        Length::from_mm(mm)
    }

    /// A door before a side of 18 mm, 300 deep and 700 high, with its left edge somewhere on the side.
    fn hung(left: Length, width: Length, thick: Length, options: Options) -> Result<Model, Finding> {
        let mut bench = Bench::new();
        let zero = Length::ZERO;
        let side = bench.add("side", mm(18), [zero; 3], [mm(18), mm(300), mm(700)]);
        let door = bench.add("door", thick, [left, -thick, zero], [left + width, zero, mm(700)]);
        bench.join("hinge", door, &[side], options);
        bench.made()
    }

    #[test]
    fn cups_and_plates_stand_at_one_height() {
        let model = hung(mm(2), mm(400), mm(18), Options::new()).unwrap();
        // 4 in from the ends: 101.6 and 598.4. The cup's middle: 2 + 5 + 17.5 = 24.5 from the side's outer face.
        let cup = &model.parts[1].features[0];
        let um = |um| Length::from_um(um);
        assert_eq!(cup.solid.low, [um(7_000), um(-12_700), um(101_600 - 17_500)]);
        assert_eq!(cup.solid.high, [um(42_000), um(0), um(101_600 + 17_500)]);
        let plate = &model.parts[0].features[0];
        assert_eq!(plate.solid.low, [um(6_000), um(34_500), um(101_600 - 16_000 - 2_500)]);
        assert_eq!(model.hardware[0].item, "35 mm cup hinge, full overlay");
        assert_eq!((model.hardware[0].quantity, model.parts[0].features.len()), (2, 4));
    }

    #[test]
    fn a_thousandth_less_than_a_cup_needs_is_refused() {
        let um = Length::from_um;
        let code = |left, width, thick, options| {
            hung(left, width, thick, options).map_or_else(|finding| finding.code, |_| "none")
        };
        // 12.7 deep with 2 behind it: 14.7 thick.
        assert_eq!(code(mm(2), mm(400), um(14_700), Options::new()), "none");
        assert_eq!(code(mm(2), mm(400), um(14_699), Options::new()), "cup-comes-through");
        // 5 + 35 + 3: 43 wide.
        assert_eq!(code(mm(2), mm(43), mm(18), Options::new()), "none");
        assert_eq!(code(mm(2), mm(43) - um(1), mm(18), Options::new()), "cup-beside-stile");
        // Half of 18 mm covered is half overlay; a thousandth more is full.
        let item = |left| hung(left, mm(400), mm(18), Options::new()).unwrap().hardware[0].item.clone();
        assert_eq!(item(mm(9)), "35 mm cup hinge, half overlay");
        assert_eq!(item(mm(9) - um(1)), "35 mm cup hinge, full overlay");
        // The plate's holes end 2.5 behind their line.
        let plate = |at| Options::new().with("plate_distance", Value::Length(at));
        assert_eq!(code(mm(2), mm(400), mm(18), plate(um(297_500))), "none");
        assert_eq!(code(mm(2), mm(400), mm(18), plate(um(297_501))), "plate-misses-case");
    }

    #[test]
    fn plates_stand_out_where_they_are_screwed_on() {
        // The plate's line is 37 mm behind the front of the side; it and its arm fill 57 of depth from there, 32 + 2 x 20 of height
        // about the hinges at 101.6 and 598.4, and 14 beside the inner face of the side, which is at 18.
        let height = |value| Options::new().with("plate_height", Value::Length(value));
        let model = hung(mm(2), mm(400), mm(18), height(mm(14))).unwrap();
        let um = |um| Length::from_um(um);
        let solids: Vec<Solid> = model.stands_out.iter().flat_map(|one| one.solids(&model)).collect();
        let at = |z: i64| Solid::new([mm(18), mm(0), um(z - 36_000)], [mm(32), mm(57), um(z + 36_000)]);
        assert_eq!(solids, [at(101_600), at(598_400)]);
        assert!(hung(mm(2), mm(400), mm(18), Options::new()).unwrap().stands_out.is_empty());
        assert_eq!(hung(mm(2), mm(400), mm(18), height(mm(0))).unwrap_err().code, "cut-without-depth");
    }

    #[test]
    fn without_a_case_only_the_cups_are_bored() {
        let alone = |options| {
            let mut bench = Bench::new();
            let door = bench.add("door", mm(18), [mm(0), mm(0), mm(0)], [mm(400), mm(18), mm(700)]);
            bench.join("hinge", door, &[], options);
            bench.made()
        };
        let hinged = |face| Options::new().with("hinged", Value::Faces(vec![face]));
        let model = alone(hinged(Face::Right).with("lies", Value::Text("inset".into()))).unwrap();
        // A cup and two screw holes at each of two hinges, 5 from the right edge: 360 to 395.
        assert_eq!((model.parts[0].features.len(), model.hardware[0].quantity), (6, 2));
        let cup = &model.parts[0].features[0].solid;
        assert_eq!((cup.low[0], cup.high[0], cup.high[1]), (mm(360), mm(395), mm(18)));
        assert_eq!(model.hardware[0].item, "35 mm cup hinge, inset");
        // Nothing tells the edge, or it is told twice.
        assert_eq!(alone(Options::new()).unwrap_err().code, "door-off-hinge");
        assert_eq!(alone(hinged(Face::Top)).unwrap_err().code, "door-off-hinge");
        let idle = hinged(Face::Right).with("plate_height", Value::Length(mm(14)));
        assert_eq!(alone(idle).unwrap_err().code, "option-without-effect");
        assert_eq!(hung(mm(2), mm(400), mm(18), hinged(Face::Left)).unwrap_err().code, "option-without-effect");
    }

    #[test]
    fn an_inset_door_hangs_beside_its_stile() {
        let mut bench = Bench::new();
        let side = bench.add("side", in_(3, 4), [Length::ZERO; 3], [in_(3, 4), in_(12, 1), in_(70, 1)]);
        let door =
            bench.add("door", in_(3, 4), [in_(7, 8), Length::ZERO, Length::ZERO], [in_(15, 1), in_(3, 4), in_(70, 1)]);
        bench.join("hinge", door, &[side], Options::new());
        let model = bench.made().unwrap();
        // 70 - 35 = 35 in, more than one 24: four hinges, and the plates 37 mm behind the door's back.
        assert_eq!((model.hardware[0].quantity, model.hardware[0].item.as_str()), (4, "35 mm cup hinge, inset"));
        assert_eq!(model.parts[0].features[0].solid.low[1], in_(3, 4) + mm(37) - Length::from_um(2_500));
        // The fence runs along the side's front edge, which is the door's front: 3/4 in and 37 mm.
        let plates = model.settings.iter().find(|setting| setting.work == "hinge plates" && setting.what == "fence");
        let plates = plates.unwrap();
        assert_eq!(
            (plates.value, plates.note.as_str()),
            (in_(3, 4) + mm(37), "from the front edge to the line of the screws")
        );
    }
}
