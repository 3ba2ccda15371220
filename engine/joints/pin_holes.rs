//! Pin holes: rows of holes in an upright part, for the pins that a shelf rests on.

use super::contact::gap_beyond;
use super::fasteners::{add_hardware, named, sentence};
use super::spread::{Stretch, is_free};
use super::{Joint, Work};
use crate::base::{Axis, Face, Length, Ratio, Solid, Unit};
use crate::diag::Finding;
use crate::model::{
    Bore, Feature, HardwareKind, Hold, JointId, JointUse, Kind, OptionSpec, PartId, Setting, Shape, Step,
};

/// The rows of holes for shelf pins.
pub(super) const PIN_HOLES: Joint = Joint {
    name: "pin_holes",
    summary: "two rows of holes up a side, for the pins that a shelf rests on",
    target: "shelf",
    options: &[
        OptionSpec::may("shelf", Kind::Parts, "none yet", "the shelf or shelves that rest on the pins")
            .because("common practice, no source: rows are drilled for shelves that are made later too"),
        OptionSpec::may(
            "face",
            Kind::Face,
            "the face that looks at the shelf; without one, the broad face that is not shown",
            "the broad face that is drilled",
        )
        .because("common practice, no source: pins stand inside the case"),
        OptionSpec::may(
            "edge_distance",
            Kind::Lengths,
            "1-1/2 in, or 37 mm in a metric job",
            "from the edges to the rows: one length for both, or that of the front (or left) and that of the back (or right)",
        )
        .because("common practice, no source: 37 mm is the line that hinge plates and runners are made for"),
        OptionSpec::may(
            "spacing",
            Kind::Length,
            "1-1/4 in, or 32 mm in a metric job",
            "from one hole of a row to the next",
        )
        .because("common practice, no source: the spacing of the boring machines of the trade"),
        OptionSpec::may("diameter", Kind::Length, "1/4 in, or 5 mm in a metric job", "the diameter of the holes")
            .because("common practice, no source: the pins that are sold"),
        OptionSpec::may("depth", Kind::Length, "3/8 in, or 10 mm in a metric job", "how deep the holes are")
            .because("common practice, no source: as long as the shank of a pin"),
        OptionSpec::may("through", Kind::YesNo, "no", "whether the holes go through, for shelves on both sides of a part")
            .because("common practice, no source: a case side shows its outer face"),
        OptionSpec::may(
            "first",
            Kind::Length,
            "6 in (150 mm in a metric job), at most a quarter of the part's height; under a shelf, as its place asks",
            "from the bottom of the part to the lowest hole",
        )
        .because("common practice, no source: no shelf is of use nearer to the floor of its case"),
        OptionSpec::may(
            "last",
            Kind::Length,
            "as far from the top as `first` is from the bottom",
            "the height above the bottom of the part that no hole goes beyond",
        )
        .because("common practice, no source: no shelf is of use nearer to the top of its case"),
    ],
    about: "The first part, a side or divider, gets a row of holes near its front and its back edge. Where a `shelf` is named, \
            its pins carry it: the rows begin so that it rests where it was placed, half a pin above the middle of its holes, \
            and it needs no other joint. Holes that would meet a cut are left out. Place a shelf a little short of the sides, \
            so that it can be moved.",
    source: "common practice, no source",
    refuses: &[
        "cut-through",
        "cut-without-depth",
        "face-not-named",
        "pins-in-level-part",
        "pins-misplaced",
        "shelf-misses-pins",
        "wrong-count",
    ],
    changes: "None.",
    leaves: "A `pin hole` at each place of both rows in the first part; none where another joint cuts.",
    needs: "Two shelf pins for each shelf that is named; four when both sides are drilled.",
    sets: "Fence: from the edge to the row. Depth stop: the depth. Lowest hole and hole spacing: for the drilling jig.",
    assembly: "Drill the side: 2 rows of 14 pin holes 1/4\", 3/8\" deep and 1-1/4\" apart, 1-1/2\" from the front and back edges, the \
               lowest 6-7/8\" from the bottom; the shelf rests on 2 pins.",
    example: r#"let ply = stock("3/4 birch plywood");
let left = part("side", #{ stock: ply, left: 0.inch, front: 0.inch, depth: 11.inch, bottom: 0.inch, height: 30.inch, show: "left" });
let right = part("side", #{ stock: ply, right: 24.inch, front: 0.inch, depth: 11.inch, bottom: 0.inch, height: 30.inch, show: "right" });
let floor = part("floor", #{ stock: ply, left: left.right, right: right.left, front: 0.inch, depth: 11.inch, bottom: 0.inch });
butt(floor, #{ to: [left, right], with: "screws" });
let gap = (1/16).inch;
let shelf = part("shelf", #{ stock: ply, left: left.right + gap, right: right.left - gap, front: 0.inch, depth: 11.inch, bottom: 12.inch });
pin_holes([left, right], #{ shelf: shelf });
"#,
    grow: |_, _| Ok(()),
    cut: |_, _| Ok(()),
    drill,
};

/// What is usual where a recipe says nothing.
struct Usual {
    edge: Length,
    spacing: Length,
    diameter: Length,
    depth: Length,
    first: Length,
    /// The shelf pin of the catalog that goes into such a hole.
    pin: &'static str,
}

// Common practice, no source: a system of 32 mm, and its neighbours on an inch rule.
const fn usual(unit: Unit) -> Usual {
    match unit {
        Unit::Inch => Usual {
            edge: Length::from_inch(3, 2),
            spacing: Length::from_inch(5, 4),
            diameter: Length::from_inch(1, 4),
            depth: Length::from_inch(3, 8),
            first: Length::from_inch(6, 1),
            pin: "1/4 in shelf pin",
        },
        Unit::Millimetre => Usual {
            edge: Length::from_mm(37),
            spacing: Length::from_mm(32),
            diameter: Length::from_mm(5),
            depth: Length::from_mm(10),
            first: Length::from_mm(150),
            pin: "5 mm shelf pin",
        },
    }
}

// Common practice, no source: what must stay between a hole and the far face.
const SKIN: Length = Length::from_inch(1, 8);
// Common practice, no source: a pin stands out of its hole about 10 mm, and half of that must be under the shelf.
const MOST_GAP: Length = Length::from_inch(3, 16);
// Common practice, no source: with less between them the wood between two holes breaks out, in diameters.
const APART: i64 = 2;
// Common practice, no source: what stays between a hole and a cut.
const WALL: Length = Length::from_inch(1, 16);
/// More holes than this in one row are a slip.
const MOST: i64 = 200;

/// The holes of one part.
struct Rows {
    face: Face,
    /// The axis from the one row to the other.
    across: Axis,
    /// The middles of the two rows on that axis.
    at: [Length; 2],
    diameter: Length,
    depth: Length,
    spacing: Length,
    lowest: Length,
    count: i64,
}

fn drill(work: &mut Work<'_>, id: JointId) -> Result<(), Finding> {
    let joint = work.joint(id);
    let rows = rows(work, &joint)?;
    let mut drilled = 0;
    for level in (0..rows.count).map(|step| rows.lowest + rows.spacing * step) {
        for at in rows.at {
            let solid = hole(work, &joint, &rows, at, level);
            let is_free = is_free(work, &[(joint.member, solid)], WALL);
            if let Some(&shelf) = joint.into.iter().find(|&&shelf| !is_free && rests_on(work, shelf, &rows, level)) {
                return Err(Finding::error(
                    "shelf-misses-pins",
                    format!(
                        "pin_holes: a pin of `{}` would stand in a cut of `{}`, {} above its bottom",
                        work.model.full_name(shelf),
                        work.model.full_name(joint.member),
                        work.printing().length(level - work.model.part(joint.member).placed.low[Axis::Z.index()])
                    ),
                )
                .hint("move the shelf, or give another `edge_distance`"));
            }
            if is_free {
                let shape = Shape::Bore(Bore { diameter: rows.diameter, pocket: false });
                work.cut(joint.member, Feature { name: "pin hole", shape, solid, face: rows.face, joint: id })?;
                drilled += 1;
            }
        }
    }
    bring(work, &joint, &rows, drilled);
    Ok(())
}

/// The pins, the settings and the sentence.
fn bring(work: &mut Work<'_>, joint: &JointUse, rows: &Rows, drilled: i64) {
    let print = work.printing();
    let usual = usual(print.unit);
    let is_usual = rows.diameter.same_size(usual.diameter);
    let (item, size) = if is_usual { (usual.pin, None) } else { ("shelf pin", Some(rows.diameter)) };
    for &shelf in &joint.into {
        add_hardware(work, joint, item, HardwareKind::ShelfPin, size, 2, "follow the pin maker's load");
        work.model.holds.push(Hold { part: shelf, to: Some(joint.member) });
    }
    let drilled_part = work.model.part(joint.member).placed;
    let name = format!("pin holes {} wide", print.length(rows.diameter));
    let edges = [rows.across.low(), rows.across.high()];
    let from_edges = [0, 1].map(|i| (rows.at[i] - drilled_part.face(edges[i])).abs());
    let lowest = rows.lowest - drilled_part.low[Axis::Z.index()];
    let setting = |what, value, note: String| Setting { what, work: name.clone(), value, note, part: joint.member };
    let row = |edge: Face| format!("from the {} edge to the middle of the row", edge.name());
    let mut settings = vec![setting("fence", from_edges[0], row(edges[0]))];
    if from_edges[0].same_size(from_edges[1]) {
        settings[0].note =
            format!("from the {} and {} edges to the middles of the rows", edges[0].name(), edges[1].name());
    } else {
        settings.push(setting("fence", from_edges[1], row(edges[1])));
    }
    settings.push(setting(
        "depth stop",
        rows.depth,
        "measured from the tip's shoulder, try it on an offcut first".into(),
    ));
    settings.push(setting("lowest hole", lowest, "from the bottom of the part; keep one end down on all parts".into()));
    settings.push(setting("hole spacing", rows.spacing, "from middle to middle: use a drilling jig".into()));
    work.model.settings.extend(settings);

    let said = named(work, joint);
    let each = if joint.into.len() > 1 { " rest on 2 pins each" } else { " rests on 2 pins" };
    let rest = if joint.into.is_empty() { String::new() } else { format!("; {}{each}", said.targets) };
    let holes = if drilled == 2 * rows.count {
        format!("2 rows of {} pin holes", rows.count)
    } else {
        format!("2 rows of pin holes, {drilled} in all where nothing is cut,")
    };
    let from = if from_edges[0].same_size(from_edges[1]) {
        format!("{} from the {} and {} edges", print.length(from_edges[0]), edges[0].name(), edges[1].name())
    } else {
        let [low, high] = [0, 1].map(|i| format!("{} from the {} edge", print.length(from_edges[i]), edges[i].name()));
        format!("{low} and {high}")
    };
    let text = format!(
        "drill {}: {holes} {}, {} deep and {} apart, {from}, the lowest {} from the bottom{rest}.",
        said.member,
        print.length(rows.diameter),
        print.length(rows.depth),
        print.length(rows.spacing),
        print.length(lowest),
    );
    let piece = work.model.common_piece(joint.into.iter().copied().chain([joint.member]));
    work.model.steps.push(Step { piece, text: sentence(&said.place, &text) });
}

fn hole(work: &Work<'_>, joint: &JointUse, rows: &Rows, at: Length, level: Length) -> Solid {
    let mut hole = work.model.part(joint.member).placed;
    let (low, high) = (rows.diameter.half(), rows.diameter - rows.diameter.half());
    for (axis, middle) in [(rows.across, at), (Axis::Z, level)] {
        hole.low[axis.index()] = middle - low;
        hole.high[axis.index()] = middle + high;
    }
    hole.set_face(rows.face.opposite(), hole.face(rows.face));
    hole.grown(rows.face.opposite(), rows.depth)
}

/// Whether a shelf rests on the pins of this level.
fn rests_on(work: &Work<'_>, shelf: PartId, rows: &Rows, level: Length) -> bool {
    centre_under(work, shelf, rows.diameter).same_size(level)
}

/// The height of the middle of the holes whose pins carry a shelf.
fn centre_under(work: &Work<'_>, shelf: PartId, diameter: Length) -> Length {
    work.model.part(shelf).placed.low[Axis::Z.index()] - diameter.half()
}

/// Where the rows stand, from what the recipe says and where its shelves lie.
fn rows(work: &Work<'_>, joint: &JointUse) -> Result<Rows, Finding> {
    let print = work.printing();
    let usual = usual(print.unit);
    let part = work.model.part(joint.member);
    let name = work.model.full_name(joint.member);
    if part.thickness == Axis::Z {
        return Err(Finding::error(
            "pins-in-level-part",
            format!("pin_holes: `{name}` lies flat; a shelf rests on pins in upright parts"),
        )
        .hint("name the sides first and the shelf as `shelf`"));
    }
    let face = face(work, joint)?;
    let diameter = joint.options.length("diameter").unwrap_or(usual.diameter);
    let spacing = joint.options.length("spacing").unwrap_or(usual.spacing);
    if !diameter.is_positive() || spacing < diameter * APART {
        return Err(misplaced(format!(
            "pin_holes: holes of {} cannot stand {} apart",
            print.length(diameter),
            print.length(spacing)
        ))
        .hint(format!(
            "leave both out for holes of {}, {} apart",
            print.length(usual.diameter),
            print.length(usual.spacing)
        )));
    }
    let depth = depth(work, joint, &usual)?;
    let across = if part.thickness == Axis::X { Axis::Y } else { Axis::X };
    let at = row_middles(work, joint, across, diameter, &usual)?;
    for &shelf in &joint.into {
        refuse_beside(work, joint, shelf, face, (across, at), diameter)?;
    }
    let (lowest, count) = levels(work, joint, diameter, spacing, &usual)?;
    Ok(Rows { face, across, at, diameter, depth, spacing, lowest, count })
}

/// The face that is drilled.
fn face(work: &Work<'_>, joint: &JointUse) -> Result<Face, Finding> {
    let part = work.model.part(joint.member);
    let name = work.model.full_name(joint.member);
    let (low, high) = (part.thickness.low(), part.thickness.high());
    let asked = joint.options.face("face");
    if let Some(edge) = asked.filter(|face| face.axis() != part.thickness) {
        return Err(Finding::error(
            "face-not-named",
            format!("pin_holes: the {} of `{name}` is an edge; pins stand in a broad face", edge.name()),
        )
        .hint(format!("write `face: \"{}\"` or `face: \"{}\"`", low.name(), high.name())));
    }
    let mut looks = Vec::new();
    for &shelf in &joint.into {
        let shelf = &work.model.part(shelf).placed;
        let beside = [low, high]
            .into_iter()
            .find(|&face| !(gap_beyond(&part.placed, shelf, face) + Length::SAME_SIZE).is_negative());
        looks.extend(beside);
    }
    looks.sort_unstable();
    looks.dedup();
    let through = joint.options.yes("through").unwrap_or(false);
    match (asked, looks.as_slice(), part.show) {
        (Some(face), ..) | (None, &[face], _) => Ok(face),
        (None, [], Some(show)) => Ok(show.opposite()),
        // A hole that goes through serves both sides; it is drilled from the one that comes first.
        (None, _, _) if through => Ok(low),
        (None, looks, _) => {
            let why = if looks.is_empty() {
                format!("neither a shelf nor `show` tells which face of `{name}` is drilled")
            } else {
                format!("shelves stand on both sides of `{name}`, and one face is drilled")
            };
            Err(Finding::error("face-not-named", format!("pin_holes: {why}")).hint(format!(
                "write `face: \"{}\"` or `face: \"{}\"`; for shelves on both sides give `through: true`, or call it twice",
                low.name(),
                high.name()
            )))
        }
    }
}

/// How deep the holes are, and that they stay inside unless they are to go through.
fn depth(work: &Work<'_>, joint: &JointUse, usual: &Usual) -> Result<Length, Finding> {
    let print = work.printing();
    let part = work.model.part(joint.member);
    let there = part.placed.size(part.thickness);
    if joint.options.yes("through").unwrap_or(false) {
        return Ok(there);
    }
    let depth = joint.options.length("depth").unwrap_or(usual.depth);
    if !depth.is_positive() {
        return Err(Finding::error("cut-without-depth", "pin_holes: the depth must be more than nothing")
            .hint(format!("leave `depth` out for {}", print.length(usual.depth))));
    }
    if depth > there - SKIN {
        return Err(Finding::error(
            "cut-through",
            format!(
                "pin_holes: holes {} deep leave less than {} of `{}`, which is {} thick",
                print.length(depth),
                print.length(SKIN),
                work.model.full_name(joint.member),
                print.length(there)
            ),
        )
        .hint("give a smaller `depth`, use thicker stock, or write `through: true`"));
    }
    Ok(depth)
}

/// The middles of the two rows.
fn row_middles(
    work: &Work<'_>,
    joint: &JointUse,
    across: Axis,
    diameter: Length,
    usual: &Usual,
) -> Result<[Length; 2], Finding> {
    let print = work.printing();
    let (low, high) = match joint.options.lengths("edge_distance").as_slice() {
        [] => (usual.edge, usual.edge),
        [both] => (*both, *both),
        [low, high] => (*low, *high),
        more => {
            return Err(misplaced(format!(
                "pin_holes: there are two rows, and {} edge distances are given",
                more.len()
            ))
            .hint("give one `edge_distance` for both rows, or two in a list"));
        }
    };
    let on = Stretch::of(&work.model.part(joint.member).placed, across);
    let at = [on.low + low, on.high - high];
    let has_wood = |edge: Length| edge - diameter.half() >= WALL;
    if !has_wood(low) || !has_wood(high) || at[1] - at[0] < diameter * APART {
        return Err(misplaced(format!(
            "pin_holes: rows {} and {} from the edges of `{}`, which is {} across, have too little wood round them",
            print.length(low),
            print.length(high),
            work.model.full_name(joint.member),
            print.length(on.size())
        ))
        .hint(format!(
            "give an `edge_distance` of {} or more that leaves {} between the rows",
            print.length(diameter.half() + WALL),
            print.length(diameter * APART)
        )));
    }
    Ok(at)
}

/// Refuses a shelf that its pins would not carry: too far from the part, or beside a row.
fn refuse_beside(
    work: &Work<'_>,
    joint: &JointUse,
    shelf: PartId,
    face: Face,
    rows: (Axis, [Length; 2]),
    diameter: Length,
) -> Result<(), Finding> {
    let print = work.printing();
    let side = work.model.part(joint.member);
    let solid = &work.model.part(shelf).placed;
    let (name, shelf_name) = (work.model.full_name(joint.member), work.model.full_name(shelf));
    let miss = |message: String, hint: &str| Err(Finding::error("shelf-misses-pins", message).hint(hint.to_owned()));
    // A hole that goes through carries a shelf on either side.
    let through = joint.options.yes("through").unwrap_or(false);
    let behind = if through { gap_beyond(&side.placed, solid, face.opposite()) } else { -Length::LIMIT };
    let gap = gap_beyond(&side.placed, solid, face).max(behind);
    if (gap + Length::SAME_SIZE).is_negative() {
        return miss(
            format!("pin_holes: `{shelf_name}` reaches {} into `{name}`", print.length(-gap)),
            "end the shelf a little before the side, by 1/16 in or 1 mm",
        );
    }
    if gap > MOST_GAP {
        return miss(
            format!(
                "pin_holes: `{shelf_name}` ends {} from the {} of `{name}`, and its pins carry it up to {}",
                print.length(gap),
                face.name(),
                print.length(MOST_GAP)
            ),
            "make the shelf longer",
        );
    }
    let (across, at) = rows;
    let on = Stretch::of(solid, across);
    for middle in at {
        if middle - diameter.half() < on.low || middle + diameter.half() > on.high {
            let edge = if middle < on.middle() { across.low() } else { across.high() };
            return miss(
                format!(
                    "pin_holes: the row {} from the {} edge of `{name}` lies beside `{shelf_name}`",
                    print.length((middle - side.placed.face(edge)).abs()),
                    edge.name()
                ),
                "give a larger `edge_distance`, or a deeper shelf",
            );
        }
    }
    Ok(())
}

/// The height of the lowest hole and how many there are in a row.
fn levels(
    work: &Work<'_>,
    joint: &JointUse,
    diameter: Length,
    spacing: Length,
    usual: &Usual,
) -> Result<(Length, i64), Finding> {
    let print = work.printing();
    let on = Stretch::of(&work.model.part(joint.member).placed, Axis::Z);
    let margin = usual.first.min(on.size().times(Ratio::new(1, 4)).unwrap_or(on.size().half()));
    let shelves: Vec<(PartId, Length)> =
        joint.into.iter().map(|&shelf| (shelf, centre_under(work, shelf, diameter))).collect();
    let nearest = shelves.iter().map(|&(_, level)| level).min();
    let farthest = shelves.iter().map(|&(_, level)| level).max();
    let lowest = match (joint.options.length("first"), nearest) {
        (Some(first), _) => on.low + first,
        // Down from the lowest shelf by whole spacings.
        (None, Some(level)) => {
            let steps = (level - (on.low + margin)).nm().div_euclid(spacing.nm()).max(0);
            level - spacing * steps
        }
        (None, None) => on.low + margin,
    };
    let given_first = joint.options.length("first").unwrap_or(margin);
    let limit = joint.options.length("last").map_or(on.high - given_first.min(on.size().half()), |last| on.low + last);
    let limit = limit.max(farthest.unwrap_or(limit));
    let has_wood =
        |level: Length| level - diameter.half() - WALL >= on.low && level + diameter.half() + WALL <= on.high;
    let steps = (limit - lowest).nm().div_euclid(spacing.nm());
    let highest = lowest + spacing * steps.clamp(0, MOST);
    if steps < 0 || !has_wood(lowest) || !has_wood(highest) {
        return Err(misplaced(format!(
            "pin_holes: rows from {} to {} above the bottom of `{}`, which is {} high, have no room",
            print.length(lowest - on.low),
            print.length(limit - on.low),
            work.model.full_name(joint.member),
            print.length(on.size())
        ))
        .hint("give `first` and `last` as heights above the bottom of the part, both within it"));
    }
    if steps >= MOST {
        return Err(Finding::error("wrong-count", format!("pin_holes: a row cannot have {} holes", steps + 1))
            .hint(format!("keep to {MOST}: give a larger `spacing`, or `first` and `last`")));
    }
    for (shelf, level) in shelves {
        refuse_off_level(work, shelf, level, (lowest, spacing, highest))?;
    }
    Ok((lowest, steps + 1))
}

/// Refuses a shelf that was placed between two holes.
fn refuse_off_level(
    work: &Work<'_>,
    shelf: PartId,
    level: Length,
    (lowest, spacing, highest): (Length, Length, Length),
) -> Result<(), Finding> {
    let above = Length::from_nm((level - lowest).nm().rem_euclid(spacing.nm()));
    let is_off = above > Length::SAME_SIZE && spacing - above > Length::SAME_SIZE;
    let is_outside = level < lowest - Length::SAME_SIZE || level > highest + Length::SAME_SIZE;
    if !is_off && !is_outside {
        return Ok(());
    }
    let print = work.printing();
    let name = work.model.full_name(shelf);
    if is_outside {
        return Err(Finding::error(
            "shelf-misses-pins",
            format!(
                "pin_holes: `{name}` lies {} below the lowest hole",
                print.length((lowest - level).max(level - highest))
            ),
        )
        .hint("give a smaller `first`"));
    }
    Err(Finding::error(
        "shelf-misses-pins",
        format!("pin_holes: `{name}` lies {} above its nearest holes below", print.length(above)),
    )
    .hint(format!(
        "lower it by {} or raise it by {}, or leave `first` out when it is the only shelf",
        print.length(above),
        print.length(spacing - above)
    )))
}

fn misplaced(message: String) -> Finding {
    Finding::error("pins-misplaced", message)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::checks::bench::{add, job, join, s, sheet};
    use crate::joints;
    use crate::model::{Model, Options, Shop, Value};

    /// A side 3/4 in thick, 16 in deep and 40 in high with a shelf beside it, in sixteenths: how far away, how high, how deep.
    fn made(gap: Length, bottom: Length, depth: i64, options: Options) -> Result<Model, Finding> {
        let mut model = job();
        let ply = sheet(12);
        let side = add(&mut model, Model::ROOT, "side", &ply, [0, 0, 0], [12, 256, 640]);
        let shelf = add(&mut model, Model::ROOT, "shelf", &ply, [12, 0, 0], [400, depth, 12]);
        model.part_mut(shelf).placed = model.part(shelf).placed.shifted([gap, Length::ZERO, bottom]);
        join(&mut model, "pin_holes", side, &[shelf], options);
        model.settle();
        joints::make(&mut model, &Shop::default()).pop().map_or(Ok(model), Err)
    }

    fn refused(gap: Length, bottom: Length, depth: i64, options: Options) -> &'static str {
        made(gap, bottom, depth, options).map_or_else(|finding| finding.code, |_| "none")
    }

    #[test]
    fn rows_begin_so_that_the_shelf_rests_where_it_was_placed() {
        // The shelf's underside at 20 in: its holes' middles half of 1/4 in lower, at 19-7/8. Down by 1-1/4 in to no less than 6 in:
        // 13-7/8 / 1-1/4 = 11.1, so 11 steps, to 6-1/8. Up to no more than 34 in: from 6-1/8, 27-7/8 / 1-1/4 = 22.3: 23 holes.
        let model = made(s(1), s(320), 256, Options::new()).unwrap();
        let holes = &model.parts[0].features;
        assert_eq!(holes.len(), 46);
        assert_eq!(holes[0].solid, Solid::new([s(6), s(22), s(96)], [s(12), s(26), s(100)]));
        assert_eq!(holes[1].solid, Solid::new([s(6), s(230), s(96)], [s(12), s(234), s(100)]));
        let pins: i64 = model.hardware.iter().map(|one| one.quantity).sum();
        assert_eq!((pins, model.holds[0].to), (2, Some(PartId(0))));
    }

    #[test]
    fn a_shelf_a_thousandth_too_far_or_too_shallow_is_refused() {
        let um = Length::from_um(1);
        assert_eq!(refused(s(3), s(320), 256, Options::new()), "none");
        assert_eq!(refused(s(3) + um, s(320), 256, Options::new()), "shelf-misses-pins");
        // The back row stands 16 - 1-1/2 = 14-1/2 in from the front; with half a pin it needs 14-5/8 in of shelf.
        let edge = |more| Options::new().with("edge_distance", Value::Lengths(vec![s(24), s(24) - more]));
        assert_eq!(refused(s(1), s(320), 234, edge(Length::ZERO)), "none");
        assert_eq!(refused(s(1), s(320), 234, edge(um)), "shelf-misses-pins");
    }

    #[test]
    fn a_shelf_between_two_holes_is_refused() {
        // From 6 in by 1-1/4 in: middles at 18-1/2, so a shelf at 18-5/8 in.
        let first = || Options::new().with("first", Value::Length(s(96)));
        assert_eq!(refused(s(1), s(298), 256, first()), "none");
        assert_eq!(refused(s(1), s(298) + Length::from_um(1), 256, first()), "none");
        assert_eq!(refused(s(1), s(298) + Length::from_um(2), 256, first()), "shelf-misses-pins");
    }

    #[test]
    fn a_depth_that_leaves_a_thousandth_too_little_is_refused() {
        // 3/4 in less an eighth.
        let depth = |more: i64| Options::new().with("depth", Value::Length(s(10) + Length::from_um(more)));
        assert_eq!(refused(s(1), s(320), 256, depth(0)), "none");
        assert_eq!(refused(s(1), s(320), 256, depth(1)), "cut-through");
    }

    #[test]
    fn holes_where_another_joint_cuts_are_left_out() {
        let mut model = job();
        let ply = sheet(12);
        let side = add(&mut model, Model::ROOT, "side", &ply, [0, 0, 0], [12, 256, 640]);
        let fixed = add(&mut model, Model::ROOT, "shelf", &ply, [12, 0, 314], [400, 256, 326]);
        let options = Options::new().with("face", Value::Faces(vec![Face::Right]));
        join(&mut model, "pin_holes", side, &[], options);
        join(&mut model, "dado", fixed, &[side], Options::new());
        model.settle();
        assert_eq!(joints::make(&mut model, &Shop::default()), vec![]);
        // From 6 in up by 1-1/4 in there are middles at 96 + 20 n sixteenths, up to 34 in: 23. The dado takes 314 to 326; the hole at
        // 316 meets it, those at 296 and 336 do not.
        let holes = model.parts[0].features.iter().filter(|feature| feature.name == "pin hole");
        assert_eq!(holes.count(), 2 * 22);
    }
}
