//! The rack: the offcuts.csv of an earlier job, or a list of the same columns that the maker wrote.

use casewright::base::{Length, Unit, parse_length, parse_ratio};
use casewright::catalog;
use casewright::diag::{Finding, did_you_mean};
use casewright::model::{Money, RackPiece, Shop};

use super::parts;
use super::sheet_rows::{self, Row};

const KNOWN: [&str; 14] = [
    "stock",
    "thickness",
    "thickness_in",
    "thickness_mm",
    "length",
    "length_in",
    "length_mm",
    "width",
    "width_in",
    "width_mm",
    "qty",
    "price",
    "from",
    "note",
];

/// Reads the rack. Sizes in the columns that name their unit are exact and go before those in trade notation.
pub fn read(file: &str, text: &str, unit: Option<Unit>) -> Result<Vec<RackPiece>, Vec<Finding>> {
    let mut faults = Vec::new();
    let rows = sheet_rows::read(file, text, &KNOWN, &["stock"], &mut faults);
    let unit = unit.unwrap_or(Unit::Inch);
    let mut pieces = Vec::new();
    for row in &rows {
        if row.too_many(&mut faults) {
            break;
        }
        pieces.extend(piece(row, unit, &mut faults));
    }
    if faults.is_empty() { Ok(pieces) } else { Err(faults) }
}

/// Gives each piece the name that its stock has in the shop file or the catalog. A name that is nearly one of these is told: no job would
/// find the piece. Any other may be a stock of the recipe's own.
pub fn by_name(pieces: &mut [RackPiece], shop: &Shop) -> Vec<Finding> {
    let mut notes: Vec<Finding> = Vec::new();
    for piece in pieces {
        if let Some(stock) = parts::named(&piece.stock, shop) {
            piece.stock.clone_from(&stock.name);
            continue;
        }
        let mut known: Vec<&str> = shop.stock.iter().map(|stock| stock.name.as_str()).collect();
        for own in catalog::stock_names() {
            known.push(own);
        }
        let message = format!("the rack has `{}`, which neither the shop file nor the catalog names", piece.stock);
        if let Some(near) = did_you_mean(&piece.stock, known)
            && !notes.iter().any(|note| note.message == message)
        {
            notes.push(Finding::note(sheet_rows::CODE, message).hint(near));
        }
    }
    notes
}

fn piece(row: &Row, unit: Unit, faults: &mut Vec<Finding>) -> Option<RackPiece> {
    let stock = row.text("stock").map(str::to_owned);
    if stock.is_none() {
        faults.push(row.fault(
            "stock",
            "the cell is empty",
            "write the stock as the catalog or the shop file names it",
        ));
    }
    let length = size(row, "length", unit, faults);
    let width = size(row, "width", unit, faults);
    let count = row.count("qty", 10_000, faults);
    let thickness = exact(row, "thickness").or_else(|| parse_length(row.text("thickness")?, Some(unit)).ok());
    let price = price(row, faults);
    Some(RackPiece { stock: stock?, thickness, length: length?, width: width?, count: count?, price })
}

fn exact(row: &Row, name: &str) -> Option<Length> {
    [("in", Unit::Inch), ("mm", Unit::Millimetre)].into_iter().find_map(|(ending, unit)| {
        let number = parse_ratio(row.text(&format!("{name}_{ending}"))?).ok()?;
        Length::of(number, unit).ok().filter(|size| size.is_positive())
    })
}

fn size(row: &Row, name: &str, unit: Unit, faults: &mut Vec<Finding>) -> Option<Length> {
    for ending in ["in", "mm"] {
        let column = format!("{name}_{ending}");
        if row.text(&column).is_some() && exact(row, name).is_none() {
            faults.push(row.fault(&column, "this is not a size", "write a number, without its unit"));
            return None;
        }
    }
    exact(row, name).or_else(|| row.size(name, unit, faults))
}

fn price(row: &Row, faults: &mut Vec<Finding>) -> Option<Money> {
    let text = row.text("price")?;
    let hundredths = parse_ratio(text).ok().map(|amount| amount * casewright::base::Ratio::from_integer(100));
    let money = hundredths
        .filter(|amount| amount.is_integer() && *amount.numer() >= 0)
        .map(|amount| Money(amount.to_integer()));
    if money.is_none() {
        faults.push(row.fault("price", &format!("`{text}` is not an amount of money"), "write digits: 12.50"));
    }
    money
}
