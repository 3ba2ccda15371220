//! The readings of an opening differ too much.

use super::{Check, Subject};
use crate::base::Length;
use crate::diag::Finding;

/// The check.
pub(super) const CHECK: Check = Check {
    code: "opening-out-of-true",
    summary: "two readings of an opening's width or height differ by more than the limit",
    why: "The smallest reading counts, so that what is built goes in; but an opening that tapers leaves uneven reveals and slides \
          that are not parallel, and has to be shimmed or scribed.",
    source: "common practice, no source",
    run,
};

fn run(subject: Subject<'_>, findings: &mut Vec<Finding>) {
    let print = subject.model.printing;
    for opening in &subject.model.openings {
        for (what, readings) in [("width", &opening.widths), ("height", &opening.heights)] {
            let (Some(low), Some(high)) = (readings.iter().min(), readings.iter().max()) else { continue };
            let apart = *high - *low;
            if apart <= opening.limit + Length::SAME_SIZE {
                continue;
            }
            findings.push(
                Finding::warning(
                    CHECK.code,
                    format!(
                        "the {what} of `{}` was read from {} to {}, {} apart; {} is the limit",
                        opening.name,
                        print.length(*low),
                        print.length(*high),
                        print.length(apart),
                        print.length(opening.limit)
                    ),
                )
                .at(opening.at.clone())
                .hint(format!("the job is built to {}; measure again, and plan to shim or scribe", print.length(*low)))
                .source(CHECK.source),
            );
        }
    }
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
                limit: s(2),
                at: None,
            });
            found(model, &CHECK)
        };
        assert!(opening(s(386)).is_empty());
        assert_eq!(opening(s(386) + Length::from_um(2)).len(), 1);
    }
}
