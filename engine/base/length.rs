//! A length is a whole number of nanometres, so that every size a shop can name is exact.

use std::fmt;
use std::iter::Sum;
use std::ops::{Add, AddAssign, Mul, Neg, Sub, SubAssign};

use num_traits::{CheckedMul, ToPrimitive};

/// An exact fraction of two whole numbers, always in lowest terms.
pub type Ratio = num_rational::Ratio<i64>;

/// The two units in which a job is read and printed.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Unit {
    /// Inches and their fractions.
    Inch,
    /// Millimetres.
    Millimetre,
}

impl Unit {
    /// The short name used on the command line and in column names: `in` or `mm`.
    pub const fn short(self) -> &'static str {
        match self {
            Self::Inch => "in",
            Self::Millimetre => "mm",
        }
    }

    /// The unit of a short name, if it is one of the two.
    pub fn from_short(text: &str) -> Option<Self> {
        match text {
            "in" | "inch" => Some(Self::Inch),
            "mm" => Some(Self::Millimetre),
            _ => None,
        }
    }
}

/// A length or position in whole nanometres.
///
/// Every 0.001 mm, every 1/64 in (396 875 nm) and every 0.001 in (25 400 nm) is a whole number of them.
/// Lengths that come from a maker are held within [`Length::LIMIT`] by the checked operations, so that the plain
/// operators of the engine cannot overflow.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Length(i64);

/// A result that left the range of lengths, or a division by zero.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct OutOfRange;

impl Length {
    /// No length at all.
    pub const ZERO: Self = Self(0);
    /// One millimetre.
    pub const MM: Self = Self(1_000_000);
    /// One inch, 25.4 mm exactly (international yard and pound agreement, 1959).
    pub const INCH: Self = Self(25_400_000);
    /// The longest length that a maker may write, each way from zero: one kilometre.
    pub const LIMIT: Self = Self(1_000_000_000_000);
    /// Two sizes that differ by no more than this are one size to a saw: one micrometre.
    pub const SAME_SIZE: Self = Self(1_000);

    /// The length of so many nanometres.
    pub const fn from_nm(nm: i64) -> Self {
        Self(nm)
    }

    /// The length of so many whole millimetres.
    pub const fn from_mm(mm: i64) -> Self {
        Self(mm * Self::MM.0)
    }

    /// The length of so many thousandths of a millimetre.
    pub const fn from_um(um: i64) -> Self {
        Self(um * 1_000)
    }

    /// `numerator/denominator` of an inch, for the denominators of a rule (1, 2, 4 ... 64), all of which are exact.
    pub const fn from_inch(numerator: i64, denominator: i64) -> Self {
        Self(numerator * Self::INCH.0 / denominator)
    }

    /// The whole nanometres in this length.
    pub const fn nm(self) -> i64 {
        self.0
    }

    /// `count` of `unit`, to the nearest nanometre.
    pub fn of(count: Ratio, unit: Unit) -> Result<Self, OutOfRange> {
        let one = match unit {
            Unit::Inch => Self::INCH,
            Unit::Millimetre => Self::MM,
        };
        one.times(count)
    }

    /// This length as an exact count of `unit`.
    pub fn in_unit(self, unit: Unit) -> Ratio {
        match unit {
            Unit::Inch => Ratio::new(self.0, Self::INCH.0),
            Unit::Millimetre => Ratio::new(self.0, Self::MM.0),
        }
    }

    /// The sum, refused beyond [`Length::LIMIT`].
    pub fn plus(self, other: Self) -> Result<Self, OutOfRange> {
        self.0.checked_add(other.0).ok_or(OutOfRange).and_then(Self::held)
    }

    /// The difference, refused beyond [`Length::LIMIT`].
    pub fn minus(self, other: Self) -> Result<Self, OutOfRange> {
        self.0.checked_sub(other.0).ok_or(OutOfRange).and_then(Self::held)
    }

    /// This length `factor` times, to the nearest nanometre (a half goes away from zero).
    pub fn times(self, factor: Ratio) -> Result<Self, OutOfRange> {
        let product = i128::from(self.0) * i128::from(*factor.numer());
        let nm = round_div(product, i128::from(*factor.denom()));
        i64::try_from(nm).map_err(|_| OutOfRange).and_then(Self::held)
    }

    /// This length divided by `divisor`, to the nearest nanometre; zero is refused.
    pub fn over(self, divisor: Ratio) -> Result<Self, OutOfRange> {
        if *divisor.numer() == 0 {
            return Err(OutOfRange);
        }
        // Not by the reciprocal: the smallest number of all has no positive counterpart to put below the line.
        let product = i128::from(self.0) * i128::from(*divisor.denom());
        let nm = round_div(product, i128::from(*divisor.numer()));
        i64::try_from(nm).map_err(|_| OutOfRange).and_then(Self::held)
    }

    /// How many times `other` goes into this length, exactly; zero is refused.
    pub fn ratio_to(self, other: Self) -> Result<Ratio, OutOfRange> {
        if other.0 == 0 { Err(OutOfRange) } else { Ok(Ratio::new(self.0, other.0)) }
    }

    /// Splits this length into `count` pieces that differ by at most a nanometre and add up to it exactly.
    pub fn split(self, count: usize) -> Vec<Self> {
        let Ok(n) = i64::try_from(count) else { return Vec::new() };
        if n == 0 {
            return Vec::new();
        }
        let (each, rest) = (self.0.div_euclid(n), self.0.rem_euclid(n));
        (0..n).map(|i| Self(each + i64::from(i < rest))).collect()
    }

    /// The distance from zero.
    #[must_use]
    pub const fn abs(self) -> Self {
        Self(self.0.abs())
    }

