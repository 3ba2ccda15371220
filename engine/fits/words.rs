//! What a fit says to its maker.

use super::{Fit, FitKind, Source, Spread, Term};
use crate::base::{Length, Printing};

/// Fits that are alike, as one line: `how_many` boxes, panels or fronts with the same gap from the same causes.
#[derive(Clone, Debug, PartialEq)]
pub struct Kin<'a> {
    /// The first of them.
    pub first: &'a Fit,
    /// What each of them is called, in the order of the recipe; those of one name together.
    pub of: Vec<&'a str>,
    /// How many they are.
    pub how_many: usize,
    /// What becomes of the gap.
    pub spread: Spread,
}

/// Draws fits together that are alike.
pub fn kin(fits: &[Fit]) -> Vec<Kin<'_>> {
    let mut groups: Vec<Kin<'_>> = Vec::new();
    for fit in fits {
        match groups.iter_mut().find(|kin| kin.first.is_like(fit)) {
            Some(kin) => {
                kin.how_many += 1;
                if !kin.of.contains(&fit.of.as_str()) {
                    kin.of.push(&fit.of);
                }
            }
            None => groups.push(Kin { first: fit, of: vec![&fit.of], how_many: 1, spread: Spread::of(fit) }),
        }
    }
    groups
}

impl Kin<'_> {
    /// The share that is expected to fit in whole percent, rounded down, so that 100 means all.
    pub fn percent(&self) -> u8 {
        // A share is from 0 to 1, and a thousandth of a percent is lost to rounding before.
        #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
        let percent = (self.spread.share * 100.0 + 1e-6).floor() as u8;
        percent
    }
}

impl Fit {
    /// The input that matters most and what it does: `the box gets 3/32" narrower if 1/2 birch plywood is really 29/64"`.
    pub fn matters_most_in_words(&self, printing: Printing) -> String {
        let Some((term, off)) = self.matters_most() else { return "nothing in it may be off".to_owned() };
        // Tolerances are finer than the rule that sizes are printed to.
        let fine = Printing { denominator: 64, ..printing };
        let size = |length: Length| fine.length(length.abs());
        format!("{} if {}", self.effect(term, off * term.times, &size), cause(term, off, fine))
    }

    fn effect(&self, term: &Term, worst: Length, size: &dyn Fn(Length) -> String) -> String {
        let of_opening = matches!(term.of, Source::Opening(_));
        match (self.kind, worst.is_negative()) {
            (FitKind::BoxInOpening, smaller) if !of_opening => {
                format!("the box gets {} {}", size(worst), if smaller { "wider" } else { "narrower" })
            }
            (FitKind::BoxInOpening, smaller) => {
                format!("the slides get {} {} room", size(worst), if smaller { "less" } else { "more" })
            }
            (FitKind::PanelInGroove | FitKind::ShelfInDado, smaller) => {
                format!("the fit gets {} {}", size(worst), if smaller { "tighter" } else { "looser" })
            }
            (FitKind::FrontAcross | FitKind::FrontsUp, smaller) => {
                format!("the reveals together get {} {}", size(worst), if smaller { "smaller" } else { "larger" })
            }
        }
    }
}

fn cause(term: &Term, off: Length, fine: Printing) -> String {
    let by = fine.length(off.abs());
    let low = off.is_negative();
    match &term.of {
        Source::Thickness(stock, drawn) => format!("{stock} is really {}", fine.length(*drawn + off)),
        Source::Cut(part) => format!("`{part}` is cut {by} too {}", if low { "small" } else { "large" }),
        Source::Depth(part) => format!("the cut in `{part}` is {by} too {}", if low { "shallow" } else { "deep" }),
        Source::Trench(part) => format!("the cut in `{part}` is {by} too {}", if low { "narrow" } else { "wide" }),
        Source::Opening(opening) => format!("`{opening}` is {by} {}", if low { "smaller" } else { "larger" }),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::model::PartId;

    #[test]
    fn the_thickness_of_both_sides_matters_most() {
        let term = |of, times, low: i64, high: i64| Term {
            of,
            times,
            low: Length::from_inch(low, 64),
            high: Length::from_inch(high, 64),
        };
        let half = Length::from_inch(1, 2);
        let fit = Fit {
            kind: FitKind::BoxInOpening,
            of: "drawer".into(),
            part: PartId(0),
            nominal: Length::INCH,
            least: Length::INCH,
            most: Length::from_inch(17, 16),
            terms: vec![
                term(Source::Opening("bay".into()), 1, -1, 1),
                term(Source::Thickness("1/2 birch plywood".into(), half), -2, -3, 0),
                term(Source::Cut("front".into()), -1, -1, 1),
            ],
        };
        // Two sides, each 3/64 thinner: the box is 6/64 = 3/32 narrower; 1/2 less 3/64 is 29/64.
        assert_eq!(
            fit.matters_most_in_words(Printing::default()),
            "the box gets 3/32\" narrower if 1/2 birch plywood is really 29/64\""
        );
    }
}
