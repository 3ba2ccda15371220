//! How far a board swells and shrinks across its grain.

use super::moisture::{Season, season};
use crate::base::{Length, Printing, Unit};
use crate::catalog::{self, Figure};
use crate::diag::Finding;
use crate::model::{Material, Shop, Stock};

/// How a board was sawn from the log, as its end grain shows.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Sawn {
    /// Rings along the width: it moves the most. What is bought without asking is mostly this.
    Flat,
    /// Rings across the thickness.
    Quarter,
}

/// What a width of wood does in a year.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Movement {
    /// From its narrowest to its widest, in millimetres.
    pub mm: f64,
    /// The moisture contents between which it moves.
    pub season: Season,
    /// The wood whose figures were used.
    pub wood: &'static str,
    /// The coefficient, and where it is from.
    pub coefficient: Figure,
    /// Whether the wood is that of the stock; otherwise it is the one that moves the most of those known.
    pub known: bool,
}

/// How far a width of a stock moves across its grain between the driest and the dampest month. Sheets do not move enough
/// to speak of, nor does what is not of wood: `None`.
pub fn movement(stock: &Stock, width: Length, sawn: Sawn, shop: &Shop) -> Option<Movement> {
    let Material::Wood(species) = &stock.material else { return None };
    let row = catalog::wood(species).and_then(|wood| Some((wood.name, coefficient(wood, sawn)?)));
    let known = row.is_some();
    let (wood, coefficient) = row.or_else(the_most_restless)?;
    let season = season(shop);
    let share = share(coefficient);
    let mm = change(width.mm_f64(), share, season.dry, season.damp);
    Some(Movement { mm, season, wood, coefficient, known })
}

/// A note that the wood of a stock is not in the tables, and what was taken in its place.
pub fn wood_unknown(stock: &Stock, instead: &str) -> Finding {
    let species = match &stock.material {
        Material::Wood(species) if !species.trim().is_empty() => {
            format!("the wood `{}` of `{}`", species.trim(), stock.name)
        }
        _ => format!("the wood of `{}`", stock.name),
    };
    let message =
        format!("{species} is not in the tables; its movement is reckoned as for {instead}, which moves the most");
    Finding::note("wood-unknown", message)
        .hint("give a `species` that `casewright explain movement` lists, or check the room yourself")
}

/// The change of a width `across` the grain, in the unit of the width, for a coefficient (the share that one percent of moisture
/// makes) and two moisture contents in percent.
///
/// From 6 to 14 % the handbook's straight line holds; beyond, its other equation is used.
// SEEN (secondary): extension.org, 66444, restates Wood Handbook Eq. (13-2): dD = D C (M_F - M_I) from 6 to 14 %.
pub fn change(across: f64, share: f64, from: f64, to: f64) -> f64 {
    let holds = |moisture: f64| (6.0..=14.0).contains(&moisture);
    if holds(from) && holds(to) {
        return across * share * (to - from);
    }
    // DERIVED: the coefficient is S / (30 - 20 S), so that S = 30 C / (1 + 20 C).
    change_beyond(across, 30.0 * share / (1.0 + 20.0 * share), from, to)
}

/// The change by the whole shrinkage from green to ovendry, a share of the size; no moisture counts above 30 %.
// That the handbook has this equation, (13-3), and its limits are SEEN; the equation itself is from memory:
// dD = D (M_F - M_I) / (30 x 100 / S - 30 + M_I), with S in percent.
pub fn change_beyond(across: f64, shrinkage: f64, from: f64, to: f64) -> f64 {
    let (from, to) = (from.min(30.0), to.min(30.0));
    across * (to - from) / (30.0 / shrinkage - 30.0 + from)
}

/// A movement as a length that a shop can leave: up to the next division of its rule, or half a millimetre.
pub fn rounded_up(mm: f64, printing: Printing) -> Length {
    let step = match printing.unit {
        Unit::Inch => Length::from_inch(1, printing.denominator),
        Unit::Millimetre => Length::from_um(500),
    };
    let Some(steps) = num_traits::ToPrimitive::to_i64(&(mm / step.mm_f64()).ceil()) else { return Length::ZERO };
    step * steps
}

fn coefficient(wood: &catalog::Properties, sawn: Sawn) -> Option<Figure> {
    match sawn {
        Sawn::Flat => wood.tangential,
        // Where only one is known it is the larger.
        Sawn::Quarter => wood.radial.or(wood.tangential),
    }
}

/// The wood of the largest coefficient: what is not known may move as much.
fn the_most_restless() -> Option<(&'static str, Figure)> {
    catalog::woods()
        .iter()
        .filter_map(|wood| Some((wood.name, wood.tangential?)))
        .max_by_key(|(_, coefficient)| coefficient.value)
}

/// A coefficient as a share of the size: it is written in hundred thousandths.
fn share(coefficient: Figure) -> f64 {
    f64::from(coefficient.value) / 100_000.0
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_wood_that_is_not_known_moves_like_beech() {
        let named = |species: &str| {
            Stock::new(
                "board",
                Material::Wood(species.into()),
                crate::model::StockForm::Board { widths: Vec::new(), lengths: Vec::new() },
                Length::INCH,
            )
        };
        let shop = Shop::default();
        let of = |species: &str, sawn| movement(&named(species), Length::from_mm(100), sawn, &shop).unwrap();
        assert_eq!(of("bog rose", Sawn::Flat).mm.to_bits(), of("beech", Sawn::Flat).mm.to_bits());
        assert!(!of("bog rose", Sawn::Flat).known && of("beech", Sawn::Flat).known);
        assert!(of("white oak", Sawn::Quarter).mm < of("white oak", Sawn::Flat).mm);
        let mut sheet = named("oak");
        sheet.material = Material::HardwoodPlywood;
        assert_eq!(movement(&sheet, Length::from_mm(100), Sawn::Flat, &shop), None);
    }

    #[test]
    fn room_is_left_by_the_rule() {
        let inches = Printing { unit: Unit::Inch, denominator: 32 };
        // 3.0 mm is 0.1181 in, 3.78 thirty-seconds: 4 of them are an eighth.
        assert_eq!(rounded_up(3.0, inches), Length::from_inch(1, 8));
        assert_eq!(rounded_up(0.0, inches), Length::ZERO);
        let metric = Printing { unit: Unit::Millimetre, denominator: 32 };
        assert_eq!(rounded_up(3.01, metric), Length::from_um(3_500));
        assert_eq!(rounded_up(3.0, metric), Length::from_mm(3));
    }
}
