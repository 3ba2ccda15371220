//! A reveal that is zero or negative.

use super::{Check, MOST, Subject};
use crate::base::{Axis, Length, Solid};
use crate::diag::Finding;
use crate::model::FrontStyle;

/// The check.
pub(super) const CHECK: Check = Check {
    code: "reveal-closed",
    summary: "there is no gap between two fronts, or between an inset front and its opening",
    why: "Fronts that touch rub and bind when they move, and wood moves across the year. Between neighbouring fronts, and round \
          an inset front, there must be a gap.",
    source: "common practice, no source",
    run,
};

// Common practice, no source: a reveal below 1/32 in rubs once the wood moves.
const LEAST: Length = Length::from_inch(1, 32);

fn run(subject: Subject<'_>, findings: &mut Vec<Finding>) {
    let model = subject.model;
    let print = model.printing;
    let told = |findings: &mut Vec<Finding>, at, what: String, gap: Length, axis: Axis| {
        let along = if axis == Axis::X { "sideways" } else { "up and down" };
        let amount = if gap.is_negative() {
            format!("overlap by {} {along}", print.length(-gap))
        } else {
            format!("touch, {} apart {along}", print.length(Length::ZERO))
        };
        findings.push(
            Finding::error(CHECK.code, format!("{what} {amount}"))
                .at(at)
                .hint(format!(
                    "give a larger gap, or smaller fronts: {} makes a gap of {}, the least that does not rub",
                    print.length(LEAST - gap),
                    print.length(LEAST)
                ))
                .source(CHECK.source),
        );
    };
    for (index, front) in model.fronts.iter().enumerate() {
        if findings.len() >= MOST {
            return;
        }
        let solid = front.solid(model);
        let name = front.name(model);
        if front.style == FrontStyle::Inset {
            let opening = model.opening(front.opening);
            for axis in [Axis::X, Axis::Z] {
                for face in [axis.low(), axis.high()] {
                    let inside = opening.solid.face(face) - solid.face(face);
                    let gap = if face.is_high() { inside } else { -inside };
                    if gap <= Length::ZERO {
                        let what = format!("the {} of the inset front `{name}` and `{}`", face.name(), opening.name);
                        told(findings, front.at.clone(), what, gap, axis);
                    }
                }
            }
        }
        for other in &model.fronts[index + 1..] {
            let beside = other.solid(model);
            if let Some((gap, axis)) = gap_between(&solid, &beside)
                && gap <= Length::ZERO
            {
                let what = format!("the fronts `{name}` and `{}`", other.name(model));
                told(findings, other.at.clone(), what, gap, axis);
            }
        }
    }
}

/// The gap between two fronts that stand in one plane: the larger of the gaps sideways and upwards, and which of them it is. Fronts that lie behind
/// one another have none.
fn gap_between(a: &Solid, b: &Solid) -> Option<(Length, Axis)> {
    let apart = |axis: Axis| (b.face(axis.low()) - a.face(axis.high())).max(a.face(axis.low()) - b.face(axis.high()));
    if apart(Axis::Y) >= Length::ZERO {
        return None;
    }
    [Axis::X, Axis::Z].map(|axis| (apart(axis), axis)).into_iter().max()
}

#[cfg(test)]
mod tests {
    use super::super::bench::{add, bay, found, job, s, sheet};
    use super::*;
    use crate::model::{Front, Model};

    fn fronts(style: FrontStyle, gap: i64, side: i64) -> Vec<Finding> {
        fronts_apart(style, gap, side, Length::ZERO)
    }

    fn fronts_apart(style: FrontStyle, gap: i64, side: i64, more: Length) -> Vec<Finding> {
        let mut model = job();
        let opening = bay(&mut model, [s(320), s(320), s(321)]);
        let ply = sheet(12);
        let lower = add(&mut model, Model::ROOT, "front", &ply, [side, 0, 1], [320 - side, 12, 160]);
        let upper = add(&mut model, Model::ROOT, "front", &ply, [side, 0, 160 + gap], [320 - side, 12, 320]);
        model.part_mut(upper).placed.low[2] += more;
        for part in [lower, upper] {
            model.fronts.push(Front { part, rest: vec![], opening, style, at: None });
        }
        found(model, &CHECK)
    }

    #[test]
    fn fronts_with_a_gap_are_quiet() {
        assert!(fronts(FrontStyle::Inset, 1, 1).is_empty());
        assert!(fronts(FrontStyle::Applied, 1, -8).is_empty());
    }

    #[test]
    fn fronts_that_touch_or_overlap_are_told() {
        assert!(fronts(FrontStyle::Applied, 0, 1)[0].message.contains("touch"));
        assert!(fronts(FrontStyle::Applied, -2, 1)[0].message.contains("overlap by 1/8\""));
        assert!(fronts_apart(FrontStyle::Applied, 0, 1, Length::from_um(1)).is_empty());
        // Both inset fronts reach both sides of the opening.
        assert_eq!(fronts(FrontStyle::Inset, 1, 0).len(), 4);
    }
}
