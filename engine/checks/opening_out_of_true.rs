//! The readings of an opening differ too much.

use super::{Check, Subject};
use crate::base::{Length, Printing};
use crate::diag::Finding;
use crate::model::{Diagonals, Opening};

/// The check.
pub(super) const CHECK: Check = Check {
    code: "opening-out-of-true",
    summary: "an opening tapers or leans by more than the limit, or its readings contradict each other",
    why: "The smallest reading counts, so that what is built goes in; but an opening that tapers leaves uneven reveals and slides \
          that are not parallel, and has to be shimmed or scribed. Diagonals tell how far the sides lean: with a floor of width w \
          the squares of the diagonals differ by 4 w times the lean. The job is built to the largest rectangle that stands level and \
          upright in the opening. With both sides and both diagonals read there is one reading too many: the squares of the \
          diagonals together are twice the squares of width and height together, and where they are not, one reading is wrong.",
    source: "common practice, no source, for the limit; the rest is plain geometry",
    run,
};

fn run(subject: Subject<'_>, findings: &mut Vec<Finding>) {
    for opening in &subject.model.openings {
        let tell = |finding: Finding| findings.push(finding.at(opening.at.clone()).source(CHECK.source));
        tapers(opening, subject.model.printing).chain(leans(opening, subject.model.printing)).for_each(tell);
    }
}

fn tapers(opening: &Opening, print: Printing) -> impl Iterator<Item = Finding> {
    let both = [("width", &opening.widths), ("height", &opening.heights)];
    both.into_iter().filter_map(move |(what, readings)| {
        let (low, high) = (*readings.iter().min()?, *readings.iter().max()?);
        let apart = high - low;
        (apart > opening.limit + Length::SAME_SIZE).then(|| {
            Finding::warning(
                CHECK.code,
                format!(
                    "the {what} of `{}` was read from {} to {}, {} apart; {} is the limit",
                    opening.name,
                    print.length(low),
                    print.length(high),
                    print.length(apart),
                    print.length(opening.limit)
                ),
            )
            .hint(format!("the job is built to {}; measure again, and plan to shim or scribe", print.length(low)))
        })
    })
}

fn leans(opening: &Opening, print: Printing) -> impl Iterator<Item = Finding> {
    opening.diagonals.into_iter().flat_map(move |read| {
        let lean = opening.lean();
        let side = if lean.is_negative() { "left" } else { "right" };
        let leaning = (lean.abs() > opening.limit + Length::SAME_SIZE).then(|| {
            Finding::warning(
                CHECK.code,
                format!(
                    "the diagonals of `{}` read {} rising and {} falling, so its sides lean {} to the {side}; {} is the limit",
                    opening.name,
                    print.length(read.rising),
                    print.length(read.falling),
                    print.length(lean.abs()),
                    print.length(opening.limit)
                ),
            )
            .hint(format!(
                "the largest upright rectangle in it is {}: boxes and fronts lose {} of width; bring the case into square, or \
                 plan to shim and scribe",
                print.by(opening.width(), opening.height()),
                print.length(lean.abs())
            ))
        });
        leaning.into_iter().chain(contradiction(opening, read, print))
    })
}

/// Diagonals that cannot belong to the widths and heights that were read, even with the limit allowed.
fn contradiction(opening: &Opening, read: Diagonals, print: Printing) -> Option<Finding> {
    let diagonal = |width: &Length, height: &Length| Diagonals { rising: *width, falling: *height }.mean();
    // The mean of two squares, times two, is their sum: the diagonal of a rectangle is the root of two times its `mean`.
    let (shortest, longest) = (
        diagonal(opening.widths.iter().min()?, opening.heights.iter().min()?),
        diagonal(opening.widths.iter().max()?, opening.heights.iter().max()?),
    );
    let root_two = |length: Length| {
        let square = u128::from(length.nm().unsigned_abs()).pow(2);
        Length::from_nm(i64::try_from((2 * square).isqrt()).unwrap_or(i64::MAX))
    };
    let (low, high) = (root_two(shortest), root_two(longest));
    let mean = read.mean();
    let allowed = opening.limit + Length::SAME_SIZE;
    (mean < low - allowed || mean > high + allowed).then(|| {
        Finding::warning(
            CHECK.code,
            format!(
                "the diagonals of `{}` read {} and {}, and its width and height make {} on the mean: one reading is wrong",
                opening.name,
                print.length(read.rising),
                print.length(read.falling),
                print.length(if mean < low { low } else { high })
            ),
        )
        .hint("measure width, height and both diagonals again")
    })
}

