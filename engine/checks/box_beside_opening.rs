//! The box stands beside its opening, or too near to one side of it.

use super::{Check, Hung, Subject};
use crate::base::{Axis, Face, Length, Solid};
use crate::diag::Finding;
use crate::model::{Moving, Opening, SlideFit, Way};

/// The check.
pub(super) const CHECK: Check = Check {
    code: "box-beside-opening",
    summary: "a drawer box does not stand in its opening with the room that its slides need at each side",
    why: "A box of the right width still binds when it is placed nearer to one side: each side needs the slides' clearance. Its \
          floor and its top must lie within the opening. Closed, its slides lie beside the box and within the depth of the opening \
          over their whole length; so a box may stand proud of the opening or back from it, and no further than leaves its slides that \
          length before the room that is kept behind them.",
    source: "common practice, no source",
    run,
};

fn run(subject: Subject<'_>, findings: &mut Vec<Finding>) {
    let print = subject.model.printing;
    for Hung { used, fit, bounds, opening, name } in subject.hung() {
        let inside = |axis: Axis| {
            [
                bounds.face(axis.low()) - opening.solid.face(axis.low()),
                opening.solid.face(axis.high()) - bounds.face(axis.high()),
            ]
        };
        let space = &opening.name;
        let told = |message: String, hint: String| {
            Finding::error(CHECK.code, message).at(used.at.clone()).hint(hint).source(CHECK.source)
        };
        let [below, above] = inside(Axis::Z);
        if below.min(above) < -Length::SAME_SIZE {
            let (out, where_to) = if below < above { (below, "below") } else { (above, "above") };
            findings.push(told(
                format!("the box `{name}` stands {} {where_to} `{space}`", print.length(-out)),
                "place it between the floor and the top of the opening; an opening stands at 0 unless `left`, `front` and `bottom` say otherwise".into(),
            ));
        }
        // A box of the wrong width is told by its own check; here it is the place that counts. So a wide box that stands out at one
        // side is told when it has room to spare at the other.
        let [left, right] = inside(Axis::X);
        let (less, more) = (left.min(right), left.max(right));
        let width_fits = left + right >= fit.slides.clearance * 2 - Length::SAME_SIZE;
        let (near, away) = if left < right { ("left", "right") } else { ("right", "left") };
        let hint = format!("place it {} further {away}", print.length((more - less).half()));
        if less < -Length::SAME_SIZE && more > fit.slides.clearance {
            findings.push(told(
                format!("the box `{name}` stands {} out of `{space}` at its {near}", print.length(-less)),
                hint,
            ));
        } else if width_fits && less < fit.slides.clearance - Length::SAME_SIZE {
            findings.push(told(
                format!(
                    "the box `{name}` has {} at its left and {} at its right in `{space}`; its slides need {} at each",
                    print.length(left),
                    print.length(right),
                    print.length(fit.slides.clearance)
                ),
                hint,
            ));
        }
        findings.extend(
            in_depth(subject, fit, &bounds, opening)
                .map(|(message, hint)| told(format!("the box `{name}` {message}"), hint)),
        );
    }
}

/// Where a box and its opening share less of their depth than the slides are long: what is told, and what cures it.
fn in_depth(subject: Subject<'_>, fit: &SlideFit, bounds: &Solid, opening: &Opening) -> Option<(String, String)> {
    let print = subject.model.printing;
    let moving = Moving::Piece(fit.carries);
    let out = subject.model.motions.iter().find(|motion| motion.moving == moving).and_then(|motion| match motion.way {
        Way::Slide { out, .. } => Some(out),
        Way::Turn(_) => None,
    });
    let out = out.unwrap_or(Face::Front);
    if out.axis() != Axis::Y {
        return None;
    }
    // From the front plane of the opening inwards, whichever way the box comes out.
    let inwards = |solid: &Solid, face: Face| {
        let way = opening.solid.face(out) - solid.face(face);
        if out.is_high() { way } else { -way }
    };
    let (front, back) = (inwards(bounds, out), inwards(bounds, out.opposite()));
    let end = opening.depth() - fit.room_behind;
    // Slides that are too long for the opening or for the box are told by their own check, wherever the box stands.
    let too_long = fit.length > end + Length::SAME_SIZE || fit.length > back - front + Length::SAME_SIZE;
    let missing = fit.length - (end.min(back) - front.max(Length::ZERO));
    if missing <= Length::SAME_SIZE || too_long {
        return None;
    }
    let (off, how_far, away) = if front.is_negative() {
        (-front, "before the front of", out.opposite())
    } else {
        (front, "behind the front of", out)
    };
    let behind = if fit.room_behind.is_positive() {
        format!(" with {} behind them", print.length(fit.room_behind))
    } else {
        String::new()
    };
    Some((
        format!(
            "stands {} {how_far} `{}`, so that its slides, {} long{behind}, have no room of their length both in the opening and \
             beside the box",
            print.length(off),
            opening.name,
            print.length(fit.length)
        ),
        format!("place it {} further to the {}", print.length(missing), away.name()),
    ))
}

