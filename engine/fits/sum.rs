//! What becomes of a gap when every size that goes into it may be off.

use super::{Fit, Term};
use crate::base::Length;

/// The gap's range, worst and likely, and the share that fits.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Spread {
    /// The smallest and largest gap, when everything is off to the same side.
    pub worst: (Length, Length),
    /// The middle of the range, less and plus the root of the sum of the squares.
    pub likely: (Length, Length),
    /// The share of pieces whose gap works, from 0 to 1, when each size lies anywhere in its range with equal chance.
    pub share: f64,
}

impl Spread {
    /// The spread of a fit.
    ///
    /// The root of the sum of squares is how independent errors add up (common practice in engineering drawing, no source). Sizes are
    /// whole nanometres throughout; only the share is a floating number.
    pub fn of(fit: &Fit) -> Self {
        let reach = |term: &Term| {
            let (a, b) = (term.low * term.times, term.high * term.times);
            (a.min(b), a.max(b))
        };
        let ranges: Vec<(Length, Length)> = fit.terms.iter().map(reach).collect();
        let low = fit.nominal + ranges.iter().map(|range| range.0).sum::<Length>();
        let high = fit.nominal + ranges.iter().map(|range| range.1).sum::<Length>();
        let middle = low + (high - low).half();
        let squares: u128 = ranges.iter().map(|range| u128::from((range.1 - range.0).nm().unsigned_abs()).pow(2)).sum();
        // The ranges are whole widths, twice what each may be off to one side.
        let root = Length::from_nm(i64::try_from(squares.isqrt()).unwrap_or(i64::MAX)).half();
        let widths: Vec<f64> = ranges.iter().map(|range| nm(range.1 - range.0)).filter(|width| *width > 0.0).collect();
        let below = |gap: Length| below(&widths, nm(gap - low));
        let share = if widths.is_empty() {
            f64::from(u8::from(fit.least <= low && low <= fit.most))
        } else {
            (below(fit.most) - below(fit.least)).clamp(0.0, 1.0)
        };
        Self { worst: (low, high), likely: (middle - root, middle + root), share }
    }
}

// Lengths are below 2^53 nm (some nine thousand kilometres), so nothing is lost.
#[allow(clippy::cast_precision_loss)]
fn nm(length: Length) -> f64 {
    length.nm() as f64
}

/// More sums than this take longer, and are so close to the bell curve that nobody could tell.
const MOST_EXACT: usize = 8;
/// A range that is this small a share of the whole moves no percentage.
const NEGLIGIBLE: f64 = 1e-4;

/// The chance that a sum of independent numbers, each anywhere from 0 to its width with equal chance, is at most `sum`.
///
/// For a few widths exactly, by inclusion and exclusion over the corners of the box that they span: the volume of the box below a
/// plane, from memory (Feller, An Introduction to Probability Theory, volume 2, I.9). For many, by the bell curve of the same middle and variance.
fn below(widths: &[f64], sum: f64) -> f64 {
    let whole: f64 = widths.iter().sum();
    let shares: Vec<f64> = widths.iter().map(|width| width / whole).filter(|share| *share > NEGLIGIBLE).collect();
    let rest: f64 = 1.0 - shares.iter().sum::<f64>();
    let at = sum / whole - rest / 2.0;
    if at <= 0.0 {
        return 0.0;
    }
    if at >= 1.0 - rest {
        return 1.0;
    }
    if shares.len() > MOST_EXACT {
        let variance: f64 = shares.iter().map(|share| share * share / 12.0).sum();
        let off = (at - (1.0 - rest) / 2.0) / variance.sqrt();
        return 0.5 * libm::erfc(-off / std::f64::consts::SQRT_2);
    }
    let mut volume = 0.0;
    for corner in 0_u32..1 << shares.len() {
        let chosen: f64 = shares.iter().enumerate().filter(|(i, _)| corner >> i & 1 == 1).map(|(_, share)| share).sum();
        let over = at - chosen;
        if over > 0.0 {
            // Multiplied out, because the standard library's powers may differ from machine to machine.
            let power = shares.iter().fold(1.0, |power, _| power * over);
            volume += if corner.count_ones() % 2 == 0 { power } else { -power };
        }
    }
    let mut scale = 1.0;
    for (i, share) in (1_u32..).zip(&shares) {
        scale *= share * f64::from(i);
    }
    (volume / scale).clamp(0.0, 1.0)
}

#[cfg(test)]
mod tests {
    use super::super::{FitKind, Source};
    use super::*;
    use crate::model::PartId;
    use proptest::prelude::*;

    fn term(times: i64, low: i64, high: i64) -> Term {
        Term { of: Source::Cut("x".into()), times, low: Length::from_um(low), high: Length::from_um(high) }
    }

