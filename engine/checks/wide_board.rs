//! A part of solid wood is wider than boards come.

use super::{Check, Subject};
use crate::base::Length;
use crate::diag::Finding;
use crate::model::{Material, StockForm};

/// The check.
pub(super) const CHECK: Check = Check {
    code: "wide-board",
    summary: "a part of solid wood is wider than boards commonly come",
    why: "Hardwood is sold in random widths: the better grades begin at 6 in (152 mm), and few boards are wider than 10 in (254 mm). A \
          wider part is glued up from narrower boards; the cut list has it at its full width. Stock whose board widths are given is held to \
          them by `part-beyond-stock`.",
    source: "least widths of the grades: engineeringtoolbox.com and woodbin.com, hardwood lumber; the 10 in are common practice, no source",
    run,
};

// Common practice, no source.
const WIDE: Length = Length::from_inch(10, 1);

fn run(subject: Subject<'_>, findings: &mut Vec<Finding>) {
    let model = subject.model;
    let print = model.printing;
    for (id, part) in model.part_ids() {
        let any_width = matches!(&part.stock.form, StockForm::Board { widths, .. } if widths.is_empty());
        let width = part.cut_size(part.width_axis());
        if !any_width || !matches!(part.stock.material, Material::Wood(_)) || width - WIDE <= Length::SAME_SIZE {
            continue;
        }
        let message = format!(
            "`{}` is {} wide across its grain; boards of {} are seldom wider than {}",
            model.full_name(id),
            print.length(width),
            part.stock.name,
            print.length(WIDE)
        );
        findings.push(
            Finding::note(CHECK.code, message)
                .at(part.at.clone())
                .hint("glue it up from narrower boards before it is cut to size, or give the stock the `widths` that you have")
                .source(CHECK.source),
        );
    }
}

#[cfg(test)]
mod tests {
    use super::super::bench::{add, found, job};
    use super::*;
    use crate::model::{Model, Stock};

    #[test]
    fn ten_inches_may_be_a_board_and_a_hair_more_is_told() {
        let build = |more: i64, widths: Vec<Length>| {
            let mut model = job();
            let form = StockForm::Board { widths, lengths: Vec::new() };
            let cherry = Stock::new("cherry", Material::Wood("cherry".into()), form, Length::from_inch(3, 4));
            let part = add(&mut model, Model::ROOT, "top", &cherry, [0, 0, 0], [480, 160, 12]);
            model.part_mut(part).placed.high[1] += Length::from_nm(more);
            found(model, &CHECK).len()
        };
        assert_eq!(build(1_000, Vec::new()), 0);
        assert_eq!(build(1_001, Vec::new()), 1);
        // Widths that are known are for another check.
        assert_eq!(build(1_001, vec![Length::from_inch(12, 1)]), 0);
    }
}
