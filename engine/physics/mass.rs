//! What parts weigh, and what loads do.

use num_traits::ToPrimitive;

use crate::base::{Axis, Solid, Unit};
use crate::catalog;
use crate::model::{Feature, Load, LoadUnit, Material, Part, Shape};

/// One pound in kilograms, exactly (international yard and pound agreement, 1959).
pub const POUND: f64 = 0.453_592_37;
/// Standard gravity in metres a second squared, exactly: newtons for each kilogram.
// From memory: the General Conference on Weights and Measures, 1901.
pub const GRAVITY: f64 = 9.806_65;
/// One foot in millimetres, exactly.
const FOOT: f64 = 304.8;

/// A weight, and whether the density of all that makes it up is known.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Mass {
    /// Kilograms.
    pub kg: f64,
    /// Kilograms of it whose density had to be assumed.
    pub assumed: f64,
}

impl std::iter::Sum for Mass {
    fn sum<I: Iterator<Item = Self>>(all: I) -> Self {
        all.fold(Self::default(), |a, b| Self { kg: a.kg + b.kg, assumed: a.assumed + b.assumed })
    }
}

/// Wood in a room holds about as much water as the tables' gravities are measured at: 12 % of its dry weight.
const WET: f64 = 1.12;

/// Kilograms to the cubic metre for what is not in the tables.
// Common practice, no source: the middle of what boards and sheets weigh.
const ASSUMED_DENSITY: f64 = 700.0;

/// The weight of a part: what it fills, less its trenches, steps, mortises, mitres and sockets of dovetails. Bands, screws and
/// finish are not counted, nor is what is drilled and filled again.
pub fn of_part(part: &Part) -> Mass {
    let taken: f64 = part.features.iter().map(|feature| taken(part, feature)).sum();
    let volume = (cubic_metres(&part.solid) - taken).max(0.0);
    match density(&part.stock.material) {
        Some(density) => Mass { kg: volume * density, assumed: 0.0 },
        None => Mass { kg: volume * ASSUMED_DENSITY, assumed: volume * ASSUMED_DENSITY },
    }
}

/// What a cut takes out of a part, in cubic metres.
fn taken(part: &Part, feature: &Feature) -> f64 {
    let Some(removed) = feature.solid.overlap(&part.solid) else { return 0.0 };
    let whole = cubic_metres(&removed);
    match feature.shape {
        Shape::Channel { .. } | Shape::Step { .. } | Shape::Mortise { .. } => whole,
        // A plane from edge to edge halves its cuboid.
        Shape::Bevel { .. } => whole / 2.0,
        // Each side comes in by the slope times the length; on the mean by half of that, at both sides together by the whole.
        Shape::Dovetail { along, slope, wide } => {
            let length = feature.solid.size(wide.axis()).mm_f64();
            let across = Axis::ALL.into_iter().find(|&axis| axis != along && axis != wide.axis());
            let width = across.map_or(0.0, |axis| feature.solid.size(axis).mm_f64());
            let rise = slope.to_f64().unwrap_or(0.0) * length;
            if width > rise { whole * (width - rise) / width } else { 0.0 }
        }
        // What is filled again weighs about the same.
        Shape::Bore(_) | Shape::Screw { .. } | Shape::Spline { .. } => 0.0,
    }
}

/// Kilograms to the cubic metre; wood as it is at 12 % of moisture.
pub fn density(material: &Material) -> Option<f64> {
    let gravity = f64::from(catalog::properties(material)?.gravity?.value) / 100.0;
    let wet = if matches!(material, Material::Wood(_)) { WET } else { 1.0 };
    Some(gravity * 1_000.0 * wet)
}

/// The whole of a load in kilograms, on a floor of a size in millimetres, the longer side first.
pub fn of_load(load: &Load, long: f64, wide: f64) -> f64 {
    let amount = load.amount.to_f64().unwrap_or(0.0);
    amount
        * match load.unit {
            LoadUnit::Kilograms => 1.0,
            LoadUnit::Pounds => POUND,
            LoadUnit::KilogramsPerSquareMetre => long * wide / 1e6,
            LoadUnit::PoundsPerSquareFoot => POUND * long * wide / (FOOT * FOOT),
            LoadUnit::KilogramsPerMetre => long / 1e3,
            LoadUnit::PoundsPerFoot => POUND * long / FOOT,
        }
}

/// Both sides of a solid as seen from above, in millimetres, the longer first.
pub fn floor(solid: &Solid) -> (f64, f64) {
    let (x, y) = (solid.size(Axis::X).mm_f64(), solid.size(Axis::Y).mm_f64());
    (x.max(y), x.min(y))
}

/// A weight as its reader thinks of it: in pounds where sizes are in inches, and in kilograms.
pub fn weight_text(kg: f64, unit: Unit) -> String {
    match unit {
        Unit::Inch => format!("{} lb ({} kg)", rounded(kg / POUND), rounded(kg)),
        Unit::Millimetre => format!("{} kg", rounded(kg)),
    }
}

