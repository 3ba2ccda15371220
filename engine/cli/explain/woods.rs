//! The woods of the tables, as `casewright explain movement` lists them.

use casewright::catalog::{self, Figure, Properties};

use super::super::table::Column;
use super::Listing;

const WOODS: [Column; 5] = [
    Column::words("wood", 26),
    Column::words("also called", 30),
    Column::words("flat-sawn", 12),
    Column::words("quarter-sawn", 12),
    Column::text("gravity"),
];

/// Every wood with its names, how far it moves and what it weighs.
pub(super) fn listing() -> Listing {
    Listing {
        heading: "Woods".to_owned(),
        columns: &WOODS,
        rows: catalog::woods().iter().map(row).collect(),
        below: "Movement is the share of the width for each percent of moisture; gravity is that of ovendry wood on its volume at \
                12 %. A * marks a figure from memory. Single boards differ from these means."
            .to_owned(),
    }
}

fn row(wood: &Properties) -> Vec<String> {
    vec![
        wood.name.to_owned(),
        wood.also.join(", "),
        text(wood.tangential, 5),
        text(wood.radial, 5),
        text(wood.gravity, 2),
    ]
}

/// A figure that is written in units of the last of so many places.
fn text(figure: Option<Figure>, places: usize) -> String {
    let Some(figure) = figure else { return "-".to_owned() };
    let mark = if figure.source.starts_with("from memory") { "*" } else { "" };
    format!("0.{:0places$}{mark}", figure.value)
}
