//! A fit that a share of the pieces is not expected to have.

use super::{Check, Subject};
use crate::base::{Length, Printing};
use crate::diag::Finding;
use crate::fits::{self, Fit, FitKind, Source, Term};

/// The check.
pub(super) const CHECK: Check = Check {
    code: "fit-in-doubt",
    summary: "boxes or fronts that fit as drawn, and often will not as cut",
    why: "Plywood may be thinner than its name and still meet its standard, and no cut is exact. For each box between its slides and \
          each inset front the gap gets the range in which it will really lie: the thickness of its stock as the standard allows or \
          as measured, cuts and readings within the shop's cutting tolerance, each anywhere in its range with equal chance. `fits.csv` \
          has worst and likely cases for all fits.",
    source: "panel standards' thickness tolerances; the sums are plain; that every size of a range has an equal chance is an assumption",
    run,
};

// Common practice, no source: no rule of a shop is finer.
const AT_THE_MIDDLE: Length = Length::from_inch(1, 128);

// Common practice, no source: a shop expects nine boxes of ten to go in without being planed or shimmed.
const EXPECTED_PERCENT: u8 = 90;

fn run(subject: Subject<'_>, findings: &mut Vec<Finding>) {
    let model = subject.model;
    let fine = Printing { denominator: 64, ..model.printing };
    let all = fits::all(model, subject.shop);
    for kin in fits::kin(&all) {
        let fit = kin.first;
        let boxes = matches!(fit.kind, FitKind::BoxInOpening);
        let fronts = matches!(fit.kind, FitKind::FrontAcross | FitKind::FrontsUp);
        // A fit that does not work as drawn has a finding of its own.
        let drawn_right = fit.least <= fit.nominal && fit.nominal <= fit.most;
        if !(boxes || fronts) || !drawn_right || kin.percent() >= EXPECTED_PERCENT {
            continue;
        }
        let (from, to) = kin.spread.worst;
        // Slides without slack take one gap and no other.
        let works = if fit.least.same_size(fit.most) {
            format!("only {}", fine.length(fit.least))
        } else {
            format!("{} to {}", fine.length(fit.least), fine.length(fit.most))
        };
        let what = match (boxes, kin.how_many) {
            (true, 1) => format!("the box `{}` fits its slides", fit.of),
            (true, n) => format!("{n} boxes like `{}` fit their slides", fit.of),
            (false, 1) => format!("the inset front `{}` keeps its reveals", fit.of),
            (false, n) => format!("{n} inset fronts like `{}` keep their reveals", fit.of),
        };
        findings.push(
            Finding::note(
                CHECK.code,
                format!(
                    "{what} in {} of 100: the gap is {} as drawn and may come out from {} to {}, and {works} works",
                    match kin.percent() {
                        1 => "1 case".to_owned(),
                        percent => format!("{percent} cases"),
                    },
                    fine.length(fit.nominal),
                    fine.length(from),
                    fine.length(to),
                ),
            )
            .at(model.part(fit.part).at.clone())
            .hint(format!("{}: {}", fit.matters_most_in_words(model.printing), cure(fit, kin.spread.likely, fine)))
            .source(CHECK.source),
        );
    }
}

/// What would bring more of them to fit. A gap that opens more than it closes, as with an opening that is wider elsewhere, is drawn
/// right where its expected middle is that of what works.
fn cure(fit: &Fit, likely: (Length, Length), fine: Printing) -> String {
    if let Some((Term { of: Source::Thickness(..), .. }, _)) = fit.matters_most() {
        return "measure the sheets and put their thickness into the shop file, or cut these last, to fit".to_owned();
    }
    let middle = |(from, to): (Length, Length)| from + (to - from).half();
    let shift = middle((fit.least, fit.most)) - middle(likely);
    if shift.abs() <= AT_THE_MIDDLE {
        return "the gap is drawn at the middle of what works already: cut closer than the shop's `cutting_tolerance`, or cut these last, \
                to fit"
            .to_owned();
    }
    let gap = fit.nominal + shift;
    if gap < fit.least - Length::SAME_SIZE || gap > fit.most + Length::SAME_SIZE {
        return if matches!(fit.kind, FitKind::BoxInOpening) {
            "shim the slides where the opening is wider, or cut these last, to fit".to_owned()
        } else {
            "cut these last, to fit".to_owned()
        };
    }
    let gap = fine.length(gap);
    format!("draw the gap as {gap}, so that its middle is that of what works, or cut these last, to fit")
}

#[cfg(test)]
mod tests {
    use crate::proof::Proved;
    use std::sync::Arc;

    use super::super::bench::{bay, hang, job, s, slides};
    use super::*;
    use crate::base::{Axis, Solid};
    use crate::catalog;
    use crate::fits::Spread;
    use crate::model::{Model, Part, Shop, Slides, Stock};

    /// A box of two half-inch sides with a front between them, in an opening 24 in wide, on slides that take half an inch a side.
    fn drawer(measured: Option<Length>, slack: Length) -> (Model, Vec<Finding>) {
        let mut model = job();
        let piece = model.add_piece("drawer", None);
        model.place(piece, Model::ROOT, [Length::ZERO; 3]);
        let mut ply: Stock = catalog::stock("1/2 birch plywood").unwrap().as_ref().clone();
        ply.measured = measured;
        let (ply, wide) = (Arc::new(ply), s(23 * 16));
        let thick = ply.thickness();
        for (left, right, name) in
            [(Length::ZERO, thick, "left"), (wide - thick, wide, "right"), (thick, wide - thick, "front")]
        {
            let deep = if name == "front" { thick } else { s(320) };
            let solid = Solid::new([left, Length::ZERO, Length::ZERO], [right, deep, s(64)]);
            model.add_part(Part::new(name, piece, ply.clone(), solid));
        }
        let opening = bay(&mut model, [s(24 * 16), s(22 * 16), s(80)]);
        hang(&mut model, piece, opening, Slides { slack, ..slides() });
        model.settle();
        let mut findings = Vec::new();
        run(Subject { model: &model, shop: &Shop::default(), proof: &Proved::new(&model) }, &mut findings);
        (model, findings)
    }

