//! `hardware.csv`: what to have at hand before assembly.

use super::cells::{Table, area_unit, rounded_up};
use super::{Paper, Subject};
use crate::base::Length;
use crate::model::HardwareUnit;

/// The hardware bill.
pub(super) const HARDWARE: Paper = Paper {
    file: "hardware.csv",
    summary: "slides in pairs, screws by gauge and length, pulls, glue by area of joint, with what each is for",
    write,
};

fn write(subject: Subject<'_>) -> Vec<u8> {
    let plan = subject.plan;
    let (area, square) = area_unit(plan.printing.unit);
    let mut table = Table::new(plan.printing, &["item", "size", "qty", "unit", "for", "note"]);
    for row in &plan.hardware {
        table.text(&row.item).text(&row.size);
        if row.unit == HardwareUnit::Area {
            let square_mm = i128::from(Length::MM.nm()).pow(2);
            table.number(rounded_up(i128::from(row.quantity) * square_mm, square, 1)).text(area);
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
