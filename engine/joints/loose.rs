//! Dowels, biscuits and loose tenons: wood between two parts, in holes of both that face each other.

use super::bring::add_hardware;
use super::contact::Contact;
use super::fasteners::Layout;
use super::spread::{Sort, Stretch, in_line, keep_clear, spread};
use super::{ByUnit, Work, tongue};
use crate::base::{Axis, Length, Solid, Unit};
use crate::diag::Finding;
use crate::model::{Bore, Feature, HardwareKind, JointId, JointUse, PartId, Setting, Shape};

/// The sizes of biscuits by their number: length and width of the biscuit, depth and length of its slot.
struct Biscuit {
    name: &'static str,
    depth: Length,
    slot: Length,
}

// Common practice, from memory: biscuits of 47 x 15, 53 x 19 and 56 x 23 mm, 4 mm thick. Each slot is 1/2 to 1 mm deeper than half
// the biscuit and as long as the arc that a cutter of 100 mm leaves at that depth: 2 x the root of depth x (100 - depth), up to the
// next millimetre: 54.3, 60.0 and 65.7.
const BISCUITS: [Biscuit; 3] = [
    Biscuit { name: "0", depth: Length::from_um(8_000), slot: Length::from_mm(55) },
    Biscuit { name: "10", depth: Length::from_um(10_000), slot: Length::from_mm(60) },
    Biscuit { name: "20", depth: Length::from_um(12_300), slot: Length::from_mm(66) },
];
const BISCUIT_THICKNESS: Length = Length::from_mm(4);

// Common practice, no source: less beside a hole splits away, and less under it shows on the face.
const WALL: Length = Length::from_inch(1, 8);
// Common practice, no source: room for glue at the end of a dowel or tenon.
const ROOM: ByUnit = ByUnit::new((1, 32), 1_000);
/// A dowel is so many diameters long, a tenon goes so many thicknesses into each part.
// Common practice, no source.
const DIAMETERS: i64 = 4;

// Common practice, no source: the dowels and cutters that are sold, and lengths of dowels.
const INCH_SIZES: &[Length] = &[
    Length::from_inch(3, 16),
    Length::from_inch(1, 4),
    Length::from_inch(5, 16),
    Length::from_inch(3, 8),
    Length::from_inch(1, 2),
];
const MM_SIZES: &[Length] = &[
    Length::from_mm(4),
    Length::from_mm(5),
    Length::from_mm(6),
    Length::from_mm(8),
    Length::from_mm(10),
    Length::from_mm(12),
];
const INCH_LENGTHS: &[Length] = &[
    Length::from_inch(3, 4),
    Length::from_inch(1, 1),
    Length::from_inch(5, 4),
    Length::from_inch(3, 2),
    Length::from_inch(2, 1),
];
const MM_LENGTHS: &[Length] = &[
    Length::from_mm(20),
    Length::from_mm(25),
    Length::from_mm(30),
    Length::from_mm(35),
    Length::from_mm(40),
    Length::from_mm(50),
];

/// What is let into both parts.
struct Piece {
    sort: Sort,
    item: String,
    size: Option<Length>,
    /// How wide the hole is across the end, and how long along it.
    across: Length,
    along: Length,
    /// How deep the holes are in the member and in the target.
    depths: [Length; 2],
    hole: &'static str,
    is_round: bool,
}

