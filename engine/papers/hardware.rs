//! `hardware.csv`: what to have at hand before assembly.

use super::cells::Table;
use super::{Paper, Subject};
use crate::model::HardwareUnit;
use crate::plan::amounts;

/// The hardware bill.
pub(super) const HARDWARE: Paper = Paper {
    file: "hardware.csv",
    summary: "slides in pairs, screws by gauge and length, pulls, glue by area of joint, with what each is for",
    write,
};

fn write(subject: Subject<'_>) -> Vec<u8> {
    let plan = subject.plan;
    let mut table = Table::new(plan.printing, &["item", "size", "qty", "unit", "for", "note"]);
    for row in &plan.hardware {
        table.text(&row.item).text(&row.size);
        if row.unit == HardwareUnit::Area {
            let (area, unit) = amounts::glue(row.quantity, plan.printing.unit);
            table.number(area).text(unit);
        } else {
            table.number(row.quantity).text(row.unit.name());
        }
        table.text(&row.purpose).text(&row.note).end();
    }
    table.finish()
}

#[cfg(test)]
mod tests {
    use super::super::testing::{two_drawers, with_subject};
    use super::*;

    #[test]
    fn slides_come_in_pairs_and_glue_by_area() {
        let text = String::from_utf8(with_subject(&two_drawers(), write)).unwrap();
        // Glue: twice 50 000 mm2 are 0.1 m2 = 1.0764 ft2, rounded up to 1.1.
        assert_eq!(
            text,
            "item,size,qty,unit,for,note\r\n\
             side-mount slides,\"20\"\"\",2,pair,\"drawer 1, 2\",follow the slide maker's instructions\r\n\
             pocket screw,\"#7 x 1-1/4\"\"\",16,each,\"drawer 1, 2\",coarse thread\r\n\
             wood glue,,1.1,ft2,\"drawer 1, 2\",area of glue joint\r\n"
        );
    }
}