#[cfg(test)]
mod tests {
    use super::super::bench::{found, job, s};
    use super::*;
    use crate::base::Solid;
    use crate::model::{Model, Opening};

    #[test]
    fn an_eighth_is_allowed_and_a_thousandth_of_a_millimetre_more_is_not() {
        let opening = |second: Length| {
            let mut model = job();
            model.add_opening(Opening {
                name: "bay".into(),
                piece: Model::ROOT,
                solid: Solid::new([Length::ZERO; 3], [s(384); 3]),
                widths: vec![s(384), second],
                heights: vec![s(384)],
                diagonals: None,
                limit: s(2),
                at: None,
            });
            found(model, &CHECK)
        };
        assert!(opening(s(386)).is_empty());
        assert_eq!(opening(s(386) + Length::from_um(2)).len(), 1);
    }

    /// An opening 40 in wide and 30 in high with these diagonals, and what is told.
    fn leaning(rising: Length, falling: Length) -> Vec<Finding> {
        let mut model = job();
        model.add_opening(Opening {
            name: "bay".into(),
            piece: Model::ROOT,
            solid: Solid::new([Length::ZERO; 3], [s(640), s(320), s(480)]),
            widths: vec![s(640)],
            heights: vec![s(480)],
            diagonals: Some(Diagonals { rising, falling }),
            limit: s(2),
            at: None,
        });
        found(model, &CHECK)
    }

    #[test]
    fn a_lean_of_an_eighth_is_allowed_and_a_thousandth_of_a_millimetre_more_is_not() {
        // 40 by 30 has a diagonal of 50. With a lean x the squares are 2500 + 80 x and 2500 - 80 x: the difference is 160 x. A lean of
        // 1/8 in = 3 175 000 nm: 2510 and 2490, whose roots are 50.099900 and 49.899900 in.
        let root = |square: f64| {
            #[allow(clippy::cast_possible_truncation)]
            let nm = (square.sqrt() * 25_400_000.0).floor() as i64;
            Length::from_nm(nm)
        };
        assert!(leaning(root(2500.0), root(2500.0)).is_empty());
        assert!(leaning(root(2510.0), root(2490.0)).is_empty());
        // 2 micrometres more lean: 160 in times 0.002 mm / 25.4 = 0.0126 square inches, shared by both.
        let told = leaning(root(2510.0063), root(2490.0 - 0.0063));
        assert_eq!(told.len(), 1, "{told:?}");
        assert!(told[0].message.contains("lean 1/8\"+ to the right"), "{}", told[0]);
        assert!(leaning(root(2480.0), root(2520.0))[0].message.contains("lean 1/4\" to the left"));
    }

    #[test]
    fn readings_that_cannot_all_be_true_are_told() {
        // The diagonal of 40 by 30 is 50 in. An eighth more is the limit.
        let fifty = Length::from_inch(50, 1);
        let eighth = Length::from_inch(1, 8);
        assert!(leaning(fifty + eighth, fifty + eighth).is_empty());
        let more = fifty + eighth + Length::from_um(2);
        let told = leaning(more, more);
        assert!(told[0].message.contains("one reading is wrong"), "{}", told[0]);
        let less = fifty - eighth - Length::from_um(2);
        assert_eq!(leaning(less, less).len(), 1);
    }
}
