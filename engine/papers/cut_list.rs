//! `cut-list.csv`: a row for equal parts, with the sizes to cut.

use super::cells::Table;
use super::{Paper, Subject};

/// The cut list.
pub(super) const CUT_LIST: Paper = Paper {
    file: "cut-list.csv",
    summary: "the parts to cut: mark, quantity, stock, exact and trade sizes, grain, banding and joinery",
    write,
};

fn write(subject: Subject<'_>) -> Vec<u8> {
    let plan = subject.plan;
    let unit = plan.printing.unit.short();
    let exact = ["thickness", "length", "width"].map(|size| format!("{size}_{unit}"));
    let [thickness, length, width] = exact.each_ref().map(String::as_str);
    let header = [
        "mark",
        "part",
        "qty",
        "stock",
        thickness,
        length,
        width,
        "thickness",
        "length",
        "width",
        "grain",
        "banded",
        "joinery",
        "used_in",
        "finished",
    ];
    let mut table = Table::new(plan.printing, &header);
    for row in &plan.cut_list {
        table.text(&row.mark).text(&row.part).number(row.quantity).text(&row.stock);
        table.decimal(row.thickness).decimal(row.length).decimal(row.width);
        table.size(row.thickness).size(row.length).size(row.width);
        table.text(if row.grain { "along length" } else { "any" });
        table.text(&row.banded).text(&row.joinery).text(&row.used_in);
        let finished = row.finished.map(|(length, width)| plan.printing.by(length, width));
        table.text(&finished.unwrap_or_default()).end();
    }
    table.finish()
}

#[cfg(test)]
mod tests {
    use super::super::testing::{metric_shelf, two_drawers, with_subject};
    use super::*;

    #[test]
    fn a_drawer_bank_in_inches() {
        let written = with_subject(&two_drawers(), write);
        let text = String::from_utf8(written).unwrap();
        let mut lines = text.split("\r\n");
        assert_eq!(
            lines.next().unwrap(),
            "mark,part,qty,stock,thickness_in,length_in,width_in,thickness,length,width,grain,banded,joinery,used_in,finished"
        );
        // Side 20 x 4 x 1/2 in. The inch marks are quotes, so the field is quoted and they are doubled.
        assert_eq!(
            lines.next().unwrap(),
            "A1,side,4,1/2 birch plywood,0.5,20,4,\"1/2\"\"\",\"20\"\"\",\"4\"\"\",along length,\
             1 long edge (top): birch veneer band 7/8,\"groove 1/4\"\" x 1/4\"\" deep, 1/4\"\" from bottom edge\",drawer x2,\
             \"20\"\" x 4-1/32\"\"-\""
        );
    }

    #[test]
    fn metric_jobs_have_metric_columns() {
        let text = String::from_utf8(with_subject(&metric_shelf(), write)).unwrap();
        let lines: Vec<&str> = text.split("\r\n").collect();
        assert_eq!(
            lines[0],
            "mark,part,qty,stock,thickness_mm,length_mm,width_mm,thickness,length,width,grain,banded,joinery,used_in,finished"
        );
        assert_eq!(lines[1], "A1,shelf,1,18 mm MDF,18,800,300.5,18 mm,800 mm,300.5 mm,any,,,case,");
        assert_eq!(lines.len(), 3);
    }
}
