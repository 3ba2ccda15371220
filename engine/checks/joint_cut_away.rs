//! A cut takes away what another joint holds by.

use super::{Check, MOST, Subject};
use crate::base::{Axis, Length};
use crate::diag::{Finding, Severity};
use crate::model::{Bearing, Lies, Model, Shape};
use crate::proof::meets::{Kept, Lost};

/// The check.
pub(super) const CHECK: Check = Check {
    code: "joint-cut-away",
    summary: "a cut takes away the tongue, the wall or the face that another joint holds by",
    why: "Each joint states which faces bear on one another: the sides of a tongue on the walls of its groove, a lap on its floor, a \
          butt on its contact, a mitred face and the sides of a tail on their slopes, a shelf on its pins. Once all joints are cut, these faces are looked for in what is left of both parts. Where the cut of \
          another joint has taken a quarter of one of them or more, the joint holds less than was meant; where it has taken more \
          than half, it does not hold. Of what a mitre crosses it takes a triangle. What a joint of the same two parts takes, such as the panel's groove that runs round the \
          corner of its frame, is meant.",
    source: "integer geometry; the shares are common practice, no source",
    run,
};

/// More of a bearing than one part in this many may not be lost without a word.
// Common practice, no source: three quarters of a tongue hold nearly as well as all of it.
const LEAST_TOLD: i128 = 4;
/// With more than one part in this many lost, it no longer holds.
// Common practice, no source.
const LEAST_HELD: i128 = 2;

fn run(subject: Subject<'_>, findings: &mut Vec<Finding>) {
    let model = subject.model;
    let mut worst: Option<(&Bearing, &Kept)> = None;
    for (at, (bearing, now)) in model.bearings.iter().zip(subject.proof.kept()).enumerate() {
        let is_worse = |known: &Kept| now.bears * known.whole < known.bears * now.whole;
        if now.lost.is_some() && worst.as_ref().is_none_or(|(_, known)| is_worse(known)) {
            worst = Some((bearing, now));
        }
        // The bearings of a joint and a pair of parts stand together; the worst of them is told.
        let pair = |one: &Bearing| (one.joint, one.part, one.against);
        let is_last = model.bearings.get(at + 1).is_none_or(|next| pair(next) != pair(bearing));
        if is_last && let Some((bearing, kept)) = worst.take() {
            findings.extend(kept.lost.as_ref().and_then(|lost| told(model, bearing, kept, lost)));
            if findings.len() >= MOST {
                return;
            }
        }
    }
}

fn told(model: &Model, bearing: &Bearing, kept: &Kept, lost: &Lost) -> Option<Finding> {
    let severity = if kept.bears * LEAST_HELD < kept.whole {
        Severity::Error
    } else if (kept.whole - kept.bears) * LEAST_TOLD > kept.whole {
        Severity::Warning
    } else {
        return None;
    };
    let print = model.printing;
    let joint = model.joint(bearing.joint);
    let cut = &model.part(lost.part).features[lost.feature];
    let by = model.joint(cut.joint);
    let [a, b] = bearing.face.axis().others();
    let size = |axis: Axis| print.length(on_slope(bearing, axis, lost.around.size(axis)));
    let whole = |axis: Axis| print.length(on_slope(bearing, axis, bearing.area.size(axis)));
    let way = |axis: Axis| if slopes_along(bearing, axis) { "along its slope" } else { axis.run_name() };
    // A mitre takes no more than a triangle of what it crosses.
    let corner = if matches!(cut.shape, Shape::Bevel { .. }) { "a corner of " } else { "" };
    let message = format!(
        "{}: the {} of `{}` bears on `{}` over {} {} and {} {}, and the {} for `{}` takes {corner}{} by {} of that from `{}`",
        joint.joint,
        bearing.what,
        model.full_name(bearing.part),
        model.full_name(bearing.against),
        whole(a),
        way(a),
        whole(b),
        way(b),
        cut.name,
        model.full_name(by.member),
        size(a),
        size(b),
        model.full_name(lost.part),
    );
    let finding = match severity {
        Severity::Error => Finding::error(CHECK.code, message),
        _ => Finding::warning(CHECK.code, message),
    };
    let hint = format!("move the {} of `{}` clear of it", cut.name, model.full_name(by.member));
    Some(finding.at(joint.at.clone()).hint(hint).source(CHECK.source))
}

/// Whether a bearing slopes along this axis.
fn slopes_along(bearing: &Bearing, axis: Axis) -> bool {
    matches!(bearing.lies, Lies::Slope { leans } if leans.axis() == axis)
}

