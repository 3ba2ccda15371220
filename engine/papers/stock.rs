//! `stock.csv`: sheets and boards to buy by area and length. It is an estimate until the parts are laid out, and says so.

use super::cells::{Table, area_unit, long_unit, rounded_up};
use super::{Paper, Subject};
use crate::base::{Length, Unit};
use crate::plan::{Amount, BOARD_FOOT};

/// What to buy.
pub(super) const STOCK: Paper = Paper {
    file: "stock.csv",
    summary: "sheets and boards to buy, by area and length with the shop's waste: an estimate until the parts are laid out",
    write,
};

const CUBIC_METRE: i128 = (1_000 * Length::MM.nm() as i128).pow(3);

fn write(subject: Subject<'_>) -> Vec<u8> {
    let plan = subject.plan;
    let unit = plan.printing.unit;
    let thickness = format!("thickness_{}", unit.short());
    let header = [
        "stock",
        "parts",
        &thickness,
        "thickness",
        "net",
        "waste_percent",
        "with_waste",
        "unit",
        "net_length",
        "with_waste_length",
        "length_unit",
        "buy",
        "buy_size",
        "cost",
        "note",
    ];
    let mut table = Table::new(plan.printing, &header);
    for row in &plan.buying {
        table.text(&row.stock).number(row.parts).decimal(row.thickness).size(row.thickness);
        let (name, per, places) = measure(row.net, unit);
        table.number(rounded_up(whole(row.net), per, places)).number(row.waste_percent);
        table.number(rounded_up(whole(row.with_waste), per, places)).text(name);
        match (row.net, row.with_waste) {
            (Amount::Board { length: net, .. }, Amount::Board { length: gross, .. }) => {
                let (long, per) = long_unit(unit);
                table.number(rounded_up(i128::from(net.nm()), per, 2));
                table.number(rounded_up(i128::from(gross.nm()), per, 2)).text(long);
            }
            _ => {
                table.nothing().nothing().nothing();
            }
        }
        match row.to_buy {
            Some((count, length, width)) => table.number(count).text(&plan.printing.by(length, width)),
            None => table.nothing().nothing(),
        };
        table.cost(row.cost).text(&row.note).end();
    }
    table.finish()
}

/// The unit in which an amount is bought, what it holds in nanometres squared or cubed, and the places that are worth printing.
const fn measure(amount: Amount, unit: Unit) -> (&'static str, i128, u32) {
    match (amount, unit) {
        (Amount::Area(_), _) => {
            let (name, square) = area_unit(unit);
            (name, square, 2)
        }
        (Amount::Board { .. }, Unit::Inch) => ("board ft", BOARD_FOOT, 2),
        (Amount::Board { .. }, Unit::Millimetre) => ("m3", CUBIC_METRE, 5),
    }
}

const fn whole(amount: Amount) -> i128 {
    match amount {
        Amount::Area(area) => area,
        Amount::Board { volume, .. } => volume,
    }
}

#[cfg(test)]
mod tests {
    use super::super::testing::{two_drawers, with_subject};
    use super::*;

    #[test]
    fn an_estimate_says_that_it_is_one() {
        let text = String::from_utf8(with_subject(&two_drawers(), write)).unwrap();
        let records: Vec<_> =
            csv::Reader::from_reader(text.as_bytes()).records().map(|record| record.unwrap()).collect();
        let fields: Vec<&str> = records[0].iter().collect();
        // Four sides of 20 x 4 in are 320 in2 = 2.222 ft2, up to 2.23; with a fifth more 2.667 ft2, up to 2.67. One sheet.
        assert_eq!(
            fields[..13],
            ["1/2 birch plywood", "4", "0.5", "1/2\"", "2.23", "20", "2.67", "ft2", "", "", "", "1", "96\" x 48\""]
        );
        assert!(fields[14].contains("not yet laid out"));
        let boards: Vec<&str> = records[1].iter().collect();
        // Two fronts of 17 x 5 in out of 3/4 in boards, sold as 4/4: 170 in3 = 1.1806 board feet, up to 1.19; with a fifth
        // 1.4167, up to 1.42. Length 34 in = 2.833 ft, up to 2.84; with a fifth 3.4 ft.
        assert_eq!(
            boards[..13],
            [
                "3/4 hard maple board",
                "2",
                "0.75",
                "3/4\"",
                "1.19",
                "20",
                "1.42",
                "board ft",
                "2.84",
                "3.4",
                "ft",
                "",
                ""
            ]
        );
    }
}
