//! The edge-band bill: one row for each band and width.

use super::buying::{Bought, cost, waste_of_price};
use super::{BandRow, StockTable};
use crate::base::Length;
use crate::model::{Model, Shop, StockForm};

/// The rows in order of first appearance.
pub(super) fn bands<'a>(model: &'a Model, shop: &Shop, stocks: &mut StockTable<'a>) -> Vec<BandRow> {
    let mut groups: Vec<Option<Group>> = Vec::new();
    let mut order = Vec::new();
    for part in &model.parts {
        for band in &part.bands {
            let place = stocks.place(&band.stock);
            if groups.len() <= place {
                groups.resize_with(place + 1, || None);
            }
            let group = groups[place].get_or_insert_with(|| {
                order.push(place);
                Group::default()
            });
            let (length, trimmed) = (part.band_length(band), part.trimmed_after_banding(part.edge_axis(band.edge)));
            group.edges += 1;
            group.net += length;
            group.trimmed += trimmed;
            group.longest = group.longest.max(length + trimmed + shop.band_allowance * 2);
        }
    }
    order.into_iter().filter_map(|place| groups[place].as_ref().map(|group| row(stocks, place, group, shop))).collect()
}

#[derive(Default)]
struct Group {
    edges: i64,
    net: Length,
    trimmed: Length,
    /// The longest single strip with its allowances.
    longest: Length,
}

fn row(stocks: &StockTable<'_>, place: usize, group: &Group, shop: &Shop) -> BandRow {
    let stock = stocks.0[place];
    let (width, roll) = match stock.form {
        StockForm::Band { width, roll, .. } => (width, roll.filter(|roll| roll.is_positive())),
        // A part may be banded with any stock; of what is no band, the strip is as wide as it is thick.
        StockForm::Sheet { .. } | StockForm::Board { .. } => (stock.thickness(), None),
    };
    let to_buy = group.net + group.trimmed + shop.band_allowance * (2 * group.edges);
    let rolls = roll.map(|roll| ((to_buy.nm() + roll.nm() - 1) / roll.nm(), roll));
    let mut notes = Vec::new();
    if rolls.is_some() {
        notes.push("rolls by length: the ends of rolls that are too short for an edge are not counted".to_owned());
    } else {
        notes.push("not sold on rolls: ripped or bought by length".to_owned());
    }
    if roll.is_some_and(|roll| group.longest > roll) {
        notes.push("an edge is longer than a roll: its band needs a joint".to_owned());
    }
    let bought = Bought { rolls: rolls.map(|(count, _)| count), length: Some(to_buy), ..Bought::default() };
    let cost = cost(stock.price, &bought);
    notes.extend(waste_of_price(stock.price, cost));
    BandRow {
        band: stock.name.clone(),
        width,
        thickness: stock.thickness(),
        edges: group.edges,
        net: group.net,
        allowance: shop.band_allowance,
        trimmed: group.trimmed,
        to_buy,
        rolls,
        cost,
        note: notes.join("; "),
    }
}

#[cfg(test)]
mod tests {
    use std::sync::Arc;

    use super::*;
    use crate::base::{Face, Printing, Solid};
    use crate::catalog;
    use crate::model::{Banding, BandingOrder, Money, Part, Per, Price, Stock};

    /// A 30 x 11 in shelf of 3/4 in plywood with a band on its front, and on its ends where asked.
    fn job(band: &Arc<Stock>, shelves: usize, edges: &[Face]) -> Model {
        let mut model = Model::new("case", Printing::default());
        let high = [Length::from_inch(30, 1), Length::from_inch(11, 1), Length::from_inch(3, 4)];
        for _ in 0..shelves {
            let plywood = catalog::stock("3/4 birch plywood").unwrap();
            let mut part = Part::new("shelf", Model::ROOT, plywood, Solid::new([Length::ZERO; 3], high));
            part.bands = edges
                .iter()
                .map(|&edge| Banding {
                    stock: band.clone(),
                    edge,
                    runs_through: edge == Face::Front,
                    taken_off: band.is_taken_off(),
                })
                .collect();
            model.add_part(part);
        }
        model
    }

    fn bill(model: &Model) -> Vec<BandRow> {
        bands(model, &Shop::default(), &mut StockTable::default())
    }

    #[test]
    fn rolls_are_whole_and_every_edge_has_its_ends() {
        // Twelve shelves: net 12 x 30 = 360 in, and an inch at each of 24 ends: 384 in. Rolls of 300 in: two, at 8.00.
        let mut band = (*catalog::stock("birch veneer band 7/8").unwrap()).clone();
        band.price = Some(Price { amount: Money(800), per: Per::Roll });
        let rows = bill(&job(&Arc::new(band), 12, &[Face::Front]));
        assert_eq!(rows.len(), 1);
        let row = &rows[0];
        assert_eq!((row.edges, row.net, row.to_buy), (12, Length::from_inch(360, 1), Length::from_inch(384, 1)));
        assert_eq!(row.rolls, Some((2, Length::from_inch(300, 1))));
        assert_eq!(row.cost, Some(Money(1_600)));
    }

    #[test]
    fn lipping_stops_behind_the_one_that_runs_through() {
        // Front 30 in; each end 11 in less the front's 1/4 in: 30 + 2 x 10-3/4 = 51-1/2 in, and six ends of an inch.
        let rows =
            bill(&job(&catalog::stock("1/4 maple lipping").unwrap(), 1, &[Face::Front, Face::Left, Face::Right]));
        assert_eq!((rows[0].net, rows[0].to_buy), (Length::from_inch(103, 2), Length::from_inch(115, 2)));
        assert_eq!(rows[0].rolls, None);
    }

    #[test]
    fn band_on_an_oversize_core_covers_what_is_trimmed_off() {
        let mut model = job(&catalog::stock("birch veneer band 7/8").unwrap(), 1, &[Face::Front]);
        model.parts[0].banding_order = BandingOrder::BeforeSizing(Length::from_inch(1, 2));
        // 30 in, 1/2 in that is trimmed off with the core, an inch at both ends.
        let row = &bill(&model)[0];
        assert_eq!(
            (row.net, row.trimmed, row.to_buy),
            (Length::from_inch(30, 1), Length::from_inch(1, 2), Length::from_inch(65, 2))
        );
    }

    #[test]
    fn an_edge_longer_than_a_roll_is_told() {
        let mut band = (*catalog::stock("birch veneer band 7/8").unwrap()).clone();
        band.form = StockForm::Band { width: Length::INCH, roll: Some(Length::from_inch(31, 1)), taken_off: false };
        // 30 in and two ends of an inch are longer than 31 in.
        assert!(bill(&job(&Arc::new(band), 1, &[Face::Front]))[0].note.contains("longer than a roll"));
    }
}
