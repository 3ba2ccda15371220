//! A part does not fit its stock.

use super::{Check, Subject};
use crate::base::Length;
use crate::diag::Finding;
use crate::model::StockForm;

/// The check.
pub(super) const CHECK: Check = Check {
    code: "part-beyond-stock",
    summary: "a part is larger than the sheet or board it is cut from",
    why: "The size to cut must go into the sheet less the trim at its factory edges, with the grain along the sheet's length \
          where there is grain; or into the longest board to be had, less what is \
          cut off its ends. A part wider than a board is glued up.",
    source: "common practice, no source",
    run,
};

fn run(subject: Subject<'_>, findings: &mut Vec<Finding>) {
    let model = subject.model;
    let print = model.printing;
    for (id, part) in model.part_ids() {
        let length = part.cut_size(part.length_axis());
        let width = part.cut_size(part.width_axis());
        let (there, hint) = match &part.stock.form {
            StockForm::Sheet { length: sheet_length, width: sheet_width } => {
                let within = |length: Length, width: Length| {
                    let [ends, edges] = [subject.shop.trim_ends(), subject.shop.trim_edges()].map(|[a, b]| a + b);
                    // The ends are the short sides, also of a sheet whose grain runs across.
                    if length < width { (length - edges, width - ends) } else { (length - ends, width - edges) }
                };
                let (long, wide) = within(*sheet_length, *sheet_width);
                let supply = &part.stock.supply;
                let others = supply.sizes.iter().chain(supply.in_hand.iter().map(|(_, size)| size));
                let sizes: Vec<(Length, Length)> =
                    others.map(|size| within(size.length, size.width)).chain([(long, wide)]).collect();
                let fits = |a: Length, b: Length| {
                    sizes.iter().any(|(long, wide)| a <= *long + Length::SAME_SIZE && b <= *wide + Length::SAME_SIZE)
                };
                if fits(length, width) || (!part.stock.grain && fits(width, length)) {
                    continue;
                }
                let turned = part.stock.grain && fits(width, length);
                let hint = if turned {
                    "it would fit with its grain the other way"
                } else {
                    "make it of two parts, or choose a larger sheet"
                };
                if long.is_positive() && wide.is_positive() {
                    (format!("a sheet gives {} within its trim", print.by(long, wide)), hint)
                } else {
                    (
                        "nothing is left of a sheet within its trim".to_owned(),
                        "mend the trim or the size of the sheet in the shop file",
                    )
                }
            }
            StockForm::Board { lengths, .. } => {
                // A part wider than any board is glued up from strips; one that is too long stays too long.
                let in_hand = part.stock.supply.in_hand.iter().map(|(_, size)| size.length);
                let longest = lengths.iter().copied().chain(in_hand).max().filter(|_| !lengths.is_empty());
                let Some(longest) = longest.map(|longest| longest - subject.shop.cutting.end_trim * 2) else {
                    continue;
                };
                if length <= longest + Length::SAME_SIZE {
                    continue;
                }
                (
                    format!("the longest board gives {} within its end trim", print.length(longest)),
                    "make it of two parts",
                )
            }
            StockForm::Band { .. } => continue,
        };
        findings.push(
            Finding::error(
                CHECK.code,
                format!(
                    "`{}` is cut to {} from {}; {there}",
                    model.full_name(id),
                    print.by(length, width),
                    part.stock.name
                ),
            )
            .at(part.at.clone())
            .hint(hint)
            .source(CHECK.source),
        );
    }
}

#[cfg(test)]
mod tests {
    use super::super::bench::{add, found, job, sheet};
    use super::*;
    use crate::model::Model;

    #[test]
    fn a_sheet_that_is_all_trim_is_told_as_such() {
        let mut model = job();
        let mut stock = sheet(12);
        stock.form = StockForm::Sheet { length: Length::from_inch(1, 4), width: Length::from_inch(1, 4) };
        add(&mut model, Model::ROOT, "top", &stock, [0, 0, 0], [160, 160, 12]);
        let found = found(model, &CHECK);
        assert!(
            found.len() == 1 && found[0].message.ends_with("nothing is left of a sheet within its trim"),
            "{found:?}"
        );
    }

    #[test]
    fn the_trim_counts_and_grain_forbids_turning() {
        // 96 x 48 in less 1/4 in trim at each edge: 95-1/2 x 47-1/2, in sixteenths 1528 x 760.
        let build = |x: i64, y: i64, grain: bool, turned: bool| {
            let mut model = job();
            let mut stock = sheet(12);
            stock.grain = grain;
            let part = add(&mut model, Model::ROOT, "top", &stock, [0, 0, 0], [x, y, 12]);
            if turned {
                model.part_mut(part).grain = Some(crate::base::Axis::Y);
            }
            found(model, &CHECK).len()
        };
        assert_eq!(build(1528, 760, true, false), 0);
        assert_eq!(build(1529, 760, true, false), 1);
        assert_eq!(build(1528, 761, true, false), 1);
        assert_eq!(build(1528, 760, true, true), 1);
        assert_eq!(build(760, 1528, false, false), 0);
    }
}