    /// Half of this length, to the nanometre below.
    #[must_use]
    pub const fn half(self) -> Self {
        Self(self.0.div_euclid(2))
    }

    /// Whether this is more than nothing.
    pub const fn is_positive(self) -> bool {
        self.0 > 0
    }

    /// Whether this is less than nothing.
    pub const fn is_negative(self) -> bool {
        self.0 < 0
    }

    /// Whether the two lengths are one size to a saw (see [`Length::SAME_SIZE`]).
    pub fn same_size(self, other: Self) -> bool {
        (self - other).abs() <= Self::SAME_SIZE
    }

    /// The nearest whole multiple of `step` (a half goes away from zero); a step of zero changes nothing.
    #[must_use]
    pub fn to_nearest(self, step: Self) -> Self {
        if step.0 == 0 {
            return self;
        }
        let count = round_div(i128::from(self.0), i128::from(step.0));
        i64::try_from(count * i128::from(step.0)).map_or(self, Self)
    }

    /// The length in millimetres as a floating number: for physics and pictures, never for a size.
    pub fn mm_f64(self) -> f64 {
        self.0.to_f64().unwrap_or(f64::NAN) / 1e6
    }

    fn held(nm: i64) -> Result<Self, OutOfRange> {
        if nm.unsigned_abs() > Self::LIMIT.0.unsigned_abs() { Err(OutOfRange) } else { Ok(Self(nm)) }
    }
}

/// Integer division to the nearest, a half away from zero. `divisor` is not zero.
pub(super) fn round_div(value: i128, divisor: i128) -> i128 {
    let (value, divisor) = if divisor < 0 { (-value, -divisor) } else { (value, divisor) };
    if value >= 0 { (value + divisor / 2) / divisor } else { -((-value + divisor / 2) / divisor) }
}

/// The product of two ratios, or nothing when it does not fit.
pub(super) fn checked_product(a: Ratio, b: Ratio) -> Option<Ratio> {
    a.checked_mul(&b)
}

impl Add for Length {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self(self.0 + other.0)
    }
}

impl Sub for Length {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        Self(self.0 - other.0)
    }
}

impl Neg for Length {
    type Output = Self;
    fn neg(self) -> Self {
        Self(-self.0)
    }
}

impl AddAssign for Length {
    fn add_assign(&mut self, other: Self) {
        self.0 += other.0;
    }
}

impl SubAssign for Length {
    fn sub_assign(&mut self, other: Self) {
        self.0 -= other.0;
    }
}

/// A small whole count of a length. Counts in the engine are numbers of parts or screws, far below overflow.
impl Mul<i64> for Length {
    type Output = Self;
    fn mul(self, count: i64) -> Self {
        Self(self.0 * count)
    }
}

impl Sum for Length {
    fn sum<I: Iterator<Item = Self>>(lengths: I) -> Self {
        lengths.fold(Self::ZERO, Add::add)
    }
}

/// Exact millimetres: `428.625 mm`.
impl fmt::Display for Length {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} mm", super::notation::decimal_mm(*self))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn shop_divisions_are_whole_nanometres() {
        // 25.4 mm to the inch, so 1/64 in = 0.396875 mm and 0.001 in = 0.0254 mm.
        assert_eq!(Length::from_inch(1, 64).nm(), 396_875);
        assert_eq!(Length::of(Ratio::new(1, 1000), Unit::Inch), Ok(Length::from_nm(25_400)));
        assert_eq!(Length::from_um(1).nm(), 1_000);
    }

    proptest! {
        #[test]
        fn every_64th_and_thousandth_is_exact(n in -2_000_000_i64..2_000_000) {
            for (den, unit) in [(64, Unit::Inch), (1000, Unit::Inch), (1000, Unit::Millimetre)] {
                let count = Ratio::new(n, den);
                let length = Length::of(count, unit).unwrap();
                prop_assert_eq!(length.in_unit(unit), count);
            }
        }

        #[test]
        fn split_pieces_add_up_and_are_even(nm in -1_000_000_000_000_i64..1_000_000_000_000, count in 1_usize..200) {
            let whole = Length::from_nm(nm);
            let pieces = whole.split(count);
            prop_assert_eq!(pieces.len(), count);
            prop_assert_eq!(pieces.iter().copied().sum::<Length>(), whole);
            let (low, high) = (pieces.iter().min().unwrap(), pieces.iter().max().unwrap());
            prop_assert!((*high - *low).nm() <= 1);
        }

        #[test]
        fn times_is_within_half_a_nanometre(nm in -1_000_000_000_i64..1_000_000_000, n in -50_i64..50, d in 1_i64..50) {
            let length = Length::from_nm(nm).times(Ratio::new(n, d)).unwrap();
            let twice_off = 2 * (i128::from(length.nm()) * i128::from(d) - i128::from(nm) * i128::from(n));
            prop_assert!(twice_off.abs() <= i128::from(d));
        }
    }

    #[test]
    fn range_and_zero_are_refused() {
        assert_eq!(Length::LIMIT.plus(Length::from_nm(1)), Err(OutOfRange));
        assert_eq!(Length::LIMIT.times(Ratio::from_integer(i64::MAX)), Err(OutOfRange));
        assert_eq!(Length::MM.over(Ratio::from_integer(0)), Err(OutOfRange));
        assert_eq!(Length::MM.over(Ratio::from_integer(i64::MIN)), Ok(Length::ZERO));
        assert_eq!(Length::LIMIT.times(Ratio::from_integer(i64::MIN)), Err(OutOfRange));
        assert_eq!(Length::MM.ratio_to(Length::ZERO), Err(OutOfRange));
        assert!(Length::MM.split(0).is_empty());
    }
}
