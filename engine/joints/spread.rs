//! Where fasteners stand along a joint: evenly between its ends, and clear of what is cut already.

use super::Work;
use crate::base::{Axis, Length, Solid, Unit};
use crate::diag::Finding;
use crate::model::{JointUse, PartId};

/// What stands in a row, and how near to its neighbours and to the ends of the joint it may come.
#[derive(Clone, Copy, Debug)]
pub(super) struct Sort {
    /// What several are called: `screws`.
    pub many: &'static str,
    /// The least from the end of the joint to the first centre.
    pub least_edge: Length,
    /// The least between two centres.
    pub apart: Length,
    /// The least that `spacing` may ask for.
    pub least_spacing: Length,
}

/// The screws of a joint.
pub(super) const SCREWS: Sort = Sort {
    many: "screws",
    least_edge: Length::ZERO,
    // Common practice, no source: screws nearer than half an inch split the wood between them.
    apart: Length::from_inch(1, 2),
    // Screws nearer than the width of a pocket hole meet.
    least_spacing: Length::from_inch(3, 8),
};

const ONE_BELOW: Length = Length::from_inch(5, 4);
/// Up to here two are enough.
pub(super) const TWO_TO: Length = Length::from_inch(3, 1);
/// More fasteners than this in one joint are a slip.
const MOST: i64 = 200;

/// From the end of a joint to its first fastener, at most.
// Common practice, no source: on the rule of the job.
const fn edge_distance(unit: Unit) -> Length {
    match unit {
        Unit::Inch => Length::from_inch(3, 4),
        Unit::Millimetre => Length::from_mm(20),
    }
}

/// From one fastener to the next, at most.
// Common practice, no source: on the rule of the job.
const fn spacing(unit: Unit) -> Length {
    match unit {
        Unit::Inch => Length::from_inch(6, 1),
        Unit::Millimetre => Length::from_mm(150),
    }
}

/// A stretch of an axis.
#[derive(Clone, Copy, Debug)]
pub(super) struct Stretch {
    /// Where it begins.
    pub low: Length,
    /// Where it ends.
    pub high: Length,
}

impl Stretch {
    /// The stretch that a cuboid fills along an axis.
    pub(super) fn of(solid: &Solid, axis: Axis) -> Self {
        Self { low: solid.low[axis.index()], high: solid.high[axis.index()] }
    }

    /// How long it is.
    pub(super) fn size(self) -> Length {
        self.high - self.low
    }

    /// Its middle.
    pub(super) fn middle(self) -> Length {
        self.low + self.size().half()
    }
}

/// Centres along a joint: two at the edge distance, the rest evenly between them.
pub(super) fn spread(work: &Work<'_>, joint: &JointUse, sort: Sort, on: Stretch) -> Result<Vec<Length>, Finding> {
    let print = work.printing();
    let name = joint.joint;
    let height = on.size();
    let asked = joint.options.length("edge_distance");
    let edge = asked.unwrap_or_else(|| {
        let usual = Length::from_nm(height.nm() / 4).min(edge_distance(print.unit));
        usual.max(sort.least_edge.min(height.half()))
    });
    let between = height - edge * 2;
    let spacing = joint.options.length("spacing").unwrap_or(spacing(print.unit));
    if spacing < sort.least_spacing {
        return Err(misplaced(format!("{name}: a `spacing` of {} lets the {} meet", print.length(spacing), sort.many))
            .hint(format!("give {} or more, or leave `spacing` out", print.length(sort.least_spacing))));
    }
    let count = joint.options.count("count").unwrap_or_else(|| {
        if height < ONE_BELOW || between < sort.apart {
            1
        } else if height <= TWO_TO {
            2
        } else {
            1 + (between.nm().max(1) + spacing.nm() - 1) / spacing.nm()
        }
    });
    refuse_count(joint, sort, count)?;
    // Half of an odd number of nanometres, asked for from both ends, is no more than the whole.
    let beyond = asked.is_some_and(|edge| edge.is_negative() || between < -Length::SAME_SIZE);
    if count == 1 && !beyond {
        return Ok(vec![on.middle()]);
    }
    if beyond || !between.is_positive() {
        return Err(misplaced(format!(
            "{name}: with an `edge_distance` of {} no two {} go into a joint of {}",
            print.length(edge),
            sort.many,
            print.length(height)
        ))
        .hint("leave `edge_distance` out, or give less than half the length of the joint"));
    }
    if between < sort.apart * (count - 1) {
        let apart = Length::from_nm(between.nm() / (count - 1));
        return Err(misplaced(format!(
            "{name}: {count} {} in a joint of {} are only {} apart",
            sort.many,
            print.length(height),
            print.length(apart)
        ))
        .hint(format!("keep {} between {}: use fewer", print.length(sort.apart), sort.many)));
    }
    let mut centres = vec![on.low + edge];
    for step in between.split(usize::try_from(count - 1).unwrap_or(1)) {
        let last = centres.last().copied().unwrap_or(on.low);
        centres.push(last + step);
    }
    Ok(centres)
}

