//! Screws: how many, where, how long, and the holes they need.

use super::Work;
use super::bring::piece_name;
use super::contact::Contact;
use super::spread::{SCREWS, Stretch, TWO_TO, in_line, is_even, keep_clear, refuse_count, spread};
use crate::base::{Axis, Face, Length, Ratio, Solid};
use crate::catalog;
use crate::diag::Finding;
use crate::model::{Bore, Feature, HardwareKind, HardwareUnit, HardwareUse, JointId, JointUse, PartId, Shape};

/// The screws of one joint with one target.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Layout {
    /// How many.
    pub count: i64,
    /// How long.
    pub length: Length,
    /// Where, in words.
    pub places: String,
}

/// What fasteners need to know of the part that is fitted.
#[derive(Clone, Copy)]
struct Member {
    solid: Solid,
    thickness: Axis,
    show: Option<Face>,
}

impl Member {
    fn of(work: &Work<'_>, joint: &JointUse) -> Self {
        let part = work.model.part(joint.member);
        Self { solid: part.solid, thickness: part.thickness, show: part.show }
    }
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
// Common practice, no source: a screw in an edge splits it unless the edge is three times as thick as the screw.
const EDGE_DIAMETERS: i64 = 3;
// 1/tan 15 = 2 + sqrt 3 = 3.732, 1/sin 15 = 3.864, cos 15 = 0.966, each to the thousandth above or below as is safe.
const COT_15: (i64, i64) = (3733, 1000);
const COSEC_15: (i64, i64) = (3864, 1000);
const COS_15: (i64, i64) = (966, 1000);
// Common practice, no source: what must stay between the tip of a screw and the far face.
const SKIN: Length = Length::from_inch(1, 32);
// Common practice, no source.
const THIN_PARTS_TAKE: Length = Length::from_inch(3, 4);
// Common practice, no source: less thread than this holds nothing.
const LEAST_BITE: Length = Length::from_inch(3, 16);
// Common practice, no source: in thicker stock gauge 8, below five eighths gauge 6, so that thin stock does not split.
const GAUGE_8_FROM: Length = Length::from_inch(5, 8);

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

/// Drives screws through the target into the member: in a line along its end, or in rows on its broad face.
pub(super) fn screws(
    work: &mut Work<'_>,
    id: JointId,
    joint: &JointUse,
    target: PartId,
    touch: &Contact,
) -> Result<Layout, Finding> {
    let part = Member::of(work, joint);
    let rows = if touch.face.axis() == part.thickness {
        Rows::Field(field(joint, touch)?)
    } else {
        Rows::Line([line(work, joint, touch, &part)?])
    };
    let drive = Drive { through: target, into: joint.member, face: touch.face, area: touch.area };
    driven(work, id, joint, drive, rows)
}

/// Screws that go through one part into another.
#[derive(Clone, Copy)]
pub(super) struct Drive {
    /// The part that they hold.
    pub through: PartId,
    /// The part that holds them.
    pub into: PartId,
    /// The face of that part that looks at the other.
    pub face: Face,
    /// Where both touch.
    pub area: Solid,
}

/// How screws stand on the contact of two parts.
pub(super) enum Rows {
    /// In a line along it.
    Line([ScrewRow; 1]),
    /// In rows that fill it.
    Field(Vec<ScrewRow>),
}

impl Rows {
    fn all(&mut self) -> &mut [ScrewRow] {
        match self {
            Self::Line(row) => row,
            Self::Field(rows) => rows,
        }
    }
}

/// Screws in a row: the axis that it runs along, where on it each stands, and where the row lies on the other axis.
pub(super) struct ScrewRow {
    pub run: Axis,
    pub centres: Vec<Length>,
    pub across: (Axis, Length),
}

/// Drives rows of screws.
pub(super) fn driven(
    work: &mut Work<'_>,
    id: JointId,
    joint: &JointUse,
    drive: Drive,
    mut rows: Rows,
) -> Result<Layout, Finding> {
    let axis = drive.face.axis();
    let through = work.model.part(drive.through).solid.size(axis);
    let into = work.model.part(drive.into).solid.size(axis);
    // SEEN: about two thirds of a screw's length belongs in the second piece (ary.com, wood screw sizes).
    // Common practice, no source: a thin back or bottom is held by screws of 3/4 in all the same.
    let longest = (through * 3).max(THIN_PARTS_TAKE);
    let bite = |length: Length| length - through;
    let length = choose(joint, catalog::screw_lengths(work.printing().unit), longest, |length| {
        bite(length) >= LEAST_BITE && bite(length) + SKIN <= into
    });
    let Some(length) = length else {
        return Err(no_screw(work, joint, drive.into, into, "screw"));
    };
    if bite(length) < LEAST_BITE {
        return Err(too_short(work, joint, drive.into, length, bite(length)));
    }
    if bite(length) + SKIN > into {
        return Err(comes_through(work, joint, drive.into, length, bite(length), into));
    }
    let holder = work.model.part(drive.into);
    let size = gauge(holder.solid.size(holder.thickness));
    refuse_thin_edge(work, joint, drive, size)?;
    let around = |row: &ScrewRow, centre: Length, face: Face, depth: Length| {
        let half = catalog::screw_diameter(size).half();
        let mut hole = drive.area;
        hole.set_face(face, drive.area.face(face));
        hole.set_face(face.opposite(), drive.area.face(face));
        for (axis, at) in [(row.run, centre), row.across] {
            hole.low[axis.index()] = at - half;
            hole.high[axis.index()] = at + half;
        }
        hole.grown(face, depth)
    };
    let holes = |row: &ScrewRow, centre: Length| {
        [
            (drive.through, around(row, centre, drive.face, through)),
            (drive.into, around(row, centre, drive.face.opposite(), bite(length))),
        ]
    };
    for row in rows.all() {
        let on = Stretch::of(&drive.area, row.run);
        let mut centres = std::mem::take(&mut row.centres);
        keep_clear(work, joint, SCREWS, on, &mut centres, |centre| Some(holes(row, centre).into()));
        row.centres = centres;
    }
    let bore = Shape::Bore(Bore { diameter: catalog::screw_diameter(size), pocket: false });
    let mut count = 0;
    for row in &*rows.all() {
        for &centre in &row.centres {
            for ((part, solid), name) in holes(row, centre).into_iter().zip(["screw hole", "pilot hole"]) {
                work.cut(part, Feature { name, shape: bore, solid, face: drive.face, joint: id })?;
            }
            count += 1;
        }
    }
    add_screws(work, joint, "wood screw", length, size, count, "drill clearance and pilot holes, and countersink");
    let places = match &rows {
        Rows::Line([row]) => in_line(work, &row.centres, Stretch::of(&drive.area, row.run), row.run),
        Rows::Field(rows) => in_rows(work, drive, rows),
    };
    Ok(Layout { count, length, places })
}

/// Refuses screws into an edge that they would split.
fn refuse_thin_edge(work: &Work<'_>, joint: &JointUse, drive: Drive, gauge: u8) -> Result<(), Finding> {
    let part = work.model.part(drive.into);
    let thickness = part.solid.size(part.thickness);
    let least = catalog::screw_diameter(gauge) * EDGE_DIAMETERS;
    if drive.face.axis() == part.thickness || thickness >= least {
        return Ok(());
    }
    let print = work.printing();
    Err(Finding::error(
        "edge-too-thin-for-screws",
        format!(
            "{}: screws would split the edge of `{}`, which is {} thick; they need {}",
            joint.joint,
            work.model.full_name(drive.into),
            print.length(thickness),
            print.length(least)
        ),
    )
    .hint("let it into the other part with `groove`, `dado` or `rabbet`, or use thicker stock"))
}

/// Where screws that fill a face sit, in words: `3" from the left and right edges, 1" from the bottom and top`.
fn in_rows(work: &Work<'_>, drive: Drive, rows: &[ScrewRow]) -> String {
    let print = work.printing();
    let area = &drive.area;
    let of = whole_face(work, drive);
    let Some(first) = rows.first() else { return String::new() };
    let from_edges = |axis: Axis, at: Length, edges: &str| {
        let from = print.length(at - area.low[axis.index()]);
        format!("{from} from the {} and {}{edges}", axis.low().name(), axis.high().name())
    };
    let moved =
        rows.iter().any(|row| row.centres != first.centres || !is_even(&row.centres, Stretch::of(area, row.run)));
    if moved {
        let each = rows.iter().map(|row| in_line(work, &row.centres, Stretch::of(area, row.run), row.run));
        let across = from_edges(first.across.0, first.across.1, " edges");
        return format!("in rows {across}{of}: {}", each.collect::<Vec<_>>().join("; "));
    }
    let mut axes = [(first.run, first.centres[0]), first.across];
    axes.sort_by_key(|(axis, _)| *axis);
    let [(a, at_a), (b, at_b)] = axes;
    format!("{}, {}{of}", from_edges(a, at_a, " edges"), from_edges(b, at_b, ""))
}

/// Whose edges the rows are measured from, in words: the part whose whole face meets the other, or where both meet.
fn whole_face(work: &Work<'_>, drive: Drive) -> String {
    let fills = |part: PartId| {
        let solid = &work.model.part(part).placed;
        drive.face.axis().others().into_iter().all(|axis| solid.size(axis).same_size(drive.area.size(axis)))
    };
    match [drive.through, drive.into].into_iter().find(|&part| fills(part)) {
        Some(part) => format!(" of the {}", work.model.part(part).name),
        None => " of where they meet".to_owned(),
    }
}

/// A face as one says it of a part: `back`, `left face`.
fn face_of(face: Face) -> String {
    let plain = face.axis() != Axis::X;
    if plain { face.name().to_owned() } else { format!("{} face", face.name()) }
}

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

fn run_axis(face: Face, thickness: Axis) -> Axis {
    let [a, b] = face.axis().others();
    if a == thickness { b } else { a }
}

/// The longest usual length that fits, or the one that the recipe asks for.
fn choose(joint: &JointUse, lengths: &[Length], longest: Length, fits: impl Fn(Length) -> bool) -> Option<Length> {
    if let Some(asked) = joint.options.length("screw") {
        return Some(asked);
    }
    lengths.iter().copied().rev().find(|&length| length <= longest && fits(length))
}

/// A line of screws along the member's end, in the middle of its thickness.
fn line(work: &Work<'_>, joint: &JointUse, touch: &Contact, part: &Member) -> Result<ScrewRow, Finding> {
    let run = run_axis(touch.face, part.thickness);
    let centres = spread(work, joint, SCREWS, Stretch::of(&touch.area, run))?;
    Ok(ScrewRow { run, centres, across: (part.thickness, mid(&part.solid, part.thickness)) })
}

/// Screws that fill a broad face: two rows of two, or one row on a narrow face; a `count` that is given is kept, in two rows where
/// it is even.
fn field(joint: &JointUse, touch: &Contact) -> Result<Vec<ScrewRow>, Finding> {
    let [a, b] = touch.face.axis().others();
    let (long, short) = if touch.area.size(b) > touch.area.size(a) { (b, a) } else { (a, b) };
    let usual = if touch.area.size(short) > TWO_TO { 4 } else { 2 };
    let count = joint.options.count("count").unwrap_or(usual);
    refuse_count(joint, SCREWS, count)?;
    let in_rows = if count > 2 && count % 2 == 0 { 2 } else { 1 };
    let evenly = |axis: Axis, count: i64| {
        let size = touch.area.size(axis).nm();
        let low = touch.area.low[axis.index()];
        (0..count).map(|i| low + Length::from_nm(size / (2 * count) * (2 * i + 1))).collect::<Vec<_>>()
    };
    let row = |at| ScrewRow { run: long, centres: evenly(long, count / in_rows), across: (short, at) };
    Ok(evenly(short, in_rows).into_iter().map(row).collect())
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

fn mid(solid: &Solid, axis: Axis) -> Length {
    solid.face(axis.low()) + solid.size(axis).half()
}

fn cosine(length: Length) -> Length {
    length.times(Ratio::new(COS_15.0, COS_15.1)).unwrap_or(length)
}

fn gauge(thickness: Length) -> u8 {
    if thickness < GAUGE_8_FROM { 6 } else { 8 }
}

fn add_screws(work: &mut Work<'_>, joint: &JointUse, item: &str, length: Length, gauge: u8, count: i64, note: &str) {
    let purpose = piece_name(work, joint.member);
    work.model.hardware.push(HardwareUse {
        item: item.to_owned(),
        kind: HardwareKind::Screw,
        size: Some(length),
        gauge: Some(gauge),
        quantity: count,
        unit: HardwareUnit::Each,
        purpose,
        note: note.to_owned(),
        slides: None,
        part: Some(joint.member),
        at: joint.at.clone(),
    });
}

fn no_screw(work: &Work<'_>, joint: &JointUse, into: PartId, there: Length, what: &str) -> Finding {
    let print = work.printing();
    Finding::error(
        "no-screw-fits",
        format!(
            "{}: no {what} holds `{}`: `{}` has only {} for it",
            joint.joint,
            work.model.full_name(joint.member),
            work.model.full_name(into),
            print.length(there)
        ),
    )
    .hint("use thicker stock, or another way to hold it")
}

fn too_short(work: &Work<'_>, joint: &JointUse, into: PartId, length: Length, bite: Length) -> Finding {
    let print = work.printing();
    let reach =
        if bite.is_positive() { format!("only {} into", print.length(bite)) } else { "not even into".to_owned() };
    let name = work.model.full_name(into);
    Finding::error(
        "screw-too-short",
        format!("{}: a screw of {} reaches {reach} `{name}`: it would hold nothing", joint.joint, print.length(length)),
    )
    .hint("leave `screw` out for the longest that stays inside")
}

fn comes_through(
    work: &Work<'_>,
    joint: &JointUse,
    into: PartId,
    length: Length,
    bite: Length,
    there: Length,
) -> Finding {
    let print = work.printing();
    Finding::error(
        "screw-comes-through",
        format!(
            "{}: a screw of {} reaches {} into `{}`, which has {}: it would come out of its face or bulge it",
            joint.joint,
            print.length(length),
            print.length(bite),
            work.model.full_name(into),
            print.length(there)
        ),
    )
    .hint("leave `screw` out for the longest that stays inside")
}
