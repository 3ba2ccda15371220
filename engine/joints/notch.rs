//! Notch: a corner cut out of a part, for a toe space, a rail, a skirting board or a pipe.

use super::bearing::lies_on;
use super::bring::{named, sentence};
use super::{Joint, Work};
use crate::base::{Face, Length, Solid};
use crate::diag::Finding;
use crate::model::{Feature, JointId, JointUse, Kind, OptionSpec, PartId, Setting, Shape, Stage, Step};

/// The notch.
pub(super) const NOTCH: Joint = Joint {
    name: "notch",
    summary: "a corner cut out of a part: a toe space, or room for a rail or a skirting board",
    target: "beside",
    options: &[
        OptionSpec::may("beside", Kind::Parts, "nothing", "the part or parts that stand in the notch")
            .because("common practice, no source: most notches are for feet or for a wall that is not drawn"),
        OptionSpec::must("at", Kind::Faces, "the two edges whose corner is cut, such as [\"front\", \"bottom\"]"),
        OptionSpec::may(
            "reach",
            Kind::Lengths,
            "as far as the parts in `beside` need",
            "how far it goes in from each of the two edges, in the order of `at`",
        )
        .because("the parts beside it are exact, so their room is too"),
        OptionSpec::may(
            "fit",
            Kind::Fit,
            "\"snug\" from the shop file",
            "how much larger than the parts in `beside` it is",
        )
        .because("common practice, no source: a rail in its notch is glued or screwed"),
    ],
    about: "A rectangle is taken out of one corner of a part, through its whole thickness. Give its two sizes with `reach`, or name \
            what stands in it with `beside` and it becomes as large as that needs. It holds nothing: what stands in it needs a \
            joint of its own. To scribe a side to a skirting board, cut the notch at its back and bottom edges.",
    source: "common practice, no source",
    refuses: &["fit-too-loose", "notch-misfits", "notch-not-at-corner"],
    changes: "None.",
    leaves: "A `notch` in the first part, through its thickness.",
    needs: "Nothing.",
    sets: "Fence and stop: how far it goes in from each edge.",
    promises: "What is named in `beside` stands before the two walls with the room that they were cut for. Without `beside` nothing: no \
               part stands in it.",
    assembly: "Cut a notch 3\" from the front and 4\" from the bottom edge out of the side.",
    example: r#"let ply = stock("3/4 birch plywood");
let left = part("side", #{ stock: ply, left: 0.inch, front: 0.inch, depth: 24.inch, bottom: 0.inch, height: 34.inch, show: "left" });
let right = part("side", #{ stock: ply, right: 30.inch, front: 0.inch, depth: 24.inch, bottom: 0.inch, height: 34.inch, show: "right" });
let floor = part("floor", #{ stock: ply, left: left.right, right: right.left, front: 0.inch, depth: 24.inch, bottom: 4.inch });
dado(floor, #{ into: [left, right] });
let board = part("toe board", #{ stock: ply, left: left.right, right: right.left, front: 3.inch, bottom: 0.inch, top: 4.inch });
butt(board, #{ to: [left, right], with: "glue" });
notch([left, right], #{ at: ["front", "bottom"], reach: [3.inch, 4.inch] });
"#,
    grow: |_, _| Ok(()),
    cut,
    drill: |_, _| Ok(()),
};

// Common practice, no source: a part that keeps less beside its notch breaks there.
const LEAST_WOOD: Length = Length::from_inch(1, 2);

fn cut(work: &mut Work<'_>, id: JointId) -> Result<(), Finding> {
    let joint = work.joint(id);
    let at = edges(work, &joint)?;
    let reach = reaches(work, &joint, at)?;
    let member = work.model.part(joint.member);
    let mut solid = member.solid;
    for (face, reach) in at.into_iter().zip(reach) {
        let seen = member.placed.face(face);
        solid.set_face(face.opposite(), if face.is_high() { seen - reach } else { seen + reach });
    }
    let shape = Shape::Step { along: member.thickness, stopped: false };
    work.cut(joint.member, Feature { name: "notch", shape, solid, face: at[0], joint: id })?;
    bear(work, id, &solid, at);
    let print = work.printing();
    let sizes = reach.map(|reach| print.length(reach));
    for (face, reach) in at.into_iter().zip(reach) {
        work.model.settings.push(Setting {
            what: "fence",
            work: format!("notch {} x {}", sizes[0], sizes[1]),
            value: reach,
            note: format!(
                "from the {} edge to the cut; stop short of the corner and finish it with a hand saw",
                face.name()
            ),
            part: joint.member,
        });
    }
    let said = named(work, &joint);
    let text = format!(
        "cut a notch {} from the {} and {} from the {} edge out of {}.",
        sizes[0],
        at[0].name(),
        sizes[1],
        at[1].name(),
        said.member
    );
    let piece = work.model.part(joint.member).piece;
    work.model.steps.push(Step { piece, stage: Stage::Parts, text: sentence(&said.place, &text) });
    Ok(())
}

/// States that what stands in the notch has the room before its two walls that it was cut for.
fn bear(work: &mut Work<'_>, id: JointId, notch: &Solid, at: [Face; 2]) {
    let joint = work.joint(id);
    let wall = |face: Face| notch.face(face.opposite());
    for looks in at.map(Face::opposite) {
        let room = |part: PartId| {
            let room = wall(looks.opposite()) - work.model.part(part).solid.face(looks);
            if looks.is_high() { room } else { -room }
        };
        // Of several, the one that reaches furthest in sets the size.
        let Some(&part) = joint.into.iter().min_by_key(|&&part| room(part)) else { return };
        let room = room(part);
        let beside = work.model.part(part).solid;
        let mut area = beside;
        area.set_face(looks.opposite(), beside.face(looks));
        for axis in looks.axis().others() {
            area.low[axis.index()] = area.low[axis.index()].max(notch.low[axis.index()]);
            area.high[axis.index()] = area.high[axis.index()].min(notch.high[axis.index()]);
        }
        lies_on(work, id, ("face", part, joint.member), (looks, area), room);
    }
}

/// The two edges whose corner is cut.
fn edges(work: &Work<'_>, joint: &JointUse) -> Result<[Face; 2], Finding> {
    let member = work.model.part(joint.member);
    match *joint.options.faces("at") {
        [a, b] if a.axis() != b.axis() && a.axis() != member.thickness && b.axis() != member.thickness => Ok([a, b]),
        _ => {
            let [x, y] = member.thickness.others();
            Err(Finding::error(
                "notch-not-at-corner",
                format!("notch: `at` names no corner of `{}`", work.model.full_name(joint.member)),
            )
            .hint(format!(
                "name two edges that meet, one of \"{}\" and \"{}\" and one of \"{}\" and \"{}\"",
                x.low().name(),
                x.high().name(),
                y.low().name(),
                y.high().name()
            )))
        }
    }
}

/// How far the notch goes in from each edge: as asked, or as far as what stands in it needs.
fn reaches(work: &Work<'_>, joint: &JointUse, at: [Face; 2]) -> Result<[Length; 2], Finding> {
    let member = work.model.part(joint.member);
    let name = work.model.full_name(joint.member);
    let print = work.printing();
    let beside = joint.into.iter().map(|&part| work.model.part(part).solid).reduce(|a, b| a.hull(&b));
    let fit = work.fit(joint, super::channel::FIT);
    let needs = |face: Face| {
        let far = beside?.face(face.opposite());
        let edge = member.placed.face(face);
        Some(if face.is_high() { edge - far } else { far - edge } + fit)
    };
    let asked = joint.options.lengths("reach");
    let reach = match (asked.as_slice(), at.map(needs)) {
        ([a, b], _) => [*a, *b],
        ([], [Some(a), Some(b)]) => [a, b],
        _ => {
            let message = format!("notch: how far it goes into `{name}` is not said");
            return Err(Finding::error("notch-misfits", message)
                .hint("give two lengths with `reach`, or name what stands in it with `beside`"));
        }
    };
    for (face, reach) in at.into_iter().zip(reach) {
        let most = member.placed.size(face.axis()) - LEAST_WOOD;
        if !reach.is_positive() || reach > most {
            let message = format!(
                "notch: {} from the {} edge is no notch in `{name}`, which is {} there",
                print.length(reach),
                face.name(),
                print.length(member.placed.size(face.axis()))
            );
            return Err(Finding::error("notch-misfits", message)
                .hint(format!("give a `reach` above nothing and up to {}", print.length(most))));
        }
    }
    Ok(reach)
}

#[cfg(test)]
mod tests {
    use super::super::bench::{Bench, in_};
    use super::*;
    use crate::base::Axis;
    use crate::model::{Model, Options, Value};

    /// A side 3/4 in thick, 24 in deep and 34 in high, with a notch at its front and bottom edges.
    fn side(options: Options) -> Result<Model, Finding> {
        let mut bench = Bench::new();
        let zero = in_(0, 1);
        let side = bench.add("side", in_(3, 4), [zero; 3], [in_(3, 4), in_(24, 1), in_(34, 1)]);
        bench.join("notch", side, &[], options.with("at", Value::Faces(vec![Face::Front, Face::Bottom])));
        bench.made()
    }

    fn reach(depth: Length, height: Length) -> Options {
        Options::new().with("reach", Value::Lengths(vec![depth, height]))
    }

    #[test]
    fn a_toe_space_goes_through_the_thickness() {
        let model = side(reach(in_(3, 1), in_(4, 1))).unwrap();
        let notch = &model.parts[0].features[0];
        assert_eq!(notch.solid.low, [in_(0, 1); 3]);
        assert_eq!(notch.solid.high, [in_(3, 4), in_(3, 1), in_(4, 1)]);
        assert_eq!(notch.shape.along(), Some(Axis::X));
    }

    #[test]
    fn a_notch_that_leaves_a_thousandth_too_little_is_refused() {
        // 24 in less half an inch is 23-1/2 in.
        let with = |more: i64| {
            let deep = in_(47, 2) + Length::from_um(more);
            side(reach(deep, in_(4, 1))).map_or_else(|finding| finding.code, |_| "none")
        };
        assert_eq!(with(0), "none");
        assert_eq!(with(1), "notch-misfits");
        assert_eq!(side(reach(in_(0, 1), in_(4, 1))).unwrap_err().code, "notch-misfits");
        assert_eq!(side(Options::new()).unwrap_err().code, "notch-misfits");
    }

    #[test]
    fn what_stands_in_it_sets_its_size() {
        // A rail 3/4 in thick and 3-1/2 in high in the corner, and a fit of 1/64 in.
        let mut bench = Bench::new();
        let zero = in_(0, 1);
        let side = bench.add("side", in_(3, 4), [zero; 3], [in_(3, 4), in_(24, 1), in_(34, 1)]);
        let rail = bench.add("rail", in_(3, 4), [zero; 3], [in_(30, 1), in_(3, 4), in_(7, 2)]);
        let options = Options::new()
            .with("at", Value::Faces(vec![Face::Front, Face::Bottom]))
            .with("fit", Value::Length(in_(1, 64)));
        bench.join("notch", side, &[rail], options);
        let model = bench.made().unwrap();
        let notch = &model.parts[0].features[0].solid;
        assert_eq!((notch.high[1], notch.high[2]), (in_(49, 64), in_(7, 2) + in_(1, 64)));
    }
}
