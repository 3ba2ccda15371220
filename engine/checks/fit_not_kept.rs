//! A joint has more or less room than was asked for.

use super::{Check, MOST, Subject};
use crate::base::Length;
use crate::diag::Finding;
use crate::model::{Bearing, Model};
use crate::proof::order::to;

/// The check.
pub(super) const CHECK: Check = Check {
    code: "fit-not-kept",
    summary: "a tongue or an edge has more or less room in its joint than was asked for",
    why: "A groove is as wide as what goes in was measured and the fit, and a floating panel keeps its clearance before the floor. \
          Both are measured again on the finished parts, from face to face. They differ from what was asked where two joints \
          want different things of one edge: it can grow only once, so that the one that wants more has its way.",
    source: "integer geometry; a thousandth of a millimetre is allowed",
    run,
};

fn run(subject: Subject<'_>, findings: &mut Vec<Finding>) {
    let model = subject.model;
    let mut worst: Option<(&Bearing, Length)> = None;
    for (at, (bearing, kept)) in model.bearings.iter().zip(subject.proof.kept()).enumerate() {
        let off = |known: &Bearing, room: Length| (room - known.room).abs();
        if let Some(room) = kept.room
            && worst.is_none_or(|(known, there)| off(known, there) < off(bearing, room))
        {
            worst = Some((bearing, room));
        }
        // The faces of a joint and a pair of parts stand together; the one that is furthest off is told.
        let pair = |one: &Bearing| (one.joint, one.part, one.against);
        let is_last = model.bearings.get(at + 1).is_none_or(|next| pair(next) != pair(bearing));
        if is_last && let Some((bearing, room)) = worst.take() {
            findings.push(told(model, bearing, room));
        }
        if findings.len() >= MOST {
            return;
        }
    }
}

fn told(model: &Model, bearing: &Bearing, room: Length) -> Finding {
    let print = model.printing;
    let joint = model.joint(bearing.joint);
    let is = if room.is_negative() {
        format!("would go {} too far", print.length(-room))
    } else {
        format!("has {} of room", print.length(room))
    };
    let message = format!(
        "{}: the {} of `{}` {is} {} before `{}`; {} was asked for",
        joint.joint,
        bearing.what,
        model.full_name(bearing.part),
        to(bearing.face),
        model.full_name(bearing.against),
        print.length(bearing.room),
    );
    Finding::error(CHECK.code, message)
        .at(joint.at.clone())
        .hint("give the joints that share this edge the same `depth`, `clearance` and `fit`, or make it two parts")
        .source(CHECK.source)
}

#[cfg(test)]
mod tests {
    use super::super::bench::{add, job, join, sheet};
    use super::*;
    use crate::base::Face;
    use crate::joints;
    use crate::model::{Options, Shop, Value};
    use crate::proof::Proved;

    fn looked(model: &Model) -> Vec<Finding> {
        let mut findings = Vec::new();
        run(Subject { model, shop: &Shop::default(), proof: &Proved::new(model) }, &mut findings);
        findings
    }

    /// A panel whose edge stands in a lower and an upper side, with so many micrometres more clearance in the upper.
    fn two_sides(more: i64) -> Vec<Finding> {
        let mut model = job();
        let (half, quarter) = (sheet(8), sheet(4));
        let lower = add(&mut model, Model::ROOT, "lower side", &half, [0, 0, 0], [8, 320, 32]);
        let upper = add(&mut model, Model::ROOT, "upper side", &half, [0, 0, 32], [8, 320, 64]);
        let panel = add(&mut model, Model::ROOT, "panel", &quarter, [8, 100, 0], [160, 104, 64]);
        for (side, more) in [(lower, 0), (upper, more)] {
            let clearance = Length::from_mm(1) + Length::from_um(more);
            join(&mut model, "groove", panel, &[side], Options::new().with("clearance", Value::Length(clearance)));
        }
        model.settle();
        assert_eq!(joints::make(&mut model, &Shop::default()), vec![]);
        looked(&model)
    }

    #[test]
    fn a_clearance_is_kept_to_a_thousandth() {
        assert_eq!((two_sides(0).len(), two_sides(1).len(), two_sides(2).len()), (0, 0, 1));
        // The lower side wants 1 mm, the upper 2.5 mm: both get 1 mm.
        let told = &two_sides(1_500)[0];
        assert!(told.message.contains("to the left before `upper side`"), "{told}");
    }

