//! Pocket screws: holes at a shallow angle in the end of a part, and screws from them into the face of another.

use super::Work;
use super::contact::Contact;
use super::fasteners::{
    LEAST_BITE, Layout, Member, SKIN, add_screws, choose, comes_through, gauge, mid, no_screw, run_axis, too_short,
};
use super::spread::{SCREWS, Stretch, in_line, keep_clear, spread};
use crate::base::{Axis, Face, Length, Ratio, Solid};
use crate::catalog;
use crate::diag::Finding;
use crate::model::{Bore, Feature, JointId, JointUse, PartId, Shape};

/// Drills pocket holes into the member and brings their screws.
pub(super) fn pocket_screws(
    work: &mut Work<'_>,
    id: JointId,
    joint: &JointUse,
    target: PartId,
    touch: &Contact,
) -> Result<Layout, Finding> {
    let print = work.printing();
    let name = work.model.full_name(joint.member);
    let part = Member::of(work, joint);
    if touch.face.axis() == part.thickness {
        return Err(Finding::error(
            "pocket-in-broad-face",
            format!(
                "butt: the {} of `{name}` is its broad face; pocket screws leave a part through its end",
                touch.face.name()
            ),
        )
        .hint("exchange the two parts, or use `with: \"screws\"`"));
    }
    let drill = drill_face(joint, &part, &name)?;
    let thickness = part.solid.size(part.thickness);
    let Some(row) = POCKET_ROWS.iter().rev().find(|row| thickness >= row.from) else {
        return Err(Finding::error(
            "too-thin-for-pockets",
            format!(
                "butt: `{name}` is {} thick; a pocket hole needs {} or more",
                print.length(thickness),
                print.length(POCKET_ROWS[0].from)
            ),
        )
        .hint("use `with: \"screws\"` or `with: \"glue\"`"));
    };
    let there = work.model.part(target).solid.size(touch.face.axis());
    let bite = |length: Length| cosine(length - row.shoulder);
    let length = choose(joint, catalog::pocket_screw_lengths(print.unit), row.longest, |length| {
        bite(length) >= LEAST_BITE && bite(length) + SKIN <= there
    });
    let Some(length) = length else {
        return Err(no_screw(work, joint, target, there, "pocket screw"));
    };
    if bite(length) < LEAST_BITE {
        return Err(too_short(work, joint, target, length, bite(length)));
    }
    if bite(length) + SKIN > there {
        return Err(comes_through(work, joint, target, length, bite(length), there));
    }
    let run = run_axis(touch.face, part.thickness);
    let on = Stretch::of(&touch.area, run);
    let mut spots = spread(work, joint, SCREWS, on)?;
    let middle = mid(&part.solid, part.thickness);
    let pocket = |centre| pocket_solid(&part.solid, touch, drill, run, centre, thickness);
    let tip = |centre| tip_solid(touch, run, centre, middle, part.thickness, bite(length), gauge(thickness));
    let has_walls = |hole: &Solid| {
        hole.low[run.index()] - part.solid.low[run.index()] >= POCKET_WALL
            && part.solid.high[run.index()] - hole.high[run.index()] >= POCKET_WALL
            && hole.within(&part.solid)
    };
    keep_clear(work, joint, SCREWS, on, &mut spots, |centre| {
        has_walls(&pocket(centre)).then(|| vec![(joint.member, pocket(centre)), (target, tip(centre))])
    });
    for &centre in &spots {
        let hole = pocket(centre);
        if !has_walls(&hole) {
            return Err(Finding::error(
                "pocket-leaves-part",
                format!(
                    "butt: a pocket hole at {} of `{name}` has too little wood round it: it needs {} along the part, and {} across \
                     with its walls",
                    print.length(centre - part.solid.face(run.low())),
                    print.length(hole.size(touch.face.axis())),
                    print.length(POCKET_WIDTH + POCKET_WALL * 2)
                ),
            )
            .hint("use fewer screws (`count`), a larger `edge_distance`, or another way to hold it"));
        }
        let bore = Bore { diameter: POCKET_WIDTH, pocket: true };
        let feature = Feature { name: "pocket hole", shape: Shape::Bore(bore), solid: hole, face: drill, joint: id };
        work.cut(joint.member, feature)?;
        let shape = Shape::Screw { diameter: catalog::screw_diameter(gauge(thickness)) };
        let feature = Feature { name: "screw", shape, solid: tip(centre), face: touch.face.opposite(), joint: id };
        work.cut(target, feature)?;
    }
    let count = i64::try_from(spots.len()).unwrap_or(0);
    add_screws(
        work,
        joint,
        "pocket screw",
        length,
        gauge(thickness),
        count,
        "coarse thread in plywood, MDF and softwood, fine in hardwood",
    );
    let places = format!("{}; pockets in its {}", in_line(work, &spots, on, run), face_of(drill));
    Ok(Layout { count, length, places })
}