#[cfg(test)]
mod tests {
    use super::super::bench::{add, bay, found, hang, job, s, sheet, slides};
    use super::*;
    use crate::model::{Model, Motion};

    /// A box 22-1/2 in wide and 4 in high in an opening of 24 x 5, with its left, lower corner there.
    fn standing(left: Length, up: Length) -> Vec<Finding> {
        let mut model = job();
        let drawer = model.add_piece("drawer", None);
        model.place(drawer, Model::ROOT, [left, Length::ZERO, up]);
        add(&mut model, drawer, "front", &sheet(8), [0, 0, 0], [360, 8, 64]);
        let opening = bay(&mut model, [s(24 * 16), s(22 * 16), s(80)]);
        hang(&mut model, drawer, opening, slides());
        found(model, &CHECK)
    }

    #[test]
    fn each_side_keeps_the_room_of_its_slide() {
        let more = Length::from_um(2);
        // 1-1/2 in are left; from 1/2 at the left to 1/2 at the right it may stand anywhere.
        for left in [s(8), s(12), s(16)] {
            assert_eq!(standing(left, Length::ZERO), vec![], "{left:?}");
        }
        for (left, way) in [(s(8) - more, "right"), (s(16) + more, "left")] {
            let told = standing(left, Length::ZERO);
            assert!(told.len() == 1 && told[0].hint.as_ref().unwrap().ends_with(&format!("further {way}")), "{told:?}");
        }
    }

    #[test]
    fn a_box_out_of_its_opening_is_told_by_how_much() {
        // 24 in wide, the box 22-1/2: with its left face at 30 in its right face is at 52-1/2, 28-1/2 beyond the opening. In the middle
        // there are 3/4 in at each side, so it goes 29-1/4 to the left.
        let told = standing(s(480), Length::ZERO);
        assert!(told.len() == 1 && told[0].message.contains("stands 28-1/2\" out of `bay` at its right"), "{told:?}");
        assert!(told[0].hint.as_ref().unwrap().contains("29-1/4\" further left"), "{told:?}");
    }

    /// A box 21 in deep on slides of 20 in that keep half an inch behind them, in an opening of 22 in, with its front so far in.
    fn at_depth(front: Length, out: Face) -> Vec<Finding> {
        let mut model = job();
        let drawer = model.add_piece("drawer", None);
        let low = if out == Face::Front { front } else { s(16) - front };
        model.place(drawer, Model::ROOT, [s(12), low, Length::ZERO]);
        add(&mut model, drawer, "side", &sheet(8), [0, 0, 0], [8, 336, 64]);
        add(&mut model, drawer, "side", &sheet(8), [352, 0, 0], [360, 336, 64]);
        let opening = bay(&mut model, [s(24 * 16), s(22 * 16), s(80)]);
        hang(&mut model, drawer, opening, slides());
        if let Some(fit) = &mut model.hardware[0].slides {
            fit.room_behind = s(8);
        }
        let way = Way::Slide { out, travel: s(320) };
        let (moving, behind, with_open) = (Moving::Piece(drawer), vec![], vec![]);
        model.motions.push(Motion { moving, way, behind, with_open, opening: None, at: None });
        found(model, &CHECK)
    }

    #[test]
    fn slides_keep_their_length_in_the_opening_and_beside_the_box() {
        // An inch proud, 20 of its 21 in are in the opening. An inch and a half back, the slides go from there to 21-1/2, with half an
        // inch behind them to 22.
        let um = Length::from_um;
        for out in [Face::Front, Face::Back] {
            for front in [-s(16), Length::ZERO, s(24), -s(16) - um(1), s(24) + um(1)] {
                assert_eq!(at_depth(front, out), vec![], "{front:?} {out:?}");
            }
            let proud = at_depth(-s(16) - um(2), out);
            assert!(proud.len() == 1 && proud[0].message.contains("before the front of `bay`"), "{proud:?}");
            let back = at_depth(s(24) + um(2), out);
            assert!(back.len() == 1 && back[0].message.contains("behind the front of `bay`"), "{back:?}");
        }
        // 30 in before the opening: 29 too far.
        let away = &at_depth(-s(480), Face::Front)[0];
        assert!(away.message.contains("stands 30\" before the front of `bay`"), "{away}");
        assert!(away.hint.as_ref().unwrap().contains("29\" further to the back"), "{away}");
    }

    #[test]
    fn a_box_stays_between_floor_and_top() {
        let more = Length::from_um(2);
        for up in [Length::ZERO, s(16)] {
            assert_eq!(standing(s(12), up), vec![], "{up:?}");
        }
        for (up, where_to) in [(-more, "below"), (s(16) + more, "above")] {
            let told = standing(s(12), up);
            assert!(told.len() == 1 && told[0].message.contains(where_to), "{told:?}");
        }
    }
}
