//! Screws and glue: how many, where, how long, and the holes they need.

use super::Work;
use super::contact::Contact;
use crate::base::{Axis, Face, Length, Ratio, Solid};
use crate::catalog;
use crate::diag::Finding;
use crate::model::{Bore, Feature, HardwareKind, HardwareUnit, HardwareUse, JointId, JointUse, Model, PartId, Shape};

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
// Common practice, no source: less thread than this holds nothing.
const LEAST_BITE: Length = Length::from_inch(3, 16);
// Common practice, no source.
const EDGE_DISTANCE: Length = Length::from_inch(3, 4);
const SPACING: Length = Length::from_inch(6, 1);
const LEAST_SPACING: Length = Length::from_inch(1, 2);
const ONE_SCREW_BELOW: Length = Length::from_inch(5, 4);
const TWO_SCREWS_TO: Length = Length::from_inch(3, 1);
/// More screws than this in one joint are a slip.
const MOST_SCREWS: i64 = 200;
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
        return Err(too_short(work, target, length, bite(length)));
    }
    if bite(length) + SKIN > there {
        return Err(comes_through(work, target, length, bite(length), there));
    }
    let run = run_axis(touch.face, part.thickness);
    let spots = spread(work, joint, touch.area.size(run), touch.area.face(run.low()))?;
    for &centre in &spots {
        let hole = pocket_solid(&part.solid, touch, drill, run, centre, thickness);
        let inside = hole.low[run.index()] - part.solid.low[run.index()] >= POCKET_WALL
            && part.solid.high[run.index()] - hole.high[run.index()] >= POCKET_WALL;
        if !inside || !hole.within(&part.solid) {
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
        let tip = tip_solid(
            touch,
            run,
            centre,
            mid(&part.solid, part.thickness),
            part.thickness,
            bite(length),
            gauge(thickness),
        );
        let shape = Shape::Screw { diameter: catalog::screw_diameter(gauge(thickness)) };
        let feature = Feature { name: "screw", shape, solid: tip, face: touch.face.opposite(), joint: id };
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
    let from = touch.area.face(run.low());
    let places = format!("{}; pockets in its {}", in_line(work, &spots, from), drill.name());
    Ok(Layout { count, length, places })
}

/// Drives screws through the target into the member.
pub(super) fn screws(
    work: &mut Work<'_>,
    id: JointId,
    joint: &JointUse,
    target: PartId,
    touch: &Contact,
) -> Result<Layout, Finding> {
    let part = Member::of(work, joint);
    let through = work.model.part(target).solid.size(touch.face.axis());
    let into = part.solid.size(touch.face.axis());
    // SEEN: about two thirds of a screw's length belongs in the second piece (ary.com, wood screw sizes).
    let longest = through * 3;
    let bite = |length: Length| length - through;
    let length = choose(joint, catalog::screw_lengths(work.printing().unit), longest, |length| {
        bite(length) >= LEAST_BITE && bite(length) + SKIN <= into
    });
    let Some(length) = length else {
        return Err(no_screw(work, joint, joint.member, into, "screw"));
    };
    if bite(length) < LEAST_BITE {
        return Err(too_short(work, joint.member, length, bite(length)));
    }
    if bite(length) + SKIN > into {
        return Err(comes_through(work, joint.member, length, bite(length), into));
    }
    let thickness = part.solid.size(part.thickness);
    let size = gauge(thickness);
    refuse_thin_edge(work, joint, touch, size)?;
    let spots = screw_spots(work, joint, touch, part.thickness, &part.solid)?;
    let count = i64::try_from(spots.len()).unwrap_or(0);
    let places = places(work, touch, &spots, part.thickness);
    for spot in spots {
        let around = |from: Face, depth: Length| {
            let mut hole = spot;
            hole.set_face(from, touch.area.face(from));
            hole.set_face(from.opposite(), touch.area.face(from));
            let mut hole = hole.grown(from, depth);
            for axis in touch.face.axis().others() {
                let half = catalog::screw_diameter(size).half();
                hole.low[axis.index()] -= half;
                hole.high[axis.index()] += half;
            }
            hole
        };
        let bore = Shape::Bore(Bore { diameter: catalog::screw_diameter(size), pocket: false });
        let hole = Feature {
            name: "screw hole",
            shape: bore,
            solid: around(touch.face, through),
            face: touch.face,
            joint: id,
        };
        work.cut(target, hole)?;
        let pilot = Feature {
            name: "pilot hole",
            shape: bore,
            solid: around(touch.face.opposite(), bite(length)),
            face: touch.face,
            joint: id,
        };
        work.cut(joint.member, pilot)?;
    }
    add_screws(work, joint, "wood screw", length, size, count, "drill clearance and pilot holes, and countersink");
    Ok(Layout { count, length, places })
}

/// Refuses screws into an edge that they would split.
fn refuse_thin_edge(work: &Work<'_>, joint: &JointUse, touch: &Contact, gauge: u8) -> Result<(), Finding> {
    let part = work.model.part(joint.member);
    let thickness = part.solid.size(part.thickness);
    let least = catalog::screw_diameter(gauge) * EDGE_DIAMETERS;
    if touch.face.axis() == part.thickness || thickness >= least {
        return Ok(());
    }
    let print = work.printing();
    Err(Finding::error(
        "edge-too-thin-for-screws",
        format!(
            "butt: screws would split the edge of `{}`, which is {} thick; they need {}",
            work.model.full_name(joint.member),
            print.length(thickness),
            print.length(least)
        ),
    )
    .hint("let it into the other part with `groove`, `dado` or `rabbet`, or use thicker stock"))
}

/// Where screws in a row sit, measured from the end of the joint: `3/4" from each end and 2-1/2" apart`.
fn in_line(work: &Work<'_>, centres: &[Length], from: Length) -> String {
    let print = work.printing();
    match centres {
        [] => String::new(),
        [_] => "in the middle".to_owned(),
        [first, _] => format!("{} from each end", print.length(*first - from)),
        [first, second, ..] => {
            format!("{} from each end and {} apart", print.length(*first - from), print.length(*second - *first))
        }
    }
}

/// Where screws through a contact sit, in words.
fn places(work: &Work<'_>, touch: &Contact, spots: &[Solid], thickness: Axis) -> String {
    if touch.face.axis() != thickness {
        let run = run_axis(touch.face, thickness);
        let centres: Vec<Length> = spots.iter().map(|spot| spot.low[run.index()]).collect();
        return in_line(work, &centres, touch.area.face(run.low()));
    }
    let print = work.printing();
    let Some(first) = spots.first() else { return String::new() };
    let from = |axis: Axis| print.length(first.low[axis.index()] - touch.area.low[axis.index()]);
    let [a, b] = touch.face.axis().others();
    format!(
        "{} from the {} and {} edges, {} from the {} and {}",
        from(a),
        a.low().name(),
        a.high().name(),
        from(b),
        b.low().name(),
        b.high().name()
    )
}

/// Adds an area to the glue that the job needs.
pub(super) fn add_glue(work: &mut Work<'_>, joint: &JointUse, square_mm: i64) {
    let purpose = piece_name(work, joint.member);
    work.model.hardware.push(HardwareUse {
        item: "wood glue".to_owned(),
        kind: HardwareKind::Glue,
        size: None,
        gauge: None,
        quantity: square_mm,
        unit: HardwareUnit::Area,
        purpose,
        note: "area of the joints to be coated; see the glue maker's coverage".to_owned(),
        slides: None,
        part: Some(joint.member),
        at: joint.at.clone(),
    });
}

/// The words of a joint for a sentence: where it is made, what is fitted, and to what.
pub(super) struct Named {
    /// `drawer 2: ` when all parts belong to one piece that is not the whole job.
    pub place: String,
    /// `the bottom`.
    pub member: String,
    /// `each side, the front and the back`.
    pub targets: String,
}

/// Names a joint's parts as one would say them at the bench.
pub(super) fn named(work: &Work<'_>, joint: &JointUse) -> Named {
    let piece = work.model.part(joint.member).piece;
    let together = joint.into.iter().all(|&target| work.model.part(target).piece == piece);
    let say = |id: PartId| {
        let part = work.model.part(id);
        let name = &part.name;
        if together || part.piece == Model::ROOT { name.clone() } else { format!("{name} of {}", piece_name(work, id)) }
    };
    let mut counted: Vec<(String, usize)> = Vec::new();
    for &target in &joint.into {
        let name = say(target);
        match counted.iter_mut().find(|(known, _)| *known == name) {
            Some((_, count)) => *count += 1,
            None => counted.push((name, 1)),
        }
    }
    let words: Vec<String> = counted
        .into_iter()
        .map(|(name, count)| if count == 1 { format!("the {name}") } else { format!("each {name}") })
        .collect();
    let targets = match words.split_last() {
        Some((last, rest)) if !rest.is_empty() => format!("{} and {last}", rest.join(", ")),
        _ => words.concat(),
    };
    let place =
        if together && piece != Model::ROOT { format!("{}: ", piece_name(work, joint.member)) } else { String::new() };
    Named { place, member: format!("the {}", say(joint.member)), targets }
}

/// The sentence with the place before it, beginning with a capital where there is none.
pub(super) fn sentence(place: &str, text: &str) -> String {
    if place.is_empty() { capital(text) } else { format!("{place}{text}") }
}

fn capital(word: &str) -> String {
    let mut letters = word.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().collect::<String>() + letters.as_str())
}

