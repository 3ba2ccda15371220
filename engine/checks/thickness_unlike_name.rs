//! Stock whose measured thickness is not its name.

use super::{Check, MOST, Subject};
use crate::base::{Axis, Length};
use crate::catalog;
use crate::diag::Finding;
use crate::model::{Model, PieceId, Stock};

/// The check.
pub(super) const CHECK: Check = Check {
    code: "thickness-unlike-name",
    summary: "stock was measured thinner or thicker than it is sold as",
    why: "Sizes follow the measured thickness. What was drawn or remembered by the name is off by the difference for each \
          thickness across it: a drawer box whose inside was meant to stay is twice the difference narrower outside, and a \
          groove cut by the name is loose. Beyond what the stock's standard allows, the sheet may be another than the label says.",
    source: "panel standards' thickness tolerances, named in the finding; the arithmetic is plain",
    run,
};

fn run(subject: Subject<'_>, findings: &mut Vec<Finding>) {
    let model = subject.model;
    let mut seen: Vec<&Stock> = Vec::new();
    for part in &model.parts {
        if findings.len() >= MOST {
            return;
        }
        let stock = part.stock.as_ref();
        let off = stock.thickness() - stock.named;
        if off.abs() <= Length::SAME_SIZE || seen.iter().any(|known| known.name == stock.name) {
            continue;
        }
        seen.push(stock);
        findings.push(told(model, stock, off).at(stock.at.clone()));
    }
}

fn told(model: &Model, stock: &Stock, off: Length) -> Finding {
    let print = model.printing;
    let word = if off.is_negative() { "thinner" } else { "thicker" };
    let mut message = format!(
        "{} measures {}, {} {word} than its name",
        stock.name,
        print.length(stock.thickness()),
        print.length(off.abs())
    );
    if let Some((piece, count)) = box_across(model, stock) {
        let narrower = if off.is_negative() { "narrower" } else { "wider" };
        let sides =
            if count == 1 { "its one thickness makes".to_owned() } else { format!("{count} thicknesses across make") };
        message = format!(
            "{message}; in `{}`, {sides} a box drawn by the name {} {narrower}",
            model.piece(piece).name,
            print.length(off.abs() * count)
        );
    }
    let tolerance = catalog::thickness_tolerance(stock);
    match tolerance {
        Some(allowed) if stock.thickness() < allowed.low || stock.thickness() > allowed.high => {
            Finding::warning(CHECK.code, message)
                .hint(format!(
                    "its standard allows {} to {}: measure again, or look whether it is what its label says",
                    print.length(allowed.low),
                    print.length(allowed.high)
                ))
                .source(allowed.source)
        }
        Some(allowed) => Finding::note(CHECK.code, message)
            .hint("the cut list and all joints follow the measured thickness")
            .source(allowed.source),
        None => Finding::note(CHECK.code, message)
            .hint("the cut list and all joints follow the measured thickness")
            .source(CHECK.source),
    }
}

/// The first box on slides with this stock standing across its width, and how many thicknesses of it.
fn box_across(model: &Model, stock: &Stock) -> Option<(PieceId, i64)> {
    model.hardware.iter().filter_map(|used| used.slides.as_ref()).find_map(|fit| {
        let across = model
            .parts_of(fit.carries)
            .filter(|(_, part)| part.thickness == Axis::X && part.stock.name == stock.name)
            .count();
        let across = i64::try_from(across).unwrap_or(0);
        (across > 0).then_some((fit.carries, across))
    })
}

#[cfg(test)]
mod tests {
    use super::super::bench::{add, found, job, sheet};
    use super::*;
    use crate::diag::Severity;

    #[test]
    fn a_sheet_of_23_32_sold_as_3_4_is_told_once() {
        let mut model = job();
        let mut ply = sheet(12);
        ply.measured = Some(Length::from_inch(23, 32));
        for y in [0, 200] {
            let part = add(&mut model, Model::ROOT, "shelf", &ply, [0, y, 0], [160, y + 100, 12]);
            model.part_mut(part).placed.high[2] = Length::from_inch(23, 32);
        }
        let findings = found(model, &CHECK);
        assert_eq!(findings.len(), 1);
        assert!(findings[0].message.contains("1/32\" thinner"), "{}", findings[0]);
        // SEEN: hardwood plywood may be 3/64 in under its name, so 1/32 under is within the standard.
        assert_eq!(findings[0].severity, Severity::Note);
    }
}