/// To a tenth below ten, and whole from there on: more digits would say more than densities know.
fn rounded(amount: f64) -> String {
    if amount < 9.95 { format!("{amount:.1}") } else { format!("{amount:.0}") }
}

fn cubic_metres(solid: &Solid) -> f64 {
    Axis::ALL.into_iter().map(|axis| solid.size(axis).mm_f64() / 1e3).product()
}

#[cfg(test)]
mod tests {
    use std::sync::Arc;

    use super::*;
    use crate::base::{Face, Length, Ratio};
    use crate::model::{Bearer, JointId, Model, PartId};

    #[test]
    fn a_sheet_weighs_what_its_table_says() {
        // MDF of 0.80: a metre by half a metre by 18 mm is 0.009 m3, 7.2 kg; a groove of 10 x 9 mm along the metre takes 0.072 kg.
        let mdf = catalog::stock("18 mm MDF").unwrap();
        let solid = Solid::new([Length::ZERO; 3], [Length::from_mm(1000), Length::from_mm(500), Length::from_mm(18)]);
        let mut part = Part::new("shelf", Model::ROOT, mdf, solid);
        assert!((of_part(&part).kg - 7.2).abs() < 1e-9);
        let mut groove = solid;
        groove.low[1] = Length::from_mm(490);
        groove.low[2] = Length::from_mm(9);
        let shape = Shape::Channel { along: Axis::X, stopped: false };
        part.features.push(Feature { name: "groove", shape, solid: groove, face: Face::Top, joint: JointId(0) });
        assert!((of_part(&part).kg - 7.128).abs() < 1e-9);
        // What is not known is assumed and said to be.
        let mut odd = (*part.stock).clone();
        odd.material = Material::Other;
        part.stock = Arc::new(odd);
        assert!((of_part(&part).assumed - 0.00891 * 700.0).abs() < 1e-9);
    }

    #[test]
    fn a_mitre_takes_half_of_its_corner_and_a_dovetail_less_than_its_cuboid() {
        // MDF of 0.80: 1000 x 100 x 20 mm is 0.002 m3, 1.6 kg. A mitre of 100 x 100 x 20 takes half of 0.16 kg.
        let mm = Length::from_mm;
        let mdf = catalog::stock("18 mm MDF").unwrap();
        let solid = Solid::new([Length::ZERO; 3], [mm(1000), mm(100), mm(20)]);
        let mut part = Part::new("rail", Model::ROOT, mdf, solid);
        let mut corner = solid;
        corner.high[0] = mm(100);
        let shape = Shape::Bevel { along: Axis::Z, end: Face::Left };
        part.features.push(Feature { name: "mitre", shape, solid: corner, face: Face::Front, joint: JointId(0) });
        assert!((of_part(&part).kg - 1.52).abs() < 1e-9);
        // A socket 40 wide and 80 deep whose sides rise 1 in 8, 10 each: 30 wide on the mean, x 80 x 20 are 0.0384 kg.
        let socket = Solid::new([Length::ZERO, mm(30), Length::ZERO], [mm(80), mm(70), mm(20)]);
        let shape = Shape::Dovetail { along: Axis::Z, slope: Ratio::new(1, 8), wide: Face::Left };
        part.features = vec![Feature { name: "socket", shape, solid: socket, face: Face::Left, joint: JointId(0) }];
        assert!((of_part(&part).kg - (1.6 - 0.0384)).abs() < 1e-9);
    }

    #[test]
    fn hard_maple_at_twelve_percent() {
        // 0.63 x 1.12 = 0.7056.
        assert!((density(&Material::Wood("hard maple".into())).unwrap() - 705.6).abs() < 1e-9);
    }

    #[test]
    fn loads_come_to_kilograms() {
        let of = |amount: i64, unit| {
            let load =
                Load { on: Bearer::Part(PartId(0)), amount: Ratio::from_integer(amount), unit, of: None, at: None };
            // Three feet by one.
            of_load(&load, 914.4, 304.8)
        };
        assert!((of(40, LoadUnit::PoundsPerSquareFoot) - 120.0 * POUND).abs() < 1e-9);
        assert!((of(20, LoadUnit::PoundsPerFoot) - 60.0 * POUND).abs() < 1e-9);
        assert!((of(20, LoadUnit::KilogramsPerMetre) - 18.288).abs() < 1e-9);
        assert!((of(100, LoadUnit::KilogramsPerSquareMetre) - 27.870_912).abs() < 1e-9);
        assert!((of(7, LoadUnit::Pounds) - 3.175_146_59).abs() < 1e-9);
        assert_eq!(of(7, LoadUnit::Kilograms).to_bits(), 7.0_f64.to_bits());
    }

    #[test]
    fn weights_are_told_in_the_readers_unit() {
        assert_eq!(weight_text(3.175, Unit::Inch), "7.0 lb (3.2 kg)");
        assert_eq!(weight_text(45.36, Unit::Inch), "100 lb (45 kg)");
        assert_eq!(weight_text(45.36, Unit::Millimetre), "45 kg");
    }
}
