//! How far a panel may be from its named thickness and still meet its standard.

use super::stock::is_inch_size;
use crate::base::{Length, Ratio};
use crate::model::{Material, Stock};

/// The thickness that a standard allows for a stock.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct ThicknessTolerance {
    /// The thinnest that still meets it.
    pub low: Length,
    /// The thickest that still meets it.
    pub high: Length,
    /// The standard, and how far it was seen.
    pub source: &'static str,
}

/// What the standard for a stock's material allows at its named thickness; `None` where no standard is known to us.
///
/// Solid wood has none: the source for its surfaced thickness says that there is no standard. For fibreboard the figure is for the
/// average over a panel, not for one reading.
pub fn thickness_tolerance(stock: &Stock) -> Option<ThicknessTolerance> {
    let named = stock.named;
    let allow = |below: Length, above: Length, source| {
        Some(ThicknessTolerance { low: named - below, high: named + above, source })
    };
    match stock.material {
        Material::HardwoodPlywood => {
            // SEEN (secondary): popularwoodworking.com, make-a-plywood-thickness-tester: +0, -3/64 in.
            let source = "ANSI/HPVA HP-1: +0, -3/64 in (as a magazine restates it)";
            allow(Length::from_inch(3, 64), Length::ZERO, source)
        }
        Material::SandedPlywood => {
            // SEEN (secondary): apawood-europe.org, tolerances-4: 1/64 in to 3/4 in, 3 % above. The page has 3/4 in both bands;
            // the tighter one is taken.
            let source =
                "PS 1-19, sanded: 1/64 in each way to 3/4 in, 3 % above (as the trade association restates it)";
            let off = if named <= Length::from_inch(3, 4) { Length::from_inch(1, 64) } else { percent(named, 3) };
            allow(off, off, source)
        }
        Material::MetricPlywood => {
            // From memory: EN 315, sanded: +(0.2 + 0.03 t), -(0.4 + 0.03 t) mm. A birch mill's table that was seen
            // (plyterra.com, size-and-koinos) is equal to it or tighter.
            let source = "EN 315, sanded: +(0.2 + 0.03 t), -(0.4 + 0.03 t) mm (from memory)";
            let share = percent(named, 3);
            allow(Length::from_um(400) + share, Length::from_um(200) + share, source)
        }
        Material::Mdf if is_inch_size(named) => {
            // SEEN (secondary): issuu.com, surfaceandpanel, sandp_bg2014: 0.005 in (0.125 mm) each way for the panel's average.
            let source = "ANSI A208.2: 0.005 in each way for the average of a panel (as an industry guide restates it)";
            let off = Length::from_um(127);
            allow(off, off, source)
        }
        Material::Mdf => {
            // From memory: EN 622-1, 0.2 mm each way to 19 mm, 0.3 mm above.
            let source = "EN 622-1: 0.2 mm each way to 19 mm, 0.3 mm above (from memory)";
            let off = Length::from_um(if named <= Length::from_mm(19) { 200 } else { 300 });
            allow(off, off, source)
        }
        Material::Particleboard | Material::Hardboard | Material::Wood(_) | Material::Other => None,
    }
}

fn percent(of: Length, percent: i64) -> Length {
    of.times(Ratio::new(percent, 100)).unwrap_or(Length::ZERO)
}

#[cfg(test)]
mod tests {
    use super::super::{stock, stock_names};
    use super::*;

    #[test]
    fn every_panel_tolerance_holds_its_name() {
        for name in stock_names() {
            let stock = stock(name).unwrap();
            if let Some(allowed) = thickness_tolerance(&stock) {
                assert!(
                    allowed.low <= stock.named && stock.named <= allowed.high && allowed.low.is_positive(),
                    "{name}"
                );
            }
        }
    }

    #[test]
    fn what_has_no_standard_says_so() {
        for name in ["3/4 hard maple board", "3/4 particleboard", "1/4 hardboard", "maple veneer band 7/8"] {
            assert_eq!(thickness_tolerance(&stock(name).unwrap()), None, "{name}");
        }
    }
}
