//! Pin holes: rows of holes in an upright part, for the pins that a shelf rests on.

use super::bearing::lies_on_pin;
use super::bring::{add_hardware, add_step, named};
use super::channel::over_band;
use super::pin_rows::{OUT, Rows, WALL, centre_under, rows, usual};
use super::spread::is_free;
use super::{Joint, Work};
use crate::base::{Axis, Face, Length, Solid};
use crate::diag::Finding;
use crate::model::{
    Bore, Feature, HardwareKind, Hold, JointId, JointUse, Kind, OptionSpec, PartId, Setting, Shape, Stage,
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
        "shelf-tips",
        "wrong-count",
    ],
    changes: "None.",
    leaves: "A `pin hole` at each place of both rows in the first part; none where another joint cuts.",
    needs: "Two shelf pins for each shelf that is named; four when both sides are drilled.",
    sets: "Fence: from the edge to the row. Depth stop: the depth. Lowest hole and hole spacing: for the drilling jig.",
    promises: "Each pin of a shelf has its hole, as deep as asked, and the shelf has wood to lie on it. Holes for shelves to come promise \
               nothing; that they keep the wood around them is proved by `hole-meets-cut` and `breaks-out`.",
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

fn drill(work: &mut Work<'_>, id: JointId) -> Result<(), Finding> {
    let joint = work.joint(id);
    let rows = rows(work, &joint)?;
    let mut drilled = [0, 0];
    for level in (0..rows.count).map(|step| rows.lowest + rows.spacing * step) {
        for (row, at) in rows.at.into_iter().enumerate() {
            let solid = hole(work, &joint, &rows, at, level);
            let is_free = is_free(work, &[(joint.member, solid)], WALL);
            if let Some(&shelf) = joint.into.iter().find(|&&shelf| !is_free && rests_on(work, shelf, &rows, level)) {
                return Err(Finding::error(
                    "shelf-misses-pins",
                    format!(
                        "pin_holes: a pin of `{}` would stand in a cut of `{}`, {} above its bottom",
                        work.model.full_name(shelf),
                        work.model.full_name(joint.member),
                        work.printing().length(level - work.model.part(joint.member).solid.low[Axis::Z.index()])
                    ),
                )
                .hint("move the shelf, or give another `edge_distance`"));
            }
            if is_free {
                let shape = Shape::Bore(Bore { diameter: rows.diameter, pocket: false });
                work.cut(joint.member, Feature { name: "pin hole", shape, solid, face: rows.face, joint: id })?;
                drilled[row] += 1;
            }
        }
    }
    if let Some(row) = drilled.iter().position(|&holes| holes == 0) {
        return Err(row_without_holes(work, &joint, &rows, row));
    }
    for &shelf in &joint.into {
        bear(work, id, &rows, shelf);
    }
    bring(work, &joint, &rows, drilled.iter().sum());
    Ok(())
}

/// A row of which every hole would stand in a cut.
fn row_without_holes(work: &Work<'_>, joint: &JointUse, rows: &Rows, row: usize) -> Finding {
    let edge = [rows.across.low(), rows.across.high()][row];
    let name = work.model.full_name(joint.member);
    let from = (rows.at[row] - work.model.part(joint.member).placed.face(edge)).abs();
    Finding::error(
        "pins-misplaced",
        format!(
            "pin_holes: every hole of the row {} from the {} edge of `{name}` would stand in a cut",
            work.printing().length(from),
            edge.name()
        ),
    )
    .hint("give an `edge_distance` that keeps the row clear of it: one length for both rows, or that of each in a list")
}