/// Lets dowels, biscuits or loose tenons into both parts.
pub(super) fn loose(
    work: &mut Work<'_>,
    id: JointId,
    joint: &JointUse,
    target: PartId,
    touch: &Contact,
    way: &str,
) -> Result<Layout, Finding> {
    let axis = touch.face.axis();
    let end = [joint.member, target].into_iter().find(|&part| work.model.part(part).thickness != axis);
    let Some(end) = end else {
        return Err(Finding::error(
            "no-end-for-dowels",
            format!(
                "butt: `{}` and `{}` meet with their broad faces, and {way} go into an end",
                work.model.full_name(joint.member),
                work.model.full_name(target)
            ),
        )
        .hint("use `with: \"screws\"` or `with: \"glue\"`"));
    };
    let end_part = work.model.part(end);
    let (middle, thick) =
        (Stretch::of(&end_part.solid, end_part.thickness).middle(), end_part.solid.size(end_part.thickness));
    let across = end_part.thickness;
    let [a, b] = axis.others();
    let run = if a == across { b } else { a };
    let deep = [joint.member, target].map(|part| most_depth(work, part, axis));
    let piece = match way {
        "biscuits" => biscuit(work, joint, thick, deep)?,
        "dowels" => dowel(work, joint, thick, deep)?,
        _ => tenon(work, joint, thick, deep, touch.area.size(run))?,
    };
    let on = Stretch::of(&touch.area, run);
    if on.size() < piece.sort.least_edge * 2 {
        let print = work.printing();
        return Err(Finding::error(
            "fastener-leaves-part",
            format!(
                "butt: a joint of {} has no room for {way}: one needs {} with its walls",
                print.length(on.size()),
                print.length(piece.sort.least_edge * 2)
            ),
        )
        .hint("use smaller ones, or another way to hold it"));
    }
    let mut centres = spread(work, joint, piece.sort, on)?;
    let holes = |centre: Length| {
        let hole = |face: crate::base::Face, depth: Length| {
            let mut solid = touch.area;
            for (axis, middle, size) in [(run, centre, piece.along), (across, middle, piece.across)] {
                solid.low[axis.index()] = middle - size.half();
                solid.high[axis.index()] = middle + (size - size.half());
            }
            solid.grown(face, depth)
        };
        [(joint.member, hole(touch.face.opposite(), piece.depths[0])), (target, hole(touch.face, piece.depths[1]))]
    };
    keep_clear(work, joint, piece.sort, on, &mut centres, |centre| Some(holes(centre).into()));
    for &centre in &centres {
        for ((part, solid), face) in holes(centre).into_iter().zip([touch.face, touch.face.opposite()]) {
            refuse_outside(work, part, &solid, axis, way)?;
            let bore = Shape::Bore(Bore { diameter: piece.across, pocket: false });
            let shape = if piece.is_round { bore } else { Shape::Mortise { along: run } };
            work.cut(part, Feature { name: piece.hole, shape, solid, face, joint: id })?;
        }
    }
    let count = i64::try_from(centres.len()).unwrap_or(0);
    add_hardware(work, joint, &piece.item, HardwareKind::Other, piece.size, count, "glue them in both parts");
    let print = work.printing();
    let name = format!("{}s {} wide", piece.hole, print.length(piece.across));
    for (part, depth) in [joint.member, target].into_iter().zip(piece.depths) {
        let note = "from the face that the tool stands on; try it on an offcut first".to_owned();
        work.model.settings.push(Setting { what: "depth stop", work: name.clone(), value: depth, note, part });
    }
    Ok(Layout { count, length: piece.size.unwrap_or(piece.along), places: in_line(work, &centres, on, run) })
}

/// How deep a hole may be: two thirds of a broad face, and never nearer to the other side than a wall.
// Common practice, no source: what is left under two thirds does not print through.
fn most_depth(work: &Work<'_>, part: PartId, axis: Axis) -> Length {
    let part = work.model.part(part);
    let there = part.solid.size(axis);
    let share = if axis == part.thickness { tongue::share(work, there, (2, 3)) } else { there };
    share.min(there - WALL)
}

fn sizes(unit: Unit) -> &'static [Length] {
    match unit {
        Unit::Inch => INCH_SIZES,
        Unit::Millimetre => MM_SIZES,
    }
}

/// Refuses an end that has too little wood beside a hole.
fn refuse_thin_end(work: &Work<'_>, across: Length, thick: Length, what: &str) -> Result<(), Finding> {
    if thick - across >= WALL * 2 {
        return Ok(());
    }
    let print = work.printing();
    Err(Finding::error(
        "too-thin-for-dowels",
        format!(
            "butt: {what} {} thick leaves too little wood in an end of {}",
            print.length(across),
            print.length(thick)
        ),
    )
    .hint(format!("keep {} on both sides: use a thinner one, or thicker stock", print.length(WALL))))
}

/// Refuses holes too shallow to hold.
fn shallow(work: &Work<'_>, what: &str, depth: Length, least: Length) -> Result<(), Finding> {
    if depth >= least {
        return Ok(());
    }
    let print = work.printing();
    Err(Finding::error(
        "too-thin-for-dowels",
        format!(
            "butt: {what} would go only {} into a part; {} holds",
            print.length(depth.max(Length::ZERO)),
            print.length(least)
        ),
    )
    .hint("use a thinner one, or thicker stock"))
}

