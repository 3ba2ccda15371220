//! Banded edges in words that are the same for left and right twins.

use std::sync::Arc;

use crate::base::{Axis, Face, Printing};
use crate::model::{Banding, BandingOrder, Part, Stock};

/// The banding of a part, in an order that does not depend on where the part stands.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Bands {
    /// The place of the band among the job's stocks, its edge with left and right taken as one, whether it runs through, and
    /// whether the core is cut smaller for it.
    edges: Vec<(usize, Face, bool, bool)>,
    before_sizing: bool,
}

/// The banding of a part; `place` numbers the stocks.
pub(super) fn bands<'a>(part: &'a Part, mut place: impl FnMut(&'a Arc<Stock>) -> usize) -> Bands {
    let mut edges: Vec<_> = part
        .bands
        .iter()
        .map(|band| {
            let edge = if band.edge == Face::Right { Face::Left } else { band.edge };
            (place(&band.stock), edge, band.runs_through, band.taken_off)
        })
        .collect();
    edges.sort_unstable();
    let before_sizing = !edges.is_empty() && matches!(part.banding_order, BandingOrder::BeforeSizing(_));
    Bands { edges, before_sizing }
}

/// `1 long edge (top): maple veneer band 7/8`; empty without bands.
pub(super) fn words(part: &Part, printing: Printing) -> String {
    if part.bands.is_empty() {
        return String::new();
    }
    let mut stocks: Vec<&Arc<Stock>> = Vec::new();
    for band in &part.bands {
        if !stocks.contains(&&band.stock) {
            stocks.push(&band.stock);
        }
    }
    stocks.sort_by(|a, b| a.name.cmp(&b.name));
    let mut clauses: Vec<String> = stocks
        .into_iter()
        .map(|stock| {
            let of_stock: Vec<&Banding> = part.bands.iter().filter(|band| band.stock == *stock).collect();
            format!("{}: {}", edges_words(part, &of_stock), stock.name)
        })
        .collect();
    clauses.extend(running_words(part));
    if let BandingOrder::BeforeSizing(allowance) = part.banding_order {
        clauses.push(format!("band first, then trim {} off with the core", printing.length(allowance)));
    }
    clauses.join("; ")
}

/// Whether an edge runs along the longer of the part's two sides; of equal sides, along its length.
fn is_long(part: &Part, band: &Banding) -> bool {
    let (length, width) = (part.length_axis(), part.width_axis());
    let longer = if part.cut_size(width) > part.cut_size(length) { width } else { length };
    part.edge_axis(band.edge) == longer
}

fn edges_words(part: &Part, bands: &[&Banding]) -> String {
    let (long, short): (Vec<&Banding>, Vec<&Banding>) = bands.iter().copied().partition(|band| is_long(part, band));
    if long.len() == 2 && short.len() == 2 {
        return "all 4 edges".to_owned();
    }
    let mut words = Vec::new();
    for (kind, edges) in [("long", long), ("short", short)] {
        match edges.as_slice() {
            [] => {}
            [band] if band.edge.axis() == Axis::X => words.push(format!("1 {kind} edge")),
            [band] => words.push(format!("1 {kind} edge ({})", band.edge.name())),
            more => words.push(format!("{} {kind} edges", more.len())),
        }
    }
    words.join(" and ")
}

/// Which bands cover the ends of their neighbours, where bands meet at a corner.
fn running_words(part: &Part) -> Option<String> {
    let (long, short): (Vec<&Banding>, Vec<&Banding>) = part.bands.iter().partition(|band| is_long(part, band));
    if long.is_empty() || short.is_empty() {
        return None;
    }
    let all = |bands: &[&Banding]| bands.iter().all(|band| band.runs_through);
    let none = |bands: &[&Banding]| !bands.iter().any(|band| band.runs_through);
    let one = |bands: &[&Banding], kind| {
        format!("{kind} {} through", if bands.len() == 1 { "edge runs" } else { "edges run" })
    };
    if none(&long) && none(&short) || all(&long) && all(&short) {
        return None;
    }
    if all(&long) && none(&short) {
        return Some(one(&long, "long"));
    }
    if all(&short) && none(&long) {
        return Some(one(&short, "short"));
    }
    let through = |face: Face| part.band_on(face).is_some_and(|band| band.runs_through);
    let mut words: Vec<&str> =
        Face::ALL.into_iter().filter(|&face| face.axis() != Axis::X && through(face)).map(Face::name).collect();
    match [through(Face::Left), through(Face::Right)] {
        [true, true] => words.push("both sides"),
        [false, false] => {}
        _ => words.push("one side"),
    }
    Some(format!("running through: {}", words.join(", ")))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::base::{Length, Solid, Unit};
    use crate::model::{Material, Model, StockForm};

    fn lipping(edge: Face, runs_through: bool) -> Banding {
        let form = StockForm::Band { width: Length::from_mm(20), roll: None, taken_off: true };
        let stock = Stock::new("6 mm oak lipping", Material::Wood("oak".into()), form, Length::from_mm(6));
        Banding { stock: Arc::new(stock), edge, runs_through, taken_off: true }
    }

    fn shelf(bands: Vec<Banding>) -> Part {
        let form = StockForm::Sheet { length: Length::from_mm(2440), width: Length::from_mm(1220) };
        let sheet = Arc::new(Stock::new("18 mm MDF", Material::Mdf, form, Length::from_mm(18)));
        let size = [Length::from_mm(800), Length::from_mm(300), Length::from_mm(18)];
        let mut part = Part::new("shelf", Model::ROOT, sheet, Solid::new([Length::ZERO; 3], size));
        part.bands = bands;
        part
    }

    fn said(bands: Vec<Banding>) -> String {
        words(&shelf(bands), Printing { unit: Unit::Millimetre, denominator: 32 })
    }

    #[test]
    fn edges_are_counted_and_corners_told() {
        assert_eq!(said(vec![]), "");
        assert_eq!(said(vec![lipping(Face::Front, true)]), "1 long edge (front): 6 mm oak lipping");
        // A shelf's left and right ends are twins, so a lone one is not named.
        assert_eq!(said(vec![lipping(Face::Left, true)]), said(vec![lipping(Face::Right, true)]));
        assert_eq!(
            said(vec![lipping(Face::Front, true), lipping(Face::Left, false), lipping(Face::Right, false)]),
            "1 long edge (front) and 2 short edges: 6 mm oak lipping; long edge runs through"
        );
        let all = [Face::Front, Face::Back, Face::Left, Face::Right];
        assert_eq!(
            said(all.map(|edge| lipping(edge, edge.axis() == Axis::X)).to_vec()),
            "all 4 edges: 6 mm oak lipping; short edges run through"
        );
        let mut part = shelf(vec![lipping(Face::Front, true)]);
        part.banding_order = BandingOrder::BeforeSizing(Length::from_mm(10));
        assert_eq!(
            words(&part, Printing { unit: Unit::Millimetre, denominator: 32 }),
            "1 long edge (front): 6 mm oak lipping; band first, then trim 10 mm off with the core"
        );
    }
}
