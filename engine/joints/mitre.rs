//! Mitre: two parts meet at a corner, each cut at 45 degrees.

use super::bearing::slopes_on;
use super::bring::add_glue;
use super::contact::square_mm;
use super::corner::{self, Crossing};
use super::spline::{self, Mitred};
use super::{Joint, Work, tongue};
use crate::base::{Axis, Face, Length, Solid};
use crate::diag::Finding;
use crate::model::{Feature, Hold, JointId, JointUse, Kind, OptionSpec, Part, PartId, Setting, Shape};

/// The mitre.
pub(super) const MITRE: Joint = Joint {
    name: "mitre",
    summary: "two parts that meet at a corner, each cut at 45 degrees, plain or with a spline",
    target: "to",
    options: &[
        OptionSpec::must("to", Kind::Parts, "the parts that it meets at a corner"),
        OptionSpec::may("glue", Kind::YesNo, "yes", "whether it is glued")
            .because("common practice, no source: a mitre has nothing else to hold by"),
        OptionSpec::may("spline", Kind::Stock, "none: a plain mitre", "the stock of a spline let into both mitres")
            .because("common practice, no source: a light frame holds by its glue"),
        OptionSpec::may(
            "width",
            Kind::Length,
            "3/4 in, or 18 mm in a metric job; less where the corner is too small for it",
            "the width of the spline, half of it in each part",
        )
        .because("common practice, no source: three eighths in each part, about as deep as the groove of a panel"),
        OptionSpec::may("fit", Kind::Fit, "\"snug\"", "how much wider than the spline was measured its slots are")
            .because("common practice, no source: it is pushed in by hand and holds before the glue does"),
    ],
    about: "For frames and plinths: no end grain shows. Place the first part up to the other at its end, and it grows to its long \
            point; or place both to their long points, so that they share the corner. Both must be as wide at the corner, so that \
            the cut is at 45 degrees. The lists give sizes to the long point. End grain holds little glue, so \
            let a `spline` into a mitre that carries weight: in a flat frame its slots lie in the middle of the thickness and run \
            through from the inner to the outer corner, round a plinth they lie a third of the mitre from its inner edge, where \
            more wood is behind them. The slots are as wide as the spline's stock was measured.",
    source: "common practice, no source",
    refuses: &[
        "cut-without-depth",
        "fit-too-loose",
        "joint-needs-contact",
        "mitre-beside-end",
        "mitre-uneven",
        "option-without-effect",
        "spline-misfits",
    ],
    changes: "A part that is placed up to the other grows by its width, to the long point.",
    leaves: "A `mitre` in both parts: half of the corner that they share; with a spline a `spline slot` in both mitres.",
    needs: "Glue on the mitred faces, and on the spline, unless `glue` is false; a spline for each corner, cut from offcuts of its stock. Where the corner of a \
            panel stands in its slot, it is so much shorter that it ends before that.",
    sets: "The saw's tilt or the gauge stands at 45 degrees. Stop: the part's length to the long point. For a spline: the fence and the \
           blade height of its slots, with the passes of the kerf.",
    promises: "Both mitred faces lie on one another over their whole slope; a spline takes nothing from that, since it fills its slots.",
    assembly: "Glue the rail's mitres to each stile; size the end grain first.",
    example: r#"let maple = stock("3/4 hard maple board");
let left = part("stile", #{ stock: maple, left: 0.inch, width: 2.inch, front: 0.inch, bottom: 0.inch, height: 24.inch, grain: "up" });
let right = part("stile", #{ stock: maple, right: 16.inch, width: 2.inch, front: 0.inch, bottom: 0.inch, height: 24.inch, grain: "up" });
let top = part("rail", #{ stock: maple, left: left.right, right: right.left, front: 0.inch, top: 24.inch, height: 2.inch, grain: "across" });
let low = part("rail", #{ stock: maple, left: left.right, right: right.left, front: 0.inch, bottom: 0.inch, height: 2.inch, grain: "across" });
mitre(top, #{ to: [left, right] });
mitre(low, #{ to: [left, right], spline: stock("1/4 birch plywood") });
"#,
    grow,
    cut,
    drill,
};

/// The corner that two parts share, and the end of each that lies there.
struct Corner {
    crossing: Crossing,
    ends: [Face; 2],
}

fn corner(work: &Work<'_>, joint: &JointUse, target: PartId) -> Result<Corner, Finding> {
    let part = work.model.part(target);
    let crossing = corner::crossing(work, joint, target)?;
    let shared = crossing.shared;
    let names = [work.model.full_name(joint.member), work.model.full_name(target)];
    let Some(ends) = ends(&crossing.whole, part, &shared) else {
        let message = format!("mitre: `{}` and `{}` do not meet end to end at a corner", names[0], names[1]);
        let hint = "place the first flush with the end of the other, both as thick and in one line";
        return Err(Finding::error("mitre-beside-end", message).hint(hint));
    };
    let [of_part, of_member] = ends.map(|end| shared.size(end.axis()));
    if !of_part.same_size(of_member) {
        let print = work.printing();
        let message = format!(
            "mitre: `{}` is {} and `{}` {} wide at the corner, so a cut at 45 degrees does not close it",
            names[0],
            print.length(of_member),
            names[1],
            print.length(of_part)
        );
        let hint = "make both as wide, or use `half_lap` or `tenon`";
        return Err(Finding::error("mitre-uneven", message).hint(hint));
    }
    Ok(Corner { crossing, ends })
}

/// The end of the member and the end of the target at a shared corner: each part has its own end there, and is whole across
/// the two other axes.
fn ends(member: &Solid, part: &Part, shared: &Solid) -> Option<[Face; 2]> {
    let same = |a: Length, b: Length| a.same_size(b);
    let long = |solid: &Solid| {
        let axis = Axis::ALL.into_iter().find(|&axis| !same(solid.size(axis), shared.size(axis)))?;
        let whole = axis.others().into_iter().all(|other| same(solid.size(other), shared.size(other)));
        let end = [axis.low(), axis.high()].into_iter().find(|&end| same(solid.face(end), shared.face(end)))?;
        whole.then_some(end)
    };
    let ends = [long(member)?, long(&part.placed)?];
    (ends[0].axis() != ends[1].axis()).then_some(ends)
}

fn grow(work: &mut Work<'_>, id: JointId) -> Result<(), Finding> {
    tongue::grow(work, id, |work, joint, target| Ok(corner(work, joint, target)?.crossing.reach(work, target)))
}

fn cut(work: &mut Work<'_>, id: JointId) -> Result<(), Finding> {
    let joint = work.joint(id);
    let glued = joint.options.yes("glue").unwrap_or(true);
    for &target in &joint.into {
        let mitred = mitred(work, &joint, target)?;
        let Mitred { ends: [own, other], shared, along, .. } = mitred;
        let spline = spline::spline(work, &joint, mitred)?;
        for (part, end, beside) in [(joint.member, own, other), (target, other, own)] {
            let shape = Shape::Bevel { along, end };
            // The long point lies on the outside of the corner, where the other part has its end.
            let feature = Feature { name: "mitre", shape, solid: shared, face: beside.opposite(), joint: id };
            work.cut(part, feature)?;
            setting(work, part, end);
        }
        // What is left of the member looks towards its own end, and to where its long point is not.
        let looks = [own, other.opposite()];
        slopes_on(work, id, ("mitred face", joint.member, target), looks, shared);
        if let Some(spline) = spline {
            spline::cut(work, id, mitred, &spline)?;
        }
        work.model.holds.push(Hold { part: joint.member, to: Some(target) });
        if glued {
            // The mitred face is the square root of two, about 99/70, as long as the part is wide.
            add_glue(work, &joint, square_mm(shared.size(along), shared.size(own.axis())) * 99 / 70);
        }
    }
    let mitres = if joint.into.len() == 1 { "mitre" } else { "mitres" };
    let with = match (joint.options.get("spline"), joint.into.len()) {
        (None, _) => "",
        (Some(_), 1) => " with a spline",
        (Some(_), _) => " with a spline in each",
    };
    tongue::say(work, &joint, |said| {
        if glued {
            format!("glue {}'s {mitres} to {}{with}; size the end grain first.", said.member, said.targets)
        } else {
            format!("close {}'s {mitres} against {}{with}, without glue.", said.member, said.targets)
        }
    });
    Ok(())
}

/// The corner as its spline knows it.
fn mitred(work: &Work<'_>, joint: &JointUse, target: PartId) -> Result<Mitred, Finding> {
    let corner = corner(work, joint, target)?;
    let [own, other] = corner.ends;
    let along = Axis::ALL.into_iter().find(|axis| ![own.axis(), other.axis()].contains(axis)).unwrap_or(Axis::Z);
    Ok(Mitred { parts: [joint.member, target], ends: corner.ends, shared: corner.crossing.shared, along })
}

/// Nothing is drilled; once all is cut it is known how long the splines may be.
fn drill(work: &mut Work<'_>, id: JointId) -> Result<(), Finding> {
    let joint = work.joint(id);
    for &target in &joint.into {
        let mitred = mitred(work, &joint, target)?;
        if let Some(spline) = spline::spline(work, &joint, mitred)? {
            spline::bring(work, &joint, mitred, &spline)?;
        }
    }
    Ok(())
}

fn setting(work: &mut Work<'_>, id: PartId, end: Face) {
    let part = work.model.part(id);
    let print = work.printing();
    let through = end.axis() != part.thickness && part.thickness == part.width_axis();
    let long = part.solid.size(end.axis());
    let tool = if through { "tilt of the saw" } else { "mitre gauge or tilt of the saw" };
    let setting = Setting {
        what: "stop",
        work: format!("mitre, {} to the long point", print.length(long)),
        value: long,
        note: format!("{tool} at 45 degrees; try it on two offcuts against a square"),
        part: id,
    };
    work.model.settings.push(setting);
}

#[cfg(test)]
mod tests {
    use super::super::bench::{Bench, in_};
    use super::*;
    use crate::model::{Model, Options};

    /// A stile 2 in wide and a rail of a height at its lower end, `up` from flush.
    fn frame(high: Length, up: Length) -> Result<Model, Finding> {
        let mut bench = Bench::new();
        let stile = bench.add("stile", in_(3, 4), [in_(0, 1); 3], [in_(2, 1), in_(3, 4), in_(24, 1)]);
        let rail = bench.add("rail", in_(3, 4), [in_(2, 1), in_(0, 1), up], [in_(14, 1), in_(3, 4), up + high]);
        bench.join("mitre", rail, &[stile], Options::new());
        bench.made()
    }

    #[test]
    fn both_lose_half_of_the_corner() {
        // The rail grows by the stile's 2 in to its long point, 14 in. The stile's long point is on the left, the rail's below.
        let model = frame(in_(2, 1), in_(0, 1)).unwrap();
        assert_eq!(model.parts[1].solid.size(Axis::X), in_(14, 1));
        let (stile, rail) = (&model.parts[0].features[0], &model.parts[1].features[0]);
        assert_eq!((stile.shape, stile.face), (Shape::Bevel { along: Axis::Y, end: Face::Bottom }, Face::Right));
        assert_eq!((rail.shape, rail.face), (Shape::Bevel { along: Axis::Y, end: Face::Left }, Face::Top));
        assert_eq!(stile.solid, rail.solid);
    }

    #[test]
    fn a_thousandth_is_allowed_and_two_are_not() {
        let um = Length::from_um;
        let code = |high: i64, up: i64| frame(in_(2, 1) + um(high), um(up)).map(|_| ()).map_err(|finding| finding.code);
        assert_eq!([code(0, 0), code(1, 0)], [Ok(()), Ok(())]);
        assert_eq!([code(2, 0), code(0, 2)], [Err("mitre-uneven"), Err("mitre-beside-end")]);
    }
}
