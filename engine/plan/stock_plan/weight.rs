//! What a piece of stock weighs, roughly: to say when a second person is needed.

use crate::base::{Length, Unit};
use crate::catalog;
use crate::model::{Material, Stock};

/// The weight in grams of a piece of this length and width.
pub(super) fn grams(stock: &Stock, length: Length, width: Length) -> i64 {
    let volume = i128::from(length.nm()) * i128::from(width.nm());
    let volume = volume.saturating_mul(i128::from(stock.thickness().nm()));
    // A kilogram to the cubic metre is a gram to 10^24 cubic nanometres.
    let grams = volume.saturating_mul(density(&stock.material)) / 10_i128.pow(24);
    i64::try_from(grams).unwrap_or(i64::MAX)
}

/// Kilograms to the cubic metre: for panels the upper end of what is usual, so that nobody lifts more than was said; wood as it is at
/// 12 % of moisture.
fn density(material: &Material) -> i128 {
    let known = catalog::properties(material).and_then(|known| known.heaviest.or(known.gravity));
    let wet = if matches!(material, Material::Wood(_)) { 112 } else { 100 };
    known.map_or(UNKNOWN, |gravity| i128::from(gravity.value) * wet / 10)
}

/// Kilograms to the cubic metre of what is in no table.
// Common practice, no source: the upper end of what boards and sheets weigh.
const UNKNOWN: i128 = 800;

/// A weight in whole kilograms or pounds.
pub(super) fn words(grams: i64, unit: Unit) -> String {
    // SEEN (secondary): the pound is 0.45359237 kg by the agreement of 1959.
    match unit {
        Unit::Millimetre => format!("{} kg", (grams + 500) / 1_000),
        Unit::Inch => format!("{} lb", (i128::from(grams) * 100_000 + 22_679_618) / 45_359_237),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_sheet_of_plywood_weighs_what_it_does() {
        // 2440 x 1220 x 18 mm are 0.0535824 m3; at 600 kg/m3 32.149 kg, which are 70.88 lb.
        let stock = catalog::stock("18 mm birch plywood").unwrap();
        let grams = grams(&stock, Length::from_mm(2440), Length::from_mm(1220));
        assert_eq!(grams, 32_149);
        assert_eq!((words(grams, Unit::Millimetre), words(grams, Unit::Inch)), ("32 kg".into(), "71 lb".into()));
    }
}