fn dowel(work: &Work<'_>, joint: &JointUse, thick: Length, deep: [Length; 2]) -> Result<Piece, Finding> {
    let unit = work.printing().unit;
    // Common practice, no source: a dowel is a third to a half as thick as the part; the thickest of these holds best.
    let usual = sizes(unit).iter().copied().rev().find(|&size| size * 2 <= thick).unwrap_or(sizes(unit)[0]);
    let diameter = tongue::positive(work, joint, "dowel", usual)?;
    refuse_thin_end(work, diameter, thick, "a dowel")?;
    let lengths = match unit {
        Unit::Inch => INCH_LENGTHS,
        Unit::Millimetre => MM_LENGTHS,
    };
    let most = deep[0] + deep[1] - work.usual(ROOM) * 2;
    let length = lengths
        .iter()
        .copied()
        .rev()
        .find(|&length| length <= diameter * DIAMETERS && length <= most)
        .unwrap_or(lengths[0]);
    // Half in each part, unless one is too thin for that.
    let half = length.half() + work.usual(ROOM);
    let into_target = half.min(deep[1]).max(length + work.usual(ROOM) * 2 - deep[0]);
    let depths = [length + work.usual(ROOM) * 2 - into_target, into_target];
    for depth in depths {
        shallow(work, "a dowel", depth - work.usual(ROOM), diameter)?;
    }
    shallow(work, "a dowel", deep[0] - depths[0], Length::ZERO)?;
    shallow(work, "a dowel", deep[1] - depths[1], Length::ZERO)?;
    let print = work.printing();
    let room = diameter + WALL * 2;
    Ok(Piece {
        sort: Sort { many: "dowels", least_edge: room.half(), apart: room.max(diameter * 2), least_spacing: room },
        item: format!("dowel {} thick", print.length(diameter)),
        size: Some(length),
        across: diameter,
        along: diameter,
        depths,
        hole: "dowel hole",
        is_round: true,
    })
}

fn biscuit(work: &Work<'_>, joint: &JointUse, thick: Length, deep: [Length; 2]) -> Result<Piece, Finding> {
    refuse_thin_end(work, BISCUIT_THICKNESS, thick, "a biscuit")?;
    let fits = |one: &Biscuit| one.depth <= deep[0] && one.depth <= deep[1];
    let asked = joint.options.text("biscuit");
    let one = match asked {
        Some(name) => BISCUITS.iter().find(|one| one.name == name),
        None => BISCUITS.iter().rev().find(|one| fits(one)),
    };
    let one = one.unwrap_or(&BISCUITS[0]);
    if !fits(one) {
        shallow(work, &format!("a biscuit #{}", one.name), deep[0].min(deep[1]), one.depth)?;
    }
    let room = one.slot + WALL * 2;
    Ok(Piece {
        sort: Sort { many: "biscuits", least_edge: room.half(), apart: room, least_spacing: room },
        item: format!("biscuit #{}", one.name),
        size: None,
        across: BISCUIT_THICKNESS,
        along: one.slot,
        depths: [one.depth; 2],
        hole: "biscuit slot",
        is_round: false,
    })
}

fn tenon(work: &Work<'_>, joint: &JointUse, thick: Length, deep: [Length; 2], run: Length) -> Result<Piece, Finding> {
    let unit = work.printing().unit;
    // Common practice, no source: a third of the part, as for a tenon; the next cutter up.
    let usual = sizes(unit).iter().copied().find(|&size| size * 3 >= thick).unwrap_or(sizes(unit)[0]);
    let thickness = tongue::positive(work, joint, "tenon", usual)?;
    refuse_thin_end(work, thickness, thick, "a loose tenon")?;
    // Common practice, no source: five thicknesses wide, and a shoulder at each end.
    let wide = (thickness * 5).min(run - WALL * 4);
    shallow(work, "a loose tenon", wide, thickness)?;
    let depths = deep.map(|deep| (thickness * DIAMETERS + work.usual(ROOM)).min(deep));
    for depth in depths {
        shallow(work, "a loose tenon", depth - work.usual(ROOM), thickness)?;
    }
    let print = work.printing();
    let room = wide + WALL * 2;
    Ok(Piece {
        sort: Sort { many: "loose tenons", least_edge: room.half(), apart: room, least_spacing: room },
        item: format!("loose tenon {} thick, {} wide", print.length(thickness), print.length(wide)),
        size: Some(depths[0] + depths[1] - work.usual(ROOM) * 2),
        across: thickness,
        along: wide,
        depths,
        hole: "mortise",
        is_round: false,
    })
}

