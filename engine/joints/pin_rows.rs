//! Where the rows of pin holes stand: from what the recipe says, what is usual, and where the shelves lie.

use super::Work;
use super::contact::gap_beyond;
use super::spread::Stretch;
use crate::base::{Axis, Face, Length, Ratio, Unit};
use crate::diag::Finding;
use crate::model::{JointUse, PartId};

/// The holes of one part.
pub(super) struct Rows {
    pub face: Face,
    /// The axis from the one row to the other.
    pub across: Axis,
    /// The middles of the two rows on that axis.
    pub at: [Length; 2],
    pub diameter: Length,
    pub depth: Length,
    pub spacing: Length,
    pub lowest: Length,
    pub count: i64,
}

/// Where the rows stand, from what the recipe says and where its shelves lie.
pub(super) fn rows(work: &Work<'_>, joint: &JointUse) -> Result<Rows, Finding> {
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

/// The height of the middle of the holes whose pins carry a shelf.
pub(super) fn centre_under(work: &Work<'_>, shelf: PartId, diameter: Length) -> Length {
    work.model.part(shelf).placed.low[Axis::Z.index()] - diameter.half()
}

/// What is usual where a recipe says nothing.
pub(super) struct Usual {
    pub edge: Length,
    pub spacing: Length,
    pub diameter: Length,
    pub depth: Length,
    pub first: Length,
    /// The shelf pin of the catalog that goes into such a hole.
    pub pin: &'static str,
}

// Common practice, no source: a system of 32 mm, and its neighbours on an inch rule.
pub(super) const fn usual(unit: Unit) -> Usual {
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
// Common practice, no source: what a pin stands out of its hole.
pub(super) const OUT: Length = Length::from_mm(10);
// Common practice, no source: half of a pin, and a little more, must be under the shelf.
const MOST_GAP: Length = Length::from_inch(3, 16);
// Common practice, no source: with less between them the wood between two holes breaks out, in diameters.
const APART: i64 = 2;
// Common practice, no source: what stays between a hole and a cut.
pub(super) const WALL: Length = Length::from_inch(1, 16);
/// More holes than this in one row are a slip.
const MOST: i64 = 200;

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
    if at.iter().all(|&middle| middle < on.middle()) || at.iter().all(|&middle| middle > on.middle()) {
        let (edge, far) = if at[0] < on.middle() { (across.low(), at[1]) } else { (across.high(), at[0]) };
        return Err(Finding::error(
            "shelf-tips",
            format!(
                "pin_holes: both rows stand before the middle of `{shelf_name}`, towards its {}: the nearer one by {}, so that it tips",
                edge.name(),
                print.length((on.middle() - far).abs())
            ),
        )
        .hint("give an `edge_distance` for each row that puts the middle of the shelf between them"));
    }
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
    // A shelf that lies higher than the rows would usually go takes them up with it, unless the recipe says where they end.
    let limit = if joint.options.length("last").is_some() { limit } else { limit.max(farthest.unwrap_or(limit)) };
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
        let (by, place, cure) = if level < lowest {
            (lowest - level, "below the lowest hole", "give a smaller `first`")
        } else {
            (level - highest, "above the highest hole", "give a larger `last`")
        };
        let message = format!("pin_holes: the pins of `{name}` would stand {} {place}", print.length(by));
        return Err(Finding::error("shelf-misses-pins", message).hint(cure));
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
