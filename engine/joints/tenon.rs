//! Mortise and tenon: the end of a rail in a slot of the stile, with wood on all four sides.

use super::bring::add_glue;
use super::channel;
use super::contact::{Contact, square_mm};
use super::tongue::{self, PanelGroove, Tongue};
use super::{ByUnit, Joint, Work};
use crate::base::{Axis, Face, Length};
use crate::diag::Finding;
use crate::model::{Feature, Hold, JointId, JointUse, Kind, OptionSpec, PartId, Setting, Shape};

const KINDS: &[&str] = &["blind", "through", "haunched"];

/// The mortise and tenon.
pub(super) const TENON: Joint = Joint {
    name: "tenon",
    summary: "a mortise and tenon: blind, through, or haunched at the end of a stile",
    target: "into",
    options: &[
        OptionSpec::must("into", Kind::Parts, "the stiles or legs that are mortised"),
        OptionSpec::may("kind", Kind::Choice(KINDS), "\"blind\"", "whether the tenon ends inside, comes through, or has a haunch")
            .because("common practice, no source: no end grain shows"),
        OptionSpec::may(
            "thickness",
            Kind::Length,
            "as a panel's groove beside it is wide less the fit, else a third of the rail",
            "how thick the tenon is",
        )
        .because("common practice, no source: a third for the tenon, a third for each wall of the mortise"),
        OptionSpec::may("depth", Kind::Length, "two thirds of the stile; all of it when it comes through", "how deep the mortise is")
            .because("common practice, no source: long enough to hold, and no chisel comes through"),
        OptionSpec::may(
            "shoulder",
            Kind::Length,
            "1/4 in (6 mm in a metric job), at most a sixth of the rail; near the end of the stile what leaves 1/2 in (12 mm) of wood there, at most a third",
            "what the tenon is narrower than the rail, at each edge",
        )
        .because("common practice, no source: it hides the mortise and keeps it from splitting out of the end"),
        OptionSpec::may(
            "haunch",
            Kind::Length,
            "as long as a panel's groove is deep less 1/32 in (1 mm), else as the tenon is thick",
            "how far the haunch reaches into the stile",
        )
        .because("common practice, no source: it fills the groove at the end and keeps the rail from twisting"),
        OptionSpec::may("clearance", Kind::Length, "1/16 in, or 1.5 mm in a metric job; none when it comes through", "room left at the end of the tenon")
            .because("common practice, no source: glue that is pushed ahead needs room, and the shoulders must close"),
        OptionSpec::may("fit", Kind::Fit, "\"snug\"", "how much wider than the tenon is thick the mortise is")
            .because("common practice, no source: it is pushed in by hand and holds before the glue does"),
        OptionSpec::may("glue", Kind::YesNo, "yes", "whether it is glued")
            .because("common practice, no source: the long grain of both cheeks is what holds"),
    ],
    about: "Place the rail by its shoulders, up to the stile. Its end grows by the depth of the mortise less the clearance and is \
            cut to a tenon: two cheeks across the thickness, a shoulder at each edge. Where a panel's groove runs along the same \
            edge, the tenon lies in line with it. Haunched, the tenon is narrower at the end of the stile, and a short haunch \
            fills the groove there. Choose it for frames that carry weight, for legs and aprons, and for panels of solid wood.",
    source: "common practice, no source",
    refuses: &[
        "banded-edge-in-cut",
        "broad-face-in-cut",
        "cut-beside-part",
        "cut-through",
        "cut-without-depth",
        "fit-too-loose",
        "haunch-misfits",
        "joint-needs-contact",
        "mortise-open",
        "option-without-effect",
        "tongue-too-thick",
    ],
    changes: "The rail grows at each end by the depth of the mortise less the clearance. The stiles keep their size.",
    leaves: "A `cheek` on each side and a `shoulder` at each edge of the rail's ends, a `mortise` in each stile; with a haunch and \
             no panel's groove a `haunch` in the stile, open at its end.",
    needs: "Glue on both cheeks, unless `glue` is false.",
    sets: "For the tenon: a stop at its length, blade height for cheeks and for shoulders, and the passes of the kerf. For the \
           mortise: the fence from the nearer face, and the depth stop.",
    promises: "Both sides of the tenon stand between the walls of the mortise with the fit, and a blind end before its floor.",
    assembly: "Glue the rail's tenons into the mortises of each leg.",
    example: r#"let maple = stock("3/4 hard maple board");
let left = part("stile", #{ stock: maple, left: 0.inch, width: 3.inch, front: 0.inch, bottom: 0.inch, height: 30.inch, grain: "up" });
let right = part("stile", #{ stock: maple, right: 24.inch, width: 3.inch, front: 0.inch, bottom: 0.inch, height: 30.inch, grain: "up" });
let top = part("top rail", #{ stock: maple, left: left.right, right: right.left, front: 0.inch, top: 30.inch, height: 3.inch, grain: "across" });
let low = part("low rail", #{ stock: maple, left: left.right, right: right.left, front: 0.inch, bottom: 6.inch, height: 2.inch, grain: "across" });
tenon(top, #{ into: [left, right], kind: "haunched" });
tenon(low, #{ into: [left, right] });
"#,
    grow,
    cut,
    drill: |_, _| Ok(()),
};

// Common practice, no source: see the options.
const SHOULDER: ByUnit = ByUnit::new((1, 4), 6_000);
const END_WOOD: ByUnit = ByUnit::new((1, 2), 12_000);
const CLEARANCE: ByUnit = ByUnit::new((1, 16), 1_500);
const HAUNCH_CLEARANCE: ByUnit = ByUnit::new((1, 32), 1_000);

/// A tenon with its mortise.
struct Fitted {
    touch: Contact,
    tongue: Tongue,
    walls: [Length; 2],
    /// The axis that the tenon is wide along, and its two edges on it.
    run: Axis,
    wide: [Length; 2],
    depth: Length,
    clearance: Length,
    /// The end of the stile that a haunch fills, and how long it is.
    haunch: Option<(Face, Length)>,
    groove: Option<PanelGroove>,
}

fn fitted(work: &Work<'_>, joint: &JointUse, target: PartId) -> Result<Fitted, Finding> {
    let touch = tongue::edge_contact(work, joint, target)?;
    let run = tongue::width_axis(work, joint.member, touch.face);
    let fit = work.fit(joint, channel::FIT);
    let kind = joint.options.text("kind").unwrap_or("blind");
    let groove = tongue::panel_groove(work, joint, target, touch.face);
    let member = work.model.part(joint.member);
    let usual = match groove {
        Some(groove) => groove.sides[1] - groove.sides[0] - fit,
        None => tongue::share(work, member.placed.size(member.thickness), (1, 3)),
    };
    let thickness = tongue::thickness(work, joint, usual)?;
    let mut tongue = Tongue::centred(work, joint.member, touch.face, thickness);
    if let Some(groove) = groove {
        let low = groove.sides[0] + (groove.sides[1] - groove.sides[0] - thickness).half();
        tongue.sides = [low, low + thickness];
    }
    let walls = tongue.housed(fit);
    tongue::refuse_beside(work, joint, target, walls)?;
    let (depth, clearance) = depth(work, joint, target, touch.face, kind)?;
    let wide = edges(work, joint, target, &touch, run, kind)?;
    let haunch = match kind {
        "haunched" => Some(haunch(work, joint, target, (&touch, run), groove, (thickness, depth))?),
        _ => None,
    };
    if haunch.is_none() && joint.options.get("haunch").is_some() {
        let message = "tenon: `haunch` has no effect without a haunch".to_owned();
        let hint = "write kind: \"haunched\", or leave `haunch` out";
        return Err(Finding::error("option-without-effect", message).hint(hint));
    }
    Ok(Fitted { touch, tongue, walls, run, wide, depth, clearance, haunch, groove })
}

/// The depth of the mortise and the room at its end.
fn depth(
    work: &Work<'_>,
    joint: &JointUse,
    target: PartId,
    face: Face,
    kind: &str,
) -> Result<(Length, Length), Finding> {
    let there = work.model.part(target).placed.size(face.axis());
    if kind == "through" {
        if let Some(key) = ["depth", "clearance"].into_iter().find(|key| joint.options.get(key).is_some()) {
            let message = format!("tenon: `{key}` has no effect on a tenon that comes through");
            let hint = format!("leave `{key}` out, or write kind: \"blind\"");
            return Err(Finding::error("option-without-effect", message).hint(hint));
        }
        return Ok((there, Length::ZERO));
    }
    let usual = tongue::share(work, there, (2, 3));
    let depth = tongue::positive(work, joint, "depth", usual)?;
    tongue::refuse_through(work, joint, target, face, depth, usual)?;
    Ok((depth, tongue::clearance(work, joint, work.usual(CLEARANCE).min(depth.half()), depth)?))
}

/// The two edges of the tenon along its width. The mortise must keep wood at both ends.
fn edges(
    work: &Work<'_>,
    joint: &JointUse,
    target: PartId,
    touch: &Contact,
    run: Axis,
    kind: &str,
) -> Result<[Length; 2], Finding> {
    let part = work.model.part(target).placed;
    let print = work.printing();
    let size = touch.area.size(run);
    let shoulder = |end: Face| {
        let gap = (part.face(end) - touch.area.face(end)).abs();
        let slim = work.usual(SHOULDER).min(tongue::share(work, size, (1, 6)));
        let third = tongue::share(work, size, (1, 3));
        let usual = if kind == "haunched" && gap <= Length::SAME_SIZE {
            third
        } else {
            slim.max((work.usual(END_WOOD) - gap).min(third))
        };
        joint.options.length("shoulder").unwrap_or(usual)
    };
    let shoulders = [shoulder(run.low()), shoulder(run.high())];
    let edges = [touch.area.face(run.low()) + shoulders[0], touch.area.face(run.high()) - shoulders[1]];
    if edges[0] >= edges[1] || shoulders.iter().any(|shoulder| shoulder.is_negative()) {
        let message = format!(
            "tenon: a shoulder of {} at each edge leaves nothing of `{}`, which is {} wide where it meets `{}`",
            print.length(shoulders[0]),
            work.model.full_name(joint.member),
            print.length(size),
            work.model.full_name(target)
        );
        let hint = format!("give a `shoulder` from nothing to less than {}", print.length(size.half()));
        return Err(Finding::error("cut-without-depth", message).hint(hint));
    }
    for (edge, end) in edges.into_iter().zip([run.low(), run.high()]) {
        let wood = if end.is_high() { part.face(end) - edge } else { edge - part.face(end) };
        if !wood.is_positive() {
            let message = format!(
                "tenon: the mortise for `{}` would be open at the {} of `{}`",
                work.model.full_name(joint.member),
                end.name(),
                work.model.full_name(target)
            );
            let hint = "leave `shoulder` out for one that keeps wood there, or use `bridle`";
            return Err(Finding::error("mortise-open", message).hint(hint));
        }
    }
    Ok(edges)
}

/// The end of the stile that the haunch fills, and how long the haunch is.
fn haunch(
    work: &Work<'_>,
    joint: &JointUse,
    target: PartId,
    (touch, run): (&Contact, Axis),
    groove: Option<PanelGroove>,
    (thickness, depth): (Length, Length),
) -> Result<(Face, Length), Finding> {
    let part = work.model.part(target).placed;
    let print = work.printing();
    let (name, target) = (work.model.full_name(joint.member), work.model.full_name(target));
    let ends = [run.high(), run.low()];
    let Some(end) = ends.into_iter().find(|&end| part.face(end).same_size(touch.area.face(end))) else {
        let message =
            format!("tenon: `{name}` meets `{target}` away from both its ends, where a haunch has nothing to fill");
        return Err(Finding::error("haunch-misfits", message).hint("write kind: \"blind\""));
    };
    let usual = match groove {
        Some(groove) if groove.depth > work.usual(HAUNCH_CLEARANCE) => groove.depth - work.usual(HAUNCH_CLEARANCE),
        _ => thickness.min(depth.half()),
    };
    let long = tongue::positive(work, joint, "haunch", usual)?;
    if long + work.usual(HAUNCH_CLEARANCE) >= depth {
        let message = format!(
            "tenon: a haunch {} long is no shorter than the tenon of `{name}` in a mortise {} deep",
            print.length(long),
            print.length(depth)
        );
        let hint = format!(
            "give a `haunch` below {}; {} is usual",
            print.length(depth - work.usual(HAUNCH_CLEARANCE)),
            print.length(usual)
        );
        return Err(Finding::error("haunch-misfits", message).hint(hint));
    }
    Ok((end, long))
}

fn grow(work: &mut Work<'_>, id: JointId) -> Result<(), Finding> {
    tongue::grow(work, id, |work, joint, target| {
        let fitted = fitted(work, joint, target)?;
        Ok(Some((fitted.touch.face, fitted.depth - fitted.clearance)))
    })
}

fn cut(work: &mut Work<'_>, id: JointId) -> Result<(), Finding> {
    let joint = work.joint(id);
    let glued = joint.options.yes("glue").unwrap_or(true);
    for &target in &joint.into {
        let fitted = fitted(work, &joint, target)?;
        tongue::cheeks(work, id, &joint, &fitted.tongue, "cheek")?;
        shoulders(work, id, &joint, &fitted)?;
        mortise(work, id, &joint, target, &fitted)?;
        tongue::cheek_settings(work, &joint, &fitted.tongue, "cheeks");
        settings(work, &joint, target, &fitted);
        let mut area = fitted.touch.area;
        area.set_face(fitted.run.low(), fitted.wide[0]);
        area.set_face(fitted.run.high(), fitted.wide[1]);
        let is_through = joint.options.text("kind") == Some("through");
        let depth = (fitted.depth, (!is_through).then_some(fitted.clearance));
        tongue::bear(work, id, "tenon", target, (area, &fitted.tongue), fitted.walls, depth);
        work.model.holds.push(Hold { part: joint.member, to: Some(target) });
        if glued {
            add_glue(work, &joint, square_mm(fitted.wide[1] - fitted.wide[0], fitted.depth * 2));
        }
    }
    let ends = if joint.into.len() == 1 { ("tenon", "mortise") } else { ("tenons", "mortises") };
    tongue::say(work, &joint, |said| {
        let (verb, dry) = if glued { ("glue", "") } else { ("push", ", without glue") };
        format!("{verb} {}'s {} into the {} of {}{dry}.", said.member, ends.0, ends.1, said.targets)
    });
    Ok(())
}

/// What the rail loses at the two edges of its tenon; where there is a haunch, only beyond it.
fn shoulders(work: &mut Work<'_>, id: JointId, joint: &JointUse, fitted: &Fitted) -> Result<(), Finding> {
    let part = work.model.part(joint.member);
    let (face, axis) = (fitted.touch.face, part.thickness);
    let mut beyond = part.solid;
    beyond.set_face(face.opposite(), part.placed.face(face));
    for (end, edge) in [(fitted.run.low(), fitted.wide[0]), (fitted.run.high(), fitted.wide[1])] {
        let mut solid = beyond;
        solid.set_face(end.opposite(), edge);
        if let Some((_, long)) = fitted.haunch.filter(|(at, _)| *at == end) {
            solid = solid.grown(face.opposite(), -long);
        }
        if !solid.is_empty() {
            let shape = Shape::Step { along: axis, stopped: false };
            work.cut(joint.member, Feature { name: "shoulder", shape, solid, face: end, joint: id })?;
        }
    }
    Ok(())
}

fn mortise(work: &mut Work<'_>, id: JointId, joint: &JointUse, target: PartId, fitted: &Fitted) -> Result<(), Finding> {
    let axis = work.model.part(joint.member).thickness;
    let part = work.model.part(target).placed;
    let face = fitted.touch.face.opposite();
    let mut mouth = part;
    mouth.set_face(face.opposite(), part.face(face));
    mouth.set_face(axis.low(), fitted.walls[0]);
    mouth.set_face(axis.high(), fitted.walls[1]);
    let mut solid = mouth.grown(face.opposite(), fitted.depth);
    solid.set_face(fitted.run.low(), fitted.wide[0]);
    solid.set_face(fitted.run.high(), fitted.wide[1]);
    let shape = Shape::Mortise { along: fitted.run };
    work.cut(target, Feature { name: "mortise", shape, solid, face, joint: id })?;
    let Some((end, long)) = fitted.haunch else { return Ok(()) };
    if fitted.groove.is_some_and(|groove| groove.depth >= long) {
        return Ok(());
    }
    let mut solid = mouth.grown(face.opposite(), long + work.usual(HAUNCH_CLEARANCE));
    solid.set_face(end.opposite(), if end.is_high() { fitted.wide[1] } else { fitted.wide[0] });
    let shape = Shape::Channel { along: fitted.run, stopped: true };
    work.cut(target, Feature { name: "haunch", shape, solid, face, joint: id })
}

fn settings(work: &mut Work<'_>, joint: &JointUse, target: PartId, fitted: &Fitted) {
    let print = work.printing();
    let member = work.model.part(joint.member);
    let part = work.model.part(target).placed;
    let axis = member.thickness;
    let mut all = Vec::new();
    let ends =
        [fitted.wide[0] - member.solid.face(fitted.run.low()), member.solid.face(fitted.run.high()) - fitted.wide[1]];
    for (at, &shoulder) in ends.iter().enumerate().filter(|(_, shoulder)| shoulder.is_positive()) {
        if at == 1 && ends[0].same_size(shoulder) {
            continue;
        }
        let end = if at == 0 { fitted.run.low() } else { fitted.run.high() };
        let note = if ends[0].same_size(ends[1]) {
            "for the shoulders at both edges".to_owned()
        } else {
            format!("for the shoulder at its {} edge", end.name())
        };
        let kind = format!("shoulders of a tenon {} wide", print.length(fitted.wide[1] - fitted.wide[0]));
        all.push(Setting { what: "blade height", work: kind, value: shoulder, note, part: joint.member });
    }
    // Where a haunch is left, its shoulder is nearer to the end than the one that the cheeks are cut to.
    if let Some((end, long)) = fitted.haunch {
        let face = fitted.touch.face;
        let reach = (member.solid.face(face) - member.placed.face(face)).abs();
        let kind = format!("shoulders of a tenon {} wide", print.length(fitted.wide[1] - fitted.wide[0]));
        let note = format!("from the end to the haunch, for the shoulder at its {} edge alone", end.name());
        all.push(Setting { what: "stop", work: kind, value: reach - long, note, part: joint.member });
    }
    let width = fitted.walls[1] - fitted.walls[0];
    let fence = (fitted.walls[0] - part.face(axis.low())).min(part.face(axis.high()) - fitted.walls[1]);
    let kind = format!("mortise {} wide, {} long", print.length(width), print.length(fitted.wide[1] - fitted.wide[0]));
    let setting =
        |what, value, note: &str| Setting { what, work: kind.clone(), value, note: note.to_owned(), part: target };
    all.push(setting("fence", fence, "from the nearer face to the near wall of the mortise"));
    if fitted.depth < part.size(fitted.touch.face.axis()) {
        all.push(setting("depth stop", fitted.depth, "measured from the edge"));
    } else {
        all.push(setting("depth stop", fitted.depth, "right through: work from both edges, or onto a waste board"));
    }
    work.model.settings.extend(all);
}

#[cfg(test)]
mod tests {
    use super::super::bench::{Bench, in_};
    use super::*;
    use crate::model::{Model, Options, Value};

    /// A stile 3 in wide and 24 in high with a rail 3 in high, `up` above the stile's lower end.
    fn frame(up: Length, options: Options) -> Result<Model, Finding> {
        let mut bench = Bench::new();
        let stile = bench.add("stile", in_(3, 4), [in_(0, 1); 3], [in_(3, 1), in_(3, 4), in_(24, 1)]);
        let rail = bench.add("rail", in_(3, 4), [in_(3, 1), in_(0, 1), up], [in_(15, 1), in_(3, 4), up + in_(3, 1)]);
        bench.join("tenon", rail, &[stile], options);
        bench.made()
    }

    fn with(name: &'static str, value: Length) -> Options {
        Options::new().with(name, Value::Length(value))
    }

    fn code(made: Result<Model, Finding>) -> &'static str {
        made.map_or_else(|finding| finding.code, |_| "made")
    }

    #[test]
    fn a_blind_tenon_is_a_third_thick_and_two_thirds_deep() {
        // 3/4 / 3 = 1/4 thick. The stile is 3 in wide: 2 in deep, less 1/16. Shoulders of 1/4 leave 3 - 1/2 = 2-1/2 in.
        let model = frame(in_(6, 1), Options::new()).unwrap();
        assert_eq!(model.parts[1].solid.size(Axis::X), in_(12, 1) + in_(31, 16));
        let mortise = &model.parts[0].features[0];
        assert_eq!(mortise.depth(), in_(2, 1));
        assert_eq!([mortise.solid.size(Axis::Y), mortise.solid.size(Axis::Z)], [in_(1, 4), in_(5, 2)]);
    }

    #[test]
    fn at_the_end_of_a_stile_wood_is_left() {
        // Flush with the end, 1/2 in of wood is kept below the mortise; above it the shoulder is 1/4.
        let model = frame(in_(0, 1), Options::new()).unwrap();
        let mortise = &model.parts[0].features[0].solid;
        assert_eq!([mortise.low[2], mortise.high[2]], [in_(1, 2), in_(11, 4)]);
        // With a haunch a third of the rail is left: 1 in; the haunch is as long as the tenon is thick.
        let model = frame(in_(0, 1), Options::new().with("kind", Value::Text("haunched".into()))).unwrap();
        let [mortise, haunch] = &model.parts[0].features[..] else { panic!("{:?}", model.parts[0].features) };
        assert_eq!([mortise.solid.low[2], haunch.solid.high[2]], [in_(1, 1), in_(1, 1)]);
        assert_eq!(haunch.depth(), in_(1, 4) + in_(1, 32));
        // The tenon is 2 in less 1/16 long, so that the haunch begins 1-11/16 in from its end.
        let stop = model.settings.iter().find(|setting| setting.what == "stop" && setting.note.contains("haunch"));
        assert_eq!(stop.unwrap().value, in_(27, 16));
    }

    #[test]
    fn a_tenon_that_comes_through_is_as_long_as_the_stile_is_wide() {
        let model = frame(in_(6, 1), Options::new().with("kind", Value::Text("through".into()))).unwrap();
        assert_eq!(model.parts[1].solid.size(Axis::X), in_(15, 1));
    }

    #[test]
    fn a_thousandth_too_much_is_refused() {
        let um = Length::from_um;
        assert_eq!(code(frame(in_(6, 1), with("depth", in_(3, 1) - um(1)))), "made");
        assert_eq!(code(frame(in_(6, 1), with("depth", in_(3, 1)))), "cut-through");
        assert_eq!(code(frame(in_(0, 1), with("shoulder", um(1)))), "made");
        assert_eq!(code(frame(in_(0, 1), with("shoulder", um(0)))), "mortise-open");
        assert_eq!(code(frame(in_(6, 1), with("thickness", in_(3, 4) - um(2)))), "made");
        assert_eq!(code(frame(in_(6, 1), with("thickness", in_(3, 4)))), "tongue-too-thick");
        let haunched = |up, long| frame(up, with("haunch", long).with("kind", Value::Text("haunched".into())));
        assert_eq!(code(haunched(in_(0, 1), in_(2, 1) - in_(1, 32) - um(1))), "made");
        assert_eq!(code(haunched(in_(0, 1), in_(2, 1) - in_(1, 32))), "haunch-misfits");
        assert_eq!(code(haunched(um(2), in_(1, 4))), "haunch-misfits");
    }
}
