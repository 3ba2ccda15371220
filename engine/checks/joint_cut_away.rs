//! A cut takes away what another joint holds by.

use super::{Check, MOST, Subject};
use crate::base::Axis;
use crate::diag::{Finding, Severity};
use crate::model::{Bearing, Model};
use crate::proof::material::Material;
use crate::proof::meets::{Kept, Lost, kept};

/// The check.
pub(super) const CHECK: Check = Check {
    code: "joint-cut-away",
    summary: "a cut takes away the tongue, the wall or the face that another joint holds by",
    why: "Each joint states which faces bear on one another: the sides of a tongue on the walls of its groove, a lap on its floor, a \
          butt on its contact. Once all joints are cut, these faces are looked for in what is left of both parts. Where the cut of \
          another joint has taken a quarter of one of them or more, the joint holds less than was meant; where it has taken more \
          than half, it does not hold. What a joint of the same two parts takes, such as the panel's groove that runs round the \
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
    let material = Material::new(model);
    let mut worst: Option<(&Bearing, Kept)> = None;
    for (at, bearing) in model.bearings.iter().enumerate() {
        let now = kept(model, &material, bearing);
        let is_worse = |known: &Kept| now.bears * known.whole < known.bears * now.whole;
        if now.lost.is_some() && worst.as_ref().is_none_or(|(_, known)| is_worse(known)) {
            worst = Some((bearing, now));
        }
        // The bearings of a joint and a pair of parts stand together; the worst of them is told.
        let pair = |one: &Bearing| (one.joint, one.part, one.against);
        let is_last = model.bearings.get(at + 1).is_none_or(|next| pair(next) != pair(bearing));
        if is_last && let Some((bearing, kept)) = worst.take() {
            findings.extend(kept.lost.as_ref().and_then(|lost| told(model, bearing, &kept, lost)));
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
    let size = |axis: Axis| print.length(lost.around.size(axis));
    let [a, b] = bearing.face.axis().others();
    let whole = |axis: Axis| print.length(bearing.area.size(axis));
    let message = format!(
        "{}: the {} of `{}` bears on `{}` over {} {} and {} {}, and the {} for `{}` takes {} by {} of that from `{}`",
        joint.joint,
        bearing.what,
        model.full_name(bearing.part),
        model.full_name(bearing.against),
        whole(a),
        a.run_name(),
        whole(b),
        b.run_name(),
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

#[cfg(test)]
mod tests {
    use super::super::bench::{add, found, job, join, s, sheet};
    use super::*;
    use crate::base::{Face, Length};
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