fn piece_name(work: &Work<'_>, part: PartId) -> String {
    work.model.piece(work.model.part(part).piece).name.clone()
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

/// Centres along a joint: two at the edge distance, the rest evenly between them.
fn spread(work: &Work<'_>, joint: &JointUse, height: Length, from: Length) -> Result<Vec<Length>, Finding> {
    let print = work.printing();
    let asked = joint.options.length("edge_distance");
    let edge = asked.unwrap_or_else(|| Length::from_nm(height.nm() / 4).min(EDGE_DISTANCE));
    let between = height - edge * 2;
    let spacing = joint.options.length("spacing").unwrap_or(SPACING);
    if spacing < POCKET_WIDTH {
        return Err(Finding::error(
            "screws-misplaced",
            format!("butt: a `spacing` of {} lets the screws meet", print.length(spacing)),
        )
        .hint(format!("give {} or more, or leave `spacing` out", print.length(POCKET_WIDTH))));
    }
    let count = joint.options.count("count").unwrap_or_else(|| {
        if height < ONE_SCREW_BELOW || between < LEAST_SPACING {
            1
        } else if height <= TWO_SCREWS_TO {
            2
        } else {
            1 + (between.nm().max(1) + spacing.nm() - 1) / spacing.nm()
        }
    });
    refuse_count(count)?;
    let beyond = asked.is_some_and(|edge| edge.is_negative() || between.is_negative());
    if count == 1 && !beyond {
        return Ok(vec![from + height.half()]);
    }
    if beyond || !between.is_positive() {
        return Err(Finding::error(
            "screws-misplaced",
            format!(
                "butt: with an `edge_distance` of {} no two screws go into a joint of {}",
                print.length(edge),
                print.length(height)
            ),
        )
        .hint("leave `edge_distance` out, or give less than half the length of the joint"));
    }
    if between < LEAST_SPACING * (count - 1) {
        let apart = Length::from_nm(between.nm() / (count - 1));
        return Err(Finding::error(
            "screws-misplaced",
            format!(
                "butt: {count} screws in a joint of {} are only {} apart",
                print.length(height),
                print.length(apart)
            ),
        )
        .hint(format!("keep {} between screws: use fewer", print.length(LEAST_SPACING))));
    }
    let mut centres = vec![from + edge];
    for step in between.split(usize::try_from(count - 1).unwrap_or(1)) {
        let last = centres.last().copied().unwrap_or(from);
        centres.push(last + step);
    }
    Ok(centres)
}

fn refuse_count(count: i64) -> Result<(), Finding> {
    if (1..=MOST_SCREWS).contains(&count) {
        return Ok(());
    }
    Err(Finding::error("wrong-count", format!("butt: a joint cannot have {count} screws"))
        .hint(format!("give a `count` from 1 to {MOST_SCREWS}, or a larger `spacing`")))
}

/// The centres of screws through a contact, each as a point: in a line along an end, or in rows on a broad face.
fn screw_spots(
    work: &Work<'_>,
    joint: &JointUse,
    touch: &Contact,
    thickness: Axis,
    part: &Solid,
) -> Result<Vec<Solid>, Finding> {
    let point = |a: (Axis, Length), b: (Axis, Length)| {
        let mut spot = touch.area;
        for (axis, at) in [a, b] {
            spot.low[axis.index()] = at;
            spot.high[axis.index()] = at;
        }
        spot
    };
    if touch.face.axis() != thickness {
        let run = run_axis(touch.face, thickness);
        let middle = mid(part, thickness);
        let centres = spread(work, joint, touch.area.size(run), touch.area.face(run.low()))?;
        return Ok(centres.into_iter().map(|at| point((run, at), (thickness, middle))).collect());
    }
    let [a, b] = touch.face.axis().others();
    let (long, short) = if touch.area.size(b) > touch.area.size(a) { (b, a) } else { (a, b) };
    // Two rows of two, or one row on a narrow face; a `count` that is given is kept, in two rows where it is even.
    let usual = if touch.area.size(short) > TWO_SCREWS_TO { 4 } else { 2 };
    let count = joint.options.count("count").unwrap_or(usual);
    refuse_count(count)?;
    let in_rows = if count > 2 && count % 2 == 0 { 2 } else { 1 };
    let evenly = |axis: Axis, count: i64| {
        let size = touch.area.size(axis).nm();
        (0..count).map(move |i| Length::from_nm(size / (2 * count) * (2 * i + 1))).collect::<Vec<_>>()
    };
    let (rows, columns) = (evenly(short, in_rows), evenly(long, count / in_rows));
    let spots = rows.iter().flat_map(|&row| {
        columns.iter().map(move |&column| {
            point((long, touch.area.low[long.index()] + column), (short, touch.area.low[short.index()] + row))
        })
    });
    Ok(spots.collect())
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
            "butt: no {what} holds `{}`: `{}` has only {} for it",
            work.model.full_name(joint.member),
            work.model.full_name(into),
            print.length(there)
        ),
    )
    .hint("use thicker stock, or another way to hold it")
}

