//! A front does not lie on its opening as the recipe says.

use std::collections::BTreeMap;

use super::{Check, MOST, Subject};
use crate::base::{Axis, Face, Length, Solid};
use crate::diag::Finding;
use crate::model::{Front, FrontStyle, Model, OpeningId};

/// The check.
pub(super) const CHECK: Check = Check {
    code: "front-off-opening",
    summary: "an applied front leaves a strip of its opening open or stands in it, or an inset one stands outside",
    why: "An applied front lies on the case before its opening, and with its neighbours covers it up to its edges; an inset front stands \
          within its depth. Fronts that are drawn otherwise leave a slot that dust and eyes go through, or the reveals are measured to the \
          wrong edges. Where a strip is left open on purpose, as a grip above a drawer, say `uneven: true` in `front_of`.",
    source: "common practice, no source; a thousandth of a millimetre is allowed",
    run,
};

fn run(subject: Subject<'_>, findings: &mut Vec<Finding>) {
    let model = subject.model;
    let print = model.printing;
    let mut banks: BTreeMap<OpeningId, Vec<(&Front, Solid)>> = BTreeMap::new();
    for front in &model.fronts {
        banks.entry(front.opening).or_default().push((front, front.solid(model)));
    }
    for (opening, fronts) in banks {
        let space = model.opening(opening);
        for (nth, (front, solid)) in fronts.iter().enumerate().take(MOST) {
            if findings.len() >= MOST {
                return;
            }
            let name = front.name(model);
            let told = |message: String, hint: String| {
                Finding::warning(CHECK.code, message).at(front.at.clone()).hint(hint).source(CHECK.source)
            };
            let within = shared(solid, &space.solid, Axis::Y);
            if let Some((message, hint)) = match front.style {
                FrontStyle::Applied if within > Length::SAME_SIZE => Some((
                    format!(
                        "`{name}` is said to be applied, and stands {} deep in `{}`",
                        print.length(within),
                        space.name
                    ),
                    format!("place it {} further out, or write `style: \"inset\"`", print.length(within)),
                )),
                FrontStyle::Inset if within <= Length::SAME_SIZE => Some((
                    format!(
                        "`{name}` is said to be inset, and stands {} outside the depth of `{}`",
                        print.length((-within).max(Length::ZERO)),
                        space.name
                    ),
                    "place it between the front plane of the opening and its depth, or write `style: \"applied\"`"
                        .to_owned(),
                )),
                _ => None,
            } {
                findings.push(told(message, hint));
            } else if front.style == FrontStyle::Applied && !model.uneven.contains(&opening) {
                let open = open_strip(model, opening, (nth, solid), &fronts);
                findings.extend(open.map(|(face, wide)| {
                    told(
                        format!(
                            "`{name}` leaves {} of `{}` open at its {}",
                            print.length(wide),
                            space.name,
                            face.name()
                        ),
                        format!(
                            "make it {} larger there and let it lie on the case, or say `uneven: true` in `front_of` where it is meant",
                            print.length(wide)
                        ),
                    )
                }));
            }
        }
    }
}

/// The widest strip of an opening beside a front that neither it nor a neighbour covers.
fn open_strip(
    model: &Model,
    opening: OpeningId,
    (nth, own): (usize, &Solid),
    fronts: &[(&Front, Solid)],
) -> Option<(Face, Length)> {
    let space = &model.opening(opening).solid;
    let faces = [Face::Left, Face::Right, Face::Bottom, Face::Top];
    let strips = faces.into_iter().filter_map(|face| {
        let wide = space.face(face) - own.face(face);
        let wide = if face.is_high() { wide } else { -wide };
        let across = if face.axis() == Axis::X { Axis::Z } else { Axis::X };
        let has_neighbour = fronts.iter().enumerate().any(|(at, (_, other))| {
            let gap = other.face(face.opposite()) - own.face(face);
            let gap = if face.is_high() { gap } else { -gap };
            at != nth && gap >= -Length::SAME_SIZE && shared(own, other, across).is_positive()
        });
        (wide > Length::SAME_SIZE && !has_neighbour).then_some((face, wide))
    });
    strips.max_by_key(|(_, wide)| *wide)
}

/// How far two cuboids lie beside each other along an axis.
fn shared(a: &Solid, b: &Solid, axis: Axis) -> Length {
    a.face(axis.high()).min(b.face(axis.high())) - a.face(axis.low()).max(b.face(axis.low()))
}

#[cfg(test)]
mod tests {
    use super::super::bench::{add, bay, found, job, s, sheet};
    use super::*;

    /// A front before an opening of 20 in by 20, so many micrometres narrower than that and so many further back.
    fn front(style: FrontStyle, narrower: i64, back: i64, uneven: bool) -> Vec<Finding> {
        let mut model = job();
        let opening = bay(&mut model, [s(320), s(320), s(320)]);
        let part = add(&mut model, Model::ROOT, "front", &sheet(12), [0, -12, 0], [320, 0, 320]);
        let placed = &mut model.part_mut(part).placed;
        placed.high[0] -= Length::from_um(narrower);
        *placed = placed.shifted([Length::ZERO, Length::from_um(back), Length::ZERO]);
        model.fronts.push(Front { part, rest: vec![], opening, style, at: None });
        if uneven {
            model.uneven.push(opening);
        }
        found(model, &CHECK)
    }

    #[test]
    fn an_applied_front_covers_its_opening_to_a_thousandth() {
        let told = |narrower| front(FrontStyle::Applied, narrower, 0, false);
        assert_eq!([0, 1, 2].map(|narrower| told(narrower).len()), [0, 0, 1]);
        assert!(told(3_175)[0].message.contains("leaves 1/8\" of `bay` open at its right"), "{:?}", told(3_175));
        assert_eq!(front(FrontStyle::Applied, 3_175, 0, true), vec![]);
    }

    #[test]
    fn a_front_stands_where_its_style_says() {
        let told = |style, back| front(style, 0, back, false).len();
        assert_eq!([0, 1, 2].map(|back| told(FrontStyle::Applied, back)), [0, 0, 1]);
        assert_eq!([0, 1, 2].map(|back| told(FrontStyle::Inset, back)), [1, 1, 0]);
    }
}