/// Refuses a hole that comes out of its part beside its mouth.
fn refuse_outside(work: &Work<'_>, part: PartId, hole: &Solid, axis: Axis, way: &str) -> Result<(), Finding> {
    let solid = &work.model.part(part).solid;
    let least = axis
        .others()
        .map(|axis| {
            (hole.low[axis.index()] - solid.low[axis.index()]).min(solid.high[axis.index()] - hole.high[axis.index()])
        })
        .into_iter()
        .min()
        .unwrap_or(Length::ZERO);
    if least >= WALL {
        return Ok(());
    }
    let print = work.printing();
    Err(Finding::error(
        "fastener-leaves-part",
        format!(
            "butt: a hole for {way} would have only {} of wood beside it in `{}`",
            print.length(least.max(Length::ZERO)),
            work.model.full_name(part)
        ),
    )
    .hint(format!("keep {}: move the parts, use smaller ones, or another way to hold it", print.length(WALL))))
}

#[cfg(test)]
mod tests {
    use super::super::bench::{Bench, in_};
    use super::*;
    use crate::model::{Model, Options, Value};

    /// A shelf 3/4 in thick and 12 in deep against a side of a thickness.
    fn shelf(side: Length, way: &str, options: Options) -> Result<Model, Finding> {
        let mut bench = Bench::new();
        let zero = in_(0, 1);
        let upright = bench.add("side", side, [zero; 3], [side, in_(12, 1), in_(30, 1)]);
        let shelf = bench.add("shelf", in_(3, 4), [side, zero, in_(10, 1)], [in_(24, 1), in_(12, 1), in_(43, 4)]);
        bench.join("butt", shelf, &[upright], options.with("with", Value::Text(way.into())));
        bench.made()
    }

    fn code(side: Length, way: &str, options: Options) -> &'static str {
        shelf(side, way, options).map_or_else(|finding| finding.code, |_| "none")
    }

    #[test]
    fn dowels_face_each_other() {
        // Half of 3/4 in: dowels of 3/8, 1-1/2 long. The side takes two thirds of 3/4, 1/2 in, with 1/32 room; the shelf the rest:
        // 1-1/2 + 2/32 - 1/2 = 1-1/16. Three of them, the first 3/4 in from the end.
        let model = shelf(in_(3, 4), "dowels", Options::new()).unwrap();
        let (side, shelf) = (&model.parts[0].features, &model.parts[1].features);
        assert_eq!((side.len(), shelf.len()), (3, 3));
        assert_eq!((side[0].solid.low[0], shelf[0].solid.high[0]), (in_(1, 4), in_(3, 4) + in_(17, 16)));
        for (a, b) in side.iter().zip(shelf) {
            assert_eq!((a.solid.low[1], a.solid.high[2]), (b.solid.low[1], b.solid.high[2]));
            assert_eq!(a.solid.size(Axis::Z), in_(3, 8));
        }
        assert_eq!((model.hardware[0].item.as_str(), model.hardware[0].size), ("dowel 3/8\" thick", Some(in_(3, 2))));
    }

    #[test]
    fn a_dowel_a_thousandth_too_thick_for_the_end_is_refused() {
        let dowel = |more: i64| Options::new().with("dowel", Value::Length(in_(1, 2) + Length::from_um(more)));
        // 3/4 in less 1/8 on both sides, and it must go its own thickness in: 1/2 in - 1/32 does not do that, in a side of 1 in.
        assert_eq!(code(in_(1, 1), "dowels", dowel(0)), "none");
        assert_eq!(code(in_(1, 1), "dowels", dowel(1)), "too-thin-for-dowels");
    }

    #[test]
    fn biscuits_are_as_large_as_the_side_takes() {
        let item = |side| shelf(side, "biscuits", Options::new()).unwrap().hardware[0].item.clone();
        // Two thirds of 3/4 in is 12.7 mm: a #20 slot is 12.3 deep. Of 5/8 in it is 13/32 = 10.3 mm: #10. Of 1/2 in 10/32 = 7.9: none.
        assert_eq!(item(in_(3, 4)), "biscuit #20");
        assert_eq!(item(in_(5, 8)), "biscuit #10");
        assert_eq!(code(in_(1, 2), "biscuits", Options::new()), "too-thin-for-dowels");
    }

    #[test]
    fn loose_tenons_are_a_third_of_the_end() {
        let model = shelf(in_(3, 4), "loose tenons", Options::new()).unwrap();
        assert_eq!(model.hardware[0].item, "loose tenon 1/4\" thick, 1-1/4\" wide");
        // 1/2 in into the side, and 4 x 1/4 + 1/32 into the shelf, less the room at both ends.
        assert_eq!(model.hardware[0].size, Some(in_(1, 2) + in_(33, 32) - in_(1, 16)));
    }
}