fn too_short(work: &Work<'_>, into: PartId, length: Length, bite: Length) -> Finding {
    let print = work.printing();
    let reach =
        if bite.is_positive() { format!("only {} into", print.length(bite)) } else { "not even into".to_owned() };
    let name = work.model.full_name(into);
    Finding::error(
        "screw-too-short",
        format!("butt: a screw of {} reaches {reach} `{name}`: it would hold nothing", print.length(length)),
    )
    .hint("leave `screw` out for the longest that stays inside")
}

fn comes_through(work: &Work<'_>, into: PartId, length: Length, bite: Length, there: Length) -> Finding {
    let print = work.printing();
    Finding::error(
        "screw-comes-through",
        format!(
            "butt: a screw of {} reaches {} into `{}`, which has {}: it would come out of its face or bulge it",
            print.length(length),
            print.length(bite),
            work.model.full_name(into),
            print.length(there)
        ),
    )
    .hint("leave `screw` out for the longest that stays inside")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::base::Printing;
    use crate::model::{Model, Options, Shop, Value};

    fn try_spots(options: Options, height: Length, from: Length) -> Result<Vec<Length>, Finding> {
        let joint = JointUse { joint: "butt", member: PartId(0), into: vec![PartId(1)], options, at: None };
        let mut model = Model::new("test job", Printing::default());
        let shop = Shop::default();
        let work = Work::new(&mut model, &shop);
        spread(&work, &joint, height, from)
    }

    fn spots(options: Options, height: Length, from: Length) -> Vec<Length> {
        try_spots(options, height, from).unwrap()
    }

    #[test]
    fn screws_that_cannot_be_placed_are_refused() {
        let foot = Length::from_inch(12, 1);
        let code = |name, value| try_spots(Options::new().with(name, value), foot, Length::ZERO).unwrap_err().code;
        assert_eq!(code("count", Value::Count(0)), "wrong-count");
        assert_eq!(code("count", Value::Count(201)), "wrong-count");
        assert_eq!(code("spacing", Value::Length(Length::ZERO)), "screws-misplaced");
        assert_eq!(code("edge_distance", Value::Length(Length::from_inch(7, 1))), "screws-misplaced");
        assert_eq!(code("edge_distance", Value::Length(Length::from_mm(-1))), "screws-misplaced");
    }

    #[test]
    fn screws_follow_the_height_of_the_joint() {
        let count = |inches, of| spots(Options::new(), Length::from_inch(inches, of), Length::ZERO).len();
        // The documented rule: 1 under 1-1/4, 2 up to 3, then no more than 6 in between two.
        assert_eq!([count(1, 1), count(5, 4), count(3, 1)], [1, 2, 2]);
        // 4 in: 4 - 2 x 3/4 = 2-1/2 between the two: one space. 12 in: 10-1/2 between: two spaces, three screws.
        assert_eq!([count(4, 1), count(12, 1), count(30, 1)], [2, 3, 6]);
    }

    #[test]
    fn the_outer_screws_keep_the_edge_distance() {
        let spots = spots(Options::new(), Length::from_inch(12, 1), Length::from_inch(1, 1));
        assert_eq!(spots[0], Length::from_inch(7, 4));
        assert_eq!(spots[2], Length::from_inch(1 + 12, 1) - Length::from_inch(3, 4));
        assert_eq!(spots[1], Length::from_inch(7, 1));
    }
}
