//! Half-lap: two parts cross, and each loses half of what they share.

use super::bearing::lies_on;
use super::bring::add_glue;
use super::contact::square_mm;
use super::corner::{self, Crossing};
use super::{Joint, Work, channel, tongue};
use crate::base::{Axis, Face, Length, Solid};
use crate::diag::Finding;
use crate::model::{Feature, Hold, JointId, JointUse, Kind, OptionSpec, Part, PartId, Setting, Shape};

/// The half-lap.
pub(super) const HALF_LAP: Joint = Joint {
    name: "half_lap",
    summary: "two parts that cross or meet in one plane, each cut to half: corner, tee or cross",
    target: "to",
    options: &[
        OptionSpec::must("to", Kind::Parts, "the parts that it laps"),
        OptionSpec::may(
            "keeps",
            Kind::Face,
            "its show face, else the front of what lies flat and the bottom of what stands crosswise",
            "the face on whose side the first part keeps its half",
        )
        .because("common practice, no source: the rail's face runs on past the joint"),
        OptionSpec::may("fit", Kind::Fit, "\"snug\"", "how much wider than the other part each lap is")
            .because("common practice, no source: the shoulders of the lap keep the frame square"),
        OptionSpec::may("glue", Kind::YesNo, "yes", "whether it is glued")
            .because("common practice, no source: the broad cheeks are long grain on long grain"),
    ],
    about: "Place the first part up to the edge of the other, and it grows across the whole of it: at the end of the other part \
            that is a corner lap, away from it a tee. Or place both at full length so that they cross, and neither changes its \
            size: a cross lap, also for dividers on edge that slide into each other. Each part loses one half of what they share. \
            Choose it for frames behind sheet goods, for stretchers that cross, and for egg-crate dividers.",
    source: "common practice, no source",
    refuses: &[
        "banded-edge-in-cut",
        "broad-face-in-cut",
        "fit-too-loose",
        "joint-needs-contact",
        "joint-not-flat",
        "keeps-beside-lap",
    ],
    changes: "A part that is placed up to the other grows by the whole width of it. Parts that are placed crossing keep their size.",
    leaves: "A `lap` in both parts, each half of the shared thickness (or height) deep.",
    needs: "Glue on the cheek of the lap, unless `glue` is false.",
    sets: "Blade height: the depth of each lap, with the passes of the kerf that clear it. Stop: how far from the end the lap \
           begins, where it is at an end.",
    promises: "The two halves lie on one another over the whole lap.",
    assembly: "Glue the rail into the laps of each stile and clamp face to face.",
    example: r#"let maple = stock("3/4 hard maple board");
let left = part("stile", #{ stock: maple, left: 0.inch, width: 2.inch, front: 0.inch, bottom: 0.inch, height: 24.inch, grain: "up" });
let right = part("stile", #{ stock: maple, right: 16.inch, width: 2.inch, front: 0.inch, bottom: 0.inch, height: 24.inch, grain: "up" });
let top = part("rail", #{ stock: maple, left: left.right, right: right.left, front: 0.inch, top: 24.inch, height: 2.inch, grain: "across" });
let middle = part("middle rail", #{ stock: maple, left: left.right, right: right.left, front: 0.inch, bottom: 10.inch, height: 2.inch, grain: "across" });
let post = part("post", #{ stock: maple, left: 7.inch, width: 2.inch, front: 0.inch, bottom: 4.inch, height: 12.inch, grain: "up" });
half_lap([top, middle], #{ to: [left, right] });
half_lap(post, #{ to: middle, keeps: "back" });
"#,
    grow,
    cut,
    drill: |_, _| Ok(()),
};

/// What two parts share, and how it is parted.
struct Lap {
    crossing: Crossing,
    /// The side on which the member keeps its half.
    keeps: Face,
    /// Where one half ends and the other begins.
    middle: Length,
}

fn lap(work: &Work<'_>, joint: &JointUse, target: PartId) -> Result<Lap, Finding> {
    let (member, part) = (work.model.part(joint.member), work.model.part(target));
    let crossing = corner::crossing(work, joint, target)?;
    if let Some(touch) = crossing.touch {
        if touch.face.axis() == member.thickness || touch.face.axis() == part.thickness {
            let name = work.model.full_name(joint.member);
            let message = format!("half_lap: `{name}` meets `{}` at a broad face", work.model.full_name(target));
            let hint = "place both flat in one plane, edge to edge, or use `dado` or `butt`";
            return Err(Finding::error("broad-face-in-cut", message).hint(hint));
        }
        tongue::refuse_not_flat(work, joint, target)?;
        channel::refuse_band(work, joint, touch.face)?;
    }
    let shared = crossing.shared;
    let parted = if member.thickness == part.thickness {
        member.thickness
    } else {
        let others = member.thickness.others();
        others.into_iter().find(|&axis| axis != part.thickness).unwrap_or(member.thickness)
    };
    let usual = member.show.filter(|show| show.axis() == parted).unwrap_or(parted.low());
    let keeps = joint.options.face("keeps").unwrap_or(usual);
    if keeps.axis() != parted {
        let message = format!(
            "half_lap: `{}` and `{}` are parted {}, so neither can keep its {}",
            work.model.full_name(joint.member),
            work.model.full_name(target),
            parted.run_name(),
            keeps.name()
        );
        let hint = format!("write keeps: \"{}\" or keeps: \"{}\"", parted.low().name(), parted.high().name());
        return Err(Finding::error("keeps-beside-lap", message).hint(hint));
    }
    let middle = shared.face(parted.low()) + shared.size(parted).half();
    Ok(Lap { crossing, keeps, middle })
}

fn grow(work: &mut Work<'_>, id: JointId) -> Result<(), Finding> {
    tongue::grow(work, id, |work, joint, target| Ok(lap(work, joint, target)?.crossing.reach(work, target)))
}

fn cut(work: &mut Work<'_>, id: JointId) -> Result<(), Finding> {
    let joint = work.joint(id);
    let glued = joint.options.yes("glue").unwrap_or(true);
    let fit = work.fit(&joint, channel::FIT);
    for &target in &joint.into {
        let lap = lap(work, &joint, target)?;
        for (id_of, open) in [(joint.member, lap.keeps.opposite()), (target, lap.keeps)] {
            let feature = half(work.model.part(id_of), &lap, open, fit, id);
            settings(work, id_of, &feature);
            work.cut(id_of, feature)?;
        }
        let open = lap.keeps.opposite();
        let mut area = lap.crossing.shared;
        area.set_face(open, lap.middle);
        area.set_face(lap.keeps, lap.middle);
        lies_on(work, id, ("lap", joint.member, target), (open, area), Length::ZERO);
        work.model.holds.push(Hold { part: joint.member, to: Some(target) });
        if glued {
            let [a, b] = lap.keeps.axis().others();
            add_glue(work, &joint, square_mm(lap.crossing.shared.size(a), lap.crossing.shared.size(b)));
        }
    }
    let laps = if joint.into.len() == 1 { "lap" } else { "laps" };
    tongue::say(work, &joint, |said| {
        if glued {
            format!("glue {} into the {laps} of {} and clamp face to face.", said.member, said.targets)
        } else {
            format!("put {} into the {laps} of {}, without glue.", said.member, said.targets)
        }
    });
    Ok(())
}

/// The half that a part loses, open to one of its faces. The lap is as wide as the other part and the fit.
fn half(part: &Part, lap: &Lap, open: Face, fit: Length, id: JointId) -> Feature {
    let mut solid = lap.crossing.shared;
    solid.set_face(open.opposite(), lap.middle);
    solid.set_face(open, part.solid.face(open));
    let across = across(part, &lap.crossing.shared, open.axis());
    let along = Axis::ALL.into_iter().find(|&axis| axis != across && axis != open.axis()).unwrap_or(across);
    let mut walls = 0;
    for (side, by) in [(across.low(), fit.half()), (across.high(), fit - fit.half())] {
        let inside = (part.solid.face(side) - solid.face(side)).abs() > Length::SAME_SIZE;
        if inside {
            walls += 1;
            solid = solid.grown(side, by);
        }
    }
    let shape =
        if walls == 2 { Shape::Channel { along, stopped: false } } else { Shape::Step { along, stopped: false } };
    Feature { name: "lap", shape, solid, face: open, joint: id }
}

/// The axis across which a lap is measured: the part runs on past it there.
fn across(part: &Part, shared: &Solid, parted: Axis) -> Axis {
    let [a, b] = parted.others();
    let beyond = |axis: Axis| part.solid.size(axis) - shared.size(axis);
    if beyond(b) > beyond(a) { b } else { a }
}

fn settings(work: &mut Work<'_>, part: PartId, feature: &Feature) {
    let print = work.printing();
    let Some((_, width)) = feature.width() else { return };
    let kind = format!("lap {} wide, {} deep", print.length(width), print.length(feature.depth()));
    let note = format!("from the {} face; {}", feature.face.name(), channel::passes_note(width, work.shop.kerf, print));
    let mut all = vec![Setting { what: "blade height", work: kind.clone(), value: feature.depth(), note, part }];
    if matches!(feature.shape, Shape::Step { .. }) {
        let note = "from the end to the shoulder of the lap".to_owned();
        all.push(Setting { what: "stop", work: kind, value: width, note, part });
    }
    work.model.settings.extend(all);
}

#[cfg(test)]
mod tests {
    use super::super::bench::{Bench, in_};
    use super::*;
    use crate::model::{Model, Options, Value};

    /// A stile 2 in wide and a rail that ends `short` of its edge.
    fn corner(short: Length, options: Options) -> Result<Model, Finding> {
        let mut bench = Bench::new();
        let stile = bench.add("stile", in_(3, 4), [in_(0, 1); 3], [in_(2, 1), in_(3, 4), in_(24, 1)]);
        let low = [in_(2, 1) + short, in_(0, 1), in_(0, 1)];
        let rail = bench.add("rail", in_(3, 4), low, [in_(14, 1), in_(3, 4), in_(2, 1)]);
        bench.join("half_lap", rail, &[stile], options);
        bench.made()
    }

    #[test]
    fn a_corner_lap_takes_half_of_each() {
        // The rail grows by the stile's 2 in; both lose 2 in of length and 3/8 of their 3/4.
        let model = corner(in_(0, 1), Options::new()).unwrap();
        assert_eq!(model.parts[1].solid.size(Axis::X), in_(14, 1));
        for (part, face) in [(0, Face::Front), (1, Face::Back)] {
            let [lap] = &model.parts[part].features[..] else { panic!("one lap each") };
            assert_eq!((lap.face, lap.depth(), lap.width().unwrap().1), (face, in_(3, 8), in_(2, 1)));
        }
    }

    #[test]
    fn parts_that_cross_keep_their_size() {
        // Two dividers on edge, 4 in high and 1/2 in thick: slots 1/2 in wide and 2 in deep, one from above, one from below.
        let mut bench = Bench::new();
        let long = bench.add("long", in_(1, 2), [in_(0, 1), in_(5, 1), in_(0, 1)], [in_(20, 1), in_(11, 2), in_(4, 1)]);
        let short =
            bench.add("short", in_(1, 2), [in_(8, 1), in_(0, 1), in_(0, 1)], [in_(17, 2), in_(10, 1), in_(4, 1)]);
        bench.join("half_lap", long, &[short], Options::new());
        let model = bench.made().unwrap();
        let (a, b) = (&model.parts[0].features[0], &model.parts[1].features[0]);
        assert_eq!((a.face, a.depth(), a.width().unwrap().1), (Face::Top, in_(2, 1), in_(1, 2)));
        assert_eq!((b.face, b.depth(), b.width().unwrap().1), (Face::Bottom, in_(2, 1), in_(1, 2)));
    }

    #[test]
    fn a_thousandth_apart_is_allowed_and_two_are_not() {
        // One micrometre counts as touching everywhere.
        assert!(corner(Length::from_um(1), Options::new()).is_ok());
        assert_eq!(corner(Length::from_um(2), Options::new()).unwrap_err().code, "joint-needs-contact");
        let up = Options::new().with("keeps", Value::Faces(vec![Face::Top]));
        assert_eq!(corner(in_(0, 1), up).unwrap_err().code, "keeps-beside-lap");
    }
}