/// A size of a bearing as it is on its slope; along other axes it is what it is.
fn on_slope(bearing: &Bearing, axis: Axis, size: Length) -> Length {
    if !slopes_along(bearing, axis) {
        return size;
    }
    let [run, rise] = [axis, bearing.face.axis()].map(|axis| i128::from(bearing.area.size(axis).nm()));
    let slope = (run * run + rise * rise).max(0).cast_unsigned().isqrt().cast_signed();
    let size = i128::from(size.nm()) * slope / run.max(1);
    Length::from_nm(i64::try_from(size).unwrap_or(i64::MAX))
}

#[cfg(test)]
mod tests {
    use super::super::bench::{add, found, job, join, s, sheet};
    use super::*;
    use crate::base::Face;
    use crate::model::{Options, Value};

    /// A shelf 10 in deep in a dado of a side, and a notch at the front of the side that ends at the dado's lower wall.
    fn notched(reach: Length) -> Vec<Finding> {
        let mut model = job();
        let ply = sheet(12);
        let side = add(&mut model, Model::ROOT, "side", &ply, [0, 0, 0], [12, 160, 320]);
        let shelf = add(&mut model, Model::ROOT, "shelf", &ply, [12, 0, 100], [300, 160, 112]);
        join(&mut model, "dado", shelf, &[side], Options::new());
        let corner = Options::new()
            .with("at", Value::Faces(vec![Face::Front, Face::Bottom]))
            .with("reach", Value::Lengths(vec![reach, s(100)]));
        join(&mut model, "notch", side, &[], corner);
        found(model, &CHECK)
    }

    #[test]
    fn a_quarter_of_a_wall_may_go_and_a_thousandth_more_is_told() {
        // A quarter of 10 in is 2-1/2 in, half of it 5 in.
        let um = Length::from_um(1);
        let severity = |reach| notched(reach).first().map(|finding| finding.severity);
        assert_eq!(severity(s(40)), None);
        assert_eq!(severity(s(40) + um), Some(Severity::Warning));
        assert_eq!(severity(s(80)), Some(Severity::Warning));
        assert_eq!(severity(s(80) + um), Some(Severity::Error));
        let told = notched(s(128));
        assert_eq!(told.len(), 1, "{told:?}");
        assert!(told[0].message.contains("the notch for `side` takes 1/4\" by 8\" of that from `side`"), "{}", told[0]);
    }

    /// A stile 2 in wide, so many sixteenths and micrometres high, and a rail, mitred at the lower corner; the rail has its corner cut off.
    fn mitred(high: i64, less: i64, notch: Option<Length>, back: bool) -> Vec<Finding> {
        let mut model = job();
        let maple = sheet(12);
        let stile = add(&mut model, Model::ROOT, "stile", &maple, [0, 0, 0], [32, 12, high]);
        let rail = add(&mut model, Model::ROOT, "rail", &maple, [0, 0, 0], [224, 12, 32]);
        model.part_mut(stile).placed.high[2] -= Length::from_um(less);
        join(&mut model, "mitre", rail, &[stile], Options::new());
        if let Some(reach) = notch {
            let corner = Options::new()
                .with("at", Value::Faces(vec![Face::Left, Face::Bottom]))
                .with("reach", Value::Lengths(vec![reach, s(24)]));
            join(&mut model, "notch", rail, &[], corner);
        }
        if back {
            let strip = add(&mut model, Model::ROOT, "back", &maple, [0, 12, 0], [32, 24, high]);
            join(&mut model, "butt", strip, &[stile], Options::new().with("with", Value::Text("glue".into())));
        }
        found(model, &CHECK)
    }

    #[test]
    fn a_mitre_is_looked_at_on_its_slope() {
        // The mitre runs from the long point at 0, 0 to 2, 2 in: what is cut from its corner, 1/2 in, is a quarter of it.
        let um = Length::from_um(1);
        let severity = |reach| mitred(320, 0, Some(reach), false).first().map(|finding| finding.severity);
        assert_eq!(severity(s(8)), None);
        assert_eq!(severity(s(8) + um), Some(Severity::Warning));
        assert_eq!(severity(s(16)), Some(Severity::Warning));
        assert_eq!(severity(s(16) + um), Some(Severity::Error));
        // 2 in by the root of two are 2.828 in, just below 2-27/32; 1-1/2 of them 2.121, just below 2-1/8.
        let told = &mitred(320, 0, Some(s(24)), false)[0];
        assert!(told.message.contains("over 3/4\" front to back and 2-27/32\"- along its slope"), "{told}");
        assert!(told.message.contains("takes 3/4\" by 2-1/8\"- of that from `rail`"), "{told}");
    }

    #[test]
    fn of_what_a_mitre_crosses_it_takes_a_triangle() {
        // A strip on the back of a stile 4 in high: 8 square inches, of which the mitre takes half of 2 by 2, a quarter.
        assert_eq!(mitred(64, 0, None, true), vec![]);
        let told = mitred(64, 1, None, true);
        assert!(told.len() == 1 && told[0].severity == Severity::Warning, "{told:?}");
        assert!(
            told[0].message.contains("the mitre for `rail` takes a corner of 2\" by 2\" of that from `stile`"),
            "{}",
            told[0]
        );
    }

