//! `fits.csv`: how far each fit may be off, and what matters most.

use super::cells::Table;
use super::{Paper, Subject};

/// The tolerances of the job's fits.
pub(super) const FITS: Paper = Paper {
    file: "fits.csv",
    summary: "each fit: the gap as drawn, the gaps at which it works, worst and likely cases, the share expected to fit",
    write,
};

fn write(subject: Subject<'_>) -> Vec<u8> {
    let plan = subject.plan;
    let unit = plan.printing.unit.short();
    let sizes = ["gap", "works_from", "works_to", "worst_from", "worst_to", "likely_from", "likely_to"]
        .map(|size| format!("{size}_{unit}"));
    let mut header = vec!["fit", "of", "qty"];
    header.extend(sizes.iter().map(String::as_str));
    header.extend(["expected_percent", "matters_most"]);
    let mut table = Table::new(plan.printing, &header);
    for row in &plan.fits {
        table.text(row.fit).text(&row.of).number(row.quantity).decimal(row.gap);
        for (from, to) in [row.works, row.worst, row.likely] {
            table.decimal(from).decimal(to);
        }
        table.number(row.percent).text(&row.matters_most).end();
    }
    table.finish()
}