fn misplaced(message: String) -> Finding {
    Finding::error("screws-misplaced", message)
}

/// Refuses a count that is a slip.
pub(super) fn refuse_count(joint: &JointUse, sort: Sort, count: i64) -> Result<(), Finding> {
    if (1..=MOST).contains(&count) {
        return Ok(());
    }
    Err(Finding::error("wrong-count", format!("{}: a joint cannot have {count} {}", joint.joint, sort.many))
        .hint(format!("give a `count` from 1 to {MOST}, or a larger `spacing`")))
}

/// Moves the fasteners of a row that would meet a cut, each to the nearest place that is free. One that the recipe placed by its
/// `edge_distance` stays, and so does one that has nowhere to go: the check for holes that meet cuts then tells of it.
///
/// `holes` gives what a fastener at a centre takes out of which part; nothing where it cannot stand.
pub(super) fn keep_clear(
    work: &mut Work<'_>,
    joint: &JointUse,
    sort: Sort,
    on: Stretch,
    centres: &mut [Length],
    holes: impl Fn(Length) -> Option<Vec<(PartId, Solid)>>,
) {
    let asked = joint.options.length("edge_distance").is_some() && centres.len() > 1;
    let last = centres.len().saturating_sub(1);
    // A screw may go nearer to the end than is usual, but not by more than half.
    let edge = centres.first().map_or(Length::ZERO, |&first| (first - on.low).half());
    let edge = if centres.len() == 1 { sort.apart.min(edge) } else { edge }.max(sort.least_edge);
    for index in 0..centres.len() {
        let centre = centres[index];
        if (asked && (index == 0 || index == last))
            || holes(centre).is_none_or(|holes| is_free(work, &holes, Length::ZERO))
        {
            continue;
        }
        let low = if index == 0 { on.low + edge } else { centres[index - 1] + sort.apart };
        let high = if index == last { on.high - edge } else { centres[index + 1] - sort.apart };
        // Towards the middle first, so that the two ends of a joint move alike.
        let inwards = if centre <= on.middle() { 1 } else { -1 };
        let step = step(work.printing().unit);
        let moved = (1..=MOST_STEPS)
            .flat_map(|count| [inwards, -inwards].map(|way| centre + step * (count * way)))
            .filter(|&place| place >= low && place <= high)
            .find(|&place| holes(place).is_some_and(|holes| is_free(work, &holes, WALL)));
        if let Some(place) = moved {
            centres[index] = place;
        }
    }
}

// Common practice, no source: what must stay between a hole that was moved and the cut that it was moved away from.
const WALL: Length = Length::from_inch(1, 16);
/// How many steps each way a place is looked for: as far as three inches.
const MOST_STEPS: i64 = 48;

/// Fasteners move by whole steps of a rule.
const fn step(unit: Unit) -> Length {
    match unit {
        Unit::Inch => Length::from_inch(1, 16),
        Unit::Millimetre => Length::from_um(1500),
    }
}

/// Whether holes keep clear of all that is cut out of their parts already, with a wall round them.
pub(super) fn is_free(work: &mut Work<'_>, holes: &[(PartId, Solid)], wall: Length) -> bool {
    holes.iter().all(|(part, hole)| {
        let hole = Solid::new(hole.low.map(|at| at - wall), hole.high.map(|at| at + wall));
        let features = &work.model.part(*part).features;
        // A recipe that cuts a part to pieces gets its holes where they fall, and the check that tells of them.
        work.looks = work.looks.saturating_sub(features.len());
        work.looks == 0 || features.iter().all(|feature| feature.solid.overlap(&hole).is_none())
    })
}