/// How a pocket screw sits in stock of a thickness: from the shoulder of the hole to the end of the part, along the screw,
/// and the longest screw in use.
struct PocketRow {
    from: Length,
    shoulder: Length,
    longest: Length,
}

// Common practice, no source: 1 in screws for half-inch stock, 1-1/4 for three-quarter, 1-1/2 for inch, 2-1/2 for
// inch-and-a-half. The shoulders put the screw's middle in the middle of the end.
const POCKET_ROWS: [PocketRow; 4] = [
    PocketRow { from: Length::from_inch(7, 16), shoulder: Length::from_inch(9, 16), longest: Length::from_inch(1, 1) },
    PocketRow {
        from: Length::from_inch(11, 16),
        shoulder: Length::from_inch(11, 16),
        longest: Length::from_inch(5, 4),
    },
    PocketRow { from: Length::from_inch(15, 16), shoulder: Length::from_inch(7, 8), longest: Length::from_inch(3, 2) },
    PocketRow { from: Length::from_inch(21, 16), shoulder: Length::from_inch(5, 4), longest: Length::from_inch(5, 2) },
];

// Common practice, no source: a pocket hole is 3/8 in wide and runs at 15 degrees to the face.
const POCKET_WIDTH: Length = Length::from_inch(3, 8);
// Common practice, no source: less wood beside a pocket splits away.
const POCKET_WALL: Length = Length::from_inch(1, 8);
// 1/tan 15 = 2 + sqrt 3 = 3.732, 1/sin 15 = 3.864, cos 15 = 0.966, each to the thousandth above or below as is safe.
const COT_15: (i64, i64) = (3733, 1000);
const COSEC_15: (i64, i64) = (3864, 1000);
const COS_15: (i64, i64) = (966, 1000);

fn drill_face(joint: &JointUse, part: &Member, name: &str) -> Result<Face, Finding> {
    let usual = part.show.map_or(part.thickness.high(), Face::opposite);
    let drill = joint.options.face("drill").unwrap_or(usual);
    if drill.axis() == part.thickness {
        return Ok(drill);
    }
    Err(Finding::error(
        "pocket-in-edge",
        format!("butt: pocket holes go into a broad face of `{name}`, and its {} is an edge", drill.name()),
    )
    .hint(format!(
        "write `drill: \"{}\"` or `drill: \"{}\"`",
        part.thickness.low().name(),
        part.thickness.high().name()
    )))
}

fn pocket_solid(part: &Solid, touch: &Contact, drill: Face, run: Axis, centre: Length, thickness: Length) -> Solid {
    let half = POCKET_WIDTH.half();
    let scaled = |length: Length, (n, d): (i64, i64)| length.times(Ratio::new(n, d)).unwrap_or(length);
    // The axis of the hole leaves the end in the middle of the thickness and reaches the face this far back; the mouth of
    // the hole reaches half its width further, along the face.
    let back = scaled(thickness.half(), COT_15) + scaled(half, COSEC_15);
    let mut hole = *part;
    let end = part.face(touch.face);
    hole.set_face(touch.face, end);
    hole.set_face(touch.face.opposite(), end);
    hole = hole.grown(touch.face.opposite(), back);
    hole.low[run.index()] = centre - half;
    hole.high[run.index()] = centre + half;
    let face = part.face(drill);
    hole.set_face(drill.opposite(), face);
    hole.grown(drill.opposite(), thickness.half() + half)
}

fn tip_solid(
    touch: &Contact,
    run: Axis,
    centre: Length,
    middle: Length,
    thickness: Axis,
    bite: Length,
    gauge: u8,
) -> Solid {
    let half = catalog::screw_diameter(gauge).half();
    let mut tip = touch.area;
    tip.low[run.index()] = centre - half;
    tip.high[run.index()] = centre + half;
    tip.low[thickness.index()] = middle - half;
    tip.high[thickness.index()] = middle + half;
    tip.grown(touch.face, bite)
}

fn cosine(length: Length) -> Length {
    length.times(Ratio::new(COS_15.0, COS_15.1)).unwrap_or(length)
}

/// A face as one says it of a part: `back`, `left face`.
fn face_of(face: Face) -> String {
    let plain = face.axis() != Axis::X;
    if plain { face.name().to_owned() } else { format!("{} face", face.name()) }
}
