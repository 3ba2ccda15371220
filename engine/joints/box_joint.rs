//! Box joint: fingers of both parts in turn, at the corner of a box.

use super::bearing::lies_on;
use super::bring::{add_glue, add_step, named};
use super::contact::square_mm;
use super::corner::{self, Corner};
use super::{Joint, Work, channel, tongue};
use crate::base::Length;
use crate::diag::Finding;
use crate::model::{Feature, Hold, JointId, JointUse, Kind, OptionSpec, PartId, Setting, Shape, Stage};

const STARTS: &[&str] = &["first", "other"];

/// The box joint.
pub(super) const BOX_JOINT: Joint = Joint {
    name: "box_joint",
    summary: "square fingers of both parts in turn, at the corner of a box or drawer",
    target: "into",
    options: &[
        OptionSpec::must("into", Kind::Parts, "the parts that the first one makes corners with"),
        OptionSpec::may("finger", Kind::Length, "what divides the corner into an odd number, about as wide as the thinner part", "how wide a finger is: the width of a dado set or bit")
            .because("common practice, no source: fingers as wide as the stock look even, and an odd number puts the same part at both edges"),
        OptionSpec::may("count", Kind::Count, "as many as `finger` gives", "how many fingers both parts have together")
            .because("common practice, no source: the number follows from the width of the cutter"),
        OptionSpec::may("starts", Kind::Choice(STARTS), "\"first\"", "the part that has the finger at the bottom (or left, or front)")
            .because("common practice, no source: the front's finger then hides the end of a groove above it"),
        OptionSpec::may("fit", Kind::Fit, "\"snug\"", "how much wider a socket is than its finger")
            .because("common practice, no source: the jig is set by trial to fingers that push in by hand"),
        OptionSpec::may("glue", Kind::YesNo, "yes", "whether it is glued")
            .because("common practice, no source: the many long-grain faces make it stronger than the wood"),
    ],
    about: "Place the first part between the others, flush with their ends. It grows through each, and the corner is divided \
            into fingers that belong to the two parts in turn; their widths add up to the height of the first part exactly. \
            A groove near an edge shows in the corner unless it is stopped. Choose it for boxes that may show how they are made.",
    source: "common practice, no source",
    refuses: &[
        "banded-edge-in-cut",
        "broad-face-in-cut",
        "corner-not-flush",
        "corner-too-weak",
        "cut-without-depth",
        "fingers-left-over",
        "fit-too-loose",
        "joint-needs-contact",
        "wrong-count",
    ],
    changes: "The first part grows at each end by the thickness of the part it meets. The others keep their size.",
    leaves: "A `finger socket` in each part for each finger of the other.",
    needs: "Glue on the sides of the fingers, unless `glue` is false.",
    sets: "Dado set: the width of a finger, with the passes that the kerf takes for it. Blade height: the thickness of the other \
           part.",
    promises: "The sides of the fingers stand beside those of the other part, with the play of both sockets between them.",
    assembly: "Glue the front's fingers into those of each side: 9 fingers 7/16\"+ wide.",
    example: r#"let ply = stock("1/2 birch plywood");
let left = part("side", #{ stock: ply, left: 0.inch, front: 0.inch, depth: 18.inch, bottom: 0.inch, height: 4.inch });
let right = part("side", #{ stock: ply, right: 16.inch, front: 0.inch, depth: 18.inch, bottom: 0.inch, height: 4.inch });
let front = part("front", #{ stock: ply, left: left.right, right: right.left, front: 0.inch, bottom: 0.inch, height: 4.inch });
box_joint(front, #{ into: [left, right] });
"#,
    grow,
    cut,
    drill: |_, _| Ok(()),
};

/// More fingers than this are a slip.
const MOST: i64 = 100;

/// The corner and its fingers from the low end up.
fn fingers(work: &Work<'_>, joint: &JointUse, target: PartId) -> Result<(Corner, Vec<Length>), Finding> {
    let corner = corner::corner(work, joint, target)?;
    let print = work.printing();
    let (member, other) = (work.model.part(joint.member), work.model.part(target));
    let height = corner.on.size();
    let thin = member.placed.size(member.thickness).min(other.placed.size(other.thickness));
    // The odd number whose fingers are nearest to the thickness.
    let odd = 2 * ((height.nm() / thin.nm().max(1)) / 2) + 1;
    let usual = height.split(usize::try_from(odd.max(3)).unwrap_or(3))[0];
    let finger = tongue::positive(work, joint, "finger", usual)?;
    let whole = (height.nm() + Length::SAME_SIZE.nm()) / finger.nm().max(1);
    let count = joint.options.count("count").unwrap_or(if joint.options.length("finger").is_some() {
        whole
    } else {
        odd.max(3)
    });
    if !(2..=MOST).contains(&count) {
        return Err(Finding::error("wrong-count", format!("box_joint: a corner cannot have {count} fingers"))
            .hint(format!("give a `finger` or a `count` that makes 2 to {MOST} of them")));
    }
    let rest = height - finger * count;
    if joint.options.length("finger").is_some() && rest.abs() > Length::SAME_SIZE {
        return Err(Finding::error(
            "fingers-left-over",
            format!(
                "box_joint: {count} fingers of {} make {}, and the corner of `{}` is {} high",
                print.length(finger),
                print.length(finger * count),
                work.model.full_name(joint.member),
                print.length(height)
            ),
        )
        .hint(format!(
            "make the parts {} or {} high, or leave `finger` out for whole fingers of {}",
            print.length(finger * whole),
            print.length(finger * (whole + 1)),
            print.length(usual)
        )));
    }
    let widths = height.split(usize::try_from(count).unwrap_or(2));
    let narrowest = widths.iter().copied().min().unwrap_or(height);
    corner::refuse_thin(work, joint, "fingers", narrowest, "use fewer and wider fingers")?;
    Ok((corner, widths))
}

fn grow(work: &mut Work<'_>, id: JointId) -> Result<(), Finding> {
    let joint = work.joint(id);
    for &target in &joint.into {
        let (corner, _) = fingers(work, &joint, target)?;
        channel::refuse_band(work, &joint, corner.face)?;
        let through = work.model.part(target).placed.size(corner.face.axis());
        work.grow(id, joint.member, corner.face, through);
    }
    Ok(())
}

fn cut(work: &mut Work<'_>, id: JointId) -> Result<(), Finding> {
    let joint = work.joint(id);
    let glued = joint.options.yes("glue").unwrap_or(true);
    let own = usize::from(joint.options.text("starts") == Some("other"));
    // Half of the play is taken from each part, a quarter on each side of a socket.
    let play = Length::from_nm(work.fit(&joint, channel::FIT).nm() / 4);
    let mut said_fingers = String::new();
    for &target in &joint.into {
        let (corner, widths) = fingers(work, &joint, target)?;
        let (member, other) = (work.model.part(joint.member).clone(), work.model.part(target).placed);
        let through = other.size(corner.face.axis());
        let thick = member.placed.size(member.thickness);
        let mut low = corner.on.low;
        for (i, &width) in widths.iter().enumerate() {
            let high = low + width;
            let is_edge = i == 0 || i + 1 == widths.len();
            let span = ((low - play).max(corner.on.low), (high + play).min(corner.on.high));
            let mut solid = corner::in_member(work, &joint, corner, through, span);
            let is_own = i % 2 == own;
            let (part, face, along) = if is_own {
                solid.set_face(corner.face, other.face(corner.face));
                (target, corner.end, corner.face.axis())
            } else {
                (joint.member, corner.face, member.thickness)
            };
            let shape =
                if is_edge { Shape::Step { along, stopped: false } } else { Shape::Channel { along, stopped: false } };
            work.cut(part, Feature { name: "finger socket", shape, solid, face, joint: id })?;
            if i + 1 < widths.len() {
                // The fingers of both parts lie side by side, with the play of both sockets between them.
                let looks = if is_own { corner.run.high() } else { corner.run.low() };
                let side = if is_own { high - play } else { high + play };
                let mut area = corner::in_member(work, &joint, corner, through, (side, side));
                area.set_face(corner.face, other.face(corner.face));
                lies_on(work, id, ("finger", joint.member, target), (looks, area), play * 2);
            }
            low = high;
        }
        settings(work, &joint, target, (widths[0], thick, through));
        work.model.holds.push(Hold { part: joint.member, to: Some(target) });
        if glued {
            let sides = i64::try_from(widths.len().saturating_sub(1)).unwrap_or(0);
            add_glue(work, &joint, square_mm(through * sides + corner.on.size(), thick));
        }
        said_fingers = format!("{} fingers {} wide", widths.len(), work.printing().length(widths[0]));
    }
    let said = named(work, &joint);
    let verb = if glued { "glue" } else { "push" };
    let text = format!("{verb} {}'s fingers into those of {}: {said_fingers}.", said.member, said.targets);
    add_step(work, &joint, Stage::Build, &said, &text);
    Ok(())
}

fn settings(work: &mut Work<'_>, joint: &JointUse, target: PartId, (width, thick, through): (Length, Length, Length)) {
    let print = work.printing();
    let name = format!("fingers {} wide", print.length(width));
    let passes = channel::passes_note(width, work.shop.kerf, print);
    let set = format!("and as far from each socket to the next; {passes}; fit them on offcuts first");
    let setting =
        |what, value, note: &str, part| Setting { what, work: name.clone(), value, note: note.to_owned(), part };
    let deep = "the thickness of the part that goes in";
    work.model.settings.extend([
        setting("dado set", width, &set, joint.member),
        setting("dado set", width, &set, target),
        setting("blade height", through, deep, joint.member),
        setting("blade height", thick, deep, target),
    ]);
}

#[cfg(test)]
mod tests {
    use super::super::bench::{Bench, in_};
    use super::*;
    use crate::model::{Model, Options, Value};

    /// A front 1/2 in thick and 3-1/2 in high, with its low face so far behind the end of the side.
    fn drawer(back: Length, options: Options) -> Result<Model, Finding> {
        let mut bench = Bench::new();
        let zero = in_(0, 1);
        let left = bench.add("side", in_(1, 2), [zero; 3], [in_(1, 2), in_(18, 1), in_(7, 2)]);
        let front = bench.add("front", in_(1, 2), [in_(1, 2), back, zero], [in_(15, 1), back + in_(1, 2), in_(7, 2)]);
        bench.join("box_joint", front, &[left], options);
        bench.made()
    }

    fn code(back: Length, options: Options) -> &'static str {
        drawer(back, options).map_or_else(|finding| finding.code, |_| "none")
    }

    #[test]
    fn fingers_belong_to_both_parts_in_turn() {
        // 3-1/2 in by fingers of 1/2: seven; the front has four, the side three.
        let model = drawer(in_(0, 1), Options::new()).unwrap();
        let (side, front) = (&model.parts[0], &model.parts[1]);
        assert_eq!((side.features.len(), front.features.len()), (4, 3));
        assert_eq!(front.solid.low[0], in_(0, 1));
        assert_eq!((front.features[0].solid.low[2], front.features[0].solid.high[2]), (in_(1, 2), in_(1, 1)));
        // Nothing of the corner, 1/2 x 1/2 x 3-1/2 in, is lost.
        let left: i128 = model.parts.iter().flat_map(crate::model::Part::material).map(|solid| solid.volume()).sum();
        let whole = |x: Length, y: Length| i128::from(x.nm()) * i128::from(y.nm()) * i128::from(in_(7, 2).nm());
        assert_eq!(left, whole(in_(1, 2), in_(18, 1)) + whole(in_(29, 2), in_(1, 2)));
    }

    #[test]
    fn a_thousandth_out_of_what_fits_is_refused() {
        let um = Length::from_um;
        assert_eq!(code(um(1), Options::new()), "none");
        assert_eq!(code(um(2), Options::new()), "corner-not-flush");
        let finger = |width| Options::new().with("finger", Value::Length(width));
        assert_eq!(code(um(0), finger(in_(1, 2))), "none");
        // Seven fingers of a thousandth less are 7 thousandths short.
        assert_eq!(code(um(0), finger(in_(1, 2) - um(1))), "fingers-left-over");
        let count = |count| Options::new().with("count", Value::Count(count));
        assert_eq!(
            [code(um(0), count(28)), code(um(0), count(29)), code(um(0), count(1))],
            ["none", "corner-too-weak", "wrong-count"]
        );
    }
}