    fn fit(nominal: i64, least: i64, most: i64, terms: Vec<Term>) -> Fit {
        let [nominal, least, most] = [nominal, least, most].map(Length::from_um);
        Fit { kind: FitKind::BoxInOpening, of: "box".into(), part: PartId(0), nominal, least, most, terms }
    }

    #[test]
    fn worst_and_likely_by_hand() {
        // A gap of 25 mm; two sides of one sheet that may be 1 mm thinner (the gap grows by up to 2), a front cut within 0.4 each
        // way, an opening read within 0.4 each way. Worst: 25 - 0.4 - 0.4 = 24.2 and 25 + 2 + 0.8 = 27.8.
        // Half ranges 1, 0.4, 0.4: root of 1 + 0.16 + 0.16 = 1.32 is 1.148913; middle 26: 24.851087 to 27.148913.
        let spread =
            Spread::of(&fit(25_000, 0, 99_000, vec![term(-2, -1_000, 0), term(-1, -400, 400), term(1, -400, 400)]));
        assert_eq!(spread.worst, (Length::from_um(24_200), Length::from_um(27_800)));
        assert!((spread.likely.0.nm() - 24_851_087).abs() <= 1 && (spread.likely.1.nm() - 27_148_913).abs() <= 1);
        assert!((spread.share - 1.0).abs() < 1e-9);
    }

    #[test]
    fn shares_by_hand() {
        // One size anywhere in 0 to 4: a quarter of it is below 1, so three quarters work from 1 on.
        assert!((Spread::of(&fit(0, 1, 9, vec![term(1, 0, 4)])).share - 0.75).abs() < 1e-9);
        // Two sizes anywhere in 0 to 1: their sum is below 1/2 with a chance of 1/8 (a triangle of legs 1/2).
        assert!((below(&[1.0, 1.0], 0.5) - 0.125).abs() < 1e-12);
        // Three: below 1 with a chance of 1/6 (the corner of a cube).
        assert!((below(&[1.0, 1.0, 1.0], 1.0) - 1.0 / 6.0).abs() < 1e-12);
        // Nothing is off: it works or it does not.
        assert!((Spread::of(&fit(5, 5, 5, vec![])).share - 1.0).abs() < 1e-12);
        assert!(Spread::of(&fit(4, 5, 5, vec![])).share.abs() < 1e-12);
        // Half of everything is below the middle, by the exact way and by the bell curve.
        assert!((below(&[1.0; 8], 4.0) - 0.5).abs() < 1e-9);
        assert!((below(&[1.0; 9], 4.5) - 0.5).abs() < 1e-9);
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(24))]

        /// The share against a hundred thousand throws of the dice. The standard error of a share is at most 0.5/sqrt(100000) =
        /// 0.0016; five of them are allowed, and half a percent more where the bell curve stands in.
        #[test]
        fn the_share_agrees_with_many_throws(
            ranges in prop::collection::vec((-3_i64..=3, 0_i64..2_000, 0_i64..2_000), 1..12),
            nominal in -500_i64..500, window in (-4_000_i64..2_000, 0_i64..8_000), seed in any::<u64>(),
        ) {
            let terms: Vec<Term> = ranges.iter().map(|&(times, low, high)| term(times, -low, high)).collect();
            let fit = fit(nominal, window.0, window.0 + window.1, terms);
            let spread = Spread::of(&fit);
            prop_assume!(spread.worst.0 != spread.worst.1);
            let mut state = seed;
            let mut dice = || {
                // Steele, Lea and Flood, "Fast splittable pseudorandom number generators" (2014).
                state = state.wrapping_add(0x9e37_79b9_7f4a_7c15);
                let mut z = state;
                z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
                z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
                f64::from(u32::try_from((z ^ (z >> 31)) >> 32).unwrap()) / f64::from(u32::MAX)
            };
            let throws = 100_000;
            let mut fits = 0;
            for _ in 0..throws {
                let off: f64 = fit.terms.iter().map(|term| {
                    let size = nm(term.low) + dice() * nm(term.high - term.low);
                    size * f64::from(i32::try_from(term.times).unwrap())
                }).sum();
                let gap = nm(fit.nominal) + off;
                prop_assert!(gap >= nm(spread.worst.0) - 1.0 && gap <= nm(spread.worst.1) + 1.0);
                fits += i32::from(gap >= nm(fit.least) && gap <= nm(fit.most));
            }
            let found = f64::from(fits) / f64::from(throws);
            prop_assert!((found - spread.share).abs() < 0.008 + 0.005, "{found} and {}", spread.share);
        }
    }
}