    #[test]
    fn sums_by_hand() {
        // The gap is 24 - 23 = 1 in. The opening and the front are each within 1/64; the two sides are of one sheet that may be 3/64
        // thinner, together 6/64. Worst: 1 - 2/64 and 1 + 2/64 + 6/64. The ranges are 2, 2 and 6 (64ths), their squares 4 + 4 + 36 =
        // 44; half the root of 44 is 3.3166 round the middle 3: -0.3166 to 6.3166.
        let (model, _) = drawer(None, s(1).half());
        let fits = fits::all(&model, &Shop::default());
        assert_eq!(fits.len(), 1);
        let spread = Spread::of(&fits[0]);
        let sixty_fourth = |n: i64| Length::from_inch(64 + n, 64);
        assert_eq!(fits[0].nominal, Length::INCH);
        assert_eq!(spread.worst, (sixty_fourth(-2), sixty_fourth(8)));
        let off = |likely: Length, hand: f64| ((likely - Length::INCH).mm_f64() / 25.4 * 64.0 - hand).abs();
        assert!(off(spread.likely.0, -0.31662) < 1e-4 && off(spread.likely.1, 6.31662) < 1e-4, "{spread:?}");
        // The chance that the gap lies within 1 to 1-1/16, that is 0 to 4 of -2..8, by the areas of the trapezoid that two equal ranges
        // and a third make: T (the sum of the first two, from -2 to 2, a triangle) plus U (0 to 6). P(T + U < 0) = (1/6) * E[-T; T < 0] =
        // (1/6)(1/3) = 1/18; P(T + U > 4) = (1/6) E[T + 2] = 1/3 where T + 2 is from 0 to 4 and below 6. So 1 - 1/18 - 1/3 = 11/18.
        assert!((spread.share - 11.0 / 18.0).abs() < 1e-9, "{}", spread.share);
        assert_eq!(model.bounds(crate::model::PieceId(1)).unwrap().size(Axis::X), s(23 * 16));
    }

    #[test]
    fn what_is_drawn_at_the_middle_is_not_to_be_drawn_there() {
        // A gap of 1 in on slides that take 31/32 to 1-1/32, with measured sheets and cuts within 1/64: the middle, and in doubt all the same
        // for a window that is half as wide. Where it is drawn at the least, the middle is named.
        let hint = |clearance: Length, slack: Length| {
            let (mut model, _) = drawer(Some(Length::from_inch(1, 2)), slack);
            if let Some(fit) = &mut model.hardware[0].slides {
                fit.slides.clearance = clearance;
            }
            let mut findings = Vec::new();
            run(Subject { model: &model, shop: &Shop::default(), proof: &Proved::new(&model) }, &mut findings);
            findings[0].hint.clone().unwrap()
        };
        let quarter = Length::from_inch(1, 256);
        assert!(hint(s(8) - quarter, quarter * 2).contains("at the middle of what works already"));
        assert!(hint(s(8), s(1).half()).contains("draw the gap as 1-1/32\", so that its middle is that of what works"));
    }

    #[test]
    fn an_opening_that_is_wider_elsewhere_is_no_matter_of_drawing() {
        // The box is drawn 1 in narrower than the smallest reading, and another reading is 1/8 in more: the gap is expected 1/16 in over
        // what was drawn, and its middle 1/32 over that of 1 to 1-1/16. It would have to be drawn under what the slides need.
        let hint = |wider: Length| {
            let (mut model, _) = drawer(Some(Length::from_inch(1, 2)), s(1).half());
            model.openings[0].widths.push(s(24 * 16) + wider);
            let mut findings = Vec::new();
            run(Subject { model: &model, shop: &Shop::default(), proof: &Proved::new(&model) }, &mut findings);
            findings[0].hint.clone().unwrap()
        };
        assert!(hint(s(2)).ends_with("shim the slides where the opening is wider, or cut these last, to fit"));
    }

    #[test]
    fn slides_without_slack_take_one_gap() {
        let (_, told) = drawer(Some(Length::from_inch(1, 2)), Length::ZERO);
        assert!(told[0].message.ends_with("and only 1\" works"), "{}", told[0]);
    }

    #[test]
    fn an_unmeasured_sheet_is_told_and_a_measured_one_with_room_is_not() {
        let (_, told) = drawer(None, s(1).half());
        assert_eq!(told.len(), 1);
        assert!(told[0].message.contains("in 61 cases of 100"), "{}", told[0]);
        assert!(told[0].hint.as_ref().unwrap().contains("3/32\" narrower"), "{}", told[0]);
        // Measured and with a wide window on both sides there is no doubt: the gap of 1 in lies in the middle of 15/16 to 1-1/16.
        let (mut model, _) = drawer(Some(Length::from_inch(1, 2)), s(1));
        if let Some(fit) = &mut model.hardware[0].slides {
            fit.slides.clearance = s(7) + s(1).half();
        }
        let mut findings = Vec::new();
        run(Subject { model: &model, shop: &Shop::default(), proof: &Proved::new(&model) }, &mut findings);
        assert_eq!(findings, vec![]);
    }
}
