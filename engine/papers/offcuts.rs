//! `offcuts.csv`: what is on the rack when the job is cut. The next job takes it as it is.

use super::cells::Table;
use super::{Paper, Subject};

/// The offcuts.
pub(super) const OFFCUTS: Paper = Paper {
    file: "offcuts.csv",
    summary: "what is on the rack when the job is cut: new offcuts, and those of before that were not used; the next job reads it",
    write,
};

fn write(subject: Subject<'_>) -> Vec<u8> {
    let plan = subject.plan;
    let unit = plan.printing.unit.short();
    let sized = |name: &str| format!("{name}_{unit}");
    let header =
        ["stock", &sized("thickness"), &sized("length"), &sized("width"), "length", "width", "qty", "price", "from"];
    let mut table = Table::new(plan.printing, &header);
    for row in &plan.cutting.plan().rack {
        let piece = &row.piece;
        table.text(&piece.stock);
        match piece.thickness {
            Some(thickness) => table.decimal(thickness),
            None => table.nothing(),
        };
        table.decimal(piece.length).decimal(piece.width).size(piece.length).size(piece.width);
        table.number(piece.count).cost(piece.price);
        let from = row.from.map_or_else(|| "rack".to_owned(), |number| format!("sheet {number}"));
        table.text(&from).end();
    }
    table.finish()
}

#[cfg(test)]
mod tests {
    use super::super::testing::{metric_shelf, with_subject};
    use super::*;

    #[test]
    fn what_is_left_of_a_sheet_is_kept() {
        // As worked out in `cutting_plan`: 1207.3 - 300.5 - 3.175 = 903.625.
        let text = String::from_utf8(with_subject(&metric_shelf(), write)).unwrap();
        assert_eq!(
            text,
            "stock,thickness_mm,length_mm,width_mm,length,width,qty,price,from\r\n\
             18 mm MDF,18,2427.3,903.625,2427.3 mm,903.6 mm+,1,,sheet 1\r\n\
             18 mm MDF,18,1624.125,300.5,1624.1 mm+,300.5 mm,1,,sheet 1\r\n"
        );
    }
}
