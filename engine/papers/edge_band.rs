//! `edge-band.csv`: how much of each band to buy.

use super::cells::Table;
use super::{Paper, Subject};
use crate::plan::amounts;

/// The edge-band bill.
pub(super) const EDGE_BAND: Paper = Paper {
    file: "edge-band.csv",
    summary: "band and lipping: edges, net length, allowance at each end, length and rolls to buy",
    write,
};

fn write(subject: Subject<'_>) -> Vec<u8> {
    let plan = subject.plan;
    let unit = plan.printing.unit.short();
    let (long, _) = amounts::long_unit(plan.printing.unit);
    let exact = ["width", "thickness", "net", "end_allowance", "to_buy"].map(|size| format!("{size}_{unit}"));
    let [width, thickness, net, allowance, to_buy] = exact.each_ref().map(String::as_str);
    let in_long = format!("to_buy_{long}");
    let header = [
        "band",
        width,
        thickness,
        "edges",
        net,
        allowance,
        to_buy,
        "width",
        "thickness",
        "net",
        "end_allowance",
        "to_buy",
        &in_long,
        "rolls",
        "roll_length",
        "cost",
        "note",
    ];
    let mut table = Table::new(plan.printing, &header);
    for row in &plan.bands {
        table.text(&row.band).decimal(row.width).decimal(row.thickness).number(row.edges);
        table.decimal(row.net).decimal(row.allowance).decimal(row.to_buy);
        table.size(row.width).size(row.thickness).size(row.net).size(row.allowance).size(row.to_buy);
        table.number(amounts::long(row.to_buy, plan.printing.unit, 1).0);
        match row.rolls {
            Some((count, length)) => table.number(count).size(length),
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
    fn four_top_edges() {
        let text = String::from_utf8(with_subject(&two_drawers(), write)).unwrap();
        let record = csv::Reader::from_reader(text.as_bytes()).records().next().unwrap().unwrap();
        let fields: Vec<&str> = record.iter().collect();
        // Four edges of 20 in are 80 in; an inch at both ends of each makes 88 in = 7.33 ft, up to 7.4. Rolls of 25 ft: one.
        // 0.6 mm = 0.0236220 in, 0.76 of 1/32.
        assert_eq!(
            fields[..15],
            [
                "birch veneer band 7/8",
                "0.875",
                "0.023622",
                "4",
                "80",
                "1",
                "88",
                "7/8\"",
                "1/32\"-",
                "80\"",
                "1\"",
                "88\"",
                "7.4",
                "1",
                "300\""
            ]
        );
    }
}
