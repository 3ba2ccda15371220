//! `settings.csv`: fences, stops and blade heights, each with the marks of the parts that share it.

use super::cells::Table;
use super::{Paper, Subject};

/// The machine settings.
pub(super) const SETTINGS: Paper = Paper {
    file: "settings.csv",
    summary: "fence, stop and height settings, each with the marks of the parts to cut before it is changed",
    write,
};

fn write(subject: Subject<'_>) -> Vec<u8> {
    let plan = subject.plan;
    let value = format!("value_{}", plan.printing.unit.short());
    let mut table = Table::new(plan.printing, &["setting", "for", &value, "value", "qty", "marks", "note"]);
    for row in &plan.settings {
        table.text(row.what).text(&row.work).decimal(row.value).size(row.value);
        table.number(row.quantity).text(&row.marks.join(", ")).text(&row.note).end();
    }
    table.finish()
}

#[cfg(test)]
mod tests {
    use super::super::testing::{two_drawers, with_subject};
    use super::*;

    #[test]
    fn parts_that_share_a_setting_share_a_row() {
        let text = String::from_utf8(with_subject(&two_drawers(), write)).unwrap();
        assert_eq!(
            text,
            "setting,for,value_in,value,qty,marks,note\r\n\
             fence,\"groove for 1/4\"\" bottoms\",0.25,\"1/4\"\"\",4,A1,\r\n"
        );
    }
}
