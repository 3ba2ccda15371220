//! Dovetail: tails on the end of a side in sockets between the pins of a front, through or half-blind.

use super::bearing::{lies_on, slopes_on};
use super::bring::{add_glue, add_step, named};
use super::contact::square_mm;
use super::corner::{self, Corner};
use super::{ByUnit, Joint, Work, channel, tongue};
use crate::base::{Length, Ratio};
use crate::diag::Finding;
use crate::model::{Feature, Hold, JointId, JointUse, Kind, OptionSpec, PartId, Setting, Shape, Stage};

const KINDS: &[&str] = &["through", "half-blind"];

/// The dovetail.
pub(super) const DOVETAIL: Joint = Joint {
    name: "dovetail",
    summary: "tails on the end of a side between the pins of a front, through or half-blind",
    target: "into",
    options: &[
        OptionSpec::must("into", Kind::Parts, "the pin boards: the front and the back of a drawer"),
        OptionSpec::may("kind", Kind::Choice(KINDS), "\"through\"", "whether the ends of the tails are seen from the front")
            .because("common practice, no source: through tails are the simplest to cut"),
        OptionSpec::may("slope", Kind::Number, "8", "how far along for one across: 8 is one in eight")
            .because("common practice, no source: 1 in 8 for hardwood and plywood, 1 in 6 for softwood; a bit of 7 degrees is near 1 in 8, one of 14 near 1 in 4"),
        OptionSpec::may("pin", Kind::Length, "1/4 in (6 mm in a metric job), at most an eighth of the height", "how wide a pin is at its narrow side")
            .because("common practice, no source: narrow enough to look light, wide enough for a chisel"),
        OptionSpec::may("bit", Kind::Length, "none: cut by hand", "how wide the tip of a dovetail bit is; the pins follow from it")
            .because("common practice, no source: a bit cuts the room for a pin in one pass"),
        OptionSpec::may("tails", Kind::Count, "what makes a tail about four pins wide", "how many tails")
            .because("common practice, no source: wide tails and narrow pins are strong enough and look made by hand"),
        OptionSpec::may("lap", Kind::Length, "a quarter of the pin board", "what a half-blind front keeps before the tails")
            .because("common practice, no source: thick enough not to break through, and the tails stay long"),
        OptionSpec::may("glue", Kind::YesNo, "yes", "whether it is glued")
            .because("common practice, no source: the tails hold one way, glue the other"),
    ],
    about: "The first part carries the tails: a drawer's side. Place its end up to the back of the front, and end the front flush \
            with its outer face. It grows by the thickness of the front, half-blind by that less the lap. Both edges are pins; \
            pins and tails add up to the height of the side exactly. Each cut is drawn as the cuboid that holds it, with the \
            slope of its sides told beside it. Choose it where a drawer is pulled hard and is looked at.",
    source: "common practice, no source",
    refuses: &["banded-edge-in-cut", "broad-face-in-cut", "corner-not-flush", "corner-too-weak", "cut-without-depth", "joint-needs-contact", "option-without-effect", "wrong-count"],
    changes: "The side grows at each end by the length of its tails. The front keeps its size.",
    leaves: "A `pin socket` in the side for each pin, those at the edges open; a `tail socket` in the front for each tail.",
    needs: "Glue on the sides of the tails, unless `glue` is false.",
    sets: "Marking gauge: the length of the tails on the side, and the thickness of the side on the front. Tail and pin: their \
           widths at the end of the side. With a bit, its height: the length of the tails.",
    promises: "The pins stand against the roots of their sockets, both sides of each tail lie on the slopes of the pins beside it, and \
               half-blind tails touch the floor with their ends.",
    assembly: "Glue the side's tails into the sockets of the front: 3 tails 1\" wide between pins of 1/4\", 1 in 8.",
    example: r#"let maple = stock("3/4 hard maple board");
let ply = stock("1/2 birch plywood");
let front = part("front", #{ stock: maple, left: 0.inch, width: 16.inch, front: 0.inch, bottom: 0.inch, height: 4.inch, grain: "across" });
let left = part("side", #{ stock: ply, left: 0.inch, front: front.back, depth: 17.inch, bottom: 0.inch, height: 4.inch });
let right = part("side", #{ stock: ply, right: 16.inch, front: front.back, depth: 17.inch, bottom: 0.inch, height: 4.inch });
dovetail([left, right], #{ into: front, kind: "half-blind" });
"#,
    grow,
    cut,
    drill: |_, _| Ok(()),
};

// Common practice, no source.
const PIN: ByUnit = ByUnit::new((1, 4), 6_000);
/// A tail is so many pins wide.
const TAIL_IN_PINS: i64 = 4;
/// More tails than this are a slip.
const MOST: i64 = 100;

/// Pins and tails of a corner.
struct Layout {
    corner: Corner,
    /// How long the tails are.
    length: Length,
    slope: Ratio,
    /// How much a side of a tail comes in over its length.
    rise: Length,
    pin: Length,
    tails: Vec<Length>,
}

fn layout(work: &Work<'_>, joint: &JointUse, target: PartId) -> Result<Layout, Finding> {
    let corner = corner::corner(work, joint, target)?;
    let there = work.model.part(target).placed.size(corner.face.axis());
    let half_blind = joint.options.text("kind") == Some("half-blind");
    for (key, with, idle) in [
        ("lap", "kind: \"half-blind\"", !half_blind),
        ("pin", "either `pin` or `bit`", joint.options.length("bit").is_some()),
    ] {
        if idle && joint.options.get(key).is_some() {
            return Err(Finding::error("option-without-effect", format!("dovetail: `{key}` has no effect here"))
                .hint(format!("write {with}")));
        }
    }
    let lap = if half_blind {
        tongue::positive(work, joint, "lap", tongue::share(work, there, (1, 4)))?
    } else {
        Length::ZERO
    };
    if half_blind {
        corner::refuse_thin(work, joint, "a lap", lap, "give a larger `lap`, or a thicker front")?;
    }
    let length = there - lap;
    corner::refuse_thin(work, joint, "tails that are too short, only", length, "give a smaller `lap`")?;
    let slope = joint.options.number("slope").unwrap_or(Ratio::from_integer(8));
    if slope < Ratio::from_integer(2) || slope > Ratio::from_integer(20) {
        return Err(Finding::error("wrong-count", format!("dovetail: a slope of 1 in {slope} is no dovetail"))
            .hint("give a `slope` from 2 to 20; 8 is usual, 6 for softwood"));
    }
    let rise = length.over(slope).unwrap_or(Length::ZERO);
    let height = corner.on.size();
    let by_bit = joint.options.length("bit").map(|bit| bit - rise * 2);
    let usual = work.usual(PIN).min(tongue::share(work, height, (1, 8)));
    let pin = match by_bit {
        Some(pin) => pin,
        None => tongue::positive(work, joint, "pin", usual)?,
    };
    corner::refuse_thin(work, joint, "pins", pin, "give a wider `pin` or `bit`, or a smaller slope")?;
    let usual = ((height - pin).nm() + pin.nm() * (TAIL_IN_PINS + 1) / 2) / (pin.nm() * (TAIL_IN_PINS + 1));
    let count = joint.options.count("tails").unwrap_or(usual.max(1));
    if !(1..=MOST).contains(&count) {
        return Err(Finding::error("wrong-count", format!("dovetail: a corner cannot have {count} tails"))
            .hint(format!("give 1 to {MOST} `tails`, or leave them out for {}", usual.clamp(1, MOST))));
    }
    let tails = (height - pin * (count + 1)).split(usize::try_from(count).unwrap_or(1));
    let narrowest = tails.iter().copied().min().unwrap_or(height) - rise * 2;
    corner::refuse_thin(
        work,
        joint,
        "tails at their root",
        narrowest,
        "use fewer `tails`, narrower pins or a smaller slope",
    )?;
    Ok(Layout { corner, length, slope: slope.recip(), rise, pin, tails })
}

fn grow(work: &mut Work<'_>, id: JointId) -> Result<(), Finding> {
    let joint = work.joint(id);
    for &target in &joint.into {
        let layout = layout(work, &joint, target)?;
        channel::refuse_band(work, &joint, layout.corner.face)?;
        work.grow(id, joint.member, layout.corner.face, layout.length);
    }
    Ok(())
}

fn cut(work: &mut Work<'_>, id: JointId) -> Result<(), Finding> {
    let joint = work.joint(id);
    let glued = joint.options.yes("glue").unwrap_or(true);
    let mut said_tails = String::new();
    for &target in &joint.into {
        let Layout { corner, length, slope, rise, pin, tails } = layout(work, &joint, target)?;
        let along = work.model.part(joint.member).thickness;
        let thick = work.model.part(joint.member).placed.size(along);
        // A pin is widest at the root of the tails, a tail at its end.
        let pins = Shape::Dovetail { along, slope, wide: corner.face.opposite() };
        let sockets = Shape::Dovetail { along, slope, wide: corner.face };
        let mut low = corner.on.low;
        for tail in tails.iter().copied().map(Some).chain([None]) {
            let high = low + pin;
            let solid = corner::in_member(work, &joint, corner, length, (low - rise, high + rise));
            work.cut(joint.member, Feature { name: "pin socket", shape: pins, solid, face: corner.face, joint: id })?;
            // Between the tails the pins stand against the roots of their sockets.
            let mut root = corner::in_member(work, &joint, corner, length, (low, high));
            root.set_face(corner.face, root.face(corner.face.opposite()));
            lies_on(work, id, ("root", joint.member, target), (corner.face, root), Length::ZERO);
            let Some(tail) = tail else { break };
            let solid = corner::in_member(work, &joint, corner, length, (high, high + tail));
            let face = corner.face.opposite();
            work.cut(target, Feature { name: "tail socket", shape: sockets, solid, face, joint: id })?;
            bear(work, id, target, (corner, length), (high, tail, rise));
            low = high + tail;
        }
        let print = work.printing();
        let name = format!("dovetails {} long, 1 in {}", print.length(length), slope.recip());
        let setting =
            |what, value, note: &str, part| Setting { what, work: name.clone(), value, note: note.to_owned(), part };
        let mut settings = vec![
            setting("marking gauge", length, "from the end of the side to the root of the tails", joint.member),
            setting("marking gauge", thick, "from the end of the front to the floor of its sockets", target),
            setting("tail", tails[0], "its width at the end of the side", joint.member),
            setting(
                "pin",
                pin,
                "its width at the end of the side; those at the edges slope on one side only",
                joint.member,
            ),
        ];
        if joint.options.length("bit").is_some() {
            settings.push(setting("bit height", length, "try it on an offcut first", joint.member));
        }
        work.model.settings.extend(settings);
        work.model.holds.push(Hold { part: joint.member, to: Some(target) });
        if glued {
            let sides = i64::try_from(tails.len() * 2).unwrap_or(0);
            add_glue(work, &joint, square_mm(length * sides + corner.on.size(), thick));
        }
        let several = if tails.len() == 1 { "tail" } else { "tails" };
        said_tails = format!(
            "{} {several} {} wide between pins of {}, 1 in {}",
            tails.len(),
            print.length(tails[0]),
            print.length(pin),
            slope.recip()
        );
    }
    let said = named(work, &joint);
    let verb = if glued { "glue" } else { "push" };
    let text = format!("{verb} {}'s tails into the sockets of {}: {said_tails}.", said.member, said.targets);
    add_step(work, &joint, Stage::Build, &said, &text);
    Ok(())
}

/// States that a tail lies with both its sides on the pins beside it and, where its socket has a floor, with its end on that.
fn bear(
    work: &mut Work<'_>,
    id: JointId,
    target: PartId,
    (corner, length): (Corner, Length),
    (low, tail, rise): (Length, Length, Length),
) {
    let joint = work.joint(id);
    let high = low + tail;
    for (side, span) in [(corner.run.low(), (low, low + rise)), (corner.run.high(), (high - rise, high))] {
        let area = corner::in_member(work, &joint, corner, length, span);
        slopes_on(work, id, ("side of a tail", joint.member, target), [side, corner.face.opposite()], area);
    }
    let is_through = length.same_size(work.model.part(target).placed.size(corner.face.axis()));
    if !is_through {
        let mut end = corner::in_member(work, &joint, corner, length, (low + rise, high - rise));
        end.set_face(corner.face.opposite(), end.face(corner.face));
        lies_on(work, id, ("end of a tail", joint.member, target), (corner.face, end), Length::ZERO);
    }
}

#[cfg(test)]
mod tests {
    use super::super::bench::{Bench, in_};
    use super::*;
    use crate::model::{Model, Options, Value};

    /// A side 1/2 in thick and 4 in high behind a front 3/4 in thick.
    fn drawer(options: Options) -> Result<Model, Finding> {
        let mut bench = Bench::new();
        let zero = in_(0, 1);
        let front = bench.add("front", in_(3, 4), [zero; 3], [in_(16, 1), in_(3, 4), in_(4, 1)]);
        let side = bench.add("side", in_(1, 2), [zero, in_(3, 4), zero], [in_(1, 2), in_(18, 1), in_(4, 1)]);
        bench.join("dovetail", side, &[front], options);
        bench.made()
    }

    fn code(name: &'static str, value: Value) -> &'static str {
        drawer(Options::new().with(name, value)).map_or_else(|finding| finding.code, |_| "none")
    }

    #[test]
    fn pins_and_tails_add_up_to_the_side() {
        // Pins of 1/4 in: (4 - 1/4) / (5 x 1/4) = 3 tails; 4 - 4 x 1/4 = 3 in for them, 1 in each.
        let model = drawer(Options::new()).unwrap();
        let (front, side) = (&model.parts[0], &model.parts[1]);
        assert_eq!(side.solid.low[1], in_(0, 1));
        let tails: Vec<_> = front.features.iter().map(|one| (one.solid.low[2], one.solid.high[2])).collect();
        assert_eq!(tails, [(in_(1, 4), in_(5, 4)), (in_(3, 2), in_(5, 2)), (in_(11, 4), in_(15, 4))]);
        // One in eight of 3/4 in is 3/32 at each side of a pin.
        let pin = &side.features[1].solid;
        assert_eq!((pin.low[2], pin.high[2]), (in_(5, 4) - in_(3, 32), in_(3, 2) + in_(3, 32)));
        assert_eq!(side.features.len(), 4);
    }

    #[test]
    fn half_blind_keeps_its_lap() {
        // A quarter of 3/4 in is 3/16: tails of 9/16.
        let model = drawer(Options::new().with("kind", Value::Text("half-blind".into()))).unwrap();
        assert_eq!(model.parts[1].solid.low[1], in_(3, 16));
        assert_eq!(model.parts[0].features[0].solid.low[1], in_(3, 16));
    }

    #[test]
    fn a_thousandth_less_than_a_pin_needs_is_refused() {
        let um = Length::from_um(1);
        assert_eq!(code("pin", Value::Length(in_(1, 8))), "none");
        assert_eq!(code("pin", Value::Length(in_(1, 8) - um)), "corner-too-weak");
        // A bit of 5/16 in is 2 x 3/32 narrower at the end: 1/8 in.
        assert_eq!(code("bit", Value::Length(in_(5, 16))), "none");
        assert_eq!(code("bit", Value::Length(in_(5, 16) - um)), "corner-too-weak");
        assert_eq!(
            [code("tails", Value::Count(0)), code("tails", Value::Count(9))],
            ["wrong-count", "corner-too-weak"]
        );
        assert_eq!(code("lap", Value::Length(in_(1, 4))), "option-without-effect");
    }
}
