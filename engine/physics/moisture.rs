//! How damp wood becomes in the air that it stands in.

use num_traits::ToPrimitive;

use crate::model::{Air, Shop};

/// The moisture content in percent that wood comes to in air of a temperature in degrees Celsius and a relative humidity from
/// 0 to 1, if it stays there long enough.
///
/// The equation of Hailwood and Horrobin with two hydrates, as Simpson (FPL-RN-0268, 1998) fitted it.
// SEEN: in an open library that cites Simpson 1998 (ConSciR, calcEMC_wood). It is at most 0.9 points off the handbook's table, 0.13
// on the average: SEEN, forestprod.org, equilibrium-moisture-content-prediction-for-wood.
pub fn equilibrium(celsius: f64, humidity: f64) -> f64 {
    let t = celsius;
    let w = 349.0 + 1.29 * t + 0.0135 * t * t;
    let k = 0.805 + 0.000_736 * t - 0.000_002_73 * t * t;
    let k1 = 6.27 - 0.009_38 * t - 0.000_303 * t * t;
    let k2 = 1.91 + 0.0407 * t - 0.000_293 * t * t;
    let kh = k * humidity;
    let dissolved = kh / (1.0 - kh);
    let bound = (k1 * kh + 2.0 * k1 * k2 * kh * kh) / (1.0 + k1 * kh + k1 * k2 * kh * kh);
    1800.0 / w * (dissolved + bound)
}

/// The moisture content of wood at both ends of the year, in percent.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Season {
    /// In the driest month.
    pub dry: f64,
    /// In the dampest.
    pub damp: f64,
}

/// The moisture content that wood comes to in the driest and the dampest air of a shop file.
pub fn season(shop: &Shop) -> Season {
    let of = |air: Air| equilibrium(float(air.celsius), float(air.humidity));
    Season { dry: of(shop.driest), damp: of(shop.dampest) }
}

fn float(number: crate::base::Ratio) -> f64 {
    number.to_f64().unwrap_or(0.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_lived_in_room_stays_where_the_coefficients_hold() {
        // The table of the handbook at 70 F: 6.2 % at 30 % humidity, 12.0 % at 65 %; coefficients hold from 6 to 14 %.
        let season = season(&Shop::default());
        assert!((season.dry - 6.2).abs() < 0.1, "{season:?}");
        assert!((season.damp - 12.0).abs() < 0.1, "{season:?}");
    }
}
