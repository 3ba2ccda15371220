//! Amounts to buy in the units of the yard: square feet and board feet, square and cubic metres. Papers and terminal read
//! them here, so that they cannot disagree.

use super::{Amount, BOARD_FOOT};
use crate::base::{Length, Unit};

/// An amount in a unit: the decimal that is printed, and the unit's name.
pub type Measured = (String, &'static str);

const CUBIC_METRE: i128 = (1_000 * Length::MM.nm() as i128).pow(3);
const SQUARE_MM: i128 = (Length::MM.nm() as i128).pow(2);

impl Amount {
    /// The area of sheets, or the volume of boards, rounded up.
    pub fn measured(self, unit: Unit) -> Measured {
        match (self, unit) {
            (Self::Area(area), _) => {
                let (name, square) = area_unit(unit);
                (rounded_up(area, square, 2), name)
            }
            (Self::Board { volume, .. }, Unit::Inch) => (rounded_up(volume, BOARD_FOOT, 2), "board ft"),
            (Self::Board { volume, .. }, Unit::Millimetre) => (rounded_up(volume, CUBIC_METRE, 5), "m3"),
        }
    }

    /// The length of boards, rounded up; sheets have none.
    pub fn measured_length(self, unit: Unit) -> Option<Measured> {
        match self {
            Self::Area(_) => None,
            Self::Board { length, .. } => Some(long(length, unit, 2)),
        }
    }
}

/// An area that is given in square millimetres, to one place, rounded up: glue.
pub fn glue(square_mm: i64, unit: Unit) -> Measured {
    let (name, square) = area_unit(unit);
    (rounded_up(i128::from(square_mm) * SQUARE_MM, square, 1), name)
}

/// A length in feet or metres, rounded up.
pub fn long(length: Length, unit: Unit, places: u32) -> Measured {
    let (name, one) = long_unit(unit);
    (rounded_up(i128::from(length.nm()), one, places), name)
}

/// The larger unit of length: feet or metres, and how many nanometres it has.
pub const fn long_unit(unit: Unit) -> (&'static str, i128) {
    match unit {
        Unit::Inch => ("ft", 12 * Length::INCH.nm() as i128),
        Unit::Millimetre => ("m", 1_000 * Length::MM.nm() as i128),
    }
}

/// The unit of area: square feet or square metres, and how many square nanometres it has.
const fn area_unit(unit: Unit) -> (&'static str, i128) {
    let (_, side) = long_unit(unit);
    let name = match unit {
        Unit::Inch => "ft2",
        Unit::Millimetre => "m2",
    };
    (name, side * side)
}

/// `value / unit` as a decimal, up to the next place, without trailing zeros: what to buy is never rounded down.
fn rounded_up(value: i128, unit: i128, places: u32) -> String {
    let scale = 10_i128.pow(places);
    let scaled = value.saturating_mul(scale);
    let units = scaled.div_euclid(unit) + i128::from(scaled.rem_euclid(unit) != 0);
    let (whole, rest) = (units / scale, units % scale);
    let digits = format!("{rest:0width$}", width = places as usize);
    match digits.trim_end_matches('0') {
        "" => whole.to_string(),
        digits => format!("{whole}.{digits}"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn amounts_are_in_the_units_of_the_yard() {
        let inch = i128::from(Length::INCH.nm());
        // Four board feet, 8 ft long.
        let board = Amount::Board { length: Length::from_inch(96, 1), volume: inch.pow(3) * 144 * 4 };
        assert_eq!(board.measured(Unit::Inch), ("4".to_owned(), "board ft"));
        assert_eq!(board.measured_length(Unit::Inch), Some(("8".to_owned(), "ft")));
        // A board foot is 1/12 of a cubic foot of 0.028316846592 m3 (exact from the inch): 0.002359737, up to 0.00236.
        let foot = Amount::Board { length: Length::from_inch(12, 1), volume: inch.pow(3) * 144 };
        assert_eq!(foot.measured(Unit::Millimetre), ("0.00236".to_owned(), "m3"));
        assert_eq!(Amount::Area(1_500_000_000_000_000_000).measured(Unit::Millimetre), ("1.5".to_owned(), "m2"));
        // 100 000 mm2 are 0.1 m2 = 1.0764 ft2, up to 1.1.
        assert_eq!(glue(100_000, Unit::Inch), ("1.1".to_owned(), "ft2"));
    }

    #[test]
    fn amounts_are_rounded_up() {
        assert_eq!(rounded_up(0, 10, 2), "0");
        assert_eq!(rounded_up(10, 10, 2), "1");
        assert_eq!(rounded_up(1, 1_000, 1), "0.1");
        assert_eq!(rounded_up(1_234, 1_000, 2), "1.24");
        assert_eq!(rounded_up(1_999, 1_000, 2), "2");
    }
}
