//! Screws by gauge: their diameters, the holes for them and the lengths to be had.

use crate::base::{Length, Ratio, Unit};

/// The major diameter of a wood screw of a gauge: 0.060 in and 0.013 in for each number.
// SEEN: finescrews.com, screw-size-charts-gauge-diameters; the standard (ASME B18.6.1) was not seen.
pub fn screw_diameter(gauge: u8) -> Length {
    thousandths(60 + 13 * i64::from(gauge))
}

/// The diameter at the root of the thread: two thirds of the major diameter.
// SEEN (secondary): engineersedge.com, wood screw pull-out: "root diameter averages about two-thirds of shank diameter".
pub fn root_diameter(gauge: u8) -> Length {
    share(screw_diameter(gauge), Ratio::new(2, 3))
}

/// How hard the wood is that a lead hole is drilled into.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Hardness {
    /// Specific gravity of 0.6 and more: oak, hard maple, beech.
    Hard,
    /// Specific gravity from 0.5 to 0.6: walnut, cherry, soft maple.
    Medium,
    /// Specific gravity below 0.5: pine, poplar, alder.
    Soft,
}

/// The hole to drill for the thread, to the nearest 1/64 in: 90 % of the root diameter in hard wood, 70 % in medium wood;
/// soft wood takes the screw without one.
// SEEN: civilengineeringx.com, Wood-Screws (restates the NDS for screws loaded in withdrawal).
pub fn lead_hole(gauge: u8, hardness: Hardness) -> Option<Length> {
    let part = match hardness {
        Hardness::Hard => Ratio::new(9, 10),
        Hardness::Medium => Ratio::new(7, 10),
        Hardness::Soft => return None,
    };
    Some(share(root_diameter(gauge), part).to_nearest(DRILL_STEP))
}

/// The hole that lets the whole screw pass: its major diameter, up to the next 1/64 in.
// Common practice, no source: fractional drills come in steps of 1/64 in, and the screw must not bite in the first part.
pub fn clearance_hole(gauge: u8) -> Length {
    let steps = (screw_diameter(gauge).nm() + DRILL_STEP.nm() - 1) / DRILL_STEP.nm();
    DRILL_STEP * steps
}

/// The lengths of wood screws, shortest first, as they are sold in a unit.
pub const fn screw_lengths(unit: Unit) -> &'static [Length] {
    // Common practice, no source: lengths that a hardware store keeps.
    const INCH: &[Length] = &[
        Length::from_inch(1, 2),
        Length::from_inch(5, 8),
        Length::from_inch(3, 4),
        Length::from_inch(7, 8),
        Length::from_inch(1, 1),
        Length::from_inch(5, 4),
        Length::from_inch(3, 2),
        Length::from_inch(7, 4),
        Length::from_inch(2, 1),
        Length::from_inch(9, 4),
        Length::from_inch(5, 2),
        Length::from_inch(3, 1),
    ];
    const METRIC: &[Length] = &[
        Length::from_mm(12),
        Length::from_mm(16),
        Length::from_mm(20),
        Length::from_mm(25),
        Length::from_mm(30),
        Length::from_mm(35),
        Length::from_mm(40),
        Length::from_mm(45),
        Length::from_mm(50),
        Length::from_mm(60),
        Length::from_mm(70),
        Length::from_mm(80),
    ];
    match unit {
        Unit::Inch => INCH,
        Unit::Millimetre => METRIC,
    }
}

/// The lengths of pocket screws, shortest first, as they are sold in a unit.
pub const fn pocket_screw_lengths(unit: Unit) -> &'static [Length] {
    // Common practice, no source: no standard for pocket screws was found.
    const INCH: &[Length] = &[
        Length::from_inch(3, 4),
        Length::from_inch(1, 1),
        Length::from_inch(5, 4),
        Length::from_inch(3, 2),
        Length::from_inch(2, 1),
        Length::from_inch(5, 2),
    ];
    const METRIC: &[Length] = &[
        Length::from_mm(20),
        Length::from_mm(25),
        Length::from_mm(30),
        Length::from_mm(38),
        Length::from_mm(50),
        Length::from_mm(63),
    ];
    match unit {
        Unit::Inch => INCH,
        Unit::Millimetre => METRIC,
    }
}

/// What a screw of a gauge is sold as in millimetres: `3.5`, `4`.
// Common practice, no source: metric wood screws come in half millimetres; the nearest below the gauge's own diameter, so
// that the holes drilled for the gauge pass it.
pub fn metric_name(gauge: u8) -> String {
    let halves = screw_diameter(gauge).nm() / (Length::MM.nm() / 2);
    if halves % 2 == 0 { format!("{}", halves / 2) } else { format!("{}.5", halves / 2) }
}

/// The finest step between fractional drills.
// Common practice, no source.
const DRILL_STEP: Length = Length::from_inch(1, 64);

fn thousandths(count: i64) -> Length {
    Length::from_nm(count * (Length::INCH.nm() / 1_000))
}

/// A part of a diameter. Diameters are a few millimetres, so the product is always in range.
fn share(diameter: Length, part: Ratio) -> Length {
    diameter.times(part).unwrap_or(diameter)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn holes_for_a_number_eight() {
        // Major 0.060 + 8 x 0.013 = 0.164 in; root two thirds of it, 0.10933 in.
        // 90 % is 0.0984 in = 6.30/64, so 6/64; 70 % is 0.07653 in = 4.898/64, so 5/64. 0.164 in = 10.496/64, so 11/64.
        assert_eq!(lead_hole(8, Hardness::Hard), Some(Length::from_inch(6, 64)));
        assert_eq!(lead_hole(8, Hardness::Medium), Some(Length::from_inch(5, 64)));
        assert_eq!(lead_hole(8, Hardness::Soft), None);
        assert_eq!(clearance_hole(8), Length::from_inch(11, 64));
    }

    #[test]
    fn holes_keep_their_order_for_every_gauge() {
        for gauge in 0..=24 {
            let major = screw_diameter(gauge);
            assert!(clearance_hole(gauge) >= major && clearance_hole(gauge) - major < DRILL_STEP);
            assert!(lead_hole(gauge, Hardness::Medium) <= lead_hole(gauge, Hardness::Hard));
            assert!(lead_hole(gauge, Hardness::Hard) < Some(major));
        }
        for unit in [Unit::Inch, Unit::Millimetre] {
            assert!(screw_lengths(unit).is_sorted() && pocket_screw_lengths(unit).is_sorted());
        }
        // SEEN: #6 is 3.51 mm and #8 is 4.17 mm (albanycountyfasteners.com).
        assert_eq!([metric_name(6), metric_name(8)], ["3.5", "4"]);
    }
}