    #[test]
    fn a_groove_is_as_wide_as_its_panel_and_the_fit() {
        // A cut that came out so many micrometres wider or narrower than it should.
        let widened = |by: i64| {
            let mut model = job();
            let side = add(&mut model, Model::ROOT, "side", &sheet(8), [0, 0, 0], [8, 320, 64]);
            let bottom = add(&mut model, Model::ROOT, "bottom", &sheet(4), [8, 0, 4], [160, 320, 8]);
            join(&mut model, "groove", bottom, &[side], Options::new());
            model.settle();
            assert_eq!(joints::make(&mut model, &Shop::default()), vec![]);
            model.parts[0].features[0].solid.high[2] += Length::from_um(by);
            looked(&model)
        };
        assert_eq!([-2, -1, 0, 1, 2].map(|by| widened(by).len()), [1, 0, 0, 0, 1]);
        assert!(widened(1_000)[0].message.contains("up before `side`"), "{}", widened(1_000)[0]);
    }

    /// A joint between two parts, one of whose cuts is then moved up by so many micrometres.
    fn moved(
        joint: &'static str,
        parts: [[[i64; 3]; 2]; 2],
        options: Options,
        (part, cut): (usize, &str),
        by: i64,
    ) -> usize {
        let mut model = job();
        let [target, member] = parts.map(|[low, high]| add(&mut model, Model::ROOT, "part", &sheet(12), low, high));
        join(&mut model, joint, member, &[target], options);
        model.settle();
        assert_eq!(joints::make(&mut model, &Shop::default()), vec![]);
        let cuts = model.parts[part].features.iter_mut().filter(|one| one.name == cut);
        for cut in cuts {
            cut.solid = cut.solid.shifted([Length::ZERO, Length::ZERO, Length::from_um(by)]);
        }
        looked(&model).len()
    }

    #[test]
    fn slopes_pins_and_notches_are_measured_on_the_finished_parts() {
        let each = |joint, parts, options: &Options, cut| {
            [-2, -1, 0, 1, 2].map(|by| moved(joint, parts, options.clone(), cut, by))
        };
        let none = Options::new();
        // The stile's mitre moves along the slope of the rail's.
        let frame = [[[0, 0, 0], [32, 12, 320]], [[32, 0, 0], [224, 12, 32]]];
        assert_eq!(each("mitre", frame, &none, (0, "mitre")), [1, 0, 0, 0, 1]);
        let drawer = [[[0, 0, 0], [256, 12, 64]], [[0, 12, 0], [12, 288, 64]]];
        assert_eq!(each("dovetail", drawer, &none, (0, "tail socket")), [1, 0, 0, 0, 1]);
        // The shelf comes first here: it lies on pins in the side.
        let shelf = [[[13, 0, 320], [400, 256, 332]], [[0, 0, 0], [12, 256, 640]]];
        assert_eq!(each("pin_holes", shelf, &none, (1, "pin hole")), [1, 0, 0, 0, 1]);
        let notch = [[[0, 0, 0], [480, 12, 64]], [[0, 0, 0], [12, 384, 544]]];
        let corner = Options::new().with("at", Value::Faces(vec![Face::Front, Face::Bottom]));
        assert_eq!(each("notch", notch, &corner, (1, "notch")), [1, 0, 0, 0, 1]);
    }

    #[test]
    fn what_is_let_into_both_parts_takes_its_own_place() {
        // A shelf of 3/4 in against a side: the slots and mortises of its own joint are no gap in the contact.
        for way in ["dowels", "biscuits", "loose tenons"] {
            let mut model = job();
            let side = add(&mut model, Model::ROOT, "side", &sheet(12), [0, 0, 0], [12, 192, 400]);
            let shelf = add(&mut model, Model::ROOT, "shelf", &sheet(12), [12, 0, 160], [300, 192, 172]);
            join(&mut model, "butt", shelf, &[side], Options::new().with("with", Value::Text(way.into())));
            model.settle();
            assert_eq!(joints::make(&mut model, &Shop::default()), vec![]);
            assert_eq!(looked(&model), vec![], "{way}");
        }
    }
}
