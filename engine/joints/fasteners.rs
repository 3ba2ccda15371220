//! Screws: how many, where, how long, and the holes they need.

use super::Work;
use super::bring::piece_name;
use super::contact::Contact;
use super::spread::{SCREWS, Stretch, TWO_TO, in_line, is_even, keep_clear, refuse_count, spread};
use crate::base::{Axis, Face, Length, Solid};
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
pub(super) struct Member {
    pub solid: Solid,
    pub thickness: Axis,
    pub show: Option<Face>,
}

impl Member {
    pub(super) fn of(work: &Work<'_>, joint: &JointUse) -> Self {
        let part = work.model.part(joint.member);
        Self { solid: part.solid, thickness: part.thickness, show: part.show }
    }
}
// Common practice, no source: a screw in an edge splits it unless the edge is three times as thick as the screw.
const EDGE_DIAMETERS: i64 = 3;
// Common practice, no source: what must stay between the tip of a screw and the far face.
pub(super) const SKIN: Length = Length::from_inch(1, 32);
// Common practice, no source.
const THIN_PARTS_TAKE: Length = Length::from_inch(3, 4);
// Common practice, no source: less thread than this holds nothing.
pub(super) const LEAST_BITE: Length = Length::from_inch(3, 16);
// Common practice, no source: in thicker stock gauge 8, below five eighths gauge 6, so that thin stock does not split.
const GAUGE_8_FROM: Length = Length::from_inch(5, 8);

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

pub(super) fn run_axis(face: Face, thickness: Axis) -> Axis {
    let [a, b] = face.axis().others();
    if a == thickness { b } else { a }
}

/// The longest usual length that fits, or the one that the recipe asks for.
pub(super) fn choose(
    joint: &JointUse,
    lengths: &[Length],
    longest: Length,
    fits: impl Fn(Length) -> bool,
) -> Option<Length> {
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

pub(super) fn mid(solid: &Solid, axis: Axis) -> Length {
    solid.face(axis.low()) + solid.size(axis).half()
}

pub(super) fn gauge(thickness: Length) -> u8 {
    if thickness < GAUGE_8_FROM { 6 } else { 8 }
}

pub(super) fn add_screws(
    work: &mut Work<'_>,
    joint: &JointUse,
    item: &str,
    length: Length,
    gauge: u8,
    count: i64,
    note: &str,
) {
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

pub(super) fn no_screw(work: &Work<'_>, joint: &JointUse, into: PartId, there: Length, what: &str) -> Finding {
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

pub(super) fn too_short(work: &Work<'_>, joint: &JointUse, into: PartId, length: Length, bite: Length) -> Finding {
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

pub(super) fn comes_through(
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