/// States that a shelf has wood to lie with on each of its pins, and that each has its hole.
fn bear(work: &mut Work<'_>, id: JointId, rows: &Rows, shelf: PartId) {
    let joint = work.joint(id);
    let (side, lies) = (work.model.part(joint.member).placed, work.model.part(shelf).placed);
    let axis = rows.face.axis();
    let middle = |solid: &Solid| solid.face(axis.low()) + solid.face(axis.high());
    // A hole that goes through may carry its pin on the side from which it is not drilled.
    let out = if middle(&lies) < middle(&side) { axis.low() } else { axis.high() };
    for at in rows.at {
        let mut area = side;
        area.set_face(out.opposite(), side.face(out));
        area.set_face(out, side.face(out));
        area = area.grown(out, OUT);
        area.set_face(out.opposite(), lies.face(out.opposite()));
        area.low[rows.across.index()] = at - rows.diameter.half();
        area.high[rows.across.index()] = at + (rows.diameter - rows.diameter.half());
        for face in [Face::Bottom, Face::Top] {
            area.set_face(face, lies.face(Face::Bottom));
        }
        lies_on_pin(work, id, ("underside", shelf, joint.member), (Face::Bottom, area), [rows.depth, OUT]);
    }
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
    // What lies on the bench is the part with the tongues that it has grown.
    let part = work.model.part(joint.member);
    let name = format!("pin holes {} wide", print.length(rows.diameter));
    let edges = [rows.across.low(), rows.across.high()];
    let from_edges = [0, 1].map(|i| (rows.at[i] - part.solid.face(edges[i])).abs());
    let lowest = rows.lowest - part.solid.low[Axis::Z.index()];
    let setting = |what, value, note: String| Setting { what, work: name.clone(), value, note, part: joint.member };
    // A part that is drilled from both faces says at each setting which of them it is for.
    let both = work.model.joints.iter().any(|other| {
        other.joint == joint.joint
            && other.member == joint.member
            && other.options.face("face") != joint.options.face("face")
    });
    let face = if both { format!(", in the {} face", rows.face.name()) } else { String::new() };
    let on_face = if both { format!("the {} face of ", rows.face.name()) } else { String::new() };
    let row =
        |edge: Face| format!("from the {} edge{} to the middle of the row{face}", edge.name(), over_band(part, edge));
    let mut settings = vec![setting("fence", from_edges[0], row(edges[0]))];
    if from_edges[0].same_size(from_edges[1]) {
        settings[0].note =
            format!("from the {} and {} edges to the middles of the rows{face}", edges[0].name(), edges[1].name());
    } else {
        settings.push(setting("fence", from_edges[1], row(edges[1])));
    }
    settings.push(setting(
        "depth stop",
        rows.depth,
        "measured from the tip's shoulder, try it on an offcut first".into(),
    ));
    settings.push(setting(
        "lowest hole",
        lowest,
        format!("from the bottom of the part{face}; keep one end down on all parts"),
    ));
    settings.push(setting("hole spacing", rows.spacing, "from middle to middle: use a drilling jig".into()));
    work.model.settings.extend(settings);

    let said = named(work, joint);
    let several = joint.into.len() > 1 && !said.targets.starts_with("each ");
    let each = if several { " rest on 2 pins each" } else { " rests on 2 pins" };
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
        "drill {on_face}{}: {holes} {}, {} deep and {} apart, {from}, the lowest {} from the bottom{rest}.",
        said.member,
        print.length(rows.diameter),
        print.length(rows.depth),
        print.length(rows.spacing),
        print.length(lowest),
    );
    add_step(work, joint, Stage::Parts, &said, &text);
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
    fn settings_are_for_the_part_with_its_tongues() {
        // A partition on a bottom: its dado is a quarter inch deep, and so much more is below what is seen of it. A first hole 6 in above
        // the bottom is 6-1/4 in from its end.
        let mut model = job();
        let ply = sheet(12);
        let floor = add(&mut model, Model::ROOT, "bottom", &ply, [0, 0, 0], [400, 256, 12]);
        let post = add(&mut model, Model::ROOT, "partition", &ply, [200, 0, 12], [212, 256, 640]);
        let options = |face| Options::new().with("face", Value::Faces(vec![face])).with("first", Value::Length(s(96)));
        join(&mut model, "dado", post, &[floor], Options::new().with("depth", Value::Length(s(4))));
        join(&mut model, "pin_holes", post, &[], options(Face::Left));
        model.settle();
        assert_eq!(joints::make(&mut model, &Shop::default()), vec![]);
        let lowest = model.settings.iter().find(|setting| setting.what == "lowest hole").unwrap();
        assert_eq!(
            (lowest.value, lowest.note.as_str()),
            (s(100), "from the bottom of the part; keep one end down on all parts")
        );
        assert!(
            model.steps.iter().any(|step| step.text.contains("the lowest 6-1/4\" from the bottom")),
            "{:?}",
            model.steps
        );
    }

    #[test]
    fn a_part_that_is_drilled_from_both_faces_says_which() {
        let mut model = job();
        let post = add(&mut model, Model::ROOT, "partition", &sheet(12), [200, 0, 12], [212, 256, 640]);
        for (face, edge) in [(Face::Left, 24), (Face::Right, 32)] {
            let options = Options::new().with("face", Value::Faces(vec![face]));
            join(&mut model, "pin_holes", post, &[], options.with("edge_distance", Value::Length(s(edge))));
        }
        model.settle();
        assert_eq!(joints::make(&mut model, &Shop::default()), vec![]);
        let notes: Vec<&str> = model
            .settings
            .iter()
            .filter(|setting| setting.what == "fence")
            .map(|setting| setting.note.as_str())
            .collect();
        let row = |face| format!("from the front and back edges to the middles of the rows, in the {face} face");
        assert_eq!(notes, [row("left"), row("right")]);
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