    #[test]
    fn a_shelf_keeps_its_wood_over_the_pins() {
        // The back pin is 1/4 in wide, its middle 14-1/2 in from the front of a shelf 16 in deep: a notch from the back comes to it at
        // 1-3/8 in, and takes a quarter of it at 1-7/16.
        let severity = |reach: Length| {
            let mut model = job();
            let ply = sheet(12);
            let side = add(&mut model, Model::ROOT, "side", &ply, [0, 0, 0], [12, 256, 640]);
            let shelf = add(&mut model, Model::ROOT, "shelf", &ply, [13, 0, 320], [400, 256, 332]);
            join(&mut model, "pin_holes", side, &[shelf], Options::new());
            let corner = Options::new()
                .with("at", Value::Faces(vec![Face::Back, Face::Left]))
                .with("reach", Value::Lengths(vec![reach, s(16)]));
            join(&mut model, "notch", shelf, &[], corner);
            found(model, &CHECK).first().map(|finding| finding.severity)
        };
        let um = Length::from_um(1);
        assert_eq!([severity(s(23)), severity(s(23) + um)], [None, Some(Severity::Warning)]);
        assert_eq!([severity(s(24)), severity(s(24) + um)], [Some(Severity::Warning), Some(Severity::Error)]);
    }

    #[test]
    fn a_case_is_there_behind_each_hinge() {
        // The lower hinge takes 35, 45 and 32 mm, the most of them and 3 on each side: 51 mm, from 76.1 up to 127.1, round 4 in. A notch
        // 10 mm deep at the front of the side, below its plate, takes a quarter of that up to 88.85 mm.
        let severity = |high: Length| {
            let mut model = job();
            let ply = sheet(12);
            let side = add(&mut model, Model::ROOT, "side", &ply, [0, 0, 0], [12, 192, 480]);
            let door = add(&mut model, Model::ROOT, "door", &ply, [0, -12, 0], [240, 0, 480]);
            join(&mut model, "hinge", door, &[side], Options::new());
            let corner = Options::new()
                .with("at", Value::Faces(vec![Face::Front, Face::Bottom]))
                .with("reach", Value::Lengths(vec![Length::from_mm(10), high]));
            join(&mut model, "notch", side, &[], corner);
            found(model, &CHECK).first().map(|finding| finding.severity)
        };
        let um = Length::from_um;
        assert_eq!([severity(um(88_850)), severity(um(88_851))], [None, Some(Severity::Warning)]);
        assert_eq!([severity(um(101_600)), severity(um(101_601))], [Some(Severity::Warning), Some(Severity::Error)]);
    }

    #[test]
    fn a_tongue_that_is_notched_away_is_told() {
        // A shelf 10 in deep goes 1/4 in into the side; a notch for a pipe at its back takes 6-1/4 in of that.
        let build = |pipe: bool| {
            let mut model = job();
            let ply = sheet(12);
            let side = add(&mut model, Model::ROOT, "side", &ply, [0, 0, 0], [12, 160, 320]);
            let shelf = add(&mut model, Model::ROOT, "shelf", &ply, [12, 0, 100], [300, 160, 112]);
            join(&mut model, "dado", shelf, &[side], Options::new());
            if pipe {
                let corner = Options::new()
                    .with("at", Value::Faces(vec![Face::Back, Face::Left]))
                    .with("reach", Value::Lengths(vec![s(100), s(8)]));
                join(&mut model, "notch", shelf, &[], corner);
            }
            found(model, &CHECK)
        };
        assert_eq!(build(false), vec![]);
        let told = build(true);
        // 60 of 160 sixteenths are left.
        assert!(told.len() == 1 && told[0].severity == Severity::Error, "{told:?}");
        assert!(told[0].message.contains("from `shelf`"), "{}", told[0]);
    }

    #[test]
    fn the_groove_of_a_panel_in_its_frame_is_meant() {
        // The panel's groove takes 3/8 in of a tenon that is 2 in wide; it runs on into the stile.
        let mut model = job();
        let (maple, thin) = (sheet(12), sheet(4));
        let stile = add(&mut model, Model::ROOT, "stile", &maple, [0, 0, 0], [32, 12, 384]);
        let rail = add(&mut model, Model::ROOT, "rail", &maple, [32, 0, 0], [224, 12, 12]);
        let panel = add(&mut model, Model::ROOT, "panel", &thin, [32, 4, 12], [224, 8, 384]);
        join(&mut model, "groove", panel, &[stile, rail], Options::new().with("depth", Value::Length(s(8))));
        join(&mut model, "stub_tenon", rail, &[stile], Options::new());
        assert_eq!(found(model, &CHECK), vec![]);
    }
}