/// Where fasteners in a row sit, measured from the ends of the joint: `3/4" from each end and 2-1/2" apart`.
pub(super) fn in_line(work: &Work<'_>, centres: &[Length], on: Stretch, axis: Axis) -> String {
    let print = work.printing();
    let from_low: Vec<Length> = centres.iter().map(|&centre| centre - on.low).collect();
    let steps: Vec<Length> = centres.windows(2).map(|two| two[1] - two[0]).collect();
    let Some(&first) = from_low.first() else { return String::new() };
    if is_even(centres, on) {
        return match steps.first() {
            None => "in the middle".to_owned(),
            Some(_) if steps.len() == 1 => format!("{} from each end", print.length(first)),
            Some(&step) => format!("{} from each end and {} apart", print.length(first), print.length(step)),
        };
    }
    let places: Vec<String> = from_low.iter().map(|&place| print.length(place)).collect();
    let places = match places.as_slice() {
        [rest @ .., last] if !rest.is_empty() => format!("{} and {last}", rest.join(", ")),
        _ => places.concat(),
    };
    format!("{places} from the {}", axis.low().name())
}

/// Whether the centres of a row stand as far from the one end as from the other, and evenly between.
pub(super) fn is_even(centres: &[Length], on: Stretch) -> bool {
    let (Some(&first), Some(&last)) = (centres.first(), centres.last()) else { return true };
    let mut steps = centres.windows(2).map(|two| two[1] - two[0]);
    let step = steps.next();
    (first - on.low).same_size(on.high - last) && step.is_none_or(|step| steps.all(|other| other.same_size(step)))
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
        spread(&work, &joint, SCREWS, Stretch { low: from, high: from + height })
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

    /// A row of two in a joint of 4 in whose part has a cut from the one height to the other, in sixteenths.
    fn moved(cut: [i64; 2], options: Options) -> [Length; 2] {
        use crate::checks::bench::{add, job, sheet};
        use crate::model::{Feature, JointId, Shape};
        let s = |sixteenths| Length::from_inch(sixteenths, 16);
        let mut model = job();
        let part = add(&mut model, Model::ROOT, "rail", &sheet(12), [0, 0, 0], [160, 12, 64]);
        let solid = Solid::new([s(0), s(0), s(cut[0])], [s(160), s(6), s(cut[1])]);
        let shape = Shape::Channel { along: Axis::X, stopped: false };
        let groove = Feature { name: "groove", shape, solid, face: crate::base::Face::Front, joint: JointId(0) };
        model.part_mut(part).features.push(groove);
        let joint = JointUse { joint: "butt", member: part, into: Vec::new(), options, at: None };
        let on = Stretch { low: s(0), high: s(64) };
        let shop = Shop::default();
        let mut work = Work::new(&mut model, &shop);
        let mut centres = spread(&work, &joint, SCREWS, on).unwrap();
        // A screw of 1/8 in.
        let hole = |at| Some(vec![(part, Solid::new([s(0), s(0), at - s(1)], [s(16), s(12), at + s(1)]))]);
        keep_clear(&mut work, &joint, SCREWS, on, &mut centres, hole);
        centres.try_into().unwrap()
    }

    #[test]
    fn a_screw_goes_round_a_groove() {
        let s = |sixteenths| Length::from_inch(sixteenths, 16);
        // By the rule they stand 3/4 in from the ends: the lower one takes 11 to 13 sixteenths.
        assert_eq!(moved([4, 8], Options::new()), [s(12), s(52)]);
        // A groove up to 11 just misses it. One a sixteenth higher does not: the screw, 1 below its centre, and its wall of 1
        // leave 14 as the first centre above.
        assert_eq!(moved([8, 11], Options::new()), [s(12), s(52)]);
        assert_eq!(moved([8, 12], Options::new()), [s(14), s(52)]);
        // Down is nearer here: from 12 to 22 the way up is 12 sixteenths, down to 10 only 2.
        assert_eq!(moved([12, 22], Options::new()), [s(10), s(52)]);
        // The upper one goes down, towards the middle.
        assert_eq!(moved([51, 54], Options::new()), [s(12), s(49)]);
    }

    #[test]
    fn a_screw_stays_where_the_recipe_has_put_it() {
        let s = |sixteenths| Length::from_inch(sixteenths, 16);
        let options = Options::new().with("edge_distance", Value::Length(s(12)));
        assert_eq!(moved([8, 12], options), [s(12), s(52)]);
        // Nor does it move where there is no room: a groove over the whole joint.
        assert_eq!(moved([0, 64], Options::new()), [s(12), s(52)]);
    }
}
