//! `stock.csv`: sheets and boards to buy and to use, from the stock plan; by area and volume where there is no plan.

use super::cells::Table;
use super::{Paper, Subject};
use crate::plan::{BuyRow, StockLayout};

/// What to buy and use.
pub(super) const STOCK: Paper = Paper {
    file: "stock.csv",
    summary: "sheets and boards to buy and to use, with what they cost, as the parts are laid out on them",
    write,
};

fn write(subject: Subject<'_>) -> Vec<u8> {
    let plan = subject.plan;
    let thickness = format!("thickness_{}", plan.printing.unit.short());
    let header = [
        "stock",
        "parts",
        &thickness,
        "thickness",
        "net",
        "amount",
        "unit",
        "net_length",
        "amount_length",
        "length_unit",
        "use",
        "qty",
        "size",
        "cost",
        "lost_percent",
        "proof",
        "note",
    ];
    let mut table = Table::new(plan.printing, &header);
    for stock in &plan.cutting.plan().stocks {
        match &stock.unplanned {
            None => planned(&mut table, subject, stock),
            Some(why) => {
                let rows = plan.buying.iter().filter(|row| row.stock == stock.stock);
                for row in rows {
                    estimated(&mut table, subject, row, why);
                }
            }
        }
    }
    table.finish()
}

/// A row for each size; what holds for the stock as a whole stands in the first, so that the columns can be added up.
fn planned(table: &mut Table, subject: Subject<'_>, stock: &StockLayout) {
    let printing = subject.plan.printing;
    for (i, row) in stock.uses.iter().enumerate() {
        let first = i == 0;
        table.text(&stock.stock);
        if first {
            table.number(stock.parts);
        } else {
            table.nothing();
        }
        table.decimal(stock.thickness).size(stock.thickness);
        if first {
            amounts(table, subject, stock.net, stock.used);
        } else {
            (0..6).for_each(|_| {
                table.nothing();
            });
        }
        table.text(row.source.name()).number(row.count).text(&printing.by(row.length, row.width)).cost(row.cost);
        if first {
            table.number(stock.areas.lost_percent());
            table.text(&stock.proof.map(crate::plan::Proof::words).unwrap_or_default());
            let notes: Vec<&str> = stock.notes.iter().chain(&stock.neighbours).map(String::as_str).collect();
            table.text(&notes.join("; "));
        } else {
            table.nothing().nothing().nothing();
        }
        table.end();
    }
}

fn estimated(table: &mut Table, subject: Subject<'_>, row: &BuyRow, why: &str) {
    table.text(&row.stock).number(row.parts).decimal(row.thickness).size(row.thickness);
    amounts(table, subject, row.net, row.with_waste);
    table.text("buy");
    match row.to_buy {
        Some((count, length, width)) => table.number(count).text(&subject.plan.printing.by(length, width)),
        None => table.nothing().nothing(),
    };
    table.cost(row.cost).nothing().text("an estimate, not laid out");
    table.text(&format!("{why}; {} % more for waste; {}", row.waste_percent, row.note)).end();
}

fn amounts(table: &mut Table, subject: Subject<'_>, net: crate::plan::Amount, used: crate::plan::Amount) {
    let unit = subject.plan.printing.unit;
    let (net_amount, name) = net.measured(unit);
    let (amount, _) = used.measured(unit);
    table.number(net_amount).number(amount).text(name);
    match (net.measured_length(unit), used.measured_length(unit)) {
        (Some((net, long)), Some((used, _))) => table.number(net).number(used).text(long),
        _ => table.nothing().nothing().nothing(),
    };
}

#[cfg(test)]
mod tests {
    use super::super::testing::{two_drawers, with_subject};
    use super::*;

    #[test]
    fn boards_of_any_size_are_laid_out_on_those_that_a_yard_has() {
        let text = String::from_utf8(with_subject(&two_drawers(), write)).unwrap();
        let records: Vec<_> =
            csv::Reader::from_reader(text.as_bytes()).records().map(|record| record.unwrap()).collect();
        let fields: Vec<&str> = records[0].iter().collect();
        // Four sides of 20 x 4 in are 320 in2 = 2.222 ft2, up to 2.23, from one sheet of 4 x 8 ft, which is 32 ft2.
        let expected =
            ["1/2 birch plywood", "4", "0.5", "1/2\"", "2.23", "32", "ft2", "", "", "", "buy", "1", "96\" x 48\"", ""];
        assert_eq!(fields[..14], expected);
        assert!(fields[15].starts_with("proven"), "{fields:?}");
        let boards: Vec<&str> = records[1].iter().collect();
        // Two fronts of 17 x 5 in out of 3/4 in boards, sold as 4/4: 170 in3 = 1.1806 board feet, up to 1.19. Length 34 in = 2.833 ft,
        // up to 2.84. One board of 8 ft x 6 in is 576 in3, 4 board feet.
        let expected = [
            "3/4 hard maple board",
            "2",
            "0.75",
            "3/4\"",
            "1.19",
            "4",
            "board ft",
            "2.84",
            "8",
            "ft",
            "buy",
            "1",
            "96\" x 6\"",
            "",
        ];
        assert_eq!(boards[..14], expected);
        assert!(boards[15].starts_with("proven") && boards[16].contains("any width and length"), "{boards:?}");
    }
}
