//! `stock.csv`: sheets and boards to buy by area and length. It is an estimate until the parts are laid out, and says so.

use super::cells::Table;
use super::{Paper, Subject};

/// What to buy.
pub(super) const STOCK: Paper = Paper {
    file: "stock.csv",
    summary: "sheets and boards to buy, by area and length with the shop's waste: an estimate until the parts are laid out",
    write,
};

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
        let (net, name) = row.net.measured(unit);
        let (gross, _) = row.with_waste.measured(unit);
        table.number(net).number(row.waste_percent).number(gross).text(name);
        match (row.net.measured_length(unit), row.with_waste.measured_length(unit)) {
            (Some((net, long)), Some((gross, _))) => table.number(net).number(gross).text(long),
            _ => table.nothing().nothing().nothing(),
        };
        match row.to_buy {
            Some((count, length, width)) => table.number(count).text(&plan.printing.by(length, width)),
            None => table.nothing().nothing(),
        };
        table.cost(row.cost).text(&row.note).end();
    }
    table.finish()
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
